"""The room: clays, sticks, paper, stations, minutes. What is true of every lesson taught in it."""

from __future__ import annotations

import re
from itertools import pairwise
from typing import Annotated, Any, Literal, Self

from pydantic import AfterValidator, BeforeValidator, Field, model_validator

from lessonkit.lesson.classroom import Check, Copies, Groups, LargestSlab, Shopping, Tables, Tool
from lessonkit.lesson.fields import Density, Distance, Length, Line, Minutes, Name, Paper, Percent, PercentRange, Record, Text, Whole, one_of, wrong
from lessonkit.lesson.firing import Kiln, Racks, Term
from lessonkit.lesson.teaching import Limits, Marks
from lessonkit.units import LEAST_TOO_MUCH_PERCENT
from lessonkit.units import Length as LengthRead


class Bar(Record):
    """One test bar: the distance between its marks, wet and after each stage that has been measured."""

    wet: Length
    dry: Length | None = None
    bisque: Length | None = None
    fired: Length | None = None  # after its last firing
    cone: Name  # of that firing
    date: Name | None = None

    @model_validator(mode="after")
    def _shrinks(self) -> Self:
        stages = [length for length in (self.wet, self.dry, self.bisque, self.fired) if length]
        for before, after in pairwise(stages):
            if after.mm > before.mm:
                raise wrong(f"this bar grows from {before.text} to {after.text}.", "A bar only shrinks: measure again.")
        if (lost := 1 - stages[-1].mm / self.wet.mm) >= LEAST_TOO_MUCH_PERCENT / 100:
            raise wrong(f"this bar lost {lost * 100:.0f} % from {self.wet.text} to {stages[-1].text}, and no clay does.", "Look at their units.")
        return self


class Clay(Record):
    """A clay with its total linear shrinkage (wet to fired, of the wet length) and the cone it was measured at.

    The shrinkage is a figure from the bag, a range, or comes from `bars` of her own. `leather_hard` is the part of the wet
    length that is already lost when a slab is cut leather-hard. `density` is of wet clay, 1.95 g/cm³ unless measured
    (water 19.5 to 22.5 % of the damp weight: common practice).
    """

    name: Name
    cone: Name
    shrinkage: PercentRange | None = None
    bars: tuple[Bar, ...] = ()
    other_cones: dict[str, PercentRange] = Field(default_factory=dict)  # the same clay's shrinkage, fired to another cone
    highest_cone: Name
    leather_hard: Percent | None = None
    density: Density = 1.95

    @model_validator(mode="after")
    def _measured(self) -> Self:
        if self.shrinkage is None and not any(bar.fired for bar in self.bars):
            raise wrong("this clay has no shrinkage.", "Add shrinkage: 12 % from the bag, or bars that were measured after firing.")
        return self


class Stick(Record):
    """A pair of sticks that sets the slab's thickness."""

    name: Name
    thick: Length


class RoomStation(Record):
    name: Name
    places: Whole
    read_from: Distance | None = None  # how far off its sign must be read; left out, the room's


class Printed(Record):
    """What her printer makes of the print check's bars: the one of 180 mm across and the one of 200 mm down."""

    across: Length
    down: Length

    @model_validator(mode="after")
    def _true_enough(self) -> Self:
        for name, length, bar in (("across", self.across, PRINT_BAR_ACROSS_MM), ("down", self.down, PRINT_BAR_DOWN_MM)):
            if not LEAST_SCALE <= length.mm / bar <= MOST_SCALE:
                raise wrong(f"the {bar:g} mm bar {name} was printed {length.text} long: {length.mm / bar * 100:.1f} %.",
                            "“Fit to page” prints at 94 to 97 %: print the check again at 100 %, actual size, and measure once more.")  # fmt: skip
        return self

    @property
    def scale(self) -> tuple[float, float]:
        """What the printer makes of a millimetre, across and down."""
        return self.across.mm / PRINT_BAR_ACROSS_MM, self.down.mm / PRINT_BAR_DOWN_MM


PRINT_BAR_ACROSS_MM, PRINT_BAR_DOWN_MM = 180.0, 200.0
LEAST_SCALE, MOST_SCALE = 0.985, 1.015
WIDEST_LINE_MM = 5.0  # of a needle or a machine's cut


class Thing(Record):
    """Something round at hand that marks a circle: a cup, a lid, a tin."""

    name: Name
    across: Length


class Period(Record):
    """How the minutes of a class are spent around its work."""

    period: Minutes
    arrive: Minutes = 0.0
    show: Minutes = 0.0
    clean: Minutes = 0.0
    leave: Minutes = 0.0

    @model_validator(mode="after")
    def _leaves_time(self) -> Self:
        if self.arrive + self.show + self.clean + self.leave >= self.period:
            raise wrong("the minutes around the work fill the whole period.", "Make the period longer or the others shorter.")
        return self


def _unique(what: str, names: list[str]) -> None:
    for name in names:
        if names.count(name) > 1:
            raise wrong(f"two {what} are called {name}.", "Give each a name of its own.")


def _level_name(name: str) -> str:
    if not re.fullmatch(r"\w[\w -]{0,28}\w|\w", name):
        what = f"“{name[:40]}” can't be a level's name: it stands in the names of files."
        raise wrong(what, "Write up to 30 letters, digits, blanks or hyphens, such as easy.")
    return name


def _thin_line(width: LengthRead) -> LengthRead:
    if width.mm > WIDEST_LINE_MM:
        raise wrong(f"a line of {width.text} is wider than any needle or machine cuts.", f"Write its width, at most {WIDEST_LINE_MM:g} mm.")
    return width


LineWidth = Annotated[Length, AfterValidator(_thin_line)]
LevelName = Annotated[str, AfterValidator(_level_name)]


class Room(Record):
    """The whole file. The first clay, stick and paper are the usual ones."""

    kind: Annotated[Literal["room"], one_of("room")]
    name: Line
    language: Annotated[Literal["en", "es"], one_of("en", "es")] = "en"
    units: Annotated[Literal["mm", "in"], one_of("mm", "in")] = "mm"
    paper: Annotated[tuple[Paper, ...], BeforeValidator(lambda v: [v] if isinstance(v, str) else v), Field(min_length=1)] = ("A4",)
    levels: dict[LevelName, Line] = Field(default_factory=lambda: {"easy": "Easy", "advanced": "Advanced"})
    clays: Annotated[tuple[Clay, ...], Field(min_length=1)]
    sticks: Annotated[tuple[Stick, ...], Field(min_length=1)]
    read_from: Distance | None = None
    stations: tuple[RoomStation, ...] = ()
    minutes: Period | None = None
    printed: Printed | None = None
    needle: LineWidth | None = None  # how wide her needle's line is; stencils are then drawn half of it smaller
    machine_cut: LineWidth | None = None  # the width that her cutting machine burns or cuts away; SVG files are then larger by half
    round_things: tuple[Thing, ...] = ()
    kiln: Kiln | None = None
    racks: Racks = ()
    calendar: Term | None = None
    groups: Groups = ()
    tables: Tables | None = None
    tools: tuple[Tool, ...] = ()
    slab: LargestSlab | None = None
    check: Check | None = None
    copies: Copies | None = None
    buying: Shopping = None
    ware: Text | None = None  # what its finished ware is for, word for word; left out: to look at, and untested
    reading: Limits = Field(default_factory=dict)  # how hard each level's cards may read; English only
    rubric: Marks = ("not yet", "got it", "wow")
    where: dict[str, Text] = Field(default_factory=dict)  # where a stranger finds things

    @model_validator(mode="after")
    def _sound(self) -> Self:
        _unique("clays", [clay.name for clay in self.clays])
        _unique("sticks", [stick.name for stick in self.sticks])
        _unique("stations", [station.name for station in self.stations])
        if not {"easy", "advanced"} <= set(self.levels):
            raise wrong("levels must name easy and advanced.", "Write levels: {easy: New to this, advanced: Done this before}.")
        return self


def assumed_room() -> dict[str, Any]:
    """The room when she has none yet, as plain values: every paper says that these were assumed."""
    return {
        "kind": "room",
        "name": "A clay room",
        "clays": [{"name": "clay", "cone": "6", "shrinkage": "12 %", "highest_cone": "6"}],
        "sticks": [{"name": "sticks", "thick": "8 mm"}],
    }
