"""A part as lines on paper: millimetres from its own top left, y down, the kinds of line told apart."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Literal

from lessonkit.drawing.items import Group
from lessonkit.geometry.drafting import hatch
from lessonkit.geometry.shape import Bounds, Line, Point, bounds
from lessonkit.layout.pen import CENTRE, CUT, DASHED, FINE, PRESS, THIN, Pen
from lessonkit.layout.stencils.facts import Facts
from lessonkit.pieces.model import Edge, Hole, Mark, Part

LineKind = Literal["cut", "press", "fold", "centre", "quarter", "join"]
HATCH_MM = 1.6
BEYOND_MM = 2.6  # a centre line runs on past the outline
CROSS_MM = 2.0  # and the cross of a hole past its edge


@dataclass(frozen=True, slots=True)
class Trace:
    """One line of a part. A closed one does not repeat its first point; `words` say what it is for, `levels` whose it is."""

    kind: LineKind
    line: Line
    closed: bool = False
    words: str = ""
    levels: tuple[str, ...] = ()

    @property
    def points(self) -> Line:
        return (*self.line, self.line[0]) if self.closed else self.line


@dataclass(frozen=True, slots=True)
class Figure:
    """A part ready to be drawn: the outline of its stencil (several where bridges part it), its openings, and all its lines,
    the outlines and openings among them. One that is `turned` has its top at the right."""

    part: Part
    facts: Facts
    wide_mm: float
    tall_mm: float
    outlines: tuple[Line, ...]
    openings: tuple[Line, ...]
    traces: tuple[Trace, ...]
    holes: tuple[Hole, ...]
    edges: tuple[Edge, ...]
    hatching: tuple[Line, ...]
    turned: bool = False


def figure_of(part: Part, facts: Facts, turned: bool = False) -> Figure:
    shapes = part.stencil or (part.shape,)
    left, right = min(bounds(shape)[0] for shape in shapes), max(bounds(shape)[2] for shape in shapes)
    bottom, top = min(bounds(shape)[1] for shape in shapes), max(bounds(shape)[3] for shape in shapes)

    def place(line: Line) -> Line:
        return tuple((y - bottom, x - left) if turned else (x - left, top - y) for x, y in line)

    holes = tuple(Hole(*place(((hole.x_mm, hole.y_mm),))[0], hole.across_mm, hole.fired_mm) for hole in part.holes)
    outlines = tuple(place(shape.outline) for shape in shapes)
    openings = tuple(place(hole) for shape in shapes for hole in shape.holes)
    cuts = (Trace("cut", line, True) for line in (*outlines, *openings, *map(_circle, holes)))
    marks = (Trace(mark.kind, _prolonged(place(mark.line), mark), mark.closed, mark.words, mark.levels) for mark in part.marks)
    hatching = (line for mark in part.marks if mark.kind == "join" for line in hatch(mark.line, 45, HATCH_MM))
    return Figure(
        part,
        facts,
        top - bottom if turned else right - left,
        right - left if turned else top - bottom,
        outlines,
        openings,
        (*cuts, *marks),
        holes,
        tuple(replace(edge, line=place(edge.line)) for edge in part.edges),
        tuple(place(line) for line in hatching),
        turned,
    )


def draw_figure(figure: Figure) -> tuple[Group, ...]:
    """All its lines but the centre ones, which give way to words and are drawn last."""
    join, press, cut = Pen(), Pen(), Pen()
    for line in figure.hatching:
        join.polygon(line, THIN, closed=False)
    for line in (*figure.outlines, *figure.openings):
        cut.polygon(line, CUT, join="round")
    for trace in figure.traces:
        match trace.kind:
            case "join":
                join.polygon(trace.line, THIN, join="round")
            case "press" | "fold":
                press.polygon(trace.line, PRESS, closed=trace.closed, dash=DASHED, join="round")
            case "quarter":
                press.polygon(trace.line, FINE, closed=False)
    for hole in figure.holes:
        reach = hole.across_mm / 2 + CROSS_MM
        press.line(hole.x_mm - reach, hole.y_mm, hole.x_mm + reach, hole.y_mm, FINE)
        press.line(hole.x_mm, hole.y_mm - reach, hole.x_mm, hole.y_mm + reach, FINE)
        cut.circle(hole.x_mm, hole.y_mm, hole.across_mm / 2, CUT)
    return tuple(pen.group(layer=layer) for layer, pen in (("join", join), ("press", press), ("cut", cut)) if pen.items)


def draw_centres(lines: Sequence[Line], window: Bounds, boxes: Sequence[Bounds]) -> Group | None:
    """Centre lines inside a window, interrupted for the boxes (left, top, right, bottom) that words stand in."""
    pen = Pen()
    for line in lines:
        for a, b in pairwise(line):
            for start, end in _open_stretches(a, b, window, boxes):
                pen.polygon((start, end), FINE, closed=False, dash=CENTRE)
    return pen.group(layer="centre") if pen.items else None


def _circle(hole: Hole, points: int = 48) -> Line:
    turns = (2 * math.pi * i / points for i in range(points))
    return tuple((hole.x_mm + hole.across_mm / 2 * math.cos(a), hole.y_mm + hole.across_mm / 2 * math.sin(a)) for a in turns)


def _prolonged(line: Line, mark: Mark) -> Line:
    if mark.kind != "centre" or mark.closed:
        return line
    return (_beyond(line[1], line[0]), *line[1:-1], _beyond(line[-2], line[-1]))


def _beyond(start: Point, end: Point) -> Point:
    far = math.dist(start, end)
    share = (far + BEYOND_MM) / far if far else 1.0
    return start[0] + (end[0] - start[0]) * share, start[1] + (end[1] - start[1]) * share


def _open_stretches(a: Point, b: Point, window: Bounds, boxes: Sequence[Bounds]) -> Iterator[tuple[Point, Point]]:
    start, end = share_inside(a, b, window)
    hidden = sorted(share for box in boxes if (share := share_inside(a, b, box))[0] < share[1])
    for low, high in (*hidden, (end, end)):
        if min(low, end) - start > 1e-6:
            yield _along(a, b, start), _along(a, b, min(low, end))
        start = max(start, high)


def _along(a: Point, b: Point, share: float) -> Point:
    return a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share


def share_inside(a: Point, b: Point, box: Bounds) -> tuple[float, float]:
    """From where to where, as shares of the way from a to b, a straight line runs inside a box (Liang and Barsky, 1984);
    the second is not above the first where it misses it."""
    low, high = 0.0, 1.0
    for axis in (0, 1):
        step, near, far = b[axis] - a[axis], box[axis] - a[axis], box[axis + 2] - a[axis]
        if abs(step) < 1e-12:
            if near > 0 or far < 0:
                return 0.0, 0.0
            continue
        enter, leave = sorted((near / step, far / step))
        low, high = max(low, enter), min(high, leave)
    return (low, high) if low < high else (0.0, 0.0)
