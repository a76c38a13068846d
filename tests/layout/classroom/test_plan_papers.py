"""The papers of a plan, read back from the PDF: nothing clipped or overlapping, and every number of the plan that belongs there."""

from __future__ import annotations

from datetime import date
from itertools import pairwise

import pytest

from lessonkit.layout.classroom.days_shown import clock, long_day, minutes_seconds, short_day
from lessonkit.layout.classroom.papers import OF_A_CLASS, OF_ALL
from lessonkit.layout.classroom.sheets import sentence
from lessonkit.layout.wording import ENGLISH, say
from lessonkit.planning.jobs import SAYS
from lessonkit.units import number
from tests.layout.classroom.plans_for_tests import FRAME, PAPERS, POT, ROOM, Json, documents, papers, planned, text_of
from tests.layout.read_back import ink_near_edge, overlaps, places, says

LEAST_PT = 7.95


def everything(name: str, paper: str = "A4") -> str:
    return text_of(papers(paper=paper)[name])


def test_there_is_every_paper_for_every_class() -> None:
    found, _ = planned()
    classes = [f"{lesson['lesson']}/{group['tag']}/{name}" for name in OF_A_CLASS for lesson in found["lessons"] for group in found["groups"]]
    posted = [name for name in classes if "to-post" not in name or not name.startswith("Reed Pot")]  # its stations: all but Join take all
    assert set(posted) | set(OF_ALL) <= set(papers())


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("kind", [*OF_A_CLASS, *OF_ALL])
def test_nothing_is_clipped_and_nothing_overlaps(kind: str, paper: str) -> None:
    """Ink at least 10 mm from the edge, letters of 8 pt and more in three sizes at most (labels: two sheets of different kinds, three each)."""
    found = [read for name, read in papers(paper=paper).items() if name.split("/")[-1] == kind]
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
    for name, read in papers().items():
        if name.split("/")[-1] == kind:
            for count, sheet in enumerate(read, 1):
                for lesson, code in codes.items():
                    assert lesson not in name or kind == "labels" or code in sheet.text, (name, count)
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
    found, asked = planned()
    read = everything("Porthole/A/day-plan", paper)
    minutes, stations = found["minutes"]["each"][0], found["stations"]["each"][0]
    for course in minutes["timeline"]["courses"]:
        for stretch in course["stretches"]:
            if stretch["kind"] == "step":
                end = stretch["start_min"] + stretch["minutes"]
                assert says(read, stretch["title"]), stretch
                assert f"{number(stretch['start_min'], 1)}–{number(end, 1)}" in read, stretch
                assert clock("9:30", min(stretch["start_min"] for _ in (0,))) in read or course["level"] == "advanced"
    for run in stations["runs"]:
        crowd = run["crowd"]
        row = [run["station"], run["places"], run["people"], crowd["longest_queue"], minutes_seconds(crowd["longest_wait_min"]), crowd["waiting_at_bell"],
               crowd["busy_at_bell"], number(crowd["last_done_min"], 0)]  # fmt: skip
        assert says(read, " ".join(map(str, row))), run
    for change in stations["changes"]:
        assert says(read, f"{change['what']} {minutes_seconds(change['longest_wait_min'])} {change['waiting_at_bell']} {change['unfinished']}"), change
    assert says(read, "If all 28 come to the check at once, 45 s each: the last is done after 21:00, having waited 20:15.")
    assert says(read, "28 people: 16 New to this, 12 Done this before · 5 tables")
    assert all(says(read, sentence(line)) for part in (minutes, stations) for line in part["warnings"] + part["assumptions"])
    for stage in found["calendar"]["each"][0]["groups"][0]["stages"]:
        assert short_day(stage["last"], "en").replace("\u00a0", " ") in read, stage
    assert says(read, "All tools down. STOP Is it 8 mm thick?")
    assert says(read, "Careful: Needles go back in the cork.")


def test_notes_on_access_are_for_the_teacher_alone() -> None:
    """They stand on the day plan and nowhere else."""
    there = {name for name in papers() if says(everything(name), "large print at table 2") or "large print" in everything(name)}
    assert there == {"Porthole/B/day-plan", "Reed Pot/B/day-plan"}


def test_the_table_to_post_is_large_and_by_the_clock() -> None:
    """9:30 and 24 minutes are 9:54; cells of 24 pt or more, of whom those after the bell are said to be so."""
    found, _ = planned()
    read = papers()["Porthole/A/to-post"]
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
        assert says(read, f"{needs['dries_on']['count']} absorbent board, to dry on: it drinks water")
        assert all(says(read, f"{card['sets']} sets of step cards, {card['shown']} (en), for {card['learners']}") for card in needs["cards"])
        assert all(says(read, f"{one['copies']} copies of stencil {one['letter']}, {one['part']}, for {one['learners']}") for one in needs["stencils"])
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
        assert says(read, f"{clay['clay']} {needs['people']} {clay['spares']} {clay['remakes']} {clay['balls'] + clay['remakes']} {clay['bags']}"), needs


def test_labels_hold_a_number_and_no_name() -> None:
    """One for each of 28, then blanks; level word, lesson, clay and its highest cone, and a line to write on. One a tray: 5 tables."""
    *names, trays = papers()["Porthole/A/labels"]
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
    assert "B 20" in text_of(papers()["Porthole/B/labels"])
    assert first.title == "Porthole, labels, B"


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize(("kind", "across", "down"), [("labels", 3, 8), ("care-cards", 2, 3), ("note", 1, 2)])
def test_no_letter_lies_on_a_line_to_cut(kind: str, across: int, down: int, paper: str) -> None:
    """The lines divide the live area evenly: read off the pages that have that many fields."""
    sheet = papers(paper=paper)[f"Porthole/A/{kind}"][0]
    wide, tall = {"A4": (188, 276), "Letter": (192, 256)}[paper]
    lines_x = [(sheet.wide_mm - wide) / 2 + wide * k / across for k in range(1, across)]
    lines_y = [(sheet.tall_mm - tall) / 2 + tall * k / down for k in range(1, down)]
    assert all(not letter.left - 1 < x < letter.right + 1 for letter in sheet.letters for x in lines_x)
    assert all(not letter.top - 1 < y < letter.foot + 1 for letter in sheet.letters for y in lines_y)
    for y in lines_y:  # and there they are
        row = [sheet.picture.getpixel((x * 4, int(y * 4) + step)) for x in range(60, 200) for step in (-1, 0, 1)]
        assert min(row) < 128


def test_checklist_marks_what_each_level_is_asked() -> None:
    """A row for each number; the stop that only the practised have is grey for the others; the lesson's own rubric goes before the usual."""
    read = papers()["Porthole/A/checklist"]
    text = text_of(read)
    assert says(text, "1 not yet 2 got it 3 wow")
    assert says(text, "joints Pressed on dry, or a gap shows.")
    assert says(text, "STOP 1a, Done this before: Is one line all round?")
    assert says(text, "STOP 1: Is it 8 mm thick?")
    assert says(text, "3 Join the rivets: no rivet turns under your finger.")
    assert text.count("New to this") == 1 + 16
    pot = text_of(papers()["Reed Pot/A/checklist"])
    assert says(pot, "a the seam it gapes it is shut it cannot be found")
    assert says(pot, "b it stands straight")
    assert "joints" not in pot


def test_care_cards_claim_nothing() -> None:
    """One for each of 28 pieces; to look at and untested, unless the room declares something, which then stands there word for word."""
    read = papers()["Porthole/A/care-cards"]
    cards = text_of(read).count("To look at. It has not been tested for food or drink: use it for neither.")
    assert cards == text_of(read).count("Hang it indoors from a smooth nail.") == text_of(read).count("made by") >= 28
    assert says(text_of(read), "of white low-fire, fired to cone 04.")
    declared = text_of(papers((FRAME,), ROOM + "ware: For dry food, by the report of 3 May.\n")["Porthole/A/care-cards"])
    assert says(declared, "Saltmarsh Clay Room says: For dry food, by the report of 3 May.")
    assert "has not been tested" not in declared
    for name in papers():
        assert "food-safe" not in everything(name)
        assert "safe for food" not in everything(name).replace("claimed to be safe for food", "")


def test_note_tells_what_when_where_and_what_to_wear() -> None:
    found, _ = planned()
    read = everything("Porthole/A/note")
    stages = {stage["stage"]: stage for stage in found["calendar"]["each"][0]["groups"][0]["stages"]}
    assert says(read, f"When Clay on {long_day(stages['make']['last'], 'en')}, 9:30. Colour on {long_day(stages['paint']['last'], 'en')}.")
    assert says(read, f"Home {long_day(stages['in hands']['first'], 'en')}, if nothing breaks. It dries for {found['drying']['each'][0]['days']} days")
    assert says(read, f"Cost ${found['quantities']['each'][0]['cost']['fees_each']:.2f}")
    assert says(read, "What A round frame that holds a photo. When")
    assert says(read, "Where Saltmarsh Clay Room Wear Old clothes")
    assert "The day is not fixed yet." in text_of(papers((FRAME.replace("dates: {make", "# {make"),), ROOM)["Porthole/A/note"])


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
            days = {stage["stage"]: short_day(stage["first"], "en") for stage in group["stages"]}
            row = [days[kind].replace("\u00a0", " ") for kind in ("cover", "turn", "uncover", "bisque", "paint", "glaze", "in hands")]
            assert says(read, f"{group['group']} {lesson['lesson']} {group['pieces']} {' '.join(row)}"), group
    assert says(read, "window rack: 10 shelves, 1200 mm × 600 mm shelf tag, table, what lies there since 10 9 8 7 6 5 4 3 2 1")


def test_kiln_log_knows_cooling_from_cold() -> None:
    """A sheet a load, with its programme and its days; FIRING, COOLING and COLD each with an hour and a name, COLD with its degrees."""
    found, _ = planned()
    read = papers()["kiln-log"]
    loads = [(firing, count) for firing in found["kiln"]["firings"] for count in range(1, len(firing["loads"]) + 1)]
    sheets_ = [sheet for sheet in read if "FIRING" in sheet.text]
    assert len(sheets_) == len(loads)
    for sheet, (firing, count) in zip(sheets_, loads, strict=True):
        text = text_of([sheet])
        assert says(text, f"to cone {firing['cone']}, load {count} of {len(firing['loads'])}")
        for k, one in enumerate(firing["programme"]["segments"], 1):
            assert says(text, f"{k} {number(one['c_per_h'], 0)} {number(one['to_c'], 0)} {number(one['hold_h'], 1)}"), one
        assert says(text, f"About {number(firing['programme']['hours'], 0)} h")
        assert says(text, "COLD Below 50 °C by its pyrometer. An adult opens and unloads.")
        assert says(text, "COOLING is not COLD")
    assert says(text_of(read), "Porthole: start Thu 21 Jan, unload Mon 25 Jan.")


def test_today_is_half_a_page() -> None:
    """Every job of the day with its tags and pieces; all above the middle of the sheet; the kiln's caution where the kiln is loaded."""
    found, _ = planned()
    (sheet,) = papers()["today"]
    read = text_of([sheet])
    assert read.startswith("Thursday 28 January 2027")
    for job in found["calendar"]["today"]["jobs"]:
        words = say("job_" + job["do"].replace(" ", "_"))
        assert says(read, f"{', '.join(job['groups'])} {job['lesson']}: {words} ({job['pieces']} pieces)"), job
    assert max(letter.foot for letter in sheet.letters) < sheet.tall_mm / 2
    assert says(read, "COOLING is not COLD.")
    assert says(text_of(papers(today="2027-02-16")["today"]), "Closed: winter week.")
    assert "today" not in papers((FRAME,), today="")


def test_every_job_has_its_words() -> None:
    assert {f"job_{do.replace(' ', '_')}" for do in SAYS} <= set(ENGLISH)


def test_term_is_a_grid_of_group_by_week() -> None:
    found, _ = planned()
    term, read = found["calendar"]["term"], everything("term")
    assert says(read, f"{term['firings']['bisque']} bisque and {term['firings']['glaze']} glaze firings; the kiln has days for {term['firings']['fit']}.")
    assert says(read, "week of A makes A paints B makes B paints")
    for index, monday in enumerate(term["weeks"]):
        day = date.fromisoformat(monday)
        works = [[(one["make"] or "", one["paint"] or "") for one in group["weeks"][index]["classes"] if one["make"] or one["paint"]] for group in term["groups"]]
        closed = [group["weeks"][index]["closed"] or "" for group in term["groups"]]
        row = [word for work, shut in zip(works, closed, strict=True) for word in (work[0] if work else (shut,))]
        assert says(read, f"{day.day} {day:%b} {' '.join(word for word in row if word)}".strip()), monday
    for one, next_ in pairwise(term["weeks"]):
        assert date.fromisoformat(one) < date.fromisoformat(next_)


# --- rooms that know less, and words that are long ---


@pytest.mark.parametrize("paper", PAPERS)
def test_a_room_that_knows_nothing_has_papers_too(paper: str) -> None:
    """No groups, kiln, racks, calendar, minutes: 24 are assumed, and no paper is made that would have nothing to say."""
    lesson = FRAME.replace("dates: {make", "# {make").replace("white low-fire", "clay")
    for station in ("Table", "Texture", "Join", "Check"):
        lesson = lesson.replace(f" station: {station},", "")
    read = papers((lesson,), None, paper, "")
    assert {name.split("/")[-1] for name in read} == set(OF_A_CLASS) - {"to-post"} | {"clay-order", "rack-list", "kiln-log"}
    assert says(text_of(next(read[name] for name in read if name.endswith("supplies"))), "Weigh 27 balls: 24 for the learners and 3 spare.")
    for sheet in (sheet for made in read.values() for sheet in made):
        assert overlaps(sheet) == []
        assert not ink_near_edge(sheet)


LONG = "Donaudampfschifffahrtsgesellschaftskapitänsmütze"


@pytest.mark.parametrize("paper", PAPERS)
def test_long_words_and_large_groups(paper: str) -> None:
    """A long title, a group without a code and one of 61 people, long names of levels, clays and stations, 14 things to mark."""
    room = (
        ROOM.replace("Tuesday morning, code: A, levels: {easy: 16, advanced: 12}", "The second group of Tuesday afternoons, levels: {easy: 40, advanced: 21}")
        .replace("New to this", "Has not yet done this before")
        .replace("white low-fire", f"white low-fire with grog and {LONG}")
        .replace("Join", "The joining bench by the window")
        .replace("window rack, shelves: 10", f"{LONG} {LONG}, shelves: 45")
    )
    rows = ", ".join(f"look at point number {n} of the list" for n in range(14))
    lesson = FRAME.replace("Porthole", f"The {LONG} of the harbour master").replace("white low-fire", f"white low-fire with grog and {LONG}")
    lesson = lesson.replace("Join,", "The joining bench by the window,").replace("care: [", f"rubric: [{rows}]\ncare: [{LONG} {LONG}, ")
    read = papers((lesson, POT), room, paper)
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
    read = papers((lesson,))["Porthole/A/care-cards"]
    assert len(read) > 1
    assert all(says(text_of(read), f"Care number {n} is written") for n in range(70))
    assert all(not ink_near_edge(sheet) for sheet in read)


def test_a_topic_that_cannot_be_planned_is_said_where_it_belongs() -> None:
    """A frame larger than the kiln's shelf: the kiln map says so, and all else is there."""
    read = papers((FRAME.replace("across: 160 mm", "across: 500 mm").replace("across: 122 mm", "across: 300 mm"),))
    found: Json = planned((FRAME.replace("across: 160 mm", "across: 500 mm").replace("across: 122 mm", "across: 300 mm"),))[0]
    error = found["kiln"]["error"]
    assert says(text_of(read["kiln-maps"]), f"{error['what']} {error['hint']}")
    assert says(text_of(read["rack-list"]), error["what"])
    assert "kiln-log" not in read
    assert says(text_of(read["Porthole/A/supplies"]), "Weigh 31 balls:")


def test_a_room_of_inches() -> None:
    """200 mm is 7 7/8 in to a sixteenth; 655.2 g are 1.44 lb."""
    read = text_of(papers((FRAME,), ROOM.replace("paper:", "units: in\npaper:"))["Porthole/A/supplies"])
    assert says(read, "7 7/8 in × 7 7/8 in, 5/16 in (8 mm) thick (frame) 1.44 lb (655 g)")
