"""The log of one load: what was planned is printed, what happened is written beside it, up to the cold kiln."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from lessonkit.drawing.items import Document
from lessonkit.layout.classroom.class_plan import ClassPlan, Json
from lessonkit.layout.classroom.days_shown import short_day
from lessonkit.layout.classroom.grids import GridColumn, GridRow, grid
from lessonkit.layout.classroom.kiln_maps import firing_words, groups_words
from lessonkit.layout.classroom.sheets import (
    GUTTER_MM,
    Imprint,
    Sheets,
    caution_words,
    column_mm,
    head,
    in_columns,
    notes,
    section,
    sentence,
    table,
    to_fill,
)
from lessonkit.layout.flow import Strip, draw, paragraph, tall_mm
from lessonkit.layout.pen import ATTENTION, CUT, Pen, capitals_mm
from lessonkit.layout.sheet import Sheet
from lessonkit.layout.teacher_table import NAME, SMALL, TEXT, Cell, Column, Row, cell
from lessonkit.layout.wording import say
from lessonkit.units import number

ROW_MM = 7.0
TO_FILL = ("number", "started", "witness_before", "who", "ended", "witness", "kwh_before", "kwh_after", "peak")
LAST_LINES = ("room", "faults", "lost", "next")
STATES = ("firing", "cooling", "cold")
READINGS = 3
_INSET_MM = 3.0


def kiln_log_document(classes: Sequence[ClassPlan], imprint_edition: str, paper: str) -> Document | None:
    """A sheet for each load; one for each firing where loads are not planned. None where the kiln could not be planned at all."""
    first = classes[0]
    language = first.language
    if "kiln" in first.faults:
        return None
    title = say("log_title", language)
    sheets = Sheets(Sheet(paper), Imprint(f"{first.kit.room.name} · {title}", imprint_edition, language))
    for firing in first.plan["kiln"]["firings"]:
        for count in range(1, max(len(firing["loads"] or ()), 1) + 1):
            sheets.turn()
            _log(classes, firing, count, sheets)
    return sheets.document()


def _log(classes: Sequence[ClassPlan], firing: Json, count: int, sheets: Sheets) -> None:
    language, wide = classes[0].language, sheets.wide
    bold = f"{say('log_title', language)} · {groups_words(classes[0].plan, language)}"
    sheets.add(head(firing_words(firing, count, language), "", bold, [], wide))
    sheets.add(notes(list(_facts(classes, firing, count)), wide))
    sheets.add(_lines(TO_FILL, wide, language, 3))
    _programme(firing, sheets, language)
    sheets.add([*section(say("log_states", language), wide, warning=True), _states(firing, wide, language)])
    columns = [GridColumn(cell(say(f"log_{key}", language), True)) for key in ("time", "degrees", "by", "note")]
    sheets.add_table([], *grid(columns, [GridRow()] * READINGS, wide, ROW_MM))
    sheets.add(_lines(LAST_LINES, wide, language, 2))
    sheets.add(notes([say("log_watch", language), *caution_words(("kiln", "fumes"), language)], wide))


def _facts(classes: Sequence[ClassPlan], firing: Json, count: int) -> Iterator[str]:
    """What is in it, and the days that the calendar gives it."""
    language, kind = classes[0].language, "bisque" if firing["work"] == "raw" else "glaze"
    stages = {one.title: stage for one in classes for stage in one.stages if stage["stage"] == kind and stage["load"] == count}
    for lesson in firing["lessons"]:
        stage = stages.get(lesson)
        days = (short_day(stage["first"], language), short_day(stage["last"], language)) if stage else None
        yield say("log_days", language, lesson=lesson, first=days[0], last=days[1]) if days else lesson


def _lines(keys: Sequence[str], wide: float, language: str, count: int) -> list[Strip]:
    return in_columns([to_fill(say(f"log_{key}", language), column_mm(wide, count)) for key in keys], wide, count)


def _programme(firing: Json, sheets: Sheets, language: str) -> None:
    made = firing["programme"]
    columns = [Column(say(f"log_{key}", language), right=True) for key in ("segment", "rate", "to", "hold")]
    columns.append(Column(say("log_really", language), wraps=True, grows=True))
    rows = [Row((cell(str(k), True), *_segment(one), cell("")), ruled=True) for k, one in enumerate(made["segments"], 1)]
    words = say("log_programme", language, kind=say(f"firing_{made['kind']}", language), cone=firing["cone"], peak=number(made["peak_c"], 0))
    sheets.add_table(section(words, sheets.wide), *table(columns, rows, sheets.wide, 2.2))
    hours = say("log_hours", language, hours=number(made["hours"], 0), preheat=number(made["preheat_h"], 0), cooling=number(made["cooling_h"], 0),
                opens=number(made["opens_below_c"], 0))  # fmt: skip
    sheets.add(notes([hours], sheets.wide, 1))
    sheets.add(notes([sentence(text) for text in made["assumptions"]], sheets.wide, 3, SMALL, 1.0))


def _segment(one: Json) -> tuple[Cell, Cell, Cell]:
    return cell(number(one["c_per_h"], 0)), cell(number(one["to_c"], 0), True), cell(number(one["hold_h"], 1))


def _states(firing: Json, wide: float, language: str) -> Strip:
    """FIRING, COOLING and COLD are three different things, one after the other: each has its own box, hour and name."""
    one = (wide - 2 * GUTTER_MM) / len(STATES)
    opens = number(firing["programme"]["opens_below_c"], 0)
    columns = [_state(state, opens, one - 2 * _INSET_MM, language) for state in STATES]
    tall = max(tall_mm(column) for column in columns) + 2 * _INSET_MM

    def put(pen: Pen, x: float, top: float) -> None:
        for index, (state, column) in enumerate(zip(STATES, columns, strict=True)):
            left = x + index * (one + GUTTER_MM)
            line = ATTENTION if state == "cold" else CUT
            pen.rectangle(left + line / 2, top + line / 2, one - line, tall - line, line)
            draw(pen, left + _INSET_MM, top + _INSET_MM, column)

    return Strip(tall, put, 1.2)


def _state(state: str, opens: str, wide: float, language: str) -> list[Strip]:
    words = say(f"state_{state}", language)

    def put(pen: Pen, x: float, top: float) -> None:
        pen.tick_box(x, top + 0.4, 5, CUT)
        pen.text(x + 8, top + 0.4 + capitals_mm(NAME.size_pt), words, NAME.size_pt, True)

    keys = ("state_day", "state_by_at" if state == "cold" else "state_by")
    return [Strip(NAME.line_mm, put), *paragraph(say(f"state_{state}_words", language, opens=opens), wide, TEXT, 1.6),
            *(to_fill(say(key, language), wide) for key in keys)]  # fmt: skip

