"""Outlines and openings as a lesson names them: one word, then its sizes."""

from __future__ import annotations

from typing import Annotated, Any, Literal, Self

from pydantic import AfterValidator, BeforeValidator, Field, model_validator

from lessonkit.lesson.fields import Angle, FileName, Flag, Length, Name, Offset, Record, Whole, described, one_of, wrong

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


class Rounding(Record):
    """Corners made round: those of the clay, and those that cut into it."""

    outside: Length | None = None
    inside: Length | None = None


class Outline(Record):
    """Exactly one of the shapes, placed by its middle; or several joined; less what is cut away; with its corners rounded."""

    circle: Circle | None = None
    ellipse: Ellipse | None = None
    rectangle: Rectangle | None = None
    polygon: Polygon | None = None
    heart: Heart | None = None
    arch: Arch | None = None
    egg: Egg | None = None
    teardrop: Teardrop | None = None
    leaf: Leaf | None = None
    petals: Petals | None = None
    scallops: Scallops | None = None
    star: Star | None = None
    shield: Shield | None = None
    crescent: Crescent | None = None
    gable: Gable | None = None
    waves: Waves | None = None
    points: tuple[Place, ...] | None = None
    svg: Silhouette | None = None
    joined: tuple[Placed, ...] | None = None
    cut_away: tuple[Placed, ...] = ()
    rounded: Rounding | None = None

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


class Bridges(Record):
    """Strips that keep an opening's middle in a stencil that is cut as a window."""

    count: Whole
    wide: Length


class Flat(Record):
    """A piece cut from the slab and left flat."""

    outline: Outline
    openings: tuple[Opening, ...] = ()
    joins: tuple[Join, ...] = ()
    press: tuple[Press, ...] = ()
    fold: Flag = False  # draw half the stencil, for card folded in two
    window: Bridges | None = None  # draw the stencil as a window in the sheet, its islands held by bridges
    sides: Annotated[Literal["one", "both"], one_of("one", "both")] = "one"  # both: it is also cut flipped over
