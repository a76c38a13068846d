"""A stencil whose words leave no room for it is told at the line of its piece, by `check` as by `build`."""

from __future__ import annotations

from pathlib import Path

import pytest

from lessonkit.build import Order, Source, work
from lessonkit.cli.making import Task, make
from lessonkit.layout import stencil_checks
from tests.lessons_for_tests import FRAME, ROOM
from tests.message_cases import WORDY_JOINS

WORDY = FRAME.replace("    hang: {holes: 1", f"      joins: [{', '.join(WORDY_JOINS)}]\n    hang: {{holes: 1")
TOLD = (
    "lesson.yaml:6:11: error: all that must be said on the stencil of “Frame” leaves no room for it on A4. Shorten its name, its face, the names of "
    "its joins or the lesson's title, or use a larger paper."
)


def problems(lesson: str, order: Order) -> list[str]:
    _, found = work(Source("lesson.yaml", lesson.encode()), Source("room.yaml", ROOM.encode()), None, order)
    return [str(problem) for problem in found if problem.severity == "error"]


def test_it_is_found_before_anything_is_drawn() -> None:
    assert problems(WORDY, Order()) == [TOLD]


def test_it_is_no_fault_where_no_stencils_are_asked_for_or_the_paper_is_large() -> None:
    assert problems(WORDY, Order(only=("cards",))) == []
    assert problems(WORDY, Order(paper="A3")) == []


@pytest.mark.parametrize("few", [stencil_checks.FEW_LETTERS, 1_000_000])
def test_build_names_the_line_too_whether_check_tried_or_not(few: int, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(stencil_checks, "FEW_LETTERS", few)
    monkeypatch.chdir(tmp_path)
    Path("lesson.yaml").write_text(WORDY)
    Path("room.yaml").write_text(ROOM)
    made = make(Task(Path("lesson.yaml"), Path("room.yaml"), None, Order()))
    assert made.papers is None
    assert [line for severity, line in made.said if severity == "error"] == [TOLD]


@pytest.mark.parametrize("lesson", [FRAME, WORDY.replace("160 mm", "600 mm")], ids=["few words", "a large stencil"])
def test_what_would_take_long_or_is_surely_well_is_not_tried(lesson: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """Drawing all stencils would make a check twice as long, a large one many times."""
    monkeypatch.setattr("lessonkit.layout.stencils.document.stencil_documents", lambda *_: pytest.fail("tried"))
    assert problems(lesson, Order()) == []
