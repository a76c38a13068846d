"""The days of one group's work as a strip, a cell a day with weekends grey: under them what is done by hand, then what is in the kiln."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from lessonkit.drawing.fonts import width_mm
from lessonkit.drawing.items import BLACK, CLAY, WHITE
from lessonkit.layout.classroom.class_plan import Json, stage_words
from lessonkit.layout.classroom.days_shown import days_of, is_weekend, weekday_letter
from lessonkit.layout.flow import Strip
from lessonkit.layout.pen import FINE, PRESS, Pen
from lessonkit.layout.teacher_table import SMALL

WIDEST_CELL_MM, LEAST_CELL_MM = 6.0, 4.0
LETTER_MM, BAR_MM, AIR_MM, WORDS_MM = 4.6, 6.0, 1.6, 4.4
IN_KILN = ("bisque", "glaze")
MOMENTS = ("turn", "uncover")
SETTLING = 40  # rounds in which words that would overlap push each other apart


def strip_fits(stages: Sequence[Json], wide_mm: float) -> bool:
    """Whether there are days, and room for their numbers."""
    return bool(stages) and wide_mm / len(_days(stages)) >= LEAST_CELL_MM


def day_strip(stages: Sequence[Json], wide_mm: float, language: str) -> Strip:
    """The strip. A stretch that is too short for its word has it underneath."""
    days = _days(stages)
    cell = min(wide_mm / len(days), WIDEST_CELL_MM)
    by_hand = [stage for stage in stages if stage["stage"] not in (*IN_KILN, "cover")]
    fired = [stage for stage in stages if stage["stage"] in IN_KILN]
    lane = BAR_MM + WORDS_MM
    tall = LETTER_MM + BAR_MM + AIR_MM + lane + (lane if fired else 0.0)

    def put(pen: Pen, x: float, top: float) -> None:
        for index, day in enumerate(days):
            middle = x + (index + 0.5) * cell
            pen.text(middle, top + 3.2, weekday_letter(day, language), SMALL.size_pt, align="centre")
            pen.rectangle(x + index * cell, top + LETTER_MM, cell, BAR_MM, FINE, CLAY if is_weekend(day) else None)
            pen.text(middle, top + LETTER_MM + 4.1, str(int(day[-2:])), SMALL.size_pt, align="centre")
        y = top + LETTER_MM + BAR_MM + AIR_MM
        for stages_of_lane in (by_hand, fired):
            _lane(pen, x, y, cell, days, stages_of_lane, language)
            y += lane

    return Strip(tall, put)


def _days(stages: Sequence[Json]) -> list[str]:
    return days_of(min(stage["first"] for stage in stages), max(stage["last"] for stage in stages))


def _lane(pen: Pen, x: float, y: float, cell: float, days: Sequence[str], stages: Sequence[Json], language: str) -> None:
    below: list[tuple[float, str]] = []
    for stage in stages:
        first, last = days.index(stage["first"]), days.index(stage["last"])
        words = stage_words(stage["stage"], language)
        left, right = x + first * cell, x + (last + 1) * cell
        if stage["stage"] in IN_KILN:  # from some time on the first day to some time on the last
            left, right = left + cell / 2, right - cell / 2
        elif stage["stage"] == "dry":  # between the making and the loading
            left, right = left + cell, right - cell
        if stage["stage"] in MOMENTS:
            pen.head((left + right) / 2, y + BAR_MM - 1.6, 0, 2.8)
        elif right > left:
            _bar(pen, left, right, y, stage["stage"] == "dry")
        if stage["stage"] not in MOMENTS and width_mm(words, SMALL.size_pt) < right - left - 1.8:
            if stage["stage"] == "dry":  # at the left: turning and uncovering are marked in the middle
                pen.text(left + 2, y + 4.1, words, SMALL.size_pt)
            else:
                pen.text((left + right) / 2, y + 4.1, words, SMALL.size_pt, align="centre", tone=WHITE)
        else:
            below.append(((left + right) / 2, words))
    _words_below(pen, x, y + BAR_MM + 3.4, x + len(days) * cell, below)


def _bar(pen: Pen, left: float, right: float, y: float, is_open: bool) -> None:
    pen.rectangle(left + 0.3, y, right - left - 0.6, BAR_MM, PRESS if is_open else 0, None if is_open else BLACK)


def _words_below(pen: Pen, left: float, y: float, right: float, words: Sequence[tuple[float, str]]) -> None:
    """Each word under the middle of its days, moved aside by no more than it must."""
    texts = [text for _, text in sorted(words)]
    wides = [width_mm(text, SMALL.size_pt) for text in texts]
    middles = [min(max(at, left + wide / 2), right - wide / 2) for (at, _), wide in zip(sorted(words), wides, strict=True)]
    for _ in range(SETTLING):
        for k, (one, other) in enumerate(pairwise(wides)):
            lacks = (one + other) / 2 + 1.6 - (middles[k + 1] - middles[k])
            if lacks > 0:
                middles[k], middles[k + 1] = max(middles[k] - lacks / 2, left + one / 2), min(middles[k + 1] + lacks / 2, right - other / 2)
    for middle, text in zip(middles, texts, strict=True):
        pen.text(middle, y, text, SMALL.size_pt, align="centre")
