"""What a teacher would want to know of her stencils before they are printed."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from lessonkit.geometry.shape import bounds
from lessonkit.lesson.decode import Written
from lessonkit.lesson.lesson import Lesson
from lessonkit.pieces.model import Kit, Part, Piece
from lessonkit.problems import Problem

if TYPE_CHECKING:
    from lessonkit.layout.stencils.document import StencilError

# With so few, one of 6,000 made-up lessons found no room (a part of half a metre named in W alone, on a printer that is corrected), and
# the build tells it; usual letters fill a sheet from 185 on, and the wordiest lesson of the shelf has 82.
FEW_LETTERS = 120
LARGE_MM2 = 250_000.0  # a stencil of nine sheets and more takes seconds to be tried in every way: `build` tells of those


def stencil_problems(lesson: Written[Lesson], kit: Kit, papers: Sequence[str], mirror: bool) -> Iterator[Problem]:
    """An error for the first part whose words leave no room for its stencil on one of the papers. Only many words are tried, and no
    large stencils."""
    if max(_letters(kit, piece) for piece in kit.pieces) <= FEW_LETTERS or any(_is_large(part) for piece in kit.pieces for part in piece.parts):
        return
    from lessonkit.layout.stencils.document import StencilError, stencil_documents  # late: few lessons have so much to say

    for paper in papers:
        try:
            stencil_documents(kit, paper, mirror)
        except StencilError as error:
            yield no_room(lesson, error)
            return


def no_room(lesson: Written[Lesson], error: StencilError) -> Problem:
    return Problem("error", "no-room-on-stencil", lesson.span("pieces", error.piece, "name"), error.what, error.hint)


def _is_large(part: Part) -> bool:
    left, bottom, right, top = bounds(part.shape)
    return (right - left) * (top - bottom) > LARGE_MM2


def _letters(kit: Kit, piece: Piece) -> int:
    """Of all that she wrote and that must stand on the stencil of a part."""
    marks = {words for part in piece.parts for mark in part.marks for words in (mark.words, *mark.levels)}
    return sum(map(len, (kit.lesson.title, piece.name, piece.face, (piece.clay or kit.clay).name, *piece.levels, *marks)))
