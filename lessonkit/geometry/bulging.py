"""Outlines that bulge everywhere, as most plates do: what plain arithmetic can say of them for sure, and at once.

Such an outline is all that lies to the left of each of its sides. A function here that says no, or gives nothing, leaves the
question open."""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache
from itertools import pairwise
from math import hypot
from typing import TYPE_CHECKING, NamedTuple

from lessonkit.forgetting import of_a_lesson

if TYPE_CHECKING:
    from lessonkit.geometry.shape import Ring

CLEAR_MM = 0.5  # so far from every edge nothing is left to doubt
_MOST_RINGS = 24  # beside which a ring is looked at: the libraries are quicker for more
_STRAIGHT = 1e-4  # the sine of a bend too small to say where two sides cross
_SHORTEST_MM = 1e-6


def bulges(ring: Ring) -> bool:
    """Whether a simple ring turns to the left, or not at all, at each of its points."""
    (ax, ay), (bx, by) = ring[-2], ring[-1]
    for x, y in ring:
        if (bx - ax) * (y - by) < (by - ay) * (x - bx):
            return False
        ax, ay, bx, by = bx, by, x, y
    return True


class _Side(NamedTuple):
    """A straight side: a place lies `x * px + y * py - at` to its left."""

    x: float
    y: float
    at: float


@of_a_lesson
@lru_cache(maxsize=4)  # everything on a plate is held against the one outline
def _sides(ring: Ring) -> tuple[_Side, ...]:
    """The sides of a ring that bulges, from that which starts at its first point; none of another ring."""
    if not bulges(ring):
        return ()
    sides = []
    for (ax, ay), (bx, by) in pairwise((*ring, ring[0])):
        long = hypot(bx - ax, by - ay) or 1.0  # of a point that repeats nothing is sure
        x, y = (ay - by) / long, (bx - ax) / long
        sides.append(_Side(x, y, x * ax + y * ay))
    return tuple(sides)


class _Frame(NamedTuple):
    """What surely holds a ring: the upright box about it, and the circle about that box's middle."""

    x: float
    y: float
    half_wide: float
    half_tall: float
    radius: float


@of_a_lesson
@lru_cache(maxsize=64)
def _frame(ring: Ring) -> _Frame:
    xs, ys = [x for x, _ in ring], [y for _, y in ring]
    left, right, bottom, top = min(xs), max(xs), min(ys), max(ys)
    x, y = (left + right) / 2, (bottom + top) / 2
    return _Frame(x, y, (right - left) / 2, (top - bottom) / 2, max([hypot(px - x, py - y) for px, py in ring]))


def surely_clear(ring: Ring, outline: Ring, others: Sequence[Ring], mm: float = CLEAR_MM) -> bool:
    """Whether a ring lies inside an outline that bulges and beside all the others, with at least so much in between."""
    return len(others) <= _MOST_RINGS and _within(outline, ring, mm) and all(_apart(ring, other, mm) for other in others)


def _within(outline: Ring, ring: Ring, mm: float) -> bool:
    """Every place of a ring lies so far to the left of a side if all its points do, and they do if the frame about them does."""
    x, y, half_wide, half_tall, radius = _frame(ring)
    sides = _sides(outline)
    for side in sides:
        least = side.at + mm
        reach = min(radius, abs(side.x) * half_wide + abs(side.y) * half_tall)
        if side.x * x + side.y * y - reach < least and min([side.x * px + side.y * py for px, py in ring]) < least:
            return False
    return bool(sides)


def _apart(ring: Ring, other: Ring, mm: float) -> bool:
    """Two rings lie beside each other if their boxes do, or their circles."""
    one, two = _frame(ring), _frame(other)
    dx, dy = abs(one.x - two.x), abs(one.y - two.y)
    gap = max(dx - one.half_wide - two.half_wide, dy - one.half_tall - two.half_tall, hypot(dx, dy) - one.radius - two.radius)
    return gap >= mm


def inset(outline: Ring, mm: float) -> Ring:
    """The edge of all that lies so far inside an outline that bulges; () where it does not, or would lose a side.

    A place lies so far inside if it lies so far to the left of each side. While every side keeps some of its length and its
    direction, the crossings of neighbours make a ring that bulges, and they are the corners of just that."""
    sides = _sides(outline)
    ring: list[tuple[float, float]] = []
    for before, side in pairwise((*sides[-1:], *sides)):
        cross = before.x * side.y - before.y * side.x
        if cross <= _STRAIGHT:
            return ()
        one, two = before.at + mm, side.at + mm
        ring.append(((one * side.y - two * before.y) / cross, (two * before.x - one * side.x) / cross))
    for side, ((ax, ay), (bx, by)) in zip(sides, pairwise((*ring, *ring[:1])), strict=True):
        if (bx - ax) * side.y - (by - ay) * side.x <= _SHORTEST_MM:
            return ()
    return as_cut(tuple(ring), -1)


def as_cut(ring: Ring, start: int) -> Ring:
    """A ring as cutting and growing leave it, to a millionth of a micrometre and from where they start it: whichever way it was
    made, a paper is the same to the last byte."""
    return tuple([(round(x, 9) + 0.0, round(y, 9) + 0.0) for x, y in (*ring[start:], *ring[:start])])
