"""Coils: rolled, wound, stacked and blended."""

from __future__ import annotations

import math

from lessonkit.geometry.drafting import Area, area, arc, bar, beside, blob, curve, disc, ribbon
from lessonkit.layout.pictures.grammar import Drawing
from lessonkit.layout.pictures.subject import Subject
from lessonkit.layout.pictures.tools import finger, flat_hand


def roll_coil(d: Drawing, s: Subject) -> None:
    coil = bar(6, 15.5, 94, 24.5, 4.4)
    d.ghost(coil.moved(0, -11.5))
    d.ghost(coil.moved(0, 11.5))
    d.clay(coil)
    d.shade(coil, 1.4)
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
    d.shade(whole, 1.4)
    seam = [(cx + k * (t + math.pi) * math.cos(t), cy - k * (t + math.pi) * math.sin(t)) for t in (0.2 + (end - 2 * math.pi) * i / 160 for i in range(161))]
    d.line(tuple(seam))
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


def blend(d: Drawing, s: Subject) -> None:
    """Inside the coils run together, pushed down by a thumb; outside they still show."""
    d.table()
    left, right = 20.0, 72.0
    for x, side in ((left, 1), (right, -1)):
        bumps: list[tuple[float, float]] = []
        for y in (17.0, 27.0, 37.0, 47.0):
            bumps += [(x - side * (5 + 4.2 * math.cos(math.radians(a))), y + 5 * math.sin(math.radians(a))) for a in range(-90, 91, 15)]
        inner = [(x + side * 4.4, 52), (x + side * 4.4, 12)]
        d.clay(area([*bumps, *inner]))
        for y in (22.0, 32.0, 42.0):
            d.line(((x - side * 5, y), (x - side * 1.2, y)))
    d.clay(bar(left - 9, 52, right + 9, 60, 1))


__all__ = ["Area", "arc", "beside", "blob", "finger"]
