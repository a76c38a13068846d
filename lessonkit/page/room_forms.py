"""What was measured in the room, filled in here and put into her room file: the print check, and each clay's test bars."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from importlib.resources import files
from typing import Any

from lessonkit.build import Source, room_papers, sound_room
from lessonkit.lesson.room import PRINT_BAR_ACROSS_MM, PRINT_BAR_DOWN_MM, Clay, Room
from lessonkit.page.asked import RoomForm, RoomPaper
from lessonkit.page.desk import CHANGED, ROOM_NAME, Desk, mark_of
from lessonkit.page.fields import place_of
from lessonkit.page.refused import Refused
from lessonkit.page.saving import keep
from lessonkit.page.splicing import Change, spliced
from lessonkit.page.values import NotSpliced
from lessonkit.pieces.clays import shrinkages
from lessonkit.problems import Problem
from lessonkit.source.text import read_tree
from lessonkit.source.tree import Node, Path, scalars

Json = dict[str, Any]

PRINT_CHECK, TEST_BARS = "print-check", "test-bars-"  # the second is followed by the clay's number
_STAGES = {"wet": "wet", "dry": "dry", "bisque": "after the first firing", "fired": "after the last firing"}
_FIRST_BARS, _MORE_BARS = 3, 1  # three tell how far the next piece may stray


@dataclass(frozen=True, slots=True)
class _Field:
    """A value to fill in: its name in the form, and where it stands in the room file, or would."""

    name: str
    path: Path
    label: str
    hint: str
    written: str


def forms(desk: Desk) -> Json:
    """The forms as they are filled in now; those of a room to start from where there is none yet. Refused for a room with a fault."""
    source, room, root = _room(desk)
    texts = {path: scalar.text or "" for path, scalar in scalars(root)}
    about = "Print the sheet, measure its two bars, and write what you find. Every paper is then drawn so that your printer makes it true."
    shown = [_form(PRINT_CHECK, "Your printer", about, _print_fields(texts))]
    about = (
        "Cut three bars, press two marks 100 mm apart into each, and measure between the marks at every stage. "
        "Fill in what you have; come back for the rest."
    )
    for number, clay in enumerate(room.clays):
        shown.append(_form(f"{TEST_BARS}{number}", f"Test bars: {clay.name}", about, _bar_fields(texts, number, clay)))
    return {"mark": mark_of(source.data), "forms": shown}


def fill_in(desk: Desk, asked: RoomForm) -> Json:
    """What the values make of the room; written into its file unless they are only tried, or have a fault."""
    source, room, root = _room(desk)
    if asked.mark != mark_of(source.data):
        raise Refused(409, f"{source.file} {CHANGED}", "Load this page again, and fill it in once more.")
    fields = _fields_of(asked.form, room, {path: scalar.text or "" for path, scalar in scalars(root)})
    values = {field.name: asked.values.get(field.name, field.written).strip() for field in fields}
    typed = [field for field in fields if values[field.name] != field.written]
    changes, missing = _changes(asked.form, fields, values, root)
    if missing:
        return _faulty(asked, [{"field": missing, "what": "this is needed too.", "hint": "Measure it, and write it here."}])
    try:
        text = spliced(source.data, source.file, changes, Room)
    except NotSpliced as fault:
        name = next((field.name for field in fields if field.path == fault.path), None)
        return _faulty(asked, [{"field": name, "what": fault.what, "hint": fault.hint}])
    new, problems = sound_room(Source(source.file, text))
    if new is None:
        tree, _ = read_tree(text, source.file)
        return _faulty(asked, [_told(problem, tree, typed) for problem in problems if problem.severity == "error"])
    if not asked.trying:
        path = desk.room_path()
        at = path.resolve() if path else desk.folder / ROOM_NAME
        keep(at.parent, {at.name: text}, {at.name: source.data if path else None})
    return {"mark": asked.mark if asked.trying else mark_of(text), "result": _result(asked.form, new), "problems": []}


def _faulty(asked: RoomForm, problems: list[Json]) -> Json:
    return {"mark": asked.mark, "result": "", "problems": problems}


def sheet(desk: Desk, asked: RoomPaper) -> tuple[str, bytes]:
    """The sheet that a form is filled in from: its name and its bytes."""
    _, room, _ = _room(desk)
    name = f"print-check-{room.paper[0].lower()}.pdf" if asked.form == PRINT_CHECK else "test-bars.pdf"
    return name, room_papers(room)[name]


def _room(desk: Desk) -> tuple[Source, Room, Node]:
    source = desk.room_source() or Source(ROOM_NAME, files("lessonkit.lesson.starters").joinpath(ROOM_NAME).read_bytes())
    room, problems = sound_room(source)
    root, _ = read_tree(source.data, source.file)
    if room is None or root is None:
        first = next(problem for problem in problems if problem.severity == "error")
        raise Refused(409, f"{first.span}: {first.what}", f"{first.hint} Then load this page again.", problems)
    return source, room, root


# -- fields
def _print_fields(texts: Mapping[Path, str]) -> list[_Field]:
    hint = "as measured, to a tenth of a millimetre, such as 179.4 mm"
    bars = {"across": f"The bar of {PRINT_BAR_ACROSS_MM:g} mm at the top", "down": f"The bar of {PRINT_BAR_DOWN_MM:g} mm at the left"}
    return [_Field(name, ("printed", name), label, hint, texts.get(("printed", name), "")) for name, label in bars.items()]


def _bar_fields(texts: Mapping[Path, str], number: int, clay: Clay) -> list[_Field]:
    at: Path = ("clays", number)
    there = len(clay.bars)
    new = _MORE_BARS if there else _FIRST_BARS
    bag = texts.get((*at, "shrinkage"), "")
    fields = [_Field("shrinkage", (*at, "shrinkage"), "Shrinkage on the bag", "empty it once your own bars have been fired", bag)]
    for bar in range(there + new):
        which = f"Bar {bar + 1}" if bar < there else f"Bar {bar + 1} (new)"
        for stage, words in _STAGES.items():
            path = (*at, "bars", bar, stage)
            fields.append(_Field(f"{bar}.{stage}", path, f"{which}, {words}", "between the marks, such as 94.1 mm", texts.get(path, "")))
    fields.append(_Field("cone", (*at, "bars", there, "cone"), "Cone of the new bars", "of their last firing", clay.cone))
    fields.append(_Field("date", (*at, "bars", there, "date"), "Date of the new bars", "if you like", ""))
    return fields


def _fields_of(form: str, room: Room, texts: Mapping[Path, str]) -> list[_Field]:
    if form == PRINT_CHECK:
        return _print_fields(texts)
    number = int(form.removeprefix(TEST_BARS))
    if number >= len(room.clays):
        raise Refused(400, "there is no such form.", "Load the page again.")
    return _bar_fields(texts, number, room.clays[number])


def _form(name: str, title: str, about: str, fields: list[_Field]) -> Json:
    shown = [{"name": field.name, "label": field.label, "hint": field.hint, "written": field.written} for field in fields]
    return {"id": name, "title": title, "about": about, "fields": shown}


# -- into the file
def _changes(form: str, fields: list[_Field], values: Mapping[str, str], root: Node) -> tuple[list[Change], str | None]:
    """The changes; or the name of a field that must be filled in as well."""
    written = {path for path, _ in scalars(root)}
    there = [field for field in fields if field.path[:-1] in {path[:-1] for path in written}]
    changes = [Change(field.path, values[field.name]) for field in there if values[field.name] or field.path in written]
    if form == PRINT_CHECK:
        typed = {field.name: values[field.name] for field in fields if values[field.name]}
        if there or not typed:
            return changes, None
        missing = next((field.name for field in fields if field.name not in typed), None)
        return [Change(("printed",), typed)], missing
    number = int(form.removeprefix(TEST_BARS))
    bars, missing = _new_bars(values, len({path[3] for path in written if path[:3] == ("clays", number, "bars")}))
    at: Path = ("clays", number, "bars")
    had = any(path[:3] == at for path in written)
    if not bars:
        return changes, missing
    added = [Change((*at, index), bar) for index, bar in bars.items()] if had else [Change(at, list(bars.values()))]
    return [*changes, *added], missing


def _new_bars(values: Mapping[str, str], there: int) -> tuple[dict[int, dict[str, str]], str | None]:
    """Those that anything was typed for, each with the cone and the date; and what one of them lacks."""
    bars: dict[int, dict[str, str]] = {}
    more = {name: values[name] for name in ("cone", "date") if values[name]}
    for number in range(there, there + _FIRST_BARS):
        sizes = {stage: values[name] for stage in _STAGES if values.get(name := f"{number}.{stage}")}
        if sizes and "wet" not in sizes:
            return {}, f"{number}.wet"
        if sizes and "cone" not in more:
            return {}, "cone"
        if sizes:
            bars[there + len(bars)] = sizes | more
    return bars, None


def _told(problem: Problem, root: Node | None, typed: list[_Field]) -> Json:
    """At the value that it is about; one about a whole bar or clay at the first value there that was typed."""
    span = problem.span
    within = [field for field in typed if root and place_of(root, span, [field.path])]
    return {"field": within[0].name if within else None, "what": problem.what, "hint": problem.hint}


# -- in words
def _result(form: str, room: Room) -> str:
    if form == PRINT_CHECK:
        if room.printed is None:
            return "Nothing is filled in yet: papers are drawn for a printer that is true."
        across, down = room.printed.scale
        return f"Your printer makes {across * 100:.4g} % across and {down * 100:.4g} % down of every length. All papers are drawn for that."
    return " ".join(_measured(room.clays[int(form.removeprefix(TEST_BARS))]))


def _measured(clay: Clay) -> Iterator[str]:
    for cone, (least, middle, most, basis) in shrinkages(clay).items():
        stray = f", the next piece between {least * 100:.3g} and {most * 100:.3g} %" if most > least else ""
        yield f"{clay.name} shrinks {middle * 100:.3g} % at cone {cone}, {basis}{stray}."
    if clay.bars and not any(bar.fired for bar in clay.bars):
        yield "No bar has had its last firing yet: until then the figure on the bag counts."
