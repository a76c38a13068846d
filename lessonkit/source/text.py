"""The bytes of a file into a tree with positions, or into problems that a teacher can act on."""

from __future__ import annotations

import codecs
import re
from functools import lru_cache
from itertools import islice

from lessonkit.problems import Problem, Span
from lessonkit.source.growth import grow
from lessonkit.source.lines import Lines
from lessonkit.source.tree import Node, Scalar

LARGEST_BYTES = 1_000_000
MOST_UNWRITABLE, MOST_TOLD = 10, 100
# PDF, packed office documents, pictures, old office documents
_NO_TEXT = re.compile(rb"\A(?:%PDF-|PK\x03\x04|\xff\xd8\xff|GIF8|\x89PNG|\xd0\xcf\x11\xe0)")


@lru_cache(maxsize=3)  # one room is read for every lesson, and a page reads the same lesson at every key
def read_tree(data: bytes, file: str) -> tuple[Node | None, tuple[Problem, ...]]:
    """Read one YAML file (UTF-8, or UTF-16 with its mark) named `file`; every value in the tree is still text.

    Whatever the bytes, nothing is raised. The tree is None where the file cannot be read to its end; problems in the order of
    the file may come with a tree as well, and any of them that is an error means that the tree is not what was meant.
    """
    if len(data) > LARGEST_BYTES:
        what = f"the file is larger than {LARGEST_BYTES / 1_000_000:.0f} MB, and no lesson or room is."
        return None, (Problem("error", "file-too-large", _top(file), what, "Is it the right file? Keep pictures in files of their own."),)
    text = _decoded(data, file)
    if isinstance(text, Problem):
        return None, (text,)
    lines = Lines(file, tuple(text.split("\n")))
    if unwritable := tuple(islice(lines.unwritable(), MOST_UNWRITABLE)):
        return None, unwritable
    tree, problems = grow(lines)
    if not problems and (tree is None or (isinstance(tree, Scalar) and tree.text is None)):
        return None, (Problem("error", "empty-file", _top(file), "the file is empty.", "Begin with a line such as title: Porthole."),)
    return tree, tuple(sorted(problems, key=lambda problem: problem.span))[:MOST_TOLD]


def _decoded(data: bytes, file: str) -> str | Problem:
    """The text with every line end as a line feed."""
    utf16 = data.startswith((codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE))
    if not utf16 and _NO_TEXT.match(data):
        what = "this file is no plain text, but a picture, a PDF or a document of an office program."
        return Problem("error", "not-a-text", _top(file), what, "Save its text as plain text under a name that ends in .yaml, or name another file.")
    try:
        text = data.decode("utf-16" if utf16 else "utf-8-sig")
    except UnicodeDecodeError as error:
        return _not_utf8(_top(file)) if utf16 else _bad_byte(data, file, error)
    if text[1:2] == "\0":  # UTF-16 without its mark
        return _not_utf8(_top(file))
    return text.replace("\r\n", "\n").replace("\r", "\n")


def _bad_byte(data: bytes, file: str, error: UnicodeDecodeError) -> Problem:
    """The first byte that is not UTF-8, and the letter that it would be in Windows-1252."""
    start = error.start + (len(codecs.BOM_UTF8) if data.startswith(codecs.BOM_UTF8) else 0)
    before = data[:start].decode("utf-8-sig").replace("\r\n", "\n").replace("\r", "\n")
    line, column = before.count("\n") + 1, len(before) - (before.rfind("\n") + 1) + 1
    return _not_utf8(Span(file, line, column, line, column + 1), data[start : start + 1].decode("cp1252", "ignore"))


def _not_utf8(span: Span, letter: str = "") -> Problem:
    what = f"the letter “{letter}” is saved as Windows-1252, not as UTF-8." if letter else "the file is not saved as UTF-8."
    return Problem("error", "not-utf-8", span, what, "Open it in your editor and save it as UTF-8.")


def _top(file: str) -> Span:
    return Span(file, 1, 1, 1, 1)
