"""Everything to lay out, print and order for one class and one lesson."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from lessonkit.lesson.classroom import Buying, Copies, Group, Tables
from lessonkit.pieces.model import Kit
from lessonkit.planning.clay_needs import ClayNeed, clay_needs
from lessonkit.planning.copies import CardNeed, StencilNeed, card_needs, learners, stencil_needs
from lessonkit.planning.counting import need_people, shared

JOINING = ("score", "slip", "join", "coil-corner")
SLIP_CUP_FOR = 2


@dataclass(frozen=True, slots=True)
class SupplyNeed:
    """Something to lay out. `count` is None where the lesson gives no number for the class; `has` is what the room has of it, None
    where nobody counted, and `lacks` how many are then missing."""

    name: str
    count: int | None
    per: str
    has: int | None = None
    lacks: int = 0


@dataclass(frozen=True, slots=True)
class Support:
    """What the work dries on, and how many of it."""

    on: str
    count: int


@dataclass(frozen=True, slots=True)
class Quantities:
    """One class, one lesson. `pieces` is how many finished things the whole class makes."""

    lesson: str
    code: str
    group: str
    people: int
    tables: int
    pieces: int
    clay: tuple[ClayNeed, ...]
    slip_ml: float
    slip_cups: int
    supplies: tuple[SupplyNeed, ...]
    stencils: tuple[StencilNeed, ...]
    cards: tuple[CardNeed, ...]
    dries_on: Support | None
    access: tuple[str, ...]
    warnings: tuple[str, ...]
    assumptions: tuple[str, ...]


def quantities(kit: Kit, group: Group, lost: float | None = None) -> Quantities:
    """What `group` needs for the lesson. `lost` is the share of pieces lost, by her own log; left out, the room's, or 5 %."""
    people = need_people(group.size)
    clay, said, warnings = clay_needs(kit, group, lost)
    copies, tables = kit.room.copies or Copies(), kit.room.tables or Tables()
    joins = any(step.picture in JOINING for step in kit.lesson.steps)
    slip = (kit.room.buying or Buying()).slip
    supplies = tuple(_supplies(kit, people, tables))
    return Quantities(
        lesson=kit.lesson.title,
        code=kit.code,
        group=group.name,
        people=people,
        tables=shared(people, tables.seats),
        pieces=_finished(kit, group),
        clay=clay,
        slip_ml=slip * people if joins else 0.0,
        slip_cups=shared(people, SLIP_CUP_FOR) if joins else 0,
        supplies=supplies,
        stencils=tuple(stencil_needs(kit, group)),
        cards=tuple(card_needs(kit, group)),
        dries_on=_dries_on(kit, group),
        access=group.access,
        warnings=(*warnings, *(f"{need.name}: {need.count} needed, {need.has} there: {need.lacks} without." for need in supplies if need.lacks)),
        assumptions=(*said, *_assumptions(kit, group, copies, joins, slip)),
    )


def seats_said(kit: Kit) -> str:
    whose = "the room's own figure" if kit.room.tables else "common practice"
    return f"{(kit.room.tables or Tables()).seats} sit at a table ({whose})"


def _supplies(kit: Kit, people: int, tables: Tables) -> Iterator[SupplyNeed]:
    shares = {"person": people, "pair": shared(people, 2), "table": shared(people, tables.seats), "class": 1}
    listed = [(supply.name, supply.count, supply.per) for supply in kit.lesson.supplies]
    named = [name.casefold() for name, _, _ in listed]
    listed += [(tool.name, tool.count, "table") for tool in tables.tools if not any(tool.name.casefold() in name for name in named)]
    for name, count, per in listed:
        total = None if count is None and per == "class" else (1 if count is None else count) * shares[per]
        has = next((tool.count for tool in kit.room.tools if tool.name.casefold() in name.casefold()), None)
        yield SupplyNeed(name, total, per, has, max(0, (total or 0) - has) if has is not None else 0)


def _dries_on(kit: Kit, group: Group) -> Support | None:
    support = kit.lesson.dries_on
    if support is None:
        return None
    return Support(support.on, _finished(kit, group) if support.each == "piece" else group.size)


def _finished(kit: Kit, group: Group) -> int:
    """How many things the group makes; what is joined onto another piece is a part of that."""
    joined = {join.name.casefold() for piece in kit.lesson.pieces if piece.flat for join in piece.flat.joins}
    return sum(piece.count * learners(group, piece.levels) for piece in kit.pieces if piece.name.casefold() not in joined)


def _assumptions(kit: Kit, group: Group, copies: Copies, joins: bool, slip: float) -> Iterator[str]:
    if not group.levels:
        yield "nobody said how many are of which level: clay for the level that needs most, and cards of each level for all"
    yield seats_said(kit)
    yield f"one card for {copies.learners_a_card}, one stencil for {copies.learners_a_stencil}, and {copies.spare * 100:g} % spare"
    if joins:
        yield f"slip: {slip:g} ml for each learner, a cup for every {SLIP_CUP_FOR} (from memory, no source)"
    else:
        yield "no step joins clay to clay, so no slip is counted"
