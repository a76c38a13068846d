"""Built forms by the finished, fired thing's sizes. Each says whether it is `measured` outside or inside."""

from __future__ import annotations

from typing import Annotated, Literal, Self

from pydantic import model_validator

from lessonkit.lesson.fields import Angle, Flag, Length, Record, Weight, Whole, one_of, wrong

Measured = Annotated[Literal["outside", "inside"], one_of("outside", "inside")]
Outside = Annotated[Literal["outside"], one_of("outside")]
Base = Annotated[Literal["under", "inside", "none"], one_of("under", "inside", "none")]
Joint = Annotated[Literal["butt", "lapped"], one_of("butt", "lapped")]
Corner = Annotated[Literal["mitred", "butt"], one_of("mitred", "butt")]


class Cylinder(Record):
    """A wall wrapped round: it stands on the base (`under`), goes round it (`inside`), or has none."""

    across: Length
    tall: Length
    measured: Measured
    base: Base = "under"
    joint: Joint = "butt"


class Oval(Record):
    """An oval wall on its base."""

    wide: Length
    deep: Length
    tall: Length
    measured: Measured
    base: Base = "under"
    joint: Joint = "butt"


class Cone(Record):
    """A wall that is wider at one end, either way up."""

    bottom: Length
    top: Length
    tall: Length
    measured: Measured
    base: Base = "under"
    joint: Joint = "butt"


class Dish(Record):
    """One round slab with a flat bottom and a sloped rim."""

    bottom: Length
    rim: Length
    tall: Length
    measured: Outside


class Bowl(Record):
    """One round slab slumped into, or draped over, a round form."""

    rim: Length
    tall: Length
    measured: Outside
    method: Annotated[Literal["slumped", "draped"], one_of("slumped", "draped")] = "slumped"


class Box(Record):
    """Four walls and a base; with a lid if it says so, whose flange leaves a `gap` all round after firing."""

    wide: Length
    deep: Length
    tall: Length
    measured: Measured
    corner: Corner = "mitred"
    base: Base = "under"
    lid: Flag = False
    gap: Length | None = None
    flange: Length | None = None

    @model_validator(mode="after")
    def _lid_has_a_gap(self) -> Self:
        if self.lid != (self.gap is not None):
            raise wrong("a lid needs its gap, and a gap its lid.", "Write lid: yes and gap: 1 mm, the room on each side after firing.")
        return self


class ManySided(Record):
    """A box of equal sides, upright or leaning outwards by `lean` degrees."""

    sides: Whole
    across: Length | None = None  # through the corners of the foot
    flats: Length | None = None  # between opposite sides of the foot
    tall: Length
    measured: Outside
    lean: Angle = 0.0
    base: Annotated[Literal["under", "none"], one_of("under", "none")] = "under"

    @model_validator(mode="after")
    def _one_size(self) -> Self:
        if (self.across is None) == (self.flats is None):
            raise wrong("a many-sided box needs one size: across (through the corners) or flats (between sides).", "Write one of the two.")
        return self


class Hut(Record):
    """A box as high as its eaves, with a pitched roof for a lid."""

    wide: Length
    deep: Length
    tall: Length
    eaves: Length
    measured: Outside
    corner: Corner = "mitred"
    overhang: Length | None = None
    gap: Length
    flange: Length | None = None


class Pocket(Record):
    """A wall pocket: a flat back and a pouch that bulges `deep` from it."""

    wide: Length
    tall: Length
    deep: Length
    pouch: Length | None = None  # the pouch's height, if lower than the back
    measured: Outside


class Tray(Record):
    """One slab whose two ends are bent up."""

    long: Length
    wide: Length
    tall: Length
    bottom: Length  # the flat part
    corner: Length | None = None
    measured: Outside


class Width(Record):
    """How wide a coiled pot is at a height from its foot."""

    height: Length | None = None  # left out: at the foot
    across: Length


class CoilPot(Record):
    """Coils on a slab base. `profile` lists widths from the foot up; left out, the pot is straight."""

    across: Length
    tall: Length
    coil: Length  # how thick the coils are, wet
    rise: Length | None = None  # what a row adds when pressed, wet; left out: 0.8 of the coil
    profile: tuple[Width, ...] = ()
    measured: Outside

    @model_validator(mode="after")
    def _one_story(self) -> Self:
        if not self.profile:
            return self
        widest, top = max(self.profile, key=lambda place: place.across.mm).across, self.profile[-1].height
        if abs(widest.mm - self.across.mm) > 0.01:
            raise wrong(f"the pot is {self.across.text} across, but its profile is {widest.text} at its widest.", "Correct one of the two.")
        if top is None or abs(top.mm - self.tall.mm) > 0.01:
            ends = f"ends at {top.text}" if top else "has no height at its end"
            raise wrong(f"the pot is {self.tall.text} tall, but its profile {ends}.", "Correct one of the two.")
        return self


class Pinch(Record):
    """A pinched pot, or a closed form from two halves: the wet ball, and the width and height it comes out at."""

    across: Length
    tall: Length
    ball: Weight
    balls: Whole = 1
    closed: Flag = False
    vent: Length | None = None  # the hole that lets air out of a closed form
    measured: Outside
