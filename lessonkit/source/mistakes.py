"""What the YAML reader says of a faulty file, put into words for a teacher, with the form to type.

Its own words are only looked at for what kind of fault it met; they differ between its two readers and are never shown.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import NamedTuple

import yaml

from lessonkit.problems import Problem
from lessonkit.source.lines import Lines, Place

DEEPEST = 40
_LONGEST_FORM = 120
_LONGEST_ROW = 500  # what is looked at of a line: far more than a form holds, and little for a pattern
_LONGEST_NAME = 1000  # YAML itself stops looking for a colon after 1024 letters
_SIGNS = "\"'[{*&@`%|>!,?"
# not compiled before there is a mistake
_NAME_AND_VALUE = rf"(\s*(?:- +)*(?:\"[^\"]*\": +|'[^']*': +|[^\s#{re.escape(_SIGNS)}:-][^:#]*: +)?)(.*?)(?:\s+#.*)?\s*"
_NO_SPACE = r"(\s*(?:- +)*[\w ]*[^\W\d]:)(?![\s/])(.*)"


class _Trouble(NamedTuple):
    """Where the reader stopped (`at`), what it was reading (`context`) since `opened`, and what troubled it."""

    lines: Lines
    context: str
    problem: str
    opened: Place
    at: Place

    @property
    def row(self) -> str:
        return self.lines.row(self.at[0])

    @property
    def before(self) -> str:
        return self.row[: self.at[1]]

    def says(self, *words: str) -> bool:
        return any(word in self.problem for word in words)

    def error(self, kind: str, what: str, hint: str, start: Place | None = None) -> Problem:
        return Problem("error", kind, self.lines.span(start or self.at), what, hint)


def reworded(error: yaml.MarkedYAMLError, lines: Lines) -> Problem:
    """The fault that stopped the reader, in our words."""
    at = (error.problem_mark.line, error.problem_mark.column) if error.problem_mark else (0, 0)
    opened = (error.context_mark.line, error.context_mark.column) if error.context_mark else at
    trouble = _Trouble(lines, error.context or "", error.problem or "", opened, at)
    for recognise in _RECOGNISERS:
        if problem := recognise(trouble):
            return problem
    return unreadable(lines, at)


def unreadable(lines: Lines, at: Place) -> Problem:
    hint = "Look at its colons, quotes, brackets and indentation, and put text that holds such signs in quotes."
    return Problem("error", "unreadable-line", lines.span(at), "this line can't be read.", hint)


def shortened(text: str) -> str:
    text = text.strip()
    return text if len(text) <= _LONGEST_FORM else f"{text[:_LONGEST_FORM]}…"


def too_deep(lines: Lines, at: Place) -> Problem:
    what = f"lists or brackets stand more than {DEEPEST} deep in one another here."
    return Problem("error", "too-deep", lines.span(at), what, "Look for brackets that are not closed.")


def no_space_after_dash(lines: Lines, at: Place, text: str) -> Problem:
    what = f"a space is missing after the dash in line {at[0] + 1}."
    return Problem("error", "missing-space", lines.span(at), what, f"Write - {shortened(text)}")


def put_in_quotes(row: str, hint: str = "Put the text in quotes") -> str:
    """The hint, with the line as it is typed with its text in quotes; without it where that is long."""
    found = re.fullmatch(_NAME_AND_VALUE, row[:_LONGEST_ROW])
    if found is None or not found[2]:
        return f"{hint}."
    form = f"{found[1].strip()} {_quoted(found[2])}".strip()
    return f"{hint}: {form}" if len(form) <= _LONGEST_FORM else f"{hint}, from its first letter to its last."


def _quoted(value: str) -> str:
    mark, second = value[0], value.find(value[0], 1)
    if mark in "\"'" and value.endswith(mark) and 0 < second < len(value) - 1:
        inside = value[second - 1] == " " or (mark == "'" and value[second + 1].isalnum())
        value = value[1:-1] if inside else value  # 'it's good': the quotes at its ends are meant as quotes
    if '"' in value or "\\" in value:
        return "'" + value.replace("'", "''") + "'"
    return f'"{value}"'


def _depth(trouble: _Trouble) -> Problem | None:
    return too_deep(trouble.lines, trouble.opened) if trouble.says("nesting depth") else None  # the reader looked ahead


def _tab(trouble: _Trouble) -> Problem | None:
    line, column = trouble.at
    indent = len(trouble.row) - len(trouble.row.lstrip())
    if "\t" in trouble.row[:indent]:
        column = trouble.row.index("\t")
    elif trouble.row[column : column + 1] != "\t":
        return None
    hint = "Let your editor write spaces for the Tab key."
    return trouble.error("tab", f"line {line + 1} uses a Tab; use spaces.", hint, (line, column))


def _quote(trouble: _Trouble) -> Problem | None:
    if "scanning a quoted" not in trouble.context and "quoted scalar" not in trouble.context:
        return _quote_of_an_earlier_line(trouble)
    if not trouble.says("end of stream", "document"):
        what = "a backslash in double quotes begins a code, and there is no such code."
        return trouble.error("backslash", what, "Write it twice (\\\\), or use single quotes around the text.")
    return _open_quote(trouble, trouble.opened)


def _quote_of_an_earlier_line(trouble: _Trouble) -> Problem | None:
    """A quote left open in one line and closed by the next quote below it."""
    mark = trouble.before.rstrip()[-1:]
    if mark not in ("'", '"') or trouble.before.count(mark) % 2 == 0:
        return None
    for line in range(trouble.at[0] - 1, -1, -1):
        if trouble.lines.row(line).count(mark) % 2:
            return _open_quote(trouble, (line, trouble.lines.row(line).rindex(mark)))
    return None


def _open_quote(trouble: _Trouble, place: Place) -> Problem:
    mark = trouble.lines.row(place[0])[place[1] : place[1] + 1]
    return trouble.error("open-quote", f"the quote {mark} that opens here is not closed.", f"Put {mark} at the end of the text.", place)


def _bracket(trouble: _Trouble) -> Problem | None:
    if "flow sequence" not in trouble.context and "flow mapping" not in trouble.context:
        return None
    row = trouble.lines.row(trouble.opened[0])
    bracket = row[trouble.opened[1] : trouble.opened[1] + 1]
    closing = "]" if bracket == "[" else "}"
    what = f"the {bracket} that opens here is not closed with a {closing}, or a comma is missing between its items."
    hint = put_in_quotes(row, "Add what is missing; or, if it is text, put it in quotes")
    return trouble.error("open-bracket", what, hint, trouble.opened)


def _percent_line(trouble: _Trouble) -> Problem | None:
    line = max(0, trouble.at[0] - 1) if not trouble.row else trouble.at[0]
    if not trouble.lines.row(line).startswith("%"):
        return None
    what = "a line can't begin with %."
    return trouble.error("needs-quotes", what, put_in_quotes(trouble.lines.row(line)), (line, 0))


def _after_the_end(trouble: _Trouble) -> Problem | None:
    if not trouble.says("document start"):
        return None
    return trouble.error("several-documents", "the file goes on after its end.", "Delete the line ... or --- above.")


def _colon(trouble: _Trouble) -> Problem | None:
    if not trouble.says("mapping values are not allowed"):
        return None
    line, indent = trouble.at[0], len(trouble.row) - len(trouble.row.lstrip())
    if re.search(r":\s", trouble.before):
        what = "a second colon stands in this line; a text with a colon and a space must stand in quotes."
        return trouble.error("colon-in-text", what, put_in_quotes(trouble.row))
    if len(trouble.before) > _LONGEST_NAME:
        return trouble.error("long-name", "the name in front of the colon is far too long.", put_in_quotes(trouble.row), (line, indent))
    above = next((n for n in range(line - 1, -1, -1) if trouble.lines.row(n).strip()), line)
    row = trouble.lines.row(above)
    if len(row) - len(row.lstrip()) == indent and (problem := _no_space(trouble, above)):
        return problem
    what = f"line {line + 1} stands further in than it may: the line above it is already complete."
    hint = "Begin it in the same column as the name above it; or, if it is more of that text, put the whole text in quotes."
    return trouble.error("indentation", what, hint, (line, indent))


def _no_space(trouble: _Trouble, line: int) -> Problem | None:
    found = re.fullmatch(_NO_SPACE, trouble.lines.row(line)[:_LONGEST_ROW])
    if found is None:
        return None
    what = f"a space is missing after the colon in line {line + 1}."
    return trouble.error("missing-space", what, f"Write {shortened(f'{found[1].strip()} {found[2].strip()}')}", (line, found.end(1)))


def _no_colon(trouble: _Trouble) -> Problem | None:
    if not trouble.says("could not find expected ':'"):
        return None
    line = trouble.opened[0]
    if problem := _no_space(trouble, line):
        return problem
    if dash := re.fullmatch(r"\s*-(\S.*)", trouble.lines.row(line)):
        return no_space_after_dash(trouble.lines, trouble.opened, dash[1])
    what = f"expected a name, a colon and a value, found “{shortened(trouble.lines.row(line))}”."
    hint = "Write it like this: title: Porthole. If the line belongs to the text above, begin it further in."
    return trouble.error("no-colon", what, hint, trouble.opened)


def _dash(trouble: _Trouble) -> Problem | None:
    if not trouble.says("sequence entries are not allowed"):
        return None
    hint = put_in_quotes(trouble.row, "Put each dash on a line of its own below the name; or, if it is text, put it in quotes")
    return trouble.error("dash-in-line", "a list can't begin behind a name in the same line.", hint)


def _sign(trouble: _Trouble) -> Problem | None:
    """A text that begins with a sign of YAML's own: "Score" both edges, *score*, @table, %."""
    found = re.fullmatch(_NAME_AND_VALUE, trouble.row[:_LONGEST_ROW])
    if found is None or not found[2] or found[2][0] not in _SIGNS:
        return None
    if not trouble.before.strip() and found[2][0] in "\"'[{":  # it stands alone, and only in the wrong column
        return None
    what = f"a text that begins with {found[2][0]} must stand in quotes as a whole."
    return trouble.error("needs-quotes", what, put_in_quotes(trouble.row), (trouble.at[0], found.start(2)))


def _column(trouble: _Trouble) -> Problem | None:
    if trouble.before.strip() or "block" not in trouble.context:
        return None
    if trouble.row[trouble.at[1] :].startswith(":"):
        return trouble.error("no-name", "a name is missing in front of the colon.", "Write it like this: title: Porthole.")
    what = f"line {trouble.at[0] + 1} does not begin in the same column as the lines that it belongs to."
    return trouble.error("indentation", what, "Begin it exactly below the name or the dash of the line above that it goes with.")


_RECOGNISERS: tuple[Callable[[_Trouble], Problem | None], ...] = (
    _depth,
    _tab,
    _quote,
    _bracket,
    _percent_line,
    _after_the_end,
    _colon,
    _no_colon,
    _dash,
    _sign,
    _column,
)
