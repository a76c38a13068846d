"""Weak places: necks, tips, inner corners, borders, holes near an edge; and how a piece hangs.

| what | formula | source | greatest deviation found |
|---|---|---|---|
| neck | distance between its sides | drawn to measure | 1e-12 mm |
| tip of angle a | w/2 (1 / sin(a/2) - 1) beyond a disc w across | plane geometry | 0.02 mm |
| inner corner | chord over turn | drawn to measure | 0.003 mm of a 2 mm radius |
| tilt | atan(sideways / below) | worked example | 0.011 degrees (its rounding) |
"""

from __future__ import annotations

import math

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from lessonkit.geometry import outlines, soundness
from lessonkit.geometry.balance import balance_line_x, hanging_cord_mm, hanging_places, hanging_tilt_deg, top_edge_y
from lessonkit.geometry.combining import cut_away, from_points, joined
from lessonkit.geometry.faults import GeometryError
from lessonkit.geometry.ornaments import crescent, gable, star
from lessonkit.geometry.shape import Shape, centroid, contains_point, grown, mirrored, moved, shape_of, turned, with_opening
from lessonkit.geometry.soundness import edge_distance, inner_corners, narrow_necks, thin_tips, thinnest_border

SQUARE = outlines.rectangle(100, 100)


def barbell(neck: float, long: float = 40) -> Shape:
    squares = [moved(outlines.rectangle(40, 40), x, 0) for x in (-(20 + long / 2), 20 + long / 2)]
    return joined(outlines.rectangle(long + 1, neck), *squares)


# --- necks ---


def test_c26_neck_of_two_squares() -> None:
    """Two 40 mm squares joined by a 6 x 40 neck: found for any thickness above 6, in its middle, as wide as it is."""
    (neck,) = narrow_necks(barbell(6), 8)
    assert neck.wide_mm == pytest.approx(6)
    assert neck.middle == (pytest.approx(0, abs=0.1), pytest.approx(0, abs=1e-6))
    assert narrow_necks(barbell(6), 6) == ()
    assert narrow_necks(barbell(6), 5.9) == ()
    assert len(grown(barbell(6), -4)) == 2  # the guide line of the case splits where the neck is found


@given(st.lists(st.tuples(st.floats(-100, 100), st.floats(-100, 100)), min_size=3, max_size=12, unique=True), st.floats(0.2, 1.2))
@settings(max_examples=60, deadline=None)
def test_a_quick_look_never_passes_a_neck(points: list[tuple[float, float]], share: float) -> None:
    """Outlines that bulge, of a needle's slimness or a plate's: where the quick look finds none, nor does the whole search."""
    band = shapely.MultiPoint(points).convex_hull
    if band.area < 1:
        return
    shape, longest = shape_of(band), shapely.length(shapely.minimum_bounding_circle(band)) / math.pi
    least = share * band.area / longest
    quick = soundness._is_stout(shape, least)
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(soundness, "_is_stout", lambda *_: False)
        assert not quick or not narrow_necks(shape, least)


def test_a_plate_needs_only_a_quick_look_and_a_strip_more() -> None:
    assert soundness._is_stout(outlines.circle(120), 12)
    assert soundness._is_stout(outlines.rectangle(100, 140, 5), 12)
    assert not soundness._is_stout(outlines.rectangle(10, 140), 12)
    assert not soundness._is_stout(barbell(6), 8)


@given(st.floats(2, 30), st.floats(10, 80), st.floats(0, 360), st.floats(1.1, 1.9))
@settings(max_examples=40, deadline=None)
def test_necks_anywhere_any_way_round(wide: float, long: float, turn: float, more: float) -> None:
    shape = moved(turned(barbell(wide, long), turn), 31, -17)
    found = narrow_necks(shape, wide * more)
    if wide * more < 38:
        (neck,) = found
        assert neck.wide_mm == pytest.approx(wide, abs=1e-6)
        assert math.dist(neck.middle, (31, -17)) < 1
        assert contains_point(shape, *neck.middle)
    assert narrow_necks(shape, wide) == ()


def test_neck_between_two_notches() -> None:
    """A wide notch from above and a slim one from below, their points 8 mm apart: no two of their sides are nearly parallel."""
    shape = from_points([(0, 0), (47, 0), (50, 30), (53, 0), (100, 0), (100, 60), (72, 60), (50, 38), (28, 60), (0, 60)])
    (neck,) = narrow_necks(shape, 12)
    assert neck.wide_mm == pytest.approx(8)
    assert neck.middle == (pytest.approx(0), pytest.approx(34 - 30))
    assert narrow_necks(shape, 8) == ()


def test_neck_between_two_arcs() -> None:
    """A disc bitten from both sides by circles of radius 40 whose middles are 90 apart leaves 10 between them."""
    shape = cut_away(outlines.circle(120), *(moved(outlines.circle(80), x, 0) for x in (-45, 45)))
    (neck,) = narrow_necks(shape, 12)
    assert neck.wide_mm == pytest.approx(10, abs=0.01)
    assert neck.middle == (pytest.approx(0, abs=0.05), pytest.approx(0, abs=1))


def test_border_of_an_opening_is_a_neck() -> None:
    """An opening 20 off the middle leaves 17.5 on one side (80 - 42.5 - 20), and more than 30 on the other."""
    ring = with_opening(outlines.circle(160), moved(outlines.circle(85), 20, 0))
    (neck,) = narrow_necks(ring, 30)
    assert neck.wide_mm == pytest.approx(17.5, abs=0.01)
    assert neck.middle == (pytest.approx(71.25, abs=0.05), pytest.approx(0, abs=1))
    assert narrow_necks(ring, 17) == ()


def test_ring_that_is_thin_all_round_is_one_neck() -> None:
    ring = with_opening(outlines.circle(160), outlines.circle(140))
    (neck,) = narrow_necks(ring, 12)
    assert neck.wide_mm == pytest.approx(10, abs=0.02)
    strip = outlines.rectangle(120, 5)
    assert [n.wide_mm for n in narrow_necks(strip, 8)] == [pytest.approx(5, abs=0.02)]


@pytest.mark.parametrize(
    "shape", [outlines.circle(100), outlines.heart(100), star(5, 120, 30), gable(80, 100), SQUARE, crescent(100, 40)]
)
def test_plain_shapes_have_no_neck(shape: Shape) -> None:
    assert narrow_necks(shape, 8) == ()


# --- tips ---


@pytest.mark.parametrize("angle", [20, 30, 60, 90])
def test_tips_stick_out_by_their_angle(angle: float) -> None:
    """Beyond a disc of 8 mm a tip of angle a reaches 4 (1 / sin(a/2) - 1)."""
    half = math.radians(angle / 2)
    triangle = Shape(((0, 0), (100 * math.tan(half), 100), (-100 * math.tan(half), 100)))
    reaches = {(round(x), round(y)): reach for (x, y), reach in thin_tips(triangle, 8)}
    assert reaches[(0, 0)] == pytest.approx(4 * (1 / math.sin(half) - 1), abs=0.04)


def test_tongue_is_a_long_tip() -> None:
    tongue = joined(SQUARE, moved(outlines.rectangle(60, 5), 70, 0))
    (place, reach), *corners = thin_tips(tongue, 8)
    assert place[0] == pytest.approx(100)
    assert reach > 48
    assert all(r < 2 for _, r in corners)
    (neck,) = narrow_necks(tongue, 8)  # what breaks off is as wide as the tongue
    assert neck.wide_mm == pytest.approx(5)


# --- inner corners ---


def test_inner_corners_of_openings() -> None:
    sharp = inner_corners(with_opening(SQUARE, outlines.rectangle(40, 30)))
    assert {(c.x, c.y) for c in sharp} == {(x, y) for x in (-20, 20) for y in (-15, 15)}
    assert all(c.angle_deg == pytest.approx(90) and c.radius_mm == 0 for c in sharp)
    soft = inner_corners(with_opening(SQUARE, outlines.rectangle(40, 30, 2)))
    assert len(soft) == 4
    assert all(c.angle_deg == pytest.approx(90) and c.radius_mm == pytest.approx(2, abs=0.01) for c in soft)
    assert inner_corners(with_opening(SQUARE, outlines.rectangle(40, 30, 3.5))) == ()
    assert len(inner_corners(with_opening(SQUARE, outlines.rectangle(40, 30, 3.5)), 4)) == 4


@pytest.mark.parametrize("opening", [outlines.circle(4), outlines.circle(60), outlines.ellipse(60, 40)])
def test_round_openings_have_no_corner(opening: Shape) -> None:
    assert inner_corners(with_opening(SQUARE, opening)) == ()


def test_inner_corners_of_outlines() -> None:
    """A pentagram's five inner corners are as open as its pentagon's, 108 degrees; a heart has its notch; a square none."""
    corners = inner_corners(star(5, 100, 50 * (1 - 0.381966)))
    assert [c.angle_deg for c in corners] == [pytest.approx(108, abs=1e-3)] * 5
    assert inner_corners(SQUARE) == ()
    assert inner_corners(outlines.circle(100)) == ()
    (notch,) = inner_corners(outlines.heart(100))
    assert (notch.x, notch.radius_mm) == (0, 0)
    assert notch.angle_deg < 20
    assert len(inner_corners(mirrored(turned(star(7, 100, 20), 12)))) == 7


# --- borders and holes ---


def test_thinnest_border() -> None:
    frame = with_opening(outlines.rectangle(150, 200), moved(outlines.rectangle(90, 140), 5, 0))
    border = thinnest_border(frame)
    assert border is not None
    assert border.wide_mm == pytest.approx(25)
    assert border.middle == (pytest.approx(62.5), pytest.approx(0, abs=1e-6))
    two = with_opening(with_opening(SQUARE, moved(outlines.circle(30), -17, 0)), moved(outlines.circle(30), 17, 0))
    web = thinnest_border(two)
    assert web is not None
    assert web.wide_mm == pytest.approx(4, abs=0.01)
    assert web.middle == (pytest.approx(0, abs=0.05), pytest.approx(0, abs=1.5))
    assert thinnest_border(SQUARE) is None


@given(st.floats(-45, 45), st.floats(-45, 45), st.floats(1, 6))
@settings(max_examples=40, deadline=None)
def test_hole_to_the_edge(x: float, y: float, across: float) -> None:
    gap = edge_distance(SQUARE, x, y, across)
    expected = 50 - max(abs(x), abs(y)) - across / 2
    assert gap.wide_mm == pytest.approx(expected, abs=1e-9)
    assert max(abs(gap.end[0]), abs(gap.end[1])) == pytest.approx(50)
    assert math.dist(gap.start, (x, y)) == pytest.approx(across / 2)


def test_hole_off_the_clay() -> None:
    ring = with_opening(outlines.circle(160), outlines.circle(85))
    with pytest.raises(GeometryError, match="not on the clay"):
        edge_distance(ring, 0, 0)
    assert edge_distance(ring, 0, 60, 4).wide_mm == pytest.approx(60 - 42.5 - 2, abs=0.02)
    assert edge_distance(SQUARE, 49, 0, 4).wide_mm == pytest.approx(-1)


# --- balance ---


def test_tilt_of_the_worked_example() -> None:
    """A hole 6 mm off, the balance point 60 below: atan(6 / 60) = 5.7 degrees."""
    tilt = hanging_tilt_deg(outlines.rectangle(120, 150), -6, 60)
    assert tilt == pytest.approx(5.7, abs=0.05)
    assert hanging_tilt_deg(outlines.rectangle(120, 150), 6, 60) == -tilt
    assert hanging_tilt_deg(SQUARE, 0, 30) == 0
    assert abs(hanging_tilt_deg(SQUARE, 5, -30)) > 90
    with pytest.raises(GeometryError, match="any way"):
        hanging_tilt_deg(SQUARE, 0, 0)


@given(st.floats(-40, 40), st.floats(-40, 40))
@settings(max_examples=40, deadline=None)
def test_a_turned_piece_hangs_with_its_balance_point_below(x: float, y: float) -> None:
    """Turned about the hole by the tilt, clockwise, the balance point lies straight below the hole."""
    shape = crescent(100, 40)
    cx, cy = centroid(shape)
    if math.dist((x, y), (cx, cy)) < 0.1:
        return
    hung = turned(shape, -hanging_tilt_deg(shape, x, y), (x, y))
    hx, hy = centroid(hung)
    assert hx == pytest.approx(x, abs=1e-9)
    assert hy < y


def test_balance_line_and_holes() -> None:
    moon = crescent(100, 40)
    reference = shapely.Polygon(moon.outline).centroid.x
    assert balance_line_x(moon) == pytest.approx(reference)
    for shape in (outlines.heart(160), outlines.arch(140, 190), with_opening(outlines.circle(160), outlines.circle(85))):
        ((x, y),) = hanging_places(shape, 1, 15)
        drilled = with_opening(shape, moved(outlines.circle(5), x, y))
        assert hanging_tilt_deg(drilled, x, y) == pytest.approx(0, abs=1e-6)
        assert edge_distance(shape, x, y).wide_mm <= 15 + 1e-9


def test_two_holes_of_the_worked_example() -> None:
    """A plaque 180 x 120: 36 in from each side, 15 down; the nail 40 above the holes takes 134 mm of cord, without knots."""
    assert hanging_cord_mm(108, 40) == pytest.approx(134, abs=0.5)
    assert hanging_places(outlines.rectangle(180, 120), 2, 15, 108) == ((-54, 45), (54, 45))
    house = gable(100, 140)
    left, right = hanging_places(house, 2, 12, 60)
    assert left[1] == right[1] == pytest.approx(top_edge_y(house, 30) - 12)


def test_two_holes_under_a_slope_lie_level_below_the_lower_edge() -> None:
    """A sail whose top edge falls from 100 to 40: at the lower end of the two holes' places the edge decides for both."""
    sail = from_points([(0, 0), (100, 0), (100, 40), (0, 100)])
    left, right = hanging_places(sail, 2, 12, 30)
    assert left[1] == right[1] == pytest.approx(top_edge_y(sail, right[0]) - 12)
    assert top_edge_y(sail, left[0]) == pytest.approx(top_edge_y(sail, right[0]) + 30 * 0.6)


def test_top_edge() -> None:
    assert top_edge_y(gable(100, 140, 84), 25) == pytest.approx(70 - 28)
    assert top_edge_y(outlines.circle(100), 30) == pytest.approx(40, abs=0.02)


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: hanging_places(SQUARE, 3, 15), "1 or 2"),
        (lambda: hanging_places(SQUARE, 2, 15, 110), "no clay"),
        (lambda: hanging_places(SQUARE, 2, 15), "between holes"),
        (lambda: hanging_places(with_opening(SQUARE, outlines.circle(60)), 1, 30), "misses the clay"),
        (lambda: hanging_tilt_deg(SQUARE, math.nan, 0), "not a number"),
        (lambda: narrow_necks(SQUARE, 0), "least width"),
    ],
)
def test_impossible_questions(call: object, words: str) -> None:
    with pytest.raises(GeometryError, match=words) as error:
        call()  # type: ignore[operator]
    assert error.value.hint
