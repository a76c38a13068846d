"""Reading is chosen apart from the level."""

from __future__ import annotations

import pytest

from lessonkit.build import Order, Source, work
from lessonkit.layout.card_order import CardOrder
from lessonkit.lesson.lesson import Reading
from lessonkit.pieces.chosen_words import in_reading
from tests.lessons_for_tests import FRAME, ROOM, kit_of

LESSON = FRAME[: FRAME.index("steps:")] + """\
steps:
  - id: roll
    title: Roll
    minutes: 6
    levels:
      easy: {text: Roll it., early: roll more., full: "Roll it on the sticks, {thickness} thick."}
      advanced: {text: Roll it so that both faces are alike., good: both are alike., plain: {text: Roll both faces., good: they match.}}
  - {id: cut, title: Cut, minutes: 5, levels: {easy: Cut it., advanced: Cut it in three passes.}}
  - {id: wash, title: Wash, minutes: 2, text: Wipe the table.}
"""


def said(reading: Reading | None, level: str) -> list[str]:
    return [step.text for step in in_reading(kit_of(LESSON), reading).steps[level]]


@pytest.mark.parametrize("reading", [None, "picture"])
def test_the_usual_words(reading: Reading | None) -> None:
    assert said(reading, "easy") == ["Roll it.", "Cut it.", "Wipe the table."]


def test_a_reading_has_its_own_words_or_those_of_the_level() -> None:
    assert said("full", "easy") == ["Roll it on the sticks, 8\u00a0mm thick.", "Cut it.", "Wipe the table."]
    assert said("plain", "advanced") == ["Roll both faces.", "Cut it in three passes.", "Wipe the table."]


def test_what_a_reading_does_not_say_again_stays() -> None:
    assert in_reading(kit_of(LESSON), "full").steps["easy"][0].early == "roll more."
    assert in_reading(kit_of(LESSON), "plain").steps["advanced"][0].good == "they match."


def test_words_that_are_missing_for_a_reading_are_reported_at_their_place() -> None:
    def told(reading: Reading | None) -> list[str]:
        order = Order(cards=CardOrder(reading=reading))
        return [str(problem) for problem in work(Source("lesson.yaml", LESSON.encode()), Source("room.yaml", ROOM.encode()), order=order)[1]]

    assert told(None) == told("picture") == []
    what = "lesson.yaml:19:54: warning: step “cut”, easy: it has no full words, so its usual ones are printed."
    assert told("full") == [f"{what} Write easy: {{text: ..., full: ...}}."]
    assert "step “cut”, advanced: it has no plain words" in told("plain")[0]
