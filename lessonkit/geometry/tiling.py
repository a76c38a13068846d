"""One large drawing over several sheets of paper: how many, which way round, and where each begins."""

from __future__ import annotations

from collections.abc import Sequence
from math import ceil
from typing import NamedTuple

import numpy as np
import shapely

from lessonkit.geometry.faults import GeometryError, need_length, need_sizes, number
from lessonkit.geometry.shape import Bounds, Line

_WOBBLE_MM = 1e-9  # an exactly fitting drawing is one sheet, whatever its last binary digit


class Tile(NamedTuple):
    """One sheet's part of the drawing: row and column from 1, and where its window begins, from the drawing's own corner."""

    row: int
    column: int
    x: float
    y: float


class Tiling(NamedTuple):
    """Sheets in rows and columns; `turned` says that the paper lies landscape, the window is what each sheet shows."""

    turned: bool
    rows: int
    columns: int
    window_wide: float
    window_tall: float
    tiles: tuple[Tile, ...]


class Drawing:
    """Lines, to be asked which windows show anything of them."""

    def __init__(self, lines: Sequence[Line]) -> None:
        self._tree = shapely.STRtree([shapely.linestrings(line) for line in lines])

    def shown_in(self, windows: Sequence[Bounds]) -> list[bool]:
        """Whether any of a line lies in each window (left, low, right, high), its rim included."""
        found = set(self._tree.query(shapely.box(*np.transpose(windows)), predicate="intersects")[0].tolist())
        return [index in found for index in range(len(windows))]


def sheets_along(length: float, window: float, overlap: float) -> int:
    """How many windows cover a length: 1 if it fits, else 1 + ceil((length - window) / (window - overlap)).

    GeometryError when the overlap is as large as the window: then no number of sheets is enough.
    """
    need_sizes(length=length, window=window)
    need_length("overlap", overlap)
    if overlap >= window:
        raise GeometryError(
            f"sheets that overlap by {number(overlap)} mm leave nothing new on a window of {number(window)} mm.",
            "Use a smaller overlap or larger paper.",
        )
    return 1 if length <= window + _WOBBLE_MM else 1 + ceil((length - window - _WOBBLE_MM) / (window - overlap))


def tiles(
    wide: float,
    tall: float,
    window_wide: float,
    window_tall: float,
    overlap: float,
    turned_window: tuple[float, float] | None = None,
) -> Tiling:
    """The fewest sheets for a drawing, with the paper upright or turned; upright on a tie. All lengths in millimetres.

    The window is what a sheet shows of the drawing; `turned_window` that of a turned sheet (the same, swapped, unless given).
    Tile i begins at i x (window - overlap), along each axis. Rows run in the direction of y, columns of x.
    """
    upright = _tiling(False, wide, tall, window_wide, window_tall, overlap)
    turned = _tiling(True, wide, tall, *(turned_window or (window_tall, window_wide)), overlap)
    return turned if len(turned.tiles) < len(upright.tiles) else upright


def _tiling(turned: bool, wide: float, tall: float, window_wide: float, window_tall: float, overlap: float) -> Tiling:
    columns, rows = sheets_along(wide, window_wide, overlap), sheets_along(tall, window_tall, overlap)
    across, down = window_wide - overlap, window_tall - overlap
    sheets = tuple(Tile(row + 1, column + 1, column * across, row * down) for row in range(rows) for column in range(columns))
    return Tiling(turned, rows, columns, window_wide, window_tall, sheets)
