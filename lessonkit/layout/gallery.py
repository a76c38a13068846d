"""One look at everything that can be cut: every outline, and every built form unfolded, small."""

from __future__ import annotations

from collections.abc import Sequence

from lessonkit.drawing.items import CLAY, Document, Page
from lessonkit.geometry.shape import Shape, bounds
from lessonkit.layout.pen import CENTRE, DASHED, FINE, OBJECT, PRESS, Pen
from lessonkit.layout.sheet import Sheet, foot
from lessonkit.layout.wording import say
from lessonkit.lesson import examples
from lessonkit.lesson.lesson import Piece as WrittenPiece
from lessonkit.lesson.shapes import Outline
from lessonkit.pieces.built import lettered, unfold
from lessonkit.pieces.flats import cut_flat
from lessonkit.pieces.model import Kit, Part, Piece
from lessonkit.pieces.outlines import outline_shape
from lessonkit.pieces.scale import Scale

HEADING, TEXT = 22.0, 9.5
TALL_MM = 38.0  # of a drawing
SLAB_MM = 6.0
TOP_MM = 16.0  # of the first row
SHELF_ROWS = 5
GAP_MM = 3.0
PARTS_A_ROW = 4
SMALL_MM = (60.0, 45.0)
AS_WRITTEN = Scale(0.0)


def gallery_document(paper: str, language: str = "en") -> Document:
    """Outlines by name on one page; built forms, each with its parts at one scale, on the next."""
    pages = (_outlines(paper, language), _forms(paper, language))
    return Document(say("gallery_title", language), language, pages)


def shelf_document(kits: Sequence[Kit], paper: str, language: str = "en") -> Document:
    """Every part of every lesson, small, by lesson: what there is on the shelf."""
    name = say("gallery_shelf", language)
    pages = [_shelf(kits[first : first + SHELF_ROWS * 3], paper, language) for first in range(0, len(kits), SHELF_ROWS * 3)]
    return Document(name, language, tuple(pages))


def _shelf(kits: Sequence[Kit], paper: str, language: str) -> Page:
    grid = Grid(paper, say("gallery_shelf", language), 3, SHELF_ROWS)
    for kit in kits:
        x, top, wide, tall = grid.next_cell()
        _parts(grid.pen, [part for piece in kit.pieces for part in piece.parts], x, top, wide, tall - 12)
        grid.pen.text(x, top + tall - 6, kit.lesson.title, TEXT, bold=True, align="centre")
    return grid.page()


def small_page(kit: Kit) -> Page:
    """Everything that a lesson cuts, on a picture of 60 by 45 mm."""
    pen = Pen()
    _parts(pen, [part for piece in kit.pieces for part in piece.parts], SMALL_MM[0] / 2, 2.0, SMALL_MM[0] - 4, SMALL_MM[1] - 4)
    return Page(*SMALL_MM, tuple(pen.items), kit.lesson.title)


def example_shape(name: str) -> Shape:
    return outline_shape(Outline.model_validate({name: examples.OUTLINES[name]}), AS_WRITTEN, {})


def example_parts(name: str) -> tuple[Part, ...]:
    piece = WrittenPiece.model_validate({"name": name, name: examples.FORMS[name]})
    return lettered(unfold(piece, SLAB_MM, AS_WRITTEN, 1.95), lambda: "", AS_WRITTEN)


def example_piece() -> Piece:
    """A ring with an opening, a hanging hole and eight joining places: it shows something in every step picture."""
    written = WrittenPiece.model_validate(examples.RING)
    cutting = cut_flat(written, SLAB_MM, AS_WRITTEN, {})
    part = Part(written.name, "A", cutting.shape, cutting.measures, cutting.holes, cutting.marks)
    return Piece(written.name, (), 1, SLAB_MM, "blue", 0.0, cutting.measures, (part,), "", "fired")


def _outlines(paper: str, language: str) -> Page:
    grid = Grid(paper, say("gallery_outlines", language), 4, -(-len(examples.OUTLINES) // 4))
    for name in examples.OUTLINES:
        x, top, wide, tall = grid.next_cell()
        room = min(TALL_MM, tall - 9)
        _fitted(grid.pen, example_shape(name), x, top, wide, room)
        grid.pen.text(x, top + room + 5, name, TEXT, align="centre")
    return grid.page()


def _forms(paper: str, language: str) -> Page:
    grid = Grid(paper, say("gallery_forms", language), 2, -(-len(examples.FORMS) // 2))
    for name in examples.FORMS:
        x, top, wide, tall = grid.next_cell()
        room, parts = min(TALL_MM, tall - 10), example_parts(name)
        _parts(grid.pen, parts, x, top, wide, room)
        words = f"{name}: {', '.join(dict.fromkeys(part.name for part in parts))}"
        grid.pen.text(x, top + room + 5, words, TEXT, align="centre")
    return grid.page()


class Grid:
    """A page of equal cells under a heading, filled row by row."""

    def __init__(self, paper: str, name: str, columns: int, rows: int) -> None:
        self.pen, self.name, self.paper = Pen(), name, paper
        self.sheet, self.columns, self.filled = Sheet(paper), columns, 0
        self.wide, self.tall = self.sheet.live_mm
        self.pitch = self.wide / columns, (self.tall - TOP_MM - 8) / rows
        self.pen.text(0, 8, name, HEADING, bold=True)

    def next_cell(self) -> tuple[float, float, float, float]:
        """Middle, top, width to draw in, and height of the next cell."""
        row, column = divmod(self.filled, self.columns)
        self.filled += 1
        return (column + 0.5) * self.pitch[0], TOP_MM + row * self.pitch[1], self.pitch[0] - 8, self.pitch[1]

    def page(self) -> Page:
        foot(self.pen, self.wide, self.tall, self.name, self.paper)
        return self.sheet.page(self.pen, self.name)


def _fitted(pen: Pen, shape: Shape, x: float, top: float, wide: float, tall: float) -> None:
    left, bottom, right, upper = bounds(shape)
    scale = min(wide / (right - left), tall / (upper - bottom))
    pen.shape(shape, x - (left + right) / 2 * scale, top + tall / 2 + (bottom + upper) / 2 * scale, scale, OBJECT, CLAY)


def _parts(pen: Pen, parts: Sequence[Part], x: float, top: float, wide: float, tall: float) -> None:
    """All at one scale, four to a row."""
    rows = [parts[first : first + PARTS_A_ROW] for first in range(0, len(parts), PARTS_A_ROW)]
    widths = [sum(_size(part)[0] for part in row) for row in rows]
    heights = [max(_size(part)[1] for part in row) for row in rows]
    scale = min(
        *((wide - GAP_MM * (len(row) - 1)) / width for row, width in zip(rows, widths, strict=True)),
        (tall - GAP_MM * (len(rows) - 1)) / sum(heights),
    )
    y = top + (tall - sum(heights) * scale - GAP_MM * (len(rows) - 1)) / 2
    for row, width, height in zip(rows, widths, heights, strict=True):
        edge = x - (width * scale + GAP_MM * (len(row) - 1)) / 2
        for part in row:
            _part(pen, part, edge, y + height * scale / 2, scale)
            edge += _size(part)[0] * scale + GAP_MM
        y += height * scale + GAP_MM


def _size(part: Part) -> tuple[float, float]:
    left, bottom, right, top = bounds(part.shape)
    return right - left, top - bottom


def _part(pen: Pen, part: Part, left_edge: float, middle: float, scale: float) -> None:
    left, bottom, _, upper = bounds(part.shape)
    x, y = left_edge - left * scale, middle + (bottom + upper) / 2 * scale
    pen.shape(part.shape, x, y, scale, OBJECT, CLAY)
    for mark in part.marks:
        points = [(x + px * scale, y - py * scale) for px, py in mark.line]
        dash = {"press": DASHED, "fold": DASHED, "centre": CENTRE}.get(mark.kind, ())
        pen.polygon(points, PRESS if dash else FINE, closed=mark.closed, dash=tuple(length / 2 for length in dash))
