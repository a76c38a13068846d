"""From the class to the day the work is in hands, and back. Whole days; nothing looks at the clock, and drying is never shortened.

A kiln is unloaded during a day, and work by hand begins on the next open day; the next firing may be started on the evening of the last
day of that work; work is in hands on the first open day after it is wrapped, or on the day it is unloaded if it is not wrapped.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Literal

from lessonkit.clay.drying import HUMID_FACTOR
from lessonkit.lesson.days import EVERY_DAY, Window
from lessonkit.planning.faults import PlanError
from lessonkit.planning.room_days import DAY, RoomDays, days_between, searched

Kind = Literal["make", "cover", "turn", "uncover", "dry", "bisque", "paint", "glaze", "wrap", "in hands"]

ONE_DAY = Window(days=1)


@dataclass(frozen=True, slots=True)
class Lead:
    """How long each stage takes. A firing's days are from starting the kiln to unloading it. `paint` of no days: one firing only.

    `bisque_loads` and `glaze_loads` are fired one after another in one kiln.
    """

    dry_days: int
    turn_day: int = 1
    uncover_day: int = 1
    bisque_days: int = 2
    glaze_days: int = 2
    paint: Window = ONE_DAY
    make: Window = ONE_DAY
    wrap_days: int = 0
    starts: tuple[int, ...] = EVERY_DAY
    unloads: tuple[int, ...] = EVERY_DAY
    bisque_loads: int = 1
    glaze_loads: int = 1
    joined: bool = False  # with seams, which dry slowly however thin
    own_drying: tuple[tuple[float, int], ...] = ()  # the room's own: up to so many mm, so many days

    @property
    def is_painted(self) -> bool:
        return bool(self.paint.days or self.paint.weeks)

    @property
    def days_inside(self) -> int:
        """Days from making to hand-out with no day lost: how long a piece needs a place in the room."""
        firings = self.bisque_days * self.bisque_loads + self.glaze_days * self.glaze_loads * self.is_painted
        return self.dry_days + firings + self.paint.days + 7 * self.paint.weeks + self.wrap_days


@dataclass(frozen=True, slots=True)
class Stage:
    """One stretch of the way; a firing's first day is its start, its last the day it is unloaded. `load` numbers firings."""

    kind: Kind
    first: date
    last: date
    load: int = 1


@dataclass(frozen=True, slots=True)
class Schedule:
    """The stages in the order of their days."""

    stages: tuple[Stage, ...]

    def of(self, kind: Kind) -> Stage:
        """The stage of that kind (the first of several firings); KeyError if there is none."""
        for stage in self.stages:
            if stage.kind == kind:
                return stage
        raise KeyError(kind)

    @property
    def first_make(self) -> date:
        return self.of("make").first

    @property
    def last_make(self) -> date:
        return self.of("make").last

    @property
    def in_hands(self) -> date:
        return self.of("in hands").first


# --- from the class onwards ---


def forwards(lead: Lead, days: RoomDays, made: date) -> Schedule:
    """The earliest way of work whose clay is done on `made`. PlanError where the room is closed on that day, or a stage finds no day."""
    if why := days.why_closed(made):
        what = f"the room is closed on {made}." if why == "closed" else f"the room is closed on {made}: {why}."
        raise PlanError(what, "Make it on another day, or list the day under open in the calendar.")
    dry = _dry_after(lead, days, made)
    stages = [Stage("make", *_made_in(lead, days, made)), *drying_stages(lead, days, made, dry)]
    last, fired = fired_from(dry, "bisque", lead.bisque_days, lead.bisque_loads, lead, days)
    stages += fired
    if lead.is_painted:
        paint = _work_from(last + DAY, lead.paint, days)
        last, fired = fired_from(paint[1], "glaze", lead.glaze_days, lead.glaze_loads, lead, days)
        stages += [Stage("paint", *paint), *fired]
    return Schedule((*stages, *handed_out(last, lead, days)))


def handed_out(unloaded: date, lead: Lead, days: RoomDays) -> tuple[Stage, ...]:
    """Wrapping, if there is any, and the day in hands."""
    if not lead.wrap_days:
        return (Stage("in hands", unloaded, unloaded),)
    wrap = _work_from(unloaded + DAY, Window(days=lead.wrap_days), days)
    hands = next(day for day in searched(wrap[1] + DAY, 1) if days.is_open(day))
    return Stage("wrap", *wrap), Stage("in hands", hands, hands)


def _dry_after(lead: Lead, days: RoomDays, made: date) -> date:
    """The first day on which it is dry: each day counts one, a humid one less."""
    if not lead.dry_days:
        return made
    dried = 0.0
    for day in searched(made + DAY, 1):
        dried += _dries(days, day)
        if dried >= lead.dry_days - 1e-9:
            return day
    raise AssertionError  # searched never ends without a fault


def _dries(days: RoomDays, day: date) -> float:
    return 1 / HUMID_FACTOR if days.humid(day) else 1.0


def dried_days(days: RoomDays, made: date, start: date) -> float:
    """Drying days from the day of making to the start of a firing, a humid day counting less; 0 if it starts before."""
    return sum(_dries(days, day) for day in days_between(made + DAY, start))


def fired_from(day: date, kind: Kind, fired_days: int, loads: int, lead: Lead, days: RoomDays) -> tuple[date, list[Stage]]:
    """Firings one after another from a day onwards: when the last is unloaded, and each."""
    stages = []
    for load in range(1, loads + 1):
        start = next(d for d in searched(day, 1) if d.weekday() in lead.starts and days.is_open(d))
        day = next(d for d in searched(start + DAY * fired_days, 1) if d.weekday() in lead.unloads and days.is_open(d))
        stages.append(Stage(kind, start, day, load))
    return day, stages


def _work_from(day: date, window: Window, days: RoomDays) -> tuple[date, date]:
    """The first stretch of work that begins on a day or later."""
    if window.weeks:
        weeks = (week for monday in searched(day - DAY * day.weekday(), 1) if not monday.weekday() and (week := _week(monday, window, days)))
        first = next(week for week in weeks if week[0] >= day)
        last = first
        for _ in range(window.weeks - 1):
            last = next(weeks)
        return first[0], last[-1]
    work = (d for d in searched(day, 1) if days.has_class(d) and d.weekday() in window.weekdays)
    done = [next(work) for _ in range(window.days)]
    return done[0], done[-1]


def _week(monday: date, window: Window, days: RoomDays) -> list[date]:
    return [day for weekday in window.weekdays if days.has_class(day := monday + DAY * weekday)]


# --- from the day in hands backwards ---


def backwards(lead: Lead, days: RoomDays, in_hands: date) -> Schedule:
    """The latest way that has the work in hands by a day: each stage as late as it may be.

    Where the room is closed on that day, it is handed out on the last open day before. PlanError where a stage finds no day.
    """
    latest = next(day for day in searched(in_hands, -1) if days.is_open(day))
    stages = [Stage("in hands", latest, latest)]
    if lead.wrap_days:
        wrap = _work_until(latest - DAY, Window(days=lead.wrap_days), days)
        stages.append(Stage("wrap", *wrap))
        latest = wrap[0] - DAY
    if lead.is_painted:
        start, fired = _fired_until(latest, "glaze", lead.glaze_days, lead.glaze_loads, lead, days)
        paint = _work_until(start, lead.paint, days)
        stages += [*fired, Stage("paint", *paint)]
        latest = paint[0] - DAY
    start, fired = _fired_until(latest, "bisque", lead.bisque_days, lead.bisque_loads, lead, days)
    make = _work_until(_made_by(lead, days, start), lead.make, days)
    stages += [*fired, *drying_stages(lead, days, make[1], start)[::-1], Stage("make", *make)]
    return Schedule(tuple(stages[::-1]))


def _fired_until(day: date, kind: Kind, fired_days: int, loads: int, lead: Lead, days: RoomDays) -> tuple[date, list[Stage]]:
    stages = []
    for load in range(loads, 0, -1):
        unload = next(d for d in searched(day, -1) if d.weekday() in lead.unloads and days.is_open(d))
        day = next(d for d in searched(unload - DAY * fired_days, -1) if d.weekday() in lead.starts and days.is_open(d))
        stages.append(Stage(kind, day, unload, load))
    return day, stages


def _work_until(day: date, window: Window, days: RoomDays) -> tuple[date, date]:
    """The last stretch of work that ends on a day or earlier."""
    if window.weeks:
        weeks = (week for monday in searched(day - DAY * day.weekday(), -1) if not monday.weekday() and (week := _week(monday, window, days)))
        last = next(week for week in weeks if week[-1] <= day)
        first = last
        for _ in range(window.weeks - 1):
            first = next(weeks)
        return first[0], last[-1]
    work = (d for d in searched(day, -1) if days.has_class(d) and d.weekday() in window.weekdays)
    done = [next(work) for _ in range(window.days)]
    return done[-1], done[0]


def _made_by(lead: Lead, days: RoomDays, start: date) -> date:
    """The last day from which it is dry when the kiln is started."""
    if not lead.dry_days:
        return start
    dried = 0.0
    for day in searched(start, -1):
        dried += _dries(days, day)
        if dried >= lead.dry_days - 1e-9:
            return day - DAY
    raise AssertionError  # searched never ends without a fault


def _made_in(lead: Lead, days: RoomDays, made: date) -> tuple[date, date]:
    """The days of making that end on `made`; that day alone where such a stretch would end before it."""
    stretch = _work_until(made, lead.make, days)
    return stretch if stretch[1] == made else (made, made)


def drying_stages(lead: Lead, days: RoomDays, made: date, dry: date) -> list[Stage]:
    """Drying up to the day it is loaded, and what is done to it: covered at once, turned and uncovered on a class day that is not too early."""
    stages = [Stage("cover", made, made), Stage("dry", made, dry)]
    kinds: tuple[tuple[Kind, int], ...] = (("turn", lead.turn_day), ("uncover", lead.uncover_day))
    for kind, count in kinds:
        day = next((d for d in days_between(made + DAY * count, dry - DAY) if days.has_class(d)), None)
        if day:
            stages.append(Stage(kind, day, day))
    return stages
