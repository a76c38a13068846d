"""Clay for a class: what one learner of each level needs, the balls to weigh, the bags to order. Grams."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

from lessonkit.clay.weight import mass_g
from lessonkit.geometry.shape import area_mm2, bounds
from lessonkit.lesson.classroom import Buying, Group
from lessonkit.lesson.lesson import Piece as WrittenPiece
from lessonkit.lesson.room import Clay
from lessonkit.pieces.model import Kit, Part, Piece
from lessonkit.pieces.room_limits import MARGIN_MM
from lessonkit.planning.counting import down
from lessonkit.planning.orders import bags_for, balls_in_bag, remakes, spares, with_waste
from lessonkit.planning.slabs import Cut, Slab, slabs
from lessonkit.units import G_PER_POUND, show_length

USUAL_BAG_G = 25 * G_PER_POUND


@dataclass(frozen=True, slots=True)
class Lump:
    """The clay that one learner of these levels is given. `slabs` are rolled from it, `solid_g` is pinched or coiled. `cut_g` ends
    up in the work, `offcut_g` beside it; `ball_g` is the ball to weigh, with what stays on mats and hands."""

    levels: tuple[str, ...]
    people: int
    slabs: tuple[Slab, ...]
    solid_g: float
    cut_g: float
    offcut_g: float
    ball_g: float
    balls_a_bag: int


@dataclass(frozen=True, slots=True)
class ClayNeed:
    """One clay for a class. `balls` are weighed for the class: one each and the `spares`. `bags` are for these and for the
    `remakes`; `left_g` is then over. `offcut_g` comes back from the whole class, enough for `balls_from_offcut` another time."""

    clay: str
    lumps: tuple[Lump, ...]
    spares: int
    remakes: int
    balls: int
    bag_g: float
    pooled: bool
    bags: int
    weight_g: float
    left_g: float
    offcut_g: float
    balls_from_offcut: int


def clay_needs(kit: Kit, group: Group, lost: float | None = None) -> tuple[tuple[ClayNeed, ...], tuple[str, ...], tuple[str, ...]]:
    """Each clay that the lesson uses, what was assumed, and warnings. `lost` is the share of pieces lost, by her own log."""
    buying = kit.room.buying or Buying()
    if lost is not None:
        buying = buying.model_copy(update={"lost": lost})
    clays = list(dict.fromkeys(_clay(kit, written).name for written in kit.lesson.pieces))
    needs = tuple(_need(clay, lumps, buying) for clay in clays if (lumps := _lumps(kit, group, clay, buying)))
    return needs, (*_slab_assumptions(kit), *_order_assumptions(kit, clays, buying, lost)), tuple(_warnings(kit, needs))


def _clay(kit: Kit, written: WrittenPiece) -> Clay:
    name = (written.clay or kit.clay.name).casefold()
    return next(clay for clay in kit.room.clays if clay.name.casefold() == name)


def _need(clay: str, found: list[Lump], buying: Buying) -> ClayNeed:
    bag = buying.bag(clay)
    bag_g = bag.weight.g if bag else USUAL_BAG_G
    lumps = tuple(replace(lump, balls_a_bag=balls_in_bag(lump.ball_g, bag_g)) for lump in found)
    people = sum(lump.people for lump in lumps)
    more, again = spares(people, buying.spare, buying.least_spares), remakes(people, buying.lost)
    heaviest = max(lump.ball_g for lump in lumps)
    balls = [(lump.people, lump.ball_g) for lump in lumps] + [(more + again, heaviest)]
    weight, bags = sum(count * g for count, g in balls), bags_for(balls, bag_g, buying.pooled)
    offcut = sum(lump.people * lump.offcut_g for lump in lumps)
    again_from, left = down(offcut / heaviest), bags * bag_g - weight
    return ClayNeed(clay, lumps, more, again, people + more, bag_g, buying.pooled, bags, weight, left, offcut, again_from)


def _lumps(kit: Kit, group: Group, clay: str, buying: Buying) -> list[Lump]:
    """One for each level of the group, levels of the same weight together. Where nobody knows the levels, all get the heaviest."""
    found = {level: lump for level in kit.room.levels if (lump := _lump(kit, level, clay, buying)).ball_g > 0}
    if not group.levels and found:
        return [replace(max(found.values(), key=lambda lump: lump.ball_g), levels=tuple(found), people=group.size)]
    together: dict[Lump, list[str]] = {}
    for level, lump in found.items():
        if group.levels.get(level):
            together.setdefault(replace(lump, levels=()), []).append(level)
    return [replace(lump, levels=tuple(levels), people=sum(group.levels[level] for level in levels)) for lump, levels in together.items()]


def _lump(kit: Kit, level: str, clay: str, buying: Buying) -> Lump:
    slab, density = kit.room.slab, next(one.density for one in kit.room.clays if one.name == clay)
    margin = slab.margin.mm if slab and slab.margin else MARGIN_MM
    largest = (slab.wide.mm, slab.long.mm) if slab else None
    cuts: dict[float, list[Cut]] = {}
    solid = 0.0
    for piece, written in zip(kit.pieces, kit.lesson.pieces, strict=True):
        if level in piece.levels and _clay(kit, written).name == clay:
            of_piece = [cut for part in _rolled(kit, piece) for cut in _cuts(part, piece, _shrunk(kit, written))]
            cuts.setdefault(piece.thickness_mm, []).extend(of_piece)
            solid += piece.mass_g * piece.count - sum(mass_g(cut.area_mm2, piece.thickness_mm, density) for cut in of_piece)
    made = tuple(slab for thickness, of_one in sorted(cuts.items()) for slab in slabs(of_one, thickness, density, margin, largest))
    solid = solid if solid > 1e-6 else 0.0
    offcut = sum(slab.offcut_g for slab in made)
    cut = solid + sum(slab.cut_g for slab in made)
    return Lump((level,), 0, made, solid, cut, offcut, with_waste(cut + offcut, buying.waste.share, buying.waste.counted), 0)


def _rolled(kit: Kit, piece: Piece) -> tuple[Part, ...]:
    """The parts that are cut from a slab: of a coil pot its base, of pinched work and of coils laid in a flat or a mould none."""
    if piece.form == "coil_pot":
        return piece.parts[:1]  # the other is the gauge, of card
    return () if piece.form == "pinch" or kit.lesson.technique == "coil" else piece.parts


def _shrunk(kit: Kit, written: WrittenPiece) -> float:
    """What a slab has lost of its length when the piece is cut from it."""
    return (_clay(kit, written).leather_hard or 0.0) if written.cut_at == "leather-hard" else 0.0


def _cuts(part: Part, piece: Piece, lost: float) -> Iterable[Cut]:
    left, bottom, right, top = bounds(part.shape)
    one = Cut(part.name, (right - left) / (1 - lost), (top - bottom) / (1 - lost), area_mm2(part.shape) / (1 - lost) ** 2)
    return [one] * (part.count * piece.count)


def _slab_assumptions(kit: Kit) -> Iterator[str]:
    slab, units = kit.room.slab, kit.room.units
    margin = slab.margin.mm if slab and slab.margin else MARGIN_MM
    whose = "the room's own figure" if slab and slab.margin else "common practice"
    yield f"a slab is rolled {show_length(margin, units)} larger all round than the rectangle around its parts, up to whole centimetres ({whose})"
    if any(piece.form == "pinch" for piece in kit.pieces) or kit.lesson.technique == "coil":
        yield "pinched and coiled clay leaves no offcut; a coil pot's base is cut from a slab"
    densities = sorted({clay.density for clay in kit.room.clays})
    yield f"wet clay weighs {' or '.join(f'{density:g}' for density in densities)} g/cm³"


def _order_assumptions(kit: Kit, clays: list[str], buying: Buying, lost: float | None) -> Iterator[str]:
    waste = "of what is needed, on top" if buying.waste.counted == "on top" else "of what is bought"
    yield f"{buying.waste.share * 100:g} % {waste}, stays on mats and hands"
    yield f"spares: {buying.spare * 100:g} % of the group, at least {buying.least_spares}; they get the largest ball"
    yield f"{buying.lost * 100:.3g} % of the pieces are lost and made again" + (", by the log" if lost is not None else "")
    for clay in clays:
        if not buying.bag(clay):
            yield f"{clay} is sold in bags of 25 lb (11.34 kg): the room does not say"
    yield "what is left of a bag is kneaded together (pooled)" if buying.pooled else "what is left of a bag makes no ball: bags are not pooled"


def _warnings(kit: Kit, needs: tuple[ClayNeed, ...]) -> Iterator[str]:
    for need in needs:
        for lump in need.lumps:
            for slab in lump.slabs:
                if not slab.fits and kit.room.slab:
                    size, most = (f"{show_length(w, kit.room.units)} x {show_length(t, kit.room.units)}" for w, t in (
                        (slab.wide_mm, slab.tall_mm), (kit.room.slab.wide.mm, kit.room.slab.long.mm)))  # fmt: skip
                    yield f"{', '.join(slab.parts)} needs a slab of {size}, and the room rolls at most {most}: make it smaller, or of parts."
            if lump.people and not lump.balls_a_bag:
                yield f"a ball of {need.clay} is heavier than a bag: it is kneaded from several, so all bags are pooled."
