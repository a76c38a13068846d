"""What a teacher would want to know before paper is wasted. A check of a piece is a function in CHECKS, one of the whole lesson
in LESSON_CHECKS; each has a case that fires it.

Each says where, how much, and what would cure it. All limits here are common practice, no source, unless one says otherwise.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from itertools import islice
from statistics import fmean

from lessonkit.clay.shrinkage import fired_mm
from lessonkit.geometry import balance, shape, soundness
from lessonkit.geometry.faults import GeometryError
from lessonkit.geometry.shape import Shape
from lessonkit.lesson.decode import Written
from lessonkit.lesson.lesson import Lesson
from lessonkit.lesson.lesson import Piece as WrittenPiece
from lessonkit.lesson.room import Room
from lessonkit.pieces import goods
from lessonkit.pieces.card import why_whole
from lessonkit.pieces.flats import LEAST_FROM_EDGE_MM, fired_for_photo
from lessonkit.pieces.model import FiredClay, Kit, Piece
from lessonkit.pieces.reading import reading_level
from lessonkit.pieces.room_limits import drying_losses, fits_shelf, fits_slab, footprint
from lessonkit.problems import Problem
from lessonkit.units import NO_BREAK, lengths_shown, show_for_hand, show_length

THINNEST_MM, THICKEST_MM = 5.0, 13.0
BORDER_MM = 25.0  # fired, around an opening
SMALL_RADIUS_MM = 3.0
VENT_MM = 3.0
LARGEST_TILT_DEG = 1.0
SHRINKAGE_APART = 0.01


@dataclass(frozen=True, slots=True)
class Look:
    """What a check may look at: a piece worked out, as it was written, and where."""

    piece: Piece
    written: WrittenPiece
    lesson: Written[Lesson]
    index: int
    clay: FiredClay  # the piece's own
    main_clay: FiredClay  # the lesson's
    room: Room

    def warning(self, kind: str, what: str, cure: str, *path: str | int) -> Problem:
        span = self.lesson.span("pieces", self.index, *path)
        return Problem("warning", kind, span, f"{self.piece.name}: {lengths_shown(what, self.room.units)}", lengths_shown(cure, self.room.units))

    def fired(self, cut_mm: float) -> float:
        return fired_mm(cut_mm, self.clay.shrinkage)

    def size(self, of: Shape) -> str:
        """Width and height of a shape, in the room's units."""
        left, bottom, right, top = shape.bounds(of)
        return f"{show_length(right - left, self.room.units)} x {show_length(top - bottom, self.room.units)}"

    def typed(self, mm: float) -> str:
        """A length as she would type it in this room."""
        return show_for_hand(mm, self.room.units).replace(NO_BREAK, " ")

    @property
    def flat_shape(self) -> Shape | None:
        return self.piece.parts[0].shape if self.written.flat else None


Check = Callable[[Look], Iterator[Problem]]
LessonCheck = Callable[[Written[Lesson], Kit], Iterator[Problem]]


def _near(place: tuple[float, float]) -> str:
    return f"near ({place[0]:.0f}, {place[1]:.0f}) mm from its middle"


def slab_thickness(look: Look) -> Iterator[Problem]:
    """Thinner tears when lifted; thicker dries slowly and may burst."""
    thick = look.piece.thickness_mm
    if thick < THINNEST_MM:
        yield look.warning("slab-thin", f"a slab of {thick:g} mm tears when it is lifted.", "Roll on thicker sticks.", "thickness")
    if thick > THICKEST_MM:
        cure = "Hollow it, or dry it longer and fire slowly."
        yield look.warning("slab-thick", f"a slab of {thick:g} mm dries slowly and may burst.", cure, "thickness")


def hole_near_edge(look: Look) -> Iterator[Problem]:
    """A hole's middle at least 12 mm (fired) and 1.5 thicknesses from any edge."""
    if look.flat_shape is None:
        return
    least = max(LEAST_FROM_EDGE_MM, look.fired(1.5 * look.piece.thickness_mm))
    for hole in look.piece.parts[0].holes:
        gap = look.fired(soundness.edge_distance(look.flat_shape, hole.x_mm, hole.y_mm).wide_mm)
        if gap < least - 0.1:
            yield look.warning("hole-near-edge", f"the hole's middle is {gap:.0f} mm from the edge, fired, and may tear out.",
                               f"Move it in to {least:.0f} mm.", "hang")  # fmt: skip


def hanging_tilt(look: Look) -> Iterator[Problem]:
    """One hole that she placed herself, off the balance line."""
    if look.written.hang and look.written.hang.at and look.flat_shape:
        (hole,) = look.piece.parts[0].holes
        try:
            tilt = balance.hanging_tilt_deg(look.flat_shape, hole.x_mm, hole.y_mm)
        except GeometryError as error:  # at the balance point itself
            yield look.warning("hangs-crooked", error.what, error.hint, "hang", "at")
            return
        if abs(tilt) > LARGEST_TILT_DEG:
            off = look.fired(hole.x_mm - balance.balance_line_x(look.flat_shape))
            yield look.warning("hangs-crooked", f"it will hang {abs(tilt):.1f}° askew: the hole is {abs(off):.0f} mm off the balance line, fired.",
                               "Leave at out and the hole is put on the line.", "hang", "at")  # fmt: skip


def thin_border(look: Look) -> Iterator[Problem]:
    """Clay between an opening and the outline that is too thin to lift and to dry straight."""
    least = min(BORDER_MM, look.fired(3 * look.piece.thickness_mm))
    gap = soundness.thinnest_border(look.flat_shape, least / look.fired(1.0)) if look.flat_shape else None
    if gap:
        fired = look.fired(gap.wide_mm)
        if fired < least - 0.1:
            yield look.warning("thin-border", f"the border is only {fired:.0f} mm, fired, {_near(gap.middle)}: it warps and cracks there.",
                               f"Make the opening smaller or the piece larger, to {least:.0f} mm or more.", "flat", "openings")  # fmt: skip


def narrow_neck(look: Look) -> Iterator[Problem]:
    """Clay narrower than one and a half thicknesses that holds two parts together."""
    if look.flat_shape:
        least = 1.5 * look.piece.thickness_mm
        for neck in islice(soundness.narrow_necks(shape.whole(look.flat_shape), least), 3):
            yield look.warning("narrow-neck", f"it is only {neck.wide_mm:.0f} mm wide, as cut, {_near(neck.middle)}, and will break there.",
                               f"Make it {least:.0f} mm or more there.", "flat", "outline")  # fmt: skip


def press_line_splits(look: Look) -> Iterator[Problem]:
    """A line inside the outline that cannot pass a neck."""
    wanted = len(look.written.flat.press) if look.written.flat else 0
    lines = sum(mark.kind == "press" for mark in look.piece.parts[0].marks) if wanted else 0
    if lines > wanted:
        it = "the press line splits" if wanted == 1 else f"its {wanted} press lines split"
        yield look.warning("press-splits", f"{it} into {lines}, as a neck of the piece is narrower than twice the inset.",
                           "Make the inset smaller or the neck wider, unless it is meant.", "flat", "press")  # fmt: skip


def sharp_inner_corner(look: Look) -> Iterator[Problem]:
    """A corner that cuts into the clay: cracks start there."""
    if look.flat_shape:
        corners = soundness.inner_corners(look.flat_shape, SMALL_RADIUS_MM)
        if corners:
            more = f" and at {len(corners) - 1} more" if len(corners) > 1 else ""
            what = f"a sharp corner cuts into the clay {_near((corners[0].x, corners[0].y))}{more}: cracks start there."
            size = look.typed(SMALL_RADIUS_MM)
            cure = f"Round it (an outline: rounded: {{inside: {size}}}; an opening: rounded: {{outside: {size}}}; a photo's: corner)."
            yield look.warning("sharp-inner-corner", what, cure, "flat")


def photo_fits(look: Look) -> Iterator[Problem]:
    """At both ends of the clay's shrinkage: does the photo fall through, or is it covered?"""
    for number, opening in enumerate(look.written.flat.openings if look.written.flat else ()):
        if not (opening.shows and opening.lip) or look.clay.least == look.clay.most:
            continue
        picture, fired = goods.photo(opening.shows), fired_for_photo(opening.shows, opening.lip.mm)
        ways = (("wide", fired[0], picture.wide_mm), ("tall", fired[1], picture.tall_mm or 0.0))
        low, high = (
            [((whole - size * (1 - end) / (1 - look.clay.shrinkage)) / 2, way) for way, size, whole in ways]
            for end in (look.clay.least, look.clay.most)
        )
        (least, narrow), (most, hidden) = min(low), max(high)
        if least < goods.SMALLEST_LIP_MM:
            yield look.warning("photo-falls-through", f"if the clay shrinks only {look.clay.least * 100:.1f} %, the lip is {least:.1f} mm "
                               f"({narrow}) and the photo may fall through.", "Make the lip larger.", "flat", "openings", number, "lip")  # fmt: skip
        if most > opening.lip.mm + goods.MOST_HIDDEN_MM:
            yield look.warning("photo-covered", f"if the clay shrinks {look.clay.most * 100:.1f} %, {most:.1f} mm of the photo are covered "
                               f"on each side ({hidden}).", "Fire more test bars, or make the lip smaller.",
                               "flat", "openings", number, "lip")  # fmt: skip


def unlike_clays(look: Look) -> Iterator[Problem]:
    """Two clays in one lesson that shrink differently pull each other off."""
    apart = abs(look.clay.shrinkage - look.main_clay.shrinkage)
    if apart > SHRINKAGE_APART:
        what = f"{look.clay.name} shrinks {apart * 100:.1f} points more or less than {look.main_clay.name}: joined, they crack apart."
        yield look.warning("unlike-clays", what, "Make both of one clay, or do not join them.", "clay")  # fmt: skip


def closed_without_vent(look: Look) -> Iterator[Problem]:
    """Air that is shut in bursts the piece in the kiln."""
    pinch = look.written.pinch
    if pinch and pinch.closed and not pinch.vent:
        cure = f"Add vent: {look.typed(VENT_MM)}, and a step that makes the hole."
        yield look.warning("no-vent", "it is closed and has no vent: shut-in air and steam can burst it.", cure, "pinch")


def stencil_not_folded(look: Look) -> Iterator[Problem]:
    """Half a stencil was asked for, and left and right differ."""
    flat = look.written.flat
    if flat and flat.fold and not look.piece.fold:
        reason = why_whole(look.piece.parts[0], flat)
        cure = "Leave fold out, or make left and right alike."
        yield look.warning("not-folded", f"the whole stencil is drawn, not half: {reason}.", cure, "flat", "fold")


def lost_to_the_machine(look: Look) -> Iterator[Problem]:
    """A hole or an opening as narrow as the cut of the machine: it burns away in one pass."""
    if look.room.machine_cut is None or look.flat_shape is None:
        return
    wide, part = look.room.machine_cut.mm, look.piece.parts[0]
    holes = sum(hole.across_mm <= wide for hole in part.holes)
    openings = sum(not shape.grown(Shape(tuple(reversed(hole))), -wide / 2) for hole in look.flat_shape.holes)
    if holes + openings:
        yield look.warning("hole-lost", f"a hole or an opening is no wider than the machine's cut, {wide:g} mm: the drawing leaves it out.",
                           "Make it by hand, or correct machine_cut in the room file.")  # fmt: skip


def larger_than_slab(look: Look) -> Iterator[Problem]:
    """A part that cannot be cut from the largest slab that is rolled here."""
    slab, lost = look.room.slab, (look.clay.leather_hard or 0.0) if look.written.cut_at == "leather-hard" else 0.0
    for part in look.piece.parts if slab and look.piece.form != "pinch" else ():
        rolled = shape.scaled(part.shape, 1 / (1 - lost))
        if slab and part.use == "clay" and not fits_slab(rolled, slab):
            most = f"{show_length(slab.wide.mm, look.room.units)} x {show_length(slab.long.mm, look.room.units)}"
            name = part.name if len(look.piece.parts) > 1 else "it"
            yield look.warning("larger-than-slab", f"{name} is {look.size(rolled)}, too large for a slab of {most} with its margin.",
                               "Make it smaller, or of two parts that are joined.", look.piece.form)  # fmt: skip


def larger_than_shelf(look: Look) -> Iterator[Problem]:
    """A piece that finds no place on a shelf of the kiln, dry."""
    if look.room.kiln is None:
        return
    lost = next((drying_losses(clay) for clay in look.room.clays if clay.name == look.clay.name), []) or [0.0]
    dry = shape.scaled(footprint(look.piece, look.written)[0], 1 - fmean(lost))
    if not fits_shelf(dry, look.room.kiln):
        yield look.warning("larger-than-shelf", f"it takes {look.size(dry)} and finds no place on a shelf of the kiln.",
                           "Make it smaller, or of parts that are fired apart.", look.piece.form)  # fmt: skip


CHECKS: tuple[Check, ...] = (
    slab_thickness, hole_near_edge, hanging_tilt, thin_border, narrow_neck, press_line_splits, sharp_inner_corner, photo_fits, unlike_clays,
    closed_without_vent, stencil_not_folded, lost_to_the_machine, larger_than_slab, larger_than_shelf,
)  # fmt: skip


def rubric_columns(lesson: Written[Lesson], kit: Kit) -> Iterator[Problem]:
    """A row of the rubric with words for more or fewer marks than the room has: they would stand under the wrong ones."""
    marks = kit.room.rubric
    for index, row in enumerate(kit.lesson.rubric):
        if row.says and len(row.says) != len(marks):
            what = f"{row.look} has {len(row.says)} texts, and there are {len(marks)} marks: {', '.join(marks)}."
            yield Problem("error", "rubric-columns", lesson.span("rubric", index, "says"), what, "Write one text for each, or leave says out.")


LESSON_CHECKS: tuple[LessonCheck, ...] = (reading_level, rubric_columns)
