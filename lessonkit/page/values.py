"""Values as they are written in a file: plain where that is read as typed, in quotes where not, always in one line."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence

from lessonkit.source.lines import INVISIBLE, UNWRITABLE, composed
from lessonkit.source.tree import Path, Plain

Value = str | Mapping[str, str] | Sequence[Mapping[str, str]] | None

_PLAIN_START = re.compile(r"[\w½¼¾(/.$€£+]|-\d")
_NEVER_PLAIN = re.compile(r":(\s|$)|\s#|^\.\.\.|^(null|~)$|^0\d")  # cone 04 is 4 for other readers
_FLOW_SIGNS = re.compile(r"[,\[\]{}]")


class NotSpliced(Exception):
    """Why her text can't be changed at `path`: `what`, and in `hint` what to do."""

    def __init__(self, path: Path, what: str, hint: str) -> None:
        super().__init__(path, what, hint)
        self.path, self.what, self.hint = path, what, hint


def typed(text: str) -> str:
    """As it will be read: without blanks at its ends, accents joined to their letters."""
    return composed(text).strip()


def rendered(value: Value, in_flow: bool, quote: str, path: Path) -> str:
    match value:
        case None:
            return ""
        case str():
            return _one_line(typed(value), in_flow, quote, path)
        case Mapping():
            return "{" + ", ".join([f"{key}: {rendered(text, True, '', path)}" for key, text in value.items()]) + "}"
        case _:
            return "[" + ", ".join([rendered(each, True, "", path) for each in value]) + "]"


def _one_line(text: str, in_flow: bool, quote: str, path: Path) -> str:
    """Plain where that is read as typed; in the quotes that stood there, else in double ones."""
    if UNWRITABLE.search(text) or re.search(r"[\t\n\r]", text):
        raise NotSpliced(path, "this can't stand in one line of the file.", "Type it in one line, without Tabs.")
    if INVISIBLE.search(text):
        raise NotSpliced(path, "an invisible character stands in this.", "Delete it all, and type it again.")
    if quote == "'":
        return "'" + text.replace("'", "''") + "'"
    plain = _PLAIN_START.match(text) and not _NEVER_PLAIN.search(text) and not (in_flow and _FLOW_SIGNS.search(text))
    if quote != '"' and plain:
        return text
    return '"' + text.replace("\\", "\\\\").replace('"', '\\"') + '"'


def plain_value(value: Value) -> Plain:
    match value:
        case None:
            return None
        case str():
            return typed(value)
        case Mapping():
            return {key: typed(text) for key, text in value.items()}
        case _:
            return [plain_value(each) for each in value]
