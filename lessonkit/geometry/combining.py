"""Shapes from other shapes: given by points, joined, cut away, repeated, mirrored, their corners rounded."""

from __future__ import annotations

from collections.abc import Sequence
from math import isfinite

from lessonkit.geometry.faults import GeometryError, need_length, need_place, need_sizes, number
from lessonkit.geometry.library import shapely
from lessonkit.geometry.outlines import centred
from lessonkit.geometry.shape import (
    Point,
    Ring,
    Shape,
    bounds,
    grown,
    less,
    mirrored,
    moved,
    need_no_touch,
    polygon_of,
    shape_of,
    shapes_of,
    turned,
    union_of,
)


def from_points(points: Sequence[Point]) -> Shape:
    """An outline through the teacher's own points, in order, either way round; its middle becomes the origin.

    The last point may repeat the first. GeometryError with fewer than three places, a point that is not one, an outline that
    crosses or touches itself (the error says where, in the points' own coordinates), or one without area.
    """
    for x, y in points:
        if not (isfinite(x) and isfinite(y)):
            raise GeometryError("a point of the outline is not a number.", "Write two lengths for each point.")
        need_place("the point", x, y)
    ring = tuple((float(x), float(y)) for i, (x, y) in enumerate(points) if i == 0 or (x, y) != tuple(points[i - 1]))
    ring = ring[:-1] if len(ring) > 1 and ring[0] == ring[-1] else ring
    if len(set(ring)) < 3:
        raise GeometryError(f"an outline needs at least three points, not {len(set(ring))}.", "Add the corners in order.")
    _need_simple(ring)
    polygon = shapely.Polygon(ring)
    if polygon.area < 1e-6:
        raise GeometryError("the points of the outline lie on one line.", "Give points that enclose some clay.")
    return centred(shape_of(polygon).outline)


def from_rings(rings: Sequence[Ring]) -> Shape:
    """A silhouette: closed rings, the outermost the outline, the others openings in it; its middle becomes the origin.

    GeometryError for a ring that crosses itself, rings that cross each other, a second outline beside the first, and a ring
    inside an opening (it would be a loose piece).
    """
    if not rings:
        raise GeometryError("the silhouette is empty.", "Draw one closed outline.")
    polygons = []
    for ring in rings:
        x0, y0, x1, y1 = shapely.MultiPoint(ring).bounds if len(ring) else (0.0, 0.0, 0.0, 0.0)
        polygons.append(moved(from_points(ring), (x0 + x1) / 2, (y0 + y1) / 2))
    outer, *inner = sorted((polygon_of(p) for p in polygons), key=lambda p: -p.area)
    for i, hole in enumerate(inner):
        if not outer.contains_properly(hole):
            how = "crosses" if outer.boundary.intersects(hole.boundary) else "lies outside"
            hint = "Keep one outline with its openings inside it."
            raise GeometryError(f"a ring of the silhouette {how} its outline near {_near(hole)}.", hint)
        if any(hole.intersects(other) for other in inner[:i]):
            raise GeometryError(f"two openings of the silhouette meet near {_near(hole)}.", "Keep clay between them.")
    whole = shape_of(shapely.Polygon(outer.exterior, [hole.exterior for hole in inner]))
    left, bottom, right, top = bounds(whole)
    return moved(whole, -(left + right) / 2, -(bottom + top) / 2)


def _near(polygon: shapely.Polygon) -> str:
    place = polygon.representative_point()
    return f"({number(round(place.x, 1))}, {number(round(place.y, 1))})"


def _need_simple(ring: Ring) -> None:
    """Raise GeometryError where two sides of a ring meet that are not neighbours, or neighbours run back on each other."""
    if shapely.LinearRing(ring).is_simple:
        return
    sides = [shapely.LineString(pair) for pair in zip(ring, ring[1:] + ring[:1], strict=True)]
    tree, last = shapely.STRtree(sides), len(sides) - 1
    for i, side in enumerate(sides):  # one after the other: all meetings at once would be millions
        for j in sorted(int(k) for k in tree.query(side, predicate="intersects") if k > i):
            meeting = side.intersection(sides[j])
            if (j - i == 1 or (i == 0 and j == last)) and meeting.geom_type == "Point":
                continue
            (x, y), *_ = meeting.coords
            how = "crosses" if side.crosses(sides[j]) else "touches"
            raise GeometryError(f"the outline {how} itself near ({number(x)}, {number(y)}).", "List the corners in order.")


def corners(shape: Shape, stray_mm: float) -> int:
    """How many corners the outline or the opening that has most of them keeps, if it may stray so far from where it was drawn."""
    clay = polygon_of(shape).simplify(stray_mm)
    assert isinstance(clay, shapely.Polygon)  # its topology is kept
    return max(len(ring.coords) - 1 for ring in (clay.exterior, *clay.interiors))


def joined(*shapes: Shape) -> Shape:
    """All shapes as one piece. GeometryError when they do not hang together by more than a point."""
    if not shapes:
        raise GeometryError("there is nothing to join.", "Name at least one shape.")
    pieces = shapes_of(union_of([polygon_of(s) for s in shapes]))
    if len(pieces) != 1:
        raise GeometryError(f"the shapes do not join: they stay {len(pieces)} pieces.", "Move them until they overlap.")
    need_no_touch(pieces[0])
    return pieces[0]


def cut_away(shape: Shape, *tools: Shape) -> Shape:
    """The shape less all of the tools, wherever they lie. GeometryError when nothing is left or it falls into several pieces.

    Unlike `with_opening` it takes a tool that misses the clay or overlaps an opening.
    """
    pieces = shapes_of(less(polygon_of(shape), union_of([polygon_of(t) for t in tools])))
    if not pieces:
        raise GeometryError("nothing is left of the piece.", "Cut less away.")
    if len(pieces) > 1:
        raise GeometryError(f"the piece falls into {len(pieces)} pieces.", "Cut less away.")
    need_no_touch(pieces[0])
    return pieces[0]


def around(shape: Shape, count: int, across: float, first_deg: float = 0.0, *, turning: bool = True) -> tuple[Shape, ...]:
    """`count` copies of a shape, its origin on a circle `across` wide, clockwise from `first_deg` after the top.

    `turning` turns each copy with its place, so that its top points outwards; else all stay upright.
    """
    if count < 1 or count != int(count):
        raise GeometryError(f"a ring can't hold {count} copies.", "Write a whole number from 1.")
    need_sizes(across=across)
    outwards = moved(shape, 0.0, across / 2)
    copies = (turned(outwards, -(first_deg + 360.0 * i / count)) for i in range(count))
    if turning:
        return tuple(copies)
    spots = (turned(Shape(((0.0, across / 2),)), -(first_deg + 360.0 * i / count)).outline[0] for i in range(count))
    return tuple(moved(shape, x, y) for x, y in spots)


def along(shape: Shape, count: int, start: Point, end: Point) -> tuple[Shape, ...]:
    """`count` copies of a shape, their origins evenly spaced on a straight line, its ends included; one alone stands midway."""
    if count < 1 or count != int(count):
        raise GeometryError(f"a row can't hold {count} copies.", "Write a whole number from 1.")
    need_place("the start of the row", *start)
    need_place("the end of the row", *end)
    shares = [0.5] if count == 1 else [i / (count - 1) for i in range(count)]
    return tuple(moved(shape, start[0] + (end[0] - start[0]) * t, start[1] + (end[1] - start[1]) * t) for t in shares)


def doubled(shape: Shape) -> Shape:
    """A shape joined with its own mirror image about x = 0: the teacher draws one half. They must meet there."""
    return joined(shape, mirrored(shape))


def rounded(shape: Shape, *, outside_mm: float = 0.0, inside_mm: float = 0.0) -> Shape:
    """The shape with its corners rounded: clay corners to `outside_mm` radius, corners that cut into the clay to `inside_mm`.

    The outside rounding is what a disc of that radius can reach inside the clay (morphological opening), the inside one what
    it can reach in the air (closing). Clay, or an opening, narrower than twice its radius is lost with it; GeometryError when
    the piece vanishes or falls apart.
    """
    need_length("outside radius", outside_mm)
    need_length("inside radius", inside_mm)
    result = shape
    for radius, first in ((inside_mm, 1.0), (outside_mm, -1.0)):
        if radius > 0:
            result = _one_piece(grown(result, first * radius), radius)
            result = _one_piece(grown(result, -first * radius), radius)
    return result


def _one_piece(pieces: tuple[Shape, ...], radius: float) -> Shape:
    if len(pieces) != 1:
        happens = "nothing is left" if not pieces else f"the piece falls into {len(pieces)}"
        raise GeometryError(f"corners of {number(radius)} mm are too round: {happens}.", "Make the radius smaller.")
    return pieces[0]
