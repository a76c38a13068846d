"""The workload in typst, a general engine that is compiled to machine code. Run: python -m tests.benchmarks.typst_pages OUT.pdf"""

from __future__ import annotations

import sys
from collections.abc import Iterator, Sequence

import typst

from tests.benchmarks.workload import LESSONS, PICTURE_SIZE, TILE_MM, TYPEFACES, Card, Command, Lesson, lessons

HEAD = f"""
#set page(width: 210mm, height: 297mm, margin: 0mm)
#set text(font: "DejaVu Sans", size: 10pt)
#set par(leading: 0.5em)
#let at(x, y, body) = place(top + left, dx: x, dy: y, body)
#let cross = {{
  at(-4pt, -4pt, circle(radius: 4pt, stroke: 1pt))
  at(-7pt, 0pt, line(length: 14pt))
  at(0pt, -7pt, line(length: 14pt, angle: 90deg))
}}
#let ruler = for mm in range(100) {{
  let end = if calc.rem(mm, 10) == 0 {{ 8pt }} else if calc.rem(mm, 5) == 0 {{ 5pt }} else {{ 3pt }}
  at(mm * 1mm, 10pt, line(length: end, angle: 90deg, stroke: .3pt))
  at(-10pt - end, -mm * 1mm, line(length: end, stroke: .3pt))
}}
#let card(number, name, body, drawing) = at(36pt + calc.rem(number, 2) * 266pt, 55.9pt + calc.quo(number, 2) * 380pt,
  box(width: 256pt, height: 370pt, radius: 8pt, stroke: 1pt, inset: 8pt, {{
    text(weight: "bold", size: 13pt, name)
    parbreak()
    body
    at(0pt, 180pt, drawing)
  }}))
#let tile(name, column, row, outline, labels) = {{
  at(50pt, 8pt, text(weight: "bold", name))
  at(15mm, 277mm, ruler)
  for x in (0mm, {TILE_MM[0]}mm) {{ for y in (0mm, {TILE_MM[1]}mm) {{ at(15mm + x, 22mm + y, cross) }} }}
  at(15mm, 22mm, box(width: {TILE_MM[0]}mm, height: {TILE_MM[1]}mm, clip: true, at(-column * {TILE_MM[0]}mm, (row - 1) * {TILE_MM[1]}mm, outline)))
  labels
  pagebreak(weak: true)
}}
"""


def draw(path: str, count: int = LESSONS) -> None:
    source = HEAD + "".join(line for lesson in lessons(count) for line in _lesson(lesson))
    typst.compile(source.encode(), output=path, font_paths=[str(TYPEFACES)], ignore_system_fonts=True)


def _lesson(lesson: Lesson) -> Iterator[str]:
    for page in (page for level in lesson.levels for page in level):
        yield f'#at(40pt, 20pt, text(weight: "bold", size: 16pt)[{lesson.name}])\n'
        for number, card in enumerate(page):
            yield f'#card({number}, "{card.title}", "{" ".join(card.words)}", {_picture(card.picture, 2.4)})\n'
        yield "#pagebreak(weak: true)\n"
    labels = "".join(f"at(15mm + {label.x_mm * 2.4}pt, 270mm - {label.y_mm * 3}pt, text(size: 8pt)[{label.text}]);" for label in lesson.labels)
    (x, y), *points = lesson.outline
    lines = "".join(f"curve.line(({x:.2f}mm, {510 - y:.2f}mm))," for x, y in points)
    yield f"#let labels = {{ {labels} }}\n#let outline = curve(curve.move(({x:.2f}mm, {510 - y:.2f}mm)), {lines} curve.close())\n"
    for column, row in ((0, 0), (0, 1), (1, 0), (1, 1)):
        yield f"#tile([{lesson.name} tile {column + 1}/{row + 1}], {column}, {row}, outline, labels)\n"
    yield from _sign(lesson.sign)


def _sign(sign: Card) -> Iterator[str]:
    yield f'#at(0pt, 65pt, box(width: 210mm, align(center, text(weight: "bold", size: 48pt)[{sign.title}])))\n'
    yield f"#at(50pt, 135pt, box(width: 500pt, text(size: 24pt)[{' '.join(sign.words)}]))\n"
    yield f"#at(60pt, 460pt, {_picture(sign.picture, 4.6)})\n#pagebreak(weak: true)\n"


def _picture(picture: Sequence[Command], scale: float) -> str:
    wide, tall = PICTURE_SIZE
    moves = {"M": "curve.move", "L": "curve.line", "C": "curve.cubic"}
    drawn = []
    for operator, *numbers in picture:
        points = (f"({x * scale:.1f}pt, {(tall - y) * scale:.1f}pt)" for x, y in zip(numbers[::2], numbers[1::2], strict=True))
        drawn.append(f"{moves[operator]}({', '.join(points)})")
    return f"box(width: {wide * scale}pt, height: {tall * scale}pt, curve(stroke: {0.6 * scale}pt, {', '.join(drawn)}))"


if __name__ == "__main__":
    draw(sys.argv[1])
