"""Outlines and openings as a lesson names them: one word, then its sizes."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated, Any, Literal, Self

from pydantic import AfterValidator, BeforeValidator, Field, model_validator

from lessonkit.lesson.fields import Angle, Flag, LateModule, Length, Name, Offset, Record, Whole, described, one_of, wrong

if TYPE_CHECKING:
    from lessonkit.lesson import outlines
else:
    outlines = LateModule("lessonkit.lesson.outlines")  # most are circles

Strings = Annotated[tuple[Name, ...], BeforeValidator(lambda value: [value] if isinstance(value, str) else value)]
Place = tuple[Offset, Offset]
MOST_COPIES = 200


def _copies(count: int) -> int:
    if not 1 <= count <= MOST_COPIES:
        raise wrong(f"expected 1 to {MOST_COPIES} copies, found {count}.", f"Write a number from 1 to {MOST_COPIES}.")
    return count


Copies = Annotated[Whole, AfterValidator(_copies)]


class Circle(Record):
    across: Length


class Ring(Record):
    """The same thing several times around the middle."""

    count: Copies
    across: Length  # of the circle on which they stand
    first: Angle = 0.0  # degrees clockwise from the top


class Row(Record):
    """The same thing several times along a line."""

    count: Copies
    start: Place
    end: Place


class Outline(Record):
    """Exactly one of the shapes, placed by its middle; or several joined; less what is cut away; with its corners rounded."""

    circle: Circle | None = None
    ellipse: outlines.Ellipse | None = None
    rectangle: outlines.Rectangle | None = None
    polygon: outlines.Polygon | None = None
    heart: outlines.Heart | None = None
    arch: outlines.Arch | None = None
    egg: outlines.Egg | None = None
    teardrop: outlines.Teardrop | None = None
    leaf: outlines.Leaf | None = None
    petals: outlines.Petals | None = None
    scallops: outlines.Scallops | None = None
    star: outlines.Star | None = None
    shield: outlines.Shield | None = None
    crescent: outlines.Crescent | None = None
    gable: outlines.Gable | None = None
    waves: outlines.Waves | None = None
    points: tuple[Place, ...] | None = None
    svg: outlines.Silhouette | None = None
    joined: tuple[Placed, ...] | None = None
    cut_away: tuple[Placed, ...] = ()
    rounded: outlines.Rounding | None = None

    @model_validator(mode="after")
    def _one_shape(self) -> Self:
        given = self.given()
        if len(given) != 1:
            raise wrong(f"expected one shape, found {', '.join(given) or 'none'}.", f"Write one of: {', '.join(SHAPES)}.")
        return self

    def given(self) -> list[str]:
        return [name for name in SHAPES if getattr(self, name) is not None]


class Placed(Outline):
    """A shape moved, turned (degrees, counter-clockwise) or mirrored, once or several times around a ring or along a row."""

    at: Place | None = None
    turn: Angle = 0.0
    mirror: Flag = False
    ring: Ring | None = None
    row: Row | None = None

    @model_validator(mode="after")
    def _one_way(self) -> Self:
        if sum(way is not None for way in (self.at, self.ring, self.row)) > 1:
            raise wrong("a shape is placed in one way: at, ring or row.", "Leave out the others.")
        return self

    @property
    def copies(self) -> int:
        repeat = self.ring or self.row
        return repeat.count if repeat else 1


Outline.model_rebuild()  # now that Placed is known
SHAPES = tuple(name for name in Outline.model_fields if name not in ("cut_away", "rounded"))


class Opening(Placed):
    """A shape cut out of the clay, by its size or by what goes in it. What goes in does not shrink; the opening does.

    `shows: 4 x 6 in photo` with `lip` is a rectangle that overlaps the photo by the lip on every side after firing.
    `holds: tealight` (or `38 mm round`, `86 x 86 mm`) with `clearance` is that much wider all round than the thing.
    """

    shows: Name | None = None
    lip: Length | None = None
    holds: Name | None = None
    clearance: Length | None = None
    corner: Length | None = None  # radius of the corners of a photo's opening

    @model_validator(mode="after")
    def _one_shape(self) -> Self:
        given = self.given() + [word for word in ("shows", "holds") if getattr(self, word)]
        if len(given) != 1:
            raise wrong(f"expected one opening, found {', '.join(given) or 'none'}.", f"Write one of: {', '.join(SHAPES)}, shows, holds.")
        if self.shows and self.lip is None:
            raise wrong("an opening that shows a photo needs its lip.", "Add lip: 6 mm, how far the clay covers the photo on each side.")
        if self.holds and self.clearance is None:
            raise wrong("an opening that holds something needs its clearance.", "Add clearance: 1 mm, the room around the thing after firing.")
        if (self.lip and not self.shows) or (self.clearance and not self.holds) or (self.corner and not (self.shows or self.holds)):
            raise wrong("lip goes with shows, clearance with holds, corner with either.", "Leave out what does not belong.")
        return self


class Join(Placed):
    """A place where something is joined on: hatched on the stencil, never cut. On a ring each faces the middle."""

    name: Name
    levels: Strings = ()  # left out: all


class Press(Record):
    """A line to press, never cut, that runs inside the outline."""

    inset: Length


class Hang(Record):
    """Holes for hanging, on the balance line, `from_edge` below the top edge; two of them `apart`. Or one `at` a place of hers."""

    holes: Literal[1, 2] = Field(default=1)
    across: Length
    from_edge: Length | None = None
    apart: Length | None = None
    at: Place | None = None

    @model_validator(mode="before")
    @classmethod
    def _holes(cls, data: Any) -> Any:
        if isinstance(data, dict) and isinstance(data.get("holes"), str):
            if data["holes"].strip() not in ("1", "2"):
                raise wrong(f"expected 1 or 2 holes, found {described(data['holes'])}.", "Write 1 or 2.")
            return {**data, "holes": int(data["holes"])}
        return data

    @model_validator(mode="after")
    def _places(self) -> Self:
        if (self.holes == 2) != (self.apart is not None):
            raise wrong("apart goes with two holes.", "Write holes: 2 and apart: 80 mm, or one hole without apart.")
        if self.at and (self.holes == 2 or self.from_edge):
            raise wrong("at places one hole by hand.", "Leave out apart and from_edge, or leave out at.")
        return self


class Flat(Record):
    """A piece cut from the slab and left flat."""

    outline: Outline
    openings: tuple[Opening, ...] = ()
    joins: tuple[Join, ...] = ()
    press: tuple[Press, ...] = ()
    fold: Flag = False  # draw half the stencil, for card folded in two
    window: outlines.Bridges | None = None  # draw the stencil as a window in the sheet, its islands held by bridges
    sides: Annotated[Literal["one", "both"], one_of("one", "both")] = "one"  # both: it is also cut flipped over
