"""Open forms from one slab: dish, bowl, tray; and the wall pocket. Wet outside sizes and wet thickness, millimetres.

A slab that is pressed or slumped into shape keeps its area along its middle, near enough: clay follows within about 2 %.
The middle of a wall lies half a thickness in from the outside, measured level; that of a bottom half a thickness up.
"""

from __future__ import annotations

from math import atan2, degrees, hypot, sqrt

from lessonkit.geometry.curves import arc_points
from lessonkit.geometry.faults import GeometryError, need_length, need_sizes, number
from lessonkit.geometry.flat_part import Edge, FlatPart, Mark
from lessonkit.geometry.outlines import centred, circle, rectangle
from lessonkit.geometry.shape import Line, Shape, bounds


def dish(*, bottom_mm: float, rim_mm: float, tall_mm: float, thickness_mm: float) -> FlatPart:
    """The round blank of a dish with a flat bottom and a straight sloped rim (upright if rim and bottom are equal).

    Its area is that of the middle surface, D = sqrt(b² + 2 (b + r) s) with s the slope: for a plain cup Machinery's Handbook's
    sqrt(d² + 4dh). The pressed line shows where the bottom ends. Sizes: across, bottom, slope, and `pressed_over`, b + 2s, the
    width if the rim were bent up without pleats or stretch. A thickness of 0 takes the sizes as the middle's.
    """
    bottom, rise, run = _slope(bottom_mm, rim_mm, tall_mm, thickness_mm, "rim")
    slope = hypot(run, rise)
    across = sqrt(bottom * bottom + 2 * (2 * bottom + 2 * run) * slope)
    line = Mark("press", circle(bottom).outline, closed=True)
    sizes = (("across", across), ("bottom", bottom), ("slope", slope), ("pressed_over", bottom + 2 * slope))
    return FlatPart("blank", circle(across), (), (line,), sizes)


def _slope(bottom_mm: float, rim_mm: float, tall_mm: float, thickness_mm: float, what: str) -> tuple[float, float, float]:
    """Bottom width, rise and run of the middle line of a straight slope from a bottom to a rim, given over all."""
    need_sizes(bottom_mm=bottom_mm, **{f"{what}_mm": rim_mm}, tall_mm=tall_mm)
    need_length("thickness", thickness_mm)
    if rim_mm < bottom_mm:
        raise GeometryError(
            f"a bottom of {number(bottom_mm)} mm is wider than the {what} of {number(rim_mm)} mm.",
            "A slab can't be pressed into a form that closes in: make the bottom smaller.",
        )
    rise = tall_mm - thickness_mm / 2
    lean = (rim_mm - bottom_mm) / 2 / tall_mm  # outwards for each millimetre up
    bottom = bottom_mm - thickness_mm + lean * thickness_mm
    if rise <= 0 or bottom <= 0:
        raise GeometryError(
            f"a slab {number(thickness_mm)} mm thick is too thick for this form.", "Make it larger or the slab thinner."
        )
    return bottom, rise, lean * rise


def bowl(*, rim_mm: float, tall_mm: float, thickness_mm: float) -> FlatPart:
    """The round blank of a bowl that is part of a ball: blank radius = sqrt(a² + h²), rim radius a and depth h of its middle.

    Source: Atkins, Practical Sheet and Plate Metal Work, ch. XXVII. GeometryError when it is deeper than half a ball, which no
    slab reaches without folds. A thickness of 0 takes the sizes as the middle's.
    """
    need_sizes(rim_mm=rim_mm, tall_mm=tall_mm)
    need_length("thickness", thickness_mm)
    radius, depth = (rim_mm - thickness_mm) / 2, tall_mm - thickness_mm / 2
    if radius <= 0 or depth <= 0:
        raise GeometryError(
            f"a slab {number(thickness_mm)} mm thick is too thick for this bowl.", "Make it larger or the slab thinner."
        )
    if depth > radius + 1e-9:
        raise GeometryError(
            f"a bowl {number(rim_mm)} mm across can't be slumped {number(tall_mm)} mm deep: that is more than half a ball.",
            "Make it shallower, or build it from coils.",
        )
    across = 2 * hypot(radius, depth)
    ball = (radius * radius + depth * depth) / (2 * depth)
    return FlatPart("blank", circle(across), sizes=(("across", across), ("ball_radius", ball)))


def tray(
    *, long_mm: float, wide_mm: float, tall_mm: float, bottom_mm: float, thickness_mm: float, corner_mm: float = 0.0
) -> FlatPart:
    """A tray from one slab whose two ends are bent up: `long_mm` over all from rim to rim, `bottom_mm` its flat part.

    The strip is as long as its middle line, bottom and twice the slope; fold lines show where the ends begin.
    """
    need_sizes(wide_mm=wide_mm)
    bottom, rise, run = _slope(bottom_mm, long_mm, tall_mm, thickness_mm, "long")
    slope = hypot(run, rise)
    long = bottom + 2 * slope
    folds = tuple(Mark("fold", ((x, -wide_mm / 2), (x, wide_mm / 2))) for x in (-bottom / 2, bottom / 2))
    sizes = (("long", long), ("wide", wide_mm), ("bottom", bottom), ("slope", slope), ("lean_deg", degrees(atan2(rise, run))))
    return FlatPart("blank", rectangle(long, wide_mm, corner_mm), (), folds, sizes)


def wall_pocket(
    *, wide_mm: float, tall_mm: float, deep_mm: float, thickness_mm: float, pouch_tall_mm: float | None = None
) -> tuple[FlatPart, ...]:
    """A flat back, a pouch that bulges `deep_mm` from it, and the floor between them.

    The pouch's middle is a piece of a circle from edge to edge of the back: radius (a² + d²) / 2d with a half the width. The
    floor fits inside the pouch. `pouch_tall_mm` is the back's height unless said.
    """
    pouch = tall_mm if pouch_tall_mm is None else pouch_tall_mm
    need_sizes(wide_mm=wide_mm, tall_mm=tall_mm, deep_mm=deep_mm, thickness_mm=thickness_mm, pouch_tall_mm=pouch)
    if pouch > tall_mm + 1e-9:
        raise GeometryError(
            f"a pouch {number(pouch)} mm tall stands above its back of {number(tall_mm)} mm.", "Make the pouch lower."
        )
    half = wide_mm / 2
    radius = (half * half + deep_mm * deep_mm) / (2 * deep_mm)
    arc = 2 * radius * atan2(half, radius - deep_mm)
    inner, off = radius - thickness_mm / 2, radius - deep_mm  # the back lies `off` from the circle's middle
    if deep_mm <= thickness_mm or inner <= abs(off):
        raise GeometryError(
            f"a pouch {number(deep_mm)} mm deep has no room behind a wall {number(thickness_mm)} mm thick.", "Make it deeper."
        )
    return _back(wide_mm, tall_mm, pouch), _pouch(arc, pouch, radius), _floor(inner, off)


def _back(wide: float, tall: float, pouch: float) -> FlatPart:
    x, y = wide / 2, tall / 2
    edges = (
        Edge("A", ((-x, -y), (-x, pouch - y))),
        Edge("B", ((x, -y), (x, pouch - y))),
        Edge("D", ((-x, -y), (x, -y))),
    )
    return FlatPart("back", rectangle(wide, tall), edges, sizes=(("wide", wide), ("tall", tall)))


def _pouch(arc: float, tall: float, radius: float) -> FlatPart:
    x, y = arc / 2, tall / 2
    edges = (Edge("A", ((-x, -y), (-x, y))), Edge("B", ((x, -y), (x, y))), Edge("C", ((-x, -y), (x, -y))))
    middle = Mark("quarter", ((0.0, -y), (0.0, -y + min(8.0, tall / 4))))
    return FlatPart("pouch", rectangle(arc, tall), edges, (middle,), (("long", arc), ("tall", tall), ("radius", radius)))


def _floor(inner: float, off: float) -> FlatPart:
    """The piece of a disc in front of the back, its chord uppermost: as seen from above, back behind."""
    reach = degrees(atan2(sqrt(inner * inner - off * off), off))
    curve: Line = arc_points(inner, -90 - reach, 2 * reach, (0.0, off))
    shape = centred(curve)
    _, ys = zip(*curve, strict=True)
    down = (max(ys) + min(ys)) / 2
    line = tuple((x, y - down) for x, y in curve)
    left, _, right, _ = bounds(shape)
    sizes = (("wide", right - left), ("deep", inner - off))
    return FlatPart("floor", Shape(shape.outline), (Edge("C", line), Edge("D", (line[-1], line[0]))), sizes=sizes)
