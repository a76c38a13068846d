"""Is it in time? How late, what would be in time, and what somebody who was absent can still do. Drying is never shortened."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Literal

from lessonkit.clay.drying import thickest_dry_mm
from lessonkit.planning.calendar import Lead, Schedule, backwards, dried_days, forwards
from lessonkit.planning.room_days import RoomDays, days_between


@dataclass(frozen=True, slots=True)
class Lateness:
    """What making on a day means for the day in hands. `days_late` is 0 if it is in time; `last_make` is the last day that would be.

    `drying_days` lie between making and the last firing in time; `thickest_mm` is what is dry by then (None: nothing is).
    """

    days_late: int
    ready: date
    last_make: date
    drying_days: float
    thickest_mm: float | None


def lateness(lead: Lead, days: RoomDays, made: date, in_hands: date) -> Lateness:
    """How late work made on a day is, and what would be in time. PlanError as `forwards` and `backwards`."""
    ready = forwards(lead, days, made).in_hands
    latest = backwards(lead, days, in_hands)
    dried = dried_days(days, made, latest.of("bisque").first)
    return Lateness(max((ready - in_hands).days, 0), ready, latest.last_make, dried, thickest_dry_mm(dried, lead.joined, lead.own_drying))


@dataclass(frozen=True, slots=True)
class CatchUp:
    """What somebody who was absent can still do on a day, with the drying days that are left before the last firing in time."""

    day: date
    drying_days: float
    can: Literal["make it", "make it thinner", "paint a spare", "watch"]
    thickest_mm: float | None


def catch_up(lead: Lead, days: RoomDays, latest: Schedule, first: date) -> tuple[CatchUp, ...]:
    """For each class day from `first` to the end of painting: what can still be made and be in hands with the others.

    `latest` is the schedule that the group follows. Whoever is too late for anything that dries in time paints a spare bisque tile
    while there is painting (common practice).
    """
    start = latest.of("bisque").first
    end = latest.of("paint").last if lead.is_painted else start
    return tuple(_on(day, lead, days, start) for day in days_between(first, end) if days.has_class(day))


def _on(day: date, lead: Lead, days: RoomDays, start: date) -> CatchUp:
    dried = dried_days(days, day, start)
    thickest = thickest_dry_mm(dried, lead.joined, lead.own_drying)
    if dried >= lead.dry_days - 1e-9 and day <= start:
        return CatchUp(day, dried, "make it", thickest)
    if thickest is not None:
        return CatchUp(day, dried, "make it thinner", thickest)
    return CatchUp(day, dried, "paint a spare" if lead.is_painted else "watch", None)
