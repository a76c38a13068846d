"""Where a piece is weak: narrow necks, sharp inner corners, thin borders, holes near an edge. Places and millimetres."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import combinations, pairwise
from math import acos, atan2, degrees, dist, hypot, inf, radians, tan
from typing import TYPE_CHECKING, NamedTuple

from lessonkit.geometry.bulging import bulges, surely_clear
from lessonkit.geometry.curves import TOLERANCE_MM, nearest_on_chord
from lessonkit.geometry.faults import GeometryError, need_place, need_sizes, number
from lessonkit.geometry.library import np, shapely
from lessonkit.geometry.shape import Point, Ring, Shape, area_mm2, bounds, contains_point, grown, less, polygon_of, union_of

if TYPE_CHECKING:
    from numpy.typing import NDArray
    from shapely.geometry.base import BaseGeometry

_SLACK_MM = 2 * TOLERANCE_MM  # what flattened curves and rounded offsets may differ by
_ANTIPODAL = 0.998  # the cosine of how far the two sides of a neck may be from parallel
_CUSP_MM = 0.05
_MOST_PAIRS = 40_000  # of sides near each other: a plate has 3,000
_STRAYS_MM = (0.0, 0.1, 0.3)


class Gap(NamedTuple):
    """The shortest way across some clay: its width, and its two ends."""

    wide_mm: float
    start: Point
    end: Point

    @property
    def middle(self) -> Point:
        return (self.start[0] + self.end[0]) / 2, (self.start[1] + self.end[1]) / 2


class InnerCorner(NamedTuple):
    """A corner where air cuts into the clay: its place, the angle of the air in it (a square hole's is 90), its radius."""

    x: float
    y: float
    angle_deg: float
    radius_mm: float


def narrow_necks(shape: Shape, least_mm: float) -> tuple[Gap, ...]:
    """Every place where the clay is narrower than `least_mm` and goes on to both sides of it, narrowest first.

    A neck is the shortest way between two stretches of edge such that the circle over it touches no other edge (a saddle of the
    distance to the edge). So are a thin border, a tongue and a strip, each named once; a point that tapers by more than some
    4 degrees is none (see `thin_tips`). Widths under 0.05 mm, the last of a cusp, do not count. An edge of very many points is
    searched within 0.3 mm; what is found is measured on the true one.
    """
    need_sizes(least_width_mm=least_mm)
    if _is_stout(shape, least_mm):
        return ()
    exact = polygon_of(shape)
    clay, stray_mm = _coarse(exact, least_mm)
    edge = clay.boundary
    shapely.prepare(clay)
    shapely.prepare(edge)
    ways, runs = _ways_across(clay, least_mm)
    wide, middles = shapely.length(ways), shapely.line_interpolate_point(ways, 0.5, normalized=True)
    clear = shapely.distance(middles, edge) >= _ANTIPODAL * wide / 2
    narrow = clear & (wide > _CUSP_MM) & (wide < least_mm - _SLACK_MM) & shapely.contains(clay, middles)
    ways, runs, wide, middles = ways[narrow], runs[narrow], wide[narrow], middles[narrow]
    by_width = np.lexsort((-shapely.length(runs), np.round(wide, 3)))  # of equally narrow ways the one in the longest stretch
    necks = []
    for place in shapely.get_parts(union_of(list(shapely.buffer(runs, wide / 2)))):
        best = ways[by_width[shapely.intersects(place, middles[by_width])][0]]
        best = _on_the_true_edge(best, exact.boundary, 2 * stray_mm)
        start, end = ((float(x), float(y)) for x, y in best.coords)
        if best.length < least_mm:
            necks.append(Gap(best.length, start, end))
    return tuple(sorted(necks, key=lambda neck: (neck.wide_mm, neck.start)))


def _is_stout(shape: Shape, least_mm: float) -> bool:
    """Whether the quickest look is enough: the outline bulges everywhere, and is so wide that it can't have a neck.

    A disc that all but touches two opposite edges of a bulging outline keeps it between two straight lines, each at most
    acos(`_ANTIPODAL`) off square, so that it is at no place much wider than the disc: by twice that tangent of its diameter d.
    And an area A is at least A / d wide.
    """
    ring = shape.outline
    if shape.holes or not bulges(ring):
        return False
    left, bottom, right, top = bounds(shape)
    longest = hypot(right - left, top - bottom)
    return area_mm2(shape) / longest > least_mm + 2 * tan(acos(_ANTIPODAL)) * longest


def _coarse(clay: shapely.Polygon, reach_mm: float) -> tuple[shapely.Polygon, float]:
    """The clay with fewer corners, if there are very many pairs of sides at most `reach_mm` apart, and how far its edge strays."""
    found, strays_mm = clay, 0.0
    for stray_mm in _STRAYS_MM:
        plainer = clay.simplify(stray_mm) if stray_mm else clay
        assert isinstance(plainer, shapely.Polygon)  # its topology is kept
        found, strays_mm = plainer, stray_mm
        ends = np.array([pair for ring in (found.exterior, *found.interiors) for pair in pairwise(ring.coords)])
        boxes = shapely.box(*ends.min(axis=1).T, *(ends.max(axis=1) + reach_mm).T)
        if len(shapely.STRtree(boxes).query(boxes)[0]) <= _MOST_PAIRS:
            break
    return found, strays_mm


def _on_the_true_edge(way: shapely.LineString, edge: BaseGeometry, reach_mm: float) -> shapely.LineString:
    """The shortest way between the stretches of edge about the ends of this one; itself, where those would meet."""
    if not 0 < reach_mm < way.length / 3:
        return way
    one, other = (edge.intersection(shapely.Point(end).buffer(reach_mm)) for end in way.coords)
    return shapely.shortest_line(one, other)


def _ways_across(clay: shapely.Polygon, reach_mm: float) -> tuple[NDArray[np.object_], NDArray[np.object_]]:
    """The shortest way between any two straight pieces of edge at most `reach_mm` apart, and the line that its middle can run
    along where they lie side by side; there the way is taken halfway."""
    rings = [ring.simplify(TOLERANCE_MM / 10).coords for ring in (clay.exterior, *clay.interiors)]
    ends = np.array([pair for ring in rings for pair in pairwise(ring)])
    sides = np.array([shapely.LineString(pair) for pair in ends])
    one, other = shapely.STRtree(sides).query(sides, predicate="dwithin", distance=reach_mm)
    run = ends[:, 1] - ends[:, 0]
    # clay lies to the left of every edge, so at least one pair of edges across a neck runs in opposite directions
    facing = (one < other) & (np.einsum("nk,nk->n", run[one], run[other]) < 0)
    one, other = one[facing], other[facing]
    start, along = ends[one, 0], run[one] / np.hypot(run[one, 0], run[one, 1])[:, None]
    shares = np.einsum("nik,nk->ni", ends[other] - start[:, None], along)
    low = np.maximum(shares.min(axis=1), 0.0)
    high = np.minimum(shares.max(axis=1), shapely.length(sides[one]))
    first, level, last = (
        shapely.shortest_line(shapely.points(start + along * share[:, None]), sides[other])
        for share in (low, (low + high) / 2, high)
    )
    ways = shapely.shortest_line(sides[one], sides[other])
    abreast = (low < high) & (shapely.length(level) <= shapely.length(ways) + 1e-6)
    ways[abreast] = level[abreast]
    runs = shapely.line_interpolate_point(ways, 0.5, normalized=True)
    middles = [
        shapely.get_coordinates(shapely.line_interpolate_point(way[abreast], 0.5, normalized=True)) for way in (first, last)
    ]
    runs[abreast] = shapely.linestrings(np.stack(middles, axis=1))
    return ways, runs


def thin_tips(shape: Shape, least_mm: float) -> tuple[tuple[Point, float], ...]:
    """Clay narrower than `least_mm` that ends free: each tip's farthest place and how far it sticks out, longest first.

    A square corner sticks out 0.21 of `least_mm`, a corner of 30 degrees 1.43 of it: the reach tells them from a tongue.
    """
    tips = []
    for part, contacts in _thin_parts(shape, least_mm):
        if len(contacts) == 1:
            place = max(part.exterior.coords, key=lambda p: contacts[0].distance(shapely.Point(p)))
            reach = contacts[0].distance(shapely.Point(place))
            if reach > _SLACK_MM:
                tips.append(((float(place[0]), float(place[1])), float(reach)))
    return tuple(sorted(tips, key=lambda tip: (-tip[1], tip[0])))


def _thin_parts(shape: Shape, least_mm: float) -> list[tuple[shapely.Polygon, list[shapely.LineString]]]:
    """The clay that no disc `least_mm` across reaches, in pieces, each with the lines along which it meets the rest."""
    need_sizes(least_width_mm=least_mm)
    clay = polygon_of(shape)
    core = union_of([polygon_of(c) for p in grown(shape, -least_mm / 2) for c in grown(p, least_mm / 2 + _SLACK_MM)])
    thin = less(clay, core)
    found = []
    for part in shapely.get_parts(thin):
        if isinstance(part, shapely.Polygon) and part.area > _SLACK_MM**2:
            meets = part.boundary.intersection(core.boundary.buffer(1e-7)) if not core.is_empty else shapely.LineString()
            lines = [g for g in shapely.get_parts(shapely.line_merge(meets)) if isinstance(g, shapely.LineString) and g.length > 1e-5]
            found.append((part, lines))
    return found


def _gap(a: BaseGeometry, b: BaseGeometry) -> Gap:
    start, end = shapely.shortest_line(a, b).coords
    return Gap(dist(start, end), (start[0], start[1]), (end[0], end[1]))


def _narrowest(lines: Sequence[BaseGeometry]) -> Gap | None:
    """The shortest way between any two of the lines; where they run side by side, from the middle of that stretch."""
    if len(lines) < 2:
        return None
    a, b = min(combinations(lines, 2), key=lambda pair: pair[0].distance(pair[1]))
    gap = _gap(a, b)
    stretches = shapely.get_parts(shapely.line_merge(a.intersection(b.buffer(gap.wide_mm + _SLACK_MM))))
    longest = max((s for s in stretches if isinstance(s, shapely.LineString)), key=lambda s: s.length, default=None)
    if longest is None:
        return gap
    level = _gap(longest.interpolate(0.5, normalized=True), b)
    return level if level.wide_mm <= gap.wide_mm + _SLACK_MM else gap


def inner_corners(shape: Shape, least_radius_mm: float = 3.0, least_turn_deg: float = 20.0) -> tuple[InnerCorner, ...]:
    """Corners that cut into the clay with less than a radius, where cracks start, sharpest first.

    Bends of less than `least_turn_deg` do not count, nor does a small round hole: its edge has no corner.
    """
    need_sizes(least_radius_mm=least_radius_mm, least_turn=least_turn_deg)
    found = [c for ring in (shape.outline, *shape.holes) for c in _ring_corners(ring, least_radius_mm, least_turn_deg)]
    return tuple(sorted(found, key=lambda c: (c.angle_deg, c.radius_mm, c.x, c.y)))


def _ring_corners(ring: Ring, least_radius_mm: float, least_turn_deg: float) -> list[InnerCorner]:
    count = len(ring)
    bends = [_bend(ring[i - 1], ring[i], ring[(i + 1) % count]) for i in range(count)]
    runs = [[i] for i, (turn, radius) in enumerate(bends) if turn > 0 and radius == 0]
    tight = [0 < radius < least_radius_mm for _, radius in bends]
    if not all(tight):
        start = tight.index(False)
        for i in (k % count for k in range(start + 1, start + count + 1)):
            if tight[i] and not tight[i - 1]:
                runs.append([i - 1] if bends[i - 1][1] > 0 else [])  # an arc's end bends half as much as its middle
            if tight[i] or (tight[i - 1] and bends[i][1] > 0):
                runs[-1].append(i)
    corners = []
    for run in runs:
        turn = sum(bends[i][0] for i in run)
        if turn >= radians(least_turn_deg):
            x, y = ring[run[len(run) // 2]]
            radius = sum(dist(ring[i], ring[j]) for i, j in pairwise(run)) / turn
            corners.append(InnerCorner(x, y, max(0.0, 180 - degrees(turn)), radius))
    return corners


def _bend(before: Point, here: Point, after: Point) -> tuple[float, float]:
    """How far (radians) an edge turns to the right, where air cuts into the clay on its left, and with what radius.

    A radius of 0 is a sharp corner, or no such turn at all.
    """
    (ax, ay), (bx, by) = (here[0] - before[0], here[1] - before[1]), (after[0] - here[0], after[1] - here[1])
    turn = -atan2(ax * by - ay * bx, ax * bx + ay * by)
    if turn < 1e-6:
        return 0.0, 0.0
    chord = min(hypot(ax, ay), hypot(bx, by))
    # the points of a flattened curve lie so that its arc rises no more than the tolerance above a chord
    return turn, chord / turn if chord / 2 * tan(turn / 4) <= _SLACK_MM else 0.0


def thinnest_border(shape: Shape, least_mm: float = inf) -> Gap | None:
    """The narrowest clay between an opening and the outline, or between two openings; None for a shape without openings, and
    where a quick look is enough to see that all of it is at least `least_mm` wide."""
    if all(surely_clear(hole, shape.outline, shape.holes[:i], least_mm) for i, hole in enumerate(shape.holes)):
        return None
    polygon = polygon_of(shape)
    return _narrowest([polygon.exterior, *polygon.interiors])


def edge_distance(shape: Shape, x: float, y: float, across_mm: float = 0.0) -> Gap:
    """The clay from a hole's rim (or from a place, with `across_mm` 0) to the nearest edge, of the outline or of an opening.

    GeometryError when the place is not on the clay. A hole that overlaps the edge gives a negative width.
    """
    need_place("the hole at", x, y)
    if not contains_point(shape, x, y):
        raise GeometryError(
            f"the hole at ({number(x)}, {number(y)}) is not on the clay.", "Its place counts from the piece's middle."
        )
    sides = (side for ring in (shape.outline, *shape.holes) for side in pairwise((*ring, ring[0])))
    end = min((nearest_on_chord((x, y), *side) for side in sides), key=lambda place: dist(place, (x, y)))
    wide = dist(end, (x, y))
    share = across_mm / 2 / wide if wide else 0.0
    return Gap(wide - across_mm / 2, (x + (end[0] - x) * share, y + (end[1] - y) * share), end)
