"""How the parts of a lesson lie on the largest slab that the room rolls: how many learners one slab is enough for, and the offcut."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from lessonkit.geometry.faults import GeometryError
from lessonkit.geometry.nesting import Placement, nested_sets
from lessonkit.geometry.shape import Shape, area_mm2, moved, scaled, turned
from lessonkit.pieces.model import Kit, Part, Piece
from lessonkit.pieces.room_limits import BETWEEN_MM, MARGIN_MM

MOST_PARTS = 24  # on one slab: more are not worth the time to lay them out


class Lying(NamedTuple):
    """A part on the slab, from the slab's lower left, y upwards: as it lies, as it was before it was turned and moved, and how."""

    letter: str
    shape: Shape
    part: Shape
    place: Placement


class Nest(NamedTuple):
    """Parts of one clay and thickness. `learners` is how many one slab is enough for; with `more` nobody tried how many more. Where
    even one needs several, it is 1 and `slabs` says how many. `lying` is on the first slab, `offcut` the share of all of them
    that is left over (of what is rolled, its rim too)."""

    clay: str
    thickness_mm: float
    wide_mm: float
    tall_mm: float
    learners: int
    slabs: int
    offcut: float
    lying: tuple[Lying, ...]
    more: bool = False


def nests(kit: Kit) -> tuple[Nest, ...]:
    """One for each clay and thickness, for the level that cuts most; none where the room does not say what it can roll, and none for
    parts that are too large for that."""
    if kit.room.slab is None:
        return ()
    by_level = [_parts(kit, level) for level in kit.room.levels]
    most = max(by_level, key=lambda groups: sum(area_mm2(shape) for parts in groups.values() for _, shape in parts))
    return tuple(nest for (clay, thickness), parts in most.items() if (nest := _nest(kit, clay, thickness, parts)))


def _parts(kit: Kit, level: str) -> dict[tuple[str, float], list[tuple[str, Shape]]]:
    """Letter and outline, as rolled, of every part that one learner cuts from a slab."""
    found: dict[tuple[str, float], list[tuple[str, Shape]]] = {}
    for piece, written in zip(kit.pieces, kit.lesson.pieces, strict=True):
        clay = piece.clay or kit.clay
        lost = (clay.leather_hard or 0.0) if written.cut_at == "leather-hard" else 0.0
        for part in _rolled(kit, piece) if level in piece.levels else ():
            cut = [(part.letter, scaled(part.shape, 1 / (1 - lost)))] * (part.count * piece.count)
            found.setdefault((clay.name, piece.thickness_mm), []).extend(cut)
    return found


def _rolled(kit: Kit, piece: Piece) -> tuple[Part, ...]:
    """Pinched work and coils need no slab."""
    if piece.form == "pinch" or (kit.lesson.technique == "coil" and piece.form != "coil_pot"):
        return ()
    return tuple(part for part in piece.parts if part.use == "clay")


def _nest(kit: Kit, clay: str, thickness: float, parts: Sequence[tuple[str, Shape]]) -> Nest | None:
    slab = kit.room.slab
    assert slab is not None
    size, margin = (slab.wide.mm, slab.long.mm), slab.margin.mm if slab.margin else MARGIN_MM
    most = max(1, MOST_PARTS // len(parts))
    try:
        places, learners = nested_sets([shape for _, shape in parts], *size, BETWEEN_MM, margin, most)
    except GeometryError:
        return None
    used = sum(area_mm2(shape) for _, shape in parts)
    lying = tuple(_lying(parts[place.index % len(parts)], place) for place in places if place.sheet == 0)
    offcut = 1 - used * learners / (_slabs(places) * size[0] * size[1])
    return Nest(clay, thickness, *size, learners, _slabs(places), offcut, lying, more=learners == most and _slabs(places) == 1)


def _slabs(places: Sequence[Placement]) -> int:
    return max(place.sheet for place in places) + 1


def _lying(part: tuple[str, Shape], place: Placement) -> Lying:
    letter, shape = part
    return Lying(letter, moved(turned(shape, place.turn_deg), place.x, place.y), shape, place)
