"""Her own figures go before the usual ones, and it is said."""

from __future__ import annotations

import pytest

from lessonkit.build import Source, read
from lessonkit.lesson.decode import Written
from lessonkit.lesson.log import Log
from lessonkit.planning.log import log_problems, own_figures, with_own_minutes
from lessonkit.planning.minutes import timeline
from lessonkit.planning.way import way_of
from tests.lessons_for_tests import FRAME, kit_of

TWO_STEPS = FRAME + """\
  - {id: smooth, title: Smooth, picture: smooth, minutes: 4, text: Smooth the edge.}
"""  # fmt: skip
LOG = """\
kind: log
classes:
  - {lesson: porthole, group: MM, made_on: 2027-04-05, minutes: {cut: 10}, made: 24, lost: 2, absent: [K7, M2]}
  - {lesson: Porthole, group: FM, made_on: 2027-04-09, minutes: {cut: 14}, made: 26, lost: 0, dried: 13 days}
  - {lesson: Reed Pot, made_on: 2027-04-09, minutes: 50, made: 20, lost: 20}
"""


def log(text: str) -> Written[Log]:
    written, problems = read(Source("log.yaml", text.encode()), Log)
    assert written is not None, problems
    return written


def test_her_minutes_and_losses_replace_the_lessons() -> None:
    kit = kit_of(TWO_STEPS)
    own = own_figures(log(LOG).value, kit)
    assert (own.classes, own.minutes, own.times, own.dry_days) == (2, {"cut": 12}, None, 13)
    assert own.lost == pytest.approx(2 / 50)
    assert own.assumptions == (
        "minutes of cut are your own, from the log of 2 classes",
        "4.0 % of the pieces were lost, from the log of 2 classes",
        "work was left to dry for up to 13 days, from the log of 2 classes",
    )
    assert [step.minutes for step in with_own_minutes(kit, own).steps["easy"]] == [12, 4]
    assert timeline(with_own_minutes(kit, own)).courses[0].work_min == 16
    assert way_of(kit, own=own).lead.dry_days == 13
    assert set(own.assumptions) <= set(way_of(kit, own=own).assumptions)


def test_one_figure_for_all_the_work() -> None:
    kit = kit_of(TWO_STEPS)
    own = own_figures(log(LOG.replace("{cut: 10}", "18").replace("{cut: 14}", "30")).value, kit)
    assert own.times == 2  # 24 minutes against the 8 and 4 that the lesson says
    assert [step.minutes for step in with_own_minutes(kit, own).steps["advanced"]] == [16, 8]
    assert "2.00 times as long" in own.assumptions[0]


def test_nothing_is_said_of_a_lesson_that_is_not_in_the_log() -> None:
    kit = kit_of(TWO_STEPS.replace("Porthole", "Life-Ring"))
    own = own_figures(log(LOG).value, kit)
    assert (own.classes, own.assumptions, own.lost) == (0, (), None)
    assert with_own_minutes(kit, own) == kit


def test_an_unknown_step_is_told_at_its_place() -> None:
    (problem,) = log_problems(log(LOG.replace("{cut: 10}", "{cutt: 10}")), [kit_of(TWO_STEPS)])
    assert str(problem) == "log.yaml:3:66: error: Porthole has no step “cutt”. Did you mean cut?"
    assert not list(log_problems(log(LOG), [kit_of(TWO_STEPS)]))


@pytest.mark.parametrize(
    ("change", "told"),
    [
        (("made: 24, lost: 2", "lost: 2"), "lost needs made"),
        (("made: 24, lost: 2", "made: 24, lost: 25"), "25 of 24 pieces cannot be lost"),
        (("{cut: 10}", "{all: 30, cut: 10}"), "either for all the work or for each step"),
        (("2027-04-05", "04/05/2027"), "two ways"),
        (("made_on: 2027-04-05, ", ""), "“made_on” is missing"),
    ],
)
def test_a_fault_in_the_log(change: tuple[str, str], told: str) -> None:
    written, problems = read(Source("log.yaml", LOG.replace(*change).encode()), Log)
    assert written is None
    assert told in str(problems[0])
    assert problems[0].span.line == 3
