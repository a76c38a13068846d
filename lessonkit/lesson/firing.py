"""The kiln, the racks and the calendar of a room; a lesson's dates, and what its clay dries on."""

from __future__ import annotations

from datetime import date
from typing import Annotated, Any, Literal, Self

from pydantic import BeforeValidator, model_validator

from lessonkit.lesson.fields import (
    Date,
    DateRange,
    Days,
    Gap,
    Length,
    Making,
    Minutes,
    Name,
    Record,
    Text,
    Weekdays,
    Whole,
    Window,
    one_of,
    wrong,
)

WARMEST_TO_OPEN_C = 50


class Shelf(Record):
    """One kiln shelf, or the inside of a kiln: round or half round by its width across, or a rectangle."""

    round: Length | None = None
    half_round: Length | None = None
    wide: Length | None = None
    deep: Length | None = None

    @model_validator(mode="after")
    def _one_shape(self) -> Self:
        if (self.wide is None) != (self.deep is None):
            raise wrong("a shelf with corners needs both wide and deep.", "Write {wide: 300 mm, deep: 600 mm}.")
        if sum(size is not None for size in (self.round, self.half_round, self.wide)) != 1:
            raise wrong("a shelf has one shape: round, half_round, or wide and deep.", "Write such as {round: 530 mm}.")
        return self

    @property
    def box_mm(self) -> tuple[float, float]:
        """Width and depth."""
        if self.half_round:
            return self.half_round.mm, self.half_round.mm / 2
        wide, deep = self.round or self.wide, self.round or self.deep
        assert wide is not None
        assert deep is not None
        return wide.mm, deep.mm


class Kiln(Record):
    """The kiln as she measured it. What is left out is assumed, and every plan says what.

    `stack` is the height for shelves and work, from the floor under the lowest shelf to the lid. Gaps are kept between
    pieces, `rim` at the edge of a shelf, `air` above the tallest piece. `bisque_days` is from the day it is started to the day
    it may be unloaded.
    """

    name: Text = "kiln"
    inside: Shelf | None = None
    shelf: Shelf
    beside: Whole | None = None  # shelves side by side at one height; left out: 2 half rounds, else 1
    shelves: Whole | None = None  # how many there are; left out: enough
    stack: Length
    shelf_thick: Length | None = None
    posts: tuple[Length, ...] = ()
    air: Gap | None = None
    raw_gap: Gap | None = None
    glazed_gap: Gap | None = None
    rim: Gap | None = None
    raw_high: Whole = 1  # flat raw pieces that may lie on one another
    starts: Weekdays | None = None
    unloads: Weekdays | None = None
    bisque_days: Days | None = None
    glaze_days: Days | None = None
    bisque_cone: Name | None = None
    preheat: Minutes | None = None
    cooling: Minutes | None = None  # from the end of the firing until it is opened
    opens_below: Whole | None = None  # °C, from its manual

    @model_validator(mode="after")
    def _sound(self) -> Self:
        if self.opens_below is not None and not 20 < self.opens_below <= WARMEST_TO_OPEN_C:
            raise wrong(f"a kiln is opened below {WARMEST_TO_OPEN_C} °C, or cooler if its manual says so.", "Write opens_below: 40, or leave it out.")
        for word in ("beside", "shelves", "raw_high", "bisque_days", "glaze_days"):
            if getattr(self, word) == 0:
                raise wrong(f"{word} is 0.", f"Write {word}: 1 or more, or leave it out.")
        if self.inside and any(size > room for size, room in zip(sorted(self.shelf.box_mm), sorted(self.inside.box_mm), strict=True)):
            raise wrong("the shelf is larger than the inside of the kiln.", "Measure both again, and look at their units.")
        return self


class Rack(Record):
    """Shelves where work dries and waits."""

    name: Text = "rack"
    shelves: Whole
    wide: Length
    deep: Length

    @model_validator(mode="after")
    def _some(self) -> Self:
        if not self.shelves:
            raise wrong("a rack has 1 shelf or more.", "Count its shelves, or leave it out.")
        return self


class Closed(Record):
    """Days on which nobody is in the room."""

    days: DateRange
    why: Text = "closed"


class OwnDrying(Record):
    """How long work up to a thickness dries in this room, from experience."""

    up_to: Length
    days: Days


def _plain_days(value: Any) -> Any:
    return {"days": value} if isinstance(value, str) else value


def _one_or_more(value: Any) -> Any:
    """One table stands for a list of one."""
    return [value] if isinstance(value, dict) else value


class Term(Record):
    """When there are classes. `sessions` are the weekdays with classes; public holidays of the country are closed unless in `open`."""

    country: Name | None = None  # its two letters, such as US
    region: Name | None = None  # its holidays, such as TX
    term: DateRange | None = None
    closed: tuple[Annotated[Closed, BeforeValidator(_plain_days)], ...] = ()
    open: tuple[DateRange, ...] = ()
    sessions: Weekdays | None = None
    humid: tuple[DateRange, ...] = ()  # when clay dries slowly
    dry_days: tuple[OwnDrying, ...] = ()
    wrap_days: Days = 0

    @model_validator(mode="after")
    def _country_of_region(self) -> Self:
        if self.region and not self.country:
            raise wrong("a region needs its country.", "Add country: US.")
        return self


class Dates(Record):
    """When this lesson is made, painted and given. What is left out is the room's.

    `make` is the day of its last clay work, or how long making takes when the day is counted back from `in_hands`. `paint: none`
    means one firing only.
    """

    make: Making | None = None
    in_hands: Date | None = None
    paint: Window | None = None
    dry: Days | None = None
    bisque: Days | None = None
    glaze: Days | None = None
    wrap: Days | None = None

    @model_validator(mode="after")
    def _forwards(self) -> Self:
        if isinstance(self.make, date) and self.in_hands and self.make >= self.in_hands:
            raise wrong(f"it is in hands on {self.in_hands}, before it is made on {self.make}.", "Look at the two dates.")
        return self


class Support(Record):
    """What the clay dries on, and for what one of it is needed."""

    on: Text
    each: Annotated[Literal["piece", "person"], one_of("piece", "person")] = "piece"


DriesOn = Annotated[Support, BeforeValidator(lambda value: {"on": value} if isinstance(value, str) else value)]
Racks = Annotated[tuple[Rack, ...], BeforeValidator(_one_or_more)]
