"""Built forms unfolded to flat pieces: finished wet sizes and the wet thickness in, millimetres out, on the wall's middle."""

from __future__ import annotations

from math import pi

from lessonkit.geometry.faults import GeometryError, need_sizes, number
from lessonkit.geometry.outlines import rectangle
from lessonkit.geometry.shape import Shape


def cylinder_wrap(
    *, outside_mm: float | None = None, inside_mm: float | None = None, tall_mm: float, thickness_mm: float
) -> Shape:
    """The flat strip of a round wall, butt joined: as long as the circle along the wall's middle, pi x (outside - thickness).

    Exactly one diameter is given, of the wet pot; both or none, or a wall with no hollow inside, raise GeometryError.
    Source: the mean-diameter rule of sheet metal work (from memory); see the tests for worked examples.
    """
    if (outside_mm is None) == (inside_mm is None):
        raise GeometryError("a round wall is measured outside or inside.", "Give one of the two.")
    need_sizes(tall_mm=tall_mm, thickness_mm=thickness_mm)
    if outside_mm is not None:
        need_sizes(width_outside=outside_mm)
        middle = outside_mm - thickness_mm
    else:
        assert inside_mm is not None
        need_sizes(width_inside=inside_mm)
        middle = inside_mm + thickness_mm
    if middle <= thickness_mm:
        raise GeometryError(
            f"a wall {number(thickness_mm)} mm thick leaves no room inside a pot {number(middle + thickness_mm)} mm across.",
            "Make the pot wider or the slab thinner.",
        )
    return rectangle(pi * middle, tall_mm)
