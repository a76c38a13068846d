"""From a shape of clay to a stencil: room for the needle, bridges that hold islands, half a stencil on a fold."""

from __future__ import annotations

from math import cos, dist, pi, sin
from typing import TYPE_CHECKING, NamedTuple

from lessonkit.geometry.curves import TOLERANCE_MM
from lessonkit.geometry.faults import GeometryError, need_sizes, number
from lessonkit.geometry.library import shapely
from lessonkit.geometry.shape import Line, Shape, bounds, clip, grown, less, mirrored, moved, polygon_of, shapes_of, union_of

if TYPE_CHECKING:
    from shapely.geometry.base import BaseGeometry


def with_needle_allowance(shape: Shape, needle_mm: float) -> Shape:
    """The stencil for a needle or pen that runs around it: the outline shrinks by half the needle's width, openings grow.

    Corners of the clay stay sharp on the stencil; inner corners are rounded, so that the needle's path comes out sharp there.
    GeometryError when clay narrower than the needle vanishes or falls apart.
    """
    need_sizes(needle_mm=needle_mm)
    pieces = grown(shape, -needle_mm / 2)
    if len(pieces) != 1:
        happens = "nothing is left of the stencil" if not pieces else f"the stencil falls into {len(pieces)} pieces"
        raise GeometryError(f"with a needle {number(needle_mm)} mm wide {happens}.", "Use a thinner needle or a wider shape.")
    return pieces[0]


def bridged(shape: Shape, count: int, wide_mm: float) -> tuple[Shape, ...]:
    """What to cut out of a sheet so that the clay's shape shows as a window and its openings, islands then, still hold.

    Each island keeps `count` bridges of `wide_mm`, evenly around it, turned to where they are shortest together; largest piece
    first. A shape without openings comes back whole. GeometryError when no bridge reaches the sheet around the window.
    """
    need_sizes(bridge_mm=wide_mm)
    if count < 1 or count > 12 or count != int(count):
        raise GeometryError(f"an island can't have {count} bridges.", "Write a whole number from 1 to 12.")
    if not shape.holes:
        return (shape,)
    clay = polygon_of(shape)
    bridges: list[BaseGeometry] = []
    for hole in shape.holes:
        bridges += _bridges(clay, shapely.Polygon(hole), count, wide_mm, bridges)
    window = shapes_of(less(clay, union_of(bridges)))
    left, bottom, right, top = bounds(shape)
    sheet = less(shapely.box(left - 1, bottom - 1, right + 1, top + 1), union_of([polygon_of(w) for w in window]))
    if not window or len(shapes_of(sheet)) > 1:
        raise GeometryError("the bridges do not hold every island.", "Use fewer or narrower bridges.")
    return window


def left_standing(shape: Shape, windows: tuple[Shape, ...]) -> tuple[Shape, ...]:
    """What of a shape is in none of its windows: the bridges, largest first."""
    return shapes_of(less(polygon_of(shape), union_of([polygon_of(window) for window in windows])))


def _bridges(clay: shapely.Polygon, island: shapely.Polygon, count: int, wide_mm: float, taken: list[BaseGeometry]) -> list[BaseGeometry]:
    """The island's bridges at the best of several turns: clear of those already `taken`, if they can be, then short."""
    (x, y), edge = shapely.maximum_inscribed_circle(island, tolerance=0.1).coords
    if wide_mm >= 2 * dist((x, y), edge):
        raise GeometryError(
            f"a bridge {number(wide_mm)} mm wide is wider than the opening at ({number(x)}, {number(y)}).",
            "Use narrower bridges.",
        )
    left, bottom, right, top = clay.bounds
    reach = (right - left) + (top - bottom)
    found = []
    for step in range(24):
        first = pi / 2 + 2 * pi / count * step / 24
        strips = [_strip(x, y, first + 2 * pi * i / count, reach, wide_mm) for i in range(count)]
        bridges = [b for b in (_crossing(clay, island, strip) for strip in strips) if b is not None]
        if len(bridges) == count:
            crossing = any(b.intersects(other) for b in bridges for other in taken)
            found.append((crossing, round(sum(b.area for b in bridges), 6), step, bridges))
    if not found:
        raise GeometryError(
            f"{count} bridges {number(wide_mm)} mm wide do not reach from the opening at ({number(x)}, {number(y)}) to the edge.",
            "Use fewer or narrower bridges.",
        )
    return min(found, key=lambda turn: turn[:3])[3]


def _strip(x: float, y: float, angle: float, reach: float, wide_mm: float) -> shapely.Polygon:
    c, s, h = cos(angle), sin(angle), wide_mm / 2
    return shapely.Polygon([(x + a * c - b * s, y + a * s + b * c) for a, b in ((0, -h), (reach, -h), (reach, h), (0, h))])


def _crossing(clay: shapely.Polygon, island: shapely.Polygon, strip: shapely.Polygon) -> BaseGeometry | None:
    """The one stretch of a strip over the clay that runs from the island to the outline, touching no other opening."""
    others = [h for h in clay.interiors if not h.intersects(island.boundary)]
    for part in shapely.get_parts(clay.intersection(strip)):
        if part.area > 0 and part.distance(island) < 1e-9:
            fits = part.distance(clay.exterior) < 1e-9 and not any(part.intersects(other) for other in others)
            return part if fits else None
    return None


class HalfStencil(NamedTuple):
    """The right half of a symmetrical shape; `fold` are the stretches of its edge that lie on the paper's fold."""

    shape: Shape
    fold: tuple[Line, ...]


def is_symmetrical(shape: Shape, tolerance_mm: float = 2 * TOLERANCE_MM) -> bool:
    """Whether left and right of the shape's upright middle line agree to within the tolerance, openings too."""
    left, _, right, _ = bounds(shape)
    here = moved(shape, -(left + right) / 2, 0.0)
    if len(here.holes) != len(mirrored(here).holes):
        return False
    one, two = polygon_of(here).boundary, polygon_of(mirrored(here)).boundary
    return bool(shapely.hausdorff_distance(one, two) <= tolerance_mm)


def are_twins(line: Line, other: Line, middle_x: float, closed: bool = False, tolerance_mm: float = 2 * TOLERANCE_MM) -> bool:
    """Whether one line, mirrored about an upright middle line, is the other to within the tolerance, in either direction."""
    make = shapely.LinearRing if closed else shapely.LineString
    return bool(shapely.hausdorff_distance(make([(2 * middle_x - x, y) for x, y in line]), make(other)) <= tolerance_mm)


def half_on_fold(shape: Shape) -> HalfStencil:
    """Half a stencil, to be cut from folded paper with the fold on the shape's upright middle line.

    GeometryError when the shape is not symmetrical, or when its half is more than one piece.
    """
    if not is_symmetrical(shape):
        raise GeometryError("left and right of this shape differ, so it can't be cut on a fold.", "Use the whole stencil.")
    left, bottom, right, top = bounds(shape)
    middle = (left + right) / 2
    halves = clip(shape, (middle, bottom, right, top))
    if len(halves) != 1:
        raise GeometryError(f"half of this shape is {len(halves)} pieces.", "Use the whole stencil.")
    half = halves[0]
    sides = zip(half.outline, half.outline[1:] + half.outline[:1], strict=True)
    fold = tuple((a, b) for a, b in sides if a[0] == middle and b[0] == middle)
    return HalfStencil(half, fold)
