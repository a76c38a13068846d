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
SHELF_ROWS = 5
GAP_MM = 3.0
PARTS_A_ROW = 4
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
    sheet, pen = Sheet(paper), Pen()
    wide, tall = sheet.live_mm
    pen.text(0, 8, say("gallery_shelf", language), HEADING, bold=True)
    columns, top = 3, 16.0
    pitch_x, pitch_y = wide / columns, (tall - top - 8) / SHELF_ROWS
    for index, kit in enumerate(kits):
        x, y = (index % columns + 0.5) * pitch_x, top + (index // columns) * pitch_y
        parts = [part for piece in kit.pieces for part in piece.parts]
        _parts(pen, parts, x, y, pitch_x - 8, pitch_y - 12)
        pen.text(x, y + pitch_y - 6, kit.lesson.title, TEXT, bold=True, align="centre")
    foot(pen, wide, tall, say("gallery_shelf", language), paper)
    return sheet.page(pen, say("gallery_shelf", language))


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
    sheet, pen = Sheet(paper), Pen()
    wide, tall = sheet.live_mm
    pen.text(0, 8, say("gallery_outlines", language), HEADING, bold=True)
    columns, top = 4, 16.0
    pitch_x, pitch_y = wide / columns, (tall - top - 8) / -(-len(examples.OUTLINES) // columns)
    for index, name in enumerate(examples.OUTLINES):
        x, y = (index % columns + 0.5) * pitch_x, top + (index // columns) * pitch_y
        _fitted(pen, [example_shape(name)], x, y, pitch_x - 8, min(TALL_MM, pitch_y - 9))
        pen.text(x, y + min(TALL_MM, pitch_y - 9) + 5, name, TEXT, align="centre")
    foot(pen, wide, tall, say("gallery_outlines", language), paper)
    return sheet.page(pen, say("gallery_outlines", language))


def _forms(paper: str, language: str) -> Page:
    sheet, pen = Sheet(paper), Pen()
    wide, tall = sheet.live_mm
    pen.text(0, 8, say("gallery_forms", language), HEADING, bold=True)
    columns, top = 2, 16.0
    pitch_x, pitch_y = wide / columns, (tall - top - 8) / -(-len(examples.FORMS) // columns)
    for index, name in enumerate(examples.FORMS):
        x, y = (index % columns + 0.5) * pitch_x, top + (index // columns) * pitch_y
        parts = example_parts(name)
        _parts(pen, parts, x, y, pitch_x - 8, min(TALL_MM, pitch_y - 10))
        words = f"{name}: {', '.join(dict.fromkeys(part.name for part in parts))}"
        pen.text(x, y + min(TALL_MM, pitch_y - 10) + 5, words, TEXT, align="centre")
    foot(pen, wide, tall, say("gallery_forms", language), paper)
    return sheet.page(pen, say("gallery_forms", language))


def _fitted(pen: Pen, shapes: Sequence[Shape], x: float, top: float, wide: float, tall: float) -> None:
    for shape in shapes:
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
