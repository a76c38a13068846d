"""Her lessons to choose from, and one of them with the values that she may change."""

from __future__ import annotations

from typing import Any

from lessonkit.build import Source, read, sound_room, work
from lessonkit.layout.card_order import CARD_FORMATS
from lessonkit.layout.gallery import small_page
from lessonkit.layout.wording import say
from lessonkit.lesson.lesson import Lesson
from lessonkit.lesson.room import Clay, Room
from lessonkit.lesson.translation import LANGUAGES
from lessonkit.page.desk import Desk, mark_of
from lessonkit.page.fields import Field, fields
from lessonkit.page.refused import Refused
from lessonkit.page.sheets import papers_shown
from lessonkit.pieces.clays import shrinkages
from lessonkit.source.text import read_tree
from lessonkit.source.tree import Mapping, Scalar
from lessonkit.units import PAPERS
from lessonkit.writers.screen import write_screen

Json = dict[str, Any]

_FORMATS = {"4": "four to the sheet", "2": "two to the sheet", "1": "one to the sheet", "large": "large print", "strip": "a strip of pictures"}
_READINGS = {"picture": "pictures alone", "plain": "plain words", "full": "full words"}


def shelf(desk: Desk) -> Json:
    """Every lesson of the folder, and what the room offers. Refused for a room that can't be used."""
    source = desk.room_source()
    room, problems = sound_room(source)
    if room is None:
        first = next(problem for problem in problems if problem.severity == "error")
        raise Refused(409, f"{first.span}: {first.what}", f"{first.hint} Then load this page again.", problems)
    return {
        "room": _room(desk, room),
        "lessons": [_lesson(source) for source in desk.shelf()],
        "card_formats": [{"id": name, "name": _FORMATS[name]} for name in CARD_FORMATS],
        "readings": [{"id": name, "name": words} for name, words in _READINGS.items()],
        "papers": [{"id": name, "name": words} for name, words in papers_shown(room)],
        "open": desk.first,
    }


def _room(desk: Desk, room: Room) -> Json:
    papers = [*room.paper, *(paper for paper in PAPERS if paper not in room.paper)]
    return {
        "name": room.name,
        "file": path.name if (path := desk.room_path()) else None,
        "assumed": path is None,
        "units": room.units,
        "papers": papers,
        "clays": [{"name": clay.name, "fired_to": f"cone {clay.cone}", "shrinkage": _shrinkage(clay)} for clay in room.clays],
        "levels": [{"id": level, "name": name} for level, name in room.levels.items()],
        "groups": [{"name": group.name, "people": group.levels or {"all": group.size}} for group in room.groups],
        "language": room.language,
        "languages": [{"id": language, "name": say("language_name", language)} for language in LANGUAGES],
    }


def _shrinkage(clay: Clay) -> str:
    known = shrinkages(clay)
    return f"shrinks {next(iter(known.values()))[1] * 100:.3g} %" if known else ""


def _lesson(source: Source) -> Json:
    """As much of it as can be read: a lesson with a fault is shown too, so that she finds the fault."""
    file = source.file
    written, _ = read(source, Lesson)
    if written:
        lesson = written.value
        return {"file": file, "title": lesson.title, "about": lesson.about, "technique": lesson.technique, "picture": None, "sound": True}
    root, _ = read_tree(source.data, file)
    found = {entry.key: entry.value.text for entry in root.entries if isinstance(entry.value, Scalar)} if isinstance(root, Mapping) else {}
    about, technique = found.get("about") or "", found.get("technique") or ""
    return {"file": file, "title": found.get("title") or file, "about": about, "technique": technique, "picture": None, "sound": False}


def small(desk: Desk, file: str) -> str:
    """A small picture of everything that the lesson cuts. Refused for a lesson that can't be worked out."""
    kit, _ = work(desk.lesson(file), desk.room_source())
    if kit is None:
        raise Refused(404, f"{file} has a fault, so there is no picture of it.", "Open it to see what is wrong.")
    return write_screen(small_page(kit), kit.lesson.title, "small")


def lesson(desk: Desk, file: str) -> Json:
    """A lesson's values as they are written."""
    source = desk.lesson(file)
    root, _ = read_tree(source.data, file)
    room, _ = sound_room(desk.room_source())
    stick = room.sticks[0].thick.text if room else ""
    known = fields(root) if root else ()
    clay = root.get("clay") if isinstance(root, Mapping) else None
    return {
        "file": file,
        "title": next((field.written for field in known if field.path == ("title",)), file),
        "clay": clay.value.text if clay and isinstance(clay.value, Scalar) else None,
        "mark": mark_of(source.data),
        "fields": [_field(number, field, stick) for number, field in enumerate(known)],
    }


def _field(number: int, field: Field, stick: str) -> Json:
    return {
        "id": str(number),
        "path": list(field.path),
        "label": field.label,
        "hint": field.hint,
        "written": stick if field.missing else field.written,
        "value_mm": field.value_mm,
        "kind": field.kind,
        "piece": field.piece,
        "missing": field.missing,
    }
