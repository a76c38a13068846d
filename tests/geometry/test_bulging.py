"""Quick answers about outlines that bulge: they never contradict what shapely reckons."""

from __future__ import annotations

import math
from collections.abc import Iterator
from contextlib import contextmanager

import pytest
import shapely
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from lessonkit.geometry import bulging, outlines, shape
from lessonkit.geometry.balance import top_edge_y
from lessonkit.geometry.combining import from_points, joined
from lessonkit.geometry.faults import GeometryError
from lessonkit.geometry.ornaments import leaf, star
from lessonkit.geometry.shape import (
    Ring,
    Shape,
    centroid,
    contains_point,
    grown,
    is_valid,
    moved,
    polygon_of,
    shape_of,
    turned,
    with_opening,
    with_openings,
)
from lessonkit.geometry.soundness import edge_distance, thinnest_border

PLATES = [
    outlines.circle(160),
    outlines.rectangle(160, 120),
    outlines.rectangle(100, 70, 4),
    outlines.ellipse(140, 180),
    outlines.arch(90, 150),
    outlines.polygon(5, 130),
    leaf(90, 140),
]
TOOLS = [outlines.circle(20), outlines.rectangle(40, 12), outlines.rectangle(24, 30, 3), outlines.heart(26), outlines.polygon(3, 30), star(5, 30, 8)]
PLACES = st.tuples(st.sampled_from(TOOLS), st.floats(-70, 70), st.floats(-70, 70), st.floats(0, 360))
OPENINGS = st.lists(PLACES.map(lambda t: moved(turned(t[0], t[3]), t[1], t[2])), min_size=1, max_size=4)
SPOTS = st.tuples(st.floats(-90, 90), st.floats(-90, 90))


def blob(points: list[tuple[float, float]]) -> Shape | None:
    """The hull of some points."""
    band = shapely.MultiPoint(points).convex_hull
    return shape_of(band) if band.geom_type == "Polygon" and band.area > 1 else None


BLOBS = st.lists(SPOTS, min_size=3, max_size=14, unique=True).map(blob)


@contextmanager
def the_long_way() -> Iterator[None]:
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(shape, "surely_clear", lambda *_: False)
        yield


def assert_near(one: Ring, other: Ring) -> None:
    assert len(one) == len(other)
    assert all(math.dist(a, b) < 3e-9 for a, b in zip(one, other, strict=True))


def edges(body: Shape) -> shapely.Geometry:
    return shapely.MultiLineString([[*ring, ring[0]] for ring in (body.outline, *body.holes)])


@given(st.sampled_from(PLATES), OPENINGS)
@settings(max_examples=60, deadline=None)
def test_openings_that_need_no_cutting_come_out_as_if_cut(plate: Shape, openings: list[Shape]) -> None:
    assume(all(bulging.surely_clear(o.outline, plate.outline, [other.outline for other in openings[:i]]) for i, o in enumerate(openings)))
    quick = with_openings(plate, openings)
    with the_long_way():
        long = with_openings(plate, openings)
    assert is_valid(quick)
    for ring, other in zip((quick.outline, *quick.holes), (long.outline, *long.holes), strict=True):
        assert_near(ring, other)


@given(st.sampled_from(PLATES) | BLOBS, OPENINGS, st.floats(0.01, 40))
@settings(max_examples=60, deadline=None)
def test_what_is_surely_clear_is_as_far_from_every_edge_as_it_says(plate: Shape | None, rings: list[Shape], mm: float) -> None:
    assume(plate is not None)
    assert plate is not None
    (ring, *others), clay = (each.outline for each in rings), shapely.Polygon(plate.outline)
    if bulging.surely_clear(ring, plate.outline, others, mm):
        one = shapely.Polygon(ring)
        assert clay.contains_properly(one)
        assert clay.exterior.distance(one) >= mm - 1e-9
        assert all(shapely.Polygon(other).distance(one) >= mm - 1e-9 for other in others)


def test_what_is_in_doubt_is_not_surely_clear() -> None:
    plate, tool = outlines.circle(100).outline, outlines.circle(20)
    assert bulging.surely_clear(tool.outline, plate, (), 39.9)
    assert not bulging.surely_clear(tool.outline, plate, (), 40)
    assert not bulging.surely_clear(moved(tool, 45, 0).outline, plate, ())  # over the edge
    assert not bulging.surely_clear(moved(tool, 80, 0).outline, plate, ())  # beside it
    assert bulging.surely_clear(tool.outline, plate, (moved(tool, 21, 0).outline,))
    assert not bulging.surely_clear(tool.outline, plate, (moved(tool, 20, 0).outline,))
    assert not bulging.surely_clear(tool.outline, plate, (outlines.circle(40).outline,))  # in another opening
    assert not bulging.surely_clear(tool.outline, outlines.heart(100).outline, ())  # a heart's notch
    assert not bulging.surely_clear(tool.outline, ((0, 0), (0, 0), (99, 0), (0, 99)), ())  # a point that repeats


def test_an_opening_in_doubt_still_gets_its_error() -> None:
    with pytest.raises(GeometryError, match="outside the clay"):
        with_openings(outlines.circle(100), [moved(outlines.circle(20), 80, 0)])
    with pytest.raises(GeometryError, match="just touches an edge"):
        with_openings(outlines.rectangle(100, 100), [moved(outlines.circle(20), 40, 0), outlines.circle(10)])


@given(st.sampled_from(PLATES) | BLOBS, st.floats(0.1, 60))
@settings(max_examples=80, deadline=None)
def test_an_inset_is_what_growing_inwards_leaves(plate: Shape | None, mm: float) -> None:
    assume(plate is not None)
    assert plate is not None
    ring = bulging.inset(plate.outline, mm)
    if ring:
        (inner,) = grown(plate, -mm)
        assert shapely.Polygon(ring).is_valid
        assert bulging.bulges(ring)
        assert shapely.hausdorff_distance(shapely.Polygon(ring), polygon_of(inner)) < 0.02
        exact = [shapely.Point(place).distance(shapely.LinearRing(plate.outline)) for place in ring]
        assert exact == pytest.approx([mm] * len(ring), abs=1e-6)


def test_an_inset_starts_where_growing_inwards_starts_it_and_does_not_lose_a_side() -> None:
    for plate in (outlines.circle(160), outlines.ellipse(140, 180), outlines.arch(80, 120), outlines.rectangle(90, 60)):
        (inner,) = grown(plate, -6)
        assert_near(bulging.inset(plate.outline, 6), inner.outline)
    assert bulging.inset(outlines.rectangle(90, 60, 4).outline, 6) == ()  # the round of its corners goes
    assert bulging.inset(outlines.circle(100).outline, 50) == ()
    assert bulging.inset(outlines.heart(100).outline, 6) == ()


@given(st.sampled_from(PLATES), OPENINGS, st.floats(4, 60))
@settings(max_examples=60, deadline=None)
def test_a_border_passed_at_a_glance_is_wide_enough(plate: Shape, openings: list[Shape], least: float) -> None:
    try:
        body = with_openings(plate, openings)
    except GeometryError:
        return
    gap = thinnest_border(body)
    if thinnest_border(body, least) is None:
        assert gap is None or gap.wide_mm >= least - 1e-9


# --- plain arithmetic for every shape, beside shapely ---

BODIES = [
    with_opening(outlines.circle(160), moved(outlines.circle(60), 20, 5)),
    with_openings(outlines.heart(150), [moved(outlines.circle(20), 30, 20), moved(outlines.rectangle(20, 14), -30, 20)]),
    moved(with_opening(star(5, 160, 40), outlines.circle(12)), 310, -95),
    joined(outlines.rectangle(100, 30), moved(outlines.rectangle(30, 100), 20, 35)),
    from_points([(0, 0), (100, 0), (100, 60), (72, 60), (50, 38), (28, 60), (0, 60)]),
]


@pytest.mark.parametrize("body", BODIES)
def test_the_balance_point_is_that_of_shapely(body: Shape) -> None:
    middle = shapely.Polygon(body.outline, body.holes).centroid
    assert centroid(body) == pytest.approx((middle.x, middle.y), abs=1e-9)


@given(st.sampled_from(BODIES), SPOTS)
@settings(max_examples=60, deadline=None)
def test_a_place_on_the_clay_is_told_as_shapely_tells_it(body: Shape, spot: tuple[float, float]) -> None:
    polygon, place = shapely.Polygon(body.outline, body.holes), shapely.Point(spot)
    assume(edges(body).distance(place) > 1e-9)
    assert contains_point(body, *spot) == polygon.covers(place)
    if polygon.covers(place):
        gap = edge_distance(body, *spot)
        assert gap.wide_mm == pytest.approx(edges(body).distance(place), abs=1e-9)
        assert edges(body).distance(shapely.Point(gap.end)) < 1e-9
        assert math.dist(gap.end, spot) == pytest.approx(gap.wide_mm, abs=1e-9)


@pytest.mark.parametrize("body", BODIES)
def test_every_corner_lies_on_the_clay(body: Shape) -> None:
    assert all(contains_point(body, x, y) for ring in (body.outline, *body.holes) for x, y in ring)


@given(st.sampled_from(BODIES + PLATES), st.floats(-80, 80))
@settings(max_examples=60, deadline=None)
def test_the_top_edge_is_where_an_upright_line_leaves_the_clay(body: Shape, x: float) -> None:
    crossing = shapely.Polygon(body.outline, body.holes).intersection(shapely.LineString([(x, -999), (x, 999)]))
    if crossing.is_empty:
        with pytest.raises(GeometryError, match="no clay"):
            top_edge_y(body, x)
    else:
        assert top_edge_y(body, x) == pytest.approx(crossing.bounds[3], abs=1e-8)
