"""Text as outlines, for the machines that cut and engrave: many of them leave text itself out without a word.

Outlines of the very face that stands on paper, rather than single strokes: every language's letters come out, the size and
the place are the same as in print, and nothing depends on what fonts the machine's computer has.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from functools import cache
from math import ceil, hypot, sqrt

from lessonkit.drawing.contours import Point, merged
from lessonkit.drawing.fonts import Face, advance_em, runs, typeface
from lessonkit.drawing.items import Command, Path, TextLine, mapped
from lessonkit.drawing.truetype import Spot
from lessonkit.units import MM_PER_POINT

_FINE = 8  # merged letters are worked out in eighths of a font unit
_FLAT = 2.0  # font units between a curve and its chords in a merged letter: 0.008 mm at 24 pt


def outlines(line: TextLine) -> Path:
    """The glyphs of a line as closed paths in mm, in the line's tone, to be filled; even-odd and non-zero fill alike.

    The curves are the font's own, as cubics; a letter that the font draws as overlapping strokes is merged into one
    outline. A character that no face has is the font's empty box (see `fonts.missing`)."""
    size_mm, at_mm = line.size_pt * MM_PER_POINT, line.x_mm
    letters: list[str] = []
    numbers: list[float] = []
    for face, text in runs(line.text, line.bold):
        for character in text:
            glyph = _glyph(face, character)
            letters.append(glyph.letters)
            numbers += mapped(glyph.numbers, (size_mm, at_mm), (-size_mm, line.y_mm))
            at_mm += advance_em(face, character) * size_mm
    return Path("".join(letters), tuple(numbers), fill=line.tone)


@cache
def _glyph(face: Face, character: str) -> Path:
    """At a size of 1 em, y up, merged if its strokes overlap."""
    commands, em = tuple(_drawn(face, character)), typeface(face).em
    rings = merged(_rings(commands))
    if rings is not None:
        commands = tuple(command for ring in rings for command in _polygon(ring))
    path = Path.of(commands)
    return path._replace(numbers=tuple([n / em for n in path.numbers]))


def _drawn(face: Face, character: str) -> Iterator[Command]:
    """In font units, y up."""
    font = typeface(face)
    for spots in font.contours(font.glyphs.get(ord(character), 0)):
        yield from _contour(spots)


def _contour(spots: list[Spot]) -> Iterator[Command]:
    """From its first spot on the outline, or between two controls if there is none. A line back to there is left to the closing."""
    first = next((index for index, (_, _, on) in enumerate(spots) if on), None)
    if first is None:
        start = _middle(spots[-1][:2], spots[0][:2])
        spots = [*spots, (*start, True)]
    else:
        start = spots[first][:2]
        spots = [*spots[first + 1 :], *spots[: first + 1]]
    yield ("M", *start)
    here: tuple[float, float] = start
    control: tuple[float, float] | None = None
    for index, (x, y, on) in enumerate(spots, start=1):
        if control is not None:
            end = (x, y) if on else _middle(control, (x, y))
            # the cubic that is the same curve has its controls two thirds of the way to the quadratic's
            yield ("C", *_towards(control, here), *_towards(control, end), *end)
            here = end
        elif on and index < len(spots):
            yield ("L", x, y)
            here = x, y
        control = None if on else (x, y)
    yield ("Z",)


def _middle(a: tuple[float, float], b: tuple[float, float]) -> tuple[float, float]:
    return (a[0] + b[0]) / 2, (a[1] + b[1]) / 2


def _towards(control: tuple[float, float], end: tuple[float, float]) -> tuple[float, float]:
    return (end[0] + 2 * control[0]) / 3, (end[1] + 2 * control[1]) / 3


def _rings(commands: Iterable[Command]) -> list[tuple[Point, ...]]:
    """Closed paths as chords, in the finer unit."""
    rings: list[list[tuple[float, float]]] = []
    for command in commands:
        match command:
            case ("M", x, y):
                rings.append([(x, y)])
            case ("L", x, y):
                rings[-1].append((x, y))
            case ("C", x1, y1, x2, y2, x, y):
                x0, y0 = rings[-1][-1]
                bulge = hypot(2 * x0 - 3 * x1 + x, 2 * y0 - 3 * y1 + y) / 4  # of the quadratic that this cubic is
                chords = max(1, ceil(sqrt(bulge / _FLAT)))
                for t in (i / chords for i in range(1, chords + 1)):
                    a, b, c, d = (1 - t) ** 3, 3 * t * (1 - t) ** 2, 3 * t**2 * (1 - t), t**3
                    rings[-1].append((a * x0 + b * x1 + c * x2 + d * x, a * y0 + b * y1 + c * y2 + d * y))
    return [tuple((round(x * _FINE), round(y * _FINE)) for x, y in ring) for ring in rings]


def _polygon(ring: tuple[Point, ...]) -> Iterator[Command]:
    (x, y), *others = ring
    yield ("M", x / _FINE, y / _FINE)
    for x, y in others:
        yield ("L", x / _FINE, y / _FINE)
    yield ("Z",)
