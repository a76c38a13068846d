"""Making a slab and cutting the piece from it."""

from __future__ import annotations

from lessonkit.geometry.areas import Area, area, bar
from lessonkit.geometry.drafting import arc, blob, clockwise_from, curve, disc, length, outline_from, part, raw_edge, within
from lessonkit.layout.pictures.grammar import Drawing
from lessonkit.layout.pictures.subject import NARROW, Placed, Subject
from lessonkit.layout.pictures.tools import flat_hand, needle, rolling_pin, thumb

PAGE = bar(2.2, 2.2, 97.8, 67.8)


def rolled(piece: Placed, grow: float = 7.0, seed: float = 1.0) -> Area:
    """The slab that a piece is cut from: its hull, grown and softened, inside the picture."""
    hull = piece.whole.hull.grown(grow + 6).grown(-6)
    return raw_edge((hull & PAGE.grown(-1.0)).softened(3), 0.6, seed)


def wedge(d: Drawing, s: Subject) -> None:
    d.table()
    back = [(20, 40), (31, 33), (42, 31), (54, 28), (63, 33), (66, 40), (64, 52), (60, 61)]
    lump = blob([(34, 62), (9, 61), (6, 54), (10, 46), *back]) & bar(0, 0, 100, 60)
    d.clay(lump)
    d.line(curve([(22, 54), (40, 53), (53, 47), (54, 38), (47, 33.5), (40, 37), (41, 44), (46, 44.5)]))
    d.shade(lump)
    d.tool(flat_hand(), 33, 35, -19, 1.2)
    d.arrow(curve([(24, 12), (15, 19), (8.5, 30)]))
    d.arrow(curve([(72, 50), (83, 44), (85, 31)]))


def pat(d: Drawing, s: Subject) -> None:
    d.ghost(disc(42, 40.6, 19))
    d.table()
    lump = blob([(15, 61), (10.5, 56), (14, 50), (24, 46.4), (42, 45.4), (60, 46.2), (71, 50), (74.5, 56), (70, 61), (42, 62)]) & bar(0, 0, 100, 60)
    d.clay(lump)
    d.shade(lump)
    d.tool(flat_hand(), 28, 45.6, size=1.3)
    d.arrow(((50, 3), (50, 27)))


def roll(d: Drawing, s: Subject) -> None:
    slab = raw_edge(bar(22, 4, 66, 41, 6), 0.8, 1.4)
    d.clay(slab)
    d.shade(slab)
    for x in (12, 70):
        d.thing(bar(x, 2.5, x + 6, 42), heavy=True)
        d.fine((((x + 2, 6), (x + 2, 16)), ((x + 4, 30), (x + 4, 40))))
    d.tool(rolling_pin(), 44, 22.5)
    d.arrow(((44, 16.5), (44, 5.5)))
    d.arrow(((44, 28.5), (44, 39.5)))
    d.table(5, 83, 65)
    d.clay(bar(21, 58, 67, 65, 1.8))
    for x in (12, 70):
        d.thing(bar(x, 58, x + 6, 65), heavy=True)
    d.tool(rolling_pin(34, 4.4), 44, 53.6)
    d.measure(91, 58, 65, 78, 85)


def turn(d: Drawing, s: Subject) -> None:
    slab = raw_edge(bar(25, 19, 75, 51, 6), 0.8, 2.1)
    before = slab.turned(-90, (50, 35))
    d.ghost(before)
    d.clay(slab)
    d.shade(slab)
    d.arrow(arc(50, 35, 31, -58, 2))
    d.arrow(arc(50, 35, 31, 122, 182))
    spot = disc(66, 27, 3.2)
    d.ink(spot)
    d.ghost(spot.turned(-90, (50, 35)))


def flip(d: Drawing, s: Subject) -> None:
    """Turned over between two boards: the marked face goes from the top to the bottom."""
    d.table(3, 97, 63)
    boards = bar(4, 43, 44, 47.4, 0.3) | bar(4, 58.6, 44, 63, 0.3)
    slab = bar(6.5, 48.2, 41.5, 57.8, 2)
    marks = [area([(x, 48), (x + 4.4, 48), (x + 2.2, 52.4)]) for x in (10, 17.5, 25, 32.5)]
    d.clay(slab)
    d.thing(boards)
    d.clay(slab.moved(52, 0))
    d.thing(boards.moved(52, 0))
    for mark in marks:
        d.ink(mark)
        d.ink(mark.mapped(lambda x, y: (x + 52, 106 - y)))
    d.arrow(arc(50, 38, 27, -178, -4, ry=29))


def lay(d: Drawing, s: Subject) -> None:
    if s.ratio > NARROW:
        here, there = s.place(10, 40, 90, 62), s.place(10, 4, 90, 24)
    else:
        here, there = s.place(9, 9, 49, 61), s.place(57, 9, 97, 61)
    slab = rolled(here, 5.5)
    d.clay(slab)
    d.shade(slab)
    d.ghost(here.body)
    d.thing(there.body, heavy=True)
    a, b, _, e = there.body.bounds
    if s.ratio > NARROW:
        d.arrow(((50, (b + e) / 2 + 2), (50, 48)))
    else:
        right = here.body.bounds[2]
        d.arrow(((a + 4, 35), (max(right - 13, 30 + a - 50), 35)))


def trace(d: Drawing, s: Subject) -> None:
    piece = s.place(27, 10, 73, 60) if s.ratio < NARROW else s.place(18, 20, 82, 54)
    slab = rolled(piece, 7.6)
    d.clay(slab)
    d.shade(slab)
    card = piece.body
    d.ink(card.moved(1.3, 1.5))
    d.thing(card)
    line = clockwise_from(piece.whole, up=-2)
    d.line(part(line, length(line) * 0.55, length(line)), "heavy")
    out = piece.whole.grown(5)
    x, y = line[0]
    d.arrow(part(outline_from(out.shapes[0].outline, (x + 5, y)), 2.5, 22))
    _hold(d, piece)
    _needle_on(d, x, y)


def _hold(d: Drawing, piece: Placed) -> None:
    """Fingertips that keep the stencil still, from the left: two, or one where it is narrow."""
    middle = (piece.whole.bounds[1] + piece.whole.bounds[3]) / 2
    runs = {y: within((((0, y), (100, y)),), piece.body) for y in (middle - 4.6, middle, middle + 4.6)}
    for y in (middle - 4.6, middle + 4.6) if runs[middle - 4.6] and runs[middle + 4.6] else (middle,):
        start, end = min((run[0][0], run[-1][0]) for run in runs[y] or (((30, y), (60, y)),))
        tip = max(20.0, min(start + 8, (start + end) / 2 + 2))
        d.tool(thumb(8.8, tip - 4), tip, y, 180)


def _needle_on(d: Drawing, x: float, y: float) -> None:
    """The needle straight up from the clay: it always looks upright."""
    d.tool(needle(), x, y, -90, min(0.92, (y - 2) / 39))


def cut(d: Drawing, s: Subject) -> None:
    d.table()
    d.clay(bar(5, 46, 58, 60, 1.5))
    d.thing(bar(5, 43.6, 29, 46))
    d.line(((31.6, 46), (31.6, 60)))
    d.line(((38, 46), (38, 40.4), (31.6, 40.4)), "heavy", square=True)
    d.tool(needle(), 31.6, 60, -90, 1.5)
    d.arrow(((20, 8), (20, 34)))
    d.clay(bar(64, 46, 96, 60, 1.5))
    d.tool(needle(), 70, 60, -60, 1.35)
    d.cross(87, 30.5, 9.5)


def lift(d: Drawing, s: Subject) -> None:
    piece = s.place(13, 10, 55, 60) if s.ratio < NARROW else s.place(14, 18, 66, 52)
    whole = piece.whole
    waste = rolled(piece, 8) - whole.grown(0.5)
    cx = (whole.bounds[0] + whole.bounds[2]) / 2 + 2
    d.clay(waste & bar(-9, -9, cx - 0.8, 99))
    off = (waste & bar(cx + 0.8, -9, 200, 99)).moved(17, 0).turned(7, (80, 62)) & PAGE
    d.clay(whole, heavy=True)
    for hole in piece.body.openings:
        d.ghost(hole)
    d.clay(off)
    d.shade(off)
    right = whole.bounds[2]
    d.arrow(((right - 9, 35), (right + 12, 35)))


def opening(d: Drawing, s: Subject) -> None:
    piece = s.place(18, 5, 82, 65)
    if any(hole.middle[1] < 24 for hole in piece.body.openings[:1]):
        piece = s.place(18, 22, 82, 67)  # room for the needle above a high opening
    d.clay(piece.whole)
    for other in piece.body.openings:
        d.ghost(other)
    for hole in piece.body.openings[:1]:
        line = clockwise_from(hole, up=-2)
        d.line(part(line, length(line) * 0.5, length(line)), "heavy")
        x, y = line[0]
        way = outline_from(hole.grown(5).shapes[0].outline, (x + 5, y))
        d.arrow(part(way, 2, min(21, length(way) * 0.4)))
        _needle_on(d, x, y)
