"""The format that a set of cards is set in: the first in which every step fits with a picture that is large enough. Nothing is drawn here."""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache
from itertools import chain, groupby

from lessonkit.forgetting import of_a_lesson
from lessonkit.layout.card_deck import Deck
from lessonkit.layout.card_face import Face
from lessonkit.layout.card_formats import Form, formats_for
from lessonkit.layout.card_order import CardOrder
from lessonkit.layout.card_piles import collated
from lessonkit.layout.same import Same
from lessonkit.pieces.chosen_words import in_reading
from lessonkit.pieces.model import Kit, Step
from lessonkit.units import PAPERS


def doubtful_papers(kit: Kit, level: str, papers: Sequence[str], order: CardOrder = CardOrder()) -> list[str]:
    """The papers on which `card_document` may raise: on all others, every step fits one of the formats that are tried first.

    What fits a card fits any that is as wide and not less tall, if its foot is no longer."""
    fitting: list[Face] = []
    for paper in sorted(papers, key=lambda paper: PAPERS[paper][1]):
        first, *_ = _rounds(Same(kit), level, paper, order)
        held = (deck for deck in first for face in fitting if deck.face.format == face.format and deck.face.holds(face))
        if fit := next(chain(held, filter(_fits, first)), None):
            fitting.append(fit.face)
    return [paper for paper in papers if paper not in {face.paper for face in fitting}]


def chosen_deck(kit: Kit, level: str, paper: str, order: CardOrder) -> Deck:
    """The first way to set the cards in which all steps fit; or the last."""
    decks = [deck for decks in _rounds(Same(kit), level, paper, order) for deck in decks]
    return next(filter(_fits, decks), decks[-1])


@of_a_lesson
@lru_cache(4)  # two levels on two papers: the cards are made in the formats that their check has tried
def _rounds(of: Same[Kit], level: str, paper: str, order: CardOrder) -> list[list[Deck]]:
    """All ways to set the cards, in the order in which they are tried, the closest of each round last."""
    kits = tuple(in_reading(spoken, order.reading) for spoken in order.spoken(of.value))
    reading, steps = order.reading_of(level), kits[0].steps[level]
    if not steps:
        raise ValueError(f"level {level} has no steps, so there are no cards")
    form: Form = "large" if order.format == "large" else "bilingual" if len(kits) > 1 and reading != "picture" else "usual"
    rounds: list[list[Deck]] = []
    for count, formats in groupby(formats_for(reading, order.cards_to_sheet, form), lambda row: row.cards_to_sheet):
        sheets = len(collated(steps, order.sets, count))
        faces = [Face(kits, level, paper, format_, reading, sheets) for format_ in formats]
        rounds += [[Deck(face, moves_words, backs=order.backs is not None) for face in faces] for moves_words in (False, True)]
    return rounds


def _fits(deck: Deck) -> bool:
    fullest_first = sorted(deck.face.steps, key=_letters, reverse=True)  # where one does not fit, it is mostly that
    return all(map(deck.fits, fullest_first))


def _letters(step: Step) -> int:
    return sum(map(len, (step.title, step.text, step.stop, *step.safety)))
