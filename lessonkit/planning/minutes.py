"""How a class spends its minutes: every level's steps in order, over the room's period. Numbers only, no pages."""

from __future__ import annotations

from typing import Literal, NamedTuple

from lessonkit.lesson.room import Period
from lessonkit.pieces.model import Kit

Kind = Literal["arrive", "show", "step", "wait", "spare", "clean", "leave"]


class Stretch(NamedTuple):
    """Minutes spent on one thing, counted from the start of the period. A step carries its number and title; `wait` is
    time until the other levels are ready to start together, `spare` what is left before clean-up."""

    kind: Kind
    start_min: float
    minutes: float
    number: str = ""
    title: str = ""

    @property
    def end_min(self) -> float:
        return self.start_min + self.minutes


class Unfinished(NamedTuple):
    """A step that is not done when clean-up must begin, and the minutes that it then still needs."""

    number: str
    title: str
    lacks_min: float


class Course(NamedTuple):
    """One level's way through the period. `over_min` is how much its work runs past the start of clean-up, 0 if it fits."""

    level: str
    stretches: tuple[Stretch, ...]
    work_min: float
    over_min: float
    unfinished: tuple[Unfinished, ...]


class Timeline(NamedTuple):
    """All levels over one period. `period_min`, `clean_at_min` and `for_work_min` are None where the room gives no minutes.
    `together_min` are the moments when everybody starts the same thing; `ends_min` is the end of the last stretch, later
    than the period where the work does not fit."""

    period_min: float | None
    clean_at_min: float | None
    for_work_min: float | None
    ends_min: float
    together_min: tuple[float, ...]
    courses: tuple[Course, ...]

    @property
    def over_min(self) -> float:
        return max((course.over_min for course in self.courses), default=0.0)


def timeline(kit: Kit) -> Timeline:
    """The minutes of `kit` in its room.

    A step that is done together starts when the slowest of its levels is ready; the others wait. Clean-up starts for all at
    once, as late as leaves time for it; where a level's work is longer, when the slowest is done, and that level is over by
    the difference. A step of no minutes takes none. A kit without steps has stretches of the room alone.
    """
    period = kit.room.minutes
    begin = period.arrive + period.show if period else 0.0
    work, moments = _work(kit, begin)
    done = {level: stretches[-1].end_min if stretches else begin for level, stretches in work.items()}
    clean_at = period.period - period.leave - period.clean if period else None
    latest = max((*done.values(), clean_at or 0.0))
    courses = tuple(_course(level, stretches, begin, clean_at, latest, period) for level, stretches in work.items())
    if period:
        moments |= {at for at, minutes in ((period.arrive, period.show), (begin, latest - begin), (latest, period.clean)) if minutes}
    return Timeline(
        period_min=period.period if period else None,
        clean_at_min=clean_at,
        for_work_min=clean_at - begin if clean_at is not None else None,
        ends_min=latest + (period.clean + period.leave if period else 0.0),
        together_min=tuple(sorted(moments)),
        courses=courses,
    )


def _work(kit: Kit, begin_min: float) -> tuple[dict[str, list[Stretch]], set[float]]:
    """Each level's steps and waits, and when all levels start one together."""
    steps = {level: {step.id: step for step in of_level} for level, of_level in kit.steps.items()}
    clock = dict.fromkeys(steps, begin_min)
    work: dict[str, list[Stretch]] = {level: [] for level in steps}
    moments = set()
    for written in kit.lesson.steps:
        doing = [level for level in steps if written.id in steps[level]]
        if written.together and doing:
            start = max(clock[level] for level in doing)
            if len(doing) == len(steps):
                moments.add(start)
            for level in doing:
                if clock[level] < start:
                    work[level].append(Stretch("wait", clock[level], start - clock[level]))
                    clock[level] = start
        for level in doing:
            step = steps[level][written.id]
            work[level].append(Stretch("step", clock[level], step.minutes, step.number, step.title))
            clock[level] += step.minutes
    return work, moments


def _course(level: str, work: list[Stretch], begin: float, clean_at: float | None, latest: float, period: Period | None) -> Course:
    end = work[-1].end_min if work else begin
    over = max(end - clean_at, 0.0) if clean_at is not None else 0.0
    late = [s for s in work if s.kind == "step" and clean_at is not None and s.end_min > clean_at and s.minutes]
    return Course(
        level=level,
        stretches=_whole_period(work, end, latest, period),
        work_min=sum(s.minutes for s in work if s.kind == "step"),
        over_min=over,
        unfinished=tuple(Unfinished(s.number, s.title, min(s.minutes, s.end_min - clean_at)) for s in late if clean_at is not None),
    )


def _whole_period(work: list[Stretch], end: float, latest: float, period: Period | None) -> tuple[Stretch, ...]:
    """The work between coming in and going out; what takes no time is left out, but not a step."""
    if not period:
        return tuple(work)
    around = (
        Stretch("arrive", 0.0, period.arrive),
        Stretch("show", period.arrive, period.show),
        *work,
        Stretch("spare", end, latest - end),
        Stretch("clean", latest, period.clean),
        Stretch("leave", latest + period.clean, period.leave),
    )
    return tuple(stretch for stretch in around if stretch.minutes or stretch.kind == "step")
