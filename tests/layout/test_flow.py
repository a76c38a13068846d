"""Columns: filled one after the other, or ending side by side."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st

from lessonkit.layout.flow import LINES_TOGETHER, Strip, Type, balanced, columns, draw, ends_mm, paragraph, tall_mm
from lessonkit.layout.pen import Pen
from lessonkit.layout.teacher_notes import AIRS, aired

STRIPS = st.lists(st.builds(lambda tall, gap: Strip(tall, lambda pen, x, top: None, gap), st.integers(0, 90), st.integers(0, 12)), max_size=14)


@settings(max_examples=60, deadline=None)
@given(STRIPS, st.integers(1, 4), st.integers(10, 400))
def test_balanced_columns_are_as_low_as_can_be(strips: list[Strip], count: int, tall: int) -> None:
    filled, rest = balanced(strips, tall, count)
    assert [strip for column in filled for strip in column] + list(rest) == strips
    if rest:
        assert (filled, rest) == columns(strips, tall, count)
    else:
        lowest = next(mm for mm in range(tall + 1) if not columns(strips, mm, count)[1])  # all heights are whole here
        assert filled == columns(strips, lowest, count)[0]


@settings(max_examples=30, deadline=None)
@given(STRIPS, st.floats(0, 100))
def test_a_column_ends_where_it_is_drawn_to(strips: list[Strip], top: float) -> None:
    assert ends_mm(top, strips) == draw(Pen(), 0, top, strips)
    assert abs(ends_mm(top, strips) - top - tall_mm(strips)) < 1e-9


def test_air_is_given_to_what_is_marked_as_an_item_whatever_its_gap() -> None:
    """Of a long paragraph to its first strip; not to a line of its own that happens to have the usual gap."""
    head, other = Strip(6, lambda pen, x, top: None, keep=True), Strip(4, lambda pen, x, top: None, AIRS[0].item)
    item = paragraph("word\n" * (LINES_TOGETHER + 1), 60, Type(9.5, 12.6), item=True)
    assert len(item) == 2
    for air in AIRS:
        [[first, *strips]] = aired([[head, *item, other]], air)
        assert [first.gap_mm, *(strip.gap_mm for strip in strips)] == [air.section, air.item, item[1].gap_mm, other.gap_mm]
