"""Text against its ground by WCAG 2's formula, on every paper of two lessons, read from the drawing itself."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from lessonkit.drawing.items import Document, TextLine
from lessonkit.layout.cards import card_document
from lessonkit.layout.signs import sign_document
from lessonkit.layout.stencils.document import stencil_document
from lessonkit.layout.teacher import teacher_document
from lessonkit.pieces.model import Kit
from tests.drawings_for_tests import shown
from tests.samples import kit_of_file

LESSONS = Path(__file__).parents[2] / "lessons"
ENOUGH = 4.5  # WCAG 2 AA for text of any size


def luminance(channel: float) -> float:
    return channel / 12.92 if channel <= 0.04045 else ((channel + 0.055) / 1.055) ** 2.4


def contrast(grey: float, ground: float) -> float:
    """(L1 + 0.05) / (L2 + 0.05) of two greys from 0 to 1 (WCAG 2.x, relative luminance)."""
    light, dark = sorted((luminance(grey), luminance(ground)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


@pytest.mark.parametrize(("hexadecimal", "ratio"), [("00", 21.0), ("76", 4.5422), ("77", 4.4781), ("59", 7.0047), ("94", 3.0335), ("99", 2.8490)])
def test_the_formula_gives_the_published_values(hexadecimal: str, ratio: float) -> None:
    """Greys on white as published and as the package wcag-contrast-ratio computes them; nothing is rounded up to pass."""
    assert contrast(int(hexadecimal, 16) / 255, 1.0) == pytest.approx(ratio, abs=5e-5)


def grounds(document: Document) -> Iterator[tuple[TextLine, float]]:
    """Each line of text with the tone of the last filled shape around its start, white paper if there is none."""
    for page in document.pages:
        filled: list[tuple[float, float, float, float, float]] = []
        for item, x, y, _ in shown(page.items):
            if isinstance(item, TextLine):
                at = (x + item.x_mm + 0.2, y + item.y_mm - 0.2)
                around = [tone for left, top, right, foot, tone in filled if left <= at[0] <= right and top <= at[1] <= foot]
                yield item, around[-1] if around else 1.0
            elif item.fill is not None:
                xs, ys = zip(*item.points(), strict=True)
                filled.append((x + min(xs), y + min(ys), x + max(xs), y + max(ys), item.fill))


def documents(kit: Kit) -> Iterator[Document]:
    yield stencil_document(kit, "A4")
    yield sign_document(kit, "A4")
    yield teacher_document(kit, "A4")
    for level in kit.steps:
        yield card_document(kit, level, "A4")


@pytest.mark.parametrize("lesson", ["porthole", "reed-pot"])
def test_every_line_stands_out_from_its_ground(lesson: str) -> None:
    seen = [pair for document in documents(kit_of_file(LESSONS / f"{lesson}.yaml")) for pair in grounds(document)]
    faint = [(line.text, round(contrast(line.tone, ground), 2)) for line, ground in seen if contrast(line.tone, ground) < ENOUGH]
    assert not faint
    assert {line.tone for line, _ in seen} == {0.0, 1.0}  # white on black heads was looked at too
