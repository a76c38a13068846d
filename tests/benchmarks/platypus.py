"""The workload in reportlab's platypus, a general engine of paragraphs and frames. Run: python -m tests.benchmarks.platypus OUT.pdf"""

from __future__ import annotations

import sys
from collections.abc import Iterator, Sequence
from xml.sax.saxutils import escape

from reportlab.lib.styles import ParagraphStyle
from reportlab.lib.units import mm
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.pdfgen.canvas import Canvas
from reportlab.pdfgen.pathobject import PDFPathObject
from reportlab.platypus import BaseDocTemplate, Flowable, Frame, FrameBreak, PageBreak, PageTemplate, Paragraph
from reportlab.platypus.doctemplate import NextPageTemplate

from tests.benchmarks.workload import LESSONS, PICTURE_SIZE, TILE_MM, TYPEFACES, Card, Command, Lesson, lessons

A4 = 210 * mm, 297 * mm
ACROSS, UP = (size * mm for size in TILE_MM)
HEAD = ParagraphStyle("head", fontName="DejaVuSans-Bold", fontSize=16, leading=16)
CARD_TITLE = ParagraphStyle("card title", fontName="DejaVuSans-Bold", fontSize=13, leading=17)
CARD_TEXT = ParagraphStyle("card text", fontName="DejaVuSans", fontSize=10, leading=12.5)
SIGN_TITLE = ParagraphStyle("sign title", fontName="DejaVuSans-Bold", fontSize=48, leading=58, alignment=1)
SIGN_TEXT = ParagraphStyle("sign text", fontName="DejaVuSans", fontSize=24, leading=30)
NO_PADDING = {"leftPadding": 0, "rightPadding": 0, "topPadding": 0, "bottomPadding": 0}


class Picture(Flowable):
    def __init__(self, picture: Sequence[Command], scale: float) -> None:
        super().__init__()
        self.picture, self.scale = picture, scale
        self.width, self.height = (size * scale for size in PICTURE_SIZE)

    def draw(self) -> None:
        self.canv.scale(self.scale, self.scale)
        self.canv.setLineWidth(0.6)
        path = self.canv.beginPath()
        for operator, *numbers in self.picture:
            add = {"M": path.moveTo, "L": path.lineTo, "C": path.curveTo}[operator]
            add(*numbers)
        self.canv.drawPath(path)


class Tile(Flowable):
    def __init__(self, lesson: Lesson, column: int, row: int) -> None:
        super().__init__()
        self.lesson, self.column, self.row = lesson, column, row
        self.width, self.height = ACROSS, UP

    def draw(self) -> None:
        canvas = self.canv
        _ruler(canvas)
        for x, y in ((0, 0), (0, UP), (ACROSS, 0), (ACROSS, UP)):
            canvas.circle(x, y, 4)
            canvas.line(x - 7, y, x + 7, y)
            canvas.line(x, y - 7, x, y + 7)
        canvas.saveState()
        window = canvas.beginPath()
        window.rect(0, 0, ACROSS, UP)
        canvas.clipPath(window, stroke=0)
        canvas.translate(-self.column * ACROSS, -self.row * UP)
        canvas.drawPath(_outline(canvas, self.lesson))
        canvas.restoreState()
        canvas.setFont("DejaVuSans", 8)
        for label in self.lesson.labels:
            canvas.drawString(label.x_mm * 2.4, label.y_mm * 3, label.text)


def draw(path: str, count: int = LESSONS) -> None:
    for face in ("DejaVuSans", "DejaVuSans-Bold"):
        pdfmetrics.registerFont(TTFont(face, str(TYPEFACES / f"{face}.ttf")))
    document = BaseDocTemplate(path, pagesize=A4, pageCompression=1, invariant=1)
    head = Frame(40, 806, 515, 20, **NO_PADDING)
    cards = [Frame(44 + i % 2 * 266, 40 + (1 - i // 2) * 380, 240, 366, showBoundary=1, **NO_PADDING) for i in range(4)]
    tile = Frame(15 * mm, 20 * mm, ACROSS + 1, UP + 1, **NO_PADDING)
    sign = Frame(50, 50, 500, 750, **NO_PADDING)
    frames = {"cards": [head, *cards], "tile": [head, tile], "sign": [sign]}
    document.addPageTemplates([PageTemplate(name, of_page) for name, of_page in frames.items()])
    story = [item for lesson in lessons(count) for item in _story(lesson)]
    document.build(story[:-1])  # no page after the last


def _story(lesson: Lesson) -> Iterator[Flowable]:
    """Each page ends by naming the next one's frames."""
    pages = [page for level in lesson.levels for page in level]
    for number, page in enumerate(pages, 1):
        yield Paragraph(escape(lesson.name), HEAD)
        for card in page:
            yield FrameBreak()
            yield Paragraph(escape(card.title), CARD_TITLE)
            yield Paragraph(escape(" ".join(card.words)), CARD_TEXT)
            yield Picture(card.picture, 2.4)
        yield NextPageTemplate("tile" if number == len(pages) else "cards")
        yield PageBreak()
    for column, row in ((0, 0), (0, 1), (1, 0), (1, 1)):
        yield Paragraph(f"{escape(lesson.name)} tile {column + 1}/{row + 1}", HEAD)
        yield FrameBreak()
        yield Tile(lesson, column, row)
        yield NextPageTemplate("sign" if column and row else "tile")
        yield PageBreak()
    yield from _sign(lesson.sign)


def _sign(sign: Card) -> Iterator[Flowable]:
    yield Paragraph(escape(sign.title), SIGN_TITLE)
    yield Paragraph(escape(" ".join(sign.words)), SIGN_TEXT)
    yield Picture(sign.picture, 4.6)
    yield NextPageTemplate("cards")
    yield PageBreak()


def _outline(canvas: Canvas, lesson: Lesson) -> PDFPathObject:
    path = canvas.beginPath()
    (x, y), *points = lesson.outline
    path.moveTo(x * mm, y * mm)
    for x, y in points:
        path.lineTo(x * mm, y * mm)
    path.close()
    return path


def _ruler(canvas: Canvas) -> None:
    canvas.setLineWidth(0.3)
    for i in range(100):
        end = -18 if i % 10 == 0 else -15 if i % 5 == 0 else -13
        canvas.line(i * mm, -10, i * mm, end)
        canvas.line(-10, i * mm, end, i * mm)


if __name__ == "__main__":
    draw(sys.argv[1])
