"""Queues and turns that can be summed by hand: all come at once, and everybody takes equally long. Minutes."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from lessonkit.planning.counting import down, need_amount, need_people, need_places, up, without
from lessonkit.planning.faults import PlanError
from lessonkit.units import show_minutes

Kind = Literal["station", "tool"]


@dataclass(frozen=True, slots=True)
class Queue:
    """People who all come at once to a place for `places` at a time. `last_served_min` is when the last is done, after waiting
    `longest_wait_min`. Of the people, `seen` are done within `time_min` and `waiting` are not; all three None without a time."""

    people: int
    places: int
    each_min: float
    last_served_min: float
    longest_wait_min: float
    time_min: float | None = None
    seen: int | None = None
    waiting: int | None = None


def queue(people: float, each_min: float, places: float = 1, time_min: float | None = None) -> Queue:
    """28 people at a check of 45 s: the last is served at 21:00 after 20:15 of waiting; in 15 minutes 20 are seen and 8 wait.

    PlanError for 0 people or places, a part of one, or for no minutes.
    """
    count, at_once = need_people(people), need_places(places)
    need_amount(each_min, "the time for one person")
    if time_min is not None and time_min < 0:
        raise PlanError(f"there are {show_minutes(time_min)} minutes left.", "Write 0 or more.")
    rounds = up(count / at_once)
    seen = None if time_min is None else min(count, down(time_min / each_min) * at_once)
    waiting = None if seen is None else count - seen
    return Queue(count, at_once, each_min, rounds * each_min, (rounds - 1) * each_min, time_min, seen, waiting)


@dataclass(frozen=True, slots=True)
class Turns:
    """A tool or station that fewer can use at once than need it: `turns` of `each_min` one after the other against the minutes there
    are. `without` have no place in the first turn. `fits` is None where nobody said how much time there is."""

    kind: Kind
    name: str
    people: int
    places: int
    without: int
    turns: int
    each_min: float
    takes_min: float
    time_min: float | None
    fits: bool | None

    def __str__(self) -> str:
        what = f"{self.people} people, {self.places} {self.name} place{'s' * (self.places != 1)}"
        if self.kind == "tool":
            what = f"{self.name}: {self.people} needed, {self.places} there"
        taking = f"{self.turns} turn{'s' * (self.turns != 1)} of {show_minutes(self.each_min)} min: {show_minutes(self.takes_min)} min"
        has = "" if self.time_min is None else show_minutes(self.time_min)
        against = "" if self.time_min is None else f" of {has}" if self.fits else f", and there are {has}: it is a queue"
        return f"{what}: {self.without} without. {taking}{against}."


def turns(name: str, people: float, places: float, each_min: float, time_min: float | None = None, kind: Kind = "station") -> Turns:
    """People divided by places, rounded up, times the minutes (common practice). PlanError as `queue`; 0 minutes take none."""
    count, at_once = need_people(people), need_places(places, name)
    number = up(count / at_once)
    takes = number * each_min
    fits = None if time_min is None else takes <= time_min + 1e-9
    return Turns(kind, name, count, at_once, without(count, at_once), number, each_min, takes, time_min, fits)


@dataclass(frozen=True, slots=True)
class Rotation:
    """Groups that change stations on one sound, each group once at each. `rounds` is the table to post: for every round, the group
    (from 1) at each station in order, 0 where none is."""

    stations: tuple[str, ...]
    groups: int
    slot_min: float
    at_work_min: float
    rounds: tuple[tuple[int, ...], ...]


def rotation(stations: tuple[str, ...], time_min: float, groups: int | None = None, moving_min: float = 1.0) -> Rotation:
    """Four stations in 30 minutes are 7.5 each, 6.5 of it at work if moving takes 1 (for work that may be done in any order).

    `groups` left out: as many as stations; more than that need more rounds than there is time for. PlanError for no stations,
    more groups than stations, or a slot that moving fills.
    """
    count = need_places(len(stations), "a rotation")
    teams = need_people(count if groups is None else groups)
    if teams > count:
        raise PlanError(f"{teams} groups cannot go round {count} stations.", "Put two groups together, or add a station.")
    slot = need_amount(time_min, "the time for all stations") / count
    if slot <= moving_min:
        what = f"each of {count} stations has {show_minutes(slot)} min, and moving takes {show_minutes(moving_min)}."
        raise PlanError(what, "Use fewer stations, or two classes.")
    numbers = [*range(1, teams + 1), *[0] * (count - teams)]
    rounds = tuple(tuple(numbers[(station - turn) % count] for station in range(count)) for turn in range(count))
    return Rotation(stations, teams, slot, slot - moving_min, rounds)
