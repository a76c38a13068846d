"""Sheets for a large drawing: counts, places, and every point of the drawing on some sheet."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from lessonkit.geometry.faults import GeometryError
from lessonkit.geometry.tiling import sheets_along, tiles

WINDOW = (184.6, 271.6)  # A4 less 12.7 mm on each side


def test_c04_400_by_300_lies_landscape() -> None:
    """Upright 3 x 2 = 6 sheets, turned 2 x 2 = 4: turned. Sheet i begins at i x (window - overlap)."""
    tiling = tiles(400, 300, *WINDOW, 10)
    assert (tiling.turned, tiling.columns, tiling.rows, len(tiling.tiles)) == (True, 2, 2, 4)
    assert [(t.row, t.column) for t in tiling.tiles] == [(1, 1), (1, 2), (2, 1), (2, 2)]
    assert sorted({t.x for t in tiling.tiles}) == [0, pytest.approx(261.6)]
    assert sorted({t.y for t in tiling.tiles}) == [0, pytest.approx(174.6)]
    assert sheets_along(400, 184.6, 10) * sheets_along(300, 271.6, 10) == 6


def test_c04_an_exact_fit_is_one_sheet() -> None:
    """184.6 x 271.6 on a window as large: 1; a hundredth of a millimetre more: 2. Rounding wobbles neither."""
    assert len(tiles(184.6, 271.6, *WINDOW, 10).tiles) == 1
    assert len(tiles(184.6 * 3 / 3, 271.6 + 1e-12, *WINDOW, 10).tiles) == 1
    assert not tiles(184.6, 271.6, *WINDOW, 10).turned
    assert len(tiles(184.61, 271.6, *WINDOW, 10).tiles) == 2
    assert [sheets_along(184.6 + i * 174.6, 184.6, 10) for i in range(5)] == [1, 2, 3, 4, 5]


@pytest.mark.parametrize("overlap", [184.6, 200, math.inf, math.nan, -1])
def test_c04_overlap_as_large_as_the_window_is_an_error(overlap: float) -> None:
    with pytest.raises(GeometryError) as error:
        tiles(400, 300, *WINDOW, overlap)
    assert error.value.hint


@pytest.mark.parametrize("bad", [0, -1, math.nan])
def test_no_such_drawing_or_window(bad: float) -> None:
    for sizes in ((bad, 300, *WINDOW), (400, 300, bad, 270)):
        with pytest.raises(GeometryError):
            tiles(*sizes, 10)


def test_upright_on_a_tie_and_own_window_when_turned() -> None:
    assert not tiles(300, 300, *WINDOW, 10).turned
    assert tiles(180, 100, 188, 268, 10).turned is False
    wide = tiles(268, 180, 188, 268, 10)
    assert (wide.turned, wide.window_wide, wide.window_tall) == (True, 268, 188)
    footed = tiles(268, 185, 188, 268, 10, turned_window=(276, 180))  # the foot stays at the bottom of a turned sheet
    assert len(footed.tiles) == 2


@given(st.floats(1, 3000), st.floats(1, 3000), st.floats(60, 400), st.floats(60, 400), st.floats(0, 50))
@settings(max_examples=60, deadline=None)
def test_sheets_cover_the_drawing_and_none_is_blank(wide: float, tall: float, across: float, down: float, overlap: float) -> None:
    tiling = tiles(wide, tall, across, down, overlap)
    xs, ys = sorted({t.x for t in tiling.tiles}), sorted({t.y for t in tiling.tiles})
    for starts, window, length in ((xs, tiling.window_wide, wide), (ys, tiling.window_tall, tall)):
        assert starts[0] == 0
        assert starts[-1] + window >= length - 1e-6
        assert starts[-1] + overlap < length or len(starts) == 1  # the last sheet shows something new
        assert all(b - a == pytest.approx(window - overlap) for a, b in pairwise(starts))
    assert len(tiling.tiles) == len(xs) * len(ys) == tiling.rows * tiling.columns
    upright = sheets_along(wide, across, overlap) * sheets_along(tall, down, overlap)
    turned = sheets_along(wide, down, overlap) * sheets_along(tall, across, overlap)
    assert len(tiling.tiles) == min(upright, turned)
    assert tiling.turned == (turned < upright)
