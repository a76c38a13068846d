"""Named outlines as shapes at their size as cut."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from typing import TYPE_CHECKING, Any

from lessonkit.geometry import combining, ornaments, outlines, shape
from lessonkit.geometry.faults import GeometryError
from lessonkit.geometry.shape import Shape
from lessonkit.lesson import shapes as written
from lessonkit.pieces.scale import Scale

if TYPE_CHECKING:
    from lessonkit.lesson.outlines import Silhouette

Silhouettes = Mapping[str, Shape | None]  # of each SVG file, at the size that it is drawn; None for one that can't be used

_DRAW: dict[str, Callable[[Any, Scale], Shape]] = {
    "circle": lambda s, k: outlines.circle(k.cut(s.across)),
    "ellipse": lambda s, k: outlines.ellipse(k.cut(s.wide), k.cut(s.tall)),
    "rectangle": lambda s, k: outlines.rectangle(k.cut(s.wide), k.cut(s.tall), k.cut_or(s.corner)),
    "polygon": lambda s, k: (
        outlines.polygon(s.sides, k.cut(s.across)) if s.across else outlines.polygon(s.sides, across_flats=k.cut(s.flats))
    ),
    "heart": lambda s, k: outlines.heart(k.cut(s.wide), k.cut(s.tall) if s.tall else None),
    "arch": lambda s, k: outlines.arch(k.cut(s.wide), k.cut(s.tall)),
    "egg": lambda s, k: ornaments.egg(k.cut(s.wide), k.cut(s.tall)),
    "teardrop": lambda s, k: ornaments.teardrop(k.cut(s.wide), k.cut(s.tall)),
    "leaf": lambda s, k: ornaments.leaf(k.cut(s.wide), k.cut(s.tall)),
    "petals": lambda s, k: ornaments.petals(s.count, k.cut(s.across), k.cut(s.depth)),
    "scallops": lambda s, k: ornaments.scalloped(s.count, k.cut(s.across), k.cut(s.depth) if s.depth else None),
    "star": lambda s, k: ornaments.star(s.points, k.cut(s.across), k.cut(s.depth)),
    "shield": lambda s, k: ornaments.shield(k.cut(s.wide), k.cut(s.tall), k.cut(s.shoulder) if s.shoulder else None),
    "crescent": lambda s, k: ornaments.crescent(k.cut(s.across), k.cut(s.thick)),
    "gable": lambda s, k: ornaments.gable(k.cut(s.wide), k.cut(s.tall), k.cut(s.eaves) if s.eaves else None),
    "waves": lambda s, k: ornaments.waved(k.cut(s.wide), k.cut(s.tall), s.count, k.cut(s.depth), both=s.both),
    "points": lambda s, k: combining.from_points([k.place(at) for at in s]),
}
MOST_POINTS = 20_000
MOST_CORNERS = 1_000  # that a needle can follow: what strays less than FINEST_MM is a curve and not a corner
FINEST_MM = 0.1
ACROSS = {"polygon": "the corners", "petals": "the petals", "scallops": "the scallops", "star": "the tips", "crescent": "the round"}


class NoSilhouette(Exception):
    """The SVG file can't be used, which is told at its name."""


def outline_shape(outline: written.Outline, scale: Scale, silhouettes: Silhouettes) -> Shape:
    """The shape at its size as cut, its middle (before anything is cut away or rounded) at the origin. Raises GeometryError for
    one that cannot be, and NoSilhouette."""
    name = next(iter(outline.given()), "")
    if name == "joined":
        assert outline.joined is not None
        body = _centred(combining.joined(*_placed(outline.joined, scale, silhouettes)))
    elif name == "svg":
        assert outline.svg is not None
        body = _silhouette(outline.svg, scale, silhouettes)
    else:
        body = _DRAW[name](getattr(outline, name), scale)
    return trimmed(body, outline, scale, silhouettes)


def trimmed(body: Shape, outline: written.Outline, scale: Scale, silhouettes: Silhouettes) -> Shape:
    """The body less what the outline cuts away from it, with its corners rounded as it says."""
    if outline.cut_away:
        body = combining.cut_away(body, *_placed(outline.cut_away, scale, silhouettes))
    points = max(len(ring) for ring in (body.outline, *body.holes))
    if points > MOST_CORNERS and (corners := combining.corners(body, FINEST_MM)) > MOST_CORNERS:
        raise GeometryError(f"it has {corners:,} corners, and nobody cuts more than {MOST_CORNERS:,}.", "Draw it with fewer points.")
    if outline.rounded:
        body = combining.rounded(body, outside_mm=scale.cut_or(outline.rounded.outside), inside_mm=scale.cut_or(outline.rounded.inside))
    return body


def _placed(parts: tuple[written.Placed, ...], scale: Scale, silhouettes: Silhouettes) -> tuple[Shape, ...]:
    copies: list[Shape] = []
    for part in parts:
        copies += placed_shapes(part, scale, silhouettes)
        need_few_points(*copies)
    return tuple(copies)


def need_few_points(*shapes: Shape, copies: int = 1) -> None:
    """Raise GeometryError for more points than any paper shows: repeats of repeats grow fast."""
    if copies * sum(len(ring) for each in shapes for ring in (each.outline, *each.holes)) > MOST_POINTS:
        raise GeometryError(f"it has more than {MOST_POINTS:,} points.", "Repeat less, or draw it with fewer points.")


def placed_shapes(part: written.Placed, scale: Scale, silhouettes: Silhouettes, body: Shape | None = None) -> tuple[Shape, ...]:
    """The shape (or `body` in its stead) where it stands: once, or several times on a ring (each facing outwards) or in a row."""
    copy = body or outline_shape(part, scale, silhouettes)
    if part.mirror:
        copy = shape.mirrored(copy)
    if part.turn:
        copy = shape.turned(copy, part.turn)
    if part.ring or part.row:
        need_few_points(copy, copies=part.copies)
    if part.ring:
        return combining.around(copy, part.ring.count, scale.cut(part.ring.across), part.ring.first)
    if part.row:
        return combining.along(copy, part.row.count, scale.place(part.row.start), scale.place(part.row.end))
    return (shape.moved(copy, *scale.place(part.at)),) if part.at else (copy,)


def _silhouette(silhouette: Silhouette, scale: Scale, silhouettes: Silhouettes) -> Shape:
    drawn = silhouettes.get(silhouette.file)
    if drawn is None:
        raise NoSilhouette(silhouette.file)
    left, bottom, right, top = shape.bounds(drawn)
    if silhouette.wide:
        return shape.scaled(drawn, scale.cut(silhouette.wide) / (right - left))
    assert silhouette.tall is not None
    return shape.scaled(drawn, scale.cut(silhouette.tall) / (top - bottom))


def _centred(body: Shape) -> Shape:
    left, bottom, right, top = shape.bounds(body)
    dx, dy = -(left + right) / 2, -(bottom + top) / 2
    return body if math.hypot(dx, dy) < 1e-9 else shape.moved(body, dx, dy)
