"""Rubric, standards, extras, things at hand, clay and prints on the teacher's sheet, read back from the PDF."""

from __future__ import annotations

import pytest

from lessonkit.build import Order, papers
from lessonkit.layout.card_order import CardOrder
from lessonkit.layout.teacher_prints import Printing, prints
from tests.layout.read_back import ink_near_edge, overlaps, says, sheets
from tests.layout.test_teacher import PERIOD, WINDOW, everything, pages, window
from tests.lessons_for_tests import FRAME, ROOM, kit_of, problems_of

RUBRIC = """\
rubric:
  - Edges
  - {look: Joints, says: [one turns, all tight, tight and even]}
standards:
  VA:Cr2.1.3a: Tries two ways to join.
  VA:Cr2.2.3a:
early:
  - Stamp the scraps.
  - {text: Draw the view., levels: [easy]}
"""
MEASURED = ROOM.replace("shrinkage: 12 %,", "bars: [{wet: 100 mm, fired: 88 mm, cone: 6}, {wet: 100 mm, fired: 88.4 mm, cone: 6}, "
                        "{wet: 100 mm, fired: 87.6 mm, cone: 6}],")  # fmt: skip
GROUP = ROOM + "groups: [{name: Tuesday, levels: {easy: 16, advanced: 12}}, {name: Friday, people: 4}]\n"


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_rubric_standards_and_extras_are_there(paper: str) -> None:
    read = pages(window(lesson=WINDOW + RUBRIC), paper)
    text = everything(read)
    for words in ("What to look for", "look at not yet got it wow", "Edges ☐ ☐ ☐", "Joints one turns all tight tight and even",
                  "VA:Cr2.1.3a Tries two ways to join.", "VA:Cr2.2.3a", "Stamp the scraps.", "New to this: Draw the view."):  # fmt: skip
        assert says(text, words), words
    assert all(overlaps(sheet) == [] and not ink_near_edge(sheet) for sheet in read)


def test_a_lesson_without_them_says_nothing_of_them() -> None:
    text = everything(pages(kit_of(FRAME)))
    for words in ("What to look for", "Standards", "finish early", "Without a printer"):
        assert words not in text


def test_the_room_has_marks_of_its_own() -> None:
    room = ROOM + PERIOD + "rubric: [seed, sprout, bud, bloom]\n"
    assert says(everything(pages(window(room, WINDOW + "rubric: [Edges]\n"))), "look at seed sprout bud bloom Edges ☐ ☐ ☐ ☐")
    assert any("a rubric has 2 to 5 columns, found 1." in problem for problem in problems_of(FRAME, ROOM + "rubric: [seed]\n"))


def test_texts_for_too_few_marks_are_refused_at_their_place() -> None:
    (told,) = problems_of(FRAME + "rubric:\n  - {look: Joints, says: [loose, tight]}\n")
    assert told.startswith("lesson.yaml:19:26: error: Joints has 2 texts, and there are 3 marks: not yet, got it, wow.")


def test_codes_alone_make_a_list() -> None:
    text = everything(pages(kit_of(FRAME + "standards: [VA:Cr2.1.3a, VA:Re7.1.3a]\n")))
    assert says(text, "Standards VA:Cr2.1.3a VA:Re7.1.3a")


def test_an_extra_for_no_level_of_the_room_is_refused() -> None:
    (told,) = problems_of(FRAME + "early: [{text: Draw., levels: esay}]\n")
    assert "there is no level called “esay”. Did you mean easy?" in told


def test_how_the_clay_is_known_and_how_far_a_piece_may_stray() -> None:
    """Three bars of 12, 11.6 and 12.4 %: s = 0.4 points; the next piece may stray t(0.975, 2) x s x sqrt(1 + 1/3) = 1.99 points
    (Student's t = 4.303), which on a ring cut 181.8 wide are 3.6 mm."""
    text = everything(pages(kit_of(FRAME, MEASURED)))
    assert says(text, "shrinks 12 % (from 3 test bars).")
    assert says(text, "outside 160 ± 3.6 181.8")
    assert says(text, "± is how far the next piece may stray: from 3 test bars.")
    plain = everything(pages(kit_of(FRAME)))
    assert says(plain, "shrinks 12 % (from the bag, unmeasured).")
    assert "±" not in plain
    inches = everything(pages(kit_of(FRAME, MEASURED.replace("paper:", "units: in\npaper:"))))
    assert says(inches, "outside 6 5/16 (160 ± 3.6) 7 3/16 (181.8)")


def test_wet_sizes_and_other_clays_are_said() -> None:
    lesson = FRAME.replace("  - name: frame\n", "  - name: frame\n    sizes: wet\n    clay: white low-fire\n")
    text = everything(pages(kit_of(lesson)))
    assert says(text, "frame: its wet sizes were given; what it fires to follows from them.")
    assert says(text, "outside 150.4 160")  # 160 x 0.94
    assert says(text, "frame: of white low-fire, fired to cone 04, never above cone 04; it shrinks 6 % (from the bag, unmeasured).")


def test_leather_hard_is_said_with_what_is_lost_by_then() -> None:
    room = ROOM.replace('cone: "6", shrinkage: 12 %,', 'cone: "6", shrinkage: 12 %, leather_hard: 3 %,')
    text = everything(pages(kit_of(FRAME.replace("  - name: frame\n", "  - name: frame\n    cut_at: leather-hard\n"), room)))
    assert says(text, "frame: cut leather-hard, when 3 % of its length is lost already.")
    assert says(text, "outside 160 176.4")  # 160 x 0.97 / 0.88


def test_round_things_for_the_day_without_a_printer() -> None:
    """A tin of 180 mm marks the ring instead of 181.8: 180 x 0.88 is 158.4."""
    text = everything(pages(kit_of(FRAME, ROOM + "round_things: [{name: biscuit tin, across: 180 mm}, {name: cup, across: 90 mm}]\n")))
    assert says(text, "Without a printer")
    assert says(text, "frame, outside: biscuit tin, 180 mm, marks it instead of 181.8 mm, and it fires to 158.4 mm.")


def test_what_to_print_for_the_first_group() -> None:
    """16 learners share 8 sets of cards, and one is spare; 12 share 6, and one is spare; 28 share 14 stencils, and two are spare."""
    text = everything(pages(kit_of(FRAME, GROUP)))
    assert says(text, "Print at 100 %, actual size, for Tuesday, 28 people")
    for row in ("stencils.pdf 16 card one for 28 learners, with spares", "cards-easy.pdf 9 card one sets, for 16 learners, with spares",
                "cards-advanced.pdf 7 card one sets, for 12 learners, with spares", "set-out.pdf 1 plain one",
                "teacher.pdf 1 plain two"):  # fmt: skip
        assert says(text, row), row


def test_what_to_print_without_groups() -> None:
    text = everything(pages(kit_of(FRAME)))
    for row in ("stencils.pdf 1 for 2 learners card one", "cards-easy.pdf 1 for 2 learners card one"):
        assert says(text, row), row
    text = everything(pages(kit_of(FRAME, ROOM + "copies: {learners_a_card: 3, learners_a_stencil: 4}\n")))
    assert says(text, "stencils.pdf 1 for 4 learners card one")
    assert says(text, "cards-easy.pdf 1 for 3 learners card one")


def test_a_part_that_fewer_make_needs_fewer_copies() -> None:
    """Only the 12 advanced make the pot: 6 copies and one spare of its two parts; of all others 16."""
    text = everything(pages(kit_of(WINDOW, GROUP)))
    assert says(text, "stencils.pdf 16 card one for 28 learners, with spares; B wall: 7 are enough; C base: 7 are enough")
    nobody = everything(pages(kit_of(FRAME, GROUP.replace("levels: {easy: 16, advanced: 12}", "levels: {easy: 16}"))))
    assert says(nobody, "cards-advanced.pdf 0 card one nobody of this level in the group")


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_the_list_names_the_files_that_are_made(paper: str) -> None:
    """Every PDF of the lesson is on the list, under its own name, for either paper."""
    kit = kit_of(WINDOW + "stations:\n  - {name: Nook, do: [Go.]}\n", GROUP)
    made = {name for name in papers(kit, Order(paper)) if name.endswith(".pdf")}
    mark = "" if paper == kit.room.paper[0] else f"-{paper.lower()}"
    assert {one.file for one in prints(kit, Printing(mark))} == made
    text = everything(pages(kit)) if not mark else ""
    assert not text or all(name in text for name in made)


@pytest.mark.parametrize(
    ("cards", "row"),
    [
        (CardOrder(backs="long-edge"), "cards-easy-backs-long-edge.pdf 9 card two sets, for 16 learners, with spares; flip on the long edge"),
        (CardOrder(sets=5), "cards-easy-5-sets.pdf 1 card one 5 sets are in the file"),
        (CardOrder(format="large"), "cards-easy-large-print.pdf 9 card one"),
    ],
)
def test_the_list_follows_the_cards_that_were_asked_for(cards: CardOrder, row: str) -> None:
    kit = kit_of(FRAME, GROUP)
    made = papers(kit, Order(cards=cards, mirror=True))
    assert {one.file for one in prints(kit, Printing(cards=cards, mirror=True))} == {name for name in made if name.endswith(".pdf")}
    assert says(everything(sheets(made["teacher.pdf"])), row)


def test_flipped_stencils_are_listed_on_both_sides() -> None:
    kit = kit_of(FRAME.replace("    flat:\n", "    flat:\n      sides: both\n"))
    made = {name for name in papers(kit) if name.endswith(".pdf")}
    assert {one.file for one in prints(kit)} == made
    assert says(everything(pages(kit)), "stencils-both-sides.pdf 1 for 2 learners card two instead of the same sheets above")


def test_a_level_without_steps_has_all_other_papers() -> None:
    kit = kit_of(FRAME.replace("    text: Cut", "    only: [advanced]\n    text: Cut") + "stations:\n  - {name: Nook, steps: [cut]}\n", ROOM + PERIOD)
    made = papers(kit)
    assert "cards-advanced.pdf" in made
    assert "cards-easy.pdf" not in made
    assert {"teacher.pdf", "substitute.pdf", "set-out.pdf", "station-signs.pdf", "table-tents.pdf", "stencils.pdf"} <= set(made)
    assert says(everything(pages(kit)), "0a Cut the ring – 8")
