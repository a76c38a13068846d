"""A class walks through its steps, one event after the other: who is where, who waits, for how long. Minutes from the bell that begins.

Whoever is ready first is served first, and stays until done. Arrivals are handled in the order of their times, so a station with
`places` serves each as soon as enough of them are free: the same run as a queue of several servers, first come first served.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from heapq import heapify, heappop, heappush
from random import Random

from lessonkit.planning.counting import up

_SLACK = 1e-9


@dataclass(frozen=True, slots=True)
class Stage:
    """One step on somebody's way. `gate` is a step that waits until everybody who does it is ready. `fixed` minutes do not vary."""

    step: str
    station: str
    minutes: float
    gate: bool = False
    fixed: bool = False


@dataclass(frozen=True, slots=True)
class Walker:
    """Somebody, or a whole table of `people` who move together and need as many places."""

    table: int
    way: tuple[Stage, ...]
    people: int = 1


@dataclass(frozen=True, slots=True)
class Visit:
    """One walker at one step: ready for it, begun, done."""

    walker: int
    step: str
    station: str
    ready_min: float
    start_min: float
    end_min: float

    @property
    def wait_min(self) -> float:
        return self.start_min - self.ready_min


def run(walkers: Sequence[Walker], places: Mapping[str, int], begin_min: float = 0.0, vary: float = 0.0, seed: int = 0) -> tuple[Visit, ...]:
    """Every visit, in the order in which they begin. Stations not in `places` have room for all.

    Each walker's minutes at a step are multiplied by a number drawn evenly between 1 - vary and 1 + vary: the same seed gives the same
    run. A table larger than a station goes through it in rounds. Walkers that are ready at the same moment are served in their order.
    """
    random = Random(seed)
    pace = [[1.0 if stage.fixed else random.uniform(1 - vary, 1 + vary) for stage in walker.way] for walker in walkers]
    free = {station: [begin_min] * count for station, count in places.items()}
    for heap in free.values():
        heapify(heap)
    gates: dict[str, list[tuple[int, int]]] = {}
    expected = _expected(walkers)
    ready = [(begin_min, index, 0) for index, walker in enumerate(walkers) if walker.way]
    heapify(ready)
    visits: list[Visit] = []
    released: set[str] = set()
    while ready:
        now, index, at = heappop(ready)
        stage = walkers[index].way[at]
        if stage.gate and stage.step not in released:
            waiting = gates.setdefault(stage.step, [])
            waiting.append((index, at))
            if len(waiting) == expected[stage.step]:
                released.add(stage.step)
                for one, place in waiting:
                    heappush(ready, (now, one, place))
            continue
        minutes = stage.minutes * pace[index][at]
        start, end = _served(free.get(stage.station), now, minutes, walkers[index].people)
        visits.append(Visit(index, stage.step, stage.station, now, start, end))
        if at + 1 < len(walkers[index].way):
            heappush(ready, (end, index, at + 1))
    return tuple(sorted(visits, key=lambda visit: (visit.start_min, visit.walker)))


def _expected(walkers: Sequence[Walker]) -> dict[str, int]:
    """How many come to each gate."""
    counts: dict[str, int] = {}
    for walker in walkers:
        for stage in walker.way:
            if stage.gate:
                counts[stage.step] = counts.get(stage.step, 0) + 1
    return counts


def _served(free: list[float] | None, now: float, minutes: float, people: int) -> tuple[float, float]:
    """When so many people begin and end at a station, whose places they then hold. `free` is when each place is next free."""
    if free is None:
        return now, now + minutes
    taken = min(people, len(free))
    held = [heappop(free) for _ in range(taken)]
    start = max(now, held[-1])
    end = start + minutes * up(people / len(free + held))
    for _ in held:
        heappush(free, end)
    return start, end


@dataclass(frozen=True, slots=True)
class Crowd:
    """What one station saw. Nobody ready: all zero. `waiting_at_bell` are those ready for it and not begun when the bell goes,
    `busy_at_bell` those who are at it then; both None without a bell."""

    visits: int
    longest_queue: int
    longest_wait_min: float
    last_done_min: float
    waiting_at_bell: int | None
    busy_at_bell: int | None


def crowd(visits: Sequence[Visit], bell_min: float | None = None) -> Crowd:
    """The queue over the visits of one station."""
    return Crowd(
        visits=len(visits),
        longest_queue=_longest(visits),
        longest_wait_min=max((visit.wait_min for visit in visits), default=0.0),
        last_done_min=max((visit.end_min for visit in visits), default=0.0),
        waiting_at_bell=None if bell_min is None else sum(v.ready_min <= bell_min + _SLACK and v.start_min > bell_min - _SLACK for v in visits),
        busy_at_bell=None if bell_min is None else sum(v.start_min <= bell_min - _SLACK and v.end_min > bell_min + _SLACK for v in visits),
    )


def _longest(visits: Sequence[Visit]) -> int:
    """The most who waited at one moment: at equal times whoever begins leaves the queue before another joins it."""
    changes = [(visit.ready_min, 1, 1) for visit in visits if visit.wait_min > _SLACK]
    changes += [(visit.start_min, 0, -1) for visit in visits if visit.wait_min > _SLACK]
    longest = here = 0
    for _, _, change in sorted(changes):
        here += change
        longest = max(longest, here)
    return longest
