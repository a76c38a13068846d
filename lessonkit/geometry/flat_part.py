"""A flat piece of a built form: its outline, the edges that are joined, the marks that are not cut, its sizes."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, NamedTuple

from lessonkit.geometry.shape import Line, Shape

Face = Literal["", "inside", "outside"]
Joint = Literal["butt", "lapped"]
Corner = Literal["butt", "mitred"]
Base = Literal["under", "inside", "none"]
Measured = Literal["outside", "inside"]


class Edge(NamedTuple):
    """An edge that meets the one with the same letter; with no letter it is only bevelled.

    The bevel is measured from square and shaved off `face`, so the other face is the longer one. `lap_mm` is how far a lapped
    edge runs over its mate.
    """

    letter: str
    line: Line
    bevel_deg: float = 0.0
    face: Face = ""
    lap_mm: float = 0.0


class Mark(NamedTuple):
    """A line that is not cut; `closed` joins its last point to its first."""

    kind: Literal["press", "fold", "quarter"]
    line: Line
    closed: bool = False


@dataclass(frozen=True, slots=True)
class FlatPart:
    """One flat piece to cut `count` times. Wet millimetres, as seen on the finished form from outside (a base from above).

    `sizes` are named numbers: millimetres, or degrees where the name ends in `_deg`.
    """

    name: str
    shape: Shape
    edges: tuple[Edge, ...] = ()
    marks: tuple[Mark, ...] = ()
    sizes: tuple[tuple[str, float], ...] = ()
    count: int = 1
    notes: tuple[str, ...] = ()

    def size(self, name: str) -> float:
        """The size of that name; KeyError when the part has none."""
        return dict(self.sizes)[name]
