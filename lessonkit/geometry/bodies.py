"""Outlines that are to be laid out, at each turn at which they may lie, and where one may not stand because of another.

A no-go zone is the sum of the placed outline and the new one turned inside out (Minkowski). Outlines that are not convex are cut
into convex parts first: a sum of two convex outlines has the sides of both, in the order of their directions.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from math import pi
from typing import NamedTuple, TypeVar

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import affinity
from shapely.geometry import Polygon
from shapely.geometry.base import BaseGeometry
from shapely.geometry.polygon import orient

from lessonkit.geometry.shape import Bounds, Shape, polygon_of, union_of, whole

SLACK_MM = 1e-6  # pieces may touch; what rounding makes of a touch is no overlap
_COARSE_MM = 0.3  # a hollow outline is rounded up by this, to have few corners

Turned = TypeVar("Turned", bound=BaseGeometry)
Vectors = NDArray[np.float64]


class _Outline(NamedTuple):
    """One outline with half the gap around it, cut into convex parts."""

    bounds: Bounds
    parts: tuple[Polygon, ...]


@dataclass(frozen=True, slots=True, eq=False)
class Body:
    """One outline at one turn."""

    outline: _Outline
    turn_deg: float
    bounds: Bounds


@lru_cache(maxsize=64)
def bodies_of(shape: Shape, gap: float, turns_deg: tuple[float, ...]) -> tuple[Body, ...]:
    """The shape's different turns."""
    bodies: list[Body] = []
    outlines: list[Polygon] = []
    upright = polygon_of(whole(shape))
    parts = _Outline(upright.bounds, _convex_parts(upright, gap))
    for turn in turns_deg:
        outline = _turned(upright, turn)
        if not any(o.symmetric_difference(outline).area < 1e-6 * o.area for o in outlines):
            outlines.append(outline)
            bodies.append(Body(parts, turn, outline.bounds))
    return tuple(bodies)


def _turned(geometry: Turned, deg: float) -> Turned:
    turned_about_origin: Turned = affinity.rotate(geometry, deg, origin=(0, 0)) if deg % 360 else geometry
    return turned_about_origin


def _convex_parts(outline: Polygon, gap: float) -> tuple[Polygon, ...]:
    """Convex polygons that together cover the outline with half the gap around it."""
    if outline.convex_hull.area - outline.area < 1e-6 * outline.area:
        return (outline.convex_hull.buffer(gap / 2 - SLACK_MM, join_style="mitre"),)
    coarse = len(outline.exterior.coords) > 40
    if coarse:
        outline = Polygon(outline.simplify(_COARSE_MM).buffer(_COARSE_MM, join_style="mitre").exterior)
    grown = outline.buffer(gap / 2 - SLACK_MM, join_style="mitre")
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
def no_go(fixed: Body, moving: Body) -> BaseGeometry:
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
    return union_of(list(shapely.get_parts(shapely.polygons(sums))))


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
    corners: Vectors = a.lowest + b.lowest + np.concatenate([np.zeros((1, 2)), np.cumsum(every[order], axis=0)[:-1]])
    return corners
