"""Her own bars, her printer, her stage of cutting, her cups."""

from __future__ import annotations

import pytest

from lessonkit.pieces.things import substitutes
from tests.lessons_for_tests import FRAME, ROOM, kit_of, problems_of

BARS = "bars: [{wet: 100 mm, fired: 88.2 mm, cone: 6}, {wet: 100 mm, fired: 87.9 mm, cone: 6}, {wet: 100 mm, fired: 88.0 mm, cone: 6}]"
WITH_BARS = ROOM.replace("shrinkage: 12 %,", f"{BARS},")


def test_bars_give_the_shrinkage_and_its_spread() -> None:
    """Three bars: mean 11.967 %; t(0.975, 2) = 4.3027 (published tables), s = 0.1528 points, so ± 0.759 points."""
    clay = kit_of(FRAME, WITH_BARS).clay
    assert clay.shrinkage == pytest.approx(0.119667, abs=1e-6)
    assert (clay.most - clay.least) / 2 == pytest.approx(4.302653 * 0.00152753 * (1 + 1 / 3) ** 0.5, rel=1e-4)
    assert clay.basis == "from 3 test bars"


def test_a_fired_size_has_its_plus_or_minus() -> None:
    kit = kit_of(FRAME, WITH_BARS)
    across = kit.pieces[0].measures[0]
    assert across.fired == pytest.approx(160)
    assert across.off == pytest.approx(across.cut * (kit.clay.most - kit.clay.least) / 2)
    assert kit_of(FRAME).pieces[0].measures[0].off == 0


def test_two_bars_say_so() -> None:
    room = ROOM.replace("shrinkage: 12 %,", "bars: [{wet: 100 mm, fired: 88 mm, cone: 6}, {wet: 100 mm, fired: 88.2 mm, cone: 6}],")
    clay = kit_of(FRAME, room).clay
    assert clay.basis == "from 2 test bars, too few to know the spread"
    assert clay.least == clay.most == clay.shrinkage


def test_a_range_from_the_bag_is_a_range() -> None:
    clay = kit_of(FRAME, ROOM.replace("shrinkage: 12 %", "shrinkage: 11-13 %")).clay
    assert (clay.least, clay.shrinkage, clay.most) == (0.11, pytest.approx(0.12), 0.13)
    assert clay.basis == "from the bag, unmeasured"


def test_bars_that_disagree_with_the_file_are_a_problem() -> None:
    (line,) = problems_of(FRAME, ROOM.replace("shrinkage: 12 %,", f"shrinkage: 14 %, {BARS},"))
    assert "the test bars of buff mid-fire shrank 12.0 %, but the file also says 14 %." in line
    assert kit_of(FRAME, ROOM.replace("shrinkage: 12 %,", f"shrinkage: 12 %, {BARS},")).clay.basis == "from 3 test bars"


def test_a_bar_that_grows_and_a_clay_without_a_figure_are_refused() -> None:
    assert any("this bar grows from 100 mm to 101 mm" in line for line in problems_of(FRAME, WITH_BARS.replace("fired: 88.2", "fired: 101")))
    assert any("this clay has no shrinkage" in line for line in problems_of(FRAME, ROOM.replace(" shrinkage: 12 %,", "")))


def test_cut_leather_hard() -> None:
    """Fired 150 in a clay of 12 % that has lost 3 % when it is cut: 150 x 0.97 / 0.88 = 165.3, not 170.5 (worked by hand)."""
    lesson = FRAME.replace("160 mm", "150 mm").replace("- name: frame\n", "- name: frame\n    cut_at: leather-hard\n")
    measured = ROOM.replace("shrinkage: 12 %,", "shrinkage: 12 %, leather_hard: 3 %,")
    across = kit_of(lesson, measured).pieces[0].measures[0]
    assert across.cut == pytest.approx(165.34, abs=0.005)
    assert across.fired == pytest.approx(150)
    (line,) = problems_of(lesson)
    assert "nobody has measured what buff mid-fire has lost by then" in line


@pytest.mark.parametrize(("across", "down"), [("174 mm", "200 mm"), ("180 mm", "192 mm")])
def test_a_page_printed_to_fit_is_not_corrected_but_printed_again(across: str, down: str) -> None:
    """Printing to fit makes A4 on Letter 94.1 % (computed from ISO 216 and ANSI sizes): no correction, print again."""
    (line,) = problems_of(FRAME, ROOM + f"printed: {{across: {across}, down: {down}}}\n")
    assert "print the check again at 100 %" in line


def test_round_things_at_hand() -> None:
    """A tin of 180 mm stands for 181.8 and fires to 180 x 0.88 = 158.4."""
    kit = kit_of(FRAME, ROOM + "round_things: [{name: biscuit tin, across: 180 mm}, {name: cup, across: 90 mm}]\n")
    found = {s.measure.key: (s.thing, round(s.fired_mm, 1)) for s in substitutes(kit)}
    assert found == {"across": ("biscuit tin", 158.4), "opening": ("cup", 79.2)}
    assert substitutes(kit_of(FRAME)) == ()
