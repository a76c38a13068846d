"""The substitute's page, read back from the PDF."""

from __future__ import annotations

import pytest

from lessonkit.layout.substitute import substitute_document
from lessonkit.layout.wording import say
from lessonkit.pieces.model import Kit
from lessonkit.writers.pdf import write_pdf
from tests.layout.read_back import Sheet, ink_near_edge, overlaps, says, sheets, words_of
from tests.layout.test_teacher import PERIOD, WINDOW
from tests.lessons_for_tests import FRAME, ROOM, kit_of

WHERE = 'where: {clay: under the bench, first aid: "white cupboard, left"}\n'


def pages(kit: Kit, paper: str = "A4") -> list[Sheet]:
    return sheets(write_pdf(substitute_document(kit, paper)))


def text_of(kit: Kit, paper: str = "A4") -> str:
    return " ".join(word for page in pages(kit, paper) for word in words_of(page.text))


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_everything_that_a_stranger_needs(paper: str) -> None:
    kit = kit_of(WINDOW, ROOM + PERIOD + WHERE)
    read = pages(kit, paper)
    text = text_of(kit, paper)
    for words in ("For whoever teaches today in the Saltmarsh Clay Room.", "The kiln. Do not open it, switch it on or off, load it,",
                  "clay: under the bench", "first aid: white cupboard, left", "Ask (name, room, telephone):",
                  "Clean-up begins at minute 31, however far they are.",
                  "We came as far as step:", "Pins stay on the table.", say("caution_rules")):  # fmt: skip
        assert says(text, words), words
    for page in read:
        assert overlaps(page) == []
        assert not ink_near_edge(page)
        assert {round(letter.size_pt, 1) for letter in page.letters} <= {22.0, 9.5, 8.0}
    assert all(says(page.text, f"sheet {k} of {len(read)}") for k, page in enumerate(read, 1))


def test_the_order_of_the_period_by_level() -> None:
    """In 0, shown 3, work from 11. New to this rolls 9 and cuts at 20; Done this before rolls 5, plans 3 at 16, waits 1 and cuts at 20 too.
    The cut takes 9 or 12, so that joining begins at 29 or 32, and clean-up when the slower is done at 42 (all worked by hand)."""
    text = text_of(kit_of(WINDOW, ROOM + PERIOD))
    for row in ("0 0 Come in", "3 3 Look together", "11 11 1 Roll the slab", "– 16 1a Plan it", "20 20 2 Cut the frame", "29 32 3 Join the shutters",
                "42 42 Stop and clean up", "49 49 Line up"):  # fmt: skip
        assert says(text, row), row
    order = [text.index(word) for word in ("Come in", "Look together", "1 Roll", "1a Plan", "2 Cut", "3 Join", "4 Show", "Stop and clean", "Line up")]
    assert order == sorted(order)


def test_stops_and_cues_stand_with_their_step() -> None:
    text = text_of(kit_of(WINDOW, ROOM + PERIOD))
    assert says(text, "You say: “All tools down. Roll when I say three.” Roll. STOP: Is it 8 mm thick?")
    assert says(text, "Done this before: Plan. STOP: Is your plan shown?")
    lesson = WINDOW.replace('stop: "Is it 8 mm thick?"', 'stop: {easy: "As thick as the sticks?", advanced: "8 mm?"}')
    assert says(text_of(kit_of(lesson)), "STOP, New to this: As thick as the sticks? STOP, Done this before: 8 mm?")


def test_c10_a_safety_note_names_the_steps_that_it_belongs_to() -> None:
    """It stands among the cautions, perhaps on the next sheet: without a number nobody would know when it is meant."""
    steps = "".join(f"  - {{id: s{n}, title: Step {n}, picture: trace, minutes: 4, text: Do it., safety: {note}}}\n" for n, note in
                    enumerate(("Needles lie flat.", "Do not sand dry clay.", "Needles lie flat.")))  # fmt: skip
    text = text_of(kit_of(FRAME[: FRAME.index("steps:")] + "steps:\n" + steps))
    assert says(text, "Step 1, 3 Needles lie flat.")
    assert says(text, "Step 2 Do not sand dry clay.")


def test_the_plainest_words_are_given() -> None:
    two = "    only: advanced\n    levels: {advanced: {text: Sever it., plain: Cut it.}}"
    lesson = FRAME.replace("    text: Cut the ring. It is {frame cut} wide.", two)
    text = text_of(kit_of(lesson))
    assert says(text, "Done this before: Cut it.")
    assert "Sever" not in text


def test_no_clock_stands_on_it() -> None:
    room = ROOM + PERIOD + 'groups: [{name: Tuesday, people: 9, day: Tuesday, at: "9:30"}]\n'
    text = text_of(kit_of(WINDOW, room))
    assert "9:30" not in text
    assert "Tuesday" not in text


def test_places_that_nobody_wrote_down_are_lines() -> None:
    text = text_of(kit_of(FRAME))
    for key in ("clay", "stencils", "tools", "plastic", "aprons", "first_aid"):
        assert says(text, say(f"sub_place_{key}"))
    assert says(text, "The order, and the minute at which each begins")
    assert "Clean-up begins" not in text


def test_who_is_early_has_something_to_do() -> None:
    lesson = WINDOW + "early: [Stamp the scraps., {text: Draw it., levels: easy}]\n"
    text = text_of(kit_of(lesson))
    assert says(text, "For those who finish early")
    assert says(text, "Stamp the scraps.")
    assert says(text, "New to this: Draw it.")
    assert "finish early" not in text_of(kit_of(FRAME))


@pytest.mark.parametrize("levels", [1, 4, 6])
def test_many_levels_still_fit(levels: int) -> None:
    names = "".join(f", more{n}: Has done it {n + 2} times before" for n in range(levels))
    lesson = WINDOW.replace("minutes: {easy:", "minutes: {all: 5, easy:").replace("title: {easy:", "title: {all: Cut, easy:")
    kit = kit_of(lesson, (ROOM + PERIOD).replace("before}", f"before{names}}}", 1))
    for paper in ("A4", "Letter"):
        assert all(overlaps(page) == [] and not ink_near_edge(page) for page in pages(kit, paper))


def test_long_notes_flow_on() -> None:
    """In two columns higher than a sheet."""
    words = [f"w{n}" for n in range(1000)]
    early = ", ".join(" ".join(words[first : first + 250]) for first in range(0, 1000, 250))
    read = pages(kit_of(WINDOW + f"early: [{early}]\n"))
    assert sorted(word for page in read for word in words_of(page.text) if word[0] == "w" and word[1:].isdigit()) == sorted(words)
    assert all(overlaps(page) == [] and not ink_near_edge(page) for page in read)


def test_long_texts_flow_on() -> None:
    words = " ".join(f"w{n}" for n in range(700))
    read = pages(kit_of(WINDOW.replace("text: Cut.,", f"text: {words},")))
    assert len(read) > 1
    assert [word for page in read for word in words_of(page.text) if word[0] == "w" and word[1:].isdigit()] == words.split()
    assert all(overlaps(page) == [] and not ink_near_edge(page) for page in read)
