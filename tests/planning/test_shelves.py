"""Loads by outline and height, and room on the racks, against worked sums."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from lessonkit.clay.firing import FiringError, Ware
from lessonkit.geometry import outlines
from lessonkit.geometry.shape import area_mm2
from lessonkit.lesson.firing import Kiln, Rack
from lessonkit.planning.faults import PlanError
from lessonkit.planning.racks import Lot, rack_room
from lessonkit.planning.shelves import LoadPlan, kiln_room, plan_loads, post_mm
from lessonkit.planning.standing import Standing

SCHOOL_KILN = {"shelf": {"round": "53 cm"}, "stack": "66 cm", "shelf_thick": "15 mm", "air": "15 mm", "raw_gap": "1 cm", "rim": "0 mm"}


def kiln(**more: object) -> Kiln:
    return Kiln.model_validate(SCHOOL_KILN | more)


def plates(count: int, across: float = 206, tall: float = 50, clay: str = "white low-fire", highest: str = "04") -> Standing:
    return Standing(Ware(f"plate of {across:g}", clay, highest), outlines.circle(across), tall, 6, False, True, count)


def counted(plan: LoadPlan) -> Counter[int]:
    """Pieces by kind that stand on all shelves; full stacks count as full."""
    return Counter(place.index for load in plan.loads for tier in load.tiers for shelf in tier.shelves for place in shelf.places)


def test_a_class_of_plates_fits_once_and_two_classes_do_not() -> None:
    """Worked sum: 66 cm of 8 cm each (5 the work, 1.5 the shelf, 1.5 air) is 8 shelves of 4 plates, 32 a load."""
    room = kiln_room(kiln(), "raw")
    once = plan_loads([plates(28)], room, "04")
    assert once.per_shelf == (4,)
    assert [len(load.tiers) for load in once.loads] == [7]
    assert len(plan_loads([plates(32)], room, "04").loads) == 1
    assert len(plan_loads([plates(33)], room, "04").loads) == 2
    assert len(plan_loads([plates(56)], room, "04").loads) == 2
    assert len(plan_loads([plates(28)], kiln_room(kiln(rim="1 cm"), "raw"), "04").loads) == 2  # 3 a shelf
    just, lower = kiln_room(kiln(stack="560 mm"), "raw"), kiln_room(kiln(stack="559 mm"), "raw")
    assert [len(plan_loads([plates(28)], room, "04").loads) for room in (just, lower)] == [1, 2]
    tiers = once.loads[0].tiers
    assert [tier.at_mm for tier in tiers] == [15 + 80 * n for n in range(7)]


def test_the_shelves_that_she_has_bound_a_load() -> None:
    assert [len(load.tiers) for load in plan_loads([plates(28)], kiln_room(kiln(shelves="4"), "raw"), "04").loads] == [4, 3]
    halves = kiln(shelf={"half_round": "53 cm"})
    plan = plan_loads([plates(8)], kiln_room(halves, "raw"), "04")
    assert plan.per_shelf == (2,)
    assert [len(tier.shelves) for tier in plan.loads[0].tiers] == [2, 2]
    with pytest.raises(PlanError, match="shelves says 1, and beside says that 2 lie side by side"):
        plan_loads([plates(8)], kiln_room(kiln(shelf={"half_round": "53 cm"}, shelves="1"), "raw"), "04")


def test_posts_of_her_own() -> None:
    assert post_mm(65, ()) == 65
    assert [post_mm(need, (25, 50, 100)) for need in (20, 25, 65, 100, 101, 300)] == [25, 25, 75, 100, 125, 300]
    with pytest.raises(PlanError, match="taller posts"):
        post_mm(301, (25, 50, 100))
    plan = plan_loads([plates(28)], kiln_room(kiln(posts=["25 mm", "100 mm"]), "raw"), "04")
    assert {tier.post_mm for load in plan.loads for tier in load.tiers} == {75}  # 65 is needed: three of 25


def test_stacked_raw_and_never_glazed() -> None:
    """Bisque may be stacked, often doubling the count (common practice, no source); glazed work never touches."""
    tiles = replace(plates(28), tall_mm=8)
    raw = plan_loads([tiles], kiln_room(kiln(raw_high="3"), "raw"), "04")
    assert (raw.per_shelf, raw.high) == ((12,), (3,))
    assert "3 on one another" in " ".join(raw.assumptions)
    glazed = plan_loads([tiles], kiln_room(kiln(raw_high="3"), "glazed"), "04")
    assert (glazed.per_shelf, glazed.high) == ((4,), (1,))
    upright = replace(tiles, flat=False)
    assert plan_loads([upright], kiln_room(kiln(raw_high="3"), "raw"), "04").high == (1,)


def test_glazed_work_stands_further_apart() -> None:
    """Raw ware may touch, glazed ware at least a quarter of an inch apart (common practice); each default is said."""
    bare = Kiln.model_validate({"shelf": {"round": "300 mm"}, "stack": "30 cm"})
    raw, glazed = kiln_room(bare, "raw"), kiln_room(bare, "glazed")
    assert (raw.gap_mm, glazed.gap_mm) == (0, 7)
    assert glazed.gap_mm > 6.35
    assert any("between glazed pieces 7 mm, assumed" in said for said in glazed.assumptions)
    assert not any("assumed" in said for said in kiln_room(kiln(glazed_gap="10 mm"), "glazed").assumptions)
    small = plates(20, across=139)
    assert plan_loads([small], raw, "04").per_shelf == (2,)
    assert plan_loads([small], glazed, "04").per_shelf == (1,)


def test_what_cannot_be_loaded_is_refused_by_name() -> None:
    room = kiln_room(kiln(), "glazed")
    with pytest.raises(FiringError, match=r"plate of 206 is of white low-fire, which stands only cone 04"):
        plan_loads([plates(4), plates(4, across=100, clay="buff mid-fire", highest="6")], room, "6")
    with pytest.raises(PlanError, match="plate of 540 is 540 x 540 mm and fits no shelf"):
        plan_loads([plates(1, across=540)], room, "04")
    with pytest.raises(PlanError, match="too tall for the kiln's 660 mm"):
        plan_loads([plates(1, tall=640)], room, "04")
    with pytest.raises(PlanError, match="Plan group by group"):
        plan_loads([plates(3001)], room, "04")
    assert plan_loads([plates(0)], room, "04").loads == ()


@settings(max_examples=12, deadline=None)
@given(st.lists(st.tuples(st.sampled_from([60.0, 100.0, 206.0]), st.sampled_from([8.0, 60.0, 120.0]), st.integers(1, 14)), min_size=1, max_size=3))
def test_every_piece_is_in_one_load_and_no_load_is_too_high(kinds: list[tuple[float, float, int]]) -> None:
    room = kiln_room(kiln(shelves="6"), "raw")
    wares = [plates(count, across, tall) for across, tall, count in kinds]
    plan = plan_loads(wares, room, "04")
    assert counted(plan) == Counter({index: kind.count for index, kind in enumerate(plan.kinds)})
    assert sum(kind.count for kind in plan.kinds) == sum(count for *_, count in kinds)
    for load in plan.loads:
        assert sum(len(tier.shelves) for tier in load.tiers) <= 6
        for tier in load.tiers:
            tallest = max(plan.kinds[place.index].tall_mm for shelf in tier.shelves for place in shelf.places)
            assert tier.at_mm + tallest + 15 <= 660 + 1e-6
        for below, above in zip(load.tiers, load.tiers[1:], strict=False):
            tallest = max(plan.kinds[place.index].tall_mm for shelf in below.shelves for place in shelf.places)
            assert above.at_mm - 15 - below.at_mm >= tallest + 15 - 1e-6


RACK = Rack.model_validate({"shelves": "32", "wide": "120 cm", "deep": "60 cm"})


def test_rack_room_for_all_groups() -> None:
    """Worked sum: 5 groups of 26 a week, 3.5 weeks inside, are 455 pieces; at 500 cm² each 22.8 m² or 32 shelves by area alone."""
    piece = Standing(Ware("piece", "clay", "6"), outlines.rectangle(250, 200), 60, 6, False, False, 130)
    room = rack_room([Lot(piece, 3.5)], [RACK])
    assert area_mm2(piece.outline) == 50_000
    assert room.pieces == 455
    assert room.by_area == 32
    assert room.shelves_needed == 46  # in rows with a finger between: 10 a shelf
    assert "142 % full" in room.warning


def test_racks_are_warned_about_at_80_per_cent() -> None:
    tile = Standing(Ware("tile", "clay", "6"), outlines.rectangle(190, 190), 8, 8, False, True, 18)
    half = rack_room([Lot(tile, 14)], [RACK])  # 18 on a shelf of 6 x 3
    assert (half.shelves_needed, half.warning) == (14, "")
    assert rack_room([Lot(tile, 25.5)], [RACK]).warning == ""
    assert "81 % full: 26 shelves of 32" in rack_room([Lot(tile, 26)], [RACK]).warning
    assert rack_room([], [RACK]).pieces == 0
    giant = replace(tile, outline=outlines.rectangle(1300, 100))
    assert "larger than every shelf" in rack_room([Lot(giant, 1)], [RACK]).warning
