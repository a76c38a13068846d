"""`lessonkit plan` as a teacher meets it: the numbers that were promised, each stated with what it assumes."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result
from icalendar import Calendar

from lessonkit.cli.commands import main
from lessonkit.cli.files import lesson_paths

ROOM = """\
kind: room
name: Saltmarsh Clay Room
levels: {easy: New to this, advanced: Done this before}
clays:
  - {name: white low-fire, cone: "04", shrinkage: 6 %, highest_cone: "04", density: 1.9}
  - {name: buff mid-fire, cone: "6", shrinkage: 12 %, highest_cone: "6"}
sticks: [{name: grey, thick: 6.5 mm}]
minutes: {period: 50, arrive: 4, show: 8, clean: 8, leave: 2}
stations: [{name: Table, places: 28}, {name: Check, places: 3}]
kiln: {shelf: {round: 530 mm}, stack: 660 mm, starts: Mon-Fri, unloads: Mon-Fri, bisque_days: 2, glaze_days: 2}
calendar: {country: US, sessions: Mon-Fri, wrap_days: 1}
groups:
  - {name: Tuesday morning, code: A, levels: {easy: 14, advanced: 14}, access: [large print at table 2]}
  - {name: Thursday, people: 15}
"""
PLATE = """\
title: Full-Moon Plate
about: A flat plate.
technique: slab
pieces:
  - {name: plate, flat: {outline: {circle: {across: 200 mm}}}}
steps:
  - {id: cut, title: Cut the plate, station: Table, minutes: 13, text: Cut it.}
  - {id: show, title: Show, station: Check, minutes: 2, text: Show it.}
dates: {in_hands: 2027-05-07, dry: 12, paint: one week Monday to Friday}
"""


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    (tmp_path / "room.yaml").write_text(ROOM)
    (tmp_path / "plate.yaml").write_text(PLATE)
    return tmp_path


def run(*words: str) -> Result:
    return CliRunner().invoke(main, ["plan", *words])


def planned(*words: str) -> Any:
    result = run(*words, "--json")
    assert result.exit_code == 0, result.output
    return json.loads(result.stdout)


def test_every_topic_says_what_it_assumes(folder: Path) -> None:
    found = planned("plate.yaml")
    assert found["format"] == 1
    for topic in ("quantities", "minutes", "stations", "drying", "kiln", "calendar"):
        assert found[topic]["assumptions"], topic
    assert found == planned("plate.yaml")


def test_31_balls_and_3_bags(folder: Path) -> None:
    """28 people and 3 spares; 711 g of slab and 5 % are 747 g, 15 from a bag of 25 lb (summed by hand; common practice)."""
    needs = planned("plate.yaml", "--group", "A")["quantities"]
    (clay,) = needs["each"][0]["clay"]
    assert (clay["balls"], round(clay["lumps"][0]["ball_g"]), clay["lumps"][0]["balls_a_bag"], clay["bags"]) == (31, 747, 15, 3)
    assert needs["order"][0]["bags"] == 3


def test_two_groups_share_their_bags(folder: Path) -> None:
    """33 and 18 balls (15, 2 spares, 1 lost), 15 a bag: 3 and 2 bags alone, and 4 together: 51 balls."""
    needs = planned("plate.yaml")["quantities"]
    assert [one["clay"][0]["bags"] for one in needs["each"]] == [3, 2]
    assert (needs["order"][0]["balls"], needs["order"][0]["bags"]) == (51, 4)


def test_reclaimed_clay_is_not_ordered(folder: Path) -> None:
    """51 balls of 747 g are 38.1 kg, by weight 4 bags of 11.34 kg; less a quarter 28.6 kg, 3 bags."""
    for rule, bags in (("pooled: yes", 4), ("reclaimed: 25 %", 3)):
        (folder / "room.yaml").write_text(ROOM + f"buying: {{{rule}}}\n")
        (order,) = planned("plate.yaml")["quantities"]["order"]
        assert order["bags"] == bags
        assert order["assumptions"][0] == "by weight: what is left of a bag is pooled"


def test_28_people_at_a_check_of_45_s(folder: Path) -> None:
    """Steps of 13 minutes leave 15 of 28 for the check: the last is served at 21:00 after 20:15, 20 are seen and 8 wait."""
    check = planned("plate.yaml", "--group", "A")["stations"]["each"][0]["check"]
    assert (check["last_served_min"], check["longest_wait_min"], check["time_min"], check["seen"], check["waiting"]) == (21, 20.25, 15, 20, 8)


def test_a_gift_in_hands_on_7_may(folder: Path) -> None:
    """Counted back by hand over a printed calendar of 2027: 12 drying days, bisque 2, one week of painting, glaze 2, wrap 1: 9 April."""
    (dates,) = planned("plate.yaml", "--group", "A")["calendar"]["each"]
    assert dates["latest"]["last_make"] == "2027-04-09"
    text = run("plate.yaml", "--group", "A").output
    assert "last day to make, to be in hands on Fri 7 May 2027: Fri 9 April 2027" in text


def test_low_fire_clay_in_a_hotter_load_is_refused_by_name(folder: Path) -> None:
    (folder / "cup.yaml").write_text(PLATE.replace("Full-Moon Plate", "Cup").replace("technique", "clay: buff mid-fire\ntechnique"))
    result = run("plate.yaml", "cup.yaml", "--group", "A", "--glaze-cone", "6", "--json")
    assert result.exit_code == 1
    error = json.loads(result.stdout)["kiln"]["error"]["what"]
    assert "fired to cone 6" in error
    assert "Full-Moon Plate, plate is of white low-fire, which stands only cone 04" in error
    assert "Cup" not in error
    assert "kiln: error: this load is fired to cone 6" in result.stderr
    assert json.loads(result.stdout)["quantities"]["each"]


def test_what_a_tired_teacher_reads(folder: Path) -> None:
    text = run("plate.yaml", "--group", "A").output.replace("\u00a0", " ")
    words = " ".join(text.split())
    for part in (
        "Full-Moon Plate",
        "a ball of 747 g, 15 a bag; roll 240 mm x 240 mm, 6.5 mm thick",
        "weigh 31 balls, with 3 spares, and 2 more for what is lost: 3 bags of 25 lb (11.3 kg)",
        "28 at a check of 45 s are 21 min. If all come at once, 20 are seen and 8 wait",
        "note: large print at table 2",
        "New to this ....ssssssss111111111111122 cccccccc..",
        "Assumed",
    ):
        assert part in words, part
    assert max(map(len, text.splitlines())) <= 106


def test_today(folder: Path) -> None:
    """On the last day to make: making and covering, half a page."""
    text = run("plate.yaml", "--today", "2027-04-09").output
    assert text.startswith("Fri 9 April 2027\n")
    assert "Full-Moon Plate, A" in text
    assert len(text.splitlines()) < 25
    assert "Nothing to do." in run("plate.yaml", "--today", "2027-01-02").output
    assert planned("plate.yaml", "--today", "2027-04-09")["calendar"]["today"]["jobs"]


def test_the_calendar_file_is_read_by_another_reader(folder: Path) -> None:
    """The same plan gives the same bytes; icalendar reads the events back."""
    assert run("plate.yaml", "--ics", "a.ics").exit_code == run("plate.yaml", "--ics", "b.ics").exit_code == 0
    data = (folder / "a.ics").read_bytes()
    assert data == (folder / "b.ics").read_bytes()
    events = Calendar.from_ical(data).walk("VEVENT")
    assert any(str(event["SUMMARY"]).startswith("Full-Moon Plate: make") for event in events)


def test_the_log_replaces_the_usual_figures(folder: Path) -> None:
    """26 of 28 pieces survived, and cutting took 20 minutes: 7.1 % are lost, 2 to make again; the check has 8 minutes left."""
    entry = "kind: log\nclasses:\n  - {lesson: full-moon plate, made_on: 2027-03-02, made: 28, lost: 2, minutes: {cut: 20}}\n"
    (folder / "log.yaml").write_text(entry)
    found = planned("plate.yaml", "--group", "A", "--log", "log.yaml")
    assert found["stations"]["each"][0]["check"]["time_min"] == 8
    assert found["quantities"]["each"][0]["clay"][0]["remakes"] == 2
    assert any("by the log" in line for line in found["quantities"]["assumptions"])
    assert any("minutes of cut are your own" in line for line in found["minutes"]["assumptions"])
    (folder / "log.yaml").write_text(entry.replace("cut:", "cutt:"))
    result = run("plate.yaml", "--log", "log.yaml")
    assert result.exit_code == 1
    assert "Did you mean cut?" in result.stderr


def test_a_log_is_no_lesson(folder: Path) -> None:
    (folder / "log.yaml").write_text("kind: log\n")
    assert [path.name for path in lesson_paths([folder])] == ["plate.yaml"]


def test_without_a_room_a_group_is_assumed(folder: Path) -> None:
    (folder / "room.yaml").unlink()
    (folder / "plate.yaml").write_text(PLATE.replace("station: Table, ", "").replace("station: Check, ", ""))
    found = planned("plate.yaml")
    assert found["groups"] == [{"group": "a group of 24", "tag": "a group of 24", "people": 24}]
    assert found["quantities"]["assumptions"][0].startswith("No room file was found.")
    assert any(line.startswith("a group of 24 is assumed") for line in found["quantities"]["assumptions"])


def test_a_room_without_groups_has_as_many_as_its_largest_station(folder: Path) -> None:
    (folder / "room.yaml").write_text(ROOM[: ROOM.index("groups:")])
    assert planned("plate.yaml")["groups"][0]["people"] == 28


def test_wrong_use(folder: Path) -> None:
    (folder / "elsewhere").mkdir()
    (folder / "elsewhere" / "room.yaml").write_text(ROOM.replace("Saltmarsh", "Second Saltmarsh"))
    (folder / "elsewhere" / "cup.yaml").write_text(PLATE)
    for words, told in (
        (("plate.yaml", "--group", "Thorsday"), "Did you mean Thursday?"),
        (("plate.yaml", "--today", "05/09/2027"), "2027-05-09 or 2027-09-05"),
        (("plate.yaml", "--glaze-cone", "66"), "Write a cone such as 04 or 6"),
        (("plate.yaml", "elsewhere/cup.yaml"), "different rooms (Saltmarsh Clay Room and Second Saltmarsh Clay Room)"),
        (("nothing.yaml",), "there is no file or folder called nothing.yaml"),
    ):
        result = run(*words)
        assert (result.exit_code, told in result.output) == (2, True), result.output


def test_a_calendar_without_dates_is_not_written(folder: Path) -> None:
    (folder / "plate.yaml").write_text(PLATE[: PLATE.index("dates:")])
    result = run("plate.yaml", "--ics", "a.ics")
    assert result.exit_code == 1
    assert "no lesson has a date" in result.stderr
    assert not (folder / "a.ics").exists()


def test_a_faulty_lesson_is_told_and_the_others_are_planned(folder: Path) -> None:
    (folder / "broken.yaml").write_text(PLATE.replace("title", "titel"))
    result = run("--group", "A", "--json")
    assert result.exit_code == 1
    assert "broken.yaml:1:1: error" in result.stderr
    assert [one["lesson"] for one in json.loads(result.stdout)["lessons"]] == ["Full-Moon Plate"]


def test_a_piece_larger_than_the_shelf_leaves_the_other_topics(folder: Path) -> None:
    (folder / "plate.yaml").write_text(PLATE.replace("across: 200 mm", "across: 520 mm"))
    result = run("plate.yaml", "--group", "A")
    assert result.exit_code == 1
    assert result.stderr.count("error:") == 1  # told once, though the calendar waits for the kiln
    assert "kiln, calendar: error:" in result.stderr
    assert "a ball of" in result.stdout


def test_a_plan_in_inches_says_how_thick_in_inches(folder: Path) -> None:
    (folder / "room.yaml").write_text(ROOM + "units: in\n")
    (folder / "plate.yaml").write_text(PLATE.replace(", dry: 12", ""))
    said = " ".join(run("plate.yaml", "--group", "A").output.replace("\u00a0", " ").split())
    assert "1/4 in (6.5 mm) thick" in said
    assert "drying days for work 1/4 in (6.5 mm) thick" in said
    (folder / "plate.yaml").write_text(PLATE.replace("200 mm", "520 mm"))
    result = run("plate.yaml", "--group", "A")
    assert "21 3/4 in x 21 3/4 in (553 x 553 mm) and fits no shelf" in result.stderr.replace("\u00a0", " ")
