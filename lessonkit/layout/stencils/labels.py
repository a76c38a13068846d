"""Words that belong to one figure: its label, the notes at holes and edges, the arrow to its top."""

from __future__ import annotations

from collections.abc import Iterator
from math import dist, hypot

from lessonkit.drawing.typesetting import Span
from lessonkit.geometry.drafting import length, nearest, points_along
from lessonkit.geometry.shape import Line, Point
from lessonkit.layout.pen import Pen
from lessonkit.layout.stencils.board import Board, Placed, Seat, Spot
from lessonkit.layout.stencils.facts import Facts, edge_words, hole_words
from lessonkit.layout.stencils.figure import Figure
from lessonkit.layout.stencils.ground import Squares
from lessonkit.layout.stencils.panels import (
    SMALL,
    TEXT,
    Panel,
    boxed,
    fact_label,
    full_label,
    kept_label,
    name_label,
    size_label,
    sized_name_label,
    stacked,
    words,
)
from lessonkit.layout.wording import say
from lessonkit.pieces.model import Edge, Kit

SHORT_EDGE_MM = 12.0  # of an edge that is cut by the sheet less than this is not named again
NOTE_REACH_MM = 30.0
NEAR_MM = 12.0  # a note farther from its hole needs a leader
SIDE_REACH_MM = 20.0
LEADER_MM = 8.0
COMPACT = 3  # of the panels of a label, the first so many are neither very narrow nor very flat


def note_places(board: Board, placed: Placed, kit: Kit) -> None:
    """Holes with their size, the arrow to the top, edges with letter and bevel. NoRoom where one cannot be told.

    What is inside a window falls out of the sheet: after its notes nothing more may stand there."""
    language, window = kit.room.language, placed.figure.part.window
    left, top, right, bottom = placed.clip
    for hole in placed.figure.holes:
        x, y, radius = hole.x_mm + placed.x_mm, hole.y_mm + placed.y_mm, hole.across_mm / 2
        if left < x < right and top < y < bottom:
            note = words([[Span(hole_words(hole.across_mm, kit), True)]], 60.0)
            beside = [Spot(x + radius + 3.5, y, (0, 0.5), placed.body, reach_mm=8), Spot(x - radius - 3.5, y, (1, 0.5), placed.body, reach_mm=8)]
            seat = board.must_seat([note], *beside, *_about(board, placed, Spot(x, y + radius + 4, (0.5, 0), reach_mm=2 * NOTE_REACH_MM)))
            _lead_to_hole(board, seat, (x, y), radius)
    if window:
        board.ground.take(placed.body)
    if placed.figure.holes:
        arrow, under = top_arrow(placed, language)
        board.must_seat(arrow, *_about(board, placed, under))
    for edge in placed.figure.edges:
        shown = max(placed.shown(edge.line), key=length, default=())
        long_enough = shown and length(shown) >= min(SHORT_EDGE_MM, length(edge.line) * 0.9)
        if long_enough and not edge_note(board, placed, edge, shown, language):
            _edge_note_outside(board, placed, edge, shown, language)


def _lead_to_hole(board: Board, seat: Seat, hole: Point, radius: float) -> None:
    """A leader to a hole whose note had to stand farther off."""
    x, y = min(max(hole[0], seat.x_mm - 1), seat.right + 1), min(max(hole[1], seat.y_mm - 1), seat.foot + 1)
    far = dist((x, y), hole)
    if far > radius + NEAR_MM:
        share = (far - radius - 0.4) / far
        board.lead((x, y), (x + (hole[0] - x) * share, y + (hole[1] - y) * share))


def _about(board: Board, placed: Placed, spot: Spot) -> list[Spot]:
    """A spot on the figure, then in its openings, then in the waste, but never on another figure."""
    return [spot._replace(within=rows) for rows in (placed.body, *placed.openings, board.scrap)]


def top_arrow(placed: Placed, language: str) -> tuple[list[Panel], Spot]:
    """An arrow to the part's top with its word, and its place under the holes."""
    figure, pen = placed.figure, Pen()
    if figure.turned:
        pen.head(5.0, 2.6, 90, 5.0)
    else:
        pen.head(2.6, 0, 0, 5.0)
    arrow, word = Panel(lambda: tuple(pen.items), 5.2, 5.2), words([[Span(say("stencil_top", language), True)]], 40.0)
    panels = [stacked([arrow, word], *how)._replace(drawn=True) for how in ((1, (0.0, 1.2), True), (2, (1.6, 0.0)))]
    xs, ys = [hole.x_mm + placed.x_mm for hole in figure.holes], [hole.y_mm + placed.y_mm for hole in figure.holes]
    away = figure.holes[0].across_mm + 3
    x, y = sum(xs) / len(xs), sum(ys) / len(ys)
    place = (min(xs) - away, y, 1.0, 0.5) if figure.turned else (x, max(ys) + away, 0.5, 0.0)
    if figure.part.window:  # on the frame, above the piece
        place = (placed.x_mm + figure.wide_mm + 4, y, 0.0, 0.5) if figure.turned else (x, placed.y_mm - 4, 0.5, 1.0)
    return panels, Spot(*place[:2], place[2:], placed.body, (1.0, 0.0))


def edge_note(board: Board, placed: Placed, edge: Edge, shown: Line, language: str) -> bool:
    """Its letter, bevel and face along the inside of an edge, if there is room; True if there is no more to say."""
    panels = _edge_panels(edge, placed, language)
    level = abs(_inward(board, placed, shown, 0.5)[1][1]) > 0.7
    if not panels:
        return True
    for share in (0.2, 0.8, 0.35, 0.5, 0.65) if level else (0.5, 0.3, 0.7, 0.15, 0.85):  # a level edge leaves its middle to the label
        (x, y), (nx, ny) = _inward(board, placed, shown, share)
        for panel in panels:
            away = 3.0 + (abs(nx) * panel.wide_mm + abs(ny) * panel.tall_mm) / 2
            if board.seat([panel], Spot(x + nx * away, y + ny * away, (0.5, 0.5), placed.body, reach_mm=10)):
                return True
    return False


def _edge_panels(edge: Edge, placed: Placed, language: str) -> list[Panel]:
    lines = [[Span(line, bool(edge.letter) and not number)] for number, line in enumerate(edge_words(edge, placed.figure.part, language))]
    return [words(lines, wide) for wide in (60.0, 26.0)] if lines else []


def _edge_note_outside(board: Board, placed: Placed, edge: Edge, shown: Line, language: str) -> None:
    (x, y), (nx, ny) = _inward(board, placed, shown, 0.5)
    spot = Spot(x - nx * 4, y - ny * 4, (0.5 + nx / 2, 0.5 + ny / 2), reach_mm=NOTE_REACH_MM)
    board.must_seat(_edge_panels(edge, placed, language), *_about(board, placed, spot))


def _inward(board: Board, placed: Placed, line: Line, share: float) -> tuple[Point, Point]:
    """A place along a line and the direction from there into the body."""
    at = length(line) * share
    middle, (ax, ay), (bx, by) = points_along(line, [at, at - 0.5, at + 0.5])
    long = hypot(bx - ax, by - ay) or 1.0
    nx, ny = (by - ay) / long, (ax - bx) / long
    inside = board.ground.holds(placed.body, middle[0] + nx * 2, middle[1] + ny * 2)
    return middle, (nx, ny) if inside else (-nx, -ny)


# -- the label
def label(board: Board, placed: Placed, named: bool) -> None:
    """Sizes and facts on the part itself; or its name and sizes on it, the rest in its opening; or beside it. Of a window, whose
    part falls out, on the frame.

    `named` sets the name large, where no heading does. NoRoom where not even a place beside it is free."""
    seat = _label_on_frame(board, placed, named) if placed.figure.part.window else _label(board, placed, named)
    board.labels.append(seat)


def can_label(board: Board, placed: Placed) -> bool:
    """Whether there is room for a label at all, whatever else is set. Where there is none, nothing else need be tried."""
    places = (placed.body, *placed.openings, board.scrap)
    return any(board.ground.fits(panel.wide_mm, panel.tall_mm, within) for panel in _labels(placed.figure) for within in places)


def _labels(figure: Figure) -> Iterator[Panel]:
    """Every shape that a label may have; centred or not it is as large."""
    yield from full_label(figure.facts, True)
    if figure.openings and not figure.part.window:  # the sizes may stand apart
        yield from fact_label(figure.facts, True)


def _label(board: Board, placed: Placed, named: bool) -> Seat:
    facts = placed.figure.facts
    roomy, at_middle = _on_body(placed, (12.0, 8.0, 5.0)), _on_body(placed, (8.0, 5.0, 3.0))._replace(reach_mm=8)
    if seat := board.seat(full_label(facts, True, named), at_middle, roomy):
        return seat
    opening = max(placed.openings, key=int.bit_count, default=None)
    kept, sized, done = _around_opening(board, placed, opening, named) if opening else (False, False, None)
    if done or (done := board.seat(_rest(facts, sized, True, named), _on_body(placed, (3.0, 1.0, 0.0)))):
        return done
    if not kept:
        board.seat(name_label(facts), _on_body(placed, (1.0, 0.0)))
    panels = _rest(facts, sized, False, named)
    if beside := _beside(board, placed, panels):
        return beside
    # on a sheet of several parts a label far off could be another's
    return board.must_seat(panels, *(() if named else _about(board, placed, Spot(placed.x_mm, placed.y_mm + placed.figure.tall_mm + LEADER_MM))))


def _label_on_frame(board: Board, placed: Placed, named: bool) -> Seat:
    panels = full_label(placed.figure.facts, False, named)
    return _beside(board, placed, panels) or board.must_seat(panels, Spot(placed.x_mm, placed.y_mm + placed.figure.tall_mm + 4, within=board.scrap))


def face_mark(board: Board, placed: Placed, kit: Kit) -> None:
    """Which face this is. On a stencil that is flipped it must be told, on another where there is room."""
    facts, language = placed.figure.facts, kit.room.language
    if not facts.faced:
        return
    names = ("stencil_front", "stencil_back") if facts.flip else ("stencil_front_up", "stencil_back_down")
    panels = [boxed([say(name, language) for name in names], size) for size in (TEXT, SMALL)]
    left, _, right, foot = placed.box
    middle = (left + right) / 2
    spots = [Spot(middle, foot - 8, (0.5, 1), placed.body, (2.0, 0.0)), Spot(middle, foot + 3, (0.5, 0), board.scrap, reach_mm=30)]
    if facts.flip:
        board.must_seat(panels, *spots)
    else:
        board.seat(panels, *spots[:1])


def _rest(facts: Facts, sized: bool, centred: bool, named: bool) -> tuple[Panel, ...]:
    return fact_label(facts, centred) if sized else full_label(facts, centred, named)


def _around_opening(board: Board, placed: Placed, opening: Squares, named: bool) -> tuple[bool, bool, Seat | None]:
    """Name and sizes to the left and right on the part, the rest in the opening; or the sizes in the opening, the rest
    elsewhere. Returns whether the name and the sizes have been set, and where all else was."""
    facts, figure = placed.figure.facts, placed.figure
    middle = board.ground.middle(opening)
    sides = [Spot(placed.x_mm + figure.wide_mm * share, middle[1], (0.5, 0.5), placed.body, (3.0, 1.0, 0.0)) for share in (0.12, 0.88)]
    inside = Spot(*middle, (0.5, 0.5), opening, (3.0, 0.0))
    kept = board.seat(kept_label(facts), sides[0]._replace(reach_mm=SIDE_REACH_MM), sides[0])
    if not kept:  # the sizes at least belong on a part whose middle is thrown away
        *with_sizes, name = sized_name_label(facts)
        kept = board.seat(with_sizes, sides[0]) or _name_and_sizes(board, name, facts, sides[0])
    sized = board.seat(size_label(facts), sides[1]._replace(reach_mm=SIDE_REACH_MM), sides[1]) if kept and not named else None
    done = board.seat(_rest(facts, bool(sized), True, named), inside)
    if not done and not sized and not named:
        sized = board.seat(size_label(facts), inside)
    return bool(kept), bool(sized), done


def _name_and_sizes(board: Board, name: Panel, facts: Facts, spot: Spot) -> Seat | None:
    """The name, and one after the other the sizes, each where it fits."""
    seat = board.seat([name], spot)
    for size, words_of in facts.sizes:
        board.seat([words([[Span(f"{words_of} {size}")]], 60.0)], spot)
    return seat


def _on_body(placed: Placed, eases: tuple[float, ...]) -> Spot:
    """Near the middle of what the sheet shows of the figure."""
    left, top, right, foot = placed.box
    return Spot((left + right) / 2, (top + foot) / 2, (0.5, 0.5), placed.body, eases)


def _beside(board: Board, placed: Placed, panels: tuple[Panel, ...]) -> Seat | None:
    """In the waste: right of the figure, left, below or above, with a leader, if there is room; well apart from other labels
    rather than close by."""
    left, top = placed.x_mm, placed.y_mm
    right, foot = left + placed.figure.wide_mm, top + placed.figure.tall_mm
    across, down, gap = (left + right) / 2, (top + foot) / 2, LEADER_MM
    level = [(right + gap, down, 0, 0.5), (right + gap, top, 0, 0), (right + gap, foot, 0, 1), (left - gap, down, 1, 0.5), (left - gap, top, 1, 0)]
    upright = [(right, foot + gap, 1, 0), (across, foot + gap, 0.5, 0), (left, foot + gap, 0, 0), (across, top - gap, 0.5, 1)]
    for shapes, ease in ((panels[:COMPACT], 3.0), (panels, 3.0), (panels, 0.0)):
        for x, y, hold_x, hold_y in (*level, *upright):
            if seat := board.seat(shapes, Spot(x, y, (hold_x, hold_y), board.scrap, (ease,), reach_mm=4 + ease)):
                _lead(board, placed, seat)
                return seat
    return None


def _lead(board: Board, placed: Placed, seat: Seat) -> None:
    """A thin leader from the label to the nearest place on the outline, level or upright where the two stand side by side."""
    across = min(max(placed.x_mm + placed.figure.wide_mm / 2, seat.x_mm + 2), seat.right - 2)
    down = min(max(placed.y_mm + placed.figure.tall_mm / 2, seat.y_mm + 2), seat.foot - 2)
    if seat.x_mm >= placed.x_mm + placed.figure.wide_mm:
        start = (seat.x_mm - 1, down)
    elif seat.right <= placed.x_mm:
        start = (seat.right + 1, down)
    else:
        start = (across, seat.y_mm - 1 if seat.y_mm > placed.y_mm else seat.foot + 1)
    board.lead(start, nearest(placed.moved(placed.figure.outlines[0]), start))
