"""What a stencil says of its part, in the room's units and language; where it stands is decided elsewhere."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass

from lessonkit.drawing.fonts import begun_large
from lessonkit.layout.wording import say
from lessonkit.pieces.fired import fired_words
from lessonkit.pieces.model import Edge, FiredClay, Kit, Measure, Part, Piece
from lessonkit.units import NO_BREAK, Units, number, show_for_hand, show_length

MANY_EDGES = 2  # more alike than this are described once


@dataclass(frozen=True, slots=True)
class Facts:
    """`sizes` are pairs of a large number and the words under it, `sizes_are` what they all are; `lines` is what the label must say
    besides, the slab first; `kept` is what stays on the part when its opening is cut away, its first line the heaviest. `cares`
    (what to take care of) and `notes` stand wherever there is room."""

    name: str
    letter: str
    place: str
    count: str
    sizes_are: str
    sizes: tuple[tuple[str, str], ...]
    lines: tuple[str, ...]
    kept: tuple[str, ...]
    clay: str
    cares: tuple[str, ...]
    notes: tuple[str, ...]
    flip: bool
    faced: bool  # front and back are told apart


def facts_of(kit: Kit, piece: Piece, part: Part, faced: bool = False) -> Facts:
    """`faced` marks front and back of a stencil that is not flipped too."""
    language, units, clay = kit.room.language, kit.room.units, piece.clay or kit.clay
    sizes = [measure for measure in part.measures if not (part.holes and measure.key == "hole")]
    fired = [_fired(measure, units, language) for measure in sizes if _is_fired(measure, piece, part)]
    of_all = {"letter": part.letter, "total": sum(len(p.parts) for p in kit.pieces)}
    name = part_name(piece, part, language)
    levels = [kit.room.levels.get(level, level) for level in piece.levels if set(piece.levels) != set(kit.room.levels)]
    lines = (
        *([_slab(piece, units, language)] if part.use == "clay" else ()),
        _count(piece, part, language),
        *([say("stencil_fired", language, sizes=", ".join(fired))] if fired else ()),
        *_clay(clay, language),
        *([begun_large(piece.face)] if piece.face else ()),
        *_holes(part, units, language),
    )
    return Facts(
        name=name,
        letter=part.letter,
        place=say("stencil_place", language, lesson=", ".join([kit.lesson.title, *levels]), **of_all),
        count=_count(piece, part, language),
        sizes_are=say(f"stencil_{'cut' if part.use == 'clay' else 'wet'}_{units}", language),
        sizes=tuple(_large(measure, units, language) for measure in sizes),
        lines=lines,
        kept=(
            say("stencil_kept", language, name=name, **of_all),
            kit.lesson.title,
            say("stencil_kept_clay", language, clay=clay.name, share=percent(clay.shrinkage)),
            *([say("stencil_fired", language, sizes=fired_words(sizes[0], units))] if fired else ()),
        ),
        clay=next(_clay(clay, language)),
        cares=tuple(_cares(piece)) if part is piece.parts[0] else (),
        notes=(*_edges(piece, part, units, language), *_needle(kit, part), *part.notes),
        flip=piece.flip,
        faced=(piece.flip or faced) and part.use != "compare",
    )  # fmt: skip


def _count(piece: Piece, part: Part, language: str) -> str:
    key = {"clay": "stencil_count_flip" if piece.flip else "stencil_count", "card": "stencil_count_card", "compare": "stencil_compare"}[part.use]
    return say(key, language, n=piece.count * part.count)


def _clay(clay: FiredClay, language: str) -> Iterator[str]:
    yield say("stencil_clay", language, clay=clay.name, cone=clay.cone, share=percent(clay.shrinkage), basis=clay.basis)
    yield say("stencil_highest_cone", language, cone=clay.highest_cone)


def _is_fired(measure: Measure, piece: Piece, part: Part) -> bool:
    """Of an outline that work is held against only what the finished thing measures: a ball of wet clay is not fired."""
    return part.use != "compare" or any(measure.cut == finished.cut for finished in piece.measures)


def _cares(piece: Piece) -> Iterator[str]:
    """What is wrong and what would cure it, without what to type in the lesson."""
    for problem in piece.warnings:
        cure = re.sub(r" \([^)]*:[^)]*\)", "", problem.hint)
        yield f"{begun_large(problem.what.removeprefix(f'{piece.name}: '))} {cure}".strip()


def _needle(kit: Kit, part: Part) -> Iterator[str]:
    if part.stencil and kit.room.needle:
        size = show_length(kit.room.needle.mm / 2, kit.room.units)
        yield say("stencil_needle_window" if part.window else "stencil_needle", kit.room.language, size=size)


def part_name(piece: Piece, part: Part, language: str) -> str:
    """The piece's name, and its part's where it has several; begins with a capital."""
    name = piece.name if len(piece.parts) == 1 else say("stencil_part_name", language, piece=piece.name, part=part.name)
    return begun_large(name)


def percent(shrinkage: float) -> str:
    return f"{number(shrinkage * 100, 2)}{NO_BREAK}%"


def hole_words(across_mm: float, kit: Kit) -> str:
    """Beside a hanging hole: its width as cut."""
    return say("stencil_hole", kit.room.language, size=_hole_size(across_mm, kit.room.units))


def mark_words(words: str, levels: tuple[str, ...], kit: Kit) -> str:
    """What a mark is for and whose it is; empty where it says neither."""
    whose = ", ".join(kit.room.levels.get(level, level) for level in levels)
    return f"{words} ({whose})" if words and whose else words or whose


def edge_words(edge: Edge, part: Part, language: str) -> tuple[str, ...]:
    """Beside an edge: its letter, if it meets another, and its bevel with the face that it is cut into. Many edges that are alike
    have the letter alone; what they have in common is told once."""
    named = (say("stencil_edge", language, letter=edge.letter),) if edge.letter else ()
    if not edge.bevel_deg or (named and _alike(edge, part) > MANY_EDGES):
        return named
    return (*named, _bevel(edge, language))


def _alike(edge: Edge, part: Part) -> int:
    return sum((other.letter, other.bevel_deg, other.face) == (edge.letter, edge.bevel_deg, edge.face) for other in part.edges)


def _bevel(edge: Edge, language: str) -> str:
    return say(f"stencil_bevel_{edge.face}" if edge.face else "stencil_bevel", language, angle=number(edge.bevel_deg, 1))


def _large(measure: Measure, units: Units, language: str) -> tuple[str, str]:
    if measure.unit == "deg":
        return f"{number(measure.cut, 1)}°", measure.words
    metric = number(measure.cut, 1)
    if units == "mm":
        return metric, measure.words
    return show_for_hand(measure.cut, units), say("stencil_inches", language, words=measure.words, size=f"{metric}{NO_BREAK}mm")


def _fired(measure: Measure, units: Units, language: str) -> str:
    return say("stencil_fired_size", language, words=measure.words, size=fired_words(measure, units))


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
    """What each lettered edge meets: edges of other parts; else its like on the next copy of this part; else its like on this one."""
    for letter in dict.fromkeys(edge.letter for edge in part.edges if edge.letter):
        mine = [edge for edge in part.edges if edge.letter == letter]
        others = [other for other in piece.parts if other is not part and any(edge.letter == letter for edge in other.edges)]
        for other in others:
            yield say("stencil_edge_meets", language, letter=letter, other=other.name, place=other.letter)
        if not others and part.count > 1:
            yield say("stencil_edge_meets_next", language, letter=letter)
        elif not others and len(mine) > 1:
            yield say("stencil_edges_meet", language, letter=letter)
        if mine[0].bevel_deg and _alike(mine[0], part) > MANY_EDGES:
            yield say("stencil_edges_alike", language, letter=letter, bevel=_bevel(mine[0], language))
        if lap := max(edge.lap_mm for edge in mine):
            yield say("stencil_lap", language, letter=letter, size=show_length(lap, units))
