"""The head of the teacher's sheet: what is made, of which clay, and the finished pieces as fired, to one scale."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from typing import NamedTuple

from lessonkit.drawing.items import CLAY, WHITE, Group, Item, Path
from lessonkit.drawing.typesetting import Span
from lessonkit.geometry.shape import Point, bounds
from lessonkit.layout.flow import Strip, paragraph, tall_mm
from lessonkit.layout.pen import DASHED, OBJECT, PRESS, THIN, Pen, rise_mm
from lessonkit.layout.pictures.book import picture
from lessonkit.layout.teacher_rows import share
from lessonkit.layout.teacher_table import NAME, TEXT
from lessonkit.layout.wording import say
from lessonkit.pieces.model import Kit, Part, Piece
from lessonkit.units import number

WIDEST_TEXT_MM = 116.0
BETWEEN_MM = 3.0
ABOVE_MM = 0.6  # h and l rise so far above the capitals of the title; accents farther
SAMPLE_MM = 80.0
MOST_PIECES = 24


def head(kit: Kit, wide_mm: float, picture_mm: float) -> list[Strip]:
    """Title, about, clay and what was assumed at the left; at the right the pieces, at most `picture_mm` high."""
    views = [_view(piece, 1 - kit.clay.shrinkage) for piece in kit.pieces[:MOST_PIECES]]
    pieces = _Finished.fitted(views, wide_mm * 0.36, picture_mm - 4)
    text_wide = min(WIDEST_TEXT_MM, wide_mm - pieces.wide_mm - 8)
    strips = paragraph([Span(kit.lesson.title, True)], text_wide, NAME)
    strips += paragraph([Span(kit.lesson.about, True)], text_wide, TEXT, 3.0)
    for index, line in enumerate(facts(kit)):
        strips += paragraph(line, text_wide, TEXT, 2.6 if not index else 1.4)
    for line in kit.assumed:
        strips += paragraph([Span(line, True)], text_wide, TEXT, 2.6)
    first, *rest = strips
    above = max(ABOVE_MM, rise_mm(kit.lesson.title, NAME.size_pt, True))

    def put(pen: Pen, x: float, top: float) -> None:
        first.draw(pen, x, top + above)
        pieces.draw(pen, x + wide_mm, top)

    below = Strip(max(pieces.tall_mm - tall_mm(strips), 0.0), lambda pen, x, top: None)
    return [Strip(first.tall_mm + above, put), *rest, below]


def facts(kit: Kit) -> list[str]:
    """Where and how it is made, and what the clay does."""
    language, clay = kit.room.language, kit.clay
    where = [kit.room.name, say(f"technique_{kit.lesson.technique}", language), *([kit.lesson.season] if kit.lesson.season else [])]
    key = "teacher_clay" if clay.shrinkage else "teacher_clay_true"
    return [
        " · ".join(where),
        say(key, language, clay=clay.name, cone=clay.cone, highest=clay.highest_cone, share=share(clay), rest=number(1 - clay.shrinkage, 4)),
    ]


class _View(NamedTuple):
    """A finished piece in fired millimetres; `put` draws it at a scale with its box's top left at a place."""

    wide_mm: float
    tall_mm: float
    put: Callable[[Pen, float, float, float], None]


class _Finished(NamedTuple):
    """The pieces in rows that end at the right, all at one scale."""

    rows: tuple[tuple[_View, ...], ...]
    scale: float

    @classmethod
    def fitted(cls, views: Sequence[_View], wide_mm: float, tall_mm: float) -> _Finished:
        """In as many rows as make the pieces largest."""
        counts = range(1, len(views) + 1)
        ways = [tuple(tuple(views[first : first + in_row]) for first in range(0, len(views), in_row)) for in_row in counts]
        return max((cls(rows, _scale(rows, wide_mm, tall_mm)) for rows in ways), key=lambda way: way.scale)

    def _row_mm(self, row: Sequence[_View]) -> tuple[float, float]:
        wide = sum(view.wide_mm for view in row) * self.scale + BETWEEN_MM * (len(row) - 1)
        return wide, max(view.tall_mm for view in row) * self.scale

    @property
    def wide_mm(self) -> float:
        return max(self._row_mm(row)[0] for row in self.rows)

    @property
    def tall_mm(self) -> float:
        return sum(self._row_mm(row)[1] for row in self.rows) + BETWEEN_MM * (len(self.rows) - 1) + 1

    def draw(self, pen: Pen, right: float, top: float) -> None:
        foot = top + 0.5 - BETWEEN_MM
        for row in self.rows:
            wide, tall = self._row_mm(row)
            x, foot = right - wide, foot + BETWEEN_MM + tall
            for view in row:
                view.put(pen, x, foot - view.tall_mm * self.scale, self.scale)
                x += view.wide_mm * self.scale + BETWEEN_MM


def _scale(rows: Sequence[Sequence[_View]], wide_mm: float, tall_mm: float) -> float:
    across = min((wide_mm - BETWEEN_MM * (len(row) - 1)) / sum(view.wide_mm for view in row) for row in rows)
    down = (tall_mm - BETWEEN_MM * (len(rows) - 1)) / sum(max(view.tall_mm for view in row) for row in rows)
    return min(across, down)


def _view(piece: Piece, left_of_cut: float) -> _View:
    """A flat piece by its own outline; a built one standing, as the step pictures show it."""
    return _lying(piece.parts[0], left_of_cut) if piece.form == "flat" else _standing(piece)


def _lying(part: Part, left_of_cut: float) -> _View:
    left, bottom, right, top = bounds(part.shape)

    def put(pen: Pen, x: float, y: float, scale: float) -> None:
        _flat(pen, part, x - left * left_of_cut * scale, y + top * left_of_cut * scale, left_of_cut * scale)

    return _View((right - left) * left_of_cut, (top - bottom) * left_of_cut, put)


def _standing(piece: Piece) -> _View:
    """As wide as its widest measure across."""
    sample = picture("plain", piece, SAMPLE_MM)
    assert sample is not None  # every piece has a plain picture
    points = list(_points(sample))
    left, right = min(x for x, _ in points), max(x for x, _ in points)
    top, foot = min(y for _, y in points), max(y for _, y in points)
    wide = max(measure.fired for measure in piece.measures if measure.unit == "mm" and measure.key != "tall")

    def put(pen: Pen, x: float, y: float, scale: float) -> None:
        share = wide * scale / (right - left)
        drawn = picture("plain", piece, SAMPLE_MM * share)
        if drawn:
            pen.put(Group((drawn,), x - left * share, y - top * share))

    return _View(wide, wide * (foot - top) / (right - left), put)


def _points(item: Item, x: float = 0.0, y: float = 0.0, scale: float = 1.0) -> Iterator[Point]:
    """Where the item's lines run."""
    match item:
        case Group():
            for inner in item.items:
                yield from _points(inner, x + item.x_mm * scale, y + item.y_mm * scale, scale * item.scale)
        case Path():
            yield from ((x + a * scale, y + b * scale) for a, b in item.points())


def _flat(pen: Pen, part: Part, x: float, y: float, scale: float) -> None:
    """As fired: hanging holes open, press lines dashed, what is joined on in outline."""
    pen.shape(part.shape, x, y, scale, OBJECT, CLAY)
    for hole in part.holes:
        pen.circle(x + hole.x_mm * scale, y - hole.y_mm * scale, hole.across_mm / 2 * scale, PRESS, WHITE)
    for mark in part.marks:
        points = [(x + a * scale, y - b * scale) for a, b in mark.line]
        if mark.kind == "join":
            pen.polygon(points, PRESS, CLAY)
        elif mark.kind == "press":
            pen.polygon(points, THIN, closed=mark.closed, dash=DASHED)
