"""The workload on reportlab's canvas, tuned by hand: the practical floor in pure Python. Run: python -m tests.benchmarks.floor OUT.pdf

Widths and encoded words are remembered, what is drawn often is a form, and paths are written as the page's own operators, with
private members of the library where that is faster. No program has to be like this; it says how near to it ours comes.
"""

from __future__ import annotations

import sys
from collections.abc import Iterator, Sequence

from reportlab.lib.units import mm
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.pdfgen.canvas import Canvas

from tests.benchmarks.workload import LESSONS, TILE_MM, TYPEFACES, Command, Lesson, lessons

ACROSS, UP = (size * mm for size in TILE_MM)
CORNER = 15 * mm, 20 * mm


class Face:
    """One font on one canvas."""

    def __init__(self, canvas: Canvas, file: str) -> None:
        self.font = TTFont(file, str(TYPEFACES / f"{file}.ttf"))
        pdfmetrics.registerFont(self.font)
        self.canvas = canvas
        self.widths: dict[str, float] = {}
        self.encoded: dict[str, str] = {}
        self.space = self.width(" ")

    def width(self, word: str) -> float:
        """At one point."""
        if (width := self.widths.get(word)) is None:
            width = self.widths[word] = self.font.stringWidth(word, 1)
        return width

    def encode(self, word: str) -> str:
        if (code := self.encoded.get(word)) is None:
            (_, data), *more = self.font.splitString(word, self.canvas._doc)
            assert not more  # one subset holds all that is drawn
            code = self.encoded[word] = self.canvas._escape(data)
        return code

    def lines(self, words: Sequence[str], wide: float, size: int) -> list[list[str]]:
        """Words broken into lines, each filled before the next."""
        limit, space, width = wide / size, self.space, self.width
        lines: list[list[str]] = [[]]
        x = -space
        for word in words:
            x += space + width(word)
            if x > limit and lines[-1]:
                lines.append([])
                x = width(word)
            lines[-1].append(word)
        return lines

    def block(self, lines: Sequence[Sequence[str]], x: float, y: float, size: int, leading: float) -> str:
        encode = self.encode
        drawn = ") Tj T* (".join([encode(" ").join(map(encode, line)) for line in lines])
        name = self.font.getSubsetInternalName(0, self.canvas._doc)
        return f"BT 1 0 0 1 {x:.2f} {y:.2f} Tm {name} {size} Tf {leading:.1f} TL ({drawn}) Tj ET"


def draw(path: str, count: int = LESSONS) -> None:
    canvas = Canvas(path, pagesize=(210 * mm, 297 * mm), pageCompression=1, invariant=1)
    regular, bold = Face(canvas, "DejaVuSans"), Face(canvas, "DejaVuSans-Bold")
    _mark_and_ruler(canvas)
    frames = list(_frames(canvas))
    for lesson in lessons(count):
        _cards(canvas, lesson, regular, bold, frames)
        _tiles(canvas, lesson, regular, bold)
        _sign(canvas, lesson, regular, bold)
    canvas.save()


def _mark_and_ruler(canvas: Canvas) -> None:
    canvas.beginForm("mark", -9, -9, 9, 9)
    canvas.circle(0, 0, 4)
    canvas.line(-7, 0, 7, 0)
    canvas.line(0, -7, 0, 7)
    canvas.endForm()
    canvas.beginForm("ruler", -25, -25, 300, 300)
    canvas.setLineWidth(0.3)
    ticks = []
    for i in range(100):
        at, end = i * mm, -18 if i % 10 == 0 else -15 if i % 5 == 0 else -13
        ticks.append(f"{at:.3f} -10 m {at:.3f} {end} l -10 {at:.3f} m {end} {at:.3f} l")
    canvas._code.append(" ".join(ticks) + " S")
    canvas.endForm()


def _frames(canvas: Canvas) -> Iterator[str]:
    """The four rounded frames of a page of cards."""
    for i in range(4):
        begun = len(canvas._code)
        canvas.roundRect(36 + i % 2 * 266, 36 + (1 - i // 2) * 380, 256, 370, 8)
        yield " ".join(canvas._code[begun:])
        del canvas._code[begun:]


def _cards(canvas: Canvas, lesson: Lesson, regular: Face, bold: Face, frames: list[str]) -> None:
    for page in (page for level in lesson.levels for page in level):
        drawn = [bold.block([[lesson.name]], 40, 810, 16, 16)]
        for i, card in enumerate(page):
            x, y = 36 + i % 2 * 266, 36 + (1 - i // 2) * 380
            drawn += [
                frames[i],
                bold.block([card.title.split()], x + 8, y + 346, 13, 13),
                regular.block(regular.lines(card.words, 240, 10), x + 8, y + 325, 10, 12.5),
                f"q 2.4 0 0 2.4 {x + 8} {y + 10} cm .6 w {_strokes(card.picture)} Q",
            ]
        canvas._code.extend(drawn)
        canvas.showPage()


def _tiles(canvas: Canvas, lesson: Lesson, regular: Face, bold: Face) -> None:
    form, (left, foot) = lesson.name.replace(" ", ""), CORNER
    canvas.beginForm(form, 0, 0, 400 * mm, 600 * mm)
    (x, y), *points = lesson.outline
    canvas._code.append(f"{x * mm:.2f} {y * mm:.2f} m " + " ".join([f"{x * mm:.2f} {y * mm:.2f} l" for x, y in points]) + " s")
    canvas.endForm()
    labels = [regular.block([label.text.split()], left + label.x_mm * 2.4, foot + label.y_mm * 3, 8, 8) for label in lesson.labels]
    for column, row in ((0, 0), (0, 1), (1, 0), (1, 1)):
        canvas._code.append(bold.block([f"{lesson.name} tile {column + 1}/{row + 1}".split()], 50, 825, 10, 10))
        _place(canvas, "ruler", left, foot)
        for x, y in ((0, 0), (0, UP), (ACROSS, 0), (ACROSS, UP)):
            _place(canvas, "mark", left + x, foot + y)
        clip = f"{left:.3f} {foot:.3f} {ACROSS:.3f} {UP:.3f} re W n "
        _place(canvas, form, left - column * ACROSS, foot - row * UP, clip)
        canvas._code.extend(labels)
        canvas.showPage()


def _place(canvas: Canvas, form: str, x: float, y: float, clip: str = "") -> None:
    canvas._code.append(f"q {clip}1 0 0 1 {x:.3f} {y:.3f} cm")
    canvas.doForm(form)
    canvas._code.append("Q")


def _sign(canvas: Canvas, lesson: Lesson, regular: Face, bold: Face) -> None:
    words = lesson.sign.title.split()
    wide = 48 * (sum(map(bold.width, words)) + bold.space * (len(words) - 1))
    canvas._code += [
        bold.block([words], 297 - wide / 2, 740, 48, 48),
        regular.block(regular.lines(lesson.sign.words, 500, 24), 50, 690, 24, 30),
        f"q 4.6 0 0 4.6 60 60 cm .6 w {_strokes(lesson.sign.picture)} Q",
    ]
    canvas.showPage()


def _strokes(picture: Sequence[Command]) -> str:
    drawn = []
    for operator, *numbers in picture:
        match operator:
            case "L":
                drawn.append("{:g} {:g} l".format(*numbers))
            case "C":
                drawn.append("{:g} {:g} {:g} {:g} {:g} {:g} c".format(*numbers))
            case _:
                drawn.append("S {:g} {:g} m".format(*numbers))
    return " ".join(drawn).removeprefix("S ") + " S"


if __name__ == "__main__":
    draw(sys.argv[1])
