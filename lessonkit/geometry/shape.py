"""A flat shape as plain coordinates: one outline and its holes; how it is measured, moved, cut and grown."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import lru_cache
from itertools import groupby, pairwise
from math import acos, ceil, cos, hypot, isfinite, pi, radians, sin
from typing import TYPE_CHECKING, NamedTuple

from lessonkit.forgetting import of_a_lesson
from lessonkit.geometry.bulging import as_cut, surely_clear
from lessonkit.geometry.faults import GeometryError, need_place, need_sizes, number
from lessonkit.geometry.library import shapely

if TYPE_CHECKING:
    from shapely.geometry.base import BaseGeometry

Point = tuple[float, float]
Ring = tuple[Point, ...]  # closed: the last point joins the first, which is not repeated
Line = tuple[Point, ...]  # open
Bounds = tuple[float, float, float, float]  # left, bottom, right, top

_SPECK_MM2 = 1e-6  # what rounding leaves behind when shapes meet; no clay
_TOUCH_MM = 1e-6
_GRAIN_MM = 1e-9
_MOST_LOOKS = 3_000_000  # openings times points: a second or two


class Shape(NamedTuple):
    """A simple outline (counter-clockwise, y up, mm) with holes (clockwise) that lie inside it and apart."""

    outline: Ring
    holes: tuple[Ring, ...] = ()


# --- to shapely and back: only for the modules of this package ---


@of_a_lesson
@lru_cache(maxsize=16)  # one shape is asked many things in a row
def polygon_of(shape: Shape) -> shapely.Polygon:
    """The shape as shapely knows it."""
    polygon: shapely.Polygon = shapely.polygons(shape.outline, holes=[shapely.linearrings(hole) for hole in shape.holes] or None)
    return polygon


def shape_of(polygon: shapely.Polygon) -> Shape:
    """A shapely polygon as a Shape: turned the right way round, without repeated points and specks of holes."""
    outline, *holes = shapely.get_rings(shapely.orient_polygons(polygon))
    return Shape(_ring(outline), tuple(_ring(hole) for hole in holes if shapely.area(shapely.polygons(hole)) > _SPECK_MM2))


def shapes_of(geometry: BaseGeometry) -> tuple[Shape, ...]:
    """Every piece of clay in a shapely geometry, largest first; lines, points and specks are none.

    Rounded to a millionth of a micrometre, which takes away the hairs that cutting leaves where edges all but coincide.
    """
    geometry = shapely.set_precision(geometry, _GRAIN_MM)
    polygons = [g for g in shapely.get_parts(shapely.get_parts(geometry)) if isinstance(g, shapely.Polygon) and g.area > _SPECK_MM2]
    polygons.sort(key=lambda p: (-round(p.area, 3), p.bounds))
    return tuple(shape_of(p) for p in polygons)


def union_of(geometries: Sequence[BaseGeometry]) -> BaseGeometry:
    """All of them as one. On a grid of a millionth of a micrometre: without, GEOS now and then loses one of them unsaid."""
    return shapely.union_all(geometries, grid_size=_GRAIN_MM)


def less(whole: BaseGeometry, part: BaseGeometry) -> BaseGeometry:
    """The one without the other, on the same grid; of lines and areas together each for itself, as GEOS takes no mixture."""
    if isinstance(whole, shapely.GeometryCollection):
        left = [shapely.difference(each, part, grid_size=_GRAIN_MM) for each in whole.geoms]
        return shapely.GeometryCollection([each for geometry in left for each in shapely.get_parts(geometry)])
    return shapely.difference(whole, part, grid_size=_GRAIN_MM)


def _ring(closed: BaseGeometry) -> Ring:
    points = [(x, y) for (x, y), _ in groupby(shapely.get_coordinates(closed).tolist())]
    return tuple(points[:-1] if points[0] == points[-1] else points)


# --- measures ---


def _signed_area(ring: Ring) -> float:
    x0, y0 = ring[0]  # shoelace about the first point: exact far from the origin too
    pairs = zip(ring, ring[1:] + ring[:1], strict=True)
    return sum((ax - x0) * (by - y0) - (bx - x0) * (ay - y0) for (ax, ay), (bx, by) in pairs) / 2


def area_mm2(shape: Shape) -> float:
    """The clay's area: the outline's less its holes', in mm²."""
    return abs(_signed_area(shape.outline)) - sum(abs(_signed_area(hole)) for hole in shape.holes)


def perimeter_mm(shape: Shape) -> float:
    """The length of the outline alone; holes do not count."""
    ring = shape.outline
    return sum(hypot(bx - ax, by - ay) for (ax, ay), (bx, by) in zip(ring, ring[1:] + ring[:1], strict=True))


def bounds(shape: Shape) -> Bounds:
    """Left, bottom, right and top of the outline."""
    xs, ys = [x for x, _ in shape.outline], [y for _, y in shape.outline]
    return min(xs), min(ys), max(xs), max(ys)


def centroid(shape: Shape) -> Point:
    """The balance point of the flat piece (holes weigh nothing)."""
    (x0, y0), area, x, y = shape.outline[0], 0.0, 0.0, 0.0
    for ring in (shape.outline, *shape.holes):  # each side with that first point makes a triangle; a hole's count against the outline's
        for (ax, ay), (bx, by) in pairwise((*ring, ring[0])):
            twice = (ax - x0) * (by - y0) - (bx - x0) * (ay - y0)
            area, x, y = area + twice, x + twice * (ax + bx - 2 * x0), y + twice * (ay + by - 2 * y0)
    return x0 + x / area / 3, y0 + y / area / 3


def contains_point(shape: Shape, x: float, y: float) -> bool:
    """Whether there is clay at a place; the very edge counts as clay."""
    odd = False  # the sides right of the place: an odd number around clay, an even one elsewhere
    for ring in (shape.outline, *shape.holes):
        for (ax, ay), (bx, by) in pairwise((*ring, ring[0])):
            left = (bx - ax) * (y - ay) - (by - ay) * (x - ax)
            if left == 0 and min(ax, bx) <= x <= max(ax, bx) and min(ay, by) <= y <= max(ay, by):
                return True
            if (ay > y) != (by > y) and (left > 0) == (by > ay):
                odd = not odd
    return odd


def is_valid(shape: Shape) -> bool:
    """Whether the shape keeps its promise: finite, simple, outline counter-clockwise, holes clockwise, inside and apart."""
    rings = (shape.outline, *shape.holes)
    if any(len(ring) < 3 or not all(isfinite(v) for p in ring for v in p) for ring in rings):
        return False
    if _signed_area(shape.outline) <= 0 or any(_signed_area(hole) >= 0 for hole in shape.holes):
        return False
    polygon = polygon_of(shape)
    if not polygon.is_valid:
        return False
    # a point of contact is valid for shapely, but holds no clay together
    lines = [polygon.exterior, *polygon.interiors]
    return all(not a.intersects(b) for i, a in enumerate(lines) for b in lines[i + 1 :])


# --- moves ---


def _mapped(shape: Shape, place: Callable[[float, float], Point]) -> Shape:
    return Shape(tuple(place(x, y) for x, y in shape.outline), tuple(tuple(place(x, y) for x, y in h) for h in shape.holes))


def moved(shape: Shape, dx: float, dy: float) -> Shape:
    """The shape `dx` further right and `dy` further up."""
    need_place("the move", dx, dy)
    return _mapped(shape, lambda x, y: (x + dx, y + dy))


def turned(shape: Shape, deg: float, about: Point = (0.0, 0.0)) -> Shape:
    """The shape turned counter-clockwise about a point; quarter turns are exact."""
    if not isfinite(deg):
        raise GeometryError("the turn is not a number.", "Write an angle such as 45.")
    if deg % 360.0 == 0:
        return shape
    quarters, rest = divmod(deg % 360.0, 90.0)
    c, s = (1.0, 0.0) if rest == 0 else (cos(radians(rest)), sin(radians(rest)))
    c, s = ((c, s), (-s, c), (-c, -s), (s, -c))[int(quarters) % 4]
    ox, oy = about
    return _mapped(shape, lambda x, y: (ox + c * (x - ox) - s * (y - oy), oy + s * (x - ox) + c * (y - oy)))


def scaled(shape: Shape, factor: float) -> Shape:
    """The shape enlarged about the origin; a factor that is not positive raises GeometryError."""
    if not isfinite(factor) or factor <= 0:
        raise GeometryError(f"a shape can't be made {factor:g} times as large.", "Use a factor above 0.")
    return _mapped(shape, lambda x, y: (x * factor, y * factor))


def mirrored(shape: Shape) -> Shape:
    """Left and right swapped about x = 0; the rings still run the right way round."""
    flipped = _mapped(shape, lambda x, y: (-x, y))
    return Shape(flipped.outline[::-1], tuple(hole[::-1] for hole in flipped.holes))


def whole(shape: Shape) -> Shape:
    """The outline alone, its holes filled with clay."""
    return Shape(shape.outline)


def hull(shape: Shape) -> Shape:
    """The outline of a rubber band stretched around the shape."""
    return shapes_of(polygon_of(shape).convex_hull)[0]


# --- cutting ---


def with_openings(shape: Shape, openings: Sequence[Shape]) -> Shape:
    """The shape with all of them cut out, as `with_opening` would one after the other.

    If all of them surely lie on the clay and apart, nothing needs to be cut. Else those that do go first and all at once: one by
    one each would be looked at beside all that are there. GeometryError too for so many others that this would take many seconds."""
    rings = [opening.outline for opening in openings if not opening.holes and area_mm2(opening) > _SPECK_MM2]
    if rings and len(rings) == len(openings) and all(surely_clear(ring, shape.outline, (*shape.holes, *rings[:i])) for i, ring in enumerate(rings)):
        return Shape(as_cut(shape.outline, -2), (*shape.holes, *(as_cut(ring[::-1], -3) for ring in rings)))
    alone = _alone(shape, openings) if len(openings) > 1 else ()
    if alone:
        clay, tools = polygon_of(shape), [polygon_of(openings[i]) for i in alone]
        (shape,) = shapes_of(less(clay, shapely.multipolygons(tools)))
    others = [opening for i, opening in enumerate(openings) if i not in alone]
    points = sum(len(ring) for each in (shape, *others) for ring in (each.outline, *each.holes))
    if len(others) * points > _MOST_LOOKS:
        what = f"{len(others)} of its openings meet one another or an edge, and have so many points that cutting them out takes too long."
        raise GeometryError(what, "Leave some out, or draw them as one.")
    for opening in others:
        shape = with_opening(shape, opening)
    return shape


def _alone(shape: Shape, openings: Sequence[Shape]) -> frozenset[int]:
    clay, tools = polygon_of(shape), [polygon_of(opening) for opening in openings]
    one, other = shapely.STRtree(tools).query(tools, predicate="dwithin", distance=_TOUCH_MM)
    crowded = set(one[one != other].tolist())
    shapely.prepare(clay)
    inside = shapely.contains_properly(clay, tools) & (shapely.distance(clay.boundary, tools) > _TOUCH_MM)
    return frozenset(i for i in range(len(openings)) if inside[i] and i not in crowded and not openings[i].holes)


def with_opening(shape: Shape, opening: Shape) -> Shape:
    """The shape with an opening cut out. An opening over the edge makes a notch; openings that overlap become one.

    GeometryError when the opening misses the clay, lies inside another or swallows one, takes everything, only just
    touches an edge (no clay is left there), or makes the piece fall apart (the error says into how many pieces).
    """
    clay, hole = polygon_of(shape), polygon_of(opening)
    x, y = (number(v) for v in centroid(opening))
    near = [shapely.Polygon(h) for h in shape.holes if _boxes_meet(h, hole.bounds)]
    if any(h.buffer(_TOUCH_MM).covers(hole) for h in near):
        raise GeometryError(f"the opening at ({x}, {y}) lies inside another opening.", "Leave one of the two out.")
    if any(shapely.Polygon(opening.outline).buffer(_TOUCH_MM).covers(h) for h in near):
        raise GeometryError(f"the opening at ({x}, {y}) swallows another opening.", "Leave one of the two out.")
    if clay.intersection(hole).area <= _SPECK_MM2:
        raise GeometryError(f"the opening at ({x}, {y}) lies outside the clay.", "Its place counts from the piece's middle.")
    pieces = shapes_of(less(clay, hole))
    if not pieces:
        raise GeometryError("the opening takes the whole piece.", "Make the opening smaller or the piece larger.")
    if len(pieces) > 1:
        raise GeometryError(f"with this opening the piece falls into {len(pieces)} pieces.", "Move it or make it smaller.")
    need_no_touch(pieces[0])
    return pieces[0]


def _boxes_meet(ring: Ring, box: Bounds) -> bool:
    left, bottom, right, top = box
    xs, ys = [x for x, _ in ring], [y for _, y in ring]
    return min(xs) <= right and max(xs) >= left and min(ys) <= top and max(ys) >= bottom


def need_no_touch(piece: Shape) -> None:
    """Raise GeometryError where two of the shape's edges meet in a point, with no clay between them."""
    polygon = polygon_of(piece)
    rings = [polygon.exterior, *polygon.interiors]
    touching = shapely.STRtree(rings).query(rings, predicate="dwithin", distance=_TOUCH_MM).T.tolist()
    for i, j in sorted((i, j) for i, j in touching if i < j):
        x, y = shapely.shortest_line(rings[i], rings[j]).coords[0]
        raise GeometryError(
            f"an opening just touches an edge near ({number(x)}, {number(y)}) and leaves no clay there.",
            "Move it further in, or let it cross the edge.",
        )


def clip(shape: Shape, bounds: Bounds) -> tuple[Shape, ...]:
    """What of the shape lies inside a rectangle, largest piece first; empty when nothing does."""
    return shapes_of(polygon_of(shape).intersection(shapely.box(*bounds)))


def clip_line(line: Line, bounds: Bounds) -> tuple[Line, ...]:
    """What of a line lies inside a rectangle, in the line's own order and direction."""
    if len(line) < 2:
        return ()
    path = shapely.linestrings(line)
    inside = shapely.get_parts(shapely.line_merge(path.intersection(shapely.box(*bounds)), directed=True))
    lines = [tuple((float(x), float(y)) for x, y in g.coords) for g in inside if isinstance(g, shapely.LineString) and g.length > 0]
    return tuple(sorted(lines, key=lambda part: path.project(shapely.Point(part[0]))))


# --- growing ---


def grown(shape: Shape, mm: float) -> tuple[Shape, ...]:
    """Every place within `mm` of the clay (outwards, corners rounded), or, if negative, farther than that from its edges.

    Inwards a shape may split into several or vanish: then the tuple has several shapes (largest first) or none.
    """
    if not isfinite(mm):
        raise GeometryError("the distance is not a number.", "Write a size such as 4 mm.")
    return (shape,) if mm == 0 else shapes_of(polygon_of(shape).buffer(mm, quad_segs=_quarter_segments(abs(mm))))


def _quarter_segments(radius_mm: float, tolerance_mm: float = 0.005) -> int:
    return 4 if tolerance_mm >= radius_mm else max(4, ceil(pi / acos(1 - tolerance_mm / radius_mm) / 4))


# --- room for labels ---


def largest_free_disc(shape: Shape, tolerance: float = 0.1) -> tuple[float, float, float]:
    """Middle (x, y) and radius of the largest circle inside the clay, its radius exact to `tolerance` mm."""
    need_sizes(tolerance=tolerance)
    spoke = shapely.maximum_inscribed_circle(polygon_of(shape), tolerance=tolerance)
    (x, y), _ = spoke.coords
    return x, y, spoke.length


def widest_free_box(shape: Shape, wide: float, tall: float) -> Point | None:
    """The middle of the best place for an upright label of this size on the clay, or None where it does not fit.

    Best is farthest from all edges; a place on the shape's own middle lines that is nearly as good is preferred.
    """
    need_sizes(width=wide, height=tall)
    free = _label_middles(shape, wide, tall)
    pieces = [polygon_of(piece) for piece in shapes_of(free)]
    if not pieces:
        return None
    left, bottom, right, top = bounds(shape)
    x, y = (left + right) / 2, (bottom + top) / 2
    reach = max(right - left, top - bottom)
    spokes = [shapely.maximum_inscribed_circle(p, tolerance=0.1) for p in pieces]
    best = max(spokes, key=lambda spoke: spoke.length)
    candidates = [best.coords[0]]
    for axis in (shapely.LineString([(x, y - reach), (x, y + reach)]), shapely.LineString([(x - reach, y), (x + reach, y)])):
        crossings = [g for g in shapely.get_parts(free.intersection(axis)) if g.length > 0]
        candidates += [g.interpolate(0.5, normalized=True).coords[0] for g in sorted(crossings, key=lambda g: g.bounds)]
    edge = free.boundary
    good = [p for p in candidates if edge.distance(shapely.Point(p)) >= 0.9 * best.length]
    px, py = good[1] if len(good) > 1 else candidates[0]
    return float(px), float(py)


def _label_middles(shape: Shape, wide: float, tall: float) -> BaseGeometry:
    """Where the middle of a box may stand: the clay less all places from which the box would meet an edge."""
    corners = [(dx, dy) for dx in (-wide / 2, wide / 2) for dy in (-tall / 2, tall / 2)]
    swept = []
    for ring in (shape.outline, *shape.holes):
        for (ax, ay), (bx, by) in zip(ring, ring[1:] + ring[:1], strict=True):
            ends = ((ax, ay), (bx, by))
            swept.append(shapely.MultiPoint([(x + dx, y + dy) for x, y in ends for dx, dy in corners]).convex_hull)
    return less(polygon_of(shape), union_of(swept))
