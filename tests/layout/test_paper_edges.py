"""Accents over large capitals stay as far from the paper's edge as all other ink."""

from __future__ import annotations

import pypdfium2
import pytest

from lessonkit.build import Order, papers
from lessonkit.units import MM_PER_POINT
from tests.lessons_for_tests import FRAME, ROOM, kit_of

LEAST_MM = 9.0  # the stems of h and l rise a little over the live area, which ends at 10 mm
DOTS_A_POINT = 4
ONLY = ("stencils", "teacher", "substitute", "set-out")


def nearest_top_mm(data: bytes) -> float:
    """How near the ink of any page comes to its upper edge."""
    tops = []
    for page in pypdfium2.PdfDocument(data):
        ink = page.render(scale=DOTS_A_POINT, grayscale=True).to_pil().point(lambda grey: 255 * (grey < 200)).getbbox()
        assert ink is not None
        tops.append(ink[1] / DOTS_A_POINT * MM_PER_POINT)
    return min(tops)


@pytest.mark.parametrize("paper", ["A3", "A4", "Letter", "Tabloid"])
@pytest.mark.parametrize("letter", ["İ", "Ổ", "h"])
def test_ink_stays_9_mm_from_the_upper_edge(letter: str, paper: str) -> None:
    named = FRAME.replace("name: frame", f"name: {letter}dish").replace("{frame cut}", "80")
    lesson = named.replace("title: Porthole", f"title: {letter}stanbul dish")
    made = papers(kit_of(lesson, ROOM), Order(paper=paper, only=ONLY, mirror=True))
    tops = {name: nearest_top_mm(data) for name, data in made.items()}
    assert len(tops) == 5
    assert min(tops.values()) >= LEAST_MM, tops
