"""What a piece is judged by: the rubric as a table of the room's marks, and the standards that the lesson serves."""

from __future__ import annotations

from collections.abc import Sequence

from lessonkit.drawing.typesetting import Span
from lessonkit.layout.teacher_table import Column, Row, cell
from lessonkit.layout.wording import say
from lessonkit.pieces.model import Kit

BOX = "☐"


def rubric_table(kit: Kit) -> tuple[list[Column], list[Row]]:
    """A row for each thing to look at. Where the lesson has no words for a mark, a box to tick."""
    marks = kit.room.rubric
    words = any(row.says for row in kit.lesson.rubric)
    columns = [Column(say("rubric_look", kit.room.language), wraps=True, grows=not words), *(Column(mark, wraps=True, grows=words) for mark in marks)]
    return columns, [Row((cell(row.look, True), *(cell(said) for said in row.says or [BOX] * len(marks))), ruled=True) for row in kit.lesson.rubric]


def standards(kit: Kit) -> list[Sequence[Span]]:
    """Each code, with her own words if she gave some."""
    return [(Span(code, True), Span(f" {words}" if words else "")) for code, words in kit.lesson.standards.items()]
