"""What one learner's work costs: clay, colour, firing, and a share for what is lost; and what her fees bring in. One currency."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from lessonkit.lesson.classroom import Buying, FiringCost, Group
from lessonkit.pieces.model import Kit
from lessonkit.planning.clay_needs import ClayNeed
from lessonkit.planning.quantities import quantities
from lessonkit.planning.way import is_painted
from lessonkit.units import G_PER_POUND


@dataclass(frozen=True, slots=True)
class Line:
    """One part of the cost of one learner, and how it was reckoned."""

    name: str
    each: float
    how: str


@dataclass(frozen=True, slots=True)
class Cost:
    """`each` is `subtotal` and `loss`; `all` is for the group. `reclaim_saves` is the clay beside the work, if all of it is used again.
    `fees_each` is what a learner pays. `missing` names what could not be counted; with no price at all, every sum is 0."""

    lesson: str
    group: str
    currency: str
    lines: tuple[Line, ...]
    subtotal: float
    loss: float
    each: float
    all: float
    reclaim_saves: float
    fees: tuple[Line, ...]
    fees_each: float
    missing: tuple[str, ...]
    assumptions: tuple[str, ...]


def cost(kit: Kit, group: Group, pieces_a_load: int | None = None, lost: float | None = None) -> Cost:
    """A plate's clay, 30 ml of colour and its share of two firings, and 5 % for loss.

    `pieces_a_load` is from the kiln's own plan, used where the room says none. `lost` is the share of pieces lost, by her log.
    """
    buying = kit.room.buying or Buying()
    needs = quantities(kit, group, lost)
    share = buying.lost if lost is None else lost
    shared_by = (buying.firing.pieces if buying.firing else None) or pieces_a_load
    lines = (
        *_clay_lines(needs.clay, buying, group.size),
        *(_colour_line(colour.name, colour.price.amount, colour.holds, colour.each) for colour in buying.colours),
        *_firing_lines(kit, buying.firing, shared_by, needs.pieces / group.size),
    )
    subtotal = sum(line.each for line in lines)
    fees = tuple(_fees(buying, needs.clay, group.size))
    each = subtotal * (1 + share)
    return Cost(
        lesson=kit.lesson.title,
        group=group.name,
        currency=buying.mark,
        lines=lines,
        subtotal=subtotal,
        loss=each - subtotal,
        each=each,
        all=each * group.size,
        reclaim_saves=sum(need.offcut_g * _per_g(buying, need) for need in needs.clay) / group.size,
        fees=fees,
        fees_each=sum(fee.each for fee in fees),
        missing=tuple(_missing(kit, needs.clay, buying, shared_by)),
        assumptions=(
            "clay is all that is rolled, the offcut too; what stays on mats is in the loss",
            f"{share * 100:.3g} % for pieces that are lost" + (", by the log" if lost is not None else ""),
            "wages, tools and rent are not counted",
        ),
    )


def _per_g(buying: Buying, need: ClayNeed) -> float:
    bag = buying.bag(need.clay)
    return bag.price.amount / need.bag_g if bag and bag.price else 0.0


def _rolled_g(need: ClayNeed, people: int) -> float:
    """Of one learner, on average over the levels."""
    return sum(lump.people * (lump.cut_g + lump.offcut_g) for lump in need.lumps) / people


def _clay_lines(needs: Sequence[ClayNeed], buying: Buying, people: int) -> Iterator[Line]:
    for need in needs:
        if price := _per_g(buying, need):
            grams = _rolled_g(need, people)
            yield Line(need.clay, grams * price, f"{grams:.0f} g at {price * 1000:.2f} a kg")


def _colour_line(name: str, price: float, holds_ml: float, each_ml: float) -> Line:
    return Line(name, price * each_ml / holds_ml, f"{each_ml:g} ml of {holds_ml:g} ml at {price:.2f}")


def _firing_lines(kit: Kit, firing: FiringCost | None, pieces: int | None, each: float) -> Iterator[Line]:
    if firing and pieces:
        kwh = firing.bisque + (firing.glaze or 0.0 if is_painted(kit.lesson.dates) else 0.0)
        how = f"{kwh:g} kWh at {firing.price.amount:g}, shared by {pieces} pieces" + (f", {each:.3g} each" if each != 1 else "")
        yield Line("firing", kwh * firing.price.amount / pieces * each, how)


def _fees(buying: Buying, needs: Sequence[ClayNeed], people: int) -> Iterator[Line]:
    grams = sum(_rolled_g(need, people) for need in needs)
    in_one = {"person": 1.0, "kg": grams / 1000, "lb": grams / G_PER_POUND}
    for fee in buying.fees:
        each = fee.amount.amount * in_one[fee.per]
        yield Line(fee.name, each, f"{fee.amount.amount:.2f} per {fee.per}" + (f", {in_one[fee.per]:.2f} {fee.per}" if fee.per != "person" else ""))


def _missing(kit: Kit, needs: Sequence[ClayNeed], buying: Buying, pieces: int | None) -> Iterator[str]:
    for need in needs:
        if not _per_g(buying, need):
            yield f"{need.clay}: add buying: {{bags: [{{weight: 25 lb, price: 28}}]}} to the room"
    if not buying.colours:
        yield "colour: add colours: [{name: underglaze, price: 14, holds: 473 ml, each: 30 ml}] under buying"
    if not buying.firing:
        yield "firing: add firing: {bisque: 42 kWh, glaze: 38 kWh, price: 0.17, pieces: 30} under buying"
    elif not pieces:
        yield "firing: add pieces: 30, how many share a load, or describe the kiln"
    elif buying.firing.glaze is None and is_painted(kit.lesson.dates):
        yield "the second firing: add glaze: 38 kWh under firing"
