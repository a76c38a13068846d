"""The flow from text to papers. Returns bytes, touches no disk.

    text -> tree -> Lesson, Room -> Kit (pieces as cut, steps by level) -> pages -> bytes
"""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from functools import lru_cache
from pathlib import PurePath
from typing import TYPE_CHECKING, NamedTuple

from lessonkit.drawing.items import Document
from lessonkit.layout.card_order import CardOrder
from lessonkit.lesson.decode import Model, Written, decode
from lessonkit.lesson.lesson import Lesson
from lessonkit.lesson.room import Room, assumed_room
from lessonkit.lesson.translation import LANGUAGES, Translation, translation_name
from lessonkit.pieces.chosen_words import reading_problems
from lessonkit.pieces.clays import room_problems
from lessonkit.pieces.firing_checks import kiln_problems
from lessonkit.pieces.letters import text_problems
from lessonkit.pieces.model import Kit
from lessonkit.pieces.silhouettes import silhouettes
from lessonkit.pieces.translating import translate
from lessonkit.pieces.work import work_out
from lessonkit.problems import Problem, Span
from lessonkit.source.text import read_tree

if TYPE_CHECKING:
    from lessonkit.layout.stencils.document import StencilError

Drawings = Iterator[tuple[str, Document]]
ASSUMED_ROOM = "assumed room"  # stands where a file's name would


class Source(NamedTuple):
    """A file's name, as she knows it, and its bytes.

    `beside` reads another file of the same folder by its name: OSError where it can't, ValueError for a name that leads out
    of the folder. None: there are no other files.
    """

    file: str
    data: bytes
    beside: Callable[[str], bytes] | None = None


def read(source: Source, model: type[Model]) -> tuple[Written[Model] | None, tuple[Problem, ...]]:
    return _read(source.data, source.file, model)


@lru_cache(maxsize=3)  # one room is read for every lesson
def _read(data: bytes, file: str, model: type[Model]) -> tuple[Written[Model] | None, tuple[Problem, ...]]:
    tree, problems = read_tree(data, file)
    if tree is None or any(problem.severity == "error" for problem in problems):
        return None, problems
    written, more = decode(tree, model)
    return written, (*problems, *more)


class Order(NamedTuple):
    """What is wanted of a kit. None stands for the room's usual, or for all."""

    paper: str | None = None
    levels: tuple[str, ...] | None = None
    only: tuple[str, ...] | None = None
    mirror: bool = False  # stencils with a back to every sheet
    cards: CardOrder = CardOrder()


def work(lesson: Source, room: Source | None = None, clay: str | None = None, order: Order | None = None) -> tuple[Kit | None, tuple[Problem, ...]]:
    """One lesson worked out in a room (a sensible one is assumed if there is none), with every problem of all its files. With
    `order`, the papers that it asks for are tried too."""
    written, problems = read(lesson, Lesson)
    room_written, room_faults = read(room or assumed_source(), Room)
    problems = (*room_faults, *problems)
    if written is None or room_written is None:
        return None, problems
    shapes, faults = silhouettes(written, lesson.beside)
    kit, more = work_out(written, room_written, clay, assumed=not room or room.file == ASSUMED_ROOM, silhouettes=shapes)
    problems = (*problems, *faults, *more)
    if kit is None:
        return None, problems
    kit, more = _with_translations(kit, lesson)
    problems = (*problems, *more)
    refused = tuple(_order_problems(written, kit, order, lesson)) if order else ()
    return None if any(problem.severity == "error" for problem in refused) else kit, (*problems, *refused)


def _with_translations(kit: Kit, lesson: Source) -> tuple[Kit, tuple[Problem, ...]]:
    """The kit with those that lie beside the lesson. One with an error is left out: the lesson's own papers can do without."""
    found: dict[str, Kit] = {}
    problems: tuple[Problem, ...] = ()
    for language in LANGUAGES:
        name = translation_name(lesson.file, language)
        try:
            data = lesson.beside(name) if lesson.beside and language != kit.room.language else None
        except (OSError, ValueError):
            continue
        if data is not None:
            written, faults = read(Source(str(PurePath(lesson.file).with_name(name)), data), Translation)
            translated, more = translate(kit, written, language) if written else (None, ())
            found |= {language: translated} if translated else {}
            problems = (*problems, *faults, *more)
    return replace(kit, translations=found), problems


def _order_problems(lesson: Written[Lesson], kit: Kit, order: Order, source: Source) -> Iterator[Problem]:
    """What stands in the way of the papers that are asked for."""
    from lessonkit.layout.card_checks import card_problems
    from lessonkit.layout.stencil_checks import stencil_problems

    papers = (order.paper,) if order.paper else kit.room.paper
    if "stencils" in (order.only or PAPERS):
        yield from stencil_problems(lesson, kit, papers, order.mirror)
    missing = [language for language in order.cards.languages if language not in (kit.room.language, *kit.translations)]
    for language in missing:
        yield Problem("error", "no-translation", Span(source.file, 1, 1, 1, 1), f"this lesson is not there in the language {language}.",
                      f"Put its words beside it, in {translation_name(source.file, language)}.")  # fmt: skip
    if not missing:
        levels = [level for level in order.levels or kit.room.levels if level in kit.steps]
        yield from reading_problems(lesson, levels, order.cards.reading)
        yield from card_problems(lesson, kit, levels, papers, order.cards)


def no_room_on_stencil(error: StencilError, lesson: Source) -> Problem:
    """What is told of a lesson whose stencils were drawn and found no room."""
    from lessonkit.layout.stencil_checks import no_room

    written, _ = read(lesson, Lesson)
    assert written is not None  # it was drawn
    return no_room(written, error)


def assumed_source() -> Source:
    """What stands for a room file where there is none: JSON is YAML too."""
    return Source(ASSUMED_ROOM, json.dumps(assumed_room()).encode())


class Paper(NamedTuple):
    """A file, and the fingerprint of each of its pages (see `writers.fingerprint`)."""

    data: bytes
    pages: tuple[str, ...]


def papers(kit: Kit, order: Order = Order()) -> dict[str, bytes]:
    """Every paper that is wanted, by file name."""
    return {file: paper.data for file, paper in fingerprinted_papers(kit, order)}


def fingerprinted_papers(kit: Kit, order: Order = Order()) -> Iterator[tuple[str, Paper]]:
    """The same, one after the other."""
    for name in order.only or PAPERS:
        if name == "cutting-files":
            yield from _cutting_files(kit)
        else:
            for file, document in documents(kit, name, order):
                yield f"{file}.pdf", _pdf(_corrected(kit, document), kit.code)


def documents(kit: Kit, name: str, order: Order = Order()) -> Drawings:
    """One of DOCUMENTS as it is drawn, with the names of its files, before any printer's correction."""
    return DOCUMENTS[name](kit, order.paper or kit.room.paper[0], order)


def _corrected(kit: Kit, document: Document) -> Document:
    from lessonkit.layout.printing import corrected

    return corrected(document, kit.room.printed.scale) if kit.room.printed else document


def _pdf(document: Document, code: str) -> Paper:
    from lessonkit.writers.fingerprint import fingerprint
    from lessonkit.writers.operators import Drawn
    from lessonkit.writers.pdf import pdf_of

    drawn = Drawn(document.pages)
    return Paper(pdf_of(document, drawn), tuple(fingerprint(sheet, code) for sheet in drawn.sheets))


def _stencils(kit: Kit, paper: str, order: Order) -> Drawings:
    from lessonkit.layout.stencils.document import stencil_documents

    sheets, both_sides = stencil_documents(kit, paper, order.mirror)
    yield f"stencils{_mark(kit, paper)}", sheets
    if both_sides:
        yield f"stencils-both-sides{_mark(kit, paper)}", both_sides


def _cutting_files(kit: Kit) -> Iterator[tuple[str, Paper]]:
    """A cutting machine needs no printer's correction."""
    from lessonkit.layout.stencils.drawings import stencil_drawings
    from lessonkit.writers.fingerprint import fingerprint
    from lessonkit.writers.operators import Drawn
    from lessonkit.writers.svg import write_svg

    for name, page in stencil_drawings(kit):
        (sheet,) = Drawn([page]).sheets
        yield f"stencil-{name}.svg", Paper(write_svg(page, f"{kit.lesson.title}, {page.name}"), (fingerprint(sheet, kit.code),))


def _cards(kit: Kit, paper: str, order: Order) -> Drawings:
    from lessonkit.layout.cards import card_document

    for level in order.levels or tuple(kit.room.levels):
        if kit.steps[level]:
            name = f"cards-{level}{order.cards.suffix(kit, level)}{_mark(kit, paper)}"
            yield name, card_document(kit, level, paper, order.cards)


def _signs(kit: Kit, paper: str, order: Order) -> Drawings:
    from lessonkit.layout.signs import sign_document

    for spoken in order.cards.spoken(kit) if kit.lesson.stations else ():
        language = "" if spoken is kit else f"-{spoken.room.language}"
        yield f"station-signs{language}{_mark(kit, paper)}", sign_document(spoken, paper)


def _tents(kit: Kit, paper: str, order: Order) -> Drawings:
    from lessonkit.layout.sign_tents import tent_document

    for spoken in order.cards.spoken(kit) if kit.lesson.stations else ():
        language = "" if spoken is kit else f"-{spoken.room.language}"
        yield f"table-tents{language}{_mark(kit, paper)}", tent_document(spoken, paper)


def _teacher(kit: Kit, paper: str, order: Order) -> Drawings:
    from lessonkit.layout.teacher import teacher_document
    from lessonkit.layout.teacher_prints import Printing

    how = Printing(_mark(kit, paper), order.cards, order.mirror)
    yield f"teacher{how.mark}", teacher_document(kit, paper, how)


def _substitute(kit: Kit, paper: str, order: Order) -> Drawings:
    from lessonkit.layout.substitute import substitute_document

    yield f"substitute{_mark(kit, paper)}", substitute_document(kit, paper)


def _set_out(kit: Kit, paper: str, order: Order) -> Drawings:
    from lessonkit.layout.set_out import set_out_document

    yield f"set-out{_mark(kit, paper)}", set_out_document(kit, paper)


def _mark(kit: Kit, paper: str) -> str:
    """A paper other than the room's usual one is in the name."""
    return "" if paper == kit.room.paper[0] else f"-{paper.lower()}"


DOCUMENTS: dict[str, Callable[[Kit, str, Order], Drawings]] = {
    "stencils": _stencils,
    "cards": _cards,
    "signs": _signs,
    "tents": _tents,
    "teacher": _teacher,
    "substitute": _substitute,
    "set-out": _set_out,
}
PAPERS = ("stencils", "cutting-files", *(name for name in DOCUMENTS if name != "stencils"))


def room_papers(room: Room) -> dict[str, bytes]:
    """What measures the room itself, on each of its papers, and its kiln's door sign; the room must be sound (`sound_room`)."""
    from lessonkit.layout.kiln_door import kiln_door_document
    from lessonkit.layout.room_papers import fired_ruler_document, print_check_document, shrinkage_bar_document
    from lessonkit.writers.pdf import write_pdf

    usual = room.paper[0]
    made = {f"print-check-{paper.lower()}.pdf": write_pdf(print_check_document(room, paper)) for paper in room.paper}
    return made | {
        "test-bars.pdf": write_pdf(shrinkage_bar_document(room, usual)),
        "fired-rulers.pdf": write_pdf(fired_ruler_document(room, usual)),
        "kiln-door.pdf": write_pdf(kiln_door_document(room, usual)),
    }


def gallery_papers(paper: str, kits: Sequence[Kit] = ()) -> dict[str, bytes]:
    """Every outline and form, every step picture, and what the lessons cut, on sheets to choose from."""
    from lessonkit.layout.gallery import example_piece, gallery_document, shelf_document
    from lessonkit.layout.pictures.book import contact_sheet
    from lessonkit.writers.pdf import write_pdf

    return {
        "gallery.pdf": write_pdf(gallery_document(paper)),
        "step-pictures.pdf": write_pdf(contact_sheet(example_piece(), paper)),
        **({"shelf.pdf": write_pdf(shelf_document(kits, paper))} if kits else {}),
    }


def sound_room(room: Source | None) -> tuple[Room | None, tuple[Problem, ...]]:
    """The room alone, with its problems."""
    written, problems = read(room or assumed_source(), Room)
    if written is None:
        return None, problems
    problems = (*problems, *room_problems(written), *kiln_problems(written), *text_problems(written))
    return None if any(problem.severity == "error" for problem in problems) else written.value, problems
