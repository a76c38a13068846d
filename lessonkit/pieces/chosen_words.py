"""Reading, the second choice beside the level: an adult beginner gets easy steps in full words, a practised child advanced
steps in plain ones."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from lessonkit.lesson.decode import Written
from lessonkit.lesson.lesson import Lesson, Reading, usual_reading
from lessonkit.pieces.model import Kit
from lessonkit.pieces.steps import steps_by_level
from lessonkit.problems import Problem


def in_reading(kit: Kit, reading: Reading | None) -> Kit:
    """The kit with its steps in the words of one reading. A step that has no such words keeps those of its level."""
    if reading not in ("plain", "full"):
        return kit
    return replace(kit, steps=steps_by_level(kit.lesson, list(kit.room.levels), kit.pieces, reading))


def reading_problems(lesson: Written[Lesson], levels: list[str], reading: Reading | None) -> Iterator[Problem]:
    """A warning for each step that has no words of its own for a reading that is not usual for its level."""
    if reading not in ("plain", "full"):
        return
    for index, step in enumerate(lesson.value.steps):
        for level in levels:
            if reading == usual_reading(level) or level not in step.levels or getattr(step.levels[level], reading):
                continue
            yield Problem("warning", "no-words-for-reading", lesson.span("steps", index, "levels", level),
                          f"step “{step.id}”, {level}: it has no {reading} words, so its usual ones are printed.",
                          f"Write {level}: {{text: ..., {reading}: ...}}.")  # fmt: skip
