"""Flat pieces laid out on rectangular sheets (slabs, card, board) so that few sheets are used and nothing overlaps.

A piece may stand wherever its middle is in the sheet's inner box but in none of the placed pieces' no-go zones: the sum of
the placed outline and the new one turned inside out (Minkowski). Outlines that are not convex are cut into convex parts
first. Of all free places the lowest is taken, then the leftmost; several orders are tried, the fewest sheets win.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from functools import lru_cache
from math import ceil, pi

import numpy as np
import shapely
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


@dataclass(frozen=True, slots=True, eq=False)
class _Body:
    """One outline at one turn, with half the gap around it."""

    turn_deg: float
    bounds: Bounds
    parts: tuple[Polygon, ...]


@dataclass(slots=True)
class _Sheet:
    placed: list[tuple[_Body, float, float]] = field(default_factory=list)
    free: dict[_Body, tuple[int, BaseGeometry]] = field(default_factory=dict)


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
    need_sizes(sheet_wide=sheet_wide, sheet_tall=sheet_tall)
    need_length("gap", gap)
    need_length("margin", margin)
    inner = (margin, margin, sheet_wide - margin, sheet_tall - margin)
    kinds: dict[Shape, tuple[_Body, ...]] = {}
    for shape in shapes:
        if shape not in kinds:
            kinds[shape] = tuple(b for b in _bodies(shape, gap, tuple(turns_deg)) if _inner_box(b, inner) is not None)
            if not kinds[shape]:
                left, bottom, right, top = bounds(shape)
                raise GeometryError(
                    f"a piece of {number(right - left)} x {number(top - bottom)} mm does not fit a sheet of "
                    f"{number(sheet_wide)} x {number(sheet_tall)} mm.",
                    "Use a larger sheet, or make the piece of several parts.",
                )
    least = ceil(sum(area_mm2(whole(s)) for s in shapes) / ((inner[2] - inner[0]) * (inner[3] - inner[1])) - 1e-9)
    zones: dict[tuple[_Body, _Body], BaseGeometry] = {}
    best: tuple[Placement, ...] | None = None
    for choice in _choices(kinds):
        for order in _orders(shapes):
            found = _laid_out(shapes, order, choice, inner, zones)
            if best is None or _effort(found, shapes) < _effort(best, shapes):
                best = found
            if _sheets(best) <= max(1, least):
                return best
    return best or ()


def _sheets(placements: Iterable[Placement]) -> int:
    return max((p.sheet + 1 for p in placements), default=0)


def _effort(placements: Sequence[Placement], shapes: Sequence[Shape]) -> tuple[int, float]:
    """Sheets, then how far up the last sheet is used."""
    last = _sheets(placements) - 1
    return last + 1, max(bounds(turned(shapes[p.index], p.turn_deg))[3] + p.y for p in placements if p.sheet == last)


def _choices(kinds: dict[Shape, tuple[_Body, ...]]) -> list[dict[Shape, tuple[_Body, ...]]]:
    """All turns of each piece; then each piece at one turn only, which sometimes packs tighter."""
    most = max((len(bodies) for bodies in kinds.values()), default=0)
    single: list[dict[Shape, tuple[_Body, ...]]] = [
        {shape: (bodies[min(i, len(bodies) - 1)],) for shape, bodies in kinds.items()} for i in range(min(most, 2))
    ]
    return [kinds, *single] if most > 1 else [kinds]


def _orders(shapes: Sequence[Shape]) -> list[list[int]]:
    def size(i: int) -> tuple[float, float]:
        left, bottom, right, top = bounds(shapes[i])
        return right - left, top - bottom

    everything = list(range(len(shapes)))
    return [
        sorted(everything, key=lambda i: -area_mm2(whole(shapes[i]))),
        sorted(everything, key=lambda i: -max(size(i))),
    ]


def _laid_out(
    shapes: Sequence[Shape],
    order: Sequence[int],
    kinds: dict[Shape, tuple[_Body, ...]],
    inner: Bounds,
    zones: dict[tuple[_Body, _Body], BaseGeometry],
) -> tuple[Placement, ...]:
    sheets: list[_Sheet] = []
    found = []
    for index in order:
        for number_of_sheet in range(len(sheets) + 1):
            if number_of_sheet == len(sheets):
                sheets.append(_Sheet())
            sheet = sheets[number_of_sheet]
            spots = [(spot, body) for body in kinds[shapes[index]] if (spot := _spot(sheet, body, inner, zones)) is not None]
            if spots:
                (_, x, y), body = min(spots, key=lambda pair: pair[0])
                sheet.placed.append((body, x, y))
                found.append(Placement(index, number_of_sheet, x, y, body.turn_deg))
                break
    return tuple(sorted(found, key=lambda p: p.index))


def _spot(
    sheet: _Sheet, body: _Body, inner: Bounds, zones: dict[tuple[_Body, _Body], BaseGeometry]
) -> tuple[float, float, float] | None:
    """The body's top at its lowest free place, and the place; None when the sheet has none."""
    frame = _inner_box(body, inner)
    assert frame is not None  # bodies that fit no sheet were left out
    seen, free = sheet.free.get(body, (0, box(*frame).buffer(_SLACK_MM / 2, join_style="mitre")))
    for other, x, y in sheet.placed[seen:]:
        if (other, body) not in zones:
            zones[other, body] = _no_go(other, body)
        free = less(free, affinity.translate(zones[other, body], x, y))
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


@lru_cache(maxsize=64)  # the same parts are tried for one learner, for two, for three
def _bodies(shape: Shape, gap: float, turns_deg: tuple[float, ...]) -> tuple[_Body, ...]:
    """The shape's different turns."""
    bodies: list[_Body] = []
    outlines: list[Polygon] = []
    for turn in turns_deg:
        outline = polygon_of(whole(turned(shape, turn)))
        if not any(o.symmetric_difference(outline).area < 1e-6 * o.area for o in outlines):
            outlines.append(outline)
            bodies.append(_Body(turn, outline.bounds, _convex_parts(outline, gap)))
    return tuple(bodies)


def _convex_parts(outline: Polygon, gap: float) -> tuple[Polygon, ...]:
    """Convex polygons that together cover the outline with half the gap around it."""
    if outline.convex_hull.area - outline.area < 1e-6 * outline.area:
        return (outline.convex_hull.buffer(gap / 2 - _SLACK_MM, join_style="mitre"),)
    if len(outline.exterior.coords) > 40:
        outline = Polygon(outline.simplify(_COARSE_MM).buffer(_COARSE_MM, join_style="mitre").exterior)
    grown = outline.buffer(gap / 2 - _SLACK_MM, join_style="mitre")
    triangles = [
        t for piece in shapely.get_parts(grown) for t in shapely.get_parts(shapely.constrained_delaunay_triangles(piece))
    ]
    return tuple(_merged([t for t in triangles if t.area > 0]))


def _merged(parts: list[Polygon]) -> list[Polygon]:
    """Fewer convex parts: neighbours are joined as long as their union is convex."""
    done: list[Polygon] = []
    while parts:
        part = parts.pop()
        for other in parts:
            union = part.union(other)
            if isinstance(union, Polygon) and union.convex_hull.area - union.area < 1e-9 * union.area:
                parts.remove(other)
                parts.append(union)
                break
        else:
            done.append(part)
    return done


@lru_cache(maxsize=512)
def _no_go(fixed: _Body, moving: _Body) -> BaseGeometry:
    """The places of `moving`'s origin at which it overlaps `fixed` with its own at (0, 0)."""
    return union_of([_convex_sum(a, shapely.transform(b, np.negative)) for a in fixed.parts for b in moving.parts])


def _convex_sum(a: Polygon, b: Polygon) -> Polygon:
    """All sums of a point of one convex polygon and a point of the other: both outlines' sides, ordered by direction."""
    sides, start = [], np.zeros(2)
    for polygon in (a, b):
        ring = np.array(orient(polygon).exterior.coords)
        start += ring[np.lexsort((ring[:, 0], ring[:, 1]))[0]]
        sides.append(np.diff(ring, axis=0))
    every = np.concatenate(sides)
    order = np.argsort(np.arctan2(every[:, 1], every[:, 0]) % (2 * pi), kind="stable")
    return Polygon(start + np.concatenate([np.zeros((1, 2)), np.cumsum(every[order], axis=0)[:-1]]))
