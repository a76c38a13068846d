"""The format that a set of cards is set in: the first in which every step fits with a picture that is large enough. Nothing is drawn here."""

from __future__ import annotations

from itertools import groupby

from lessonkit.layout.card_deck import Card, Deck
from lessonkit.layout.card_face import Face
from lessonkit.layout.card_formats import Form, formats_for
from lessonkit.layout.card_order import CardOrder
from lessonkit.layout.card_piles import collated
from lessonkit.pieces.chosen_words import in_reading
from lessonkit.pieces.model import Kit, Step


def checked_cards(kit: Kit, level: str, paper: str, order: CardOrder = CardOrder()) -> list[Card]:
    """The cards, not drawn: whatever `card_document` would raise for them, this raises, and faster."""
    return chosen_deck(kit, level, paper, order).cards()


def chosen_deck(kit: Kit, level: str, paper: str, order: CardOrder) -> Deck:
    """The first way to set the cards in which all steps fit; or the last."""
    kits = tuple(in_reading(spoken, order.reading) for spoken in order.spoken(kit))
    reading, steps = order.reading_of(level), kits[0].steps[level]
    if not steps:
        raise ValueError(f"level {level} has no steps, so there are no cards")
    fullest_first = sorted(steps, key=_letters, reverse=True)  # where one does not fit, it is mostly that
    form: Form = "large" if order.format == "large" else "bilingual" if len(kits) > 1 and reading != "picture" else "usual"
    for count, rows in groupby(formats_for(reading, order.cards_to_sheet, form), lambda row: row.cards_to_sheet):
        formats = list(rows)
        for moves_words in (False, True):
            for format_ in formats:
                face = Face(kits, level, paper, format_, reading, len(collated(steps, order.sets, count)))
                deck = Deck(face, moves_words, backs=order.backs is not None)
                if all(map(deck.fits, fullest_first)):
                    return deck
    return deck


def _letters(step: Step) -> int:
    return sum(map(len, (step.title, step.text, step.stop, *step.safety)))
