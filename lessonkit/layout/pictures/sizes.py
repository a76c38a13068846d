"""The figures that a drawing of a part tells: how wide and tall it is cut, its opening, its holes, how thick it is."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import NamedTuple

from lessonkit.geometry.areas import Area, area_of
from lessonkit.geometry.drafting import within
from lessonkit.geometry.shape import Line, Shape, bounds
from lessonkit.layout.pictures.subject import Subject
from lessonkit.pieces.model import Hole
from lessonkit.units import NO_BREAK, Units, number, show_for_hand


class Sizes(NamedTuple):
    """The figures of a part, as words, and what they measure."""

    subject: Subject
    across: float
    up: float
    wide: str
    tall: str  # empty for a round part
    thick: str
    opening: tuple[str, ...] = ()
    hole: Hole | None = None
    below_edge: float = 0.0  # mm
    hole_words: str = ""

    def fewer(self) -> Iterator[Sizes]:
        """All, then with less and less."""
        yield self
        yield self._replace(thick="")
        yield self._replace(thick="", opening=())
        yield self._replace(thick="", opening=(), hole=None)


def sizes_of(subject: Subject, units: Units) -> Sizes:
    def say(mm: float) -> str:
        return number(mm, 0) if units == "mm" else show_for_hand(mm, "in").removesuffix(f"{NO_BREAK}in")

    part, lies = subject.part, subject.lies
    across, up = _extent(part.shape, lies)
    opening: tuple[str, ...] = ()
    if holes := area_of(part.shape).openings:
        wide, tall = _extent(holes[0].shapes[0], lies)
        opening = (say(wide),) if _round(holes[0], wide, tall) else (f"{say(wide)}{NO_BREAK}×", say(tall))
    hole = max(part.holes, key=lambda h: h.x_mm) if part.holes else None
    below = _below_edge(part.shape, hole) if hole else 0.0
    tall_words = "" if _round(area_of(part.shape), across, up) else say(up)
    return Sizes(subject, across, up, say(across), tall_words, show_for_hand(subject.piece.thickness_mm, units), opening, hole, below, say(below))


def _extent(shape: Shape, lies: bool) -> tuple[float, float]:
    left, bottom, right, top = bounds(shape)
    return (top - bottom, right - left) if lies else (right - left, top - bottom)


def _round(ground: Area, wide: float, tall: float) -> bool:
    return math.isclose(wide, tall, rel_tol=2e-3) and math.isclose(ground.outer.size, math.pi / 4 * wide * tall, rel_tol=5e-3)


def _below_edge(shape: Shape, hole: Hole) -> float:
    top = bounds(shape)[3]
    up: Line = ((hole.x_mm, hole.y_mm), (hole.x_mm, top + 1))
    runs = within((up,), area_of(shape))
    return min((max(y for _, y in run) for run in runs), default=top) - hole.y_mm
