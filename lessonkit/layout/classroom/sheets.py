"""Sheets that fill from the top: what does not fit goes on to the next one, a table with its head again."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import NamedTuple

from lessonkit.drawing.fonts import begun_large, width_mm
from lessonkit.drawing.items import Document, Page
from lessonkit.drawing.typesetting import Span
from lessonkit.layout.flow import Strip, Type, balanced, bound, draw, foot_lines, paragraph, stacked, tall_mm
from lessonkit.layout.pen import CUT, FINE, OBJECT, Pen, capitals_mm, rise_mm
from lessonkit.layout.sheet import Sheet
from lessonkit.layout.teacher_notes import AIRS, TICK_MM, heading
from lessonkit.layout.teacher_table import NAME, SMALL, TEXT, Column, Row, Table
from lessonkit.layout.wording import say

GUTTER_MM = 4.0
ABOVE_MM = 1.2  # over a sheet's title; an accent that rises farther gets what it needs
FOOT_AIR_MM = 4.0
WIDEST_TAG_MM = 40.0
MEASURE_MM = 116.0  # about 65 letters
ROW_GAP_MM = 2.4
LINE_MM = 8.0  # for handwriting
BAND_MM = 120.0  # columns side by side are divided where they are higher: half a sheet


class Imprint(NamedTuple):
    """What the foot of a paper says: its title at the left, the edition of what it was made from at the right."""

    title: str
    edition: str
    language: str


class Sheets:
    """One paper being filled."""

    def __init__(self, sheet: Sheet, imprint: Imprint) -> None:
        self.sheet, self.imprint = sheet, imprint
        self.wide, self.tall = sheet.live_mm
        self.pens = [Pen()]
        self.y = 0.0
        self.foot = self.tall - tall_mm(self._foot(88, 88)) - FOOT_AIR_MM

    def has_room(self, strip: Strip) -> bool:
        return self.y + (strip.gap_mm if self.y else 0.0) + strip.tall_mm <= self.foot + 1e-6

    def turn(self) -> None:
        """On to the next sheet, unless this one is empty."""
        if self.y:
            self.pens.append(Pen())
            self.y = 0.0

    def add(self, strips: Sequence[Strip]) -> None:
        for strip in bound(strips):
            if not self.has_room(strip):
                self.turn()
            self._place(strip)

    def add_table(self, title: Sequence[Strip], head: Strip, rows: Sequence[Strip], whole: bool = False) -> None:
        """The head stands again on each sheet that the rows go on to; the title has at least the first row with it. A `whole` table is
        only divided if it is longer than a sheet."""
        if not rows:
            return
        head = head._replace(gap_mm=2.0 if title else 4.0, keep=True)
        strips = bound(rows)
        together = stacked([*title, head, *strips])
        if whole and not self.has_room(together) and together.tall_mm <= self.foot:
            self.turn()
        self.add([stacked([*title, head, strips[0]])])
        for strip in strips[1:]:
            if not self.has_room(strip):
                self.turn()
                self._place(head)
            self._place(strip)

    def _place(self, strip: Strip) -> None:
        top = self.y + (strip.gap_mm if self.y else 0.0)
        strip.draw(self.pens[-1], 0, top)
        self.y = top + strip.tall_mm

    def _foot(self, k: int, n: int) -> tuple[Strip, ...]:
        parts = [self.imprint.edition, self.sheet.paper, say("sheet_of", self.imprint.language, k=k, n=n)]
        return foot_lines(self.imprint.title, " · ".join(part for part in parts if part), self.wide, SMALL)

    def pages(self) -> tuple[Page, ...]:
        """The sheets with their feet."""
        total = len(self.pens)
        for k, pen in enumerate(self.pens, 1):
            foot = self._foot(k, total)
            draw(pen, 0, self.tall - tall_mm(foot), foot)
        names = [self.imprint.title if total == 1 else f"{self.imprint.title}, {k}" for k in range(1, total + 1)]
        return tuple(self.sheet.page(pen, name) for pen, name in zip(self.pens, names, strict=True))

    def document(self) -> Document:
        return Document(self.imprint.title, self.imprint.language, self.pages())


# --- what stands on them ---


def head(title: str, tag: str, bold: str, facts: Sequence[str], wide_mm: float) -> list[Strip]:
    """The paper's name, the group's tag in its frame at the right, a bold line and some plain ones."""
    boxed = width_mm(tag, NAME.size_pt, True) + 8 if tag else 0.0
    boxed = boxed if boxed <= WIDEST_TAG_MM else 0.0
    room = min(wide_mm - (boxed + 6 if boxed else 0.0), wide_mm)
    strips = paragraph([Span(title, True)], room, NAME)
    if bold:
        strips += paragraph([Span(bold, True)], room, TEXT, 3.0)
    for index, fact in enumerate(facts):
        strips += paragraph(fact, min(room, MEASURE_MM), TEXT, 2.4 if index else 3.0)
    first = strips[0]
    above = max(ABOVE_MM, rise_mm(title, NAME.size_pt, True))

    def put(pen: Pen, x: float, top: float) -> None:
        first.draw(pen, x, top + above)
        if boxed:
            tag_box(pen, x + wide_mm - boxed, top, boxed, tag)

    return [Strip(first.tall_mm + above, put, first.gap_mm, keep=True), *strips[1:]]


def joined(parts: Sequence[str]) -> list[str]:
    """On one line if that is no longer than can be read; else the first on a line of its own."""
    line = " · ".join(parts)
    return [line] if width_mm(line, TEXT.size_pt) <= MEASURE_MM else [parts[0], " · ".join(parts[1:])]


def tag_box(pen: Pen, x: float, top: float, wide: float, tag: str) -> None:
    """A group's code, framed as on its trays."""
    tall = capitals_mm(NAME.size_pt) + 6
    pen.rectangle(x + CUT / 2, top + CUT / 2, wide - CUT, tall - CUT, CUT, radius=2)
    pen.text(x + wide / 2, top + tall / 2 + capitals_mm(NAME.size_pt) / 2, tag, NAME.size_pt, True, "centre")


def section(words: str, wide_mm: float, warning: bool = False) -> list[Strip]:
    """A rule, and the words under it."""
    return heading(words, wide_mm, AIRS[0], warning)


def in_columns(strips: Sequence[Strip], wide_mm: float, count: int = 2, gap_mm: float = 2.4) -> list[Strip]:
    """Strips that were set for a column, side by side, ending together; nothing for nothing. What is higher than a band goes on below
    in the next, so that a sheet may end between them."""
    column = column_mm(wide_mm, count)
    bands: list[Strip] = []
    rest = strips
    while rest:
        filled, rest = balanced(rest, max(BAND_MM, rest[0].tall_mm), count)

        def put(pen: Pen, x: float, top: float, filled: Sequence[Sequence[Strip]] = filled) -> None:
            for index, part in enumerate(filled):
                draw(pen, x + index * (column + GUTTER_MM), top, part)

        bands.append(Strip(max(tall_mm(part) for part in filled), put, gap_mm))
    return bands


def column_mm(wide_mm: float, count: int) -> float:
    return (wide_mm - GUTTER_MM * (count - 1)) / count


def notes(texts: Sequence[str | Sequence[Span]], wide_mm: float, count: int = 2, type_: Type = TEXT, gap_mm: float = 1.8) -> list[Strip]:
    """Paragraphs in columns."""
    column = column_mm(wide_mm, count) - (4 if count > 1 else 0)
    return in_columns([strip for text in texts for strip in paragraph(text, column, type_, gap_mm)], wide_mm, count)


def ticked(texts: Sequence[str | Sequence[Span]], wide_mm: float, count: int = 2, gap_mm: float = 2.2) -> list[Strip]:
    """Paragraphs in columns, each with a box to tick."""
    column = column_mm(wide_mm, count) - (4 if count > 1 else 0)
    return in_columns([strip for text in texts for strip in paragraph(text, column, TEXT, gap_mm, _box, TICK_MM)], wide_mm, count)


def _box(pen: Pen, x: float, top: float) -> None:
    pen.tick_box(x + 0.3, top - 0.5, 3.4, OBJECT)


def warned(texts: Sequence[str], wide_mm: float, language: str) -> list[Strip]:
    """What the plan warns of, under the sign; nothing if it warns of nothing."""
    said = list(dict.fromkeys(map(sentence, texts)))
    return [*section(say("class_warnings", language), wide_mm, warning=True), *notes(said, wide_mm)] if said else []


def sentence(text: str) -> str:
    """What the plan says, as a sentence of its own."""
    whole = begun_large(text)
    return whole if whole.endswith((".", "!", "?", "…")) else f"{whole}."


def assumed(texts: Sequence[str], wide_mm: float, language: str) -> list[Strip]:
    """What the plan took for granted, small."""
    said = list(dict.fromkeys(map(sentence, texts)))
    return [*section(say("class_assumed", language), wide_mm), *notes(said, wide_mm, 3, SMALL, 1.2)] if said else []


def cautions(keys: Sequence[str], wide_mm: float, language: str) -> list[Strip]:
    """The usual cautions that act here, and always last that local rules and manuals go before them."""
    return [*section(say("teacher_cautions", language), wide_mm, warning=True), *notes(caution_words(keys, language), wide_mm)]


def caution_words(keys: Sequence[str], language: str) -> list[Sequence[Span]]:
    """Each with its word in bold; the rules of the place last."""
    return [(Span(f"{say(f'caution_{key}_word', language)} ", True), Span(say(f"caution_{key}", language))) for key in (*keys, "rules")]


def to_fill(words: str, wide_mm: float, type_: Type = TEXT) -> Strip:
    """Words with a line to write on."""

    def put(pen: Pen, x: float, top: float) -> None:
        baseline = top + LINE_MM - 2.4
        right = pen.text(x, baseline, words, type_.size_pt)
        pen.line(right + 2, baseline + 0.6, x + wide_mm, baseline + 0.6, FINE)

    return Strip(LINE_MM, put)


def table(columns: Sequence[Column], rows: Sequence[Row], wide_mm: float, gap_mm: float = ROW_GAP_MM) -> tuple[Strip, list[Strip]]:
    """A table's head and its rows."""
    made = Table(columns, rows, wide_mm)
    return made.head, list(made.rows(gap_mm))


def with_box(strips: Sequence[Strip], x_mm: float = 0.0) -> list[Strip]:
    """A box to tick beside the first of each strip that begins a row."""
    return [strip._replace(draw=_and_box(strip, x_mm)) for strip in strips]


def _and_box(strip: Strip, x_mm: float) -> Callable[[Pen, float, float], object]:
    def put(pen: Pen, x: float, top: float) -> None:
        strip.draw(pen, x, top)
        _box(pen, x + x_mm, top)

    return put
