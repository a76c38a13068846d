"""Free room on a sheet, counted in squares of one millimetre: what is taken, and where a box still fits.

All squares are the bits of one number, row after row from the top, in each the leftmost square the lowest bit: so a question about
the whole sheet is a few shifts. Rows begin at whole bytes.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from math import ceil, floor, hypot, inf
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from lessonkit.geometry.shape import Point

if TYPE_CHECKING:  # numpy's types take a while to load
    from numpy.typing import NDArray

    Numbers = NDArray[np.float64]
    Counts = NDArray[np.int_]

Squares = int


class Edges(NamedTuple):
    """Where edges of lines begin and where they end."""

    ax: Numbers
    ay: Numbers
    bx: Numbers
    by: Numbers

    def moved(self, x_mm: float, y_mm: float) -> Edges:
        return Edges(self.ax + x_mm, self.ay + y_mm, self.bx + x_mm, self.by + y_mm)


class Ground:
    """An area from its top left, y down. What lies outside it is ignored when taken and never free."""

    def __init__(self, wide_mm: float, tall_mm: float) -> None:
        self.wide, self.tall = floor(wide_mm + 1e-6), floor(tall_mm + 1e-6)
        self._bytes = ceil(self.wide / 8)
        self._whole = self._block((1 << self.wide) - 1, range(self.tall))
        self._taken: Squares = 0
        self._kept: dict[tuple[int, int, int], tuple[Squares | None, Squares]] = {}
        self._free: dict[int, tuple[Squares | None, Squares]] = {}
        self._none: dict[int, tuple[Squares | None, list[tuple[int, int]]]] = {}  # boxes that fit nowhere, whatever more is taken

    def copy(self) -> Ground:
        twin = Ground(self.wide, self.tall)
        twin._taken, twin._kept = self._taken, self._kept.copy()
        twin._none = {key: (within, [*sizes]) for key, (within, sizes) in self._none.items()}
        return twin

    # -- taking
    def take_box(self, left: float, top: float, wide: float, tall: float, clear: float = 0.0) -> None:
        """Every square that the box, grown by `clear` on all sides, touches."""
        self.take(self._block(self._bits(left - clear, left + wide + clear), self._span(top - clear, top + tall + clear)))

    def take_line(self, points: Sequence[Point], clear: float) -> None:
        """Every square within `clear` of the line, to the left, right, above or below."""
        self.take_edges(edges_of((points,)), clear)

    def take_edges(self, edges: Edges, clear: float) -> None:
        """The same of the edges of several lines."""
        ax, ay, bx, by = edges
        if not len(ax):
            return
        first, past = self._reach(np.minimum(ay, by) - clear, np.maximum(ay, by) + clear, self.tall)
        edge, row = _rows_of(first, past)
        run, rise = (bx - ax)[edge], (by - ay)[edge]
        level = np.abs(rise) < 1e-9
        shares = [np.clip((row + side - ay[edge]) / np.where(level, 1.0, rise), 0.0, 1.0) for side in (-clear, 1 + clear)]
        one, other = (ax[edge] + np.where(level, end, share) * run for end, share in enumerate(shares))
        self.take(self._runs(row, *self._reach(np.minimum(one, other) - clear, np.maximum(one, other) + clear, self.wide)))

    def take(self, squares: Squares) -> None:
        self._taken |= squares
        self._kept.clear()
        self._free.clear()

    # -- asking
    def inside(self, rings: Sequence[Sequence[Point]]) -> Squares:
        """The squares whose middles lie inside any of the rings."""
        return self.enclosed(ring_edges(rings), np.repeat(np.arange(len(rings)), [len(ring) for ring in rings]))

    def enclosed(self, edges: Edges, whose: Counts | None = None) -> Squares:
        """The squares whose middles lie inside the rings with these edges, counted even-odd (a ring within a ring is a hole), of each
        owner's rings by themselves."""
        ax, ay, bx, by = edges
        first, past = (np.clip(np.ceil(side(ay, by) - 0.5), 0, self.tall).astype(int) for side in (np.minimum, np.maximum))
        edge, row = _rows_of(first, past)
        across = ax[edge] + (row + 0.5 - ay[edge]) / (by - ay)[edge] * (bx - ax)[edge]
        order = np.lexsort((across, row) if whose is None else (across, row, whose[edge]))  # in every row an even number, in and out by turns
        into, out = across[order[::2]], across[order[1::2]]
        low, high = np.ceil(into - 0.5), np.floor(out - 0.5) + 1
        return self._runs(row[order[::2]], *(np.clip(side, 0, self.wide).astype(int) for side in (low, high)))

    def box(self, left: float, top: float, right: float, bottom: float) -> Squares:
        """The squares that lie wholly inside a rectangle."""
        rows = range(max(0, ceil(top - 1e-6)), min(self.tall, floor(bottom + 1e-6)))
        return self._block(self._bits(ceil(left - 1e-6), floor(right + 1e-6)), rows)

    def free(self) -> Squares:
        """Every square that is not taken."""
        return self._whole & ~self._taken

    def holds(self, squares: Squares, x: float, y: float) -> bool:
        """Whether a place is in one of some squares."""
        return 0 <= x < self.wide and 0 <= y < self.tall and bool(squares >> int(y) * self._bytes * 8 + int(x) & 1)

    def middle(self, squares: Squares) -> Point:
        """The middle of the rectangle around some squares."""
        heights = [(y, row) for y, row in enumerate(self._rows(squares)) if row]
        if not heights:
            return 0.0, 0.0
        whole = 0
        for _, row in heights:
            whole |= row
        return ((whole & -whole).bit_length() - 1 + whole.bit_length()) / 2, (heights[0][0] + heights[-1][0] + 1) / 2

    def is_free(self, left: float, top: float, wide: float, tall: float, within: Squares | None = None) -> bool:
        """Whether nothing is taken there and, with `within`, whether all of the box lies in those squares."""
        if left < -1e-6 or top < -1e-6 or left + wide > self.wide + 1e-6 or top + tall > self.tall + 1e-6:
            return False
        box = self._block(self._bits(left, left + wide), self._span(top, top + tall))
        return not box & self._taken and (within is None or not box & ~within)

    def place(self, wide: float, tall: float, near: Point, within: Squares | None = None, reach: float = inf) -> Point | None:
        """The free top left corner nearest to `near` for a box of this size, or None where it fits nowhere within reach."""
        if self.is_free(*near, wide, tall, within):
            return near
        return self._nearest(self._corners(wide, tall, within), near, reach)

    def fits(self, wide: float, tall: float, within: Squares | None = None) -> bool:
        """Whether a box of this size has a place anywhere."""
        return self._corners(wide, tall, within) != 0

    # -- squares
    def _corners(self, wide: float, tall: float, within: Squares | None) -> Squares:
        """Where the top left corner of a box may be. Kept until more is taken: the same box is tried in many places."""
        across, down = ceil(wide - 1e-6), ceil(tall - 1e-6)
        if across > self.wide or down > self.tall:
            return 0
        kept = self._kept.get((id(within), across, down))
        if kept is None:
            sizes = self._none.setdefault(id(within), (within, []))[1]  # holding `within` keeps its id from being used again
            if any(wide <= across and tall <= down for wide, tall in sizes):
                return 0
            free = self._begun(within, across, down)
            self._kept[id(within), across, down] = kept = (within, free)
            if not free:
                sizes.append((across, down))
        return kept[1]

    def _begun(self, within: Squares | None, across: int, down: int) -> Squares:
        """Where the top left corner of a box may be, counted anew, without the empty rows above."""
        free = self._open(within)
        if free.bit_count() < across * down:
            return 0
        row = self._bytes * 8
        above = ((free & -free).bit_length() - 1) // row
        free = _shrunk(_shrunk(free >> above * row, down, row), across, 1)
        return free and (free & self._block((1 << (self.wide - across + 1)) - 1, range(self.tall - above))) << above * row

    def _open(self, within: Squares | None) -> Squares:
        kept = self._free.get(id(within))
        if kept is None:
            self._free[id(within)] = kept = (within, self.free() if within is None else within & ~self._taken)
        return kept[1]

    def _nearest(self, free: Squares, near: Point, reach: float) -> Point | None:
        if free and reach < inf:  # farther off to the side, above or below is farther off
            (x, y), past = near, reach + 1
            free &= self._block(self._bits(x - reach, x + past), self._span(y - reach, y + past))
        if not free:
            return None
        size, data = self._bytes, free.to_bytes(self._bytes * self.tall, "little")
        best, shortest = None, (reach, self.tall)
        for y in _outward(near[1], self.tall):
            if abs(y - near[1]) > shortest[0]:
                break
            if row := int.from_bytes(data[y * size : (y + 1) * size], "little"):
                x = _nearest_bit(row, near[0])
                if (far := (hypot(x - near[0], y - near[1]), y)) < shortest:
                    best, shortest = (float(x), float(y)), far
        return best

    def _reach(self, low: Numbers, high: Numbers, most: int) -> tuple[Counts, Counts]:
        """The first square that each stretch touches, and the one past its last."""
        return np.maximum(np.floor(low + 1e-6), 0).astype(int), np.minimum(np.ceil(high - 1e-6), most).astype(int)

    def _runs(self, rows: Counts, low: Counts, high: Counts) -> Squares:
        """In each of the rows the squares from `low` to before `high`; what stands twice counts once."""
        some = high > low
        if not some.any():
            return 0
        row = self._bytes * 8
        first, past = (rows * row + low)[some], (rows * row + high)[some]
        order = np.argsort(first)
        first, past = first[order], np.maximum.accumulate(past[order])
        apart = first[1:] > past[:-1]
        starts, ends = first[np.append(True, apart)], past[np.append(apart, True)]
        above = int(starts[0]) // 8 * 8
        turns = np.column_stack((starts, ends)).ravel()
        taken = np.repeat(np.arange(len(turns)) % 2 == 1, np.diff(turns, prepend=above))
        return int.from_bytes(np.packbits(taken, bitorder="little").tobytes(), "little") << above

    def _bits(self, left: float, right: float) -> int:
        low, high = max(0, floor(left + 1e-6)), min(self.wide, ceil(right - 1e-6))
        return ((1 << (high - low)) - 1) << low if high > low else 0

    def _span(self, top: float, bottom: float) -> range:
        return range(max(0, floor(top + 1e-6)), min(self.tall, ceil(bottom - 1e-6)))

    def _block(self, bits: int, rows: range) -> Squares:
        """The same squares in every one of these rows."""
        return int.from_bytes(bits.to_bytes(self._bytes, "little") * len(rows), "little") << rows.start * self._bytes * 8 if rows else 0

    def _rows(self, squares: Squares) -> list[int]:
        size, data = self._bytes, squares.to_bytes(self._bytes * self.tall, "little")
        return [int.from_bytes(data[at : at + size], "little") for at in range(0, len(data), size)]


def edges_of(lines: Sequence[Sequence[Point]]) -> Edges:
    """Every edge of these lines."""
    counts = np.array([len(line) for line in lines], dtype=int)
    every = np.array([point for line in lines for point in line], dtype=float).reshape(-1, 2)
    begins = np.ones(len(every), dtype=bool)
    begins[np.cumsum(counts) - 1] = False  # a line's last point begins no edge
    at = np.flatnonzero(begins)
    (ax, ay), (bx, by) = every[at].T, every[at + 1].T
    return Edges(ax, ay, bx, by)


def ring_edges(rings: Iterable[Sequence[Point]]) -> Edges:
    """Every edge of these rings, which do not repeat their first points."""
    return edges_of([(*ring, ring[0]) for ring in rings])


def _rows_of(first: Counts, past: Counts) -> tuple[Counts, Counts]:
    """Each edge once for every row from its first to before `past`: which edge, and which row."""
    count = np.maximum(past - first, 0)
    edge = np.repeat(np.arange(len(count)), count)
    return edge, np.arange(len(edge)) - (np.cumsum(count) - count - first)[edge]


def _shrunk(squares: Squares, count: int, step: int) -> Squares:
    """The squares of which the next are there too, `count` in all, each `step` further. What is read of the row below tells
    only of places where no box that long could begin."""
    done = 1
    while squares and done < count:
        more = min(done, count - done)
        squares &= squares >> more * step
        done += more
    return squares


def _outward(near: float, count: int) -> Iterator[int]:
    """0 to count - 1, the nearest first."""
    low = min(max(floor(near), -1), count - 1)
    high = low + 1
    while low >= 0 or high < count:
        if high >= count or (low >= 0 and near - low <= high - near):
            yield low
            low -= 1
        else:
            yield high
            high += 1


def _nearest_bit(row: int, x: float) -> int:
    """The set bit nearest to `x`, of a row that has one."""
    at = max(0, round(x))
    right = row >> at
    left = row & ((1 << at) - 1)
    candidates = [at + (right & -right).bit_length() - 1] if right else []
    candidates += [left.bit_length() - 1] if left else []
    return min(candidates, key=lambda bit: abs(bit - x))
