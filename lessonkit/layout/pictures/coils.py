"""Coils: rolled, wound, stacked and blended."""

from __future__ import annotations

import math
from itertools import pairwise

from lessonkit.geometry.areas import Area, bar
from lessonkit.geometry.drafting import curve, disc, ribbon
from lessonkit.layout.pictures.grammar import Drawing
from lessonkit.layout.pictures.subject import Subject
from lessonkit.layout.pictures.tools import finger, flat_hand


def roll_coil(d: Drawing, s: Subject) -> None:
    coil = bar(6, 15.5, 94, 24.5, 4.4)
    d.ghost(coil.moved(0, -11.5))
    d.ghost(coil.moved(0, 11.5))
    d.clay(coil)
    d.shade(coil, 1.1)
    d.arrow(((50, 17), (50, 4)))
    d.arrow(((50, 23), (50, 36)))
    d.table(4, 96, 65)
    d.clay(disc(46, 60, 5))
    d.tool(flat_hand(), 30, 54.6, size=1.1)
    d.arrow(((38, 61), (20, 61)))
    d.arrow(((54, 61), (72, 61)))


def spiral(d: Drawing, s: Subject) -> None:
    r, cx, cy = 3.9, 34.0, 33.0
    k = r / math.pi  # each turn lies against the last: a turn's pitch is the coil's width
    end = 2 * math.pi * 2 + math.pi * 1.5
    middle = [(cx + k * t * math.cos(t), cy - k * t * math.sin(t)) for t in (end * i / 200 for i in range(201))]
    x, y = middle[-1]
    tail = curve([(x, y), (x + 14, y + 0.9), (x + 34, y + 1.9), (96 - r, y + 0.6)])
    whole = ribbon((*middle, *tail[1:]), 2 * r, round_ends=True).outer
    d.clay(whole)
    d.shade(whole, 1.1)
    turns = [0.2 + (end - 2 * math.pi) * i / 160 for i in range(161)]
    d.line(tuple((cx + k * (t + math.pi) * math.cos(t), cy - k * (t + math.pi) * math.sin(t)) for t in turns))
    d.arrow(curve([(92, y - 8), (81, y - 9), (72, y - 16), (68.5, y - 27)]))


def _row(d: Drawing, y: float, ry: float = 4.3, heavy: bool = False) -> None:
    """A ring of coil cut through: its far edge in thin lines, its two cut ends."""
    for edge in (y - ry, y + ry):
        d.line(((27, edge), (73, edge)), "thin")
    for x in (27, 73):
        d.clay(disc(x, y, 5.0 if not heavy else 4.6, ry), heavy)


def stack(d: Drawing, s: Subject) -> None:
    d.table()
    d.clay(bar(21, 53, 79, 60, 1))
    for y in (48.7, 40.6, 32.5):
        _row(d, y)
    _row(d, 11, 4.6, heavy=True)
    d.arrow(((50, 8), (50, 28)))


COILS = (48.0, 39.4, 30.8, 22.2)  # the heights of a wall's coils, in section


def _coil_wall(x: float) -> Area:
    wall = Area()
    for y in COILS:
        wall = wall | disc(x, y, 5.2, 4.7)
    return wall | bar(x - 4, COILS[-1], x + 4, 53)


def blend(d: Drawing, s: Subject) -> None:
    """Inside the coils run together, pushed down by a thumb; outside they still show."""
    d.table()
    d.line(((20, 17.5), (76, 17.5)), "thin")
    left, right, reached = 20.0, 76.0, 35.0
    smooth_face = bar(left, 17.8, left + 4.6, reached)
    d.clay((_coil_wall(left) | smooth_face) - bar(left + 4.6, 0, left + 9, reached))
    d.clay(_coil_wall(right))
    for y in ((a + b) / 2 for a, b in pairwise(COILS)):
        d.line(((left - 4.2, y), (left + (4.2 if y > reached else -1.5), y)))
        d.line(((right - 4.2, y), (right + 4.2, y)))
    d.clay(bar(12, 52.6, 84, 60, 1))
    d.line(((left + 4.6, 18), (left + 4.6, reached)), "heavy")
    d.tool(finger(11, 34), left + 5, reached + 1.5, -52, flipped=True)
    d.arrow(((35, 34), (35, 51)))
