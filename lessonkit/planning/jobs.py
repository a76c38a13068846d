"""What is to be done on which day: cover, turn, uncover, load, unload, paint, hand back; by lesson, with the tags of the groups."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date
from typing import Literal

from lessonkit.planning.calendar import Stage
from lessonkit.planning.groups import GroupWay
from lessonkit.planning.room_days import DAY

Do = Literal[
    "make", "cover", "turn", "uncover", "load bisque", "leave closed", "unload bisque", "paint", "load glaze", "unload glaze", "wrap", "hand back"
]  # fmt: skip

_IN_ORDER = Do.__args__  # type: ignore[attr-defined]
_BY_HAND: dict[str, Do] = {
    "make": "make", "cover": "cover", "turn": "turn", "uncover": "uncover", "paint": "paint", "wrap": "wrap", "in hands": "hand back",
}  # fmt: skip

SAYS: dict[Do, str] = {
    "make": "make",
    "cover": "cover loosely with plastic, on a board that drinks",
    "turn": "turn over, and cover again",
    "uncover": "take the plastic off",
    "load bisque": "check that it is dry, load and start the bisque firing",
    "leave closed": "the kiln is firing or cooling: leave it closed",
    "unload bisque": "unload the bisque firing when it is cold enough; an adult unloads",
    "paint": "paint, feet bare",
    "load glaze": "load so that nothing touches, and start the glaze firing",
    "unload glaze": "unload the glaze firing when it is cold enough; an adult unloads, with gloves for sharp feet",
    "wrap": "wrap, name outside",
    "hand back": "hand back",
}


@dataclass(frozen=True, slots=True)
class Job:
    """Something to do from one day to another, for the groups with these tags and their pieces. `load` numbers a lesson's firings."""

    do: Do
    first: date
    last: date
    lesson: str
    tags: tuple[str, ...]
    pieces: int
    load: int = 1

    @property
    def says(self) -> str:
        return SAYS[self.do]


def all_jobs(ways: Sequence[GroupWay]) -> tuple[Job, ...]:
    """Every job in the order of days, then of the work. What groups do on the same days is one job with all their tags."""
    found: dict[tuple[object, ...], Job] = {}
    for way in ways:
        for do, first, last, load in (step for stage in way.schedule.stages for step in _steps(stage)):
            key = (do, first, last, way.lesson, load)
            before = found.get(key)
            job = Job(do, first, last, way.lesson, (way.group.tag,), way.pieces, load)
            found[key] = replace(job, tags=(*before.tags, *job.tags), pieces=before.pieces + job.pieces) if before else job
    return tuple(sorted(found.values(), key=lambda job: (job.first, _IN_ORDER.index(job.do), job.lesson, job.load)))


def _steps(stage: Stage) -> Iterator[tuple[Do, date, date, int]]:
    if stage.kind in _BY_HAND:
        yield _BY_HAND[stage.kind], stage.first, stage.last, 1
    elif stage.kind in ("bisque", "glaze"):
        load: Do = "load bisque" if stage.kind == "bisque" else "load glaze"
        unload: Do = "unload bisque" if stage.kind == "bisque" else "unload glaze"
        yield load, stage.first, stage.first, stage.load
        if stage.last - stage.first > DAY:
            yield "leave closed", stage.first + DAY, stage.last - DAY, stage.load
        yield unload, stage.last, stage.last, stage.load


def jobs_on(day: date, ways: Sequence[GroupWay]) -> tuple[Job, ...]:
    """What is to be done on one day; nothing on a day without work."""
    return tuple(job for job in all_jobs(ways) if job.first <= day <= job.last)
