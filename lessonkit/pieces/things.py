"""Round things at hand for the day the printer is broken: which one marks a circle of the lesson, and what it fires to."""

from __future__ import annotations

from dataclasses import dataclass

from lessonkit.pieces.model import Kit, Measure, Piece

_ROUND = ("across", "opening", "outside")


@dataclass(frozen=True, slots=True)
class Substitute:
    """`thing` marks `measure` of `piece`; cut with it, the piece fires to `fired_mm` there instead."""

    piece: Piece
    measure: Measure
    thing: str
    across_mm: float
    fired_mm: float


def substitutes(kit: Kit) -> tuple[Substitute, ...]:
    """For every circle that is cut, the round thing of the room that is nearest in width; none without round things."""
    things = [(thing.across.mm, thing.name) for thing in kit.room.round_things]
    found = []
    for piece in kit.pieces:
        for measure in (m for part in piece.parts for m in part.measures if m.key in _ROUND):
            if things:
                across, name = min(things, key=lambda thing: (abs(thing[0] - measure.cut), thing))
                found.append(Substitute(piece, measure, name, across, across * measure.fired / measure.cut))
    return tuple(found)
