"""For cards that give sizes: a plan of what is cut, with its sizes as dimension lines, and its thickness in section."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace

from lessonkit.drawing.fonts import CAPITAL, width_mm
from lessonkit.drawing.items import BLACK, CLAY, Group
from lessonkit.geometry.drafting import Area, Line, area_of, within
from lessonkit.geometry.shape import Shape, bounds
from lessonkit.layout.pen import OBJECT, THIN, Pen, line_commands
from lessonkit.layout.pictures.subject import Placed, Subject
from lessonkit.pieces.model import Hole, Piece
from lessonkit.units import MM_PER_POINT, NO_BREAK, Units, number, show_for_hand

EDGE, GAP, HEAD = 1.5, 1.3, 2.2  # mm: free at the box's edge, between things, a head's length
SECTION = (6.0, 2.8)  # how the slab's section is drawn: not to scale
ONE_LINE = 0.58  # what a plan without an upright line is worth, beside one with it


def measured(piece: Piece, wide_mm: float, tall_mm: float, units: Units, size_pt: float = 12) -> Group:
    """The main part's plan in a box, top left at 0, 0: its sizes as cut, its largest opening's, how far the hanging holes lie
    below the edge above them, and the slab's thickness in a section that is not to scale.

    Figures are whole millimetres or sixteenths of an inch, never smaller than asked; the thickness alone names the unit. In a
    box too small for all of them width and height share a line; then the thickness gives way, then the opening, then the
    holes. ValueError for a size that is not above 0.
    """
    if not min(wide_mm, tall_mm, size_pt) > 0:
        raise ValueError(f"a drawing can't be {wide_mm:g} x {tall_mm:g} mm with letters of {size_pt:g} pt.")
    sizes = _sizes(Subject(piece), units)
    plans = (max(_plans(kept, wide_mm, tall_mm, size_pt), key=lambda p: p.worth, default=None) for kept in sizes.fewer())
    plan = next((plan for plan in plans if plan), None)
    return _draw(plan) if plan else Group((), layer="measured")


# --- what is told ---


@dataclass(frozen=True, slots=True)
class Sizes:
    """The figures of a part, as words, and what they measure."""

    subject: Subject
    across: float
    up: float
    wide: str
    tall: str  # empty for a round part
    thick: str
    opening: tuple[str, ...] = ()
    hole: Hole | None = None
    below_edge: float = 0.0  # mm
    hole_words: str = ""

    def fewer(self) -> Iterator[Sizes]:
        """All, then with less and less."""
        yield self
        for gone in ({"thick": ""}, {"thick": "", "opening": ()}, {"thick": "", "opening": (), "hole": None}):
            yield replace(self, **gone)  # type: ignore[arg-type]


def _sizes(subject: Subject, units: Units) -> Sizes:
    def say(mm: float) -> str:
        return number(mm, 0) if units == "mm" else show_for_hand(mm, "in").removesuffix(f"{NO_BREAK}in")

    part, lies = subject.part, subject.lies
    across, up = _extent(part.shape, lies)
    opening: tuple[str, ...] = ()
    if holes := area_of(part.shape).openings:
        wide, tall = _extent(holes[0].shapes[0], lies)
        opening = (say(wide),) if _round(holes[0], wide, tall) else (f"{say(wide)}{NO_BREAK}×", say(tall))
    hole = max(part.holes, key=lambda h: h.x_mm) if part.holes else None
    below = _below_edge(part.shape, hole) if hole else 0.0
    tall_words = "" if _round(area_of(part.shape), across, up) else say(up)
    return Sizes(subject, across, up, say(across), tall_words, show_for_hand(subject.piece.thickness_mm, units), opening, hole, below, say(below))


def _extent(shape: Shape, lies: bool) -> tuple[float, float]:
    left, bottom, right, top = bounds(shape)
    return (top - bottom, right - left) if lies else (right - left, top - bottom)


def _round(ground: Area, wide: float, tall: float) -> bool:
    return math.isclose(wide, tall, rel_tol=2e-3) and math.isclose(ground.outer.size, math.pi / 4 * wide * tall, rel_tol=5e-3)


def _below_edge(shape: Shape, hole: Hole) -> float:
    top = bounds(shape)[3]
    up: Line = ((hole.x_mm, hole.y_mm), (hole.x_mm, top + 1))
    runs = within((up,), area_of(shape))
    return min((max(y for _, y in run) for run in runs), default=top) - hole.y_mm


# --- where it stands ---


@dataclass(frozen=True, slots=True)
class Plan:
    """One way to place everything in a box: where the part lies, and which figures stand where."""

    sizes: Sizes
    wide: float
    tall: float
    size_pt: float
    upright: bool  # the height has a line of its own
    beside: bool  # the thickness stands in the column, not below
    inside: bool  # the opening's figure stands in it
    box: tuple[float, float, float, float] = (0, 0, 0, 0)
    under: bool = False  # the figures of the row stand under its line, or one under the other
    worth: float = 0.0

    @property
    def letters(self) -> float:
        return CAPITAL * self.size_pt * MM_PER_POINT

    def wide_of(self, *lines: str) -> float:
        return max((width_mm(line, self.size_pt, bold=True) for line in lines), default=0.0)

    @property
    def lined(self) -> bool:
        """Whether the width has a line of its own: it shares its row where the height has none."""
        return self.upright or not self.sizes.tall

    @property
    def row_words(self) -> tuple[str, ...]:
        wide, tall = self.sizes.wide, self.sizes.tall
        if self.lined:
            return (wide,)
        return (f"{wide}{NO_BREAK}×", tall) if self.under else (f"{wide}{NO_BREAK}×{NO_BREAK}{tall}",)

    @property
    def left(self) -> float:
        return self.wide_of(self.sizes.tall) + GAP if self.upright else 0.0

    @property
    def column(self) -> float:
        """The width of the column beside the plan, with the gap before it."""
        s, widths = self.sizes, [0.0]
        if s.hole:
            widths.append(HEAD + GAP + self.wide_of(s.hole_words))
        if s.opening and not self.inside:
            widths.append(self.wide_of(*s.opening))
        if s.thick and self.beside:
            widths.append(max(SECTION[0], self.wide_of(s.thick)))
        return max(widths) + GAP if max(widths) else 0.0

    @property
    def above(self) -> float:
        return HEAD + 0.6 if self.sizes.hole else 0.0

    @property
    def row(self) -> float:
        lines = len(self.row_words)
        return lines * (GAP + self.letters) + (GAP if self.under and self.lined else 0.0)

    @property
    def thick_tall(self) -> float:
        return 2 * HEAD + SECTION[1] + (GAP * 0.7 + self.letters if self.beside else 0.0)

    @property
    def below(self) -> float:
        return self.thick_tall + GAP if self.sizes.thick and not self.beside else 0.0

    @property
    def centre(self) -> float:
        """Where the figure of the width is centred: under the plan, but inside the box."""
        half = self.wide_of(*self.row_words) / 2 + EDGE
        return min(max((self.box[0] + self.box[2]) / 2, half), self.wide - half)


def _plans(sizes: Sizes, wide: float, tall: float, size_pt: float) -> Iterator[Plan]:
    """Every way that fits; a plan is worth its size, less where it tells things less plainly."""
    for upright in (True, False) if sizes.tall else (False,):
        for beside in (True, False) if sizes.thick else (True,):
            for inside in (True, False) if sizes.opening else (True,):
                for under in (False, True):
                    plan = _fitted(Plan(sizes, wide, tall, size_pt, upright, beside, inside, under=under))
                    if plan:
                        yield plan
                        break


def _fitted(plan: Plan) -> Plan | None:
    s = plan.sizes
    room_x = plan.wide - 2 * EDGE - plan.left - plan.column
    room_y = plan.tall - 2 * EDGE - plan.above - plan.row - plan.below
    scale = min(room_x / s.across, room_y / s.up)
    if min(scale * s.across, scale * s.up) < 3 or plan.wide_of(*plan.row_words) > plan.wide - 2 * EDGE:
        return None
    across, up = scale * s.across, scale * s.up
    x = EDGE + plan.left + (room_x - across) / 2
    y = EDGE + plan.above + (room_y - up) / 2
    worth = scale * (1.0 if plan.lined else ONE_LINE) * (1.05 if plan.inside else 1.0)
    plan = replace(plan, box=(x, y, x + across, y + up), worth=worth)
    if not plan.under and plan.lined and plan.wide_of(s.wide) + 2 * (HEAD + GAP) > across:
        return None
    if plan.upright and plan.letters + 2 * (HEAD + GAP) > up:
        return None
    if s.opening and plan.inside and not _opening_box(plan):
        return None
    return plan if _slots(plan) else None


def _placed(plan: Plan) -> Placed:
    return plan.sizes.subject.place(*plan.box, least_hole=0.5)


def _opening_box(plan: Plan) -> tuple[float, float] | None:
    """The middle of the opening if its figure fits there, on one line."""
    hole = _placed(plan).body.openings[0]
    x, y = hole.middle
    half, tall = plan.wide_of(_one_line(plan)) / 2 + 0.8, plan.letters / 2 + 0.8
    corners = Area((Shape(((x - half, y - tall), (x + half, y - tall), (x + half, y + tall), (x - half, y + tall))),))
    return (x, y) if hole.covers(corners) else None


def _one_line(plan: Plan) -> str:
    return NO_BREAK.join(plan.sizes.opening)


@dataclass(frozen=True, slots=True)
class Slots:
    """Heights in the column: the middles of the hole's and the opening's figures, the top of the section."""

    hole: float = 0.0
    opening: float = 0.0
    section: float = 0.0


def _slots(plan: Plan) -> Slots | None:
    """The column from the top: hole, opening, section; None where they do not keep clear of each other."""
    s = plan.sizes
    x0, _, x1, y1 = plan.box
    reaches = plan.centre + plan.wide_of(*plan.row_words) / 2 > x1  # the row's figure comes under the column
    top, foot = EDGE, y1 if plan.below or reaches else plan.tall - EDGE
    hole = opening = section = 0.0
    if s.hole:
        at = max(h.middle[1] for h in _placed(plan).holes)
        hole = at - s.below_edge * (x1 - x0) / s.across / 2
        top = max(at + HEAD, hole + plan.letters / 2)
        if top > foot:
            return None
        top += GAP
    if s.thick and plan.beside:
        section = foot - plan.thick_tall
        foot = section - GAP
        if section < top:
            return None
    if s.opening and not plan.inside:
        half = (len(s.opening) * (plan.letters + GAP) - GAP) / 2
        opening = max(top + half, min(_placed(plan).body.openings[0].middle[1], foot - half))
        if opening + half > foot:
            return None
    return Slots(hole, opening, section)


# --- onto paper ---


def _draw(plan: Plan) -> Group:
    pen, piece, slots = Pen(), _placed(plan), _slots(plan)
    assert slots
    body = piece.body
    for hole in piece.holes:
        body = body - hole
    pen.path([c for ring in body.rings for c in line_commands(ring, closed=True)], OBJECT, CLAY, join="round")
    _draw_width(pen, plan)
    if plan.upright:
        _draw_height(pen, plan)
    if plan.sizes.opening:
        _draw_opening(pen, plan, piece, slots)
    if plan.sizes.hole:
        _draw_hole(pen, plan, piece, slots)
    if plan.sizes.thick:
        _draw_section(pen, plan, slots)
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


def _draw_opening(pen: Pen, plan: Plan, piece: Placed, slots: Slots) -> None:
    hole = piece.body.openings[0]
    x, y = hole.middle
    if plan.inside:
        words = _one_line(plan)
        _figure(pen, plan, x, y, words, centred=True)
        left, _, right, _ = hole.bounds
        half = plan.wide_of(words) / 2 + 0.6
        if len(plan.sizes.opening) == 1 and (right - left) / 2 - half > HEAD + 0.6:
            for edge, inner, side in ((left, x - half, 270.0), (right, x + half, 90.0)):
                pen.head(edge, y, side, HEAD)
                pen.line(edge + (HEAD / 2 if side == 270.0 else -HEAD / 2), y, inner, y, THIN)
        return
    column = plan.box[2] + GAP
    step = plan.letters + GAP
    first = slots.opening - (len(plan.sizes.opening) - 1) * step / 2
    for i, words in enumerate(plan.sizes.opening):
        _figure(pen, plan, column, first + i * step, words)
    pen.circle(x, y, 0.5, 0, BLACK)
    pen.line(x, y, column - 1.0, slots.opening, THIN)


def _draw_hole(pen: Pen, plan: Plan, piece: Placed, slots: Slots) -> None:
    x, y = max((h.middle for h in piece.holes), key=lambda p: p[0])
    up = plan.sizes.below_edge * piece.scale
    head = plan.box[2] + GAP + HEAD / 2
    for level, side, start in ((y - up, 180.0, x), (y, 0.0, x)):
        pen.line(start, level, head + 1.0, level, THIN)
        pen.head(head, level, side, HEAD)
    _figure(pen, plan, head + HEAD / 2 + GAP, slots.hole, plan.sizes.hole_words)


def _draw_section(pen: Pen, plan: Plan, slots: Slots) -> None:
    words, (wide, tall) = plan.sizes.thick, SECTION
    if plan.beside:
        middle = plan.box[2] + GAP + max(wide, plan.wide_of(words)) / 2
        left, top = middle - wide / 2, slots.section + HEAD
        _figure(pen, plan, middle, top + tall + HEAD + GAP * 0.7 + plan.letters / 2, words, centred=True)
    else:
        left = (plan.wide - wide - GAP - plan.wide_of(words)) / 2
        top = plan.box[3] + plan.row + GAP + HEAD
        _figure(pen, plan, left + wide + GAP, top + tall / 2, words)
    pen.rectangle(left, top, wide, tall, OBJECT, CLAY)
    pen.head(left + wide / 2, top - OBJECT / 2, 180.0, HEAD)
    pen.head(left + wide / 2, top + tall + OBJECT / 2, 0.0, HEAD)
