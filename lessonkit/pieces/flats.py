"""Flat pieces: outline, openings, hanging holes, press lines and joining zones, all as cut."""

from __future__ import annotations

import math
import re
from dataclasses import dataclass

from lessonkit.clay import shrinkage as clay
from lessonkit.geometry import outlines, shape
from lessonkit.geometry.shape import Shape
from lessonkit.lesson import shapes as written
from lessonkit.lesson.lesson import Piece as WrittenPiece
from lessonkit.pieces.model import Hole, Mark, Measure
from lessonkit.units import Length, UnitError, parse_length


@dataclass(frozen=True, slots=True)
class Scale:
    """From a size in the file to the size as cut. `written_as` says which of the two the file gives.

    `lost` is the part of the wet length that is gone when the piece is cut (0 for soft clay): a leather-hard slab is cut
    smaller than a soft one, by fired x (1 - lost) / (1 - shrinkage).
    """

    shrinkage: float
    written_as: str = "fired"
    lost: float = 0.0
    least: float | None = None
    most: float | None = None

    def from_fired(self, mm: float) -> float:
        return clay.cut_mm(mm, self.shrinkage) * (1 - self.lost)

    def to_fired(self, cut_mm: float, shrinkage: float | None = None) -> float:
        return clay.fired_mm(cut_mm / (1 - self.lost), self.shrinkage if shrinkage is None else shrinkage)

    def cut(self, mm: float) -> float:
        return mm if self.written_as == "wet" else self.from_fired(mm)

    def measure(self, key: str, words: str, mm: float) -> Measure:
        return self.of_cut(key, words, self.cut(mm))

    def of_cut(self, key: str, words: str, cut_mm: float) -> Measure:
        off = 0.0
        if self.least is not None and self.most is not None:
            off = (self.to_fired(cut_mm, self.least) - self.to_fired(cut_mm, self.most)) / 2
        return Measure(key, words, self.to_fired(cut_mm), cut_mm, off)


@dataclass(frozen=True, slots=True)
class Cutting:
    """A flat piece before it gets its letter."""

    shape: Shape
    measures: tuple[Measure, ...]
    holes: tuple[Hole, ...]
    marks: tuple[Mark, ...]


def cut_flat(piece: WrittenPiece, thickness_mm: float, scale: Scale) -> Cutting:
    """Raises GeometryError or UnitError for sizes that cannot be cut."""
    assert piece.flat is not None
    body = outline_shape(piece.flat.outline, scale)
    measures = list(_outline_measures(piece.flat.outline, body, scale))
    marks = [_press_line(body, scale.cut(press.inset.mm)) for press in piece.flat.press]
    for number, opening in enumerate(piece.flat.openings, 1):
        cut_out, sizes = _opening(opening, scale, "opening" if len(piece.flat.openings) == 1 else f"opening {number}")
        body = shape.with_opening(body, cut_out)
        measures += sizes
    for join in piece.flat.joins:
        marks += _join_zones(join, scale)
    holes: tuple[Hole, ...] = ()
    if piece.hang:
        holes = _hanging_holes(piece.hang, body, thickness_mm, scale)
        measures.append(scale.measure("hole", "hole", piece.hang.across.mm))
        left, bottom, right, top = shape.bounds(body)
        marks.append(Mark("centre", ((shape.centroid(body)[0], bottom), (shape.centroid(body)[0], top))))
    return Cutting(body, tuple(measures), holes, tuple(marks))


def outline_shape(outline: written.Outline, scale: Scale) -> Shape:
    """The named shape at its size as cut, its middle at the origin."""

    def cut(length: Length | None) -> float:
        return scale.cut(length.mm) if length else 0.0

    if outline.circle:
        return outlines.circle(cut(outline.circle.across))
    if outline.ellipse:
        return outlines.ellipse(cut(outline.ellipse.wide), cut(outline.ellipse.tall))
    if outline.rectangle:
        return outlines.rectangle(cut(outline.rectangle.wide), cut(outline.rectangle.tall), cut(outline.rectangle.corner))
    if outline.polygon:
        size = outline.polygon.across or outline.polygon.flats
        if outline.polygon.across:
            return outlines.polygon(outline.polygon.sides, cut(size))
        return outlines.polygon(outline.polygon.sides, across_flats=cut(size))
    if outline.heart:
        return outlines.heart(cut(outline.heart.wide), cut(outline.heart.tall) or None)
    assert outline.arch is not None
    return outlines.arch(cut(outline.arch.wide), cut(outline.arch.tall))


def _outline_measures(outline: written.Outline, body: Shape, scale: Scale) -> tuple[Measure, ...]:
    left, bottom, right, top = shape.bounds(body)
    if outline.circle:
        return (scale.of_cut("across", "outside", right - left),)
    return (scale.of_cut("wide", "wide", right - left), scale.of_cut("tall", "tall", top - bottom))


def _opening(opening: written.Opening, scale: Scale, name: str) -> tuple[Shape, list[Measure]]:
    if opening.shows:
        wide, tall = photo_size(opening.shows)
        assert opening.lip is not None
        fired = (wide - 2 * opening.lip.mm, tall - 2 * opening.lip.mm)
        if min(fired) <= 0:
            raise UnitError(f"a lip of {opening.lip.text} leaves nothing of the photo to see.", "Make the lip smaller.")
        body = outlines.rectangle(*(scale.from_fired(size) for size in fired), scale.from_fired(opening.corner.mm) if opening.corner else 0.0)  # a photo does not shrink
    else:
        body = outline_shape(opening, scale)
    left, bottom, right, top = shape.bounds(body)
    if opening.circle:
        sizes = [scale.of_cut(name, name, right - left)]
    else:
        sizes = [scale.of_cut(f"{name} wide", f"{name} wide", right - left), scale.of_cut(f"{name} tall", f"{name} tall", top - bottom)]
    return _placed(body, opening.turn, opening.at, scale), sizes


def _placed(body: Shape, turn_deg: float, at: tuple[Length, Length] | None, scale: Scale) -> Shape:
    turned = shape.turned(body, turn_deg) if turn_deg else body
    return shape.moved(turned, scale.cut(at[0].mm), scale.cut(at[1].mm)) if at else turned


def photo_size(text: str) -> tuple[float, float]:
    """`4 x 6 in photo` (wide, then tall) in mm. Raises UnitError for anything else. Prints are this size in fact:
    4 x 6 in is 101.6 x 152.4 mm (ISO 1008 names it 102 x 152)."""
    found = re.fullmatch(r"\s*(.+?)\s*[x×]\s*(.+?)\s*(mm|cm|in)\.?\s*(?:photo|print|picture)?\s*", text)
    if not found:
        raise UnitError(f"expected a photo's size, found “{text}”.", "Write its width, then its height: shows: 4 x 6 in photo.")
    wide, tall, unit = found.groups()
    return parse_length(f"{wide} {unit}").mm, parse_length(f"{tall} {unit}").mm


def _press_line(body: Shape, inset_mm: float) -> Mark:
    inner = shape.grown(shape.whole(body), -inset_mm)
    if len(inner) != 1:
        raise UnitError("the press line lies so far in that the piece is narrower there.", "Make its inset smaller.")
    return Mark("press", inner[0].outline, closed=True)


def _join_zones(join: written.Join, scale: Scale) -> list[Mark]:
    zone = outline_shape(join, scale)
    levels = tuple(join.levels)
    if not join.ring:
        return [Mark("join", _placed(zone, join.turn, join.at, scale).outline, True, join.name, levels)]
    radius = scale.cut(join.ring.across.mm) / 2
    angles = (math.radians(join.ring.first + 360 * i / join.ring.count) for i in range(join.ring.count))
    return [Mark("join", _around(zone, join.turn, radius, angle).outline, True, join.name, levels) for angle in angles]


def _around(zone: Shape, turn_deg: float, radius: float, angle: float) -> Shape:
    """At `angle` clockwise from the top, turned so that its own top faces outwards."""
    return shape.moved(shape.turned(zone, turn_deg - math.degrees(angle)), radius * math.sin(angle), radius * math.cos(angle))


def _hanging_holes(hang: written.Hang, body: Shape, thickness_mm: float, scale: Scale) -> tuple[Hole, ...]:
    """Holes on the balance line, at least 12 mm (fired) and 1.5 thicknesses below the edge above them unless she says how
    far (common practice, no source)."""
    down = scale.cut(hang.from_edge.mm) if hang.from_edge else max(scale.from_fired(12), 1.5 * thickness_mm)
    middle = shape.centroid(body)[0]
    half = scale.cut(hang.apart.mm) / 2 if hang.apart else 0.0
    places = [middle] if hang.holes == 1 else [middle - half, middle + half]
    y = min(_edge_above(body, x) for x in places) - down
    across = scale.measure("hole", "hole", hang.across.mm)
    return tuple(Hole(x, y, across.cut, across.fired) for x in places)


def _edge_above(body: Shape, x: float) -> float:
    left, bottom, right, top = shape.bounds(body)
    sliver = shape.clip(body, (x - 0.001, bottom - 1, x + 0.001, top + 1))
    if not sliver:
        raise UnitError("a hanging hole lies outside the piece.", "Make apart smaller.")
    return max(shape.bounds(part)[3] for part in sliver)
