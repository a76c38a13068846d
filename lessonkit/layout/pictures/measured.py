"""For cards that give sizes: a plan of what is cut, with its sizes as dimension lines, and its thickness in section."""

from __future__ import annotations

from functools import lru_cache

from lessonkit.drawing.items import BLACK, CLAY, Group
from lessonkit.forgetting import of_a_lesson
from lessonkit.layout.pen import OBJECT, THIN, Pen
from lessonkit.layout.pictures.plan import GAP, HEAD, SECTION, Plan, Slots, one_line, placed, plans, slots
from lessonkit.layout.pictures.sizes import sizes_of
from lessonkit.layout.pictures.subject import Placed, Subject
from lessonkit.layout.same import Same
from lessonkit.pieces.model import Piece
from lessonkit.units import Units


def measured(piece: Piece, wide_mm: float, tall_mm: float, units: Units, size_pt: float = 12, thickness: bool = True) -> Group:
    """The main part's plan in a box, top left at 0, 0: its sizes as cut, its largest opening's, how far the hanging holes lie
    below the edge above them, and (`thickness`) the slab's thickness in a section that is not to scale.

    Figures are whole millimetres or sixteenths of an inch, never smaller than asked; the thickness alone names the unit. In a
    box too small for all of them width and height share a line; then the thickness gives way, then the opening, then the
    holes. ValueError for a size that is not above 0.
    """
    if not min(wide_mm, tall_mm, size_pt) > 0:
        raise ValueError(f"a drawing can't be {wide_mm:g} x {tall_mm:g} mm with letters of {size_pt:g} pt.")
    return _measured(Same(piece), wide_mm, tall_mm, units, size_pt, thickness)


@of_a_lesson
@lru_cache(4)  # mostly, several steps of a lesson show the same
def _measured(of: Same[Piece], wide_mm: float, tall_mm: float, units: Units, size_pt: float, thickness: bool) -> Group:
    sizes = sizes_of(Subject(of.value), units)
    if not thickness:
        sizes = sizes._replace(thick="")
    best = (max(plans(kept, wide_mm, tall_mm, size_pt), key=lambda p: p.worth, default=None) for kept in sizes.fewer())
    plan = next((plan for plan in best if plan), None)
    return _draw(plan) if plan else Group((), layer="measured")


def _draw(plan: Plan) -> Group:
    pen, piece, column = Pen(), placed(plan), slots(plan)
    assert column
    pen.lines(piece.pierced.rings, OBJECT, CLAY, closed=True, join="round")
    _draw_width(pen, plan)
    if plan.upright:
        _draw_height(pen, plan)
    if plan.sizes.opening:
        _draw_opening(pen, plan, piece, column)
    if plan.sizes.hole:
        _draw_hole(pen, plan, piece, column)
    if plan.sizes.thick:
        _draw_section(pen, plan, column)
    return pen.group(layer="measured")


def _figure(pen: Pen, plan: Plan, x: float, middle: float, words: str, centred: bool = False) -> None:
    pen.text(x, middle + plan.letters / 2, words, plan.size_pt, bold=True, align="centre" if centred else "left")


def _draw_width(pen: Pen, plan: Plan) -> None:
    x0, _, x1, y1 = plan.box
    y = y1 + GAP + plan.letters / 2
    if not plan.lined:
        for i, words in enumerate(plan.row_words):
            _figure(pen, plan, plan.centre, y + i * (GAP + plan.letters), words, centred=True)
        return
    line = y1 + GAP if plan.under else y
    for x, side in ((x0, 270.0), (x1, 90.0)):
        pen.line(x, y1 + 0.6, x, line + 1.0, THIN)
        pen.head(x, line, side, HEAD)
    half = 0.0 if plan.under else plan.wide_of(plan.sizes.wide) / 2 + 0.6
    middle = (x0 + x1) / 2
    pen.line(x0 + HEAD / 2, line, middle - half, line, THIN)
    pen.line(middle + half, line, x1 - HEAD / 2, line, THIN)
    _figure(pen, plan, plan.centre, y + (GAP if plan.under else 0.0), plan.sizes.wide, centred=True)


def _draw_height(pen: Pen, plan: Plan) -> None:
    x0, y0, _, y1 = plan.box
    x = x0 - GAP - plan.wide_of(plan.sizes.tall) / 2
    middle, half = (y0 + y1) / 2, plan.letters / 2 + 0.7
    for y, side in ((y0, 0.0), (y1, 180.0)):
        pen.line(x0 - 0.6, y, x - 1.0, y, THIN)
        pen.head(x, y, side, HEAD)
    pen.line(x, y0 + HEAD / 2, x, middle - half, THIN)
    pen.line(x, middle + half, x, y1 - HEAD / 2, THIN)
    _figure(pen, plan, x, middle, plan.sizes.tall, centred=True)


def _draw_opening(pen: Pen, plan: Plan, piece: Placed, column: Slots) -> None:
    x, y = piece.amid_opening
    if plan.inside:
        words = one_line(plan)
        _figure(pen, plan, x, y, words, centred=True)
        left, _, right, _ = piece.opening.bounds
        half = plan.wide_of(words) / 2 + 0.6
        if len(plan.sizes.opening) == 1 and (right - left) / 2 - half > HEAD + 0.6:
            for edge, inner, side in ((left, x - half, 270.0), (right, x + half, 90.0)):
                pen.head(edge, y, side, HEAD)
                pen.line(edge + (HEAD / 2 if side == 270.0 else -HEAD / 2), y, inner, y, THIN)
        return
    beside = plan.box[2] + GAP
    step = plan.letters + GAP
    first = column.opening - (len(plan.sizes.opening) - 1) * step / 2
    for i, words in enumerate(plan.sizes.opening):
        _figure(pen, plan, beside, first + i * step, words)
    pen.circle(x, y, 0.5, 0, BLACK)
    pen.line(x, y, beside - 1.0, column.opening, THIN)


def _draw_hole(pen: Pen, plan: Plan, piece: Placed, column: Slots) -> None:
    x, y = max(piece.hangs, key=lambda p: p[0])
    up = plan.sizes.below_edge * piece.scale
    head = plan.box[2] + GAP + HEAD / 2
    for level, side, start in ((y - up, 180.0, x), (y, 0.0, x)):
        pen.line(start, level, head + 1.0, level, THIN)
        pen.head(head, level, side, HEAD)
    _figure(pen, plan, head + HEAD / 2 + GAP, column.hole, plan.sizes.hole_words)


def _draw_section(pen: Pen, plan: Plan, column: Slots) -> None:
    words, (wide, tall) = plan.sizes.thick, SECTION
    if plan.beside:
        middle = plan.box[2] + GAP + max(wide, plan.wide_of(words)) / 2
        left, top = middle - wide / 2, column.section + HEAD
        _figure(pen, plan, middle, top + tall + HEAD + GAP * 0.7 + plan.letters / 2, words, centred=True)
    else:
        left = (plan.wide - wide - GAP - plan.wide_of(words)) / 2
        top = plan.box[3] + plan.row + GAP + HEAD
        _figure(pen, plan, left + wide + GAP, top + tall / 2, words)
    pen.rectangle(left, top, wide, tall, OBJECT, CLAY)
    pen.head(left + wide / 2, top - OBJECT / 2, 180.0, HEAD)
    pen.head(left + wide / 2, top + tall + OBJECT / 2, 0.0, HEAD)
