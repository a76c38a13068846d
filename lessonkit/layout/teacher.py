"""The teacher's sheet: sizes, minutes, steps, and all that is to be prepared, said, watched for and written down."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial
from typing import NamedTuple

from lessonkit.drawing.items import Document, Page
from lessonkit.layout.flow import Draw, Strip, balanced, bound, columns, draw, ends_mm, foot_lines, paragraph, stacked, tall_mm
from lessonkit.layout.pen import FINE, THIN, Pen
from lessonkit.layout.sheet import Sheet, edition
from lessonkit.layout.teacher_head import head
from lessonkit.layout.teacher_minutes import chart, minute_notes
from lessonkit.layout.teacher_notes import AIRS, Air, aired, heading, sections
from lessonkit.layout.teacher_prints import Printing, print_table, print_words
from lessonkit.layout.teacher_rows import size_columns, size_notes, size_rows, step_table
from lessonkit.layout.teacher_rubric import rubric_table
from lessonkit.layout.teacher_table import SMALL, TEXT, Column, Row, Table
from lessonkit.layout.wording import say
from lessonkit.pieces.model import Kit
from lessonkit.planning.minutes import timeline
from lessonkit.units import show_minutes

COLUMNS, GUTTER_MM = 3, 4.0
LEAST_COLUMN_MM = 48.0  # less is left at the foot of a page than begun with
LEAST_NOTES_MM, LINE_MM, MOST_LINES = 40.0, 9.0, 10
UNEVEN_MM = 14.0  # sections stay whole if that makes the columns no longer than by this


def teacher_document(kit: Kit, paper: str, how: Printing = Printing()) -> Document:
    """Everything a teacher needs for the lesson, on as many pages as that takes. Nothing is left out or made smaller. `how` the
    papers were asked for is for the print list."""
    title = say("teacher_title", kit.room.language, lesson=kit.lesson.title)
    content = _content(kit, Sheet(paper), how)

    def filled(air: Air) -> _Pages:
        return _filled_pages(kit, content, _Pages(Sheet(paper), title, kit, air))

    fewest = len(filled(AIRS[-1]).placed)  # closing up never takes a page more
    roomiest = next(pages for pages in map(filled, AIRS) if len(pages.placed) <= fewest)
    return Document(title, kit.room.language, roomiest.finished())


class _Content(NamedTuple):
    """What is on the sheet, however much room there is between things; `bars` is nothing for a lesson without minutes, a table
    for nothing to stand in it."""

    head: list[Strip]
    sizes: Table | None
    sizes_below: list[Strip]
    bars_words: str
    bars: Strip | None
    bars_below: list[Strip]
    steps: Table | None
    rubric: Table | None
    sections: list[list[Strip]]
    prints: Table | None


def _content(kit: Kit, sheet: Sheet, how: Printing) -> _Content:
    language, times, (wide, tall) = kit.room.language, timeline(kit), sheet.live_mm
    period = times.period_min
    words = say("teacher_minutes", language) if period is None else say("teacher_minutes_of", language, n=show_minutes(period))
    timed = any(course.stretches for course in times.courses)
    return _Content(
        head(kit, wide, 38.0 if tall > 260 else 28.0),
        _table((size_columns(language), size_rows(kit)), wide),
        _ruled(_two_columns(size_notes(kit), wide), wide),
        words,
        chart(kit, times, wide) if timed else None,
        _two_columns(minute_notes(kit, times), wide) if timed else [],
        _table(step_table(kit), wide),
        _table(rubric_table(kit), wide),
        sections(kit, (wide - 2 * GUTTER_MM) / COLUMNS),
        _table(print_table(kit, how), wide),
    )


def _table(columns_and_rows: tuple[list[Column], list[Row]], wide: float) -> Table | None:
    columns, rows = columns_and_rows
    return Table(columns, rows, wide) if rows else None


def _filled_pages(kit: Kit, content: _Content, pages: _Pages) -> _Pages:
    language, air, wide = kit.room.language, pages.air, pages.wide
    pages.add(content.head)
    pages.add_table(say(f"teacher_sizes_{kit.room.units}", language), content.sizes, air.size_row)
    pages.add(content.sizes_below)
    if content.bars:
        bars = Strip(content.bars.tall_mm, content.bars.draw, 0.0)
        pages.add([stacked([*heading(content.bars_words, wide, air), bars]), *content.bars_below])
    pages.add_table(say("teacher_steps", language), content.steps, air.step_row)
    pages.add_table(say("rubric_heading", language), content.rubric, air.step_row)
    pages.add_columns(aired(content.sections, air))
    pages.add_table(print_words(kit), content.prints, air.size_row)
    pages.add_lines(heading(say("teacher_notes", language), wide, air))
    return pages


def _two_columns(texts: Sequence[str], wide: float) -> list[Strip]:
    """Notes under a table: two columns, so that no line is too long to read."""
    column = (wide - GUTTER_MM) / 2
    strips = [strip for text in texts for strip in paragraph(text, column - 4, TEXT, 1.6)]
    filled, _ = balanced(strips, tall_mm(strips), 2)
    tall = max(tall_mm(part) for part in filled)
    return [Strip(tall, lambda pen, x, top: [draw(pen, x + i * (column + GUTTER_MM), top, part) for i, part in enumerate(filled)], 2.4)]


def _ruled(strips: Sequence[Strip], wide: float) -> list[Strip]:
    """Under a hairline."""
    first = strips[0]

    def put(pen: Pen, x: float, top: float) -> None:
        pen.line(x, top - first.gap_mm / 2, x + wide, top - first.gap_mm / 2, THIN)
        first.draw(pen, x, top)

    return [Strip(first.tall_mm, put, first.gap_mm, first.keep), *strips[1:]]


class _Pages:
    """Fills pages from the top; a strip that does not fit begins the next. What is placed is drawn when all is finished."""

    def __init__(self, sheet: Sheet, title: str, kit: Kit, air: Air) -> None:
        self.sheet, self.title, self.kit, self.air = sheet, title, kit, air
        self.wide, self.tall = sheet.live_mm
        self.placed: list[list[tuple[Draw, float, float]]] = [[]]
        self.y = 0.0
        self.foot = self.tall - tall_mm(self._foot_lines(88, 88)) - 4.0

    def _place(self, strip: Strip) -> None:
        top = self.y + (strip.gap_mm if self.y else 0.0)
        self.placed[-1].append((strip.draw, 0, top))
        self.y = top + strip.tall_mm

    def _has_room(self, strip: Strip) -> bool:
        return self.y + (strip.gap_mm if self.y else 0.0) + strip.tall_mm <= self.foot + 1e-6

    def _turn(self) -> None:
        self.placed.append([])
        self.y = 0.0

    def add(self, strips: Sequence[Strip]) -> None:
        for strip in bound(strips):
            if self.y and not self._has_room(strip):
                self._turn()
            self._place(strip)

    def add_table(self, words: str, table: Table | None, gap_mm: float) -> None:
        """Under its heading, which has at least the first row with it; the table's own head is repeated on each page that it goes on to."""
        if not table:
            return
        top = table.head._replace(gap_mm=2.0, keep=True)
        strips = bound(list(table.rows(gap_mm)))
        self.add([stacked([*heading(words, self.wide, self.air), top, *strips[:1]])])
        for strip in strips[1:]:
            if not self._has_room(strip):
                self._turn()
                self._place(top)
            self._place(strip)

    def add_columns(self, parts: list[list[Strip]]) -> None:
        """Sections side by side. On the last page the columns end together; a section is divided only where it must be."""
        left = [bound(part) for part in parts]
        while left:
            top = self.y + (self.air.section if self.y else 0.0)
            room = self.foot - top
            here = _sections_here(left, room, self.foot)
            filled, count = _filled(left[:here], room)
            if count == sum(map(len, left)) or room >= LEAST_COLUMN_MM:
                lefts = (index * (self._column_mm() + GUTTER_MM) for index in range(COLUMNS))
                self.placed[-1] += [(partial(draw, strips=column), left, top) for left, column in zip(lefts, filled, strict=True)]
                self.y = max(ends_mm(top, column) for column in filled)
                left = _without(left, count)
            if left:
                self._turn()

    def add_lines(self, title: list[Strip]) -> None:
        """What is left of the last page is ruled for notes, if that is more than a few lines."""
        if self.foot - self.y < LEAST_NOTES_MM:
            return
        wide = self.wide
        self.add([stacked(title)])
        for _ in range(min(int((self.foot - self.y) // LINE_MM), MOST_LINES)):
            self.y += LINE_MM
            self.placed[-1].append((lambda pen, x, y: pen.line(x, y, x + wide, y, FINE), 0, self.y))

    def _column_mm(self) -> float:
        return (self.wide - (COLUMNS - 1) * GUTTER_MM) / COLUMNS

    def _foot_lines(self, k: int, n: int) -> tuple[Strip, ...]:
        right = f"{edition(self.kit)} · {self.sheet.paper} · {say('sheet_of', self.kit.room.language, k=k, n=n)}"
        return foot_lines(self.title, right, self.wide, SMALL)

    def finished(self) -> tuple[Page, ...]:
        """The pages with their feet."""
        total = len(self.placed)
        return tuple(self._page(k, total) for k in range(1, total + 1))

    def _page(self, k: int, total: int) -> Page:
        pen, foot = Pen(), self._foot_lines(k, total)
        for put, x, top in self.placed[k - 1]:
            put(pen, x, top)
        draw(pen, 0, self.tall - tall_mm(foot), foot)
        return self.sheet.page(pen, f"{self.title}, {k}" if total > 1 else self.title)


def _filled(parts: list[list[Strip]], room: float) -> tuple[list[Sequence[Strip]], int]:
    """Columns at most `room` high, and how many strips they hold."""
    strips = [strip for part in parts for strip in part]
    divided, rest = balanced(strips, room, COLUMNS)
    whole, more = balanced([stacked(part) for part in parts], room, COLUMNS)
    if not more and max(map(tall_mm, whole)) <= max(map(tall_mm, divided)) + UNEVEN_MM:
        return whole, len(strips)
    return divided, len(strips) - len(rest)


def _sections_here(parts: list[list[Strip]], room: float, page: float) -> int:
    """How many sections to begin on this page: all, if they fit; or, where this page and the next can hold them whole, as
    many as fit; else all, and one is divided at the foot."""
    if room < page / 2 or _fits(parts, room):
        return len(parts)
    return next((k for k in range(len(parts) - 1, 0, -1) if _fits(parts[:k], room) and _fits(parts[k:], page)), len(parts))


def _fits(parts: list[list[Strip]], room: float) -> bool:
    return not columns([strip for part in parts for strip in part], room, COLUMNS)[1]


def _without(parts: list[list[Strip]], count: int) -> list[list[Strip]]:
    left = []
    for part in parts:
        left.append(part[count:])
        count = max(count - len(part), 0)
    return [part for part in left if part]
