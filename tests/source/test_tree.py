"""Finding a value's place by its path."""

from __future__ import annotations

import pytest

from lessonkit.source.text import read_tree
from lessonkit.source.tree import Node, Path, plain, scalars, span_at

TEXT = """\
title: Porthole
pieces:
  - name: frame
    flat: {across: 160 mm}
  - name: pot
"""


@pytest.fixture
def tree() -> Node:
    node, problems = read_tree(TEXT.encode(), "a.yaml")
    assert problems == ()
    assert node is not None
    return node


@pytest.mark.parametrize(
    ("path", "place", "key_place"),
    [
        ((), "1:1", "1:1"),
        (("title",), "1:8", "1:1"),
        (("pieces",), "3:3", "2:1"),
        (("pieces", 0), "3:5", "3:5"),
        (("pieces", 1, "name"), "5:11", "5:5"),
        (("pieces", 0, "flat", "across"), "4:20", "4:12"),
    ],
)
def test_a_path_leads_to_its_value_or_its_name(tree: Node, path: Path, place: str, key_place: str) -> None:
    assert str(span_at(tree, path)) == f"a.yaml:{place}"
    assert str(span_at(tree, path, of_key=True)) == f"a.yaml:{key_place}"


@pytest.mark.parametrize(
    ("path", "place"),
    [
        (("nothing",), "1:1"),
        (("pieces", 0, "flat", "tall"), "4:11"),
        (("pieces", 2, "name"), "3:3"),
        (("pieces", -1), "3:3"),
        (("pieces", "frame"), "3:3"),
        (("title", "x", 0), "1:8"),
        ((0,), "1:1"),
    ],
)
def test_a_path_that_leads_nowhere_ends_at_the_nearest_there_is(tree: Node, path: Path, place: str) -> None:
    assert str(span_at(tree, path)) == f"a.yaml:{place}"


def test_scalars_come_in_the_order_of_the_file(tree: Node) -> None:
    assert [(path, scalar.text) for path, scalar in scalars(tree)] == [
        (("title",), "Porthole"),
        (("pieces", 0, "name"), "frame"),
        (("pieces", 0, "flat", "across"), "160 mm"),
        (("pieces", 1, "name"), "pot"),
    ]
    assert plain(tree) == {"title": "Porthole", "pieces": [{"name": "frame", "flat": {"across": "160 mm"}}, {"name": "pot"}]}
