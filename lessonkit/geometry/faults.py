"""The one error of this package, and the tests that every size passes before anything is drawn."""

from __future__ import annotations

from math import isfinite

SMALLEST_MM = 0.001
LARGEST_MM = 10_000.0


class GeometryError(ValueError):
    """A shape or form that can't be made. `what` says what is wrong, `hint` what to do next, both in a teacher's words."""

    def __init__(self, what: str, hint: str = "") -> None:
        super().__init__(f"{what} {hint}".strip())
        self.what = what
        self.hint = hint


def number(mm: float) -> str:
    """A size as an error prints it: at most three decimals, no trailing zeros."""
    return f"{round(mm, 3) + 0.0:.3f}".rstrip("0").rstrip(".") if isfinite(mm) else str(mm)


def need_size(name: str, mm: float) -> None:
    """Raise GeometryError unless `mm` is a size that clay and paper can have: finite, from 0.001 mm to 10 m."""
    if not isfinite(mm):
        raise GeometryError(f"{name} is not a number.", "Write a size such as 120 mm.")
    if mm <= 0:
        raise GeometryError(f"{name} is {number(mm)} mm, but must be more than 0.", "Write a size such as 120 mm.")
    if mm < SMALLEST_MM or mm > LARGEST_MM:
        raise GeometryError(f"{name} is {mm:g} mm, which no piece of clay can be.", "Look at the number and its unit.")


def need_sizes(**sizes_mm: float) -> None:
    """`need_size` for several at once; a keyword's underscores print as spaces, without a last `_mm`."""
    for name, mm in sizes_mm.items():
        need_size(name.removesuffix("_mm").replace("_", " "), mm)


def need_length(name: str, mm: float) -> None:
    """Raise GeometryError unless `mm` is finite, not negative and at most 10 m; 0 means 'none'."""
    if not isfinite(mm):
        raise GeometryError(f"{name} is not a number.", "Write a size such as 6 mm, or 0 for none.")
    if mm < 0:
        raise GeometryError(f"{name} is {number(mm)} mm, but can't be less than 0.", "Write 0 for none.")
    if mm > LARGEST_MM:
        raise GeometryError(f"{name} is {mm:g} mm, which no piece of clay can be.", "Look at the number and its unit.")


def need_place(name: str, x: float, y: float) -> None:
    """Raise GeometryError unless both coordinates are finite and within 10 m of the origin."""
    if not (isfinite(x) and isfinite(y)) or max(abs(x), abs(y)) > LARGEST_MM:
        raise GeometryError(f"{name} ({x:g}, {y:g}) is not a place on the piece.", "Write two lengths, such as 0 mm and 20 mm.")
