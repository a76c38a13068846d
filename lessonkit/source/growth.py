"""YAML's events grown into a tree. Not its constructor, which turns 1:30 into 90, drops doubled names and follows loops."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any, NamedTuple

import yaml

from lessonkit.problems import Problem, Span
from lessonkit.source.lines import INVISIBLE, UNWRITABLE, Lines, Place, composed, unwritable
from lessonkit.source.mistakes import DEEPEST, no_space_after_dash, put_in_quotes, reworded, shortened, too_deep, unreadable
from lessonkit.source.tree import Entry, Mapping, Node, Scalar, Sequence

try:
    from yaml import CSafeLoader as Loader
except ImportError:  # pyyaml built without its C part: slower, and stricter about tabs
    from yaml import SafeLoader as Loader  # type: ignore[assignment]

MOST_NODES = 50_000
_SIGNS = ("!", "?")
_REMARK = re.compile(r"\s+(#.*)")


class _Stop(Exception):
    """The rest of the file can't be read."""

    def __init__(self, problem: Problem) -> None:
        self.problem = problem


class _Grown(NamedTuple):
    """A finished node with the number of nodes in it and its levels, so that repeats are counted without a walk."""

    node: Node
    size: int
    levels: int


def grow(lines: Lines) -> tuple[Node | None, list[Problem]]:
    """The tree of a text, or None where it can't be read to its end, and the problems found so far. Nothing is raised."""
    growth = _Growth(lines)
    try:
        root = growth.root()
    except _Stop as stop:
        return None, [*growth.problems, stop.problem]
    except yaml.MarkedYAMLError as error:
        return None, [*growth.problems, reworded(error, lines)]
    except (yaml.YAMLError, ValueError, OverflowError):  # the slower reader lets an impossible letter code through to chr()
        return None, [*growth.problems, unreadable(lines, growth.end)]
    return root, [*growth.problems, *growth.unused_anchors()]


class _Growth:
    def __init__(self, lines: Lines) -> None:
        self.lines = lines
        self.problems: list[Problem] = []
        self.end: Place = (0, 0)
        self._events: Iterator[Any] = yaml.parse("\n".join(lines.rows), Loader=Loader)
        self._nodes = self._depth = 0
        self._deepest = 0  # level of what stands inside the part that is being read
        self._anchors: dict[str, _Grown | None] = {}  # None while the table or the list that bears it is open
        self._unused: dict[str, Place] = {}

    def root(self) -> Node | None:
        """Of the only document. Raises _Stop, and whatever the YAML reader raises."""
        found = None
        documents = 0
        for event in self._events:
            if isinstance(event, yaml.NodeEvent):
                found = self._node(event)
            elif isinstance(event, yaml.DocumentStartEvent):
                documents += 1
                if documents > 1:
                    what = "a second document begins here; a file holds one lesson or one room."
                    hint = "Put it in a file of its own, and delete the line ---."
                    raise _Stop(self._error("several-documents", what, hint, _place(event.start_mark)))
        return found

    def _node(self, event: Any) -> Node:
        first, last = event.start_mark, event.end_mark
        start, end = (first.line, first.column), (last.line, last.column)
        if isinstance(event, yaml.ScalarEvent):  # most are
            return self._scalar(event, start, end)
        if isinstance(event, yaml.AliasEvent):
            self.end = end
            return self._repeat(event.anchor or "", start, end)
        before, outside, self._deepest = self._nodes, self._deepest, 0
        self._count(1, 1, start)
        self._look_for_sign(event.tag, start)
        if event.anchor is not None:
            self._anchors[event.anchor] = None
        self._depth += 1
        node: Node = self._table(start) if isinstance(event, yaml.MappingStartEvent) else self._list(start)
        self._depth -= 1
        if event.anchor is not None:
            self._anchors[event.anchor] = _Grown(node, self._nodes - before, self._deepest - self._depth)
        self._deepest = max(self._deepest, outside)
        return node

    def _table(self, start: Place) -> Mapping:
        entries = []
        for event in self._events:
            if isinstance(event, yaml.MappingEndEvent):
                self._close(event)
                break
            entries.append((self._key(self._node(event)), self._node(next(self._events))))
        return Mapping(self._entries(entries), self.lines.span(start, self.end))

    def _list(self, start: Place) -> Sequence:
        items = []
        for event in self._events:
            if isinstance(event, yaml.SequenceEndEvent):
                self._close(event)
                break
            items.append(self._node(event))
        return Sequence(tuple(items), self.lines.span(start, self.end))

    def _close(self, event: yaml.Event) -> None:
        start, end = _place(event.start_mark), _place(event.end_mark)
        self.end = end if end != start else self.end  # without a bracket it ends with its last value

    def unused_anchors(self) -> Iterator[Problem]:
        """Text lost to a label: `- &score both edges` reads as only “both edges”."""
        for name, (line, column) in self._unused.items():
            what = f"“&{shortened(name)}” is read as a label and left out of the text."
            hint = put_in_quotes(self.lines.row(line))
            yield Problem("warning", "unused-label", self.lines.span((line, column), (line, column + len(name) + 1)), what, hint)

    def _scalar(self, event: yaml.ScalarEvent, start: Place, end: Place) -> Scalar:
        lines, value, quoted = self.lines, event.value, bool(event.style)
        row = lines.row(start[0])
        self._count(1, 1, start)
        if event.tag is not None or row.startswith(_SIGNS, start[1]):
            self._look_for_sign(event.tag, start)
        end, span = lines.written(start, end)
        self.end = end
        if not (value.isascii() and value.isprintable()):
            value = composed(value)
            if hidden := UNWRITABLE.search(value):
                raise _Stop(unwritable(hidden[0], span))
            if hidden := INVISIBLE.search(value):
                self.problems.append(unwritable(hidden[0], lines.place_of(hidden[0], start, end)))
        if not quoted and end[0] > start[0]:
            self._look_for_dashes(start, end)
        text = None if not quoted and value in ("", "~", "null") else value
        row = row if end[0] == start[0] else lines.row(end[0])
        remark = _REMARK.match(row, end[1]) if "#" in row and text is not None and not quoted else None
        comment = lines.span((end[0], remark.start(1)), (end[0], remark.end(1))) if remark else None
        scalar = Scalar(text, span, quoted, comment)
        if event.anchor is not None:
            self._unused[event.anchor], self._anchors[event.anchor] = start, _Grown(scalar, 1, 1)
        return scalar

    def _look_for_dashes(self, start: Place, end: Place) -> None:
        """Dashes that begin a line, but are read as more of the text above: steps that would go missing."""
        for line in range(start[0] + 1, end[0] + 1):
            row = self.lines.row(line)
            if not row.lstrip().startswith("-"):
                continue
            first = self.lines.row(start[0])[start[1] :]
            if first.startswith("-"):
                self.problems.append(no_space_after_dash(self.lines, start, first[1:]))
                return
            what = f"the dash that begins line {line + 1} is read as part of the text above it."
            hint = "Begin it in the same column as the dash above, with a space after it; or put the text in quotes."
            self.problems.append(self._error("indentation", what, hint, (line, row.index("-"))))

    def _repeat(self, name: str, start: Place, end: Place) -> Node:
        hint = put_in_quotes(self.lines.row(start[0]))
        if name not in self._anchors:
            what = f"“*{shortened(name)}” stands for something labelled “&{shortened(name)}” above, but there is no such label."
            raise _Stop(self._error("unknown-label", what, hint, start, end))
        self._unused.pop(name, None)
        grown = self._anchors[name]
        if grown is None:
            what = f"“*{shortened(name)}” stands inside the very part that it repeats, so that it would never end."
            raise _Stop(self._error("endless-repeat", what, "Write out what is meant.", start, end))
        self._count(grown.size, grown.levels, start)
        return grown.node

    def _count(self, nodes: int, levels: int, start: Place) -> None:
        self._nodes += nodes
        if self._depth + levels > self._deepest:
            self._deepest = self._depth + levels
        if self._nodes > MOST_NODES:
            what = f"the file has more than {MOST_NODES:,} values, those that a name behind a * repeats included."
            raise _Stop(self._error("too-many-values", what, "Leave some out, or repeat less.", start))
        if self._depth + levels > DEEPEST:
            raise _Stop(too_deep(self.lines, start))

    def _key(self, node: Node) -> Scalar:
        if isinstance(node, Scalar) and node.text:
            return node
        what = "a name in front of a colon must be plain text."
        raise _Stop(Problem("error", "name-not-text", node.span, what, "Write one word or some words, such as title: Porthole."))

    def _entries(self, entries: list[tuple[Scalar, Node]]) -> tuple[Entry, ...]:
        """The table's own entries, each name once, behind those that it takes over with `<<`."""
        own: dict[str, Entry] = {}
        taken: list[Mapping] = []
        for key, value in entries:
            name = str(key.text)
            if (first := own.get(name)) is not None:
                self._twice(name, first.key_span, key.span)
                continue
            own[name] = Entry(name, key.span, value)
            if name == "<<" and not key.quoted:
                taken += self._taken(value)
        if taken:
            del own["<<"]
        inherited: dict[str, Entry] = {}
        for table in taken:
            inherited |= {entry.key: entry for entry in table.entries if entry.key not in own and entry.key not in inherited}
        return (*inherited.values(), *own.values())

    def _taken(self, value: Node) -> list[Mapping]:
        tables = value.items if isinstance(value, Sequence) else (value,)
        if tables and all(isinstance(table, Mapping) for table in tables):
            return [table for table in tables if isinstance(table, Mapping)]
        what = "“<<” takes over the lines of another table, but no table follows it."
        raise _Stop(Problem("error", "nothing-to-take-over", value.span, what, "Write << : *name, with &name in front of the other table."))

    def _twice(self, name: str, first: Span, second: Span) -> None:
        where = f"lines {first.line} and {second.line}" if first.line != second.line else f"line {first.line}"
        what = f"“{shortened(name)}” stands twice in this table, in {where}."
        self.problems.append(Problem("error", "duplicate-name", second, what, "Keep one of the two and delete the other."))

    def _look_for_sign(self, tag: str | None, start: Place) -> None:
        """Signs that would be left out of a text without a word: ! (a type), and ? (a name over several lines)."""
        row = self.lines.row(start[0])
        sign = "!" if tag is not None else row[start[1] : start[1] + 1]
        if sign == "!" or (sign == "?" and row[start[1] + 1 : start[1] + 2] in ("", " ")):
            what = f"a text that begins with {sign} must stand in quotes as a whole."
            self.problems.append(self._error("needs-quotes", what, put_in_quotes(row), start))

    def _error(self, kind: str, what: str, hint: str, start: Place, end: Place | None = None) -> Problem:
        return Problem("error", kind, self.lines.span(start, end), what, hint)


def _place(mark: Any) -> Place:
    return mark.line, mark.column
