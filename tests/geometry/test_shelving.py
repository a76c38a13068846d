"""Pieces on a shelf: nothing overlaps, nothing hangs over, and no fewer than the published packings have room for."""

from __future__ import annotations

from math import floor

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import affinity
from shapely.geometry import Polygon

from lessonkit.geometry import outlines
from lessonkit.geometry.curves import arc_points
from lessonkit.geometry.faults import GeometryError
from lessonkit.geometry.shape import Shape, moved
from lessonkit.geometry.shelving import set_out

# Smallest R/r of a circle that holds n equal circles (Kravitz, Mathematics Magazine 40, 65-70, 1967; proved for n up to 13 and 19).
IN_A_CIRCLE = {1: 1.0, 2: 2.0, 3: 2.154701, 4: 2.414214, 5: 2.701302, 7: 3.0, 8: 3.304765, 9: 3.613126, 12: 4.029602, 19: 4.863703}

SHELVES = {
    "round": outlines.circle(530),
    "half round": Shape(arc_points(265, 0, 180)),
    "rectangle": outlines.rectangle(300, 600),
}
PIECES = {
    "disc": outlines.circle(110),
    "tile": outlines.rectangle(150, 120),
    "heart": outlines.heart(120),
    "oval": outlines.ellipse(160, 90),
    "arch": outlines.arch(120, 170),
}


@pytest.mark.parametrize("count", IN_A_CIRCLE)
def test_discs_against_the_circle_packing_table(count: int) -> None:
    """A shelf 1.5 % wider than the best known holds as many; one 0.1 % narrower does not."""
    best = 100 * IN_A_CIRCLE[count]
    piece = outlines.circle(100)
    assert len(set_out(outlines.circle(best * 1.015), ((piece, 50),))) >= count
    assert len(set_out(outlines.circle(best * 0.999), ((piece, 50),))) < count


def test_plates_on_a_round_shelf() -> None:
    """Plates of 20.6 cm, shelf of 53 cm: 4 with 1 cm between and none at the rim (ratio 2.5), 3 with 1 cm at the rim too (worked sum)."""
    plate, shelf = outlines.circle(206), outlines.circle(530)
    assert len(set_out(shelf, ((plate, 28),), 10, 0)) == 4
    assert len(set_out(shelf, ((plate, 28),), 10, 10)) == 3
    assert floor((530 / 206) ** 2) == 6  # what the areas alone say


def test_a_standard_rectangular_shelf() -> None:
    """304.8 x 609.6 mm, pieces of 100 mm with a gap of 6: 10 in a square grid, 12 in hexagonal rows, 14 were found by search (computed)."""
    assert len(set_out(outlines.rectangle(304.8, 609.6), ((outlines.circle(100), 50),), 6, 0)) >= 14


def test_tiles_that_just_fit() -> None:
    tile = outlines.rectangle(150, 150)
    assert len(set_out(outlines.rectangle(300, 600), ((tile, 20),))) == 8
    assert len(set_out(outlines.rectangle(299.9, 600), ((tile, 20),))) == 4
    assert len(set_out(outlines.rectangle(310, 610), ((tile, 20),), 10)) == 6
    assert set_out(outlines.circle(210), ((tile, 20),)) == ()


def test_no_more_than_are_wanted_and_the_first_kinds_first() -> None:
    places = set_out(SHELVES["round"], ((PIECES["arch"], 2), (outlines.circle(60), 3), (PIECES["heart"], 0)), 7, 10)
    assert [place.index for place in places] == [0, 0, 1, 1, 1]
    assert set_out(SHELVES["round"], ()) == ()
    with pytest.raises(GeometryError):
        set_out(SHELVES["round"], ((PIECES["disc"], 1),), -1)


@settings(max_examples=20, deadline=None)
@given(
    st.sampled_from(sorted(SHELVES)),
    st.lists(st.tuples(st.sampled_from(sorted(PIECES)), st.integers(1, 6)), min_size=1, max_size=2, unique_by=lambda kind: kind[0]),
    st.sampled_from([0.0, 7.0]),
    st.sampled_from([0.0, 10.0]),
    st.tuples(st.floats(-50, 50), st.floats(-50, 50)),
)
def test_nothing_overlaps_and_nothing_hangs_over(
    shelf_name: str, kinds: list[tuple[str, int]], gap: float, rim: float, off: tuple[float, float]
) -> None:
    """Measured with shapely; wherever a piece's own origin lies."""
    shelf = SHELVES[shelf_name]
    shapes = tuple((moved(PIECES[name], *off), count) for name, count in kinds)
    places = set_out(shelf, shapes, gap, rim)
    assert places
    table = Polygon(shelf.outline).buffer(0.01 - rim)
    standing = []
    for place in places:
        body = affinity.rotate(Polygon(shapes[place.index][0].outline), place.turn_deg, origin=(0, 0))
        standing.append(affinity.translate(body, place.x, place.y))
    assert all(table.covers(body) for body in standing)
    for index, body in enumerate(standing):
        for other in standing[index + 1 :]:
            assert body.intersection(other).area < 1e-3
            assert shapely.distance(body, other) >= gap - 0.01
