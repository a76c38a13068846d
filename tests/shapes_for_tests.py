"""Lessons with one piece, told in one line, and what came out of them in fired millimetres."""

from __future__ import annotations

import pytest

from lessonkit.geometry.shape import Ring, Shape, bounds
from lessonkit.pieces.model import Part
from tests.lessons_for_tests import ROOM, kit_of, problems_of

LEFT = 1 - 0.12  # of a wet length, in the clay of these lessons
SLAB_MM = 6.0

HEAD = """\
title: Harbour
about: A piece.
technique: slab
clay: buff mid-fire
thickness: 6 mm
pieces:
"""
STEPS = """\
steps:
  - {id: cut, title: Cut, picture: trace, minutes: 8, text: Cut it.}
"""


def lesson(*pieces: str) -> str:
    """Up to three pieces, each by what stands behind its name."""
    names = ("boat", "shed", "buoy")
    return HEAD + "".join(f"  - {{name: {name}, {piece}}}\n" for name, piece in zip(names, pieces, strict=False)) + STEPS


def flat(outline: str, more: str = "") -> str:
    """A flat piece by its outline, and what else belongs to `flat`."""
    return lesson(f"flat: {{outline: {{{outline}}}{', ' if more else ''}{more}}}")


def part_of(text: str) -> Part:
    return kit_of(text).pieces[0].parts[0]


def fired(part: Part) -> dict[str, float]:
    for measure in part.measures:
        assert measure.cut * LEFT == pytest.approx(measure.fired) or measure.unit == "deg"
    return {measure.key: measure.fired for measure in part.measures}


def fired_bounds(ring: Ring | Shape) -> tuple[float, ...]:
    left, bottom, right, top = bounds(ring if isinstance(ring, Shape) else Shape(ring))
    return left * LEFT, bottom * LEFT, right * LEFT, top * LEFT


def errors(text: str, room: str = ROOM) -> list[str]:
    return [line for line in problems_of(text, room) if ": error: " in line]
