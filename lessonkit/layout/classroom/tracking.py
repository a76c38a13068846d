"""The group's tracking sheet: where every learner's work is, by number; and what somebody who was absent can still do."""

from __future__ import annotations

from lessonkit.drawing.items import Document
from lessonkit.drawing.typesetting import Span
from lessonkit.layout.classroom.class_plan import ClassPlan, Json, learners_of, level_words, people_words
from lessonkit.layout.classroom.days_shown import day_and_month, short_day
from lessonkit.layout.classroom.grids import GridColumn, GridRow, grid, learner_columns
from lessonkit.layout.classroom.sheets import Imprint, Sheets, caution_words, head, notes, section, warned
from lessonkit.layout.sheet import Sheet, edition
from lessonkit.layout.teacher_table import SMALL, Cell, cell
from lessonkit.layout.wording import say
from lessonkit.units import number

ROW_MM = 6.0
STATES = (("made", "make"), ("dry", "bisque"), ("bisque", "bisque"), ("painted", "paint"), ("fired", "glaze"), ("home", "in hands"))
AFTER = ("absent", "remake")


def tracking_document(class_: ClassPlan, paper: str) -> Document:
    """A row a learner, a box a state, each with its day in the head."""
    language = class_.language
    title = say("track_title", language, lesson=class_.title)
    sheets = Sheets(Sheet(paper), Imprint(f"{title} · {class_.tag}", edition(class_.kit), language))
    sheets.add(head(title, class_.tag, class_.group.name, [people_words(class_), say("track_how", language)], sheets.wide))
    heads = [*(_state_head(class_, state, stage) for state, stage in STATES), *(cell(say(f"track_{state}", language), True) for state in AFTER)]
    boxes = [GridColumn(head_cell, centred=True, head_type=SMALL) for head_cell in heads]
    columns = [*learner_columns(language), *boxes, GridColumn(cell(say("by_note", language), True), share=2.2)]
    rows = [GridRow((cell(str(learner.number), True), cell(level_words(class_, learner.level)))) for learner in learners_of(class_)]
    sheets.add_table(section(say("track_grid", language), sheets.wide), *grid(columns, rows, sheets.wide, ROW_MM))
    _absent(class_, sheets)
    if "calendar" in class_.faults:
        sheets.add(warned([class_.faults["calendar"]], sheets.wide, language))
    sheets.add(notes([say("absent_note", language), *caution_words(("dry",), language)[:1]], sheets.wide))
    return sheets.document()


def _state_head(class_: ClassPlan, state: str, kind: str) -> Cell:
    """The state, and the day from which it can be: bone dry when it may be loaded, fired when it is unloaded."""
    stage = class_.stage(kind) if state in ("made", "dry", "painted", "home") else class_.last(kind)
    day = (stage["last"] if state in ("made", "bisque", "painted", "fired") else stage["first"]) if stage else ""
    words = Span(say(f"track_{state}", class_.language), True)
    return (words, Span(f" {day_and_month(day, class_.language)}")) if day else (words,)


def _absent(class_: ClassPlan, sheets: Sheets) -> None:
    """Drying is never shortened for anybody."""
    absent, language = class_.calendar["absent"] if class_.calendar else [], class_.language
    if not absent:
        return
    spans = [(Span(f"{short_day(one['day'], language)} ", True), Span(_can(one, language))) for one in absent]
    sheets.add([*section(say("absent_title", language), sheets.wide), *notes(spans, sheets.wide, 2, gap_mm=1.2)])


def _can(one: Json, language: str) -> str:
    """What is left to do, and how thick it may be where that decides."""
    thick = "" if one["thickest_mm"] is None else number(one["thickest_mm"], 1)
    can = say(f"absent_{one['can'].replace(' ', '_')}", language, thick=thick)
    return say("absent_can", language, days=number(one["drying_days"], 1), can=can)
