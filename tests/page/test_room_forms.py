"""What was measured goes into the room file, and comes back from it."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from lessonkit.build import Source, sound_room
from lessonkit.lesson.room import Room, assumed_room
from lessonkit.page import lessons
from lessonkit.page.asked import RoomForm
from lessonkit.page.desk import Desk
from lessonkit.page.refused import Refused
from lessonkit.page.room_forms import fill_in, forms
from tests.lessons_for_tests import ROOM
from tests.page.desk_for_tests import LESSONS, Browser, desk_in


def filled(desk: Desk, form: str, trying: bool = False, **values: str) -> Any:
    mark = forms(desk)["mark"]
    values = {name.replace("_", "."): text for name, text in values.items()}
    return fill_in(desk, RoomForm.model_validate({"mark": mark, "form": form, "values": values, "try": trying}))


def room_of(desk: Desk) -> Room:
    room, problems = sound_room(Source("room.yaml", text_of(desk).encode()))
    assert room is not None, problems
    return room


def text_of(desk: Desk) -> str:
    return (desk.folder / "room.yaml").read_text()


def written(desk: Desk, form: str) -> dict[str, str]:
    return {field["name"]: field["written"] for shown in forms(desk)["forms"] if shown["id"] == form for field in shown["fields"]}


def bars(**sizes: str) -> dict[str, str]:
    return {f"_{name}": size for name, size in sizes.items()}


def test_the_print_check_goes_into_the_room_and_comes_back(desk: Desk) -> None:
    assert written(desk, "print-check") == {"across": "", "down": ""}
    answer = filled(desk, "print-check", across="179.4 mm", down="199 mm")
    assert answer["problems"] == []
    assert answer["result"] == "Your printer makes 99.67 % across and 99.5 % down of every length. All papers are drawn for that."
    assert text_of(desk) == ROOM + "printed: {across: 179.4 mm, down: 199 mm}\n"
    assert answer["mark"] == forms(desk)["mark"]
    assert written(desk, "print-check") == {"across": "179.4 mm", "down": "199 mm"}
    printed = room_of(desk).printed
    assert printed is not None
    assert printed.scale == (179.4 / 180, 199 / 200)
    filled(desk, "print-check", down="199.5 mm")
    assert text_of(desk) == ROOM + "printed: {across: 179.4 mm, down: 199.5 mm}\n"


def test_what_is_only_tried_is_not_written(desk: Desk) -> None:
    answer = filled(desk, "print-check", trying=True, across="180 mm", down="200 mm")
    assert answer["result"].startswith("Your printer makes 100 % across")
    assert text_of(desk) == ROOM


@pytest.mark.parametrize(
    ("values", "field", "words"),
    [
        ({"across": "179 mm"}, "down", "needed too"),
        ({"down": "199 mm"}, "across", "needed too"),
        ({"across": "170 mm", "down": "199 mm"}, "across", "94.4 %"),
        ({"across": "179", "down": "199 mm"}, "across", "no unit"),
        ({"across": "179 mm", "down": "a\tb"}, None, "one line"),
    ],
)
def test_what_can_not_be_is_told_at_its_field(desk: Desk, values: dict[str, str], field: str | None, words: str) -> None:
    answer = filled(desk, "print-check", **values)
    (problem,) = answer["problems"]
    assert (problem["field"], answer["result"]) == (field, "")
    assert words in problem["what"]
    assert problem["hint"]
    assert text_of(desk) == ROOM


def test_nothing_typed_is_nothing_written(desk: Desk) -> None:
    assert filled(desk, "print-check")["result"].startswith("Nothing is filled in yet")
    assert filled(desk, "test-bars-1")["result"] == "buff mid-fire shrinks 12 % at cone 6, from the bag, unmeasured."
    assert text_of(desk) == ROOM


def test_the_first_bars_of_a_clay_at_every_stage(tmp_path: Path) -> None:
    """Wet today, dry next week, fired the week after; then the figure on the bag is emptied."""
    desk = desk_in(tmp_path / "lessons")
    text = LESSONS.joinpath("room.yaml").read_text()
    begin, end = text.index("    bars:\n"), text.index('    highest_cone: "04"')
    (desk.folder / "room.yaml").write_text(text[:begin] + "    shrinkage: 12 %   # on the bag\n" + text[end:])
    one = filled(desk, "test-bars-0", **{"0_wet": "100 mm", "1_wet": "100 mm", "2_wet": "100.5 mm", "date": "12 May 2027"})
    assert one["problems"] == []
    assert "No bar has had its last firing yet" in one["result"]
    added = text_of(desk)[begin:].split("\n")[1:5]
    assert added == [
        "    bars:",
        '      - {wet: 100 mm, cone: "04", date: 12 May 2027}',
        '      - {wet: 100 mm, cone: "04", date: 12 May 2027}',
        '      - {wet: 100.5 mm, cone: "04", date: 12 May 2027}',
    ]
    assert filled(desk, "test-bars-0", **{"0_dry": "95.2 mm", "1_dry": "95 mm", "2_dry": "95.4 mm"})["problems"] == []
    assert '      - {wet: 100.5 mm, dry: 95.4 mm, cone: "04", date: 12 May 2027}\n' in text_of(desk)
    fired = {"0_fired": "94 mm", "1_fired": "94.1 mm", "2_fired": "94.4 mm"}
    (problem,) = filled(desk, "test-bars-0", **fired)["problems"]
    assert problem["what"] == "the test bars of white low-fire shrank 6.0 %, but the file also says 12 %."
    last = filled(desk, "test-bars-0", **fired, shrinkage="")
    assert last["problems"] == []
    assert last["result"].startswith("white low-fire shrinks 5.99 % at cone 04, from 3 test bars, the next piece between ")
    assert "    # on the bag\n" in text_of(desk)
    (clay, *_) = room_of(desk).clays
    assert clay.shrinkage is None
    assert [(bar.wet.text, bar.dry and bar.dry.text, bar.fired and bar.fired.text, bar.cone) for bar in clay.bars] == [
        ("100 mm", "95.2 mm", "94 mm", "04"),
        ("100 mm", "95 mm", "94.1 mm", "04"),
        ("100.5 mm", "95.4 mm", "94.4 mm", "04"),
    ]
    comments = [line for line in text.split("\n") if line.startswith("#")]
    assert [line for line in text_of(desk).split("\n") if line.startswith("#")] == comments
    shown = written(desk, "test-bars-0")
    assert [shown[f"{bar}.fired"] for bar in range(4)] == ["94 mm", "94.1 mm", "94.4 mm", ""]
    assert filled(desk, "test-bars-0", **{"3_wet": "100 mm", "3_fired": "94.2 mm"})["problems"] == []
    assert len(room_of(desk).clays[0].bars) == 4


def test_a_bar_that_grows_or_lacks_its_wet_length(desk: Desk) -> None:
    (problem,) = filled(desk, "test-bars-1", **{"0_wet": "100 mm", "0_fired": "108 mm"})["problems"]
    assert problem["what"] == "this bar grows from 100 mm to 108 mm."
    (problem,) = filled(desk, "test-bars-1", **{"0_fired": "88 mm"})["problems"]
    assert problem["field"] == "0.wet"
    (problem,) = filled(desk, "test-bars-1", **{"0_wet": "100 mm", "cone": ""})["problems"]
    assert problem["field"] == "cone"
    (problem,) = filled(desk, "test-bars-1", **{"0_wet": "100"})["problems"]
    assert "no unit" in problem["what"]
    assert text_of(desk) == ROOM


def test_a_stage_typed_wrong_can_be_emptied(desk: Desk) -> None:
    assert filled(desk, "test-bars-1", **{"0_wet": "100 mm", "0_dry": "94 mm"})["problems"] == []
    assert filled(desk, "test-bars-1", **{"0_dry": ""})["problems"] == []
    assert room_of(desk).clays[1].bars[0].dry is None


def test_through_the_server(browser: Browser, desk: Desk) -> None:
    room = browser.get("/room").value
    assert [form["id"] for form in room["forms"]] == ["print-check", "test-bars-0", "test-bars-1"]
    body = {"mark": room["mark"], "form": "print-check", "values": {"across": "179.4 mm", "down": "199 mm"}, "try": False}
    reply = browser.post("/room", body)
    assert (reply.status, reply.value["problems"]) == (200, [])
    again = browser.post("/room", body)  # the other window
    assert again.status == 409
    assert "changed meanwhile" in again.value["error"]["what"]
    assert browser.post("/room", {**body, "form": "test-bars-7", "mark": reply.value["mark"]}).status == 400
    for form, name in (("print-check", "print-check-a4.pdf"), ("test-bars-1", "test-bars.pdf")):
        paper = browser.post("/room/paper", {"form": form})
        assert paper.headers["Content-Disposition"].startswith(f'attachment; filename="{name}"')
        assert paper.data.startswith(b"%PDF")


def test_where_there_is_no_room_yet_one_is_begun(tmp_path: Path) -> None:
    """With what was assumed until then, in words that she can change."""
    desk = desk_in(tmp_path / "lessons", with_room=False)
    assert [form["title"] for form in forms(desk)["forms"]] == ["Your printer", "Test bars: clay"]
    assert filled(desk, "print-check", trying=True, across="179.4 mm", down="199 mm")["problems"] == []
    assert not (desk.folder / "room.yaml").exists()
    mark = forms(desk)["mark"]
    assert filled(desk, "print-check", across="179.4 mm", down="199 mm")["problems"] == []
    assumed = Room.model_validate(assumed_room())
    assert room_of(desk).model_dump(exclude={"printed"}) == assumed.model_dump(exclude={"printed"})
    assert text_of(desk).startswith("# What is true of every lesson")
    assert not lessons.shelf(desk)["room"]["assumed"]
    assert filled(desk, "test-bars-0", **{"0_wet": "100 mm", "0_fired": "88.2 mm"})["problems"] == []
    with pytest.raises(Refused, match="changed meanwhile"):  # the other window
        fill_in(desk, RoomForm.model_validate({"mark": mark, "form": "print-check", "values": {"across": "180 mm", "down": "200 mm"}}))


def test_a_faulty_room(tmp_path: Path) -> None:
    desk = desk_in(tmp_path / "lessons")
    (desk.folder / "room.yaml").write_text("kind: room\n")
    with pytest.raises(Refused, match=r"room\.yaml:1:1: “name” is missing here"):
        forms(desk)
