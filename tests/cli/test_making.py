"""One lesson after the other in one process."""

from __future__ import annotations

import gc
import os
import shutil
import subprocess
import sys
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


def test_c11_the_same_papers_from_any_folder_in_any_time_zone_with_any_order_of_hashing(tmp_path: Path) -> None:
    made = []
    for seed, zone, where in (("1", "UTC", "one"), ("2", "Pacific/Auckland", "another/folder")):
        folder = tmp_path / where
        folder.mkdir(parents=True)
        for name in ("room.yaml", "porthole.yaml"):
            shutil.copy(LESSONS / name, folder)
        surroundings = {**os.environ, "PYTHONHASHSEED": seed, "TZ": zone, "PYTHONPATH": os.pathsep.join(sys.path)}
        subprocess.run([sys.executable, "-m", "lessonkit", "build", "--out", "papers"], cwd=folder, env=surroundings, check=True, capture_output=True)
        made.append({path.name: path.read_bytes() for path in (folder / "papers" / "porthole").iterdir() if path.suffix in (".pdf", ".svg")})
    assert len(made[0]) >= 8
    assert made[0] == made[1]


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
