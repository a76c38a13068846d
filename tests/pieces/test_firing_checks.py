"""What clay dries on, and the kiln's bisque cone: told at their places."""

from __future__ import annotations

import pytest

from lessonkit.build import Source, read
from lessonkit.lesson.lesson import Lesson
from lessonkit.lesson.room import Room
from lessonkit.pieces.firing_checks import kiln_problems, support_problems
from tests.lessons_for_tests import FRAME, ROOM


def told_of_support(line: str) -> list[str]:
    written, problems = read(Source("lesson.yaml", (FRAME + line).encode()), Lesson)
    assert written is not None, problems
    return [str(problem) for problem in support_problems(written)]


def test_a_support_that_does_not_drink_is_warned_about_with_the_reason() -> None:
    (line,) = told_of_support("dries_on: waxed paper plate\n")
    assert line.startswith(f"lesson.yaml:{FRAME.count(chr(10)) + 1}:")
    assert "warning: dries on “waxed paper plate”: wax does not drink water" in line
    assert "uncoated paper" in line
    (line,) = told_of_support("dries_on: {on: foam tray, each: person}\n")
    assert "foam does not drink" in line
    (line,) = told_of_support("dries_on: slate\n")
    assert "not known" in line
    assert not told_of_support("dries_on: paper plate\n")
    assert not told_of_support("")


@pytest.mark.parametrize(("cone", "told"), [('"04"', ""), ('"016"', "too cool to bisque-fire"), ("hot", "is not a cone")])
def test_the_bisque_cone(cone: str, told: str) -> None:
    room = f"{ROOM}kiln: {{shelf: {{round: 53 cm}}, stack: 66 cm, bisque_cone: {cone}}}\n"
    written, problems = read(Source("room.yaml", room.encode()), Room)
    assert written is not None, problems
    found = [str(problem) for problem in kiln_problems(written)]
    assert bool(found) == bool(told)
    assert all(told in line for line in found)
