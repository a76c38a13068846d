"""One lesson after the other in one process."""

from __future__ import annotations

import gc
from pathlib import Path

from lessonkit.build import Order
from lessonkit.cli.making import Task, make

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
