"""Areas: flat shapes on plain coordinates that join, cut, grow and turn, for pictures and hatching.

Coordinates are plain numbers in any one unit. A picture counts y downwards: then a positive turn runs clockwise as seen on
the paper. Everything is a pure function of its numbers, so the same drawing gives the same bytes.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import cos, radians, sin

import shapely
from shapely.geometry import MultiPolygon, Point, Polygon, box
from shapely.geometry.base import BaseGeometry

from lessonkit.geometry.faults import GeometryError
from lessonkit.geometry.shape import Bounds, Line, Ring, Shape, union_of
from lessonkit.geometry.shape import Point as Place

Mapping = Callable[[float, float], Place]

QUARTER = 12  # segments in a quarter of a rounded corner
_FINE = 0.02  # how far a simplified outline may stray
_SPECK = 1e-6  # what rounding leaves behind when areas meet


@dataclass(frozen=True, slots=True)
class Area:
    """Any number of flat shapes that lie apart, none included. `a | b`, `a & b` and `a - b` join, keep in common and cut away."""

    shapes: tuple[Shape, ...] = ()

    def __or__(self, other: Area) -> Area:
        return areas_of(shapely.union(geometry_of(self), geometry_of(other)))

    def __and__(self, other: Area) -> Area:
        return areas_of(shapely.intersection(geometry_of(self), geometry_of(other)))

    def __sub__(self, other: Area) -> Area:
        return areas_of(shapely.difference(geometry_of(self), geometry_of(other)))

    def __bool__(self) -> bool:
        return bool(self.shapes)

    @property
    def rings(self) -> tuple[Ring, ...]:
        """Every outline and every hole."""
        return tuple(ring for shape in self.shapes for ring in (shape.outline, *shape.holes))

    @property
    def bounds(self) -> Bounds:
        """The least x, least y, greatest x, greatest y; GeometryError for an area with no shape."""
        if not self.shapes:
            raise GeometryError("an area with no shape has no bounds.", "Draw something first.")
        left, top, right, bottom = geometry_of(self).bounds
        return left, top, right, bottom

    @property
    def middle(self) -> Place:
        """The balance point; GeometryError for an area with no shape."""
        if not self.shapes:
            raise GeometryError("an area with no shape has no middle.", "Draw something first.")
        point = geometry_of(self).centroid
        return point.x, point.y

    @property
    def size(self) -> float:
        """How much it covers, in square units."""
        return float(geometry_of(self).area)

    @property
    def outer(self) -> Area:
        """Its holes filled."""
        return areas_of(union_of([Polygon(shape.outline) for shape in self.shapes]))

    @property
    def openings(self) -> tuple[Area, ...]:
        """Each hole as an area of its own, largest first."""
        holes = [area(hole) for shape in self.shapes for hole in shape.holes]
        return tuple(sorted(holes, key=lambda hole: -hole.size))

    @property
    def largest(self) -> Area:
        """Only the largest of its shapes."""
        return Area(self.shapes[:1])

    @property
    def hull(self) -> Area:
        """What a rubber band around it would enclose."""
        return areas_of(geometry_of(self).convex_hull)

    def grown(self, by: float, mitred: bool = False) -> Area:
        """Larger all round, or smaller if `by` is negative; corners that grow become round, or stay sharp if `mitred`."""
        return areas_of(geometry_of(self).buffer(by, quad_segs=QUARTER, join_style="mitre" if mitred else "round"))

    def softened(self, radius: float) -> Area:
        """Outer corners rounded, slivers narrower than twice the radius lost."""
        return self.grown(-radius).grown(radius)

    def simplified(self, stray: float = _FINE) -> Area:
        """Fewer points, none farther than `stray` from the old outline."""
        return areas_of(geometry_of(self).simplify(stray))

    def mapped(self, to: Mapping) -> Area:
        """Every point moved by `to`, which keeps shapes simple and apart (a move, turn, scale or mirror)."""
        return Area(tuple(_mapped(shape, to) for shape in self.shapes))

    def moved(self, dx: float, dy: float) -> Area:
        return self.mapped(lambda x, y: (x + dx, y + dy))

    def turned(self, deg: float, about: Place = (0.0, 0.0)) -> Area:
        return self.mapped(turning(deg, about))

    def covers(self, other: Area) -> bool:
        """Whether all of the other lies on it; the edge counts."""
        return bool(geometry_of(self).covers(geometry_of(other)))

    def holding(self, others: Iterable[Area]) -> tuple[Area, ...]:
        """Those of the others that lie wholly on it, in their order."""
        ground = geometry_of(self)
        shapely.prepare(ground)
        return tuple(other for other in others if ground.covers(geometry_of(other)))

    def distance(self, at: Place) -> float:
        """How far a place lies from the nearest edge, inside or out."""
        return float(geometry_of(self).boundary.distance(Point(at)))


def area(points: Sequence[Place]) -> Area:
    """The area within a closed outline, either way round. One that crosses itself keeps what its winding encloses."""
    return areas_of(shapely.make_valid(Polygon(points)))


def area_of(shape: Shape) -> Area:
    return Area((shape,))


def bar(x0: float, y0: float, x1: float, y1: float, corner: float = 0.0) -> Area:
    """A rectangle between two corners, its own corners rounded by a radius of at most half the shorter side."""
    corner = min(corner, (x1 - x0) / 2 - 1e-6, (y1 - y0) / 2 - 1e-6)
    return areas_of(box(x0, y0, x1, y1) if corner <= 0 else box(x0 + corner, y0 + corner, x1 - corner, y1 - corner).buffer(corner, quad_segs=QUARTER))


# --- moves ---


def turning(deg: float, about: Place = (0.0, 0.0)) -> Mapping:
    """The turn about a place, as a mapping of points."""
    c, s = cos(radians(deg)), sin(radians(deg))
    ox, oy = about
    return lambda x, y: (ox + c * (x - ox) - s * (y - oy), oy + s * (x - ox) + c * (y - oy))


def placing(x: float, y: float, deg: float = 0.0, size: float = 1.0, flipped: bool = False) -> Mapping:
    """What was drawn at the origin: enlarged, seen from its other side if `flipped` (y for -y), turned, moved to a place."""
    turn, side = turning(deg), -size if flipped else size

    def to(px: float, py: float) -> Place:
        tx, ty = turn(px * size, py * side)
        return x + tx, y + ty

    return to


def mapped_line(line: Line, to: Mapping) -> Line:
    return tuple(to(x, y) for x, y in line)


# --- to shapely and back: only for the modules of this package ---


def geometry_of(ground: Area) -> BaseGeometry:
    polygons = [shapely.polygons(shapely.linearrings(s.outline), holes=[shapely.linearrings(h) for h in s.holes] or None) for s in ground.shapes]
    return polygons[0] if len(polygons) == 1 else MultiPolygon(polygons)


def areas_of(geometry: BaseGeometry) -> Area:
    polygons = [g for g in shapely.get_parts(shapely.get_parts(geometry)) if isinstance(g, Polygon) and g.area > _SPECK]
    polygons.sort(key=lambda p: (-round(p.area, 6), p.bounds))
    return Area(tuple(_shape(polygon) for polygon in shapely.orient_polygons(polygons)))


def _shape(polygon: Polygon) -> Shape:
    outline, *holes = (line_of(ring)[:-1] for ring in (polygon.exterior, *polygon.interiors))
    return Shape(outline, tuple(holes))


def _mapped(shape: Shape, to: Mapping) -> Shape:
    rings = [tuple(to(x, y) for x, y in ring) for ring in (shape.outline, *shape.holes)]
    if sum(ax * by - bx * ay for (ax, ay), (bx, by) in pairwise((*rings[0], rings[0][0]))) < 0:  # seen in a mirror
        rings = [ring[::-1] for ring in rings]
    return Shape(rings[0], tuple(rings[1:]))


def line_of(geometry: BaseGeometry) -> Line:
    return tuple(map(tuple, shapely.get_coordinates(geometry).tolist()))
