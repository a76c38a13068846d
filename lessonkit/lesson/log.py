"""What happened: a small file of hers that grows by a few lines a class, and is read with the plan."""

from __future__ import annotations

from typing import Annotated, Any, Literal, Self

from pydantic import BeforeValidator, Field, model_validator

from lessonkit.lesson.fields import Date, Days, Minutes, Name, Record, Text, Whole, one_of, wrong
from lessonkit.lesson.shapes import Strings


def _all_work(value: Any) -> Any:
    """One figure is for all the work of the class; a table has one for each step."""
    return value if isinstance(value, dict) else {"all": value}


class Entry(Record):
    """One class of one lesson. `minutes` is what its work took, in all or step by step (by the steps' ids).

    `made` and `lost` are pieces, lost ones at any time up to hand-out; `absent` are codes, never full names; `dried` the days that the work was
    left to dry.
    """

    lesson: Name
    group: Name | None = None
    made_on: Date
    minutes: Annotated[dict[str, Minutes], BeforeValidator(_all_work)] = Field(default_factory=dict)
    made: Whole | None = None
    lost: Whole | None = None
    absent: Strings = ()
    dried: Days | None = None
    note: Text | None = None

    @model_validator(mode="after")
    def _counts(self) -> Self:
        if self.lost is not None and self.made is None:
            raise wrong("lost needs made: how many pieces there were.", "Add made: 26.")
        if self.lost is not None and self.made is not None and self.lost > self.made:
            raise wrong(f"{self.lost} of {self.made} pieces cannot be lost.", "Count again.")
        if "all" in self.minutes and len(self.minutes) > 1:
            raise wrong("minutes are either for all the work or for each step.", "Write minutes: 34, or minutes: {roll: 9, cut: 12}.")
        return self


class Log(Record):
    """The whole file."""

    kind: Annotated[Literal["log"], one_of("log")]
    classes: tuple[Entry, ...] = ()
