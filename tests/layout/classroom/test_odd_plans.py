"""Rooms that know less, words that are long, plans that cannot be made whole: there are papers all the same."""

from __future__ import annotations

import pytest

from lessonkit.layout.classroom.papers import OF_A_CLASS
from tests.layout.classroom.plans_for_tests import FRAME, LEAST_PT, PAPERS, ROOM, documents, planned, read_paper, text_of
from tests.layout.read_back import ink_near_edge, overlaps, says


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
