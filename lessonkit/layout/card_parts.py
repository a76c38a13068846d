"""What a card says, part by part: words with what is drawn around them. Any part can be divided between two lines."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Self

from lessonkit.drawing.fonts import width_mm
from lessonkit.drawing.items import BLACK, WHITE
from lessonkit.drawing.typesetting import Block, Span, set_text, split
from lessonkit.layout.card_formats import CardType
from lessonkit.layout.card_speech import Languages, led, once, stacked
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
        """The height that so many of its lines take; of none, that of one."""
        return (max(lines, 1) - 1) * self.block.leading_pt * MM_PER_POINT + self.type.capital_mm

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
    """A long octagon that can't be missed, with a box to tick. `words` are STOP in each language."""

    words: tuple[str, ...]

    @staticmethod
    def words_mm(wide_mm: float, type_: CardType, words: Sequence[str]) -> float:
        """The room for its question beside the word and the box."""
        return wide_mm - StopPanel._head_mm(type_, words) - (3 + 2.5 + 8 + 4) * type_.scale

    @staticmethod
    def _head_mm(type_: CardType, words: Sequence[str]) -> float:
        return max(width_mm(word, type_.text_pt, bold=True) for word in words) + 6 * type_.scale

    def tall_of(self, lines: int) -> float:
        words = Part.tall_of(self, max(lines, len(self.words)))
        return max(12 * self.type.scale, words + self.type.descent_mm + 3.6 * self.type.scale)

    def draw(self, pen: Pen, top_mm: float) -> None:
        z, tall = self.type.scale, self.tall_mm
        left, right, foot = ATTENTION * z / 2, self.wide_mm - ATTENTION * z / 2, top_mm + tall - ATTENTION * z / 2
        top, corner = top_mm + ATTENTION * z / 2, 3 * z
        head = left + self._head_mm(self.type, self.words)
        pen.polygon([(left + corner, top), (right - corner, top), (right, top + corner), (right, foot - corner),
                     (right - corner, foot), (left + corner, foot), (left, foot - corner), (left, top + corner)], ATTENTION * z, WHITE)  # fmt: skip
        pen.polygon([(left + corner, top), (head, top), (head, foot), (left + corner, foot), (left, foot - corner), (left, top + corner)], 0, BLACK)
        middle = top_mm + tall / 2
        first = middle + self.type.capital_mm / 2 - (len(self.words) - 1) * self.block.leading_pt * MM_PER_POINT / 2
        for line, word in enumerate(self.words):
            y = first + line * self.block.leading_pt * MM_PER_POINT
            pen.text((left + head) / 2 + 0.3 * z, y, word, self.type.text_pt, True, "centre", WHITE)
        hanging = self.type.descent_mm / 2 if len(self.block.lines) > 1 else 0.0
        pen.block(head + 3 * z, middle - self.block.tall_mm / 2 - hanging, self.block)
        pen.tick_box(right - 12 * z, middle - 4 * z, 8 * z, CUT * z)


class SafetyNote(Part):
    """The warning sign with the words beside it."""

    __slots__ = ()

    @staticmethod
    def words_mm(wide_mm: float, type_: CardType) -> float:
        return wide_mm - 9 * type_.scale

    def tall_of(self, lines: int) -> float:
        return Part.tall_of(self, lines) + 6 * self.type.scale - self.type.capital_mm

    def draw(self, pen: Pen, top_mm: float) -> None:
        z = self.type.scale
        pen.warning(0, top_mm, 6 * z)
        pen.block(9 * z, top_mm + (6 * z - self.type.capital_mm) / 2 + 0.2 * z, self.block)


class Term(Part):
    """A word of the trade and its meaning, under a rule."""

    __slots__ = ()

    def tall_of(self, lines: int) -> float:
        return Part.tall_of(self, lines) + (_TERM_AIR_MM + _HANGING_MM) * self.type.gap_scale

    def draw(self, pen: Pen, top_mm: float) -> None:
        pen.line(0, top_mm, self.wide_mm, top_mm, FINE)
        pen.block(0, top_mm + _TERM_AIR_MM * self.type.gap_scale, self.block)


class GoesOn(Part):
    """Where to go next, at the right, with an arrow."""

    __slots__ = ()

    def draw(self, pen: Pen, top_mm: float) -> None:
        z = self.type.scale
        pen.block(self.wide_mm - 9 * z - self.block.wide_mm, top_mm, self.block)
        self._draw_arrow(pen, self.wide_mm - 7 * z, top_mm + self.type.capital_mm / 2, z)

    def _draw_arrow(self, pen: Pen, x: float, y: float, z: float) -> None:
        pen.arrow(x, y, x + 7 * z, y, ATTENTION * z, 3.2 * z)


class TurnOver(GoesOn):
    """The same for the card's other side."""

    __slots__ = ()

    def _draw_arrow(self, pen: Pen, x: float, y: float, z: float) -> None:
        end, low, high = x + 5.4 * z, y + 1.4 * z, y - 2.2 * z
        pen.path((("M", x, low), ("C", x, high, end, high, end, low - 2 * z)), ATTENTION * z)
        pen.head(end, low, 180, 3.2 * z)


Told = Sequence[Step]  # a step in each language of the set


def word_parts(
    told: Told, wide_mm: float, type_: CardType, languages: Languages, more_title: Sequence[str] = (), good: bool = True, apart: bool = False
) -> list[Part]:
    """What stands under the picture. `more_title` is what the heading has no room for; `good`, whether the card says when
    it is good; `apart`, whether each language is a part of its own, so that a card ends between them rather than within."""
    paragraphs = [stacked(more_title, languages, bold=True)] if more_title else []
    paragraphs += [stacked([step.text for step in told], languages)] if told[0].text else []
    for key in ("good", "choose", "early") if good else ("choose", "early"):
        words = [getattr(step, key) for step in told]
        paragraphs += [led(key, words, languages)] if words[0] else []
    if apart and len(told) > 1:
        paragraphs = [[span] for spans in paragraphs for span in spans]
    return [Part(_text(spans, min(wide_mm, type_.measure_mm), type_), type_, wide_mm) for spans in paragraphs]


def words_alone(words: str, wide_mm: float, type_: CardType) -> Part:
    return Part(_text([Span(words)], min(wide_mm, type_.measure_mm), type_), type_, wide_mm)


def safety_part(told: Told, wide_mm: float, type_: CardType, languages: Languages) -> list[Part]:
    """One sign for all the notes, each of which begins a line; nothing if there are none."""
    if not told[0].safety:
        return []
    alike = len({len(step.safety) for step in told}) == 1
    notes = list(zip(*(step.safety for step in told), strict=True)) if alike else [["\n".join(step.safety) for step in told]]
    spans = [span for note in notes for span in (*stacked(note, languages), Span("\n"))][:-1]
    measure = min(SafetyNote.words_mm(wide_mm, type_), type_.measure_mm)
    return [SafetyNote(_text(spans, measure, type_), type_, wide_mm)]


def stop_part(told: Told, wide_mm: float, type_: CardType, languages: Languages, silent: bool = False) -> list[Part]:
    """A `silent` one asks nothing."""
    if not told[0].stop:
        return []
    words = tuple(dict.fromkeys(say("stop", language) for language in languages))
    measure = min(StopPanel.words_mm(wide_mm, type_, words), type_.measure_mm)
    question = [] if silent else stacked([step.stop for step in told], languages)
    return [StopPanel(set_text(question, measure, type_.text_pt, type_.stop_leading_pt), type_, wide_mm, words)]


def term_part(told: Told, wide_mm: float, type_: CardType, languages: Languages) -> list[Part]:
    words = [step.word for step in told if step.word]
    return [term(words, wide_mm, type_, languages)] if words else []


def term(words: Sequence[tuple[str, str]], wide_mm: float, type_: CardType, languages: Languages) -> Part:
    """A word and its meaning, in each language."""
    meanings = once([meaning for _, meaning in words], languages)
    said = [each for each in words if each[1] in meanings][: len(meanings)]
    spans = [span for each, meaning in said for span in (Span(f"{each}: ", bold=True), Span(f"{meaning}\n"))]
    spans[-1] = Span(said[-1][1])
    return Term(_text(spans, min(wide_mm, type_.measure_mm), type_), type_, wide_mm)


def goes_on_part(words: str, wide_mm: float, type_: CardType, over: bool = False) -> Part:
    """`over` sends to the other side of the card."""
    block = _text([Span(words, bold=True)], wide_mm - 9 * type_.scale, type_)
    return (TurnOver if over else GoesOn)(block, type_, wide_mm)


def _text(spans: Sequence[Span], wide_mm: float, type_: CardType) -> Block:
    return set_text(spans, wide_mm, type_.text_pt, type_.leading_pt)


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
