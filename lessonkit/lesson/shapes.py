"""Outlines and openings as a lesson names them: one word, then its sizes."""

from __future__ import annotations

from typing import Annotated, Any, Literal, Self

from pydantic import BeforeValidator, Field, model_validator

from lessonkit.lesson.fields import Angle, Length, Name, Offset, Record, Whole, one_of, wrong


Strings = Annotated[tuple[Name, ...], BeforeValidator(lambda value: [value] if isinstance(value, str) else value)]


class Circle(Record):
    across: Length


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


class Outline(Record):
    """Exactly one of the shapes. All are placed by their middle."""

    circle: Circle | None = None
    ellipse: Ellipse | None = None
    rectangle: Rectangle | None = None
    polygon: Polygon | None = None
    heart: Heart | None = None
    arch: Arch | None = None

    @model_validator(mode="after")
    def _one_shape(self) -> Self:
        given = self.given()
        if len(given) != 1:
            raise wrong(f"expected one shape, found {', '.join(given) or 'none'}.", f"Write one of: {', '.join(SHAPES)}.")
        return self

    def given(self) -> list[str]:
        return [name for name in SHAPES if getattr(self, name) is not None]


SHAPES = tuple(Outline.model_fields)


class Opening(Outline):
    """A shape cut out of the clay, by its size or by the photo that it shows.

    `shows: 4 x 6 in photo` with `lip` is a rectangle that overlaps the photo by the lip on every side after firing.
    """

    shows: Name | None = None
    lip: Length | None = None
    corner: Length | None = None  # radius of the corners of a photo's opening
    at: Annotated[tuple[Offset, Offset] | None, Field(description="its middle, from the piece's middle; y upwards")] = None
    turn: Angle = 0.0

    @model_validator(mode="after")
    def _one_shape(self) -> Self:
        given = self.given() + (["shows"] if self.shows else [])
        if len(given) != 1:
            raise wrong(f"expected one opening, found {', '.join(given) or 'none'}.", f"Write one of: {', '.join(SHAPES)}, shows.")
        if self.shows and self.lip is None:
            raise wrong("an opening that shows a photo needs its lip.", "Add lip: 6 mm, how far the clay covers the photo on each side.")
        if (self.lip or self.corner) and not self.shows:
            raise wrong("lip and corner go with shows.", "Leave them out, or name the photo: shows: 4 x 6 in photo.")
        return self


class Ring(Record):
    """The same thing several times around the middle."""

    count: Whole
    across: Length  # of the circle on which they stand
    first: Angle = 0.0  # degrees clockwise from the top


class Join(Outline):
    """A place where something is joined on: hatched on the stencil, never cut."""

    name: Name
    at: tuple[Offset, Offset] | None = None
    turn: Angle = 0.0
    ring: Ring | None = None  # each is turned to face the middle
    levels: Strings = ()  # left out: all


class Press(Record):
    """A line to press, never cut, that runs inside the outline."""

    inset: Length


class Hang(Record):
    """Holes for hanging, on the balance line, `from_edge` below the top edge; two of them `apart`."""

    holes: Literal[1, 2] = Field(default=1)
    across: Length
    from_edge: Length | None = None
    apart: Length | None = None

    @model_validator(mode="before")
    @classmethod
    def _holes(cls, data: Any) -> Any:
        if isinstance(data, dict) and isinstance(data.get("holes"), str):
            if data["holes"].strip() not in ("1", "2"):
                raise wrong(f"expected 1 or 2 holes, found “{data['holes']}”.", "Write 1 or 2.")
            return {**data, "holes": int(data["holes"])}
        return data

    @model_validator(mode="after")
    def _two_apart(self) -> Self:
        if (self.holes == 2) != (self.apart is not None):
            raise wrong("apart goes with two holes.", "Write holes: 2 and apart: 80 mm, or one hole without apart.")
        return self


class Flat(Record):
    """A piece cut from the slab and left flat."""

    outline: Outline
    openings: tuple[Opening, ...] = ()
    joins: tuple[Join, ...] = ()
    press: tuple[Press, ...] = ()


class Cylinder(Record):
    """A wall wrapped round on its base, by the finished pot's sizes.

    `base: under` (the wall stands on the base) or `inside` (the wall goes round it); `joint: butt` or `lapped`.
    """

    across: Length
    tall: Length
    measured: Annotated[Literal["outside", "inside"], one_of("outside", "inside")]
    base: Annotated[Literal["under", "inside"], one_of("under", "inside")] = "under"
    joint: Annotated[Literal["butt", "lapped"], one_of("butt", "lapped")] = "butt"
