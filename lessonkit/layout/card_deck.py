"""The cards of one level in one format: what fits on one card, what goes on on the next, and the words of the trade that
find no room beside their step."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import NamedTuple

from lessonkit.layout import card_parts as parts
from lessonkit.layout.card_face import PICTURE_SHAPE, Face, Heading
from lessonkit.layout.card_parts import Part, fill_room, stack_mm
from lessonkit.layout.wording import say
from lessonkit.pieces.model import Step

LEAST_PICTURE = 0.45  # of an easy card's height
LEAST_ADVANCED_MM = 35.0
MOST_PICTURE = 0.52  # of any card's height: the room beyond is better left white
MOST_SAFETY = 0.25  # of a card's height: a longer note is divided like other words, not repeated
WORDS_GAP_MM, FOOT_PARTS_GAP_MM, WORDS_FOOT_MM, PARTS_GAP_MM = 3.2, 3.2, 1.0, 2.4  # on a quarter of a sheet
_BAR_ROW_MM = 14.0  # what a picture card keeps for a slab's thickness


class CardError(ValueError):
    """A step that no card can hold: what stands on every card leaves no room for its words."""

    def __init__(self, step: Step) -> None:
        super().__init__(f"step {step.number}, “{step.title[:40]}”: what stands on every card leaves no room for its words")
        self.step = step


class Card(NamedTuple):
    """One card: what stands under its picture, and what stands on its foot. `number` and `total` count a step's cards.
    A card without a step explains the words of the trade."""

    step: Step | None
    heading: Heading
    place: str  # in the set, for the foot
    words: Sequence[Part]
    ends: Sequence[Part]
    number: int = 1
    total: int = 1
    notes: tuple[str, ...] = ()  # below the foot

    @property
    def pictured(self) -> bool:
        return self.step is not None and self.number == 1

    @property
    def minutes(self) -> float:
        """Told once, on the step's first card."""
        return self.step.minutes if self.step and self.number == 1 else 0.0


class _Alone(NamedTuple):
    """A step on one card, and what that leaves for its picture; its word may have had to move away."""

    card: Card
    left_mm: float
    loses_word: bool


@dataclass(frozen=True, eq=False)
class Deck:
    """The cards of one level in one format. With `moves_words`, a word of the trade that has no room on its step's card is
    told on a card at the end; with `backs`, the answer to “how good?” is on the back.

    Each step is set on one card but once, however often it is asked whether it fits."""

    face: Face
    moves_words: bool = False
    backs: bool = False

    @property
    def least_mm(self) -> float:
        """A picture leads through an easy step, and illustrates others."""
        if self.face.level == "easy" or self.face.silent:
            return self.face.tall_mm * LEAST_PICTURE
        return LEAST_ADVANCED_MM * self.face.type.scale

    @property
    def most_mm(self) -> float:
        if self.face.silent:
            return self.face.wide_mm * PICTURE_SHAPE + _BAR_ROW_MM * self.face.type.scale
        return self.face.tall_mm * MOST_PICTURE

    # -- what fits
    def fits(self, step: Step) -> bool:
        return not self.face.heading(step).rest and self._alone(step).left_mm >= self.least_mm

    def picture_mm(self) -> float:
        """The height of the set's pictures, in half millimetres."""
        left = min(self._alone(step).left_mm if self.fits(step) else self.leaves_mm(self._start(step, ())) for step in self.face.steps)
        most = min(left, self.most_mm)
        return max(math.floor(most * 2) / 2, self.least_mm)

    def _alone(self, step: Step) -> _Alone:
        if step.id not in self._kept:
            card = self._with_all(step, self._term(step))
            left = self.leaves_mm(card)
            loses = self.moves_words and left < self.least_mm and bool(self._term(step))
            if loses:
                card = self._with_all(step, ())
                left = self.leaves_mm(card)
            self._kept[step.id] = _Alone(card, left, loses)
        return self._kept[step.id]

    @cached_property
    def _kept(self) -> dict[str, _Alone]:
        return {}

    def _with_all(self, step: Step, term: Sequence[Part]) -> Card:
        words, ends = self._parts(step)
        return self._card(step, self.face.heading(step), words, _in_order([*self._safety(step), *ends, *term]))

    def _card(self, step: Step, heading: Heading, words: Sequence[Part], ends: Sequence[Part], number: int = 1, total: int = 1) -> Card:
        face = self.face
        notes = face.kit.assumed if step is face.steps[0] and number == 1 else ()
        if face.silent and total == 1:
            notes = (*notes, self._aloud(step))
        return Card(step, heading, face.place(step, number, total), words, ends, number, total, notes)

    def _aloud(self, step: Step) -> str:
        """What a helper reads to those who do not."""
        texts = [text for text in (f"{step.title}.", step.stop, *step.safety) if text]
        return say("read_aloud", self.face.languages[0], words=" ".join(texts))

    def _start(self, step: Step, safety: Sequence[Part]) -> Card:
        """The least that the first of several cards holds: title, two lines, and the safety note if it goes with them."""
        first = self._flowing(step)[0]
        lines = first.divided(min(2, len(first.block.lines)))[0]
        return self._card(step, self.face.heading(step), [lines], [*safety, self._goes_on(" · ".join(self._labels(step, 1, 2)))], total=2)

    def _parts(self, step: Step, apart: bool = False) -> tuple[list[Part], list[Part]]:
        """What follows the picture, and what stands at the foot, without the safety note and the word of the trade."""
        face, told = self.face, self.face.told(step)
        look = (face.wide_mm, face.type, face.languages)
        words = [] if face.silent else parts.word_parts(told, *look, face.heading(step).rest, not self.backs, apart)
        ends = parts.stop_part(told, *look, face.silent)
        if self.backs and step.good and not face.silent:
            ends.append(parts.goes_on_part(face.all_said("turn_over"), face.wide_mm, face.type, over=True))
        if step.next and not face.silent:
            ends.append(self._goes_on(face.all_said("next_step", number=step.next)))
        return words, ends

    def _flowing(self, step: Step) -> list[Part]:
        """The words that go on from card to card."""
        if self.face.silent:
            return [parts.words_alone(self._aloud(step), self.face.wide_mm, self.face.type)]
        return self._parts(step, apart=True)[0]

    def _safety(self, step: Step) -> list[Part]:
        """Where nobody reads, the sign stands beside the number, without words."""
        if self.face.silent:
            return []
        return parts.safety_part(self.face.told(step), self.face.wide_mm, self.face.type, self.face.languages)

    def _term(self, step: Step) -> list[Part]:
        if self.face.silent:
            return []
        return parts.term_part(self.face.told(step), self.face.wide_mm, self.face.type, self.face.languages)

    def _goes_on(self, words: str) -> Part:
        return parts.goes_on_part(words, self.face.wide_mm, self.face.type)

    def _labels(self, step: Step, number: int, total: int) -> list[str]:
        """Which card of the step's it is, in each language."""
        counts = zip(self.face.languages, self._counts(number, total), strict=True)
        return [say("step_part", language, number=step.number, part=count) for language, count in counts]

    def _counts(self, number: int, total: int) -> list[str]:
        return [say("part_of_step", language, k=number, n=total) for language in self.face.languages]

    def leaves_mm(self, card: Card) -> float:
        """What a card leaves for its picture."""
        words = stack_mm(card.words, self.face.type.paragraph_gap_mm)
        return self._room_mm(card) - words - (WORDS_GAP_MM * self.face.type.gap_scale if card.words else 0.0)

    def _room_mm(self, card: Card) -> float:
        """What lies between the head and the parts at the foot."""
        gap = FOOT_PARTS_GAP_MM if card.ends else WORDS_FOOT_MM
        return self.ends_top_mm(card) - gap * self.face.type.gap_scale - self.head_mm(card)

    def head_mm(self, card: Card) -> float:
        """Where the picture may begin, or the words of a card without one."""
        return self.face.head_mm(card.heading, card.minutes) + (0.0 if card.pictured else WORDS_GAP_MM * self.face.type.gap_scale)

    def ends_top_mm(self, card: Card) -> float:
        foot = self.face.foot_mm(card.place, card.notes)
        return self.face.tall_mm - foot - stack_mm(card.ends, PARTS_GAP_MM * self.face.type.gap_scale)

    # -- one card a step, or several
    def cards(self) -> list[Card]:
        picture = self.picture_mm()
        cards = [card for step in self.face.steps for card in ([self._alone(step).card] if self.fits(step) else self._several(step, picture))]
        return [*cards, *(self._glossary() if any(self._alone(step).loses_word for step in self.face.steps) else [])]

    def _several(self, step: Step, picture_mm: float) -> list[Card]:
        total = 2
        while len(cards := self._flowed(step, picture_mm, total)) > total:
            total = len(cards)
        return cards

    def _flowed(self, step: Step, picture_mm: float, total: int) -> list[Card]:
        """The step's cards, filled one after the other; `total` is how many they are thought to be.

        The safety note is on every card; but one that leaves no room for the first words comes before them, like
        words, and a long one is not repeated."""
        words, ends = self._flowing(step), self._parts(step)[1]
        ends += [] if self._alone(step).loses_word else self._term(step)
        note = self._safety(step)
        short = stack_mm(note, 0) <= self.face.tall_mm * MOST_SAFETY
        if not short or self.leaves_mm(self._start(step, note)) < picture_mm:
            words = [*note, *words]
        cards: list[Card] = []
        while words or ends:
            repeated = note if short and not any(isinstance(part, parts.SafetyNote) for part in words) else []
            shell = self._shell(step, repeated, len(cards) + 1, total)
            card, words, ends = self._filled(shell, words, ends, picture_mm)
            cards.append(card)
        return cards

    def _shell(self, step: Step, safety: Sequence[Part], number: int, total: int) -> Card:
        """A card of several, with nothing but what it has anyway."""
        labels = self._labels(step, number, total)
        if number == 1:
            return self._card(step, self.face.heading(step), (), [*safety, self._goes_on(" · ".join(labels))], number, total)
        return self._card(step, self.face.named(labels), (), safety, number, total)

    def _filled(self, shell: Card, words: list[Part], ends: list[Part], picture_mm: float) -> tuple[Card, list[Part], list[Part]]:
        """The card filled, and what is then left of the words and of the parts at the foot."""
        gap, ends_gap = self.face.type.paragraph_gap_mm, PARTS_GAP_MM * self.face.type.gap_scale
        room = self._room_mm(shell)
        if shell.pictured:
            room -= picture_mm + WORDS_GAP_MM * self.face.type.gap_scale
        else:
            last = shell._replace(words=words, ends=_in_order([*shell.ends, *ends]))
            if stack_mm(words, gap) <= self._room_mm(last):
                return last, [], []
        placed, left = fill_room(words, room, gap) if words else fill_room(ends, room, ends_gap)
        if not placed:
            assert shell.step
            raise CardError(shell.step)
        if words:
            return shell._replace(words=placed), left, ends
        return shell._replace(ends=_in_order([*shell.ends, *placed])), [], left

    # -- the words of the set
    @property
    def term_gap_mm(self) -> float:
        return 2 * WORDS_GAP_MM * self.face.type.scale

    def _glossary(self) -> list[Card]:
        """All words of the level with their meaning, on a card or more at the end."""
        told = dict.fromkeys(tuple(step.word for step in self.face.told(each) if step.word) for each in self.face.steps if each.word)
        terms = [parts.term(words, self.face.wide_mm, self.face.type, self.face.languages) for words in told]
        total = 1
        while len(cards := self._explained(terms, total)) > total:
            total = len(cards)
        return cards

    def _explained(self, terms: list[Part], total: int) -> list[Card]:
        cards: list[Card] = []
        while terms:
            number = len(cards) + 1
            names = [say("words_card", language) for language in self.face.languages]
            if total > 1:
                names = [f"{name}, {count}" for name, count in zip(names, self._counts(number, total), strict=True)]
            shell = Card(None, self.face.named(names), names[0], (), (), number, total)
            placed, terms = fill_room(terms, self._room_mm(shell), self.term_gap_mm)
            if not placed:
                raise CardError(next(step for step in self.face.steps if step.word))
            cards.append(shell._replace(words=placed))
        return cards


def _in_order(ends: Sequence[Part]) -> list[Part]:
    """STOP, safety, word, where to go on: so on every card."""
    order = (parts.StopPanel, parts.SafetyNote, parts.Term, parts.TurnOver, parts.GoesOn)
    return sorted(ends, key=lambda part: order.index(type(part)))
