"""Text as outlines, for the machines that cut and engrave: many of them leave text itself out without a word.

Outlines of the very face that stands on paper, rather than single strokes: every language's letters come out, the size and
the place are the same as in print, and nothing depends on what fonts the machine's computer has.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from functools import cache

from fontTools.pens.basePen import decomposeQuadraticSegment
from fontTools.pens.recordingPen import DecomposingRecordingPen
from fontTools.ttLib import TTFont

from lessonkit.drawing.contours import Point, merged
from lessonkit.drawing.fonts import Face, advance_em, runs, typeface_path
from lessonkit.drawing.items import Command, Path, TextLine
from lessonkit.units import MM_PER_POINT

_FINE = 8  # merged letters are worked out in eighths of a font unit
_CHORDS = 8  # a curve of a merged letter: at 24 pt within 0.003 mm of the true one


def outlines(line: TextLine) -> Path:
    """The glyphs of a line as closed paths in mm, in the line's tone, to be filled; even-odd and non-zero fill alike.

    The curves are the font's own, as cubics; a letter that the font draws as overlapping strokes is merged into one
    outline. A character that no face has is the font's empty box (see `fonts.missing`)."""
    size_mm = line.size_pt * MM_PER_POINT
    x_mm, commands = line.x_mm, []
    for face, text in runs(line.text, line.bold):
        for character in text:
            commands += list(_placed(_glyph(face, character), x_mm, line.y_mm, size_mm))
            x_mm += advance_em(face, character) * size_mm
    return Path(tuple(commands), fill=line.tone)


def _placed(glyph: tuple[Command, ...], x_mm: float, y_mm: float, size_mm: float) -> Iterator[Command]:
    """A glyph of 1 em, y up, at its place on the page, y down."""

    def place(x: float, y: float) -> tuple[float, float]:
        return x_mm + x * size_mm, y_mm - y * size_mm

    for command in glyph:
        match command:
            case ("M", x, y):
                yield ("M", *place(x, y))
            case ("L", x, y):
                yield ("L", *place(x, y))
            case ("C", x1, y1, x2, y2, x, y):
                yield ("C", *place(x1, y1), *place(x2, y2), *place(x, y))
            case ("Z",):
                yield command


@cache
def _font(face: Face) -> TTFont:
    return TTFont(typeface_path(face))


@cache
def _glyph(face: Face, character: str) -> tuple[Command, ...]:
    """At a size of 1 em, y up, merged if its strokes overlap."""
    commands, em = tuple(_drawn(face, character)), _font(face)["head"].unitsPerEm
    rings = merged(_rings(commands))
    if rings is not None:
        commands = tuple(command for ring in rings for command in _polygon(ring))
    return tuple(_placed(commands, 0.0, 0.0, 1 / em, up=True))


def _drawn(face: Face, character: str) -> Iterator[Command]:
    """In font units, y up."""
    glyphs = _font(face).getGlyphSet()
    pen = DecomposingRecordingPen(glyphs)
    glyphs[_font(face).getBestCmap().get(ord(character), ".notdef")].draw(pen)
    here = (0.0, 0.0)
    for kind, points in pen.value:
        match kind:
            case "moveTo":
                yield ("M", *points[0])
            case "lineTo":
                yield ("L", *points[0])
            case "qCurveTo":
                for control, end in decomposeQuadraticSegment(points):
                    # the cubic that is the same curve has its controls two thirds of the way to the quadratic's
                    yield ("C", *_towards(control, here), *_towards(control, end), *end)
                    here = end
            case "closePath":
                yield ("Z",)
        here = points[-1] if points else here


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
                for t in (i / _CHORDS for i in range(1, _CHORDS + 1)):
                    weights = ((1 - t) ** 3, 3 * t * (1 - t) ** 2, 3 * t**2 * (1 - t), t**3)
                    rings[-1].append((sumprod(weights, (x0, x1, x2, x)), sumprod(weights, (y0, y1, y2, y))))
    return [tuple((round(x * _FINE), round(y * _FINE)) for x, y in ring) for ring in rings]


def _polygon(ring: tuple[Point, ...]) -> Iterator[Command]:
    (x, y), *others = ring
    yield ("M", x / _FINE, y / _FINE)
    for x, y in others:
        yield ("L", x / _FINE, y / _FINE)
    yield ("Z",)
