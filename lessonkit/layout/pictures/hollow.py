"""Hollow things: opened, pinched, paddled, wrapped, stood on a base, draped and slumped."""

from __future__ import annotations

import math

from lessonkit.geometry.areas import area, bar, placing
from lessonkit.geometry.drafting import arc, cross_hatch, curve, disc
from lessonkit.geometry.shape import Line
from lessonkit.layout.pictures.grammar import Drawing
from lessonkit.layout.pictures.subject import Pot, Subject
from lessonkit.layout.pictures.tools import bat, bat_outline
from lessonkit.layout.pictures.vessel import LEAN, Vessel, vessel

STOCK = Pot(80.0, 80.0, 76.0, 7.0)  # where the piece is no pot


def _turning_loop(d: Drawing, x: float, y: float, rx: float = 15, ry: float = 5.5) -> None:
    """The pot turns: a loop seen from a little above."""
    d.arrow(arc(x, y, rx, -40, -335, ry))


def open_ball(d: Drawing, s: Subject) -> None:
    d.table(4, 76, 62)
    d.clay(disc(42, 41, 23) & bar(0, 0, 100, 62))
    thumb = curve([(51, 22), (48.6, 32), (49, 42), (48, 49), (43.5, 53), (38.5, 50), (36.6, 42), (36.6, 30), (39, 19), (47, 10), (59, 5), (76, 3.5)])
    wrist = curve([(76, 3.5), (86, 4), (94, 7)])
    torn = curve([(94, 7), (92.6, 14), (94.4, 21), (93, 28)])
    fingers = curve([(93, 28), (86, 34), (80, 45), (73, 54), (66.5, 56.5), (63, 53.5), (65.6, 44), (64, 33), (57, 22), (51, 22)])
    d.thing(area((*thumb, *wrist[1:], *torn[1:], *fingers[1:-1])))
    d.line(curve([(80, 30), (75, 40), (68.5, 49), (63.6, 52.6)]))
    d.line(curve([(46.5, 51.2), (47.4, 46.4), (44.4, 44.6), (40.4, 46), (39.6, 50.2)]))
    _turning_loop(d, 19, 11)
    d.measure(84, 53, 62, 46, 79)


def _bowl(cx: float, base: float, top: float, out: float, wall: float, foot: float = 12, pinched: float = 0.0) -> list[tuple[float, float]]:
    """A bowl cut through the middle; `pinched` thins the right wall near its rim."""
    us = [math.sin(math.pi / 2 * i / 40) for i in range(41)]
    outside = [(foot + (out - foot) * (1 - u**3) ** 0.62, top + (base - top) * u) for u in us]
    inside = [((out - wall) * max(0.0, 1 - u**3.2) ** 0.45, top + (base - top - wall) * u) for u in us]
    thin = [pinched * (1 - min(u / 0.55, 1) ** 2) ** 2 for u in us]
    right = [(cx + w + t, y) for (w, y), t in zip(inside, thin, strict=True)]
    return [*((cx - w, y) for w, y in outside), *((cx + w, y) for w, y in outside[::-1]), *right, *((cx - w, y) for w, y in inside[::-1][1:])]


def pinch(d: Drawing, s: Subject) -> None:
    d.table(y=62)
    d.line(((12, 29), (64, 29)), "thin")
    d.clay(area(_bowl(38, 62, 29, 27, 8, pinched=3.0)))
    back = curve([(67.5, 22), (63.4, 29), (61.6, 37), (60.6, 44), (57, 48), (52.6, 45), (51.6, 37), (53, 27), (58, 16), (68, 8), (82, 6)])
    wrist = curve([(82, 6), (90, 7.5), (96, 10.5)])
    torn = curve([(96, 10.5), (94.4, 18), (96, 25), (94, 31.5)])
    fingers = curve([(94, 31.5), (87, 36), (81, 44), (75, 52), (68.5, 54.5), (65.6, 51), (66.6, 44), (66.6, 36), (68, 28), (67.5, 22)])
    d.thing(area((*back, *wrist[1:], *torn[1:], *fingers[1:-1])))
    d.line(curve([(80, 30), (75.6, 38), (70.6, 46), (66, 50)]))
    d.line(curve([(59.6, 46.2), (57.2, 41), (54, 41.6), (52.4, 43.6)]))
    _turning_loop(d, 30, 14, 17, 6)


def paddle(d: Drawing, s: Subject) -> None:
    v = vessel(s.pot or STOCK, 6, 6, 54, 66)
    v.draw(d)
    x, y = v.x + v.widest + 0.8, v.foot - (v.foot - v.rim) * 0.1
    size = min(1.1, (y - 3) / 46)
    d.tool(bat(), x, y, -90, size, flipped=True)
    d.ghost(bat_outline().mapped(placing(x + 20, y - 3, -68, size, True)))
    d.arrow(((x + 25, y - 18), (x + 10, y - 20)))


def wrap(d: Drawing, s: Subject) -> None:
    """A wall that stands up is led round a tube, or a cone, that wears paper; its free end is still to come."""
    pot = s.pot or STOCK
    across, t, foot = max(pot.rim, pot.foot), 4.2, 53.5
    x, tall = 31.0, min(34.0, max(15.0, 36.0 * pot.tall / across))
    leave, begin = -48.0, 122.0  # where the wall leaves the tube behind, and where it began in front
    top = foot - tall
    at_top, at_foot = (18.0, 18.0) if pot.sides or pot.bowl else (18.0 * pot.rim / across, 18.0 * pot.foot / across)
    end = max(7.0, top - 15)
    at_end = max(4.0, at_foot + (at_top - at_foot) * (foot - end) / tall)
    tube = Vessel(x, end, foot, at_end, at_end * LEAN, at_foot, 2.0)

    def path(y: float, t: float = 0.0) -> Line:
        """The free end and what lies behind the tube, at a height; from the left, behind, to the right."""
        radius = tube.radius(y) + t
        px, py = arc(x, y, radius, -90, leave, radius * LEAN)[-1]
        run = (95 - px) / -math.sin(math.radians(leave))
        return (*arc(x, y, radius, -180, leave, radius * LEAN), (95, py + run * math.cos(math.radians(leave)) * LEAN))

    def front(y: float, t: float = 0.0) -> Line:
        """From the left to where it began."""
        radius = tube.radius(y) + t
        return arc(x, y, radius, 180, begin, radius * LEAN)

    d.clay(area((*path(foot), *path(top)[::-1])), heavy=True)
    d.clay(area((*path(top), *path(top, t)[::-1])))
    d.thing(tube.body)
    d.thing(disc(x, tube.rim, tube.rx, tube.ry))
    d.ink(disc(x, tube.rim, tube.rx - 2, tube.ry - 0.7))
    d.line(tube.ring(top - 7))  # its sleeve of paper, with the seam
    d.line(((x + tube.radius(top - 7) * 0.62, top - 7 + tube.ry * 0.78), (x + at_foot * 0.62 - 1.5, foot + at_foot * LEAN * 0.8)))
    low, high, lip = front(foot, t), front(top, t), front(top)
    d.clay(area((*low, *high[::-1])), heavy=True)
    d.clay(area((*high, *lip[::-1])))
    d.clay(area((high[-1], lip[-1], front(foot)[-1], low[-1])), heavy=True)
    d.arrow(curve([(90, foot + 9.5), (78, foot + 13), (62, foot + 12.5), (48, foot + 8.5)]))


def stand(d: Drawing, s: Subject) -> None:
    """The walls are let down onto the scored edge of the base."""
    pot = (s.pot or STOCK)._replace(roof=0.0)
    v = vessel(pot, 24, 3, 76, 50)
    level = min(57.0, v.foot + 20)
    base = v._replace(rim=level, foot=level + 4.5, rx=v.fx + 1.5, ry=(v.fx + 1.5) * v.ry / v.rx, fx=v.fx + 1.5, bowl=False, dome=0.0, profile=())
    d.clay(base.body)
    d.line(base.ring(level, 0, 360))
    scored = area(base.ring(level, 0, 360, 1.5)[:-1]) - area(base.ring(level, 0, 360, 1.5 + v.wall)[:-1])
    d.line(cross_hatch(scored, 40, 2.6))
    v.draw(d)
    d.arrow(((50, v.foot - 8), (50, level - 1)))


def drape(d: Drawing, s: Subject) -> None:
    d.table()
    d.thing(area(curve([(22, 60), (24, 48), (33, 37), (50, 32), (67, 37), (76, 48), (78, 60)])))
    over = curve([(11, 56.5), (16, 54), (18.4, 46), (29, 32.4), (50, 26), (71, 32.4), (81.6, 46), (84, 54), (89, 56.5)])
    under = curve([(13, 60), (20, 58), (24, 48), (33, 37), (50, 32), (67, 37), (76, 48), (80, 58), (87, 60)])
    d.clay(area((*over, *under[::-1])).softened(0.8), heavy=True)
    d.ghost(bar(8, 8, 92, 14, 1.5))
    d.arrow(((50, 5), (50, 23)))


def slump(d: Drawing, s: Subject) -> None:
    d.table()
    hollow = [(18, 34), (24, 44), (34, 51.5), (50, 53.5), (66, 51.5), (76, 44), (82, 34)]
    d.thing(area([(10, 34), *curve(hollow), (90, 34), (84, 60), (16, 60)]))
    inner = [(19 + (x - 18) * 0.97, y - 6.3) for x, y in hollow]
    clay = area([(9, 27.5), (9, 33.8), (17.6, 33.8), *curve(hollow)[1:-1], (82.4, 33.8), (91, 33.8), (91, 27.5), *curve(inner)[::-1]])
    d.clay(clay.softened(0.8), heavy=True)
    d.ghost(bar(9, 13, 91, 19.5, 1.5))
    d.arrow(((50, 16), (50, 40)))
