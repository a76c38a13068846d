"""Sets that come out in order when the paper is cut, and backs that lie behind their fronts: both tried on the printed sheets."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from lessonkit.drawing.items import Document, Group, Page, Path
from lessonkit.layout.card_order import CardOrder
from lessonkit.layout.card_piles import behind, collated
from lessonkit.layout.cards import card_document
from tests.drawings_for_tests import shown
from tests.layout.card_reading import box, card_words, kit


def cut(sheets: Sequence[Sequence[Any]], places: int) -> list[list[Any]]:
    """The pile of sheets, top sheet first, cut through: a pile of cards for each place."""
    return [[sheet[place] for sheet in sheets if place < len(sheet)] for place in range(places)]


@settings(max_examples=60)
@given(st.integers(1, 14), st.integers(1, 23), st.sampled_from([1, 2, 4]))
def test_cut_piles_are_sets_in_order(count: int, sets: int, places: int) -> None:
    cards = list(range(count))
    sheets = collated(cards, sets, places)
    whole = sets // places * count  # sheets of which each place holds whole sets
    for pile in cut(sheets[:whole], places):
        assert pile == cards * (sets // places)
    rest = [card for pile in cut(sheets[whole:], places) for card in pile]
    assert rest == cards * (sets % places)
    assert len(sheets) == whole + -(-len(rest) // places)  # no sheet more than it takes


def test_one_set_reads_from_left_to_right() -> None:
    assert collated(list("abcdef"), None, 4) == [list("abcd"), list("ef")]


def test_fewer_than_one_set_is_refused() -> None:
    with pytest.raises(ValueError, match="one at least"):
        collated([1], 0, 4)


def placed(page: Page, document: Document) -> dict[tuple[int, int], str]:
    """The step's number on each card of a page, by its place to the millimetre."""
    return {(round(card.x_mm), round(card.y_mm)): number(card) for card in on_page(page)}


def on_page(page: Page) -> list[Group]:
    return [item for item in page.items if isinstance(item, Group) and item.layer == "card"]


def number(card: Group) -> str:
    found = re.search(r"step (\w+) of", card_words(card))
    return found[1] if found else ""


@pytest.mark.parametrize("sets", [4, 7])
def test_the_printed_sheets_cut_into_whole_sets(sets: int) -> None:
    document = card_document(kit(), "easy", "A4", CardOrder(sets=sets))
    piles: dict[tuple[int, int], list[str]] = {}
    for page in document.pages[:5]:
        for place, step in placed(page, document).items():
            piles.setdefault(place, []).append(step)
    assert list(piles.values()) == [["1", "2", "3", "4", "5"]] * 4
    rest = cut([list(placed(page, document).values()) for page in document.pages[5:]], 4)
    assert [step for pile in rest for step in pile] == ["1", "2", "3", "4", "5"] * (sets - 4)


def ring(card: Group) -> tuple[float, float]:
    """The middle of the mark for the ring's hole, on the page."""
    circles = ((item, x, y) for item, x, y, _ in shown((card,)) if isinstance(item, Path) and len(item.commands) == 10 and item.stroke)
    left, top, right, foot = box(*next(circles))
    return (left + right) / 2, (top + foot) / 2


@pytest.mark.parametrize("paper", ["A4", "Letter"])
@pytest.mark.parametrize("format_", ["4", "2", "1", "large"])
@pytest.mark.parametrize("flip", ["long-edge", "short-edge"])
def test_each_back_lies_behind_its_front(flip: Any, format_: Any, paper: str) -> None:
    pages = card_document(kit(), "advanced", paper, CardOrder(format_, backs=flip)).pages
    for front, back in zip(pages[::2], pages[1::2], strict=True):
        wide, tall = front.wide_mm, front.tall_mm
        long_edge_is_a_side = wide < tall
        mirrored = (flip == "long-edge") == long_edge_is_a_side

        def through(x: float, y: float, mirrored: bool = mirrored, wide: float = wide, tall: float = tall) -> tuple[float, float]:
            return (wide - x, y) if mirrored else (x, tall - y)

        backs = on_page(back)
        for card in on_page(front):
            (behind_it,) = [other for other in backs if number(other) == number(card)]
            assert ring(behind_it) == pytest.approx(through(*ring(card)), abs=0.01)


def test_the_answer_is_on_the_back_alone() -> None:
    front, back, *_ = card_document(kit(), "advanced", "A4", CardOrder(backs="long-edge")).pages
    answer = "Good when the pin touches both sticks."
    assert not any(answer in card_words(card) for card in on_page(front))
    (card,) = [card for card in on_page(back) if answer in card_words(card)]
    assert number(card) == "1"
    assert "How good? Turn over" in card_words(on_page(front)[0])
    assert "Turn over" not in card_words(on_page(front)[2])  # step 3 says nothing of it


def test_an_empty_place_has_no_back() -> None:
    assert behind("abc", 2, 2, over_side=True) == ["b", "a", None, "c"]
    assert behind("abc", 2, 2, over_side=False) == ["c", None, "a", "b"]


def test_backs_of_many_sets_lie_behind_their_fronts() -> None:
    both = replace(kit(), steps={"easy": (), "advanced": kit().steps["advanced"][:3]})
    pages = card_document(both, "advanced", "A4", CardOrder(sets=6, backs="long-edge")).pages
    for front, back in zip(pages[::2], pages[1::2], strict=True):
        seen = {(round(210 - x - 84, 1), y): step for (x, y), step in precise(back).items()}
        assert seen == precise(front)


def precise(page: Page) -> dict[tuple[float, float], str]:
    return {(round(card.x_mm, 1), card.y_mm): number(card) for card in on_page(page)}
