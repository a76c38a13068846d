"""Her own figures from the log in place of the usual ones, and what is said about it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from statistics import fmean

from lessonkit.lesson.decode import Written
from lessonkit.lesson.fields import described
from lessonkit.lesson.log import Entry, Log
from lessonkit.pieces.model import Kit, Step
from lessonkit.problems import Problem, instead
from lessonkit.source.tree import span_at


@dataclass(frozen=True, slots=True)
class OwnFigures:
    """What the log says of one lesson. None, or nothing, where it does not say.

    `minutes` is by step id; `times` is how much longer all the work took than the lesson says; `lost` is a share of the pieces made;
    `dry_days` the longest that work was left to dry.
    """

    classes: int
    minutes: dict[str, float]
    times: float | None
    lost: float | None
    dry_days: int | None
    assumptions: tuple[str, ...]


def own_figures(log: Log, kit: Kit) -> OwnFigures:
    """The means over the classes of this lesson (by its title, whatever the capitals)."""
    entries = [entry for entry in log.classes if _same(entry.lesson, kit.lesson.title)]
    steps = {step.id for step in kit.lesson.steps}
    taken = {step: [entry.minutes[step] for entry in entries if step in entry.minutes] for step in steps}
    minutes = {step: fmean(values) for step, values in taken.items() if values}
    planned = max((sum(step.minutes for step in of_level) for of_level in kit.steps.values()), default=0.0)
    wholes = [entry.minutes["all"] for entry in entries if "all" in entry.minutes]
    times = fmean(wholes) / planned if wholes and planned else None
    made = sum(entry.made for entry in entries if entry.made and entry.lost is not None)
    lost = sum(entry.lost for entry in entries if entry.made and entry.lost is not None) / made if made else None
    dried = max((entry.dried for entry in entries if entry.dried is not None), default=None)
    return OwnFigures(len(entries), minutes, times, lost, dried, tuple(_said(len(entries), minutes, times, lost, dried)))


def _said(classes: int, minutes: dict[str, float], times: float | None, lost: float | None, dried: int | None) -> Iterator[str]:
    if not classes:
        return
    of = f"the log of {classes} class{'es' if classes > 1 else ''}"
    if minutes:
        yield f"minutes of {', '.join(sorted(minutes))} are your own, from {of}"
    if times is not None:
        yield f"the work took {times:.2f} times as long as the lesson says, from {of}"
    if lost is not None:
        yield f"{lost * 100:.1f} % of the pieces were lost, from {of}"
    if dried is not None:
        yield f"work was left to dry for up to {dried} days, from {of}"


def with_own_minutes(kit: Kit, own: OwnFigures) -> Kit:
    """The kit with her minutes in its steps: a step's own figure first, else the lesson's times the factor for all the work."""
    return replace(kit, steps={level: tuple(_own_step(step, own) for step in steps) for level, steps in kit.steps.items()})


def _own_step(step: Step, own: OwnFigures) -> Step:
    return step._replace(minutes=own.minutes.get(step.id, step.minutes * (1.0 if own.times is None else own.times)))


def log_problems(log: Written[Log], kits: Sequence[Kit]) -> Iterator[Problem]:
    """Steps that a lesson does not have. A lesson that is not among the kits may be one of another folder: nothing is said."""
    for index, entry in enumerate(log.value.classes):
        kit = next((kit for kit in kits if _same(entry.lesson, kit.lesson.title)), None)
        if kit is not None:
            yield from _unknown_steps(log, index, entry, kit)


def _unknown_steps(log: Written[Log], index: int, entry: Entry, kit: Kit) -> Iterator[Problem]:
    known = [step.id for step in kit.lesson.steps]
    for step in entry.minutes:
        if step not in (*known, "all"):
            span = span_at(log.tree, ("classes", index, "minutes", step), of_key=True)
            yield Problem("error", "unknown-step", span, f"{kit.lesson.title} has no step {described(step)}.", instead(step, known))


def _same(one: str, other: str) -> bool:
    return " ".join(one.split()).casefold() == " ".join(other.split()).casefold()
