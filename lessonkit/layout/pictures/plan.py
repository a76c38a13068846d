"""Where a part's plan and its figures stand in a box, clear of each other."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from lessonkit.drawing.fonts import CAPITAL, width_mm
from lessonkit.geometry.areas import bar
from lessonkit.layout.pictures.sizes import Sizes
from lessonkit.layout.pictures.subject import Placed
from lessonkit.units import MM_PER_POINT, NO_BREAK

EDGE, GAP, HEAD = 1.5, 1.3, 2.2  # mm: free at the box's edge, between things, a head's length
SECTION = (6.0, 2.8)  # how the slab's section is drawn: not to scale
ONE_LINE = 0.58  # what a plan without an upright line is worth, beside one with it
LEAST = (6.0, 0.3)  # mm: no plan is drawn shorter or narrower


class Plan(NamedTuple):
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


def plans(sizes: Sizes, wide: float, tall: float, size_pt: float) -> Iterator[Plan]:
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
    across, up = scale * s.across, scale * s.up
    if max(across, up) < LEAST[0] or min(across, up) < LEAST[1] or plan.wide_of(*plan.row_words) > plan.wide - 2 * EDGE:
        return None
    x = EDGE + plan.left + (room_x - across) / 2
    y = EDGE + plan.above + (room_y - up) / 2
    worth = scale * (1.0 if plan.lined else ONE_LINE) * (1.05 if plan.inside else 1.0)
    plan = plan._replace(box=(x, y, x + across, y + up), worth=worth)
    if not plan.under and plan.lined and plan.wide_of(s.wide) + 2 * (HEAD + GAP) > across:
        return None
    if plan.upright and plan.letters + 2 * (HEAD + GAP) > up:
        return None
    if s.opening and plan.inside and not _opening_box(plan):
        return None
    return plan if slots(plan) else None


def placed(plan: Plan) -> Placed:
    return plan.sizes.subject.place(*plan.box, least_hole=0.5)


def _opening_box(plan: Plan) -> tuple[float, float] | None:
    """The middle of the opening if its figure fits there, on one line."""
    piece = placed(plan)
    x, y = piece.amid_opening
    half, tall = plan.wide_of(one_line(plan)) / 2 + 0.8, plan.letters / 2 + 0.8
    return (x, y) if piece.opening.covers(bar(x - half, y - tall, x + half, y + tall)) else None


def one_line(plan: Plan) -> str:
    return NO_BREAK.join(plan.sizes.opening)


class Slots(NamedTuple):
    """Heights in the column: the middles of the hole's and the opening's figures, the top of the section."""

    hole: float = 0.0
    opening: float = 0.0
    section: float = 0.0


def slots(plan: Plan) -> Slots | None:
    """The column from the top: hole, opening, section; None where they do not keep clear of each other."""
    s = plan.sizes
    x0, _, x1, y1 = plan.box
    reaches = plan.centre + plan.wide_of(*plan.row_words) / 2 > x1  # the row's figure comes under the column
    top, foot = EDGE, y1 if plan.below or reaches else plan.tall - EDGE
    hole = opening = section = 0.0
    if s.hole:
        at = max(y for _, y in placed(plan).hangs)
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
        opening = max(top + half, min(placed(plan).amid_opening[1], foot - half))
        if opening + half > foot:
            return None
    return Slots(hole, opening, section)
