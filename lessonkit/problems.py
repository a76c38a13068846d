"""What is wrong with a file, and where: data, so that one function can print it and another can count it."""

from __future__ import annotations

from typing import Literal, NamedTuple

Severity = Literal["error", "warning"]


class Span(NamedTuple):
    """A stretch of a file. Lines and columns count from 1; the end is the column after the last character."""

    file: str
    line: int
    column: int
    end_line: int
    end_column: int

    def __str__(self) -> str:
        return f"{self.file}:{self.line}:{self.column}"


class Problem(NamedTuple):
    """One fault: where it is, what is wrong (expected and found), and what to do next.

    `kind` is a stable short name (`unknown-word`, `hole-near-edge`) for tests, JSON and the list of all messages.
    """

    severity: Severity
    kind: str
    span: Span
    what: str
    hint: str = ""

    def __str__(self) -> str:
        text = f"{self.span}: {self.severity}: {self.what}"
        text = f"{text} {self.hint}" if self.hint else text
        return " ".join(text.splitlines())  # her own words in it may have been of several lines


def nearest(word: str, choices: list[str]) -> str | None:
    """The choice that `word` was probably meant to be, or None when nothing is near."""
    from difflib import get_close_matches  # late: only a fault needs it

    folded = {choice.casefold(): choice for choice in choices}
    found = get_close_matches(word.casefold(), list(folded), n=1, cutoff=0.6)
    return folded[found[0]] if found else None


def instead(word: str, choices: list[str], otherwise: str = "") -> str:
    """What to write in the place of a word that is none of the choices: the nearest, else all of them or what is said `otherwise`."""
    near = nearest(word, choices)
    return f"Did you mean {near}?" if near else otherwise or f"There are: {', '.join(choices)}."
