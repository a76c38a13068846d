"""A lesson against its period: what fits, what to shorten, and how it is divided where the clay has to rest. Minutes."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from lessonkit.lesson.lesson import Step as WrittenStep
from lessonkit.pieces.model import Kit, Step
from lessonkit.planning.minutes import Timeline, timeline
from lessonkit.units import show_minutes

RESTS_OVERNIGHT = "cover"
MAY_REST = (RESTS_OVERNIGHT, "wait")
LONGEST = 3


@dataclass(frozen=True, slots=True)
class ShortStep:
    number: str
    title: str
    minutes: float


@dataclass(frozen=True, slots=True)
class Shorten:
    """A level that runs over: its longest steps, and those that it alone does and can leave for another time."""

    level: str
    over_min: float
    longest: tuple[ShortStep, ...]
    leave_out: tuple[ShortStep, ...]


@dataclass(frozen=True, slots=True)
class Session:
    """One class of several. `rests` is whether it ends where the lesson lets the clay rest; else the work is covered tightly. `over_min`
    is more than 0 where even a single step is too long."""

    steps: tuple[str, ...]
    first: str
    last: str
    over_min: float
    rests: bool


@dataclass(frozen=True, slots=True)
class Minutes:
    """The timeline of the whole lesson in one period, and its division over several; one session where it fits in one."""

    lesson: str
    code: str
    timeline: Timeline
    shorten: tuple[Shorten, ...]
    sessions: tuple[Session, ...]
    warnings: tuple[str, ...]
    assumptions: tuple[str, ...]


def minutes(kit: Kit) -> Minutes:
    """How the lesson fills its period. A kit without minutes of the room is never over."""
    times = timeline(kit)
    shorten = tuple(_shorten(kit, course.level, course.over_min) for course in times.courses if course.over_min > 0)
    split = tuple(_sessions(kit))
    return Minutes(kit.lesson.title, kit.code, times, shorten, split, tuple(_warnings(kit, shorten, split)), tuple(_assumptions(kit, split)))


def _shorten(kit: Kit, level: str, over: float) -> Shorten:
    steps = [ShortStep(step.number, step.title, step.minutes) for step in kit.steps[level] if step.minutes]
    longest = sorted(steps, key=lambda step: -step.minutes)[:LONGEST]
    alone = [step for step in steps if step.number[-1:].isalpha()]
    return Shorten(level, over, tuple(longest), tuple(alone))


def _sessions(kit: Kit) -> Iterator[Session]:
    """Divided after each step that covers the work; where such a stretch is too long still, at the last resting place that fits, else at
    the last step that fits. Steps that take no time stand with one that does, even with one that is too long by itself."""
    rest = list(kit.lesson.steps)
    while rest:
        whole = next((index for index, step in enumerate(rest, 1) if step.picture == RESTS_OVERNIGHT), len(rest))
        first = next((index for index, step in enumerate(rest[:whole], 1) if _takes_time(kit, step)), whole)
        over = {count: _over(kit, rest[:count]) for count in range(first, whole + 1)}
        fitting = [count for count in over if over[count] <= over[first]]
        resting = [count for count in fitting if rest[count - 1].picture in MAY_REST]
        count = whole if whole in fitting else max(resting or fitting)
        here, rest = rest[:count], rest[count:]
        yield Session(
            steps=tuple(step.id for step in here),
            first=_number(kit, here[0]),
            last=_number(kit, here[-1]),
            over_min=over[count],
            rests=not rest or here[-1].picture in MAY_REST,
        )


def _over(kit: Kit, steps: Sequence[WrittenStep]) -> float:
    """How far these steps alone run over the period."""
    ids = {step.id for step in steps}
    of_levels: dict[str, tuple[Step, ...]] = {level: tuple(step for step in found if step.id in ids) for level, found in kit.steps.items()}
    return timeline(replace(kit, lesson=kit.lesson.model_copy(update={"steps": tuple(steps)}), steps=of_levels)).over_min


def _takes_time(kit: Kit, written: WrittenStep) -> bool:
    return any(step.minutes for steps in kit.steps.values() for step in steps if step.id == written.id)


def _number(kit: Kit, written: WrittenStep) -> str:
    return next((step.number for steps in kit.steps.values() for step in steps if step.id == written.id), "")


def _warnings(kit: Kit, shorten: Sequence[Shorten], split: Sequence[Session]) -> Iterator[str]:
    for one in shorten:
        named = ", ".join(f"{step.number} {step.title} {show_minutes(step.minutes)}" for step in one.longest)
        alone = ", ".join(f"{step.number} {step.title}" for step in one.leave_out)
        what = f"{kit.room.levels[one.level]} runs {show_minutes(one.over_min)} min over; its longest steps: {named}."
        yield f"{what} It can leave out {alone}." if alone else what
    for number, session in enumerate(split, 1):
        if session.over_min:
            long = max((step for step in kit.lesson.steps if step.id in session.steps), key=lambda step: _over(kit, [step]))
            yield f"step {_number(kit, long)} alone is {show_minutes(session.over_min)} min too long for one class (class {number}): divide it."


def _assumptions(kit: Kit, split: Sequence[Session]) -> Iterator[str]:
    if kit.room.minutes is None:
        yield "the room says no minutes (arrive, show, clean, leave): the lesson is not held against a period"
        return
    yield "clean-up begins for all at once; steps done together wait for the slowest level"
    if len(split) > 1:
        yield "every class has the room's minutes; it is divided where a step covers the work or waits, if it can be"
    if any(not session.rests for session in split):
        yield "where no step lets the clay rest it is covered tightly, to stay soft until the next class"
