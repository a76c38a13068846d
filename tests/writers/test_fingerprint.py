from __future__ import annotations

import pytest

from lessonkit.drawing.items import CLAY, Group, Item, Page, Path, Stroke, TextLine
from lessonkit.writers.fingerprint import fingerprint
from lessonkit.writers.operators import Drawn

BAR = Path("ML", (10.0, 20.0, 60.0, 20.0), Stroke(0.5))
WORDS = TextLine(20, 30, "Kiln 4F2A", 12)
GROUP = Group((BAR, WORDS), 5, 6)
PICTURE = Group((BAR, BAR._replace(letters="MM")), 50, 60, scale=0.4)


def of(*items: Item, code: str = "4F2A", wide_mm: float = 210, among: tuple[Item, ...] = ()) -> str:
    """The second of two pages, the first of which has other things on it."""
    return fingerprint(Drawn([Page(210, 297, among, "Cards"), Page(wide_mm, 297, items, "Stencil")]).sheets[1], code)


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


@pytest.mark.parametrize("other", [
    PICTURE._replace(items=(BAR, BAR)), PICTURE._replace(items=(BAR._replace(stroke=Stroke(0.7)), PICTURE.items[1])),
    PICTURE._replace(items=(BAR._replace(stroke=Stroke(0.5, (1.0, 2.0))), PICTURE.items[1])), PICTURE._replace(scale=0.41), PICTURE._replace(x_mm=51),
])  # fmt: skip
def test_a_picture_that_looks_different_too(other: Group) -> None:
    assert of(other) != of(PICTURE)


def test_another_paper_is_another_page() -> None:
    assert of(BAR, wide_mm=215.9) != of(BAR)


def test_what_is_on_other_pages_does_not_matter() -> None:
    """Neither pictures there, the same or others, nor letters of other alphabets."""
    greek = TextLine(20, 40, "Ωmega 4F2A ☐ ā", 12)
    others = (greek._replace(text="āΨ ☑"), PICTURE, PICTURE._replace(scale=0.3), PICTURE._replace(items=(BAR, BAR)))
    assert of(PICTURE, greek, among=others) == of(PICTURE, greek)


@pytest.mark.parametrize("text", ["Kiln {}", "{}", "({})", "Ω {0} Ω, {0}"])
def test_the_code_of_the_version_is_left_out_wherever_it_stands(text: str) -> None:
    words, later = (TextLine(x_mm, 30, text.format(code), 12) for x_mm, code in ((20, "4F2A"), (19.5, "9Z31")))
    assert of(words, GROUP._replace(items=(BAR, words))) == of(later, GROUP._replace(items=(BAR, later)), code="9Z31")
    assert of(words) != of(later._replace(text=text.format("")))


def test_a_code_of_figures_is_taken_for_no_number() -> None:
    assert of(BAR._replace(numbers=(1234.0, 20.0, 60.0, 20.0)), code="1234") != of(BAR._replace(numbers=(0.0, 20.0, 60.0, 20.0)), code="1234")


def test_a_whole_number_is_the_same_however_it_is_written() -> None:
    def drawn(wide_mm: float, tone: float) -> str:
        return of(BAR._replace(stroke=Stroke(wide_mm, (wide_mm,), tone), fill=tone))

    whole = drawn(3, 1)
    for other in range(10, 400):  # so many that what was found is no longer kept
        drawn(other, 1)
    assert drawn(3.0, 1.0) == whole
