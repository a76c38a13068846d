"""A file as a tree of what was written, each node with its span; every scalar is still text."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import NamedTuple

from lessonkit.problems import Span

Path = tuple[str | int, ...]


class Scalar(NamedTuple):
    """One written value. `text` is None where nothing (or `null`, `~`) was written; no other word is special.

    `quoted` tells "12" from 12; `remark` is the span of a comment that follows the value on its line, if any.
    """

    text: str | None
    span: Span
    quoted: bool = False
    remark: Span | None = None


class Entry(NamedTuple):
    key: str
    key_span: Span
    value: Node


class Mapping(NamedTuple):
    entries: tuple[Entry, ...]
    span: Span

    def get(self, key: str) -> Entry | None:
        return next((entry for entry in self.entries if entry.key == key), None)


class Sequence(NamedTuple):
    items: tuple[Node, ...]
    span: Span


Node = Scalar | Mapping | Sequence
Plain = None | str | list["Plain"] | dict[str, "Plain"]


def plain(node: Node) -> Plain:
    """The tree without its spans: dicts, lists, text and None."""
    match node:
        case Scalar(text=text):
            return text
        case Mapping(entries=entries):
            return {entry.key: plain(entry.value) for entry in entries}
        case Sequence(items=items):
            return [plain(item) for item in items]


def span_at(node: Node, path: Path, of_key: bool = False) -> Span:
    """Where the value at `path` stands (or its key, with `of_key`); the nearest ancestor that exists, if it is not there."""
    span = node.span
    for step in path:
        match node:
            case Mapping() if isinstance(step, str) and (entry := node.get(step)) is not None:
                node, span = entry.value, entry.key_span if of_key else entry.value.span
            case Sequence(items=items) if isinstance(step, int) and 0 <= step < len(items):
                node, span = items[step], items[step].span
            case _:
                return span
    return span


def scalars(node: Node, path: Path = ()) -> Iterator[tuple[Path, Scalar]]:
    """Every written value with its path, in the order of the file."""
    if isinstance(node, Scalar):
        yield path, node
        return
    for step, value in inner(node):
        if isinstance(value, Scalar):
            yield (*path, step), value
        else:
            yield from scalars(value, (*path, step))


def inner(node: Mapping | Sequence) -> Iterable[tuple[str | int, Node]]:
    """What stands directly in a table or a list, by its name or its number."""
    return ((entry.key, entry.value) for entry in node.entries) if isinstance(node, Mapping) else enumerate(node.items)
