"""One lesson after the other in one process."""

from __future__ import annotations

import gc
from functools import lru_cache
from pathlib import Path

from lessonkit.build import Order
from lessonkit.cli.making import Task, make
from lessonkit.forgetting import of_a_lesson

LESSONS = Path(__file__).parents[2] / "lessons"


def test_what_a_lesson_leaves_goes_at_once() -> None:
    """Python frees in its own time what holds itself in a circle, and the program has that wait longer still: of a shelf it would pile up."""
    task = Task(LESSONS / "porthole.yaml", LESSONS / "room.yaml", None, Order())
    make(task)
    gc.collect()
    gc.disable()
    try:
        assert make(task).papers
        assert gc.collect() < 100
    finally:
        gc.enable()


def test_what_is_remembered_of_a_lesson_is_forgotten_with_the_next() -> None:
    asked = []

    @of_a_lesson
    @lru_cache(4)
    def remembered(what: str) -> str:
        asked.append(what)
        return what

    remembered("a lesson's piece")
    remembered("a lesson's piece")
    assert len(asked) == 1
    make(Task(LESSONS / "porthole.yaml", None, None, Order(), papers=False))
    remembered("a lesson's piece")
    assert len(asked) == 2
