"""The groups that come on their own weekdays, and their own way through a lesson's common schedule."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from lessonkit.lesson.classroom import Group
from lessonkit.planning.calendar import Lead, Schedule, Stage, drying_stages
from lessonkit.planning.room_days import DAY, RoomDays, days_between, searched


def comes(group: Group, day: date, days: RoomDays) -> bool:
    """Whether the group has a class on a day; one without a weekday may come on any class day."""
    return days.has_class(day) and (not group.day or day.weekday() in group.day)


@dataclass(frozen=True, slots=True)
class GroupWay:
    """A group's own days of making and painting in a schedule, its kiln days those of all; `notes` say what does not work out."""

    group: Group
    lesson: str
    schedule: Schedule
    pieces: int
    notes: tuple[str, ...] = ()


def group_way(group: Group, lesson: str, common: Schedule, lead: Lead, days: RoomDays, pieces: int) -> GroupWay:
    """The group makes on its last class day up to the common one, and paints on its own days in the common stretch."""
    made = next(day for day in searched(common.last_make, -1) if comes(group, day, days))
    first = next((day for day in days_between(common.first_make, made) if comes(group, day, days)), made)
    dry = next(stage for stage in common.stages if stage.kind == "dry").last
    stages = [Stage("make", first, made), *drying_stages(lead, days, made, dry)]
    notes: list[str] = []
    for stage in common.stages:
        if stage.kind in ("bisque", "glaze", "wrap", "in hands"):
            stages.append(stage)
        elif stage.kind == "paint":
            own = [day for day in days_between(stage.first, stage.last) if comes(group, day, days)]
            if own:
                stages.append(Stage("paint", own[0], own[-1]))
            else:
                notes.append(f"{group.tag} has no class in the days of painting, {stage.first} to {stage.last}: find it another hour.")
    if made + DAY * 14 < common.last_make:
        notes.append(f"{group.tag} has no class in the two weeks up to {common.last_make}.")
    return GroupWay(group, lesson, Schedule(tuple(stages)), pieces, tuple(notes))


