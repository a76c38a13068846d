"""Boxes: worked sizes, the published face angles and bevels, and the slabs set up again as solids in 3D.

| form | formula | source | greatest deviation found |
|---|---|---|---|
| box | mitred walls full, butted sides less 2t | worked example | 0.04 mm (the example's own rounding) |
| box set up | corners of neighbouring slabs coincide | numpy | 3e-14 mm |
| leaning sides | atan(sin L tan A), asin(cos L sin A), A = 180°/n | computed from face normals | 5e-4 degrees (rounding) |
| leaning box set up | mitred faces on the plane between neighbours, foot and rim level | numpy | 1e-13 mm |
| gabled roof | half x tan p + t / cos p = height above the eaves | solid set up with numpy | 1e-13 mm |
"""

from __future__ import annotations

import math
from math import cos, degrees, pi, radians, sin, tan

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from lessonkit.geometry.boxes import box, edge_bevel_deg, face_angle_deg, gable_box, many_sided_box
from lessonkit.geometry.faults import GeometryError
from lessonkit.geometry.flat_part import FlatPart
from lessonkit.geometry.shape import bounds
from tests.geometry.soundly import assert_sound, made

K12 = 1 / 0.88


def named(parts: tuple[FlatPart, ...]) -> dict[str, FlatPart]:
    return {part.name: part for part in parts}


def size(part: FlatPart) -> tuple[float, float]:
    left, bottom, right, top = bounds(part.shape)
    return right - left, top - bottom


def test_box_of_fired_100_100_80() -> None:
    """Worked: 12 %, t 6: outside 113.6 x 90.9. Mitred, all four 113.6; butted, two 113.6 and two 101.6; 84.9 high on the base."""
    sizes = {"wide_mm": 100 * K12, "deep_mm": 100 * K12, "tall_mm": 80 * K12, "thickness_mm": 6.0}
    mitred = named(box(**sizes))
    for name in ("front", "right", "back", "left"):
        assert size(mitred[name]) == (pytest.approx(113.6, abs=0.05), pytest.approx(84.9, abs=0.05))
        assert [e.bevel_deg for e in mitred[name].edges] == [45, 45, 0]
        assert [e.face for e in mitred[name].edges] == ["inside", "inside", ""]
    butted = named(box(**sizes, corner="butt"))
    assert [size(butted[n])[0] for n in ("front", "back")] == [pytest.approx(113.6, abs=0.05)] * 2
    assert [size(butted[n])[0] for n in ("right", "left")] == [pytest.approx(101.6, abs=0.05)] * 2
    assert size(butted["base"]) == (pytest.approx(113.6, abs=0.05), pytest.approx(113.6, abs=0.05))


def test_lid_gap() -> None:
    """Worked: a gap of 1 mm fired on each side is 1.14 mm as cut."""
    parts = named(box(wide_mm=120, deep_mm=90, tall_mm=60, thickness_mm=6, lid=True, lid_gap_mm=1 * K12, flange_mm=9))
    assert size(parts["lid"]) == (120, 90)
    assert parts["flange long"].size("wide") == pytest.approx(120 - 12 - 2 * 1.14, abs=0.01)
    assert parts["flange short"].size("wide") == pytest.approx(90 - 12 - 2 * 1.14 - 12, abs=0.01)
    assert size(parts["flange long"])[1] == 9
    assert parts["flange long"].count == parts["flange short"].count == 2
    (place,) = parts["lid"].marks
    xs, ys = zip(*place.line, strict=True)
    assert (max(xs) - min(xs), max(ys) - min(ys)) == (pytest.approx(120 - 12 - 2 * K12), pytest.approx(90 - 12 - 2 * K12))


def corners_in_place(
    parts: dict[str, FlatPart], wide: float, deep: float, thickness: float, lift: float
) -> dict[str, dict[str, np.ndarray]]:
    """Each wall's four outer corners (foot and rim at both ends) and its four inner ones after the bevel, in 3D."""
    frames = {
        "front": (np.array([0.0, -deep / 2]), np.array([1.0, 0.0])),
        "right": (np.array([wide / 2, 0.0]), np.array([0.0, 1.0])),
        "back": (np.array([0.0, deep / 2]), np.array([-1.0, 0.0])),
        "left": (np.array([-wide / 2, 0.0]), np.array([0.0, -1.0])),
    }
    placed = {}
    for name, (middle, along) in frames.items():
        part = parts[name]
        left, bottom, right, top = bounds(part.shape)
        inward = np.array([-along[1], along[0]])
        ends = {}
        for end, x in (("left", left), ("right", right)):
            edge = next(e for e in part.edges if e.line[0][0] == x and e.line[1][0] == x)
            inner_x = x - math.copysign(thickness * tan(radians(edge.bevel_deg)), x)
            rows = [(*(middle + along * x), z + lift - bottom) for z in (bottom, top)]
            rows += [(*(middle + along * inner_x + inward * thickness), z + lift - bottom) for z in (bottom, top)]
            ends[end + edge.letter] = np.array(rows)
        placed[name] = ends
    return placed


@given(st.floats(30, 300), st.floats(30, 300), st.floats(30, 200), st.floats(3, 9), st.sampled_from(["under", "inside"]))
@settings(max_examples=40, deadline=None)
def test_mitred_box_set_up(wide: float, deep: float, tall: float, thickness: float, base: str) -> None:
    """Where two walls meet by letter, their outer and inner corners coincide; the whole is as large as asked."""
    parts = named(box(wide_mm=wide, deep_mm=deep, tall_mm=tall, thickness_mm=thickness, base=base))  # type: ignore[arg-type]
    for part in parts.values():
        assert_sound(part.shape)
    lift = thickness if base == "under" else 0.0
    ends = [
        (key[-1], rows)
        for placed in corners_in_place(parts, wide, deep, thickness, lift).values()
        for key, rows in placed.items()
    ]
    for letter in "ABCD":
        one, other = (rows for key, rows in ends if key == letter)
        assert np.abs(one - other).max() < 1e-9
    everything = np.concatenate([rows for _, rows in ends])
    assert np.ptp(everything[:, :2], axis=0) == pytest.approx([wide, deep])
    assert everything[:, 2].max() == pytest.approx(tall)


@given(st.floats(30, 300), st.floats(30, 300), st.floats(30, 200), st.floats(3, 9))
@settings(max_examples=30, deadline=None)
def test_butted_box_set_up(wide: float, deep: float, tall: float, thickness: float) -> None:
    """The sides fit between front and back with nothing over; each foot is as long as its edge of the base, less the butts."""
    parts = named(box(wide_mm=wide, deep_mm=deep, tall_mm=tall, thickness_mm=thickness, corner="butt"))
    assert size(parts["right"])[0] + 2 * thickness == pytest.approx(deep)
    assert size(parts["front"])[0] == pytest.approx(wide)
    feet = {
        e.letter: math.dist(*e.line)
        for name in ("front", "right", "back", "left")
        for e in parts[name].edges
        if e.letter in "EFGH"
    }
    edges = {e.letter: math.dist(*e.line) for e in parts["base"].edges}
    assert set(feet) == set(edges) == set("EFGH")
    assert [edges[k] - feet[k] for k in "EFGH"] == [pytest.approx(v, abs=1e-9) for v in (0, 2 * thickness, 0, 2 * thickness)]


def test_inside_sizes_are_the_hollow() -> None:
    parts = named(box(wide_mm=100, deep_mm=80, tall_mm=60, thickness_mm=6, measured="inside", base="inside"))
    assert size(parts["front"]) == (112, 66)
    assert size(parts["base"]) == (100, 80)


# --- many-sided: computed table, checked there with face normals: sides, lean, face, bevel, dihedral ---

LEANING = [
    (4, 0, 0, 45, 90),
    (4, 10, 9.851, 44.136, 91.73),
    (4, 20, 18.882, 41.641, 96.72),
    (6, 15, 8.499, 28.879, 122.242),
    (8, 20, 8.063, 21.076, 137.848),
    (12, 10, 2.664, 14.767, 150.466),
]


@pytest.mark.parametrize(("sides", "lean", "face", "bevel", "dihedral"), LEANING)
def test_face_angles_and_bevels_of_the_table(sides: int, lean: float, face: float, bevel: float, dihedral: float) -> None:
    assert face_angle_deg(sides, lean) == pytest.approx(face, abs=6e-4)
    assert edge_bevel_deg(sides, lean) == pytest.approx(bevel, abs=6e-4)
    assert 180 - 2 * edge_bevel_deg(sides, lean) == pytest.approx(dihedral, abs=6e-3)
    normals = [
        np.array([cos(radians(lean)) * cos(a), cos(radians(lean)) * sin(a), -sin(radians(lean))]) for a in (0, 2 * pi / sides)
    ]
    assert 180 - degrees(math.acos(normals[0] @ normals[1])) == pytest.approx(dihedral, abs=6e-3)
    side = many_sided_box(sides=sides, across_mm=200, tall_mm=80, thickness_mm=6, lean_deg=lean)[0]
    (lx, ly), (_, _), (rx, ry), _ = side.shape.outline[1], side.shape.outline[0], side.shape.outline[2], side.shape.outline[3]
    assert degrees(math.atan2(rx - lx, ry - ly)) == pytest.approx(face, abs=6e-4)


@pytest.mark.parametrize("sides", [3, 4, 5, 6, 7, 8, 9, 10, 12])
def test_upright_sides_are_mitred_by_180_over_n(sides: int) -> None:
    """Mitre from the square end = 180/n (CRC Standard Mathematical Tables, 5.3); a hexagon's edges 30 degrees each."""
    side, base = many_sided_box(sides=sides, across_mm=120, tall_mm=80, thickness_mm=6)
    assert side.size("bevel_deg") == pytest.approx(180 / sides)
    assert side.count == sides
    assert side.size("bottom") == pytest.approx(120 * sin(pi / sides))
    assert {round(math.dist(*e.line), 9) for e in base.edges} == {round(side.size("bottom"), 9)}


def solid_corners(side: FlatPart, thickness: float) -> tuple[np.ndarray, np.ndarray]:
    """The slab's outer and inner faces after all four bevels: corners (x, up the slope), outer first; from the drawing alone."""
    corners = np.array(side.shape.outline)
    faces = []
    for depth, face in ((0.0, "outside"), (thickness, "inside")):
        lines = []
        for i in range(4):
            a, b = corners[i], corners[(i + 1) % 4]
            along = (b - a) / np.hypot(*(b - a))
            edge = next((e for e in side.edges if {e.line[0], e.line[-1]} == {tuple(a), tuple(b)}), None)
            shaved = edge is not None and edge.face == face
            cut = thickness * tan(radians(edge.bevel_deg)) if edge and shaved else 0.0
            lines.append((a + np.array([-along[1], along[0]]) * cut, along))
        points = []
        for (p, d), (q, e) in zip(lines, lines[1:] + lines[:1], strict=True):
            points.append(p + d * np.linalg.solve(np.column_stack([d, -e]), q - p)[0])
        faces.append(np.array([[x, y, depth] for x, y in points]))
    return faces[0], faces[1]


@given(
    st.integers(3, 12),
    st.floats(120, 400),
    st.floats(30, 120),
    st.floats(3, 8),
    st.floats(-25, 40),
    st.sampled_from(["under", "inside"]),
)
@settings(max_examples=60, deadline=None)
def test_leaning_box_set_up(sides: int, across: float, tall: float, thickness: float, lean: float, base: str) -> None:
    """Mitred faces lie on the plane between neighbours, foot and rim level, outside as large as asked."""
    sizes = {"across_mm": across, "tall_mm": tall, "thickness_mm": thickness, "lean_deg": lean}
    parts = made(lambda: many_sided_box(sides=sides, **sizes, base=base))  # type: ignore[arg-type]
    if parts is None:
        return
    side, plate = parts
    assert_sound(side.shape)
    assert_sound(plate.shape)
    start = thickness if base == "under" else 0.0
    tilt, apothem = radians(lean), across / 2 * cos(pi / sides)
    outer, inner = solid_corners(side, thickness)
    foot_y = bounds(side.shape)[1] + (thickness * tan(tilt) if tilt > 0 else 0.0)  # where the outer face begins

    def placed(rows: np.ndarray) -> np.ndarray:
        x, v, w = rows[:, 0], rows[:, 1] - foot_y, rows[:, 2]
        out = apothem + start * tan(tilt) + v * sin(tilt) - w * cos(tilt)
        return np.column_stack([out, x, start + v * cos(tilt) + w * sin(tilt)])

    for rows in (placed(outer), placed(inner)):
        assert np.abs(np.abs(rows[:, 1]) - rows[:, 0] * tan(pi / sides)).max() < 0.001
        assert np.abs(np.sort(rows[:, 2]) - [start, start, tall, tall]).max() < 0.001
    foot = placed(outer)[placed(outer)[:, 2].argsort()[:2], 0]
    assert foot / cos(pi / sides) * 2 == pytest.approx(across + 2 * start * tan(tilt) / cos(pi / sides))
    assert side.size("bottom") == pytest.approx(2 * (apothem + start * tan(tilt)) * tan(pi / sides))
    assert side.size("top") == pytest.approx(2 * (apothem + tall * tan(tilt)) * tan(pi / sides))
    # the base's larger face meets the sides: outside under them, inside between them
    level = thickness if tilt > 0 else 0.0
    reach = apothem + level * tan(tilt) - (thickness / cos(tilt) if base == "inside" else 0.0)
    assert plate.size("flats") == pytest.approx(2 * reach)


def test_across_flats_of_a_hexagon() -> None:
    one = many_sided_box(sides=6, across_flats_mm=100, tall_mm=60, thickness_mm=6)
    two = many_sided_box(sides=6, across_mm=100 / cos(pi / 6), tall_mm=60, thickness_mm=6)
    assert one[0].size("bottom") == pytest.approx(two[0].size("bottom"))
    assert one[1].size("flats") == pytest.approx(100)


# --- gabled ---


@given(st.floats(60, 200), st.floats(60, 200), st.floats(40, 120), st.floats(20, 100), st.floats(3, 8), st.floats(0, 15))
@settings(max_examples=40, deadline=None)
def test_gabled_roof_set_up(wide: float, deep: float, eaves: float, above: float, thickness: float, overhang: float) -> None:
    """The ridge is as high as asked, both slabs meet on the middle plane, their undersides rest on the walls and the gables."""
    tall = eaves + above
    parts = named(
        gable_box(wide_mm=wide, deep_mm=deep, tall_mm=tall, eaves_mm=eaves, thickness_mm=thickness, overhang_mm=overhang)
    )
    for part in parts.values():
        assert_sound(part.shape)
    roof, gable = parts["roof"], parts["gable"]
    pitch = radians(roof.size("pitch_deg"))
    slope = size(roof)[1]
    ridge = next(e for e in roof.edges if e.letter == "J")
    down = np.array([cos(pitch), -sin(pitch)])
    into = np.array([-sin(pitch), -cos(pitch)])
    top = np.array([0.0, tall])
    under_ridge = top + down * thickness * tan(radians(ridge.bevel_deg)) + into * thickness
    assert ridge.face == "inside"
    assert under_ridge[0] == pytest.approx(0, abs=1e-9)  # the mitred faces of both slabs lie on the middle plane
    drip = top + down * slope + into * thickness
    at_eaves = drip - down * overhang
    assert at_eaves == pytest.approx([wide / 2, eaves], abs=1e-6)
    assert under_ridge[1] == pytest.approx(eaves + size(gable)[1], abs=1e-6)
    assert size(gable)[0] == pytest.approx(wide)
    gabled = [math.dist(*e.line) for part in (roof, gable) for e in part.edges if e.letter == "K"]
    assert gabled == [pytest.approx(math.dist(under_ridge, at_eaves), abs=1e-6)] * 4
    assert roof.count == gable.count == parts["flange"].count == 2
    assert size(roof)[0] == pytest.approx(deep + 2 * overhang)


IMPOSSIBLE = [
    lambda: box(wide_mm=12, deep_mm=50, tall_mm=50, thickness_mm=6),
    lambda: box(wide_mm=50, deep_mm=50, tall_mm=6, thickness_mm=6),
    lambda: box(wide_mm=50, deep_mm=math.inf, tall_mm=60, thickness_mm=6),
    lambda: box(wide_mm=30, deep_mm=50, tall_mm=60, thickness_mm=6, lid=True, lid_gap_mm=4),
    lambda: box(wide_mm=30, deep_mm=50, tall_mm=60, thickness_mm=6, lid=True, lid_gap_mm=-1),
    lambda: many_sided_box(sides=2, across_mm=100, tall_mm=50, thickness_mm=6),
    lambda: many_sided_box(sides=6, tall_mm=50, thickness_mm=6),
    lambda: many_sided_box(sides=6, across_mm=100, tall_mm=50, thickness_mm=6, lean_deg=80),
    lambda: many_sided_box(sides=6, across_mm=100, tall_mm=100, thickness_mm=6, lean_deg=-30),
    lambda: many_sided_box(sides=6, across_mm=100, tall_mm=50, thickness_mm=6, lean_deg=math.nan),
    lambda: gable_box(wide_mm=90, deep_mm=90, tall_mm=65, eaves_mm=60, thickness_mm=6),
    lambda: gable_box(wide_mm=90, deep_mm=20, tall_mm=100, eaves_mm=60, thickness_mm=6),
]


@pytest.mark.parametrize("call", IMPOSSIBLE)
def test_impossible_boxes(call: object) -> None:
    with pytest.raises(GeometryError) as error:
        call()  # type: ignore[operator]
    assert error.value.hint
