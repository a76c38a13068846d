"""The formats that cards come in: how many to the sheet, and the type of each. A new format is a row, not new code."""

from __future__ import annotations

import math
from typing import Literal, NamedTuple

from lessonkit.drawing.fonts import CAPITAL, DESCENT
from lessonkit.layout.pen import FINE, SCISSORS_LINE, Pen
from lessonkit.layout.sheet import EDGE_MM, MODULE_MM, Sheet, quarter_cuts, scissors
from lessonkit.lesson.lesson import Reading
from lessonkit.units import MM_PER_POINT

Form = Literal["usual", "bilingual", "large"]

LINE_LETTERS = 60  # so that no line reaches 65 letters
_LETTER_EM = 0.455  # an average letter of running English in Andika, with its share of the spaces; measured


class CardType(NamedTuple):
    """The type of a card, in points. `scale` enlarges the marks and the air between with it; 1 on a quarter of a sheet.
    `air` makes the air alone less, where a few millimetres are lacking."""

    heading_pt: float
    text_pt: float
    leading_pt: float
    stop_leading_pt: float
    label_pt: float  # level and minutes
    foot_pt: float = 8.0
    scale: float = 1.0
    air: float = 1.0

    @property
    def gap_scale(self) -> float:
        """What the gaps of a quarter card are multiplied by."""
        return self.scale * self.air

    @property
    def capital_mm(self) -> float:
        return CAPITAL * self.text_pt * MM_PER_POINT

    @property
    def descent_mm(self) -> float:
        return DESCENT * self.text_pt * MM_PER_POINT

    @property
    def leading_mm(self) -> float:
        return self.leading_pt * MM_PER_POINT

    @property
    def paragraph_gap_mm(self) -> float:
        """From a last baseline to the next paragraph's capitals."""
        return self.leading_mm - self.capital_mm + 1.4 * self.gap_scale

    @property
    def measure_mm(self) -> float:
        """The longest line."""
        return LINE_LETTERS * _LETTER_EM * self.text_pt * MM_PER_POINT


class Format(NamedTuple):
    """So many cards to the sheet, in one type. Two to the sheet lie side by side on a turned sheet."""

    cards_to_sheet: int
    type: CardType

    def sheet(self, paper: str) -> Sheet:
        return Sheet(paper, turned=self.cards_to_sheet == 2)

    @property
    def grid(self) -> tuple[int, int]:
        """Columns and rows."""
        columns, rows, _ = _GRIDS[self.cards_to_sheet]
        return columns, rows

    def field_mm(self, paper: str) -> tuple[float, float]:
        """The card's printed field: its share of the sheet less 10 mm all round, rounded down. All cards are alike."""
        columns, rows, step = _GRIDS[self.cards_to_sheet]
        wide, tall = self.sheet(paper).size_mm
        return _rounded_down(wide / columns - 2 * EDGE_MM, MODULE_MM), _rounded_down(tall / rows - 2 * EDGE_MM, step)

    def corners_mm(self, paper: str) -> list[tuple[float, float]]:
        """The top left of each field on the sheet, row by row, each centred in its exact share."""
        columns, rows, _ = _GRIDS[self.cards_to_sheet]
        (wide, tall), (field_wide, field_tall) = self.sheet(paper).size_mm, self.field_mm(paper)
        share_wide, share_tall = wide / columns, tall / rows
        left, top = (share_wide - field_wide) / 2, (share_tall - field_tall) / 2
        return [(column * share_wide + left, row * share_tall + top) for row in range(rows) for column in range(columns)]

    def cuts(self, paper: str) -> Pen:
        sheet = self.sheet(paper)
        match self.cards_to_sheet:
            case 4:
                return quarter_cuts(sheet)
            case 2:
                return _half_cut(sheet)
            case _:
                return Pen()


# Columns, rows, and what the field's height is rounded down to: a whole module would cost a quarter card of Letter 3 mm.
_GRIDS = {4: (2, 2, 1.0), 2: (2, 1, MODULE_MM), 1: (1, 1, MODULE_MM)}

_LEAST_AIR = 0.65


def _close(type_: CardType) -> CardType:
    """The same type with the least air."""
    return type_._replace(air=_LEAST_AIR)


_PLAIN, _FULL = CardType(22, 14, 18, 17.5, 14), CardType(22, 12, 15, 14.5, 12)
_PLAIN_PAIR, _FULL_PAIR = CardType(24, 14, 18, 17.5, 14, foot_pt=9), CardType(24, 12, 15, 14.5, 12, foot_pt=9)
_LARGE_PRINT = CardType(44, 28, 38, 35, 18, 18, 1.7)

# By form and reading, the formats in the order in which they are tried. Where there is room for larger type, it is taken;
# smaller than the first row's it never gets.
FORMATS: dict[Form, dict[Reading, tuple[Format, ...]]] = {
    "usual": {
        "picture": (
            Format(4, CardType(44, 14, 18, 17.5, 14)),  # the number stands alone
            Format(2, CardType(56, 18, 23.5, 22.5, 18, scale=1.25)),
            Format(1, CardType(80, 28, 36.5, 35, 28, scale=1.7)),
        ),
        "plain": (
            Format(4, _PLAIN),
            Format(4, _close(_PLAIN)),
            Format(2, CardType(28, 18, 23.5, 22.5, 18, scale=1.25)),
            Format(2, _PLAIN),
            Format(1, CardType(44, 28, 36.5, 35, 28, scale=1.7)),
            Format(1, _PLAIN),
        ),
        "full": (
            Format(4, _FULL),
            Format(4, _close(_FULL)),
            Format(2, CardType(28, 16, 20.5, 19.5, 16, scale=1.25)),
            Format(2, _FULL),
            Format(1, CardType(40, 24, 31, 29, 24, scale=1.7)),
            Format(1, _FULL),
        ),
    },
    "bilingual": {
        "plain": (
            Format(2, _PLAIN_PAIR),
            Format(2, _close(_PLAIN_PAIR)),
            Format(1, CardType(36, 22, 28, 27, 22, foot_pt=9, scale=1.5)),
            Format(1, _PLAIN_PAIR),
        ),
        "full": (
            Format(2, _FULL_PAIR),
            Format(2, _close(_FULL_PAIR)),
            Format(1, CardType(36, 18, 23, 22, 18, foot_pt=9, scale=1.5)),
            Format(1, _FULL_PAIR),
        ),
    },
    "large": {
        "picture": (Format(1, _LARGE_PRINT._replace(heading_pt=80)),),
        "plain": (Format(1, _LARGE_PRINT),),
        "full": (Format(1, _LARGE_PRINT),),
    },
}


def formats_for(reading: Reading, cards_to_sheet: int | None = None, form: Form = "usual") -> tuple[Format, ...]:
    """The formats to try, one after the other; only those of a given number of cards to the sheet, if one is asked for.

    Raises ValueError if there is no such format."""
    rows = FORMATS[form].get(reading, FORMATS["usual"][reading])
    if form == "bilingual" and cards_to_sheet == 4:
        rows = FORMATS["usual"][reading]  # smaller than two languages deserve, but she may have them
    wanted = tuple(row for row in rows if cards_to_sheet in (None, row.cards_to_sheet))
    if not wanted:
        sizes = sorted({row.cards_to_sheet for row in rows}, reverse=True)
        raise ValueError(f"no cards {cards_to_sheet} to the sheet in {form} form; there are: {', '.join(map(str, sizes))}")
    return wanted


def _half_cut(sheet: Sheet) -> Pen:
    pen = Pen()
    wide, tall = sheet.size_mm
    pen.line(wide / 2, EDGE_MM + 8, wide / 2, tall - EDGE_MM, FINE, SCISSORS_LINE)
    scissors(pen, wide / 2, EDGE_MM + 4)
    return pen


def _rounded_down(mm: float, step: float) -> float:
    return math.floor(mm / step) * step
