"""The room: clays, sticks, paper, stations, minutes. What is true of every lesson taught in it."""

from __future__ import annotations

from typing import Annotated, Any, Literal, Self

from pydantic import BeforeValidator, Field, model_validator

from lessonkit.lesson.fields import Density, Length, Minutes, Name, Paper, Percent, Record, Text, Whole, one_of, wrong


class Clay(Record):
    """A clay with its total linear shrinkage (wet to fired, of the wet length) and the cone it was measured at.

    `density` is of wet clay, 1.95 g/cm³ unless measured (water 19.5 to 22.5 % of the damp weight: common practice).
    """

    name: Name
    cone: Name
    shrinkage: Percent
    other_cones: dict[str, Percent] = Field(default_factory=dict)  # the same clay's shrinkage, fired to another cone
    highest_cone: Name
    density: Density = 1.95


class Stick(Record):
    """A pair of sticks that sets the slab's thickness."""

    name: Name
    thick: Length


class RoomStation(Record):
    name: Name
    places: Whole
    read_from: Length | None = None  # how far off its sign must be read; left out, the room's


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


class Room(Record):
    """The whole file. The first clay, stick and paper are the usual ones."""

    kind: Annotated[Literal["room"], one_of("room")]
    name: Text
    language: Annotated[Literal["en"], one_of("en")] = "en"
    units: Annotated[Literal["mm", "in"], one_of("mm", "in")] = "mm"
    paper: Annotated[tuple[Paper, ...], BeforeValidator(lambda v: [v] if isinstance(v, str) else v), Field(min_length=1)] = ("A4",)
    levels: dict[str, Text] = Field(default_factory=lambda: {"easy": "Easy", "advanced": "Advanced"})
    clays: Annotated[tuple[Clay, ...], Field(min_length=1)]
    sticks: Annotated[tuple[Stick, ...], Field(min_length=1)]
    read_from: Length | None = None
    stations: tuple[RoomStation, ...] = ()
    minutes: Period | None = None

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
