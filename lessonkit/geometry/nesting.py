"""Flat pieces laid out on rectangular sheets (slabs, card, board) so that few sheets are used and nothing overlaps.

A piece may stand wherever its middle is in the sheet's inner box but in none of the placed pieces' no-go zones (`bodies.py`). Of
all free places the lowest is taken, then the leftmost; several orders are tried, the fewest sheets win.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from itertools import product
from math import ceil, inf
from typing import NamedTuple

import numpy as np
import shapely
from shapely.geometry import box
from shapely.geometry.base import BaseGeometry

from lessonkit.geometry.bodies import HAIR_MM, SLACK_MM, Body, bodies_of, no_go
from lessonkit.geometry.faults import GeometryError, need_length, need_sizes, number
from lessonkit.geometry.shape import Bounds, Point, Shape, area_mm2, bounds, less, whole


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


Row = Sequence[int]  # of kinds of pieces, by their numbers
Kinds = Sequence[tuple[Body, ...]]  # of each kind the turns at which it may lie


def nested_sets(
    shapes: Sequence[Shape], sheet_wide: float, sheet_tall: float, gap: float = 0.0, margin: float = 0.0, most: int = 24
) -> tuple[tuple[Placement, ...], int]:
    """As many sets of these shapes as one sheet is enough for, up to `most`: their places, set after set, and how many they are.
    Where even one set needs several sheets, that one. Openings are not used for other pieces. Millimetres.

    `gap` is kept between pieces, `margin` at the sheet's edge. GeometryError when a piece fits no sheet at any quarter turn.
    """
    row, kinds = _kinds(shapes)
    nesting = _Nesting(kinds, sheet_wide, sheet_tall, gap, margin)
    places, sets = nesting.fewest(row), 1
    while _sheets(places) == 1 and sets < most and (more := nesting.on_one(row * (sets + 1))):
        places, sets = more, sets + 1
    return places, sets


def _kinds(shapes: Sequence[Shape]) -> tuple[list[int], list[Shape]]:
    """Of each shape the number of its kind, and one of each kind."""
    numbers: dict[Shape, int] = {}
    return [numbers.setdefault(shape, len(numbers)) for shape in shapes], list(numbers)


class _Nesting:
    """Kinds of pieces for sheets of one size, and every row of them that was laid out so far: the next is often one more than
    the last."""

    def __init__(self, kinds: Iterable[Shape], sheet_wide: float, sheet_tall: float, gap: float, margin: float) -> None:
        need_sizes(sheet_wide=sheet_wide, sheet_tall=sheet_tall)
        need_length("gap", gap)
        need_length("margin", margin)
        self._inner = (margin, margin, sheet_wide - margin, sheet_tall - margin)
        self._kinds: list[tuple[Body, ...]] = []
        self._areas: list[float] = []
        self._longest: list[float] = []
        for shape in kinds:
            self._kinds.append(tuple(b for b in bodies_of(shape, gap) if _inner_box(b, self._inner) is not None))
            self._areas.append(area_mm2(whole(shape)))
            self._longest.append(_longest(shape))
            if not self._kinds[-1]:
                left, bottom, right, top = bounds(shape)
                raise GeometryError(
                    f"a piece of {number(right - left)} x {number(top - bottom)} mm does not fit a sheet of "
                    f"{number(sheet_wide)} x {number(sheet_tall)} mm.",
                    "Use a larger sheet, or make the piece of several parts.",
                )
        self._rows = [_Rows(choice, self._inner) for choice in _choices(self._kinds)]

    def fewest(self, row: Row) -> tuple[Placement, ...]:
        """The best of all that was tried, or the first that can't be better."""
        best: tuple[Placement, ...] = ()
        least = (inf, inf)
        for rows, order in product(self._rows, self._orders(row)):
            sheets = rows.laid_out([row[i] for i in order]) or ()
            if (effort := _effort(sheets)) < least:
                best, least = _placements(sheets, order), effort
            if least[0] <= max(1, self._least(row)):
                break
        return best

    def on_one(self, row: Row) -> tuple[Placement, ...] | None:
        """The first way that needs no second sheet."""
        if self._least(row) > 1:
            return None
        for rows, order in product(self._rows, self._orders(row)):
            if sheets := rows.laid_out([row[i] for i in order], most=1):
                return _placements(sheets, order)
        return None

    def _orders(self, row: Row) -> list[list[int]]:
        """The largest first, and the longest first."""
        return [sorted(range(len(row)), key=lambda i: -sizes[row[i]]) for sizes in (self._areas, self._longest)]

    def _least(self, row: Row) -> int:
        """No fewer sheets can do: their area."""
        left, bottom, right, top = self._inner
        return ceil(sum(self._areas[kind] for kind in row) / ((right - left) * (top - bottom)) - 1e-9)


def _longest(shape: Shape) -> float:
    left, bottom, right, top = bounds(shape)
    return max(right - left, top - bottom)


def _placements(sheets: Iterable[_Sheet], order: Sequence[int]) -> tuple[Placement, ...]:
    found = [Placement(order[one.rank], number, one.x, one.y, one.body.turn_deg) for number, sheet in enumerate(sheets) for one in sheet.placed]
    return tuple(sorted(found, key=lambda p: p.index))


def _sheets(placements: Iterable[Placement]) -> int:
    return max((p.sheet + 1 for p in placements), default=0)


def _effort(sheets: Sequence[_Sheet]) -> tuple[float, float]:
    """Sheets, then how far up the last sheet is used."""
    return len(sheets), max((one.body.bounds[3] + one.y for sheet in sheets[-1:] for one in sheet.placed), default=0.0)


def _choices(kinds: Kinds) -> list[Kinds]:
    """All turns of each piece; then each piece at one turn only, which sometimes packs tighter."""
    most = max((len(bodies) for bodies in kinds), default=0)
    single: list[Kinds] = [[(bodies[min(i, len(bodies) - 1)],) for bodies in kinds] for i in range(min(most, 2))]
    return [kinds, *single] if most > 1 else [kinds]


class _Rows:
    """Rows of pieces, each set down as low as it goes and then as far left, and what each beginning of a row came to."""

    def __init__(self, kinds: Kinds, inner: Bounds) -> None:
        self._kinds, self._inner = kinds, inner
        self._begun: dict[tuple[int, ...], tuple[_Sheet, ...]] = {(): ()}

    def laid_out(self, kinds: Row, most: float = inf) -> tuple[_Sheet, ...] | None:
        """None where they take more than `most` sheets."""
        row = tuple(kinds)
        done = next(end for end in range(len(row), -1, -1) if row[:end] in self._begun)
        sheets = self._begun[row[:done]]
        for end in range(done, len(row)):
            if len(sheets) > most:
                break
            self._begun[row[: end + 1]] = sheets = self._added(sheets, self._kinds[row[end]], end)
        return sheets if len(sheets) <= most else None

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
    left, bottom, right, top = frame
    seen, free = sheet.free.get(body) or (0, box(left - HAIR_MM, bottom - HAIR_MM, right + HAIR_MM, top + HAIR_MM))
    for other in sheet.placed[seen:]:
        free = _without(free, _moved(no_go(other.body, body), (other.x, other.y)))
    sheet.free[body] = (len(sheet.placed), free)
    if free.is_empty:
        return None
    corners = shapely.get_coordinates(free)
    x, y = corners[np.lexsort((corners[:, 0], corners[:, 1].round(4)))[0]].tolist()
    x, y = min(max(x, left), right), min(max(y, bottom), top)
    return round(y + body.bounds[3], 4), x, y


def _inner_box(body: Body, inner: Bounds) -> Bounds | None:
    """Where the body's origin may lie on the sheet, or None when it is too large."""
    left, bottom, right, top = (limit - edge for limit, edge in zip(inner, body.bounds, strict=True))
    if right < left - SLACK_MM or top < bottom - SLACK_MM:
        return None
    return left, bottom, max(left, right), max(bottom, top)


def _moved(geometry: BaseGeometry, by: Point) -> BaseGeometry:
    moved: BaseGeometry = shapely.transform(geometry, lambda corners: corners + by)
    return moved


def _without(area: BaseGeometry, zone: BaseGeometry) -> BaseGeometry:
    """The area less the zone, in plain numbers; on the grid where what is left and what is gone are not the whole."""
    if not isinstance(area, shapely.GeometryCollection):
        left = shapely.difference(area, zone)
        if abs(left.area + shapely.intersection(area, zone).area - area.area) <= 1e-9 * area.area:
            return left
    return less(area, zone)
