"""Fill-ins: `{frame opening cut}` in a text becomes that size in the room's units."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Any

from lessonkit.lesson.decode import Written
from lessonkit.pieces.model import FiredClay, Measure, Piece
from lessonkit.problems import Problem, nearest
from lessonkit.units import Units, show_for_hand

_MOST_LISTED = 8
_LONGEST_SHOWN, _END_SHOWN = 40, 15  # letters of a fill-in in a message; most differ at their ends
_TOKEN = re.compile(r"\{\{|\}\}|\{([^{}]*)\}")


class UnknownFill(ValueError):
    """A fill-in that names nothing. `word` is what was written, `near` the closest that exists."""

    def __init__(self, word: str, near: str | None, choices: list[str]) -> None:
        super().__init__(word)
        self.word, self.near, self.choices = word, near, choices


def fill_values(pieces: Sequence[Piece], clay: FiredClay, units: Units) -> dict[str, str]:
    """Every fill-in of a lesson: `<piece> [<part>] [<measure>] cut|fired`, `<piece> thickness`, `<piece> stick`, `clay`, `cone`."""
    values = {"clay": clay.name, "cone": clay.cone, "thickness": show_for_hand(pieces[0].thickness_mm, units), "stick": pieces[0].stick}
    for piece in pieces:
        values[f"{piece.name} thickness"] = show_for_hand(piece.thickness_mm, units)
        values[f"{piece.name} stick"] = piece.stick
        values |= {f"{piece.name} {name}": text for name, text in piece.facts}
        values |= _measured(piece.name, piece.measures, units)
        for part in piece.parts:
            values |= _measured(f"{piece.name} {part.name}", part.measures, units)
    return {_key(name): text for name, text in values.items()}


def _measured(name: str, measures: Sequence[Measure], units: Units) -> dict[str, str]:
    values = {}
    for index, measure in enumerate(measures):
        for state, size in (("fired", measure.fired), ("cut", measure.cut)):
            shown = f"{size:.0f}°" if measure.unit == "deg" else show_for_hand(size, units)
            values[f"{name} {measure.key} {state}"] = shown
            if not index:
                values[f"{name} {state}"] = shown
    return values


def fill(text: str, values: dict[str, str]) -> str:
    """The text with its sizes; `{{` and `}}` print braces. Raises UnknownFill."""

    def value(token: re.Match[str]) -> str:
        if token[0] in ("{{", "}}"):
            return token[0][0]
        key = _key(token[1])
        if key not in values:
            raise UnknownFill(token[1], nearest(key, list(values)), sorted(values))
        return values[key]

    return _TOKEN.sub(value, text) if "{" in text or "}" in text else text


def fill_problems(file: Written[Any], values: dict[str, str]) -> list[Problem]:
    """An error for each fill-in of a file that names no size, a warning for each that names sticks which the room does not have."""
    found = []
    for scalar in sorted([scalar for _, scalar in (*file.prose, *file.rest) if "{" in (scalar.text or "")], key=lambda scalar: scalar.span):
        text = scalar.text or ""
        try:
            fill(text, values)
        except UnknownFill as error:
            some = ", ".join(_shown(choice) for choice in error.choices[:_MOST_LISTED])
            hint = f"Did you mean {_shown(error.near)}?" if error.near else f"There are: {some}. For a brace write {{{{."
            found.append(Problem("error", "unknown-fill-in", scalar.span, f"there is no size called {_shown(error.word)}.", hint))
        else:
            if nameless := next((word for word in _TOKEN.findall(text) if word and not values[_key(word)]), None):
                what = f"the room has no sticks as thick as this slab, so {_shown(nameless)} says nothing."
                found.append(Problem("warning", "no-sticks", scalar.span, what, "Add them to the room file, or choose the thickness of a pair."))
    return found


def _shown(words: str) -> str:
    return f"{{{words if len(words) <= _LONGEST_SHOWN else f'{words[: _LONGEST_SHOWN - _END_SHOWN]}…{words[-_END_SHOWN:]}'}}}"


def _key(words: str) -> str:
    return " ".join(words.casefold().split())
