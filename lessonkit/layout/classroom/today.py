"""What is to be done on one day, on half a page, with a box to tick: by lesson and the tags of the groups."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from lessonkit.drawing.items import Document
from lessonkit.drawing.typesetting import Span
from lessonkit.layout.classroom.class_plan import ClassPlan, Json
from lessonkit.layout.classroom.cut_sheets import CutSheet, Draw
from lessonkit.layout.classroom.days_shown import long_day, short_day
from lessonkit.layout.flow import Strip, Type, draw, paragraph, taken, tall_mm
from lessonkit.layout.pen import CUT, Pen
from lessonkit.layout.sheet import Sheet
from lessonkit.layout.teacher_table import SMALL
from lessonkit.layout.wording import say

TITLE, TEXT = Type(22, 26), Type(14, 18.6)
BOX_MM, INDENT_MM = 5.2, 8.8
IN_KILN = ("load", "leave", "unload")


def today_document(classes: Sequence[ClassPlan], imprint_edition: str, paper: str) -> Document | None:
    """None unless a day was asked for. More than half a page of jobs goes on to the next half."""
    first = classes[0]
    if "calendar" in first.faults or "today" not in first.plan["calendar"]:
        return None
    language, today = first.language, first.plan["calendar"]["today"]
    halves = CutSheet(Sheet(paper), 1, 2)
    wide, tall = halves.field_mm
    foot = paragraph(" · ".join(part for part in (first.kit.room.name, imprint_edition, paper) if part), wide, SMALL)
    title = long_day(today["day"], language)
    head = [*paragraph([Span(title, True)], wide, TITLE), *_closed(today, wide, language)]
    rest: Sequence[Strip] = list(_jobs(classes, today, wide, language))
    fields: list[Draw] = []
    while rest or not fields:
        count = max(taken(rest, tall - tall_mm(head) - tall_mm(foot) - 7.0), 1)
        fields.append(_half([*head, *rest[:count]], foot, tall))
        rest = rest[count:]
    return Document(title, language, halves.pages(fields, title))


def _closed(today: Json, wide: float, language: str) -> list[Strip]:
    return paragraph([Span(say("today_closed", language, why=today["closed"]), True)], wide, TEXT, 2.4) if today["closed"] else []


def _half(strips: Sequence[Strip], foot: Sequence[Strip], tall: float) -> Draw:
    def put(pen: Pen, x: float, top: float) -> None:
        draw(pen, x, top, strips)
        draw(pen, x, top + tall - tall_mm(foot), foot)

    return put


def _jobs(classes: Sequence[ClassPlan], today: Json, wide: float, language: str) -> Iterator[Strip]:
    """One paragraph a job; after work at the kiln what to beware of there."""
    jobs = today["jobs"]
    for job in jobs:
        words = [Span(f"{', '.join(job['groups'])}  {job['lesson']}: ", True), Span(f"{say('job_' + job['do'].replace(' ', '_'), language)} "),
                 Span(f"({_pieces(job, language)})")]  # fmt: skip
        until = [Span(say("today_until", language, day=short_day(job["last"], language)))] if job["first"] != job["last"] else []
        yield from paragraph([*words, *([Span(" "), *until] if until else [])], wide, TEXT, 3.4, _box, INDENT_MM)
    if not jobs:
        yield from paragraph(say("today_nothing", language), wide, TEXT, 3.4)
    undated = list(dict.fromkeys(one.title for one in classes if not one.stages))
    if undated:
        yield from paragraph(say("today_undated", language, lessons=", ".join(undated)), wide, TEXT, 3.4)
    if any(job["do"].startswith(IN_KILN) for job in jobs):
        yield from _kiln_caution(wide, language)


def _kiln_caution(wide: float, language: str) -> list[Strip]:
    words = [Span(f"{say('caution_kiln_word', language)} ", True), Span(f"{say('caution_kiln', language)} {say('today_rules', language)}")]
    return paragraph(words, wide, TEXT, 4.4, lambda pen, x, top: pen.warning(x, top - 1.0, 6.0), INDENT_MM)


def _pieces(job: Json, language: str) -> str:
    words = say("today_pieces" if job["pieces"] != 1 else "today_piece", language, n=job["pieces"])
    return f"{words}, {say('today_load', language, n=job['load'])}" if job["load"] > 1 else words


def _box(pen: Pen, x: float, top: float) -> None:
    pen.tick_box(x + 0.4, top - 0.6, BOX_MM, CUT)
