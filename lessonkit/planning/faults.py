"""The one error of planning: something that cannot be planned."""

from __future__ import annotations


class PlanError(ValueError):
    """`what` cannot be done, and in `hint` what to change, both in a teacher's words."""

    def __init__(self, what: str, hint: str) -> None:
        super().__init__(what, hint)  # both, so that it can be sent between processes
        self.what = what
        self.hint = hint

    def __str__(self) -> str:
        return f"{self.what} {self.hint}"
