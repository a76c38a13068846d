"""The silhouette in an SVG file: closed rings in millimetres, y upwards, by a small reader that trusts nothing.

What counts: `path`, `rect`, `circle`, `ellipse`, `polygon`, and `polyline` and `line` where they close; in groups, links within
the file (`use`, `symbol`) and drawings inside the drawing; with every transform, viewBox and unit (a bare number is 1/96 inch).
The edge of a shape counts, not the width of its line. Its own fill rule tells which rings of one shape are holes; a shape
that lies inside another is an opening in it, whatever its colour.
What does not count: hidden things, things with neither fill nor line, `defs`, clips, masks, markers, patterns, text, pictures.
Bounds: 2 MB, 20,000 elements, 100 of them in one another, 4,000 points, 100 rings, 0.1 mm to 10 m across. Nothing is fetched.
Sources: W3C SVG 2 (chapters 5, 7, 8, 9, 10; appendix B.2), CSS Values and Units 4 for absolute lengths.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from math import dist, inf
from typing import NamedTuple

from lessonkit.source.svg_curves import MOST_POINTS, Point, Subpath, curve_points
from lessonkit.source.svg_drawing import Drawing, drawing
from lessonkit.source.svg_paths import too_many_points
from lessonkit.source.svg_tree import Refused, svg_tree

Ring = tuple[Point, ...]  # the last point joins the first, which is not repeated
Bounds = tuple[float, float, float, float]  # left, bottom, right, top

TOLERANCE_MM = 0.01
_FINEST = 50_000  # a small drawing may be made large: its curves are followed to this part of its larger side
SMALLEST_MM, LARGEST_MM = 0.1, 10_000.0
GAP_MM = 0.1  # ends that lie closer together are meant to meet
_GAP_SHARE = 200  # but never more than this part of a small drawing's larger side
MOST_RINGS = 100
_MOST_MEETINGS = 500_000
FROM_CORNER = "Places count in mm from the lower left corner of the shape."


class Refusal(NamedTuple):
    """Why a drawing is no silhouette (a sentence that follows the file's name), and what to do next."""

    what: str
    hint: str


def read_silhouette(data: bytes) -> tuple[Ring, ...] | Refusal:
    """The rings of the one shape that an SVG file shows, its outline first, then its openings; or why there is none.

    Millimetres from the lower left corner of the shape, y upwards. Curves lie within 0.01 mm, and within 1/50,000 of the
    shape's larger side; the farthest places left, right, up and down are among the points. Whatever the bytes, nothing is
    raised. That no ring crosses itself or another is left to who makes a shape of them (`geometry.combining.from_rings`).
    """
    try:
        return _silhouette(drawing(svg_tree(data)))
    except Refused as refused:
        return Refusal(refused.what, refused.hint)


def _silhouette(found: Drawing) -> tuple[Ring, ...]:
    subpaths = [subpath for shape in found.shapes for subpath in shape.subpaths]
    if not subpaths:
        raise _nothing(found)
    left, bottom, right, top = _bounds([point for subpath in subpaths for point in _points(subpath, inf)])
    larger = max(right - left, top - bottom)
    if not larger:
        raise _nothing(found)
    if not SMALLEST_MM <= larger <= LARGEST_MM:
        raise Refused(f"the drawing is {larger:.3g} mm across.", "Give the page its size in your drawing program: 0.1 mm to 10 m are read.")
    pencil = _Pencil((left, bottom), min(0.9 * TOLERANCE_MM, larger / _FINEST), min(GAP_MM, larger / _GAP_SHARE))
    rings: list[Ring] = []
    for shape in found.shapes:
        own = [ring for subpath in shape.subpaths if (ring := pencil.ring(subpath))]
        if len(rings) + len(own) > MOST_RINGS:
            raise Refused(f"it has more than {MOST_RINGS} outlines and openings.", "Draw one outline with a few openings in it.")
        rings += own if shape.even_odd else _edges_of_fill(own)
    if not rings:
        raise _nothing(found)
    return _one_outline(list(dict.fromkeys(rings)))  # many programs write a shape twice, for its fill and for its line


def _nothing(found: Drawing) -> Refused:
    if "text" in found.holds:
        return Refused("it holds only text.", "Turn the text into paths in your drawing program.")
    if "image" in found.holds:
        return Refused("it holds only a picture.", "Trace the picture's outline in your drawing program.")
    return Refused("nothing is drawn in it.", "Draw one closed outline. Hidden things, and things with neither fill nor line, do not count.")


class _Pencil:
    """Turns subpaths into rings that count from the shape's lower left corner."""

    def __init__(self, origin: Point, tolerance: float, gap: float) -> None:
        self.origin, self.tolerance, self.gap = origin, tolerance, gap
        self._count = 0

    def ring(self, subpath: Subpath) -> Ring | None:
        """None for a dot. Refused for what is open, or encloses nothing."""
        points: list[Point] = []
        for x, y in _points(subpath, self.tolerance):
            point = x - self.origin[0], y - self.origin[1]
            if not points or dist(points[-1], point) > self.tolerance / 10:
                points.append(point)
            self._count += 1
            if self._count > MOST_POINTS:
                raise too_many_points()
        apart = dist(points[0], points[-1])
        if apart > self.gap and not subpath.closed:
            what = f"its outline is open near {_place(points[-1])}: the ends lie {apart:.3g} mm apart."
            raise Refused(what, f"Join the two ends in your drawing program, or delete the stray line. {FROM_CORNER}")
        if apart <= (self.gap / 10 if subpath.closed else self.gap):
            points.pop()
        if len(points) < 2:
            return None
        far = max(points, key=lambda point: dist(points[0], point))
        if max(abs(_side(points[0], far, point)) for point in points) <= self.tolerance * dist(points[0], far):
            raise Refused(f"a line near {_place(points[0])} encloses nothing.", f"Delete it in your drawing program. {FROM_CORNER}")
        return tuple(points)


def _points(subpath: Subpath, tolerance: float) -> list[Point]:
    return [subpath.curves[0].start, *(point for curve in subpath.curves for point in curve_points(curve, tolerance))]


def _edges_of_fill(rings: list[Ring]) -> list[Ring]:
    """The rings of one shape on whose two sides the nonzero rule differs; the others lie unseen in the fill."""
    ways = {ring: 1 if _area(ring) > 0 else -1 for ring in rings}
    kept = []
    meetings = 0
    for ring, way in ways.items():
        holders = [other for other in ways if other is not ring and _lies_in(ring, other)]
        around = sum(ways[other] for other in holders)
        unseen = (around == 0) == (around + way == 0)
        for other in holders if unseen else ():
            near = _sides_near(other, _bounds(ring))
            meetings += len(near) * len(ring)
            if meetings > _MOST_MEETINGS:
                raise too_many_points()
            unseen &= not any(_meet(*side, *pair) for side in near for pair in pairwise((*ring, ring[0])))
        if not unseen:  # also where it only seems to lie inside: that they cross is told by who makes a shape of them
            kept.append(ring)
    return kept


def _one_outline(rings: list[Ring]) -> tuple[Ring, ...]:
    outline, *inner = sorted(rings, key=lambda ring: -abs(_area(ring)))
    outside = [ring for ring in inner if not _holds(outline, ring[0])]
    if outside:
        what = f"it shows {len(outside) + 1} separate outlines, one of them near {_place(outside[0][0])}; a silhouette is one."
        raise Refused(what, f"Unite them in your drawing program, or delete what does not belong. {FROM_CORNER}")
    for ring in inner:
        if any(other is not ring and _lies_in(ring, other) for other in inner):
            what = f"a part near {_place(ring[0])} lies loose inside an opening."
            raise Refused(what, f"Delete it, or join it to the shape by a bridge. {FROM_CORNER}")
    return outline, *inner


def _lies_in(ring: Ring, other: Ring) -> bool:
    """Whether a ring lies inside another, if they don't cross."""
    (left, bottom, right, top), around = _bounds(ring), _bounds(other)
    return around[0] <= left and around[1] <= bottom and right <= around[2] and top <= around[3] and _holds(other, ring[0])


def _sides_near(ring: Ring, box: Bounds) -> list[tuple[Point, Point]]:
    left, bottom, right, top = box
    return [
        (a, b)
        for a, b in pairwise((*ring, ring[0]))
        if max(a[0], b[0]) >= left and min(a[0], b[0]) <= right and max(a[1], b[1]) >= bottom and min(a[1], b[1]) <= top
    ]


def _meet(a: Point, b: Point, c: Point, d: Point) -> bool:
    return _side(a, b, c) * _side(a, b, d) <= 0 and _side(c, d, a) * _side(c, d, b) <= 0


def _side(a: Point, b: Point, c: Point) -> float:
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])


def _holds(ring: Ring, point: Point) -> bool:
    """Whether a point lies inside a ring (even-odd, which is the same as nonzero for a ring that does not cross itself)."""
    x, y = point
    inside = False
    for (ax, ay), (bx, by) in pairwise((*ring, ring[0])):
        if (ay > y) != (by > y) and x < ax + (bx - ax) * (y - ay) / (by - ay):
            inside = not inside
    return inside


def _area(ring: Sequence[Point]) -> float:
    return sum(ax * by - bx * ay for (ax, ay), (bx, by) in pairwise((*ring, ring[0]))) / 2


def _bounds(points: Sequence[Point]) -> Bounds:
    xs, ys = [x for x, _ in points], [y for _, y in points]
    return min(xs), min(ys), max(xs), max(ys)


def _place(point: Point) -> str:
    return f"({point[0]:.3g}, {point[1]:.3g})"
