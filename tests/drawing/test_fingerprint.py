from __future__ import annotations

import pytest

from lessonkit.drawing.fingerprint import fingerprint
from lessonkit.drawing.items import CLAY, Group, Item, Page, Path, Stroke, TextLine

BAR = Path("ML", (10.0, 20.0, 60.0, 20.0), Stroke(0.5))
WORDS = TextLine(20, 30, "Kiln 4F2A", 12)
GROUP = Group((BAR, WORDS), 5, 6)


def of(*items: Item, code: str = "4F2A") -> str:
    return fingerprint(Page(210, 297, items, "Stencil"), code)


@pytest.mark.parametrize("other", [
    BAR._replace(numbers=(10.0, 20.0, 60.0, 20.001)), BAR._replace(letters="MM"), BAR._replace(stroke=Stroke(0.7)), BAR._replace(fill=CLAY),
    WORDS._replace(text="Kilns 4F2A"), WORDS._replace(y_mm=31), WORDS._replace(bold=True), WORDS._replace(size_pt=12.5), WORDS._replace(tone=1.0),
    GROUP._replace(scale=0.5), GROUP._replace(x_mm=5.5), GROUP._replace(half_turn=True), GROUP._replace(clip_mm=(0, 0, 9, 9)),
    GROUP._replace(items=(WORDS, BAR)), GROUP._replace(items=(BAR,)),
])  # fmt: skip
def test_what_looks_different_has_another_fingerprint(other: Item) -> None:
    items = [BAR, WORDS, GROUP]
    changed = [other if type(item) is type(other) else item for item in items]
    assert of(*items) == of(*items)
    assert of(*changed) != of(*items)


def test_the_code_of_the_version_is_left_out_wherever_it_stands() -> None:
    later = WORDS._replace(text="Kiln 9Z31", x_mm=19.5)
    assert of(WORDS, GROUP) == of(later, GROUP._replace(items=(BAR, later)), code="9Z31")
    assert of(WORDS) != of(WORDS._replace(x_mm=19.5, text="Kiln"))


def test_a_whole_number_is_the_same_however_it_is_written() -> None:
    def drawn(wide_mm: float, tone: float) -> str:
        return of(BAR._replace(stroke=Stroke(wide_mm, (wide_mm,), tone), fill=tone))

    whole = drawn(3, 1)
    for other in range(10, 400):  # so many that what was found is no longer kept
        drawn(other, 1)
    assert drawn(3.0, 1.0) == whole
