"""Outlines against closed forms and published tables.

| outline | formula | source | greatest deviation found |
|---|---|---|---|
| circle, ellipse | pi ab; 4aE(e) | DLMF 19.8.6; scipy | curve 0.0099 mm; area 0.04 % from 40 mm up |
| rectangle, rounded | wh - (4 - pi) r² | plane geometry | curve 0.0097 mm |
| regular polygon | n/2 R² sin(360°/n) | CRC Standard Mathematical Tables, 5.3 | 5e-7 (the table's rounding) |
| heart | 180 pi in a width of 32 | Wolfram MathWorld, Heart Curve; scipy | curve 0.0094 mm; area 0.02 % |
| arch | wh - (2 - pi/2) (w/2)² | plane geometry | curve 0.0098 mm |
| egg | pi/4 wh | two half ellipses | curve 0.0099 mm |
| teardrop | r²(pi - c) + r sqrt(d² - r²) | tangents to a circle | curve 0.0097 mm |
| leaf | R²(c - sin c) | two circular segments | curve 0.0097 mm |
| scalloped, shield, moon | circular segments; MathWorld, Circle-Circle Intersection | plane geometry | area 0.02 % |
| petals | pi(m² + a²/2) | polar area, scipy | curve 0.0090 mm |
| waves | w(h - d/2) | a whole number of sine waves | curve 0.0061 mm; area 3e-16 |
| star {n/m} | cos(180°m/n) / cos(180°(m-1)/n) | table of regular stars, computed | 5e-7 (the table's rounding) |
"""

from __future__ import annotations

import math
from math import acos, asin, cos, pi, sin, sqrt

import numpy as np
import pytest
from scipy.integrate import quad

from lessonkit.geometry import ornaments, outlines
from lessonkit.geometry.curves import TOLERANCE_MM, ellipse_perimeter
from lessonkit.geometry.faults import GeometryError
from lessonkit.geometry.shape import Shape, area_mm2, bounds, contains_point, perimeter_mm
from tests.geometry.soundly import assert_follows, assert_size, assert_sound


def assert_area(shape: Shape, exact: float) -> None:
    """A flattened outline differs from the true area by less than its length times the tolerance."""
    assert abs(area_mm2(shape) - exact) <= perimeter_mm(shape) * TOLERANCE_MM


@pytest.mark.parametrize("across", [1, 40, 160, 255, 600])
def test_circle(across: float) -> None:
    shape = outlines.circle(across)
    assert_sound(shape)
    assert_size(shape, across, across)
    assert_area(shape, pi / 4 * across**2)
    assert_follows(shape, lambda t: (across / 2 * np.cos(t), across / 2 * np.sin(t)), 0, 2 * pi)
    assert perimeter_mm(shape) == pytest.approx(pi * across, rel=0.01)


@pytest.mark.parametrize(("wide", "tall"), [(140, 90), (60, 45), (240, 160), (20, 300)])
def test_ellipse(wide: float, tall: float) -> None:
    shape = outlines.ellipse(wide, tall)
    assert_sound(shape)
    assert_size(shape, wide, tall)
    assert_area(shape, pi / 4 * wide * tall)
    assert_follows(shape, lambda t: (wide / 2 * np.cos(t), tall / 2 * np.sin(t)), 0, 2 * pi)
    assert perimeter_mm(shape) == pytest.approx(ellipse_perimeter(wide, tall), rel=5e-4)


@pytest.mark.parametrize(("wide", "tall", "corner"), [(100, 60, 0), (100, 60, 5), (100, 60, 30), (60, 60, 30), (150, 200, 12.5)])
def test_rectangle(wide: float, tall: float, corner: float) -> None:
    shape = outlines.rectangle(wide, tall, corner)
    assert_sound(shape)
    assert_size(shape, wide, tall)
    assert_area(shape, wide * tall - (4 - pi) * corner**2)
    if corner:
        middle = (wide / 2 - corner, tall / 2 - corner)
        assert_follows(shape, lambda t: (middle[0] + corner * np.cos(t), middle[1] + corner * np.sin(t)), 0, pi / 2)
    else:
        assert len(shape.outline) == 4


# CRC Standard Mathematical Tables, 30th ed., 5.3: sides, side / R, side / apothem, area / side², area / R²
POLYGONS = [
    (3, 1.732051, 3.464102, 0.433013, 1.299038),
    (4, 1.414214, 2.000000, 1.000000, 2.000000),
    (5, 1.175571, 1.453085, 1.720477, 2.377641),
    (6, 1.000000, 1.154701, 2.598076, 2.598076),
    (7, 0.867767, 0.963149, 3.633912, 2.736410),
    (8, 0.765367, 0.828427, 4.828427, 2.828427),
    (9, 0.684040, 0.727940, 6.181824, 2.892544),
    (10, 0.618034, 0.649839, 7.694209, 2.938926),
    (12, 0.517638, 0.535898, 11.196152, 3.000000),
]


@pytest.mark.parametrize(("sides", "per_radius", "per_apothem", "area_side", "area_radius"), POLYGONS)
def test_polygons_of_the_table(sides: int, per_radius: float, per_apothem: float, area_side: float, area_radius: float) -> None:
    shape = outlines.polygon(sides, 200)
    assert_sound(shape)
    side = math.dist(shape.outline[0], shape.outline[1])
    assert perimeter_mm(shape) == pytest.approx(sides * side, rel=1e-12)
    assert side / 100 == pytest.approx(per_radius, abs=6e-7)
    assert area_mm2(shape) / side**2 == pytest.approx(area_side, abs=6e-7)
    assert area_mm2(shape) / 100**2 == pytest.approx(area_radius, abs=6e-7)
    _, bottom, _, _ = bounds(shape)
    assert sum(abs(y - bottom) < 1e-9 for _, y in shape.outline) == 2  # it stands on a side
    if sides % 2 == 0:
        flats = outlines.polygon(sides, across_flats=200)
        assert math.dist(flats.outline[0], flats.outline[1]) / 100 == pytest.approx(per_apothem, abs=6e-7)
        assert bounds(flats)[3] == pytest.approx(100, abs=1e-9)


def heart_curve(t: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    return 16 * np.sin(t) ** 3, 13 * np.cos(t) - 5 * np.cos(2 * t) - 2 * np.cos(3 * t) - np.cos(4 * t)


@pytest.mark.parametrize("wide", [32, 90, 113.636, 400])
def test_heart(wide: float) -> None:
    """MathWorld's curve: per width W the height is 0.903852 W, the area 0.552233 W², the length 3.192736 W; notch at y = 5."""
    shape = outlines.heart(wide)
    k = wide / 32
    assert_sound(shape)
    assert_size(shape, wide, 2 * bounds(shape)[3])
    assert bounds(shape)[3] * 2 / wide == pytest.approx(0.903852, abs=6e-7)
    assert_area(shape, 180 * pi * k * k)
    assert area_mm2(shape) / wide**2 == pytest.approx(0.552233, rel=4e-4)
    assert perimeter_mm(shape) / wide == pytest.approx(3.192736, rel=1e-3)
    middle = (11.923252 - 17) / 2
    assert_follows(shape, lambda t: (k * heart_curve(t)[0], k * (heart_curve(t)[1] - middle)), 0, 2 * pi)
    notch = [y for x, y in shape.outline if x == 0 and y > 0]
    assert notch == [pytest.approx(k * (5 - middle), abs=1e-4)]


def test_heart_of_fired_100_mm() -> None:
    """Fired 100 mm wide at 12 %: wet 113.636 x 102.710 mm, area 7131.1 mm² (worked)."""
    shape = outlines.heart(100 / 0.88)
    left, bottom, right, top = bounds(shape)
    assert (right - left, top - bottom) == (pytest.approx(113.636, abs=5e-4), pytest.approx(102.710, abs=5e-4))
    assert area_mm2(shape) == pytest.approx(7131.1, abs=1)


def test_heart_area_by_scipy() -> None:
    area, _ = quad(lambda t: heart_curve(t)[0] * (-13 * sin(t) + 10 * sin(2 * t) + 6 * sin(3 * t) + 4 * sin(4 * t)), 0, 2 * pi)
    assert abs(area) == pytest.approx(180 * pi, rel=1e-12)
    assert area_mm2(outlines.heart(3200)) == pytest.approx(abs(area) * 1e4, rel=1e-5)


def test_stretched_heart() -> None:
    assert_size(outlines.heart(85, 90), 85, 90)


@pytest.mark.parametrize(("wide", "tall"), [(80, 120), (140, 190), (80, 40), (80, 41)])
def test_arch(wide: float, tall: float) -> None:
    shape = outlines.arch(wide, tall)
    assert_sound(shape)
    assert_size(shape, wide, tall)
    assert_area(shape, wide * tall - (2 - pi / 2) * (wide / 2) ** 2)
    up = tall / 2 - wide / 2
    assert_follows(shape, lambda t: (wide / 2 * np.cos(t), up + wide / 2 * np.sin(t)), 0, pi)


def test_flatter_arch() -> None:
    """A segment 80 wide and 10 high has radius (40² + 10²) / 20 = 85 and area R² asin(40/85) - 40 (85 - 10)."""
    shape = outlines.arch(80, 60, rise=10)
    assert_sound(shape)
    assert_size(shape, 80, 60)
    assert_area(shape, 80 * 50 + 85**2 * asin(40 / 85) - 40 * 75)


def test_squat_arch_is_refused() -> None:
    with pytest.raises(GeometryError, match="half circle alone is 40 mm") as error:
        outlines.arch(80, 30)
    assert error.value.hint


def test_egg_has_the_area_of_its_ellipse() -> None:
    shape = ornaments.egg(140, 180)
    assert_sound(shape)
    assert_size(shape, 140, 180)
    assert_area(shape, pi / 4 * 140 * 180)
    low = -90 + 0.42 * 180
    assert_follows(shape, lambda t: (70 * np.cos(t), low + 0.58 * 180 * np.sin(t)), 0, pi)
    assert_follows(shape, lambda t: (70 * np.cos(t), low + 0.42 * 180 * np.sin(t)), pi, 2 * pi)
    assert area_mm2(ornaments.egg(140, 180, 0.5)) == pytest.approx(area_mm2(outlines.ellipse(140, 180)))


def test_teardrop() -> None:
    shape = ornaments.teardrop(60, 100)
    assert_sound(shape)
    assert_size(shape, 60, 100)
    r, d = 30, 70
    assert_area(shape, r * r * (pi - acos(r / d)) + r * sqrt(d * d - r * r))
    start = pi / 2 + acos(r / d)
    assert_follows(shape, lambda t: (r * np.cos(t), -20 + r * np.sin(t)), start, start + 2 * pi - 2 * acos(r / d))


def test_leaf() -> None:
    """Two arcs 220 between their ends that bulge 60 each: radius (110² + 60²) / 120."""
    shape = ornaments.leaf(120, 220)
    assert_sound(shape)
    assert_size(shape, 120, 220)
    radius = (110**2 + 60**2) / 120
    turn = 2 * asin(110 / radius)
    assert_area(shape, radius**2 * (turn - sin(turn)))
    assert_follows(shape, lambda t: (60 - radius + radius * np.cos(t), radius * np.sin(t)), -turn / 2, turn / 2)
    assert area_mm2(ornaments.leaf(50, 50)) == pytest.approx(area_mm2(outlines.circle(50)), rel=1e-3)


@pytest.mark.parametrize(("count", "depth"), [(3, None), (8, None), (12, 5), (20, 2), (5, 20)])
def test_scalloped(count: int, depth: float | None) -> None:
    shape = ornaments.scalloped(count, 200, depth)
    assert_sound(shape)
    turn = pi / count
    valley = 100 / (cos(turn) + sin(turn)) if depth is None else 100 - depth
    half, high = valley * sin(turn), 100 - valley * cos(turn)
    radius = (half * half + high * high) / (2 * high)
    reach = math.atan2(half, radius - high)
    assert_area(shape, count * (half * valley * cos(turn) + radius**2 * (reach - sin(reach) * cos(reach))))
    if count % 2 == 0:
        assert bounds(shape)[3] - bounds(shape)[1] == pytest.approx(200, abs=1e-9)
    if depth is None:
        assert radius == pytest.approx(half, rel=1e-12)  # half circles


def test_scallops_too_deep_are_refused() -> None:
    with pytest.raises(GeometryError, match="do not fit"):
        ornaments.scalloped(12, 100, 40)


@pytest.mark.parametrize("count", [2, 3, 5, 8, 36])
def test_petals(count: int) -> None:
    shape = ornaments.petals(count, 120, 30)
    assert_sound(shape)
    area, _ = quad(lambda t: (45 + 15 * cos(count * t)) ** 2 / 2, 0, 2 * pi, limit=400)
    assert area == pytest.approx(pi * (45**2 + 15**2 / 2), rel=1e-9)
    assert_area(shape, area)
    xs, ys = petal_curve(count, np.linspace(0, 2 * pi, 40_001))
    left, bottom, right, top = xs.min(), ys.min(), xs.max(), ys.max()
    assert bounds(shape)[2] * 2 == pytest.approx(right - left, abs=1e-4)
    assert bounds(shape)[3] * 2 == pytest.approx(top - bottom, abs=1e-4)
    dx, dy = (left + right) / 2, (bottom + top) / 2
    assert_follows(shape, lambda t: (petal_curve(count, t)[0] - dx, petal_curve(count, t)[1] - dy), 0, 2 * pi)


def petal_curve(count: int, t: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    reach = 45 + 15 * np.cos(count * t)
    return -reach * np.sin(t), reach * np.cos(t)


# regular stars per outer radius: points, step, inner / outer, area / R², edge / R, tip in degrees
STARS = [
    (5, 2, 0.381966, 1.122570, 0.726543, 36),
    (6, 2, 0.577350, 1.732051, 0.577350, 60),
    (7, 2, 0.692021, 2.101798, 0.481575, 77.1429),
    (7, 3, 0.356896, 1.083959, 0.695895, 25.7143),
    (8, 2, 0.765367, 2.343146, 0.414214, 90),
    (8, 3, 0.541196, 1.656854, 0.541196, 45),
]


@pytest.mark.parametrize(("points", "step", "inner", "area", "edge", "tip"), STARS)
def test_stars_of_the_table(points: int, step: int, inner: float, area: float, edge: float, tip: float) -> None:
    shape = ornaments.star_ratio(points, step, 200)
    assert_sound(shape)
    assert area_mm2(shape) / 100**2 == pytest.approx(area, abs=6e-7)
    (ax, ay), (bx, by), (cx, cy) = shape.outline[-1], shape.outline[0], shape.outline[1]
    assert math.dist((ax, ay), (bx, by)) / 100 == pytest.approx(edge, abs=6e-7)
    cosine = ((ax - bx) * (cx - bx) + (ay - by) * (cy - by)) / math.dist((ax, ay), (bx, by)) / math.dist((cx, cy), (bx, by))
    assert math.degrees(acos(cosine)) == pytest.approx(tip, abs=6e-5)
    same = ornaments.star(points, 200, 100 * (1 - inner))
    assert area_mm2(same) == pytest.approx(area_mm2(shape), rel=3e-6)


def test_pentagram_by_the_golden_ratio() -> None:
    """With an inner pentagon of side 5 the pentagram's area is 139.1895 (exact golden ratio)."""
    phi = (1 + sqrt(5)) / 2
    inner_radius = 5 / (2 * sin(pi / 5))
    assert area_mm2(ornaments.star_ratio(5, 2, 2 * inner_radius * phi**2)) == pytest.approx(139.1895, abs=5e-5)


def test_shield() -> None:
    """Sides to 60 below the top; two arcs of radius (50² + 120²) / 100 = 169 touch them and meet."""
    shape = ornaments.shield(100, 180)
    assert_sound(shape)
    assert_size(shape, 100, 180)
    radius = (50**2 + 120**2) / 100
    turn = math.atan2(120, radius - 50)
    half = radius**2 * turn / 2 - (radius - 50) * 120 / 2
    assert_area(shape, 100 * 60 + 2 * half)


@pytest.mark.parametrize("thick", [10, 30, 60, 75])
def test_moon(thick: float) -> None:
    """The circle less the lens that two circles share (MathWorld, Circle-Circle Intersection)."""
    shape = ornaments.crescent(100, thick)
    assert_sound(shape)
    outer, inner, off = 50, 50 - thick / 4, 0.75 * thick
    one = outer**2 * acos((off**2 + outer**2 - inner**2) / (2 * off * outer))
    two = inner**2 * acos((off**2 + inner**2 - outer**2) / (2 * off * inner))
    root = (-off + outer + inner) * (off + outer - inner) * (off - outer + inner) * (off + outer + inner)
    assert_area(shape, pi * outer**2 - (one + two - sqrt(root) / 2))
    left, bottom, _, top = bounds(shape)
    assert top - bottom == pytest.approx(100, abs=1e-9)
    assert contains_point(shape, left + 0.9 * thick, 0)
    assert not contains_point(shape, left + 1.1 * thick, 0)


def test_gable_and_waves() -> None:
    house = ornaments.gable(100, 140, 80)
    assert_sound(house)
    assert_size(house, 100, 140)
    assert area_mm2(house) == pytest.approx(100 * 80 + 100 * 60 / 2)
    for both, area in ((False, 150 * (150 - 5)), (True, 150 * 140)):
        tile = ornaments.waved(150, 150, 3, 10, both=both)
        assert_sound(tile)
        assert_size(tile, 150, 150)
        assert_area(tile, area)
        assert_follows(tile, lambda x: (x - 75, 75 - 5 + 5 * np.sin(2 * pi * 3 * x / 150)), 0, 150)


def test_wave_tiles_meet() -> None:
    """The top edge of one tile, moved down by the tile's fall, is the bottom edge of the next, point for point."""
    tile = ornaments.waved(120, 90, 2, 8, both=True)
    half = len(tile.outline) // 2
    bottom, top = tile.outline[:half], tile.outline[half:][::-1]
    assert all(math.dist(b, (x, y - 82)) < 1e-9 for b, (x, y) in zip(bottom, top, strict=True))


@pytest.mark.parametrize(
    ("size", "words"),
    [
        (0, "is 0 mm, but must be more than 0"),
        (-5, "is -5 mm"),
        (math.nan, "is not a number"),
        (1e7, "no piece of clay"),
        (1e-6, "no piece of clay"),
    ],
)
def test_what_is_wrong_with_a_size(size: float, words: str) -> None:
    with pytest.raises(GeometryError, match=words) as error:
        outlines.circle(size)
    assert error.value.what.startswith("across ")


IMPOSSIBLE = [
    lambda: outlines.circle(0),
    lambda: outlines.circle(-5),
    lambda: outlines.circle(math.nan),
    lambda: outlines.circle(math.inf),
    lambda: outlines.circle(1e7),
    lambda: outlines.ellipse(10, 0),
    lambda: outlines.rectangle(100, 60, 31),
    lambda: outlines.rectangle(100, 60, -1),
    lambda: outlines.polygon(2, 100),
    lambda: outlines.polygon(6),
    lambda: outlines.polygon(6, 100, across_flats=90),
    lambda: outlines.polygon(5, across_flats=90),
    lambda: outlines.heart(-1),
    lambda: outlines.heart(10, 0),
    lambda: outlines.arch(80, 100, rise=41),
    lambda: ornaments.egg(50, 60, 0.9),
    lambda: ornaments.teardrop(60, 60),
    lambda: ornaments.leaf(60, 50),
    lambda: ornaments.scalloped(2, 60),
    lambda: ornaments.petals(5, 60, 30),
    lambda: ornaments.star(5, 60, 30),
    lambda: ornaments.star_ratio(5, 3, 60),
    lambda: ornaments.star_ratio(4, 2, 60),
    lambda: ornaments.shield(100, 60),
    lambda: ornaments.crescent(100, 80),
    lambda: ornaments.gable(100, 80, 80),
    lambda: ornaments.waved(100, 20, 3, 20),
    lambda: ornaments.waved(100, 20, 0, 5),
]


@pytest.mark.parametrize("call", IMPOSSIBLE)
def test_impossible_sizes_say_what_to_do(call: object) -> None:
    with pytest.raises(GeometryError) as error:
        call()  # type: ignore[operator]
    assert error.value.what.endswith(".")
    assert error.value.hint.endswith(".")
    assert "nan" not in error.value.what
