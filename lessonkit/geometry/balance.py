"""How a piece hangs: its balance line, the tilt from a hole, and places for holes that let it hang straight."""

from __future__ import annotations

from itertools import pairwise
from math import atan2, degrees, hypot, isfinite

from lessonkit.geometry.faults import GeometryError, need_sizes, number
from lessonkit.geometry.shape import Point, Shape, centroid, contains_point


def balance_line_x(shape: Shape) -> float:
    """The x of the upright line through the balance point: one hole on it hangs straight, as do two at equal distances."""
    return centroid(shape)[0]


def hanging_tilt_deg(shape: Shape, x: float, y: float) -> float:
    """How far a piece turns when it hangs from one hole, so that its balance point comes to lie below; clockwise is positive.

    atan(sideways / below); more than 90 degrees when the balance point lies above the hole. A hole at the balance point
    itself holds it at any angle and raises GeometryError.
    """
    if not (isfinite(x) and isfinite(y)):
        raise GeometryError("the hole's place is not a number.", "Write two lengths.")
    cx, cy = centroid(shape)
    if abs(cx - x) < 1e-9 and abs(cy - y) < 1e-9:
        raise GeometryError("a hole at the balance point lets the piece turn any way.", "Put the hole nearer the top.")
    return degrees(atan2(cx - x, y - cy))


def top_edge_y(shape: Shape, x: float) -> float:
    """The height of the topmost clay on the upright line at `x`; GeometryError where that line misses the clay."""
    sides = [side for side in pairwise((*shape.outline, shape.outline[0])) if min(side)[0] <= x <= max(side)[0]]
    if not sides:
        side = "left" if x < 0 else "right"
        raise GeometryError(f"there is no clay for a hole {number(abs(x))} mm {side} of the middle.", "Put the holes nearer together.")
    return max(max(ay, by) if ax == bx else ay + (by - ay) * (x - ax) / (bx - ax) for (ax, ay), (bx, by) in sides)


def hanging_cord_mm(apart_mm: float, nail_mm: float) -> float:
    """The cord from hole to nail to hole, without knots: 2 sqrt((apart / 2)² + nail²), the nail `nail_mm` above the holes."""
    need_sizes(distance_between_holes_mm=apart_mm, height_of_the_nail_mm=nail_mm)
    return 2 * hypot(apart_mm / 2, nail_mm)


def hanging_places(shape: Shape, count: int, from_edge_mm: float, apart_mm: float = 0.0) -> tuple[Point, ...]:
    """The middles of one hole on the balance line, or of two level ones at equal distances from it.

    `from_edge_mm` lies between the top edge and the hole's middle (with two holes, below the lower of their two edges).
    GeometryError when the clay is missing there.
    """
    need_sizes(distance_from_edge_mm=from_edge_mm)
    line = balance_line_x(shape)
    if count not in (1, 2):
        raise GeometryError(f"a piece hangs from 1 or 2 holes, not {count}.", "Write 1 or 2.")
    if count == 2:
        need_sizes(distance_between_holes_mm=apart_mm)
    xs = (line,) if count == 1 else (line - apart_mm / 2, line + apart_mm / 2)
    y = min(top_edge_y(shape, x) for x in xs) - from_edge_mm
    for x in xs:
        if not contains_point(shape, x, y):
            raise GeometryError(
                f"a hole {number(from_edge_mm)} mm below the top edge misses the clay at ({number(x)}, {number(y)}).",
                "Put it nearer the edge, or make the border wider.",
            )
    return tuple((x, y) for x in xs)
