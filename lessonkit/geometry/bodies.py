"""Outlines that are to be laid out, at each turn at which they may lie, and where one may not stand because of another.

A no-go zone is the sum of the placed outline and the new one turned inside out (Minkowski). Outlines that are not convex are cut
into convex parts first: a sum of two convex outlines has the sides of both, in the order of their directions.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from math import cos, pi, radians, sin
from typing import TYPE_CHECKING, NamedTuple, TypeVar

import numpy as np
import shapely
from shapely.geometry import MultiPolygon, Polygon
from shapely.geometry.base import BaseGeometry

from lessonkit.forgetting import of_a_lesson
from lessonkit.geometry.shape import Bounds, Shape, polygon_of, union_of, whole

if TYPE_CHECKING:  # numpy's types take a while to load
    from numpy.typing import NDArray

    Numbers = NDArray[np.float64]
    Vectors = NDArray[np.float64]  # two in a row
    Counts = NDArray[np.int_]

SLACK_MM = 1e-6  # pieces may touch; what rounding makes of a touch is no overlap
HAIR_MM = SLACK_MM / 2
_COARSE_MM = 0.3  # a hollow outline is rounded up by this, to have few corners

Turned = TypeVar("Turned", bound=BaseGeometry)


class _Outline(NamedTuple):
    """One outline with half the gap around it, cut into convex parts."""

    bounds: Bounds
    parts: MultiPolygon


@dataclass(frozen=True, slots=True, eq=False)
class Body:
    """One outline at one turn."""

    outline: _Outline
    turn_deg: float
    bounds: Bounds


@of_a_lesson
@lru_cache(maxsize=8)
def bodies_of(shape: Shape, gap: float) -> tuple[Body, ...]:
    """The shape's different quarter turns."""
    upright = polygon_of(whole(shape))
    parts = _Outline(upright.bounds, _convex_parts(upright, gap))
    turns = (0.0,) if _alike(upright, 90.0) else (0.0, 90.0) if _alike(upright, 180.0) else (0.0, 90.0, 180.0, 270.0)
    return tuple(Body(parts, turn, _turned(upright, turn).bounds) for turn in turns)


def _alike(one: Polygon, turn_deg: float) -> bool:
    """Whether it covers the same when turned, but for what rounding makes of it. Most that do not reach to other places, most that
    do have their corners where they were."""
    other = _turned(one, turn_deg)
    if any(abs(a - b) > 1 for a, b in zip(one.bounds, other.bounds, strict=True)):
        return False
    return bool(shapely.equals_exact(one, other, 1e-9, normalize=True)) or one.symmetric_difference(other).area < 1e-6 * one.area


def _turned(geometry: Turned, deg: float) -> Turned:
    """About the origin."""
    if not deg % 360:
        return geometry
    c, s = cos(radians(deg)), sin(radians(deg))
    matrix = np.array(((c, s), (-s, c))).round(15)  # a quarter turn is exact
    turned: Turned = shapely.transform(geometry, lambda corners: corners @ matrix)
    return turned


def _convex_parts(outline: Polygon, gap: float) -> MultiPolygon:
    """Convex polygons that together cover the outline with half the gap around it."""
    if outline.convex_hull.area - outline.area < 1e-6 * outline.area:
        return MultiPolygon([outline.convex_hull.buffer(gap / 2 - SLACK_MM, join_style="mitre")])
    coarse = len(outline.exterior.coords) > 40
    if coarse:
        outline = Polygon(outline.simplify(_COARSE_MM).buffer(_COARSE_MM, join_style="mitre").exterior)
    grown = outline.buffer(gap / 2 - SLACK_MM, join_style="mitre")
    triangles = [t for piece in shapely.get_parts(grown) for t in shapely.get_parts(shapely.constrained_delaunay_triangles(piece))]
    return MultiPolygon(_merged([t for t in triangles if t.area > 0], _COARSE_MM if coarse else 0.0))


def _merged(parts: list[Polygon], leeway_mm: float) -> list[Polygon]:
    """Fewer convex parts: neighbours are joined as long as their union is convex, or as near to it as the leeway."""
    done: list[Polygon] = []
    while parts:
        part = parts.pop()
        for other in parts:
            if not part.intersects(other):
                continue
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


@of_a_lesson
@lru_cache(maxsize=160)
def no_go(fixed: Body, moving: Body) -> BaseGeometry:
    """The places of `moving`'s origin at which it overlaps `fixed` with its own at (0, 0). Two that are turned together have
    theirs turned with them; and what one may not do to the other, the other may not to it."""
    turn = (moving.turn_deg - fixed.turn_deg) % 360
    if (moving.outline.bounds, 360 - turn) < (fixed.outline.bounds, turn):
        return _turned(_no_go_upright(moving.outline, fixed.outline, -turn % 360), fixed.turn_deg + turn + 180)
    return _turned(_no_go_upright(fixed.outline, moving.outline, turn), fixed.turn_deg)


@of_a_lesson
@lru_cache(maxsize=16)
def _no_go_upright(fixed: _Outline, moving: _Outline, turn_deg: float) -> BaseGeometry:
    """The same where only the one that moves is turned."""
    sums = _convex_sums(_sides(fixed, 0.0), _sides(moving, (turn_deg + 180) % 360))
    return _all_of(sums) if len(sums) > 1 else sums[0]


def _all_of(areas: Sequence[BaseGeometry]) -> BaseGeometry:
    """Their union, in plain numbers, which is several times as fast as on a grid; on the grid where GEOS has lost one of them."""
    union: BaseGeometry = shapely.union_all(areas)
    around = union.buffer(HAIR_MM, join_style="mitre")
    shapely.prepare(around)
    return union if shapely.covers(around, areas).all() else union_of(areas)


class _Sides(NamedTuple):
    """Of convex outlines the lowest corners; and the sides of all, their directions, and which outline each belongs to."""

    lowest: Vectors
    sides: Vectors
    directions: Numbers
    whose: Counts


@of_a_lesson
@lru_cache(maxsize=16)
def _sides(outline: _Outline, turn_deg: float) -> _Sides:
    parts = shapely.orient_polygons(_turned(outline.parts, turn_deg))
    corners, part = shapely.get_coordinates(shapely.get_parts(parts), return_index=True)
    sides, along = np.diff(corners, axis=0), part[1:] == part[:-1]
    order = np.lexsort((corners[:, 0], corners[:, 1], part))
    lowest = corners[order[np.diff(part[order], prepend=-1) > 0]]
    return _Sides(lowest, sides[along], np.arctan2(sides[along, 1], sides[along, 0]) % (2 * pi), part[1:][along])


def _convex_sums(these: _Sides, those: _Sides) -> list[BaseGeometry]:
    """Of each of these and each of those round all sums of a point of the one and a point of the other: the sides of both, ordered
    by direction."""
    many, others = len(these.lowest), len(those.lowest)
    whose = np.concatenate(((these.whose[:, None] * others + np.arange(others)).ravel(), (np.arange(many)[:, None] * others + those.whose).ravel()))
    sides = np.concatenate((np.repeat(these.sides, others, axis=0), np.tile(those.sides, (many, 1))))
    order = np.lexsort((np.concatenate((np.repeat(these.directions, others), np.tile(those.directions, many))), whose))
    sides, whose = sides[order], whose[order]
    lowest = (these.lowest[:, None] + those.lowest).reshape(-1, 2)
    rings = shapely.linearrings(lowest[whose] + np.cumsum(sides, axis=0) - sides, indices=whose)  # each ring's sides come to nothing
    return list(shapely.get_parts(shapely.polygons(rings)))
