"""What a plate costs, summed by hand (common practice, no source), and what is refused."""

from __future__ import annotations

import pytest

from lessonkit.lesson.classroom import Group
from lessonkit.planning.cost import Cost, cost
from tests.lessons_for_tests import FRAME, ROOM, kit_of, problems_of
from tests.planning.test_quantities import PLATE, PLATE_ROOM

BUYING = """\
buying:
  bags: {weight: 25 lb, price: $28}
  colours: [{name: underglaze, price: $14, holds: 473.18 ml, each: 30 ml}]
  firing: {bisque: 42 kWh, glaze: 38 kWh, price: $0.17, pieces: 30}
  fees: [{name: clay, amount: $1, per: lb}, {name: firing, amount: 2.50}]
"""


def of(room: str = PLATE_ROOM + BUYING, lesson: str = PLATE, people: int = 28) -> Cost:
    return cost(kit_of(lesson, room), Group.model_validate({"name": "Tuesday", "levels": {"easy": str(people)}}))


def test_a_plate() -> None:
    """711 g at $28 a bag is $1.76, less $0.67 if all offcut is reclaimed; 30 ml of a pint (473 ml) at $14 is $0.89; (42 + 38) kWh at $0.17
    over 30 pieces is $0.45; together $3.10, and with 5 % for loss $3.25."""
    found = of()
    assert [(line.name, round(line.each, 2)) for line in found.lines] == [("white low-fire", 1.76), ("underglaze", 0.89), ("firing", 0.45)]
    assert (round(found.subtotal, 2), round(found.each, 2), round(found.reclaim_saves, 2)) == (3.10, 3.25, 0.67)
    assert found.all == pytest.approx(28 * found.each)
    assert (found.currency, found.missing) == ("$", ())


def test_fees() -> None:
    """711.36 g are 1.568 lb, so $1.57 at $1 a pound; and 2.50 for the firing."""
    assert [(fee.name, round(fee.each, 2)) for fee in of().fees] == [("clay", 1.57), ("firing", 2.5)]
    assert round(of().fees_each, 2) == 4.07


def test_what_is_not_painted_is_fired_once() -> None:
    found = of(lesson=PLATE.replace("technique: slab", "technique: slab\ndates: {paint: none}"))
    assert found.lines[-1].each == pytest.approx(42 * 0.17 / 30)


def test_two_pieces_each_share_twice() -> None:
    two = of(lesson=PLATE.replace("{name: plate,", "{name: plate, count: 2,"))
    assert two.lines[-1].each == pytest.approx(2 * of().lines[-1].each)


def test_what_cannot_be_counted_is_named() -> None:
    bare = of(PLATE_ROOM)
    assert (bare.each, bare.lines) == (0, ())
    assert [line.split(":")[0] for line in bare.missing] == ["white low-fire", "colour", "firing"]
    unshared = PLATE_ROOM + BUYING.replace(", pieces: 30", "")
    assert of(unshared).missing == ("firing: add pieces: 30, how many share a load, or describe the kiln",)
    kit = kit_of(PLATE, unshared)
    by_kiln = cost(kit, Group.model_validate({"name": "Tuesday", "people": "28"}), pieces_a_load=30)
    assert by_kiln.each == pytest.approx(of().each)


def test_her_own_losses() -> None:
    kit = kit_of(PLATE, PLATE_ROOM + BUYING)
    found = cost(kit, Group.model_validate({"name": "Tuesday", "people": "28"}), lost=0.2)
    assert found.each == pytest.approx(found.subtotal * 1.2)
    assert "20 % for pieces that are lost, by the log" in found.assumptions


@pytest.mark.parametrize(
    ("line", "told"),
    [
        ("buying: {bags: {weight: 25 lb, price: $28}, fees: [{name: term, amount: 10 EUR}]}", "$ and in EUR"),
        ("buying: {bags: {weight: 25 lb, price: cheap}}", "Write such as $28"),
        ("buying: {bags: {clay: buff midfire, weight: 25 lb}}", "Did you mean buff mid-fire?"),
        ("buying: {colours: [{name: blue, price: 14, holds: 1 pint, each: 30 ml}]}", "A pint is 473 ml in the US and 568 ml in the UK"),
        ("buying: {firing: {bisque: 42, price: 0.17}}", "such as 42 kWh"),
        ("buying: {lost: 0.05}", "such as 10 %"),
        ("buying: {spare: 100 %}", "below 100 %"),
    ],
)
def test_prices_that_cannot_be_read(line: str, told: str) -> None:
    (found,) = problems_of(FRAME, ROOM + line + "\n")
    assert told in found
