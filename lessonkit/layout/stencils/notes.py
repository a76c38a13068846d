"""What a sheet says where room is left, and never takes room from a stencil: cautions and notes. What finds no room on its part's
sheets stands on a last sheet of notes."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from lessonkit.drawing.typesetting import Span
from lessonkit.layout.pen import Pen
from lessonkit.layout.stencils.board import Board, Placed, Seat, Spot
from lessonkit.layout.stencils.facts import Facts
from lessonkit.layout.stencils.ground import Squares
from lessonkit.layout.stencils.panels import LEADING, SMALL, TEXT, Panel, words
from lessonkit.layout.wording import say

SIGN_MM = 5.0
SMALL_LEADING = 11.0
WIDTHS_MM = (84.0, 64.0, 110.0, 50.0, 150.0)


class Note(NamedTuple):
    """A part's cautions, or its other notes: each a paragraph."""

    facts: Facts
    texts: tuple[str, ...]
    care: bool


def notes_of(facts: Facts) -> list[Note]:
    both = (Note(facts, facts.cares, True), Note(facts, facts.notes, False))
    return [note for note in both if note.texts]


def seat_note(board: Board, note: Note, language: str) -> bool:
    """On the part under its label, or elsewhere on the part or in the waste, in the text's size or, where that is too large, small."""
    index, placed = next((k, each) for k, each in enumerate(board.placed) if each.figure.facts == note.facts)
    named = len(board.placed) > 1
    spots = list(_spots(board, placed, board.labels[index]))
    for size, leading in ((TEXT, LEADING), (SMALL, SMALL_LEADING)):
        panels = [_panel(note, wide, size, leading, named, language) for wide in WIDTHS_MM]
        if seat := board.seat(panels, *spots, layer="notes"):
            board.labels[index] = seat if seat.y_mm > board.labels[index].y_mm else board.labels[index]
            return True
    return False


def _spots(board: Board, placed: Placed, label: Seat) -> list[Spot]:
    below = Spot(label.x_mm, label.foot + 2.0, reach_mm=12.0)
    rows: tuple[Squares, ...] = (board.scrap,) if placed.figure.part.window else (placed.body, board.scrap, *placed.openings)
    return [below._replace(within=each) for each in rows] + [Spot(label.x_mm, label.foot + 2.0, within=each, eases=(2.0, 0.0)) for each in rows]


def _panel(note: Note, wide: float, size: float, leading: float, named: bool, language: str) -> Panel:
    """With the sign where it is a caution; with the part's name where several parts share the sheet."""
    paragraphs = [[Span(text)] for text in note.texts]
    if named:
        name = Span(say("stencil_named", language, name=note.facts.name, letter=note.facts.letter), True)
        paragraphs = [[name], *paragraphs] if len(paragraphs) > 1 else [[name, Span(f": {note.texts[0]}")]]
    if not note.care:
        return words(paragraphs, wide, size, leading)
    text = words(paragraphs, wide - SIGN_MM * 1.155 - 2, size, leading)
    pen = Pen()
    left = pen.warning(0, 0, SIGN_MM) + 2
    pen.put(text.at(left, 0.4))
    return Panel(lambda: tuple(pen.items), left + text.wide_mm, max(SIGN_MM, text.tall_mm + 0.4))


def notes_boards(notes: Sequence[Note], window: tuple[float, float], language: str) -> list[Board]:
    """Sheets with nothing but notes, as many as they need."""
    boards: list[Board] = []
    below = window[1]
    for note in notes:
        panel = _panel(note, 150.0, TEXT, LEADING, True, language)
        if not boards or below + panel.tall_mm > window[1]:
            boards.append(Board(*window))
            title = Seat(0, 0, words([[Span(say("stencil_notes", language), True)]], window[0], 24.0, 30.0))
            boards[-1].set(title)
            below = title.foot + 6
        boards[-1].set(Seat(0, below, panel), "notes")
        below += panel.tall_mm + 5
    return boards
