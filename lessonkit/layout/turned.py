"""A panel turned upside down, for what is folded. The words of the turned one are outlines: a reader's program meets them once."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from lessonkit.drawing.items import Command, Group, Item, Path, TextLine
from lessonkit.drawing.lettering import outlines
from lessonkit.geometry.areas import area
from lessonkit.geometry.shape import Point
from lessonkit.layout.pen import line_commands

STRAY_MM = 0.03  # less than a printer's dot: the letters' outlines are as coarse as that, to keep the file small
CHORDS = 6  # of each curve, before it is thinned


def upside_down(items: Iterable[Item], wide_mm: float, tall_mm: float) -> tuple[Item, ...]:
    """What was drawn in a panel, turned by half a turn within it: what stood at (x, y) stands at (wide - x, tall - y)."""
    return tuple(_turned(item, wide_mm, tall_mm) for item in items)


def _turned(item: Item, wide: float, tall: float) -> Item:
    match item:
        case TextLine():
            letters = outlines(item)
            thin = tuple(command for ring in _rings(letters.commands) for command in _thinned(ring))
            return _turned(Path(thin, fill=letters.fill), wide, tall)
        case Path():
            return Path(tuple(_command(command, wide, tall) for command in item.commands), item.stroke, item.fill)
        case Group():
            clip = item.clip_mm and (-item.clip_mm[0] - item.clip_mm[2], -item.clip_mm[1] - item.clip_mm[3], *item.clip_mm[2:])
            return Group(upside_down(item.items, 0.0, 0.0), wide - item.x_mm, tall - item.y_mm, clip, item.layer)


def _command(command: Command, wide: float, tall: float) -> Command:
    match command:
        case ("M", x, y):
            return ("M", wide - x, tall - y)
        case ("L", x, y):
            return ("L", wide - x, tall - y)
        case ("C", x1, y1, x2, y2, x, y):
            return ("C", wide - x1, tall - y1, wide - x2, tall - y2, wide - x, tall - y)
        case _:
            return command


def _rings(commands: Iterable[Command]) -> Iterator[list[Point]]:
    """Closed paths as points."""
    ring: list[Point] = []
    for command in commands:
        match command:
            case ("M" | "L", x, y):
                ring.append((x, y))
            case ("C", x1, y1, x2, y2, x, y):
                x0, y0 = ring[-1]
                for t in (i / CHORDS for i in range(1, CHORDS + 1)):
                    a, b, c, d = (1 - t) ** 3, 3 * t * (1 - t) ** 2, 3 * t**2 * (1 - t), t**3
                    ring.append((a * x0 + b * x1 + c * x2 + d * x, a * y0 + b * y1 + c * y2 + d * y))
            case _:
                yield ring
                ring = []


def _thinned(ring: list[Point]) -> Iterator[Command]:
    for thin in area(ring).simplified(STRAY_MM).rings:
        yield from line_commands(thin, closed=True)
