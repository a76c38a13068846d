"""The papers of one class, read back: every number of the plan that belongs there."""

from __future__ import annotations

from dataclasses import replace

import pytest

from lessonkit.drawing.items import Path
from lessonkit.layout.classroom.days_shown import clock, long_day, minutes_seconds, short_day
from lessonkit.layout.classroom.papers import plan_documents
from lessonkit.layout.classroom.sheets import sentence
from lessonkit.layout.pen import SCISSORS_LINE
from lessonkit.units import number
from lessonkit.writers.pdf import write_pdf
from tests.layout.classroom.plans_for_tests import FRAME, PAPERS, ROOM, documents, everything, planned, read_paper, text_of
from tests.layout.read_back import places, says, sheets


@pytest.mark.parametrize("paper", PAPERS)
def test_day_plan(paper: str) -> None:
    """Each step from minute to minute for both levels; the stations' run; the sums of the check; the days; warnings and what was assumed."""
    found, _ = planned()
    read = everything("Porthole/A/day-plan", paper)
    minutes, stations = found["minutes"]["each"][0], found["stations"]["each"][0]
    for course in minutes["timeline"]["courses"]:
        for stretch in course["stretches"]:
            if stretch["kind"] == "step":
                end = stretch["start_min"] + stretch["minutes"]
                assert says(read, stretch["title"]), stretch
                assert f"{number(stretch['start_min'], 1)}–{number(end, 1)}" in read, stretch
    for run in stations["runs"]:
        crowd = run["crowd"]
        row = [run["station"], run["places"], run["people"], crowd["longest_queue"], minutes_seconds(crowd["longest_wait_min"]),
               crowd["waiting_at_bell"], crowd["busy_at_bell"], number(crowd["last_done_min"], 0)]  # fmt: skip
        assert says(read, " ".join(map(str, row))), run
    for change in stations["changes"]:
        row = [change["what"], minutes_seconds(change["longest_wait_min"]), change["waiting_at_bell"], change["unfinished"],
               number(change["done_min"], 0)]  # fmt: skip
        assert says(read, " ".join(map(str, row))), change
    assert says(read, "If all 28 come to the check at once, 45 s each: the last is done after 21:00, having waited 20:15.")
    assert says(read, "28 people: 16 New to this, 12 Done this before · 5 tables")
    assert all(says(read, sentence(line)) for part in (minutes, stations) for line in part["warnings"] + part["assumptions"])
    for stage in found["calendar"]["each"][0]["groups"][0]["stages"]:
        assert short_day(stage["last"], "en").replace("\u00a0", " ") in read, stage
    assert says(read, "All tools down. STOP Is it 8 mm thick?")
    assert says(read, "Careful: Needles go back in the cork.")


def test_notes_on_access_are_for_the_teacher_alone() -> None:
    """They stand on the day plan and nowhere else."""
    there = {name for name in documents() if says(everything(name), "large print at table 2") or "large print" in everything(name)}
    assert there == {"Porthole/B/day-plan", "Reed Pot/B/day-plan"}


def test_the_table_to_post_is_large_and_by_the_clock() -> None:
    """9:30 and 24 minutes are 9:54; cells of 24 pt or more, of whom those after the bell are said to be so."""
    found, _ = planned()
    read = read_paper("Porthole/A/to-post")
    stations = found["stations"]["each"][0]
    for move in stations["to_post"]:
        assert f"{clock('9:30', move['from_min'])}–{clock('9:30', move['to_min'])}" in text_of(read), move
        large = places(read[0], f"{clock('9:30', move['from_min'])}–")
        assert large[0].size_pt >= 23.9
    late = any(move["to_min"] > stations["bell_min"] for move in stations["to_post"])
    assert says(text_of(read), "Grey: after clean-up has begun at 10:10.") == late
    for turn in stations["rotation"]["rounds"]:
        assert says(text_of(read), " ".join(map(str, turn)))


def test_supplies() -> None:
    """31 balls: 28 and 3 spare (10 % of 28, at least 2); 2 more are lost (5 %); bags, offcut, sets, copies, slip and cost as in the plan."""
    found, _ = planned()
    for index, tag in enumerate(("A", "B")):
        needs, read = found["quantities"]["each"][index], everything(f"Porthole/{tag}/supplies")
        (clay,) = needs["clay"]
        assert says(read, f"Weigh {clay['balls']} balls: {needs['people']} for the learners and {clay['spares']} spare.")
        assert says(read, f"Order {clay['bags']} × 25 lb (11.3 kg): enough for {clay['balls'] + clay['remakes']} balls, since {clay['remakes']} more")
        assert says(read, f"{number(clay['offcut_g'] / 1000, 1)} kg comes back as offcut: {clay['balls_from_offcut']} balls")
        for lump in clay["lumps"]:
            assert says(read, f"{lump['people']} 200 mm × 200 mm, 8 mm thick (frame) {number(lump['ball_g'], 0)} g {lump['balls_a_bag']}")
        for supply in needs["supplies"]:
            assert says(read, f"{supply['count']} {supply['name']}"), supply
        assert says(read, f"{number(needs['slip_ml'] / 1000, 1)} l slip, shared out in {needs['slip_cups']} cups")
        assert says(read, f"{needs['dries_on']['count']} absorbent board, to dry on: it drinks water, and lets the clay slip while it shrinks")
        assert all(says(read, f"{card['sets']} sets of step cards, {card['shown']} (en), for {card['learners']}") for card in needs["cards"])
        for one in needs["stencils"]:
            assert says(read, f"{one['copies']} copies of stencil {one['letter']}, {one['part']}, for {one['learners']}")
        for line in needs["cost"]["lines"]:
            assert says(read, f"{line['name']} ${line['each']:.2f} {line['how']}")
        assert says(read, f"together ${needs['cost']['each']:.2f} for the group ${needs['cost']['all']:.2f}")
        assert all(says(read, sentence(line)) for line in needs["warnings"] + needs["assumptions"] + needs["cost"]["assumptions"])
        assert says(read, "white low-fire, never fired above cone 04")
    assert says(everything("Porthole/A/supplies"), "for each pair 10: 4 too few")


def test_clay_order() -> None:
    found, _ = planned()
    read = everything("clay-order")
    for clay in found["quantities"]["order"]:
        assert says(read, f"{clay['balls']} {number(clay['weight_g'] / 1000, 1)} kg {clay['bags']} × 25 lb (11.3 kg)"), clay
    for needs in found["quantities"]["each"]:
        (clay,) = needs["clay"]
        row = [clay["clay"], needs["people"], clay["spares"], clay["remakes"], clay["balls"] + clay["remakes"], clay["bags"]]
        assert says(read, " ".join(map(str, row))), needs


def test_labels_hold_a_number_and_no_name() -> None:
    """One for each of 28, then blanks; level word, lesson, clay and its highest cone, and a line to write on. One a tray: 5 tables."""
    *names, trays = read_paper("Porthole/A/labels")
    read = text_of(names)
    labels = sum(len(places(sheet, "white low-fire, never fired above cone 04")) for sheet in names)
    assert labels % 24 == 0
    assert (read.count("New to this"), read.count("Done this before"), read.count("level ____________")) == (16, 12, labels - 28)
    assert all(says(read, f"A {count}") for count in range(1, 29))
    assert "A 29" not in read
    assert len([word for word in read.split() if word == "name"]) == labels
    assert all(says(text_of([trays]), f"tray, table {count}") for count in range(1, 6))
    assert text_of([trays]).count("uncovered") == 8
    first = documents()["Porthole/B/labels"]
    assert "B 20" in text_of(read_paper("Porthole/B/labels"))
    assert first.title == "Porthole, labels, B"


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize(("kind", "least"), [("labels", 2 + 7), ("care-cards", 1 + 2), ("note", 1)])
def test_no_letter_lies_on_a_line_to_cut(kind: str, least: int, paper: str) -> None:
    """The lines are the page's own, drawn from 10 mm to 10 mm; every letter keeps 2 mm from them."""
    name = f"Porthole/A/{kind}"
    for page, sheet in zip(documents(paper=paper)[name].pages, read_paper(name, paper=paper), strict=True):
        lines = [item.commands for item in page.items if isinstance(item, Path) and item.stroke and item.stroke.dash_mm == SCISSORS_LINE]
        assert len(lines) >= (least if sheet is read_paper(name, paper=paper)[0] else 1)
        for (_, x1, y1), (_, x2, y2) in lines:
            assert max(y2 - y1, x2 - x1) > 0.9 * (sheet.tall_mm if x1 == x2 else sheet.wide_mm) - 20
            for letter in sheet.letters:
                assert not (letter.left - 2 < x1 == x2 < letter.right + 2)
                assert not (letter.top - 2 < y1 == y2 < letter.foot + 2)


def test_checklist_marks_what_each_level_is_asked() -> None:
    """A row for each number; the stop that only the practised have is grey for the others; the lesson's own rubric goes before the usual."""
    read = read_paper("Porthole/A/checklist")
    text = text_of(read)
    assert says(text, "1 not yet 2 got it 3 wow")
    assert says(text, "joints Pressed on dry, or a gap shows.")
    assert says(text, "STOP 1a, Done this before: Is one line all round?")
    assert says(text, "STOP 1: Is it 8 mm thick?")
    assert says(text, "3 Join the rivets: no rivet turns under your finger.")
    assert text.count("New to this") == 1 + 16
    pot = text_of(read_paper("Reed Pot/A/checklist"))
    assert says(pot, "a the seam it gapes it is shut it cannot be found")
    assert says(pot, "b it stands straight")
    assert "joints" not in pot


def test_care_cards_claim_nothing() -> None:
    """One for each of 28 learners; to look at and untested, unless the room declares something, which then stands there word for word."""
    read = read_paper("Porthole/A/care-cards")
    cards = text_of(read).count("To look at. It has not been tested for food or drink: use it for neither.")
    assert cards == text_of(read).count("Hang it indoors from a smooth nail.") == text_of(read).count("made by") >= 28
    assert says(text_of(read), "of white low-fire, fired to cone 04.")
    declared = text_of(read_paper("Porthole/A/care-cards", (FRAME,), ROOM + "ware: For dry food, by the report of 3 May.\n"))
    assert says(declared, "Saltmarsh Clay Room says: For dry food, by the report of 3 May.")
    assert "has not been tested" not in declared
    for name in documents():
        assert "food-safe" not in everything(name)
        assert "safe for food" not in everything(name).replace("claimed to be safe for food", "")


def test_note_tells_what_when_where_and_what_to_wear() -> None:
    found, _ = planned()
    read, days = everything("Porthole/A/note"), found["drying"]["each"][0]["days"]
    stages = {stage["stage"]: stage for stage in found["calendar"]["each"][0]["groups"][0]["stages"]}
    assert says(read, f"When Clay on {long_day(stages['make']['last'], 'en')}, 9:30. Colour on {long_day(stages['paint']['last'], 'en')}.")
    assert says(read, f"Home {long_day(stages['in hands']['first'], 'en')}, if nothing breaks. It dries for {days} days, is fired, painted")
    assert says(read, f"Cost ${found['quantities']['each'][0]['cost']['fees_each']:.2f}")
    assert says(read, "What A round frame that holds a photo. When")
    assert says(read, "Where Saltmarsh Clay Room Wear Old clothes")
    assert "The day is not fixed yet." in text_of(read_paper("Porthole/A/note", (FRAME.replace("dates: {make", "# {make"),), ROOM))


def test_tracking_is_by_number() -> None:
    found, _ = planned()
    read = everything("Porthole/A/tracking")
    assert says(read, "made 5 Jan dry 21 Jan bisque 25 Jan painted 26 Jan fired 3 Feb home 5 Feb absent remake note")
    assert all(says(read, f"{count} New to this") for count in range(1, 17))
    for one in found["calendar"]["each"][0]["absent"]:
        assert says(read, f"{short_day(one['day'], 'en')} has {number(one['drying_days'], 1)} drying days left: can {one['can']}."), one


def test_work_that_is_too_long_is_told_first_and_divided() -> None:
    """30 minutes of cutting do not fit 28: the plan's own warnings stand above the minutes, and the classes that it is divided into below."""
    lesson = FRAME.replace("station: Table, minutes: 8, text: Cut.", "station: Table, minutes: 26, text: Cut.")
    found = planned((lesson,))[0]["minutes"]["each"][0]
    read = text_of(read_paper("Porthole/A/day-plan", (lesson,)))
    assert len(found["sessions"]) > 1
    assert all(says(read, f"Class {k}: steps {one['first']} to {one['last']}.") for k, one in enumerate(found["sessions"], 1))
    for line in found["warnings"]:
        assert read.index(" ".join(sentence(line).split())) < read.index("Minutes, of 50")


def test_an_hour_that_is_no_time_leaves_minutes_of_the_class() -> None:
    room = ROOM.replace('at: "9:30"', "at: period 3")
    stations = planned((FRAME,), room)[0]["stations"]["each"][0]
    read = text_of(read_paper("Porthole/A/to-post", (FRAME,), room))
    for move in stations["to_post"]:
        assert f"{number(move['from_min'], 0)}–{number(move['to_min'], 0)}" in read
    assert says(read, "Minutes of the class.")


def test_what_goes_home_speaks_the_groups_language() -> None:
    """Where the lesson is there in it: here a Spanish title beside the program's own Spanish words."""
    found, asked = planned((FRAME,))
    spanish = replace(asked.kits[0], lesson=asked.kits[0].lesson.model_copy(update={"title": "Ojo de buey"}),
                      room=asked.kits[0].room.model_copy(update={"language": "es"}))  # fmt: skip
    groups = tuple(group.model_copy(update={"language": "es"}) for group in asked.groups)
    kits = (replace(asked.kits[0], translations={"es": spanish}),)
    made = {(name, place): document for name, place, document in plan_documents(found, kits, groups, "A4")}
    note = text_of(sheets(write_pdf(made["note", (0, 0)])))
    assert note.startswith("Ojo de buey Aviso para Tuesday morning")
    assert says(note, "martes 5 de enero de 2027, 9:30.")
    assert made["note", (0, 0)].language == made["care-cards", (0, 0)].language == "es"
    assert made["day-plan", (0, 0)].language == "en"
