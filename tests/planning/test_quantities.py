"""Clay, bags, spares and supplies against sums done by hand. All rules are common practice; no published source for any of them."""

from __future__ import annotations

import json
from dataclasses import asdict
from math import ceil, floor

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from lessonkit.lesson.classroom import Group
from lessonkit.planning.counting import down, need_people, up, without
from lessonkit.planning.faults import PlanError
from lessonkit.planning.orders import bags_for, balls_in_bag, order_by_weight, remakes, spares, with_waste
from lessonkit.planning.quantities import Quantities, quantities
from lessonkit.planning.slabs import BETWEEN_MM, Cut, Slab, slabs
from lessonkit.units import G_PER_POUND
from tests.lessons_for_tests import FRAME, ROOM, kit_of, problems_of

BAG_G = 25 * G_PER_POUND  # 25 lb is 11.340 kg: a usual bag in North America (common practice)
CLAY_W = "{name: white low-fire, cone: '04', shrinkage: 6 %, highest_cone: '04', density: 1.9}"
PLATE_ROOM = f"kind: room\nname: Saltmarsh Clay Room\nclays: [{CLAY_W}]\nsticks: [{{name: grey, thick: 6.5 mm}}]\n"
PLATE = """\
title: Full-Moon Plate
about: A flat plate.
technique: slab
pieces:
  - {name: plate, flat: {outline: {circle: {across: 200 mm}}}}
steps:
  - {id: cut, title: Cut, minutes: 8, text: Cut it.}
"""


def group(**levels: int) -> Group:
    return Group.model_validate({"name": "Tuesday", "levels": {level: str(count) for level, count in levels.items()}})


def of(lesson: str, room: str, people: Group) -> Quantities:
    return quantities(kit_of(lesson, room), people)


def one_slab(found: Quantities) -> Slab:
    (slab,) = found.clay[0].lumps[0].slabs
    return slab


class TestPlate:
    """Worked by hand: fired 200 mm, 6 %, 6.5 mm thick at 1.9 g/cm³ is a disc of 212.8 mm and 439 g, from a slab of 24 x 24 cm and 711 g."""

    found = of(PLATE, PLATE_ROOM, group(easy=28))

    def test_the_slab_and_not_only_the_disc(self) -> None:
        slab = one_slab(self.found)
        assert (slab.wide_mm, slab.tall_mm) == (240, 240)
        assert slab.cut_g == pytest.approx(439, abs=0.5)
        assert slab.mass_g == pytest.approx(711.4, abs=0.05)
        assert slab.offcut_g / slab.mass_g == pytest.approx(0.38, abs=0.005)

    def test_balls_and_bags(self) -> None:
        """711 g and 5 % are 747 g, 15 from a bag of 25 lb; 28 people and 3 spares are 31 balls, so 3 bags; 2 more for what is lost."""
        (clay,) = self.found.clay
        (lump,) = clay.lumps
        assert lump.ball_g == pytest.approx(747, abs=0.5)
        assert (lump.balls_a_bag, clay.spares, clay.remakes, clay.balls, clay.bags) == (15, 3, 2, 31, 3)
        assert clay.weight_g == pytest.approx(33 * 711.36 * 1.05)
        assert clay.left_g == pytest.approx(3 * BAG_G - clay.weight_g)

    def test_offcut_comes_back(self) -> None:
        (clay,) = self.found.clay
        assert clay.offcut_g == pytest.approx(28 * (711.36 - 439.24), rel=1e-3)
        assert clay.balls_from_offcut == floor(clay.offcut_g / clay.lumps[0].ball_g) == 10

    def test_leftovers_pooled_when_she_says_so(self) -> None:
        heavy = PLATE.replace("technique: slab", "technique: slab\nthickness: 13.057 mm")  # 1.5 kg with waste
        rules = "buying: {spare: 0 %, least_spares: 0, lost: 0 %}\n"
        (kept,) = of(heavy, PLATE_ROOM + rules, group(easy=15)).clay
        assert (round(kept.lumps[0].ball_g), kept.lumps[0].balls_a_bag, kept.balls, kept.bags) == (1500, 7, 15, 3)
        (pooled,) = of(heavy, PLATE_ROOM + rules.replace("{", "{pooled: yes, "), group(easy=15)).clay
        assert pooled.bags == 2

    def test_every_rule_is_stated(self) -> None:
        said = " / ".join(self.found.assumptions).replace("\u00a0", " ")
        for part in ("10 mm larger all round", "1.9 g/cm³", "5 % of what is needed", "spares: 10 %", "5 % of the pieces", "25 lb", "not pooled"):
            assert part in said

    def test_it_can_be_written_as_json(self) -> None:
        assert json.loads(json.dumps(asdict(self.found)))["clay"][0]["bags"] == 3


def test_balls_from_a_bag() -> None:
    """31 balls of 747 g: 15 a bag, 3 bags. 15 of 1.5 kg: 7 a bag, 3 bags, or 2 if what is left of each is kneaded together."""
    assert (balls_in_bag(747, 11_340), bags_for([(31, 747)], 11_340)) == (15, 3)
    assert (balls_in_bag(1500, 11_340), bags_for([(15, 1500)], 11_340), bags_for([(15, 1500)], 11_340, pooled=True)) == (7, 3, 2)


def test_bags_for_balls_of_two_weights() -> None:
    """Two balls of 6 kg need two bags of 10 kg; what is left of each, 4 kg, makes 4 of 1 kg: eight small ones need no third bag, nine do."""
    assert bags_for([(2, 6000), (8, 1000)], 10_000) == 2
    assert bags_for([(2, 6000), (9, 1000)], 10_000) == 3


def test_a_ball_heavier_than_a_bag() -> None:
    assert balls_in_bag(6000, 5000) == 0
    assert bags_for([(3, 6000)], 5000) == 4


@given(st.lists(st.tuples(st.integers(1, 40), st.floats(100, 3000)), min_size=1, max_size=3), st.floats(3000, 15_000))
@settings(max_examples=60, deadline=None)
def test_bags_hold_the_balls(balls: list[tuple[int, float]], bag: float) -> None:
    found = bags_for(balls, bag)
    assert found >= bags_for(balls, bag, pooled=True) >= 1
    assert found <= sum(ceil(count / balls_in_bag(g, bag)) for count, g in balls)
    if len(balls) == 1:
        assert found == ceil(balls[0][0] / balls_in_bag(balls[0][1], bag))


def test_waste_on_top_or_of_what_is_bought() -> None:
    """12 discs of 285 x 6 mm at 1.95 g/cm³ are 8.957 kg: a quarter on top is one bag of 25 lb, a quarter of what is bought two."""
    need = 12 * 3.14159265 * 142.5**2 * 6 / 1000 * 1.95
    assert need == pytest.approx(8957, abs=0.5)
    on_top, bought = with_waste(need, 0.25), with_waste(need, 0.25, "of bought")
    assert (round(on_top), round(bought)) == (11_196, 11_942)
    assert (up(on_top / 11_340), up(bought / 11_340)) == (1, 2)


def test_waste_of_what_is_bought_from_the_room() -> None:
    (clay,) = of(PLATE, PLATE_ROOM + "buying: {waste: {share: 25 %, counted: of bought}}\n", group(easy=28)).clay
    assert clay.lumps[0].ball_g == pytest.approx(711.36 / 0.75)


def test_spares_and_losses() -> None:
    """The larger of 2 and a tenth, and a twentieth for loss: 28 people need 3 + 2 = 5 more."""
    assert (spares(28), remakes(28), spares(28) + remakes(28)) == (3, 2, 5)
    assert (spares(5), spares(20), spares(21)) == (2, 2, 3)


def test_c37_how_much_clay_to_order() -> None:
    """26 at half a pound and 170 at one pound, a tenth spare, bags of 25 lb: 14.3 lb is 1 bag, 187 lb are 8 and not 7."""
    half, one = order_by_weight([(26, G_PER_POUND / 2)], BAG_G, spare=0.1), order_by_weight([(170, G_PER_POUND)], BAG_G, spare=0.1)
    assert (half.weight_g / G_PER_POUND, half.bags) == (pytest.approx(14.3), 1)
    assert (one.weight_g / G_PER_POUND, one.bags) == (pytest.approx(187), 8)
    assert order_by_weight([(170, G_PER_POUND)], 12_500, spare=0.1).bags == 7  # 84.8 kg from bags of 12.5 kg
    assert half.assumptions == ("by weight: what is left of a bag is pooled", "10 % spare")


@pytest.mark.parametrize(("people", "told"), [(0, "nobody"), (24.5, "24 or 25"), (-3, "nobody")])
def test_c37_people_come_whole(people: float, told: str) -> None:
    for reckon in (need_people, spares, remakes, lambda count: order_by_weight([(count, 500)], BAG_G), lambda count: without(count, 3)):
        with pytest.raises(PlanError, match=told):
            reckon(people)


@pytest.mark.parametrize(
    ("line", "told"),
    [
        ("people: 0", "expected a number of people"),
        ("people: 24.5", "People come whole"),
        ("levels: {easy: 12.5}", "People come whole"),
        ("levels: {easy: 0, advanced: 0}", "nobody in it"),
        ("people: 5, levels: {easy: 6}", "add up to 6"),
        ("levels: {eazy: 6}", "Did you mean easy?"),
        ("code: T", "nobody in it"),
    ],
)
def test_c37_a_group_that_cannot_be_is_refused(line: str, told: str) -> None:
    found = problems_of(FRAME, ROOM + f"groups: [{{name: Tuesday, {line}}}]\n")
    assert len(found) == 1
    assert told in found[0]
    assert found[0].startswith("room.yaml:11:")


def test_two_groups_are_told_apart() -> None:
    assert "two groups are called tue" in problems_of(FRAME, ROOM + "groups: [{name: Tue, people: 6}, {name: tue, people: 7}]\n")[0]
    assert not problems_of(FRAME, ROOM + "groups: [{name: Tue 1, code: A, people: 6}, {name: Tue 2, code: B, people: 7}]\n")


def test_the_year() -> None:
    """120 people x 24 projects x 0.55 kg and a tenth are 1,742 kg, 154 bags; a quarter reclaimed, 116. 2,880 pieces are 90 glaze loads of 32
    and 58 bisque loads of 50: 148 firings."""
    year = order_by_weight([(120 * 24, 550)], 11_340, spare=0.1)
    assert (round(year.weight_g), year.bags) == (1_742_400, 154)
    assert order_by_weight([(120 * 24, 550)], 11_340, spare=0.1, reclaimed=0.25).bags == 116
    assert up(2880 / 32) + up(2880 / 50) == 90 + 58 == 148


def test_slip_cups_and_tools() -> None:
    """A cup for two is 14 for 28 people, 40 ml each 1.1 litre. Tools by person, pair, table of 6 and class."""
    joined = PLATE.replace("{id: cut, title: Cut,", "{id: cut, title: Join, picture: join,") + (
        "supplies:\n  - {name: mat, count: 1, per: person}\n  - {name: rolling pin and sticks, count: 1, per: pair}\n"
        "  - {name: needle tool, count: 6, per: table}\n  - {name: straw, count: 3, per: class}\n  - wire\n"
    )
    tables = "tables: {seats: 6, tools: [{name: sponge, count: 6}, {name: needle, count: 9}]}\ntools: [{name: rolling pin, count: 10}]\n"
    found = of(joined, PLATE_ROOM + tables, group(easy=28))
    assert (found.slip_cups, found.slip_ml, found.tables) == (14, 1120, 5)
    counts = {supply.name: supply.count for supply in found.supplies}
    assert counts == {"mat": 28, "rolling pin and sticks": 14, "needle tool": 30, "straw": 3, "wire": None, "sponge": 30}
    assert "rolling pin and sticks: 14 needed, 10 there: 4 without." in found.warnings
    assert of(PLATE, PLATE_ROOM, group(easy=28)).slip_ml == 0


def test_cards_and_stencils() -> None:
    """One for two and a tenth: 13, 5 and 7 learners need 8, 4 and 5. A room that gives everybody a card needs 13, 5 and 7 (case C40)."""
    room = PLATE_ROOM + "levels: {easy: New, standard: Some, advanced: Done}\n"
    mixed = group(easy=13, standard=5, advanced=7)
    found = of(PLATE, room, mixed)
    assert [(card.level, card.learners, card.sets) for card in found.cards] == [("easy", 13, 8), ("standard", 5, 4), ("advanced", 7, 5)]
    assert [(stencil.learners, stencil.copies) for stencil in found.stencils] == [(25, 15)]
    own = of(PLATE, room + "copies: {learners_a_card: 1, spare: 0 %}\n", mixed)
    assert [card.sets for card in own.cards] == [13, 5, 7]


def test_a_level_that_makes_more() -> None:
    """Only the advanced make a lid: their ball is heavier, and spares are of that one."""
    lid = PLATE.replace("steps:", "  - {name: lid, levels: [advanced], flat: {outline: {circle: {across: 60 mm}}}}\nsteps:")
    found = of(lid, PLATE_ROOM, group(easy=20, advanced=8))
    (clay,) = found.clay
    assert [(lump.levels, lump.people) for lump in clay.lumps] == [(("easy",), 20), (("advanced",), 8)]
    assert clay.lumps[1].ball_g > clay.lumps[0].ball_g == pytest.approx(746.9, abs=0.1)
    assert found.pieces == 36
    unknown = of(lid, PLATE_ROOM, Group.model_validate({"name": "Tuesday", "people": "28"}))
    assert [(lump.people, lump.ball_g) for lump in unknown.clay[0].lumps] == [(28, clay.lumps[1].ball_g)]
    assert any("nobody said how many are of which level" in line for line in unknown.assumptions)
    assert [(one.part, one.learners) for one in found.stencils] == [("plate", 28), ("lid", 8)]


def test_pinched_and_coiled_work_leaves_no_offcut() -> None:
    """Two balls of 160 g are 320 g of clay. A pot of coils: the base is cut from a slab, the coils are not."""
    pinch = PLATE.replace("flat: {outline: {circle: {across: 200 mm}}}",
                          "pinch: {across: 90 mm, tall: 70 mm, ball: 160 g, balls: 2, closed: yes, vent: 6 mm, measured: outside}")  # fmt: skip
    (clay,) = of(pinch.replace("technique: slab", "technique: pinch"), PLATE_ROOM, group(easy=10)).clay
    assert (clay.lumps[0].slabs, clay.lumps[0].offcut_g, clay.lumps[0].solid_g) == ((), 0, pytest.approx(320))
    pot = PLATE.replace("flat: {outline: {circle: {across: 200 mm}}}", "coil_pot: {across: 110 mm, tall: 100 mm, coil: 10 mm, measured: outside}")
    kit = kit_of(pot.replace("technique: slab", "technique: coil"), PLATE_ROOM)
    (clay,) = quantities(kit, group(easy=10)).clay
    (lump,) = clay.lumps
    assert [slab.parts for slab in lump.slabs] == [("base",)]
    assert lump.cut_g == pytest.approx(kit.pieces[0].mass_g)
    assert lump.solid_g > 500


def test_what_it_dries_on_is_counted() -> None:
    found = of(PLATE.replace("technique: slab", "technique: slab\ndries_on: paper plate"), PLATE_ROOM, group(easy=28))
    assert found.dries_on is not None
    assert (found.dries_on.on, found.dries_on.count) == ("paper plate", 28)


def test_what_is_joined_on_is_no_thing_of_its_own() -> None:
    """A frame with a sill is one thing to dry and fire, and two stencils."""
    sill = PLATE.replace("across: 200 mm}}}}", "across: 200 mm}}, joins: [{name: Sill, rectangle: {wide: 60 mm, tall: 14 mm}}]}}").replace(
        "steps:", "  - {name: sill, flat: {outline: {rectangle: {wide: 60 mm, tall: 14 mm}}}}\ndries_on: paper plate\nsteps:"
    )
    found = of(sill, PLATE_ROOM, group(easy=28))
    assert (found.pieces, found.dries_on and found.dries_on.count, len(found.stencils)) == (28, 28, 2)


def test_a_slab_larger_than_the_room_can_roll() -> None:
    room = PLATE_ROOM + "slab: {wide: 200 mm, long: 600 mm}\n"
    (warning,) = of(PLATE, room, group(easy=28)).warnings
    assert warning.replace("\u00a0", " ").startswith("plate needs a slab of 240 mm x 240 mm, and the room rolls at most 200 mm x 600 mm:")


def test_the_log_s_own_losses() -> None:
    kit = kit_of(PLATE, PLATE_ROOM)
    found = quantities(kit, group(easy=28), lost=0.2)
    assert found.clay[0].remakes == 6
    assert "20 % of the pieces are lost and made again, by the log" in found.assumptions


def test_parts_lie_on_one_slab() -> None:
    """A wall of 267 x 102 with its base of 91 x 91 beside: in one row 267 + 5 + 91 is 363, lying 102 high; 383 x 122 with the margin is rolled
    as 390 x 130. One above the other would be 290 x 220."""
    (slab,) = slabs([Cut("wall", 267, 102, 267 * 102), Cut("base", 91, 91, 6504)], 6, 1.95)
    assert (slab.wide_mm, slab.tall_mm, slab.parts) == (390, 130, ("wall", "base"))


def test_as_many_slabs_as_can_be_rolled() -> None:
    found = slabs([Cut(f"side {index}", 110, 90, 9900) for index in range(10)], 6, 1.95, largest_mm=(260, 400))
    assert len(found) == 2
    assert all(slab.fits for slab in found)
    assert slabs([], 6, 1.95) == ()


@given(st.lists(st.tuples(st.floats(10, 300), st.floats(10, 300)), min_size=1, max_size=8))
@settings(max_examples=50, deadline=None)
def test_slabs_hold_their_parts(sizes: list[tuple[float, float]]) -> None:
    """Every part is on one slab; nothing is negative; a slab is at least as large as its parts, and no larger than all in one row."""
    cuts = [Cut(str(index), wide, tall, wide * tall) for index, (wide, tall) in enumerate(sizes)]
    found = slabs(cuts, 8, 1.95)
    assert sorted(name for slab in found for name in slab.parts) == sorted(cut.name for cut in cuts)
    assert all(slab.offcut_g > 0 and slab.mass_g == pytest.approx(slab.cut_g + slab.offcut_g) for slab in found)
    row = (sum(wide + BETWEEN_MM for wide, _ in sizes) + 30) * (max(tall for _, tall in sizes) + 30)
    assert sum(slab.wide_mm * slab.tall_mm for slab in found) <= row


@given(st.integers(1, 400))
@settings(max_examples=40, deadline=None)
def test_counts_are_whole_and_never_negative(people: int) -> None:
    found = of(PLATE, PLATE_ROOM, group(easy=people))
    (clay,) = found.clay
    counts = [found.slip_cups, found.tables, clay.bags, clay.balls, clay.spares, clay.remakes, *(one.copies for one in found.stencils)]
    assert all(isinstance(count, int) and count >= 0 for count in counts)
    assert clay.bags * 15 >= clay.balls + clay.remakes
    assert clay.left_g >= 0


def test_rounding_forgives_a_float() -> None:
    assert (up(2.0000000001), up(2.1), down(14.9999999999), down(15.9)) == (2, 3, 15, 15)
