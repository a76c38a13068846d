"""Drawing on plain coordinates: smooth curves, raw edges, arrows, parts of an outline, room for words, hatching.

A picture counts y downwards: then `clockwise` is as seen on the paper. Raw edges come from fixed seeds: the same drawing gives
the same bytes.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Sequence
from functools import lru_cache
from itertools import accumulate, pairwise
from math import ceil, cos, hypot, pi, radians, sin
from typing import TYPE_CHECKING

import numpy as np
import shapely
from shapely.geometry import LineString, Point

from lessonkit.geometry.areas import Area, area, area_of, areas_of, chords, line_of, turning
from lessonkit.geometry.faults import GeometryError
from lessonkit.geometry.shape import Line, Ring, Shape
from lessonkit.geometry.shape import Point as Place

if TYPE_CHECKING:  # numpy's types take a while to load
    from numpy.typing import NDArray

Lines = tuple[Line, ...]

_FIRST, _TRIED = 6, 40
_STRAY = 0.03  # how far a chord may lie from a curve: a fiftieth of a millimetre in most pictures

# --- areas ---


def disc(x: float, y: float, rx: float, ry: float | None = None) -> Area:
    """A circle by its radius, or an ellipse by its two."""
    return Area((Shape(arc(x, y, rx, 0, 360, ry)[:-1]),))


def blob(points: Sequence[Place]) -> Area:
    """The area within a smooth curve through the points."""
    return area(curve(points, closed=True))


def ribbon(line: Line, wide: float, round_ends: bool = False) -> Area:
    """A band of even width along a line."""
    path = shapely.linestrings(line)
    return areas_of(shapely.buffer(path, wide / 2, quad_segs=chords(wide / 2, pi / 2), cap_style="round" if round_ends else "flat"))


def raw_edge(ground: Area, stray: float, seed: float, step: float = 2.0) -> Area:
    """The outline of the largest shape as torn or rolled clay has it: strayed a little in and out, always alike for one seed.

    Meant for shapes without deep bays: the edge strays away from and towards the middle."""
    if not ground:
        return ground
    ring, (cx, cy) = ground.shapes[0].outline, ground.largest.middle
    outline = (*ring, ring[0])
    whole = length(outline)
    count = max(54, int(whole / step))  # six to each of its shortest waves
    share = np.arange(count) / count
    places, t = np.array(points_along(outline, (whole * share).tolist())), 2 * pi * share
    by = stray * (np.sin(3 * t + seed) + 0.7 * np.sin(5 * t + 2.3 * seed) + 0.45 * np.sin(9 * t + 4.1 * seed)) / 1.5
    away = places - (cx, cy)
    far = np.hypot(*away.T)
    far[far == 0] = 1.0
    return area(curve((places + away * (by / far)[:, None]).tolist(), closed=True))


def arrow(line: Line, size: float = 1.0) -> Area:
    """An arrow along a line: it swells from nothing to its head, 6.4 long and 7.4 wide at size 1."""
    whole = length(line)
    head, half, barb, steps = 6.4 * size, 1.35 * size, 3.7 * size, 24 if len(line) > 2 else 8
    neck = max(0.0, whole - head * 0.86)
    at = [neck * i / steps for i in range(steps + 1)]
    *places, tip, back = points_along(line, [*at, *(d + 0.05 for d in at), whole, whole - head])
    left, right = [], []
    for i, (p, q) in enumerate(zip(places[: steps + 1], places[steps + 1 :], strict=True)):
        dx, dy = _unit(q[0] - p[0], q[1] - p[1])
        wide = 0.25 + (half - 0.25) * (i / steps) ** 0.8
        left.append((p[0] - dy * wide, p[1] + dx * wide))
        right.append((p[0] + dy * wide, p[1] - dx * wide))
    dx, dy = _unit(tip[0] - back[0], tip[1] - back[1])
    barbs = [(back[0] - dy * barb, back[1] + dx * barb), (back[0] + dy * barb, back[1] - dx * barb)]
    return area([*left, barbs[0], tip, barbs[1], *right[::-1]]).outer


def level_spot(ground: Area, wide: float, tall: float, step: float = 1.5) -> Place | None:
    """The middle of the best place for level words on an area: low and central; None where they do not fit (y downwards)."""
    if not ground:
        return None
    a, b, c, d = ground.bounds
    middle, shape = (a + c) / 2, ground.geometry
    shapely.prepare(shape)
    across = int((c - a - wide) / 2 / step)
    down = int((d - b - tall) / step)
    aside, up = np.arange(-across, across + 1) * step, np.arange(down + 1) * step
    xs, ys = np.tile(middle + aside, len(up)), np.repeat(d - tall / 2 - up, len(aside))
    order = np.argsort(0.8 * np.abs(xs - middle) - ys, kind="stable")
    for some in (order[:_FIRST], order[_FIRST:_TRIED], order[_TRIED:]):  # the best are mostly among the first
        if len(some) > _TRIED:  # of many most have a point that lies outside: that is sooner seen
            for dx, dy in ((0.0, 0.0), (-wide / 2, tall / 2), (wide / 2, tall / 2), (-wide / 2, -tall / 2), (wide / 2, -tall / 2)):
                some = some[shapely.intersects_xy(shape, xs[some] + dx, ys[some] + dy)]
        x, y = xs[some], ys[some]
        fits = shapely.covers(shape, shapely.box(x - wide / 2, y - tall / 2, x + wide / 2, y + tall / 2))
        if fits.any():
            best = fits.argmax()
            return float(x[best]), float(y[best])
    return None


def rubber_band(points: Sequence[Place]) -> Area:
    """What a rubber band around the points would enclose."""
    return areas_of(shapely.convex_hull(shapely.multipoints(points)))


# --- lines ---


def curve(points: Sequence[Place], closed: bool = False) -> Line:
    """A smooth line through all the points (a uniform Catmull-Rom spline) in chords no farther from it than a picture shows;
    a closed one does not repeat its first point."""
    ends = (points[-1], points[0], points[1]) if closed else (points[0], points[-1])
    through = np.array((ends[0], *points, *ends[1:]))
    a, b, c, d = through[:-3], through[1:-2], through[2:-1], through[3:]  # each stretch runs from b to c
    at_start, at_end = 2 * a - 5 * b + 4 * c - d, a - 4 * b + 5 * c - 2 * d  # the second derivative
    bend = np.maximum(np.hypot(*at_start.T), np.hypot(*at_end.T))
    steps = np.maximum(1, np.ceil(np.sqrt(bend / (8 * _STRAY)))).astype(int)  # a chord strays by an eighth of it
    which = np.repeat(np.arange(len(steps)), steps)
    first = np.cumsum(steps) - steps
    t = ((np.arange(len(which)) - first[which]) / steps[which])[:, None]
    out = 0.5 * ((2 * b)[which] + (c - a)[which] * t + at_start[which] * t**2 + (3 * b - a - 3 * c + d)[which] * t**3)
    line = tuple(map(tuple, out.tolist()))
    return line if closed else (*line, points[-1])


def arc(x: float, y: float, radius: float, start_deg: float, end_deg: float, ry: float | None = None, stray: float = 0.01) -> Line:
    """Points of a circle or, with `ry`, an ellipse, both ends included; with y downwards 90 is the lowest point."""
    ry = radius if ry is None else ry
    steps = ceil(abs(end_deg - start_deg) / 90 * chords(max(radius, ry), pi / 2, stray))  # a whole turn has its extremes among them
    return tuple([(x + radius * across, y + ry * down) for across, down in _turns(start_deg, end_deg, steps)])


@lru_cache(16)  # most are whole circles of a few sizes
def _turns(start_deg: float, end_deg: float, steps: int) -> Line:
    """The points of an arc of radius 1 around 0."""
    start, step = radians(start_deg), radians(end_deg - start_deg) / steps
    return tuple([(cos(start + step * i), sin(start + step * i)) for i in range(steps + 1)])


def length(line: Line) -> float:
    return sum([hypot(bx - ax, by - ay) for (ax, ay), (bx, by) in pairwise(line)])


def part(line: Line, start: float, end: float) -> Line:
    """The piece of a line between two distances from its start; distances beyond its ends count as the ends."""
    at = _distances(line)
    start, end = (min(max(0.0, each), at[-1]) for each in (start, end))
    return (_place(line, at, start), *line[bisect_right(at, start) : bisect_left(at, end)], _place(line, at, end))


def _distances(line: Line) -> list[float]:
    """Of its points from its start."""
    return [0.0, *accumulate([hypot(bx - ax, by - ay) for (ax, ay), (bx, by) in pairwise(line)])]


def _place(line: Line, distances: Sequence[float], at: float) -> Place:
    at = min(max(0.0, at), distances[-1])
    i = min(max(bisect_right(distances, at), 1), len(line) - 1)
    (ax, ay), (bx, by), long = line[i - 1], line[i], distances[i] - distances[i - 1]
    share = (at - distances[i - 1]) / long if long else 0.0
    return ax + (bx - ax) * share, ay + (by - ay) * share


def points_along(line: Line, at: Sequence[float]) -> list[Place]:
    """The places that lie at distances along a line; beyond its ends the end itself."""
    distances = _distances(line)
    return [_place(line, distances, each) for each in at]


def nearest(ring: Ring, near: Place) -> Place:
    """The place of a closed outline that is nearest to a point."""
    line = shapely.linestrings((*ring, ring[0]))
    place = line.interpolate(line.project(Point(near)))
    return place.x, place.y


def outline_from(ring: Ring, near: Place, clockwise: bool = True) -> Line:
    """A closed outline as a line that starts and ends at its place nearest to a point; clockwise as seen with y downwards."""
    line = (*ring, ring[0])
    path = shapely.linestrings(line)
    if bool(shapely.is_ccw(path)) != clockwise:
        line, path = line[::-1], shapely.reverse(path)
    at, start = _distances(line), path.project(Point(near))
    if not 0 < start < at[-1]:
        return line
    first = _place(line, at, start)
    return (first, *line[bisect_right(at, start) :], *line[1 : bisect_left(at, start)], first)


def beside(line: Line, by: float) -> Line:
    """A line that runs at a distance beside another (to its right with y downwards); where it splits, the longest part."""
    runs = [g for g in shapely.get_parts(shapely.offset_curve(shapely.linestrings(line), by)) if isinstance(g, LineString) and g.length > 0]
    return line_of(max(runs, key=lambda g: g.length)) if runs else line


def clockwise_from(ground: Area, up: float = 0.0) -> Line:
    """The outline of the largest shape, once round clockwise from its place farthest right, `up` units above its middle."""
    _, top, right, bottom = ground.largest.bounds
    ring, y = ground.shapes[0].outline, (top + bottom) / 2 - up
    pairs = zip(ring, (*ring[1:], ring[0]), strict=True)
    xs = [ax + (y - ay) * (bx - ax) / (by - ay) for (ax, ay), (bx, by) in pairs if (ay <= y) != (by <= y)]
    return outline_from(ring, (max(xs, default=right), y))


def within(lines: Lines, ground: Area) -> Lines:
    """What of the lines lies on an area."""
    if not lines:
        return ()
    several = _strings([n for line in lines for point in line for n in point], [len(line) for line in lines])
    common = shapely.intersection(shapely.multilinestrings(several), ground.geometry)
    return tuple(line_of(g) for g in shapely.get_parts(shapely.line_merge(common)) if isinstance(g, LineString) and g.length > 0)


def thinned(numbers: Sequence[float], counts: Sequence[int], stray: float) -> tuple[tuple[float, ...], list[int]]:
    """Lines with fewer points, none of those left out farther than `stray` from it (Douglas and Peucker's way); its ends stay.

    `numbers` are those of all lines in a row, x before y, and `counts` how many points each has; so they come back. All at once, for the
    sake of speed."""
    if not counts:
        return (), []
    fewer = shapely.simplify(_strings(numbers, counts), stray, preserve_topology=False)
    return tuple(shapely.get_coordinates(fewer).ravel().tolist()), np.asarray(shapely.get_num_coordinates(fewer)).tolist()


def _strings(numbers: Sequence[float], counts: Sequence[int]) -> NDArray[np.object_]:
    """Each line as shapely knows it, of so many points, from the numbers of them all."""
    return np.asarray(shapely.linestrings(np.array(numbers).reshape(-1, 2), indices=np.repeat(np.arange(len(counts)), counts)))


def hatch(ground: Shape | Area | Ring, angle_deg: float, gap: float) -> Lines:
    """Parallel lines over a shape, an area or a closed outline, `gap` apart; one runs through the middle of its bounds.

    GeometryError for a gap that is not above 0; a shape too small for any line has none."""
    if not gap > 0:
        raise GeometryError(f"lines of a hatching can't lie {gap:g} apart.", "Use a gap above 0.")
    if isinstance(ground, Shape):
        ground = area_of(ground)
    elif not isinstance(ground, Area):
        ground = area(ground)
    if not ground:
        return ()
    a, b, c, d = ground.bounds
    cx, cy, reach = (a + c) / 2, (b + d) / 2, hypot(c - a, d - b) / 2 + gap
    turn = turning(angle_deg, (cx, cy))
    ys = (cy + i * gap for i in range(-int(reach / gap), int(reach / gap) + 1))
    return within(tuple((turn(cx - reach, y), turn(cx + reach, y)) for y in ys), ground)


def cross_hatch(ground: Shape | Area | Ring, angle_deg: float, gap: float) -> Lines:
    """Two hatchings that cross at twice the angle: the second leans the other way."""
    return hatch(ground, angle_deg, gap) + hatch(ground, -angle_deg, gap)


def _unit(dx: float, dy: float) -> Place:
    size = hypot(dx, dy) or 1.0
    return dx / size, dy / size
