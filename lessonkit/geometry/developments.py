"""Round walls unfolded: cylinder, oval cylinder, cone. Wet sizes and wet thickness in, flat pieces out, millimetres.

A wall is as long as the line along its middle, half a thickness in from the outside (the mean-diameter rule of sheet metal
work, from memory). The thickness is measured level, so that outside and inside of a leaning wall differ by two of it.
"""

from __future__ import annotations

from math import atan2, ceil, cos, degrees, hypot, inf, pi, sin, sqrt
from typing import NamedTuple

from lessonkit.geometry.curves import TOLERANCE_MM, ellipse_perimeter
from lessonkit.geometry.faults import LARGEST_MM, GeometryError, need_length, need_sizes, number
from lessonkit.geometry.flat_part import Base, Edge, Face, FlatPart, Joint, Mark, Measured
from lessonkit.geometry.outlines import circle, ellipse, rectangle
from lessonkit.geometry.shape import Line, Point, Shape, bounds, is_valid, moved

_TICK_MM = 8.0
LEAST_BEVEL_DEG = 0.05  # a paper would say 0°, and no hand cuts less


def cylinder_wrap(
    *, outside_mm: float | None = None, inside_mm: float | None = None, tall_mm: float, thickness_mm: float
) -> Shape:
    """The flat strip of a round wall, butt joined: as long as the circle along the wall's middle, pi x (outside - thickness).

    Exactly one diameter is given, of the wet pot; both or none, or a wall with no hollow inside, raise GeometryError.
    """
    if (outside_mm is None) == (inside_mm is None):
        raise GeometryError("a round wall is measured outside or inside.", "Give one of the two.")
    given, measured = (outside_mm, "outside") if outside_mm is not None else (inside_mm, "inside")
    outside = _outside(given or 0.0, measured, thickness_mm)
    need_sizes(tall_mm=tall_mm)
    return rectangle(pi * (outside - thickness_mm), tall_mm)


def cylinder(
    *,
    across_mm: float,
    tall_mm: float,
    thickness_mm: float,
    measured: Measured = "outside",
    base: Base = "under",
    joint: Joint = "butt",
) -> tuple[FlatPart, ...]:
    """A round pot: its wall and, unless `base` is none, its base; the wall stands on it (`under`) or goes round it (`inside`).

    A lapped wall is one thickness longer and has one end bevelled inside, the other outside (common practice, no source).
    """
    outside = _outside(across_mm, measured, thickness_mm)
    high = _wall_height(tall_mm, thickness_mm, base)
    wall = _strip(pi * (outside - thickness_mm), high, thickness_mm, joint, base)
    if base == "none":
        return (wall,)
    across = outside if base == "under" else outside - 2 * thickness_mm
    foot = outside - thickness_mm if base == "under" else across
    return wall, _base(circle(across), circle(foot), (("across", across),))


def oval_cylinder(
    *,
    wide_mm: float,
    deep_mm: float,
    tall_mm: float,
    thickness_mm: float,
    measured: Measured = "outside",
    base: Base = "under",
    joint: Joint = "butt",
) -> tuple[FlatPart, ...]:
    """An oval pot; its wall's middle is the ellipse one thickness less wide and deep than the outside.

    (A wall of the very same thickness all round would be shorter, by 0.2 % if twice as wide as deep: less than clay gives.)
    """
    wide, deep = (_outside(mm, measured, thickness_mm) for mm in (wide_mm, deep_mm))
    high = _wall_height(tall_mm, thickness_mm, base)
    wall = _strip(ellipse_perimeter(wide - thickness_mm, deep - thickness_mm), high, thickness_mm, joint, base)
    if base == "none":
        return (wall,)
    less = 0.0 if base == "under" else 2 * thickness_mm
    foot = ellipse(wide - max(less, thickness_mm), deep - max(less, thickness_mm))
    return wall, _base(ellipse(wide - less, deep - less), foot, (("wide", wide - less), ("tall", deep - less)))


def _outside(across_mm: float, measured: str, thickness_mm: float) -> float:
    """The outside diameter; GeometryError when the wall leaves no room inside."""
    need_sizes(**{f"width_{measured}": across_mm, "thickness_mm": thickness_mm})
    outside = across_mm if measured == "outside" else across_mm + 2 * thickness_mm
    if outside <= 2 * thickness_mm:
        raise GeometryError(
            f"a wall {number(thickness_mm)} mm thick leaves no room inside a pot {number(outside)} mm across.",
            "Make the pot wider or the slab thinner.",
        )
    return outside


def _wall_height(tall_mm: float, thickness_mm: float, base: Base) -> float:
    need_sizes(tall_mm=tall_mm)
    if base == "under" and tall_mm <= thickness_mm:
        raise GeometryError(
            f"a pot {number(tall_mm)} mm tall has no wall above a base {number(thickness_mm)} mm thick.", "Make it taller."
        )
    return tall_mm - thickness_mm if base == "under" else tall_mm


def _seam(left: Line, right: Line, thickness_mm: float, joint: Joint) -> tuple[Edge, Edge]:
    """The two ends of a wall, which meet each other."""
    if joint == "butt":
        return Edge("A", left), Edge("A", right)
    return Edge("A", left, 45.0, "inside", thickness_mm), Edge("A", right, 45.0, "outside", thickness_mm)


_STANDS: dict[Base, str] = {"under": "The wall stands on the base.", "inside": "The wall goes round the base.", "none": ""}


def _notes(joint: Joint, base: Base) -> tuple[str, ...]:
    lapped = ("One thickness longer, for the lapped joint.",) if joint == "lapped" else ()
    return (*lapped, *((_STANDS[base],) if base != "none" else ()))


def _strip(around: float, high: float, thickness_mm: float, joint: Joint, base: Base) -> FlatPart:
    long = around + (thickness_mm if joint == "lapped" else 0.0)
    shape = rectangle(long, high)
    left, bottom, right, top = bounds(shape)
    ends = _seam(((left, bottom), (left, top)), ((right, bottom), (right, top)), thickness_mm, joint)
    foot = (Edge("B", ((-around / 2, bottom), (around / 2, bottom))),) if base != "none" else ()
    tick = min(_TICK_MM, high / 4)
    quarters = tuple(Mark("quarter", ((x, bottom), (x, bottom + tick))) for x in (-around / 4, 0.0, around / 4))
    sizes = (("long", long), ("tall", high))
    return FlatPart("wall", shape, (*ends, *foot), quarters, sizes, notes=_notes(joint, base))


def _base(shape: Shape, foot: Shape, sizes: tuple[tuple[str, float], ...], bevel_deg: float = 0.0, face: Face = "") -> FlatPart:
    """A base with the line on which the wall's middle stands (or its own rim), and marks a quarter of the way round apart."""
    _, _, right, top = bounds(shape)
    tick = min(_TICK_MM, right / 4, top / 4)
    ends = (((right, 0.0), (right - tick, 0.0)), ((0.0, top), (0.0, top - tick)))
    quarters = tuple(Mark("quarter", tuple((k * x, k * y) for x, y in line)) for line in ends for k in (1, -1))
    line = (*foot.outline, foot.outline[0])
    return FlatPart("base", shape, (Edge("B", line, bevel_deg, face),), quarters, sizes)


# --- cones ---


class ConeSector(NamedTuple):
    """A cone's wall laid flat: a piece of a ring. A cone of equal ends is a rectangle: radii infinite, angle 0."""

    outer_mm: float
    inner_mm: float
    angle_deg: float
    slant_mm: float


def cone_sector(*, bottom_mm: float, top_mm: float, tall_mm: float, thickness_mm: float = 0.0) -> ConeSector:
    """Radii and angle of a cone's wall from its outside diameters, either way up.

    With r the radii of the wall's middle: slant s = sqrt(tall² + (r2 - r1)²), outer radius r2 s / (r2 - r1), inner one less s,
    angle 360° (r2 - r1) / s. Source: sheet metal drafting (Longfield, p. 128); see the tests. A thickness of 0 is allowed.
    """
    small, large = sorted(_middle(mm, thickness_mm) for mm in (bottom_mm, top_mm))
    need_sizes(tall_mm=tall_mm)
    slant = hypot(tall_mm, large - small)
    if large - small < 1e-9 * slant:
        return ConeSector(inf, inf, 0.0, slant)
    outer = large * slant / (large - small)
    return ConeSector(outer, small * slant / (large - small), 360 * (large - small) / slant, slant)


def _middle(across_mm: float, thickness_mm: float) -> float:
    """The radius of a wall's middle."""
    need_sizes(width_mm=across_mm)
    need_length("thickness", thickness_mm)
    if across_mm <= 2 * thickness_mm:
        raise GeometryError(
            f"a wall {number(thickness_mm)} mm thick leaves no room inside an end {number(across_mm)} mm across.",
            "Make that end wider or the slab thinner.",
        )
    return (across_mm - thickness_mm) / 2


def cone(
    *,
    bottom_mm: float,
    top_mm: float,
    tall_mm: float,
    thickness_mm: float,
    measured: Measured = "outside",
    base: Base = "under",
    joint: Joint = "butt",
) -> tuple[FlatPart, ...]:
    """A pot wider at one end: its wall, drawn with the pot's foot below, and, unless `base` is none, its base.

    A base under the wall carries the outside's slope on through its edge, so the wall starts where the base ends; a base inside
    fits between the walls. Either is drawn at its larger face, with the bevel that its slope needs. Nearly equal ends are safe.
    """
    need_length("thickness", thickness_mm)
    if measured == "inside":
        need_sizes(bottom_mm=bottom_mm, top_mm=top_mm)
        bottom_mm, top_mm = bottom_mm + 2 * thickness_mm, top_mm + 2 * thickness_mm
    high = _wall_height(tall_mm, thickness_mm, base)
    at_base = bottom_mm + (top_mm - bottom_mm) * thickness_mm / tall_mm  # outside, one thickness up
    foot_mm = at_base if base == "under" else bottom_mm
    sector = cone_sector(bottom_mm=foot_mm, top_mm=top_mm, tall_mm=high, thickness_mm=thickness_mm)
    wall = _cone_wall(2 * _middle(foot_mm, thickness_mm), 2 * _middle(top_mm, thickness_mm), sector, thickness_mm, joint, base)
    if base == "none":
        return (wall,)
    lean = degrees(atan2(top_mm - bottom_mm, 2 * tall_mm))
    lean = lean if abs(lean) >= LEAST_BEVEL_DEG else 0.0
    across = max(bottom_mm, at_base) - (0.0 if base == "under" else 2 * thickness_mm)
    face: Face = "" if lean == 0 else "outside" if lean > 0 else "inside"
    rim = circle(at_base - thickness_mm if base == "under" else across)
    return wall, _base(circle(across), rim, (("across", across),), abs(lean), face)


def _cone_wall(bottom: float, top: float, sector: ConeSector, thickness_mm: float, joint: Joint, base: Base) -> FlatPart:
    """The wall from its middle diameters, foot below.

    With u from -1 to 1 along the foot, the way to the tip turns by a = u x angle/2. The foot's point is that of an arc of
    length pi x bottom, and the rim's lies one slant from it, towards the tip. The arc is written with sin a / a, not with its
    radius, so that equal ends, whose radius is infinite, need no case of their own.
    """
    half = pi * (bottom - top) / 2 / sector.slant_mm  # half the layout's angle in radians, negative when the top is wider
    arc = pi * bottom / 2

    def foot_place(u: float) -> Point:
        a = u * half
        return arc * u * _sinc(a), arc * u * (a / 2) * _sinc(a / 2) ** 2

    def rim_place(u: float) -> Point:
        x, y = foot_place(u)
        return x - sector.slant_mm * sin(u * half), y + sector.slant_mm * cos(u * half)

    steps = 2 * ceil(sqrt(max(bottom, top) * pi * abs(half) / (16 * TOLERANCE_MM)) + 1) if half else 1
    us = {2 * i / steps - 1 for i in range(steps + 1)}
    us |= {k * pi / 2 / abs(half) for k in (-1, 1) if abs(half) > pi / 2}  # where a wide layout is widest
    foot = tuple(foot_place(u) for u in sorted(us))
    rim = tuple(rim_place(u) for u in sorted(us))
    lap = thickness_mm / 2 if joint == "lapped" else 0.0
    c, s = lap * cos(half), lap * sin(half)
    left = ((foot[0][0] - c, foot[0][1] + s), (rim[0][0] - c, rim[0][1] + s))
    right = ((foot[-1][0] + c, foot[-1][1] + s), (rim[-1][0] + c, rim[-1][1] + s))
    ring = (left[0], *foot, right[0], right[1], *rim[::-1], left[1]) if lap else (*foot, *rim[::-1])
    edges = (*_seam(left, right, thickness_mm, joint), *((Edge("B", foot),) if base != "none" else ()))
    tick = min(_TICK_MM, sector.slant_mm / 4) / sector.slant_mm
    ends = [(foot_place(u), rim_place(u)) for u in (-0.5, 0.0, 0.5)]
    quarters = tuple(Mark("quarter", ((ax, ay), (ax + (bx - ax) * tick, ay + (by - ay) * tick))) for (ax, ay), (bx, by) in ends)
    sizes: tuple[tuple[str, float], ...] = (("outer", sector.outer_mm), ("inner", sector.inner_mm), ("angle_deg", sector.angle_deg))
    if sector.outer_mm > LARGEST_MM:  # nobody sets out an arc of such a radius: a strip, as good as straight
        xs = [x for x, _ in ring]
        sizes = (("long", max(xs) - min(xs)),)
    sizes += (("slant", sector.slant_mm),)
    return _centred_part(FlatPart("wall", Shape(ring), edges, quarters, sizes, notes=_notes(joint, base)))


def _sinc(a: float) -> float:
    return sin(a) / a if abs(a) > 1e-9 else 1.0


def _centred_part(part: FlatPart) -> FlatPart:
    """The part moved so that its bounding box's middle is the origin. GeometryError when it overlaps itself."""
    if not is_valid(part.shape):
        raise GeometryError(
            "this wall is so flat that its pattern runs into itself.", "Make it taller, or cut it as a flat ring of clay."
        )
    left, bottom, right, top = bounds(part.shape)
    dx, dy = -(left + right) / 2, -(bottom + top) / 2

    def shifted(line: Line) -> Line:
        return tuple((x + dx, y + dy) for x, y in line)

    edges = tuple(Edge(e.letter, shifted(e.line), e.bevel_deg, e.face, e.lap_mm) for e in part.edges)
    marks = tuple(Mark(m.kind, shifted(m.line), m.closed) for m in part.marks)
    return FlatPart(part.name, moved(part.shape, dx, dy), edges, marks, part.sizes, part.count, part.notes)
