"""A command loads what it needs and no more: half of a short command's time is spent on loading."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

from lessonkit.version import VERSION
from tests.lessons_for_tests import FRAME

LESSONS = Path(__file__).parents[2] / "lessons"
LIBRARIES = {"yaml", "pydantic", "numpy", "shapely", "reportlab", "svgwrite", "fontTools", "icalendar", "holidays", "PIL"}
CODE = """
import sys
from lessonkit.cli.commands import main
try:
    main(sys.argv[1:])
except SystemExit as end:
    assert end.code == 0, end.code
print(*sys.modules)
"""


def loaded(*words: str | Path) -> set[str]:
    run = subprocess.run([sys.executable, "-c", CODE, *map(str, words)], capture_output=True, text=True, check=True)
    return set(run.stdout.splitlines()[-1].split())


@pytest.mark.parametrize("words", [("--help",), ("--version",), ("build", "--help")])
def test_help_and_version_load_no_library(words: tuple[str, ...]) -> None:
    modules = loaded(*words)
    assert "click" in modules
    assert not modules & {*LIBRARIES, "importlib.metadata", "lessonkit.build"}


def test_a_check_of_a_flat_piece_loads_nothing_that_only_papers_or_plans_need(tmp_path: Path) -> None:
    lesson = tmp_path / "lesson.yaml"
    lesson.write_text(FRAME.replace("clay: buff mid-fire\n", ""))
    modules = loaded("check", "--again", lesson)
    assert modules & LIBRARIES == {"yaml", "pydantic"}
    ours = {name.removeprefix("lessonkit.") for name in modules if name.startswith("lessonkit.")}
    assert "pieces.work" in ours
    assert not ours & {"writers", "planning", "layout.stencils", "lesson.forms", "pieces.built", "source.svg"}


@pytest.mark.parametrize("name", ["beach-hut-box", "full-moon-plate", "life-ring", "limpet-bowl", "lugworm-coaster", "porthole", "wave-vase"])
def test_a_check_of_a_built_form_or_a_plain_plate_needs_no_library_of_geometry(name: str) -> None:
    """A plate that bulges, with an opening, a press line, holes and joining zones that lie well apart."""
    modules = loaded("check", "--again", LESSONS / f"{name}.yaml")
    assert modules & LIBRARIES == {"yaml", "pydantic"}
    assert "lessonkit.geometry.soundness" in modules


def test_a_check_of_any_other_flat_piece_asks_the_libraries() -> None:
    """The rounded heart that is cut out of it takes more than plain arithmetic."""
    assert loaded("check", "--again", LESSONS / "driftwood-heart.yaml") & LIBRARIES == {"yaml", "pydantic", "numpy", "shapely"}


def test_outlines_that_a_lesson_does_without_are_not_loaded() -> None:
    assert "lessonkit.lesson.outlines" not in loaded("check", "--again", LESSONS / "porthole.yaml")  # it has circles only
    assert "lessonkit.lesson.outlines" in loaded("check", "--again", LESSONS / "driftwood-heart.yaml")


def test_the_version_is_that_of_the_package() -> None:
    run = subprocess.run([sys.executable, "-m", "lessonkit", "--version"], capture_output=True, text=True, check=True)
    assert run.stdout.split()[-1] == VERSION
