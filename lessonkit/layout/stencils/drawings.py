"""The stencils as drawings for a machine that cuts: one part each, true millimetres, layers by what the machine does."""

from __future__ import annotations

import re
import unicodedata
from dataclasses import replace

from lessonkit.drawing.items import Group, Item, Page
from lessonkit.drawing.typesetting import Span
from lessonkit.layout.pen import FINE, PRESS, THIN, Pen
from lessonkit.layout.sheet import edition
from lessonkit.layout.stencils.board import Board, Placed, Spot
from lessonkit.layout.stencils.facts import facts_of
from lessonkit.layout.stencils.figure import Figure, draw_centres, figure_of
from lessonkit.layout.stencils.labels import edge_note, top_arrow
from lessonkit.layout.stencils.panels import Panel, name_label, words
from lessonkit.pieces.model import Kit, Part, Piece

MARGIN_MM = 5.0
LONGEST_NAME = 60


def stencil_drawings(kit: Kit) -> tuple[tuple[str, Page], ...]:
    """A drawing of each part with its file's name (small letters, digits and hyphens; no two alike).

    The page is the part and 5 mm all round. Layer `cut` holds the outlines as closed paths, `press` what is pressed or folded,
    `engrave` marks and words, as far as they find room on the part."""
    parts = [(piece, part) for piece in kit.pieces for part in piece.parts]
    names: list[str] = []
    for piece, part in parts:
        names.append(_unlike(_file_name(piece, part), names))
    return tuple((name, _drawing(kit, piece, part)) for name, (piece, part) in zip(names, parts, strict=True))


def _file_name(piece: Piece, part: Part) -> str:
    name = _plain(piece.name) or "piece"
    return name if len(piece.parts) == 1 else f"{name}-{_plain(part.name) or 'part'}"


def _plain(name: str) -> str:
    letters = unicodedata.normalize("NFKD", name).encode("ascii", "ignore").decode().lower()
    return re.sub(r"[^a-z0-9]+", "-", letters)[:LONGEST_NAME].strip("-")


def _unlike(name: str, others: list[str]) -> str:
    if name not in others:
        return name
    number = 2
    while f"{name}-{number}" in others:
        number += 1
    return f"{name}-{number}"


def _drawing(kit: Kit, piece: Piece, part: Part) -> Page:
    figure = figure_of(part, facts_of(kit, piece, part))
    board = Board(figure.wide_mm + 2 * MARGIN_MM, figure.tall_mm + 2 * MARGIN_MM)
    placed = board.place(figure, MARGIN_MM, MARGIN_MM)
    _seat_words(board, placed, kit)
    layers = (_cut(figure), _press(figure), _engrave(board, placed))
    return Page(figure.wide_mm + 2 * MARGIN_MM, figure.tall_mm + 2 * MARGIN_MM, tuple(layer for layer in layers if layer.items), figure.facts.kept[0])


def _seat_words(board: Board, placed: Placed, kit: Kit) -> None:
    """The arrow to the top, the name and the letters of the edges, each if it fits."""
    middle = (placed.x_mm + placed.figure.wide_mm / 2, placed.y_mm + placed.figure.tall_mm / 2)
    if placed.figure.holes:
        board.seat(*top_arrow(placed, kit.room.language))
    board.seat(_names(placed.figure, kit), Spot(*middle, (0.5, 0.5), placed.body, (3.0, 0.0)))
    for edge in placed.figure.edges:
        edge_note(board, placed, edge, placed.moved(edge.line), kit.room.language)


def _names(figure: Figure, kit: Kit) -> list[Panel]:
    """Name, letter, clay and code; on a very small part its letter alone."""
    name, _, clay, *_ = figure.facts.kept
    lines = [[Span(name, True)], [Span(clay)], [Span(edition(kit))]]
    return [*(words(lines, wide, centred=True) for wide in (80.0, 44.0, 28.0)), *name_label(figure.facts)]


def _cut(figure: Figure) -> Group:
    pen = Pen()
    for ring in (*figure.outlines, *figure.openings):
        pen.polygon(ring, FINE, join="round")
    for hole in figure.holes:
        pen.circle(hole.x_mm, hole.y_mm, hole.across_mm / 2, FINE)
    return pen.group(MARGIN_MM, MARGIN_MM, layer="cut")


def _press(figure: Figure) -> Group:
    pen = Pen()
    for trace in figure.traces:
        if trace.kind in ("press", "fold"):
            pen.polygon(trace.line, PRESS, closed=trace.closed, join="round")
    return pen.group(MARGIN_MM, MARGIN_MM, layer="press")


def _engrave(board: Board, placed: Placed) -> Group:
    figure, marks = placed.figure, Pen()
    for trace in figure.traces:
        if trace.kind in ("join", "quarter"):
            marks.polygon(trace.line, THIN, closed=trace.closed, join="round")
    for line in figure.hatching:
        marks.polygon(line, THIN, closed=False)
    items: list[Item] = [marks.group(MARGIN_MM, MARGIN_MM), *(replace(panel, layer="") for panel in board.panels)]
    outline = (MARGIN_MM, MARGIN_MM, MARGIN_MM + figure.wide_mm, MARGIN_MM + figure.tall_mm)
    centres = draw_centres([placed.moved(trace.points) for trace in figure.traces if trace.kind == "centre"], outline, board.boxes)
    return Group((*items, *([replace(centres, layer="")] if centres else [])), layer="engrave")
