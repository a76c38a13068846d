"""A sheet being filled: figures first, then panels, each set where it touches nothing that is there."""

from __future__ import annotations

from collections.abc import Sequence
from functools import reduce
from math import atan2, degrees, inf
from operator import or_
from typing import NamedTuple

from lessonkit.drawing.items import Group, Item
from lessonkit.geometry.shape import Bounds, Line, Point, clip_line
from lessonkit.layout.pen import THIN, Pen
from lessonkit.layout.stencils.figure import Figure, draw_centres, draw_figure, share_inside
from lessonkit.layout.stencils.ground import Edges, Ground, Squares, edges_of
from lessonkit.layout.stencils.panels import Panel

CLEAR_MM = 2.0  # between words and lines, and between words and words
APART_MM = 6.0  # between two figures
STROKE_MM = 0.4  # half a cut line, and a little
INTERRUPT_MM = 1.0  # a centre line stops this far from words
_KEYS = {"hole": "cut"}  # what the legend calls it


class NoRoom(Exception):
    """Something that must be on the sheet fits nowhere on it."""


class Spot(NamedTuple):
    """Where a panel should stand: its point at `hold` (shares of its width and height) near a place, within some squares,
    with `eases` of free room around it (the first that is found counts), no farther off than `reach_mm`."""

    x_mm: float
    y_mm: float
    hold: tuple[float, float] = (0.0, 0.0)
    within: Squares | None = None
    eases: tuple[float, ...] = (0.0,)
    reach_mm: float = inf


class Seat(NamedTuple):
    """A panel in its place."""

    x_mm: float
    y_mm: float
    panel: Panel

    @property
    def right(self) -> float:
        return self.x_mm + self.panel.wide_mm

    @property
    def foot(self) -> float:
        return self.y_mm + self.panel.tall_mm


class Placed(NamedTuple):
    """A figure in its place, the part of the sheet that shows it, and the squares of its body and of each opening there."""

    figure: Figure
    x_mm: float
    y_mm: float
    clip: Bounds
    body: Squares
    openings: tuple[Squares, ...]

    @property
    def box(self) -> Bounds:
        """Left, top, right and foot of what the sheet shows of the figure."""
        left, top, right, foot = self.clip
        return max(left, self.x_mm), max(top, self.y_mm), min(right, self.x_mm + self.figure.wide_mm), min(foot, self.y_mm + self.figure.tall_mm)

    @property
    def is_whole(self) -> bool:
        """Whether the sheet shows all of the figure's lines."""
        (left, top, right, foot), (low_x, low_y, high_x, high_y) = self.clip, self.figure.rims.bounds
        return left <= low_x + self.x_mm and high_x + self.x_mm <= right and top <= low_y + self.y_mm and high_y + self.y_mm <= foot

    def moved(self, line: Line) -> Line:
        return tuple((x + self.x_mm, y + self.y_mm) for x, y in line)

    def shown(self, line: Line) -> tuple[Line, ...]:
        """What the sheet shows of one of the figure's lines."""
        whole, (left, top, right, bottom) = self.moved(line), self.clip
        xs, ys = zip(*whole, strict=True)
        if left <= min(xs) and max(xs) <= right and top <= min(ys) and max(ys) <= bottom:
            return (whole,)
        return clip_line(whole, self.clip)

    def drawn(self) -> Group:
        left, top, right, bottom = self.clip
        return Group(draw_figure(self.figure), self.x_mm, self.y_mm, (left - self.x_mm, top - self.y_mm, right - left, bottom - top))


class Board:
    """The window of one sheet, from its top left, y down."""

    def __init__(self, wide_mm: float, tall_mm: float) -> None:
        self.wide_mm, self.tall_mm = wide_mm, tall_mm
        self.ground = Ground(wide_mm, tall_mm)
        self.placed: list[Placed] = []
        self.figures: list[Placed | Group] = []  # and what belongs to them
        self.seats: list[tuple[Seat, str]] = []
        self.leads: list[Group] = []
        self.labels: list[Seat] = []  # of each figure, once it has one
        self.boxes: list[Bounds] = []
        self.kinds: set[str] = set()
        self.scrap: Squares = self.ground.box(0, 0, wide_mm, tall_mm)  # outside all figures
        self._apart, self._near = self.scrap, list[Edges]()  # outlines that are not yet counted

    def copy(self) -> Board:
        """Another board in the same state, to try something on."""
        twin = Board(self.wide_mm, self.tall_mm)
        twin.ground = self.ground.copy()
        twin.placed, twin.figures = [*self.placed], [*self.figures]
        twin.seats, twin.leads, twin.labels = [*self.seats], [*self.leads], [*self.labels]
        twin.boxes, twin.kinds, twin.scrap = [*self.boxes], {*self.kinds}, self.scrap
        twin._apart, twin._near = self._apart, [*self._near]
        return twin

    @property
    def apart(self) -> Squares:
        """What lies outside all figures, and so far from them that another may stand there."""
        if self._near:
            margin = Ground(self.wide_mm, self.tall_mm)
            for outlines in self._near:
                margin.take_edges(outlines, APART_MM)
            self._apart, self._near = self._apart & self.scrap & margin.free(), []
        return self._apart

    def place(self, figure: Figure, x_mm: float, y_mm: float, clip: Bounds | None = None) -> Placed:
        """Set a figure; of a tile only what lies inside `clip` is shown and taken."""
        view = clip or (-STROKE_MM, -STROKE_MM, self.wide_mm + STROKE_MM, self.tall_mm + STROKE_MM)
        rims = figure.rims
        outlines, visible = rims.outlines.moved(x_mm, y_mm), self.ground.box(*view)
        whole, inner = self.ground.enclosed(outlines), [self.ground.enclosed(opening.moved(x_mm, y_mm)) for opening in rims.openings]
        body = whole & visible & ~reduce(or_, inner, 0)
        placed = Placed(figure, x_mm, y_mm, view, body, tuple(opening & visible for opening in inner))
        self.scrap &= ~whole
        if figure.islands:
            self.scrap &= ~self.ground.enclosed(rims.islands.moved(x_mm, y_mm))
        self._near.append(outlines)
        if placed.is_whole:
            seen, lines = figure.traces, rims.lines.moved(x_mm, y_mm)
        else:
            shown = [(trace, parts) for trace in figure.traces if (parts := placed.shown(trace.points))]
            seen = tuple(trace for trace, _ in shown)
            lines = edges_of([line for trace, parts in shown if trace.kind != "centre" for line in parts])
        for trace in seen:
            self.kinds.add(_KEYS.get(trace.kind, trace.kind) + (f"_{figure.folding}" if trace.kind == "crease" else ""))
        if zones := [placed.moved(trace.line) for trace in seen if trace.kind in ("join", "bridge")]:
            self.ground.take(self.ground.inside(zones))
        self.ground.take_edges(lines, CLEAR_MM)
        self.figures.append(placed)
        self.placed.append(placed)
        return placed

    def seat(self, panels: Sequence[Panel], *spots: Spot, layer: str = "words") -> Seat | None:
        """Set one of the panels, the first that fits the first spot that has room, or none of them."""
        for spot in spots:
            for ease in spot.eases:
                for panel in panels:
                    if seat := self._room(panel, spot, ease):
                        self.set(seat, layer)
                        return seat
        return None

    def must_seat(self, panels: Sequence[Panel], *spots: Spot, layer: str = "words") -> Seat:
        """The same; NoRoom if it can't be done."""
        seat = self.seat(panels, *spots, layer=layer)
        if seat is None:
            raise NoRoom
        return seat

    def _room(self, panel: Panel, spot: Spot, ease: float) -> Seat | None:
        near = (spot.x_mm - spot.hold[0] * panel.wide_mm - ease, spot.y_mm - spot.hold[1] * panel.tall_mm - ease)
        at = self.ground.place(panel.wide_mm + 2 * ease, panel.tall_mm + 2 * ease, near, spot.within, spot.reach_mm)
        return Seat(at[0] + ease, at[1] + ease, panel) if at else None

    def set(self, seat: Seat, layer: str = "words") -> None:
        panel = seat.panel
        self.seats.append((seat, layer))
        self.ground.take_box(seat.x_mm, seat.y_mm, panel.wide_mm, panel.tall_mm, CLEAR_MM)
        self.boxes.append((seat.x_mm, seat.y_mm, seat.right, seat.foot))

    def lead(self, start: Point, end: Point) -> None:
        """A thin leader with its head on an outline, left out where words stand between."""
        if any(a < b for a, b in (share_inside(start, end, box) for box in self.boxes)):
            return
        pen = Pen()
        pen.line(*start, *end, THIN)
        pen.head(*end, degrees(atan2(end[0] - start[0], start[1] - end[1])), 2.2)
        self.leads.append(pen.group(layer="leader"))
        self.ground.take_line((start, end), CLEAR_MM)

    def items(self) -> tuple[Item, ...]:
        """Everything."""
        return (*self.lines(), *(seat.panel.at(seat.x_mm, seat.y_mm, layer) for seat, layer in self.seats))

    def lines(self) -> tuple[Group, ...]:
        """Everything but words, the centre lines interrupted for these."""
        gap = INTERRUPT_MM
        boxes = [(left - gap, top - gap, right + gap, foot + gap) for left, top, right, foot in self.boxes]
        centres = []
        for placed in self.placed:
            left, top, right, foot = placed.clip
            window = (max(left, 0.0), max(top, 0.0), min(right, self.wide_mm), min(foot, self.tall_mm))
            lines = [placed.moved(trace.points) for trace in placed.figure.traces if trace.kind == "centre"]
            centres.append(draw_centres(lines, window, boxes))
        figures = (each.drawn() if isinstance(each, Placed) else each for each in self.figures)
        return (*figures, *(group for group in centres if group), *self.leads)
