from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import make_valid
from shapely.geometry import LinearRing, Polygon
from shapely.ops import polygonize, unary_union

from lessonkit.drawing.contours import Point, merged

Ring = tuple[Point, ...]


def box(left: int, low: int, right: int, high: int) -> Ring:
    return ((left, low), (right, low), (right, high), (left, high))


def filled_by_winding(rings: tuple[Ring, ...]) -> Polygon:
    """Another way to the same: cut the plane into faces, keep those that the rings run around."""
    faces = polygonize(unary_union([LinearRing(ring) for ring in rings]))
    return unary_union([face for face in faces if _winding(face.representative_point().coords[0], rings)])


def _winding(point: tuple[float, float], rings: tuple[Ring, ...]) -> int:
    (x, y), times = point, 0
    for ring in rings:
        for (x1, y1), (x2, y2) in zip(ring, (*ring[1:], ring[0]), strict=True):
            side = (x2 - x1) * (y - y1) - (y2 - y1) * (x - x1)
            times += (y1 <= y < y2 and side > 0) - (y2 <= y < y1 and side < 0)
    return times


def filled_alternately(rings: tuple[Ring, ...]) -> Polygon:
    area = Polygon()
    for ring in rings:
        area = area.symmetric_difference(make_valid(Polygon(ring)))  # a ring may touch itself, which shapely refuses
    return area


def test_two_strokes_become_one_outline() -> None:
    (cross,) = merged([box(0, 10, 30, 20), box(10, 0, 20, 30)]) or ()
    assert len(cross) == 12
    assert Polygon(cross).equals(unary_union([Polygon(box(0, 10, 30, 20)), Polygon(box(10, 0, 20, 30))]))


@pytest.mark.parametrize(
    "rings",
    [
        [],
        [box(0, 0, 9, 9)],
        [box(0, 0, 9, 9), box(20, 0, 29, 9)],  # apart
        [box(0, 0, 9, 9), box(9, 0, 20, 9)],  # side by side
        [box(0, 0, 30, 30), box(10, 10, 20, 20)[::-1]],  # a letter with its counter
        [box(0, 0, 30, 30), box(5, 5, 25, 25)[::-1], box(10, 10, 20, 20)],  # a dot in the counter
    ],
)
def test_strokes_that_do_not_overlap_stay_as_drawn(rings: list[Ring]) -> None:
    assert merged(rings) is None


def test_a_stroke_inside_another_and_one_drawn_twice_vanish() -> None:
    outer = box(0, 0, 30, 30)
    for rings in ([outer, box(10, 10, 20, 20)], [outer, outer]):
        (ring,) = merged(rings) or ()
        assert Polygon(ring).equals(Polygon(outer))


@settings(max_examples=60, deadline=None)
@given(st.lists(st.tuples(st.integers(0, 8), st.integers(0, 8), st.integers(1, 6), st.integers(1, 6), st.booleans()), min_size=1, max_size=6))
def test_boxes_are_filled_as_by_winding(boxes: list[tuple[int, int, int, int, bool]]) -> None:
    """Shared sides, shared corners, holes and doubled edges abound on so small a grid."""
    rings = tuple(box(x, y, x + wide, y + tall)[:: -1 if turned else 1] for x, y, wide, tall, turned in boxes)
    found = merged(rings)
    got = filled_alternately(rings if found is None else found)
    assert got.symmetric_difference(filled_by_winding(rings)).area == pytest.approx(0, abs=1e-9)


@settings(max_examples=60, deadline=None)
@given(st.lists(st.lists(st.tuples(st.integers(0, 1000), st.integers(0, 1000)), min_size=3, max_size=3, unique=True), min_size=1, max_size=4))
def test_triangles_are_filled_as_by_winding(triangles: list[list[Point]]) -> None:
    rings = tuple(tuple(triangle) for triangle in triangles if Polygon(triangle).area)
    found = merged(rings)
    got = filled_alternately(rings if found is None else found)
    difference = got.symmetric_difference(filled_by_winding(rings))
    # crossings are rounded to whole coordinates: the border moves by less than one unit
    assert difference.area <= sum(LinearRing(ring).length for ring in rings)
    assert difference.buffer(-0.75).is_empty
