"""The whole plan as plain values: for the JSON, the text and the papers alike. Every topic says what it assumed.

A topic that cannot be planned says why in `error`, and leaves the others alone. Lessons are planned together where they share something:
the order for clay, the kiln, the racks, the calendar.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import asdict, dataclass
from datetime import date
from typing import Any

from lessonkit.clay.firing import FiringError
from lessonkit.geometry.faults import GeometryError
from lessonkit.lesson.classroom import Buying, Group
from lessonkit.lesson.log import Log
from lessonkit.lesson.room import Room
from lessonkit.pieces.model import Kit
from lessonkit.planning.calendar_plan import Dated, calendar_bytes, calendar_plan, dated, term_plan, today_plan
from lessonkit.planning.clay_needs import ClayNeed
from lessonkit.planning.cost import cost
from lessonkit.planning.counting import down
from lessonkit.planning.faults import PlanError
from lessonkit.planning.kiln_plan import drying_plan, kiln_plan, loads_needed
from lessonkit.planning.log import OwnFigures, own_figures, with_own_minutes
from lessonkit.planning.orders import bags_for, order_by_weight
from lessonkit.planning.quantities import Quantities, quantities
from lessonkit.planning.sessions import minutes
from lessonkit.planning.stations import stations
from lessonkit.units import Units, lengths_shown

Json = dict[str, Any]

FORMAT = 1
USUAL_PEOPLE = 24  # 20 to 28 are usual (common practice)
FAULTS = (PlanError, FiringError, GeometryError)
TOPICS = ("quantities", "minutes", "stations", "drying", "kiln", "calendar")


@dataclass(frozen=True, slots=True)
class Asked:
    """What is to be planned: these lessons, all taught in one room, for these groups. `log` is what happened before, `today` a day
    whose jobs are wanted, `glaze_cone` a cone to which all glazed work is fired together, `seed` that of the run through the stations."""

    kits: tuple[Kit, ...]
    groups: tuple[Group, ...]
    log: Log | None = None
    today: date | None = None
    glaze_cone: str | None = None
    seed: int = 1


def groups_of(room: Room) -> tuple[tuple[Group, ...], tuple[str, ...]]:
    """The room's groups, or one that is assumed: as many as its largest station takes, else 24."""
    if room.groups:
        return room.groups, ()
    people = max((station.places for station in room.stations), default=0) or USUAL_PEOPLE
    group = Group.model_validate({"name": f"a group of {people}", "people": str(people)})
    return (group,), (f"a group of {people} is assumed: add groups: [{{name: Tuesday, people: {people}}}] to the room",)


def plan(asked: Asked, said: Sequence[str] = ()) -> Json:
    """Every topic. `said` are assumptions about the group, told with the quantities."""
    own = [_own(asked.log, kit) for kit in asked.kits]
    kits = [with_own_minutes(kit, figures) if figures else kit for kit, figures in zip(asked.kits, own, strict=True)]
    pairs = list(zip(kits, own, strict=True))
    logged = [line for figures in own if figures for line in figures.assumptions]
    units = kits[0].room.units
    found = {
        "quantities": _topic(units, lambda: _quantities(pairs, asked.groups, [*kits[0].assumed, *said])),
        "minutes": _topic(units, lambda: _each([asdict(minutes(kit)) for kit in kits], logged)),
        "stations": _topic(units, lambda: _each([asdict(stations(kit, group, asked.seed)) for kit in kits for group in asked.groups], logged)),
        "drying": _topic(units, lambda: _each([{"lesson": kit.lesson.title, **drying_plan(kit, figures)} for kit, figures in pairs])),
        "kiln": _topic(units, lambda: kiln_plan(kits, asked.groups, asked.glaze_cone)),
        "calendar": _topic(units, lambda: _calendar(pairs, asked)),
    }
    heads = {
        "room": kits[0].room.name,
        "lessons": [{"lesson": kit.lesson.title, "code": kit.code} for kit in kits],
        "groups": [{"group": group.name, "tag": group.tag, "people": group.size} for group in asked.groups],
    }
    rounded: Json = _rounded({"format": FORMAT, **heads, **found})
    return rounded


def calendar_of(asked: Asked, name: str) -> bytes:
    """The calendar file. PlanError where no lesson has a date."""
    plans = _dated([(kit, _own(asked.log, kit)) for kit in asked.kits], asked.groups)
    if not any(found.ways for found in plans):
        raise PlanError("no lesson has a date, so there is nothing for a calendar.",
                        "Add dates: {make: 2027-04-09} or dates: {in_hands: 2027-05-07} to the lesson.")  # fmt: skip
    return calendar_bytes(plans, name)


def faults_of(found: Json) -> list[tuple[str, Json]]:
    """The topics that could not be planned."""
    return [(topic, found[topic]["error"]) for topic in TOPICS if "error" in found[topic]]


def _own(log: Log | None, kit: Kit) -> OwnFigures | None:
    figures = own_figures(log, kit) if log else None
    return figures if figures and figures.classes else None


def _topic(units: Units, made: Callable[[], Json]) -> Json:
    try:
        return made()
    except FAULTS as error:
        return {"error": {"what": lengths_shown(error.what, units), "hint": lengths_shown(error.hint, units)}, "assumptions": []}


def _each(values: list[Json], said: Sequence[str] = ()) -> Json:
    """Values one by one, with everything that they assume told once."""
    return {"each": values, "assumptions": list(dict.fromkeys([*said, *(line for value in values for line in value["assumptions"])]))}


def _quantities(pairs: Sequence[tuple[Kit, OwnFigures | None]], groups: Sequence[Group], said: Sequence[str]) -> Json:
    needs = [(kit, group, figures.lost if figures else None) for kit, figures in pairs for group in groups]
    found = [quantities(kit, group, lost) for kit, group, lost in needs]
    costs = [asdict(cost(kit, group, _pieces_a_load(kit, groups), lost)) for kit, group, lost in needs]
    values = _each([{**asdict(one), "cost": money} for one, money in zip(found, costs, strict=True)], said)
    return {**values, "order": _order(found, pairs[0][0].room.buying or Buying())}


def _pieces_a_load(kit: Kit, groups: Sequence[Group]) -> int | None:
    """By the kiln's plan, where the room says no number and has firing costs to share."""
    firing = kit.room.buying.firing if kit.room.buying else None
    if firing is None or firing.pieces or kit.room.kiln is None:
        return None
    pieces = sum(quantities(kit, group).pieces for group in groups)
    return down(pieces / max(loads_needed(kit, groups))) or None


def _order(found: Sequence[Quantities], buying: Buying) -> list[Json]:
    """Each clay for all of it together: a bag that is begun for one class serves the next."""
    needs = [need for one in found for need in one.clay]
    return [_of_clay([need for need in needs if need.clay == clay], buying) for clay in dict.fromkeys(need.clay for need in needs)]


def _of_clay(needs: Sequence[ClayNeed], buying: Buying) -> Json:
    balls = [(lump.people, lump.ball_g) for need in needs for lump in need.lumps]
    balls += [(more, max(lump.ball_g for lump in need.lumps)) for need in needs if (more := need.spares + need.remakes)]
    bag_g = needs[0].bag_g
    by_weight = order_by_weight(balls, bag_g, reclaimed=buying.reclaimed)
    whole = buying.pooled or buying.reclaimed > 0
    return {
        "clay": needs[0].clay,
        "balls": sum(count for count, _ in balls),
        "weight_g": by_weight.weight_g,
        "bag_g": bag_g,
        "bags": by_weight.bags if whole else bags_for(balls, bag_g),
        "offcut_g": sum(need.offcut_g for need in needs),
        "assumptions": list(by_weight.assumptions) if whole else ["what is left of a bag makes no ball: bags are not pooled"],
    }


def _dated(pairs: Sequence[tuple[Kit, OwnFigures | None]], groups: Sequence[Group]) -> list[Dated]:
    return [dated(kit, groups, figures) for kit, figures in pairs]


def _calendar(pairs: Sequence[tuple[Kit, OwnFigures | None]], asked: Asked) -> Json:
    plans = _dated(pairs, asked.groups)
    values = _each([{"lesson": one.kit.lesson.title, **calendar_plan(one)} for one in plans])
    if asked.today:
        values["today"] = today_plan(plans, asked.today)
    calendar = plans[0].kit.room.calendar
    if len(plans) > 1 and calendar and calendar.term:
        values["term"] = term_plan([kit for kit, _ in pairs], asked.groups)
    return values


def _rounded(value: Any) -> Any:
    """Numbers to a thousandth, tuples as lists; those that have names, by name."""
    match value:
        case float():
            return round(value, 3)
        case dict():
            return {key: _rounded(item) for key, item in value.items()}
        case tuple() if hasattr(value, "_asdict"):
            return _rounded(value._asdict())
        case list() | tuple():
            return [_rounded(item) for item in value]
    return value
