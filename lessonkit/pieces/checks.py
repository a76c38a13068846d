"""What a teacher would want to know before paper is wasted. A check is a function in CHECKS; each has a case that fires it.

All limits here are common practice, no source.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

from lessonkit.clay.shrinkage import fired_mm
from lessonkit.drawing.fonts import missing
from lessonkit.lesson.decode import Written
from lessonkit.lesson.lesson import Lesson
from lessonkit.lesson.lesson import Piece as WrittenPiece
from lessonkit.pieces.model import FiredClay, Piece
from lessonkit.problems import Problem

Check = Callable[[Piece, WrittenPiece, Written[Lesson], int, FiredClay], Iterator[Problem]]

THINNEST_MM, THICKEST_MM = 5.0, 13.0
HOLE_FROM_EDGE_MM = 12.0  # fired


def text_problems(lesson: Written[Lesson]) -> Iterator[Problem]:
    """Letters that no typeface of ours has: they would print as boxes."""
    for _, scalar in lesson.prose():
        lost = missing(scalar.text or "")
        if lost:
            shown = ", ".join(f"“{ch}” (U+{ord(ch):04X})" for ch in lost[:4])
            yield Problem("error", "missing-letter", scalar.span, f"these characters cannot be printed: {shown}.", "Write it in other letters.")


def slab_thickness(piece: Piece, written: WrittenPiece, lesson: Written[Lesson], index: int, clay: FiredClay) -> Iterator[Problem]:
    """Thinner tears when lifted; thicker dries slowly and may burst."""
    if not THINNEST_MM <= piece.thickness_mm <= THICKEST_MM:
        span = lesson.span("pieces", index, "thickness") if written.thickness else lesson.span("thickness")
        thin = piece.thickness_mm < THINNEST_MM
        cure = "Roll on thicker sticks." if thin else "Hollow it, or let it dry for longer and fire slowly."
        what = f"{piece.name}: a slab of {piece.thickness_mm:g} mm is {'thin: it tears when lifted' if thin else 'thick: it dries slowly and may burst'}."
        yield Problem("warning", "slab-thickness", span, what, cure)


def hole_near_edge(piece: Piece, written: WrittenPiece, lesson: Written[Lesson], index: int, clay: FiredClay) -> Iterator[Problem]:
    """A hole's middle at least 12 mm (fired) and 1.5 thicknesses from the edge."""
    if not (written.hang and written.hang.from_edge):
        return
    given = written.hang.from_edge.mm if written.sizes == "fired" else fired_mm(written.hang.from_edge.mm, clay.shrinkage)
    least = max(HOLE_FROM_EDGE_MM, fired_mm(1.5 * piece.thickness_mm, clay.shrinkage))
    if given < least - 0.05:
        span = lesson.span("pieces", index, "hang", "from_edge")
        yield Problem("warning", "hole-near-edge", span, f"{piece.name}: the hole is {given:.0f} mm from the edge, fired, and may tear out.",
                      f"Make from_edge at least {least:.0f} mm.")  # fmt: skip


CHECKS: tuple[Check, ...] = (slab_thickness, hole_near_edge)
