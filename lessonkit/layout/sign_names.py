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
    upright, turned = (_Name(name, Sheet(paper, turned)) for turned in (False, True))
    found = False
    for lines in (1, 2, 3):
        for way in (upright, turned):
            for lettering in way.standing(lines, largest, smallest):
                found = True
                yield lettering
    if not found:
        yield turned.broken(smallest)


def _up(size_pt: float) -> float:
    """To a tenth of a point, never down."""
    return math.ceil(size_pt * 10 - 1e-9) / 10


def above_em(name: str) -> float:
    """How far the name's letters rise above the capitals, in em."""
    return max(ABOVE, rise_em(name, bold=True) - CAPITAL)


class _Name:
    """A name that is to be lettered on a sheet, with what it needs at any size."""

    def __init__(self, name: str, sheet: Sheet) -> None:
        self.name, words = name, name.split()
        self.turned = sheet.turned
        self.wide, self.tall = sheet.live_mm
        self.above_em = above_em(name)
        self.left_em = BEFORE if any(word.startswith("j") for word in words) else 0.0
        self.widths = [width_mm(word, 1.0, True) for word in words]  # at one point
        self.widest, self.in_all = max(self.widths, default=0.0), sum(self.widths)

    def lettering(self, size_pt: float) -> Lettering:
        em = size_pt * MM_PER_POINT
        block = set_text([Span(self.name, True)], self._room_mm(size_pt), size_pt, size_pt * LEADING)
        return Lettering(self.turned, block, reach_mm(CAPITAL * em), self.left_em * em, self.above_em * em)

    def standing(self, lines: int, largest: float, smallest: float) -> list[Lettering]:
        """At falling sizes at which the name stands on exactly so many lines with no word broken."""
        if lines > len(self.widths):
            return []
        fit = min(largest, self.wide / self.widest)
        while fit >= smallest and not self._stands(lines, fit):
            if self._may_stand(lines, fit) and len(self.lettering(fit).block.lines) < lines:  # and on no more where it is smaller
                return []
            fit -= 1.0
        fit = max(fit, smallest)
        steps = (fit - (fit - smallest) * step / STEPS for step in range(STEPS + 1))
        sizes = dict.fromkeys(max(math.floor(size * 10) / 10, smallest) for size in steps)
        return [lettering for size in sizes if (lettering := self._stands(lines, size))]

    def broken(self, smallest: float) -> Lettering:
        size = smallest
        while True:
            widest = max(width_mm(letter + "-", size, True) for letter in self.name)
            if widest <= self._room_mm(size) and self._is_low(lettering := self.lettering(size)):
                return lettering
            size *= 0.96

    def _room_mm(self, size_pt: float) -> float:
        return self.wide - (self.left_em + BEHIND) * size_pt * MM_PER_POINT

    def _may_stand(self, lines: int, size_pt: float) -> bool:
        """Whether its words are not longer than all the lines together."""
        return self.in_all * size_pt <= lines * self._room_mm(size_pt)

    def _stands(self, lines: int, size_pt: float) -> Lettering | None:
        if self.widest * size_pt > self._room_mm(size_pt) or not self._may_stand(lines, size_pt):
            return None
        lettering = self.lettering(size_pt)
        return lettering if len(lettering.block.lines) == lines and self._is_low(lettering) else None

    def _is_low(self, lettering: Lettering) -> bool:
        return lettering.tall_mm <= TALLEST_SHARE * self.tall
