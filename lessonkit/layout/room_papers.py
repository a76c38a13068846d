"""The papers that measure the room itself: print check, shrinkage test bars, fired-size rulers."""

from __future__ import annotations

import math
from itertools import accumulate

from lessonkit.drawing.fonts import width_mm
from lessonkit.drawing.items import Document, Page
from lessonkit.layout.pen import ATTENTION, CUT, FINE, OBJECT, THIN, Pen, capitals_mm
from lessonkit.layout.printing import corrected
from lessonkit.layout.sheet import Sheet, foot
from lessonkit.layout.wording import say
from lessonkit.lesson.room import PRINT_BAR_ACROSS_MM, PRINT_BAR_DOWN_MM, Room
from lessonkit.pieces.clays import fired_clays
from lessonkit.pieces.model import FiredClay
from lessonkit.units import MM_PER_INCH

LARGE, TEXT, SMALL = 22.0, 11.0, 8.0
LEADING = 15.0
MARKS_MM = 100.0  # between the marks of a test bar
BAR_LONG_MM, BAR_WIDE_MM = 140.0, 30.0
STRIP_TALL_MM = 32.0


def print_check_document(room: Room, paper: str) -> Document:
    """Bars to measure, straight from the printer; and, once she has written down what she found, the same bars corrected."""
    pages = [_check_page(room, paper, "check_how", "check_plain")]
    if room.printed:
        again = Document("", room.language, (_check_page(room, paper, "check_again", "check_corrected"),))
        pages += corrected(again, room.printed.scale).pages
    return Document(say("check_title", room.language, room=room.name), room.language, tuple(pages))


def _check_page(room: Room, paper: str, how: str, name: str) -> Page:
    sheet, pen, language = Sheet(paper), Pen(), room.language
    wide, tall = sheet.live_mm
    left, right, top = (wide - PRINT_BAR_ACROSS_MM) / 2, wide - 8.0, 42.0
    _bar_across(pen, left, 16, (100.0, PRINT_BAR_ACROSS_MM), say("check_bar_mm", language, n=f"{PRINT_BAR_ACROSS_MM:g}"), True)
    _bar_across(pen, left, 30, (4 * MM_PER_INCH, 7 * MM_PER_INCH), say("check_bar_in", language, n=7), False)
    _bar_down(pen, 8, top, (100.0, PRINT_BAR_DOWN_MM), True)
    _bar_down(pen, right, top, (4 * MM_PER_INCH, 8 * MM_PER_INCH), False)
    pen.words(14, top + PRINT_BAR_DOWN_MM - 5, 80, say("check_bar_mm", language, n=f"{PRINT_BAR_DOWN_MM:g}"), TEXT, LEADING)
    pen.text(right - 6, top + 8 * MM_PER_INCH - 2, say("check_bar_in", language, n=8), TEXT, align="right")
    pen.text(24, 66, say("check_heading", language), LARGE, bold=True)
    pen.words(24, 76, wide - 52, say(how, language), TEXT, LEADING)
    pen.text(wide / 2, tall - 2, f"{room.name} · {say(name, language)} · {paper}", SMALL, align="centre")
    return sheet.page(pen, say(name, language), _frame(sheet))


def _frame(sheet: Sheet) -> Pen:
    """A frame 10 mm from the paper's edges, with corner crosses: whatever is missing of it, the printer cannot reach."""
    pen = Pen()
    wide, tall = sheet.size_mm
    edge = 10 + FINE / 2
    pen.rectangle(edge, edge, wide - 2 * edge, tall - 2 * edge, FINE)
    for x in (edge + 4, wide - edge - 4):
        for y in (edge + 4, tall - edge - 4):
            pen.line(x - 3, y, x + 3, y, THIN)
            pen.line(x, y - 3, x, y + 3, THIN)
    return pen


def _bar_across(pen: Pen, x: float, y: float, ticks_mm: tuple[float, float], words: str, measure: bool) -> None:
    """A line from 0 to the second tick, with the first on the way."""
    pen.line(x, y, x + ticks_mm[1], y, OBJECT)
    for tick in (0.0, *ticks_mm):
        pen.line(x + tick, y - 3, x + tick, y + (3 if measure else 0), OBJECT)
    pen.text(x + 2, y - 1.6, words, TEXT, bold=measure)


def _bar_down(pen: Pen, x: float, y: float, ticks_mm: tuple[float, float], measure: bool) -> None:
    pen.line(x, y, x, y + ticks_mm[1], OBJECT)
    for tick in (0.0, *ticks_mm):
        pen.line(x - 3, y + tick, x + (3 if measure else 0), y + tick, OBJECT)


def shrinkage_bar_document(room: Room, paper: str) -> Document:
    """Stencils for test bars at their wet size, and a form for what they measure after each stage."""
    scale = room.printed.scale if room.printed else (1.0, 1.0)
    document = Document(say("bars_title", room.language, room=room.name), room.language, (_bars_page(room, paper), _bars_form(room, paper)))
    return corrected(document, scale)


def _bars_page(room: Room, paper: str) -> Page:
    sheet, pen, language = Sheet(paper), Pen(), room.language
    wide, tall = sheet.live_mm
    pen.text(0, 8, say("bars_heading", language), LARGE, bold=True)
    y = pen.words(0, 15, wide, say("bars_how", language), TEXT, LEADING) + 10
    x = (wide - BAR_LONG_MM) / 2
    for number in range(1, 4):
        pen.rectangle(x, y, BAR_LONG_MM, BAR_WIDE_MM, CUT)
        for mark in (x + (BAR_LONG_MM - MARKS_MM) / 2, x + (BAR_LONG_MM + MARKS_MM) / 2):
            pen.line(mark, y + 4, mark, y + 16, OBJECT)
            pen.line(mark - 4, y + 10, mark + 4, y + 10, OBJECT)
        pen.text(x + BAR_LONG_MM / 2, y + 11.5, say("bars_marks", language), TEXT, bold=True, align="centre")
        pen.text(x + BAR_LONG_MM / 2, y + 22.5, say("bars_label", language, n=number), TEXT, align="centre")
        y += BAR_WIDE_MM + 8
    pen.words(0, y + 2, wide, say("bars_drying", language), TEXT, LEADING)
    foot(pen, wide, tall, f"{room.name} · {say('bars_heading', language)}", paper)
    return sheet.page(pen, say("bars_heading", language))


def _bars_form(room: Room, paper: str) -> Page:
    sheet, pen, language = Sheet(paper), Pen(), room.language
    wide, tall = sheet.live_mm
    pen.text(0, 8, say("form_heading", language), LARGE, bold=True)
    y = pen.words(0, 15, wide, say("form_how", language), TEXT, LEADING) + 8
    heads = [say(f"form_{key}", language) for key in ("bar", "clay", "cone", "date", "wet", "dry", "bisque", "fired")]
    edges = [0.0, 12.0, 52.0, 68.0, *accumulate(_columns(heads[4:], wide - 92.0), initial=92.0)]
    rows = 9
    for left, head in zip(edges, heads, strict=False):
        pen.text(left + 1.5, y + capitals_mm(TEXT) + 1.5, head, TEXT, bold=True)
    for row in range(rows + 1):
        pen.line(0, y + 8 + row * 10, wide, y + 8 + row * 10, FINE)
        if row < rows:
            pen.text(1.5, y + 8 + row * 10 + 6.8, str(row + 1), TEXT)
    for edge in edges[1:-1]:
        pen.line(edge, y, edge, y + 8 + rows * 10, THIN)
    y = pen.words(0, y + 16 + rows * 10, wide, say("form_then", language), TEXT, LEADING) + 12
    pen.text(0, y, say("block_heading", language), TEXT, bold=True)
    y = pen.words(0, y + 4, wide, say("block_how", language), TEXT, LEADING) + 10
    for key in ("block_long", "block_wide", "block_tall", "block_weighs"):
        right = pen.text(0, y, say(key, language), TEXT)
        pen.line(right + 2, y + 0.6, 80, y + 0.6, FINE)
        y += 9
    foot(pen, wide, tall, f"{room.name} · {say('form_heading', language)}", paper)
    return sheet.page(pen, say("form_heading", language))


def _columns(heads: list[str], wide: float) -> list[float]:
    """Equally wide, unless a head needs more."""
    needs = [width_mm(head, TEXT, bold=True) + 3 for head in heads]
    return [wide / len(needs) if max(needs) * len(needs) <= wide else need + (wide - sum(needs)) / len(needs) for need in needs]


def fired_ruler_document(room: Room, paper: str) -> Document:
    """Rulers in stretched units for each clay: laid on wet clay they read the fired size."""
    clays = fired_clays(room)
    per_page = 4
    pages = [_ruler_page(room, paper, clays[first : first + per_page]) for first in range(0, len(clays), per_page)]
    document = Document(say("rulers_title", room.language, room=room.name), room.language, tuple(pages))
    return corrected(document, room.printed.scale if room.printed else (1.0, 1.0))


def _ruler_page(room: Room, paper: str, clays: tuple[FiredClay, ...]) -> Page:
    sheet, pen, language = Sheet(paper, turned=True), Pen(), room.language
    wide, tall = sheet.live_mm
    pen.text(0, 8, say("rulers_heading", language), LARGE, bold=True)
    y = pen.words(0, 14, 180, say("rulers_how", language), TEXT, LEADING) + 6
    for clay in clays:
        _ruler(pen, y, wide, clay, language)
        y += STRIP_TALL_MM + 8
    foot(pen, wide, tall, f"{room.name} · {say('rulers_heading', language)}", paper)
    return sheet.page(pen, say("rulers_heading", language))


def _ruler(pen: Pen, top: float, wide: float, clay: FiredClay, language: str) -> None:
    """Fired millimetres along the upper edge, fired inches along the lower, both stretched by 1 / (1 - s)."""
    stretch = 1 / (1 - clay.shrinkage)
    pen.rectangle(0, top, wide, STRIP_TALL_MM, FINE)
    x0, room_mm = 4.0, wide - 8.0
    for tick in range(math.floor(room_mm / stretch) + 1):
        x, long = x0 + tick * stretch, 6.0 if tick % 10 == 0 else 4.4 if tick % 5 == 0 else 2.8
        pen.line(x, top, x, top + long, FINE if tick % 10 == 0 else THIN)
        if tick % 10 == 0:
            pen.text(x, top + 9.4, str(tick // 10), SMALL, align="centre")
    foot_mm = top + STRIP_TALL_MM
    for tick in range(math.floor(room_mm / (MM_PER_INCH / 8 * stretch)) + 1):
        x, long = x0 + tick * MM_PER_INCH / 8 * stretch, {0: 6.0, 4: 4.8, 2: 3.8, 6: 3.8}.get(tick % 8, 2.8)
        pen.line(x, foot_mm - long, x, foot_mm, FINE if tick % 8 == 0 else THIN)
        if tick % 8 == 0:
            pen.text(x, foot_mm - 7.2, str(tick // 8), SMALL, align="centre")
    name = say("ruler_clay", language, clay=clay.name, cone=clay.cone, share=f"{clay.shrinkage * 100:.3g}", basis=clay.basis)
    pen.text(x0 + 1, top + 16.6, name, TEXT, bold=True)
    pen.text(wide - 6, top + 16.6, say("ruler_cm", language), SMALL, align="right")
    pen.text(wide - 6, top + 20.8, say("ruler_in", language), SMALL, align="right")
    pen.line(x0, top, x0, top + 2, ATTENTION)
