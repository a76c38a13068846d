"""The teacher's sheet, read back from the PDF."""

from __future__ import annotations

import pytest

from lessonkit.layout.card_order import CardOrder
from lessonkit.layout.teacher import teacher_document
from lessonkit.layout.teacher_notes import TO_WRITE_DOWN, USUAL_CAUTIONS
from lessonkit.layout.teacher_prints import Printing
from lessonkit.layout.wording import say
from lessonkit.lesson.limits import LONGEST_TEXT
from lessonkit.pieces.model import Kit
from lessonkit.writers.pdf import write_pdf
from tests.layout.read_back import Sheet, ink_near_edge, overlaps, places, says, sheets, words_of
from tests.lessons_for_tests import FRAME, ROOM, kit_of

PERIOD = "minutes: {period: 40, arrive: 3, show: 8, clean: 7, leave: 2}\n"
WINDOW = """\
title: Harbour Window
about: A frame for a photo, with a pot beside it.
technique: slab
season: end of term
version: "3"
clay: buff mid-fire
pieces:
  - name: frame
    flat:
      outline: {rectangle: {wide: 150 mm, tall: 200 mm}}
      openings: [{shows: 4 x 6 in photo, lip: 6 mm}]
    hang: {holes: 2, across: 4 mm, from_edge: 5 mm, apart: 80 mm}
  - name: pot
    levels: advanced
    thickness: 6 mm
    cylinder: {across: 80 mm, tall: 95 mm, measured: outside}
  - name: egg
    count: 8
    flat: {outline: {ellipse: {wide: 60 mm, tall: 45 mm}}}
steps:
  - {id: roll, title: Roll the slab, minutes: {easy: 9, advanced: 5}, text: Roll., together: true, cue: All tools down. Roll when I say three.,
     help: Stand up to roll., stop: "Is it 8 mm thick?", safety: Pins stay on the table.}
  - {id: plan, title: Plan it, only: advanced, minutes: 3, text: Plan., stop: "Is your plan shown?"}
  - {id: cut, title: {easy: Cut the frame, advanced: Cut and bevel}, minutes: {easy: 9, advanced: 12}, text: Cut., together: true,
     cue: Needles come around now., word: slip}
  - {id: join, title: Join the shutters, minutes: 8, text: Join., help: Hold it in a cap.}
  - {id: show, title: Show and sign, minutes: 2, text: Show.}
supplies:
  - {name: needle tools, count: 6, per: table}
  - clean water
  - {name: slip cup, count: 1, per: pair}
  - {name: canvas mat, count: 1, per: person}
words: {slip: "Clay and water, thick as yoghurt."}
prepare: [Slabs rolled this morning., Trays tagged.]
wrong:
  - {what: It warps., cure: Turn the slab.}
  - {what: It hangs crooked., cure: Hang a card copy first.}
cautions: [Wet wipe the trays.]
care: [Indoors only.]
"""
HEADINGS = ("prepare", "supplies", "stops", "wrong", "cautions", "care", "write")


def pages(kit: Kit, paper: str = "A4") -> list[Sheet]:
    return sheets(write_pdf(teacher_document(kit, paper)))


def window(room: str = ROOM + PERIOD, lesson: str = WINDOW) -> Kit:
    return kit_of(lesson, room)


def everything(sheets_: list[Sheet]) -> str:
    return " ".join(word for sheet in sheets_ for word in words_of(sheet.text))


def spoken(kit: Kit) -> list[str]:
    """Every text of the lesson that is meant for the teacher."""
    lesson = kit.lesson
    texts = [lesson.title, lesson.about, lesson.season, *lesson.prepare, *lesson.cautions, *lesson.care, *lesson.words, *lesson.words.values()]
    texts += [text for mishap in lesson.wrong for text in (mishap.what, mishap.cure)] + [supply.name for supply in lesson.supplies]
    for step in (step for steps in kit.steps.values() for step in steps):
        texts += [step.title, step.cue, step.help, step.stop, *step.safety, step.station]
    return [text for text in texts if text]


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_every_teacher_text_is_there_and_nothing_is_in_the_way(paper: str) -> None:
    kit = window()
    read = pages(kit, paper)
    for text in spoken(kit):
        assert all(word in words_of(everything(read)) for word in words_of(text)), text
    for key in (*(f"caution_{key}" for key in USUAL_CAUTIONS), *(f"teacher_write_{key}" for key in TO_WRITE_DOWN)):
        assert all(word in words_of(everything(read)) for word in words_of(say(key))), key
    for key in HEADINGS:
        assert sum(len(places(sheet, say(f"teacher_{key}"))) for sheet in read) >= 1, key
    for sheet in read:
        assert not ink_near_edge(sheet)
        assert overlaps(sheet) == []
        assert {round(letter.size_pt, 1) for letter in sheet.letters} <= {22.0, 9.5, 8.0}
    assert all(f"{paper} · sheet {k} of {len(read)}" in sheet.text for k, sheet in enumerate(read, 1))


def row(read: list[Sheet], first: str) -> str:
    """The line of text that begins so."""
    return next(line for sheet in read for line in sheet.text.splitlines() if line.startswith(first))


def test_sizes_of_every_piece_and_part() -> None:
    """Cut = fired / 0.88 (ASTM C326). 150 is 170.5, the photo's opening 101.6 - 12 = 89.6 is 101.8; the pot's wall is
    pi x (90.91 - 6) = 266.7 long (worked by hand); a frame of 387.4 less 162.4 cm², 8 mm thick, at 1.95 weighs 351 g."""
    read = pages(window())
    for line in ("A frame wide 150 170.5 8 (green)", "tall 200 227.3", "opening wide 89.6 101.8", "hole 4 4.5", "outside 80 90.9 6 (blue)",
                 "B wall long 234.7 266.7", "C base across 80 90.9", "D egg wide 60 68.2 8 (green)"):  # fmt: skip
        assert says(everything(read), line), line
    assert says(row(read, "A frame wide"), "351 g 1")
    assert row(read, "D egg").endswith(" 8")
    assert "pot (Done this before)" in everything(read)
    assert "Cut = fired ÷ 0.88." in everything(read)
    assert says(everything(read), "It is fired to cone 6, never above cone 6, and shrinks 12 % (from the bag, unmeasured).")


def test_sizes_in_a_room_of_inches() -> None:
    """150 mm is 5 29/32, to a sixteenth 5 7/8; cut 170.45 mm is 6.711 in, 6 11/16."""
    read = everything(pages(window(ROOM.replace("paper:", "units: in\npaper:"))))
    assert says(read, "wide 5 7/8 (150) 6 11/16 (170.5) 5/16 (8)")
    assert says(read, "0.8 lb (351 g)")
    assert "Sizes, in inches (and mm)" in read
    assert "4 in is 4 in" in read


def test_minutes_that_do_not_fit_are_told() -> None:
    """20 minutes for the work; New to this needs 28, Done this before 30 and a wait of 1 (by hand)."""
    read = everything(pages(window()))
    assert says(read, "New to this: 8 minutes too long. The work takes 28 and has 20. At minute 31, when clean-up must begin, this is not done: "
                "3 Join the shutters, 6 minutes short; 4 Show and sign, 2 minutes short.")  # fmt: skip
    assert says(read, "Done this before: 11 minutes too long. The work takes 31, 1 of them waiting, and has 20.")
    assert says(read, "2 Cut and bevel, 1 minute short;")
    assert "Minutes, of 40" in read


def test_minutes_that_fit_and_minutes_that_are_not_known() -> None:
    fits = everything(pages(kit_of(FRAME, ROOM + PERIOD)))
    assert says(fits, "New to this: 8 minutes of work, 20 to do it in, 12 to spare.")
    exact = everything(pages(kit_of(FRAME.replace("minutes: 8", "minutes: 20"), ROOM + PERIOD)))
    assert says(exact, "New to this: 20 minutes of work fill the time exactly.")
    assert "The room does not say how long a class lasts" in everything(pages(kit_of(FRAME)))


def test_steps_with_minutes_cues_and_help() -> None:
    read = pages(window())
    assert says(everything(read), "1 Roll the slab 9 5")
    assert says(everything(read), "1a Plan it – 3")
    assert says(everything(read), "you say help")
    assert says(everything(read), "Cut the frame / Cut and bevel 9 12")


def test_what_was_assumed_is_said() -> None:
    read = everything(pages(kit_of(FRAME, None)))
    assert says(read, "No room file was found.")
    assert "12 %" in read


def test_warnings_of_the_pieces_with_their_cure() -> None:
    kit = window()
    warnings = [problem for piece in kit.pieces for problem in piece.warnings]
    assert warnings
    read = everything(pages(kit))
    assert "Before you print" in read
    assert all(word in words_of(read) for problem in warnings for word in words_of(f"{problem.what} {problem.hint}"))
    assert "Before you print" not in everything(pages(kit_of(FRAME)))


def test_stops_say_for_whom_where_levels_differ() -> None:
    read = everything(pages(window()))
    assert says(read, "Step 1 Is it 8 mm thick?")
    assert says(read, "Done this before Is your plan shown?")


def test_supplies_are_counted_by_person_pair_table_and_class() -> None:
    read = everything(pages(window()))
    for line in ("for each person 1 canvas mat", "for each pair 1 slip cup", "for each table 6 needle tools", "for the class clean water"):
        assert says(read, line), line


@pytest.mark.parametrize("count", [0, 7, 12, 17, 23, 31, 48])
@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_no_heading_stands_alone_at_the_foot(count: int, paper: str) -> None:
    """Whatever the amount to prepare: under each heading, in its column, the next line begins within 12 mm."""
    prepare = ", ".join(f"Item {n} is to be laid out before the class comes in." for n in range(count))
    lesson = WINDOW.replace("prepare: [", f"prepare: [{prepare}{', ' if count else ''}")
    read = pages(window(lesson=lesson), paper)
    found = 0
    for sheet in read:
        assert overlaps(sheet) == []
        assert not ink_near_edge(sheet)
        for heading in [say(f"teacher_{key}") for key in HEADINGS] + ["Sizes, in mm", "Minutes, of 40", "Steps, with minutes for each level"]:
            for first in places(sheet, heading):
                column = [letter for letter in sheet.letters if 0 <= letter.left - first.left + 1 < 60]
                below = [letter.top - first.foot for letter in column if letter.top > first.foot + 1]
                assert min(below, default=99) < 12, (heading, sheet.text[-30:])
                found += 1
    assert found >= len(HEADINGS) + 3
    assert [n for n in range(count) if not says(everything(read), f"Item {n} is to be laid out before the class comes in.")] == []


@pytest.mark.parametrize("pieces", [5, 7, 8, 9, 11, 30])
def test_many_pieces_push_the_rest_to_the_next_page(pieces: int) -> None:
    """The bars and their words go on to the next page whole; every size stands there."""
    more = "".join(f"  - {{name: comet {n}, flat: {{outline: {{rectangle: {{wide: {100 + n} mm, tall: 50 mm}}}}}}}}\n" for n in range(pieces))
    read = pages(window(lesson=WINDOW.replace("steps:\n", f"{more}steps:\n", 1)))
    assert all(says(everything(read), f"comet {n} wide {100 + n}") for n in range(pieces))
    assert all(overlaps(sheet) == [] and not ink_near_edge(sheet) for sheet in read)
    chart = next(sheet for sheet in read if places(sheet, "Minutes, of 40"))
    assert says(" ".join(words_of(chart.text)), "all start")
    assert all(says(" ".join(words_of(sheet.text)), "piece measure fired cut slab each") for sheet in read if places(sheet, "comet"))


def test_columns_end_side_by_side() -> None:
    """On the last page no column is more than one paragraph of six lines longer than the shortest."""
    last = pages(window())[-1]
    top = places(last, "Cautions")[0].top
    foot = max(letter.top for letter in last.letters)
    ends = [max((letter.foot for letter in last.letters if left <= letter.left < left + 58 and top - 60 < letter.top < foot - 5), default=0.0)
            for left in (11, 75, 139)]  # fmt: skip
    assert max(ends) - min(ends) < 6 * 4.5 + 14


def test_long_texts_flow_on_with_the_head_of_their_table() -> None:
    """A help text and two things to prepare, each nearly as long as may be: all there, once, in order, on several pages."""
    help_, prepare = " ".join(f"h{n}" for n in range(400)), " ".join(f"p{n}" for n in range(800))
    first, second = prepare[: prepare.index(" p400")], prepare[prepare.index("p400") :]
    assert all(LONGEST_TEXT * 0.9 < len(text) <= LONGEST_TEXT for text in (help_, first, second))
    kit = window(lesson=WINDOW.replace("Hold it in a cap.", help_).replace("Trays tagged.", f"{first}, {second}"))
    for paper in ("A4", "Letter"):
        read = pages(kit, paper)
        printed = words_of(everything(read))
        assert [word for word in printed if word[0] == "h" and word[1:].isdigit()] == help_.split()
        assert [word for word in printed if word[0] == "p" and word[1:].isdigit()] == prepare.split()
        with_help = [sheet for sheet in read if any(word[0] == "h" and word[1:].isdigit() for word in words_of(sheet.text))]
        assert len(with_help) > 1
        assert all(says(sheet.text, "you say help") for sheet in with_help)
        assert all(overlaps(sheet) == [] and not ink_near_edge(sheet) for sheet in read)


def test_a_long_title_and_long_words_are_not_clipped() -> None:
    word = "Donaudampfschifffahrtsgesellschaftskapitänsmütze"
    lesson = WINDOW.replace("Harbour Window", " ".join([word] * 2)).replace("name: egg", f"name: {word}").replace("Turn the slab.", word)
    read = pages(window(lesson=lesson))
    assert everything(read).replace("-", "").replace(" ", "").replace("\ufffe", "").count(word) >= 4
    assert all(overlaps(sheet) == [] and not ink_near_edge(sheet) for sheet in read)


def test_three_levels_have_three_bars() -> None:
    room = (ROOM + PERIOD).replace("levels: {easy: New to this,", "levels: {easy: New to this, middle: Some practice,")
    lesson = WINDOW.replace("{easy: 9, advanced: 5}", "6").replace("{easy: 9, advanced: 12}", "6")
    lesson = lesson.replace("{easy: Cut the frame, advanced: Cut and bevel}", "Cut")
    read = everything(pages(window(room, lesson)))
    assert says(read, "Some practice: 5 minutes too long. The work takes 25, 3 of them waiting, and has 20.")
    assert says(read, "1 Roll the slab 6 6 6")


@pytest.mark.parametrize("levels", [1, 4, 6])
def test_many_levels_and_long_names_of_sticks_still_fit(levels: int) -> None:
    names = "".join(f", more{n}: Has done it {n + 2} times before" for n in range(levels))
    room = (ROOM + PERIOD).replace("before}", f"before{names}}}", 1).replace("green", "the long ones with green and yellow painted ends")
    lesson = WINDOW.replace("{easy: 9, advanced: 5}", "6").replace("{easy: 9, advanced: 12}", "6")
    lesson = lesson.replace("{easy: Cut the frame, advanced: Cut and bevel}", "Cut")
    read = pages(window(room, lesson))
    assert all(overlaps(sheet) == [] and not ink_near_edge(sheet) for sheet in read)
    assert all(says(everything(read), f"Has done it {n + 2} times before:") for n in range(levels))


def test_a_lesson_without_the_teachers_fields_is_still_a_sheet() -> None:
    read = pages(kit_of(FRAME))
    assert len(read) == 1
    assert "Lay out" not in read[0].text
    assert "you say" not in read[0].text
    assert "Cautions" in read[0].text


def test_large_counts_and_long_names_of_files_push_nothing_off_the_sheet() -> None:
    """A count of six figures makes its column wider; a file whose name takes the whole table wraps, so that notes can be read."""
    kit = window(lesson=WINDOW.replace("count: 6, per: table", "count: 999999, per: table"))
    how = Printing("-letter", CardOrder(format="2", reading="picture", left_handed=True, backs="long-edge", sets=3), mirror=True)
    read = sheets(write_pdf(teacher_document(kit, "Letter", how)))
    assert says(everything(read), "999999 needle tools")
    assert all(overlaps(sheet) == [] and not ink_near_edge(sheet) for sheet in read)
