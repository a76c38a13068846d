"""A term: each group makes one project while it paints the one before; and whether the kiln has days for all of it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from lessonkit.lesson.classroom import Group
from lessonkit.lesson.days import DateRange
from lessonkit.planning.calendar import Lead, fired_from, forwards, handed_out
from lessonkit.planning.groups import comes
from lessonkit.planning.room_days import DAY, RoomDays, days_between


@dataclass(frozen=True, slots=True)
class Project:
    """One lesson in a term, in the order in which they are taught. `in_hands` is the day it is wanted by, if any."""

    name: str
    lead: Lead
    in_hands: date | None = None


@dataclass(frozen=True, slots=True)
class Session:
    """One class: what is made and what is painted in it; empty where nothing is."""

    day: date
    make: str = ""
    paint: str = ""


@dataclass(frozen=True, slots=True)
class Week:
    """A group's week, from Monday. `closed` says why there is no class, where there would have been one."""

    monday: date
    sessions: tuple[Session, ...]
    closed: str = ""


@dataclass(frozen=True, slots=True)
class Late:
    project: str
    ready: date
    days: int


@dataclass(frozen=True, slots=True)
class TermRow:
    """One group's term. `left_out` are the projects that cannot be finished in it; `late` those that come after their day."""

    group: Group
    weeks: tuple[Week, ...]
    left_out: tuple[str, ...]
    late: tuple[Late, ...]


@dataclass(frozen=True, slots=True)
class Grid:
    """Group by week. `mondays` are the weeks of all rows."""

    mondays: tuple[date, ...]
    rows: tuple[TermRow, ...]
    assumptions: tuple[str, ...]


def term_grid(groups: Sequence[Group], projects: Sequence[Project], days: RoomDays, term: DateRange) -> Grid:
    """Who makes and paints what in which week.

    A project is begun at each class until it would no longer be finished in the term; it is painted at the group's first class after its bisque
    is unloaded, one project at a time. Kilns are not shared out here: see `firings_that_fit`.
    """
    mondays = tuple(day for day in days_between(term.first - DAY * term.first.weekday(), term.last) if not day.weekday())
    rows = tuple(_row(group, projects, days, term, mondays) for group in groups)
    said = (
        "a class may make one project and paint another; a project that takes several classes has them one after the other",
        "a project is left out rather than dried for fewer days",
    )
    return Grid(mondays, rows, said)


def _row(group: Group, projects: Sequence[Project], days: RoomDays, term: DateRange, mondays: Sequence[date]) -> TermRow:
    classes = [day for day in days_between(term.first, term.last) if comes(group, day, days)]
    for count in range(len(projects), -1, -1):
        made, painted, ready = _taught(projects[:count], classes, days)
        if len(ready) == count and all(day <= term.last for day in ready):
            break
    late = [
        Late(project.name, day, (day - project.in_hands).days)
        for project, day in zip(projects, ready, strict=False)
        if project.in_hands and day > project.in_hands
    ]
    weeks = tuple(_week(monday, group, classes, made, painted, days, term) for monday in mondays)
    return TermRow(group, weeks, tuple(project.name for project in projects[count:]), tuple(late))


def _taught(projects: Sequence[Project], classes: Sequence[date], days: RoomDays) -> tuple[dict[date, str], dict[date, str], list[date]]:
    """What is made and painted at which class, and the day each project is ready; as many as the classes are enough for."""
    made: dict[date, str] = {}
    painted: dict[date, str] = {}
    ready: list[date] = []
    making = painting = 0
    for project in projects:
        lead = project.lead
        making += lead.make.days or lead.make.weeks
        if making > len(classes):
            break
        for day in classes[making - (lead.make.days or lead.make.weeks) : making]:
            made[day] = project.name
        way = forwards(lead, days, classes[making - 1])
        if not lead.is_painted:
            ready.append(way.in_hands)
            continue
        unloaded = max(stage.last for stage in way.stages if stage.kind == "bisque")
        painting = max(painting, next((index for index, day in enumerate(classes) if day > unloaded), len(classes)))
        sessions = lead.paint.days or lead.paint.weeks
        if painting + sessions > len(classes):
            break
        for day in classes[painting : painting + sessions]:
            painted[day] = project.name
        painting += sessions
        ready.append(_ready(lead, classes[painting - 1], days))
    return made, painted, ready


def _ready(lead: Lead, painted: date, days: RoomDays) -> date:
    """The day in hands of what was painted last on a day."""
    unloaded, _ = fired_from(painted, "glaze", lead.glaze_days, lead.glaze_loads, lead, days)
    return handed_out(unloaded, lead, days)[-1].first


def _week(
    monday: date, group: Group, classes: Sequence[date], made: dict[date, str], painted: dict[date, str], days: RoomDays, term: DateRange
) -> Week:
    here = [day for day in days_between(monday, monday + DAY * 6) if day in term]
    sessions = tuple(Session(day, made.get(day, ""), painted.get(day, "")) for day in here if day in classes)
    usual = [day for day in here if day.weekday() in (group.day or days.sessions)]
    reasons = dict.fromkeys(why for day in usual if (why := days.why_closed(day)))
    return Week(monday, sessions, "; ".join(reasons))


@dataclass(frozen=True, slots=True)
class Firings:
    """`wanted` firings and how many of them end in the term, one after another in one kiln."""

    wanted: int
    fit: int

    @property
    def holds(self) -> bool:
        return self.fit >= self.wanted


def firings_that_fit(lead: Lead, bisque: int, glaze: int, days: RoomDays, term: DateRange) -> Firings:
    """Whether the calendar holds so many bisque and glaze firings: each is started as soon as the last is unloaded."""
    day, fit = term.first, 0
    for length in (*[lead.bisque_days] * bisque, *[lead.glaze_days] * glaze):
        start = next((d for d in days_between(day, term.last) if d.weekday() in lead.starts and days.is_open(d)), term.last)
        unload = next((d for d in days_between(start + DAY * length, term.last) if d.weekday() in lead.unloads and days.is_open(d)), None)
        if unload is None:
            break
        day, fit = unload, fit + 1
    return Firings(bisque + glaze, fit)
