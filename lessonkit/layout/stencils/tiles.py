"""A part too large for one sheet: which tiles it is cut into, where they overlap, and the crosses that bring them together."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import count
from math import dist
from typing import NamedTuple

from lessonkit.drawing.items import CLAY
from lessonkit.drawing.typesetting import Span
from lessonkit.geometry.shape import Bounds, clip_line
from lessonkit.geometry.tiling import Drawing, sheets_along
from lessonkit.layout.pen import ATTENTION, FINE, OBJECT, OVERLAP, THIN, Pen
from lessonkit.layout.stencils.board import CLEAR_MM, Board, NoRoom, Spot
from lessonkit.layout.stencils.figure import Figure
from lessonkit.layout.stencils.ground import Ground
from lessonkit.layout.stencils.panels import SMALL, Panel, words
from lessonkit.layout.wording import say

OVERLAP_MM = 10.0
BEYOND_MM = 10.0  # strips run on past the part, so that their crosses can stand in the waste
CROSS_MM = 4.0
FROM_CORNER_MM = 12.0  # where four tiles meet, crosses stay so far away that no letter can be taken for another's
RING_MM = 2.2
SMALLEST_TILE_MM = 40.0  # smaller ones are not cut for the sake of room

Place = tuple[int, int]  # row and column, from 0


class Cross(NamedTuple):
    """A mark that two sheets share, in the part's own coordinates."""

    name: str
    x_mm: float
    y_mm: float


class Strip(NamedTuple):
    """What two neighbouring tiles both show: `upright` between columns, else between rows."""

    of: tuple[Place, Place]
    bounds: Bounds
    upright: bool
    crosses: tuple[Cross, Cross]


class Tiling(NamedTuple):
    """A part cut into tiles (by place, in the part's own coordinates); blank ones, which show no line, get no sheet."""

    figure: Figure
    rows: int
    columns: int
    tiles: dict[Place, Bounds]
    blank: tuple[Place, ...]
    beyond_mm: tuple[float, float]
    strips: tuple[Strip, ...] = ()

    def view(self, place: Place) -> Bounds:
        """A tile, and past the part's own ends a little of the waste."""
        left, top, right, bottom = self.tiles[place]
        (row, column), (x, y) = place, self.beyond_mm
        return (
            left - (x if column == 0 else 0),
            top - (y if row == 0 else 0),
            right + (x if column == self.columns - 1 else 0),
            bottom + (y if row == self.rows - 1 else 0),
        )

    def strips_of(self, place: Place) -> tuple[Strip, ...]:
        return tuple(strip for strip in self.strips if place in strip.of)


def tilings(figure: Figure, window: tuple[float, float]) -> Iterator[Tiling]:
    """Every way to cut a part into equal tiles no larger than a window, with at most three rows and columns more than it needs;
    still without strips."""
    drawing = Drawing([trace.points for trace in figure.traces])
    columns, rows = (sheets_along(size, room, OVERLAP_MM) for size, room in zip((figure.wide_mm, figure.tall_mm), window, strict=True))
    for across in range(columns, columns + 4):
        for down in range(rows, rows + 4):
            wide, tall = ((size + (n - 1) * OVERLAP_MM) / n for size, n in ((figure.wide_mm, across), (figure.tall_mm, down)))
            small = (across > columns and wide < SMALLEST_TILE_MM) or (down > rows and tall < SMALLEST_TILE_MM)
            if across * down > 1 and not small:
                yield _tiling(figure, drawing, window, (wide, tall), (down, across))


def _tiling(
    figure: Figure, drawing: Drawing, window: tuple[float, float], size: tuple[float, float], counts: tuple[int, int]
) -> Tiling:
    """Equal tiles leave the same room on every sheet. Each begins one size less the overlap after the one before."""
    (wide, tall), (rows, columns) = size, counts
    corners = {(row, column): (column * (wide - OVERLAP_MM), row * (tall - OVERLAP_MM)) for row in range(rows) for column in range(columns)}
    found = {place: (x, y, x + wide, y + tall) for place, (x, y) in corners.items()}
    seen = drawing.shown_in(list(found.values()))
    shown = {place: bounds for (place, bounds), some in zip(found.items(), seen, strict=True) if some}
    blank = tuple(place for place in found if place not in shown)
    beyond_x, beyond_y = (min(BEYOND_MM, max(0.0, (room - side) / 2)) for room, side in zip(window, size, strict=True))
    return Tiling(figure, *counts, shown, blank, (beyond_x, beyond_y))


def with_strips(tiling: Tiling) -> Tiling:
    """The same with its overlaps. NoRoom where one has no clear place for its crosses."""
    return tiling._replace(strips=tuple(_strips(tiling.figure, tiling.tiles, (tiling.rows, tiling.columns), tiling.beyond_mm)))


def _strips(figure: Figure, used: dict[Place, Bounds], size: tuple[int, int], beyond: tuple[float, float]) -> Iterator[Strip]:
    names = _names()
    for (row, column), (left, top, right, bottom) in sorted(used.items()):
        if beside := used.get((row, column + 1)):
            low, high, keep = _ends(top, bottom, row, size[0], beyond[1])
            of = ((row, column), (row, column + 1))
            yield Strip(of, (beside[0], low, right, high), True, _crosses(figure, (beside[0], low, right, high), True, keep, names))
        if below := used.get((row + 1, column)):
            low, high, keep = _ends(left, right, column, size[1], beyond[0])
            of = ((row, column), (row + 1, column))
            yield Strip(of, (low, below[1], high, bottom), False, _crosses(figure, (low, below[1], high, bottom), False, keep, names))


def _ends(low: float, high: float, index: int, count: int, beyond: float) -> tuple[float, float, tuple[float, float]]:
    """Where a strip begins and ends: past the part, but short of the corners where four tiles meet; and how far from each
    end its crosses must stay."""
    first, last = index == 0, index == count - 1
    keep = (0.0 if first else FROM_CORNER_MM, 0.0 if last else FROM_CORNER_MM)
    return low - beyond if first else low + OVERLAP_MM, high + beyond if last else high - OVERLAP_MM, keep


def _crosses(figure: Figure, bounds: Bounds, upright: bool, keep: tuple[float, float], names: Iterator[str]) -> tuple[Cross, Cross]:
    """One near each end of a strip, clear of all lines but centre ones. NoRoom where they would be too near each other to
    square the sheets."""
    left, top, right, bottom = bounds
    ground = Ground(right - left, bottom - top)
    for trace in figure.traces:
        for line in clip_line(trace.points, bounds) if trace.kind != "centre" else ():
            ground.take_line([(x - left, y - top) for x, y in line], 0.5)
    side = 2 * CROSS_MM
    middle, end = (OVERLAP_MM - side) / 2, (bottom - top if upright else right - left) - keep[1] - side
    ends = [(middle, keep[0]), (middle, end)] if upright else [(keep[0], middle), (end, middle)]
    first, last = (ground.place(side, side, near) for near in ends)
    if end <= keep[0] or first is None or last is None or dist(first, last) < dist(*ends) / 2:
        raise NoRoom
    a, b = (Cross(next(names), left + x + CROSS_MM, top + y + CROSS_MM) for x, y in (first, last))
    return a, b


def _names() -> Iterator[str]:
    """a to z, then a2 to z2 ..."""
    for turn in count(1):
        yield from (letter + (str(turn) if turn > 1 else "") for letter in "abcdefghijklmnopqrstuvwxyz")


def draw_strips(board: Board, tiling: Tiling, place: Place, x_mm: float, y_mm: float) -> None:
    """Both edges of every strip that the tile shares, its crosses, and their letters beside it; x, y place the part."""
    for strip in tiling.strips_of(place):
        left, top, right, bottom = (value + shift for value, shift in zip(strip.bounds, (x_mm, y_mm) * 2, strict=True))
        pen = Pen()
        upright = ((left, top, left, bottom), (right, top, right, bottom))
        for edge in upright if strip.upright else ((left, top, right, top), (left, bottom, right, bottom)):
            pen.line(*edge, FINE, OVERLAP)
        board.ground.take_box(left, top, right - left, bottom - top, CLEAR_MM / 2)
        for cross in strip.crosses:
            x, y = cross.x_mm + x_mm, cross.y_mm + y_mm
            pen.circle(x, y, RING_MM, FINE)
            pen.line(x - CROSS_MM, y, x + CROSS_MM, y, THIN)
            pen.line(x, y - CROSS_MM, x, y + CROSS_MM, THIN)
        board.figures.append(pen.group(layer="overlap"))
    for strip in tiling.strips_of(place):
        for cross in strip.crosses:
            _name_cross(board, strip, cross, place == strip.of[0], (cross.x_mm + x_mm, cross.y_mm + y_mm))
    board.kinds.add("overlap")


def _name_cross(board: Board, strip: Strip, cross: Cross, before: bool, at: tuple[float, float]) -> None:
    name = words([[Span(cross.name, True)]], 20.0)
    away = (OVERLAP_MM / 2 + 1.5) * (-1 if before else 1)
    hold = 1.0 if before else 0.0
    spot = Spot(at[0] + away, at[1], (hold, 0.5), reach_mm=12) if strip.upright else Spot(at[0], at[1] + away, (0.5, hold), reach_mm=12)
    board.must_seat([name], spot)


# -- the map
def tile_map(tiling: Tiling, place: Place, language: str) -> list[Panel]:
    """The whole part, small, its tiles drawn in and this one heavy and grey, in two sizes."""
    return [_map(tiling, place, language, size) for size in (46.0, 34.0, 26.0)]


def _map(tiling: Tiling, place: Place, language: str, size_mm: float) -> Panel:
    pen, figure = Pen(), tiling.figure
    scale = size_mm / max(figure.wide_mm, figure.tall_mm)
    rows = [words([[Span(say("stencil_row", language, n=row + 1), row == place[0])]], 40.0, SMALL) for row in range(tiling.rows)]
    margin = max(panel.wide_mm for panel in rows) + 2
    for bold in (False, True):
        for at, (left, top, right, bottom) in tiling.tiles.items():
            if bold == (at == place):
                width, fill = (ATTENTION, CLAY) if bold else (FINE, None)
                pen.rectangle(margin + left * scale, 1 + top * scale, (right - left) * scale, (bottom - top) * scale, width, fill)
    for ring in (*figure.outlines, *figure.openings):
        pen.polygon([(margin + x * scale, 1 + y * scale) for x, y in ring], OBJECT, join="round")
    return _with_numbers(pen, tiling, place, language, margin, scale, rows)


def _with_numbers(pen: Pen, tiling: Tiling, place: Place, language: str, margin: float, scale: float, rows: list[Panel]) -> Panel:
    """Rows named at the left; columns below, by the word where it fits, else by the number alone."""
    foot = 1 + tiling.figure.tall_mm * scale + 2
    tile_wide, tile_tall = tiling.figure.wide_mm / tiling.columns * scale, tiling.figure.tall_mm / tiling.rows * scale
    for row, panel in enumerate(rows):
        pen.put(panel.at(margin - 2 - panel.wide_mm, 1 + (row + 0.5) * tile_tall - panel.tall_mm / 2))
    for column in range(tiling.columns):
        named = words([[Span(say("stencil_column", language, n=column + 1), column == place[1])]], 60.0, SMALL)
        panel = named if named.wide_mm < tile_wide - 1 else words([[Span(str(column + 1), column == place[1])]], 60.0, SMALL)
        pen.put(panel.at(margin + (column + 0.5) * tile_wide - panel.wide_mm / 2, foot))
    return Panel(lambda: tuple(pen.items), margin + tiling.figure.wide_mm * scale + 0.5, foot + 3, drawn=True)
