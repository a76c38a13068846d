"""Tables of the teacher's sheet: cells wrap, numbers stand to the right, a long row may be divided between pages."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import accumulate
from typing import NamedTuple

from lessonkit.drawing.fonts import width_mm
from lessonkit.drawing.typesetting import Block, Span, part, set_text, split
from lessonkit.layout.flow import Draw, Strip, Type, pieces
from lessonkit.layout.pen import THIN, Pen
from lessonkit.units import MM_PER_POINT

NAME, TEXT, SMALL = Type(22, 26), Type(9.5, 12.6), Type(8, 10.5)
GUTTER_MM = 4.0
LEAST_MM = 20.0  # of a column that wraps
LINES_TOGETHER = 10

Cell = tuple[Span, ...]


class Column(NamedTuple):
    """`wide_mm` 0 asks for the width of the widest cell. A `wraps` column may be made narrower than that, any other only where
    those would be left too narrow to read. What room is left over goes to the wrapping columns if `grows`, else between all.
    What wraps in a `spills` column runs on beside the following rows while their cells are empty."""

    title: str
    right: bool = False
    wraps: bool = False
    grows: bool = False
    spills: bool = False
    wide_mm: float = 0.0


class Row(NamedTuple):
    """`ruled` has a hairline above; `starred` a small head at the left, for what all start together; `kept` stays on one
    page with the next."""

    cells: tuple[Cell, ...]
    ruled: bool = False
    starred: bool = False
    kept: bool = False


def cell(text: str, bold: bool = False) -> Cell:
    return (Span(text, bold),) if text else ()


class Table:
    """Columns as wide as their cells ask for, all cells broken into lines. `head` is for the top of every page it stands on."""

    def __init__(self, columns: Sequence[Column], rows: Sequence[Row], wide_mm: float) -> None:
        head = Row(tuple(cell(column.title, True) for column in columns))
        self.wide_mm = wide_mm
        self.columns, between = _fitted(columns, [head, *rows], wide_mm)
        ends = accumulate(column.wide_mm + between for column in self.columns)
        self._lefts = [end - column.wide_mm - between for end, column in zip(ends, self.columns, strict=True)]
        set_rows = [self._set(row) for row in rows]
        for index, column in enumerate(self.columns):
            if column.spills:
                _spill(set_rows, index)
        self._rows = [(row.ruled, self._strips(row, blocks)) for row, blocks in zip(rows, set_rows, strict=True)]
        self.head, *_ = self._strips(head, self._set(head))

    def rows(self, gap_mm: float) -> Iterator[Strip]:
        """With so much room above each; a long one in several strips."""
        for ruled, (first, *more) in self._rows:
            yield first._replace(gap_mm=gap_mm, draw=self._under_rule(first, gap_mm) if ruled else first.draw)
            yield from more

    def _set(self, row: Row) -> list[Block]:
        return [set_text(cell, column.wide_mm, TEXT.size_pt, TEXT.leading_pt) for cell, column in zip(row.cells, self.columns, strict=True)]

    def _under_rule(self, strip: Strip, gap_mm: float) -> Draw:
        def put(pen: Pen, x: float, top: float) -> None:
            pen.line(x, top - gap_mm / 2, x + self.wide_mm, top - gap_mm / 2, THIN)
            strip.draw(pen, x, top)

        return put

    def _strips(self, row: Row, blocks: Sequence[Block]) -> list[Strip]:
        strips, columns, lefts = [], self.columns, self._lefts  # not the table itself, which holds the strips: each would keep the other alive
        for number, here in enumerate(_parts(blocks)):

            def put(pen: Pen, x: float, top: float, here: Sequence[Block] = here, first: bool = number == 0) -> None:
                if row.starred and first:
                    pen.head(x + 1.2, top + 2.3, 180, 2.4)
                for column, left, block in zip(columns, lefts, here, strict=True):
                    if block.lines:
                        _put(pen, x + left, top, block, column)

            strips.append(Strip(max(map(TEXT.tall_mm, here), default=0.0), put, TEXT.between_mm if number else 0.0))
        strips[-1] = strips[-1]._replace(keep=row.kept)
        return strips


def _spill(rows: list[list[Block]], index: int) -> None:
    """One line to a row, the last takes what is left."""
    for here, row in enumerate(rows[:-1]):
        below = here + 1
        rest = row[index]
        while len(rest.lines) > 1 and below < len(rows) and not rows[below][index].lines:
            rows[below - 1][index], rest = split(rest, 1)
            rows[below][index] = rest
            below += 1


def _fitted(columns: Sequence[Column], rows: Sequence[Row], wide: float) -> tuple[list[Column], float]:
    columns = list(columns)
    natural = [column.wide_mm or max(wide_mm(row.cells[index]) for row in rows) + 0.1 for index, column in enumerate(columns)]
    fixed = sum(w for w, column in zip(natural, columns, strict=True) if not column.wraps)
    gutters = GUTTER_MM * (len(columns) - 1)
    room = wide - gutters - fixed
    while room < _least(columns, natural) and (widest := _widest_that_may_wrap(columns, natural)) is not None:
        columns[widest] = columns[widest]._replace(wraps=True)
        room += natural[widest]
    wrapping = sum(w for w, column in zip(natural, columns, strict=True) if column.wraps)
    grow = any(column.grows for column in columns)
    if wrapping > room or grow:
        shares = _shares([w for w, column in zip(natural, columns, strict=True) if column.wraps], room)
        natural = [shares.pop(0) if column.wraps else w for w, column in zip(natural, columns, strict=True)]
    between = (wide - sum(natural)) / max(len(columns) - 1, 1)
    return [column._replace(wide_mm=w) for column, w in zip(columns, natural, strict=True)], between


def _least(columns: Sequence[Column], natural: Sequence[float]) -> float:
    """What the wrapping columns need to be read at all."""
    return sum(min(w, LEAST_MM) for w, column in zip(natural, columns, strict=True) if column.wraps)


def _widest_that_may_wrap(columns: Sequence[Column], natural: Sequence[float]) -> int | None:
    still = [index for index, column in enumerate(columns) if not column.wraps and not column.wide_mm and natural[index] > LEAST_MM]
    return max(still, key=natural.__getitem__, default=None)


def _shares(natural: list[float], room: float) -> list[float]:
    """Room for the columns that wrap: nobody more than it can use while another lacks; then in proportion."""
    if sum(natural) <= room:
        return [w + (room - sum(natural)) / len(natural) for w in natural]
    shares, open_, left = [0.0] * len(natural), set(range(len(natural))), room
    while open_:
        even = left / len(open_)
        small = {i for i in open_ if natural[i] <= even}
        for i in small or open_:
            shares[i] = natural[i] if small else even
        left -= sum(natural[i] for i in small)
        open_ = open_ - small if small else set()
    return shares


def wide_mm(spans: Cell) -> float:
    """On one line."""
    return sum(width_mm(span.text, TEXT.size_pt, span.bold) for span in spans)


def _parts(blocks: Sequence[Block]) -> Sequence[Sequence[Block]]:
    """A row of many lines in parts, so that it can go on to the next page."""
    longest = max(len(block.lines) for block in blocks)
    if longest <= LINES_TOGETHER:
        return [blocks]
    return [[part(block, first, first + LINES_TOGETHER) for block in blocks] for first in range(0, longest, LINES_TOGETHER)]


def _put(pen: Pen, x: float, top: float, block: Block, column: Column) -> None:
    if not column.right:
        pen.block(x, top, block)
        return
    for index, line in enumerate(pieces(block, 1)):
        pen.block(x + column.wide_mm - line.wide_mm, top + index * TEXT.leading_pt * MM_PER_POINT, line)
