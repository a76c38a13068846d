"""Flat pieces laid out on rectangular sheets (slabs, card, board) so that few sheets are used and nothing overlaps.

A piece may stand wherever its middle is in the sheet's inner box but in none of the placed pieces' no-go zones: the sum of
the placed outline and the new one turned inside out (Minkowski). Outlines that are not convex are cut into convex parts
first. Of all free places the lowest is taken, then the leftmost; several orders are tried, the fewest sheets win.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from functools import lru_cache
from itertools import product
from math import ceil, pi
from typing import NamedTuple, TypeVar

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import affinity
from shapely.geometry import Polygon, box
from shapely.geometry.base import BaseGeometry
from shapely.geometry.polygon import orient

from lessonkit.geometry.faults import GeometryError, need_length, need_sizes, number
from lessonkit.geometry.shape import Bounds, Shape, area_mm2, bounds, less, polygon_of, turned, union_of, whole

_SLACK_MM = 1e-6  # pieces may touch; what rounding makes of a touch is no overlap
_COARSE_MM = 0.3  # a hollow outline is rounded up by this, to have few corners


@dataclass(frozen=True, slots=True)
class Placement:
    """Where a piece lies: turned about its origin by `turn_deg`, then moved by (x, y) from the lower left of its sheet."""

    index: int
    sheet: int
    x: float
    y: float
    turn_deg: float


class _Outline(NamedTuple):
    """One outline with half the gap around it, cut into convex parts."""

    bounds: Bounds
    parts: tuple[Polygon, ...]


@dataclass(frozen=True, slots=True, eq=False)
class _Body:
    """One outline at one turn."""

    outline: _Outline
    turn_deg: float
    bounds: Bounds


class _Lying(NamedTuple):
    """What was set as number `rank` of its row."""

    rank: int
    body: _Body
    x: float
    y: float


@dataclass(frozen=True, slots=True)
class _Sheet:
    placed: tuple[_Lying, ...] = ()
    free: dict[_Body, tuple[int, BaseGeometry]] = field(default_factory=dict)

    def holding(self, one: _Lying) -> _Sheet:
        return _Sheet((*self.placed, one), self.free.copy())


Turned = TypeVar("Turned", bound=BaseGeometry)
Vectors = NDArray[np.float64]
Kinds = dict[Shape, tuple[_Body, ...]]  # the turns at which a shape may lie


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
            kinds[shape] = tuple(b for b in _bodies(shape, gap, tuple(turns_deg)) if _inner_box(b, self._inner) is not None)
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

    def _added(self, sheets: tuple[_Sheet, ...], bodies: Iterable[_Body], rank: int) -> tuple[_Sheet, ...]:
        """Onto the first sheet that has room, the least high of its turns."""
        for at, sheet in enumerate((*sheets, _Sheet())):
            spots = [(spot, body) for body in bodies if (spot := _spot(sheet, body, self._inner)) is not None]
            if spots:
                (_, x, y), body = min(spots, key=lambda pair: pair[0])
                return (*sheets[:at], sheet.holding(_Lying(rank, body, x, y)), *sheets[at + 1 :])
        raise AssertionError("bodies that fit no sheet were left out")


def _spot(sheet: _Sheet, body: _Body, inner: Bounds) -> tuple[float, float, float] | None:
    """The body's top at its lowest free place, and the place; None when the sheet has none."""
    frame = _inner_box(body, inner)
    assert frame is not None  # bodies that fit no sheet were left out
    seen, free = sheet.free.get(body, (0, box(*frame).buffer(_SLACK_MM / 2, join_style="mitre")))
    for other in sheet.placed[seen:]:
        free = less(free, affinity.translate(_no_go(other.body, body), other.x, other.y))
    sheet.free[body] = (len(sheet.placed), free)
    if free.is_empty:
        return None
    left, bottom, right, top = frame
    corners = shapely.get_coordinates(free).tolist()
    x, y = min(corners, key=lambda p: (round(p[1], 4), p[0]))
    x, y = min(max(x, left), right), min(max(y, bottom), top)
    return round(y + body.bounds[3], 4), x, y


def _inner_box(body: _Body, inner: Bounds) -> Bounds | None:
    """Where the body's origin may lie on the sheet, or None when it is too large."""
    left, bottom, right, top = (limit - edge for limit, edge in zip(inner, body.bounds, strict=True))
    if right < left - _SLACK_MM or top < bottom - _SLACK_MM:
        return None
    return left, bottom, max(left, right), max(bottom, top)


@lru_cache(maxsize=8)
def _bodies(shape: Shape, gap: float, turns_deg: tuple[float, ...]) -> tuple[_Body, ...]:
    """The shape's different turns."""
    bodies: list[_Body] = []
    outlines: list[Polygon] = []
    upright = polygon_of(whole(shape))
    parts = _Outline(upright.bounds, _convex_parts(upright, gap))
    for turn in turns_deg:
        outline = _turned(upright, turn)
        if not any(o.symmetric_difference(outline).area < 1e-6 * o.area for o in outlines):
            outlines.append(outline)
            bodies.append(_Body(parts, turn, outline.bounds))
    return tuple(bodies)


def _turned(geometry: Turned, deg: float) -> Turned:
    turned_about_origin: Turned = affinity.rotate(geometry, deg, origin=(0, 0)) if deg % 360 else geometry
    return turned_about_origin


def _convex_parts(outline: Polygon, gap: float) -> tuple[Polygon, ...]:
    """Convex polygons that together cover the outline with half the gap around it."""
    if outline.convex_hull.area - outline.area < 1e-6 * outline.area:
        return (outline.convex_hull.buffer(gap / 2 - _SLACK_MM, join_style="mitre"),)
    coarse = len(outline.exterior.coords) > 40
    if coarse:
        outline = Polygon(outline.simplify(_COARSE_MM).buffer(_COARSE_MM, join_style="mitre").exterior)
    grown = outline.buffer(gap / 2 - _SLACK_MM, join_style="mitre")
    triangles = [t for piece in shapely.get_parts(grown) for t in shapely.get_parts(shapely.constrained_delaunay_triangles(piece))]
    return tuple(_merged([t for t in triangles if t.area > 0], _COARSE_MM if coarse else 0.0))


def _merged(parts: list[Polygon], leeway_mm: float) -> list[Polygon]:
    """Fewer convex parts: neighbours are joined as long as their union is convex, or as near to it as the leeway."""
    done: list[Polygon] = []
    while parts:
        part = parts.pop()
        for other in parts:
            union = part.union(other)
            hull = union.convex_hull
            if not isinstance(union, Polygon) or not isinstance(hull, Polygon):
                continue
            if hull.area - union.area < 1e-9 * union.area or hull.hausdorff_distance(union) < leeway_mm:
                parts.remove(other)
                parts.append(hull)
                break
        else:
            done.append(part)
    return done


@lru_cache(maxsize=512)
def _no_go(fixed: _Body, moving: _Body) -> BaseGeometry:
    """The places of `moving`'s origin at which it overlaps `fixed` with its own at (0, 0). Two that are turned together have
    theirs turned with them; and what one may not do to the other, the other may not to it."""
    turn = (moving.turn_deg - fixed.turn_deg) % 360
    if (moving.outline.bounds, 360 - turn) < (fixed.outline.bounds, turn):
        return _turned(_no_go_upright(moving.outline, fixed.outline, -turn % 360), fixed.turn_deg + turn + 180)
    return _turned(_no_go_upright(fixed.outline, moving.outline, turn), fixed.turn_deg)


@lru_cache(maxsize=64)
def _no_go_upright(fixed: _Outline, moving: _Outline, turn_deg: float) -> BaseGeometry:
    """The same where only the one that moves is turned."""
    those, these = [_sides(part) for part in fixed.parts], [_sides(_turned(part, turn_deg + 180)) for part in moving.parts]
    rings = [_convex_sum(a, b) for a in those for b in these]
    sums = shapely.linearrings(np.concatenate(rings), indices=np.repeat(np.arange(len(rings)), [len(ring) for ring in rings]))
    return union_of(shapely.polygons(sums).tolist())


class _Sides(NamedTuple):
    """A convex outline's lowest corner, then its sides in turn, and their directions."""

    lowest: Vectors
    sides: Vectors
    directions: Vectors


def _sides(polygon: Polygon) -> _Sides:
    ring = np.array(orient(polygon).exterior.coords)
    sides = np.diff(ring, axis=0)
    return _Sides(ring[np.lexsort((ring[:, 0], ring[:, 1]))[0]], sides, np.arctan2(sides[:, 1], sides[:, 0]) % (2 * pi))


def _convex_sum(a: _Sides, b: _Sides) -> Vectors:
    """Round all sums of a point of one convex polygon and a point of the other: both outlines' sides, ordered by direction."""
    every = np.concatenate((a.sides, b.sides))
    order = np.argsort(np.concatenate((a.directions, b.directions)), kind="stable")
    start: Vectors = a.lowest + b.lowest
    return start + np.concatenate([np.zeros((1, 2)), np.cumsum(every[order], axis=0)[:-1]])
