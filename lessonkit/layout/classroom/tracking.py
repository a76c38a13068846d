"""The group's tracking sheet: where every learner's work is, by number; and what somebody who was absent can still do."""

from __future__ import annotations

from lessonkit.drawing.items import Document
from lessonkit.drawing.typesetting import Span
from lessonkit.layout.classroom.class_plan import ClassPlan, learners_of, level_words, people_words
from lessonkit.layout.classroom.days_shown import day_and_month, short_day
from lessonkit.layout.classroom.grids import GridColumn, GridRow, grid
from lessonkit.layout.classroom.sheets import Imprint, Sheets, cautions, head, notes, section, warned
from lessonkit.layout.sheet import Sheet, edition
from lessonkit.layout.teacher_table import SMALL, Cell, cell
from lessonkit.layout.wording import say
from lessonkit.units import number

ROW_MM, NUMBER_MM, LEVEL_MM = 6.2, 10.0, 30.0
STATES = (("made", "make"), ("dry", "bisque"), ("bisque", "bisque"), ("painted", "paint"), ("fired", "glaze"), ("home", "in hands"))
AFTER = ("absent", "remake")


def tracking_document(class_: ClassPlan, paper: str) -> Document:
    """A row a learner, a box a state, each with its day in the head."""
    language = class_.language
    title = say("track_title", language, lesson=class_.title)
    sheets = Sheets(Sheet(paper), Imprint(f"{title} · {class_.tag}", edition(class_.kit), language))
    sheets.add(head(title, class_.tag, class_.group.name, [people_words(class_), say("track_how", language)], sheets.wide))
    columns = [GridColumn(cell(say("check_list_number", language), True), NUMBER_MM, centred=True), GridColumn(cell(say("check_list_level", language), True), LEVEL_MM),
               *(GridColumn(_state_head(class_, state, stage), centred=True, head_type=SMALL) for state, stage in STATES),
               *(GridColumn(cell(say(f"track_{state}", language), True), centred=True, head_type=SMALL) for state in AFTER),
               GridColumn(cell(say("check_list_note", language), True), share=2.2)]  # fmt: skip
    rows = [GridRow((cell(str(learner.number), True), cell(level_words(class_, learner.level)))) for learner in learners_of(class_)]
    sheets.add_table(section(say("track_grid", language), sheets.wide), *grid(columns, rows, sheets.wide, ROW_MM))
    _absent(class_, sheets)
    if "calendar" in class_.faults:
        sheets.add(warned([class_.faults["calendar"]], sheets.wide, language))
    sheets.add(cautions(("dry",), sheets.wide, language))
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
    spans = [
        (Span(f"{short_day(one['day'], language)} ", True), Span(say("absent_can", language, days=number(one["drying_days"], 1), can=_can(one, language))))
        for one in absent
    ]
    sheets.add([*section(say("absent_title", language), sheets.wide), *notes(spans, sheets.wide, 2, gap_mm=1.2)])
    sheets.add(notes([say("absent_note", language)], sheets.wide, 1))


def _can(one: dict[str, object], language: str) -> str:
    thick = one["thickest_mm"]
    key = f"absent_{str(one['can']).replace(' ', '_')}"
    return say(key, language, thick=number(float(thick), 1) if isinstance(thick, int | float) else "")
