"""A station's name, lettered for the distance that it is read from."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import NamedTuple

from lessonkit.drawing.fonts import DESCENT, rise_em, width_mm
from lessonkit.drawing.typesetting import Block, Span, set_text
from lessonkit.layout.sheet import Sheet
from lessonkit.units import MM_PER_POINT

ARC_MIN = 22.0  # ISO 9241-3, as quoted: "20 to 22 minutes of arc are preferred"; DIN EN ISO 9241-303 in ASR A6: 22 to 31
CAPITAL, X_HEIGHT = 0.7129, 0.498  # em, of Andika's flat letters (T, x), bold; the round ones are a little higher
ABOVE = 0.07  # em, how far small letters rise above the capitals, or a little more
BEFORE, BEHIND = 0.1, 0.05  # em, kept free above the capitals of any name
LEADING = 1.04  # em: no descender touches the capitals below it
TALLEST_SHARE = 0.52  # of the sheet, for the name alone
STEPS = 6  # sizes tried between the largest and the smallest


def letter_height_mm(distance_mm: float, arc_min: float = ARC_MIN) -> float:
    """How high a letter must be to fill `arc_min` minutes of arc at `distance_mm`: 2 d tan(angle / 2).

    5 m at 22' is 31.998 mm. Zero or less for either gives zero or less.
    """
    return 2 * distance_mm * math.tan(math.radians(arc_min / 60) / 2)


def reach_mm(height_mm: float, arc_min: float = ARC_MIN) -> float:
    """From how far a letter `height_mm` high fills `arc_min` minutes of arc: the inverse of `letter_height_mm`."""
    return height_mm / (2 * math.tan(math.radians(arc_min / 60) / 2))


class Lettering(NamedTuple):
    """A name set in lines on an upright or a turned sheet. `reach_mm` is how far off its capitals can be read; the lines
    stand `left_mm` from the left and `above_mm` from the top, so that no letter reaches over the edge."""

    turned: bool
    block: Block
    reach_mm: float
    left_mm: float
    above_mm: float

    @property
    def capital_mm(self) -> float:
        return CAPITAL * self.block.size_pt * MM_PER_POINT

    @property
    def wide_mm(self) -> float:
        return self.left_mm + self.block.wide_mm

    @property
    def tall_mm(self) -> float:
        """With what rises above the capitals, and the foot of the last line's letters."""
        return self.above_mm + self.block.tall_mm + DESCENT * self.block.size_pt * MM_PER_POINT


def letterings(name: str, paper: str, distance_mm: float) -> Iterator[Lettering]:
    """Ways to letter `name`, the best first: on one line, on one line of the turned sheet, on two lines, on three.

    In each, small letters have the full height for the distance if they fit, then smaller ones, never smaller than gives
    capitals that height. A word that is too long for every sheet is broken with a hyphen. Only where even that leaves no
    room for the rest of the sign are the letters smaller, and `reach_mm` less than the distance.
    """
    height = letter_height_mm(distance_mm)
    largest, smallest = _up(height / X_HEIGHT / MM_PER_POINT), _up(height / CAPITAL / MM_PER_POINT)
    found = False
    for lines in (1, 2, 3):
        for turned in (False, True):
            for size_pt in _sizes(name, Sheet(paper, turned), lines, largest, smallest):
                found = True
                yield _lettering(name, Sheet(paper, turned), size_pt)
    if not found:
        yield _broken(name, Sheet(paper, turned=True), smallest)


def _up(size_pt: float) -> float:
    """To a tenth of a point, never down."""
    return math.ceil(size_pt * 10 - 1e-9) / 10


def _lettering(name: str, sheet: Sheet, size_pt: float) -> Lettering:
    em = size_pt * MM_PER_POINT
    above = above_em(name) * em
    block = set_text([Span(name, True)], _room_mm(name, sheet, size_pt), size_pt, size_pt * LEADING)
    return Lettering(sheet.turned, block, reach_mm(CAPITAL * em), _left_em(name) * em, above)


def _left_em(name: str) -> float:
    return BEFORE if any(word.startswith("j") for word in name.split()) else 0.0


def _room_mm(name: str, sheet: Sheet, size_pt: float) -> float:
    return sheet.live_mm[0] - (_left_em(name) + BEHIND) * size_pt * MM_PER_POINT


def above_em(name: str) -> float:
    """How far the name's letters rise above the capitals, in em."""
    return max(ABOVE, rise_em(name, bold=True) - CAPITAL)


def _sizes(name: str, sheet: Sheet, lines: int, largest: float, smallest: float) -> list[float]:
    """Sizes, falling, at which the name stands on exactly so many lines with no word broken."""
    if lines > len(name.split()):
        return []
    widest_word = max(width_mm(word, 1.0, True) for word in name.split())
    fit = min(largest, sheet.live_mm[0] / widest_word)
    while fit >= smallest and not _stands(name, sheet, lines, fit):
        if len(_lettering(name, sheet, fit).block.lines) < lines:  # and on no more where it is smaller
            return []
        fit -= 1.0
    fit = max(fit, smallest)
    steps = (fit - (fit - smallest) * step / STEPS for step in range(STEPS + 1))
    sizes = dict.fromkeys(max(math.floor(size * 10) / 10, smallest) for size in steps)
    return [size for size in sizes if _stands(name, sheet, lines, size)]


def _stands(name: str, sheet: Sheet, lines: int, size_pt: float) -> bool:
    words, room = [width_mm(word, size_pt, True) for word in name.split()], _room_mm(name, sheet, size_pt)
    if max(words) > room or sum(words) > lines * room:
        return False
    lettering = _lettering(name, sheet, size_pt)
    return len(lettering.block.lines) == lines and lettering.tall_mm <= TALLEST_SHARE * sheet.live_mm[1]


def _broken(name: str, sheet: Sheet, smallest: float) -> Lettering:
    size = smallest
    while True:
        widest = max(width_mm(letter + "-", size, True) for letter in name)
        if widest <= _room_mm(name, sheet, size) and (lettering := _lettering(name, sheet, size)).tall_mm <= TALLEST_SHARE * sheet.live_mm[1]:
            return lettering
        size *= 0.96
