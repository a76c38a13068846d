"""Pieces set out on one kiln shelf of any convex shape, by their outlines: what fits, and where. Millimetres.

Equal round pieces on a round or rectangular shelf are packed by `packing` too. All else is set down one after the other: a piece may
stand wherever it lies on the shelf and outside the no-go zones of those that stand already (the sum of the one outline and the other
turned inside out), and takes the best corner of what is free. Several ways of choosing are tried; the fullest shelf wins. Hollow
outlines count as their hull: pieces are not hooked into one another.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import lru_cache
from math import hypot

import shapely
from shapely import affinity
from shapely.geometry import MultiPoint, Polygon
from shapely.geometry.base import BaseGeometry

from lessonkit.geometry.faults import need_length
from lessonkit.geometry.packing import discs_in_circle, discs_in_rectangle
from lessonkit.geometry.shape import Point, Shape, bounds, polygon_of, turned, whole

_SLACK_MM = 1e-6  # pieces may touch; what rounding makes of a touch is no overlap
_COARSE_MM = 0.25  # curves are rounded up by this, to have few corners
_ROUND_MM = 0.05
_QUARTERS = (0.0, 90.0, 180.0, 270.0)
_WAYS_TO_TURN = (_QUARTERS, (0.0,), (90.0,), (0.0, 180.0))

_Choice = Callable[[float, float], tuple[float, float]]  # the spot with the smallest value is taken
_CHOICES: tuple[_Choice, ...] = (
    lambda x, y: (round(y, 3), x),  # rows from below
    lambda x, y: (-round(hypot(x, y), 3), y),  # along the rim
    lambda x, y: (round(hypot(x, y), 3), y),  # around the middle
)


@dataclass(frozen=True, slots=True)
class ShelfPlace:
    """A piece of the kind `index`, turned counter-clockwise about its origin, which then lies at (x, y) from the shelf's."""

    index: int
    x: float
    y: float
    turn_deg: float = 0.0


@lru_cache(maxsize=64)
def set_out(shelf: Shape, kinds: tuple[tuple[Shape, int], ...], gap_mm: float = 0.0, margin_mm: float = 0.0) -> tuple[ShelfPlace, ...]:
    """Places for as many as fit of so many pieces of each kind, the first kinds first; `gap_mm` between pieces, `margin_mm` at the rim.

    Nothing where nothing fits, or counts are 0. A shelf that is not convex counts as its hull. GeometryError for lengths below 0.
    """
    need_length("gap", gap_mm)
    need_length("margin", margin_mm)
    wanted = [(index, shape, count) for index, (shape, count) in enumerate(kinds) if count > 0]
    total = sum(count for *_, count in wanted)
    best = _discs(shelf, wanted, gap_mm, margin_mm)
    if len(best) == total:
        return best
    table = polygon_of(whole(shelf)).convex_hull.simplify(_COARSE_MM / 8).buffer(_SLACK_MM - margin_mm, join_style="mitre")
    tried: set[tuple[tuple[float, ...], ...]] = set()
    for turns in _WAYS_TO_TURN:
        kept = tuple(_turns_that_differ(shape, turns) for _, shape, _ in wanted)
        for choice in _CHOICES if kept not in tried else ():
            best = max(best, _filled(table, wanted, kept, gap_mm, choice), key=len)
            if len(best) == total:
                return best
        tried.add(kept)
    return best


def _discs(shelf: Shape, wanted: Sequence[tuple[int, Shape, int]], gap_mm: float, margin_mm: float) -> tuple[ShelfPlace, ...]:
    """Equal discs as `packing` places them, where there is nothing else and the shelf is a circle or a rectangle; else none."""
    across = _disc_across(wanted[0][1]) if len(wanted) == 1 else None
    if across is None:
        return ()
    left, bottom, right, top = bounds(shelf)
    places: tuple[Point, ...] = ()
    if shelf_across := _disc_across(shelf):
        places = discs_in_circle(shelf_across, across, gap_mm, margin_mm)
    elif abs(Polygon(shelf.outline).area - (right - left) * (top - bottom)) < _SLACK_MM:
        places = discs_in_rectangle(right - left, top - bottom, across, gap_mm, margin_mm)
    index, shape, count = wanted[0]
    (mx, my), (px, py) = _middle(shelf), _middle(shape)
    return tuple(ShelfPlace(index, x + mx - px, y + my - py) for x, y in places[:count])


def _disc_across(shape: Shape) -> float | None:
    """The diameter of a circle; None for another outline."""
    mx, my = _middle(shape)
    reaches = [hypot(x - mx, y - my) for x, y in shape.outline]
    return 2 * max(reaches) if len(reaches) > 15 and max(reaches) - min(reaches) < _ROUND_MM else None


def _middle(shape: Shape) -> Point:
    left, bottom, right, top = bounds(shape)
    return (left + right) / 2, (bottom + top) / 2


# --- one after the other ---


@dataclass(slots=True, eq=False)
class _Body:
    """A kind at one turn: its hull with half the gap around it, and the places of its origin that are still free."""

    turn_deg: float
    hull: BaseGeometry
    free: BaseGeometry


def _filled(
    table: BaseGeometry, wanted: Sequence[tuple[int, Shape, int]], turns: Sequence[Sequence[float]], gap_mm: float, choice: _Choice
) -> tuple[ShelfPlace, ...]:
    bodies = [[_body(table, shape, turn, gap_mm) for turn in own] for (_, shape, _), own in zip(wanted, turns, strict=True)]
    zones: dict[tuple[_Body, _Body], BaseGeometry] = {}
    placed: list[ShelfPlace] = []
    for (index, _, count), own in zip(wanted, bodies, strict=True):
        for _ in range(count):
            spots = [(choice(x, y), x, y, n) for n, body in enumerate(own) for x, y in shapely.get_coordinates(body.free).tolist()]
            if not spots:
                break
            _, x, y, n = min(spots)
            placed.append(ShelfPlace(index, x, y, own[n].turn_deg))
            for other in (other for group in bodies for other in group):
                if (own[n], other) not in zones:
                    zones[own[n], other] = _no_go(own[n], other)
                other.free = other.free.difference(affinity.translate(zones[own[n], other], x, y))
    return tuple(placed)


def _turns_that_differ(shape: Shape, turns: Sequence[float]) -> tuple[float, ...]:
    kept: dict[float, BaseGeometry] = {}
    for turn in turns:
        outline = _hull(shape, turn)
        if not any(other.symmetric_difference(outline).area < 1e-6 * outline.area for other in kept.values()):
            kept[turn] = outline
    return tuple(kept)


def _hull(shape: Shape, turn_deg: float) -> BaseGeometry:
    return polygon_of(whole(turned(shape, turn_deg))).convex_hull


def _body(table: BaseGeometry, shape: Shape, turn_deg: float, gap_mm: float) -> _Body:
    outline = _hull(shape, turn_deg)
    coarse = outline.simplify(_COARSE_MM)
    hull = coarse if coarse.equals(outline) else coarse.buffer(_COARSE_MM, join_style="mitre").convex_hull
    return _Body(turn_deg, hull.buffer(gap_mm / 2 - _SLACK_MM, join_style="mitre"), _on_the_table(table, hull))


def _on_the_table(table: BaseGeometry, hull: BaseGeometry) -> BaseGeometry:
    """The places of a hull's origin at which all of it lies on the table, which is convex."""
    free = table
    for x, y in shapely.get_coordinates(hull)[:-1].tolist():
        free = free.intersection(affinity.translate(table, -x, -y))
    return free


def _no_go(fixed: _Body, moving: _Body) -> BaseGeometry:
    """The places of `moving`'s origin at which it overlaps `fixed` with its own at (0, 0)."""
    here, there = (shapely.get_coordinates(body.hull)[:-1] for body in (fixed, moving))
    return MultiPoint((here[:, None] - there).reshape(-1, 2)).convex_hull
