"""Curves as points: every point lies on the true curve, every chord within TOLERANCE_MM of it, and the farthest
points left, right, top and bottom are always among them, so that a width over the points is the true width."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import lru_cache
from itertools import pairwise
from math import acos, ceil, cos, dist, hypot, pi, radians, sin, sqrt

from lessonkit.geometry.faults import need_size
from lessonkit.geometry.shape import Line, Point, Ring

TOLERANCE_MM = 0.01


def segments_for(radius_mm: float, tolerance_mm: float = TOLERANCE_MM) -> int:
    """How many equal chords of a full circle stay within the tolerance of it: a multiple of 4, at least 16.

    A chord of n lies r(1 - cos(180°/n)) inside its circle (the sagitta).
    """
    need_size("radius", radius_mm)
    if tolerance_mm >= radius_mm:
        return 16
    exact = pi / acos(1 - tolerance_mm / radius_mm)
    return max(16, 4 * ceil(exact / 4 - 1e-9))


def unit_direction(angle_deg: float) -> Point:
    """(cos, sin) of an angle in degrees, exact at every quarter turn."""
    quarters, rest = divmod(angle_deg, 90.0)
    c, s = (1.0, 0.0) if rest == 0 else (cos(radians(rest)), sin(radians(rest)))
    return ((c, s), (-s, c), (-c, -s), (s, -c))[int(quarters) % 4]


def arc_points(radius_mm: float, start_deg: float, sweep_deg: float, middle: Point = (0.0, 0.0)) -> Line:
    """An arc, both ends included. Angles count counter-clockwise from +x; a negative sweep runs clockwise."""
    return ellipse_arc_points(2 * radius_mm, 2 * radius_mm, start_deg, sweep_deg, middle)


def ellipse_arc_points(wide_mm: float, tall_mm: float, start_deg: float, sweep_deg: float, middle: Point = (0.0, 0.0)) -> Line:
    """A part of an axis-parallel ellipse, both ends included; the angle is the parameter t of (a cos t, b sin t).

    An ellipse is a circle stretched along one axis, so the chord error of the circle of its larger half axis bounds its own.
    """
    need_size("width", wide_mm)
    need_size("height", tall_mm)
    step = 360.0 / segments_for(max(wide_mm, tall_mm) / 2)
    low, high = sorted((start_deg, start_deg + sweep_deg))
    knots = [low, *(90.0 * i for i in range(ceil(low / 90), ceil(high / 90) + 1) if low < 90.0 * i < high), high]
    angles = [low]
    for a, b in pairwise(knots):
        count = max(1, ceil((b - a) / step - 1e-9))
        angles += [b if i == count else a + (b - a) * i / count for i in range(1, count + 1)]
    if sweep_deg < 0:
        angles.reverse()
    x0, y0 = middle
    return tuple((x0 + wide_mm / 2 * c, y0 + tall_mm / 2 * s) for c, s in map(unit_direction, angles))


@lru_cache(maxsize=16)  # the same shelves, holes and zones stand in many lessons
def ellipse_points(wide_mm: float, tall_mm: float) -> Ring:
    """A whole ellipse about the origin, counter-clockwise from its right end. GeometryError for a size that is not positive."""
    return ellipse_arc_points(wide_mm, tall_mm, 0.0, 360.0)[:-1]


def ellipse_perimeter(wide_mm: float, tall_mm: float) -> float:
    """The exact length around an ellipse, 4aE(e), by the arithmetic-geometric mean (NIST DLMF 19.8.6). Either order."""
    need_size("width", wide_mm)
    need_size("height", tall_mm)
    a, b = max(wide_mm, tall_mm) / 2, min(wide_mm, tall_mm) / 2
    half, total, weight = a, a * a, 0.5
    total -= weight * (a * a - b * b)
    while a - b > 1e-15 * half:
        a, b, c = (a + b) / 2, sqrt(a * b), (a - b) / 2
        weight *= 2
        total -= weight * c * c
    return 2 * pi * total / a


def flatten(place: Callable[[float], Point], knots: Sequence[float], tolerance_mm: float = TOLERANCE_MM) -> Line:
    """Points of a smooth parametric curve from the first knot to the last, every knot among them.

    Give as knots the ends, the corners and the extremes. Each stretch is cut in eight, and halved on until the curve at its
    quarters lies well within the tolerance of the chord.
    """
    points = [place(knots[0])]

    def halve(a: float, b: float, last: Point, least: int) -> None:
        t, first = (a + b) / 2, points[-1]
        probes = place((a + t) / 2), place(t), place((t + b) / 2)
        # quarters can miss the worst place by a little: ask a tenth more of them than of the curve
        flat = least <= 0 and all(distance_to_chord(p, first, last) <= 0.9 * tolerance_mm for p in probes)
        if flat or least < -24:  # a corner that no knot names
            points.append(last)
        else:
            halve(a, t, probes[1], least - 1)
            halve(t, b, last, least - 1)

    for a, b in pairwise(knots):
        halve(a, b, place(b), 3)
    return tuple(points)


def turning_knots(place: Callable[[float], Point], start: float, end: float, samples: int = 720) -> list[float]:
    """The ends of a stretch and, between them, where its x or y turns back: the knots that `flatten` wants.

    Found by sampling and then ternary search: two turns closer than a sample are missed.
    """
    step = (end - start) / samples
    found = {start, end}
    for axis in (0, 1):
        values = [place(start + step * i)[axis] for i in range(samples + 1)]
        for i in range(1, samples):
            if (values[i] - values[i - 1]) * (values[i + 1] - values[i]) < 0:
                sign = 1 if values[i] > values[i - 1] else -1
                low, high = start + step * (i - 1), start + step * (i + 1)
                for _ in range(80):
                    a, b = low + (high - low) / 3, high - (high - low) / 3
                    low, high = (a, high) if sign * place(a)[axis] < sign * place(b)[axis] else (low, b)
                found.add((low + high) / 2)
    return sorted(found)


def distance_to_chord(point: Point, first: Point, last: Point) -> float:
    """How far a point lies from the straight piece between two others, in their unit."""
    return dist(point, nearest_on_chord(point, first, last))


def nearest_on_chord(point: Point, first: Point, last: Point) -> Point:
    """The place on the straight piece between two others that lies nearest to a point."""
    dx, dy = last[0] - first[0], last[1] - first[1]
    square = dx * dx + dy * dy
    if square == 0:
        return first
    t = min(1.0, max(0.0, ((point[0] - first[0]) * dx + (point[1] - first[1]) * dy) / square))
    return first[0] + t * dx, first[1] + t * dy


def bezier_points(p0: Point, p1: Point, p2: Point, p3: Point, tolerance_mm: float = TOLERANCE_MM) -> Line:
    """A cubic Bezier curve, both ends included, with the points where it turns back in x or in y.

    The number of equal steps in t is Wang's bound, ceil(sqrt(d(d-1)M / 8e)) with M the largest second difference.
    """

    def place(t: float) -> Point:
        s = 1 - t
        w0, w1, w2, w3 = s * s * s, 3 * s * s * t, 3 * s * t * t, t * t * t
        return (w0 * p0[0] + w1 * p1[0] + w2 * p2[0] + w3 * p3[0], w0 * p0[1] + w1 * p1[1] + w2 * p2[1] + w3 * p3[1])

    bend = max(hypot(a[0] - 2 * b[0] + c[0], a[1] - 2 * b[1] + c[1]) for a, b, c in ((p0, p1, p2), (p1, p2, p3)))
    count = max(1, ceil(sqrt(6 * bend / (8 * tolerance_mm))))
    turns = {t for i in (0, 1) for t in _turning(p0[i], p1[i], p2[i], p3[i])}
    inner = sorted(turns | {i / count for i in range(1, count)})
    return (p0, *(place(t) for t in inner), p3)


def _turning(a: float, b: float, c: float, d: float) -> list[float]:
    """Where, strictly inside, a cubic Bezier coordinate has a slope of zero: its derivative is a quadratic."""
    p, q, r = b - a, c - b, d - c
    u, v, w = p - 2 * q + r, 2 * (q - p), p
    if abs(u) < 1e-12 * (abs(p) + abs(q) + abs(r) + 1e-300):
        roots = [-w / v] if v else []
    else:
        square = v * v - 4 * u * w
        if square < 0:
            return []
        # the stable pair of roots: no difference of two nearly equal numbers
        big = -(v + (sqrt(square) if v >= 0 else -sqrt(square))) / 2
        roots = [big / u] + ([w / big] if big else [])
    return [t for t in roots if 0 < t < 1]
