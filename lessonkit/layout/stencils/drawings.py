"""The stencils as drawings for a machine that cuts: one part each, true millimetres, layers by what the machine does."""

from __future__ import annotations

import re
import unicodedata
from dataclasses import replace
from typing import TypeVar

from lessonkit.drawing.items import Group, Item, Page
from lessonkit.drawing.typesetting import Span
from lessonkit.geometry.areas import area_of
from lessonkit.geometry.drafting import within
from lessonkit.geometry.shape import Shape, grown
from lessonkit.layout.pen import FINE, PRESS, THIN, Pen
from lessonkit.layout.stencils.board import Board, Placed, Spot
from lessonkit.layout.stencils.facts import facts_of
from lessonkit.layout.stencils.figure import Figure, draw_centres, figure_of
from lessonkit.layout.stencils.labels import edge_note, top_arrow
from lessonkit.layout.stencils.panels import Panel, name_label, words
from lessonkit.layout.wording import say
from lessonkit.pieces.model import Kit, Part, Piece
from lessonkit.units import show_length

Mark = TypeVar("Mark")

MARGIN_MM = 5.0
FRAME_MM = 24.0  # of the sheet around a window, with its name below
LONGEST_NAME = 60


def stencil_drawings(kit: Kit) -> tuple[tuple[str, Page], ...]:
    """A drawing of each part with its file's name (small letters, digits and hyphens; no two alike).

    The page is the part and 5 mm all round. Layer `cut` holds the outlines as closed paths, `press` what is pressed or folded,
    `engrave` marks and words, as far as they find room on the part."""
    parts = [(piece, part) for piece in kit.pieces for part in piece.parts if part.use != "compare"]
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
    figure = figure_of(_for_the_machine(part, kit), facts_of(kit, piece, part))
    margin = FRAME_MM if part.window else MARGIN_MM
    wide, tall = figure.wide_mm + 2 * margin, figure.tall_mm + 2 * margin
    board = Board(wide, tall)
    placed = board.place(figure, margin, margin)
    _seat_words(board, placed, kit)
    layers = (_cut(placed), _press(placed), _engrave(board, placed))
    name = ", ".join((figure.facts.kept[0], *_machine_words(kit, part)))
    return Page(wide, tall, tuple(layer for layer in layers if layer.items), name)


def _for_the_machine(part: Part, kit: Kit) -> Part:
    """The cut takes half its width from both sides of the line: a stencil is drawn so much larger all round, its openings and holes
    smaller. Of a window the sheet is the stencil, and what falls out is drawn smaller. What is narrower than the cut vanishes."""
    cut = kit.room.machine_cut.mm if kit.room.machine_cut else 0.0
    shapes = [drawn for shape in part.stencil or (part.shape,) for drawn in grown(shape, -cut / 2 if part.window else cut / 2)]
    holes = tuple(hole._replace(across_mm=hole.across_mm - cut) for hole in part.holes if hole.across_mm > cut)
    return replace(part, stencil=tuple(shapes), holes=holes)


def _machine_words(kit: Kit, part: Part) -> tuple[str, ...]:
    cut, units = kit.room.machine_cut, kit.room.units
    if cut is None:
        return ()
    key = "stencil_machine_window" if part.window else "stencil_machine"
    size, wide = (f"{show_length(mm, units, 2)}" for mm in (cut.mm / 2, cut.mm))
    return (say(key, kit.room.language, size=size, cut=wide),)


def _seat_words(board: Board, placed: Placed, kit: Kit) -> None:
    """The arrow to the top, the name and the letters of the edges, each if it fits: on the part, or on the frame of a window."""
    figure = placed.figure
    if figure.part.window:
        board.ground.take(placed.body)
    if figure.holes:
        arrow, spot = top_arrow(placed, kit.room.language)
        board.seat(arrow, spot._replace(within=board.scrap if figure.part.window else spot.within))
    middle = placed.x_mm + figure.wide_mm / 2
    below = Spot(middle, board.tall_mm, (0.5, 1), board.scrap)
    on_it = Spot(middle, placed.y_mm + figure.tall_mm / 2, (0.5, 0.5), placed.body, (3.0, 0.0))
    board.seat(_names(figure, kit), below if figure.part.window else on_it)
    for edge in figure.edges:
        edge_note(board, placed, edge, placed.moved(edge.line), kit.room.language)


def _names(figure: Figure, kit: Kit) -> list[Panel]:
    """Name, letter, clay and what is known of it, code, and what was done for the machine; on a small part less, on a very small one
    its letter alone."""
    name, _, clay, *_ = figure.facts.kept
    code = " · ".join(part for part in (kit.lesson.version, kit.code) if part)  # no printer's correction: none was made
    all_of_it, less = [figure.facts.clay, code, *_machine_words(kit, figure.part)], [clay, code]
    lines = [[[Span(name, True)], *([Span(text)] for text in texts)] for texts in (all_of_it, less)]
    return [*(words(each, wide, centred=True) for each in lines for wide in (80.0, 44.0, 28.0)), *name_label(figure.facts)]


def _cut(placed: Placed) -> Group:
    figure, pen = placed.figure, Pen()
    for ring in (*figure.outlines, *figure.openings):
        pen.polygon(ring, FINE, join="round")
    for hole in _lasting(figure, figure.holes):
        pen.circle(hole.x_mm, hole.y_mm, hole.across_mm / 2, FINE)
    return pen.group(placed.x_mm, placed.y_mm, layer="cut")


def _press(placed: Placed) -> Group:
    pen = Pen()
    for trace in _lasting(placed.figure, placed.figure.traces):
        if trace.kind in ("press", "fold"):
            pen.polygon(trace.line, PRESS, closed=trace.closed, join="round")
    return pen.group(placed.x_mm, placed.y_mm, layer="press")


def _engrave(board: Board, placed: Placed) -> Group:
    figure, marks = placed.figure, Pen()
    for trace in _lasting(figure, figure.traces):
        if trace.kind in ("join", "quarter"):
            marks.polygon(trace.line, THIN, closed=trace.closed, join="round")
    for line in _lasting(figure, figure.hatching):
        marks.polygon(line, THIN, closed=False)
    items: list[Item] = [marks.group(placed.x_mm, placed.y_mm), *(seat.panel.at(seat.x_mm, seat.y_mm) for seat, _ in board.seats)]
    lines = tuple(placed.moved(trace.points) for trace in figure.traces if trace.kind == "centre")
    hidden = [placed.box] if figure.part.window else []  # on its frame the ends remain, to measure from
    if not figure.part.window:
        lines = within(lines, area_of(_body(placed)))
    centres = draw_centres(lines, (0.0, 0.0, board.wide_mm, board.tall_mm), [*board.boxes, *hidden])
    return Group((*items, *([centres._replace(layer="")] if centres else [])), layer="engrave")


def _body(placed: Placed) -> Shape:
    """The stencil where it stands on the page."""
    outline, *openings = (placed.moved(ring) for ring in (*placed.figure.outlines, *placed.figure.openings))
    return Shape(outline, tuple(openings))


def _lasting(figure: Figure, marks: tuple[Mark, ...]) -> tuple[Mark, ...]:
    """None of them in a window: there they would be in what falls out."""
    return () if figure.part.window else marks
