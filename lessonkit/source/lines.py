"""The lines of one file, and stretches of them."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import NamedTuple
from unicodedata import normalize

from lessonkit.problems import Problem, Span

Place = tuple[int, int]
"""A line and a column, both from 0, as the YAML reader counts them."""

UNWRITABLE = re.compile("[\x00-\x08\x0b-\x1f\x7f-\x9f\u2028\u2029\ufeff\ufffe\uffff\ud800-\udfff]")
"""What no keyboard writes and no paper shows; tabs and line ends are not among them."""

INVISIBLE = re.compile(
    "[\xad\u034f\u061c\u115f\u1160\u17b4\u17b5\u180b-\u180e\u200b-\u200f\u202a-\u202e\u2060-\u206f\u2800\u3164\ufe00-\ufe0f\uffa0\ufff0-\ufffc"
    "\U0001d173-\U0001d17a\U000e0000-\U000e0fff]"
)
"""What comes along when a text is copied and shows nothing: joiners, turns of direction, soft hyphens, fillers (Unicode's
Default_Ignorable_Code_Point), the empty Braille cell, the place of a lost picture. It does no harm in a remark."""

_FORM_OF_EMOJI = re.compile("[\ufe0e\ufe0f]")


class Lines(NamedTuple):
    """A file's text by lines, without their ends; there is always at least one line."""

    file: str
    rows: tuple[str, ...]

    def span(self, start: Place, end: Place | None = None) -> Span:
        """From `start` up to `end` (left out: the end of the line), drawn in where either lies outside the text."""
        line, column = start
        if end and line == end[0] and column <= end[1] and 0 <= line < len(self.rows) and end[1] <= len(self.rows[line]):
            return Span(self.file, line + 1, column + 1, line + 1, end[1] + 1)  # most lie in one line
        line, column = self._inside(start)
        if end is None:
            return Span(self.file, line + 1, column + 1, line + 1, len(self.rows[line]) + 1)
        last, after = max((line, column), self._inside(end))
        return Span(self.file, line + 1, column + 1, last + 1, after + 1)

    def row(self, line: int) -> str:
        return self.rows[line] if 0 <= line < len(self.rows) else ""

    def written(self, start: Place, end: Place) -> tuple[Place, Span]:
        """`end` moved back over blanks and empty lines, but not before `start`, and what stands between the two."""
        line, column = end
        if line == start[0] < len(self.rows) and column > start[1] and self.rows[line][column - 1 : column].strip():
            return end, Span(self.file, line + 1, start[1] + 1, line + 1, column + 1)  # most stand there already
        line, column = self._inside(end)
        while line > start[0] and not self.rows[line][:column].strip():
            line, column = line - 1, len(self.rows[line - 1])
        end = max(start, (line, len(self.rows[line][:column].rstrip())))
        return end, self.span(start, end)

    def unwritable(self) -> Iterator[Problem]:
        """One problem for each character that cannot be printed."""
        for line, row in enumerate(self.rows):
            for found in () if row.isprintable() else UNWRITABLE.finditer(row):
                yield unwritable(found[0], self.span((line, found.start()), (line, found.end())))

    def place_of(self, char: str, start: Place, end: Place) -> Span:
        """Where `char` stands in that stretch; the whole stretch if it is written there as a code."""
        for line in range(start[0], end[0] + 1):
            at = self.row(line).find(char, start[1] if line == start[0] else 0)
            if at >= 0 and (line, at) < end:
                return self.span((line, at), (line, at + 1))
        return self.span(start, end)

    def _inside(self, place: Place) -> Place:
        line, column = place
        if 0 <= line < len(self.rows):
            return place if column <= len(self.rows[line]) else (line, len(self.rows[line]))
        line = 0 if line < 0 else len(self.rows) - 1
        return line, len(self.rows[line])


def composed(text: str) -> str:
    """The text as its letters are printed: accents joined to their letters, and no hint whether a sign is shown as an emoji, which
    phones add behind signs that have a plain form too."""
    return normalize("NFC", _FORM_OF_EMOJI.sub("", text))


def unwritable(char: str, span: Span) -> Problem:
    what = f"an invisible character (U+{ord(char):04X}) stands here, which no paper can show."
    return Problem("error", "control-character", span, what, "Delete what stands here and type it again.")
