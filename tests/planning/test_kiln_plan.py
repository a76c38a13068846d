"""The kiln's and the calendar's part of a plan, from a lesson and a room, as plain values for JSON."""

from __future__ import annotations

import json
from datetime import date

import pytest

from lessonkit.clay.firing import FiringError
from lessonkit.geometry.shape import bounds
from lessonkit.planning.calendar_plan import calendar_bytes, calendar_plan, dated, term_plan, today_plan
from lessonkit.planning.faults import PlanError
from lessonkit.planning.kiln_plan import drying_plan, kiln_plan, loads_needed
from lessonkit.planning.standing import footprint, standing
from lessonkit.planning.way import cones, way_of
from tests.lessons_for_tests import FRAME, POT, ROOM, kit_of, problems_of

KILN_ROOM = ROOM + """\
kiln: {name: Old Faithful, shelf: {round: 53 cm}, stack: 66 cm, starts: Mon-Fri, unloads: Mon-Fri, bisque_cone: "04"}
racks: {shelves: 10, wide: 120 cm, deep: 60 cm}
calendar: {country: US, sessions: Mon-Fri, term: 2027-03-01 to 2027-06-11}
groups:
  - {name: Monday makers, code: MM, people: 24, day: Mon}
  - {name: Friday makers, code: FM, people: 26, day: Fri}
"""  # fmt: skip
GIFT = FRAME + "dates: {in_hands: 2027-05-07, dry: 12 days, paint: one week Monday to Friday, wrap: 1}\n"

FORMS = {
    "cylinder: {across: 80 mm, tall: 95 mm, measured: outside}": (80, 80, 95),
    "oval: {wide: 140 mm, deep: 90 mm, tall: 60 mm, measured: outside}": (140, 90, 60),
    "cone: {bottom: 60 mm, top: 100 mm, tall: 110 mm, measured: outside}": (100, 100, 110),
    "dish: {bottom: 160 mm, rim: 250 mm, tall: 25 mm, measured: outside}": (250, 250, 25),
    "bowl: {rim: 200 mm, tall: 40 mm, measured: outside}": (200, 200, 40),
    "box: {wide: 90 mm, deep: 80 mm, tall: 100 mm, measured: outside}": (90, 80, 100),
    "many_sided: {sides: 6, across: 100 mm, tall: 80 mm, measured: outside}": (100, 100, 80),
    "many_sided: {sides: 4, flats: 100 mm, tall: 80 mm, lean: 10, measured: outside}": (169.6, 169.6, 80),  # 100 / cos 45° + 160 tan 10°
    "hut: {wide: 90 mm, deep: 90 mm, tall: 120 mm, eaves: 80 mm, gap: 1 mm, measured: outside}": (90, 90, 120),
    "pocket: {wide: 130 mm, tall: 180 mm, deep: 40 mm, measured: outside}": (130, 180, 40),  # it lies on its back
    "tray: {long: 180 mm, wide: 120 mm, tall: 30 mm, bottom: 120 mm, measured: outside}": (180, 120, 30),
    "coil_pot: {across: 110 mm, tall: 100 mm, coil: 10 mm, measured: outside}": (110, 110, 100),
    "pinch: {across: 80 mm, tall: 40 mm, ball: 180 g, measured: outside}": (80, 80, 40),
}


@pytest.mark.parametrize("form", FORMS)
def test_the_room_that_each_form_takes(form: str) -> None:
    """Its finished width, depth and height, as cut: fired / (1 - 12 %)."""
    kit = kit_of(POT.replace("cylinder: {across: 80 mm, tall: 95 mm, measured: outside}", form))
    outline, tall = footprint(kit.pieces[0], kit.lesson.pieces[0])
    left, bottom, right, top = bounds(outline)
    fired = [size * 0.88 for size in (right - left, top - bottom, tall)]
    assert fired == pytest.approx(FORMS[form], abs=0.5)


def test_a_flat_piece_takes_its_outline_and_its_thickness() -> None:
    kit = kit_of(FRAME)
    outline, tall = footprint(kit.pieces[0], kit.lesson.pieces[0])
    assert not outline.holes
    assert bounds(outline)[2] * 2 * 0.88 == pytest.approx(160, abs=0.01)
    assert tall == 8


def test_pieces_are_loaded_as_small_as_her_bars_dried() -> None:
    bars = '{name: buff mid-fire, cone: "6", bars: [{wet: 100 mm, dry: 95 mm, fired: 88 mm, cone: "6"}], highest_cone: "6"}'
    room = KILN_ROOM.replace('{name: buff mid-fire, cone: "6", shrinkage: 12 %, highest_cone: "6"}', bars)
    kit = kit_of(FRAME, room)
    (kind,), (said,) = standing(kit, kit.room.groups[0])
    assert bounds(kind.outline)[2] * 2 == pytest.approx(160 / 0.88 * 0.95, abs=0.02)
    assert "5.0 % smaller than cut" in said
    kit = kit_of(FRAME, KILN_ROOM)
    assert "nobody has measured" in standing(kit, kit.room.groups[0])[1][0]


def test_cones_of_the_two_firings() -> None:
    """Bisque usual at 06 to 04; low-fire work is bisque-fired at 04 and glazed at 06 (common practice, no source)."""
    low = FRAME.replace("buff mid-fire", "white low-fire")
    assert cones(kit_of(FRAME, KILN_ROOM)) == ("04", "6", ())
    assert cones(kit_of(low, KILN_ROOM))[:2] == ("04", "06")
    assert cones(kit_of(FRAME + "dates: {paint: none}\n", KILN_ROOM))[:2] == ("6", None)
    assert cones(kit_of(FRAME, KILN_ROOM.replace('bisque_cone: "04"', 'bisque_cone: "06"')))[:2] == ("06", "6")
    told = problems_of(FRAME, KILN_ROOM.replace('bisque_cone: "04"', "bisque_cone: hot"))
    assert any("“hot” is not a cone" in line for line in told)
    told = problems_of(FRAME, KILN_ROOM.replace('bisque_cone: "04"', 'bisque_cone: "018"'))
    assert any("cone 018 is too cool to bisque-fire clay" in line for line in told)
    assert "the room does not say its own" in cones(kit_of(FRAME))[2][0]


def test_a_plan_of_the_kiln() -> None:
    kit = kit_of(GIFT, KILN_ROOM)
    plan = kiln_plan([kit], kit.room.groups)
    assert json.loads(json.dumps(plan)) == plan
    assert [(firing["work"], firing["cone"], firing["days"]) for firing in plan["firings"]] == [("raw", "04", 2), ("glazed", "6", 2)]
    raw, glazed = plan["firings"]
    assert raw["programme"]["preheat_h"] == 12
    assert raw["programme"]["hours"] == pytest.approx(12 + 13.43, abs=0.01)  # as the controller guide prints the slow bisque
    assert glazed["programme"]["hours"] == pytest.approx(7.61, abs=0.01)
    for firing in plan["firings"]:
        (kind,) = firing["kinds"]
        assert (kind["name"], kind["count"], kind["highest_cone"]) == ("Porthole, frame", 50, "6")
        placed = [p for load in firing["loads"] for tier in load["tiers"] for shelf in tier["shelves"] for p in shelf]
        assert len(placed) == 50
        assert max(len(shelf) for load in firing["loads"] for tier in load["tiers"] for shelf in tier["shelves"]) == kind["per_shelf"]
    assert plan["racks"]["pieces"] == 172  # 50 a week, each 12 + 2 + 7 + 2 + 1 days inside
    assert "% full" in plan["warnings"][0]
    assert any("spares are not counted" in said for said in plan["assumptions"])


def test_a_low_fire_clay_in_a_hotter_load_is_refused_by_name() -> None:
    buff = kit_of(GIFT, KILN_ROOM)
    white = kit_of(FRAME.replace("buff mid-fire", "white low-fire").replace("Porthole", "Life-Ring"), KILN_ROOM)
    plan = kiln_plan([buff, white], buff.room.groups)
    assert [(firing["work"], firing["cone"], firing["lessons"]) for firing in plan["firings"]] == [
        ("raw", "04", ["Porthole", "Life-Ring"]),
        ("glazed", "6", ["Porthole"]),
        ("glazed", "06", ["Life-Ring"]),
    ]
    with pytest.raises(FiringError, match="Life-Ring, frame is of white low-fire, which stands only cone 04"):
        kiln_plan([buff, white], buff.room.groups, glaze_cone="6")


def test_a_room_without_a_kiln_or_groups() -> None:
    kit = kit_of(GIFT)
    plan = kiln_plan([kit], ())
    assert (plan["kiln"], plan["racks"], [firing["loads"] for firing in plan["firings"]]) == (None, None, [None, None])
    assert "no kiln" in plan["assumptions"][-1]
    assert loads_needed(kit, ()) == (1, 1)
    assert drying_plan(kit)["days"] == 12
    assert drying_plan(kit_of(POT))["days"] == 14  # it has seams
    found = calendar_plan(dated(kit_of(FRAME), ()))
    assert (found["earliest"], found["latest"], found["groups"]) == (None, None, [])
    assert "has no dates" in found["assumptions"][0]


def test_days_that_are_too_few_for_the_firing_are_told() -> None:
    kit = kit_of(GIFT, KILN_ROOM.replace("stack: 66 cm", "stack: 66 cm, bisque_days: 1, preheat: 2 h"))
    way = way_of(kit)
    assert way.bisque.programme.preheat_h == 8  # what 8 mm needs
    assert "1 day for the bisque firing: programme and cooling take about 46 h, which is 2 days" in way.warnings[0]
    assert way.lead.bisque_days == 1  # hers stands, with the warning


def test_the_calendar_of_a_gift() -> None:
    """Worked sum: in hands on Friday 7 May 2027, the last day to make is 9 April; Mother's Day is the Sunday after."""
    kit = kit_of(GIFT, KILN_ROOM)
    plan = dated(kit, kit.room.groups)
    found = calendar_plan(plan)
    assert json.loads(json.dumps(found)) == found
    assert (found["latest"]["last_make"], found["latest"]["in_hands"]) == ("2027-04-09", "2027-05-07")
    made = [(way["group"], way["pieces"], way["stages"][0]["last"]) for way in found["groups"]]
    assert made == [("MM", 24, "2027-04-05"), ("FM", 26, "2027-04-09")]
    assert found["special_days"] == [{"day": "2027-05-09", "name": "Mother's Day"}]
    assert [day["can"] for day in found["absent"] if day["day"] == "2027-04-14"] == ["make it thinner"]
    assert found["warnings"] == []
    assert {"12 drying days, as the lesson or the log says", "public holidays of US are closed", "classes Mon-Fri"} <= set(found["assumptions"])
    today = today_plan([plan], date(2027, 4, 21))
    assert [(job["do"], job["groups"], job["pieces"]) for job in today["jobs"]] == [("load bisque", ["MM", "FM"], 50)]
    assert today_plan([plan], date(2027, 5, 31))["closed"] == "Memorial Day"
    # 4 for each group, 3 for each firing, 2 of painting, wrapping and handing back
    assert calendar_bytes([plan], "Saltmarsh").count(b"BEGIN:VEVENT") == 18


def test_c38_late_and_never_dried_for_less() -> None:
    """Case as written: ready 17 May, 8 days late, last making day 24 April; thick work is told to be hollowed."""
    thick = FRAME.replace("technique: slab", "technique: slab\nthickness: 20 mm")
    kit = kit_of(thick + "dates: {make: 2025-05-02, in_hands: 2025-05-09, dry: 10, bisque: 2, paint: 1 day, glaze: 2}\n")
    found = calendar_plan(dated(kit, ()))
    assert found["late"] == {"days_late": 8, "ready": "2025-05-17", "last_make": "2025-04-24", "drying_days": 2.0, "thickest_mm": None}
    assert found["warnings"][0] == "8 days late; last making day 2025-04-24. Drying is not shortened."
    assert any("hollow it, or give it more days" in said for said in found["assumptions"])


def test_what_is_late_names_what_would_be_in_time() -> None:
    kit = kit_of(GIFT.replace("in_hands: 2027-05-07", "make: 2027-04-14, in_hands: 2027-05-07"), KILN_ROOM)
    plan = dated(kit, kit.room.groups)
    assert plan.followed is plan.earliest
    assert "last making day 2027-04-09. Work up to 6 mm thick would be dry in time." in calendar_plan(plan)["warnings"][0]


def test_a_term_of_two_lessons() -> None:
    tile, pot = kit_of(FRAME, KILN_ROOM), kit_of(POT, KILN_ROOM)
    found = term_plan([tile, pot], tile.room.groups)
    assert json.loads(json.dumps(found)) == found
    assert [row["group"] for row in found["groups"]] == ["MM", "FM"]
    classes = [(c["make"], c["paint"]) for week in found["groups"][0]["weeks"] for c in week["classes"]]
    assert classes[:2] == [("Porthole", None), ("Reed Pot", None)]
    assert [paint for _, paint in classes if paint] == ["Porthole", "Reed Pot"]
    assert found["firings"] == {"bisque": 2, "glaze": 2, "fit": 4, "enough": True}
    assert found["warnings"] == []
    with pytest.raises(PlanError, match="has no term"):
        term_plan([kit_of(FRAME)], ())
