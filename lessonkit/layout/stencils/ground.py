"""Free room on a sheet, counted in squares of one millimetre: what is taken, and where a box still fits.

A row of squares is the bits of a number, its leftmost square the lowest bit, so that whole rows are compared at once.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import pairwise
from math import ceil, floor, hypot, inf

from lessonkit.geometry.shape import Point

Rows = list[int]


class Ground:
    """An area from its top left, y down. What lies outside it is ignored when taken and never free."""

    def __init__(self, wide_mm: float, tall_mm: float) -> None:
        self.wide, self.tall = floor(wide_mm + 1e-6), floor(tall_mm + 1e-6)
        self._taken: Rows = [0] * self.tall

    def copy(self) -> Ground:
        twin = Ground(self.wide, self.tall)
        twin._taken = [*self._taken]
        return twin

    # -- taking
    def take_box(self, left: float, top: float, wide: float, tall: float, clear: float = 0.0) -> None:
        """Every square that the box, grown by `clear` on all sides, touches."""
        bits = self._bits(left - clear, left + wide + clear)
        for row in self._span(top - clear, top + tall + clear):
            self._taken[row] |= bits

    def take_line(self, points: Sequence[Point], clear: float) -> None:
        """Every square within `clear` of the line, to the left, right, above or below."""
        for (ax, ay), (bx, by) in pairwise(points):
            for row in self._span(min(ay, by) - clear, max(ay, by) + clear):
                low, high = _between(ax, ay, bx, by, row - clear, row + 1 + clear)
                self._taken[row] |= self._bits(low - clear, high + clear)

    def take_rows(self, rows: Rows) -> None:
        self._taken = [taken | more for taken, more in zip(self._taken, rows, strict=True)]

    # -- asking
    def inside(self, rings: Iterable[Sequence[Point]]) -> Rows:
        """The squares whose middles lie inside the rings, counted even-odd (a ring within a ring is a hole)."""
        crossings: list[list[float]] = [[] for _ in range(self.tall)]
        for ring in rings:
            for (ax, ay), (bx, by) in zip(ring, (*ring[1:], ring[0]), strict=True):
                for row in range(max(0, floor(min(ay, by)) - 1), min(self.tall, ceil(max(ay, by)) + 1)):
                    y = row + 0.5
                    if (ay <= y) != (by <= y):
                        crossings[row].append(ax + (y - ay) / (by - ay) * (bx - ax))
        rows = []
        for found in crossings:
            found.sort()
            rows.append(sum(self._bits(ceil(a - 0.5), floor(b - 0.5) + 1) for a, b in zip(found[::2], found[1::2], strict=True)))
        return rows

    def box_rows(self, left: float, top: float, right: float, bottom: float) -> Rows:
        """The squares that lie wholly inside a rectangle."""
        bits = self._bits(ceil(left - 1e-6), floor(right + 1e-6))
        return [bits if top - 1e-6 <= row and row + 1 <= bottom + 1e-6 else 0 for row in range(self.tall)]

    def free(self) -> Rows:
        """Every square that is not taken."""
        full = (1 << self.wide) - 1
        return [full & ~row for row in self._taken]

    def is_free(self, left: float, top: float, wide: float, tall: float, within: Rows | None = None) -> bool:
        """Whether nothing is taken there and, with `within`, whether all of the box lies in those squares."""
        if left < -1e-6 or top < -1e-6 or left + wide > self.wide + 1e-6 or top + tall > self.tall + 1e-6:
            return False
        bits = self._bits(left, left + wide)
        rows = self._span(top, top + tall)
        return not any(self._taken[row] & bits or (within is not None and bits & ~within[row]) for row in rows)

    def place(self, wide: float, tall: float, near: Point, within: Rows | None = None) -> Point | None:
        """The free top left corner nearest to `near` for a box of this size, or None where it fits nowhere."""
        if self.is_free(*near, wide, tall, within):
            return near
        across, down = ceil(wide - 1e-6), ceil(tall - 1e-6)
        first, last = _extent(within) if within is not None else (0, self.tall)
        if across > self.wide or down > last - first:
            return None
        taken = self._taken[first:last] if within is None else [self._taken[y] | ~within[y] for y in range(first, last)]
        blocked = _smear_up([_smear_left(row, across) for row in taken], down)
        fits = (1 << (self.wide - across + 1)) - 1
        best, shortest = None, inf
        for y, row in enumerate(blocked, first):
            if abs(y - near[1]) < shortest and (free := ~row & fits):
                x = _nearest_bit(free, near[0])
                if (far := hypot(x - near[0], y - near[1])) < shortest:
                    best, shortest = (float(x), float(y)), far
        return best

    # -- squares
    def _bits(self, left: float, right: float) -> int:
        low, high = max(0, floor(left + 1e-6)), min(self.wide, ceil(right - 1e-6))
        return ((1 << (high - low)) - 1) << low if high > low else 0

    def _span(self, top: float, bottom: float) -> range:
        return range(max(0, floor(top + 1e-6)), min(self.tall, ceil(bottom - 1e-6)))


def common(some: Rows, others: Rows) -> Rows:
    """The squares that are in both."""
    return [a & b for a, b in zip(some, others, strict=True)]


def _between(ax: float, ay: float, bx: float, by: float, top: float, bottom: float) -> tuple[float, float]:
    """How far left and right a stretch of line reaches between two heights."""
    if abs(by - ay) < 1e-9:
        return min(ax, bx), max(ax, bx)
    ends = (min(1.0, max(0.0, (y - ay) / (by - ay))) for y in (top, bottom))
    xs = [ax + t * (bx - ax) for t in ends]
    return min(xs), max(xs)


def _smear_left(row: int, count: int) -> int:
    """Each square taken if it or one of the next to its right, `count` in all, is."""
    done = 1
    while done < count:
        step = min(done, count - done)
        row |= row >> step
        done += step
    return row


def _smear_up(rows: Rows, count: int) -> Rows:
    """The same downwards; rows from which `count` would reach beyond the last are left out."""
    done = 1
    while done < count:
        step = min(done, count - done)
        rows = [row | below for row, below in zip(rows, rows[step:], strict=False)]
        done += step
    return rows


def _extent(rows: Rows) -> tuple[int, int]:
    """From the first row that has a square to just past the last."""
    found = [y for y, row in enumerate(rows) if row]
    return (found[0], found[-1] + 1) if found else (0, 0)


def _nearest_bit(row: int, x: float) -> int:
    """The set bit nearest to `x`, of a row that has one."""
    at = max(0, round(x))
    right = row >> at
    left = row & ((1 << at) - 1)
    candidates = [at + (right & -right).bit_length() - 1] if right else []
    candidates += [left.bit_length() - 1] if left else []
    return min(candidates, key=lambda bit: abs(bit - x))
