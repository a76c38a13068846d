"""The sheets of one paper as pictures for the page, drawn as they are for print."""

from __future__ import annotations

from typing import Any

from lessonkit.build import Order, documents
from lessonkit.drawing.items import Page
from lessonkit.lesson.room import Room
from lessonkit.page.refused import Refused
from lessonkit.pieces.model import Kit
from lessonkit.writers.screen import write_screen

Json = dict[str, Any]

CARDS = "cards-"
_PAPERS = {
    "signs": "Station signs",
    "tents": "Table tents",
    "teacher": "Teacher’s sheet",
    "substitute": "Substitute’s sheet",
    "set-out": "What to set out",
}


def papers_shown(room: Room) -> list[tuple[str, str]]:
    """What can be looked at, with its name, in the order in which it is needed."""
    cards = [(f"{CARDS}{level}", f"Step cards: {name}") for level, name in room.levels.items()]
    return [("stencils", "Stencils"), *cards, *_PAPERS.items()]


def paper_of(show: str) -> tuple[str, tuple[str, ...] | None]:
    """The paper and, of cards, their level."""
    return ("cards", (show.removeprefix(CARDS),)) if show.startswith(CARDS) else (show, None)


def sheets(kit: Kit, show: str, order: Order, wanted: tuple[int, int] | None) -> tuple[list[Json], int]:
    """The pages from the first wanted to the last (from 1; past the end, the last page; None: all), and how many there are.

    Refused for a paper that there is none of."""
    name, _ = paper_of(show)
    if show not in dict(papers_shown(kit.room)):
        raise Refused(400, f"there is no paper called “{show}”.", "Load the page again.")
    pages = [page for _, document in documents(kit, name, order) for page in document.pages]
    if not pages:
        return [], 0
    first, last = wanted or (1, len(pages))
    first = min(first, len(pages))
    chosen = list(enumerate(pages, 1))[first - 1 : max(first, last)]
    return [_sheet(number, page) for number, page in chosen], len(pages)


def _sheet(number: int, page: Page) -> Json:
    picture = write_screen(page, page.name, f"page-{number}")
    return {"number": number, "name": page.name, "wide_mm": page.wide_mm, "tall_mm": page.tall_mm, "svg": picture}
