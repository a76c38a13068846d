"""What lies on each table."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from lessonkit.planning.set_out import Thing, seats, set_out
from tests.lessons_for_tests import FRAME, ROOM, kit_of

SUPPLIES = """\
supplies:
  - {name: canvas mat, count: 1, per: person}
  - {name: slip cup, count: 1, per: pair}
  - {name: needle tool, count: 6, per: table}
  - {name: flipping board, count: 3, per: class}
  - {name: sponge, per: table}
  - clean water
"""


@pytest.mark.parametrize(
    ("people", "at_table", "seated"),
    [
        (28, 6, (6, 6, 6, 6, 4)),
        (25, 6, (6, 6, 6, 4, 3)),
        (24, 6, (6, 6, 6, 6)),
        (3, 6, (3,)),
        (1, 6, (1,)),
        (7, 2, (2, 2, 2, 1)),
        (28, 5, (5, 5, 5, 5, 4, 4)),
        (9, 5, (5, 4)),
    ],
)
def test_who_sits_where(people: int, at_table: int, seated: tuple[int, ...]) -> None:
    assert seats(people, at_table) == seated


@given(st.integers(1, 200), st.integers(1, 12))
def test_everybody_sits_and_pairs_add_up(people: int, at_table: int) -> None:
    seated = seats(people, at_table)
    assert sum(seated) == people
    assert len(seated) == -(-people // at_table)
    assert all(1 <= at <= at_table for at in seated)
    if at_table % 2 == 0:
        assert sum(-(-at // 2) for at in seated) == -(-people // 2)


def test_a_table_has_what_its_people_need() -> None:
    """25 at tables of 6: the last table has 3, who are 2 pairs and share 2 sets of cards."""
    room = ROOM + "groups: [{name: Tuesday, people: 25}]\ntables: {seats: 6, tools: [{name: apron, count: 6}, {name: sponge, count: 9}]}\n"
    kit = kit_of(FRAME + SUPPLIES, room)
    found = set_out(kit, kit.room.groups[0])
    assert [table.people for table in found.tables] == [6, 6, 6, 4, 3]
    assert found.tables[0].things == (Thing("canvas mat", 6), Thing("slip cup", 3), Thing("needle tool", 6), Thing("sponge", 1), Thing("apron", 6))
    assert found.tables[-1].things[:3] == (Thing("canvas mat", 3), Thing("slip cup", 2), Thing("needle tool", 6))
    assert [table.cards for table in found.tables] == [3, 3, 3, 2, 2]
    assert found.for_class == (Thing("flipping board", 3), Thing("clean water", None))
    assert not found.assumed


def test_without_a_group_it_is_one_table() -> None:
    found = set_out(kit_of(FRAME + SUPPLIES))
    assert [table.people for table in found.tables] == [6]
    assert found.assumed
