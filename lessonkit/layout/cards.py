"""Step cards: one step a card, all cards of a set alike, so that two cuts make four.

A set is set in the first format in which every step fits with a picture that is large enough. The picture's height is
one number for the whole set: what the fullest card leaves. Where no format holds a step, its words go on, on cards of
their own.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from lessonkit.drawing.items import Document, Item, Page
from lessonkit.layout import card_parts as parts
from lessonkit.layout.card_face import Face, Heading
from lessonkit.layout.card_formats import Form, formats_for
from lessonkit.layout.card_parts import Part, fill_room, stack_mm
from lessonkit.layout.card_pictures import Scene
from lessonkit.layout.pen import Pen
from lessonkit.layout.wording import say
from lessonkit.pieces.model import Kit, Step

LEAST_PICTURE = 0.45  # of an easy card's height
LEAST_ADVANCED_MM = 35.0
MOST_PICTURE = 0.52  # of any card's height: the room beyond is better left white
MOST_SAFETY = 0.25  # of a card's height: a longer note is divided like other words, not repeated
_WORDS_GAP_MM, _FOOT_PARTS_GAP_MM, _WORDS_FOOT_MM, _PARTS_GAP_MM = 3.2, 3.2, 1.0, 2.4  # on a quarter of a sheet


def card_document(kit: Kit, level: str, paper: str, cards_to_sheet: int | None = None, form: Form = "plain", left_handed: bool = False) -> Document:
    """The step cards of one level, four to the sheet, or as many as `cards_to_sheet` says (4, 2 or 1).

    Type never shrinks and nothing is left out. Where words are too long, the picture gives way down to its least
    height; then the whole set goes two to the sheet, then one; then (or at once, if `cards_to_sheet` is given) the words
    go on, on numbered cards. `form` "large" is large print, one card to the sheet. Raises ValueError if the level has no
    steps, if there is no such format, or if what stands on every card is so long that it leaves no room for words."""
    steps = kit.steps[level]
    if not steps:
        raise ValueError(f"level {level} has no steps, so there are no cards")
    for format_ in formats_for(level, cards_to_sheet, form):
        deck = Deck(Face(kit, level, paper, format_, math.ceil(len(steps) / format_.cards_to_sheet)), left_handed)
        if all(deck.fits(step) for step in steps):
            break
    cards = deck.cards()
    while (sheets := math.ceil(len(cards) / deck.face.format.cards_to_sheet)) > deck.face.sheets:
        deck = replace(deck, face=replace(deck.face, sheets=sheets))  # a larger number of sheets may need a wider foot
        cards = deck.cards()
    title = say("cards_title", kit.room.language, lesson=kit.lesson.title, level=kit.room.levels[level])
    return Document(title, kit.room.language, deck.pages(cards))


@dataclass(frozen=True, slots=True)
class Card:
    """One card: what stands under its picture, and what stands on its foot. `number` and `total` count a step's cards."""

    step: Step
    heading: Heading
    words: Sequence[Part]
    ends: Sequence[Part]
    number: int = 1
    total: int = 1

    @property
    def minutes(self) -> float:
        """Told once, on the step's first card."""
        return self.step.minutes if self.number == 1 else 0.0


@dataclass(frozen=True, slots=True)
class Deck:
    """The cards of one level in one format."""

    face: Face
    left_handed: bool = False

    @property
    def steps(self) -> tuple[Step, ...]:
        return self.face.kit.steps[self.face.level]

    @property
    def easy(self) -> bool:
        return self.face.level == "easy"

    @property
    def least_mm(self) -> float:
        return self.face.tall_mm * LEAST_PICTURE if self.easy else LEAST_ADVANCED_MM * self.face.type.scale

    # -- what fits
    def fits(self, step: Step) -> bool:
        return not self.face.heading(step).rest and self._leaves_mm(self._whole(step)) >= self.least_mm

    def picture_mm(self) -> float:
        """The height of the set's pictures, in half millimetres."""
        left = min(self._leaves_mm(self._whole(step) if self.fits(step) else self._start(step, ())) for step in self.steps)
        most = min(left, self.face.tall_mm * MOST_PICTURE)
        return max(math.floor(most * 2) / 2, self.least_mm)

    def _whole(self, step: Step) -> Card:
        """The step on one card."""
        words, ends = self._parts(step)
        return Card(step, self.face.heading(step), words, _in_order([*self._safety(step), *ends]))

    def _start(self, step: Step, safety: Sequence[Part]) -> Card:
        """The least that the first of several cards holds: title, two lines, and the safety note if it goes with them."""
        first = self._parts(step)[0][0]
        lines = first.divided(min(2, len(first.block.lines)))[0]
        return Card(step, self.face.heading(step), [lines], [*safety, self._goes_on(self._label(step, 1, 2))], total=2)

    def _parts(self, step: Step) -> tuple[list[Part], list[Part]]:
        """What follows the picture, and what stands at the foot, without the safety note."""
        face = self.face
        words = parts.word_parts(step, face.wide_mm, face.type, face.language, self.face.heading(step).rest)
        ends = [*parts.stop_part(step, face.wide_mm, face.type, face.language), *parts.term_part(step, face.wide_mm, face.type)]
        return words, [*ends, *([self._goes_on(say("next_step", face.language, number=step.next))] if step.next else [])]

    def _safety(self, step: Step) -> list[Part]:
        return parts.safety_part(step, self.face.wide_mm, self.face.type)

    def _goes_on(self, words: str) -> Part:
        return parts.goes_on_part(words, self.face.wide_mm, self.face.type)

    def _label(self, step: Step, number: int, total: int) -> str:
        return say("step_part", self.face.language, number=step.number, part=self._count(number, total))

    def _count(self, number: int, total: int) -> str:
        return say("part_of_step", self.face.language, k=number, n=total) if total > 1 else ""

    def _leaves_mm(self, card: Card) -> float:
        """What a card leaves for its picture."""
        return self._room_mm(card) - stack_mm(card.words, self.face.type.paragraph_gap_mm) - _WORDS_GAP_MM * self.face.type.scale

    def _room_mm(self, card: Card) -> float:
        """What lies between the head and the parts at the foot."""
        gap = _FOOT_PARTS_GAP_MM if card.ends else _WORDS_FOOT_MM
        return self._ends_top_mm(card) - gap * self.face.type.scale - self._head_mm(card)

    def _head_mm(self, card: Card) -> float:
        """Where the picture may begin, or the words of a card that goes on."""
        return self.face.head_mm(card.heading, card.minutes) + (0.0 if card.number == 1 else _WORDS_GAP_MM * self.face.type.scale)

    def _ends_top_mm(self, card: Card) -> float:
        first = card.step is self.steps[0] and card.number == 1
        foot = self.face.foot_mm(card.step, self._count(card.number, card.total), first)
        return self.face.tall_mm - foot - stack_mm(card.ends, _PARTS_GAP_MM * self.face.type.scale)

    # -- one card a step, or several
    def cards(self) -> list[Card]:
        picture = self.picture_mm()
        return [card for step in self.steps for card in ([self._whole(step)] if self.fits(step) else self._several(step, picture))]

    def _several(self, step: Step, picture_mm: float) -> list[Card]:
        total = 2
        while len(cards := self._flowed(step, picture_mm, total)) > total:
            total = len(cards)
        return cards

    def _flowed(self, step: Step, picture_mm: float, total: int) -> list[Card]:
        """The step's cards, filled one after the other; `total` is how many they are thought to be.

        The safety note is on every card; but one that leaves no room for the first words comes before them, like
        words, and a long one is not repeated."""
        words, ends = self._parts(step)
        note = self._safety(step)
        short = stack_mm(note, 0) <= self.face.tall_mm * MOST_SAFETY
        if not short or self._leaves_mm(self._start(step, note)) < picture_mm:
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
        label = self._label(step, number, total)
        if number == 1:
            return Card(step, self.face.heading(step), (), [*safety, self._goes_on(label)], number, total)
        return Card(step, self.face.continued(label), (), safety, number, total)

    def _filled(self, shell: Card, words: list[Part], ends: list[Part], picture_mm: float) -> tuple[Card, list[Part], list[Part]]:
        """The card filled, and what is then left of the words and of the parts at the foot."""
        gap, ends_gap = self.face.type.paragraph_gap_mm, _PARTS_GAP_MM * self.face.type.scale
        room = self._room_mm(shell)
        if shell.number == 1:
            room -= picture_mm + _WORDS_GAP_MM * self.face.type.scale
        else:
            last = replace(shell, words=words, ends=_in_order([*shell.ends, *ends]))
            if stack_mm(words, gap) <= self._room_mm(last):
                return last, [], []
        placed, left = fill_room(words, room, gap) if words else fill_room(ends, room, ends_gap)
        if not placed:
            step = shell.step
            raise ValueError(f"step {step.number}, “{step.title[:40]}”: what stands on every card leaves no room for its words")
        if words:
            return replace(shell, words=placed), left, ends
        return replace(shell, ends=_in_order([*shell.ends, *placed])), [], left

    # -- onto sheets
    def pages(self, cards: Sequence[Card]) -> tuple[Page, ...]:
        count, picture = self.face.format.cards_to_sheet, self.picture_mm()
        return tuple(self._page(cards[start : start + count], start // count + 1, picture) for start in range(0, len(cards), count))

    def _page(self, cards: Sequence[Card], sheet: int, picture_mm: float) -> Page:
        format_, paper = self.face.format, self.face.paper
        corners = format_.corners_mm(paper)[: len(cards)]
        drawn = [self._drawn(card, picture_mm, sheet).group(*corner, layer="card") for card, corner in zip(cards, corners, strict=True)]
        items: list[Item] = [format_.cuts(paper).group(layer="cuts"), *drawn]
        return Page(*format_.sheet(paper).size_mm, tuple(items), self._page_name(cards))

    def _page_name(self, cards: Sequence[Card]) -> str:
        first, last, language = cards[0], cards[-1], self.face.language
        if first.step is not last.step:
            return say("steps", language, first=first.step.number, last=last.step.number)
        if first.total == 1:
            return say("step", language, number=first.step.number)
        if first is last:
            return self._label(first.step, first.number, first.total)
        some = say("parts_of_step", language, first=first.number, last=last.number, n=first.total)
        return say("step_part", language, number=first.step.number, part=some)

    def _drawn(self, card: Card, picture_mm: float, sheet: int) -> Pen:
        face, z = self.face, self.face.type.scale
        pen = Pen()
        face.draw_head(pen, card.heading, card.minutes)
        y = self._head_mm(card)
        if card.number == 1:
            scene = Scene(face.type, self.easy, face.kit.room.units, face.language, self.left_handed)
            pen.put(scene.framed(card.step, face.wide_mm, picture_mm).group(0, y, layer="frame"))
            y += picture_mm + _WORDS_GAP_MM * z
        _draw_parts(pen, y, card.words, face.type.paragraph_gap_mm)
        _draw_parts(pen, self._ends_top_mm(card), card.ends, _PARTS_GAP_MM * z)
        first = card.step is self.steps[0] and card.number == 1
        face.draw_foot(pen, card.step, self._count(card.number, card.total), sheet, first)
        return pen


def _draw_parts(pen: Pen, top_mm: float, stack: Sequence[Part], gap_mm: float) -> None:
    for part in stack:
        part.draw(pen, top_mm)
        top_mm += part.tall_mm + gap_mm


def _in_order(ends: Sequence[Part]) -> list[Part]:
    """STOP, safety, word, where to go on: so on every card."""
    order = (parts.StopPanel, parts.SafetyNote, parts.Term, parts.GoesOn)
    return sorted(ends, key=lambda part: order.index(type(part)))
