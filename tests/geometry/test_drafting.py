"""Areas, lines and hatching on plain coordinates; values by school geometry unless a check says otherwise."""

from __future__ import annotations

from itertools import islice, pairwise
from math import cos, degrees, dist, hypot, isclose, pi, radians, sin, sqrt

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from lessonkit.geometry import outlines
from lessonkit.geometry.areas import Area, area, area_of, bar, mapped_line, placing, turning
from lessonkit.geometry.drafting import (
    arc,
    arrow,
    beside,
    blob,
    clockwise_from,
    cross_hatch,
    curve,
    disc,
    hatch,
    length,
    level_spot,
    nearest,
    outline_from,
    part,
    points_along,
    raw_edge,
    ribbon,
    thinned,
    within,
)
from lessonkit.geometry.faults import GeometryError
from lessonkit.geometry.shape import Line, contains_point, is_valid, with_opening

sizes = st.floats(1, 300)


# --- areas ---


@given(sizes, sizes, st.floats(0.05, 0.9))
@settings(max_examples=40)
def test_joining_and_cutting_add_up(wide: float, tall: float, share: float) -> None:
    a, b = bar(0, 0, wide, tall), bar(wide * share, tall * share, wide * 2, tall * 2)
    both, either, left_over = a & b, a | b, a - b
    assert both.size == pytest.approx(wide * tall * (1 - share) ** 2)
    assert either.size == pytest.approx(a.size + b.size - both.size)
    assert left_over.size == pytest.approx(a.size - both.size)


def test_what_does_not_meet_is_nothing() -> None:
    nothing = bar(0, 0, 1, 1) & bar(2, 2, 3, 3)
    assert not nothing
    assert nothing.size == 0
    assert nothing.grown(1) == nothing | nothing == Area()
    with pytest.raises(GeometryError, match="no bounds"):
        _ = nothing.bounds
    with pytest.raises(GeometryError, match="no middle"):
        _ = nothing.middle


def test_a_ring_its_opening_and_its_outside() -> None:
    ring = disc(10, 5, 8) - disc(10, 5, 3)
    assert ring.size == pytest.approx(pi * (64 - 9), rel=0.005)
    assert [hole.size for hole in ring.openings] == pytest.approx([9 * pi], rel=0.005)
    assert ring.outer.size == pytest.approx(64 * pi, rel=0.005)
    assert ring.middle == pytest.approx((10, 5))
    assert ring.bounds == pytest.approx((2, -3, 18, 13))
    assert not ring.covers(bar(9, 4, 11, 6))
    assert ring.covers(bar(14, 4, 16, 6))
    assert len(ring.rings) == 2


def test_openings_come_largest_first_and_the_largest_shape_alone() -> None:
    plate = bar(0, 0, 40, 20) - bar(2, 2, 5, 5) - bar(20, 2, 30, 12)
    assert [hole.size for hole in plate.openings] == pytest.approx([100, 9])
    two = bar(0, 0, 2, 2) | bar(10, 0, 15, 5)
    assert two.largest.size == pytest.approx(25)
    assert two.hull.size > two.size


@given(st.floats(2, 60), st.floats(2, 60), st.floats(0.1, 20))
@settings(max_examples=40)
def test_a_bar_grows_by_steiners_formula(wide: float, tall: float, by: float) -> None:
    """Area of the parallel body: A + P d + pi d^2 (Steiner)."""
    assert bar(0, 0, wide, tall).grown(by).size == pytest.approx(wide * tall + 2 * (wide + tall) * by + pi * by * by, rel=0.01)
    assert bar(0, 0, wide, tall).grown(by, mitred=True).size == pytest.approx((wide + 2 * by) * (tall + 2 * by))


def test_softening_rounds_corners_and_drops_slivers() -> None:
    assert bar(0, 0, 10, 10).softened(2).size == pytest.approx(100 - (4 - pi) * 4, rel=0.001)
    assert not bar(0, 0, 10, 3).softened(2)


@given(st.floats(-180, 180), st.floats(-50, 50), st.floats(-50, 50))
@settings(max_examples=30)
def test_moving_and_turning_keep_the_size(deg: float, dx: float, dy: float) -> None:
    heart = area_of(outlines.heart(60, 54))
    moved = heart.moved(dx, dy).turned(deg, (3, 4))
    assert moved.size == pytest.approx(heart.size, rel=1e-6)
    assert all(is_valid(shape) for shape in moved.shapes)
    cx, cy = heart.middle
    c, s = cos(radians(deg)), sin(radians(deg))
    x, y = cx + dx - 3, cy + dy - 4
    assert moved.middle == pytest.approx((3 + c * x - s * y, 4 + s * x + c * y), abs=1e-6)


def test_a_mirrored_area_is_still_sound() -> None:
    shape = bar(0, 0, 4, 2) - bar(1, 0.5, 2, 1.5)
    mirrored = shape.mapped(lambda x, y: (-x, y))
    assert all(is_valid(s) for s in mirrored.shapes)
    assert mirrored.bounds == pytest.approx((-4, 0, 0, 2))


def test_a_small_thing_is_held_where_all_of_it_lies_on_the_ground() -> None:
    ground = disc(0, 0, 10) - disc(0, 0, 4)
    places = [(7, 0), (0, 0), (9.5, 0), (-7, 0)]
    assert ground.holding(disc(0, 0, 1).shapes[0].outline, places) == ((7, 0), (-7, 0))
    assert ground.holding(disc(0, 0, 1).shapes[0].outline, []) == ()


def test_how_far_a_place_lies_from_the_nearest_edge() -> None:
    ground = bar(0, 0, 10, 10) - bar(4, 4, 6, 6)
    assert ground.distance((2, 5)) == pytest.approx(2)
    assert ground.distance((3.5, 5)) == pytest.approx(0.5)


def test_an_outline_either_way_round_gives_the_same_area() -> None:
    points = [(0, 0), (4, 0), (4, 3)]
    assert area(points).size == area(points[::-1]).size == pytest.approx(6)


def test_a_bar_takes_no_larger_corner_than_it_has_room_for() -> None:
    assert bar(0, 0, 10, 4, 50).size == pytest.approx(6 * 4 + pi * 4, rel=0.005)


def test_a_ribbon_is_as_wide_as_asked() -> None:
    assert ribbon(((0, 0), (10, 0)), 3).bounds == pytest.approx((0, -1.5, 10, 1.5))
    assert ribbon(((0, 0), (10, 0)), 3, round_ends=True).bounds == pytest.approx((-1.5, -1.5, 11.5, 1.5))


# --- raw edges ---


@given(st.floats(10, 60), st.floats(10, 60), st.floats(0.2, 0.9), st.floats(0, 6))
@settings(max_examples=30)
def test_a_raw_edge_strays_no_farther_than_told(wide: float, tall: float, stray: float, seed: float) -> None:
    clean = bar(0, 0, wide, tall, 4)
    raw = raw_edge(clean, stray, seed)
    assert clean.grown(1.5 * stray + 0.3).covers(raw)
    assert raw.covers(clean.grown(-1.5 * stray - 0.3))
    assert raw != clean
    assert all(is_valid(shape) for shape in raw.shapes)


def test_raw_edges_repeat_for_a_seed_and_differ_between_seeds() -> None:
    clean = disc(0, 0, 20)
    assert raw_edge(clean, 0.7, 1.0) == raw_edge(clean, 0.7, 1.0)
    assert raw_edge(clean, 0.7, 1.0) != raw_edge(clean, 0.7, 2.0)
    assert raw_edge(Area(), 0.7, 1.0) == Area()


# --- lines ---


def test_a_curve_runs_through_its_points() -> None:
    points = [(0, 0), (10, 5), (20, 0), (30, 9)]
    line = curve(points)
    assert line[0] == points[0]
    assert line[-1] == points[-1]
    for point in points:
        assert min(dist(point, p) for p in line) == pytest.approx(0)
    ring = curve(points, closed=True)
    assert ring[0] != ring[-1]
    assert all(min(dist(point, p) for p in ring) < 1e-9 for point in points)
    assert blob(points).size > 0


def test_arcs_end_where_they_should_and_keep_their_radius() -> None:
    line = arc(3, 4, 10, 0, 90)
    assert line[0] == pytest.approx((13, 4))
    assert line[-1] == pytest.approx((3, 14))  # y down: 90 is the lowest place
    assert all(hypot(x - 3, y - 4) == pytest.approx(10) for x, y in line)
    assert length(line) == pytest.approx(5 * pi, rel=0.001)
    assert arc(0, 0, 10, 90, 0, ry=5)[0] == pytest.approx((0, 5))


@given(st.floats(0, 30), st.floats(0, 30))
@settings(max_examples=40)
def test_a_part_is_as_long_as_asked(a: float, b: float) -> None:
    line: Line = ((0, 0), (10, 0), (10, 20))
    start, end = sorted((a, b))
    piece = part(line, start, end)
    assert length(piece) == pytest.approx(end - start, abs=1e-9)
    first, last = points_along(line, [start, end])
    assert dist(piece[0], first) < 1e-9
    assert dist(piece[-1], last) < 1e-9


def test_a_part_beyond_the_ends_is_the_whole_line() -> None:
    line: Line = ((0, 0), (10, 0))
    assert part(line, -5, 50) == line


def test_an_outline_starts_at_the_nearest_place_and_runs_clockwise_on_paper() -> None:
    ring = bar(0, 0, 10, 10).shapes[0].outline
    for points in (ring, ring[::-1]):
        assert nearest(points, (12, 4)) == pytest.approx((10, 4))
        line = outline_from(points, (12, 4))
        assert line[0] == line[-1] == pytest.approx((10, 4))
        assert length(line) == pytest.approx(40)
        assert points_along(line, [5]) == [pytest.approx((10, 9))]  # down the right side, y downwards
        assert points_along(outline_from(points, (12, 4), clockwise=False), [3]) == [pytest.approx((10, 1))]


def test_a_cut_begins_at_the_right() -> None:
    line = clockwise_from(disc(50, 35, 20), up=0)
    assert line[0] == pytest.approx((70, 35), abs=0.05)
    assert points_along(line, [5])[0][1] > 35
    assert clockwise_from(bar(0, 0, 30, 10), up=2)[0] == pytest.approx((30, 3))


def test_a_line_beside_another_keeps_its_distance() -> None:
    line = beside(((0, 0), (10, 0)), 2)
    assert [abs(y) for _, y in line] == pytest.approx([2, 2])
    assert length(line) == pytest.approx(10)


@given(st.lists(st.lists(st.tuples(st.floats(0, 100), st.floats(0, 70)), min_size=2, max_size=20), max_size=5), st.floats(0.01, 5))
@settings(max_examples=40, deadline=None)
def test_a_thinned_line_keeps_its_ends_and_leaves_out_no_point_that_is_far_from_it(lines: list[list[tuple[float, float]]], stray: float) -> None:
    numbers, counts = thinned([v for line in lines for point in line for v in point], [len(line) for line in lines], stray)
    points = zip(numbers[::2], numbers[1::2], strict=True)
    for line, count in zip(lines, counts, strict=True):
        left = list(islice(points, count))
        assert (left[0], left[-1]) == (line[0], line[-1])
        assert set(left) <= set(line)
        assert all(min(away(point, a, b) for a, b in pairwise(left)) <= stray + 1e-9 for point in line)


def away(point: tuple[float, float], a: tuple[float, float], b: tuple[float, float]) -> float:
    """How far a point lies from the line between two others."""
    (x, y), (ax, ay), (bx, by) = point, a, b
    long = (bx - ax) ** 2 + (by - ay) ** 2
    share = min(1.0, max(0.0, ((x - ax) * (bx - ax) + (y - ay) * (by - ay)) / long)) if long else 0.0
    return dist(point, (ax + share * (bx - ax), ay + share * (by - ay)))


def test_an_area_is_thinned_with_its_opening() -> None:
    ground = area_of(with_opening(outlines.circle(100), outlines.circle(40)))
    few = ground.simplified(0.1)
    assert [len(a.holes) for a in few.shapes] == [1]
    assert sum(map(len, few.rings)) < sum(map(len, ground.rings)) / 2
    assert isclose(few.size, ground.size, rel_tol=0.01)
    assert len(ground.simplified(25.0).openings) == 1  # where the quick way would lose it


def test_an_area_is_thinned_without_the_loss_of_a_tip() -> None:
    """With all points thinned at once this one crosses itself, and would come back whole and sound, but without its right half."""
    ground = area([(-0.23, -0.68), (0.86, -0.29), (2.07, -0.04), (3.1, -0.27), (2.12, 0.08), (1.05, 0.03)])
    stray = 0.3
    assert ground.simplified(stray).bounds[2] == pytest.approx(ground.bounds[2], abs=stray)


def test_only_what_lies_on_the_area_is_kept() -> None:
    ring = bar(0, 0, 10, 10) - bar(4, 4, 6, 6)
    runs = within((((-5, 5), (15, 5)),), ring)
    assert sorted(tuple(sorted(x for x, _ in run)) for run in runs) == [(0, 4), (6, 10)]
    assert within((), ring) == ()


def test_an_arrow_ends_at_its_tip_and_swells() -> None:
    head = arrow(((0, 0), (30, 0)))
    left, top, right, bottom = head.bounds
    assert (left, right) == pytest.approx((0, 30), abs=0.05)
    assert bottom - top == pytest.approx(7.4)
    assert head.covers(ribbon(((0.1, 0), (29, 0)), 0.2))
    tail = head & bar(0, -5, 2, 5)
    neck = head & bar(20, -5, 22, 5)
    assert tail.size < 0.5 * neck.size
    assert arrow(((0, 0), (30, 0)), 1.15).bounds[3] == pytest.approx(3.7 * 1.15)


def test_level_words_go_low_and_central() -> None:
    spot = level_spot(bar(0, 0, 60, 40), 20, 8)
    assert spot == pytest.approx((30, 36))
    ring = disc(30, 30, 28) - disc(30, 30, 14)
    x, y = level_spot(ring, 16, 6) or (0, 0)
    assert x == pytest.approx(30)
    assert y > 44
    assert ring.covers(bar(x - 8, y - 3, x + 8, y + 3))
    assert level_spot(bar(0, 0, 10, 10), 11, 2) is None
    assert level_spot(Area(), 1, 1) is None


@given(st.floats(5, 29), st.floats(2, 14), st.floats(-10, 10), st.floats(4, 30), st.floats(2, 12))
@settings(max_examples=40, deadline=None)
def test_the_level_spot_is_the_first_of_all_that_fit(rx: float, ry: float, x: float, wide: float, tall: float) -> None:
    ground = disc(0, 0, 40, 25) - disc(x, 0, rx, ry)
    across, down = int((80 - wide) / 2 / 1.5), int((50 - tall) / 1.5)
    spots = [(i * 1.5, 25 - tall / 2 - j * 1.5) for j in range(down + 1) for i in range(-across, across + 1)]
    fit = [(x, y) for x, y in spots if ground.covers(bar(x - wide / 2, y - tall / 2, x + wide / 2, y + tall / 2))]
    found = level_spot(ground, wide, tall)
    assert (found is None) == (not fit)
    assert found is None or 0.8 * abs(found[0]) - found[1] == pytest.approx(min(0.8 * abs(x) - y for x, y in fit))


# --- hatching ---


@given(st.floats(20, 200), st.floats(20, 200), st.floats(-90, 90), st.floats(0.8, 6))
@settings(max_examples=40)
def test_hatching_covers_evenly(wide: float, tall: float, angle: float, gap: float) -> None:
    """By Cavalieri's principle the lines' length times the gap is the area, but for the strips at the edges."""
    ground = bar(0, 0, wide, tall)
    lines = hatch(ground, angle, gap)
    assert sum(map(length, lines)) * gap == pytest.approx(wide * tall, abs=1.1 * gap * hypot(wide, tall))
    for (ax, ay), *_, (bx, by) in lines:
        across = degrees_between(bx - ax, by - ay, angle)
        assert isclose(across, 0, abs_tol=1e-4)


def degrees_between(dx: float, dy: float, deg: float) -> float:
    size = hypot(dx, dy)
    return degrees(abs(dx / size * sin(radians(deg)) - dy / size * cos(radians(deg)))) if size > 1e-6 else 0.0


def test_neighbours_of_a_hatching_lie_one_gap_apart() -> None:
    lines = hatch(disc(0, 0, 40), 45, 3.4)
    offsets = sorted((y - x) / sqrt(2) for (x, y), *_ in lines)
    assert [b - a for a, b in pairwise(offsets)] == pytest.approx([3.4] * (len(offsets) - 1))
    assert min(abs(o) for o in offsets) == pytest.approx(0, abs=1e-6)  # one runs through the middle


def test_hatching_stays_on_the_clay() -> None:
    frame = with_opening(outlines.circle(120), outlines.circle(60))
    lines = hatch(frame, 30, 4)
    assert len(lines) > 30
    for (ax, ay), *_, (bx, by) in lines:
        for t in (0.001, 0.25, 0.5, 0.75, 0.999):
            assert contains_point(frame, ax + t * (bx - ax), ay + t * (by - ay))


def test_a_ring_an_area_and_a_shape_are_hatched_alike() -> None:
    shape = outlines.rectangle(30, 20)
    assert hatch(shape, 45, 3) == hatch(area_of(shape), 45, 3) == hatch(shape.outline, 45, 3)
    assert cross_hatch(shape, 45, 3) == hatch(shape, 45, 3) + hatch(shape, -45, 3)


def test_a_hatching_needs_a_gap_and_something_to_hatch() -> None:
    assert hatch(Area(), 45, 3) == ()
    for gap in (0, -1, float("nan")):
        with pytest.raises(GeometryError, match="gap above 0"):
            hatch(disc(0, 0, 5), 45, gap)


# --- moves ---


def test_a_tool_is_turned_about_its_tip_and_put_in_its_place() -> None:
    to = placing(10, 20, 90, 2)
    assert to(0, 0) == pytest.approx((10, 20))
    assert to(5, 0) == pytest.approx((10, 30))  # clockwise with y downwards
    assert placing(0, 0, flipped=True)(3, 1) == pytest.approx((3, -1))
    assert mapped_line(((0, 0), (5, 0)), to)[1] == pytest.approx((10, 30))
    assert turning(180, (1, 1))(2, 1) == pytest.approx((0, 1))
