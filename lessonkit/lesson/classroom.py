"""Who is taught and what they are given: groups, tables and tools, the teacher's check, what is bought and what it costs."""

from __future__ import annotations

from typing import Annotated, Literal, Self

from pydantic import AfterValidator, BeforeValidator, Field, ValidationInfo, model_validator

from lessonkit.lesson.amounts import MOST_PEOPLE, Energy, Learners, Money, People, Price, Share, Some, Volume
from lessonkit.lesson.fields import Flag, Gap, Length, Mark, Minutes, Name, Record, Text, Weekdays, Weight, Whole, described, one_of, wrong
from lessonkit.problems import instead


class Group(Record):
    """One class. `levels` is how many there are of each; `people` alone will do where that is not known yet.

    `code` is short and stands on tags and labels in place of names. `day` is its weekday or weekdays, `at` the hour or the
    number of its lesson. `access` are notes for the teacher alone, such as large print at table 2.
    """

    name: Text
    code: Mark | None = None
    people: People | None = None
    levels: dict[str, Learners] = Field(default_factory=dict)
    language: Name | None = None  # of its cards; left out, the room's
    day: Weekdays | None = None
    at: Text | None = None
    access: tuple[Text, ...] = ()

    @model_validator(mode="after")
    def _somebody(self) -> Self:
        there = sum(self.levels.values())
        if not self.people and not there:
            raise wrong("this group has nobody in it.", "Write people: 24, or levels: {easy: 16, advanced: 8}.")
        if self.people and there and self.people != there:
            raise wrong(f"people says {self.people}, and its levels add up to {there}.", "Leave people out, or count again.")
        if there > MOST_PEOPLE:
            raise wrong(f"{there} people are more than one class.", "Write a group for each class.")
        return self

    @property
    def size(self) -> int:
        return self.people or sum(self.levels.values())

    @property
    def tag(self) -> str:
        return self.code or self.name


def _of_levels(group: Group, info: ValidationInfo) -> Group:
    known = list(info.data.get("levels", group.levels))
    for level in group.levels:
        if level not in known:
            raise wrong(f"there is no level called {described(level)} in this room.", instead(level, known))
    return group


def _told_apart(groups: tuple[Group, ...]) -> tuple[Group, ...]:
    tags = [group.tag.casefold() for group in groups] + [group.name.casefold() for group in groups if group.code]
    for tag in tags:
        if tags.count(tag) > 1:
            raise wrong(f"two groups are called {tag}.", "Give each a name and a code of its own: they tell the trays apart.")
    return groups


Groups = Annotated[tuple[Annotated[Group, AfterValidator(_of_levels)], ...], AfterValidator(_told_apart)]


class TableTool(Record):
    """What lies on every table in every lesson, counted out and in."""

    name: Text
    count: Some = 1


class Tables(Record):
    seats: Some = 6
    tools: tuple[TableTool, ...] = ()


class Tool(Record):
    """How many of a tool the room has, and for how long one person needs it."""

    name: Text
    count: Some
    minutes: Minutes | None = None


class LargestSlab(Record):
    """The largest slab that can be rolled here. `margin` is rolled beyond the shape all round, since a rolled edge is thin and torn."""

    wide: Length
    long: Length
    margin: Gap | None = None


class Check(Record):
    """The teacher's check: one learner after the other at this station. `peer` is what is left of it when a partner has looked first."""

    station: Name = "Check"
    minutes: Minutes = 0.75
    peer: Minutes | None = None

    @model_validator(mode="after")
    def _takes_time(self) -> Self:
        if not self.minutes or (self.peer is not None and not 0 < self.peer <= self.minutes):
            raise wrong("a check takes time, and no longer after a partner's look than without.", "Write such as {minutes: 45 s, peer: 25 s}.")
        return self


class Copies(Record):
    """How many learners share one card, and one stencil; `spare` of the copies are printed besides."""

    learners_a_card: Some = 2
    learners_a_stencil: Some = 2
    spare: Share = 0.10


class Bag(Record):
    """How a clay is sold. `clay` left out: every clay that has no line of its own."""

    clay: Name | None = None
    weight: Weight
    price: Price | None = None


class Waste(Record):
    """Clay that stays on mats and hands: a share `on top` of what is needed, or a share `of bought`, which is more."""

    share: Share = 0.05
    counted: Annotated[Literal["on top", "of bought"], one_of("on top", "of bought")] = "on top"


class Colour(Record):
    """Underglaze or glaze: what one jar costs and holds, and how much of it one learner uses."""

    name: Text
    price: Price
    holds: Volume
    each: Volume


class FiringCost(Record):
    """What the meter says of one firing, and how many pieces share it."""

    bisque: Energy
    glaze: Energy | None = None
    price: Price  # of a kWh
    pieces: Some | None = None  # in one load; left out: by the kiln's own plan


class Fee(Record):
    """What a learner pays."""

    name: Text
    amount: Price
    per: Annotated[Literal["person", "kg", "lb"], one_of("person", "kg", "lb")] = "person"


class Buying(Record):
    """What clay and colour cost, and the rules by which more is bought than is needed.

    Spares are `spare` of the group, and at least `least_spares`; `lost` of all pieces break or crack and are made again.
    `pooled` says that what is left of each bag is kneaded together; `reclaimed` is the share of all clay that comes back and is used
    again, so that an order for everything is by weight.
    """

    bags: Annotated[tuple[Bag, ...], BeforeValidator(lambda value: [value] if isinstance(value, dict) else value)] = ()
    pooled: Flag = False
    spare: Share = 0.10
    least_spares: Whole = 2
    lost: Share = 0.05
    waste: Waste = Waste()
    reclaimed: Share = 0.0
    slip: Volume = 40.0  # for one learner who joins
    colours: tuple[Colour, ...] = ()
    firing: FiringCost | None = None
    fees: tuple[Fee, ...] = ()

    @model_validator(mode="after")
    def _one_currency(self) -> Self:
        marks = sorted({price.mark for price in self._prices() if price.mark})
        if len(marks) > 1:
            raise wrong(f"prices are given in {' and in '.join(marks)}.", "Write them all in one currency: they are added up.")
        return self

    def _prices(self) -> list[Money]:
        prices = [*(bag.price for bag in self.bags), *(colour.price for colour in self.colours), *(fee.amount for fee in self.fees)]
        return [price for price in (*prices, self.firing.price if self.firing else None) if price]

    @property
    def mark(self) -> str:
        """The currency, empty where no price has one."""
        return next((price.mark for price in self._prices() if price.mark), "")

    def bag(self, clay: str) -> Bag | None:
        """How that clay is sold."""
        own = (bag for bag in self.bags if bag.clay and bag.clay.casefold() == clay.casefold())
        return next(own, next((bag for bag in self.bags if not bag.clay), None))


def _of_clays(buying: Buying | None, info: ValidationInfo) -> Buying | None:
    known = [clay.name for clay in info.data.get("clays", ())]
    for bag in buying.bags if buying and known else ():
        if bag.clay and bag.clay.casefold() not in (name.casefold() for name in known):
            raise wrong(f"there is no clay called “{bag.clay}” in this room.", instead(bag.clay, known))
    return buying


Shopping = Annotated[Buying | None, AfterValidator(_of_clays)]
