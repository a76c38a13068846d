"""Pieces on sheets: inside, apart, on as few sheets as the plain cases allow, never fewer than the area needs."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import combinations

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from lessonkit.geometry import bodies, nesting, outlines
from lessonkit.geometry.combining import from_points
from lessonkit.geometry.developments import cone, cylinder
from lessonkit.geometry.faults import GeometryError
from lessonkit.geometry.nesting import Placement, nested_sets
from lessonkit.geometry.ornaments import crescent, gable, leaf, star
from lessonkit.geometry.shape import Shape, less, moved, turned, union_of, with_opening

RING = with_opening(outlines.circle(120), outlines.circle(80))
SHAPES = {
    "circle": outlines.circle(90),
    "tile": outlines.rectangle(100, 60),
    "leaf": leaf(50, 140),
    "star": star(5, 110, 30),
    "moon": crescent(100, 30),
    "heart": outlines.heart(90),
    "ring": RING,
    "house": gable(70, 100),
    "triangle": outlines.polygon(3, 100),
}


def nested(shapes: Sequence[Shape], wide: float, tall: float, gap: float = 0.0, margin: float = 0.0) -> tuple[Placement, ...]:
    return nested_sets(shapes, wide, tall, gap, margin, most=1)[0]


def assert_laid_out(
    shapes: Sequence[Shape], places: Sequence[Placement], wide: float, tall: float, gap: float = 0.0, margin: float = 0.0
) -> int:
    """Every piece once, inside its sheet, no two nearer than the gap; as many sheets as their area needs, at least."""
    assert [p.index for p in places] == list(range(len(shapes)))
    laid = [shapely.Polygon(moved(turned(shapes[p.index], p.turn_deg), p.x, p.y).outline) for p in places]
    inner = shapely.box(margin, margin, wide - margin, tall - margin).buffer(1e-5, join_style="mitre")
    assert all(inner.covers(piece) for piece in laid)
    for (p, a), (q, b) in combinations(zip(places, laid, strict=True), 2):
        if p.sheet == q.sheet:
            assert a.intersection(b).area < 1e-3
            assert a.distance(b) >= gap - 1e-4
    sheets = max((p.sheet + 1 for p in places), default=0)
    assert {p.sheet for p in places} == set(range(sheets))
    assert sheets * (wide - 2 * margin) * (tall - 2 * margin) >= sum(piece.area for piece in laid) - 1e-6
    return sheets


@pytest.mark.parametrize(
    ("shapes", "wide", "tall", "gap", "sheets"),
    [
        ([outlines.rectangle(100, 100)] * 9, 300, 300, 0, 1),  # to the last digit
        ([outlines.rectangle(100, 100)] * 10, 300, 300, 0, 2),
        ([outlines.rectangle(100, 100)] * 9, 320, 320, 10, 1),
        ([outlines.rectangle(200, 100)] * 4, 300, 300, 0, 1),  # a pinwheel about a hole
        ([outlines.rectangle(150, 90)], 100, 160, 0, 1),  # must be turned
        ([outlines.circle(100)] * 12, 304.8, 609.6, 6, 1),
        ([outlines.polygon(3, 100)] * 8, 200, 300, 0, 1),
        ([outlines.rectangle(100, 100)] * 4 + [outlines.rectangle(100, 200)] * 2, 200, 400, 0, 1),
        ([], 100, 100, 0, 0),
    ],
)
def test_plain_cases(shapes: list[Shape], wide: float, tall: float, gap: float, sheets: int) -> None:
    places = nested(shapes, wide, tall, gap)
    assert assert_laid_out(shapes, places, wide, tall, gap) == sheets


def test_two_stars_point_to_point() -> None:
    """Here GEOS's plain union lost one convex part of the no-go zone, and the stars overlapped by 82 mm²."""
    for gap, margin in ((2.9692101069499452, 8.0), (2.9692101069499452, 0.0)):
        stars = [SHAPES["star"]] * 2
        assert_laid_out(stars, nested(stars, 200, 200, gap, margin), 200, 200, gap, margin)


@pytest.mark.parametrize("names", [["star", "moon"] * 2, ["heart", "heart", "house"], ["leaf", "circle", "moon", "tile"]])
def test_plain_numbers_place_as_a_grid_does(names: list[str], monkeypatch: pytest.MonkeyPatch) -> None:
    shapes, found = [SHAPES[name] for name in names], []
    for exact in (False, True):
        if exact:
            monkeypatch.setattr(bodies, "_all_of", union_of)
            monkeypatch.setattr(nesting, "_without", less)
        bodies.no_go.cache_clear()
        bodies._no_go_upright.cache_clear()
        found.append(nested(shapes, 300, 280, 4, 5))
    for plain, grid in zip(*found, strict=True):
        assert (plain.index, plain.sheet, plain.turn_deg) == (grid.index, grid.sheet, grid.turn_deg)
        assert (plain.x, plain.y) == pytest.approx((grid.x, grid.y), abs=1e-4)


@pytest.mark.parametrize("name", SHAPES)
def test_turns_that_cover_the_same_are_one(name: str) -> None:
    """As many turns as GEOS tells apart by area alone."""
    upright = shapely.Polygon(SHAPES[name].outline)
    other = [upright.symmetric_difference(shapely.Polygon(turned(SHAPES[name], deg).outline)).area > 1e-6 * upright.area for deg in (90, 180)]
    assert len(bodies.bodies_of(SHAPES[name], 4)) == (1 if not other[0] else 4 if other[1] else 2)


def test_angles_nest_into_each_other() -> None:
    """Two L of 100 x 100, arms 40 wide, fit 140 x 100 only arm against arm; side by side they would need 200."""
    angle = from_points([(0, 0), (100, 0), (100, 40), (40, 40), (40, 100), (0, 100)])
    places = nested([angle, angle], 145, 105)
    assert assert_laid_out([angle, angle], places, 145, 105) == 1


def test_parts_of_a_lamp() -> None:
    wall, base = cone(bottom_mm=100, top_mm=60, tall_mm=110, thickness_mm=6, joint="lapped")
    pot = cylinder(across_mm=80, tall_mm=100, thickness_mm=6)
    shapes = [wall.shape, base.shape] * 3 + [part.shape for part in pot]
    assert_laid_out(shapes, nested(shapes, 400, 600, 5, 10), 400, 600, 5, 10)


@given(
    st.lists(st.sampled_from(sorted(SHAPES)), min_size=1, max_size=7),
    st.floats(200, 420),
    st.floats(200, 420),
    st.floats(0, 12),
    st.floats(0, 15),
)
@settings(max_examples=20, deadline=None)
def test_any_mixture(names: list[str], wide: float, tall: float, gap: float, margin: float) -> None:
    shapes = [SHAPES[name] for name in names]
    assert_laid_out(shapes, nested(shapes, wide, tall, gap, margin), wide, tall, gap, margin)


@given(st.lists(st.sampled_from(sorted(SHAPES)), min_size=1, max_size=3), st.floats(200, 420), st.floats(200, 420), st.integers(1, 6))
@settings(max_examples=15, deadline=None)
def test_as_many_sets_as_when_each_number_is_tried_by_itself(names: list[str], wide: float, tall: float, most: int) -> None:
    shapes = [SHAPES[name] for name in names]
    places, sets = nested_sets(shapes, wide, tall, gap=4, margin=8, most=most)
    sheets = assert_laid_out(shapes * sets, places, wide, tall, 4, 8)
    assert places == nested(shapes * sets, wide, tall, 4, 8)
    assert sheets == 1 or sets == 1
    assert sets == most or sheets > 1 or max(place.sheet for place in nested(shapes * (sets + 1), wide, tall, 4, 8)) > 0


def test_too_large_for_any_sheet() -> None:
    for shapes in ([outlines.rectangle(301, 50)], [outlines.circle(50), outlines.circle(201)]):
        with pytest.raises(GeometryError, match="does not fit a sheet") as error:
            nested(shapes, 200, 300)
        assert error.value.hint
    assert nested([outlines.rectangle(300, 50)], 200, 300)[0].turn_deg == 90


@pytest.mark.parametrize("bad", [0, -3, math.nan])
def test_no_such_sheet(bad: float) -> None:
    with pytest.raises(GeometryError):
        nested([outlines.circle(50)], bad, 300)
    if bad:
        with pytest.raises(GeometryError):
            nested([outlines.circle(50)], 300, 300, bad)


def test_the_same_every_time() -> None:
    shapes = [SHAPES[name] for name in sorted(SHAPES)]
    assert nested(shapes, 300, 400, 4) == nested(shapes, 300, 400, 4)
