"""A shrinkage belongs to its cone; a clay fired too hot melts."""

from __future__ import annotations

from tests.lessons_for_tests import FRAME, ROOM, kit_of, problems_of, worked


def test_a_lesson_fired_hotter_than_its_clay_stands_is_refused() -> None:
    lines = problems_of(FRAME.replace("clay: buff mid-fire", 'clay: white low-fire\ncone: "6"'))
    assert lines == [
        "lesson.yaml:5:7: error: this lesson is fired to cone 6, but white low-fire stands only cone 04: it would melt onto the shelf."
        " Choose another clay (clay: or --clay), or a cooler cone."
    ]


def test_a_cone_without_its_shrinkage_is_refused_until_it_is_measured() -> None:
    (line,) = problems_of(FRAME.replace("clay: buff mid-fire", 'clay: buff mid-fire\ncone: "04"'))
    assert "has its shrinkage at cone 6, and this lesson is fired to cone 04" in line
    assert "Fire a test bar to cone 04" in line


def test_another_cone_has_its_own_shrinkage() -> None:
    room = ROOM.replace('shrinkage: 12 %, highest_cone: "6"', 'shrinkage: 12 %, highest_cone: "6", other_cones: {"04": 7 %}')
    kit = kit_of(FRAME.replace("clay: buff mid-fire", 'clay: buff mid-fire\ncone: "04"'), room)
    assert (kit.clay.cone, kit.clay.shrinkage) == ("04", 0.07)


def test_a_clay_measured_above_its_highest_cone_is_refused() -> None:
    lines = problems_of(FRAME, ROOM.replace('"6", shrinkage: 12 %, highest_cone: "6"', '"7", shrinkage: 12 %, highest_cone: "6"'))
    assert any(line.startswith("room.yaml:7:33: error: buff mid-fire is fired to cone 7, above its highest, cone 6.") for line in lines)


def test_unknown_clay_and_cone_are_named_with_the_nearest() -> None:
    assert "Did you mean buff mid-fire?" in problems_of(FRAME.replace("clay: buff mid-fire", "clay: buf midfire"))[0]
    assert "“66” is not a cone" in problems_of(FRAME.replace("clay: buff mid-fire", "clay: buff mid-fire\ncone: 66"))[0]


def test_without_a_room_a_sensible_one_is_assumed_and_said() -> None:
    kit, problems = worked(FRAME, None)
    assert kit is not None
    assert not problems
    assert kit.clay.shrinkage == 0.12
    assert "Assumed: clay that shrinks 12 % at cone 6" in kit.assumed[0]


def test_the_code_changes_with_the_clay_and_with_the_content_only() -> None:
    first = kit_of(FRAME).code
    assert kit_of(FRAME).code == first
    assert kit_of(FRAME + "\n# a remark\n").code == first
    assert kit_of(FRAME, clay="white low-fire").code != first
    assert kit_of(FRAME.replace("85 mm", "84 mm")).code != first
    assert len(first) == 4


def test_bars_that_no_clay_makes_are_refused() -> None:
    bars = ROOM.replace('cone: "6", shrinkage: 12 %', 'cone: "6", bars: [{bars}]')
    bar = '{wet: 100 mm, fired: %s, cone: "6"}'
    (line,) = problems_of(FRAME, bars.replace("{bars}", bar % "10 mm"))
    assert "error: this bar lost 90 % from 100 mm to 10 mm, and no clay does." in line
    (line,) = problems_of(FRAME, bars.replace("{bars}", ", ".join(bar % fired for fired in ("95 mm", "88 mm", "62 mm"))))
    assert "error: the test bars of buff mid-fire shrank from 5.0 to 38.0 %, too far apart to tell what it does next." in line
