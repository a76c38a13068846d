"""What fits the kiln: pieces a shelf by their outlines, shelves a load by their height, loads for a group, with a map of each shelf.

Shelves are filled one after the other, the tallest pieces first; a shelf is as high as its tallest piece, the air above it and the next
post. Nothing is stacked unless the room says so, and glazed work never is.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import combinations_with_replacement
from math import ceil
from typing import Literal

from lessonkit.clay.firing import need_safe_load
from lessonkit.geometry.shape import Shape, bounds
from lessonkit.geometry.shelving import ShelfPlace, set_out
from lessonkit.lesson.firing import Kiln
from lessonkit.pieces.room_limits import RIM_MM, shelf_outline
from lessonkit.planning.faults import PlanError
from lessonkit.planning.standing import Standing, heaviest_first
from lessonkit.units import Length

State = Literal["raw", "glazed"]

RAW_GAP_MM = 0.0  # raw ware may touch (common practice)
GLAZED_GAP_MM = 7.0  # a quarter of an inch or more (common practice)
AIR_MM, SHELF_MM = 15.0, 15.0  # common practice, no source
MOST_PIECES = 3000
MOST_ON_A_SHELF = 250


@dataclass(frozen=True, slots=True)
class KilnRoom:
    """The kiln in millimetres, with what was assumed of it. `stack_mm` is from under the lowest shelf to the lid."""

    shelf: Shape
    beside: int
    shelves: int | None
    stack_mm: float
    shelf_mm: float
    posts_mm: tuple[float, ...]
    air_mm: float
    gap_mm: float
    rim_mm: float
    high: int
    state: State
    assumptions: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class LoadedShelf:
    """One shelf to load from: which pieces stand where. A place's `index` is its kind in the plan."""

    places: tuple[ShelfPlace, ...]
    tall_mm: float


@dataclass(frozen=True, slots=True)
class Tier:
    """The shelves side by side at one height. `post_mm` is the post under the next shelf, `at_mm` the height of its own top."""

    shelves: tuple[LoadedShelf, ...]
    at_mm: float
    post_mm: float


@dataclass(frozen=True, slots=True)
class Load:
    tiers: tuple[Tier, ...]


@dataclass(frozen=True, slots=True)
class LoadPlan:
    """All loads for so many pieces. For each kind, `per_shelf` is how many a shelf of it alone holds, and `high` how many lie at one
    place (the last place may hold fewer)."""

    kinds: tuple[Standing, ...]
    per_shelf: tuple[int, ...]
    high: tuple[int, ...]
    loads: tuple[Load, ...]
    room: KilnRoom

    @property
    def assumptions(self) -> tuple[str, ...]:
        return self.room.assumptions


def kiln_room(kiln: Kiln, state: State) -> KilnRoom:
    """The kiln for raw or glazed work. What she has not measured is assumed and said."""
    said = []

    def known(length: Length | None, usual: float, words: str) -> float:
        if length is None:
            said.append(f"{words} {usual:g} mm, assumed (common practice)")
        return usual if length is None else length.mm

    gap = kiln.glazed_gap if state == "glazed" else kiln.raw_gap
    usual_gap, words = (GLAZED_GAP_MM, "between glazed pieces") if state == "glazed" else (RAW_GAP_MM, "between raw pieces")
    room = KilnRoom(
        shelf=shelf_outline(kiln.shelf),
        beside=kiln.beside or (2 if kiln.shelf.half_round else 1),
        shelves=kiln.shelves,
        stack_mm=kiln.stack.mm,
        shelf_mm=known(kiln.shelf_thick, SHELF_MM, "a shelf is thick"),
        posts_mm=tuple(sorted(post.mm for post in kiln.posts)),
        air_mm=known(kiln.air, AIR_MM, "air above the tallest piece"),
        gap_mm=known(gap, usual_gap, words),
        rim_mm=known(kiln.rim, RIM_MM, "free at a shelf's rim"),
        high=kiln.raw_high if state == "raw" else 1,
        state=state,
        assumptions=(),
    )
    if not room.posts_mm:
        said.append("there is a post of every height: the room lists none")
    if room.shelves is None:
        said.append("there are enough shelves: the room does not count them")
    if state == "raw":
        said.append(f"flat raw pieces lie {room.high} on one another, as the room says" if room.high > 1 else "raw pieces are not stacked")
    return replace(room, assumptions=tuple(said))


def plan_loads(kinds: Sequence[Standing], room: KilnRoom, cone: str) -> LoadPlan:
    """All loads to fire these pieces to a cone, each with its shelf maps.

    FiringError names the pieces whose clay does not stand the cone. PlanError for a piece that fits no shelf or stands too tall.
    """
    need_safe_load(cone, [kind.ware for kind in kinds])
    ordered = heaviest_first([kind for kind in kinds if kind.count])
    if sum(kind.count for kind in ordered) > MOST_PIECES:
        raise PlanError(f"more than {MOST_PIECES} pieces are more than one plan.", "Plan group by group.")
    stacks = tuple(_stacks(kind, room) for kind in ordered)
    per_shelf = tuple(len(_alone(stack, room)) for stack in stacks)
    shelves = _shelves(stacks, per_shelf, room)
    high = tuple(round(stack.tall_mm / kind.tall_mm) for stack, kind in zip(stacks, ordered, strict=True))
    return LoadPlan(ordered, tuple(count * by for count, by in zip(per_shelf, high, strict=True)), high, _loads(shelves, stacks, room), room)


def _stacks(kind: Standing, room: KilnRoom) -> Standing:
    """Flat raw pieces as the stacks that the room allows; all else as it is."""
    high = min(room.high, kind.count) if kind.flat else 1
    return replace(kind, tall_mm=kind.tall_mm * high, count=ceil(kind.count / high))


def _alone(kind: Standing, room: KilnRoom) -> tuple[ShelfPlace, ...]:
    """A shelf full of one kind."""
    if room.shelf_mm + kind.tall_mm + room.air_mm > room.stack_mm:
        what = f"{kind.ware.name} is {kind.tall_mm:.0f} mm tall: with its shelf and the air above it too tall for the kiln's {room.stack_mm:g} mm."
        raise PlanError(what, "Make it lower, or look at stack in the room file.")
    places = set_out(room.shelf, ((kind.outline, MOST_ON_A_SHELF),), room.gap_mm, room.rim_mm)
    if not places:
        left, bottom, right, top = bounds(kind.outline)
        raise PlanError(f"{kind.ware.name} is {right - left:.0f} x {top - bottom:.0f} mm and fits no shelf of the kiln.",
                        f"Make it smaller, as {room.rim_mm:g} mm stay free at the rim, or look at shelf in the room file.")  # fmt: skip
    return places


def _shelves(kinds: Sequence[Standing], per_shelf: Sequence[int], room: KilnRoom) -> list[LoadedShelf]:
    """Full shelves of one kind, then what is left of all kinds together."""
    shelves, left = [], []
    for index, (kind, most) in enumerate(zip(kinds, per_shelf, strict=True)):
        full = LoadedShelf(tuple(replace(place, index=index) for place in _alone(kind, room)), kind.tall_mm)
        shelves += [full] * (kind.count // most)
        left.append(kind.count % most)
    while any(left):
        places = set_out(room.shelf, tuple((kind.outline, count) for kind, count in zip(kinds, left, strict=True)), room.gap_mm, room.rim_mm)
        shelves.append(LoadedShelf(places, max(kinds[place.index].tall_mm for place in places)))
        for place in places:
            left[place.index] -= 1
    return sorted(shelves, key=lambda shelf: -shelf.tall_mm)


def _loads(shelves: Sequence[LoadedShelf], kinds: Sequence[Standing], room: KilnRoom) -> tuple[Load, ...]:
    """Tiers, tallest first, each into the first load that still has the height and the shelves for it."""
    if room.shelves is not None and room.shelves < room.beside:
        what = f"shelves says {room.shelves}, and beside says that {room.beside} lie side by side at one height."
        raise PlanError(what, "Correct one of the two in the room file.")
    loads: list[list[Tier]] = []
    for start in range(0, len(shelves), room.beside):
        together = tuple(shelves[start : start + room.beside])
        tall = max(shelf.tall_mm for shelf in together)
        for tiers in loads:
            if _fits(tiers, len(together), tall, room):
                break
        else:
            tiers = []
            loads.append(tiers)
        tiers.append(Tier(together, _next_floor(tiers) + room.shelf_mm, post_mm(tall + room.air_mm, room.posts_mm)))
    return tuple(Load(tuple(tiers)) for tiers in loads)


def _next_floor(tiers: Sequence[Tier]) -> float:
    return tiers[-1].at_mm + tiers[-1].post_mm if tiers else 0.0


def _fits(tiers: Sequence[Tier], more: int, tall_mm: float, room: KilnRoom) -> bool:
    used = sum(len(tier.shelves) for tier in tiers)
    enough = room.shelves is None or used + more <= room.shelves
    return enough and _next_floor(tiers) + room.shelf_mm + tall_mm + room.air_mm <= room.stack_mm + 1e-6


def post_mm(need_mm: float, posts_mm: Sequence[float]) -> float:
    """The lowest post, or two or three on one another, that is at least so high; just so high where no posts are listed.

    PlanError where even three of the tallest are too low.
    """
    if not posts_mm:
        return need_mm
    heights = [sum(posts) for count in (1, 2, 3) for posts in combinations_with_replacement(posts_mm, count)]
    enough = [height for height in heights if height >= need_mm - 1e-6]
    if not enough:
        what = f"even three of the tallest posts on one another are lower than the {need_mm:.0f} mm that a piece needs."
        raise PlanError(what, "Add taller posts to the room file.")
    return min(enough)
