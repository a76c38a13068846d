"""Every fault of a file at once, each at its place, in words for a teacher."""

from __future__ import annotations

import json

import pytest

from lessonkit.lesson.decode import decode
from lessonkit.lesson.lesson import Lesson
from lessonkit.lesson.room import Room
from lessonkit.lesson.starters import STARTERS, starter
from lessonkit.source.text import read_tree
from lessonkit.source.tree import scalars
from tests.lessons_for_tests import FRAME, ROOM, kit_of, problems_of


def test_four_faults_four_lines_each_at_its_place() -> None:
    faulty = FRAME.replace("about:", "abuot:").replace("160 mm", "160").replace("minutes: 8", "minutes: eight")
    lines = problems_of(faulty)
    assert [line.split(": error: ")[0] for line in lines] == ["lesson.yaml:1:1", "lesson.yaml:2:1", "lesson.yaml:8:34", "lesson.yaml:16:14"]
    assert lines[0].endswith("“about” is missing here. Add a line about: ...")
    assert "“abuot” is not a word that can stand here. Did you mean about?" in lines[1]
    assert "mm, cm or in" in lines[2]


@pytest.mark.parametrize(
    ("change", "told"),
    [
        (("{circle: {across: 160 mm}}", "{circl: {across: 160 mm}}"), "Did you mean circle?"),
        (("{circle: {across: 160 mm}}", "{circle: {across: 160 mm}, heart: {wide: 90 mm}}"), "expected one shape, found circle, heart."),
        (("technique: slab", "technique: slabs"), "Did you mean slab?"),
        (("pieces:", "pieces: none\nx:"), "expected a list, each item behind a dash, found “none”."),
        (("hang: {holes: 1, across: 4 mm}", "hang: {holes: 3, across: 4 mm}"), "expected 1 or 2 holes, found “3”."),
        (("hang: {holes: 1, across: 4 mm}", "hang: {holes: 2, across: 4 mm}"), "apart goes with two holes."),
        (("text: Cut the ring. It is {frame cut} wide.", "text: {a: b}"), "expected text, found a table"),
        (("text: Cut the ring. It is {frame cut} wide.", 'text: "  "'), "expected text, found an empty one."),
        (("    text: Cut the ring. It is {frame cut} wide.\n", ""), "a step needs words"),
        (("- {circle: {across: 85 mm}}", "- {circle: {across: 85 mm}, at: [0 mm]}"), "two values"),
        (("- {circle: {across: 85 mm}}", "- {shows: 4 x 6 in photo}"), "needs its lip"),
        (("- {circle: {across: 85 mm}}", "- {shows: a photo, lip: 6 mm}"), "expected a photo's size"),
        (("across: 85 mm", "across: 165 mm"), "the opening takes the whole piece."),
        (("title: Porthole", "title: \"Port\\u2603\\U0001F41F\""), "these characters cannot be printed"),
    ],
)
def test_a_fault_says_what_to_do(change: tuple[str, str], told: str) -> None:
    lines = problems_of(FRAME.replace(*change))
    assert any(told in line for line in lines), lines
    assert all(line.startswith("lesson.yaml:") for line in lines)


def test_c16_text_after_a_hash_is_told() -> None:
    lines = problems_of(FRAME.replace("title: Cut the ring", "title: Cut ring #3 # then smooth"))
    assert len(lines) == 1
    assert "warning: the text after # is left out." in lines[0]
    assert not problems_of(FRAME.replace("8\n", "8  # about eight\n"))


def test_every_value_is_a_text_for_people_or_one_of_the_rest() -> None:
    tree, _ = read_tree(FRAME.encode(), "lesson.yaml")
    assert tree
    written, _ = decode(tree, Lesson)
    assert written
    assert sorted([*written.prose, *written.rest], key=lambda at: at[1].span) == list(scalars(tree))
    assert {"Porthole", "Cut the ring"} <= {scalar.text for _, scalar in written.prose}
    assert {"slab", "160 mm", "8"} <= {scalar.text for _, scalar in written.rest}


def test_c13_plain_words_stay_words() -> None:
    kit = kit_of(FRAME.replace("title: Porthole", "title: Yes").replace("title: Cut the ring", "title: off"))
    assert (kit.lesson.title, kit.steps["easy"][0].title) == ("Yes", "off")
    assert kit_of(FRAME.replace("    minutes: 8\n", "    minutes: 8\n    together: yes\n")).steps["easy"][0].together is True


def test_c32_shrinkage_as_it_is_written() -> None:
    """12 and "12%" are the same; 0.12 is asked about; 0 is allowed; under 0 and 40 or more are refused."""
    for written in ("12", '"12%"', "12 %"):
        assert kit_of(FRAME, ROOM.replace("shrinkage: 12 %", f"shrinkage: {written}")).clay.shrinkage == 0.12
    assert kit_of(FRAME, ROOM.replace("shrinkage: 12 %", "shrinkage: 0")).clay.shrinkage == 0
    for written in ("0.12", "-5", "112", "40"):
        lines = problems_of(FRAME, ROOM.replace("shrinkage: 12 %", f"shrinkage: {written}"))
        assert any(line.startswith("room.yaml:7:") for line in lines), lines


def test_c02_paper_names() -> None:
    assert kit_of(FRAME, ROOM.replace("[A4, Letter]", "a4")).room.paper == ("A4",)
    (line,) = problems_of(FRAME, ROOM.replace("[A4, Letter]", "Leter"))
    assert "Letter" in line
    assert kit_of(FRAME, ROOM.replace("paper: [A4, Letter]\n", "")).room.paper == ("A4",)


@pytest.mark.parametrize("model", [Lesson, Room])
def test_the_schema_is_json_and_names_every_word(model: type[Lesson] | type[Room]) -> None:
    schema = json.loads(json.dumps(model.model_json_schema()))
    assert set(schema["properties"]) == set(model.model_fields)


@pytest.mark.parametrize("form", STARTERS)
def test_every_starter_builds_as_it_is(form: str) -> None:
    kit = kit_of(starter(form, "salt-star").decode())
    assert kit.lesson.title == "Salt star"
    assert not kit.problems


LONG = "ab" * 200


@pytest.mark.parametrize(
    ("lesson", "room"),
    [
        (FRAME.replace("about:", f"{LONG}: x\nabout:"), ROOM),
        (FRAME.replace("title: Cut the ring", f"title: {{all: Cut, {LONG}: Cut}}"), ROOM),
        (FRAME.replace("holes: 1", f"holes: {LONG}"), ROOM),
        (FRAME.replace("across: 160 mm}}", f"across: 160 mm}}, rounded: {{inside: {LONG}}}}}"), ROOM),
        (FRAME.replace("picture: trace", f"picture: trace\n    together: {LONG}"), ROOM),
        (FRAME.replace("name: frame", f"name: frame\n    count: {LONG}"), ROOM),
        (FRAME, ROOM + f"reading: {{{LONG}: {{grade: 3}}}}\n"),
        (FRAME, ROOM + f"groups: [{{name: Tuesday, levels: {{{LONG}: 3}}}}]\n"),
        (FRAME, ROOM.replace('highest_cone: "04"', f'highest_cone: "04", other_cones: {{{LONG}: 3 %}}')),
        (FRAME, ROOM + "name: |\n  two\n  lines\nread_from: |\n  six\n  miles\n"),
    ],
)
def test_what_she_typed_is_told_in_one_short_line(lesson: str, room: str) -> None:
    lines = [line for line in problems_of(lesson, room) if "error" in line]
    assert lines
    assert all("\n" not in line and len(line) < 500 for line in lines)
