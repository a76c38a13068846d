"""Round things at hand for the day the printer is broken: which one marks a circle of the lesson, and what it fires to."""

from __future__ import annotations

import re
from collections.abc import Iterator
from itertools import chain, pairwise
from math import hypot
from typing import NamedTuple

from lessonkit.geometry.shape import Ring
from lessonkit.pieces.model import Kit, Measure, Part, Piece

_ROUND = re.compile(r"outside|across|opening( \d+)?")
_CLOSE_MM = 0.02  # as near as curves are drawn


class Substitute(NamedTuple):
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
        for measure in (measure for part in piece.parts for measure in _round_measures(part)):
            if things:
                across, name = min(things, key=lambda thing: (abs(thing[0] - measure.cut), thing))
                found.append(Substitute(piece, measure, name, across, across * measure.fired / measure.cut))
    return tuple(found)


def _round_measures(part: Part) -> Iterator[Measure]:
    """The measures that are the width of a circle among the part's outline and openings."""
    rounds = [wide for ring in (part.shape.outline, *part.shape.holes) if (wide := _across(ring))]
    for measure in part.measures:
        if _ROUND.fullmatch(measure.words) and any(abs(wide - measure.cut) < _CLOSE_MM for wide in rounds):
            yield measure


def _across(ring: Ring) -> float | None:
    """How wide a ring is, if it is a circle: its corners and the middles of its sides lie on one."""
    xs, ys = [x for x, _ in ring], [y for _, y in ring]
    x0, y0, wide = (min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2, max(xs) - min(xs)
    middles = (((ax + bx) / 2, (ay + by) / 2) for (ax, ay), (bx, by) in pairwise((*ring, ring[0])))
    return wide if all(abs(hypot(x - x0, y - y0) - wide / 2) < _CLOSE_MM for x, y in chain(ring, middles)) else None
