"""How much a file may hold: far more than a lesson or a room of a class needs, and little enough that every command answers soon.

Sizes have their own bound in `units.py`, the bytes and the depth of a file theirs in `source/`, the points of a drawing theirs in `pieces/`.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from lessonkit.problems import Problem, Span
from lessonkit.source.tree import Mapping, Node, Path, Scalar, Sequence, inner, scalars

MOST_ITEMS = 200
MOST = {"points": 4000, "classes": 5000, "pieces": 60, "steps": 100, "stations": 60, "levels": 8, "press": 10, "joined": 60, "cut_away": 60}
"""Of the items in the list or the table that stands under this word; `MOST_ITEMS` under any other."""

LONGEST_WORD = 120  # letters, these six
LONGEST_MARK = 30  # a version, the code of a group
LONGEST_NAME = 80
LONGEST_LINE = 100  # a title
LONGEST_NOTE = 400
LONGEST_TEXT = 2_000
MOST_WORDS = 5_000  # of a step
MOST_WORDS_IN_ALL, MOST_LETTERS_IN_ALL = 10_000, 80_000


def length_problems(tree: Node) -> Iterator[Problem]:
    """Lists and tables that are too long."""
    for word, node in _long_nodes(tree, ""):
        most = MOST.get(word, MOST_ITEMS)
        what = f"{f'“{word}”' if word else 'this table'} has {_count(node):,} items, and {most:,} are the most."
        yield Problem("error", "too-many", node.span, what, "Leave some out, or make two files of it.")


def _long_nodes(node: Node, word: str) -> Iterator[tuple[str, Mapping | Sequence]]:
    """Each with the word that it stands under; none for one that is an item of a list."""
    if isinstance(node, Scalar):
        return
    if _count(node) > MOST.get(word, MOST_ITEMS):
        yield word, node
        return
    for step, value in inner(node):
        if not isinstance(value, Scalar):
            yield from _long_nodes(value, step if isinstance(step, str) else "")


def _count(node: Mapping | Sequence) -> int:
    return len(node.entries if isinstance(node, Mapping) else node.items)


def word_problems(tree: Node, texts: Iterable[tuple[Path, Scalar]]) -> Iterator[Problem]:
    """Words that are too long, or too many, to be set, in these texts of the file."""
    in_all = letters = 0
    for path, scalar in texts:
        words = (scalar.text or "").split()
        in_all, letters = in_all + len(words), letters + len(scalar.text or "")
        if scalar.text and len(scalar.text) > LONGEST_WORD and len(longest := max(words, key=len, default="")) > LONGEST_WORD:
            what = f"the word “{longest[:20]}…” has {len(longest):,} letters, and {LONGEST_WORD} are the most."
            yield Problem("error", "too-long", scalar.span, what, "Look whether its blanks were lost.")
        if len(words) > MOST_WORDS:
            what = f"{_place(tree, path)} has {len(words):,} words, {len(words) - MOST_WORDS:,} more than the {MOST_WORDS:,} that one text may have."
            yield Problem("error", "too-long", scalar.span, what, "Divide it, or leave some out.")
    top = Span(tree.span.file, 1, 1, 1, 1)
    if letters > MOST_LETTERS_IN_ALL and in_all <= MOST_WORDS_IN_ALL:
        what = f"the file has {letters:,} letters, {letters - MOST_LETTERS_IN_ALL:,} more than the {MOST_LETTERS_IN_ALL:,} that it may have."
        yield Problem("error", "too-long", top, what, "Make two files of it.")
    if in_all > MOST_WORDS_IN_ALL:
        what = f"the file has {in_all:,} words, {in_all - MOST_WORDS_IN_ALL:,} more than the {MOST_WORDS_IN_ALL:,} that it may have."
        yield Problem("error", "too-long", top, what, "Make two files of it.")


def _place(tree: Node, path: Path) -> str:
    """The step, or the word in the file, that a text stands in."""
    if path[:1] == ("steps",) and len(path) > 1:
        ids = [scalar.text for at, scalar in scalars(tree) if at == (*path[:2], "id")]
        return f"step “{ids[0] if ids else path[1]}”"
    return f"the text under “{next((step for step in reversed(path) if isinstance(step, str)), 'text')}”"
