"""A part as lines on paper: millimetres from its own top left, y down, the kinds of line told apart."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from functools import lru_cache
from itertools import pairwise
from typing import Literal, NamedTuple

from lessonkit.drawing.items import CLAY, Group
from lessonkit.forgetting import of_a_lesson
from lessonkit.geometry.drafting import hatch
from lessonkit.geometry.shape import Bounds, Line, Point, Shape, bounds
from lessonkit.layout.pen import CENTRE, CUT, DASHED, FINE, OBJECT, PRESS, THIN, Pen
from lessonkit.layout.stencils.facts import Facts
from lessonkit.layout.stencils.fold import cut_lines, kept_of, other_half
from lessonkit.layout.stencils.ground import Edges, edges_of, ring_edges
from lessonkit.pieces.model import Edge, Hole, Part

LineKind = Literal["cut", "hole", "compare", "press", "fold", "centre", "quarter", "join", "bridge", "crease", "ghost"]
Folding = Literal["", "here", "beside"]
DOTTED = (0.6, 1.4)  # what comes later
HATCH_MM = 1.6
HATCHED = 32  # outlines whose hatching is kept: a part is drawn on paper and for the machine
BEYOND_MM = 2.6  # a centre line runs on past the outline
CREASE_MM = 6.0  # and a crease so far, with its signs of symmetry
CROSS_MM = 2.0  # and the cross of a hole past its edge
ON_IT_MM = 0.1  # a centre line so near to the crease is the crease


class Trace(NamedTuple):
    """One line of a part. A closed one does not repeat its first point; `words` say what it is for, `levels` whose it is."""

    kind: LineKind
    line: Line
    closed: bool = False
    words: str = ""
    levels: tuple[str, ...] = ()

    @property
    def points(self) -> Line:
        return (*self.line, self.line[0]) if self.closed else self.line


class Rims(NamedTuple):
    """The edges of a figure's rings, and of all its lines but the centre lines, as a sheet counts them; and the rectangle around all."""

    outlines: Edges
    openings: tuple[Edges, ...]
    islands: Edges
    lines: Edges
    bounds: Bounds


class Figure(NamedTuple):
    """A part ready to be drawn: the outline of its stencil (several where bridges part it), its openings, the islands of a window,
    and all its lines, the outlines and openings among them. One that is `turned` has its top at the right. `folding` says whether
    its half is cut from this sheet, folded, or laid on the fold of another."""

    part: Part
    facts: Facts
    wide_mm: float
    tall_mm: float
    outlines: tuple[Line, ...]
    openings: tuple[Line, ...]
    islands: tuple[Line, ...]
    traces: tuple[Trace, ...]
    holes: tuple[Hole, ...]
    edges: tuple[Edge, ...]
    hatching: tuple[Line, ...]
    rims: Rims
    turned: bool = False
    folding: Folding = ""


Placing = Callable[[Line], Line]


def figure_of(part: Part, facts: Facts, turned: bool = False, folding: Folding = "") -> Figure:
    shapes = _shapes(part, folding)
    left, right = min(bounds(shape)[0] for shape in shapes), max(bounds(shape)[2] for shape in shapes)
    more = CREASE_MM if folding else 0.0
    bottom, top = min(bounds(shape)[1] for shape in shapes) - more, max(bounds(shape)[3] for shape in shapes) + more

    def place(line: Line) -> Line:
        return tuple((y - bottom, x - left) if turned else (x - left, top - y) for x, y in line)

    traces = tuple(_placed(trace, place) for trace in (_folded(part, folding) if folding else _traces(part, shapes)))
    holes = tuple(hole._replace(x_mm=x, y_mm=y) for hole in _holes(part, folding) for x, y in place(((hole.x_mm, hole.y_mm),)))
    hatching = (line for trace in traces if trace.kind == "join" for line in _hatched(trace.line))
    outlines = tuple(place(shape.outline) for shape in shapes)
    openings = tuple(place(hole) for shape in shapes for hole in shape.holes)
    islands = tuple(place(hole) for hole in part.shape.holes) if part.window else ()
    return Figure(
        part,
        facts,
        top - bottom if turned else right - left,
        right - left if turned else top - bottom,
        outlines,
        openings,
        islands,
        traces,
        holes,
        tuple(edge._replace(line=place(edge.line)) for edge in part.edges),
        tuple(hatching),
        _rims(outlines, openings, islands, traces),
        turned,
        folding,
    )


@of_a_lesson
@lru_cache(HATCHED)
def _hatched(outline: Line) -> tuple[Line, ...]:
    return hatch(outline, -45, HATCH_MM)


def _rims(outlines: Sequence[Line], openings: Sequence[Line], islands: Sequence[Line], traces: Sequence[Trace]) -> Rims:
    xs, ys = zip(*(point for trace in traces for point in trace.line), strict=True)
    return Rims(
        ring_edges(outlines),
        tuple(ring_edges([opening]) for opening in openings),
        ring_edges(islands),
        edges_of([trace.points for trace in traces if trace.kind != "centre"]),
        (min(xs), min(ys), max(xs), max(ys)),
    )


def _shapes(part: Part, folding: Folding) -> tuple[Shape, ...]:
    return (part.half,) if folding == "beside" and part.half else part.stencil or (part.shape,)


def _holes(part: Part, folding: Folding) -> Iterator[Hole]:
    """With a fold those on it and to the right of it."""
    for hole in part.holes:
        if not folding or not part.half or hole.x_mm + hole.across_mm / 2 > bounds(part.half)[0]:
            yield hole


def _placed(trace: Trace, place: Placing) -> Trace:
    return trace._replace(line=place(trace.line))


def _traces(part: Part, shapes: Sequence[Shape]) -> Iterator[Trace]:
    kind: LineKind = "compare" if part.use == "compare" else "cut"
    for shape in shapes:
        yield from (Trace(kind, ring, True) for ring in (shape.outline, *shape.holes))
    yield from (Trace("hole", circle(hole), True) for hole in part.holes)
    yield from (Trace("bridge", bridge.outline, True) for bridge in part.bridges)
    yield from _marks(part)
    if part.window:  # where a hole is, can be read from the frame when the window is empty
        left, _, right, _ = bounds(part.shape)
        yield from (Trace("centre", _beyond_both(((left, hole.y_mm), (right, hole.y_mm))), False) for hole in part.holes)


def _marks(part: Part) -> Iterator[Trace]:
    for mark in part.marks:
        line = _beyond_both(mark.line) if mark.kind == "centre" and not mark.closed else mark.line
        yield Trace(mark.kind, line, mark.closed, mark.words, mark.levels)


def _folded(part: Part, folding: Folding) -> Iterator[Trace]:
    """The right half's lines, the crease, and, on the sheet that is folded, where the other half will be."""
    assert part.half is not None
    middle = bounds(part.half)[0]
    for line, closed in cut_lines(part.half):
        yield Trace("cut", line, closed)
        if folding == "here":
            yield Trace("ghost", other_half(line, middle), closed)
    for hole in part.holes:
        around = circle(hole, 96)
        kept = kept_of((*around, around[0]), middle)
        whole = hole.x_mm - hole.across_mm / 2 >= middle
        yield from ([Trace("hole", around, True)] if whole else [Trace("cut", line) for line in kept])
        if folding == "here":
            yield from (Trace("ghost", other_half(line, middle)) for line in kept)
    for trace in _marks(part):
        yield from _kept_mark(trace, middle)
    _, bottom, _, top = bounds(part.half)
    yield Trace("crease", ((middle, bottom - CREASE_MM), (middle, top + CREASE_MM)))


def _kept_mark(trace: Trace, middle: float) -> Iterator[Trace]:
    """A mark as far as it lies on the half; the middle line itself gives way to the crease."""
    if max(abs(x - middle) for x, _ in trace.line) < ON_IT_MM:
        return
    if min(x for x, _ in trace.line) >= middle:
        yield trace
        return
    for line in kept_of(trace.points, middle):
        yield trace._replace(line=line, closed=False)


def draw_figure(figure: Figure) -> tuple[Group, ...]:
    """All its lines but the centre ones, which give way to words and are drawn last."""
    pens = {layer: Pen() for layer in ("bridge", "join", "press", "cut")}
    for line in figure.hatching:
        pens["join"].polygon(line, THIN, closed=False)
    for trace in figure.traces:
        _draw_trace(trace, pens)
    for hole in figure.holes:
        _draw_hole(hole, figure, pens["press"], pens["cut"])
    return tuple(pen.group(layer=layer) for layer, pen in pens.items() if pen.items)


def _draw_trace(trace: Trace, pens: dict[str, Pen]) -> None:
    line, closed = trace.line, trace.closed
    match trace.kind:
        case "cut":
            pens["cut"].polygon(line, CUT, closed=closed, join="round")
        case "compare":
            pens["cut"].polygon(line, OBJECT, closed=closed, join="round")
        case "bridge":
            pens["bridge"].polygon(line, 0, CLAY)
        case "join":
            pens["join"].polygon(line, THIN, closed=closed, join="round")
        case "press" | "fold":
            pens["press"].polygon(line, PRESS, closed=closed, dash=DASHED, join="round")
        case "quarter":
            pens["press"].polygon(line, FINE, closed=False)
        case "ghost":
            pens["press"].polygon(line, THIN, closed=closed, dash=DOTTED, join="round")
        case "crease":
            draw_crease(pens["press"], line[0], line[-1])


def _draw_hole(hole: Hole, figure: Figure, cross: Pen, cut: Pen) -> None:
    reach = hole.across_mm / 2 + CROSS_MM
    cross.line(hole.x_mm - reach, hole.y_mm, hole.x_mm + reach, hole.y_mm, FINE)
    cross.line(hole.x_mm, hole.y_mm - reach, hole.x_mm, hole.y_mm + reach, FINE)
    whole = any(trace.kind == "hole" and math.dist(trace.line[0], (hole.x_mm, hole.y_mm)) < reach for trace in figure.traces)
    if whole:  # one that the crease halves is a line among the others
        cut.circle(hole.x_mm, hole.y_mm, hole.across_mm / 2, CUT)


def draw_crease(pen: Pen, start: Point, end: Point) -> None:
    """A symmetry line with its sign at both ends, two short strokes across it (after ISO 128-3, from memory)."""
    pen.polygon((start, end), PRESS, closed=False, dash=CENTRE)
    long = math.dist(start, end)
    (ux, uy) = ((end[0] - start[0]) / long, (end[1] - start[1]) / long)
    for at in (1.2, 2.6, long - 2.6, long - 1.2):
        x, y = start[0] + ux * at, start[1] + uy * at
        pen.line(x - uy * 2, y + ux * 2, x + uy * 2, y - ux * 2, PRESS)


def draw_centres(lines: Sequence[Line], window: Bounds, boxes: Sequence[Bounds]) -> Group | None:
    """Centre lines inside a window, interrupted for the boxes (left, top, right, bottom) that words stand in."""
    pen = Pen()
    for line in lines:
        for a, b in pairwise(line):
            for start, end in _open_stretches(a, b, window, boxes):
                pen.polygon((start, end), FINE, closed=False, dash=CENTRE)
    return pen.group(layer="centre") if pen.items else None


def circle(hole: Hole, points: int = 48) -> Line:
    turns = (2 * math.pi * i / points for i in range(points))
    return tuple((hole.x_mm + hole.across_mm / 2 * math.cos(a), hole.y_mm + hole.across_mm / 2 * math.sin(a)) for a in turns)


def _beyond_both(line: Line) -> Line:
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
