"""Step cards: one step a card, all cards of a set alike, so that two cuts make four.

A set is set in the first format in which every step fits with a picture that is large enough. The picture's height is
one number for the whole set: what the fullest card leaves. Where no format holds a step, its words go on, on cards of
their own.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from lessonkit.drawing.items import Document, Item, Page
from lessonkit.layout.card_backs import drawn_back
from lessonkit.layout.card_choice import chosen_deck
from lessonkit.layout.card_deck import PARTS_GAP_MM, WORDS_GAP_MM, Card, Deck
from lessonkit.layout.card_face import Face
from lessonkit.layout.card_order import CardOrder
from lessonkit.layout.card_parts import Part
from lessonkit.layout.card_pictures import Scene
from lessonkit.layout.card_piles import behind, collated
from lessonkit.layout.card_strip import strip_document
from lessonkit.layout.pen import Pen
from lessonkit.layout.wording import say
from lessonkit.pieces.model import Kit


def card_document(kit: Kit, level: str, paper: str, order: CardOrder = CardOrder()) -> Document:
    """The step cards of one level, four to the sheet, or as `order` says.

    Type never shrinks and nothing is left out. Where words are too long, the picture gives way down to its least
    height; then the air between; then words of the trade move to a card of their own; then the whole set goes two to the
    sheet, then one; then (or at once, if a number of cards to the sheet is ordered) the words go on, on numbered cards.
    Raises CardError, a ValueError, if what stands on every card is so long that it leaves no room for words; ValueError if the
    level has no steps, or if fewer than one set is ordered; KeyError for a language that the lesson is not there in."""
    if order.format == "strip":
        return strip_document(kit, level, paper, order)
    deck = chosen_deck(kit, level, paper, order)
    places = deck.face.format.cards_to_sheet
    cards = deck.cards()
    while (sheets := len(collated(cards, order.sets, places))) > deck.face.sheets:
        deck = replace(deck, face=replace(deck.face, sheets=sheets))  # a larger number of sheets may need a wider foot
        cards = deck.cards()
    first = deck.face.kit
    title = say("cards_title", first.room.language, lesson=first.lesson.title, level=first.room.levels[level])
    return Document(title, first.room.language, tuple(_pages(deck, cards, order)))


# -- onto sheets
def _pages(deck: Deck, cards: Sequence[Card], order: CardOrder) -> Iterator[Page]:
    face, picture = deck.face, deck.picture_mm()
    easy = face.level == "easy" or face.silent
    scene = Scene(face.type, easy, face.kit.room.units, face.languages, order.left_handed, face.silent)
    frames = {step.id: scene.framed(step, face.wide_mm, picture) for step in face.steps}
    (columns, rows), size = face.format.grid, face.format.sheet(face.paper).size_mm
    over_side = (order.backs == "long-edge") == (size[0] < size[1])  # a turned sheet has its long edge above
    for number, front in enumerate(collated(cards, order.sets, columns * rows), 1):
        drawn = [_drawn(deck, card, frames, picture, number) for card in front]
        yield _page(face, [face.format.cuts(face.paper).group(layer="cuts")], drawn, _page_name(face, front))
        if order.backs:
            backs = [drawn_back(face, card, number, over_side) if card else None for card in behind(front, columns, rows, over_side)]
            yield _page(face, [], backs, say("back_of", face.languages[0], name=_page_name(face, front)))


def _page(face: Face, items: list[Item], cards: Sequence[Pen | None], name: str) -> Page:
    placed = zip(cards, face.format.corners_mm(face.paper), strict=False)
    groups = [card.group(*corner, layer="card") for card, corner in placed if card]
    return Page(*face.format.sheet(face.paper).size_mm, (*items, *groups), name)


def _page_name(face: Face, cards: Sequence[Card]) -> str:
    first, last, language = cards[0], cards[-1], face.languages[0]
    if first.step is None:
        return first.place
    if last.step is None:
        return f"{_page_name(face, [card for card in cards if card.step])}, {last.place}"
    if first.step is not last.step:
        return say("steps", language, first=first.step.number, last=last.step.number)
    if first.total == 1:
        return say("step", language, number=first.step.number)
    some = say("part_of_step", language, k=first.number, n=first.total)
    if first.number != last.number:
        some = say("parts_of_step", language, first=first.number, last=last.number, n=first.total)
    return say("step_part", language, number=first.step.number, part=some)


def _drawn(deck: Deck, card: Card, frames: Mapping[str, Pen], picture_mm: float, sheet: int) -> Pen:
    face, pen, y = deck.face, Pen(), deck.head_mm(card)
    face.draw_head(pen, card.heading, card.minutes)
    if face.silent and card.step and card.step.safety:
        face.draw_sign(pen, card.heading)
    if card.pictured and card.step:
        pen.put(frames[card.step.id].group(0, y, layer="frame"))
        y += picture_mm + WORDS_GAP_MM * face.type.gap_scale
    _draw_parts(pen, y, card.words, face.type.paragraph_gap_mm if card.step else deck.term_gap_mm)
    _draw_parts(pen, deck.ends_top_mm(card), card.ends, PARTS_GAP_MM * face.type.gap_scale)
    face.draw_foot(pen, card.place, sheet, card.notes)
    return pen


def _draw_parts(pen: Pen, top_mm: float, stack: Sequence[Part], gap_mm: float) -> None:
    for part in stack:
        part.draw(pen, top_mm)
        top_mm += part.tall_mm + gap_mm
