"""Measures, moves, openings, growing, clipping and room for labels, against shapely, plane geometry and the known cases."""

from __future__ import annotations

import math
from math import pi

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import quad

from lessonkit.geometry import outlines
from lessonkit.geometry.areas import Area
from lessonkit.geometry.combining import joined
from lessonkit.geometry.faults import GeometryError
from lessonkit.geometry.ornaments import crescent, leaf, petals, scalloped, star, waved
from lessonkit.geometry.shape import (
    Shape,
    area_mm2,
    bounds,
    centroid,
    clip,
    clip_line,
    contains_point,
    grown,
    hull,
    is_valid,
    largest_free_disc,
    mirrored,
    moved,
    perimeter_mm,
    scaled,
    turned,
    whole,
    widest_free_box,
    with_opening,
    with_openings,
)
from tests.geometry.soundly import assert_sound, boundary

SQUARE = outlines.rectangle(100, 100)
RING = with_opening(outlines.circle(160), outlines.circle(85))
SHAPES = {
    "square": SQUARE,
    "ring": RING,
    "heart": outlines.heart(100),
    "star": star(5, 120, 35),
    "moon": crescent(100, 35),
    "leaf": leaf(60, 140),
    "petals": petals(5, 120, 30),
    "scallops": scalloped(9, 140, 8),
    "waves": waved(120, 80, 6, 3),
    "arch": outlines.arch(80, 120),
}


def refused(call: object, words: str) -> GeometryError:
    with pytest.raises(GeometryError, match=words) as error:
        call()  # type: ignore[operator]
    assert error.value.hint
    return error.value


# --- case C29: an opening over an edge ---


def test_c29_opening_on_the_edge_is_a_notch() -> None:
    """100 mm square, 50 x 60 cut from its left side: a C of 7,000 mm², one outline, no hole."""
    piece = with_opening(SQUARE, moved(outlines.rectangle(50, 60), -25, 0))
    assert_sound(piece)
    assert area_mm2(piece) == pytest.approx(7000)
    assert piece.holes == ()
    assert len(piece.outline) == 8


def test_c29_diamond_touching_two_edges_falls_into_two() -> None:
    diamond = turned(outlines.rectangle(200 / math.sqrt(2), 20), 45)
    error = refused(lambda: with_opening(SQUARE, diamond), "falls into 2 pieces")
    assert "smaller" in error.hint


def test_c29_opening_outside_is_an_error() -> None:
    refused(lambda: with_opening(SQUARE, moved(outlines.circle(20), 200, 0)), "outside the clay")
    refused(lambda: with_opening(SQUARE, moved(outlines.rectangle(20, 20), 60, 0)), "outside the clay")  # shares an edge


def test_c29_opening_in_an_opening_is_an_error() -> None:
    refused(lambda: with_opening(RING, outlines.circle(20)), "inside another opening")
    refused(lambda: with_opening(RING, outlines.circle(100)), "swallows another")
    refused(lambda: with_opening(RING, outlines.circle(85)), "inside another opening")


def test_opening_that_leaves_nothing_or_touches() -> None:
    refused(lambda: with_opening(SQUARE, outlines.circle(400)), "whole piece")
    refused(lambda: with_opening(SQUARE, moved(outlines.circle(20), 40, 0)), "just touches")


def test_openings_that_overlap_become_one() -> None:
    one = with_opening(SQUARE, outlines.rectangle(20, 20))
    both = with_opening(one, moved(outlines.rectangle(20, 20), 10, 0))
    assert_sound(both)
    assert area_mm2(both) == pytest.approx(10000 - 30 * 20)
    assert len(both.holes) == 1


@settings(max_examples=40, deadline=None)
@given(st.lists(st.tuples(st.integers(-45, 45), st.integers(-45, 45), st.integers(3, 15)), min_size=1, max_size=6))
def test_many_openings_are_cut_as_one_after_the_other(places: list[tuple[int, int, int]]) -> None:
    """Apart, overlapping, over the edge: the same clay in the end, or refused both ways."""
    tools = [moved(outlines.rectangle(size, size), x, y) for x, y, size in places]
    one_by_one: Shape | None = SQUARE
    try:
        for tool in tools:
            one_by_one = with_opening(one_by_one, tool)
    except GeometryError:
        one_by_one = None
    try:
        at_once: Shape | None = with_openings(SQUARE, tools)
    except GeometryError:
        at_once = None
    assert (at_once is None) == (one_by_one is None)
    if at_once and one_by_one:
        assert_sound(at_once)
        assert len(at_once.holes) == len(one_by_one.holes)
        pair = [shapely.Polygon(shape.outline, shape.holes) for shape in (at_once, one_by_one)]
        assert shapely.symmetric_difference(*pair).area == pytest.approx(0, abs=1e-6)


def test_hundreds_of_openings_that_meet_are_refused_soon() -> None:
    plate = outlines.rectangle(380, 380)
    apart = [moved(outlines.heart(14), -170 + 24 * (i % 15), -170 + 24 * (i // 15)) for i in range(200)]
    assert len(with_openings(plate, apart).holes) == 200
    chained = [moved(outlines.heart(14), -170 + 12 * (i % 29), -170 + 24 * (i // 29)) for i in range(200)]
    refused(lambda: with_openings(plate, chained), "200 of its openings meet")


# --- measures and moves ---


def test_ring_by_hand() -> None:
    assert_sound(RING)
    assert area_mm2(RING) == pytest.approx(pi / 4 * (160**2 - 85**2), rel=2e-4)
    assert perimeter_mm(RING) == pytest.approx(160 * pi, rel=2e-4)
    assert bounds(RING) == (-80, -80, 80, 80)
    assert whole(RING) == Shape(RING.outline)
    assert contains_point(RING, 0, 60)
    assert contains_point(RING, 80, 0)
    assert not contains_point(RING, 0, 0)
    assert not contains_point(RING, 0, 81)


@given(st.floats(0, 100), st.floats(0, 360), st.floats(1, 50))
@settings(max_examples=60, deadline=None)
def test_what_a_shape_covers_is_whole_on_its_clay(out: float, deg: float, across: float) -> None:
    """A disc on a ring of 85 to 160: either all of it is clay, and cutting says the same, or it reaches over an edge."""
    disc = turned(moved(outlines.circle(across), out, 0), deg)
    if Area((RING,)).covers(Area((disc,))):
        assert out - across / 2 >= 42.5 - 0.02
        assert out + across / 2 <= 80 + 0.02
        assert not (Area((disc,)) - Area((RING,))).shapes
        assert (Area((disc,)) & Area((whole(RING),))).shapes
    else:
        assert out - across / 2 < 42.5 + 0.02 or out + across / 2 > 80 - 0.02


def test_balance_point_of_a_known_piece() -> None:
    """A 100 x 50 plate with a 20 x 20 hole 25 right of the middle: -400 x 25 / (5000 - 400)."""
    plate = with_opening(outlines.rectangle(100, 50), moved(outlines.rectangle(20, 20), 25, 0))
    assert centroid(plate) == (pytest.approx(-25 * 400 / 4600), pytest.approx(0, abs=1e-12))


@pytest.mark.parametrize("name", SHAPES)
def test_moves_change_nothing_but_the_place(name: str) -> None:
    shape = SHAPES[name]
    assert_sound(shape)
    x, y = centroid(shape)
    there = turned(moved(shape, 30, -7), 25, (4, 5))
    c, s = math.cos(math.radians(25)), math.sin(math.radians(25))
    ex, ey = x + 30 - 4, y - 7 - 5
    assert centroid(there) == (pytest.approx(4 + c * ex - s * ey, abs=1e-9), pytest.approx(5 + s * ex + c * ey, abs=1e-9))
    assert centroid(mirrored(shape)) == (pytest.approx(-x, abs=1e-9), pytest.approx(y, abs=1e-9))
    assert area_mm2(scaled(shape, 1 / 0.88)) == pytest.approx(area_mm2(shape) / 0.88**2)
    assert bounds(scaled(shape, 2)) == pytest.approx(tuple(2 * v for v in bounds(shape)))
    back = turned(turned(turned(turned(shape, 90), 90), 90), 90)
    assert back == shape
    assert turned(shape, 360) == shape
    assert mirrored(mirrored(shape)) == shape
    assert is_valid(there)
    assert is_valid(mirrored(shape))


def test_what_is_no_valid_shape() -> None:
    square = SQUARE.outline
    assert not is_valid(Shape(square[::-1]))  # clockwise
    assert not is_valid(Shape(square[:2]))
    assert not is_valid(Shape(((0, 0), (10, 10), (0, 10), (10, 0))))
    assert not is_valid(Shape(square, (outlines.circle(20).outline,)))  # the hole runs the wrong way
    assert not is_valid(Shape(((0, 0), (math.nan, 0), (5, 5))))
    touching = moved(outlines.rectangle(20, 20), 40, 0)
    assert not is_valid(Shape(square, (touching.outline[::-1],)))


@pytest.mark.parametrize(
    ("percent", "area"), [(5, 1.1080), (6, 1.1317), (10, 1.2346), (12, 1.2913), (12.5, 1.3061), (15, 1.3841)]
)
def test_areas_grow_as_the_table_says(percent: float, area: float) -> None:
    """Cut = fired / (1 - s) (ASTM C326's total shrinkage); the area's factor is that squared (computed table)."""
    plate = with_opening(outlines.rectangle(200, 150), outlines.rectangle(96, 146))
    cut = scaled(plate, 1 / (1 - percent / 100))
    assert area_mm2(cut) / area_mm2(plate) == pytest.approx(area, abs=6e-5)
    if percent == 12:
        xs, ys = zip(*cut.holes[0], strict=True)
        assert (max(xs) - min(xs), max(ys) - min(ys)) == (pytest.approx(109.09, abs=0.005), pytest.approx(165.91, abs=0.005))


@pytest.mark.parametrize(("across", "thick", "volume"), [(254, 6.35, 321.8), (285, 6, 382.8), (212.8, 6.5, 231)])
def test_volume_of_plates(across: float, thick: float, volume: float) -> None:
    """Discs of the weight table and of the worked plate, in cubic centimetres."""
    assert area_mm2(outlines.circle(across)) * thick / 1000 == pytest.approx(volume, abs=0.4)


@pytest.mark.parametrize("bad", [0, -1, math.nan, math.inf])
def test_no_such_scale(bad: float) -> None:
    refused(lambda: scaled(SQUARE, bad), "times")


def test_moves_that_are_no_numbers() -> None:
    refused(lambda: moved(SQUARE, math.nan, 0), "not a place")
    refused(lambda: turned(SQUARE, math.inf), "turn")
    refused(lambda: grown(SQUARE, math.nan), "distance")


# --- growing ---


def test_c26_inward_splits_and_vanishes() -> None:
    """Two 40 mm squares joined by a 6 x 40 neck: 4 mm inwards are two islands, 25 mm nothing.

    Each island is a 32 mm square with a bulge towards the neck, bounded by two arcs about the neck's corners.
    """
    squares = [moved(outlines.rectangle(40, 40), x, 0) for x in (-40, 40)]
    barbell = joined(outlines.rectangle(40, 6), *squares)
    islands = grown(barbell, -4)
    bulge, _ = quad(lambda u: 2 * (4 - math.sqrt(16 - u * u)), 0, 3)
    assert [area_mm2(i) for i in islands] == [pytest.approx(32 * 32 + bulge, abs=0.05)] * 2
    assert grown(barbell, -25) == ()
    assert len(grown(barbell, -2.9)) == 1


def test_grown_square_by_hand() -> None:
    """Outwards by d: a² + 4ad + pi d² (Steiner); inwards: (a - 2d)²."""
    (out,) = grown(SQUARE, 10)
    assert area_mm2(out) == pytest.approx(100**2 + 4 * 100 * 10 + pi * 100, abs=0.5)
    (inner,) = grown(SQUARE, -10)
    assert area_mm2(inner) == pytest.approx(80**2)
    assert grown(SQUARE, 0) == (SQUARE,)


@pytest.mark.parametrize("name", SHAPES)
@given(mm=st.floats(0.2, 30))
@settings(max_examples=10, deadline=None)
def test_grown_edges_lie_at_the_distance(name: str, mm: float) -> None:
    """Every corner of an offset, and the middle of every side, lies `mm` from the shape: 0.02 mm at most off."""
    shape = SHAPES[name]
    clay = shapely.Polygon(shape.outline, shape.holes)
    for way in (1, -1):
        for piece in grown(shape, way * mm):
            assert is_valid(piece)
            for ring in (piece.outline, *piece.holes):
                corners = np.array(ring)
                probes = shapely.points(np.concatenate([corners, (corners + np.roll(corners, 1, axis=0)) / 2]))
                off = np.abs(shapely.distance(probes, boundary(shape)) - mm)
                assert off.max() <= 0.02
                assert (shapely.contains_properly(clay, probes) == (way < 0)).all()


# --- hull and clipping ---


def test_hull_of_a_star_is_its_pentagon() -> None:
    tips = [math.hypot(x, y) for x, y in hull(star(5, 100, 30)).outline]
    assert len(tips) == 5
    assert area_mm2(hull(star(5, 100, 30))) == pytest.approx(area_mm2(outlines.polygon(5, 100)))


@pytest.mark.parametrize("name", SHAPES)
def test_quarters_make_the_whole(name: str) -> None:
    shape = SHAPES[name]
    left, bottom, right, top = bounds(shape)
    x, y = left + 0.37 * (right - left), bottom + 0.61 * (top - bottom)
    corners = [(left, bottom, x, y), (x, bottom, right, y), (left, y, x, top), (x, y, right, top)]
    pieces = [p for window in corners for p in clip(shape, window)]
    assert sum(area_mm2(p) for p in pieces) == pytest.approx(area_mm2(shape), rel=1e-9)
    assert all(is_valid(p) for p in pieces)
    assert clip(shape, (right + 1, top + 1, right + 2, top + 2)) == ()


def test_lines_are_clipped_in_order() -> None:
    zigzag = ((0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (0.0, 10.0))
    assert clip_line(zigzag, (-1, -1, 11, 11)) == (zigzag,)
    assert clip_line(zigzag, (0, 0, 5, 20)) == (((0.0, 0.0), (5.0, 0.0)), ((5.0, 10.0), (0.0, 10.0)))
    assert clip_line(zigzag, (20, 20, 30, 30)) == ()
    assert clip_line(((0.0, 0.0),), (-1, -1, 1, 1)) == ()
    assert clip_line(((0.0, 5.0), (10.0, 5.0)), (2, 0, 4, 9)) == (((2.0, 5.0), (4.0, 5.0)),)


# --- room for labels ---


@pytest.mark.parametrize(
    ("shape", "radius"), [(outlines.circle(100), 50), (SQUARE, 50), (outlines.rectangle(200, 40), 20), (RING, 37.5 / 2)]
)
def test_largest_free_disc(shape: Shape, radius: float) -> None:
    x, y, found = largest_free_disc(shape)
    assert found == pytest.approx(radius, abs=0.1)
    assert contains_point(shape, x, y)


@pytest.mark.parametrize("name", SHAPES)
@pytest.mark.parametrize(("wide", "tall"), [(30, 8), (8, 30), (12, 12), (60, 5)])
def test_labels_lie_on_clay(name: str, wide: float, tall: float) -> None:
    place = widest_free_box(SHAPES[name], wide, tall)
    clay = shapely.Polygon(SHAPES[name].outline, SHAPES[name].holes)
    if place is None:
        left, bottom, right, top = bounds(SHAPES[name])
        spots = [(x, y) for x in np.arange(left, right, 4) for y in np.arange(bottom, top, 4)]
        assert not any(clay.covers(shapely.box(x - wide / 2, y - tall / 2, x + wide / 2, y + tall / 2)) for x, y in spots)
    else:
        x, y = place
        label = shapely.box(x - wide / 2, y - tall / 2, x + wide / 2, y + tall / 2)
        assert clay.contains_properly(label)


def test_labels_keep_to_the_middle_line() -> None:
    assert widest_free_box(outlines.circle(100), 40, 10) == (pytest.approx(0, abs=0.1), pytest.approx(0, abs=0.1))
    x, y = widest_free_box(RING, 30, 10) or (9, 9)
    assert x == 0
    assert abs(abs(y) - 60) < 2
    assert widest_free_box(RING, 90, 40) is None
    assert widest_free_box(SQUARE, 100, 100) is None
