"""The check list: what good work looks like in this lesson, at three steps; and a grid to mark it in, by number."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from lessonkit.drawing.items import Document
from lessonkit.drawing.typesetting import Span
from lessonkit.layout.classroom.class_plan import ClassPlan, learners_of, level_words, people_words
from lessonkit.layout.classroom.grids import LEVEL_MM, NUMBER_MM, GridColumn, GridRow, grid, learner_columns
from lessonkit.layout.classroom.sheets import Imprint, Sheets, head, notes, section
from lessonkit.layout.sheet import Sheet, edition
from lessonkit.layout.sign_marks import letter
from lessonkit.layout.teacher_table import SMALL, cell
from lessonkit.layout.wording import say
from lessonkit.planning.way import is_painted

SURFACE = {"texture", "stamp", "press", "carve"}  # pictures of steps that print or draw on the clay
ROW_MM, NOTE_MM = 6.4, 34.0
LEAST_MARK_MM = 9.0


def checklist_document(class_: ClassPlan, paper: str) -> Document:
    """First the rubric, then a row for each learner."""
    language = class_.language
    title = say("check_list_title", language, lesson=class_.title)
    sheets = Sheets(Sheet(paper), Imprint(f"{title} · {class_.tag}", edition(class_.kit), language))
    sheets.add(head(title, class_.tag, class_.group.name, [people_words(class_), _marks_words(class_)], sheets.wide))
    _rubric(class_, sheets)
    good = list(_good_when(class_))
    if good:
        sheets.add([*section(say("check_list_good", language), sheets.wide), *notes(good, sheets.wide)])
    _marks(class_, sheets)
    return sheets.document()


def _marks_words(class_: ClassPlan) -> str:
    marks = class_.kit.room.rubric
    return say("check_list_marks", class_.language, marks=", ".join(f"{k} {mark}" for k, mark in enumerate(marks, 1)))


def rubric_rows(class_: ClassPlan) -> tuple[tuple[str, tuple[str, ...]], ...]:
    """What is looked at, with words for each of the room's marks where there are any: the lesson's own rows, else the usual ones that
    this lesson has something for."""
    lesson, needs, language = class_.kit.lesson, class_.needs, class_.language
    if lesson.rubric:
        return tuple((row.look, row.says) for row in lesson.rubric)
    pictures = {step.picture for step in lesson.steps}
    usual = {
        "signed": True,
        "even": True,
        "edges": True,
        "joints": bool(needs and needs["slip_cups"]),
        "surface": bool(pictures & SURFACE),
        "holes": any(piece.hang for piece in lesson.pieces),
        "colour": is_painted(lesson.dates),
        "care": True,
    }
    steps = (1, 2, 3) if len(class_.kit.room.rubric) == 3 else ()
    return tuple((say(f"rubric_{row}", language), tuple(say(f"rubric_{row}_{k}", language) for k in steps)) for row, there in usual.items() if there)


def _rubric(class_: ClassPlan, sheets: Sheets) -> None:
    heads = [GridColumn(cell(""), 8.0), GridColumn(cell(say("rubric_what", class_.language), True), share=0.8)]
    heads += [GridColumn(cell(f"{k}  {mark}", True)) for k, mark in enumerate(class_.kit.room.rubric, 1)]
    rows = [
        GridRow((cell(letter(index).lower(), True), cell(look, True), *(cell(words) for words in says)))
        for index, (look, says) in enumerate(rubric_rows(class_))
    ]
    sheets.add_table(section(say("rubric_title", class_.language), sheets.wide), *grid(heads, rows, sheets.wide, ROW_MM))


def _good_when(class_: ClassPlan) -> Iterator[tuple[Span, ...]]:
    """The lesson's own words for good work, step by step, each once."""
    seen = set()
    for steps in class_.kit.steps.values():
        for step in steps:
            if step.good and (step.number, step.good) not in seen:
                seen.add((step.number, step.good))
                yield Span(f"{step.number} {step.title}: ", True), Span(step.good)


def _marks(class_: ClassPlan, sheets: Sheets) -> None:
    """A row a learner: the stops of the steps, then the rubric."""
    language = class_.language
    stops = _stops(class_)
    numbers = list(dict.fromkeys(number for number, _ in stops))
    who, note = learner_columns(language), GridColumn(cell(say("by_note", language), True), NOTE_MM)
    marks = [*((GridColumn(cell(say("check_list_stop", language, n=number)), centred=True, head_type=SMALL), number) for number in numbers),
             *((GridColumn(cell(letter(index).lower(), True), centred=True), "") for index, _ in enumerate(rubric_rows(class_)))]  # fmt: skip
    most = max(int((sheets.wide - NUMBER_MM - LEVEL_MM - NOTE_MM) / LEAST_MARK_MM), 1)
    asked = {(number, level) for (number, _), levels in stops.items() for level in (*levels, "")}
    for start in range(0, len(marks), most):
        here = marks[start : start + most]
        rows = [
            GridRow((cell(str(learner.number), True), cell(level_words(class_, learner.level))),
                    grey=tuple(column for column, (_, number) in enumerate(here, len(who)) if number and (number, learner.level) not in asked))
            for learner in learners_of(class_)
        ]  # fmt: skip
        sheets.turn()
        columns = [*who, *(column for column, _ in here), note]
        sheets.add_table(section(say("check_list_grid", language), sheets.wide), *grid(columns, rows, sheets.wide, ROW_MM))
    sheets.add(notes([_question(class_, *stop) for stop in stops.items()], sheets.wide))


def _stops(class_: ClassPlan) -> dict[tuple[str, str], list[str]]:
    """The number of each step that stops and what it asks, in the order of the steps, with the levels that are asked."""
    asked: dict[tuple[str, str], list[str]] = {}
    for written in class_.kit.lesson.steps:
        for level, steps in class_.kit.steps.items():
            for step in steps:
                if step.id == written.id and step.stop:
                    asked.setdefault((step.number, step.stop), []).append(level)
    return asked


def _question(class_: ClassPlan, stop: tuple[str, str], levels: Sequence[str]) -> tuple[Span, ...]:
    who = "" if len(levels) == len(class_.kit.steps) else f", {', '.join(level_words(class_, level) for level in levels)}"
    return Span(f"{say('check_list_stop', class_.language, n=stop[0])}{who}: ", True), Span(stop[1])
