"""Hollow things: opened, pinched, paddled, wrapped, stood on a base, draped and slumped."""

from __future__ import annotations

import math

from lessonkit.geometry.drafting import Area, arc, area, bar, curve, disc, ribbon
from lessonkit.layout.pictures.grammar import Drawing
from lessonkit.layout.pictures.subject import Pot, Subject
from lessonkit.layout.pictures.tools import finger, paddle, thumb
from lessonkit.layout.pictures.vessel import Vessel, vessel


def drape(d: Drawing, s: Subject) -> None:
    d.table()
    dome = curve([(22, 60), (24, 48), (33, 37), (50, 32), (67, 37), (76, 48), (78, 60)])
    d.thing(area(dome))
    over = curve([(12, 58), (16, 54), (18.4, 46), (29, 32.4), (50, 26), (71, 32.4), (81.6, 46), (84, 54), (88, 58)])
    under = curve([(13, 60), (20, 58), (24, 48), (33, 37), (50, 32), (67, 37), (76, 48), (80, 58), (87, 60)])
    d.clay(area((*over, *under[::-1])), heavy=True)
    d.ghost(bar(8, 8, 92, 14, 1.5))
    d.arrow(((50, 7), (50, 22)))


def slump(d: Drawing, s: Subject) -> None:
    d.table()
    hollow = [(18, 34), (24, 44), (34, 51.5), (50, 53.5), (66, 51.5), (76, 44), (82, 34)]
    d.thing(area([(10, 34), *curve(hollow), (90, 34), (84, 60), (16, 60)]))
    inner = [(19 + (x - 18) * 0.97, y - 6.3) for x, y in hollow]
    clay = area([(9, 27.5), (9, 33.8), (17.6, 33.8), *curve(hollow)[1:-1], (82.4, 33.8), (91, 33.8), (91, 27.5), *curve(inner)[::-1]])
    d.clay(clay.softened(0.8), heavy=True)
    d.ghost(bar(9, 13, 91, 19.5, 1.5))
    d.arrow(((50, 16), (50, 40)))


__all__ = ["Area", "Pot", "Vessel", "arc", "disc", "finger", "math", "paddle", "ribbon", "thumb", "vessel"]
