"""Outlines by name. Every length is in millimetres; every outline is centred on its bounding box's middle, y upwards,
counter-clockwise; a size that is zero, negative or not a number raises GeometryError."""

from __future__ import annotations

from collections.abc import Sequence
from math import acos, cos, pi, sin

from lessonkit.geometry.curves import arc_points, ellipse_points, flatten, unit_direction
from lessonkit.geometry.faults import GeometryError, need_length, need_sizes, number
from lessonkit.geometry.shape import Line, Point, Ring, Shape


def centred(points: Sequence[Point]) -> Shape:
    """A ring of points moved so that the middle of its bounding box is the origin."""
    ring = without_repeats(points)
    xs, ys = [x for x, _ in ring], [y for _, y in ring]
    x0, y0 = (min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2
    return Shape(tuple((x - x0, y - y0) for x, y in ring))


def without_repeats(points: Sequence[Point]) -> Ring:
    """A ring without points that repeat the one before them to within 1e-9 mm, where two curves meet."""
    return tuple(p for i, p in enumerate(points) if abs(p[0] - points[i - 1][0]) + abs(p[1] - points[i - 1][1]) > 1e-9)


def circle(across: float) -> Shape:
    """A circle, `across` its diameter."""
    need_sizes(across=across)
    return Shape(ellipse_points(across, across))


def ellipse(wide: float, tall: float) -> Shape:
    """An ellipse by its two full axes."""
    need_sizes(wide=wide, tall=tall)
    return Shape(ellipse_points(wide, tall))


def rectangle(wide: float, tall: float, corner: float = 0) -> Shape:
    """A rectangle; `corner` is the radius of its four corners, 0 for sharp ones, at most half the shorter side."""
    need_sizes(wide=wide, tall=tall)
    need_length("corner", corner)
    w, h = wide / 2, tall / 2
    if corner > min(w, h) + 1e-9:
        raise GeometryError(
            f"a corner of radius {number(corner)} mm does not fit a rectangle of {number(wide)} x {number(tall)} mm.",
            f"Make it at most {number(min(w, h))} mm.",
        )
    if corner < 0.001:
        return Shape(((-w, -h), (w, -h), (w, h), (-w, h)))
    corner = min(corner, w, h)
    points: list[Point] = []
    for x, y, start in ((w, -h, -90.0), (w, h, 0.0), (-w, h, 90.0), (-w, -h, 180.0)):
        middle = (x - corner if x > 0 else x + corner, y - corner if y > 0 else y + corner)
        points += arc_points(corner, start, 90.0, middle)
    return Shape(without_repeats(points))


def polygon(sides: int, across: float | None = None, *, across_flats: float | None = None) -> Shape:
    """A regular polygon standing on a side. `across` is the diameter of the circle through its corners;
    `across_flats` the distance between opposite sides, which only an even number of sides has. Give one of the two."""
    if sides < 3 or sides > 360 or sides != int(sides):
        raise GeometryError(f"a polygon can't have {sides} sides.", "Write a whole number from 3 to 360.")
    if (across is None) == (across_flats is None):
        raise GeometryError("a polygon needs one size.", "Give across (through the corners) or across flats (between sides).")
    if across_flats is not None:
        need_sizes(across_flats=across_flats)
        if sides % 2:
            raise GeometryError(f"a polygon with {sides} sides has no opposite sides.", "Give across, through its corners.")
        radius = across_flats / 2 / cos(pi / sides)
    else:
        assert across is not None
        need_sizes(across=across)
        radius = across / 2
    first = -90.0 + 180.0 / sides  # the right end of the side it stands on
    directions = (unit_direction(first + 360.0 * i / sides) for i in range(int(sides)))
    return centred(tuple((radius * c, radius * s) for c, s in directions))


def heart(wide: float, tall: float | None = None) -> Shape:
    """A heart: x = 16 sin³t, y = 13 cos t - 5 cos 2t - 2 cos 3t - cos 4t (Wolfram MathWorld, Heart Curve), made `wide`.

    Left to itself it is 0.903852 of its width tall and has 0.552233 of its width squared as area; `tall` stretches it.
    """
    lobe = _heart_lobe()
    bottom, top = _heart(pi)[1], _heart(lobe)[1]
    tall = wide * (top - bottom) / 32 if tall is None else tall
    need_sizes(wide=wide, tall=tall)
    kx, ky = wide / 32, tall / (top - bottom)
    right = flatten(lambda t: (_heart(t)[0] * kx, (_heart(t)[1] - (top + bottom) / 2) * ky), (0.0, lobe, pi / 2, pi))
    right = ((0.0, right[0][1]), *right[1:-1], (0.0, right[-1][1]))  # notch and tip stand on the middle line
    return Shape((*right[::-1], *((-x, y) for x, y in right[1:-1])))


def _heart(t: float) -> Point:
    return 16 * sin(t) ** 3, 13 * cos(t) - 5 * cos(2 * t) - 2 * cos(3 * t) - cos(4 * t)


def _heart_lobe() -> float:
    """t at the top of the right lobe: dy/dt = 0 is 32c³ + 24c² + 4c - 19 = 0 in c = cos t, with one root in 0..1."""
    c = 0.6
    for _ in range(60):
        c -= (32 * c**3 + 24 * c**2 + 4 * c - 19) / (96 * c**2 + 48 * c + 4)
    return acos(c)


def arch(wide: float, tall: float, *, rise: float | None = None) -> Shape:
    """A doorway: a rectangle with a half circle on top; sizes over all, so it must be at least half as tall as wide.

    `rise` (under half the width) makes the top a flatter piece of a circle, that much higher in the middle than at its ends.
    """
    need_sizes(wide=wide, tall=tall)
    half = wide / 2
    if rise is None:
        if tall < half - 1e-9:
            raise GeometryError(
                f"an arch {number(wide)} mm wide can't be {number(tall)} mm tall: its half circle alone is {number(half)} mm.",
                f"Make it at least {number(half)} mm tall, or use another outline.",
            )
        rise = half
    need_sizes(rise=rise)
    if rise > min(half, tall) + 1e-9:
        most = number(min(half, tall))
        raise GeometryError(f"a rise of {number(rise)} mm is too much for this arch.", f"Make it at most {most} mm.")
    radius = (half * half + rise * rise) / (2 * rise)
    reach = 90.0 if rise >= half else acos(min(1.0, (radius - rise) / radius)) * 180 / pi
    top = arc_points(radius, 90.0 - reach, 2 * reach, (0.0, tall - radius))
    shoulder = tall - rise
    ends = ((half, shoulder), *top[1:-1], (-half, shoulder))
    feet: Line = ((-half, 0.0), (half, 0.0)) if shoulder > 1e-9 else ()
    return centred((*feet, *ends))
