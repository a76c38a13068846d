"""What tells one station from another without colour and without reading: a letter in a shape, and a patterned band."""

from __future__ import annotations

import math
from collections.abc import Callable
from string import ascii_lowercase, ascii_uppercase, digits

from lessonkit.drawing.items import BLACK, WHITE
from lessonkit.geometry.shape import Point
from lessonkit.layout.pen import Pen, capitals_mm

SHAPE_LINE_MM = 1.4
BAND_MM = 6.0
LETTERS = ascii_uppercase + digits[1:] + ascii_lowercase


def letter(index: int) -> str:
    """A to Z, then 1 to 9, then a to z, and again: one sign, so that it has room in its shape."""
    return LETTERS[index % len(LETTERS)]


def shape_mark(pen: Pen, index: int, x_mm: float, top_mm: float, side_mm: float, letter_pt: float) -> None:
    """The station's letter in its shape, in a square box."""
    middle = (x_mm + side_mm / 2, top_mm + side_mm / 2)
    drop = _DROPS.get(SHAPES[index % len(SHAPES)], 0.0) * side_mm
    radius = side_mm / 2 - SHAPE_LINE_MM / 2
    if SHAPES[index % len(SHAPES)] == "circle":
        pen.circle(*middle, radius, SHAPE_LINE_MM, WHITE)
    else:
        pen.polygon(_corners(SHAPES[index % len(SHAPES)], *middle, radius), SHAPE_LINE_MM, WHITE, join="round")
    pen.text(middle[0], middle[1] + drop + capitals_mm(letter_pt) / 2, letter(index), letter_pt, bold=True, align="centre")


SHAPES = ("circle", "square", "triangle", "diamond", "pentagon", "cross", "hexagon", "drop")
_DROPS = {"triangle": 0.14, "pentagon": 0.02, "drop": 0.12}  # the middle of the room inside, below the box's middle


def _corners(name: str, x: float, y: float, radius: float) -> list[Point]:
    if name == "square":
        return _turned(x, y, radius * 1.26, 4, 45)
    if name == "triangle":
        foot = y + radius
        return [(x, y - radius), (x + radius, foot), (x - radius, foot)]
    if name == "cross":
        arm = radius * 0.5
        ends = [(-arm, -radius), (arm, -radius), (arm, -arm), (radius, -arm), (radius, arm), (arm, arm)]
        return [(x + a, y + b) for a, b in ends] + [(x - a, y - b) for a, b in ends]
    if name == "drop":
        round_mm, low = radius * 0.72, y + radius * 0.28
        arc = [math.radians(angle) for angle in range(44, 317, 8)]
        return [(x, y - radius), *((x + round_mm * math.sin(a), low - round_mm * math.cos(a)) for a in arc)]
    sides = {"diamond": 4, "pentagon": 5, "hexagon": 6}[name]
    return _turned(x, y, radius, sides, 0)


def _turned(x: float, y: float, radius: float, sides: int, first_deg: float) -> list[Point]:
    angles = (math.radians(first_deg + 360 * side / sides) for side in range(sides))
    return [(x + radius * math.sin(a), y - radius * math.cos(a)) for a in angles]


def band(pen: Pen, index: int, x_mm: float, top_mm: float, wide_mm: float) -> None:
    """The station's pattern, as a band across the sheet."""
    PATTERNS[index % len(PATTERNS)](pen, x_mm, top_mm, wide_mm)


def _pitches(wide_mm: float, pitch_mm: float) -> tuple[int, float]:
    """Whole repeats over the width, and their length."""
    count = max(round(wide_mm / pitch_mm), 1)
    return count, wide_mm / count


def _solid(pen: Pen, x: float, top: float, wide: float) -> None:
    pen.rectangle(x, top, wide, BAND_MM, 0, BLACK)


def _bars(pen: Pen, x: float, top: float, wide: float) -> None:
    count, pitch = _pitches(wide + 4, 8)
    for i in range(count):
        pen.rectangle(x + i * pitch, top, pitch - 4, BAND_MM, 0, BLACK)


def _dots(pen: Pen, x: float, top: float, wide: float) -> None:
    count, pitch = _pitches(wide - BAND_MM, 9)
    pen.dots([(x + BAND_MM / 2 + i * pitch, top + BAND_MM / 2) for i in range(count + 1)], BAND_MM / 2, 0, BLACK)


def _zigzag(pen: Pen, x: float, top: float, wide: float) -> None:
    count, pitch = _pitches(wide, 12)
    upper = [(x + i * pitch / 2, top + (BAND_MM - 2.2) * (i % 2)) for i in range(2 * count + 1)]
    pen.polygon([*upper, *((a, b + 2.2) for a, b in reversed(upper))], 0, BLACK)


def _checks(pen: Pen, x: float, top: float, wide: float) -> None:
    count, pitch = _pitches(wide, BAND_MM)
    for i in range(count):
        pen.rectangle(x + i * pitch, top, pitch / 2, BAND_MM / 2, 0, BLACK)
        pen.rectangle(x + (i + 0.5) * pitch, top + BAND_MM / 2, pitch / 2, BAND_MM / 2, 0, BLACK)


def _rails(pen: Pen, x: float, top: float, wide: float) -> None:
    for y in (top, top + BAND_MM - 2):
        pen.rectangle(x, y, wide, 2, 0, BLACK)


def _slashes(pen: Pen, x: float, top: float, wide: float) -> None:
    count, pitch = _pitches(wide - BAND_MM, 9)
    for i in range(count + 1):
        left = x + i * pitch * (1 - 3 / (wide - BAND_MM))
        pen.polygon([(left, top + BAND_MM), (left + 3, top + BAND_MM), (left + BAND_MM + 3, top), (left + BAND_MM, top)], 0, BLACK)


PATTERNS: tuple[Callable[[Pen, float, float, float], None], ...] = (_solid, _bars, _dots, _zigzag, _checks, _rails, _slashes)
