"""Every outline, opening, repeat and combination, from the words of a lesson to a kit: as large as asked, fired.

The clay shrinks 12 %, so that a fired 160 is cut 160 / 0.88. Sizes to 0.01 mm; numbers worked by hand unless a line says otherwise.
"""

from __future__ import annotations

from math import atan2, cos, degrees, hypot, pi, sin, sqrt

import pytest

from lessonkit.geometry.shape import Shape, area_mm2, bounds, centroid, is_valid
from lessonkit.lesson.shapes import SHAPES
from lessonkit.pieces.model import Part
from tests.shapes_for_tests import LEFT, errors, fired, fired_bounds, flat, lesson, part_of

# --- outlines ---

TURN = 2 * pi / 5
OUTLINES: dict[str, tuple[str, dict[str, float]]] = {
    "circle": ("{across: 160 mm}", {"across": 160}),
    "ellipse": ("{wide: 160 mm, tall: 120 mm}", {"wide": 160, "tall": 120}),
    "rectangle": ("{wide: 160 mm, tall: 120 mm, corner: 10 mm}", {"wide": 160, "tall": 120}),
    "polygon": ("{sides: 5, across: 160 mm}", {"across": 160, "wide": 160 * sin(TURN), "tall": 80 + 80 * cos(TURN / 2)}),
    "polygon between sides": ("{sides: 6, flats: 90 mm}", {"flats": 90, "wide": 180 / sqrt(3), "tall": 90}),
    "heart": ("{wide: 160 mm}", {"wide": 160, "tall": 160 * 0.903852}),
    "heart stretched": ("{wide: 160 mm, tall: 120 mm}", {"wide": 160, "tall": 120}),
    "arch": ("{wide: 100 mm, tall: 160 mm}", {"wide": 100, "tall": 160}),
    "egg": ("{wide: 100 mm, tall: 160 mm}", {"wide": 100, "tall": 160}),
    "teardrop": ("{wide: 100 mm, tall: 160 mm}", {"wide": 100, "tall": 160}),
    "leaf": ("{wide: 100 mm, tall: 160 mm}", {"wide": 100, "tall": 160}),
    "petals": ("{count: 6, across: 160 mm, depth: 20 mm}", {"across": 160, "tall": 160}),
    "scallops": ("{count: 8, across: 160 mm}", {"across": 160, "wide": 160, "tall": 160}),
    "scallops by depth": ("{count: 8, across: 160 mm, depth: 6 mm}", {"across": 160, "wide": 160, "tall": 160}),
    "star": ("{points: 5, across: 160 mm, depth: 40 mm}", {"across": 160, "wide": 160 * sin(TURN), "tall": 80 + 80 * cos(TURN / 2)}),
    "shield": ("{wide: 120 mm, tall: 160 mm, shoulder: 50 mm}", {"wide": 120, "tall": 160}),
    "crescent": ("{across: 160 mm, thick: 50 mm}", {"across": 160, "tall": 160}),
    "gable": ("{wide: 120 mm, tall: 160 mm, eaves: 90 mm}", {"wide": 120, "tall": 160}),
    "waves": ("{wide: 160 mm, tall: 100 mm, count: 4, depth: 10 mm}", {"wide": 160, "tall": 100}),
    "waves on both": ("{wide: 160 mm, tall: 100 mm, count: 4, depth: 10 mm, both: yes}", {"wide": 160, "tall": 100}),
    "points": ("[[0 mm, 0 mm], [160 mm, 0 mm], [80 mm, 120 mm]]", {"wide": 160, "tall": 120}),
    "joined": ("[{circle: {across: 60 mm}}, {circle: {across: 60 mm}, at: [40 mm, 0 mm]}]", {"wide": 100, "tall": 60}),
}


@pytest.mark.parametrize("name", OUTLINES)
def test_outline_as_large_as_asked(name: str) -> None:
    sizes, asked = OUTLINES[name]
    part = part_of(flat(f"{name.split()[0]}: {sizes}"))
    found = fired(part)
    assert {key: found[key] for key in asked} == pytest.approx(asked, abs=0.01)
    left, bottom, right, top = fired_bounds(part.shape)
    assert (right - left, top - bottom) == pytest.approx((found.get("wide", found.get("across")), found.get("tall", found.get("across"))), abs=1e-6)
    assert (left + right, bottom + top) == pytest.approx((0, 0), abs=1e-6)
    assert is_valid(part.shape)


def test_every_outline_has_its_case() -> None:
    """Silhouettes have tests of their own."""
    assert {name.split()[0] for name in OUTLINES} == set(SHAPES) - {"svg"}


def test_the_sizes_of_a_shield_a_gable_and_a_star_lie_where_they_say() -> None:
    """Straight sides 50 down, eaves 90 up, inner corners 40 in from the tips."""
    shield = part_of(flat("shield: {wide: 120 mm, tall: 160 mm, shoulder: 50 mm}")).shape.outline
    assert min(y for x, y in shield if abs(x) > 60 / LEFT - 1e-6) * LEFT == pytest.approx(80 - 50, abs=0.01)
    gable = part_of(flat("gable: {wide: 120 mm, tall: 160 mm, eaves: 90 mm}")).shape.outline
    assert max(y for x, y in gable if abs(x) > 60 / LEFT - 1e-6) * LEFT == pytest.approx(-80 + 90, abs=0.01)
    star = part_of(flat("star: {points: 6, across: 160 mm, depth: 40 mm}")).shape.outline
    assert sorted({round(hypot(x, y) * LEFT, 2) for x, y in star}) == [40, 80]


# --- openings ---


@pytest.mark.parametrize(
    ("opening", "asked"),
    [
        ("circle: {across: 85 mm}", {"opening": 85}),
        ("heart: {wide: 60 mm}", {"opening wide": 60, "opening tall": 60 * 0.903852}),
        ("polygon: {sides: 6, flats: 50 mm}", {"opening flats": 50, "opening tall": 50}),
        ("star: {points: 6, across: 80 mm, depth: 15 mm}", {"opening across": 80, "opening tall": 80}),
        ("holds: tealight, clearance: 1 mm", {"opening": 40}),  # 38 mm: BS EN 15426:2007
        ("holds: large tealight, clearance: 1.5 mm", {"opening": 62}),
        ("holds: 50 mm round, clearance: 1 mm", {"opening": 52}),
        ("holds: 2 in mirror, clearance: 1 mm", {"opening": 52.8}),
        ("holds: 60 x 50 mm tile, clearance: 1 mm, corner: 3 mm", {"opening wide": 62, "opening tall": 52}),
        ("shows: 2 x 3 in photo, lip: 6 mm", {"opening wide": 50.8 - 12, "opening tall": 76.2 - 12}),
        ("shows: 2 x 3 in photo, lip: 6 mm, rounded: {outside: 5 mm}", {"opening wide": 38.8, "opening tall": 64.2}),
        ("circle: {across: 60 mm}, cut_away: [{circle: {across: 10 mm}, at: [0 mm, -30 mm]}]", {"opening wide": 60}),
    ],
)
def test_opening_as_large_as_asked(opening: str, asked: dict[str, float]) -> None:
    """What goes in does not shrink: its size and its room are what is left after firing."""
    part = part_of(flat("circle: {across: 160 mm}", f"openings: [{{{opening}}}]"))
    found = fired(part)
    assert {key: found[key] for key in asked} == pytest.approx(asked, abs=0.01)
    (hole,) = part.shape.holes
    left, bottom, right, top = fired_bounds(hole)
    wide, tall = found.get("opening wide", found.get("opening", 0)), found.get("opening tall", found.get("opening", 0))
    assert (right - left, top - bottom) == pytest.approx((wide, tall), abs=1e-6)


def test_what_goes_in_does_not_shrink_in_a_wet_piece_either() -> None:
    """`sizes: wet` takes the outline as it is cut; the tealight still needs 40 mm after firing."""
    text = flat("circle: {across: 160 mm}", "openings: [{holds: tealight, clearance: 1 mm}]").replace("name: boat", "name: boat, sizes: wet")
    part = part_of(text)
    assert {measure.key: measure.cut for measure in part.measures} == pytest.approx({"across": 160, "opening": 40 / LEFT})


def test_an_opening_for_a_photo_can_be_rounded() -> None:
    """A corner of radius r takes (4 - pi) r² from the opening."""
    (sharp,) = part_of(flat("circle: {across: 160 mm}", "openings: [{shows: 2 x 3 in photo, lip: 6 mm}]")).shape.holes
    for way in ("corner: 5 mm", "rounded: {outside: 5 mm}"):
        (hole,) = part_of(flat("circle: {across: 160 mm}", f"openings: [{{shows: 2 x 3 in photo, lip: 6 mm, {way}}}]")).shape.holes
        less = area_mm2(Shape(sharp[::-1])) - area_mm2(Shape(hole[::-1]))
        assert less * LEFT**2 == pytest.approx((4 - pi) * 25, abs=0.5)


def places(part: Part) -> list[tuple[float, float]]:
    """The middles of the openings, fired, from left to right."""
    middles = [centroid(Shape(hole[::-1])) for hole in part.shape.holes]
    return sorted((round(x * LEFT, 2) + 0.0, round(y * LEFT, 2) + 0.0) for x, y in middles)


@pytest.mark.parametrize(
    ("place", "expected"),
    [
        ("at: [20 mm, -10 mm]", [(20, -10)]),
        ("at: [20 mm, -10 mm], mirror: yes, turn: 30", [(20, -10)]),
        ("ring: {count: 4, across: 100 mm}", [(-50, 0), (0, -50), (0, 50), (50, 0)]),
        ("ring: {count: 3, across: 100 mm, first: 90}", [(-25, -43.3), (-25, 43.3), (50, 0)]),  # clockwise from the top
        ("ring: {count: 1, across: 100 mm, first: 90}", [(50, 0)]),
        ("row: {count: 3, start: [-40 mm, 10 mm], end: [40 mm, 30 mm]}", [(-40, 10), (0, 20), (40, 30)]),
        ("row: {count: 1, start: [-40 mm, 10 mm], end: [40 mm, 30 mm]}", [(0, 20)]),
    ],
)
def test_where_openings_stand(place: str, expected: list[tuple[float, float]]) -> None:
    part = part_of(flat("circle: {across: 160 mm}", f"openings: [{{circle: {{across: 12 mm}}, {place}}}]"))
    assert places(part) == [pytest.approx(spot, abs=0.01) for spot in expected]


def test_turning_and_mirroring_one_opening() -> None:
    """A crescent's horns point right; mirrored left, turned by 90 up (counter-clockwise)."""
    way = {}
    for name, more in (("as it is", ""), ("mirrored", ", mirror: yes"), ("turned", ", turn: 90"), ("both", ", mirror: yes, turn: 90")):
        part = part_of(flat("circle: {across: 160 mm}", f"openings: [{{crescent: {{across: 60 mm, thick: 20 mm}}{more}}}]"))
        (hole,) = part.shape.holes
        left, bottom, right, top = bounds(Shape(hole))
        x, y = centroid(Shape(hole[::-1]))
        way[name] = round(degrees(atan2((bottom + top) / 2 - y, (left + right) / 2 - x))) % 360  # from the thick side to the horns
    assert way == {"as it is": 0, "mirrored": 180, "turned": 90, "both": 270}


# --- joins and lines ---


def zones(part: Part) -> list[tuple[float, ...]]:
    assert all(mark.kind == "join" and mark.closed and mark.words == "ear" for mark in part.marks)
    return sorted(tuple(round(v, 2) + 0.0 for v in fired_bounds(mark.line)) for mark in part.marks)


def test_joins_on_a_ring_face_the_middle() -> None:
    """20 wide, 10 tall: on the sides they stand upright, at top and foot they lie; none is cut."""
    part = part_of(flat("circle: {across: 160 mm}", "joins: [{name: ear, rectangle: {wide: 20 mm, tall: 10 mm}, ring: {count: 4, across: 120 mm}}]"))
    assert zones(part) == [(-65, -10, -55, 10), (-10, -65, 10, -55), (-10, 55, 10, 65), (55, -10, 65, 10)]
    assert part.shape.holes == ()


def test_joins_in_a_row_stay_upright() -> None:
    row = "row: {count: 2, start: [-40 mm, 0 mm], end: [40 mm, 20 mm]}"
    part = part_of(flat("circle: {across: 160 mm}", f"joins: [{{name: ear, levels: advanced, rectangle: {{wide: 20 mm, tall: 10 mm}}, {row}}}]"))
    assert zones(part) == [(-50, -5, -30, 5), (30, 15, 50, 25)]
    assert {mark.levels for mark in part.marks} == {("advanced",)}


@pytest.mark.parametrize("where", ["at: [100 mm, 0 mm]", "at: [0 mm, 0 mm]"])
def test_a_join_needs_clay_below_it(where: str) -> None:
    ring = flat("circle: {across: 160 mm}", f"openings: [{{circle: {{across: 60 mm}}}}], joins: [{{name: ear, circle: {{across: 20 mm}}, {where}}}]")
    (line,) = errors(ring)
    assert "the place of “ear” lies outside the clay. Its place counts from the piece's middle" in line


def test_a_join_that_reaches_over_the_edge_ends_there() -> None:
    part = part_of(flat("rectangle: {wide: 40 mm, tall: 40 mm}", "joins: [{name: ear, rectangle: {wide: 20 mm, tall: 100 mm}, at: [20 mm, 0 mm]}]"))
    assert zones(part) == [(10, -20, 20, 20)]


def test_press_line_and_balance_line() -> None:
    part = part_of(lesson("flat: {outline: {circle: {across: 160 mm}}, press: [{inset: 10 mm}]}, hang: {across: 4 mm}"))
    press, centre = part.marks
    assert (press.kind, centre.kind) == ("press", "centre")
    assert fired_bounds(press.line) == pytest.approx((-70, -70, 70, 70), abs=0.01)
    assert [(x * LEFT, y * LEFT) for x, y in centre.line] == [pytest.approx((0, -80), abs=0.01), pytest.approx((0, 80), abs=0.01)]
    assert "further in than the piece is wide" in errors(flat("circle: {across: 60 mm}", "press: [{inset: 40 mm}]"))[0]


# --- combining ---


def test_joined_has_its_middle_at_the_origin() -> None:
    part = part_of(flat("joined: [{circle: {across: 100 mm}}, {circle: {across: 60 mm}, at: [0 mm, 70 mm]}]"))
    assert fired_bounds(part.shape) == pytest.approx((-50, -75, 50, 75), abs=0.01)
    assert "the shapes do not join" in errors(flat("joined: [{circle: {across: 20 mm}}, {circle: {across: 20 mm}, at: [50 mm, 0 mm]}]"))[0]


def test_cut_away_leaves_the_middle_where_it_was() -> None:
    """A foot cut flat 40 below the middle of a round."""
    part = part_of(flat("circle: {across: 100 mm}, cut_away: [{rectangle: {wide: 120 mm, tall: 40 mm}, at: [0 mm, -60 mm]}]"))
    assert fired(part) == pytest.approx({"wide": 100, "tall": 90}, abs=0.01)
    assert fired_bounds(part.shape) == pytest.approx((-50, -40, 50, 50), abs=0.01)
    assert "the piece falls into 2 pieces" in errors(flat("circle: {across: 100 mm}, cut_away: [{rectangle: {wide: 120 mm, tall: 20 mm}}]"))[0]


def test_repeats_in_what_is_joined_and_cut_away() -> None:
    """Eight bumps of 20 around 100: 120 over all; four notches less."""
    bumps = "joined: [{circle: {across: 100 mm}}, {circle: {across: 20 mm}, ring: {count: 8, across: 100 mm}}]"
    part = part_of(flat(bumps))
    assert fired(part) == pytest.approx({"wide": 120, "tall": 120}, abs=0.01)
    row = "cut_away: [{rectangle: {wide: 4 mm, tall: 20 mm}, row: {count: 3, start: [-20 mm, 30 mm], end: [20 mm, 30 mm]}}]"
    notched = part_of(flat("rectangle: {wide: 100 mm, tall: 60 mm}, " + row))
    assert area_mm2(notched.shape) * LEFT**2 == pytest.approx(6000 - 3 * 40, abs=0.01)


def test_rounded_outside_and_inside() -> None:
    """A cross of two bars: 8 outer corners lose (1 - pi/4) r² each, 4 inner ones gain it."""
    cross = "joined: [{rectangle: {wide: 120 mm, tall: 40 mm}}, {rectangle: {wide: 40 mm, tall: 120 mm}}]"
    bare = area_mm2(part_of(flat(cross)).shape) * LEFT**2
    assert bare == pytest.approx(2 * 4800 - 1600, abs=0.01)
    for outside, inside in ((5, 0), (0, 8), (5, 8)):
        given = ", ".join(f"{side}: {mm} mm" for side, mm in (("outside", outside), ("inside", inside)) if mm)
        part = part_of(flat(f"{cross}, rounded: {{{given}}}"))
        assert area_mm2(part.shape) * LEFT**2 == pytest.approx(bare + (1 - pi / 4) * (4 * inside**2 - 8 * outside**2), abs=0.6)
        assert fired(part) == pytest.approx({"wide": 120, "tall": 120}, abs=0.01)


def test_a_star_whose_tips_are_cut_off_no_longer_claims_to_reach_them() -> None:
    part = part_of(flat("star: {points: 6, across: 160 mm, depth: 40 mm}, rounded: {outside: 3 mm}"))
    assert set(fired(part)) == {"wide", "tall"}
    assert fired(part)["tall"] < 158


@pytest.mark.parametrize(("count", "told"), [("0", "expected 1 to 200 copies, found 0."), ("999999", "expected 1 to 200 copies, found 999999.")])
def test_a_bound_on_copies(count: str, told: str) -> None:
    for repeat in (f"ring: {{count: {count}, across: 100 mm}}", f"row: {{count: {count}, start: [0 mm, 0 mm], end: [9 mm, 0 mm]}}"):
        (line,) = errors(flat("circle: {across: 160 mm}", f"openings: [{{circle: {{across: 2 mm}}, {repeat}}}]"))
        assert told in line
        assert line.startswith("lesson.yaml:7:")


def test_repeats_of_repeats_stay_bounded() -> None:
    part = "circle: {across: 20 mm}"
    for across in (40, 100, 200):
        part = f"joined: [{{circle: {{across: {across} mm}}}}, {{{part}, ring: {{count: 200, across: {across} mm}}}}]"
    assert "it has more than 20,000 points." in errors(flat(part))[0]
    many = ", ".join(f"{{circle: {{across: 1 mm}}, ring: {{count: 50, across: {10 * k} mm}}}}" for k in range(5, 15))
    assert "it has 500 openings, more than 200." in errors(flat("circle: {across: 160 mm}", f"openings: [{many}]"))[0]


def test_a_stencil_of_dozens_of_sheets_is_refused() -> None:
    (line,) = errors(flat("circle: {across: 1200 mm}"))
    assert "it is 1364 x 1364 mm as cut, and its stencil would take dozens of sheets. Look at its units" in line
    assert not errors(flat("rectangle: {wide: 2400 mm, tall: 60 mm}"))
