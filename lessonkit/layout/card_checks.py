"""What a teacher would want to know of her cards before they are printed."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from lessonkit.layout.card_choice import chosen_deck, doubtful_papers
from lessonkit.layout.card_deck import CardError
from lessonkit.layout.card_order import CardOrder
from lessonkit.lesson.decode import Written
from lessonkit.lesson.lesson import Lesson
from lessonkit.pieces.chosen_words import in_reading
from lessonkit.pieces.model import Kit
from lessonkit.problems import Problem


def card_problems(lesson: Written[Lesson], kit: Kit, levels: Sequence[str], papers: Sequence[str], order: CardOrder) -> Iterator[Problem]:
    """An error for a step that no card can hold, on any of the papers; a warning where backs are wanted and none has an answer."""
    refused: set[str] = set()
    for level in levels:
        steps = in_reading(kit, order.reading).steps[level]
        if order.backs and steps and not any(step.good for step in steps):
            what = f"{level}: no step says when it is good, so the backs of its cards say nothing."
            yield Problem("warning", "empty-backs", lesson.span("steps"), what, f"Write {level}: {{text: ..., good: ...}}.")
        for paper in doubtful_papers(kit, level, papers, order) if steps else ():
            try:
                chosen_deck(kit, level, paper, order).cards()
            except CardError as error:
                if error.step.id not in refused:
                    refused.add(error.step.id)
                    index = [step.id for step in kit.lesson.steps].index(error.step.id)
                    yield Problem("error", "no-room-on-card", lesson.span("steps", index, "title"),
                                  f"step “{error.step.id}”: what stands on every card, such as its title, leaves no room for its words.",
                                  "Make the title shorter.")  # fmt: skip
