"""Holes, texture, carving, names, paint and edges: what is done to a piece that is already cut or built."""

from __future__ import annotations

import math
from functools import lru_cache

from lessonkit.drawing.items import BLACK, WHITE, Path
from lessonkit.forgetting import of_a_lesson
from lessonkit.geometry.areas import Area, area, bar, mapped_line, turning
from lessonkit.geometry.drafting import (
    beside,
    blob,
    clockwise_from,
    curve,
    disc,
    length,
    level_spot,
    outline_from,
    part,
    points_along,
    ribbon,
    within,
)
from lessonkit.geometry.shape import Line, Shape
from lessonkit.layout.pictures.grammar import CENTRE, Drawing, Mark, wide_of
from lessonkit.layout.pictures.subject import Placed, Subject
from lessonkit.layout.pictures.tools import brush, drop, finger, loop, pencil, sponge, stamp_block, straw
from lessonkit.layout.pictures.vessel import vessel


def _gouge(long: float, wide: float) -> Line:
    """One woodcut mark at the origin: a wedge that swells and runs out."""
    wedge = ((-long / 2, 0.0), (long * 0.15, -wide / 2), (long / 2, 0.0), (long * 0.15, wide / 2))
    return mapped_line(wedge, turning(-32))


def reed(ground: Area, gap: float) -> Area:
    """The house texture: gouge marks in rows, whole ones only, kept off the edge."""
    a, b, c, d = ground.bounds
    nx, ny = int((c - a) / gap / 2) + 1, int((d - b) / gap / 1.24) + 1
    places = [((a + c) / 2 + (i + 0.5 * (j % 2)) * gap, (b + d) / 2 + j * gap * 0.62) for j in range(-ny, ny + 1) for i in range(-nx, nx + 1)]
    gouge = _gouge(gap * 0.78, gap * 0.30)
    return Area(tuple(Shape(tuple((x + u, y + v) for u, v in gouge)) for x, y in ground.grown(-1.1).holding(gouge, places)))


def textured(d: Drawing, piece: Placed) -> None:
    d.clay(piece.body)
    d.either(_reed, piece)


def _reed(small: bool, piece: Placed) -> list[Mark]:
    rings = _reed_on(piece, 6.5 if small else 4.6).rings
    return [Mark.of(rings, True, BLACK)] if rings else []


@of_a_lesson
@lru_cache(8)
def _reed_on(piece: Placed, gap: float) -> Area:
    return reed(piece.body, gap)


def hole(d: Drawing, s: Subject) -> None:
    left = 0.0
    if s.part.holes:
        piece = s.place(4, 9, 54, 62)
        d.clay(piece.body)
        x = sum(x for x, _ in piece.hangs) / len(piece.hangs)
        d.line(((x, max(2, piece.body.bounds[1] - 6)), (x, min(68, piece.body.bounds[3] + 6))), "thin", dash=CENTRE)
        for h in piece.holes:
            d.thing(h, heavy=True)
    else:
        left = -30.5  # the tool alone, in the middle: where the hole goes is not ours to say
    d.fixed(_straw_at_work, left)


def _straw_at_work(d: Drawing, left: float) -> None:
    d.table(60 + left, 97 + left)
    d.clay(bar(62 + left, 47, 95 + left, 60, 1.5))
    d.fill(bar(77.8 + left, 52, 83.2 + left, 60), WHITE)
    d.tool(straw(), 80.5 + left, 60, -90)
    d.clay(bar(77.8 + left, 51, 83.2 + left, 60))
    d.arrow(((69 + left, 12), (69 + left, 38)))


def texture(d: Drawing, s: Subject) -> None:
    textured(d, s.place(4, 7, 54, 63))
    d.fixed(_carved_block_at_work)


def _carved_block_at_work(d: Drawing) -> None:
    d.table(60, 97)
    teeth: list[tuple[float, float]] = []
    for i in range(7):
        x = 64 + 4.2 * i
        teeth += [(x, 44), (x + 1.8, 48), (x + 3.6, 44)]
    block = area([(62, 26), (94.5, 26), (94.5, 44), *teeth[::-1], (62, 44)])
    d.clay(bar(61, 47, 96, 60, 1.5) - block)
    d.thing(block)
    d.line(((62, 44), *teeth, (94.5, 44)), "heavy")
    d.fine((((65, 31), (84, 31)), ((72, 36), (91, 36))))
    d.arrow(((78, 4), (78, 22)))


def _track(piece: Placed, inset: float) -> Line:
    """A line round the piece, that far in from its edge and not round its corners; less far where that leaves but a corner of it,
    and the outline itself where it is too narrow."""
    long = _long(piece.whole)
    for by in (inset, inset / 2):
        if (inner := piece.whole.grown(-by).softened(min(2.0, by / 3)).largest) and _long(inner) > long / 2:
            return clockwise_from(inner, up=-4)
    return clockwise_from(piece.whole, up=-4)


def _long(ground: Area) -> float:
    left, top, right, bottom = ground.bounds
    return max(right - left, bottom - top)


def stamp(d: Drawing, s: Subject) -> None:
    piece = s.place(4, 7, 54, 63)
    d.clay(piece.body)
    d.either(_stamped, piece)
    d.fixed(_stamp_at_work)


def _stamped(small: bool, piece: Placed) -> list[Mark]:
    r, prints = next(((r, found) for r in (4.2 if small else 3.4, 2.6, 1.8, 1.2) if (found := _prints(piece, r))), (1.2, ()))
    wedges = [bar((dx - 0.17) * r, -r * tall, (dx + 0.17) * r, r * tall, 0.3) for dx, tall in ((-0.66, 0.55), (0, 0.95), (0.66, 0.55))]
    bars = [wedge.shapes[0].outline for wedge in wedges]
    stamp = Path.along(bars, True, fill=BLACK)
    return [Mark(stamp.mapped((1.0, x), (1.0, y))) for x, y in prints]


def _stamp_at_work(d: Drawing) -> None:
    d.table(60, 97)
    d.clay(bar(61, 47, 96, 60, 1.5) - bar(72.9, 40, 84.1, 49.8) - bar(64.6, 40, 66.8, 49) - bar(68, 40, 70.2, 49))
    d.tool(stamp_block(), 78.5, 51.6, -90)
    d.arrow(((64, 12), (64, 34)))


@of_a_lesson
@lru_cache(2)
def _prints(piece: Placed, r: float) -> tuple[tuple[float, float], ...]:
    """Where a stamp fits along the edge."""
    track = _track(piece, min(r + 2, r * 1.6))
    whole = length(track)
    count = max(1, int(whole / (2.9 * r)))
    spots = points_along(track, [whole * i / count for i in range(count)])
    return piece.body.grown(-0.6).holding(disc(0, 0, r).shapes[0].outline, spots)


def carve(d: Drawing, s: Subject) -> None:
    piece = s.place(4, 7, 54, 63)
    d.clay(piece.body)
    for inset, share in ((4.0, 1.0), (8.5, 0.62)):
        track = _track(piece, inset)
        done = within((part(track, 0, length(track) * share),), piece.body.grown(-1.5))
        d.line(done, "heavy")
    d.fixed(_loop_at_work)


def _loop_at_work(d: Drawing) -> None:
    d.table(60, 97)
    groove = blob([(64, 42), (65, 47), (68, 48.6), (71, 47), (72, 42), (68, 39)])
    next_groove = blob([(76, 43), (77, 47.6), (80, 49), (87, 49), (90, 43), (83, 40)])
    d.clay(bar(61, 44, 96, 60, 1.5) - groove - next_groove)
    d.clay(ribbon(curve([(76.4, 46.4), (73, 40), (75.5, 35), (79.6, 36.6), (78.6, 40.2), (76.6, 39)]), 2.2))
    d.tool(loop(), 76.8, 48.2, -44, 0.82)
    d.arrow(((92, 18), (72, 18)))


def smooth(d: Drawing, s: Subject) -> None:
    """A wet fingertip along the edge."""
    if s.pot:
        v = vessel(s.pot, 12, 15, 66, 66)
        v.draw(d)
        d.line(v.ring(v.rim, *((10, 150) if v.dome else (-150, -10))), "heavy")
        x, y = v.x + v.rx, v.rim
        reach = max(v.rx, 13.0)  # an arrow needs so much
        d.arrow(curve([(x - 1, y + 8.5), (x - reach * 0.5, y + v.ry + 8), (x - reach * 1.15, y + v.ry + 9.5)]))
    else:
        piece = s.place(12, 5, 70, 65)
        d.clay(piece.body)
        line = clockwise_from(piece.whole, up=3)
        x, y = line[0]
        d.line(part(line, length(line) * 0.6, length(line)), "heavy")
        out = piece.whole.grown(6.5)
        d.arrow(part(outline_from(out.shapes[0].outline, (x + 6.5, y)), 11, 33))
    d.tool(finger(10.5, 27), x - 2.5, y, 14)
    for dx, dy in ((8, -11), (15, -7)):
        d.thing(drop(x + dx, y + dy))


NAME = "Ana"


def name(d: Drawing, s: Subject) -> None:
    """On the back, or under the foot."""
    if s.pot:
        vessel(s.pot, 4, 26, 38, 62).draw(d)
        back = s.place(46, 11, 94, 65, s.base or s.part)
    else:
        textured(d, s.place(4, 26, 38, 62))
        back = s.place(45, 11, 95, 65, flipped=True)
    d.clay(back.body)
    x, y, size = _name_spot(back.body)
    d.words(x, y + size * 0.36, NAME, size)
    tip = x + wide_of(NAME, size) / 2 + 0.6
    lean = max(36.0, math.degrees(math.acos(max(0.0, min(1.0, (96 - tip) / 28.8)))))
    foot = y + size * 0.36
    d.tool(pencil(), tip, foot, -lean, 0.8 * min(1.0, (foot - 4) / (28.8 * math.sin(math.radians(lean)))))
    d.arrow(curve([(20, 20), (27, 10), (38, 5), (50, 9)]))


def _name_spot(ground: Area) -> tuple[float, float, float]:
    inner = ground.grown(-1.2)
    for size in (10.0, 9.0, 8.0, 7.5, 6.5, 5.5):
        if spot := level_spot(inner, wide_of(NAME, size), size):
            return (*spot, size)
    x, y = ground.middle
    return x, y, 5.5


def paint(d: Drawing, s: Subject) -> None:
    """A band of colour follows the piece's own edge, as far as the brush has come."""
    if s.pot:
        v = vessel(s.pot, 10, 5, 64, 65)
        v.draw(d)
        y = v.rim if v.dome else v.rim + v.ry + min(9.0, (v.foot - v.rim) * 0.3)
        run = v.ring(y, 178, 62)
        inside, wide = v.body, 6.0
    else:
        piece = s.place(5, 4, 61, 66)
        d.clay(piece.body)
        inside, wide = piece.body.grown(-1.2), 5.4
        ring = _track(piece, 5.6)
        run = part(ring, length(ring) * 0.38, length(ring) - 1.5)
    band = ribbon(run, wide) & inside
    for side, long in ((-1.15, 15.0), (1.15, 10.0)):  # the dry start of the stroke
        streak = part(beside(run, side), 0, long)
        for share, half in ((1, 0.18), (0.75, 0.32), (0.5, 0.46), (0.25, 0.6)):
            band = band - ribbon(part(streak, 0, length(streak) * share), 2 * half)
    d.ink(band)
    x, y = run[-1]
    d.tool(brush(True), x - 1.2, y - 1.5, 24)


def sponge_foot(d: Drawing, s: Subject) -> None:
    """Glaze off the foot: the thing upside down, its glazed sides black, the foot wiped bare."""
    d.table()
    wide, tall = 34.0, 15.0
    if s.pot:
        tall = min(36.0, max(15.0, 68 * s.pot.tall / s.pot.rim))
        wide = min(34.0, tall * s.pot.rim / s.pot.tall / 2)
    top = 60 - tall
    d.clay(bar(46 - wide, top, 46 + wide, 60, 1))
    d.ink(bar(46 - wide, top + 5, 46 + wide, 60))
    x = 46 + wide * 0.5
    d.tool(sponge(), x, top - 6.5)
    d.arrow(((x - 14, top - 7), (x - 34, top - 7)))
    for dx, dy in ((14, -9), (18.5, -2)):
        d.thing(drop(x + dx, top - 6 + dy))
