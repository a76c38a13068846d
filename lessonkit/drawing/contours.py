"""One outline for a letter that is drawn as overlapping strokes.

Typefaces are filled by the non-zero rule, and many letters (K, e, t in Andika) are strokes laid over each other. A machine
that follows the outlines, or fills them by the even-odd rule, would cut such a letter apart; merged, it cannot.
Coordinates are whole numbers, so that every comparison is exact.
"""

from __future__ import annotations

from bisect import bisect_left
from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator
from fractions import Fraction

Point = tuple[int, int]
Edge = tuple[Point, Point]


def merged(rings: Iterable[tuple[Point, ...]]) -> tuple[tuple[Point, ...], ...] | None:
    """The border of what closed rings fill by the non-zero rule (y up: the filled side on its left).

    None if the even-odd rule fills the same. Where edges cross, the new corner is rounded to whole coordinates."""
    edges = [(a, b) for ring in rings for a, b in zip(ring, (*ring[1:], *ring[:1]), strict=True) if a != b]
    while (finer := _split(edges)) != edges:
        edges = finer
    windings = _windings(edges)
    if all(abs(right) <= 1 and abs(left) <= 1 for right, left in windings.values()):
        return None
    inside_left = [(a, b) for (a, b), (right, left) in windings.items() if left and not right]
    inside_right = [(b, a) for (a, b), (right, left) in windings.items() if right and not left]
    return tuple(_chained(inside_left + inside_right))


def _split(edges: list[Edge]) -> list[Edge]:
    """The edges, cut wherever one meets another."""
    cuts: list[set[Point]] = [set() for _ in edges]
    for i, j in _near(edges):
        (a, b), (c, d) = edges[i], edges[j]
        if (b == c and _side(a, b, d)) or (a == d and _side(a, b, c)):
            continue  # most only follow each other, round a corner
        at_c, at_d, at_a, at_b = _side(a, b, c), _side(a, b, d), _side(c, d, a), _side(c, d, b)
        cuts[i].update(point for point, side in ((c, at_c), (d, at_d)) if side == 0 and _between(a, b, point))
        cuts[j].update(point for point, side in ((a, at_a), (b, at_b)) if side == 0 and _between(c, d, point))
        if at_a * at_b < 0 and at_c * at_d < 0:
            share = Fraction(at_a, at_a - at_b)
            crossing = (round(a[0] + (b[0] - a[0]) * share), round(a[1] + (b[1] - a[1]) * share))
            cuts[i].add(crossing)
            cuts[j].add(crossing)
    return [part for edge, points in zip(edges, cuts, strict=True) for part in _cut(edge, points)] if any(cuts) else edges


def _near(edges: list[Edge]) -> Iterator[tuple[int, int]]:
    """Pairs of edges whose boxes meet; sorted by their left ends, so that most pairs are never looked at."""
    boxes = sorted([(*sorted((a[0], b[0])), *sorted((a[1], b[1])), i) for i, (a, b) in enumerate(edges)])
    for place, (_, right, low, high, i) in enumerate(boxes, start=1):
        for _, _, other_low, other_high, j in boxes[place : bisect_left(boxes, (right + 1,), place)]:
            if other_low <= high and low <= other_high:
                yield i, j


def _cut(edge: Edge, points: set[Point]) -> Iterator[Edge]:
    a, b = edge
    along = sorted(points - {a, b}, key=lambda p: (p[0] - a[0]) * (b[0] - a[0]) + (p[1] - a[1]) * (b[1] - a[1]))
    yield from zip((a, *along), (*along, b), strict=True)


def _windings(edges: list[Edge]) -> dict[Edge, tuple[int, int]]:
    """How often the rings run around the places just right and just left of each edge, told once for edges that coincide.

    Along a stretch where no other edge meets, the numbers stay the same."""
    turns = Counter(edges)
    heights = [((2 * a[1], 2 * a[0]), (2 * b[1], 2 * b[0]), times) for (a, b), times in turns.items()]
    leaving = Counter([a for a, _ in edges])
    found: dict[Edge, tuple[int, int]] = {}
    end, sides = None, (0, 0)
    for a, b in edges:
        if (a, b) not in found and (b, a) not in found:
            if end != a or leaving[a] > 1:
                right, step = _right_of(a, b, heights), turns[a, b] - turns[b, a]
                sides = (right, right + step) if a[::-1] < b[::-1] else (right - step, right)
            found[a, b], end = sides, b
    return found


def _right_of(a: Point, b: Point, heights: list[tuple[Point, Point, int]]) -> int:
    """How often the rings run around the place just right of an edge, counted along a ray from its middle to +x that sinks by less than any
    number, so that it meets no corner and no edge lies along it: points are compared by y, then x. `heights` are the edges so, doubled, to
    stay whole."""
    height, right = (a[1] + b[1], a[0] + b[0]), 0
    for low, high, times in heights:
        if low <= height < high and _side(low, high, height) < 0:
            right += times
        elif high <= height < low and _side(low, high, height) > 0:
            right -= times
    return right


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
