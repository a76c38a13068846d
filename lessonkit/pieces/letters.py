"""Texts that the papers cannot show as they were typed: letters without a glyph, accents that no letter carries, writing that runs from
right to left. What a text holds that nobody can see is found earlier, where the file is read."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterator
from functools import lru_cache
from typing import Any

from lessonkit.drawing.fonts import missing
from lessonkit.lesson.decode import Written
from lessonkit.lesson.limits import word_problems
from lessonkit.problems import Problem, Span
from lessonkit.source.tree import Mapping, Node, Scalar, Sequence

MOST_SHOWN = 4
_FROM_THE_RIGHT = ("R", "AL", "AN")  # Unicode's classes of Hebrew and Arabic letters, and of Arabic figures
_ACCENTS = ("Mn", "Me", "Mc")
_NOBODYS = ("Co", "Cn")  # for private use, and those that are none


def text_problems(*files: Written[Any]) -> Iterator[Problem]:
    """Everything in the files that would not be printed as it was typed, and texts that are too long to be set."""
    for file in files:
        for text in _texts(file):
            if not all(map(_is_plain, text.text or "")):
                yield from _letter_problems(text)
        yield from word_problems(file.tree, file.prose)


def _texts(file: Written[Any]) -> list[Scalar]:
    """Every name and every value with a letter beyond ASCII. A drawing's file may be called what it likes: that is not printed."""
    values = [text for path, text in (*file.prose, *file.rest) if text.text and not text.text.isascii() and path[-1:] != ("file",)]
    return sorted([*_names(file.tree), *values], key=lambda text: text.span)


def _names(tree: Node) -> Iterator[Scalar]:
    nodes = [tree]
    for node in nodes:
        if isinstance(node, Mapping):
            yield from [Scalar(key, span) for key, span, _ in node.entries if not key.isascii()]
            nodes += [value for _, _, value in node.entries]
        elif isinstance(node, Sequence):
            nodes += node.items


@lru_cache(4096)  # texts share their letters
def _is_plain(letter: str) -> bool:
    """Whether a letter is printed as it was typed, wherever it stands."""
    odd = unicodedata.category(letter) in (*_NOBODYS, *_ACCENTS) or unicodedata.bidirectional(letter) in _FROM_THE_RIGHT
    return not odd and not missing(letter)


def _letter_problems(scalar: Scalar) -> Iterator[Problem]:
    text = scalar.text or ""
    turned = next((word for word in text.split() if any(unicodedata.bidirectional(c) in _FROM_THE_RIGHT for c in word)), None)
    if turned:
        what = f"“{turned[:40]}” is written from right to left, which is not supported yet."
        yield Problem("error", "right-to-left", _span(scalar, turned), what, "Write it in letters that run from left to right.")
        return
    lost = [c for c in dict.fromkeys(text) if unicodedata.category(c) in _NOBODYS]
    lost = [*dict.fromkeys([*missing(text), *lost])]
    if lost:
        shown = ", ".join(f"“{c}” (U+{ord(c):04X})" for c in lost[:MOST_SHOWN])
        more = f" and {len(lost) - MOST_SHOWN} more" if len(lost) > MOST_SHOWN else ""
        what = f"these characters cannot be printed: {shown}{more}."
        yield Problem("error", "missing-letter", _span(scalar, lost[0]), what, "Leave them out, or write it in other letters.")
        return
    loose = next((at for at, c in enumerate(text) if unicodedata.category(c) in _ACCENTS), None)
    if loose is not None:
        base = text[max(loose - 1, 0) : loose + 1]
        what = f"the accent on “{base}” (U+{ord(text[loose]):04X}) cannot be printed: there is no such letter in our typefaces."
        yield Problem("error", "missing-accent", _span(scalar, base), what, "Write the letter without it.")


def _span(scalar: Scalar, part: str) -> Span:
    """Where `part` stands, if the value is written in one line without codes; else where the value stands."""
    span, text = scalar.span, scalar.text or ""
    lead = {len(text): 0, len(text) + 2: 1}.get(span.end_column - span.column)
    if span.line != span.end_line or lead is None:
        return span
    column = span.column + lead + text.index(part)
    return Span(span.file, span.line, column, span.line, column + len(part))
