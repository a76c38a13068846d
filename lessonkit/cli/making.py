"""One lesson from its files to its papers in memory, in this process or in one of several; nothing is written or printed here."""

from __future__ import annotations

from pathlib import Path
from typing import NamedTuple

from lessonkit.build import Order, Paper, Source, fingerprinted_papers, no_room_on_stencil, work
from lessonkit.cli.inputs import Inputs
from lessonkit.cli.reading import Said, said
from lessonkit.forgetting import forget_lesson
from lessonkit.pieces.model import Kit


class Task(NamedTuple):
    """Without `papers`, it is only looked at."""

    lesson: Path
    room: Path | None
    clay: str | None
    order: Order
    papers: bool = True


class Made(NamedTuple):
    """`papers` are None for a lesson with an error; `level` is one that was asked for and that the room doesn't have."""

    inputs: dict[str, str]
    said: list[Said]
    papers: dict[str, Paper] | None = None
    code: str = ""
    level: str | None = None
    levels: tuple[str, ...] = ()  # those that it has


def make(task: Task) -> Made:
    """Whatever happens is told in `said`: one lesson's fault stops no other."""
    forget_lesson()  # the last one; at the end of a build there would be no use in it
    noted: dict[str, str] = {}
    try:
        inputs = Inputs(task.lesson, task.room)
        noted = inputs.noted
        room = Source(str(task.room), inputs.room) if task.room and inputs.room is not None else None
        lesson = Source(str(task.lesson), inputs.lesson, inputs.beside)
        kit, problems = work(lesson, room, task.clay, task.order)
        made = Made(noted, said(problems))
        if kit is None or not task.papers:
            return made
        if strange := [level for level in task.order.levels or () if level not in kit.room.levels]:
            return made._replace(level=strange[0], levels=tuple(kit.room.levels))
        return _with_papers(made, kit, lesson, task.order)
    except OSError as error:
        return Made({}, [("error", f"{error.filename}: could not be read: {error.strerror}.")])
    except Exception:
        import traceback

        return Made({}, [("error", f"{task.lesson}: lessonkit itself failed here. Please pass this on:\n{traceback.format_exc()}")])


def _with_papers(made: Made, kit: Kit, lesson: Source, order: Order) -> Made:
    from lessonkit.layout.stencils.document import StencilError  # late: where it is only looked at, nothing is drawn

    try:
        return made._replace(papers=dict(fingerprinted_papers(kit, order)), code=kit.code)
    except StencilError as error:
        return made._replace(said=[*made.said, *said((no_room_on_stencil(error, lesson),))])


def load() -> None:
    """Everything that `make` imports late, before processes are forked that would each do it."""
    from lessonkit.layout import cards, printing, set_out, sign_tents, signs, substitute, teacher
    from lessonkit.layout.stencils import document, drawings
    from lessonkit.writers import pdf, svg

    _ = (cards, printing, set_out, sign_tents, signs, substitute, teacher, document, drawings, pdf, svg)
