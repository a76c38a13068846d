"""More outlines by name: egg, teardrop, leaf, scalloped and petalled rounds, stars, shield, moon, gable, waves.

As in outlines.py: millimetres, centred on the bounding box's middle, GeometryError for sizes that can't be.
"""

from __future__ import annotations

from math import acos, asin, atan2, cos, degrees, pi, sin, sqrt

from lessonkit.geometry.curves import arc_points, ellipse_arc_points, flatten, turning_knots, unit_direction
from lessonkit.geometry.faults import GeometryError, need_sizes, number
from lessonkit.geometry.outlines import centred
from lessonkit.geometry.shape import Line, Point, Shape, is_valid


def egg(wide: float, tall: float, widest: float = 0.42) -> Shape:
    """An egg, its point up: half an ellipse below its widest place and half a taller one above.

    `widest` is the height of the widest place as a share of the whole, above 0 and at most 0.5 (an ellipse).
    Whatever it is, the area is that of an ellipse, pi/4 x wide x tall.
    """
    need_sizes(wide=wide, tall=tall)
    if not 0.05 <= widest <= 0.5:
        raise GeometryError(f"an egg can't be widest at {widest:g} of its height.", "Write a share from 0.05 to 0.5.")
    below, above = widest * tall, (1 - widest) * tall
    upper, lower = ellipse_arc_points(wide, 2 * above, 0, 180), ellipse_arc_points(wide, 2 * below, 180, 180)
    return centred((*upper[:-1], *lower[:-1]))


def teardrop(wide: float, tall: float) -> Shape:
    """A drop, its point up: a circle `wide` across and the two straight lines that touch it and meet in the point."""
    need_sizes(wide=wide, tall=tall)
    if tall <= wide:
        raise GeometryError(
            f"a drop {number(wide)} mm wide must be taller than {number(tall)} mm.", "Make it taller, or use a circle."
        )
    radius = wide / 2
    reach = tall - radius  # from the circle's middle to the point
    start = degrees(acos(radius / reach))  # where a line from the point touches, measured from straight up
    round_part = arc_points(radius, 90 + start, 360 - 2 * start)
    return centred(((0.0, reach), *round_part))


def leaf(wide: float, tall: float) -> Shape:
    """A leaf with a point at each end: two equal arcs that meet. It must be at least as tall as wide (a circle, then)."""
    need_sizes(wide=wide, tall=tall)
    if tall < wide - 1e-9:
        raise GeometryError(
            f"a leaf {number(wide)} mm wide can't be only {number(tall)} mm tall.", "Give its length as tall, and turn it."
        )
    half = tall / 2
    radius = (half * half + wide * wide / 4) / wide
    reach = 90.0 if tall <= wide else degrees(asin(half / radius))
    right = arc_points(radius, -reach, 2 * reach, (wide / 2 - radius, 0.0))
    right = ((0.0, -half), *right[1:-1], (0.0, half))
    return Shape((*right[:-1], *((-x, -y) for x, y in right[:-1])))


def scalloped(count: int, across: float, depth: float | None = None) -> Shape:
    """A round with `count` bumps, each a piece of a circle; `across` through opposite bumps' tops (twice the reach of one).

    `depth` is how far the valleys lie below the tops; left out, each bump is a half circle. A bump on top stands upright.
    """
    _need_count("scallops", count, 3, 60)
    need_sizes(across=across)
    radius, turn = across / 2, pi / count
    if depth is None:
        depth = radius - radius / (cos(turn) + sin(turn))
    need_sizes(depth=depth)
    valley = radius - depth
    half, high = valley * sin(turn), radius - valley * cos(turn)
    bump = (half * half + high * high) / (2 * high) if valley > 0 else 0.0
    # a bump that swings out past its neighbour's border would cross it: the far crossing must not lie beyond the valley
    if valley <= 0 or radius * (radius - 2 * bump) > valley * valley + 1e-9 or bump > 1000 * radius:
        raise GeometryError(
            f"{count} scallops {number(depth)} mm deep do not fit a round {number(across)} mm across.",
            "Make them shallower or fewer.",
        )
    reach = degrees(atan2(half, bump - high))  # of the half bump, at the bump's own middle
    points: list[Point] = []
    for i in range(count):
        towards = 90.0 + 360.0 * i / count
        c, s = unit_direction(towards)
        points += arc_points(bump, towards - reach, 2 * reach, ((radius - bump) * c, (radius - bump) * s))[:-1]
    return centred(tuple(points))


def petals(count: int, across: float, depth: float) -> Shape:
    """A flower with soft petals, r = (across - depth)/2 + depth/2 cos(count x angle): area pi/4 ((across - depth)² + depth²/2).

    `across` is twice a petal's reach from the middle; `depth`, under half of it, runs from a petal's end in to the valley.
    """
    _need_count("petals", count, 2, 36)
    need_sizes(across=across, depth=depth)
    if depth >= across / 2:
        raise GeometryError(
            f"petals {number(depth)} mm deep cut a flower {number(across)} mm across to pieces.",
            f"Make them shallower than {number(across / 2)} mm.",
        )
    middle, swing = (across - depth) / 2, depth / 2

    def place(turn: float) -> Point:
        reach = middle + swing * cos(count * turn)
        return -reach * sin(turn), reach * cos(turn)

    samples = max(720, 48 * count)
    return centred(flatten(place, turning_knots(place, 0.0, 2 * pi, samples))[:-1])


def star(points: int, across: float, depth: float) -> Shape:
    """A star with a point upwards; `across` the circle through its tips, `depth` from that circle to the inner corners."""
    _need_count("points", points, 3, 60)
    need_sizes(across=across, depth=depth)
    if depth >= across / 2:
        raise GeometryError(
            f"a star {number(across)} mm across can't be {number(depth)} mm deep.",
            f"Make it shallower than {number(across / 2)} mm.",
        )
    radii = (across / 2, across / 2 - depth)
    directions = (unit_direction(90.0 + 180.0 * i / points) for i in range(2 * points))
    return centred(tuple((radii[i % 2] * c, radii[i % 2] * s) for i, (c, s) in enumerate(directions)))


def star_ratio(points: int, step: int, across: float) -> Shape:
    """The outline of the regular star {points/step}: each tip joined by straight lines to the tips `step` further on.

    Inner to outer radius is cos(180° step / points) / cos(180° (step - 1) / points). {5/2} is the pentagram.
    """
    _need_count("points", points, 5, 60)
    if not 2 <= step < points / 2:
        raise GeometryError(f"a star of {points} points has no step {step}.", "Use a step from 2 to under half the points.")
    inner = cos(pi * step / points) / cos(pi * (step - 1) / points)
    need_sizes(across=across)
    return star(points, across, across / 2 * (1 - inner))


def shield(wide: float, tall: float, shoulder: float | None = None) -> Shape:
    """A shield, flat on top: straight sides as far down as `shoulder` (a third of its height), then two arcs to a point."""
    need_sizes(wide=wide, tall=tall)
    shoulder = tall / 3 if shoulder is None else shoulder
    need_sizes(shoulder=shoulder)
    lower = tall - shoulder
    if lower < wide / 2 - 1e-9:
        raise GeometryError(
            f"a shield {number(wide)} mm wide has no room for its point {number(lower)} mm below the shoulder.",
            "Make it taller or its shoulder shorter.",
        )
    half = wide / 2
    radius = (half * half + lower * lower) / wide  # touches the side, passes through the point
    reach = 90.0 if radius <= half else degrees(atan2(lower, radius - half))
    left = arc_points(radius, 180.0, reach, (radius - half, 0.0))
    left = ((-half, 0.0), *left[1:-1], (0.0, -lower))
    return centred((*left, *((-x, y) for x, y in left[-2::-1]), (half, shoulder), (-half, shoulder)))


def crescent(across: float, thick: float) -> Shape:
    """A moon, its horns to the right: a circle `across` less a smaller one, `thick` where it is thickest.

    The inner circle's radius is a quarter of `thick` less than the outer's, so the horns reach past the middle.
    """
    need_sizes(across=across, thick=thick)
    outer = across / 2
    if thick >= outer * 1.6:
        raise GeometryError(
            f"a moon {number(across)} mm across can't be {number(thick)} mm thick.",
            f"Make it thinner than {number(outer * 1.6)} mm.",
        )
    inner, off = outer - thick / 4, 0.75 * thick
    x = (outer + thick) / 3
    y = sqrt(outer * outer - x * x)
    back, front = degrees(atan2(y, x)), degrees(atan2(y, x - off))
    outside = arc_points(outer, back, 360 - 2 * back)
    inside = arc_points(inner, 360 - front, 2 * front - 360, (off, 0.0))
    return centred(((x, y), *outside[1:-1], (x, -y), *inside[1:-1]))


def gable(wide: float, tall: float, eaves: float | None = None) -> Shape:
    """A house front: walls up to `eaves` (six tenths of the height), then a roof to the ridge in the middle."""
    need_sizes(wide=wide, tall=tall)
    eaves = 0.6 * tall if eaves is None else eaves
    need_sizes(eaves=eaves)
    if eaves >= tall:
        raise GeometryError(f"eaves {number(eaves)} mm up leave no roof on a gable {number(tall)} mm tall.", "Make the eaves lower.")
    half = wide / 2
    return centred(((-half, 0.0), (half, 0.0), (half, eaves), (0.0, tall), (-half, eaves)))


def waved(wide: float, tall: float, waves: int, depth: float, *, both: bool = False) -> Shape:
    """A rectangle whose top edge is a wave, `depth` from trough to crest; sizes over all. Whole waves: tiles side by side match.

    With `both` the bottom edge is the same wave, so that tiles above each other match too. Area: wide x (tall - depth/2),
    or wide x (tall - depth) with both.
    """
    _need_count("waves", waves, 1, 50)
    need_sizes(wide=wide, tall=tall, depth=depth)
    if depth >= tall:
        raise GeometryError(f"waves {number(depth)} mm deep cut through a tile {number(tall)} mm tall.", "Make them shallower.")
    quarter = wide / (4 * waves)

    def crest(x: float) -> Point:
        return x, tall - depth / 2 + depth / 2 * sin(2 * pi * waves * x / wide)

    top = flatten(crest, [quarter * i for i in range(4 * waves)] + [wide])
    fall = tall - depth
    bottom: Line = tuple((x, y - fall) for x, y in top) if both else ((0.0, 0.0), (wide, 0.0))
    outline = centred((*bottom, *top[::-1]))
    if not is_valid(outline):
        raise GeometryError("these waves cross each other.", "Make them shallower or the tile taller.")
    return outline


def _need_count(what: str, count: int, least: int, most: int) -> None:
    if count != int(count) or not least <= count <= most:
        raise GeometryError(f"{count} {what} can't be drawn.", f"Write a whole number from {least} to {most}.")
