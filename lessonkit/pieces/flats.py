"""Flat pieces: outline, openings, hanging holes, press lines and joining zones, all as cut."""

from __future__ import annotations

from typing import NamedTuple

from lessonkit.geometry import balance, outlines, shape
from lessonkit.geometry.areas import Area
from lessonkit.geometry.bulging import inset, surely_clear
from lessonkit.geometry.faults import GeometryError
from lessonkit.geometry.shape import Point, Shape
from lessonkit.lesson import shapes as written
from lessonkit.lesson.lesson import Piece as WrittenPiece
from lessonkit.pieces import goods
from lessonkit.pieces.model import Hole, Mark, Measure
from lessonkit.pieces.outlines import ACROSS, Silhouettes, need_few_points, outline_shape, placed_shapes, trimmed
from lessonkit.pieces.scale import Scale
from lessonkit.units import UnitError

LEAST_FROM_EDGE_MM = 12.0  # fired, from a hanging hole's middle (common practice, no source)


class Cutting(NamedTuple):
    """A flat piece before it gets its letter."""

    shape: Shape
    measures: tuple[Measure, ...]
    holes: tuple[Hole, ...]
    marks: tuple[Mark, ...]


def cut_flat(piece: WrittenPiece, thickness_mm: float, scale: Scale, silhouettes: Silhouettes) -> Cutting:
    """Raises GeometryError or UnitError for what cannot be cut."""
    flat = piece.flat
    assert flat is not None
    body = outline_shape(flat.outline, scale, silhouettes)
    need_few_points(body)
    measures = list(_widths(body, flat.outline, "", scale))
    marks = [mark for press in flat.press for mark in _press_lines(body, scale.cut(press.inset))]
    _need_few(flat.openings)
    cut: list[Shape] = []
    for number, opening in enumerate(flat.openings, 1):
        name = "opening" if len(flat.openings) == 1 else f"opening {number}"
        one, copies = _opening(opening, scale, silhouettes)
        measures += _widths(one, opening, name, scale)
        cut += copies
        need_few_points(body, *cut)
    body = shape.with_openings(body, cut)
    on, clay = Area((body,)), Area((shape.whole(body),))
    for join in flat.joins:
        for zone in placed_shapes(join, scale, silhouettes):
            sure = surely_clear(zone.outline, body.outline, body.holes)
            marks += [_mark(join, zone)] if sure else _zone(join, Area((zone,)), on, clay)
    holes: tuple[Hole, ...] = ()
    if piece.hang:
        holes = _hanging_holes(piece.hang, body, thickness_mm, scale)
        measures.append(scale.measure("hole", "hole", holes[0].across_mm))
        _, bottom, _, top = shape.bounds(body)
        line_x = balance.balance_line_x(body)
        marks.append(Mark("centre", ((line_x, bottom), (line_x, top))))
    return Cutting(body, tuple(measures), holes, tuple(marks))


def _widths(body: Shape, outline: written.Outline, name: str, scale: Scale) -> tuple[Measure, ...]:
    """A circle's one width; else width and height, behind the size that the file gives across corners, tips or flats. The
    whole piece's are `across`, `wide` and `tall`, an opening's start with its name."""
    left, bottom, right, top = shape.bounds(body)
    changed = bool(outline.cut_away or outline.rounded)
    if _is_circle(outline) and not changed:
        return (scale.measure(name or "across", name or "outside", right - left),)
    sizes = [("wide", "wide", right - left), ("tall", "tall", top - bottom)]
    form = next(iter(outline.given()), "")
    if form in ACROSS and not changed:
        given = getattr(outline, form)
        across = ("across", f"across {ACROSS[form]}", scale.cut(given.across)) if given.across else ("flats", "between sides", scale.cut(given.flats))
        sizes.insert(0, across)
    return tuple(scale.measure(f"{name} {key}".strip(), f"{name} {words}".strip(), size) for key, words, size in sizes)


def _is_circle(outline: written.Outline) -> bool:
    holds = outline.holds if isinstance(outline, written.Opening) else None
    return outline.circle is not None or (holds is not None and goods.thing(holds).tall_mm is None)


def _opening(opening: written.Opening, scale: Scale, silhouettes: Silhouettes) -> tuple[Shape, tuple[Shape, ...]]:
    """Its shape, and that shape wherever it stands."""
    held = _goods_shape(opening, scale)
    one = trimmed(held, opening, scale, silhouettes) if held else outline_shape(opening, scale, silhouettes)
    return one, placed_shapes(opening, scale, silhouettes, one)


def _need_few(openings: tuple[written.Opening, ...]) -> None:
    """Each opening is looked at beside all the others: hundreds take minutes."""
    count = sum(opening.copies for opening in openings)
    if count > written.MOST_COPIES:
        raise GeometryError(f"it has {count} openings, more than {written.MOST_COPIES}.", "Leave some out; pierce the small ones by hand.")


def _zone(join: written.Join, zone: Area, body: Area, clay: Area) -> list[Mark]:
    """Where it is joined on; of a zone that reaches over the edge, what lies on the clay: the body, its openings filled."""
    if not zone & body:
        raise GeometryError(f"the place of “{join.name}” lies outside the clay.", "Its place counts from the piece's middle; y upwards.")
    parts = (zone & clay).shapes if zone - clay else zone.shapes
    return [_mark(join, part) for part in parts]


def _mark(join: written.Join, part: Shape) -> Mark:
    return Mark("join", part.outline, True, join.name, tuple(join.levels))


def _goods_shape(opening: written.Opening, scale: Scale) -> Shape | None:
    """The opening for something that does not shrink: its fired size is fixed, and then made larger as all clay is."""
    if opening.shows and opening.lip:
        wide, tall = fired_for_photo(opening.shows, opening.lip.mm)
        return outlines.rectangle(scale.from_fired(wide), scale.from_fired(tall), scale.cut_or(opening.corner))
    if opening.holds and opening.clearance:
        held = goods.thing(opening.holds)
        wide = scale.from_fired(held.wide_mm + 2 * opening.clearance.mm)
        if held.tall_mm is None:
            return outlines.circle(wide)
        return outlines.rectangle(wide, scale.from_fired(held.tall_mm + 2 * opening.clearance.mm), scale.cut_or(opening.corner))
    return None


def fired_for_photo(shows: str, lip_mm: float) -> tuple[float, float]:
    """Width and height that show a photo and cover `lip_mm` of it on each side. UnitError where nothing would show."""
    picture = goods.photo(shows)
    assert picture.tall_mm is not None
    fired = picture.wide_mm - 2 * lip_mm, picture.tall_mm - 2 * lip_mm
    if min(fired) <= 0:
        raise UnitError(f"a lip of {lip_mm:g} mm leaves nothing of the photo to see.", "Make the lip smaller.")
    return fired


def _press_lines(body: Shape, inset_mm: float) -> list[Mark]:
    """One line, or several where the piece has a neck that is narrower than twice the inset."""
    whole = inset(body.outline, inset_mm)
    lines = [whole] if whole else [inner.outline for inner in shape.grown(shape.whole(body), -inset_mm)]
    if not lines:
        raise UnitError("the press line lies further in than the piece is wide.", "Make its inset smaller.")
    return [Mark("press", line, closed=True) for line in lines]


def _hanging_holes(hang: written.Hang, body: Shape, thickness_mm: float, scale: Scale) -> tuple[Hole, ...]:
    """Holes on the balance line, 12 mm (fired) and 1.5 thicknesses below the edge above them unless she says how far."""
    places: tuple[Point, ...]
    if hang.at:
        places = (scale.place(hang.at),)
        if not shape.contains_point(body, *places[0]):
            raise UnitError("the hanging hole lies outside the clay.", "Its place counts from the piece's middle; y upwards.")
    else:
        down = scale.cut_or(hang.from_edge, max(scale.from_fired(LEAST_FROM_EDGE_MM), 1.5 * thickness_mm))
        places = balance.hanging_places(body, hang.holes, down, scale.cut_or(hang.apart))
    across = scale.cut(hang.across)
    return tuple(Hole(x, y, across, scale.to_fired(across)) for x, y in places)
