"""Straight lines, Bézier curves and elliptic arcs: how an affine map moves them, and the points that stand for them."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from math import acos, atan2, ceil, cos, hypot, inf, pi, sin, sqrt, tau
from typing import NamedTuple

Point = tuple[float, float]
Matrix = tuple[float, float, float, float, float, float]  # x' = a x + c y + e, y' = b x + d y + f
IDENTITY: Matrix = (1.0, 0.0, 0.0, 1.0, 0.0, 0.0)
MOST_POINTS = 4_000


class Line(NamedTuple):
    start: Point
    end: Point


class Cubic(NamedTuple):
    start: Point
    first: Point
    second: Point
    end: Point


class Arc(NamedTuple):
    """`centre` + cos t `u` + sin t `v`, for t from `begin` through `sweep`; an affine map of it is another such arc."""

    start: Point
    end: Point
    centre: Point
    u: Point
    v: Point
    begin: float
    sweep: float


Curve = Line | Cubic | Arc


class Subpath(NamedTuple):
    """Curves that follow one another; `closed` where the drawing itself closes it."""

    curves: tuple[Curve, ...]
    closed: bool


def times(outer: Matrix, inner: Matrix) -> Matrix:
    """The map that does `inner` first."""
    a, b, c, d, e, f = outer
    p, q, r, s, t, w = inner
    return a * p + c * q, b * p + d * q, a * r + c * s, b * r + d * s, a * t + c * w + e, b * t + d * w + f


def mapped(curve: Curve, matrix: Matrix) -> Curve:
    a, b, c, d, e, f = matrix

    def place(p: Point) -> Point:
        return a * p[0] + c * p[1] + e, b * p[0] + d * p[1] + f

    def way(p: Point) -> Point:
        return a * p[0] + c * p[1], b * p[0] + d * p[1]

    match curve:
        case Line(start, end):
            return Line(place(start), place(end))
        case Cubic(start, first, second, end):
            return Cubic(place(start), place(first), place(second), place(end))
        case Arc(start, end, centre, u, v, begin, sweep):
            return Arc(place(start), place(end), place(centre), way(u), way(v), begin, sweep)


def curve_points(curve: Curve, tolerance: float) -> Iterator[Point]:
    """The points of a curve after its start: on the curve, its chords within `tolerance` of it, the places where it turns back
    in x or in y among them, so that a width over the points is the true width."""
    match curve:
        case Cubic():
            yield from _cubic_points(curve, tolerance)
        case Arc():
            yield from _arc_points(curve, tolerance)
    yield curve.end


def _cubic_points(curve: Cubic, tolerance: float) -> Iterator[Point]:
    """The number of steps is Wang's bound, ceil(sqrt(6 M / 8 tolerance)) with M the largest second difference."""
    knots = curve.start, curve.first, curve.second, curve.end
    if tolerance < inf and all(_off(p, curve.start, curve.end) <= tolerance for p in knots[1:3]):
        return  # as good as straight, as many programs write their lines

    def place(t: float) -> Point:
        s = 1 - t
        weights = s * s * s, 3 * s * s * t, 3 * s * t * t, t * t * t
        return sum(w * p[0] for w, p in zip(weights, knots, strict=True)), sum(w * p[1] for w, p in zip(weights, knots, strict=True))

    bend = max(hypot(p[0] - 2 * q[0] + r[0], p[1] - 2 * q[1] + r[1]) for p, q, r in (knots[:3], knots[1:]))
    turns = [t for axis in (0, 1) for t in _turns([knot[axis] for knot in knots])]
    yield from _steps(place, sqrt(6 * bend / (8 * tolerance)), turns)


def _off(point: Point, start: Point, end: Point) -> float:
    """How far a point lies from the straight piece between two others."""
    dx, dy = end[0] - start[0], end[1] - start[1]
    square = dx * dx + dy * dy
    share = min(1.0, max(0.0, ((point[0] - start[0]) * dx + (point[1] - start[1]) * dy) / square)) if square else 0.0
    return hypot(start[0] + share * dx - point[0], start[1] + share * dy - point[1])


def _turns(values: Sequence[float]) -> list[float]:
    """Where one coordinate of a cubic turns back: the roots of its slope, a t² + b t + c."""
    p, q, r = values[1] - values[0], values[2] - values[1], values[3] - values[2]
    a, b, c = p - 2 * q + r, 2 * (q - p), p
    square = b * b - 4 * a * c
    if square < 0:
        return []
    big = -(b + (sqrt(square) if b >= 0 else -sqrt(square))) / 2  # the stable pair: no difference of two nearly equal numbers
    return [above / below for above, below in ((big, a), (c, big)) if below]


def _arc_points(curve: Arc, tolerance: float) -> Iterator[Point]:
    """A chord over the angle w lies within r (1 - cos w/2) of a circle; an ellipse is a squeezed circle of its larger half axis."""
    (cx, cy), (ux, uy), (vx, vy) = curve.centre, curve.u, curve.v

    def place(t: float) -> Point:
        c, s = cos(curve.begin + t * curve.sweep), sin(curve.begin + t * curve.sweep)
        return cx + c * ux + s * vx, cy + c * uy + s * vy

    lengths, product = ux * ux + uy * uy + vx * vx + vy * vy, (ux * vy - uy * vx) ** 2
    radius = sqrt((lengths + sqrt(max(0.0, lengths * lengths - 4 * product))) / 2)  # the larger singular value of (u v)
    step = pi / 4 if radius <= 4 * tolerance else 2 * acos(1 - tolerance / radius)
    turns = []
    for u, v in ((ux, vx), (uy, vy)):
        first = (atan2(v, u) - curve.begin) % pi if curve.sweep > 0 else (curve.begin - atan2(v, u)) % pi
        turns += [(first + k * pi) / abs(curve.sweep) for k in range(3)]
    yield from _steps(place, abs(curve.sweep) / step if step else MOST_POINTS, turns)


def _steps(place: Callable[[float], Point], least: float, turns: Sequence[float]) -> Iterator[Point]:
    """Places at equal steps (at least so many) and at the turns, both ends left out."""
    count = ceil(min(least, MOST_POINTS))
    yield from (place(t) for t in sorted({k / count for k in range(1, count)} | {t for t in turns if 0 < t < 1}))


def arc_between(start: Point, end: Point, radii: Point, turn: float, large: bool, clockwise: bool) -> Curve:
    """The arc of an ellipse with these half axes, the first turned by `turn` (radians), between two points: SVG's own way to
    give one. Radii that don't reach are enlarged. Source: W3C SVG 2, appendix B.2, conversion to centre parameterization.
    """
    rx, ry = abs(radii[0]), abs(radii[1])
    c, s = cos(turn), sin(turn)
    hx, hy = (start[0] - end[0]) / 2, (start[1] - end[1]) / 2
    x, y = c * hx + s * hy, c * hy - s * hx
    if min(rx, ry) < 1e-9 or not (x or y):
        return Line(start, end)
    reach = hypot(x / rx, y / ry)
    if reach > 1:
        rx, ry, reach = rx * reach, ry * reach, 1.0
    off = sqrt(max(0.0, 1 - reach * reach)) / reach
    off = -off if large == clockwise else off
    mx, my = off * y * rx / ry, -off * x * ry / rx
    begin, until = atan2((y - my) / ry, (x - mx) / rx), atan2((-y - my) / ry, (-x - mx) / rx)
    sweep = (until - begin) % tau if clockwise else -((begin - until) % tau)
    if not sweep:
        return Line(start, end)
    centre = c * mx - s * my + (start[0] + end[0]) / 2, s * mx + c * my + (start[1] + end[1]) / 2
    return Arc(start, end, centre, (rx * c, rx * s), (-ry * s, ry * c), begin, sweep)
