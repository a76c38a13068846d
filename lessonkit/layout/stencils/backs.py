"""The back of a stencil sheet: every line mirrored, so that it falls on the front's when the paper is turned over its long edge;
words stand where the front's do, and are never mirrored."""

from __future__ import annotations

from typing import NamedTuple

from lessonkit.drawing.fonts import CAPITAL, width_mm
from lessonkit.drawing.items import Axis, Group, Item, Path, TextLine
from lessonkit.layout.stencils.board import Board, Seat
from lessonkit.units import MM_PER_POINT


class Mirror(NamedTuple):
    """Left and right change places on an upright sheet, top and foot on a turned one: its long edge is the level one.

    A coordinate v becomes `at` - v."""

    upright: bool
    at_mm: float

    def inner(self) -> Mirror:
        """For what counts from a place that has been mirrored already."""
        return self._replace(at_mm=0.0)

    def place(self, x: float, y: float) -> tuple[float, float]:
        return (self.at_mm - x, y) if self.upright else (x, self.at_mm - y)

    def axes(self) -> tuple[Axis, Axis]:
        """The same for many places at once."""
        turned, kept = (-1.0, self.at_mm), (1.0, 0.0)
        return (turned, kept) if self.upright else (kept, turned)

    def box(self, x: float, y: float, wide: float, tall: float) -> tuple[float, float]:
        """The new top left of a rectangle."""
        return self.place(x + wide if self.upright else x, y if self.upright else y + tall)


def back_items(board: Board, upright: bool) -> tuple[Item, ...]:
    """A sheet's window from behind."""
    mirror = Mirror(upright, board.wide_mm if upright else board.tall_mm)
    return (*(_mirrored(group, mirror) for group in board.lines()), *(_panel(seat, layer, mirror) for seat, layer in board.seats))


def _panel(seat: Seat, layer: str, mirror: Mirror) -> Group:
    panel = seat.panel.back or seat.panel
    x, y = mirror.box(seat.x_mm, seat.y_mm, panel.wide_mm, panel.tall_mm)
    if not panel.drawn:
        return panel.at(x, y, layer)
    within = mirror._replace(at_mm=panel.wide_mm if mirror.upright else panel.tall_mm)
    return Group(tuple(_mirrored(item, within) for item in panel.draw()), x, y, layer=layer)


def _mirrored(item: Item, mirror: Mirror) -> Item:
    match item:
        case Path():
            return item.mapped(*mirror.axes())
        case TextLine():
            tall = CAPITAL * item.size_pt * MM_PER_POINT
            x, y = mirror.box(item.x_mm, item.y_mm - tall, width_mm(item.text, item.size_pt, item.bold), tall)
            return item._replace(x_mm=x, y_mm=y + tall)
        case Group():
            x, y = mirror.place(item.x_mm, item.y_mm)
            inner = mirror.inner()
            clip = item.clip_mm and (*inner.box(*item.clip_mm), *item.clip_mm[2:])
            return item._replace(items=tuple(_mirrored(each, inner) for each in item.items), x_mm=x, y_mm=y, clip_mm=clip)
