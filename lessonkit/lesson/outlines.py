"""Outlines that most lessons do without, and what is done to one: loaded when a file has one."""

from __future__ import annotations

from typing import Self

from pydantic import model_validator

from lessonkit.lesson.fields import FileName, Flag, Length, Record, Whole, wrong


class Ellipse(Record):
    wide: Length
    tall: Length


class Rectangle(Record):
    wide: Length
    tall: Length
    corner: Length | None = None  # radius of the four corners


class Polygon(Record):
    sides: Whole
    across: Length | None = None  # through the corners
    flats: Length | None = None  # between opposite sides (even numbers of sides)

    @model_validator(mode="after")
    def _one_size(self) -> Self:
        if (self.across is None) == (self.flats is None):
            raise wrong("a polygon needs one size: across (through the corners) or flats (between sides).", "Write one of the two.")
        return self


class Heart(Record):
    wide: Length
    tall: Length | None = None  # left out: the curve's own height, 0.904 of its width


class Arch(Record):
    wide: Length
    tall: Length


class Egg(Record):
    wide: Length
    tall: Length


class Teardrop(Record):
    wide: Length
    tall: Length


class Leaf(Record):
    wide: Length
    tall: Length


class Petals(Record):
    count: Whole
    across: Length
    depth: Length


class Scallops(Record):
    count: Whole
    across: Length
    depth: Length | None = None  # left out: each a half circle


class Star(Record):
    points: Whole
    across: Length  # through the tips
    depth: Length  # from the tips in to the inner corners


class Shield(Record):
    wide: Length
    tall: Length
    shoulder: Length | None = None  # how far down the sides are straight


class Crescent(Record):
    across: Length
    thick: Length


class Gable(Record):
    wide: Length
    tall: Length
    eaves: Length | None = None  # the height of the walls


class Waves(Record):
    wide: Length
    tall: Length
    count: Whole
    depth: Length
    both: Flag = False  # a wave along the foot too


class Silhouette(Record):
    """A shape from an SVG file in the lesson's folder, made this wide (or this tall)."""

    file: FileName
    wide: Length | None = None
    tall: Length | None = None

    @model_validator(mode="after")
    def _one_size(self) -> Self:
        if (self.wide is None) == (self.tall is None):
            raise wrong("a silhouette needs one size: wide or tall.", "Write one of the two; the other follows.")
        return self


class Rounding(Record):
    """Corners made round: those of the clay, and those that cut into it."""

    outside: Length | None = None
    inside: Length | None = None


class Bridges(Record):
    """Strips that keep an opening's middle in a stencil that is cut as a window."""

    count: Whole
    wide: Length
