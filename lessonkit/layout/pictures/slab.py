"""Making a slab and cutting the piece from it."""

from __future__ import annotations

from lessonkit.geometry.drafting import (
    Area, arc, area, bar, blob, clockwise_from, curve, disc, length, outline_from, part, raw_edge, ribbon, within,
)  # fmt: skip
from lessonkit.layout.pictures.grammar import Drawing, wide_of
from lessonkit.layout.pictures.subject import NARROW, Placed, Subject
from lessonkit.layout.pictures.tools import finger, flat_hand, needle, rolling_pin, thumb

PAGE = bar(2.2, 2.2, 97.8, 67.8)


def rolled(piece: Placed, grow: float = 7.0, seed: float = 1.0) -> Area:
    """The slab that a piece is cut from: its hull, grown and softened, inside the picture."""
    hull = piece.whole.hull.grown(grow + 6).grown(-6)
    return raw_edge((hull & PAGE.grown(-1.0)).softened(3), 0.6, seed)


def stencil(d: Drawing, ground: Area, heavy: bool = False) -> None:
    """A sheet of card with a few printed lines."""
    d.thing(ground, heavy)


def wedge(d: Drawing, s: Subject) -> None:
    d.table()
    lump = blob([(9, 61), (6, 54), (10, 46), (20, 40), (31, 33), (42, 31), (54, 28), (63, 33), (66, 40), (64, 52), (60, 61), (34, 62)]) & bar(0, 0, 100, 60)
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
    if not d.small and wide_of(s.piece.stick, 6) < 21:
        d.words(99, 50, s.piece.stick, 6, centred=False)


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
    d.table()

    def pack(marks_up: bool) -> tuple[list[Area], Area, list[Area]]:
        """Two boards, the slab between them and the marks on one of its faces, standing on the table at the left."""
        slab = bar(7, 49.6, 41, 56.4, 1.8)
        marks = [area([(x, 49.4), (x + 4, 49.4), (x + 2, 53)]) for x in (11, 18, 25, 32)]
        if not marks_up:
            marks = [m.mapped(lambda x, y: (x, 106 - y)) for m in marks]
        return [bar(5, 45.4, 43, 49, 0.3), bar(5, 57, 43, 60, 0.3)], slab, marks

    boards, slab, marks = pack(True)
    for b in boards:
        d.thing(b)
    d.clay(slab)
    for m in marks:
        d.ink(m)
    boards, slab, marks = pack(False)
    for b in boards:
        d.thing(b.moved(52, 0))
    d.clay(slab.moved(52, 0))
    for m in marks:
        d.ink(m.moved(52, 0))
    d.arrow(arc(50, 52, 38, -150, -28, ry=42))


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
    a, b, c, e = there.body.bounds
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
    d.ink(card.moved(1.3, 1.5) - card.grown(-0.1))
    d.thing(card)
    line = clockwise_from(piece.whole, up=-2)
    d.line(part(line, length(line) * 0.55, length(line)), "heavy")
    out = piece.whole.grown(5)
    x, y = line[0]
    d.arrow(part(outline_from(out.shapes[0].outline, (x + 5, y)), 2.5, 22))
    hold(d, piece)
    d.tool(needle(), x, y, -90, 0.92)


def hold(d: Drawing, piece: Placed) -> None:
    """Fingertips that keep the stencil still, from the left."""
    middle = (piece.whole.bounds[1] + piece.whole.bounds[3]) / 2
    for y in (middle - 4.6, middle + 4.6):
        run = within(((0, y), (100, y)), piece.body)
        left = min(run, key=lambda line: line[0][0])
        start, end = left[0][0], left[-1][0]
        tip = min(start + 8, (start + end) / 2 + 2)
        d.tool(thumb(8.8, tip - 4), tip, y, 180)


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
    off = (waste & bar(cx + 0.8, -9, 200, 99)).moved(17, 0).turned(7, (80, 62))
    d.clay(whole, heavy=True)
    for hole in piece.body.openings:
        d.ghost(hole)
    d.clay(off)
    d.shade(off)
    right = whole.bounds[2]
    d.arrow(((right - 9, 35), (right + 12, 35)))


def opening(d: Drawing, s: Subject) -> None:
    piece = s.place(18, 5, 82, 65)
    d.clay(piece.whole)
    hole = piece.opening
    assert hole
    line = clockwise_from(hole, up=-2)
    for other in piece.body.openings:
        d.ghost(other)
    d.line(part(line, length(line) * 0.5, length(line)), "heavy")
    x, y = line[0]
    d.arrow(part(outline_from(hole.grown(5).shapes[0].outline, (x + 5, y)), 2, 21))
    d.tool(needle(), x, y, -90, 0.92)


__all__ = ["finger", "ribbon"]
