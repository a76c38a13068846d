"""Columns: filled one after the other, or ending side by side."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st

from lessonkit.layout.flow import Strip, balanced, columns, draw, ends_mm, tall_mm
from lessonkit.layout.pen import Pen

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
