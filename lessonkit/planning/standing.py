"""The room that a piece takes when it stands on a shelf: its outline from above and its height, dry, and what it is made of."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from statistics import fmean

from lessonkit.clay.firing import Ware
from lessonkit.geometry import shape
from lessonkit.geometry.shape import Shape
from lessonkit.lesson.classroom import Group
from lessonkit.lesson.lesson import Piece as WrittenPiece
from lessonkit.pieces.model import Kit, Piece
from lessonkit.pieces.room_limits import drying_losses, footprint
from lessonkit.planning.copies import learners

_JOINED = ("cylinder", "oval", "cone", "box", "many_sided", "hut", "pocket", "coil_pot")


@dataclass(frozen=True, slots=True)
class Standing:
    """One kind of piece: its outline (hollow middles filled) and height as it goes into the kiln, and how many of it there are.

    `thickness_mm` is of the clay, wet; `flat` pieces may lie on one another before they are glazed.
    """

    ware: Ware
    outline: Shape
    tall_mm: float
    thickness_mm: float
    joined: bool
    flat: bool
    count: int

    def counted(self, count: int) -> Standing:
        return replace(self, count=count)


def standing(kit: Kit, group: Group) -> tuple[tuple[Standing, ...], tuple[str, ...]]:
    """Every kind of piece of a lesson for a group, and what was assumed of its size. What is joined onto another piece stands
    with that."""
    lost, said = _drying_loss(kit)
    onto = {join.name.casefold() for written in kit.lesson.pieces if written.flat for join in written.flat.joins}
    apart = [(piece, written) for piece, written in zip(kit.pieces, kit.lesson.pieces, strict=True) if piece.name.casefold() not in onto]
    found = [_standing(piece, written, kit, group, lost) for piece, written in apart]
    return tuple(found), (said,)


def _standing(piece: Piece, written: WrittenPiece, kit: Kit, group: Group, lost: float) -> Standing:
    outline, tall = footprint(piece, written)
    clay = next((clay for clay in kit.room.clays if clay.name == written.clay), None)
    name, highest = (clay.name, clay.highest_cone) if clay else (kit.clay.name, kit.clay.highest_cone)
    return Standing(
        ware=Ware(f"{kit.lesson.title}, {piece.name}" if piece.name.casefold() != kit.lesson.title.casefold() else piece.name, name, highest),
        outline=shape.scaled(outline, 1 - lost),
        tall_mm=tall * (1 - lost),
        thickness_mm=_clay_thickness_mm(piece, written),
        joined=is_joined(written),
        flat=piece.form == "flat",
        count=learners(group, piece.levels) * piece.count,
    )


def thickest_mm(kit: Kit) -> float:
    """The thickest clay of a lesson, wet: a coil counts as thick as it is rolled."""
    return max(_clay_thickness_mm(piece, written) for piece, written in zip(kit.pieces, kit.lesson.pieces, strict=True))


def _clay_thickness_mm(piece: Piece, written: WrittenPiece) -> float:
    return written.coil_pot.coil.mm if written.coil_pot else piece.thickness_mm


def is_joined(piece: WrittenPiece) -> bool:
    """Whether it has seams that must dry slowly: built forms, closed pinched ones, and flat pieces with something joined on."""
    if piece.flat:
        return bool(piece.flat.joins)
    return piece.form in _JOINED or bool(piece.pinch and (piece.pinch.closed or piece.pinch.balls > 1))


def _drying_loss(kit: Kit) -> tuple[float, str]:
    """The part of its wet length that a piece has lost when it is loaded: from her own bars, else nothing, which is safe."""
    lost = next((drying_losses(clay) for clay in kit.room.clays if clay.name == kit.clay.name), [])
    if lost:
        return fmean(lost), f"pieces are loaded {fmean(lost) * 100:.1f} % smaller than cut, as {len(lost)} of the room's test bars dried"
    return 0.0, "pieces are loaded as large as they were cut: nobody has measured how much this clay shrinks in drying"


def heaviest_first(kinds: Sequence[Standing]) -> tuple[Standing, ...]:
    """Tall before low, large before small: the order in which shelves are filled."""
    return tuple(sorted(kinds, key=lambda kind: (-kind.tall_mm, -shape.area_mm2(kind.outline))))
