"""Labels to cut out: one for each learner's piece, by number and with a line for a name; and one for each tray."""

from __future__ import annotations

from collections.abc import Sequence

from lessonkit.drawing.fonts import width_mm
from lessonkit.drawing.items import BLACK, Document
from lessonkit.drawing.typesetting import Span, set_text
from lessonkit.layout.classroom.class_plan import ClassPlan, Learner, clay_lines, learners_of, level_words
from lessonkit.layout.classroom.cut_sheets import CutSheet, Draw
from lessonkit.layout.classroom.days_shown import short_day
from lessonkit.layout.classroom.sheets import to_fill
from lessonkit.layout.flow import Strip, draw, paragraph, tall_mm
from lessonkit.layout.pen import FINE, OBJECT, Pen, capitals_mm
from lessonkit.layout.sheet import Sheet, edition
from lessonkit.layout.teacher_table import NAME, SMALL, TEXT
from lessonkit.layout.wording import say
from lessonkit.units import NO_BREAK

NAME_FIELDS, TRAY_FIELDS = (3, 8), (2, 4)
STRIPE_MM, STRIPE_PITCH_MM = 1.6, 2.2
TRAY_STATES = ("covered", "turned", "uncovered", "dry", "bisque", "painted", "glazed", "home")


def label_document(class_: ClassPlan, paper: str) -> Document:
    """Name labels, the rest of their last sheet without a number for spares, then tray labels. Nobody's name is printed."""
    language = class_.language
    title = say("label_title", language, lesson=class_.title, group=class_.tag)
    names = CutSheet(Sheet(paper), *_name_fields(class_, paper), inset_mm=3.0)
    trays = CutSheet(Sheet(paper), *TRAY_FIELDS)
    learners = learners_of(class_)
    blank = [Learner(0, "")] * (-len(learners) % names.count)
    pages = names.pages([_name_label(class_, learner, names.field_mm) for learner in (*learners, *blank)], title)
    tables = class_.needs["tables"] if class_.needs else 1
    spare = -tables % trays.count
    fields = [_tray_label(class_, table, trays.field_mm) for table in (*range(1, tables + 1), *[0] * spare)]
    return Document(title, language, (*pages, *trays.pages(fields, say("label_trays", language, group=class_.tag))))


# --- on the piece ---


def _name_fields(class_: ClassPlan, paper: str) -> tuple[int, int]:
    """Fewer and larger where long words need it."""
    learner = Learner(99, max(class_.kit.room.levels, key=lambda level: len(level_words(class_, level))))
    for fields in (NAME_FIELDS, (2, 8), (2, 6), (2, 4), (1, 4)):
        wide, tall = CutSheet(Sheet(paper), *fields, inset_mm=3.0).field_mm
        if _name_mm(class_, learner, wide) <= tall:
            return fields
    return 1, 2


def _name_strips(class_: ClassPlan, learner: Learner, wide: float) -> list[Strip]:
    """Under the stripes: the level and the number beside it, the lesson, the clay with its limit."""
    mark = _mark(class_, learner)
    beside = width_mm(mark, NAME.size_pt, True) + 3
    level = level_words(class_, learner.level) if learner.level else ""
    strips = paragraph([Span(level or say("label_level", class_.language), bool(level))], wide - beside, TEXT)
    strips += paragraph([Span(class_.title, True)], wide - beside, TEXT, 1.6)
    for line in clay_lines(class_):
        strips += paragraph(line, wide, SMALL, 1.6)
    return strips


def _mark(class_: ClassPlan, learner: Learner) -> str:
    return f"{class_.tag} {learner.number}" if learner.number else class_.tag


def _name_mm(class_: ClassPlan, learner: Learner, wide: float) -> float:
    return STRIPE_PITCH_MM * 2 + 1.6 + tall_mm(_name_strips(class_, learner, wide)) + 8.5


def _name_label(class_: ClassPlan, learner: Learner, field_mm: tuple[float, float]) -> Draw:
    wide, tall = field_mm
    mark = _mark(class_, learner)
    strips = _name_strips(class_, learner, wide)

    def put(pen: Pen, x: float, top: float) -> None:
        stripes(pen, class_, learner.level, x, top, wide)
        y = top + STRIPE_PITCH_MM * 2 + 1.6
        pen.text(x + wide, y + capitals_mm(NAME.size_pt), mark, NAME.size_pt, True, "right")
        draw(pen, x, y, strips)
        line = top + tall - 1.2
        right = pen.text(x, line - 0.6, say("label_name", class_.language), SMALL.size_pt)
        pen.line(right + 1.5, line, x + wide, line, FINE)

    return put


def stripes(pen: Pen, class_: ClassPlan, level: str, x: float, top: float, wide: float) -> None:
    """One for the first level, two for the second, as on the step cards; none where nobody knows the level."""
    levels = list(class_.kit.room.levels)
    for count in range(levels.index(level) + 1 if level in levels else 0):
        pen.rectangle(x, top + count * STRIPE_PITCH_MM, wide, STRIPE_MM, 0, BLACK)


# --- on the tray ---


def _tray_label(class_: ClassPlan, table: int, field_mm: tuple[float, float]) -> Draw:
    language = class_.language
    wide, tall = field_mm
    strips = _tray_strips(class_, wide)

    def put(pen: Pen, x: float, top: float) -> None:
        size = next((size for size in (NAME.size_pt, TEXT.size_pt) if width_mm(class_.tag, size, True) < wide / 2), TEXT.size_pt)
        pen.text(x, top + capitals_mm(NAME.size_pt), class_.tag, size, True)
        words = say("label_table", language, n=table) if table else say("label_table_blank", language)
        pen.text(x + wide, top + capitals_mm(NAME.size_pt), words, TEXT.size_pt, True, "right")
        pen.line(x, top + capitals_mm(NAME.size_pt) + 2.4, x + wide, top + capitals_mm(NAME.size_pt) + 2.4, OBJECT)
        draw(pen, x, top + capitals_mm(NAME.size_pt) + 5.4, strips)
        _states(pen, x, top + tall, wide, language)

    return put


def _tray_strips(class_: ClassPlan, wide: float) -> list[Strip]:
    language = class_.language
    strips = paragraph([Span(class_.title, True)], wide, TEXT)
    for line in clay_lines(class_):
        strips += paragraph(line, wide, TEXT, 1.6)
    days = [(stage, class_.stage(stage)) for stage in ("make", "turn", "uncover", "bisque", "in hands")]
    known = [say("label_day", language, what=say(f"stage_{name.replace(' ', '_')}", language), day=short_day(stage["first"], language)).replace(" ", NO_BREAK)
             for name, stage in days if stage]  # fmt: skip
    strips += paragraph(f"{NO_BREAK}· ".join(known) if known else say("label_made", language), wide, TEXT, 2.0)
    strips += paragraph(f"{class_.group.name} · {edition(class_.kit)}", wide, SMALL, 2.0)
    return [*strips, to_fill(say("label_numbers", language), wide)]


def _states(pen: Pen, x: float, foot: float, wide: float, language: str) -> None:
    """The way of the tray, a box for each stage, four to a row."""
    rows = (len(TRAY_STATES) + 3) // 4
    for index, state in enumerate(TRAY_STATES):
        row, column = divmod(index, 4)
        left, baseline = x + column * wide / 4, foot - 1.0 - (rows - 1 - row) * 6.0
        pen.tick_box(left + 0.3, baseline - 3.2, 3.4, OBJECT)
        block = set_text([Span(say(f"label_state_{state}", language))], wide / 4 - 5, SMALL.size_pt, SMALL.leading_pt)
        pen.block(left + 5, baseline - block.tall_mm, block)


