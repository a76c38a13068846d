"""One run of a class through its stations, and what can be read from it: who moves when, who waits, who is not through."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass, replace

from lessonkit.planning.running import Visit, Walker, run

_SLACK = 1e-9


@dataclass(frozen=True, slots=True)
class TableMove:
    """When the first of a table begins at a station, and when the last of it is done there."""

    table: int
    station: str
    from_min: float
    to_min: float


@dataclass(frozen=True, slots=True)
class Waiting:
    """People of one table who are ready for a station when the bell goes, and have not begun there."""

    station: str
    table: int
    people: int


@dataclass(frozen=True, slots=True)
class ClassRun:
    """A run, and what it was made from. `places` are of the stations that cannot take all, by the keys of `names`, which are
    all stations as they are written."""

    walkers: tuple[Walker, ...]
    places: Mapping[str, int]
    names: Mapping[str, str]
    begin: float
    bell: float | None
    vary: float
    seed: int
    visits: tuple[Visit, ...] = ()

    def again(self, walkers: tuple[Walker, ...] | None = None, places: Mapping[str, int] | None = None) -> ClassRun:
        """The same run with other walkers or places."""
        who, where = walkers or self.walkers, places or self.places
        return replace(self, walkers=who, places=where, visits=run(who, where, self.begin, self.vary, self.seed))

    def at(self, station: str) -> list[Visit]:
        return [visit for visit in self.visits if visit.station == station]

    @property
    def done_min(self) -> float:
        """When the last is through."""
        return max((visit.end_min for visit in self.visits), default=self.begin)

    def unfinished(self) -> int | None:
        """How many are not through their steps at the bell; None without one."""
        if self.bell is None:
            return None
        late = {visit.walker for visit in self.visits if visit.end_min > self.bell + _SLACK}
        return sum(self.walkers[index].people for index in late)

    def moves(self) -> tuple[TableMove, ...]:
        """Every table at every station that cannot take all, in the order of tables, then of stations."""
        order = list(self.names)
        stays: dict[tuple[int, int], list[Visit]] = {}
        for visit in self.visits:
            if visit.station in self.places:
                stays.setdefault((self.walkers[visit.walker].table, order.index(visit.station)), []).append(visit)
        return tuple(
            TableMove(table, self.names[order[station]], min(visit.start_min for visit in found), max(visit.end_min for visit in found))
            for (table, station), found in sorted(stays.items())
        )

    def waiting(self) -> tuple[Waiting, ...]:
        """Who stands in a queue at the bell."""
        order = list(self.names)
        late = [v for v in self.visits if v.station in self.names and self.bell is not None and v.ready_min <= self.bell < v.start_min]
        counts = Counter((order.index(visit.station), self.walkers[visit.walker].table) for visit in late)
        return tuple(Waiting(self.names[order[station]], table, count) for (station, table), count in sorted(counts.items()))


def class_run(
    walkers: tuple[Walker, ...],
    places: Mapping[str, int],
    names: Mapping[str, str],
    begin: float,
    bell: float | None,
    vary: float = 0.0,
    seed: int = 0,
) -> ClassRun:
    """The run of these walkers."""
    return ClassRun(walkers, places, names, begin, bell, vary, seed).again()
