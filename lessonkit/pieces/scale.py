"""From sizes in the file to sizes as cut."""

from __future__ import annotations

from typing import NamedTuple

from lessonkit.clay.shrinkage import cut_mm, fired_mm
from lessonkit.geometry.shape import Point
from lessonkit.pieces.model import Measure
from lessonkit.units import Length


class Scale(NamedTuple):
    """`written_as` says whether the file gives fired or wet sizes.

    `lost` is the part of the wet length that is gone when the piece is cut (0 for soft clay): a leather-hard slab is cut
    smaller than a soft one, by fired x (1 - lost) / (1 - shrinkage).
    """

    shrinkage: float
    written_as: str = "fired"
    lost: float = 0.0
    least: float | None = None
    most: float | None = None

    def from_fired(self, mm: float) -> float:
        return cut_mm(mm, self.shrinkage) * (1 - self.lost)

    def to_fired(self, cut: float, shrinkage: float | None = None) -> float:
        return fired_mm(cut / (1 - self.lost), self.shrinkage if shrinkage is None else shrinkage)

    def cut(self, length: Length) -> float:
        return length.mm if self.written_as == "wet" else self.from_fired(length.mm)

    def cut_or(self, length: Length | None, otherwise: float = 0.0) -> float:
        return self.cut(length) if length else otherwise

    def place(self, at: tuple[Length, Length]) -> Point:
        return self.cut(at[0]), self.cut(at[1])

    def measure(self, key: str, words: str, cut: float) -> Measure:
        """What is cut this long, with what it fires to and how far that may stray."""
        off = 0.0
        if self.least is not None and self.most is not None:
            off = (self.to_fired(cut, self.least) - self.to_fired(cut, self.most)) / 2
        return Measure(key, words, self.to_fired(cut), cut, off)
