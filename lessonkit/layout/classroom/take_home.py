"""What goes home: a care card with every piece, and a note beforehand about what, when, where and what to wear."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

from lessonkit.drawing.fonts import begun_large
from lessonkit.drawing.items import Document
from lessonkit.drawing.typesetting import Span
from lessonkit.layout.classroom.class_plan import ClassPlan, clays_of
from lessonkit.layout.classroom.cut_sheets import CutSheet, Draw
from lessonkit.layout.classroom.days_shown import long_day
from lessonkit.layout.classroom.sheets import Imprint, Sheets, to_fill
from lessonkit.layout.flow import Strip, Type, draw, paragraph, tall_mm
from lessonkit.layout.pen import Pen, capitals_mm
from lessonkit.layout.sheet import Sheet, edition
from lessonkit.layout.teacher_table import NAME, SMALL, TEXT
from lessonkit.layout.wording import say
from lessonkit.planning.way import is_painted

CARD_TITLE, NOTE_TEXT = Type(14, 18), Type(11, 15)
CARD_FIELDS = ((2, 4), (2, 3), (2, 2), (1, 2), (1, 1))
NOTE_FIELDS = ((1, 2), (1, 1))
LABEL_MM, MEASURE_MM, INSET_MM = 30.0, 132.0, 3.0
CARE = ("heat", "frost", "broken")

Strips = Callable[[float], list[Strip]]


def care_card_document(class_: ClassPlan, paper: str) -> Document:
    """One for each learner, so that what the work may be used for travels with it."""
    class_ = class_.spoken
    title = say("care_title", class_.language, lesson=class_.title, group=class_.tag)
    return _filled(class_, paper, title, lambda wide: _card(class_, wide), CARD_FIELDS, class_.group.size)


def note_document(class_: ClassPlan, paper: str) -> Document:
    """Two to a sheet, or one where there is much to say; the sheet is copied for the class."""
    class_ = class_.spoken
    title = say("note_title", class_.language, lesson=class_.title, group=class_.tag)
    return _filled(class_, paper, title, lambda wide: _note(class_, wide), NOTE_FIELDS, 2)


def _filled(class_: ClassPlan, paper: str, title: str, strips: Strips, fields: Sequence[tuple[int, int]], count: int) -> Document:
    """As many to the sheet as leave room for every word, and whole sheets of them; what fits on no sheet runs on."""
    fitting = CutSheet.holding(Sheet(paper), fields, INSET_MM, lambda wide: tall_mm(strips(wide)))
    if fitting is None:
        sheets = Sheets(Sheet(paper), Imprint(title, edition(class_.kit), class_.language))
        sheets.add(strips(sheets.wide)[:-1])
        return sheets.document()
    wide, tall = fitting.field_mm
    whole = -(-count // fitting.in_all) * fitting.in_all
    return Document(title, class_.language, fitting.pages([_field(strips(wide), tall)] * whole, title))


def _field(strips: Sequence[Strip], tall: float) -> Draw:
    """The last strip is the foot, and stands at the bottom."""

    def put(pen: Pen, x: float, top: float) -> None:
        draw(pen, x, top, strips[:-1])
        strips[-1].draw(pen, x, top + tall - strips[-1].tall_mm)

    return put


# --- with the piece ---


def _card(class_: ClassPlan, wide: float) -> list[Strip]:
    language, room = class_.language, class_.kit.room
    made = "; ".join(say("care_clay", language, clay=name, cone=class_.kit.clay.cone) for name, _ in clays_of(class_))
    strips = [
        *paragraph([Span(class_.title, True)], wide, CARD_TITLE),
        *paragraph(say("care_made", language, room=room.name, clay=made), wide, TEXT, 1.8),
        *paragraph([Span(use_words(class_), True)], wide, TEXT, 1.8),
        *(strip for text in _care_texts(class_) for strip in paragraph(text, wide, TEXT, 1.1)),
    ]
    return [*strips, to_fill(say("care_maker", language), wide), _foot(class_, wide)]


def use_words(class_: ClassPlan) -> str:
    """What the ware is for, as the room declares it; else that it is to look at, and untested. Nothing is claimed for it here."""
    ware = class_.kit.room.ware
    return say("care_declared", class_.language, room=class_.kit.room.name, use=ware) if ware else say("care_decorative", class_.language)


def _care_texts(class_: ClassPlan) -> list[str]:
    """The lesson's own, then the usual cautions."""
    return [*class_.kit.lesson.care, *(say(f"care_{key}", class_.language) for key in CARE)]


# --- beforehand ---


def _note(class_: ClassPlan, wide: float) -> list[Strip]:
    language = class_.language
    strips = paragraph([Span(class_.title, True)], wide, NAME)
    strips += paragraph([Span(say("note_heading", language, group=class_.group.name, room=class_.kit.room.name), True)], wide, NOTE_TEXT, 3.0)
    for label, words in _told(class_):
        strips += paragraph(words, min(wide, LABEL_MM + MEASURE_MM), NOTE_TEXT, 2.4, _label(label), LABEL_MM)
    return [*strips, to_fill(say("note_ask", language), wide, NOTE_TEXT), _foot(class_, wide)]


def _label(words: str) -> Draw:
    return lambda pen, x, top: pen.text(x, top + capitals_mm(NOTE_TEXT.size_pt), words, NOTE_TEXT.size_pt, True)


def _told(class_: ClassPlan) -> Iterator[tuple[str, str]]:
    """Each with its label; what nobody knows is left out."""
    language = class_.language
    told = {"what": class_.kit.lesson.about, "when": _when(class_), "where": class_.kit.room.name, "wear": say("note_wear_words", language),
            "home": _home(class_), "use": use_words(class_), "cost": _cost(class_), "tell": say("note_tell_words", language),
            "absent": say("note_absent_words", language)}  # fmt: skip
    yield from ((say(f"note_{key}", language), words) for key, words in told.items() if words)


def _when(class_: ClassPlan) -> str:
    language, made, painted = class_.language, class_.stage("make"), class_.stage("paint")
    if not made:
        return say("note_no_day", language)
    hour = f", {class_.group.at}" if class_.group.at else ""
    words = say("note_make", language, day=long_day(made["last"], language) + hour)
    return f"{words} {say('note_paint', language, day=long_day(painted['last'], language))}" if painted else words


def _home(class_: ClassPlan) -> str:
    """The day it is handed out, and why that is so late."""
    language, hands = class_.language, class_.stage("in hands")
    key = "note_way_painted" if is_painted(class_.kit.lesson.dates) else "note_way"
    why = say(key, language, days=class_.drying["days"]) if class_.drying else ""
    words = f"{say('note_hands', language, day=long_day(hands['first'], language))} {why}" if hands else why
    return begun_large(words)


def _cost(class_: ClassPlan) -> str:
    cost = class_.needs["cost"] if class_.needs else None
    return f"{cost['currency']}{cost['fees_each']:.2f}" if cost and cost["fees"] else ""


def _foot(class_: ClassPlan, wide: float) -> Strip:
    strips = paragraph(f"{class_.kit.room.name} · {class_.title} · {edition(class_.kit)}", wide, SMALL)
    return Strip(tall_mm(strips), lambda pen, x, top: draw(pen, x, top, strips), 2.0)
