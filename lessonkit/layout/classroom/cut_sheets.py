"""Equal fields on a sheet with lines to cut between them: labels, care cards, notes."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import NamedTuple

from lessonkit.drawing.items import Page
from lessonkit.layout.pen import FINE, SCISSORS_LINE, Pen
from lessonkit.layout.sheet import EDGE_MM, Sheet, scissors

SCISSORS_MM = 8.0

Draw = Callable[[Pen, float, float], object]


class CutSheet(NamedTuple):
    """`across` by `down` fields of the live area, `inset_mm` of each kept free of ink beside the lines."""

    sheet: Sheet
    across: int
    down: int
    inset_mm: float = 4.0

    @property
    def field_mm(self) -> tuple[float, float]:
        """What may be drawn on in one field."""
        wide, tall = self.sheet.live_mm
        return wide / self.across - 2 * self._aside(self.across), tall / self.down - 2 * self._aside(self.down)

    def _aside(self, count: int) -> float:
        return self.inset_mm if count > 1 else 0.0

    @classmethod
    def holding(cls, sheet: Sheet, fields: Sequence[tuple[int, int]], inset_mm: float, tall_mm: Callable[[float], float]) -> CutSheet | None:
        """The first way to divide the sheet in which a field is as tall as is needed for its width; None where none is."""
        ways = (cls(sheet, across, down, inset_mm) for across, down in fields)
        return next((way for way in ways if tall_mm(way.field_mm[0]) <= way.field_mm[1]), None)

    @property
    def in_all(self) -> int:
        return self.across * self.down

    def pages(self, fields: Sequence[Draw], name: str) -> tuple[Page, ...]:
        """The fields in rows, sheet after sheet."""
        starts = range(0, len(fields), self.in_all)
        names = [name if len(starts) == 1 else f"{name}, {k}" for k in range(1, len(starts) + 1)]
        return tuple(self._page(fields[start : start + self.in_all], here) for start, here in zip(starts, names, strict=True))

    def _page(self, fields: Sequence[Draw], name: str) -> Page:
        pen = Pen()
        wide, tall = self.sheet.live_mm
        for index, draw in enumerate(fields):
            row, column = divmod(index, self.across)
            draw(pen, column * wide / self.across + self._aside(self.across), row * tall / self.down + self._aside(self.down))
        return self.sheet.page(pen, name, self._cuts())

    def _cuts(self) -> Pen:
        """The lines stop short of the paper's edge; scissors once."""
        pen = Pen()
        (wide, tall), (live_wide, live_tall), (left, top) = self.sheet.size_mm, self.sheet.live_mm, self.sheet.corner_mm
        for column in range(1, self.across):
            x = left + column * live_wide / self.across
            pen.line(x, EDGE_MM + (SCISSORS_MM if column == 1 else 0.0), x, tall - EDGE_MM, FINE, SCISSORS_LINE)
        for row in range(1, self.down):
            y = top + row * live_tall / self.down
            pen.line(EDGE_MM, y, wide - EDGE_MM, y, FINE, SCISSORS_LINE)
        if self.across > 1:
            scissors(pen, left + live_wide / self.across, EDGE_MM + 4)
        return pen
