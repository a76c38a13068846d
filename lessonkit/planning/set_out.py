"""What to lay on each table before a class, from what the lesson counts by person, pair, table and class. Numbers only, no pages."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from lessonkit.lesson.classroom import Copies, Group, Tables
from lessonkit.pieces.model import Kit
from lessonkit.planning.counting import shared


class Thing(NamedTuple):
    """`number` is None where the lesson says how much in words."""

    name: str
    number: int | None


class TableSet(NamedTuple):
    """One table: how many sit there, what lies there, and how many sets of step cards."""

    people: int
    things: tuple[Thing, ...]
    cards: int


class SetOut(NamedTuple):
    """The tables in their order, and what stands in the room once. `assumed` says that nobody wrote how many sit at a table."""

    tables: tuple[TableSet, ...]
    for_class: tuple[Thing, ...]
    assumed: bool


def set_out(kit: Kit, group: Group | None = None) -> SetOut:
    """For a group's tables; without a group, for one full table."""
    tables, copies = kit.room.tables or Tables(), kit.room.copies or Copies()
    seated = seats(group.size, tables.seats) if group else (tables.seats,)
    sets = (TableSet(people, tuple(_on_table(kit, people, tables)), shared(people, copies.learners_a_card)) for people in seated)
    for_class = (Thing(supply.name, supply.count) for supply in kit.lesson.supplies if supply.per == "class")
    return SetOut(tuple(sets), tuple(for_class), kit.room.tables is None)


def seats(people: int, at_table: int) -> tuple[int, ...]:
    """How many sit at each table: as few tables as do, as even as can be, and pairs together, so that the class needs no more than
    half of its people things for two: 28 at tables of 6 are 6, 6, 6, 6 and 4. Where a table has an odd number of seats that can't
    be, and they are shared out singly."""
    count = shared(people, at_table)
    pairs = _even(shared(people, 2), count)
    if max(pairs) * 2 <= at_table:
        odd = people % 2
        return tuple(2 * pair - (odd if index == count - 1 else 0) for index, pair in enumerate(pairs))
    return _even(people, count)


def _even(many: int, count: int) -> tuple[int, ...]:
    """The larger shares first."""
    least, more = divmod(many, count)
    return tuple(least + (index < more) for index in range(count))


def _on_table(kit: Kit, people: int, tables: Tables) -> Iterator[Thing]:
    """A thing for each person or pair as often as they sit there; what lies on every table, unless the lesson names it."""
    shares = {"person": people, "pair": shared(people, 2), "table": 1}
    for supply in kit.lesson.supplies:
        if supply.per in shares:
            yield Thing(supply.name, (1 if supply.count is None else supply.count) * shares[supply.per])
    named = [supply.name.casefold() for supply in kit.lesson.supplies]
    for tool in tables.tools:
        if not any(tool.name.casefold() in name for name in named):
            yield Thing(tool.name, tool.count)
