"""Printer correction: on her paper a millimetre is a millimetre; read back from the PDF by an outside reader elsewhere."""

from __future__ import annotations

import pytest

from lessonkit.drawing.items import Document, Group, Page, Path, Stroke, TextLine
from lessonkit.layout.printing import corrected

LINE = Path.of((("M", 10.0, 20.0), ("L", 110.0, 20.0), ("C", 1.0, 2.0, 3.0, 4.0, 5.0, 6.0), ("Z",)), Stroke(0.5))


def absolute(item: Path | TextLine | Group, x: float = 0.0, y: float = 0.0) -> list[tuple[float, float]]:
    match item:
        case Group():
            sense = -1 if item.half_turn else 1
            inside = [point for inner in item.items for point in absolute(inner)]
            sense *= item.scale
            return [(x + item.x_mm + sense * a, y + item.y_mm + sense * b) for a, b in inside]
        case TextLine():
            return [(x + item.x_mm, y + item.y_mm)]
        case Path():
            return [(x + a, y + b) for a, b in item.points()]


def test_every_place_is_grown_about_the_middle_of_the_page() -> None:
    upside_down = Group((LINE, Group((TextLine(3, 4, "b", 10),), 5, 6)), 200, 100, half_turn=True, scale=0.7)
    page = Page(210, 297, (Group((LINE, Group((TextLine(3, 4, "a", 10),), 5, 6)), 11, 12), LINE, upside_down), "one")
    (after,) = corrected(Document("d", "en", (page,)), (0.99, 1.01)).pages
    places = [point for item in page.items for point in absolute(item)]
    moved = [point for item in after.items for point in absolute(item)]
    assert moved == [(pytest.approx(105 + (x - 105) / 0.99), pytest.approx(148.5 + (y - 148.5) / 1.01)) for x, y in places]


def test_a_bar_of_100_is_drawn_longer_for_a_printer_that_prints_short() -> None:
    page = Page(210, 297, (Path.of((("M", 10.0, 20.0), ("L", 110.0, 20.0)), Stroke(0.5)),), "one")
    ((x1, _), (x2, _)) = absolute(corrected(Document("d", "en", (page,)), (0.99, 1.0)).pages[0].items[0])
    assert (x2 - x1) * 0.99 == pytest.approx(100)


def test_a_true_printer_changes_nothing() -> None:
    document = Document("d", "en", (Page(210, 297, (LINE,), "one"),))
    assert corrected(document, (1.0, 1.0)) is document


def test_a_picture_that_comes_again_stays_the_same_value() -> None:
    """So that the file has it once."""
    lines = (LINE, LINE)
    shown = [Group(lines, 10.0 + 60 * i, 20.0, scale=0.5) for i in range(2)]
    again = Group((Group(lines, 5.0, 6.0, scale=0.5),), 100.0, 0.0)
    upright, turned = Page(210, 297, (*shown, again), "one"), Page(297, 210, (shown[0],), "two")
    (one, other, within), (lying,) = (page.items for page in corrected(Document("d", "en", (upright, turned)), (0.99, 1.01)).pages)
    assert one.items is other.items is within.items[0].items
    assert lying.items != one.items
