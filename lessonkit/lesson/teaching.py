"""What is asked of learners: how hard a card may read, what a piece is judged by, the standards, and what to do when done early."""

from __future__ import annotations

from typing import Annotated, Any

from pydantic import AfterValidator, BeforeValidator, ValidationInfo

from lessonkit.lesson.fields import Name, Record, Text, Whole, described, wrong
from lessonkit.lesson.shapes import Strings
from lessonkit.problems import instead

FEWEST_MARKS, MOST_MARKS = 2, 5


class Limit(Record):
    """How hard the steps of one level may read: a school grade and the words of the longest sentence. What is left out is the
    level's usual limit. English only: nothing is measured in another language."""

    grade: Whole | None = None
    words: Whole | None = None


def _of_levels(limits: dict[str, Limit], info: ValidationInfo) -> dict[str, Limit]:
    known = list(info.data.get("levels", limits))
    for level in limits:
        if level not in known:
            raise wrong(f"there is no level called {described(level)} in this room.", instead(level, known))
    return limits


Limits = Annotated[dict[str, Limit], AfterValidator(_of_levels)]


def _columns(marks: tuple[str, ...]) -> tuple[str, ...]:
    if not FEWEST_MARKS <= len(marks) <= MOST_MARKS:
        raise wrong(f"a rubric has {FEWEST_MARKS} to {MOST_MARKS} columns, found {len(marks)}.", "Write such as rubric: [not yet, got it, wow].")
    return marks


Marks = Annotated[tuple[Text, ...], AfterValidator(_columns)]


class Row(Record):
    """What a piece is looked at for; and, if she gives them, words for each of the room's marks, in their order."""

    look: Text
    says: tuple[Text, ...] = ()


def _codes(value: Any) -> Any:
    """A list of codes, without words of hers."""
    return dict.fromkeys(value) if isinstance(value, list) and all(isinstance(code, str) for code in value) else value


class Extra(Record):
    """Something for those who are done early; `levels` left out: for all."""

    text: Text
    levels: Strings = ()


Rubric = tuple[Annotated[Row, BeforeValidator(lambda value: {"look": value} if isinstance(value, str) else value)], ...]
Standards = Annotated[dict[Name, Text | None], BeforeValidator(_codes)]
Extras = tuple[Annotated[Extra, BeforeValidator(lambda value: {"text": value} if isinstance(value, str) else value)], ...]
