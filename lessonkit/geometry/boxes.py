"""Boxes of stiff slabs: square and rectangular, many-sided (upright or leaning), gabled with a lid.

Wet outside sizes and wet thickness in millimetres. Walls are drawn as seen from outside, bases and lids from above, at
their larger face; a bevel is shaved off the face that it names.
"""

from __future__ import annotations

from math import acos, asin, atan, atan2, cos, degrees, hypot, isfinite, pi, radians, sin, tan

from lessonkit.geometry.faults import GeometryError, need_length, need_sizes, number
from lessonkit.geometry.flat_part import Base, Corner, Edge, Face, FlatPart, Mark, Measured
from lessonkit.geometry.outlines import polygon, rectangle
from lessonkit.geometry.shape import Bounds, Line, Shape, bounds


def box(
    *,
    wide_mm: float,
    deep_mm: float,
    tall_mm: float,
    thickness_mm: float,
    measured: Measured = "outside",
    corner: Corner = "mitred",
    base: Base = "under",
    lid: bool = False,
    lid_gap_mm: float = 0.0,
    flange_mm: float | None = None,
) -> tuple[FlatPart, ...]:
    """A box: front, right, back, left, base, and with `lid` a lid and the flange that keeps it in place.

    Mitred corners (45 degrees, shaved off the inside) leave all four walls at full width; butted, front and back run through and
    the sides are two thicknesses shorter. Walls stand on the base (`under`) or round it (`inside`). `tall_mm` is without the lid;
    inside sizes are the hollow's. The flange is the hollow less `lid_gap_mm` on every side, one thickness deep unless said.
    """
    need_sizes(wide_mm=wide_mm, deep_mm=deep_mm, tall_mm=tall_mm, thickness_mm=thickness_mm)
    if measured == "inside":
        wide_mm, deep_mm = wide_mm + 2 * thickness_mm, deep_mm + 2 * thickness_mm
        tall_mm += thickness_mm if base != "none" else 0.0
    _need_hollow(wide_mm, deep_mm, tall_mm, thickness_mm)
    high = tall_mm - thickness_mm if base == "under" else tall_mm
    sides_mm = deep_mm if corner == "mitred" else deep_mm - 2 * thickness_mm
    walls = (
        ("front", wide_mm, "DA", "E"),
        ("right", sides_mm, "AB", "F"),
        ("back", wide_mm, "BC", "G"),
        ("left", sides_mm, "CD", "H"),
    )
    parts = [_wall(name, long, high, joins, foot if base != "none" else "", corner) for name, long, joins, foot in walls]
    if base != "none":
        less = 0.0 if base == "under" else 2 * thickness_mm
        parts.append(_plate("base", wide_mm - less, deep_mm - less, "EFGH"))
    if lid:
        parts += _lid(wide_mm, deep_mm, thickness_mm, lid_gap_mm, thickness_mm if flange_mm is None else flange_mm)
    return tuple(parts)


def _need_hollow(wide_mm: float, deep_mm: float, tall_mm: float, thickness_mm: float) -> None:
    if min(wide_mm, deep_mm) <= 2 * thickness_mm or tall_mm <= thickness_mm:
        raise GeometryError(
            f"walls {number(thickness_mm)} mm thick leave no room in a box of "
            f"{number(wide_mm)} x {number(deep_mm)} x {number(tall_mm)} mm.",
            "Make the box larger or the slab thinner.",
        )


def _sides(box: Bounds) -> tuple[Line, Line, Line, Line]:
    """Bottom, right, top and left of a rectangle, counter-clockwise."""
    left, bottom, right, top = box
    corners = ((left, bottom), (right, bottom), (right, top), (left, top))
    return corners[:2], corners[1:3], corners[2:], (corners[3], corners[0])


def _wall(name: str, long: float, high: float, joins: str, foot: str, corner: Corner) -> FlatPart:
    shape = rectangle(long, high)
    bottom, right, _, left = _sides(bounds(shape))
    bevel, face = (45.0, "inside") if corner == "mitred" else (0.0, "")
    edges = [Edge(joins[0], left, bevel, face), Edge(joins[1], right, bevel, face)]  # type: ignore[arg-type]
    if foot:
        edges.append(Edge(foot, bottom))
    return FlatPart(name, shape, tuple(edges), sizes=(("wide", long), ("tall", high)))


def _plate(name: str, wide: float, deep: float, letters: str = "") -> FlatPart:
    shape = rectangle(wide, deep)
    edges = tuple(Edge(letter, line) for letter, line in zip(letters, _sides(bounds(shape)), strict=False))
    return FlatPart(name, shape, edges, sizes=(("wide", wide), ("tall", deep)))


def _lid(wide: float, deep: float, thickness_mm: float, gap_mm: float, flange_mm: float) -> list[FlatPart]:
    """A flat lid and, below it, four strips that stand inside the walls."""
    need_length("gap", gap_mm)
    need_sizes(flange_mm=flange_mm)
    across, along = wide - 2 * thickness_mm - 2 * gap_mm, deep - 2 * thickness_mm - 2 * gap_mm
    if min(across, along) <= 2 * thickness_mm:
        raise GeometryError("the lid's flange has no room in this box.", "Make the box larger, or the slab or the gap thinner.")
    lid = _plate("lid", wide, deep)
    x, y = across / 2, along / 2
    place = Mark("press", ((-x, -y), (x, -y), (x, y), (-x, y)), closed=True)
    lid = FlatPart(lid.name, lid.shape, lid.edges, (place,), lid.sizes, notes=("The flange stands inside the pressed line.",))
    long = FlatPart("flange long", rectangle(across, flange_mm), sizes=(("wide", across), ("tall", flange_mm)), count=2)
    inner = along - 2 * thickness_mm
    short = FlatPart("flange short", rectangle(inner, flange_mm), sizes=(("wide", inner), ("tall", flange_mm)), count=2)
    return [lid, long, short]


# --- many-sided ---


def face_angle_deg(sides: int, lean_deg: float) -> float:
    """How far the upright edges of a leaning side are off square, as it lies flat: arctan(sin lean x tan(180°/n))."""
    return degrees(atan(sin(radians(lean_deg)) * tan(pi / sides)))


def edge_bevel_deg(sides: int, lean_deg: float) -> float:
    """The bevel from square of the upright edges of a leaning side: arcsin(cos lean x sin(180°/n)). Upright: 180°/n."""
    return degrees(asin(cos(radians(lean_deg)) * sin(pi / sides)))


def many_sided_box(
    *,
    sides: int,
    across_mm: float | None = None,
    across_flats_mm: float | None = None,
    tall_mm: float,
    thickness_mm: float,
    lean_deg: float = 0.0,
    base: Base = "under",
) -> tuple[FlatPart, ...]:
    """A box with equal sides that stand upright or all lean, outwards if `lean_deg` (from upright) is positive.

    `across_mm` (through the corners) or `across_flats_mm` is the outside at the foot. All sides are one part; its edges A meet
    each other. Foot and rim are bevelled by the lean, so that both lie level, and the drawing reaches as far as the longer face.
    GeometryError when the sides leave no room or, leaning in, meet before the rim.
    """
    need_sizes(tall_mm=tall_mm, thickness_mm=thickness_mm)
    if not isfinite(lean_deg) or abs(lean_deg) > 60:
        raise GeometryError(f"sides can't lean {lean_deg:g} degrees.", "Write an angle from -60 to 60.")
    if not (3 <= sides <= 24 and sides == int(sides)):
        raise GeometryError(f"a box can't have {sides} sides.", "Write a whole number from 3 to 24.")
    turn, lean = pi / sides, radians(lean_deg)
    polygon(sides, across_mm, across_flats=across_flats_mm)  # refuses sizes that can't be
    apothem = across_flats_mm / 2 if across_flats_mm is not None else (across_mm or 0.0) / 2 * cos(turn)
    start = thickness_mm if base == "under" else 0.0
    inner = min(apothem, apothem + tall_mm * tan(lean)) - thickness_mm / cos(lean)
    if inner <= 0 or tall_mm <= thickness_mm:
        raise GeometryError("the sides leave no room inside this box.", "Make it wider or lower, or lean the sides less inwards.")
    slope = (tall_mm - start) / cos(lean)
    beyond = thickness_mm * tan(abs(lean))  # what the inner face has more at one end, and less at the other
    low, high = (-beyond, slope) if lean > 0 else (0.0, slope + beyond)

    def half_width(v: float) -> float:
        """Half a side's outside at the height v up its slope."""
        return (apothem + start * tan(lean) + v * sin(lean)) * tan(turn)

    corners = tuple((k * half_width(v), v - (low + high) / 2) for k, v in ((-1, low), (1, low), (1, high), (-1, high)))
    bevel = edge_bevel_deg(sides, lean_deg)
    faces: tuple[Face, Face] = ("", "") if lean == 0 else ("outside", "inside") if lean > 0 else ("inside", "outside")
    edges = [Edge("A", (corners[3], corners[0]), bevel, "inside"), Edge("A", corners[1:3], bevel, "inside")]
    if base != "none":
        edges.append(Edge("B", corners[:2], abs(lean_deg), faces[0]))
    if lean:
        edges.append(Edge("", corners[2:], abs(lean_deg), faces[1]))
    sizes = (
        ("bottom", 2 * half_width(0.0)),
        ("top", 2 * half_width(slope)),
        ("slope", slope),
        ("face_angle_deg", face_angle_deg(sides, lean_deg)),
        ("bevel_deg", bevel),
    )
    side = FlatPart("side", Shape(corners), tuple(edges), sizes=sizes, count=int(sides))
    return (side,) if base == "none" else (side, _many_sided_base(int(sides), apothem, thickness_mm, lean, base))


def _many_sided_base(sides: int, apothem: float, thickness_mm: float, lean: float, base: Base) -> FlatPart:
    """The base at its larger face: under the sides it carries their slope on, inside it fits between them."""
    reach = max(apothem, apothem + thickness_mm * tan(lean))
    if base == "inside":
        reach -= thickness_mm / cos(lean)
    shape = polygon(sides, 2 * reach / cos(pi / sides))
    ring = shape.outline
    face: Face = "" if lean == 0 else "outside" if lean > 0 else "inside"
    edges = tuple(Edge("B", side, degrees(abs(lean)), face) for side in zip(ring, ring[1:] + ring[:1], strict=True))
    return FlatPart("base", shape, edges, sizes=(("across", 2 * reach / cos(pi / sides)), ("flats", 2 * reach)))


# --- gabled ---


def gable_box(
    *,
    wide_mm: float,
    deep_mm: float,
    tall_mm: float,
    eaves_mm: float,
    thickness_mm: float,
    corner: Corner = "mitred",
    overhang_mm: float = 0.0,
    lid_gap_mm: float = 0.0,
    flange_mm: float | None = None,
) -> tuple[FlatPart, ...]:
    """A hut: a box as high as its eaves, and a roof for a lid: two roof slabs, two gables, two flange strips.

    The roof's underside rests on the walls' outer top edges, its ridge is `tall_mm` up; the slabs meet in a mitre. `overhang_mm`
    lengthens them along the slope and at both ends. The gables stand in line with front and back; a flange strip behind each
    drops into the box, clear of the walls by the gap.
    """
    need_sizes(eaves_mm=eaves_mm, tall_mm=tall_mm)
    need_length("overhang", overhang_mm)
    body = box(wide_mm=wide_mm, deep_mm=deep_mm, tall_mm=eaves_mm, thickness_mm=thickness_mm, corner=corner)
    half, roof = wide_mm / 2, tall_mm - eaves_mm
    if roof <= thickness_mm:
        raise GeometryError(
            f"a roof {number(thickness_mm)} mm thick has no pitch {number(roof)} mm above the eaves.",
            "Make the ridge higher or the eaves lower.",
        )
    # the ridge is half x tan p + thickness / cos p above the eaves: solved for the pitch p
    pitch = acos(thickness_mm / hypot(roof, half)) - atan2(half, roof)
    slope = half / cos(pitch) + thickness_mm * tan(pitch) + overhang_mm
    slab = rectangle(deep_mm + 2 * overhang_mm, slope)
    _, _, ridge, _ = _sides(bounds(slab))
    below, above = overhang_mm - slope / 2, slope / 2 - thickness_mm * tan(pitch)  # where the gables meet its underside
    gabled = tuple(Edge("K", ((x, below), (x, above))) for x in (-deep_mm / 2, deep_mm / 2))
    rise = half * tan(pitch)
    gable = Shape(((-half, -rise / 2), (half, -rise / 2), (0.0, rise / 2)))
    sloped = (Edge("K", gable.outline[1:]), Edge("K", (gable.outline[2], gable.outline[0])))
    roof_sizes = (("wide", deep_mm + 2 * overhang_mm), ("slope", slope), ("pitch_deg", degrees(pitch)))
    deep_flange = thickness_mm if flange_mm is None else flange_mm
    need_sizes(flange_mm=deep_flange)
    need_length("gap", lid_gap_mm)
    long = wide_mm - 2 * thickness_mm - 2 * lid_gap_mm
    if long <= 0 or deep_mm <= 4 * thickness_mm + 2 * lid_gap_mm:
        raise GeometryError("the roof's flange has no room in this box.", "Make the box larger, or the slab or the gap thinner.")
    strip = thickness_mm + deep_flange  # one thickness of it is joined to the gable's back
    lid = (
        FlatPart("roof", slab, (Edge("J", ridge, degrees(pitch), "inside"), *gabled), (), roof_sizes, 2),
        FlatPart("gable", gable, sloped, (), (("wide", wide_mm), ("tall", rise)), 2),
        FlatPart("flange", rectangle(long, strip), (), (), (("wide", long), ("tall", strip)), 2),
    )
    return (*body, *lid)
