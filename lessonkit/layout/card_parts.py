"""What a card says, part by part: words with what is drawn around them. Any part can be divided between two lines."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Self

from lessonkit.drawing.fonts import width_mm
from lessonkit.drawing.items import BLACK, WHITE
from lessonkit.drawing.typesetting import Block, Span, set_text, split
from lessonkit.layout.card_formats import CardType
from lessonkit.layout.pen import ATTENTION, CUT, FINE, Pen
from lessonkit.layout.wording import say
from lessonkit.pieces.model import Step
from lessonkit.units import MM_PER_POINT

_LEEWAY_MM = 1e-9  # the same heights, summed in another order
_TERM_AIR_MM = 3.2  # under its rule, on a quarter of a sheet
_HANGING_MM = 1.0  # under a last baseline, for what hangs below it


@dataclass(frozen=True, slots=True)
class Part:
    """Plain words. A part reaches from the top of its capitals to its last baseline; one with something drawn around
    the words, from edge to edge of that."""

    block: Block
    type: CardType
    wide_mm: float

    def tall_of(self, lines: int) -> float:
        """The height that so many of its lines take."""
        return (lines - 1) * self.block.leading_pt * MM_PER_POINT + self.type.capital_mm

    @property
    def tall_mm(self) -> float:
        return self.tall_of(len(self.block.lines))

    def lines_in(self, room_mm: float, together: int) -> int:
        """How many lines go into the room: all; or some, with `together` at least on both sides of the break; or none."""
        count = len(self.block.lines)
        fitting = next((lines for lines in range(count, 0, -1) if self.tall_of(lines) <= room_mm + _LEEWAY_MM), 0)
        if fitting == count:
            return count
        most = min(fitting, count - together)
        return most if most >= together else 0

    def divided(self, lines: int) -> tuple[Self, Self]:
        first, rest = split(self.block, lines)
        return replace(self, block=first), replace(self, block=rest)

    def draw(self, pen: Pen, top_mm: float) -> None:
        pen.block(0, top_mm, self.block)


@dataclass(frozen=True, slots=True)
class StopPanel(Part):
    """A long octagon that can't be missed, with a box to tick."""

    word: str

    @staticmethod
    def words_mm(wide_mm: float, type_: CardType, word: str) -> float:
        """The room for its question beside the word and the box."""
        return wide_mm - width_mm(word, type_.text_pt, bold=True) - (6 + 3 + 2.5 + 8 + 4) * type_.scale

    def tall_of(self, lines: int) -> float:
        words = Part.tall_of(self, lines)
        return max(12 * self.type.scale, words + self.type.descent_mm + 3.6 * self.type.scale)

    def draw(self, pen: Pen, top_mm: float) -> None:
        z, tall = self.type.scale, self.tall_mm
        left, right, foot = ATTENTION * z / 2, self.wide_mm - ATTENTION * z / 2, top_mm + tall - ATTENTION * z / 2
        top, corner = top_mm + ATTENTION * z / 2, 3 * z
        head = left + width_mm(self.word, self.type.text_pt, bold=True) + 6 * z
        pen.polygon([(left + corner, top), (right - corner, top), (right, top + corner), (right, foot - corner),
                     (right - corner, foot), (left + corner, foot), (left, foot - corner), (left, top + corner)], ATTENTION * z, WHITE)  # fmt: skip
        pen.polygon([(left + corner, top), (head, top), (head, foot), (left + corner, foot), (left, foot - corner), (left, top + corner)], 0, BLACK)
        middle = top_mm + tall / 2
        pen.text((left + head) / 2 + 0.3 * z, middle + self.type.capital_mm / 2, self.word, self.type.text_pt, True, "centre", WHITE)
        hanging = self.type.descent_mm / 2 if len(self.block.lines) > 1 else 0.0
        pen.block(head + 3 * z, middle - self.block.tall_mm / 2 - hanging, self.block)
        pen.tick_box(right - 12 * z, middle - 4 * z, 8 * z, CUT * z)


@dataclass(frozen=True, slots=True)
class SafetyNote(Part):
    """The warning sign with the words beside it."""

    @staticmethod
    def words_mm(wide_mm: float, type_: CardType) -> float:
        return wide_mm - 9 * type_.scale

    def tall_of(self, lines: int) -> float:
        return Part.tall_of(self, lines) + 6 * self.type.scale - self.type.capital_mm

    def draw(self, pen: Pen, top_mm: float) -> None:
        z = self.type.scale
        pen.warning(0, top_mm, 6 * z)
        pen.block(9 * z, top_mm + (6 * z - self.type.capital_mm) / 2 + 0.2 * z, self.block)


@dataclass(frozen=True, slots=True)
class Term(Part):
    """A word of the trade and its meaning, under a rule."""

    def tall_of(self, lines: int) -> float:
        return Part.tall_of(self, lines) + (_TERM_AIR_MM + _HANGING_MM) * self.type.scale

    def draw(self, pen: Pen, top_mm: float) -> None:
        pen.line(0, top_mm, self.wide_mm, top_mm, FINE)
        pen.block(0, top_mm + _TERM_AIR_MM * self.type.scale, self.block)


@dataclass(frozen=True, slots=True)
class GoesOn(Part):
    """Where to go next, at the right, with an arrow."""

    def draw(self, pen: Pen, top_mm: float) -> None:
        z = self.type.scale
        pen.block(self.wide_mm - 9 * z - self.block.wide_mm, top_mm, self.block)
        y = top_mm + self.type.capital_mm / 2
        pen.arrow(self.wide_mm - 7 * z, y, self.wide_mm, y, ATTENTION * z, 3.2 * z)


def word_parts(step: Step, wide_mm: float, type_: CardType, language: str, more_title: str = "") -> list[Part]:
    """What stands under the picture. `more_title` is what the heading has no room for."""
    paragraphs = [
        [Span(more_title, bold=True)],
        [Span(step.text)],
        *_led((say("good", language), step.good), (say("choose", language), step.choose), (say("early", language), step.early)),
    ]
    measure = min(wide_mm, type_.measure_mm)
    return [Part(_text(spans, measure, type_), type_, wide_mm) for spans in paragraphs if spans[-1].text.strip()]


def _led(*paragraphs: tuple[str, str]) -> list[list[Span]]:
    """Each with the words that lead it in bold."""
    return [[Span(f"{lead} ", bold=True), Span(words)] for lead, words in paragraphs if words]


def safety_part(step: Step, wide_mm: float, type_: CardType) -> list[Part]:
    """One sign for all the notes, each of which begins a line; nothing if there are none."""
    if not step.safety:
        return []
    measure = min(SafetyNote.words_mm(wide_mm, type_), type_.measure_mm)
    return [SafetyNote(_text([Span("\n".join(step.safety))], measure, type_), type_, wide_mm)]


def stop_part(step: Step, wide_mm: float, type_: CardType, language: str) -> list[Part]:
    if not step.stop:
        return []
    word = say("stop", language)
    measure = min(StopPanel.words_mm(wide_mm, type_, word), type_.measure_mm)
    return [StopPanel(_set((Span(step.stop),), measure, type_.text_pt, type_.stop_leading_pt), type_, wide_mm, word)]


def term_part(step: Step, wide_mm: float, type_: CardType) -> list[Part]:
    if not step.word:
        return []
    term, meaning = step.word
    spans = [Span(f"{term}: ", bold=True), Span(meaning)]
    return [Term(_text(spans, min(wide_mm, type_.measure_mm), type_), type_, wide_mm)]


def goes_on_part(words: str, wide_mm: float, type_: CardType) -> Part:
    return GoesOn(_text([Span(words, bold=True)], wide_mm - 9 * type_.scale, type_), type_, wide_mm)


def _text(spans: Sequence[Span], wide_mm: float, type_: CardType) -> Block:
    return _set(tuple(spans), wide_mm, type_.text_pt, type_.leading_pt)


_set = lru_cache(256)(set_text)  # the same words are measured again and again until everything fits


def stack_mm(parts: Sequence[Part], gap_mm: float) -> float:
    """The height of parts on top of each other."""
    return sum(part.tall_mm for part in parts) + gap_mm * max(len(parts) - 1, 0)


def fill_room(parts: Sequence[Part], room_mm: float, gap_mm: float) -> tuple[list[Part], list[Part]]:
    """As much as goes into the room, from the first part on, and the rest. A single line is parted from its neighbours
    only where nothing would go in otherwise."""
    placed, rest = _filled(parts, room_mm, gap_mm, together=2)
    return (placed, rest) if placed else _filled(parts, room_mm, gap_mm, together=1)


def _filled(parts: Sequence[Part], room_mm: float, gap_mm: float, together: int) -> tuple[list[Part], list[Part]]:
    placed: list[Part] = []
    for index, part in enumerate(parts):
        room_left = room_mm - stack_mm(placed, gap_mm) - (gap_mm if placed else 0.0)
        lines = part.lines_in(room_left, together)
        if lines == len(part.block.lines):
            placed.append(part)
        elif lines:
            first, rest = part.divided(lines)
            return [*placed, first], [rest, *parts[index + 1 :]]
        else:
            return placed, list(parts[index:])
    return placed, []
