"""What of a sheet of paper may be printed, on a printer that is corrected too."""

from __future__ import annotations

from typing import NamedTuple

from lessonkit.drawing.items import Page
from lessonkit.layout.pen import Pen
from lessonkit.layout.sheet import Sheet
from lessonkit.pieces.model import Kit

FOOT_MM = 8.0
CORRECTED_EDGE_MM = 9.5  # what is drawn larger for the printer's sake comes no nearer to the paper's edge than this


class Area(NamedTuple):
    """A paper, upright or turned, with the width and height that are printed on, in the middle of it.

    A printer that prints short gets a drawing that is larger by as much. Where it would come too near to the edge in the file, less of
    the paper is used; what she holds in her hand has 10 mm of margin all the same."""

    paper: str
    turned: bool
    live_mm: tuple[float, float]

    @classmethod
    def of(cls, kit: Kit, paper: str, turned: bool = False) -> Area:
        sheet = Sheet(paper, turned)
        across, down = kit.room.printed.scale if kit.room.printed else (1.0, 1.0)
        scale = (down, across) if turned else (across, down)
        most = [(size - 2 * CORRECTED_EDGE_MM) * share for size, share in zip(sheet.size_mm, scale, strict=True)]
        wide, tall = (min(live, room) for live, room in zip(sheet.live_mm, most, strict=True))
        return cls(paper, turned, (wide, tall))

    @property
    def window_mm(self) -> tuple[float, float]:
        """What a stencil may fill: all but the foot."""
        return self.live_mm[0], self.live_mm[1] - FOOT_MM

    def page(self, live: Pen, name: str) -> Page:
        wide, tall = Sheet(self.paper, self.turned).size_mm
        return Page(wide, tall, (live.group((wide - self.live_mm[0]) / 2, (tall - self.live_mm[1]) / 2),), name)
