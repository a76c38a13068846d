"""Words that belong to one figure: its label, the notes at holes and edges, the arrow to its top."""

from __future__ import annotations

from dataclasses import replace
from math import hypot

from lessonkit.drawing.typesetting import Span
from lessonkit.geometry.drafting import length, outline_from, point_along
from lessonkit.geometry.shape import Line, Point
from lessonkit.layout.pen import Pen
from lessonkit.layout.stencils.board import Board, NoRoom, Placed, Seat, Spot
from lessonkit.layout.stencils.facts import edge_words, hole_words
from lessonkit.layout.stencils.ground import Rows
from lessonkit.layout.stencils.panels import Panel, fact_label, full_label, kept_label, size_label, stacked, words
from lessonkit.layout.wording import say
from lessonkit.pieces.model import Edge, Kit

SHORT_EDGE_MM = 12.0  # of an edge that is cut by the sheet less than this is not named again
NOTE_REACH_MM = 30.0
SIDE_REACH_MM = 20.0
LEADER_MM = 8.0


def note_places(board: Board, placed: Placed, kit: Kit) -> None:
    """Holes with their size, the arrow to the top, edges with letter and bevel. NoRoom where one cannot be told."""
    language = kit.room.language
    left, top, right, bottom = placed.clip
    for hole in placed.figure.holes:
        x, y, radius = hole.x_mm + placed.x_mm, hole.y_mm + placed.y_mm, hole.across_mm / 2
        if left < x < right and top < y < bottom:
            note = words([[Span(hole_words(hole.across_mm, kit), True)]], 60.0)
            beside = [Spot(x + radius + 3.5, y, (0, 0.5), placed.body, reach_mm=8), Spot(x - radius - 3.5, y, (1, 0.5), placed.body, reach_mm=8)]
            anywhere = [Spot(x, y + radius + 4, (0.5, 0), reach_mm=2 * NOTE_REACH_MM)]
            board.must_seat([note], *beside, *anywhere)
    if placed.figure.holes:
        _top_arrow(board, placed, language)
    for edge in placed.figure.edges:
        shown = max(placed.shown(edge.line), key=length, default=())
        if shown and length(shown) >= min(SHORT_EDGE_MM, length(edge.line) * 0.9):
            _edge_note(board, placed, edge, shown, language)


def _top_arrow(board: Board, placed: Placed, language: str) -> None:
    holes = placed.figure.holes
    x = sum(hole.x_mm for hole in holes) / len(holes) + placed.x_mm
    y = max(hole.y_mm + hole.across_mm for hole in holes) + placed.y_mm
    arrow = Pen()
    arrow.head(2.6, 0, 0, 5.0)
    panel = stacked([Panel(tuple(arrow.items), 5.2, 5.0), words([[Span(say("stencil_top", language), True)]], 40.0)], 1, (0, 1.2), centred=True)
    beside = stacked([Panel(tuple(arrow.items), 5.2, 5.0), words([[Span(say("stencil_top", language), True)]], 40.0)], 2, (1.6, 0))
    board.must_seat([panel, beside], Spot(x, y + 3, (0.5, 0), placed.body, (1.0, 0.0)), Spot(x, y + 3, (0.5, 0)))


def _edge_note(board: Board, placed: Placed, edge: Edge, shown: Line, language: str) -> None:
    lines = edge_words(edge, language)
    panels = [words([[Span(line, not number)] for number, line in enumerate(lines)], wide) for wide in (60.0, 26.0)]
    level = abs(_inward(placed.body, shown, 0.5)[1][1]) > 0.7  # leave the middle to the label
    for share in (0.2, 0.8, 0.35, 0.5, 0.65) if level else (0.5, 0.3, 0.7, 0.15, 0.85):
        middle, normal = _inward(placed.body, shown, share)
        spots = []
        for panel in panels:
            away = 3.0 + (abs(normal[0]) * panel.wide_mm + abs(normal[1]) * panel.tall_mm) / 2
            spots.append(Spot(middle[0] + normal[0] * away, middle[1] + normal[1] * away, (0.5, 0.5), placed.body, reach_mm=10))
        if any(board.seat([panel], spot) for panel, spot in zip(panels, spots, strict=True)):
            return
    middle, normal = _inward(placed.body, shown, 0.5)
    x, y = middle[0] - normal[0] * 4, middle[1] - normal[1] * 4
    hold = (0.5 + normal[0] / 2, 0.5 + normal[1] / 2)
    board.must_seat(panels, Spot(x, y, hold, reach_mm=NOTE_REACH_MM))


def _inward(body: Rows, line: Line, share: float) -> tuple[Point, Point]:
    """A place along a line and the direction from there into the body."""
    at = length(line) * share
    middle, (ax, ay), (bx, by) = point_along(line, at), point_along(line, at - 0.5), point_along(line, at + 0.5)
    long = hypot(bx - ax, by - ay) or 1.0
    nx, ny = (by - ay) / long, (ax - bx) / long
    x, y = middle[0] + nx * 2, middle[1] + ny * 2
    inside = 0 <= y < len(body) and x >= 0 and body[int(y)] >> int(x) & 1
    return middle, (nx, ny) if inside else (-nx, -ny)


# -- the label
def label(board: Board, placed: Placed, named: bool) -> None:
    """Sizes and facts on the part itself, or in its opening while its name and sizes stay on it, or beside it.

    `named` sets the name large, where no heading does. NoRoom where not even a place beside it is free."""
    facts = placed.figure.facts
    middle = (placed.x_mm + placed.figure.wide_mm / 2, placed.y_mm + placed.figure.tall_mm / 2)
    on_body = Spot(*_seen(placed, middle), (0.5, 0.5), placed.body, (12.0, 8.0, 5.0))
    at_middle = replace(on_body, eases=(8.0, 5.0, 3.0), reach_mm=8)
    if board.seat(full_label(facts, True, named), at_middle, on_body):
        return
    opening = max(placed.openings, key=lambda rows: sum(row.bit_count() for row in rows), default=None)
    if opening is not None and _around_opening(board, placed, opening, named):
        return
    if board.seat(full_label(facts, True, named), replace(on_body, eases=(3.0, 1.0, 0.0))):
        return
    _beside(board, placed, named)


def _seen(placed: Placed, middle: Point) -> Point:
    """The middle of what the sheet shows of the figure."""
    left, top = max(placed.clip[0], placed.x_mm), max(placed.clip[1], placed.y_mm)
    right, foot = min(placed.clip[2], placed.x_mm + placed.figure.wide_mm), min(placed.clip[3], placed.y_mm + placed.figure.tall_mm)
    return ((left + right) / 2, (top + foot) / 2) if left < right and top < foot else middle


def _around_opening(board: Board, placed: Placed, opening: Rows, named: bool) -> bool:
    """Name and sizes to the left and right on the part, the rest in the opening, or also on the part."""
    facts, figure = placed.figure.facts, placed.figure
    middle = _middle_of(opening)
    sides = [Spot(placed.x_mm + figure.wide_mm * share, middle[1], (0.5, 0.5), placed.body, (3.0, 1.0, 0.0)) for share in (0.12, 0.88)]
    kept = board.seat(kept_label(facts), replace(sides[0], reach_mm=SIDE_REACH_MM), sides[0])
    sized = board.seat(size_label(facts), replace(sides[1], reach_mm=SIDE_REACH_MM), sides[1]) if kept and not named else None
    inside = Spot(*middle, (0.5, 0.5), opening, (8.0, 4.0, 2.0, 0.0))
    below = Spot(middle[0], placed.y_mm + figure.tall_mm, (0.5, 1), placed.body, (3.0, 1.0, 0.0))
    return bool(board.seat(fact_label(facts) if sized else full_label(facts, True, named), inside, below))


def _middle_of(rows: Rows) -> Point:
    heights = [y for y, row in enumerate(rows) if row]
    if not heights:
        return 0.0, 0.0
    whole = 0
    for row in rows:
        whole |= row
    return ((whole & -whole).bit_length() - 1 + whole.bit_length()) / 2, (heights[0] + heights[-1] + 1) / 2


def _beside(board: Board, placed: Placed, named: bool) -> None:
    """In the waste: right of the figure, left, below or above, with a leader; else anywhere."""
    panels = full_label(placed.figure.facts, False, named)
    x, y, wide, tall = placed.x_mm, placed.y_mm, placed.figure.wide_mm, placed.figure.tall_mm
    across, down = x + wide / 2, y + tall / 2
    gap = LEADER_MM
    for spot, start in (
        (Spot(x + wide + gap, down, (0, 0.5), reach_mm=tall / 2), "left"),
        (Spot(across, y + tall + gap, (0.5, 0), reach_mm=wide / 2), "top"),
        (Spot(x - gap, down, (1, 0.5), reach_mm=tall / 2), "right"),
        (Spot(across, y - gap, (0.5, 1), reach_mm=wide / 2), "foot"),
    ):
        if seat := board.seat(panels, spot):
            _lead(board, placed, seat, start)
            return
    if not board.seat(panels, Spot(x, y + tall + gap), Spot(x + wide + gap, y)):
        raise NoRoom


def _lead(board: Board, placed: Placed, seat: Seat, start: str) -> None:
    """A thin leader from the label to the nearest place on the outline, unless other words stand between."""
    across, down = (seat.x_mm + seat.right) / 2, (seat.y_mm + seat.foot) / 2
    x, y = {"left": (seat.x_mm - 1, down), "right": (seat.right + 1, down), "top": (across, seat.y_mm - 1), "foot": (across, seat.foot + 1)}[start]
    end = outline_from(placed.moved(placed.figure.rings[0]), (x, y))[0]
    board.lead((x, y), end)
