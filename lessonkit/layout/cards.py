"""Step cards: one step a card, all cards of a set alike, so that two cuts make four.

A set is set in the first format in which every step fits with a picture that is large enough. The picture's height is
one number for the whole set: what the fullest card leaves. If no format holds a step, its words go on, on cards of their own.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from lessonkit.drawing.fonts import CAPITAL, DESCENT, width_mm
from lessonkit.drawing.items import BLACK, Document, Page
from lessonkit.drawing.typesetting import Block, Span, set_text
from lessonkit.layout import card_parts as parts
from lessonkit.layout.card_formats import CardType, Form, Format, formats_for
from lessonkit.layout.card_parts import Part, fill_room, stack_mm
from lessonkit.layout.card_pictures import Scene
from lessonkit.layout.pen import FINE, THIN, Pen
from lessonkit.layout.sheet import edition
from lessonkit.layout.wording import minutes, say
from lessonkit.pieces.model import Kit, Step
from lessonkit.units import MM_PER_POINT

LEAST_PICTURE = 0.45  # of an easy card's height
LEAST_ADVANCED_MM = 35.0
MOST_PICTURE = 0.52  # of any card's height: more would be an empty frame
HEADING_LINES = 3
_FOOT_LEADING = 1.25  # of the type's size


def card_document(kit: Kit, level: str, paper: str, cards_to_sheet: int | None = None, form: Form = "plain", left_handed: bool = False) -> Document:
    """The step cards of one level, four to the sheet, or as many as `cards_to_sheet` says (4, 2 or 1).

    Type never shrinks and nothing is left out. Where words are too long, the picture gives way down to its least
    height; then the whole set goes two to the sheet, then one; then (or at once, if `cards_to_sheet` is given) the words
    go on, on numbered cards. `form` "large" is large print, one card to the sheet. Raises ValueError if there is no such
    format, or if a title, a level's name or the foot is so long that a card has no room for words."""
    for format_ in formats_for(level, cards_to_sheet, form):
        deck = Deck(kit, level, paper, format_, math.ceil(len(kit.steps[level]) / format_.cards_to_sheet), left_handed)
        if all(map(deck.fits, deck.steps)):
            break
    cards = deck.cards()
    while (sheets := math.ceil(len(cards) / deck.format.cards_to_sheet)) > deck.sheets:
        deck = Deck(kit, level, paper, deck.format, sheets, left_handed)
        cards = deck.cards()
    title = say("cards_title", kit.room.language, lesson=kit.lesson.title, level=kit.room.levels[level])
    return Document(title, kit.room.language, tuple(deck.page(cards, sheet) for sheet in range(sheets)))
