"""Counting heads and sharing things out: whole numbers only, always rounded so that nobody goes without."""

from __future__ import annotations

from math import ceil, floor

from lessonkit.planning.faults import PlanError

_SLACK = 1e-9  # what is left of a whole number after a sum in floating point


def up(amount: float) -> int:
    """The next whole number, as what is shared out must be enough: 2.1 is 3, and 2.0000000001 is 2."""
    return ceil(amount - _SLACK)


def down(amount: float) -> int:
    """The whole number below, as a part of a thing is none: 15.9 is 15, and 14.9999999999 is 15."""
    return floor(amount + _SLACK)


def need_people(people: float) -> int:
    """The number of people. PlanError for none, fewer, or a part of one."""
    if people <= 0:
        raise PlanError(f"there is nobody to plan for: {people:g} people.", "Count the group, and write 1 or more.")
    if people != int(people):
        raise PlanError(f"{people:g} people are no whole number.", f"People come whole: write {floor(people)} or {ceil(people)}.")
    return int(people)


def need_places(places: float, what: str = "a station") -> int:
    """The number of places. PlanError for none, or a part of one."""
    if places < 1 or places != int(places):
        raise PlanError(f"{what} has {places:g} places.", "Write 1 or more, or leave places out where there is room for all.")
    return int(places)


def need_amount(amount: float, what: str) -> float:
    """PlanError where an amount that something is divided by, or counted in, is not more than 0."""
    if not 0 < amount < float("inf"):
        raise PlanError(f"{what} is {amount:g}.", "Write more than 0.")
    return amount


def shared(people: float, by: int) -> int:
    """Things that `by` people share: 28 people with a cup for 2 need 14, 27 too."""
    return up(need_people(people) / need_places(by, "a thing that is shared"))


def without(people: int, places: int) -> int:
    """How many find no place: of 25 people at 19 wheels, 6."""
    return max(0, need_people(people) - need_places(places))
