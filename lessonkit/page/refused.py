"""What the page answers where it can't do what was asked: a number for the browser, words for her."""

from __future__ import annotations

from lessonkit.problems import Problem


class Refused(Exception):
    """`status` is HTTP's; `what` is wrong, and in `hint` what to do next. `problems` are those of her text, if it is they that stand in the way."""

    def __init__(self, status: int, what: str, hint: str = "", problems: tuple[Problem, ...] = ()) -> None:
        super().__init__(status, what, hint)
        self.status, self.what, self.hint, self.problems = status, what, hint, problems
