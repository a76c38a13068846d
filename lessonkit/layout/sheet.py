"""The sheet of paper: its live area, its foot, its cut lines."""

from __future__ import annotations

import math
from typing import NamedTuple

from lessonkit.drawing.fonts import DESCENT
from lessonkit.drawing.items import Page
from lessonkit.layout.pen import FINE, SCISSORS_LINE, Pen
from lessonkit.layout.wording import say
from lessonkit.pieces.model import Kit
from lessonkit.units import MM_PER_POINT, PAPERS

MODULE_MM = 4.0
EDGE_MM = 10.0  # no ink nearer to the paper's edge
FOOT_PT = 8.0


class Sheet(NamedTuple):
    """A paper, upright or turned, and the area that may be printed on: the paper less 10 mm all round, in whole
    modules of 4 mm, centred (A4 188 x 276, Letter 192 x 256)."""

    paper: str
    turned: bool = False

    @property
    def size_mm(self) -> tuple[float, float]:
        wide, tall = PAPERS[self.paper]
        return (tall, wide) if self.turned else (wide, tall)

    @property
    def live_mm(self) -> tuple[float, float]:
        wide, tall = self.size_mm
        return _modules(wide - 2 * EDGE_MM), _modules(tall - 2 * EDGE_MM)

    @property
    def corner_mm(self) -> tuple[float, float]:
        """The live area's top left on the paper."""
        (wide, tall), (live_wide, live_tall) = self.size_mm, self.live_mm
        return (wide - live_wide) / 2, (tall - live_tall) / 2

    def page(self, live: Pen, name: str, over: Pen | None = None) -> Page:
        """A page from what was drawn in the live area (origin at its top left) and, with `over`, on the whole sheet."""
        return Page(*self.size_mm, (*(over.items if over else ()), live.group(*self.corner_mm)), name)


def _modules(mm: float) -> float:
    return math.floor(mm / MODULE_MM) * MODULE_MM


def foot(pen: Pen, wide_mm: float, tall_mm: float, left: str, right: str, size_pt: float = FOOT_PT) -> float:
    """The foot line at the bottom of an area; returns the top of its letters' bodies (room above must end there)."""
    y = tall_mm - DESCENT * size_pt * MM_PER_POINT
    pen.text(0, y, left, size_pt)
    pen.text(wide_mm, y, right, size_pt, align="right")
    return y - size_pt * MM_PER_POINT


def edition(kit: Kit) -> str:
    """Her own version or date, if she gave one, the code of the content, and the printer's correction, if there is one."""
    parts = [kit.lesson.version, kit.code]
    if kit.room.printed:
        across, down = (100 / scale for scale in kit.room.printed.scale)
        parts.append(say("corrected", kit.room.language, across=f"{across:.1f}", down=f"{down:.1f}"))
    return " · ".join(part for part in parts if part)


def quarter_cuts(sheet: Sheet) -> Pen:
    """Two cuts make four cards; the lines stop short of the paper's edge, with scissors once, at the top."""
    pen = Pen()
    wide, tall = sheet.size_mm
    pen.line(wide / 2, EDGE_MM + 8, wide / 2, tall - EDGE_MM, FINE, SCISSORS_LINE)
    pen.line(EDGE_MM, tall / 2, wide - EDGE_MM, tall / 2, FINE, SCISSORS_LINE)
    scissors(pen, wide / 2, EDGE_MM + 4)
    return pen


def scissors(pen: Pen, x: float, y: float) -> None:
    """Two rings and a V."""
    for side in (-1.5, 1.5):
        pen.dots([(x + side, y - 2.2)], 1.3, 0.35)
        pen.line(x + side * 0.6, y - 1.1, x - side * 0.8, y + 3.2, 0.35)
