"""Areas: flat shapes on plain coordinates that join, cut, grow and turn, for pictures and hatching.

Coordinates are plain numbers in any one unit. A picture counts y downwards: then a positive turn runs clockwise as seen on
the paper. Everything is a pure function of its numbers, so the same drawing gives the same bytes.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from itertools import chain, pairwise
from math import acos, ceil, cos, pi, radians, sin
from typing import TYPE_CHECKING, Any

from lessonkit.geometry.faults import GeometryError
from lessonkit.geometry.library import np, shapely
from lessonkit.geometry.shape import Bounds, Line, Ring, Shape, union_of
from lessonkit.geometry.shape import Point as Place

if TYPE_CHECKING:
    from shapely.geometry.base import BaseGeometry

Mapping = Callable[[float, float], Place]

_FINE = 0.02  # how far a simplified outline may stray
_ROUND = 0.01  # and how far the chords of an arc
_SPECK = 1e-6  # what rounding leaves behind when areas meet


class Area:
    """Any number of flat shapes that lie apart, none included. `a | b`, `a & b` and `a - b` join, keep in common and cut away.

    It never changes. It keeps its points or the geometry that it came from, and makes the other when that is first asked for:
    most areas are either drawn or reckoned with."""

    __slots__ = ("_geometry", "_proven", "_shapes")

    def __init__(self, shapes: tuple[Shape, ...] = (), proven: bool = True) -> None:
        """`proven` says that no outline crosses itself."""
        self._shapes: tuple[Shape, ...] | None = shapes
        self._geometry: BaseGeometry | None = None
        self._proven = proven

    @property
    def shapes(self) -> tuple[Shape, ...]:
        """Largest first."""
        if self._shapes is None:
            polygons = [polygon for polygon in _parts(self.geometry) if polygon.area > _SPECK]
            if len(polygons) > 1:
                polygons.sort(key=lambda p: (-round(p.area, 6), p.bounds))
            self._shapes = tuple([_shape(shapely.orient_polygons(polygon)) for polygon in polygons])
        return self._shapes

    @property
    def geometry(self) -> BaseGeometry:
        """As shapely knows it: only for the modules of this package."""
        if self._geometry is None:
            polygons = [shapely.polygons(_array(s.outline), holes=[shapely.linearrings(_array(h)) for h in s.holes] or None) for s in self.shapes]
            self._geometry = _together(polygons)
            if not self._proven and not shapely.is_valid(self._geometry):
                self._geometry, self._shapes = _polygons_of(shapely.make_valid(self._geometry)), None
        return self._geometry

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Area) and self.shapes == other.shapes

    def __hash__(self) -> int:
        return hash(self.shapes)

    def __repr__(self) -> str:
        return f"Area({self.shapes!r})"

    def __or__(self, other: Area) -> Area:
        return areas_of(shapely.union(self.geometry, other.geometry))

    def __and__(self, other: Area) -> Area:
        return areas_of(shapely.intersection(self.geometry, other.geometry))

    def __sub__(self, other: Area) -> Area:
        return areas_of(shapely.difference(self.geometry, other.geometry))

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
        xs, ys = zip(*(point for shape in self.shapes for point in shape.outline), strict=True)
        return min(xs), min(ys), max(xs), max(ys)

    @property
    def middle(self) -> Place:
        """The balance point; GeometryError for an area with no shape."""
        if not self.shapes:
            raise GeometryError("an area with no shape has no middle.", "Draw something first.")
        point = self.geometry.centroid
        return point.x, point.y

    @property
    def size(self) -> float:
        """How much it covers, in square units."""
        return float(self.geometry.area)

    @property
    def outer(self) -> Area:
        """Its holes filled."""
        if len(self.shapes) == 1:
            return self if self._proven and not self.shapes[0].holes else Area((Shape(self.shapes[0].outline),))
        return areas_of(union_of([shapely.Polygon(shape.outline) for shape in self.shapes]))

    @property
    def openings(self) -> tuple[Area, ...]:
        """Each hole as an area of its own, largest first."""
        holes = [hole[::-1] for shape in self.shapes for hole in shape.holes]
        return tuple(Area((Shape(hole),)) for hole in sorted(holes, key=_turn, reverse=True))

    @property
    def largest(self) -> Area:
        """Only the largest of its shapes."""
        return self if len(self.shapes) == 1 else Area(self.shapes[:1])

    @property
    def hull(self) -> Area:
        """What a rubber band around it would enclose."""
        return areas_of(self.geometry.convex_hull)

    def grown(self, by: float, mitred: bool = False) -> Area:
        """Larger all round, or smaller if `by` is negative; corners that grow become round, or stay sharp if `mitred`."""
        return areas_of(shapely.buffer(self.geometry, by, quad_segs=chords(by, pi / 2), join_style="mitre" if mitred else "round"))

    def softened(self, radius: float) -> Area:
        """Outer corners rounded, slivers narrower than twice the radius lost."""
        return self.grown(-radius).grown(radius)

    def simplified(self, stray: float = _FINE) -> Area:
        """Fewer points, none farther than `stray` from the old outline."""
        parts = _parts(self.geometry)
        fewer = [shapely.simplify(_rings(part), stray, preserve_topology=False) for part in parts]  # a seventh of the time it takes with care
        if all(ring.geom_type == "LinearRing" for rings in fewer for ring in rings):  # none has come to nothing
            quick = _together([shapely.polygons(outline, holes=holes or None) for outline, *holes in fewer])
            if shapely.is_valid(quick):
                return areas_of(quick)
        return areas_of(shapely.simplify(self.geometry, stray))

    def mapped(self, to: Mapping) -> Area:
        """Every point moved by `to`, which keeps shapes simple and apart (a move, turn, scale or mirror)."""
        mirrors = _turn((to(0, 0), to(1, 0), to(0, 1))) < 0
        return Area(tuple([_mapped(shape, to, mirrors) for shape in self.shapes]), self._proven)

    def moved(self, dx: float, dy: float) -> Area:
        return self.mapped(lambda x, y: (x + dx, y + dy))

    def turned(self, deg: float, about: Place = (0.0, 0.0)) -> Area:
        return self.mapped(turning(deg, about))

    def covers(self, other: Area) -> bool:
        """Whether all of the other lies on it; the edge counts."""
        return bool(self.geometry.covers(other.geometry))

    def holding(self, ring: Ring, places: Sequence[Place]) -> tuple[Place, ...]:
        """Those of the places at which a small outline, moved there from the origin, lies wholly on it, in their order."""
        if not places:
            return ()
        shapely.prepare(self.geometry)
        held = shapely.covers(self.geometry, shapely.polygons(np.array(places)[:, None, :] + np.array(ring)))
        return tuple(place for place, inside in zip(places, held, strict=True) if inside)

    def distance(self, at: Place) -> float:
        """How far a place lies from the nearest edge, inside or out."""
        return float(self.geometry.boundary.distance(shapely.Point(at)))


def area(points: Sequence[Place]) -> Area:
    """The area within a closed outline, either way round. One that crosses itself keeps what its winding encloses."""
    ring = tuple(points)
    return Area((Shape(ring if _turn(ring) > 0 else ring[::-1]),), proven=False)


def area_of(shape: Shape) -> Area:
    return Area((shape,))


def bar(x0: float, y0: float, x1: float, y1: float, corner: float = 0.0) -> Area:
    """A rectangle between two corners, its own corners rounded by a radius of at most half the shorter side."""
    r = min(corner, (x1 - x0) / 2 - 1e-6, (y1 - y0) / 2 - 1e-6)
    if r <= 0:
        return Area((Shape(((x0, y0), (x1, y0), (x1, y1), (x0, y1))),))
    steps = chords(r, pi / 2)
    quarter = [(r * cos(pi / 2 * i / steps), r * sin(pi / 2 * i / steps)) for i in range(steps + 1)]
    return Area((Shape((
        *((x1 - r + u, y1 - r + v) for u, v in quarter), *((x0 + r - v, y1 - r + u) for u, v in quarter),
        *((x0 + r - u, y0 + r - v) for u, v in quarter), *((x1 - r + v, y0 + r - u) for u, v in quarter),
    )),))  # fmt: skip


def chords(radius: float, turn: float, stray: float = _ROUND) -> int:
    """How many chords an arc takes, none of them farther than `stray` from it."""
    return max(2, ceil(turn / 2 / acos(1 - min(stray / abs(radius), 1.0)))) if radius else 2


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


def areas_of(geometry: BaseGeometry) -> Area:
    """What of a geometry covers anything, lines and points left out."""
    made = Area()
    made._geometry, made._shapes = _polygons_of(geometry), None
    return made


def _together(polygons: Sequence[shapely.Polygon]) -> BaseGeometry:
    """As one geometry: that only one, or several."""
    return polygons[0] if len(polygons) == 1 else shapely.MultiPolygon(polygons)


def _polygons_of(geometry: BaseGeometry) -> BaseGeometry:
    if isinstance(geometry, (shapely.Polygon, shapely.MultiPolygon)):
        return geometry
    return shapely.MultiPolygon([g for g in shapely.get_parts(shapely.get_parts(geometry)) if isinstance(g, shapely.Polygon)])


def _parts(geometry: BaseGeometry) -> list[shapely.Polygon]:
    return [geometry] if isinstance(geometry, shapely.Polygon) else shapely.get_parts(geometry).tolist()


def _rings(polygon: shapely.Polygon) -> list[shapely.LinearRing]:
    return [polygon.exterior, *polygon.interiors]


def _shape(polygon: shapely.Polygon) -> Shape:
    outline, *holes = [line_of(ring)[:-1] for ring in _rings(polygon)]
    return Shape(outline, tuple(holes))


def _mapped(shape: Shape, to: Mapping, mirrors: bool) -> Shape:
    rings = [tuple([to(x, y) for x, y in ring]) for ring in (shape.outline, *shape.holes)]
    if mirrors:
        rings = [ring[::-1] for ring in rings]
    return Shape(rings[0], tuple(rings[1:]))


def _turn(ring: Ring) -> float:
    """Above 0 if a ring runs counter-clockwise, x to the right and y up; its size, in half square units."""
    return sum([ax * by - bx * ay for (ax, ay), (bx, by) in pairwise((*ring, ring[0]))])


def _array(line: Line) -> Any:  # of numpy, of which shapely's types leave open what it makes
    """In half the time that numpy takes for tuples of tuples."""
    return np.fromiter(chain.from_iterable(line), float, 2 * len(line)).reshape(-1, 2)


def line_of(geometry: BaseGeometry) -> Line:
    return tuple(map(tuple, shapely.get_coordinates(geometry).tolist()))
