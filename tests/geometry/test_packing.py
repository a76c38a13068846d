"""Equal discs on shelves, against the records.

| what | source | greatest shortfall found |
|---|---|---|
| 2 to 20 discs in a circle | Kravitz, Math. Mag. 40, 65-70 (1967), with later records | none at 2 % smaller discs |
| 2 to 20 discs in a square | best known packings (Specht's collection; digits from memory) | none at 2 % |
| 14 discs of 100 mm, 6 mm apart, in 304.8 x 609.6 mm | worked example | 15 are placed |
| no more than the bounds | Oler 1961; proofs for up to 13 in a circle and 30 in a square | never |
"""

from __future__ import annotations

import math
from itertools import combinations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from lessonkit.geometry import packing
from lessonkit.geometry.faults import GeometryError
from lessonkit.geometry.packing import discs_in_circle, discs_in_rectangle
from lessonkit.geometry.shape import Point

# container's radius over disc's radius; square's side over disc's radius
IN_CIRCLE = {
    1: 1, 2: 2, 3: 2.154701, 4: 2.414214, 5: 2.701302, 6: 3, 7: 3, 8: 3.304765, 9: 3.613126, 10: 3.813026,
    11: 3.923804, 12: 4.029602, 13: 4.236068, 14: 4.328429, 15: 4.521357, 16: 4.615426, 17: 4.792034,
    18: 4.863703, 19: 4.863703, 20: 5.122321,
}  # fmt: skip
IN_SQUARE = {
    1: 2, 2: 3.414214, 3: 3.931852, 4: 4, 5: 4.828427, 6: 5.328201, 7: 5.732051, 8: 5.863703, 9: 6, 10: 6.747442,
    11: 7.022510, 12: 7.144958, 13: 7.463048, 14: 7.732051, 15: 7.863703, 16: 8, 17: 8.532660, 18: 8.656402,
    19: 8.907461, 20: 8.978083,
}  # fmt: skip


def least_apart(places: tuple[Point, ...]) -> float:
    return min((math.dist(a, b) for a, b in combinations(places, 2)), default=math.inf)


@pytest.mark.parametrize("count", IN_CIRCLE)
def test_discs_in_a_circle(count: int) -> None:
    """Discs 2 % smaller than the record are placed; discs a thousandth larger never are (the records up to 13 are proven)."""
    disc = 0.98 * 1000 / IN_CIRCLE[count]
    places = discs_in_circle(1000, disc)
    assert len(places) >= count
    assert least_apart(places) >= disc - 1e-6
    assert max(math.hypot(*p) for p in places) <= (1000 - disc) / 2 + 1e-6
    assert len(discs_in_circle(1000, 1.001 * 1000 / IN_CIRCLE[count])) < count


@pytest.mark.parametrize("count", IN_SQUARE)
def test_discs_in_a_square(count: int) -> None:
    disc = 0.98 * 2000 / IN_SQUARE[count]
    places = discs_in_rectangle(1000, 1000, disc)
    assert len(places) >= count
    assert least_apart(places) >= disc - 1e-6
    assert max(max(abs(x), abs(y)) for x, y in places) <= (1000 - disc) / 2 + 1e-6
    assert len(discs_in_rectangle(1000, 1000, 1.001 * 2000 / IN_SQUARE[count])) < count


def test_plates_on_the_schools_shelf() -> None:
    """Shelf 530, plates 206, 10 between: ratio 2.5, 4 plates (the area's share says 6); with 10 at the rim too, 3."""
    assert len(discs_in_circle(530, 206, 10)) == 4
    assert len(discs_in_circle(530, 206, 10, 10)) == 3


@pytest.mark.parametrize(
    ("shelf", "count", "largest"),
    [
        (508, 1, 484.0),
        (508, 3, 221.4),
        (508, 4, 197.0),
        (508, 7, 157.3),
        (508, 9, 129.6),
        (508, 12, 115.6),
        (508, 19, 94.7),
        (533.4, 7, 165.8),
    ],
)
def test_largest_plates_of_the_table(shelf: float, count: int, largest: float) -> None:
    """d = (D - 2e + g) / ratio - g with 12 mm at the rim and 6 mm between: 2 % smaller they fit, 0.2 mm larger they do not."""
    assert len(discs_in_circle(shelf, 0.98 * largest, 6, 12)) >= count
    assert len(discs_in_circle(shelf, largest + 0.2, 6, 12)) < count


def test_rectangle_of_the_worked_example() -> None:
    """12 x 24 in shelf, 100 mm discs 6 mm apart: square rows hold 10, hexagonal 12, and at least 14 can be placed."""
    places = discs_in_rectangle(304.8, 609.6, 100, 6)
    assert len(places) >= 14
    assert least_apart(places) >= 106 - 1e-6


def test_exact_rows() -> None:
    """Squares and rows that fit to the last digit: 3 x 3, 2 x 5, one in its own circle, seven in three radii."""
    assert len(discs_in_rectangle(300, 300, 100)) == 9
    assert len(discs_in_rectangle(212, 530, 100, 6)) == 10
    assert discs_in_circle(100, 100) == ((0, 0),)
    assert len(discs_in_circle(300, 100)) == 7
    assert len(discs_in_rectangle(100, 450, 100, 10)) == 4


def test_too_large_is_none() -> None:
    assert discs_in_circle(100, 101) == ()
    assert discs_in_circle(100, 90, 0, 6) == ()
    assert discs_in_rectangle(300, 90, 100) == ()


def test_the_same_every_time() -> None:
    first = discs_in_rectangle(304.8, 609.6, 97, 5)
    packing._most.cache_clear()
    assert discs_in_rectangle(304.8, 609.6, 97, 5) == first


@given(st.floats(150, 600), st.floats(150, 600), st.floats(60, 250), st.floats(0, 20), st.floats(0, 20), st.booleans())
@settings(max_examples=20, deadline=None)
def test_never_overlap_and_never_beat_the_bounds(
    wide: float, tall: float, disc: float, gap: float, margin: float, round_shelf: bool
) -> None:
    places = discs_in_circle(wide, disc, gap, margin) if round_shelf else discs_in_rectangle(wide, tall, disc, gap, margin)
    assert least_apart(places) >= disc + gap - 1e-6
    for x, y in places:
        if round_shelf:
            assert math.hypot(x, y) + disc / 2 + margin <= wide / 2 + 1e-6
        else:
            assert abs(x) + disc / 2 + margin <= wide / 2 + 1e-6
            assert abs(y) + disc / 2 + margin <= tall / 2 + 1e-6
    # each disc's cell is at least its hexagon, but at the rim half a spacing may hang over: Groemer's bound on area
    s = disc + gap
    a, b = wide - disc - 2 * margin, (wide if round_shelf else tall) - disc - 2 * margin
    if min(a, b) > -1e-9:
        a, b = max(a, 0.0), max(b, 0.0)
        area, edge = (math.pi / 4 * a * a, math.pi * a) if round_shelf else (a * b, 2 * (a + b))
        assert len(places) <= 2 / math.sqrt(3) * area / s**2 + edge / (2 * s) + 1 + 1e-6
        assert places
    else:
        assert not places


@pytest.mark.parametrize("bad", [0, -1, math.nan, math.inf])
def test_no_such_discs(bad: float) -> None:
    for call in (
        lambda: discs_in_circle(bad, 100),
        lambda: discs_in_circle(500, bad),
        lambda: discs_in_rectangle(500, bad, 100),
        lambda: discs_in_rectangle(500, 500, 100, -1),
        lambda: discs_in_circle(500, 100, 0, math.nan),
        lambda: discs_in_circle(5000, 10),
    ):
        with pytest.raises(GeometryError) as error:
            call()
        assert error.value.hint
