"""A lesson and a room worked out: every number that any paper prints is computed here, once."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterator
from dataclasses import replace
from functools import lru_cache
from itertools import islice
from operator import is_
from typing import Any

from lessonkit.clay.weight import mass_g
from lessonkit.geometry.faults import GeometryError
from lessonkit.geometry.shape import Shape, area_mm2
from lessonkit.lesson.decode import Written
from lessonkit.lesson.fields import Record
from lessonkit.lesson.lesson import Lesson
from lessonkit.lesson.lesson import Piece as WrittenPiece
from lessonkit.lesson.room import Room
from lessonkit.pieces.card import with_stencil
from lessonkit.pieces.checks import CHECKS, LESSON_CHECKS, Look
from lessonkit.pieces.clays import fired_clay, room_problems
from lessonkit.pieces.fills import fill, fill_problems, fill_values
from lessonkit.pieces.firing_checks import kiln_problems, support_problems
from lessonkit.pieces.flats import cut_flat
from lessonkit.pieces.letters import text_problems
from lessonkit.pieces.model import FiredClay, Kit, Part, Piece
from lessonkit.pieces.names import length_doubts, name_problems
from lessonkit.pieces.outlines import NoSilhouette, Silhouettes
from lessonkit.pieces.room_limits import need_paper
from lessonkit.pieces.scale import Scale
from lessonkit.pieces.steps import steps_by_level
from lessonkit.problems import Problem
from lessonkit.units import UnitError, lengths_shown

FIRST_EDGE = 9  # J
MOST_POINTS = 16_000  # of the outlines and openings of all pieces, flattened curves included: a lesson has some hundreds
_CODE_LETTERS = "ABCDEFGHJKLMNPQRSTUVWXYZ23456789"  # none that a hand confuses: no I, O, 0, 1


def work_out(
    lesson: Written[Lesson], room: Written[Room], clay_name: str | None = None, assumed: bool = False, silhouettes: Silhouettes | None = None
) -> tuple[Kit | None, tuple[Problem, ...]]:
    """The kit, or None with at least one error. Warnings are in the kit too. `silhouettes` are the shapes of the SVG files that
    the lesson names; a piece that wants one that is not there is passed over, and the errors are whoever's who read them."""
    problems = [
        *_problems_of_room(room),
        *name_problems(lesson, room),
        *length_doubts(lesson),
        *text_problems(lesson),
        *support_problems(lesson),
    ]
    clay = fired_clay(lesson, room, clay_name, assumed) if not _any_error(problems) else None
    if isinstance(clay, Problem):
        problems.append(clay)
    if not isinstance(clay, FiredClay):
        return None, tuple(problems)
    silhouettes = silhouettes or {}
    pieces, faults = _pieces(lesson, room, clay, silhouettes)
    problems += faults
    if _any_error(problems) or len(pieces) < len(lesson.value.pieces):
        return None, tuple(problems)
    values = fill_values(pieces, clay, room.value.units)
    problems += fill_problems(lesson, values)
    if _any_error(problems):
        return None, tuple(problems)
    filled: Lesson = _filled(lesson.value, values)
    kit = Kit(
        lesson=filled,
        room=room.value,
        clay=clay,
        code=_code(lesson.value, room, clay, silhouettes),
        pieces=pieces,
        steps=steps_by_level(filled, list(room.value.levels), pieces),
        assumed=_assumptions(clay, room.value) if assumed else (),
    )
    problems += [problem for piece in pieces for problem in piece.warnings]
    problems += [problem for check in LESSON_CHECKS for problem in check(lesson, kit)]
    return None if _any_error(problems) else replace(kit, problems=tuple(problems)), tuple(problems)


@lru_cache(maxsize=4)  # one room stands for every lesson
def _problems_of_room(room: Written[Room]) -> tuple[Problem, ...]:
    return (*room_problems(room), *kiln_problems(room), *length_doubts(room), *text_problems(room))


def _any_error(problems: list[Problem]) -> bool:
    return any(problem.severity == "error" for problem in problems)


def _pieces(lesson: Written[Lesson], room: Written[Room], clay: FiredClay, silhouettes: Silhouettes) -> tuple[tuple[Piece, ...], list[Problem]]:
    pieces: list[Piece] = []
    faults: list[Problem] = []
    letters = _letters()
    points = 0
    for index, written in enumerate(lesson.value.pieces):
        own = fired_clay(lesson, room, written.clay, False, ("pieces", index, "clay")) if written.clay else clay
        if isinstance(own, Problem):
            faults.append(own)
            continue
        try:
            piece = _piece(written, lesson.value, room.value, own, letters, silhouettes)
            need_paper(piece)
        except NoSilhouette:
            continue
        except (GeometryError, UnitError) as error:
            span = lesson.span("pieces", index, written.form)
            told = _as_typed(error, written, lesson.value, room.value, own, silhouettes)
            what, hint = (lengths_shown(text, room.value.units) for text in (told.what, told.hint))
            faults.append(Problem("error", "cannot-be-cut", span, f"{written.name}: {what}", hint))
            continue
        points += sum(len(ring) for part in piece.parts for ring in (part.shape.outline, *part.shape.holes))
        if points > MOST_POINTS:
            what = f"with this piece the lesson has more than {MOST_POINTS:,} points and curves."
            faults.append(Problem("error", "too-many-points", lesson.span("pieces", index), what, "Make two lessons of it."))
            break
        look = Look(piece, written, lesson, index, own, clay, room.value)
        pieces.append(replace(piece, warnings=tuple(problem for check in CHECKS for problem in check(look))))
    return _apart(pieces), faults


def _as_typed(
    error: GeometryError | UnitError, written: WrittenPiece, lesson: Lesson, room: Room, clay: FiredClay, silhouettes: Silhouettes
) -> GeometryError | UnitError:
    """The same fault with the sizes that stand in the file: what a piece would say of a clay that does not shrink."""
    try:
        unshrunk = clay._replace(shrinkage=0.0, least=0.0, most=0.0, leather_hard=clay.leather_hard and 0.0)
        _piece(written, lesson, room, unshrunk, _letters(), silhouettes)
    except (GeometryError, UnitError) as typed:
        return typed
    return error


def _apart(pieces: list[Piece]) -> tuple[Piece, ...]:
    """The pieces with no edge's letter used twice in the lesson, nor one that is a part's: J and on, or what follows the parts'."""
    letters = islice(_letters(), max(FIRST_EDGE, sum(len(piece.parts) for piece in pieces)), None)
    lettered = []
    for piece in pieces:
        own = sorted({edge.letter for part in piece.parts for edge in part.edges if edge.letter})
        new = dict(zip(own, letters, strict=False)) | {"": ""}
        parts = (replace(part, edges=tuple(edge._replace(letter=new[edge.letter]) for edge in part.edges)) for part in piece.parts)
        lettered.append(replace(piece, parts=tuple(parts)))
    return tuple(lettered)


def _piece(written: WrittenPiece, lesson: Lesson, room: Room, clay: FiredClay, letters: Iterator[str], silhouettes: Silhouettes) -> Piece:
    thickness = (written.thickness or lesson.thickness or room.sticks[0].thick).mm
    scale = Scale(clay.shrinkage, written.sizes, _already_lost(written, clay), clay.least, clay.most)
    blank = Piece(
        name=written.name,
        levels=tuple(written.levels) or tuple(room.levels),
        count=written.count,
        thickness_mm=thickness,
        stick=next((stick.name for stick in room.sticks if abs(stick.thick.mm - thickness) < 0.05), ""),
        mass_g=0.0,
        measures=(),
        parts=(),
        face=written.face or "",
        sizes=written.sizes,
        form=written.form,
        clay=clay if written.clay else None,
    )
    if not written.flat:
        from lessonkit.pieces.built import finished_measures, lettered, unfold  # late: flat lessons do without every development

        built = unfold(written, thickness * (1 - scale.lost), scale, clay.density_g_cm3)
        mass = built.volume_mm3 / 1000 * clay.density_g_cm3 / (1 - scale.lost) ** 3
        parts = lettered(built, lambda: next(letters), scale)
        return replace(blank, measures=finished_measures(built, scale), parts=parts, mass_g=mass, facts=built.facts)
    cutting = cut_flat(written, thickness, scale, silhouettes)
    part = Part(written.name, next(letters), cutting.shape, cutting.measures, cutting.holes, cutting.marks)
    part = with_stencil(part, written.flat, room.needle.mm if room.needle else 0.0)
    mass = mass_g(area_mm2(part.shape), thickness, clay.density_g_cm3) / (1 - scale.lost) ** 2
    return replace(blank, measures=cutting.measures, parts=(part,), mass_g=mass, fold=part.half is not None, flip=written.flat.sides == "both")


def _already_lost(written: WrittenPiece, clay: FiredClay) -> float:
    if written.cut_at == "soft":
        return 0.0
    if clay.leather_hard is None:
        raise UnitError(f"it is cut leather-hard, and nobody has measured what {clay.name} has lost by then.",
                        "Measure a bar when it is leather-hard and add leather_hard: 3 % to the clay in the room file.")  # fmt: skip
    return clay.leather_hard


def _letters() -> Iterator[str]:
    """A to Z, then AA, AB ..."""
    alphabet = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"
    yield from alphabet
    yield from (first + second for first in alphabet for second in alphabet)


def _filled(value: Any, values: dict[str, str]) -> Any:
    """The lesson, or any part of it, with the sizes in all its texts; itself, where it holds none."""
    match value:
        case str():
            return fill(value, values)
        case Record():
            changed = {name: new for name in value.model_fields_set if (new := _filled(old := getattr(value, name), values)) is not old}
            return value.model_copy(update=changed) if changed else value
        case tuple():
            items = tuple([_filled(item, values) for item in value])
            return value if all(map(is_, items, value)) else items
        case dict():
            table = {key: _filled(item, values) for key, item in value.items()}
            return value if all(map(is_, table.values(), value.values())) else table
    return value


def _code(lesson: Lesson, room: Written[Room], clay: FiredClay, silhouettes: Silhouettes) -> str:
    """Four characters of a hash over what the papers are made from: an old print, or one for another clay, has another code."""
    content = [lesson.model_dump(mode="json"), _of_room(room), repr(clay)]
    content += [f"{name} {_digits(drawn)}" for name, drawn in sorted(silhouettes.items()) if drawn]
    digest = hashlib.sha256(json.dumps(content, sort_keys=True, ensure_ascii=False).encode()).digest()
    number = int.from_bytes(digest[:8], "big")
    return "".join(_CODE_LETTERS[number // 32**place % 32] for place in range(4))


@lru_cache(maxsize=4)
def _of_room(room: Written[Room]) -> dict[str, Any]:
    """What of the room is in the papers of every lesson."""
    return room.value.model_dump(mode="json", include={"units", "levels", "sticks", "needle"}, exclude_none=True)


def _digits(drawn: Shape) -> str:
    """A silhouette to a thousandth: the last bits of a float differ between machines."""
    return " ".join(f"{round(x, 3) + 0.0} {round(y, 3) + 0.0}" for ring in (drawn.outline, *drawn.holes) for x, y in ring)


def _assumptions(clay: FiredClay, room: Room) -> tuple[str, ...]:
    return (
        f"No room file was found. Assumed: clay that shrinks {clay.shrinkage * 100:g} % at cone {clay.cone}, sticks of {room.sticks[0].thick.text}.",
    )
