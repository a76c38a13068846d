"""Built forms: unfolded from the wet solid, on the wall's middle, into flat parts with their joining edges lettered."""

from __future__ import annotations

import math
from dataclasses import dataclass

from lessonkit.geometry import outlines, shape
from lessonkit.geometry.developments import cylinder_wrap
from lessonkit.geometry.shape import Line, Shape
from lessonkit.lesson.lesson import Piece as WrittenPiece
from lessonkit.pieces.flats import Scale
from lessonkit.pieces.model import Edge, Mark, Measure

QUARTER_MM = 8.0


@dataclass(frozen=True, slots=True)
class Unfolded:
    """A flat part before it gets its letter."""

    name: str
    shape: Shape
    measures: tuple[Measure, ...]
    marks: tuple[Mark, ...] = ()
    edges: tuple[Edge, ...] = ()
    notes: tuple[str, ...] = ()


def unfold_cylinder(piece: WrittenPiece, thickness_mm: float, scale: Scale) -> tuple[tuple[Measure, ...], tuple[Unfolded, ...]]:
    """The finished pot's measures, then its wall and base. The slab keeps its thickness: only the pot is enlarged.

    The wall is as long as the circle through its middle, pi x (outside - thickness), and a lapped joint adds one thickness.
    Raises GeometryError where the wall leaves no room inside.
    """
    pot = piece.cylinder
    assert pot is not None
    across = scale.cut(pot.across.mm)
    outside = across if pot.measured == "outside" else across + 2 * thickness_mm
    tall = scale.cut(pot.tall.mm)
    wall_tall = tall - thickness_mm if pot.base == "under" else tall
    wall = cylinder_wrap(outside_mm=outside, tall_mm=wall_tall, thickness_mm=thickness_mm)
    left, bottom, right, top = shape.bounds(wall)
    around = right - left
    if pot.joint == "lapped":
        wall = outlines.rectangle(around + thickness_mm, wall_tall)
        left, bottom, right, top = shape.bounds(wall)
    base_across = outside if pot.base == "under" else outside - 2 * thickness_mm
    base = outlines.circle(base_across)
    one_end: Line = ((left, bottom), (left, top))
    other_end: Line = ((right, bottom), (right, top))
    edges = (Edge("J", one_end), Edge("J", other_end))
    if pot.joint == "lapped":
        edges = (Edge("J", one_end, 45.0, "inside", thickness_mm), Edge("J", other_end, 45.0, "outside", thickness_mm))
    meets = "stands on the base" if pot.base == "under" else "goes round the base"
    finished = (
        scale.of_cut("outside", "outside", outside),
        scale.of_cut("inside", "inside", outside - 2 * thickness_mm),
        scale.of_cut("tall", "tall", tall),
    )
    parts = (
        Unfolded("wall", wall, (scale.of_cut("long", "long", right - left), scale.of_cut("tall", "tall", wall_tall)),
                 _wall_quarters(left, around, bottom, top), (*edges, Edge("K", ((left, bottom), (right, bottom)))),
                 (f"The wall {meets}.",)),
        Unfolded("base", base, (scale.of_cut("across", "across", base_across),), _base_quarters(base_across / 2), (Edge("K", base.outline),)),
    )  # fmt: skip
    return finished, parts


def _wall_quarters(left: float, around: float, bottom: float, top: float) -> tuple[Mark, ...]:
    places = (left + around * quarter / 4 for quarter in (1, 2, 3))
    return tuple(Mark("quarter", line) for x in places for line in (((x, bottom), (x, bottom + QUARTER_MM)), ((x, top - QUARTER_MM), (x, top))))


def _base_quarters(radius: float) -> tuple[Mark, ...]:
    turns = (math.radians(90 * quarter) for quarter in range(4))
    inner = max(radius - QUARTER_MM, radius / 2)
    return tuple(Mark("quarter", ((inner * math.cos(a), inner * math.sin(a)), (radius * math.cos(a), radius * math.sin(a)))) for a in turns)
