"""Labels to cut out: one for each learner's piece, by number and with a line for a name; and one for each tray."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from lessonkit.drawing.fonts import width_mm
from lessonkit.drawing.items import BLACK, Document
from lessonkit.drawing.typesetting import Span
from lessonkit.layout.classroom.class_plan import ClassPlan, Learner, clay_lines, learners_of, level_words, stage_words
from lessonkit.layout.classroom.cut_sheets import CutSheet, Draw
from lessonkit.layout.classroom.days_shown import short_day
from lessonkit.layout.classroom.sheets import to_fill
from lessonkit.layout.flow import Strip, draw, paragraph, tall_mm
from lessonkit.layout.pen import FINE, OBJECT, Pen, capitals_mm
from lessonkit.layout.sheet import Sheet, edition
from lessonkit.layout.teacher_table import NAME, SMALL, TEXT
from lessonkit.layout.wording import say
from lessonkit.units import NO_BREAK

NAME_FIELDS = ((3, 8), (3, 7), (3, 6), (2, 6), (2, 4), (1, 4), (1, 2), (1, 1))
TRAY_FIELDS = ((2, 4), (2, 3), (2, 2), (1, 2), (1, 1))
NAME_INSET_MM, TRAY_INSET_MM = 3.0, 4.0
STRIPE_MM, STRIPE_PITCH_MM, STRIPES = 1.6, 2.2, 3
NAME_LINE_MM = 7.6
LONGEST_CODE = 4
STATES = ("covered", "turned", "uncovered", "dry", "bisque", "painted", "glazed", "home")
STATES_ACROSS, STATE_MM = 4, 6.0
DAYS = ("make", "turn", "uncover", "bisque", "in hands")


def label_document(class_: ClassPlan, paper: str) -> Document:
    """Name labels, then tray labels; what is left of a sheet has no number, for spares. Nobody's name is printed."""
    language = class_.language
    title = say("label_title", language, lesson=class_.title, group=class_.tag)
    learners = learners_of(class_)
    longest = [Learner(learners[-1].number, level) for level in class_.kit.room.levels]
    names = _divided(paper, NAME_FIELDS, NAME_INSET_MM, lambda wide: max(_name_mm(class_, learner, wide) for learner in longest))
    blank = [Learner(0, "")] * (-len(learners) % names.in_all)
    pages = names.pages([_name_label(class_, learner, names.field_mm) for learner in (*learners, *blank)], title)
    trays = _divided(paper, TRAY_FIELDS, TRAY_INSET_MM, lambda wide: _tray_mm(class_, wide))
    tables = class_.needs["tables"] if class_.needs else 1
    fields = [_tray_label(class_, table, trays.field_mm) for table in (*range(1, tables + 1), *[0] * (-tables % trays.in_all))]
    return Document(title, language, (*pages, *trays.pages(fields, say("label_trays", language, group=class_.tag))))


def _divided(paper: str, fields: Sequence[tuple[int, int]], inset_mm: float, tall: Callable[[float], float]) -> CutSheet:
    """As many labels to the sheet as long words allow."""
    return CutSheet.holding(Sheet(paper), fields, inset_mm, tall) or CutSheet(Sheet(paper), *fields[-1], inset_mm)


# --- on the piece ---


def _name_label(class_: ClassPlan, learner: Learner, field_mm: tuple[float, float]) -> Draw:
    wide, tall = field_mm
    strips = _name_strips(class_, learner, wide)

    def put(pen: Pen, x: float, top: float) -> None:
        _stripes(pen, class_, learner.level, x, top, wide)
        y = top + STRIPE_PITCH_MM * (STRIPES - 1) + STRIPE_MM
        pen.text(x + wide, y + capitals_mm(NAME.size_pt), _mark(class_, learner), NAME.size_pt, True, "right")
        draw(pen, x, y, strips)
        line = top + tall - 1.2
        right = pen.text(x, line - 0.6, say("label_name", class_.language), SMALL.size_pt)
        pen.line(right + 1.5, line, x + wide, line, FINE)

    return put


def _name_mm(class_: ClassPlan, learner: Learner, wide: float) -> float:
    return STRIPE_PITCH_MM * (STRIPES - 1) + STRIPE_MM + tall_mm(_name_strips(class_, learner, wide)) + NAME_LINE_MM


def _name_strips(class_: ClassPlan, learner: Learner, wide: float) -> list[Strip]:
    """Under the stripes: the level and beside it the number, the lesson, the clay with its limit."""
    mark = _mark(class_, learner)
    beside = width_mm(mark, NAME.size_pt, True) + 3
    level = level_words(class_, learner.level) if learner.level else say("label_level", class_.language)
    strips = paragraph([Span(level, bool(learner.level))], wide - beside, TEXT)
    strips += paragraph([Span(class_.title, True)], wide - beside, TEXT, 1.6)
    small = [*([] if class_.tag in mark else [class_.tag]), *clay_lines(class_)]
    return [*strips, *(strip for line in small for strip in paragraph(line, wide, SMALL, 1.6))]


def _mark(class_: ClassPlan, learner: Learner) -> str:
    """The group's code and the number; a group that has no code, and a long name, stands by that in small letters."""
    number = str(learner.number) if learner.number else ""
    return f"{class_.tag} {number}".strip() if class_.group.code and len(class_.tag) <= LONGEST_CODE else number


def _stripes(pen: Pen, class_: ClassPlan, level: str, x: float, top: float, wide: float) -> None:
    """One for the first level, two for the second, as on the step cards; none where nobody knows the level."""
    levels = list(class_.kit.room.levels)
    for count in range(min(levels.index(level) + 1, STRIPES) if level in levels else 0):
        pen.rectangle(x, top + count * STRIPE_PITCH_MM, wide, STRIPE_MM, 0, BLACK)


# --- on the tray ---


def _tray_label(class_: ClassPlan, table: int, field_mm: tuple[float, float]) -> Draw:
    language = class_.language
    wide, tall = field_mm
    strips = _tray_strips(class_, table, wide)

    def put(pen: Pen, x: float, top: float) -> None:
        draw(pen, x, top, strips)
        _states(pen, x, top + tall, wide, language)

    return put


def _tray_mm(class_: ClassPlan, wide: float) -> float:
    return tall_mm(_tray_strips(class_, 99, wide)) + STATE_MM * (len(STATES) // STATES_ACROSS) + 2.0


def _tray_strips(class_: ClassPlan, table: int, wide: float) -> list[Strip]:
    """Tag and table over a rule; the lesson, the clay, its days, and who is on it."""
    language = class_.language
    words = say("label_table", language, n=table) if table else say("label_table_blank", language)
    beside = width_mm(words, TEXT.size_pt, True) + 4
    first, *more = paragraph([Span(class_.tag, True)], wide - beside, NAME)

    def put(pen: Pen, x: float, top: float) -> None:
        first.draw(pen, x, top)
        pen.text(x + wide, top + capitals_mm(NAME.size_pt), words, TEXT.size_pt, True, "right")

    rule = Strip(0.0, lambda pen, x, top: pen.line(x, top, x + wide, top, OBJECT), 1.0)
    strips = [Strip(first.tall_mm, put), *more, rule, *paragraph([Span(class_.title, True)], wide, TEXT, 2.4)]
    for line in clay_lines(class_):
        strips += paragraph(line, wide, TEXT, 1.6)
    stages = [stage for kind in DAYS if (stage := class_.stage(kind))]
    known = [f"{stage_words(stage['stage'], language)}{NO_BREAK}{short_day(stage['first'], language)}" for stage in stages]
    strips += paragraph(f"{NO_BREAK}· ".join(known) if known else say("label_made", language), wide, TEXT, 2.0)
    strips += paragraph(f"{class_.group.name} · {edition(class_.kit)}", wide, SMALL, 2.0)
    return [*strips, to_fill(say("label_numbers", language), wide)]


def _states(pen: Pen, x: float, foot: float, wide: float, language: str) -> None:
    """The way of the tray, a box for each state."""
    rows = len(STATES) // STATES_ACROSS
    for index, state in enumerate(STATES):
        row, column = divmod(index, STATES_ACROSS)
        left, baseline = x + column * wide / STATES_ACROSS, foot - 1.0 - (rows - 1 - row) * STATE_MM
        pen.tick_box(left + 0.3, baseline - 3.0, 3.4, OBJECT)
        pen.text(left + 5, baseline, say(f"label_state_{state}", language), SMALL.size_pt)
