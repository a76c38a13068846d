"""The calendar's part of a plan as plain values for JSON and papers. Dates are year-month-day; nothing is taken from the clock.

PlanError, FiringError and GeometryError say what cannot be, each with `what` and `hint`.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

from lessonkit.lesson.classroom import Group
from lessonkit.lesson.days import DateRange
from lessonkit.lesson.firing import Dates, Term
from lessonkit.pieces.model import Kit
from lessonkit.planning.calendar import Schedule, Stage, backwards, forwards
from lessonkit.planning.faults import PlanError
from lessonkit.planning.groups import GroupWay, group_way
from lessonkit.planning.ics import calendar_file
from lessonkit.planning.in_time import CatchUp, Lateness, catch_up, lateness
from lessonkit.planning.jobs import Job, all_jobs, jobs_on
from lessonkit.planning.kiln_plan import all_standing, loads_needed
from lessonkit.planning.log import OwnFigures
from lessonkit.planning.room_days import DAY, RoomDays
from lessonkit.planning.term import Grid, Project, TermRow, firings_that_fit, term_grid
from lessonkit.planning.way import Way, way_of
from lessonkit.units import lengths_shown

Json = dict[str, Any]


@dataclass(frozen=True, slots=True)
class Dated:
    """A lesson with its days. `earliest` is from the day of making, `latest` from the day in hands; groups follow the latest one that is
    in time, else the earliest. None where the lesson has no such date."""

    kit: Kit
    way: Way
    days: RoomDays
    earliest: Schedule | None
    latest: Schedule | None
    late: Lateness | None
    ways: tuple[GroupWay, ...]

    @property
    def followed(self) -> Schedule | None:
        return self.earliest if self.latest is None or (self.late and self.late.days_late) else self.latest


def dated(kit: Kit, groups: Sequence[Group], own: OwnFigures | None = None) -> Dated:
    """A lesson's days in its room, and each group's."""
    dates, days = kit.lesson.dates or Dates(), RoomDays(kit.room.calendar or Term())
    way = way_of(kit, *loads_needed(kit, groups), own)
    made = dates.make if isinstance(dates.make, date) else None
    earliest = forwards(way.lead, days, made) if made else None
    latest = backwards(way.lead, days, dates.in_hands) if dates.in_hands else None
    late = lateness(way.lead, days, made, dates.in_hands) if made and dates.in_hands else None
    found = Dated(kit, way, days, earliest, latest, late, ())
    common = found.followed
    if common is None:
        return found
    ways = tuple(
        group_way(group, kit.lesson.title, common, way.lead, days, sum(kind.count for kind in all_standing([kit], [group]))) for group in groups
    )
    return Dated(kit, way, days, earliest, latest, late, ways)


def calendar_plan(plan: Dated) -> Json:
    """The days of one lesson: both ways of counting, how late, who was absent, each group's own days."""
    dates = plan.kit.lesson.dates or Dates()
    common = plan.followed
    warnings = [note for way in plan.ways for note in way.notes]
    if plan.late and plan.late.days_late:
        warnings.insert(0, lengths_shown(late_words(plan.late), plan.kit.room.units))
    return {
        "earliest": _schedule(plan.earliest),
        "latest": _schedule(plan.latest),
        "late": _late(plan.late) if plan.late else None,
        "groups": [{"group": way.group.tag, "pieces": way.pieces, "stages": _stages(way.schedule)} for way in plan.ways],
        "absent": [_catch_up(day) for day in catch_up(plan.way.lead, plan.days, common, common.last_make + DAY)] if common else [],
        "special_days": [
            {"day": day.isoformat(), "name": name} for day, name in plan.days.special_days(common.first_make, common.in_hands + DAY * 7)
        ] if common else [],
        "warnings": [*warnings, *plan.way.warnings],
        "assumptions": [
            *([] if dates.make or dates.in_hands else ["the lesson has no dates: add dates: {make: 2027-04-09} or dates: {in_hands: 2027-05-07}"]),
            *plan.way.assumptions,
            *plan.days.assumptions,
            "painting begins the day after the kiln is unloaded, and a kiln may be started on the evening of the last painting day",
        ],
    }  # fmt: skip


def late_words(late: Lateness) -> str:
    """How late, and what would be in time."""
    thinner = f" Work up to {late.thickest_mm:.0f} mm thick would be dry in time." if late.thickest_mm else ""
    days = f"{late.days_late} day{'s' * (late.days_late > 1)}"
    return f"{days} late; last making day {late.last_make.isoformat()}.{thinner} Drying is not shortened."


def today_plan(plans: Sequence[Dated], day: date) -> Json:
    """What is to be done on a day, by lesson and tags."""
    jobs = jobs_on(day, [way for plan in plans for way in plan.ways])
    closed = plans[0].days.why_closed(day) if plans else ""
    return {"day": day.isoformat(), "closed": closed or None, "jobs": [_job(job) for job in jobs]}


def calendar_bytes(plans: Sequence[Dated], name: str) -> bytes:
    """The calendar file of these lessons."""
    return calendar_file(name, all_jobs([way for plan in plans for way in plan.ways]))


def term_plan(kits: Sequence[Kit], groups: Sequence[Group], term: DateRange | None = None) -> Json:
    """These lessons, in their order, over a term: a grid of group by week, and whether the kiln's days are enough.

    PlanError where neither `term` nor the room's calendar says when it begins and ends.
    """
    room = kits[0].room
    term = term or (room.calendar.term if room.calendar else None)
    if term is None:
        raise PlanError("the room's calendar has no term.", "Add to its calendar: term: 2027-01-05 to 2027-06-18.")
    days = RoomDays(room.calendar or Term())
    ways = [way_of(kit) for kit in kits]
    grid = term_grid(groups, [_project(kit, way) for kit, way in zip(kits, ways, strict=True)], days, term)
    loads = [loads_needed(kit, groups) for kit in kits]
    wanted = sum(bisque for bisque, _ in loads), sum(glaze for (_, glaze), way in zip(loads, ways, strict=True) if way.glaze)
    firings = firings_that_fit(ways[0].lead, *wanted, days, term)
    return {
        "weeks": [monday.isoformat() for monday in grid.mondays],
        "groups": [_row(row) for row in grid.rows],
        "firings": {"bisque": wanted[0], "glaze": wanted[1], "fit": firings.fit, "enough": firings.holds},
        "warnings": _term_warnings(grid, firings.wanted, firings.fit),
        "assumptions": [
            "each lesson is fired in loads of its own, with all groups",
            *grid.assumptions,
            *days.assumptions,
            *dict.fromkeys(line for way in ways for line in way.assumptions),
        ],
    }


def _project(kit: Kit, way: Way) -> Project:
    return Project(kit.lesson.title, way.lead, kit.lesson.dates.in_hands if kit.lesson.dates else None)


def _term_warnings(grid: Grid, wanted: int, fit: int) -> list[str]:
    said = [f"{row.group.tag}: {name} cannot be finished in the term." for row in grid.rows for name in row.left_out]
    said += [f"{row.group.tag}: {late.project} is ready {late.days} days late, on {late.ready}." for row in grid.rows for late in row.late]
    if fit < wanted:
        said.append(f"The kiln has days for {fit} of {wanted} firings: share loads, or leave a lesson out.")
    return said


def _row(row: TermRow) -> Json:
    weeks = [
        {
            "monday": week.monday.isoformat(),
            "classes": [{"day": s.day.isoformat(), "make": s.make or None, "paint": s.paint or None} for s in week.sessions],
            "closed": week.closed or None,
        }
        for week in row.weeks
    ]
    late = [{"lesson": late.project, "ready": late.ready.isoformat(), "days": late.days} for late in row.late]
    return {"group": row.group.tag, "weeks": weeks, "left_out": list(row.left_out), "late": late}


def _schedule(schedule: Schedule | None) -> Json | None:
    if schedule is None:
        return None
    return {
        "first_make": schedule.first_make.isoformat(),
        "last_make": schedule.last_make.isoformat(),
        "in_hands": schedule.in_hands.isoformat(),
        "stages": _stages(schedule),
    }


def _stages(schedule: Schedule) -> list[Json]:
    return [_stage(stage) for stage in schedule.stages]


def _stage(stage: Stage) -> Json:
    return {"stage": stage.kind, "first": stage.first.isoformat(), "last": stage.last.isoformat(), "load": stage.load}


def _late(late: Lateness) -> Json:
    return {
        "days_late": late.days_late,
        "ready": late.ready.isoformat(),
        "last_make": late.last_make.isoformat(),
        "drying_days": round(late.drying_days, 1),
        "thickest_mm": late.thickest_mm and round(late.thickest_mm, 1),
    }


def _catch_up(day: CatchUp) -> Json:
    return {
        "day": day.day.isoformat(),
        "drying_days": round(day.drying_days, 1),
        "can": day.can,
        "thickest_mm": day.thickest_mm and round(day.thickest_mm, 1),
    }


def _job(job: Job) -> Json:
    return {
        "do": job.do,
        "says": job.says,
        "lesson": job.lesson,
        "groups": list(job.tags),
        "pieces": job.pieces,
        "load": job.load,
        "first": job.first.isoformat(),
        "last": job.last.isoformat(),
    }
