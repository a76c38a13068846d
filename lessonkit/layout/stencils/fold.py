"""Half a stencil: which of its lines are cut, which lie on the fold. In the part's own coordinates, the fold upright."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import groupby

from lessonkit.geometry.shape import Line, Ring, Shape, bounds, clip_line

_FAR_MM = 1e5


def cut_lines(half: Shape) -> Iterator[tuple[Line, bool]]:
    """What is cut of a right half, each line with whether it is closed: everything but what lies on the fold."""
    middle = bounds(half)[0]
    for ring in (half.outline, *half.holes):
        if all(x > middle for x, _ in ring):
            yield ring, True
        else:
            yield from ((line, False) for line in _off_the_fold(ring, middle))


def _off_the_fold(ring: Ring, middle: float) -> Iterator[Line]:
    sides = list(zip(ring, ring[1:] + ring[:1], strict=True))
    first = next(i for i, (a, b) in enumerate(sides) if a[0] == b[0] == middle)
    for on_the_fold, run in groupby(sides[first:] + sides[:first], key=lambda side: side[0][0] == side[1][0] == middle):
        if not on_the_fold:
            start, *rest = run
            yield (*start, *(end for _, end in rest))


def kept_of(line: Line, middle: float) -> tuple[Line, ...]:
    """What of a line lies on the fold or to the right of it."""
    return clip_line(line, (middle, -_FAR_MM, _FAR_MM, _FAR_MM))


def other_half(line: Line, middle: float) -> Line:
    return tuple((2 * middle - x, y) for x, y in line)
