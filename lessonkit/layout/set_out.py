"""The set-out lists: what to lay on each table, to cut apart and to leave on the table; and what stands in the room once."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import lru_cache
from typing import NamedTuple

from lessonkit.drawing.fonts import width_mm
from lessonkit.drawing.items import Document
from lessonkit.drawing.typesetting import Span
from lessonkit.layout.classroom.cut_sheets import CutSheet, Draw
from lessonkit.layout.flow import Strip, Type, columns, draw, foot_lines, paragraph, tall_mm
from lessonkit.layout.pen import CUT, OBJECT, Pen, capitals_mm
from lessonkit.layout.sheet import Sheet, edition
from lessonkit.layout.teacher_table import NAME, SMALL
from lessonkit.layout.wording import say
from lessonkit.lesson.classroom import Copies
from lessonkit.pieces.model import Kit
from lessonkit.planning.set_out import SetOut, Thing, set_out

TEXT = Type(11, 14.5)
BOX_MM, COUNT_MM = 4.0, 14.0  # a box, and where a count ends
ITEM_MM = 2.6


class _List(NamedTuple):
    """One table's list, or the class's."""

    name: str
    who: str
    things: tuple[Thing, ...]


def set_out_document(kit: Kit, paper: str) -> Document:
    """For the room's first group: a list for each of its tables; without groups, one for a full table. Four to the sheet where every
    list fits, else two; what is longer goes on to a second."""
    language = kit.room.language
    title = say("set_out_title", language, lesson=kit.lesson.title)
    lists = list(_lists(kit))
    sheet = next((way for way in (CutSheet(Sheet(paper), 2, 2), CutSheet(Sheet(paper), 2, 1)) if _fit(kit, lists, way)), CutSheet(Sheet(paper), 2, 1))
    fields = [field for one in lists for field in _fields(kit, one, sheet)]
    return Document(title, language, sheet.pages(fields, title))


def _lists(kit: Kit) -> Iterator[_List]:
    language, group = kit.room.language, kit.room.groups[0] if kit.room.groups else None
    found = set_out(kit, group)
    for number, table in enumerate(found.tables, 1):
        cards = say("set_out_cards", language, n=(kit.room.copies or Copies()).learners_a_card)
        name = say("set_out_table", language, n=number) if group else say("set_out_every_table", language)
        yield _List(name, _who(kit, found, table.people), (*table.things, Thing(cards, table.cards)))
    if found.for_class:
        yield _List(say("set_out_class", language), group.name if group else "", found.for_class)


def _who(kit: Kit, found: SetOut, people: int) -> str:
    words = say("set_out_people" if people != 1 else "set_out_one", kit.room.language, n=people)
    return f"{words} {say('set_out_assumed', kit.room.language)}" if found.assumed else words


def _strips(one: _List, wide: float) -> list[Strip]:
    return [strip for thing in one.things for strip in _item(thing, wide)]


@lru_cache(64)  # most of it lies on every table
def _item(thing: Thing, wide: float) -> tuple[Strip, ...]:
    count = "" if thing.number is None else str(thing.number)
    ends = max(COUNT_MM, BOX_MM + 2 + width_mm(count, TEXT.size_pt, bold=True))

    def lead(pen: Pen, x: float, top: float) -> None:
        pen.tick_box(x + OBJECT / 2, top - (BOX_MM - capitals_mm(TEXT.size_pt)) / 2, BOX_MM, OBJECT)
        pen.text(x + ends, top + capitals_mm(TEXT.size_pt), count, TEXT.size_pt, bold=True, align="right")

    return tuple(paragraph(thing.name, wide, TEXT, ITEM_MM, lead, ends + 2))


@lru_cache(8)
def _head(one: _List, wide: float, part: str) -> tuple[Strip, ...]:
    title = paragraph([Span(one.name + part, True)], wide, NAME)
    who = paragraph([Span(one.who, True)], wide, TEXT, 2.0) if one.who else []
    return (*title, *who, Strip(1.0, lambda pen, x, top: pen.line(x, top, x + wide, top, CUT), 2.5))


def _room_mm(one: _List, sheet: CutSheet, foot: Sequence[Strip], part: str) -> float:
    wide, tall = sheet.field_mm
    return tall - tall_mm(_head(one, wide, part)) - tall_mm(foot) - ITEM_MM - 4.0


def _foot(kit: Kit, sheet: CutSheet) -> tuple[Strip, ...]:
    return foot_lines(kit.lesson.title, f"{edition(kit)} · {sheet.sheet.paper}", sheet.field_mm[0], SMALL)


def _fit(kit: Kit, lists: Sequence[_List], sheet: CutSheet) -> bool:
    foot = _foot(kit, sheet)
    return all(tall_mm(_strips(one, sheet.field_mm[0])) <= _room_mm(one, sheet, foot, "") for one in lists)


def _fields(kit: Kit, one: _List, sheet: CutSheet) -> Iterator[Draw]:
    """One for a list that fits, else several."""
    (wide, tall), foot = sheet.field_mm, _foot(kit, sheet)
    shares: list[Sequence[Strip]] = []
    rest: Sequence[Strip] = _strips(one, wide)
    while rest or not shares:
        more = say("set_out_more", kit.room.language, k=8, n=8) if shares or tall_mm(rest) > _room_mm(one, sheet, foot, "") else ""
        (here,), rest = columns(rest, _room_mm(one, sheet, foot, more), 1)
        shares.append(here)
    for k, share in enumerate(shares, 1):
        part = say("set_out_more", kit.room.language, k=k, n=len(shares)) if len(shares) > 1 else ""
        yield _drawn(_head(one, wide, part), share, foot, tall)


def _drawn(head: Sequence[Strip], share: Sequence[Strip], foot: Sequence[Strip], tall: float) -> Draw:
    def put(pen: Pen, x: float, top: float) -> None:
        draw(pen, x, draw(pen, x, top + 1.0, head) + ITEM_MM, share)
        draw(pen, x, top + tall - tall_mm(foot), foot)

    return put
