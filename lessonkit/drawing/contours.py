"""One outline for a letter that is drawn as overlapping strokes.

Typefaces are filled by the non-zero rule, and many letters (K, e, t in Andika) are strokes laid over each other. A machine
that follows the outlines, or fills them by the even-odd rule, would cut such a letter apart; merged, it cannot.
Coordinates are whole numbers, so that every comparison is exact.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator
from fractions import Fraction
from itertools import combinations

Point = tuple[int, int]
Edge = tuple[Point, Point]


def merged(rings: Iterable[tuple[Point, ...]]) -> tuple[tuple[Point, ...], ...] | None:
    """The border of what closed rings fill by the non-zero rule (y up: the filled side on its left).

    None if the even-odd rule fills the same. Where edges cross, the new corner is rounded to whole coordinates."""
    edges = [(a, b) for ring in rings for a, b in zip(ring, (*ring[1:], *ring[:1]), strict=True) if a != b]
    while (finer := _split(edges)) != edges:
        edges = finer
    turns = Counter(edges)
    border, overlap = [], False
    for a, b in dict.fromkeys(min(edge, edge[::-1]) for edge in edges):
        right, left = _windings(a, b, turns)
        overlap = overlap or abs(right) > 1 or abs(left) > 1
        if left and not right:
            border.append((a, b))
        elif right and not left:
            border.append((b, a))
    return tuple(_chained(border)) if overlap else None


def _split(edges: list[Edge]) -> list[Edge]:
    """The edges, cut wherever one meets another."""
    cuts: list[set[Point]] = [set() for _ in edges]
    for (i, (a, b)), (j, (c, d)) in combinations(enumerate(edges), 2):
        if any(max(a[k], b[k]) < min(c[k], d[k]) or max(c[k], d[k]) < min(a[k], b[k]) for k in (0, 1)):
            continue
        at_c, at_d, at_a, at_b = _side(a, b, c), _side(a, b, d), _side(c, d, a), _side(c, d, b)
        cuts[i].update(point for point, side in ((c, at_c), (d, at_d)) if side == 0 and _between(a, b, point))
        cuts[j].update(point for point, side in ((a, at_a), (b, at_b)) if side == 0 and _between(c, d, point))
        if at_a * at_b < 0 and at_c * at_d < 0:
            share = Fraction(at_a, at_a - at_b)
            crossing = (round(a[0] + (b[0] - a[0]) * share), round(a[1] + (b[1] - a[1]) * share))
            cuts[i].add(crossing)
            cuts[j].add(crossing)
    return [part for edge, points in zip(edges, cuts, strict=True) for part in _cut(edge, points)]


def _cut(edge: Edge, points: set[Point]) -> Iterator[Edge]:
    a, b = edge
    along = sorted(points - {a, b}, key=lambda p: (p[0] - a[0]) * (b[0] - a[0]) + (p[1] - a[1]) * (b[1] - a[1]))
    yield from zip((a, *along), (*along, b), strict=True)


def _windings(a: Point, b: Point, turns: Counter[Edge]) -> tuple[int, int]:
    """How often the rings run around a place just right and just left of the edge from `a` up to `b`.

    Counted along a ray from the edge's middle to +x that sinks by less than any number, so that it meets no corner and no
    edge lies along it: points are compared by y, then x."""
    middle_x, middle_y = a[0] + b[0], a[1] + b[1]  # doubled, to stay whole
    height, right = (middle_y, middle_x), 0
    upward = a[::-1] < b[::-1]
    for (c, d), times in turns.items():
        if {c, d} == {a, b}:
            continue
        low, high = (2 * c[1], 2 * c[0]), (2 * d[1], 2 * d[0])
        side = (d[0] - c[0]) * (middle_y - 2 * c[1]) - (d[1] - c[1]) * (middle_x - 2 * c[0])
        if low <= height < high and side > 0:
            right += times
        elif high <= height < low and side < 0:
            right -= times
    step = turns[a, b] - turns[b, a]
    return (right, right + step) if upward else (right - step, right)


def _chained(border: list[Edge]) -> Iterator[tuple[Point, ...]]:
    following: defaultdict[Point, list[Point]] = defaultdict(list)
    for a, b in border:
        following[a].append(b)
    for start in list(following):
        while following[start]:
            ring = [start]
            while (point := following[ring[-1]].pop()) != start:
                ring.append(point)
            yield tuple(ring)


def _side(a: Point, b: Point, point: Point) -> int:
    """Positive if the point lies left of the way from `a` to `b` (y up), zero on it."""
    return (b[0] - a[0]) * (point[1] - a[1]) - (b[1] - a[1]) * (point[0] - a[0])


def _between(a: Point, b: Point, point: Point) -> bool:
    return all(min(a[k], b[k]) <= point[k] <= max(a[k], b[k]) for k in (0, 1))
