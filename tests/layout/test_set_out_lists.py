"""The set-out lists, read back from the PDF."""

from __future__ import annotations

import pytest

from lessonkit.layout.set_out import set_out_document
from lessonkit.writers.pdf import write_pdf
from tests.layout.read_back import Sheet, ink_near_edge, overlaps, says, sheets, words_of
from tests.lessons_for_tests import FRAME, ROOM, kit_of

SUPPLIES = """\
supplies:
  - {name: canvas mat, count: 1, per: person}
  - {name: slip cup, count: 1, per: pair}
  - {name: needle tool, count: 6, per: table}
  - {name: flipping board, count: 3, per: class}
  - clean water
"""
GROUP = ROOM + "groups: [{name: Tuesday, people: 25}, {name: Friday, people: 4}]\ntables: {seats: 6}\n"


def lists(lesson: str = FRAME + SUPPLIES, room: str = GROUP, paper: str = "A4") -> list[Sheet]:
    return sheets(write_pdf(set_out_document(kit_of(lesson, room), paper)))


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_a_list_for_each_table_of_the_first_group(paper: str) -> None:
    """25 people: three tables of 6, one of 4 and one of 3; four lists to the sheet, then one and the class's."""
    first, second = lists(paper=paper)
    for number in (1, 2, 3, 4):
        assert says(first.text, f"Table {number}")
    assert words_of(first.text).count("people") == 4
    assert says(first.text, "6 canvas mat 3 slip cup 6 needle tool 3 step cards, a set for every 2")
    assert says(second.text, "3 canvas mat 2 slip cup 6 needle tool 2 step cards, a set for every 2")
    assert says(second.text, "For the class Tuesday 3 flipping board clean water")
    for page in (first, second):
        assert overlaps(page) == []
        assert not ink_near_edge(page)
        assert {round(letter.size_pt) for letter in page.letters} == {8, 11, 22}


def test_without_groups_one_table_that_is_assumed() -> None:
    (page,) = lists(room=ROOM)
    assert says(page.text, "Every table 6 people (assumed: the room does not say)")
    assert says(page.text, "6 canvas mat 3 slip cup")


def test_every_thing_has_a_box_to_tick() -> None:
    """5 boxes more of the same ink for 5 things more."""

    def ink(count: int) -> int:
        more = "".join("  - {name: ·, per: table}\n" for _ in range(count))
        return lists(FRAME + SUPPLIES + more, ROOM)[0].picture.point(lambda tone: tone < 128 and 255).histogram()[255]

    one = ink(1) - ink(0)
    assert one > 80
    assert ink(5) - ink(0) == pytest.approx(5 * one, rel=0.15)


@pytest.mark.parametrize("paper", ["A4", "Letter"])
@pytest.mark.parametrize(("count", "pages"), [(18, 2), (60, 6)])
def test_long_lists_take_more_room(paper: str, count: int, pages: int) -> None:
    """Two to the sheet where four do not hold them; then on to a second list of the same table. Everything stands there once for each table."""
    more = "".join(f"  - {{name: a thing with quite a long name that is number {n}, per: table}}\n" for n in range(count))
    read = lists(FRAME + SUPPLIES + more, GROUP, paper)
    printed = " ".join(" ".join(words_of(page.text)) for page in read)
    assert len(read) >= pages
    assert all(printed.count(f"is number {n} ") == 5 for n in range(count))
    assert ("Table 1, 1 of" in printed) == (count == 60)
    assert all(overlaps(page) == [] and not ink_near_edge(page) for page in read)
