"""What the geometry tests share: a shape's promises, and the distance of flattened curves from the true ones."""

from __future__ import annotations

from collections.abc import Callable
from typing import TypeVar

import numpy as np
import shapely
from numpy.typing import ArrayLike

from lessonkit.geometry.curves import TOLERANCE_MM
from lessonkit.geometry.faults import GeometryError
from lessonkit.geometry.shape import Shape, area_mm2, bounds, is_valid, mirrored, moved, perimeter_mm, turned


def boundary(shape: Shape) -> shapely.Geometry:
    """The edges as shapely draws them from plain coordinates; none of the package's own converters take part."""
    return shapely.MultiLineString([[*ring, ring[0]] for ring in (shape.outline, *shape.holes)])


def assert_sound(shape: Shape) -> None:
    """Simple, counter-clockwise, finite; agrees with shapely about area and length; moves and turns change nothing."""
    assert is_valid(shape)
    polygon = shapely.Polygon(shape.outline, shape.holes)
    assert polygon.is_valid
    assert polygon.exterior.is_ccw
    assert not any(hole.is_ccw for hole in polygon.interiors)
    assert abs(area_mm2(shape) - polygon.area) <= 1e-9 * polygon.area + 1e-9
    length = perimeter_mm(shape)
    assert abs(length - polygon.exterior.length) <= 1e-9 * length
    for other in (moved(shape, 37.5, -1200.25), turned(shape, 90), turned(shape, 33.3, (5, 7)), mirrored(shape)):
        assert abs(area_mm2(other) - polygon.area) <= 1e-9 * polygon.area + 1e-7
        assert abs(perimeter_mm(other) - length) <= 1e-9 * length + 1e-7
        assert shapely.Polygon(other.outline, other.holes).exterior.is_ccw


T = TypeVar("T")


def made(call: Callable[[], T]) -> T | None:
    """What a call makes, or None when it refuses with a GeometryError that says what to do; nothing else may be raised."""
    try:
        return call()
    except GeometryError as error:
        refused = error
    assert refused.what.endswith(".")
    assert refused.hint.endswith(".")
    return None


def assert_size(shape: Shape, wide: float, tall: float) -> None:
    """As wide and tall as asked, centred, to a billionth."""
    left, bottom, right, top = bounds(shape)
    scale = 1e-9 * max(1.0, wide, tall)
    assert abs(right - left - wide) <= scale
    assert abs(top - bottom - tall) <= scale
    assert abs(left + right) <= scale
    assert abs(bottom + top) <= scale


def deviation(shape: Shape, place: Callable[[np.ndarray], tuple[ArrayLike, ArrayLike]], start: float, end: float) -> float:
    """The farthest that a densely sampled true curve runs from the shape's edges."""
    points = shapely.points(*place(np.linspace(start, end, 20_001)))
    edges = boundary(shape)
    shapely.prepare(edges)
    return float(shapely.distance(points, edges).max())


def assert_follows(shape: Shape, place: Callable[[np.ndarray], tuple[ArrayLike, ArrayLike]], start: float, end: float) -> None:
    assert deviation(shape, place, start, end) <= TOLERANCE_MM * 1.0001
