"""Flat pieces laid out on rectangular sheets (slabs, card, board) so that few sheets are used and nothing overlaps.

A piece may stand wherever its middle is in the sheet's inner box but in none of the placed pieces' no-go zones (`bodies.py`). Of
all free places the lowest is taken, then the leftmost; several orders are tried, the fewest sheets win.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from itertools import product
from math import ceil
from typing import NamedTuple

import shapely
from shapely import affinity
from shapely.geometry import box
from shapely.geometry.base import BaseGeometry

from lessonkit.geometry.bodies import SLACK_MM, Body, bodies_of, no_go
from lessonkit.geometry.faults import GeometryError, need_length, need_sizes, number
from lessonkit.geometry.shape import Bounds, Shape, area_mm2, bounds, less, turned, whole


@dataclass(frozen=True, slots=True)
class Placement:
    """Where a piece lies: turned about its origin by `turn_deg`, then moved by (x, y) from the lower left of its sheet."""

    index: int
    sheet: int
    x: float
    y: float
    turn_deg: float


class _Lying(NamedTuple):
    """What was set as number `rank` of its row."""

    rank: int
    body: Body
    x: float
    y: float


@dataclass(frozen=True, slots=True)
class _Sheet:
    placed: tuple[_Lying, ...] = ()
    free: dict[Body, tuple[int, BaseGeometry]] = field(default_factory=dict)

    def holding(self, one: _Lying) -> _Sheet:
        return _Sheet((*self.placed, one), self.free.copy())


Kinds = dict[Shape, tuple[Body, ...]]  # the turns at which a shape may lie


def nested(
    shapes: Sequence[Shape],
    sheet_wide: float,
    sheet_tall: float,
    gap: float = 0.0,
    margin: float = 0.0,
    turns_deg: Sequence[float] = (0.0, 90.0, 180.0, 270.0),
) -> tuple[Placement, ...]:
    """A place for every shape, in the shapes' order; openings are not used for other pieces. Millimetres.

    `gap` is kept between pieces, `margin` at the sheet's edge. GeometryError when a piece fits no sheet at any of the turns.
    """
    return _Nesting(shapes, sheet_wide, sheet_tall, gap, margin, turns_deg).fewest(shapes)


def nested_sets(
    shapes: Sequence[Shape], sheet_wide: float, sheet_tall: float, gap: float = 0.0, margin: float = 0.0, most: int = 24
) -> tuple[tuple[Placement, ...], int]:
    """As many sets of these shapes as one sheet is enough for, up to `most`: their places, set after set, and how many they are.
    Where even one set needs several sheets, that one. Millimetres, errors as in `nested`."""
    nesting = _Nesting(shapes, sheet_wide, sheet_tall, gap, margin)
    places, sets = nesting.fewest(shapes), 1
    while _sheets(places) == 1 and sets < most and (more := nesting.on_one([*shapes] * (sets + 1))):
        places, sets = more, sets + 1
    return places, sets


class _Nesting:
    """Shapes for sheets of one size, and every row of them that was laid out so far: the next is often one more than the last."""

    def __init__(
        self, shapes: Iterable[Shape], sheet_wide: float, sheet_tall: float, gap: float, margin: float,
        turns_deg: Sequence[float] = (0.0, 90.0, 180.0, 270.0),
    ) -> None:  # fmt: skip
        need_sizes(sheet_wide=sheet_wide, sheet_tall=sheet_tall)
        need_length("gap", gap)
        need_length("margin", margin)
        self._inner = (margin, margin, sheet_wide - margin, sheet_tall - margin)
        kinds: Kinds = {}
        for shape in dict.fromkeys(shapes):
            kinds[shape] = tuple(b for b in bodies_of(shape, gap, tuple(turns_deg)) if _inner_box(b, self._inner) is not None)
            if not kinds[shape]:
                left, bottom, right, top = bounds(shape)
                raise GeometryError(
                    f"a piece of {number(right - left)} x {number(top - bottom)} mm does not fit a sheet of "
                    f"{number(sheet_wide)} x {number(sheet_tall)} mm.",
                    "Use a larger sheet, or make the piece of several parts.",
                )
        self._areas = {shape: area_mm2(whole(shape)) for shape in kinds}
        self._longest = {shape: _longest(shape) for shape in kinds}
        self._rows = [_Rows(choice, self._inner) for choice in _choices(kinds)]

    def fewest(self, shapes: Sequence[Shape]) -> tuple[Placement, ...]:
        """The best of all that was tried, or the first that can't be better."""
        best: tuple[Placement, ...] | None = None
        for rows, order in product(self._rows, self._orders(shapes)):
            found = _placements(rows.laid_out([shapes[i] for i in order]) or (), order)
            if best is None or _effort(found, shapes) < _effort(best, shapes):
                best = found
            if _sheets(best) <= max(1, self._least(shapes)):
                break
        return best or ()

    def on_one(self, shapes: Sequence[Shape]) -> tuple[Placement, ...] | None:
        """The first way that needs no second sheet."""
        if self._least(shapes) > 1:
            return None
        for rows, order in product(self._rows, self._orders(shapes)):
            if sheets := rows.laid_out([shapes[i] for i in order], most=1):
                return _placements(sheets, order)
        return None

    def _orders(self, shapes: Sequence[Shape]) -> list[list[int]]:
        """The largest first, and the longest first."""
        everything = range(len(shapes))
        return [sorted(everything, key=lambda i: -sizes[shapes[i]]) for sizes in (self._areas, self._longest)]

    def _least(self, shapes: Sequence[Shape]) -> int:
        """No fewer sheets can do: their area."""
        left, bottom, right, top = self._inner
        return ceil(sum(self._areas[shape] for shape in shapes) / ((right - left) * (top - bottom)) - 1e-9)


def _longest(shape: Shape) -> float:
    left, bottom, right, top = bounds(shape)
    return max(right - left, top - bottom)


def _placements(sheets: Iterable[_Sheet], order: Sequence[int]) -> tuple[Placement, ...]:
    found = [Placement(order[one.rank], number, one.x, one.y, one.body.turn_deg) for number, sheet in enumerate(sheets) for one in sheet.placed]
    return tuple(sorted(found, key=lambda p: p.index))


def _sheets(placements: Iterable[Placement]) -> int:
    return max((p.sheet + 1 for p in placements), default=0)


def _effort(placements: Sequence[Placement], shapes: Sequence[Shape]) -> tuple[int, float]:
    """Sheets, then how far up the last sheet is used."""
    last = _sheets(placements) - 1
    return last + 1, max(bounds(turned(shapes[p.index], p.turn_deg))[3] + p.y for p in placements if p.sheet == last)


def _choices(kinds: Kinds) -> list[Kinds]:
    """All turns of each piece; then each piece at one turn only, which sometimes packs tighter."""
    most = max((len(bodies) for bodies in kinds.values()), default=0)
    single: list[Kinds] = [{shape: (bodies[min(i, len(bodies) - 1)],) for shape, bodies in kinds.items()} for i in range(min(most, 2))]
    return [kinds, *single] if most > 1 else [kinds]


class _Rows:
    """Rows of shapes, each set down as low as it goes and then as far left, and what each beginning of a row came to."""

    def __init__(self, kinds: Kinds, inner: Bounds) -> None:
        self._kinds, self._inner = kinds, inner
        self._begun: dict[tuple[int, ...], tuple[_Sheet, ...]] = {(): ()}

    def laid_out(self, shapes: Sequence[Shape], most: int | None = None) -> tuple[_Sheet, ...] | None:
        """None where they take more than `most` sheets."""
        numbers = {shape: number for number, shape in enumerate(self._kinds)}
        row = tuple(numbers[shape] for shape in shapes)
        done = next(end for end in range(len(row), -1, -1) if row[:end] in self._begun)
        for end in range(done, len(row)):
            self._begun[row[: end + 1]] = self._added(self._begun[row[:end]], self._kinds[shapes[end]], end)
            if most is not None and len(self._begun[row[: end + 1]]) > most:
                return None
        return self._begun[row] if most is None or len(self._begun[row]) <= most else None

    def _added(self, sheets: tuple[_Sheet, ...], bodies: Iterable[Body], rank: int) -> tuple[_Sheet, ...]:
        """Onto the first sheet that has room, the least high of its turns."""
        for at, sheet in enumerate((*sheets, _Sheet())):
            spots = [(spot, body) for body in bodies if (spot := _spot(sheet, body, self._inner)) is not None]
            if spots:
                (_, x, y), body = min(spots, key=lambda pair: pair[0])
                return (*sheets[:at], sheet.holding(_Lying(rank, body, x, y)), *sheets[at + 1 :])
        raise AssertionError("bodies that fit no sheet were left out")


def _spot(sheet: _Sheet, body: Body, inner: Bounds) -> tuple[float, float, float] | None:
    """The body's top at its lowest free place, and the place; None when the sheet has none."""
    frame = _inner_box(body, inner)
    assert frame is not None  # bodies that fit no sheet were left out
    seen, free = sheet.free.get(body, (0, box(*frame).buffer(SLACK_MM / 2, join_style="mitre")))
    for other in sheet.placed[seen:]:
        free = less(free, affinity.translate(no_go(other.body, body), other.x, other.y))
    sheet.free[body] = (len(sheet.placed), free)
    if free.is_empty:
        return None
    left, bottom, right, top = frame
    corners = shapely.get_coordinates(free).tolist()
    x, y = min(corners, key=lambda p: (round(p[1], 4), p[0]))
    x, y = min(max(x, left), right), min(max(y, bottom), top)
    return round(y + body.bounds[3], 4), x, y


def _inner_box(body: Body, inner: Bounds) -> Bounds | None:
    """Where the body's origin may lie on the sheet, or None when it is too large."""
    left, bottom, right, top = (limit - edge for limit, edge in zip(inner, body.bounds, strict=True))
    if right < left - SLACK_MM or top < bottom - SLACK_MM:
        return None
    return left, bottom, max(left, right), max(bottom, top)
