"""What a stencil says of its part, in the room's units and language; where it stands is decided elsewhere."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from lessonkit.layout.wording import say
from lessonkit.pieces.model import Edge, Kit, Measure, Part, Piece
from lessonkit.units import NO_BREAK, Units, number, show_for_hand, show_length

SMALLEST_OFF_MM = 0.5


@dataclass(frozen=True, slots=True)
class Facts:
    """`sizes` are pairs of a large number and the words under it, `sizes_are` what they all are; `kept` is what stays on the part when its opening is
    cut away, its first line the heaviest; `lines` is everything else, the slab first."""

    name: str
    letter: str
    place: str
    count: str
    sizes_are: str
    sizes: tuple[tuple[str, str], ...]
    slab: str
    lines: tuple[str, ...]
    kept: tuple[str, ...]


def facts_of(kit: Kit, piece: Piece, part: Part) -> Facts:
    language, units = kit.room.language, kit.room.units
    sizes = [measure for measure in part.measures if not (part.holes and measure.key == "hole")]
    clay = say("stencil_clay", language, clay=kit.clay.name, cone=kit.clay.cone, share=percent(kit.clay.shrinkage))
    fired = [_fired(measure, units, language) for measure in sizes]
    of_all = {"letter": part.letter, "total": sum(len(p.parts) for p in kit.pieces)}
    name = part_name(piece, part, language)
    levels = [kit.room.levels.get(level, level) for level in piece.levels if set(piece.levels) != set(kit.room.levels)]
    lines = (
        *([say("stencil_fired", language, sizes=", ".join(fired))] if fired else ()),
        clay,
        say("stencil_highest_cone", language, cone=kit.clay.highest_cone),
        *([_sentence(piece.face)] if piece.face else ()),
        *_holes(part, units, language),
        *_edges(piece, part, units, language),
        *([say("stencil_needle", language, size=show_length(kit.room.needle.mm / 2, units))] if part.stencil and kit.room.needle else ()),
        *part.notes,
    )
    return Facts(
        name=name,
        letter=part.letter,
        place=say("stencil_place", language, lesson=", ".join([kit.lesson.title, *levels]), **of_all),
        count=say("stencil_count_flip" if piece.flip else "stencil_count", language, n=piece.count * part.count),
        sizes_are=say(f"stencil_cut_{units}", language),
        sizes=tuple(_large(measure, units, language) for measure in sizes),
        slab=_slab(piece, units, language),
        lines=lines,
        kept=(
            say("stencil_kept", language, name=name, **of_all),
            kit.lesson.title,
            say("stencil_kept_clay", language, clay=kit.clay.name, share=percent(kit.clay.shrinkage)),
            *([say("stencil_fired", language, sizes=_length(sizes[0], units))] if sizes else ()),
        ),
    )  # fmt: skip


def part_name(piece: Piece, part: Part, language: str) -> str:
    """The piece's name, and its part's where it has several; begins with a capital."""
    name = piece.name if len(piece.parts) == 1 else say("stencil_part_name", language, piece=piece.name, part=part.name)
    return _sentence(name)


def percent(shrinkage: float) -> str:
    return f"{number(shrinkage * 100, 2)}{NO_BREAK}%"


def hole_words(across_mm: float, kit: Kit) -> str:
    """Beside a hanging hole: its width as cut."""
    return say("stencil_hole", kit.room.language, size=_hole_size(across_mm, kit.room.units))


def mark_words(words: str, levels: tuple[str, ...], kit: Kit) -> str:
    """What a mark is for and whose it is; empty where it says neither."""
    whose = ", ".join(kit.room.levels.get(level, level) for level in levels)
    return f"{words} ({whose})" if words and whose else words or whose


def edge_words(edge: Edge, language: str) -> tuple[str, ...]:
    """Beside an edge: its letter, and the bevel with the face that it is cut into."""
    named = (say("stencil_edge", language, letter=edge.letter),)
    if not edge.bevel_deg:
        return named
    key = f"stencil_bevel_{edge.face}" if edge.face else "stencil_bevel"
    return (*named, say(key, language, angle=number(edge.bevel_deg, 1)))


def _sentence(words: str) -> str:
    return words[:1].upper() + words[1:]


def _length(measure: Measure, units: Units) -> str:
    """The fired size, and how far it may stray where that can be measured."""
    if measure.unit == "deg":
        return f"{number(measure.fired, 1)}°"
    stray = f" ± {show_length(measure.off, units)}" if measure.off >= SMALLEST_OFF_MM else ""
    return show_length(measure.fired, units) + stray


def _large(measure: Measure, units: Units, language: str) -> tuple[str, str]:
    if measure.unit == "deg":
        return f"{number(measure.cut, 1)}°", measure.words
    metric = number(measure.cut, 1)
    if units == "mm":
        return metric, measure.words
    return show_for_hand(measure.cut, units), say("stencil_inches", language, words=measure.words, size=f"{metric}{NO_BREAK}mm")


def _fired(measure: Measure, units: Units, language: str) -> str:
    return say("stencil_fired_size", language, words=measure.words, size=_length(measure, units))


def _slab(piece: Piece, units: Units, language: str) -> str:
    thick = show_length(piece.thickness_mm, units)
    return say("stencil_slab_sticks", language, thick=thick, sticks=piece.stick) if piece.stick else say("stencil_slab", language, thick=thick)


def _hole_size(mm: float, units: Units) -> str:
    return show_length(mm, units)


def _holes(part: Part, units: Units, language: str) -> Iterator[str]:
    for across, fired in sorted({(hole.across_mm, hole.fired_mm) for hole in part.holes}):
        count = sum(hole.across_mm == across for hole in part.holes)
        key = "stencil_holes" if count > 1 else "stencil_one_hole"
        yield say(key, language, n=count, size=_hole_size(across, units), fired=_hole_size(fired, units))


def _edges(piece: Piece, part: Part, units: Units, language: str) -> Iterator[str]:
    for letter in dict.fromkeys(edge.letter for edge in part.edges):
        mine = [edge for edge in part.edges if edge.letter == letter]
        others = [other for other in piece.parts if other is not part and any(edge.letter == letter for edge in other.edges)]
        if len(mine) > 1:
            yield say("stencil_edges_meet", language, letter=letter)
        for other in others:
            yield say("stencil_edge_meets", language, letter=letter, other=other.name, place=other.letter)
        if lap := max(edge.lap_mm for edge in mine):
            yield say("stencil_lap", language, letter=letter, size=show_length(lap, units))
