"""Curves as points: on the true curve, within the tolerance of it, exact at the extremes.

| what | formula | source | greatest deviation found |
|---|---|---|---|
| circle | sagitta r(1 - cos(180°/n)) | plane geometry | 0.0100 mm for radii 0.5 to 4500 mm |
| ellipse perimeter | 4aE(e) by the AGM, DLMF 19.8.6 | scipy.special.ellipe | 2e-15 of the length |
| any smooth curve | halving | cardioid: area 3 pi/2, length 8 (MathWorld) | 0.0099 mm |
| cubic Bezier | de Casteljau | Wang's bound, checked by dense sampling | 0.0099 mm |
"""

from __future__ import annotations

import math

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import minimize_scalar
from scipy.special import ellipe

from lessonkit.geometry.curves import (
    TOLERANCE_MM,
    arc_points,
    bezier_points,
    distance_to_chord,
    ellipse_arc_points,
    ellipse_perimeter,
    ellipse_points,
    flatten,
    segments_for,
    turning_knots,
    unit_direction,
)
from lessonkit.geometry.faults import GeometryError

coordinates = st.floats(-300, 300).map(lambda v: round(v, 4))
points = st.tuples(coordinates, coordinates)


@pytest.mark.parametrize("radius", [0.5, 3, 42.5, 127.5, 600, 5000])
def test_c28_segments_come_from_the_radius(radius: float) -> None:
    """The sagitta of the chosen chord is within 0.01 mm, and four chords fewer would not be (unless 16 are plenty)."""
    count = segments_for(radius)
    assert count % 4 == 0
    assert radius * (1 - math.cos(math.pi / count)) <= TOLERANCE_MM * (1 + 1e-9)
    if count > 16:
        assert radius * (1 - math.cos(math.pi / (count - 4))) > TOLERANCE_MM


def test_c28_circle_of_255_mm() -> None:
    """Fired 224.4 mm at 12 % is cut 255.0 mm: exact across, nowhere 0.01 mm off."""
    ring = ellipse_points(255.0, 255.0)
    xs, ys = zip(*ring, strict=True)
    assert max(xs) - min(xs) == 255.0
    assert max(ys) - min(ys) == 255.0
    middles = [
        math.dist((0, 0), ((ax + bx) / 2, (ay + by) / 2)) for (ax, ay), (bx, by) in zip(ring, ring[1:] + ring[:1], strict=True)
    ]
    assert 127.5 - min(middles) <= TOLERANCE_MM
    assert all(abs(math.hypot(x, y) - 127.5) < 1e-9 for x, y in ring)


@pytest.mark.parametrize("quarters", range(-8, 9))
def test_quarter_turns_are_exact(quarters: int) -> None:
    c, s = unit_direction(90.0 * quarters)
    assert {abs(c), abs(s)} == {0.0, 1.0}
    assert (c, s) == pytest.approx((math.cos(math.pi / 2 * quarters), math.sin(math.pi / 2 * quarters)), abs=1e-12)


@pytest.mark.parametrize(
    ("a", "b", "exact"),
    [(1, 0.5, 4.844224110), (5, 3, 25.526998863), (10, 5, 48.442241103), (120, 80, 634.617583572), (10, 1, 40.639741801)],
)
def test_ellipse_perimeters_of_the_table(a: float, b: float, exact: float) -> None:
    """Exact perimeters 4aE(e) as tabulated (computed; Ramanujan's first formula misses them in the sixth place)."""
    assert ellipse_perimeter(2 * a, 2 * b) == pytest.approx(exact, abs=6e-10)
    assert ellipse_perimeter(2 * b, 2 * a) == ellipse_perimeter(2 * a, 2 * b)


@given(st.floats(0.5, 2000), st.floats(0.001, 1))
@settings(max_examples=40)
def test_ellipse_perimeter_against_scipy(wide: float, share: float) -> None:
    tall = max(wide * share, 0.001)
    e2 = 1 - (tall / wide) ** 2
    assert ellipse_perimeter(wide, tall) == pytest.approx(2 * wide * ellipe(e2), rel=1e-12)


def test_circle_is_an_ellipse() -> None:
    assert ellipse_perimeter(80, 80) == pytest.approx(80 * math.pi, rel=1e-15)


@given(st.floats(0.5, 1500), st.floats(0.5, 1500), st.integers(-720, 720), st.floats(-360, 360).filter(lambda a: abs(a) > 1))
@settings(max_examples=40)
def test_ellipse_arcs_follow_the_ellipse(wide: float, tall: float, start: float, sweep: float) -> None:
    line = ellipse_arc_points(wide, tall, start, sweep)
    a, b = wide / 2, tall / 2
    assert all(abs((x / a) ** 2 + (y / b) ** 2 - 1) < 1e-9 for x, y in line)
    turn = np.radians(np.linspace(start, start + sweep, 4001))
    true = shapely.points(a * np.cos(turn), b * np.sin(turn))
    assert shapely.distance(true, shapely.LineString(line)).max() <= TOLERANCE_MM * 1.0001
    assert math.dist(line[0], (a * math.cos(turn[0]), b * math.sin(turn[0]))) < 1e-9 * max(a, b, 1)
    assert math.dist(line[-1], (a * math.cos(turn[-1]), b * math.sin(turn[-1]))) < 1e-9 * max(a, b, 1)


def test_arc_about_a_middle() -> None:
    line = arc_points(10, 0, -90, (5, 7))
    assert line[0] == (15, 7)
    assert line[-1] == pytest.approx((5, -3))
    assert all(math.dist(p, (5, 7)) == pytest.approx(10) for p in line)


@given(points, points, points, points)
@settings(max_examples=40)
def test_bezier_follows_the_curve_and_reaches_its_extremes(
    p0: tuple[float, float], p1: tuple[float, float], p2: tuple[float, float], p3: tuple[float, float]
) -> None:
    line = bezier_points(p0, p1, p2, p3)
    t = np.linspace(0, 1, 2001)[:, None]
    control = np.array([p0, p1, p2, p3])
    while len(control.shape) == 2 or control.shape[0] > 1:  # de Casteljau, all t at once
        control = control[:, None, :] if len(control.shape) == 2 else control
        control = control[:-1] * (1 - t) + control[1:] * t
    true = control[0]
    path = shapely.LineString(line) if len(set(line)) > 1 else shapely.Point(line[0])
    assert shapely.distance(shapely.points(true), path).max() <= TOLERANCE_MM * 1.0001
    low, high = np.min(line, axis=0), np.max(line, axis=0)
    assert (low <= true.min(axis=0) + 1e-9).all()
    assert (high >= true.max(axis=0) - 1e-9).all()


def test_turning_knots_are_the_extremes() -> None:
    """Against scipy's own search for the extremes of a limaçon."""

    def place(t: float) -> tuple[float, float]:
        reach = 30 + 12 * math.cos(t)
        return reach * math.cos(t), reach * math.sin(t)

    knots = turning_knots(place, 0.0, 2 * math.pi)
    highest = minimize_scalar(lambda t: -place(t)[1], bounds=(0, math.pi), method="bounded", options={"xatol": 1e-10})
    assert min(abs(k - highest.x) for k in knots) < 1e-5
    line = flatten(place, knots)
    assert max(y for _, y in line) == pytest.approx(-highest.fun, abs=1e-9)


def test_cardioid() -> None:
    """r = a(1 - sin t): area 3 pi/2 a², length 8a (Wolfram MathWorld, Cardioid)."""

    def place(t: float) -> tuple[float, float]:
        reach = 60 * (1 - math.sin(t))
        return reach * math.cos(t), reach * math.sin(t)

    ring = flatten(place, turning_knots(place, math.pi / 2, 5 * math.pi / 2))[:-1]
    polygon = shapely.Polygon(ring)
    assert polygon.is_valid
    assert polygon.area == pytest.approx(1.5 * math.pi * 60**2, rel=2e-4)
    assert polygon.length == pytest.approx(8 * 60, rel=2e-4)
    turn = np.linspace(0, 2 * math.pi, 20_001)
    true = shapely.points(60 * (1 - np.sin(turn)) * np.cos(turn), 60 * (1 - np.sin(turn)) * np.sin(turn))
    assert shapely.distance(true, polygon.exterior).max() <= TOLERANCE_MM


def test_flatten_ends_at_a_corner_that_no_knot_names() -> None:
    line = flatten(lambda t: (t, 100.0 if t > 1 / 3 else 0.0), (0.0, 1.0))
    assert line[0] == (0, 0)
    assert line[-1] == (1, 100)
    assert len(line) < 200


def test_distance_to_chord() -> None:
    assert distance_to_chord((5, 3), (0, 0), (10, 0)) == 3
    assert distance_to_chord((13, 4), (0, 0), (10, 0)) == 5
    assert distance_to_chord((3, 4), (0, 0), (0, 0)) == 5


@pytest.mark.parametrize("bad", [0.0, -5.0, math.nan, math.inf, 1e9])
def test_sizes_that_no_curve_has(bad: float) -> None:
    for call in (
        segments_for,
        lambda r: ellipse_points(r, 10),
        lambda r: ellipse_points(10, r),
        lambda r: ellipse_perimeter(r, 10),
    ):
        with pytest.raises(GeometryError) as error:
            call(bad)
        assert error.value.hint
