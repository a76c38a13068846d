"""Equal round pieces on a kiln shelf: how many find room, and where. Millimetres, places from the shelf's middle.

The middles must lie at least one piece and one gap apart, inside the shelf less the margin and half a piece. Rows (square
and hexagonal) are tried first. Then a search tries for one more, and one more, from scattered starts: it moves overlapping
pieces apart by damped Gauss-Newton steps until none overlap. What it returns has been measured, so it never overlaps; whether
still another would fit, only the published records tell (see the tests: within 2 % of the best known up to 20 pieces).
"""

from __future__ import annotations

from functools import lru_cache
from math import ceil, cos, floor, hypot, pi, sin, sqrt
from random import Random
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from lessonkit.geometry.faults import GeometryError, need_length, need_sizes, number
from lessonkit.geometry.shape import Point

if TYPE_CHECKING:  # numpy's types take a while to load
    from numpy.typing import NDArray

    _Places = NDArray[np.float64]

_STARTS = 32
_STEPS = 100
_HOPELESS = 0.01  # of the distance: so much overlap halfway through the steps never closes
_SEARCHED = 32  # above so many, rows are as good as the search and far quicker
_SPARE_MM = 0.002  # so that places can be rounded to a thousandth


class _Room(NamedTuple):
    """Where middles may lie: a circle of a radius, or a rectangle of two half sides."""

    radius: float = 0.0
    half_wide: float = 0.0
    half_tall: float = 0.0

    def holds(self, x: float, y: float) -> bool:
        if self.radius:
            return hypot(x, y) <= self.radius + 1e-9
        return abs(x) <= self.half_wide + 1e-9 and abs(y) <= self.half_tall + 1e-9

    def most(self, apart: float) -> int:
        """No more points than this can be so far apart: Oler's inequality, 2A/(sqrt(3) s²) + P/2s + 1 (Oler 1961)."""
        area = pi * self.radius**2 if self.radius else 4 * self.half_wide * self.half_tall
        edge = 2 * pi * self.radius if self.radius else 4 * (self.half_wide + self.half_tall)
        return floor(2 * area / (sqrt(3) * apart**2) + edge / (2 * apart) + 1 + 1e-9)

    def smaller(self, mm: float) -> _Room:
        if self.radius:
            return _Room(radius=max(self.radius - mm, 1e-9))
        return _Room(half_wide=max(self.half_wide - mm, 0.0), half_tall=max(self.half_tall - mm, 0.0))


def discs_in_circle(shelf_mm: float, disc_mm: float, gap_mm: float = 0.0, margin_mm: float = 0.0) -> tuple[Point, ...]:
    """Places for as many discs as are found to fit a round shelf; none when even one is too large.

    `gap_mm` is kept between pieces, `margin_mm` at the rim. GeometryError for sizes that can't be.
    """
    _need(disc_mm, gap_mm, margin_mm, shelf_mm=shelf_mm)
    radius = (shelf_mm - disc_mm) / 2 - margin_mm
    if radius < -1e-9:
        return ()
    return ((0.0, 0.0),) if radius < 1e-6 else _most(_Room(radius=radius), disc_mm + gap_mm)


def discs_in_rectangle(
    wide_mm: float, tall_mm: float, disc_mm: float, gap_mm: float = 0.0, margin_mm: float = 0.0
) -> tuple[Point, ...]:
    """Places for as many discs as are found to fit a rectangular shelf; see `discs_in_circle`."""
    _need(disc_mm, gap_mm, margin_mm, wide_mm=wide_mm, tall_mm=tall_mm)
    half_wide, half_tall = (wide_mm - disc_mm) / 2 - margin_mm, (tall_mm - disc_mm) / 2 - margin_mm
    if min(half_wide, half_tall) < -1e-9:
        return ()
    return _most(_Room(half_wide=max(0.0, half_wide), half_tall=max(0.0, half_tall)), disc_mm + gap_mm)


def _need(disc_mm: float, gap_mm: float, margin_mm: float, **shelf_mm: float) -> None:
    need_sizes(piece_mm=disc_mm, **shelf_mm)
    need_length("gap", gap_mm)
    need_length("margin", margin_mm)
    if max(shelf_mm.values()) > 100 * disc_mm:
        raise GeometryError(
            f"a shelf of {number(max(shelf_mm.values()))} mm holds too many pieces of {number(disc_mm)} mm to place one by one.",
            "Look at the units of both sizes.",
        )


@lru_cache(maxsize=256)
def _most(room: _Room, apart: float) -> tuple[Point, ...]:
    best = max(_rows(room, apart), key=len)
    limit = min(room.most(apart), _SEARCHED)
    while len(best) < limit:
        found = _search(room, apart + _SPARE_MM, len(best) + 1)
        if found is None:
            break
        best = found
    return best


# --- rows ---


def _rows(room: _Room, apart: float) -> list[tuple[Point, ...]]:
    """Square rows, and hexagonal ones lying and standing, each shifted in steps over one cell; the fullest of each."""
    high = apart * sqrt(3) / 2
    patterns = (((apart, 0.0), (0.0, apart)), ((apart, 0.0), (apart / 2, high)), ((0.0, apart), (high, apart / 2)))
    found = [_spread_rows(room, apart)] if not room.radius else []
    for a, b in patterns:
        shifts = [(i / 6, j / 6) for i in range(6) for j in range(6)] + [(1 / 3, 1 / 3)]
        found.append(max((_lattice(room, a, b, shift) for shift in shifts), key=len))
    return found


def _lattice(room: _Room, a: Point, b: Point, shift: Point) -> tuple[Point, ...]:
    reach = room.radius or hypot(room.half_wide, room.half_tall)
    cell = min(hypot(*a), hypot(*b)) * sqrt(3) / 2
    count = ceil(reach / cell) + 1
    span = range(-2 * count, 2 * count + 1)
    places = (
        (a[0] * (i + shift[0]) + b[0] * (j + shift[1]), a[1] * (i + shift[0]) + b[1] * (j + shift[1])) for i in span for j in span
    )
    return tuple(p for p in places if room.holds(*p))


def _spread_rows(room: _Room, apart: float) -> tuple[Point, ...]:
    """Rows pushed against the sides of a rectangle: square or staggered, lying or standing, the fullest of them."""
    return max((_staggered(room, apart, turned, shifted) for turned in (False, True) for shifted in (False, True)), key=len)


def _staggered(room: _Room, apart: float, turned: bool, shifted: bool) -> tuple[Point, ...]:
    wide, tall = (room.half_tall, room.half_wide) if turned else (room.half_wide, room.half_tall)
    pitch = apart * sqrt(3) / 2 if shifted else apart
    places = []
    for row in range(floor(2 * tall / pitch + 1e-9) + 1):
        start = -wide + (apart / 2 if shifted and row % 2 else 0.0)
        places += [(start + i * apart, -tall + row * pitch) for i in range(floor((wide - start) / apart + 1e-9) + 1)]
    return tuple((y, x) for x, y in places) if turned else tuple(places)


# --- search ---


def _search(room: _Room, apart: float, count: int) -> tuple[Point, ...] | None:
    inner = room.smaller(_SPARE_MM)
    random = Random(count)  # the same places every time
    for _ in range(_STARTS):
        start = np.array([_scatter(inner, random) for _ in range(count)])
        places = _pushed_apart(start, inner, apart)
        if places is not None:
            return tuple((round(float(x), 3), round(float(y), 3)) for x, y in places)
    return None


def _scatter(room: _Room, random: Random) -> Point:
    if room.radius:
        turn, reach = 2 * pi * random.random(), room.radius * sqrt(random.random())
        return reach * cos(turn), reach * sin(turn)
    return room.half_wide * (2 * random.random() - 1), room.half_tall * (2 * random.random() - 1)


def _pushed_apart(places: _Places, room: _Room, apart: float) -> _Places | None:
    """The places with no two nearer than `apart` and none outside the room, or None when they do not get there.

    Each step solves the overlaps as linear equations for the smallest move; the damping falls, so that early steps shake the
    heap and late ones close in.
    """
    count = len(places)
    one, other = np.triu_indices(count, 1)
    for step in range(_STEPS):
        way = places[one] - places[other]
        length = np.maximum(np.hypot(way[:, 0], way[:, 1]), 1e-9)
        near = np.nonzero(length < apart)[0]
        pushes = np.zeros((len(near), count, 2))
        row = np.arange(len(near))
        unit = way[near] / length[near, None]
        pushes[row, one[near]], pushes[row, other[near]] = unit, -unit
        walls, beyond = _walls(places, room)
        short = np.concatenate([apart - length[near], beyond])
        if not len(short) or short.max() <= 1e-6:
            return places
        if step > _STEPS // 2 and short.max() > _HOPELESS * apart:
            return None
        lines = np.concatenate([pushes, walls]).reshape(len(short), -1)
        square = lines @ lines.T
        square[np.diag_indices_from(square)] += max(1e-4, 0.5 * 0.93**step)
        move = lines.T @ np.linalg.solve(square, short + 1e-6 * apart)
        move *= min(1.0, apart / 2 / max(float(np.abs(move).max()), 1e-12))
        places = places + move.reshape(count, 2)
    return None


def _walls(places: _Places, room: _Room) -> tuple[_Places, _Places]:
    """For each place outside the room the way back in, and how far it is outside."""
    count = len(places)
    if room.radius:
        reach = np.hypot(places[:, 0], places[:, 1])
        out = np.nonzero(reach > room.radius)[0]
        ways = np.zeros((len(out), count, 2))
        ways[np.arange(len(out)), out] = -places[out] / reach[out, None]
        return ways, reach[out] - room.radius
    over = np.abs(places) - (room.half_wide, room.half_tall)
    which, axis = np.nonzero(over > 0)
    ways = np.zeros((len(which), count, 2))
    ways[np.arange(len(which)), which, axis] = -np.sign(places[which, axis])
    return ways, over[which, axis]
