"""Changed values put into her text where they stand: every comment, every blank and the order of the lines stay as she wrote them.

What comes out is read again and compared, value by value, with what was to come out: a change that would touch any other value
(one that stands for several places, say) is refused.
"""

from __future__ import annotations

import codecs
import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from itertools import pairwise
from typing import Any

from pydantic import BaseModel

from lessonkit.lesson.decode import annotation_at
from lessonkit.page.values import NotSpliced, Value, plain_value, rendered, typed
from lessonkit.problems import Span
from lessonkit.source import tree
from lessonkit.source.text import read_tree
from lessonkit.source.tree import Entry, Node, Path, Plain, Scalar

_LINE_END = re.compile(r"\r\n|\r|\n")
_BLOCK_HEAD = re.compile(r"[>|][-+0-9]*(?P<remark>\s+#.*)?")
_LABEL = re.compile(r"&\S+\s+")


@dataclass(frozen=True, slots=True)
class Change:
    """The value that is to stand at `path`: a text, or a table or a list of tables where nothing stood; None: its name goes too."""

    path: Path
    value: Value


def spliced(data: bytes, file: str, changes: Iterable[Change], model: type[BaseModel]) -> bytes:
    """The file with the changes in it; the same bytes where every value stands there already.

    A value that is not there yet is added to its table behind those that `model` lists before it, one behind the last of a list to the
    list; an empty text takes out a value that may be left out. Raises NotSpliced for a path that leads nowhere, a text that can't stand
    in one line, a value that stands for several places, and a file that can't be read.
    """
    wanted = {change.path: _or_none(change, model) for change in changes}
    found, problems = read_tree(data, file)
    if wanted and (found is None or any(problem.severity == "error" for problem in problems)):
        raise NotSpliced((), "the file can't be read, so nothing can be changed in it here.", "Mend the line that is named in your editor first.")
    if found is None:
        return data
    root, text = found, _Text.of(data)
    together = [change for change in wanted.values() if not _stands(root, change)]
    if not together:
        return data
    edits = sorted((_edit(text, root, change, model) for change in together), key=lambda edit: edit.start)
    if all(one.end <= other.start for one, other in pairwise(edits)) and _as_wanted(new := text.edited(edits), file, root, together):
        return new
    return _one_by_one(data, file, together, model)


def _one_by_one(data: bytes, file: str, changes: Iterable[Change], model: type[BaseModel]) -> bytes:
    """For changes that touch each other, and to find the one that can't be made."""
    for change in changes:
        root, _ = read_tree(data, file)
        assert root is not None
        text = _Text.of(data)
        data = text.edited([_edit(text, root, change, model)])
        if not _as_wanted(data, file, root, [change]):
            raise _shared(change.path)
    return data


def _or_none(change: Change, model: type[BaseModel]) -> Change:
    above = annotation_at(model, change.path[:-1])
    names = above.model_fields if isinstance(above, type) and issubclass(above, BaseModel) else {}
    field = names.get(str(change.path[-1]))
    empty = isinstance(change.value, str) and not change.value.strip()
    return Change(change.path, None) if empty and field is not None and not field.is_required() else change


def _stands(root: Node, change: Change) -> bool:
    node = _node_at(root, change.path)
    if change.value is None:
        return node is None
    return isinstance(node, Scalar) and isinstance(change.value, str) and (node.text or "") == typed(change.value)


def _node_at(node: Node | None, path: Path) -> Node | None:
    for step in path:
        match node:
            case tree.Mapping() if isinstance(step, str):
                entry = node.get(step)
                node = entry.value if entry else None
            case tree.Sequence() if isinstance(step, int) and 0 <= step < len(node.items):
                node = node.items[step]
            case _:
                return None
    return node


def _shared(path: Path) -> NotSpliced:
    what = "this value can't be changed here: it stands for several places of the file, or in a way that only an editor can change."
    return NotSpliced(path, what, "Change it in your editor.")


# -- the text
@dataclass(frozen=True, slots=True)
class _Edit:
    start: int
    end: int
    text: str


@dataclass(frozen=True, slots=True)
class _Text:
    """A file's letters, with where each line begins, how it ends its lines, and what its bytes are."""

    text: str
    starts: tuple[int, ...]
    line_end: str
    encoding: str
    mark: bytes

    @classmethod
    def of(cls, data: bytes) -> _Text:
        marks = ((codecs.BOM_UTF8, "utf-8"), (codecs.BOM_UTF16_LE, "utf-16-le"), (codecs.BOM_UTF16_BE, "utf-16-be"))
        mark, encoding = next(((mark, encoding) for mark, encoding in marks if data.startswith(mark)), (b"", "utf-8"))
        text = data[len(mark) :].decode(encoding)
        ends = list(_LINE_END.finditer(text))
        return cls(text, (0, *(end.end() for end in ends)), ends[0][0] if ends else "\n", encoding, mark)

    def at(self, line: int, column: int) -> int:
        return self.starts[line - 1] + column - 1

    def start(self, span: Span) -> int:
        return self.at(span.line, span.column)

    def end(self, span: Span) -> int:
        return self.at(span.end_line, span.end_column)

    def row_end(self, line: int) -> int:
        """Where the line's own end begins."""
        found = _LINE_END.search(self.text, self.starts[line - 1])
        return found.start() if found else len(self.text)

    def edited(self, edits: Iterable[_Edit]) -> bytes:
        """The edits in their order, none over another."""
        parts, at = [], 0
        for edit in edits:
            parts += [self.text[at : edit.start], edit.text]
            at = edit.end
        return self.mark + "".join((*parts, self.text[at:])).encode(self.encoding)


def _edit(text: _Text, root: Node, change: Change, model: type[BaseModel]) -> _Edit:
    node, parent = _node_at(root, change.path), _node_at(root, change.path[:-1])
    match parent, change.path[-1]:
        case tree.Mapping(), str(key) if node is not None and change.value is None:
            return _taken_out(text, parent, key, change.path)
        case tree.Mapping(), str(key) if node is None:
            return _added_to_table(text, parent, key, change, model)
        case tree.Sequence(items=items), int(index) if items and index >= len(items):
            return _added_to_list(text, parent, change)
    if isinstance(node, Scalar):
        return _replaced(text, root, node, change)
    raise NotSpliced(change.path, "there is no place for this value in the file.", "Write it in your editor.")


def _replaced(text: _Text, root: Node, node: Scalar, change: Change) -> _Edit:
    start, end = text.start(node.span), text.end(node.span)
    was = text.text[start:end]
    in_flow = any(_is_flow(text, _node_at(root, change.path[:depth])) for depth in range(len(change.path)))
    new = rendered(change.value, in_flow, was[:1] if node.quoted else "", change.path)
    if node.quoted and (head := _BLOCK_HEAD.match(was)):
        new += head["remark"] or ""
    if start == end and not text.text[:start].endswith((" ", "\n", "\r")):  # nothing stood behind the colon, not even a blank
        new = f" {new}"
    return _Edit(start, end, new)


def _is_flow(text: _Text, node: Node | None) -> bool:
    """Whether a table or a list stands in brackets."""
    if node is None or isinstance(node, Scalar):
        return False
    start = text.start(node.span)
    label = _LABEL.match(text.text, start)
    return text.text.startswith(("{", "["), label.end() if label else start)


def _added_to_table(text: _Text, table: tree.Mapping, key: str, change: Change, model: type[BaseModel]) -> _Edit:
    own = [entry for entry in table.entries if _inside(entry.key_span, table.span)]
    if not own:
        raise _shared(change.path)
    before = _listed_before(annotation_at(model, change.path[:-1]), key)
    earlier = [entry for entry in own if entry.key in before] or own
    last = max(_end_of(entry) for entry in earlier)
    if _is_flow(text, table):
        at = text.at(*last)
        return _Edit(at, at, f", {key}: {rendered(change.value, True, '', change.path)}")
    indent = own[0].key_span.column - 1
    if isinstance(change.value, str | Mapping):
        return _new_line(text, last[0], indent, f"{key}: {rendered(change.value, False, '', change.path)}")
    items = [f"{' ' * (indent + 2)}- {rendered(item, False, '', change.path)}" for item in change.value or ()]
    return _new_line(text, last[0], indent, text.line_end.join((f"{key}:", *items)))


def _added_to_list(text: _Text, items: tree.Sequence, change: Change) -> _Edit:
    last = items.items[-1].span
    if _is_flow(text, items):
        at = text.end(last)
        return _Edit(at, at, f", {rendered(change.value, True, '', change.path)}")
    before = text.text[text.starts[last.line - 1] : text.start(last)].rstrip()
    if not before.endswith("-"):
        raise _shared(change.path)
    return _new_line(text, last.end_line, len(before) - 1, f"- {rendered(change.value, False, '', change.path)}")


def _taken_out(text: _Text, table: tree.Mapping, key: str, path: Path) -> _Edit:
    """The name with its value, and the line if nothing else stands in it; a comment behind it stays."""
    own = [entry for entry in table.entries if _inside(entry.key_span, table.span)]
    number = next((number for number, entry in enumerate(own) if entry.key == key), None)
    if number is None or own[number].key_span.line != own[number].value.span.end_line:
        raise _shared(path)
    start, end = text.start(own[number].key_span), text.at(*_end_of(own[number]))
    if _is_flow(text, table):
        if number + 1 < len(own):
            return _Edit(start, text.start(own[number + 1].key_span), "")
        return _Edit(text.at(*_end_of(own[number - 1])) if number else start, end, "")
    line = own[number].key_span.line
    before, behind = text.text[text.starts[line - 1] : start], text.text[end : text.row_end(line)]
    if before.strip() or line == len(text.starts):
        raise _shared(path)
    return _Edit(start, text.row_end(line), behind.lstrip()) if behind.strip() else _Edit(text.starts[line - 1], text.starts[line], "")


def _new_line(text: _Text, after: int, indent: int, words: str) -> _Edit:
    at = text.row_end(after)
    return _Edit(at, at, f"{text.line_end}{' ' * indent}{words}")


def _inside(span: Span, outer: Span) -> bool:
    return (outer.line, outer.column) <= (span.line, span.column) and (span.end_line, span.end_column) <= (outer.end_line, outer.end_column)


def _end_of(entry: Entry) -> tuple[int, int]:
    """A value that stands for another place (*name) ends there; then its name's end has to do."""
    key, value = entry.key_span, entry.value.span
    return max((key.end_line, key.end_column), (value.end_line, value.end_column)) if value.line >= key.line else (key.end_line, key.end_column)


def _listed_before(model: Any, key: str) -> list[str]:
    names = list(model.model_fields) if isinstance(model, type) and issubclass(model, BaseModel) else []
    return names[: names.index(key)] if key in names else []


# -- and back
def _as_wanted(data: bytes, file: str, was: Node, changes: Iterable[Change]) -> bool:
    """Whether the text now says what it said before, but for the changes."""
    found, problems = read_tree(data, file)
    if found is None or any(problem.severity == "error" for problem in problems):
        return False
    wanted = tree.plain(was)
    for change in changes:
        _set(wanted, change.path, change.value)
    return tree.plain(found) == wanted


def _set(values: Plain, path: Path, value: Value) -> None:
    *way, last = path
    for step in way:
        values = values[step]  # type: ignore[index]
    match values, last:
        case dict(), str() if value is None:
            del values[last]
        case dict(), str():
            values[last] = plain_value(value)
        case list(), int() if last < len(values):
            values[last] = plain_value(value)
        case list(), int():
            values.append(plain_value(value))
