"""Own points, silhouettes, joining, repeating, rounding."""

from __future__ import annotations

import math
from itertools import pairwise
from math import pi

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from lessonkit.geometry import outlines
from lessonkit.geometry.combining import along, around, cut_away, doubled, from_points, from_rings, joined, rounded
from lessonkit.geometry.faults import GeometryError
from lessonkit.geometry.ornaments import star
from lessonkit.geometry.shape import Shape, area_mm2, bounds, centroid, moved, perimeter_mm, turned
from tests.geometry.soundly import assert_size, assert_sound


def test_c25_self_crossing_outline_is_named() -> None:
    """shapely's zero buffer would keep half of this bow tie; it must be refused, with the place."""
    with pytest.raises(GeometryError, match=r"outline crosses itself near \(50, 50\)") as error:
        from_points([(0, 0), (100, 100), (0, 100), (100, 0)])
    assert error.value.hint


@pytest.mark.parametrize(
    ("points", "words"),
    [
        ([(0, 0), (100, 0)], "at least three"),
        ([], "at least three"),
        ([(0, 0), (0, 0), (0, 0), (1, 0)], "at least three"),
        ([(0, 0), (50, 0), (100, 0)], "touches itself|one line"),
        ([(0, 0), (100, 0), (100, 50), (50, 0), (0, 50)], r"touches itself near \(50, 0\)"),
        ([(0, 0), (100, 0), (50, 0), (50, 60)], "touches itself"),
        ([(0, 0), (math.nan, 0), (50, 60)], "not a number"),
        ([(0, 0), (1e9, 0), (50, 60)], "not a place"),
    ],
)
def test_points_that_are_no_outline(points: list[tuple[float, float]], words: str) -> None:
    with pytest.raises(GeometryError, match=words):
        from_points(points)


def test_points_either_way_round() -> None:
    forward = [(0, 0), (100, 0), (100, 50), (100, 50), (0, 0)]  # one repeated, one closing
    shape = from_points(forward)
    assert_sound(shape)
    assert_size(shape, 100, 50)
    assert area_mm2(from_points(forward[::-1])) == area_mm2(shape) == 2500


coordinate = st.floats(-200, 200).map(lambda v: round(v, 2))


@given(st.lists(st.tuples(coordinate, coordinate), max_size=9))
@settings(max_examples=60, deadline=None)
def test_any_points(points: list[tuple[float, float]]) -> None:
    """Taken exactly when shapely calls the ring simple, and then with its whole area."""
    try:
        shape = from_points(points)
    except GeometryError:
        if len(set(points)) >= 3:
            polygon = shapely.Polygon(points)
            assert not polygon.is_valid or polygon.area < 1e-6
        return
    assert_sound(shape)
    assert shapely.Polygon(points).is_valid
    assert area_mm2(shape) == pytest.approx(shapely.Polygon(points).area, rel=1e-9)


def test_silhouette_with_an_opening() -> None:
    frame = from_rings([outlines.circle(40).outline, outlines.rectangle(100, 80).outline])
    assert_sound(frame)
    assert area_mm2(frame) == pytest.approx(8000 - pi * 400, rel=2e-4)


@pytest.mark.parametrize(
    ("rings", "words"),
    [
        ([], "empty"),
        ([outlines.rectangle(100, 80).outline, moved(outlines.circle(20), 200, 0).outline], "lies outside"),
        ([outlines.rectangle(100, 80).outline, moved(outlines.circle(20), 50, 0).outline], "crosses its outline"),
        ([outlines.rectangle(100, 80).outline, outlines.circle(40).outline, outlines.circle(20).outline], "two openings"),
        ([((0, 0), (10, 10), (0, 10), (10, 0))], "crosses itself"),
    ],
)
def test_silhouettes_that_are_no_piece(rings: list[tuple[tuple[float, float], ...]], words: str) -> None:
    with pytest.raises(GeometryError, match=words):
        from_rings(rings)


def test_joined_and_cut_away() -> None:
    one, two = outlines.rectangle(60, 60), moved(outlines.rectangle(60, 60), 40, 0)
    both = joined(one, two)
    assert_sound(both)
    assert area_mm2(both) == pytest.approx(100 * 60)
    assert area_mm2(cut_away(one, two, moved(two, 500, 0))) == pytest.approx(40 * 60)
    for call, words in (
        (lambda: joined(one, moved(one, 100, 0)), "stay 2 pieces"),
        (lambda: joined(one, moved(one, 60, 60)), "stay 2 pieces"),  # they meet in a point
        (lambda: joined(), "nothing to join"),
        (lambda: cut_away(one, outlines.rectangle(10, 100)), "falls into 2"),
        (lambda: cut_away(one, outlines.circle(200)), "nothing is left"),
    ):
        with pytest.raises(GeometryError, match=words):
            call()


def test_heart_of_a_square_and_two_half_discs() -> None:
    """Side a: area (1 + pi/4) a², length (2 + pi) a, width 1.707107 a, height 1.560660 a (plane geometry, computed)."""
    square = turned(outlines.rectangle(100, 100), 45)
    lobes = [moved(outlines.circle(100), x, math.sqrt(1250)) for x in (-math.sqrt(1250), math.sqrt(1250))]
    heart = joined(square, *lobes)
    assert_sound(heart)
    assert area_mm2(heart) == pytest.approx(1.785398 * 100**2, rel=3e-4)
    assert perimeter_mm(heart) == pytest.approx(514.1593, rel=3e-4)
    left, bottom, right, top = bounds(heart)
    assert right - left == pytest.approx(170.7107, abs=0.02)
    assert top - bottom == pytest.approx(156.0660, abs=0.02)


def test_around_a_ring_runs_clockwise_from_the_top() -> None:
    rivets = around(outlines.circle(8), 8, 120)
    assert centroid(rivets[0]) == (pytest.approx(0, abs=1e-9), pytest.approx(60))
    assert centroid(rivets[2]) == (pytest.approx(60), pytest.approx(0, abs=1e-9))
    places = [centroid(r) for r in rivets]
    assert all(math.dist((0, 0), p) == pytest.approx(60) for p in places)
    assert {round(math.dist(a, b), 6) for a, b in pairwise(places)} == {round(2 * 60 * math.sin(pi / 8), 6)}
    first = around(outlines.circle(8), 3, 120, 90)[0]
    assert centroid(first) == (pytest.approx(60), pytest.approx(0, abs=1e-9))


def test_copies_turn_with_their_place_or_stay_upright() -> None:
    tall = outlines.rectangle(4, 20)
    turning, upright = around(tall, 4, 100), around(tall, 4, 100, turning=False)
    assert [round(bounds(s)[2] - bounds(s)[0]) for s in turning] == [4, 20, 4, 20]
    assert [round(bounds(s)[2] - bounds(s)[0]) for s in upright] == [4, 4, 4, 4]
    assert [centroid(a) for a in upright] == [pytest.approx(centroid(b), abs=1e-9) for b in turning]


def test_along_a_line() -> None:
    row = along(outlines.circle(6), 4, (-30, 10), (30, 10))
    assert [centroid(s)[0] for s in row] == [pytest.approx(x, abs=1e-9) for x in (-30, -10, 10, 30)]
    assert centroid(along(outlines.circle(6), 1, (-30, 10), (30, 10))[0]) == (pytest.approx(0, abs=1e-9), pytest.approx(10))
    with pytest.raises(GeometryError, match="row"):
        along(outlines.circle(6), 0, (0, 0), (1, 0))
    with pytest.raises(GeometryError, match="ring"):
        around(outlines.circle(6), 0, 100)


def test_half_a_drawing_doubled() -> None:
    half = moved(outlines.rectangle(40, 100), 20, 0)
    assert_size(doubled(half), 80, 100)
    with pytest.raises(GeometryError, match="do not join"):
        doubled(moved(half, 5, 0))


def test_rounded_corners_by_hand() -> None:
    """An outer corner of radius r loses (1 - pi/4) r², an inner one gains as much: an L has five of one and one of the other."""
    corner = joined(outlines.rectangle(100, 40), moved(outlines.rectangle(40, 100), -30, 30))
    lost = 1 - pi / 4
    assert area_mm2(rounded(corner, outside_mm=8)) == pytest.approx(area_mm2(corner) - 5 * lost * 64, abs=0.5)
    assert area_mm2(rounded(corner, inside_mm=8)) == pytest.approx(area_mm2(corner) + lost * 64, abs=0.5)
    both = rounded(corner, outside_mm=8, inside_mm=5)
    assert_sound(both)
    assert area_mm2(both) == pytest.approx(area_mm2(corner) - 5 * lost * 64 + lost * 25, abs=0.5)
    assert bounds(both) == pytest.approx(bounds(corner), abs=1e-6)
    assert rounded(corner) == corner


def test_rounding_that_takes_everything() -> None:
    with pytest.raises(GeometryError, match="nothing is left"):
        rounded(outlines.rectangle(20, 20), outside_mm=11)
    barbell = joined(outlines.rectangle(80, 6), moved(outlines.circle(40), -40, 0), moved(outlines.circle(40), 40, 0))
    with pytest.raises(GeometryError, match="falls into 2"):
        rounded(barbell, outside_mm=5)


@pytest.mark.parametrize("shape", [star(5, 120, 30), outlines.heart(100), turned(outlines.rectangle(80, 50), 20)])
def test_rounding_leaves_no_tighter_bend(shape: Shape) -> None:
    smooth = rounded(shape, outside_mm=4, inside_mm=4)
    assert_sound(smooth)
    clay = shapely.Polygon(smooth.outline)
    again = clay.buffer(-3.99, quad_segs=64).buffer(3.99, quad_segs=64)
    sharp = shapely.Polygon(shape.outline)
    before = sharp.symmetric_difference(sharp.buffer(-3.99, quad_segs=64).buffer(3.99, quad_segs=64)).area
    assert clay.symmetric_difference(again).area < 0.2 < before
