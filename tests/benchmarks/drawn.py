"""The workload as our own drawing, set and written by ours: drawing and writing alone. Run: python -m tests.benchmarks.drawn OUT.pdf"""

from __future__ import annotations

import sys
from collections.abc import Iterator, Sequence
from pathlib import Path as File
from typing import cast

from lessonkit.drawing.fonts import width_mm
from lessonkit.drawing.items import Command as Drawn
from lessonkit.drawing.items import Document, Group, Item, Page, Path, Stroke, TextLine
from lessonkit.drawing.typesetting import Span, set_text
from lessonkit.units import MM_PER_POINT, PAPERS
from lessonkit.writers.pdf import write_pdf
from tests.benchmarks.workload import LESSONS, TILE_MM, Card, Command, Label, Lesson, lessons

WIDE, TALL = PAPERS["A4"]
CORNER_MM = (15, TALL - 20 - TILE_MM[1])
HAIR, LINE = Stroke(0.1), Stroke(0.35)
MARK = 1.4
KAPPA = 0.5523  # a quarter circle as one curve


def draw(path: str, count: int = LESSONS) -> None:
    pages = tuple(page for lesson in lessons(count) for page in _pages(lesson))
    File(path).write_bytes(write_pdf(Document("Workload", "en", pages)))


def _pages(lesson: Lesson) -> Iterator[Page]:
    for cards in (cards for level in lesson.levels for cards in level):
        yield _page(f"{lesson.name} cards", [_line(lesson.name, 40, 810, 16, bold=True), *(item for i in range(4) for item in _card(cards[i], i))])
    yield from _tiles(lesson)
    yield _page(f"{lesson.name} sign", list(_sign(lesson.sign)))


def _page(name: str, items: Sequence[Item]) -> Page:
    return Page(WIDE, TALL, tuple(items), name)


def _line(text: str, x_pt: float, y_pt: float, size: float, bold: bool = False) -> TextLine:
    """Where the other drawings of the workload have it: in points from the foot."""
    return TextLine(x_pt * MM_PER_POINT, TALL - y_pt * MM_PER_POINT, text, size, bold)


def _block(words: list[str], x_pt: float, y_pt: float, wide_pt: float, size: float, leading: float) -> tuple[TextLine, ...]:
    """Lines from the first baseline at `y_pt` down, each filled before the next."""
    block = set_text((Span(" ".join(words)),), wide_pt * MM_PER_POINT, size, leading, even=False)
    lines = block.at(x_pt * MM_PER_POINT, 0)
    down = TALL - y_pt * MM_PER_POINT - lines[0].y_mm
    return tuple(TextLine(line.x_mm, line.y_mm + down, line.text, size) for line in lines)


def _card(card: Card, place: int) -> Iterator[Item]:
    x, y = 36 + place % 2 * 266, 36 + (1 - place // 2) * 380
    yield Group((FRAME,), x * MM_PER_POINT, TALL - (y + 370) * MM_PER_POINT)
    yield _line(card.title, x + 8, y + 346, 13, bold=True)
    yield from _block(card.words, x + 8, y + 325, 240, 10, 12.5)
    yield _picture(card.picture, x + 8, y + 10, 2.4)


def _picture(picture: list[Command], x_pt: float, y_pt: float, scale: float) -> Group:
    size = scale * MM_PER_POINT
    drawn = tuple((operator, *[-n * size if i % 2 else n * size for i, n in enumerate(numbers)]) for operator, *numbers in picture)
    return Group((Path.of(cast("tuple[Drawn, ...]", drawn), Stroke(0.6 * size)),), x_pt * MM_PER_POINT, TALL - y_pt * MM_PER_POINT)


def _tiles(lesson: Lesson) -> Iterator[Page]:
    (across, up), (left, top) = TILE_MM, CORNER_MM
    points = [(x, -y) for x, y in lesson.outline]
    outline = Path.of((("M", *points[0]), *(("L", *point) for point in points[1:]), ("Z",)), LINE)
    labels = Group(tuple(map(_label, lesson.labels)), left, top + up)
    for column, row in ((0, 0), (0, 1), (1, 0), (1, 1)):
        # the group's origin is the outline's own: this tile shows what lies right of `column` and above `row` tiles
        shown = (column * across, -(row + 1) * up, across, up)
        tile = Group((outline,), left - column * across, top + (row + 1) * up, shown)
        corners = (Group((CROSS,), left + x, top + y) for x in (0, across) for y in (0, up))
        title = _line(f"{lesson.name} tile {column + 1}/{row + 1}", 50, 825, 10, bold=True)
        yield _page(title.text, [title, Group((RULER,), left, top + up), *corners, tile, labels])


def _label(label: Label) -> TextLine:
    return TextLine(label.x_mm * 2.4 * MM_PER_POINT, -label.y_mm * 3 * MM_PER_POINT, label.text, 8)


def _sign(sign: Card) -> Iterator[Item]:
    wide_pt = width_mm(sign.title, 48, bold=True) / MM_PER_POINT
    yield _line(sign.title, 297 - wide_pt / 2, 740, 48, bold=True)
    yield from _block(sign.words, 50, 690, 500, 24, 30)
    yield _picture(sign.picture, 60, 60, 4.6)


def _frame() -> Iterator[Drawn]:
    """A rectangle with round corners."""
    wide, tall, r = (points * MM_PER_POINT for points in (256, 370, 8))
    k = r * (1 - KAPPA)
    yield "M", r, 0.0
    yield "L", wide - r, 0.0
    yield "C", wide - k, 0.0, wide, k, wide, r
    yield "L", wide, tall - r
    yield "C", wide, tall - k, wide - k, tall, wide - r, tall
    yield "L", r, tall
    yield "C", k, tall, 0.0, tall - k, 0.0, tall - r
    yield "L", 0.0, r
    yield "C", 0.0, k, k, 0.0, r, 0.0
    yield ("Z",)


def _cross() -> Iterator[Drawn]:
    r, k, arm = MARK, MARK * KAPPA, MARK * 7 / 4
    yield "M", r, 0.0
    yield "C", r, k, k, r, 0.0, r
    yield "C", -k, r, -r, k, -r, 0.0
    yield "C", -r, -k, -k, -r, 0.0, -r
    yield "C", k, -r, r, -k, r, 0.0
    yield "M", -arm, 0.0
    yield "L", arm, 0.0
    yield "M", 0.0, -arm
    yield "L", 0.0, arm


def _ruler() -> Iterator[Drawn]:
    """A tick a millimetre along the foot and the left side."""
    begin = 10 * MM_PER_POINT
    for mm in range(100):
        end = begin + (8 if mm % 10 == 0 else 5 if mm % 5 == 0 else 3) * MM_PER_POINT
        yield "M", mm, begin
        yield "L", mm, end
        yield "M", -begin, -mm
        yield "L", -end, -mm


FRAME, CROSS, RULER = Path.of(tuple(_frame()), LINE), Path.of(tuple(_cross()), LINE), Path.of(tuple(_ruler()), HAIR)


if __name__ == "__main__":
    draw(sys.argv[1])
