"""Where each card lies on the sheets: so that the cut pile is in order, and so that a back lies behind its front."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import TypeVar

Card = TypeVar("Card")


def collated(cards: Sequence[Card], sets: int | None, places: int) -> list[list[Card]]:
    """The cards of each sheet, place by place: one set in reading order; or (`sets`) so many sets that nobody has to sort.

    A full sheet of sets has the same card in all places, so that each pile of the cut paper is one whole set after
    another. What is left over at the end is fewer sets than there are places: their piles, laid on one another from the
    first place to the last, are one set after another too. Raises ValueError for fewer sets than one."""
    if sets is None:
        return [list(cards[start : start + places]) for start in range(0, len(cards), places)]
    if sets < 1:
        raise ValueError(f"{sets} sets can't be printed; there must be one at least")
    whole, left = divmod(sets, places)
    loose = list(cards) * left
    tall = math.ceil(len(loose) / places)
    return [[card] * places for _ in range(whole) for card in cards] + [loose[sheet::tall] for sheet in range(tall)]


def behind(cards: Sequence[Card], columns: int, rows: int, over_side: bool) -> list[Card | None]:
    """What stands in each place of the back, if the paper is turned over a side edge (like the page of a book), or over its
    upper edge (like that of a calendar). None where the front is empty."""
    front = [*cards, *[None] * (columns * rows - len(cards))]
    lines = [front[row * columns : (row + 1) * columns] for row in range(rows)]
    turned = [line[::-1] for line in lines] if over_side else lines[::-1]
    return [card for line in turned for card in line]
