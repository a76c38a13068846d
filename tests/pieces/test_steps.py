"""Steps by level, and case C40: one room, three levels."""

from __future__ import annotations

import pytest

from tests.lessons_for_tests import FRAME, ROOM, kit_of, problems_of

THREE = FRAME[: FRAME.index("steps:")] + """\
steps:
  - {id: wedge, title: Wedge, minutes: 3, text: Wedge the ball.}
  - {id: roll, title: Roll, minutes: {all: 6, advanced: 9}, text: Roll the slab., safety: Mind the sticks.}
  - {id: plan, title: Plan, minutes: 2, only: [advanced], text: Draw first.}
  - {id: cut, title: Cut, minutes: 8, text: Cut the ring.}
  - {id: carve, title: Carve, minutes: 8, only: [standard, advanced], text: Carve a line., safety: Carve away from your hand.}
  - {id: wash, title: Wash up, minutes: 2, text: Wipe the table.}
"""
THREE_LEVELS = ROOM.replace("levels: {easy: New to this,", "levels: {easy: New to this, standard: Some practice,")


def test_c40_numbers_follow_the_shared_order() -> None:
    kit = kit_of(THREE, THREE_LEVELS)
    numbers = {level: [step.number for step in steps] for level, steps in kit.steps.items()}
    assert numbers == {"easy": ["1", "2", "3", "5"], "standard": ["1", "2", "3", "4", "5"], "advanced": ["1", "2", "2a", "3", "4", "5"]}
    assert [step.next for step in kit.steps["easy"]] == ["", "", "5", ""]
    assert not any(step.next for level in ("standard", "advanced") for step in kit.steps[level])


def test_c40_unchanged_steps_are_identical_and_minutes_can_differ() -> None:
    kit = kit_of(THREE, THREE_LEVELS)
    texts = {level: {step.id: step.text for step in steps} for level, steps in kit.steps.items()}
    assert texts["easy"]["cut"] == texts["advanced"]["cut"] == "Cut the ring."
    assert {level: steps[1].minutes for level, steps in kit.steps.items()} == {"easy": 6, "standard": 6, "advanced": 9}


def test_c40_a_dropped_step_keeps_its_safety_note() -> None:
    kit = kit_of(THREE, THREE_LEVELS)
    for level in ("easy", "standard", "advanced"):
        told = [note for step in kit.steps[level] for note in step.safety]
        assert told == ["Mind the sticks.", "Carve away from your hand."]


def test_a_step_that_names_no_piece_shows_the_first_of_its_level() -> None:
    pieces = """\
pieces:
  - {name: plain, levels: easy, flat: {outline: {circle: {across: 90 mm}}}}
  - {name: starred, levels: advanced, flat: {outline: {circle: {across: 80 mm}}}}
  - {name: tag, flat: {outline: {circle: {across: 50 mm}}}}
steps:
  - {id: cut, title: Cut, minutes: 2, text: Cut it.}
  - {id: hang, title: Hang, minutes: 2, piece: tag, text: Hang it.}
"""
    kit = kit_of(FRAME[: FRAME.index("pieces:")] + pieces)
    shown = {level: [step.piece.name for step in steps] for level, steps in kit.steps.items()}
    assert shown == {"easy": ["plain", "tag"], "advanced": ["starred", "tag"]}


def test_c40_ten_comes_after_nine() -> None:
    steps = "".join(f"  - {{id: s{n}, title: Step, minutes: 1, text: Do it.}}\n" for n in range(12))
    kit = kit_of(FRAME[: FRAME.index("steps:")] + "steps:\n" + steps)
    assert [step.number for step in kit.steps["easy"]] == [str(n) for n in range(1, 13)]


def test_unknown_level_piece_station_word_and_picture_are_errors() -> None:
    lines = "\n".join(problems_of(THREE.replace("only: [advanced]", "only: [advnced]").replace("title: Wedge,", "title: Wedge, picture: weddge, piece: fram, word: slip, station: Join,")))  # fmt: skip  # noqa: E501
    for told in ("no level called “advnced”. Did you mean advanced?", "no picture called “weddge”. Did you mean wedge?",
                 "no piece called “fram”. Did you mean frame?", "no word called “slip”", "no station called “Join”"):  # fmt: skip
        assert told in lines


def test_fill_ins_print_sizes_for_hands() -> None:
    assert kit_of(FRAME).steps["easy"][0].text == "Cut the ring. It is 182\u00a0mm wide."
    inches = ROOM.replace("paper:", "units: in\npaper:")
    assert kit_of(FRAME, inches).steps["easy"][0].text == "Cut the ring. It is 7\u00a03/16\u00a0in wide."


def test_braces_and_unknown_fill_ins() -> None:
    assert kit_of(FRAME.replace("{frame cut}", "{{wide}}")).steps["easy"][0].text == "Cut the ring. It is {wide} wide."
    (line,) = problems_of(FRAME.replace("{frame cut}", "{frame cot}"))
    assert "there is no size called {frame cot}. Did you mean {frame cut}?" in line
    assert line.startswith("lesson.yaml:17:11: error:")
    long = f"frame of {'very ' * 12}thin clay"
    (line,) = problems_of(FRAME.replace("name: frame", f"name: {long}").replace("{frame cut}", f"{{{'x' * 100}}}"))
    assert "called {xxxxxxxxxxxxxxxxxxxxxxxxx…xxxxxxxxxxxxxxx}. There are: {clay}, {cone}, {frame of very very very v…clay across cut}, " in line
    assert len(line) < 600


def test_a_level_without_steps_has_no_cards() -> None:
    kit = kit_of(FRAME.replace("    text: Cut the ring. It is {frame cut} wide.", "    only: [advanced]\n    text: Cut it."))
    assert kit.steps["easy"] == ()
    assert [step.number for step in kit.steps["advanced"]] == ["0a"]


def test_a_step_without_a_picture_gets_the_one_of_its_verb_or_a_warning() -> None:
    lesson = FRAME.replace("    picture: trace\n", "")
    assert kit_of(lesson.replace("title: Cut the ring", "title: Punch a hole")).steps["easy"][0].picture == "hole"
    assert not problems_of(lesson)
    (line,) = problems_of(lesson.replace("title: Cut the ring", "title: Hum a tune").replace("Cut the ring.", "Hum for a minute."))
    assert "warning: no picture is named for “cut”" in line


@pytest.mark.parametrize(
    ("word", "usual", "of_one"),
    [
        ("title", "title: Cut the ring", "title: {easy: Cut it}"),
        ("minutes", "minutes: 8", "minutes: {easy: 8}"),
        ("text", "text: Cut the ring. It is {frame cut} wide.", "levels: {easy: Cut it.}\n    only: [easy, advanced]"),
    ],
)
def test_a_level_that_does_a_step_has_its_title_its_words_and_its_minutes(word: str, usual: str, of_one: str) -> None:
    (line,) = problems_of(FRAME.replace(usual, of_one))
    assert f"error: step “cut” has no {word} for advanced." in line
    assert not problems_of(FRAME.replace(usual, of_one.replace(", advanced", "")) + ("" if "only" in of_one else "    only: [easy]\n"))


def test_more_steps_of_one_level_than_there_are_letters() -> None:
    own = "".join(f"  - {{id: s{n}, title: Roll, minutes: 1, only: [advanced], text: Roll the slab.}}\n" for n in range(28))
    kit = kit_of(FRAME + own)
    assert [step.number for step in kit.steps["advanced"]][-3:] == ["1z", "1aa", "1ab"]
    assert not any(step.next for step in kit.steps["advanced"])


def test_sticks_that_the_room_does_not_have_say_nothing() -> None:
    (line,) = problems_of(FRAME.replace("{frame cut}", "{stick}") + "thickness: 7 mm\n")
    assert "warning: the room has no sticks as thick as this slab, so {stick} says nothing." in line
    assert not problems_of(FRAME.replace("{frame cut}", "{stick}") + "thickness: 6 mm\n")
