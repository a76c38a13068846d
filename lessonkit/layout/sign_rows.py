"""The parts of a station sign as strips: the lines to do with their pictures, minutes and places, notes, where to go next."""

from __future__ import annotations

import math
from collections.abc import Sequence

from lessonkit.drawing.fonts import width_mm
from lessonkit.drawing.items import CLAY, Group
from lessonkit.drawing.typesetting import Block, Span, set_text
from lessonkit.layout.flow import Draw, Strip, Type, paragraph, pieces
from lessonkit.layout.pen import ATTENTION, FINE, Pen, capitals_mm
from lessonkit.layout.pictures.book import picture
from lessonkit.layout.sign_marks import shape_mark
from lessonkit.layout.sign_station import Action, Facts
from lessonkit.layout.wording import say
from lessonkit.units import NO_BREAK

LINE, NOTE = Type(30, 36), Type(14, 20.5)
MARK_MM = 20.0
LINES_TOGETHER = 4
FIGURE_GAP_MM = 6.0
NUMBER_MM = 14.0  # from a line's number to its picture
PICTURE_SHAPE = 100 / 70
LABEL_MM = 48.0
WIDEST_NOTE_MM = 140.0  # about 65 letters
ARROW_MM = 24.0  # at least


def action_strips(actions: Sequence[Action], wide_mm: float, row_mm: float) -> list[Strip]:
    """One row each, at least `row_mm` high, its picture as large as the row lets it; ruled off below."""
    pictures = min((row_mm - 4) * PICTURE_SHAPE, wide_mm * 0.34)
    left = NUMBER_MM + (pictures + 8 if any(action.picture for action in actions) else 0.0)
    strips: list[Strip] = []
    for index, action in enumerate(actions):
        block = set_text([Span(action.text)], wide_mm - left, LINE.size_pt, LINE.leading_pt)
        first, *more = pieces(block, LINES_TOGETHER)
        tall = max(row_mm, LINE.tall_mm(first) + 6)
        strips.append(Strip(tall, _row(index + 1, action, pictures, left, first, tall)))
        strips += [Strip(LINE.tall_mm(lines) + 4, _more(left, lines)) for lines in more]
        strips[-1] = _ruled_off(strips[-1], wide_mm, ATTENTION if index + 1 == len(actions) else FINE)
    return strips


def _row(number: int, action: Action, picture_wide: float, left: float, lines: Block, tall: float) -> Draw:
    def put(pen: Pen, x: float, top: float) -> None:
        middle = top + tall / 2
        pen.text(x, middle + capitals_mm(LINE.size_pt) / 2, str(number), LINE.size_pt, bold=True)
        drawn = picture(action.picture, action.piece, picture_wide, wordless=True) if action.picture else None
        if drawn:
            pen.put(Group((drawn,), x + NUMBER_MM, middle - picture_wide / PICTURE_SHAPE / 2))
        pen.block(x + left, middle - lines.tall_mm / 2, lines)

    return put


def _more(left: float, lines: Block) -> Draw:
    return lambda pen, x, top: pen.put(*lines.at(x + left, top + 1))


def _ruled_off(strip: Strip, wide: float, width_mm: float) -> Strip:
    def put(pen: Pen, x: float, top: float) -> None:
        strip.draw(pen, x, top)
        pen.line(x, top + strip.tall_mm, x + wide, top + strip.tall_mm, width_mm)

    return strip._replace(draw=put)


# -- minutes and places
def info_panel(facts: Facts, wide_mm: float, left: bool = False) -> Strip | None:
    """The station's mark, minutes and places one below the other beside it, dots for the places underneath; against the
    right side, or the `left`, where a few dots stand beside them. None where they need more than `wide_mm`."""
    phrases = facts.told
    figures = max((_figure_mm(*phrase) for phrase in phrases), default=0.0)
    used = MARK_MM + figures + 2 * FIGURE_GAP_MM
    beside = _dots(facts.places or 0, wide_mm - used, MARK_MM) if left else None
    dots = beside or _dots(facts.places or 0, wide_mm, 2 * MARK_MM if left else MARK_MM)
    if figures + FIGURE_GAP_MM + MARK_MM > wide_mm or (facts.places and not dots and not left):
        return None
    line = capitals_mm(LINE.size_pt)

    def put(pen: Pen, x: float, top: float) -> None:
        mark = x if left else x + wide_mm - MARK_MM
        shape_mark(pen, facts.number, mark, top, MARK_MM, LINE.size_pt)
        for number, phrase in enumerate(phrases):
            baseline = top + (MARK_MM + line) / 2 if len(phrases) == 1 else top + line + number * (MARK_MM - line)
            start = mark + MARK_MM + FIGURE_GAP_MM if left else mark - FIGURE_GAP_MM - _figure_mm(*phrase)
            _put_figure(pen, start, baseline, *phrase)
        if dots:
            right = x + dots[0] * dots[1] - dots[1] / 3 if left and not beside else x + wide_mm
            _put_dots(pen, right, top + (MARK_MM / 2 if beside else MARK_MM + 5 + dots[2] / 2), facts.places or 0, dots)

    return Strip(MARK_MM + (5 + dots[2] if dots and not beside else 0.0), put)


def info_line(facts: Facts, wide_mm: float) -> Strip:
    """The same on one line; where there are too many places for dots, their number alone."""
    phrases = facts.told
    dots = _dots(facts.places or 0, wide_mm - MARK_MM - 10 - sum(_figure_mm(*phrase) + 12 for phrase in phrases), MARK_MM)

    def put(pen: Pen, x: float, top: float) -> None:
        left, middle = x + MARK_MM + 10, top + MARK_MM / 2
        shape_mark(pen, facts.number, x, top, MARK_MM, LINE.size_pt)
        for phrase, figure in phrases:
            left = _put_figure(pen, left, middle + capitals_mm(LINE.size_pt) / 2, phrase, figure) + 12
        if dots:
            _put_dots(pen, x + wide_mm, middle, facts.places or 0, dots)

    return Strip(MARK_MM, put)


def _figure_mm(phrase: str, figure: str) -> float:
    before, _, after = phrase.partition(figure)
    return width_mm(before + after, NOTE.size_pt) + width_mm(figure, LINE.size_pt, True)


def _put_figure(pen: Pen, x: float, baseline: float, phrase: str, figure: str) -> float:
    """The phrase with its number large; returns the right end."""
    before, number, after = phrase.partition(figure)
    x = pen.text(x, baseline, before, NOTE.size_pt)
    x = pen.text(x, baseline, number, LINE.size_pt, bold=True)
    return pen.text(x, baseline, after, NOTE.size_pt)


def _dots(count: int, wide: float, tall: float) -> tuple[int, float, float] | None:
    """How many in a row, their pitch and the height of all rows, as large as the room allows; None where there is none."""
    for pitch in (12.0, 10.0, 8.0, 6.0) if count else ():
        fit = math.floor((wide + pitch / 3) / pitch)
        rows = math.ceil(count / fit) if fit > 0 else count + 1
        if fit > 0 and rows * pitch - pitch / 3 <= tall:
            return math.ceil(count / rows), pitch, rows * pitch - pitch / 3
    return None


def _put_dots(pen: Pen, right: float, middle: float, count: int, dots: tuple[int, float, float]) -> None:
    in_row, pitch, tall = dots
    radius = pitch / 3
    x, y = right - radius - (in_row - 1) * pitch, middle - tall / 2 + radius
    pen.dots([(x + i % in_row * pitch, y + i // in_row * pitch) for i in range(count)], radius - ATTENTION / 2, ATTENTION, CLAY)


# -- notes
def note_strips(facts: Facts, wide_mm: float, language: str, gap_mm: float) -> list[Strip]:
    """What you need, when to come, and the safety line; labels stand beside their text, or above it in a narrow column."""
    strips: list[Strip] = []
    for key, text in (("sign_need", f"{NO_BREAK}· ".join(facts.need)), ("sign_come", facts.come)):
        if text:
            strips += _note(say(key, language), text, wide_mm, gap_mm)
    if facts.safety:
        strips += paragraph(facts.safety, min(wide_mm, WIDEST_NOTE_MM + 14), NOTE, gap_mm + 2, lambda pen, x, top: _warn(pen, x, top), 14)
    return strips


def _warn(pen: Pen, x: float, top: float) -> None:
    pen.warning(x, top + capitals_mm(NOTE.size_pt) / 2 - 5.2, 9)


def _note(label: str, text: str, wide: float, gap: float) -> list[Strip]:
    if wide < 2.5 * LABEL_MM:
        heading = paragraph([Span(label, True)], wide, NOTE, gap)
        return [*(Strip(s.tall_mm, s.draw, s.gap_mm, keep=True) for s in heading), *paragraph(text, wide, NOTE, 1.8)]
    block = set_text([Span(label, True)], LABEL_MM - 4, NOTE.size_pt, NOTE.leading_pt)
    strips = paragraph(text, min(wide, WIDEST_NOTE_MM + LABEL_MM), NOTE, gap, lambda pen, x, top: pen.put(*block.at(x, top)), LABEL_MM)
    first = strips[0]
    return [Strip(max(first.tall_mm, NOTE.tall_mm(block)), first.draw, first.gap_mm), *strips[1:]]


# -- where to go
def next_strip(facts: Facts, wide_mm: float, language: str) -> Strip | None:
    """The next station with its mark and an arrow to the right, under a rule; None for the last."""
    if not facts.next_name:
        return None
    label = say("sign_next", language)
    left = width_mm(label, LINE.size_pt) + 7
    mark = facts.follows is not None
    at = left + (MARK_MM + 5 if mark else 0.0)
    block = set_text([Span(facts.next_name, True)], wide_mm - at - ARROW_MM - 8, LINE.size_pt, LINE.leading_pt)
    inner = max(MARK_MM if mark else 14.0, LINE.tall_mm(block))
    tall = inner + 7

    def put(pen: Pen, x: float, top: float) -> None:
        middle = top + 3.5 + inner / 2
        pen.line(x, top, x + wide_mm, top, ATTENTION)
        pen.text(x, middle + capitals_mm(LINE.size_pt) / 2, label, LINE.size_pt)
        if facts.follows is not None:
            shape_mark(pen, facts.follows, x + left, middle - MARK_MM / 2, MARK_MM, LINE.size_pt)
        pen.block(x + at, middle - block.tall_mm / 2, block)
        pen.line(x + at + block.wide_mm + 8, middle, x + wide_mm - 8, middle, 2.4)
        pen.head(x + wide_mm, middle, 90, 10)

    return Strip(tall, put)
