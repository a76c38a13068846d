"""What a lesson's support and a room's kiln may get wrong: found by `check`, each at its place."""

from __future__ import annotations

from collections.abc import Iterator

from lessonkit.clay.cones import COOLEST_BISQUE, cone_named, hotter
from lessonkit.clay.drying import ground
from lessonkit.lesson.decode import Written
from lessonkit.lesson.fields import described
from lessonkit.lesson.lesson import Lesson
from lessonkit.lesson.room import Room
from lessonkit.problems import Problem

DRINKERS = "uncoated paper or cardboard, bare wood, plaster, newspaper, canvas"


def support_problems(lesson: Written[Lesson]) -> Iterator[Problem]:
    """A support that does not drink water, or of which nobody knows."""
    if lesson.value.dries_on is None:
        return
    on = lesson.value.dries_on.on
    found = ground(on)
    if not found.drinks:
        kind = "dry-support" if found.drinks is False else "unknown-support"
        yield Problem("warning", kind, lesson.span("dries_on"), f"dries on {described(on)}: {found.reason}.", f"Use what drinks water: {DRINKERS}.")


def kiln_problems(room: Written[Room]) -> Iterator[Problem]:
    """A bisque cone that is no cone, or too cool to bisque-fire clay."""
    kiln = room.value.kiln
    if kiln is None or kiln.bisque_cone is None:
        return
    span = room.span("kiln", "bisque_cone")
    try:
        if hotter(COOLEST_BISQUE, cone_named(kiln.bisque_cone)):
            yield Problem("error", "cool-bisque", span, f"cone {kiln.bisque_cone} is too cool to bisque-fire clay.",
                          'Write a cone from "010" up; "06" to "04" are usual.')  # fmt: skip
    except ValueError as error:
        yield Problem("error", "unknown-cone", span, f"{error}.", 'Write a cone such as "04".')
