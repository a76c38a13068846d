"""Pyrometric cones in order of heat."""

from __future__ import annotations

CONES = (
    *(f"0{n}" for n in range(22, 5, -1)), "05½", "05", "04", "03", "02", "01", "1", "2", "3", "4", "5", "5½", "6", "7", "8", "9", "10",
)  # fmt: skip
COOLEST_BISQUE = "010"


def cone_named(text: str) -> str:
    """The cone that `text` means (`cone 04`, `^6`, `05 1/2`); raises ValueError for what is none.

    04 and 4 are different cones, about 100 °C apart, so the leading zero is kept.
    """
    word = text.strip().casefold().removeprefix("cone").strip().lstrip("^").replace(" 1/2", "½").replace("1/2", "½")
    if word not in CONES:
        raise ValueError(f"“{text[:40]}” is not a cone from 022 to 10")
    return word


def hotter(cone: str, other: str) -> bool:
    """Whether `cone` ends hotter than `other`; ValueError for what is no cone."""
    return CONES.index(cone_named(cone)) > CONES.index(cone_named(other))
