"""Ruled forms to fill in by hand: a head, and rows of cells of which some are already filled."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from lessonkit.drawing.items import CLAY
from lessonkit.drawing.typesetting import Block, Span, set_text
from lessonkit.layout.flow import Strip, Type
from lessonkit.layout.pen import FINE, OBJECT, THIN, Pen
from lessonkit.layout.teacher_table import TEXT, Cell, cell
from lessonkit.layout.wording import say

INSET_MM = 1.3
NUMBER_MM, LEVEL_MM = 12.0, 30.0


class GridColumn(NamedTuple):
    """`share` is of the width that the columns without a width of their own divide among them."""

    head: Cell
    wide_mm: float = 0.0
    share: float = 1.0
    centred: bool = False
    head_type: Type = TEXT


class GridRow(NamedTuple):
    """Cells from the left; those that are left out are empty. `grey` columns cannot be filled in."""

    cells: tuple[Cell, ...] = ()
    grey: tuple[int, ...] = ()


def learner_columns(language: str) -> list[GridColumn]:
    """Number and level, at the left of every form that is filled in by learner."""
    number, level = (cell(say(f"by_{key}", language), True) for key in ("number", "level"))
    return [GridColumn(number, NUMBER_MM, centred=True), GridColumn(level, LEVEL_MM)]


def grid(columns: Sequence[GridColumn], rows: Sequence[GridRow], wide_mm: float, row_mm: float, type_: Type = TEXT) -> tuple[Strip, list[Strip]]:
    """The head, for the top of every sheet, and a strip a row, each at least `row_mm` high."""
    widths = _widths(columns, wide_mm)
    heads = [_set(column.head, wide, column.head_type) for column, wide in zip(columns, widths, strict=True)]
    tall = max((column.head_type.tall_mm(block) for column, block in zip(columns, heads, strict=True)), default=0.0) + 2 * INSET_MM

    def top(pen: Pen, x: float, y: float) -> None:
        for column, left, wide, block in zip(columns, _lefts(widths), widths, heads, strict=True):
            _text(pen, x + left, y + tall - INSET_MM - column.head_type.tall_mm(block), wide, block, column.centred)
        pen.line(x, y + tall, x + wide_mm, y + tall, OBJECT)
        _uprights(pen, x, y, tall, widths)

    return Strip(tall, top, keep=True), [_row(columns, widths, row, row_mm, type_) for row in rows]


def _row(columns: Sequence[GridColumn], widths: Sequence[float], row: GridRow, row_mm: float, type_: Type) -> Strip:
    cells = [*row.cells, *[()] * (len(columns) - len(row.cells))]
    blocks = [_set(cell, wide, type_) for cell, wide in zip(cells, widths, strict=True)]
    tall = max(row_mm, max(type_.tall_mm(block) for block in blocks) + 2 * INSET_MM)

    def put(pen: Pen, x: float, y: float) -> None:
        for index, (left, wide) in enumerate(zip(_lefts(widths), widths, strict=True)):
            if index in row.grey:
                pen.rectangle(x + left, y, wide, tall, 0, CLAY)
        for column, left, wide, block in zip(columns, _lefts(widths), widths, blocks, strict=True):
            _text(pen, x + left, y + (tall - type_.tall_mm(block)) / 2, wide, block, column.centred)
        pen.line(x, y + tall, x + sum(widths), y + tall, FINE)
        _uprights(pen, x, y, tall, widths)

    return Strip(tall, put)


def _widths(columns: Sequence[GridColumn], wide_mm: float) -> list[float]:
    rest = wide_mm - sum(column.wide_mm for column in columns)
    shares = sum(column.share for column in columns if not column.wide_mm)
    return [column.wide_mm or rest * column.share / shares for column in columns]


def _lefts(widths: Sequence[float]) -> list[float]:
    return [sum(widths[:index]) for index in range(len(widths))]


def _set(cell: Cell, wide_mm: float, type_: Type) -> Block:
    return set_text(cell or (Span(""),), wide_mm - 2 * INSET_MM, type_.size_pt, type_.leading_pt)


def _text(pen: Pen, x: float, top: float, wide: float, block: Block, centred: bool) -> None:
    left = x + ((wide - block.wide_mm) / 2 if centred else INSET_MM)
    pen.block(left, top, block)


def _uprights(pen: Pen, x: float, y: float, tall: float, widths: Sequence[float]) -> None:
    for left in _lefts(widths)[1:]:
        pen.line(x + left, y, x + left, y + tall, THIN)
