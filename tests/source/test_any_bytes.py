"""Whatever the bytes: a tree or problems, never a traceback, and every place inside the file."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
import yaml
from hypothesis import given, settings
from hypothesis import strategies as st

from lessonkit.problems import Span
from lessonkit.source import growth
from lessonkit.source.lines import INVISIBLE, composed
from lessonkit.source.text import read_tree
from lessonkit.source.tree import Mapping, Node, Scalar, Sequence, plain

MANY = settings(max_examples=60, deadline=None)
LOADERS = st.sampled_from([getattr(yaml, "CSafeLoader", yaml.SafeLoader), yaml.SafeLoader])

LESSON = """\
title: Porthole  # a remark
about: "A round frame: it holds a photo."
base: &base {thickness: 8 mm, clay: white}
pieces:
  - name: frame
    <<: *base
    flat: {outline: {circle: {across: 160 mm}}, openings: [1, 2]}
  - name: 'pot'
    text: >-
      folded
      text
steps:
- id: roll
  easy: |
    Roll on the sticks.
"""
PIECES = ["\t", "\n", " ", "  ", ":", ": ", "- ", "-", '"', "'", "[", "]", "{", "}", "&a ", "*a", "*", "@", "%", "!x ", "#", " # ", "|", ">", "? "]
PIECES += ["---\n", "...\n", "<<: ", "\\", "\\x", "\u00a0", "é", "😀", "\r", "\x00", "\u2028", "\ufeff", ",", "~", "null", "\\ud800", "\\U00110000"]


def places(node: Node) -> Iterator[Span]:
    yield node.span
    match node:
        case Scalar(remark=remark) if remark is not None:
            yield remark
        case Mapping(entries=entries):
            for entry in entries:
                yield entry.key_span
                yield from places(entry.value)
        case Sequence(items=items):
            for item in items:
                yield from places(item)
        case _:
            pass


def check(data: bytes, loader: type) -> None:
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(growth, "Loader", loader)
        tree, problems = read_tree(data, "x.yaml")
    assert tree is not None or any(problem.severity == "error" for problem in problems)
    for problem in problems:
        assert problem.kind
        assert problem.what.endswith(".")
        assert problem.hint
        assert "\n" not in str(problem)
        assert not any(word in str(problem) for word in ("expected <", "did not find", "while ", "token"))
    spans = [problem.span for problem in problems] + (list(places(tree)) if tree else [])
    try:
        rows = data.decode("utf-8-sig").replace("\r\n", "\n").replace("\r", "\n").split("\n")
    except UnicodeDecodeError:
        return
    for span in spans:
        assert 1 <= span.line <= span.end_line <= len(rows)
        assert 1 <= span.column <= len(rows[span.line - 1]) + 1
        assert 1 <= span.end_column <= len(rows[span.end_line - 1]) + 1
        assert (span.line, span.column) <= (span.end_line, span.end_column)


@MANY
@given(st.binary(max_size=60), LOADERS)
def test_any_bytes(data: bytes, loader: type) -> None:
    check(data, loader)


@MANY
@given(st.lists(st.sampled_from([*PIECES, "a", "b", "title"]), max_size=25), LOADERS)
def test_any_signs(pieces: list[str], loader: type) -> None:
    check("".join(pieces).encode(), loader)


@MANY
@given(st.lists(st.tuples(st.integers(0, len(LESSON)), st.integers(0, 6), st.sampled_from(PIECES)), min_size=1, max_size=3), LOADERS)
def test_a_lesson_with_slips(slips: list[tuple[int, int, str]], loader: type) -> None:
    text = LESSON
    for place, length, piece in slips:
        text = text[:place] + piece + text[place + length :]
    check(text.encode(), loader)


WORDS = st.text(st.characters(exclude_categories=["C", "Zl", "Zp"]), max_size=12).map(composed).filter(lambda text: not INVISIBLE.search(text))
DATA = st.recursive(
    st.none() | WORDS | st.sampled_from(["no", "1:30", "010", "~", "null", "- a", "a: b", "x # y", "*s", "<<", "12", ""]),
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(WORDS.filter(bool), inner, max_size=4),
    max_leaves=12,
)


@MANY
@given(st.dictionaries(WORDS.filter(bool), DATA, min_size=1, max_size=4), st.sampled_from([None, True, False]), LOADERS)
def test_what_another_program_writes_reads_back_the_same(data: dict[str, object], flow: bool | None, loader: type) -> None:
    """pyyaml's own writer is the reference from outside."""
    text = yaml.safe_dump(data, allow_unicode=True, default_flow_style=flow, width=10_000, sort_keys=False)
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(growth, "Loader", loader)
        tree, problems = read_tree(text.encode(), "x.yaml")
    assert problems == ()
    assert tree is not None
    assert plain(tree) == data
