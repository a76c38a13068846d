"""The papers of a plan, read back from the PDF: nothing clipped or overlapping, and every number of the plan that belongs there."""

from __future__ import annotations

from datetime import date
from itertools import pairwise

import pytest

from lessonkit.drawing.items import Path
from lessonkit.layout.classroom.days_shown import clock, long_day, minutes_seconds, short_day
from lessonkit.layout.classroom.papers import OF_A_CLASS, OF_ALL
from lessonkit.layout.classroom.sheets import sentence
from lessonkit.layout.pen import SCISSORS_LINE
from lessonkit.layout.wording import ENGLISH, say
from lessonkit.planning.jobs import SAYS
from lessonkit.units import number
from tests.layout.classroom.plans_for_tests import FRAME, PAPERS, ROOM, documents, planned, read_paper, text_of
from tests.layout.read_back import ink_near_edge, overlaps, places, says

LEAST_PT = 7.95


def everything(name: str, paper: str = "A4") -> str:
    return text_of(read_paper(name, paper=paper))


def test_there_is_every_paper_for_every_class() -> None:
    found, _ = planned()
    classes = [f"{lesson['lesson']}/{group['tag']}/{name}" for name in OF_A_CLASS for lesson in found["lessons"] for group in found["groups"]]
    posted = [name for name in classes if "to-post" not in name or not name.startswith("Reed Pot")]  # its stations: all but Join take all
    assert set(posted) | set(OF_ALL) <= set(documents())


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("kind", [*OF_A_CLASS, *OF_ALL])
def test_nothing_is_clipped_and_nothing_overlaps(kind: str, paper: str) -> None:
    """Ink at least 10 mm from the edge, letters of 8 pt and more in three sizes at most (labels: two sheets of different kinds, three each)."""
    found = [read_paper(name, paper=paper) for name in documents(paper=paper) if name.split("/")[-1] == kind]
    assert found
    for sheet in (sheet for read in found for sheet in read):
        assert not ink_near_edge(sheet)
        assert overlaps(sheet) == []
        sizes = {round(letter.size_pt, 1) for letter in sheet.letters}
        assert min(sizes) >= LEAST_PT
        assert len(sizes) <= 3


@pytest.mark.parametrize("kind", [*OF_A_CLASS, *OF_ALL])
def test_the_foot_says_what_it_is(kind: str) -> None:
    """The code of the lesson on every sheet that is not cut into many; the paper and how many sheets there are."""
    found, _ = planned()
    codes = {lesson["lesson"]: lesson["code"] for lesson in found["lessons"]}
    for name in (name for name in documents() if name.split("/")[-1] == kind):
        read = read_paper(name)
        for count, sheet in enumerate(read, 1):
            assert all(lesson not in name or kind == "labels" or code in sheet.text for lesson, code in codes.items()), (name, count)
            if kind not in ("labels", "care-cards", "note", "today"):
                assert says(sheet.text, f"A4 · sheet {count} of {len(read)}"), name


def test_titles_and_bookmarks() -> None:
    for name, document in documents().items():
        assert document.title, name
        assert len({page.name for page in document.pages}) == len(document.pages), name
        assert document.language == "en"


# --- the class ---


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
    """One for each of 28 pieces; to look at and untested, unless the room declares something, which then stands there word for word."""
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


# --- the room ---


def test_rack_list() -> None:
    found, _ = planned()
    racks, read = found["kiln"]["racks"], everything("rack-list")
    assert says(read, f"{racks['pieces']} pieces are in the room at once. They need {racks['shelves_needed']} of {racks['shelves']} shelves")
    assert says(read, f"{number(racks['share'] * 100, 1)} % full, warned at 80 %")
    assert bool(racks["warning"]) == says(read, racks["warning"] or "Look at this first")
    for lesson in found["calendar"]["each"]:
        for group in lesson["groups"]:
            days = {stage["stage"]: short_day(stage["first"], "en") for stage in reversed(group["stages"])}
            row = [days[kind].replace("\u00a0", " ") for kind in ("cover", "turn", "uncover", "bisque", "paint", "glaze", "in hands")]
            assert says(read, f"{group['group']} {lesson['lesson']} {group['pieces']} {' '.join(row)}"), group
    assert says(read, "window rack: 10 shelves, 1200 mm × 600 mm shelf tag, table, what lies there since 10 9 8 7 6 5 4 3 2 1")


def test_kiln_log_knows_cooling_from_cold() -> None:
    """A sheet a load, with its programme and its days; FIRING, COOLING and COLD each with an hour and a name, COLD with its degrees."""
    found, _ = planned()
    read = read_paper("kiln-log")
    loads = [(firing, count) for firing in found["kiln"]["firings"] for count in range(1, len(firing["loads"]) + 1)]
    sheets_ = [sheet for sheet in read if "FIRING" in sheet.text]
    assert len(sheets_) == len(loads)
    for sheet, (firing, count) in zip(sheets_, loads, strict=True):
        text = text_of([sheet])
        assert says(text, f"to cone {firing['cone']}, load {count} of {len(firing['loads'])}")
        for k, one in enumerate(firing["programme"]["segments"], 1):
            assert says(text, f"{k} {number(one['c_per_h'], 0)} {number(one['to_c'], 0)} {number(one['hold_h'], 1)}"), one
        assert says(text, f"About {number(firing['programme']['hours'], 0)} h, {number(firing['programme']['preheat_h'], 0)} h of it preheat,")
        assert says(text, "COLD Below 50 °C by its pyrometer. An adult opens and unloads.")
        assert says(text, "COOLING is not COLD")
    assert says(text_of(read), "Porthole: start Thu 21 Jan, unload Mon 25 Jan.")


def test_today_is_half_a_page() -> None:
    """Every job of the day with its tags and pieces; all above the middle of the sheet; the kiln's caution where the kiln is loaded."""
    found, _ = planned()
    (sheet,) = read_paper("today")
    read = text_of([sheet])
    assert read.startswith("Thursday 28 January 2027")
    for job in found["calendar"]["today"]["jobs"]:
        words = say("job_" + job["do"].replace(" ", "_"))
        assert says(read, f"{', '.join(job['groups'])} {job['lesson']}: {words} ({job['pieces']} pieces)"), job
    assert max(letter.foot for letter in sheet.letters) < sheet.tall_mm / 2
    assert says(read, "COOLING is not COLD.")
    assert says(text_of(read_paper("today", (FRAME,), today="2027-02-16")), "Closed: winter week.")
    assert "today" not in documents((FRAME,), today="")


def test_every_job_has_its_words() -> None:
    assert {f"job_{do.replace(' ', '_')}" for do in SAYS} <= set(ENGLISH)


def test_term_is_a_grid_of_group_by_week() -> None:
    found, _ = planned()
    term, read = found["calendar"]["term"], everything("term")
    fired = term["firings"]
    assert says(read, f"{fired['bisque']} bisque and {fired['glaze']} glaze firings; the kiln has days for {fired['fit']}.")
    assert says(read, "week of A makes A paints B makes B paints")
    for index, monday in enumerate(term["weeks"]):
        day = date.fromisoformat(monday)
        weeks = [group["weeks"][index] for group in term["groups"]]
        works = [[one[do] for one in week["classes"] for do in ("make", "paint") if one[do]] or [week["closed"] or ""] for week in weeks]
        assert says(read, " ".join([f"{day.day} {day:%b}", *(word for work in works for word in work if word)])), monday
    for one, next_ in pairwise(term["weeks"]):
        assert date.fromisoformat(one) < date.fromisoformat(next_)


# --- rooms that know less, and words that are long ---


@pytest.mark.parametrize("paper", PAPERS)
def test_a_room_that_knows_nothing_has_papers_too(paper: str) -> None:
    """No groups, kiln, racks, calendar, minutes: 24 are assumed, and no paper is made that would have nothing to say."""
    lesson = FRAME.replace("dates: {make", "# {make").replace("white low-fire", "clay")
    for station in ("Table", "Texture", "Join", "Check"):
        lesson = lesson.replace(f" station: {station},", "")
    read = {name: read_paper(name, (lesson,), None, paper, "") for name in documents((lesson,), None, paper, "")}
    assert {name.split("/")[-1] for name in read} == set(OF_A_CLASS) - {"to-post"} | {"clay-order", "rack-list", "kiln-log"}
    assert says(text_of(next(read[name] for name in read if name.endswith("supplies"))), "Weigh 27 balls: 24 for the learners and 3 spare.")
    for sheet in (sheet for made in read.values() for sheet in made):
        assert overlaps(sheet) == []
        assert not ink_near_edge(sheet)


GROUP = "The second group of Tuesday afternoons"
LONG = "Donaudampfschifffahrtsgesellschaftskapitänsmütze"


@pytest.mark.parametrize("paper", ["Letter"])  # the shorter one
def test_long_words_and_large_groups(paper: str) -> None:
    """A long title, a group without a code and one of 61 people, long names of levels, clays and stations, 14 things to mark."""
    room = (
        ROOM.replace("Tuesday morning, code: A, levels: {easy: 16, advanced: 12}", f"{GROUP}, levels: {{easy: 40, advanced: 21}}")
        .replace("New to this", "Has not yet done this before")
        .replace("white low-fire", f"white low-fire with grog and {LONG}")
        .replace("name: Join", "name: The joining bench by the window")
        .replace("window rack, shelves: 10", f"{LONG} {LONG}, shelves: 45")
    )
    rows = ", ".join(f"look at point number {n} of the list" for n in range(14))
    lesson = FRAME.replace("Porthole", f"The {LONG} of the harbour master").replace("white low-fire", f"white low-fire with grog and {LONG}")
    lesson = lesson.replace("station: Join,", "station: The joining bench by the window,")
    lesson = lesson.replace("care: [", f"rubric: [{rows}]\ncare: [{LONG} {LONG}, ")
    read = {name: read_paper(name, (lesson,), room, paper) for name in documents((lesson,), room, paper)}
    for name, made in read.items():
        for sheet in made:
            assert overlaps(sheet) == [], name
            assert not ink_near_edge(sheet), name
            assert min(letter.size_pt for letter in sheet.letters) >= LEAST_PT
    labels = text_of(next(read[name] for name in read if name.endswith("labels") and "second group" in name))
    assert says(labels, "61")


def test_many_care_lines_run_on() -> None:
    """Fifty lines of care fit on no card: the card goes on over several sheets, and every line is there."""
    care = ", ".join(f"Care number {n} is written out here for the one who takes it home" for n in range(70))
    lesson = FRAME.replace("care: [Hang it indoors from a smooth nail.]", f"care: [{care}]")
    read = read_paper("Porthole/A/care-cards", (lesson,))
    assert len(read) > 1
    assert all(says(text_of(read), f"Care number {n} is written") for n in range(70))
    assert all(not ink_near_edge(sheet) for sheet in read)


def test_a_topic_that_cannot_be_planned_is_said_where_it_belongs() -> None:
    """A frame larger than the kiln's shelf: the kiln map says so, and all else is there."""
    lessons = (FRAME.replace("across: 160 mm", "across: 500 mm").replace("across: 122 mm", "across: 300 mm"),)
    error = planned(lessons)[0]["kiln"]["error"]
    assert says(text_of(read_paper("kiln-maps", lessons)), f"{error['what']} {error['hint']}")
    assert says(text_of(read_paper("rack-list", lessons)), error["what"])
    assert "kiln-log" not in documents(lessons)
    assert says(text_of(read_paper("Porthole/A/supplies", lessons)), "Weigh 31 balls: 28 for the learners")


def test_a_room_of_inches() -> None:
    """200 mm is 7 7/8 in to a sixteenth; 655.2 g are 1.44 lb."""
    read = text_of(read_paper("Porthole/A/supplies", (FRAME,), ROOM.replace("paper:", "units: in\npaper:")))
    assert says(read, "7 7/8 in × 7 7/8 in, 5/16 in (8 mm) thick (frame) 1.44 lb (655 g)")
