"""The flow from text to papers. Returns bytes, touches no disk.

    text -> tree -> Lesson, Room -> Kit (pieces as cut, steps by level) -> pages -> bytes
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import NamedTuple

from lessonkit.lesson.decode import Model, Written, decode
from lessonkit.lesson.lesson import Lesson
from lessonkit.lesson.room import Room, assumed_room
from lessonkit.pieces.model import Kit
from lessonkit.pieces.work import work_out
from lessonkit.problems import Problem, Span
from lessonkit.source.text import read_tree
from lessonkit.source.tree import Scalar


class Source(NamedTuple):
    """A file's name, as she knows it, and its bytes."""

    file: str
    data: bytes


def read(source: Source, model: type[Model]) -> tuple[Written[Model] | None, tuple[Problem, ...]]:
    tree, problems = read_tree(source.data, source.file)
    if tree is None or any(problem.severity == "error" for problem in problems):
        return None, problems
    written, more = decode(tree, model)
    return written, (*problems, *more)


def work(lesson: Source, room: Source | None = None, clay: str | None = None) -> tuple[Kit | None, tuple[Problem, ...]]:
    """One lesson worked out in a room (a sensible one is assumed if there is none), with every problem of both files."""
    written, problems = read(lesson, Lesson)
    room_written, room_problems = read(room, Room) if room else (_assumed(), ())
    problems = (*room_problems, *problems)
    if written is None or room_written is None:
        return None, problems
    kit, more = work_out(written, room_written, clay, assumed=room is None)
    return kit, (*problems, *more)


def _assumed() -> Written[Room]:
    return Written(Room.model_validate(assumed_room()), Scalar(None, Span("assumed room", 1, 1, 1, 1)))


class Order(NamedTuple):
    """What is wanted of a kit. None stands for the room's usual, or for all."""

    paper: str | None = None
    levels: tuple[str, ...] | None = None
    only: tuple[str, ...] | None = None


def papers(kit: Kit, order: Order = Order()) -> dict[str, bytes]:
    """Every paper that is wanted, by file name."""
    made: dict[str, bytes] = {}
    for name in order.only or tuple(PAPERS):
        made.update(PAPERS[name](kit, order))
    return made


def _stencils(kit: Kit, order: Order) -> Iterator[tuple[str, bytes]]:
    from lessonkit.layout.stencils import stencil_document
    from lessonkit.writers.pdf import write_pdf

    paper = order.paper or kit.room.paper[0]
    yield f"stencils{_mark(kit, paper)}.pdf", write_pdf(stencil_document(kit, paper))


def _cutting_files(kit: Kit, order: Order) -> Iterator[tuple[str, bytes]]:
    from lessonkit.layout.stencils import stencil_drawings
    from lessonkit.writers.svg import write_svg

    for name, page in stencil_drawings(kit):
        yield f"stencil-{name}.svg", write_svg(page, f"{kit.lesson.title}, {page.name}")


def _cards(kit: Kit, order: Order) -> Iterator[tuple[str, bytes]]:
    from lessonkit.layout.cards import card_document
    from lessonkit.writers.pdf import write_pdf

    paper = order.paper or kit.room.paper[0]
    for level in order.levels or tuple(kit.room.levels):
        if kit.steps[level]:
            yield f"cards-{level}{_mark(kit, paper)}.pdf", write_pdf(card_document(kit, level, paper))


def _signs(kit: Kit, order: Order) -> Iterator[tuple[str, bytes]]:
    from lessonkit.layout.signs import sign_document
    from lessonkit.writers.pdf import write_pdf

    paper = order.paper or kit.room.paper[0]
    if kit.lesson.stations:
        yield f"station-signs{_mark(kit, paper)}.pdf", write_pdf(sign_document(kit, paper))


def _teacher(kit: Kit, order: Order) -> Iterator[tuple[str, bytes]]:
    from lessonkit.layout.teacher import teacher_document
    from lessonkit.writers.pdf import write_pdf

    paper = order.paper or kit.room.paper[0]
    yield f"teacher{_mark(kit, paper)}.pdf", write_pdf(teacher_document(kit, paper))


def _mark(kit: Kit, paper: str) -> str:
    """A paper other than the room's usual one is in the name."""
    return "" if paper == kit.room.paper[0] else f"-{paper.lower()}"


PAPERS: dict[str, Callable[[Kit, Order], Iterator[tuple[str, bytes]]]] = {
    "stencils": _stencils,
    "cutting-files": _cutting_files,
    "cards": _cards,
    "signs": _signs,
    "teacher": _teacher,
}
