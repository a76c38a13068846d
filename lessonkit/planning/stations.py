"""The class at its stations: turns by hand, a run with a seed, what would change it, and the table to post. Minutes of the period."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from lessonkit.lesson.classroom import Group, Tables
from lessonkit.pieces.model import Kit
from lessonkit.planning.class_run import ClassRun, TableMove, Waiting, class_run
from lessonkit.planning.copies import learners
from lessonkit.planning.counting import need_people, shared
from lessonkit.planning.minutes import Timeline, timeline
from lessonkit.planning.quantities import quantities, seats_said
from lessonkit.planning.queues import Queue, Rotation, Turns, queue, rotation, turns
from lessonkit.planning.running import Crowd, Visit, crowd
from lessonkit.planning.walks import check_of, learners_in_tables, places_at, same, stations_of, whole_tables
from lessonkit.units import show_minutes

VARY = 0.2
PEER_MIN = 25 / 60  # what is left of the check when a partner has looked first (from memory, no source)
MOVING_MIN = 1.0


@dataclass(frozen=True, slots=True)
class StationRun:
    """One station in the run. `places` None: room for all."""

    station: str
    places: int | None
    people: int
    crowd: Crowd


@dataclass(frozen=True, slots=True)
class Change:
    """The same run with one thing changed: what is then true of the station that it helps, and of the class."""

    what: str
    longest_wait_min: float
    waiting_at_bell: int | None
    unfinished: int | None
    done_min: float


@dataclass(frozen=True, slots=True)
class Stations:
    """One class in one lesson. `check` and `check_with_peer` are sums for all who come at once; `runs`, `moves` and `waiting` are of
    the run with `seed`; `unfinished` are not through when the bell goes. `to_post` is for whole tables that move together;
    `rotation` is for stations that may be visited in any order."""

    lesson: str
    group: str
    people: int
    seed: int
    begin_min: float
    bell_min: float | None
    check: Queue | None
    check_with_peer: Queue | None
    scarce: tuple[Turns, ...]
    runs: tuple[StationRun, ...]
    moves: tuple[TableMove, ...]
    done_min: float
    unfinished: int | None
    waiting: tuple[Waiting, ...]
    changes: tuple[Change, ...]
    to_post: tuple[TableMove, ...]
    rotation: Rotation | None
    warnings: tuple[str, ...]
    assumptions: tuple[str, ...]


def stations(kit: Kit, group: Group, seed: int = 1) -> Stations:
    """The class through its stations. The same seed gives the same run. PlanError for a group of nobody."""
    people, times, period = need_people(group.size), timeline(kit), kit.room.minutes
    begin = period.arrive + period.show if period else 0.0
    names = {name.casefold(): name for name in stations_of(kit)}
    alone = class_run(learners_in_tables(kit, group), _places(kit, people), names, begin, times.clean_at_min, VARY, seed)
    tables = class_run(whole_tables(kit, group), alone.places, names, begin, times.clean_at_min)
    scarce, check = tuple(_scarce(kit, group, times)), _check(kit, group, times)
    round_ = _rotation(kit, times, people)
    return Stations(
        lesson=kit.lesson.title,
        group=group.name,
        people=people,
        seed=seed,
        begin_min=begin,
        bell_min=alone.bell,
        check=check,
        check_with_peer=queue(check.people, _peer(kit), 1, check.time_min) if check else None,
        scarce=scarce,
        runs=tuple(_station_run(kit, name, alone.at(key), alone.bell) for key, name in names.items() if alone.at(key)),
        moves=alone.moves(),
        done_min=alone.done_min,
        unfinished=alone.unfinished(),
        waiting=alone.waiting(),
        changes=tuple(_changes(kit, alone)),
        to_post=tables.moves(),
        rotation=round_,
        warnings=tuple(_warnings(scarce, check, alone, tables)),
        assumptions=tuple(_assumptions(kit, group, alone, round_)),
    )


def _station_run(kit: Kit, name: str, visits: Sequence[Visit], bell: float | None) -> StationRun:
    return StationRun(name, places_at(kit, name), len({visit.walker for visit in visits}), crowd(visits, bell))


def _places(kit: Kit, people: int) -> dict[str, int]:
    """The stations with fewer places than people: the others are never full."""
    found = {name.casefold(): places_at(kit, name) for name in stations_of(kit)}
    return {name: places for name, places in found.items() if places is not None and places < people}


def _at_station(kit: Kit, group: Group, station: str) -> tuple[int, float]:
    """How many have something to do there, and the minutes of the slowest of them."""
    minutes = {level: [step.minutes for step in steps if same(step.station, station)] for level, steps in kit.steps.items()}
    there = {level: sum(found) for level, found in minutes.items() if found and learners(group, (level,))}
    return learners(group, there) if there else 0, max(there.values(), default=0.0)


def _scarce(kit: Kit, group: Group, times: Timeline) -> Iterator[Turns]:
    """The check is a queue of its own."""
    for name in stations_of(kit):
        coming, minutes = _at_station(kit, group, name)
        places = places_at(kit, name)
        if places is not None and places < coming and not same(name, check_of(kit).station):
            yield turns(name, coming, places, minutes, times.for_work_min)
    held = {tool.name.casefold(): tool.minutes for tool in kit.room.tools if tool.minutes}
    for need in quantities(kit, group).supplies:
        each_min = next((minutes for tool, minutes in held.items() if tool in need.name.casefold()), None)
        if need.lacks and need.count and need.has and each_min:
            yield turns(need.name, need.count, need.has, each_min, times.for_work_min, "tool")


def _check(kit: Kit, group: Group, times: Timeline) -> Queue | None:
    """All at once at the check, and the time from when the first can come to the bell."""
    check = check_of(kit)
    coming, _ = _at_station(kit, group, check.station)
    if not coming:
        return None
    ids = {(level, step.number) for level, steps in kit.steps.items() for step in steps if same(step.station, check.station)}
    first = min(s.start_min for course in times.courses for s in course.stretches if s.kind == "step" and (course.level, s.number) in ids)
    return queue(coming, check.minutes, 1, None if times.clean_at_min is None else max(0.0, times.clean_at_min - first))


def _peer(kit: Kit) -> float:
    check = check_of(kit)
    return check.peer or min(PEER_MIN, check.minutes)


def _changes(kit: Kit, ran: ClassRun) -> Iterator[Change]:
    """One more place at each station where somebody waited; at the check also a partner's look before."""
    check = check_of(kit).station.casefold()
    for station, count in ran.places.items():
        if any(visit.wait_min > 1e-9 for visit in ran.at(station)):
            what = "a second adult is at the check" if station == check else f"{ran.names[station]} has one more place"
            yield _change(what, station, ran.again(places={**ran.places, station: count + 1}))
    if check in ran.places:
        peers = [replace(w, way=tuple(replace(s, minutes=_peer(kit)) if s.station == check else s for s in w.way)) for w in ran.walkers]
        yield _change("a partner checks first", check, ran.again(walkers=tuple(peers)))


def _change(what: str, station: str, ran: ClassRun) -> Change:
    found = crowd(ran.at(station), ran.bell)
    return Change(what, found.longest_wait_min, found.waiting_at_bell, ran.unfinished(), ran.done_min)


def _rotation(kit: Kit, times: Timeline, people: int) -> Rotation | None:
    """Over the stations that cannot take all at once, the teacher's check apart, if there are several and time is known."""
    check = check_of(kit).station
    narrow = tuple(name for name in stations_of(kit) if name.casefold() in _places(kit, people) and not same(name, check))
    tables = shared(people, (kit.room.tables or Tables()).seats)
    if len(narrow) < 2 or not times.for_work_min or times.for_work_min / len(narrow) <= MOVING_MIN:
        return None
    return rotation(narrow, times.for_work_min, min(len(narrow), tables), MOVING_MIN)


def _warnings(scarce: Sequence[Turns], check: Queue | None, ran: ClassRun, tables: ClassRun) -> Iterator[str]:
    yield from (str(found) for found in scarce)
    if check and check.waiting:
        at_once = f"{check.people} at a check of {show_minutes(check.each_min * 60)} s are {show_minutes(check.last_served_min)} min"
        yield f"{at_once}. If all come at once, {check.seen} are seen and {check.waiting} wait: send the tables one after the other."
    if left := ran.unfinished():
        bell = show_minutes(ran.bell or 0.0)
        yield f"{left} are not through their steps when clean-up begins at minute {bell}; the last would be at minute {ran.done_min:.0f}."
    if ran.bell is not None and tables.done_min > ran.bell + 1e-9:
        yield f"whole tables that move together need until minute {tables.done_min:.0f}: see what would change it, or use two classes."


def _assumptions(kit: Kit, group: Group, ran: ClassRun, turning: Rotation | None) -> Iterator[str]:
    check = check_of(kit)
    whose = "the room's own figure" if kit.room.check else "from memory, no source"
    yield f"the run: seed {ran.seed}; everybody's minutes lie within {VARY * 100:g} % of the card's, walking included; first come, first served"
    if check.station.casefold() in ran.names:
        yield f"at {check.station} one adult sees one learner after the other, {check.minutes * 60:g} s each ({whose})"
        yield f"{_peer(kit) * 60:g} s each if a partner has looked first"
    yield seats_said(kit)
    known = "levels are mixed evenly over the tables"
    yield known if group.levels else "nobody said how many are of which level: all do the longest way"
    yield "the table to post: whole tables, each at the pace of its slowest level"
    if turning:
        yield f"rotation: for stations in any order; {MOVING_MIN:g} min of each turn is for moving (common practice)"
    if ran.bell is None:
        yield "the room says no minutes: nothing is counted up to a bell"
