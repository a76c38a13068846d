"""From clay to stencil: the needle's path comes out as the clay's shape, islands hold, halves unfold to the whole."""

from __future__ import annotations

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from lessonkit.geometry import outlines
from lessonkit.geometry.combining import joined
from lessonkit.geometry.faults import GeometryError
from lessonkit.geometry.ornaments import crescent, egg, leaf, petals, scalloped, star
from lessonkit.geometry.shape import Shape, area_mm2, bounds, mirrored, moved, turned, with_opening
from lessonkit.geometry.stencils import bridged, half_on_fold, is_symmetrical, left_standing, with_needle_allowance
from tests.geometry.soundly import assert_sound

RING = with_opening(outlines.circle(160), outlines.circle(85))
OFF = with_opening(outlines.circle(160), moved(outlines.circle(70), 20, 5))
TWO = with_opening(
    with_opening(outlines.rectangle(160, 100), moved(outlines.circle(40), -35, 0)), moved(outlines.heart(40), 35, 0)
)


@pytest.mark.parametrize("shape", [RING, OFF, TWO, outlines.heart(120), star(5, 140, 40)])
@given(needle=st.floats(0.5, 4))
@settings(max_examples=10, deadline=None)
def test_the_needle_draws_the_clay(shape: Shape, needle: float) -> None:
    """Widened by half the needle again, the stencil covers the clay but for its corners, which the round needle cannot reach."""
    stencil = with_needle_allowance(shape, needle)
    assert_sound(stencil)
    clay = shapely.Polygon(shape.outline, shape.holes)
    drawn = shapely.Polygon(stencil.outline, stencil.holes).buffer(needle / 2, quad_segs=64)
    assert drawn.difference(clay.buffer(0.02)).is_empty
    assert clay.difference(drawn.buffer(0.02)).area < 2 * needle**2
    assert area_mm2(stencil) < area_mm2(shape)


def test_needle_on_a_frame_by_hand() -> None:
    frame = with_opening(outlines.rectangle(100, 80), outlines.circle(40))
    stencil = with_needle_allowance(frame, 2)
    assert bounds(stencil) == (-49, -39, 49, 39)
    xs = [x for x, _ in stencil.holes[0]]
    assert max(xs) == pytest.approx(21, abs=0.01)


def test_needle_too_wide() -> None:
    neck = joined(outlines.rectangle(80, 3), moved(outlines.circle(40), -40, 0), moved(outlines.circle(40), 40, 0))
    with pytest.raises(GeometryError, match="falls into 2"):
        with_needle_allowance(neck, 4)
    with pytest.raises(GeometryError, match="nothing is left"):
        with_needle_allowance(outlines.circle(3), 4)


# --- bridges ---


@pytest.mark.parametrize("shape", [RING, OFF, TWO])
@pytest.mark.parametrize("count", [1, 2, 3, 4])
@pytest.mark.parametrize("wide", [3, 8])
def test_islands_hold(shape: Shape, count: int, wide: float) -> None:
    """The sheet with the window cut out stays one piece; the window is the clay less bridges as wide as asked."""
    window = bridged(shape, count, wide)
    for piece in window:
        assert_sound(piece)
    clay = shapely.Polygon(shape.outline, shape.holes)
    cut = shapely.union_all([shapely.Polygon(p.outline, p.holes) for p in window])
    sheet = shapely.box(-200, -200, 200, 200).difference(cut)
    assert sheet.geom_type == "Polygon"
    bridges = clay.difference(cut)
    assert cut.difference(clay).area < 1e-6
    pieces = [p for p in shapely.get_parts(bridges) if p.area > 1e-3]
    if shape is not TWO:  # there bridges of both islands may have to cross
        assert len(pieces) == count
        for bridge in pieces:
            assert 2 * shapely.maximum_inscribed_circle(bridge, tolerance=0.01).length == pytest.approx(wide, abs=0.05)


def test_bridges_keep_off_the_other_island() -> None:
    """The shortest way out leads past a second opening; a bridge that grazed it would be narrower there than asked."""
    plate = moved(outlines.rectangle(400, 270), 0, -65)
    large, small = outlines.circle(30), moved(outlines.circle(16), 0, 40)
    window = bridged(with_opening(with_opening(plate, large), small), 1, 9)
    bridges = [shapely.Polygon(b.outline) for b in left_standing(with_opening(with_opening(plate, large), small), window)]
    assert len(bridges) == 2
    for bridge in bridges:
        assert sum(bridge.distance(shapely.Polygon(hole.outline)) < 1e-6 for hole in (large, small)) == 1
        assert 2 * shapely.maximum_inscribed_circle(bridge, tolerance=0.01).length == pytest.approx(9, abs=0.05)


def test_bridges_stand_where_they_are_short() -> None:
    """One bridge of an opening that sits to the right crosses the thin right border: 80 - 35 - 20 = 25 mm at most about."""
    off = with_opening(outlines.circle(160), moved(outlines.circle(70), 20, 0))
    (window,) = bridged(off, 1, 6)
    assert area_mm2(off) - area_mm2(window) == pytest.approx(25 * 6, rel=0.05)


def test_no_islands_no_bridges() -> None:
    assert bridged(outlines.heart(80), 2, 5) == (outlines.heart(80),)


@pytest.mark.parametrize(("count", "wide"), [(0, 5), (13, 5), (2, 0), (1, 120)])
def test_impossible_bridges(count: int, wide: float) -> None:
    with pytest.raises(GeometryError) as error:
        bridged(RING, count, wide)
    assert error.value.hint


# --- half on a fold ---

SYMMETRICAL = [
    RING,
    outlines.heart(120),
    outlines.arch(80, 120),
    egg(60, 80),
    leaf(50, 120),
    star(5, 100, 30),
    scalloped(7, 100),
    petals(5, 100, 20),
]


@pytest.mark.parametrize("shape", SYMMETRICAL)
def test_half_unfolds_to_the_whole(shape: Shape) -> None:
    assert is_symmetrical(shape)
    off_centre = moved(shape, 13, 7)
    half = half_on_fold(off_centre)
    assert_sound(half.shape)
    right = moved(half.shape, -13, -7)
    assert area_mm2(right) == pytest.approx(area_mm2(shape) / 2, rel=1e-4)
    unfolded = joined(right, mirrored(right))
    one, two = (shapely.Polygon(s.outline, s.holes) for s in (unfolded, shape))
    assert one.symmetric_difference(two).area < 1e-3 * two.area
    assert shapely.hausdorff_distance(one, two) < 0.03
    fold = sum(abs(b[1] - a[1]) for a, b in half.fold)
    through = two.intersection(shapely.LineString([(0, -500), (0, 500)])).length
    assert fold == pytest.approx(through, abs=0.01)
    assert all(a[0] == b[0] == pytest.approx(13) for a, b in half.fold)


@pytest.mark.parametrize(
    "shape",
    [
        OFF,
        crescent(100, 30),
        turned(outlines.heart(80), 5),
        moved(joined(outlines.circle(50), moved(outlines.circle(50), 30, 8)), 0, 0),
    ],
)
def test_lopsided_shapes_have_no_half(shape: Shape) -> None:
    assert not is_symmetrical(shape)
    with pytest.raises(GeometryError, match="differ"):
        half_on_fold(shape)


def test_slightly_lopsided() -> None:
    """A rivet hole a twentieth of a millimetre off is not symmetrical; a hundredth passes."""
    near = with_opening(outlines.circle(100), moved(outlines.circle(20), 0.005, 0))
    off = with_opening(outlines.circle(100), moved(outlines.circle(20), 0.05, 0))
    assert is_symmetrical(near)
    assert not is_symmetrical(off)
