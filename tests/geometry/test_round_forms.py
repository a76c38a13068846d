"""Cylinder, oval cylinder and cone: worked examples, published developments, and the nets rolled up again in 3D.

| form | formula | source | greatest deviation found |
|---|---|---|---|
| cylinder wall | pi x (outside - t) | mean-diameter rule (from memory); worked examples | 0.05 mm (the examples' own rounding) |
| lapped wall | one thickness longer | common practice, no source | 0 |
| oval wall | 4aE(e) on the wall's middle | DLMF 19.8.6; worked example 396.8 mm | 0.0002 mm |
| cone | R = r2 s / (r2 - r1), 360° (r2 - r1) / s | Longfield, Sheet Metal Drafting, p. 82, 128 | 6e-6 (the table's rounding) |
| cone, rolled up | every corner back on the cone | numpy | 6e-14 mm |
| cone of nearly equal ends | the rectangle | limit | 0.0018 mm for 0.001 mm of taper |
"""

from __future__ import annotations

import math
from itertools import pairwise
from math import pi, radians

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from lessonkit.geometry.curves import TOLERANCE_MM, ellipse_perimeter
from lessonkit.geometry.developments import cone, cone_sector, cylinder, cylinder_wrap, oval_cylinder
from lessonkit.geometry.faults import GeometryError
from lessonkit.geometry.flat_part import FlatPart
from lessonkit.geometry.shape import Line, area_mm2, bounds
from tests.geometry.soundly import assert_sound

K12, K6 = 1 / 0.88, 1 / 0.94


def long(line: Line) -> float:
    return sum(math.dist(a, b) for a, b in pairwise(line))


def edges(part: FlatPart, letter: str) -> list[Line]:
    return [e.line for e in part.edges if e.letter == letter]


def wide(part: FlatPart) -> float:
    left, _, right, _ = bounds(part.shape)
    return right - left


# --- cylinder ---


def test_c34_strip_on_the_walls_middle() -> None:
    """Fired inside 80, tall 100, 12 %, wet slab 6: strip pi x (90.909 + 6) = 304.45, tall 113.64; fired outside 90.56."""
    strip = cylinder_wrap(inside_mm=80 * K12, tall_mm=100 * K12, thickness_mm=6)
    left, bottom, right, top = bounds(strip)
    assert right - left == pytest.approx(304.45, abs=0.005)
    assert top - bottom == pytest.approx(113.64, abs=0.005)
    fired_outside = (80 * K12 + 12) * 0.88
    assert fired_outside == pytest.approx(90.56, abs=0.005)
    same = cylinder_wrap(outside_mm=80 * K12 + 12, tall_mm=100 * K12, thickness_mm=6)
    assert same == strip


@pytest.mark.parametrize("given", [{}, {"outside_mm": 80.0, "inside_mm": 68.0}])
def test_c34_the_datum_must_be_stated(given: dict[str, float]) -> None:
    with pytest.raises(GeometryError, match="outside or inside"):
        cylinder_wrap(**given, tall_mm=100, thickness_mm=6)


@pytest.mark.parametrize(("outside", "thickness", "strip"), [(80, 6, 232.478), (100, 6.35, 294.210)])
def test_blank_length_of_the_table(outside: float, thickness: float, strip: float) -> None:
    """pi x mean diameter (mean-diameter rule, from memory)."""
    assert wide(cylinder(across_mm=outside, tall_mm=100, thickness_mm=thickness)[0]) == pytest.approx(strip, abs=5e-4)


def test_pot_of_fired_80_by_95() -> None:
    """Worked: 12 %, t 6: base disc 90.9, strip 266.7 x 102 on it; if the wall goes round the base, disc 78.9, strip 108."""
    wall, base = cylinder(across_mm=80 * K12, tall_mm=95 * K12, thickness_mm=6)
    assert (wall.size("long"), wall.size("tall"), base.size("across")) == (
        pytest.approx(266.7, abs=0.05),
        pytest.approx(102, abs=0.05),
        pytest.approx(90.9, abs=0.05),
    )
    wall, base = cylinder(across_mm=80 * K12, tall_mm=95 * K12, thickness_mm=6, base="inside")
    assert (wall.size("tall"), base.size("across")) == (pytest.approx(108, abs=0.05), pytest.approx(78.9, abs=0.05))
    assert cylinder(across_mm=80 * K12 - 12, tall_mm=95 * K12, thickness_mm=6, measured="inside")[0].size(
        "long"
    ) == pytest.approx(266.75, abs=0.005)


def test_lapped_seam() -> None:
    """One edge bevelled inside, the other outside, one thickness longer (common practice, no source)."""
    butt, lapped = (cylinder(across_mm=90, tall_mm=100, thickness_mm=6, joint=joint)[0] for joint in ("butt", "lapped"))
    assert wide(lapped) - wide(butt) == pytest.approx(6)
    ends = [e for e in lapped.edges if e.letter == "A"]
    assert sorted(e.face for e in ends) == ["inside", "outside"]
    assert {e.lap_mm for e in ends} == {6}
    assert {e.bevel_deg for e in ends} == {45}  # over the thickness, 45 degrees reach just the lap
    assert all(e.bevel_deg == 0 and e.lap_mm == 0 for e in butt.edges)


@given(
    st.floats(20, 400),
    st.floats(20, 400),
    st.floats(2, 9),
    st.sampled_from(["under", "inside", "none"]),
    st.sampled_from(["butt", "lapped"]),
)
@settings(max_examples=40, deadline=None)
def test_rolled_cylinder(across: float, tall: float, thickness: float, base: str, joint: str) -> None:
    """Rolled up, the wall's middle is the circle half a thickness in; foot and base meet on lines of the same length."""
    parts = cylinder(across_mm=across, tall_mm=tall, thickness_mm=thickness, base=base, joint=joint)  # type: ignore[arg-type]
    wall = parts[0]
    for part in parts:
        assert_sound(part.shape)
    around = wide(wall) - (thickness if joint == "lapped" else 0)
    assert around / (2 * pi) == pytest.approx((across - thickness) / 2, rel=1e-12)
    stands = thickness if base == "under" else 0
    assert bounds(wall.shape)[3] * 2 + stands == pytest.approx(tall)
    assert [x for mark in wall.marks for x, _ in mark.line[:1]] == pytest.approx([-around / 4, 0, around / 4])
    if base == "under":
        assert long(edges(wall, "B")[0]) == pytest.approx(long(edges(parts[1], "B")[0]), rel=1e-3)
        assert wide(parts[1]) == pytest.approx(across)
    elif base == "inside":
        assert wide(parts[1]) == pytest.approx(across - 2 * thickness)
    else:
        assert len(parts) == 1
        assert edges(wall, "B") == []


# --- oval ---


def test_oval_of_fired_140_by_90() -> None:
    """Worked: middle axes 153.1 x 96.3, perimeter 396.8 (the quick average formula gives 391.7)."""
    wall, base = oval_cylinder(wide_mm=140 * K12, deep_mm=90 * K12, tall_mm=100 * K12, thickness_mm=6)
    assert wall.size("long") == pytest.approx(396.8, abs=0.05)
    assert bounds(base.shape)[2:] == (pytest.approx(70 * K12), pytest.approx(45 * K12))
    foot = edges(base, "B")[0]
    assert max(x for x, _ in foot) * 2 == pytest.approx(153.1, abs=0.05)
    assert max(y for _, y in foot) * 2 == pytest.approx(96.3, abs=0.05)
    assert long(foot) == pytest.approx(wall.size("long"), rel=1e-3)


@pytest.mark.parametrize(("wide_mm", "deep_mm"), [(140, 90), (160, 80), (140, 70), (120, 110)])
def test_an_even_oval_wall_is_hardly_shorter(wide_mm: float, deep_mm: float) -> None:
    """A wall of the very same thickness is as long as the parallel curve half of it in, pi t less than the outside (Steiner)."""
    wall = oval_cylinder(wide_mm=wide_mm, deep_mm=deep_mm, tall_mm=100, thickness_mm=6)[0]
    even = ellipse_perimeter(wide_mm, deep_mm) - pi * 6
    assert 0 <= wall.size("long") / even - 1 < 0.002


def test_round_oval_is_a_cylinder() -> None:
    for joint in ("butt", "lapped"):
        oval = oval_cylinder(wide_mm=90, deep_mm=90, tall_mm=80, thickness_mm=6, measured="inside", joint=joint)
        pot = cylinder(across_mm=90, tall_mm=80, thickness_mm=6, measured="inside", joint=joint)
        assert oval[0].size("long") == pytest.approx(pot[0].size("long"), rel=1e-14)


# --- cone ---

# Longfield, Sheet Metal Drafting, p. 82 and 128, in inches as they stand, and computed rows: d1, d2, h, s, R, r, angle, area
FRUSTA = [
    (5, 8, 4, 4.27200, 11.39200, 7.12000, 126.404, 87.236),
    (3, 6, 3, 3.35410, 6.70820, 3.35410, 160.997, 47.4175),
    (4, 8, 4, 4.47214, 8.94427, 4.47214, 160.997, 84.298),
    (60, 100, 120, 121.65525, 304.13813, 182.48288, 59.1836, 30575.30),
    (70, 90, 100, 100.49876, 452.24440, 351.74565, 35.8213, 25258.09),
]


@pytest.mark.parametrize(("d1", "d2", "h", "s", "outer", "inner", "angle", "area"), FRUSTA)
def test_frusta_of_the_table(
    d1: float, d2: float, h: float, s: float, outer: float, inner: float, angle: float, area: float
) -> None:
    for bottom, top in ((d1, d2), (d2, d1)):
        sector = cone_sector(bottom_mm=bottom, top_mm=top, tall_mm=h)
        assert sector.slant_mm == pytest.approx(s, abs=6e-6)
        assert sector.outer_mm == pytest.approx(outer, abs=6e-6)
        assert sector.inner_mm == pytest.approx(inner, abs=6e-6)
        assert sector.angle_deg == pytest.approx(angle, abs=6e-4)
        (wall,) = cone(bottom_mm=bottom, top_mm=top, tall_mm=h, thickness_mm=0, base="none")
        assert area_mm2(wall.shape) == pytest.approx(area, rel=3e-3 if h < 10 else 1e-4)


def test_c35_cone_radii_scale_and_the_angle_does_not() -> None:
    """Fired 90 / 70 / 100, 12 %, thickness 0: slant 100.499; radii 513.91 and 399.71 as cut; angle 35.82°."""
    fired = cone_sector(bottom_mm=70, top_mm=90, tall_mm=100)
    cut = cone_sector(bottom_mm=70 * K12, top_mm=90 * K12, tall_mm=100 * K12)
    assert fired.slant_mm == pytest.approx(100.499, abs=5e-4)
    assert (cut.outer_mm, cut.inner_mm) == (pytest.approx(513.91, abs=0.005), pytest.approx(399.71, abs=0.005))
    assert fired.angle_deg == pytest.approx(35.82, abs=0.005)
    assert cut.angle_deg == pytest.approx(fired.angle_deg, rel=1e-12)


def test_c35_equal_ends_are_a_rectangle() -> None:
    """321.3 x 113.64 mm, no division by zero; top 90.001 is finite and within 0.1 mm of it; 1e-12 and 1e-6 of taper too."""
    (flat,) = cone(bottom_mm=90 * K12, top_mm=90 * K12, tall_mm=100 * K12, thickness_mm=0, base="none")
    assert len(flat.shape.outline) == 4 or len(flat.shape.outline) == 6
    assert bounds(flat.shape) == (
        pytest.approx(-321.3 / 2, abs=0.03),
        pytest.approx(-56.818, abs=5e-4),
        pytest.approx(321.3 / 2, abs=0.03),
        pytest.approx(56.818, abs=5e-4),
    )
    for top in (90.001, 89.999, 90 + 1e-6, 90 + 1e-12):
        (near,) = cone(bottom_mm=90 * K12, top_mm=top * K12, tall_mm=100 * K12, thickness_mm=0, base="none")
        assert_sound(near.shape)
        assert bounds(near.shape) == pytest.approx(bounds(flat.shape), abs=0.1)


def test_c35_equal_and_nearly_equal_ends_are_measured_as_a_strip() -> None:
    """Their radii would be infinite, or kilometres; a cone whose arc can be set out keeps them."""
    for top in (90.0, 90 + 1e-9, 90.001, 89.999):
        (wall,) = cone(bottom_mm=90 * K12, top_mm=top * K12, tall_mm=100 * K12, thickness_mm=0, base="none")
        assert dict(wall.sizes) == {"long": pytest.approx(321.3, abs=0.03), "slant": pytest.approx(113.64, abs=0.005)}
    _, base = cone(bottom_mm=90 * K12, top_mm=90.001 * K12, tall_mm=100 * K12, thickness_mm=6)
    assert [(edge.bevel_deg, edge.face) for edge in base.edges] == [(0.0, "")]
    (wall,) = cone(bottom_mm=90 * K12, top_mm=92 * K12, tall_mm=100 * K12, thickness_mm=0, base="none")
    assert [name for name, _ in wall.sizes] == ["outer", "inner", "angle_deg", "slant"]


def test_cone_of_fired_100_60_110() -> None:
    """Worked: 12 %, t 6: slant 127.0, R 300.9, inner 173.8, angle 64.4°; the sheet needed is 321 x 154 mm."""
    wall, _ = cone(bottom_mm=60 * K12, top_mm=100 * K12, tall_mm=110 * K12, thickness_mm=6, base="inside")
    assert wall.size("slant") == pytest.approx(127.05, abs=0.005)
    assert wall.size("outer") == pytest.approx(300.9, abs=0.05)
    assert wall.size("inner") == pytest.approx(173.8, abs=0.05)
    assert wall.size("angle_deg") == pytest.approx(64.4, abs=0.05)
    left, bottom, right, top = bounds(wall.shape)
    assert (right - left, top - bottom) == (pytest.approx(321, abs=0.5), pytest.approx(154, abs=0.5))


def rolled_up(line: Line, part: FlatPart, bottom: float, top: float) -> np.ndarray:
    """Points of a flat cone wall put back on the cone: about the tip, which is found from the ends of the foot and the rim."""
    foot = edges(part, "B")[0]
    run, slant = (bottom - top) / 2, part.size("slant")
    sine = abs(run) / slant
    to_tip = bottom / 2 / sine
    middle = foot[len(foot) // 2]
    tip = np.array([middle[0], middle[1] + math.copysign(to_tip, run)])
    way = np.array(line) - tip
    reach = np.hypot(way[:, 0], way[:, 1])
    turn = np.arctan2(way[:, 0], -math.copysign(1, run) * way[:, 1])
    height = (to_tip - reach) * math.sqrt(1 - sine**2) * math.copysign(1, run)
    return np.column_stack([reach * sine * np.sin(turn / sine), reach * sine * np.cos(turn / sine), height])


@given(st.floats(30, 300), st.floats(30, 300), st.floats(30, 300), st.floats(2, 9))
@settings(max_examples=40, deadline=None)
def test_cone_rolled_up_is_the_cone(bottom: float, top: float, tall: float, thickness: float) -> None:
    """In 3D: the foot is the middle's circle at height 0, the rim that at the top, the two ends of the wall coincide."""
    if abs(bottom - top) < 1:
        top += 2
    wall, base = cone(bottom_mm=bottom, top_mm=top, tall_mm=tall, thickness_mm=thickness, base="inside")
    assert_sound(wall.shape)
    assert_sound(base.shape)
    low, high = bottom - thickness, top - thickness
    foot = rolled_up(edges(wall, "B")[0], wall, low, high)
    assert np.abs(np.hypot(foot[:, 0], foot[:, 1]) - low / 2).max() < 0.001
    assert np.abs(foot[:, 2]).max() < 0.001
    left, right = (rolled_up(line, wall, low, high) for line in edges(wall, "A"))
    assert np.abs(left - right).max() < 0.001
    assert left[1][2] == pytest.approx(tall, abs=0.001)
    assert math.hypot(left[1][0], left[1][1]) == pytest.approx(high / 2, abs=0.001)
    whole = rolled_up(wall.shape.outline, wall, low, high)
    expected = low / 2 + whole[:, 2] / tall * (high - low) / 2
    assert np.abs(np.hypot(whole[:, 0], whole[:, 1]) - expected).max() < 0.001
    assert area_mm2(wall.shape) == pytest.approx(
        pi * (low + high) / 2 * wall.size("slant"), abs=long(wall.shape.outline) * TOLERANCE_MM
    )


@pytest.mark.parametrize(("bottom", "top"), [(60, 100), (100, 60), (80, 80)])
@pytest.mark.parametrize("base", ["under", "inside"])
def test_base_of_a_cone_carries_its_slope(bottom: float, top: float, base: str) -> None:
    """The larger face of the base is where the cone says, its bevel the lean; the wall starts where the base ends."""
    wall, disc = cone(bottom_mm=bottom, top_mm=top, tall_mm=110, thickness_mm=6, base=base)  # type: ignore[arg-type]
    at_six = bottom + (top - bottom) * 6 / 110
    inside = 12 if base == "inside" else 0
    assert disc.size("across") == pytest.approx(max(bottom, at_six) - inside)
    (edge,) = disc.edges
    assert edge.bevel_deg == pytest.approx(abs(math.degrees(math.atan((top - bottom) / 2 / 110))))
    assert edge.face == ("outside" if top > bottom else "inside" if top < bottom else "")
    if base == "under":
        assert long(edges(wall, "B")[0]) == pytest.approx(pi * (at_six - 6), rel=1e-4)
        assert long(edge.line) == pytest.approx(pi * (at_six - 6), rel=1e-3)


def test_lapped_cone_is_one_thickness_wider() -> None:
    """The lap is a strip of one thickness along the whole slant, half of it at each end."""
    for bottom, top in ((60, 100), (100, 60), (200, 20)):
        butt, lapped = (
            cone(bottom_mm=bottom, top_mm=top, tall_mm=60, thickness_mm=6, base="none", joint=joint)[0]
            for joint in ("butt", "lapped")
        )
        assert_sound(lapped.shape)
        assert area_mm2(lapped.shape) - area_mm2(butt.shape) == pytest.approx(6 * butt.size("slant"), rel=1e-9)
        assert [long(line) for line in edges(lapped, "A")] == [pytest.approx(butt.size("slant"))] * 2


def test_wide_cone_is_as_wide_as_its_arcs() -> None:
    """A layout of more than half a turn is widest at a quarter turn from its middle: 2 R."""
    (wall,) = cone(bottom_mm=300, top_mm=50, tall_mm=60, thickness_mm=0, base="none")
    assert wall.size("angle_deg") > 180
    assert wide(wall) == pytest.approx(2 * wall.size("outer"), abs=1e-9)


def test_forty_five_degree_point() -> None:
    """A cone with a 90° point lays out to 0.7071 x 360 = 254.6°, one with 60° to a half circle (common practice)."""
    blunt = cone_sector(bottom_mm=100, top_mm=0.001, tall_mm=50)
    assert blunt.angle_deg == pytest.approx(254.558, abs=0.002)
    sharp = cone_sector(bottom_mm=100, top_mm=0.001, tall_mm=100 * math.cos(radians(30)))
    assert sharp.angle_deg == pytest.approx(180, abs=0.002)


IMPOSSIBLE = [
    lambda: cylinder(across_mm=12, tall_mm=50, thickness_mm=6),
    lambda: cylinder(across_mm=80, tall_mm=6, thickness_mm=6),
    lambda: cylinder(across_mm=80, tall_mm=60, thickness_mm=0),
    lambda: cylinder(across_mm=math.nan, tall_mm=60, thickness_mm=6),
    lambda: oval_cylinder(wide_mm=80, deep_mm=11, tall_mm=60, thickness_mm=6),
    lambda: cone(bottom_mm=10, top_mm=80, tall_mm=60, thickness_mm=6, base="inside"),
    lambda: cone(bottom_mm=80, top_mm=80, tall_mm=5, thickness_mm=6),
    lambda: cone(bottom_mm=80, top_mm=60, tall_mm=-60, thickness_mm=6),
    lambda: cone(bottom_mm=400, top_mm=30, tall_mm=0.01, thickness_mm=6, base="none", joint="lapped"),
]


@pytest.mark.parametrize("call", IMPOSSIBLE)
def test_impossible_pots(call: object) -> None:
    with pytest.raises(GeometryError) as error:
        call()  # type: ignore[operator]
    assert error.value.hint
