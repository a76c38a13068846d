"""Free room on a sheet, against counting square by square."""

from __future__ import annotations

from functools import reduce
from math import ceil, dist
from operator import or_

from hypothesis import given, settings
from hypothesis import strategies as st

from lessonkit.layout.stencils.ground import Ground, edges_of, ring_edges

WIDE, TALL = 21, 17
Box = tuple[int, int, int, int]


def squares(ground: Ground, taken: int) -> set[tuple[int, int]]:
    return {(x, y) for x in range(WIDE) for y in range(TALL) if ground.holds(taken, x + 0.5, y + 0.5)}


@st.composite
def boxes(draw: st.DrawFn) -> Box:
    return draw(st.integers(-3, WIDE)), draw(st.integers(-3, TALL)), draw(st.integers(0, 9)), draw(st.integers(0, 9))


@given(st.lists(boxes(), max_size=5), st.floats(0.2, 12), st.floats(0.2, 12), st.tuples(st.floats(-5, 25), st.floats(-5, 20)), boxes())
@settings(max_examples=60, deadline=None)
def test_the_nearest_free_place_is_found(taken: list[Box], wide: float, tall: float, near: tuple[float, float], area: Box) -> None:
    """Every corner is tried by hand: none is nearer, and no square under the box is taken or outside its area."""
    ground = Ground(WIDE, TALL)
    for left, top, across, down in taken:
        ground.take_box(left, top, across, down)
    within = ground.box(area[0], area[1], area[0] + area[2] + 8, area[1] + area[3] + 8)
    allowed = squares(ground, ground.free() & within)
    across, down = ceil(wide), ceil(tall)
    corners = [
        (x, y)
        for x in range(WIDE - across + 1)
        for y in range(TALL - down + 1)
        if all((x + i, y + j) in allowed for i in range(across) for j in range(down))
    ]
    found = ground.place(wide, tall, near, within)
    if found is None:
        assert not corners
    elif found == near:
        assert ground.is_free(*near, wide, tall, within)
    else:
        assert found in corners
        assert dist(found, near) == min(dist(corner, near) for corner in corners)


@given(st.lists(boxes(), max_size=5), st.floats(0.5, 8), st.tuples(st.floats(-5, 25), st.floats(-5, 20)))
@settings(max_examples=60, deadline=None)
def test_nothing_is_found_beyond_reach(taken: list[Box], reach: float, near: tuple[float, float]) -> None:
    ground = Ground(WIDE, TALL)
    for box in taken:
        ground.take_box(*box)
    far, close = ground.place(4, 4, near), ground.place(4, 4, near, reach=reach)
    assert close == (far if far and (far == near or dist(far, near) <= reach) else None)


def test_what_is_taken_after_a_question_counts_in_the_next() -> None:
    ground = Ground(30, 10)
    assert ground.place(10, 10, (12.5, 0)) == (12.5, 0)
    assert ground.place(10, 10, (25, 0)) == (20, 0)
    ground.take_box(18, 0, 12, 10)
    assert ground.place(10, 10, (25, 0)) == (8, 0)
    twin = ground.copy()
    twin.take_box(0, 0, 9, 10)
    assert twin.place(10, 10, (25, 0)) is None
    assert ground.place(10, 10, (25, 0)) == (8, 0)


def test_rings_within_rings_count_as_holes() -> None:
    ground = Ground(WIDE, TALL)
    ring = ground.enclosed(ring_edges([((1, 1), (11, 1), (11, 11), (1, 11)), ((4, 4), (8, 4), (8, 8), (4, 8))]))
    assert squares(ground, ring) == {(x, y) for x in range(1, 11) for y in range(1, 11)} - {(x, y) for x in range(4, 8) for y in range(4, 8)}
    assert ground.middle(ring) == (6, 6)


@given(st.lists(boxes(), max_size=6), boxes(), st.lists(st.tuples(st.integers(1, 12), st.integers(1, 12)), min_size=1, max_size=4))
@settings(max_examples=40, deadline=None)
def test_what_was_asked_before_changes_no_answer(taken: list[Box], area: Box, sizes: list[tuple[int, int]]) -> None:
    """A ground that is asked after each box, and its copies, answer as one that is asked for the first time."""
    asked = Ground(WIDE, TALL)
    within = asked.box(area[0], area[1], area[0] + area[2] + 8, area[1] + area[3] + 8)
    for count, box in enumerate(taken, 1):
        asked = asked.copy()
        asked.take_box(*box)
        new = Ground(WIDE, TALL)
        for other in taken[:count]:
            new.take_box(*other)
        for wide, tall in sizes:
            assert asked.place(wide, tall, (3.5, 2.5), within) == new.place(wide, tall, (3.5, 2.5), within)
            assert asked.fits(wide, tall, within) == (new.place(wide, tall, (-1.0, -1.0), within) is not None)


points = st.tuples(st.floats(-3, 24), st.floats(-3, 20))


@given(st.lists(st.lists(points, min_size=2, max_size=5), max_size=4), st.floats(0.1, 4))
@settings(max_examples=40, deadline=None)
def test_lines_taken_together_take_what_each_takes(lines: list[list[tuple[float, float]]], clear: float) -> None:
    together, apart = Ground(WIDE, TALL), Ground(WIDE, TALL)
    together.take_edges(edges_of(lines), clear)
    for line in lines:
        apart.take_line(line, clear)
    assert together.free() == apart.free()


@given(st.lists(st.lists(points, min_size=3, max_size=5), max_size=3), points, st.floats(0.1, 4))
@settings(max_examples=40, deadline=None)
def test_edges_that_are_moved_take_what_moved_lines_take(lines: list[list[tuple[float, float]]], by: tuple[float, float], clear: float) -> None:
    moved = [[(x + by[0], y + by[1]) for x, y in line] for line in lines]
    one, other = Ground(WIDE, TALL), Ground(WIDE, TALL)
    one.take_edges(edges_of(lines).moved(*by), clear)
    other.take_edges(edges_of(moved), clear)
    assert one.free() == other.free()
    assert one.enclosed(ring_edges(lines).moved(*by)) == other.enclosed(ring_edges(moved))


@given(st.lists(st.lists(points, min_size=3, max_size=5), min_size=1, max_size=4))
@settings(max_examples=40, deadline=None)
def test_what_is_inside_any_ring_is_inside(rings: list[list[tuple[float, float]]]) -> None:
    ground = Ground(WIDE, TALL)
    assert ground.inside(rings) == reduce(or_, (ground.enclosed(ring_edges([ring])) for ring in rings))
