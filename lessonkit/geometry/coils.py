"""Numbers and gauges for work without a slab: rows and length of coils, a profile gauge, the ball for a pinched pot."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from itertools import pairwise
from math import pi
from typing import NamedTuple

from lessonkit.geometry.curves import flatten
from lessonkit.geometry.faults import GeometryError, need_length, need_sizes, number
from lessonkit.geometry.flat_part import FlatPart
from lessonkit.geometry.outlines import centred

PRESSED = 0.8  # of a coil's width is what each row rises once it is pressed down (common practice, no source)

Profile = Sequence[tuple[float, float]]  # heights from the foot and, at each, the outside width; smooth in between


class CoilWork(NamedTuple):
    """Rows of coil one on the other: their number, the length of each from the foot up, and the clay in all of them."""

    row_long_mm: tuple[float, ...]
    rise_mm: float
    volume_mm3: float

    @property
    def rows(self) -> int:
        return len(self.row_long_mm)

    @property
    def long_mm(self) -> float:
        return sum(self.row_long_mm)


def coil_work(profile: Profile, coil_mm: float, rise_mm: float | None = None) -> CoilWork:
    """The coils of a wall with this outside, up to the profile's last height: rows = height / rise, to the nearest whole one.

    A straight pot is ((0, 110), (100, 110)). A row is as long as the circle through its middle, one coil less than the outside.
    `rise_mm` is what a row adds when pressed, 0.8 of the coil unless said. GeometryError where a coil does not fit the width.
    """
    need_sizes(coil_mm=coil_mm)
    rise = PRESSED * coil_mm if rise_mm is None else rise_mm
    need_sizes(rise_mm=rise)
    heights = _checked(profile)
    tall = heights[-1][0]
    rows = max(1, round(tall / rise))
    if rows > 1000:
        raise GeometryError(f"{rows} rows of coil are more than anyone rolls.", "Use fatter coils or a lower pot.")
    width = _smooth(heights)
    middles = [width(tall * (i + 0.5) / rows) - coil_mm for i in range(rows)]
    if min(middles) <= coil_mm:
        raise GeometryError(
            f"a coil {number(coil_mm)} mm thick leaves no hollow in this pot.", "Use thinner coils or a wider pot."
        )
    lengths = tuple(pi * across for across in middles)
    return CoilWork(lengths, tall / rows, sum(lengths) * pi / 4 * coil_mm * coil_mm)


def spiral_long_mm(across_mm: float, coil_mm: float) -> float:
    """The coil that fills a flat round when laid in a spiral: the round's area over the coil's width."""
    need_sizes(across_mm=across_mm, coil_mm=coil_mm)
    if coil_mm > across_mm:
        raise GeometryError("the coil is thicker than the round is wide.", "Use a thinner coil.")
    return pi / 4 * across_mm * across_mm / coil_mm


def _smooth(places: list[tuple[float, float]]) -> Callable[[float], float]:
    """The outside width at a height: smooth, through every given place, never beyond the widths given on either side.

    Cubic pieces with the slopes of Fritsch and Butland (1984), as in scipy's PchipInterpolator; past an end, its width.
    """
    xs, ys = [h for h, _ in places], [w for _, w in places]
    slopes = _slopes(xs, ys)

    def width(height_mm: float) -> float:
        if height_mm <= xs[0]:
            return ys[0]
        if height_mm >= xs[-1]:
            return ys[-1]
        i = next(k for k in range(len(xs) - 1) if height_mm <= xs[k + 1])
        h = xs[i + 1] - xs[i]
        t = (height_mm - xs[i]) / h
        s = 1 - t
        return s * s * (1 + 2 * t) * ys[i] + t * t * (3 - 2 * t) * ys[i + 1] + h * t * s * s * slopes[i] - h * t * t * s * slopes[i + 1]

    return width


def _checked(profile: Profile) -> list[tuple[float, float]]:
    if len(profile) < 2:
        raise GeometryError("a profile needs at least two widths.", "Give the width at the foot and at the rim.")
    for height, width in profile:
        need_sizes(profile_width_mm=width)
        need_length("profile height", height)
    if any(b[0] - a[0] < 0.1 for a, b in pairwise(profile)) or profile[0][0] != 0:
        raise GeometryError("a profile's heights must rise from 0.", "List the widths from the foot up.")
    return list(profile)


def _slopes(xs: list[float], ys: list[float]) -> list[float]:
    h = [b - a for a, b in pairwise(xs)]
    d = [(b - a) / step for (a, b), step in zip(pairwise(ys), h, strict=True)]
    if len(d) == 1:
        return [d[0], d[0]]
    inner = []
    for i in range(1, len(d)):
        if d[i - 1] * d[i] <= 0:
            inner.append(0.0)
        else:
            w1, w2 = 2 * h[i] + h[i - 1], h[i] + 2 * h[i - 1]
            inner.append((w1 + w2) / (w1 / d[i - 1] + w2 / d[i]))
    return [_end_slope(h[0], h[1], d[0], d[1]), *inner, _end_slope(h[-1], h[-2], d[-1], d[-2])]


def _end_slope(h0: float, h1: float, d0: float, d1: float) -> float:
    slope = ((2 * h0 + h1) * d0 - h0 * d1) / (h0 + h1)
    if slope * d0 <= 0:
        return 0.0
    return 3 * d0 if d0 * d1 < 0 and abs(slope) > 3 * abs(d0) else slope


def profile_gauge(profile: Profile, back_mm: float = 30.0) -> FlatPart:
    """A card to hold against a pot: its left edge is the pot's outside, its right one `back_mm` past the widest place."""
    need_sizes(back_mm=back_mm)
    places = _checked(profile)
    tall = places[-1][0]
    width = _smooth(places)
    curve = flatten(lambda y: (width(y) / 2, y), [h for h, _ in places])
    back = max(w for _, w in places) / 2 + back_mm
    shape = centred((*curve[::-1], (back, 0.0), (back, tall)))
    return FlatPart("gauge", shape, sizes=(("tall", tall), ("widest", max(w for _, w in places))))


def ball_across_mm(mass_g: float, density_g_cm3: float) -> float:
    """The width of a ball of wet clay: (6 m / (pi x density))^(1/3)."""
    need_sizes(mass=mass_g, density=density_g_cm3)
    return float((6000 * mass_g / (pi * density_g_cm3)) ** (1 / 3))


def ball_mass_g(across_mm: float, density_g_cm3: float) -> float:
    """The weight of a ball of wet clay `across_mm` wide."""
    need_sizes(across_mm=across_mm, density=density_g_cm3)
    return pi / 6 * across_mm**3 * density_g_cm3 / 1000
