"""Each check has a case that fires it, and a good lesson fires none; and what is marked with round things at hand."""

from __future__ import annotations

import pytest

from lessonkit.pieces.checks import CHECKS
from lessonkit.pieces.things import substitutes
from tests.lessons_for_tests import FRAME, ROOM, kit_of, problems_of, worked
from tests.shapes_for_tests import errors, fired_bounds, flat, lesson

TWO_SQUARES = (
    "joined: [{rectangle: {wide: 40 mm, tall: 40 mm}, at: [-40 mm, 0 mm]}, {rectangle: {wide: 40 mm, tall: 40 mm}, at: [40 mm, 0 mm]}, "
    "{rectangle: {wide: 40 mm, tall: 6 mm}}]"
)
GAP_ROOM = ROOM.replace("shrinkage: 12 %", "shrinkage: 8 to 16 %")
CASES: dict[str, tuple[str, str, str]] = {
    "slab_thickness": ("slab-thin", flat("circle: {across: 160 mm}").replace("thickness: 6 mm", "thickness: 4 mm"), ROOM),
    "slab_thickness, too thick": ("slab-thick", flat("circle: {across: 160 mm}").replace("thickness: 6 mm", "thickness: 14 mm"), ROOM),
    "hole_near_edge": ("hole-near-edge", lesson("flat: {outline: {circle: {across: 160 mm}}}, hang: {across: 4 mm, from_edge: 8 mm}"), ROOM),
    "hanging_tilt": ("hangs-crooked", lesson("flat: {outline: {circle: {across: 160 mm}}}, hang: {across: 4 mm, at: [5 mm, 60 mm]}"), ROOM),
    "thin_border": ("thin-border", flat("circle: {across: 100 mm}", "openings: [{circle: {across: 80 mm}}]"), ROOM),
    "narrow_neck": (
        "narrow-neck",
        flat("joined: [{circle: {across: 60 mm}, ring: {count: 2, across: 80 mm}}, {rectangle: {wide: 6 mm, tall: 60 mm}}]"),
        ROOM,
    ),
    "press_line_splits": ("press-splits", flat(TWO_SQUARES, "press: [{inset: 4 mm}]"), ROOM),
    "sharp_inner_corner": ("sharp-inner-corner", flat("star: {points: 5, across: 160 mm, depth: 40 mm}"), ROOM),
    "photo_fits": ("photo-falls-through", flat("circle: {across: 160 mm}", "openings: [{shows: 3 x 4 in photo, lip: 2 mm}]"), GAP_ROOM),
    "photo_fits, covered": ("photo-covered", flat("circle: {across: 260 mm}", "openings: [{shows: 6 x 8 in photo, lip: 6 mm}]"), GAP_ROOM),
    "unlike_clays": ("unlike-clays", lesson("clay: white low-fire, flat: {outline: {circle: {across: 160 mm}}}"), ROOM),
    "closed_without_vent": ("no-vent", lesson("pinch: {across: 80 mm, tall: 40 mm, ball: 180 g, closed: yes, measured: outside}"), ROOM),
    "stencil_not_folded": ("not-folded", flat("crescent: {across: 160 mm, thick: 50 mm}", "fold: yes"), ROOM),
    "lost_to_the_machine": ("hole-lost", flat("circle: {across: 160 mm}", "openings: [{circle: {across: 2 mm}}]"), ROOM + "machine_cut: 3 mm\n"),
    "larger_than_slab": ("larger-than-slab", flat("circle: {across: 300 mm}"), ROOM + "slab: {wide: 300 mm, long: 500 mm}\n"),
    "larger_than_shelf": ("larger-than-shelf", flat("circle: {across: 500 mm}"), ROOM + "kiln: {shelf: {round: 40 cm}, stack: 66 cm}\n"),
}


@pytest.mark.parametrize("name", CASES)
def test_each_check_fires(name: str) -> None:
    kind, text, room = CASES[name]
    kit, problems = worked(text, room)
    assert kit is not None, "\n".join(map(str, problems))
    assert kind in {problem.kind for problem in kit.pieces[0].warnings}, "\n".join(map(str, problems))
    for problem in kit.pieces[0].warnings:
        assert problem.severity == "warning"
        assert problem.what.startswith("boat: ")
        assert problem.what.endswith(".")
        assert problem.hint


def test_c26_a_press_line_that_a_neck_splits_is_drawn_on_both_islands_and_told() -> None:
    """Two squares of 40 mm, a neck 6 mm wide: 4 mm in are two islands of 32 mm and a little more, 2 mm in is one line, 25 mm in nothing."""
    kit = kit_of(flat(TWO_SQUARES, "press: [{inset: 4 mm}]"))
    lines = [mark.line for mark in kit.pieces[0].parts[0].marks if mark.kind == "press"]
    lefts = sorted(fired_bounds(line)[0] for line in lines)
    assert lefts == pytest.approx([-56, 20 + (4**2 - 3**2) ** 0.5], abs=0.01)
    assert [problem.what for problem in kit.pieces[0].warnings if problem.kind == "press-splits"] == [
        "boat: the press line splits into 2, as a neck of the piece is narrower than twice the inset."
    ]
    assert not any("press line" in line for line in problems_of(flat(TWO_SQUARES, "press: [{inset: 2 mm}]"), ROOM))
    (refused,) = errors(flat(TWO_SQUARES, "press: [{inset: 25 mm}]"))
    assert "the press line lies further in than the piece is wide" in refused


def test_every_check_has_its_case_and_is_quiet_otherwise() -> None:
    assert {name.split(",")[0] for name in CASES} == {check.__name__ for check in CHECKS}
    room = ROOM + "machine_cut: 0.2 mm\nslab: {wide: 300 mm, long: 500 mm}\nkiln: {shelf: {round: 40 cm}, stack: 66 cm}\n"
    assert problems_of(FRAME, room) == []


def test_only_circles_are_marked_with_round_things() -> None:
    """A tin marks no hexagon, however wide; numbered openings count as well."""
    room = ROOM + "round_things: [{name: tin, across: 180 mm}, {name: cup, across: 90 mm}]\n"
    openings = "openings: [{circle: {across: 30 mm}, at: [30 mm, 0 mm]}, {polygon: {sides: 6, across: 30 mm}, at: [-30 mm, 0 mm]}]"
    names = [(found.piece.name, found.measure.key) for found in substitutes(kit_of(flat("polygon: {sides: 6, across: 160 mm}", openings), room))]
    assert names == [("boat", "opening 1")]
