"""Around the work: shown, covered, left to dry, washed up and put away."""

from __future__ import annotations

import math

from lessonkit.drawing.items import WHITE
from lessonkit.geometry.areas import area, bar
from lessonkit.geometry.drafting import curve, disc, raw_edge, within
from lessonkit.layout.pictures.grammar import PRESS, Drawing
from lessonkit.layout.pictures.subject import Subject
from lessonkit.layout.pictures.tools import brush, needle, pencil, scorer, sponge
from lessonkit.layout.pictures.vessel import vessel


def put(d: Drawing, s: Subject, x0: float, y0: float, x1: float, y1: float) -> None:
    """The piece as it is now: the pot standing, or the flat piece from above."""
    if s.pot:
        vessel(s.pot, x0, y0, x1, y1).draw(d)
    else:
        d.clay(s.place(x0, y0, x1, y1).pierced)


def plain(d: Drawing, s: Subject) -> None:
    if s.pot:
        put(d, s, 10, 4, 90, 66)
        return
    piece = s.place(6, 4, 94, 66)
    put(d, s, 6, 4, 94, 66)
    d.line(within(piece.press, piece.body), "thin", dash=PRESS)


def _sun(d: Drawing, x: float, y: float) -> None:
    d.thing(disc(x, y, 4.6))
    for i in range(8):
        a = math.radians(45 * i)
        d.line(((x + 6.8 * math.cos(a), y + 6.8 * math.sin(a)), (x + 9 * math.cos(a), y + 9 * math.sin(a))))


def _moon(d: Drawing, x: float, y: float) -> None:
    d.ink(disc(x, y, 6.6) - disc(x + 3.6, y - 1.6, 5.6))


def wait(d: Drawing, s: Subject) -> None:
    """Days go by: sun, moon, sun."""
    if not s.pot:
        d.thing(bar(5, 4, 63, 66, 1))
    put(d, s, 11, 8, 57, 62)
    d.fixed(_days)


def _days(d: Drawing) -> None:
    _sun(d, 78, 13)
    _moon(d, 78, 35)
    _sun(d, 78, 57)
    d.arrow(((93, 6), (93, 65)))


def cover(d: Drawing, s: Subject) -> None:
    if s.pot:
        d.table(8, 92, 64)
        v = vessel(s.pot, 26, 14, 74, 66)
        v.draw(d)
        w = v.widest
        bag = [(50 - w - 11, 63.5), (50 - w - 6, 52), (50 - w - 5, v.rim + 2), (50 - w + 1, v.top - 3), (50, v.top - 6),
               (50 + w - 1, v.top - 3), (50 + w + 5, v.rim + 2), (50 + w + 6, 52), (50 + w + 11, 63.5)]
        d.line(curve(bag), "heavy")
        d.fine(curve([(50 - w - 2, v.rim), (50 - w - 3, 40), (50 - w - 5, 58)]))
        d.fine(curve([(50 + w + 2, v.rim), (50 + w + 3, 40), (50 + w + 5, 58)]))
        d.arrow(((50, 3), (50, 22)))
        return
    d.thing(bar(22, 5, 78, 67, 1))
    put(d, s, 28, 11, 72, 61)
    d.fixed(_film)


def _film(d: Drawing) -> None:
    film = raw_edge(bar(18, 3, 82, 50, 2), 0.9, 2.5) & area([(-9, -9), (120, -9), (120, 9.5), (70, 51), (70, 99), (-9, 99)])
    for x, y, n in ((30, 11, 12), (34, 11, 22), (58, 20, 18), (62, 20, 11)):
        d.line(((x, y + n), (x + n * 0.8, y)), "heavy", tone=WHITE, square=True)
        d.fine(((x + 1, y + n + 0.3), (x + 1 + n * 0.8, y + 0.3)))
    d.fill(film, None, "heavy")
    d.thing(area([(81.3, 41), (70.6, 50.4), (70.2, 40.6)]).softened(0.3))
    d.arrow(((50, 44), (50, 64)))


def _stop(d: Drawing) -> None:
    octagon = area([(35 + 34 * math.cos(math.radians(22.5 + 45 * i)), 35 + 34 * math.sin(math.radians(22.5 + 45 * i))) for i in range(8)])
    d.ink(octagon)
    inner = octagon.grown(-2.0, mitred=True)
    d.line((*inner.shapes[0].outline, inner.shapes[0].outline[0]), "object", tone=WHITE)


def show(d: Drawing, s: Subject) -> None:
    d.fixed(_stop)
    if s.pot:
        v = vessel(s.pot, 16, 14, 54, 56)
        d.fill(v.body.grown(1.4), WHITE)
        v.draw(d)
    else:
        window = (9.0, 23.0, 61.0, 47.0) if s.ratio > 1.8 else (23.0, 9.0, 47.0, 61.0) if s.ratio < 0.6 else (16.0, 16.0, 54.0, 54.0)
        piece = s.place(*window)
        d.fill(piece.body.grown(1.4), WHITE)
        put(d, s, *window)
        for hole in piece.holes:
            d.ink(hole)
    d.fixed(_ticked)


def _ticked(d: Drawing) -> None:
    d.thing(bar(73, 42, 92, 61, 1), heavy=True)
    d.tick(81.5, 53.4, 1.3)
    d.tool(pencil(), 76.3 if d.mirrored else 88.6, 43, -76, 0.86)


def wash(d: Drawing, s: Subject) -> None:
    """Rinsed in the pail, wiped on the towel."""
    d.table(3, 41)
    pail = area([(5, 27), (39, 27), (36, 60), (8, 60)])
    d.thing(pail)
    d.tool(scorer(), 21, 52, -80, 1.1)
    for i, y in enumerate((35.0, 42.0, 49.0)):
        wave = curve([(6 + j * 3.2, y + (1 if j % 2 else -1)) for j in range(11)])
        d.line(within((wave,), pail.grown(-0.5)), "object" if i == 0 else "thin")
    d.line(((4, 27), (40, 27)), "heavy")
    towel = raw_edge(bar(50, 23, 96, 66, 1.5), 0.3, 1.2)
    d.thing(towel)
    for y in (27.5, 30, 59, 61.5):
        d.line(within((((40, y), (99, y)),), towel))
    d.tool(brush(), 53.5, 39, 4, 0.92)
    d.tool(needle(), 55, 49, 4, 0.92)
    d.arrow(curve([(30, 11), (43, 5), (57, 7), (66, 18)]))


def tidy(d: Drawing, s: Subject) -> None:
    """Tools in the cup, points down; the table wiped."""
    d.table(3, 97)
    d.thing(area([(6, 28), (38, 28), (35.5, 60), (8.5, 60)]))
    d.tool(scorer(), 16, 56.4, -96, 1.15)
    d.tool(needle(), 27, 57, -83, 1.15)
    d.line(((5, 28), (11, 28)), "heavy")
    d.line(((33, 28), (39, 28)), "heavy")
    d.line(((6, 28), (8.5, 60), (35.5, 60), (38, 28)), "heavy")
    d.tool(sponge(22, 12), 69, 53.6)
    d.arrow(((60, 41), (45, 41)))
    d.arrow(((78, 41), (93, 41)))
