"""Dish, bowl, tray, wall pocket; coils and balls: published blanks, worked examples, and surfaces integrated by scipy.

| form | formula | source | greatest deviation found |
|---|---|---|---|
| plain cup | sqrt(d² + 4dh) | Machinery's Handbook, 31st ed., p. 1426 Eq. (39), p. 1428 | 5e-5 in |
| dish | sqrt(b² + 2 (b + r) s) | Hodgson, Sheet Metal, ch. XX; scipy | 3e-5 in; 1e-13 of the area |
| bowl | 2 sqrt(a² + h²) | Atkins, Sheet and Plate Metal Work, ch. XXVII; scipy | 5e-4 mm; 1e-13 of the area |
| wall pocket | radius (a² + d²) / 2d, arc 2 R atan2(a, R - d) | worked example | 0.04 mm (its rounding) |
| coils | rows = height / rise, pi x (outside - coil) | worked example | 0.04 m (its rounding) |
| profile | Fritsch and Butland 1984 | scipy PchipInterpolator | 1e-12 mm |
| ball | (6m / (pi x density))^(1/3) | plane geometry | 1e-15 |
A slumped slab keeps its area to about 2 % (common practice, no source).
"""

from __future__ import annotations

import math
from math import cos, hypot, pi, sin, sqrt

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import quad
from scipy.interpolate import PchipInterpolator

from lessonkit.geometry.coils import ball_across_mm, ball_mass_g, coil_work, profile_gauge, spiral_long_mm
from lessonkit.geometry.dishes import bowl, dish, tray, wall_pocket
from lessonkit.geometry.faults import GeometryError
from lessonkit.geometry.flat_part import FlatPart
from lessonkit.geometry.shape import bounds
from tests.geometry.soundly import assert_sound, boundary, made

K12, K6 = 1 / 0.88, 1 / 0.94


def extent(part: FlatPart) -> tuple[float, float]:
    left, bottom, right, top = bounds(part.shape)
    return right - left, top - bottom


# --- dish and bowl ---


@pytest.mark.parametrize(("d", "h", "blank"), [(1.5, 2, sqrt(14.25)), (2, 3, 5.2915), (25, 15, 46.10)])
def test_plain_cups_of_the_handbook(d: float, h: float, blank: float) -> None:
    """Machinery's Handbook, 31st ed., p. 1426 Eq. (39), Ex. 1 (prints 3.78, rounded up) and p. 1428 Ex. 2; the third common."""
    assert dish(bottom_mm=d, rim_mm=d, tall_mm=h, thickness_mm=0).size("across") == pytest.approx(blank, abs=0.005)


@pytest.mark.parametrize(
    ("bottom", "rim", "rise", "blank", "over"),
    [(2, 4, 2.5, 6.02586, None), (160, 250, 25, 260.408, 262.956), (170, 254, 20, 261.434, 263.038)],
)
def test_sloped_rims(bottom: float, rim: float, rise: float, blank: float, over: float | None) -> None:
    """Hodgson, ch. XX: a vessel 2 / 4 / 2.5 has 28.519 square inches, blank 6.026; two plates computed in the same way."""
    part = dish(bottom_mm=bottom, rim_mm=rim, tall_mm=rise, thickness_mm=0)
    assert part.size("across") == pytest.approx(blank, abs=6e-4)
    if over is not None:
        assert part.size("pressed_over") == pytest.approx(over, abs=6e-4)
    else:
        assert pi / 4 * part.size("across") ** 2 == pytest.approx(28.519, abs=5e-4)


@pytest.mark.parametrize(("a", "h", "blank"), [(100, 20, 203.961), (125, 25, 254.951)])
def test_caps_of_the_table(a: float, h: float, blank: float) -> None:
    """Atkins, ch. XXVII: blank radius sqrt(a² + h²). A half ball's is its diameter over sqrt 2."""
    assert bowl(rim_mm=2 * a, tall_mm=h, thickness_mm=0).size("across") == pytest.approx(blank, abs=6e-4)
    half_ball = bowl(rim_mm=2 * a, tall_mm=a, thickness_mm=0)
    assert half_ball.size("across") / 2 == pytest.approx(2 * a / sqrt(2))


@given(st.floats(60, 300), st.floats(0, 100), st.floats(15, 60), st.floats(3, 9))
@settings(max_examples=40, deadline=None)
def test_dish_keeps_the_area_of_its_middle(bottom: float, wider: float, tall: float, thickness: float) -> None:
    """Blank against the middle surface, integrated: half a thickness in from the outside, level, and half up from below."""
    rim = bottom + wider
    part = dish(bottom_mm=bottom, rim_mm=rim, tall_mm=tall, thickness_mm=thickness)
    assert_sound(part.shape)
    lean = (rim - bottom) / 2 / tall
    wall, _ = quad(lambda z: 2 * pi * (bottom / 2 - thickness / 2 + lean * z) * hypot(1, lean), thickness / 2, tall)
    flat = pi * (bottom / 2 - thickness / 2 + lean * thickness / 2) ** 2
    assert pi / 4 * part.size("across") ** 2 == pytest.approx(wall + flat, rel=1e-9)
    assert extent(part)[0] == pytest.approx(part.size("across"))
    (line,) = part.marks
    assert max(x for x, _ in line.line) * 2 == pytest.approx(part.size("bottom"))


@given(st.floats(60, 300), st.floats(0.1, 1), st.floats(3, 9))
@settings(max_examples=40, deadline=None)
def test_bowl_keeps_the_area_of_its_middle(rim: float, share: float, thickness: float) -> None:
    radius = (rim - thickness) / 2
    depth = radius * share
    part = bowl(rim_mm=rim, tall_mm=depth + thickness / 2, thickness_mm=thickness)
    ball = part.size("ball_radius")
    reach = math.atan2(radius, ball - depth)
    area, _ = quad(lambda t: 2 * pi * ball * sin(t) * ball, 0, reach)
    assert pi / 4 * part.size("across") ** 2 == pytest.approx(area, rel=1e-9)


# --- tray ---


def test_tray_folds_up_to_its_size() -> None:
    """The middle line, folded at the marks by the lean, ends half a thickness in from the rims and at full height."""
    part = tray(long_mm=180, wide_mm=90, tall_mm=40, bottom_mm=110, thickness_mm=6, corner_mm=5)
    assert_sound(part.shape)
    lean, slope, bottom = math.radians(part.size("lean_deg")), part.size("slope"), part.size("bottom")
    x, z = bottom / 2 + slope * cos(lean), 3 + slope * sin(lean)
    assert (x, z) == (pytest.approx(180 / 2 - 3), pytest.approx(40))
    assert sorted(mark.line[0][0] for mark in part.marks) == pytest.approx([-bottom / 2, bottom / 2])
    assert extent(part) == (pytest.approx(bottom + 2 * slope), pytest.approx(90))


# --- wall pocket ---


@pytest.mark.parametrize(("k", "cut"), [(1, 160.7), (K6, 170.9), (K12, 182.6)])
def test_pouch_of_the_worked_example(k: float, cut: float) -> None:
    """Back 130 wide, pouch 40 deep: arc radius (65² + 40²) / 80 = 72.8, arc 160.7; 170.9 at 6 %, 182.6 at 12 %."""
    back, pouch, floor = wall_pocket(wide_mm=130 * k, tall_mm=180 * k, deep_mm=40 * k, thickness_mm=6)
    assert pouch.size("long") == pytest.approx(cut, abs=0.06)
    assert pouch.size("radius") / k == pytest.approx(72.8, abs=0.05)
    assert extent(back) == (pytest.approx(130 * k), pytest.approx(180 * k))
    for part in (back, pouch, floor):
        assert_sound(part.shape)


@given(st.floats(60, 250), st.floats(0.25, 1.5), st.floats(3, 9))
@settings(max_examples=40, deadline=None)
def test_pouch_bent_round_meets_the_back(wide: float, share: float, thickness: float) -> None:
    """Its middle bent to the radius spans the back's width and bulges as asked; the floor lies half a thickness inside it."""
    deep = wide / 2 * share
    parts = made(lambda: wall_pocket(wide_mm=wide, tall_mm=150, deep_mm=deep, thickness_mm=thickness, pouch_tall_mm=100))
    if parts is None:
        return
    _, pouch, floor = parts
    radius = pouch.size("radius")
    turn = extent(pouch)[0] / radius
    assert 2 * radius * sin(turn / 2) == pytest.approx(wide, rel=1e-9)
    assert radius - radius * cos(turn / 2) == pytest.approx(deep, rel=1e-9)
    assert extent(floor)[1] == pytest.approx(deep - thickness / 2, rel=1e-9)
    middle = np.array([0.0, bounds(floor.shape)[1] + radius - thickness / 2])
    curve = np.array(next(e.line for e in floor.edges if e.letter == "C"))
    assert np.hypot(*(curve - middle).T) == pytest.approx(radius - thickness / 2, rel=1e-9)
    chord = next(e.line for e in floor.edges if e.letter == "D")
    assert chord[0][1] - middle[1] == pytest.approx(deep - radius, abs=1e-6)


def test_pouch_letters_pair() -> None:
    parts = wall_pocket(wide_mm=130, tall_mm=180, deep_mm=40, thickness_mm=6, pouch_tall_mm=120)
    letters = [e.letter for part in parts for e in part.edges]
    assert sorted(letters) == ["A", "A", "B", "B", "C", "C", "D", "D"]
    seams = [math.dist(*e.line) for part in parts[:2] for e in part.edges if e.letter in "AB"]
    assert seams == [pytest.approx(120)] * 4


# --- coils ---


def test_coil_pot_of_the_worked_example() -> None:
    """Fired 110 x 100, 6 %, coil 10: 13 rows, 4.4 m, 0.65 kg at 1.9 g/cm³; mid-circle 336 mm."""
    work = coil_work(((0, 110 * K6), (100 * K6, 110 * K6)), 10)
    assert work.rows == 13
    assert work.row_long_mm[0] == pytest.approx(336, abs=0.5)
    assert work.long_mm / 1000 == pytest.approx(4.4, abs=0.05)
    assert work.volume_mm3 * 1.9e-6 == pytest.approx(0.65, abs=0.005)
    base = pi / 4 * (110 * K6) ** 2 * 8
    assert base * 1.9e-6 == pytest.approx(0.16, abs=0.005)
    assert (work.volume_mm3 + base) * 1.9e-6 == pytest.approx(0.82, abs=0.005)
    assert coil_work(((0, 110 * K6), (6 * 8, 110 * K6)), 10).rows == 6  # "six coils" make a 48 mm pot


def test_coils_follow_the_profile() -> None:
    """A cone's rows add up to the area of its middle over the rise (trapezoid rule, exact for straight sides)."""
    work = coil_work(((0, 110), (100, 60)), 8, rise_mm=5)
    assert work.rows == 20
    assert work.long_mm == pytest.approx(20 * pi * (85 - 8), rel=1e-12)
    assert list(work.row_long_mm) == sorted(work.row_long_mm, reverse=True)


def test_spiral_by_its_arc_length() -> None:
    """Area over width, against the arc of an Archimedean spiral of the same pitch, integrated: within 1 %."""
    turns = 50 / 8
    arc, _ = quad(lambda t: hypot(8 / (2 * pi) * t, 8 / (2 * pi)), 0, 2 * pi * turns)
    assert spiral_long_mm(100, 8) == pytest.approx(arc, rel=0.01)


BELLY = ((0.0, 90.0), (45.0, 120.0), (90.0, 60.0), (110.0, 70.0))
profiles = st.lists(st.tuples(st.floats(2, 60), st.floats(20, 200)), min_size=2, max_size=6).map(
    lambda steps: tuple((sum(h for h, _ in steps[1 : i + 1]), w) for i, (_, w) in enumerate(steps))
)


@given(profiles, st.floats(0.5, 20))
@settings(max_examples=60, deadline=None)
def test_profiles_against_scipy(profile: tuple[tuple[float, float], ...], rise: float) -> None:
    """Every row is as long as the circle through its middle, half its rise up."""
    work, tall = coil_work(profile, 2, rise), profile[-1][0]
    middles = tall * (np.arange(work.rows) + 0.5) / work.rows
    assert work.row_long_mm == pytest.approx(pi * (PchipInterpolator(*zip(*profile, strict=True))(middles) - 2), abs=1e-5)


def test_gauge_follows_the_pot() -> None:
    """Its left edge, measured from where its back is, is the profile: 0.01 mm at most off; widest where the pot is widest."""
    gauge = profile_gauge(BELLY, back_mm=30)
    assert_sound(gauge.shape)
    _, _, right, top = bounds(gauge.shape)
    axis = right - (120 / 2 + 30)
    heights = np.linspace(0, 110, 5001)
    curve = PchipInterpolator(*zip(*BELLY, strict=True))(heights) / 2
    off = shapely.distance(shapely.points(axis + curve, heights - top), boundary(gauge.shape))
    assert off.max() <= 0.0101
    assert extent(gauge) == (pytest.approx(60 - 30 + 30), pytest.approx(110))


def test_ball_and_weight() -> None:
    """180 g at 1.95 g/cm³ are 92.3 cm³: a ball 56.1 mm wide; there and back."""
    assert ball_across_mm(180, 1.95) == pytest.approx(56.07, abs=0.005)
    assert ball_mass_g(ball_across_mm(160, 1.9), 1.9) == pytest.approx(160)
    assert ball_mass_g(100, 2) == pytest.approx(4 / 3 * pi * 5**3 * 2)


IMPOSSIBLE = [
    lambda: dish(bottom_mm=120, rim_mm=100, tall_mm=20, thickness_mm=6),
    lambda: dish(bottom_mm=5, rim_mm=5, tall_mm=20, thickness_mm=6),
    lambda: dish(bottom_mm=50, rim_mm=90, tall_mm=3, thickness_mm=6),
    lambda: dish(bottom_mm=50, rim_mm=90, tall_mm=30, thickness_mm=-6),
    lambda: bowl(rim_mm=100, tall_mm=60, thickness_mm=6),
    lambda: bowl(rim_mm=5, tall_mm=60, thickness_mm=6),
    lambda: tray(long_mm=100, wide_mm=50, tall_mm=30, bottom_mm=120, thickness_mm=6),
    lambda: tray(long_mm=180, wide_mm=50, tall_mm=30, bottom_mm=120, thickness_mm=6, corner_mm=26),
    lambda: wall_pocket(wide_mm=130, tall_mm=100, deep_mm=40, thickness_mm=6, pouch_tall_mm=120),
    lambda: wall_pocket(wide_mm=130, tall_mm=100, deep_mm=5, thickness_mm=6),
    lambda: coil_work(((0, 110),), 10),
    lambda: coil_work(((0, 110), (100, 10)), 10),
    lambda: coil_work(((0, 110), (-5, 100)), 10),
    lambda: coil_work(((0, 110), (50, 100), (50, 90)), 10),
    lambda: coil_work(((0, 110), (9000, 110)), 1),
    lambda: coil_work(((0, 110), (math.nan, 110)), 10),
    lambda: spiral_long_mm(5, 8),
    lambda: profile_gauge(((10, 50), (20, 60))),
    lambda: ball_across_mm(0, 1.9),
    lambda: ball_across_mm(180, math.nan),
]


@pytest.mark.parametrize("call", IMPOSSIBLE)
def test_impossible_forms(call: object) -> None:
    with pytest.raises(GeometryError) as error:
        call()  # type: ignore[operator]
    assert error.value.hint
