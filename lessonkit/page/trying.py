"""A lesson with what she typed and chose, worked out but not kept: its sizes, its clay, its minutes, its sheets, and what is wrong."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from io import BytesIO
from typing import Any
from zipfile import ZIP_DEFLATED, ZipFile, ZipInfo

from lessonkit.build import ASSUMED_ROOM, PAPERS, Order, Source, assumed_source, papers, work
from lessonkit.layout.card_order import CardOrder
from lessonkit.lesson.classroom import Group
from lessonkit.lesson.lesson import Lesson
from lessonkit.lesson.room import Room
from lessonkit.page.asked import Choices
from lessonkit.page.desk import Desk, mark_of
from lessonkit.page.fields import fields, place_of
from lessonkit.page.refused import Refused
from lessonkit.page.sheets import CARDS, paper_of, sheets
from lessonkit.page.splicing import Change, spliced
from lessonkit.page.values import NotSpliced
from lessonkit.pieces.fired import fired_words
from lessonkit.pieces.model import Kit, Measure, Piece
from lessonkit.planning.clay_needs import clay_needs
from lessonkit.planning.faults import PlanError
from lessonkit.planning.minutes import timeline
from lessonkit.planning.numbers import groups_of
from lessonkit.problems import Problem
from lessonkit.source.text import read_tree
from lessonkit.units import UnitError, paper_named, show_length, show_weight

Json = dict[str, Any]

_FIRST_DAY = (1980, 1, 1, 0, 0, 0)  # the earliest that a zip file can say: the same papers make the same file
_OF_CHOICE = {"unknown-clay": "clay", "clay-too-hot": "clay", "no-shrinkage-at-cone": "clay", "no-translation": "languages"}


@dataclass(frozen=True, slots=True)
class Tried:
    """A lesson worked out. `text` is what was worked out, None where her changes could not be put in; then `refusal` says why."""

    source: Source
    kit: Kit | None
    problems: tuple[Problem, ...]
    order: Order
    text: bytes | None
    refusal: NotSpliced | None = None


def tried(desk: Desk, asked: Choices, thorough: bool) -> Tried:
    """`thorough`: all that `check` looks at; else only what the paper that is shown depends on."""
    source, order = desk.lesson(asked.file, asked.mark), _order(asked)
    try:
        text = spliced(source.data, asked.file, changes(asked), Lesson)
    except NotSpliced as refusal:
        if refusal.path:
            return Tried(source, None, (), order, None, refusal)
        text = source.data  # it can't be read, and whoever reads it says why
    cards = thorough or asked.show.startswith(CARDS)
    kit, problems = work(source._replace(data=text), _room(desk, asked), asked.clay, order if cards else None)
    if kit and not set(order.levels or ()) <= set(kit.room.levels):
        raise Refused(400, "there is no such level in the room.", "Load the page again.")
    return Tried(source, kit, problems, order, text)


def changes(asked: Any) -> list[Change]:
    return [Change(change.path, change.written) for change in asked.changes]


def _order(asked: Choices) -> Order:
    try:
        paper = paper_named(asked.paper) if asked.paper else None
    except UnitError as error:
        raise Refused(400, error.what, error.hint) from None
    return Order(paper, asked.levels or None, None, False, CardOrder(asked.card_format, asked.reading, asked.languages or ()))


def _room(desk: Desk, asked: Choices) -> Source:
    """The room as it would be if she had written her choice into it."""
    room = desk.room_source() or assumed_source()
    if asked.units is None:
        return room
    try:
        return room._replace(data=spliced(room.data, room.file, [Change(("units",), asked.units)], Room))
    except NotSpliced:
        return room  # whatever is wrong with it is told by whoever reads it


def answer(desk: Desk, asked: Choices) -> Json:
    """What /try says."""
    found = tried(desk, asked, thorough=False)
    problems = list(_problems(asked, found))
    return {"turn": asked.turn, "problems": problems, **seen(found.kit, found.order, asked.show, asked.pages, asked.group)}


def seen(kit: Kit | None, order: Order, show: str, wanted: tuple[int, int] | None, group: str | None) -> Json:
    """What is to be seen of a kit: sizes, clay, minutes and the sheets of one paper; of no kit, nothing."""
    if kit is None:
        return {"pieces": [], "clay": None, "minutes": [], "pages": [], "page_count": 0}
    pages, count = sheets(kit, show, order._replace(levels=paper_of(show)[1]), wanted)
    return {"pieces": _pieces(kit), "clay": _clay(kit, group), "minutes": list(_minutes(kit)), "pages": pages, "page_count": count}


def warm_up(desk: Desk) -> None:
    """Works out one lesson, so that typefaces and tables are read before she types."""
    with desk.lock:
        for source in desk.shelf():
            answer(desk, Choices(file=source.file, mark=mark_of(source.data)))
            return


# -- what is wrong
def _problems(asked: Choices, found: Tried) -> Iterator[Json]:
    root, _ = read_tree(found.source.data, asked.file)
    numbers = {field.path: str(number) for number, field in enumerate(fields(root) if root else ())}
    if refusal := found.refusal:
        yield {"severity": "error", "what": refusal.what, "hint": refusal.hint, "line": None, "field": numbers.get(refusal.path)}
    tree = read_tree(found.text, asked.file)[0] if found.text else None
    for problem in sorted(set(found.problems), key=lambda problem: (problem.severity, problem.span)):
        at = place_of(tree, problem.span, numbers) if tree and problem.span.file == asked.file else None
        of_choice = _OF_CHOICE.get(problem.kind)
        chosen = of_choice if of_choice and getattr(asked, of_choice) else None
        yield told(problem, chosen or (numbers[at] if at else None), asked.file)


def told(problem: Problem, field: str | None, file: str) -> Json:
    """A problem for the page; one of another file begins with that file's name."""
    other = "" if problem.span.file in (file, ASSUMED_ROOM) else f"{problem.span.file}, line {problem.span.line}: "
    line = problem.span.line if not other else None
    return {"severity": problem.severity, "what": f"{other}{problem.what}", "hint": problem.hint, "line": line, "field": field}


# -- sizes, clay, minutes
def _pieces(kit: Kit) -> list[Json]:
    units = kit.room.units
    return [
        {
            "name": piece.name,
            "levels": [kit.room.levels[level] for level in piece.levels],
            "count": piece.count,
            "thickness": show_length(piece.thickness_mm, units),
            "weight": show_weight(piece.mass_g, units),
            "parts": list(_parts(piece, kit)),
        }
        for piece in kit.pieces
    ]


def _parts(piece: Piece, kit: Kit) -> Iterator[Json]:
    if len(piece.parts) > 1:
        yield {"name": "finished", "sizes": [_size(measure, kit) for measure in piece.measures]}
    for part in piece.parts:
        yield {"name": f"{part.name}, {part.letter}", "sizes": [_size(measure, kit) for measure in part.measures]}


def _size(measure: Measure, kit: Kit) -> Json:
    cut = f"{measure.cut:.1f}°" if measure.unit == "deg" else show_length(measure.cut, kit.room.units)
    return {"name": measure.words, "fired": fired_words(measure, kit.room.units), "cut": cut}


def _clay(kit: Kit, name: str | None) -> Json | None:
    """What one learner is given, and what the group needs. None where that can't be counted."""
    group = _group(kit.room, name)
    try:
        needs, _, _ = clay_needs(kit, group)
    except PlanError:
        return None
    units = kit.room.units
    several = len(needs) > 1
    each, all_of_it = [], []
    for need in needs:
        of = f" of {need.clay}" if several else ""
        for lump in need.lumps:
            whose = " and ".join(kit.room.levels[level] for level in lump.levels)
            each.append(f"{show_weight(lump.ball_g, units)}{of}" + (f" ({whose})" if len(need.lumps) > 1 else ""))
        bags = f"{need.bags} bag{'' if need.bags == 1 else 's'} of {show_weight(need.bag_g, units)}"
        all_of_it.append(f"{show_weight(need.weight_g, units)}{of}, {bags}, for {sum(lump.people for lump in need.lumps)} people and spares")
    clay = kit.clay
    basis = f"{clay.name}, cone {clay.cone}, shrinks {clay.shrinkage * 100:.3g} % ({clay.basis})"
    return {"each": "; ".join(each), "group": f"{group.name}: {'; '.join(all_of_it)}", "basis": basis}


def _group(room: Room, name: str | None) -> Group:
    groups, _ = groups_of(room)
    return next((group for group in groups if group.name == name), groups[0])


def _minutes(kit: Kit) -> Iterator[Json]:
    times = timeline(kit)
    for course in times.courses:
        if course.stretches:
            yield {"level": course.level, "name": kit.room.levels[course.level], "minutes": course.work_min, "of": times.for_work_min}


# -- files
def printed(desk: Desk, asked: Choices) -> tuple[str, bytes]:
    """One paper, or the whole set in one zip file: its name and its bytes. Refused for a lesson with an error."""
    found = tried(desk, asked, thorough=True)
    if found.refusal:
        raise Refused(422, found.refusal.what, found.refusal.hint)
    if found.kit is None:
        errors = tuple(problem for problem in found.problems if problem.severity == "error")
        raise Refused(422, "this lesson has a fault, so no paper is made of it.", "Mend what is marked first.", errors)
    order = found.order
    if asked.only is not None:
        name, levels = paper_of(asked.only)
        if name not in PAPERS or not set(levels or ()) <= set(found.kit.room.levels):
            raise Refused(400, f"there is no paper called “{asked.only}”.", "Load the page again.")
        order = order._replace(only=(name,), levels=levels or order.levels)
    files = papers(found.kit, order)
    stem = re.sub(r"[^\w-]+", "-", asked.file.rpartition(".")[0]).strip("-") or "lesson"
    if len(files) == 1:
        ((name, data),) = files.items()
        return f"{stem}-{name}", data
    if not files:
        raise Refused(422, "this lesson has no such paper.", "Signs and tents need stations: in the lesson file.")
    return f"{stem}.zip", _zipped(files)


def _zipped(files: dict[str, bytes]) -> bytes:
    made = BytesIO()
    with ZipFile(made, "w", ZIP_DEFLATED) as archive:
        for name, data in files.items():
            archive.writestr(ZipInfo(name, _FIRST_DAY), data, ZIP_DEFLATED)
    return made.getvalue()
