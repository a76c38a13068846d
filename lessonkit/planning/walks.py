"""The class as walkers: who sits at which table, and the steps and stations on everybody's way."""

from __future__ import annotations

from collections.abc import Iterable

from lessonkit.lesson.classroom import Check, Group, Tables
from lessonkit.pieces.model import Kit, Step
from lessonkit.planning.running import Stage, Walker


def check_of(kit: Kit) -> Check:
    return kit.room.check or Check()


def same(name: str, other: str) -> bool:
    return name.casefold() == other.casefold()


def places_at(kit: Kit, station: str) -> int | None:
    """How many fit there, by the lesson, else by the room; at the teacher's check one. None: room for all."""
    if same(station, check_of(kit).station):
        return 1
    own = next((one.places for one in kit.lesson.stations if same(one.name, station) and one.places is not None), None)
    found = own if own is not None else next((one.places for one in kit.room.stations if same(one.name, station)), None)
    return found or None


def stations_of(kit: Kit) -> tuple[str, ...]:
    """Every station where some step is done, in the order of the steps, by one spelling."""
    found: dict[str, str] = {}
    for written in kit.lesson.steps:
        if written.station:
            found.setdefault(written.station.casefold(), written.station)
    return tuple(found.values())


def learners_in_tables(kit: Kit, group: Group) -> tuple[Walker, ...]:
    """Everybody alone. Levels are mixed evenly over the tables; where nobody knows the levels, all do the longest way."""
    counts = group.levels or {longest_level(kit): group.size}
    dealt = sorted(((place + 0.5) / count, order, level) for order, (level, count) in enumerate(counts.items()) for place in range(count))
    seats = (kit.room.tables or Tables()).seats
    ways = {level: tuple(stage(kit, [step]) for step in kit.steps.get(level, ())) for level in counts}
    return tuple(Walker(index // seats + 1, ways[level]) for index, (_, _, level) in enumerate(dealt))


def whole_tables(kit: Kit, group: Group) -> tuple[Walker, ...]:
    """Every table as one walker, at the pace of its slowest level, through all the steps that any of its levels does."""
    levels = [level for level in kit.steps if not group.levels or group.levels.get(level)]
    by_id = [[step for level in levels for step in kit.steps[level] if step.id == written.id] for written in kit.lesson.steps]
    way = tuple(stage(kit, steps) for steps in by_id if steps)
    seats = (kit.room.tables or Tables()).seats
    return tuple(Walker(first // seats + 1, way, min(seats, group.size - first)) for first in range(0, group.size, seats))


def longest_level(kit: Kit) -> str:
    return max(kit.steps, key=lambda level: sum(step.minutes for step in kit.steps[level]))


def stage(kit: Kit, steps: Iterable[Step]) -> Stage:
    """One step of several levels. At the check the teacher's own minutes count, not the card's."""
    of_levels = list(steps)
    first, check = of_levels[0], check_of(kit)
    if same(first.station, check.station):
        return Stage(first.id, first.station.casefold(), check.minutes, first.together, fixed=True)
    return Stage(first.id, first.station.casefold(), max(step.minutes for step in of_levels), first.together)
