"""What the pictures know of a piece, as the learner sees it: its main part in a window, and the pot that its parts make."""

from __future__ import annotations

from collections.abc import Hashable, Sequence
from dataclasses import dataclass
from functools import cached_property, lru_cache, reduce
from math import pi, sin
from operator import sub
from typing import NamedTuple

from lessonkit.forgetting import of_a_lesson
from lessonkit.geometry.areas import Area, Mapping, area, area_of, mapped_line
from lessonkit.geometry.drafting import disc
from lessonkit.geometry.shape import Bounds, Line, bounds, contains_point
from lessonkit.geometry.shape import Point as Place
from lessonkit.layout.same import Same
from lessonkit.pieces.model import Part, Piece

NARROW = 2.0  # from this ratio of its sides a piece with no top lies on its side, and two views stand one above the other
FINEST = 5e-4  # of its longer side: how far the outline of a part may stray in a picture
LEAST_HOLE = 1.7  # radius in units: a smaller hanging hole would not be seen


class Pot(NamedTuple):
    """A hollow thing that stands, before drying; mm, outside. It is round, or has `sides`; `deep` is its depth by its width."""

    rim: float
    foot: float
    tall: float
    thickness: float
    deep: float = 1.0
    sides: int = 0
    bowl: bool = False  # its wall bulges
    closed: bool = False  # of two halves, mouth on mouth
    roof: float = 0.0
    profile: tuple[tuple[float, float], ...] = ()  # heights from the foot up and the width at each, where its wall is not straight


class _Seen(NamedTuple):
    """A part in mm, with no more points than a picture shows, and how far each of its holes lies from the nearest edge, below 0
    where it lies outside."""

    bounds: Bounds
    body: Area
    zones: tuple[Area, ...]
    rooms: tuple[float, ...]
    openings: tuple[Area, ...]  # the largest first


class Placed:
    """A part in its window, in units: each thing is reckoned when a picture first asks for it. The same only as itself."""

    def __init__(self, part: Part, seen: _Seen, to: Mapping, scale: float, least_hole: float) -> None:
        self._part, self._seen, self._to, self.scale, self._least_hole = part, seen, to, scale, least_hole

    @cached_property
    def body(self) -> Area:
        """Clay with its openings."""
        return self._seen.body.mapped(self._to)

    @cached_property
    def whole(self) -> Area:
        """Its openings filled."""
        return self.body.outer

    @cached_property
    def holes(self) -> tuple[Area, ...]:
        """To hang it by."""
        return tuple(disc(x, y, radius) for (x, y), radius in zip(self.hangs, self._radii, strict=True))

    @cached_property
    def hangs(self) -> tuple[Place, ...]:
        """The middles of those holes."""
        return tuple(self._to(hole.x_mm, hole.y_mm) for hole in self._part.holes)

    @property
    def opening(self) -> Area:
        """Its largest opening; IndexError for a part without one."""
        return self._seen.openings[0].mapped(self._to)

    @property
    def amid_opening(self) -> Place:
        """The middle of that."""
        return self._to(*self._seen.openings[0].middle)

    @cached_property
    def _radii(self) -> list[float]:
        least, k = self._least_hole, self.scale
        return [max(hole.across_mm / 2 * k, min(least, 0.8 * room * k)) for hole, room in zip(self._part.holes, self._seen.rooms, strict=True)]

    @cached_property
    def pierced(self) -> Area:
        """Clay with its openings and its holes through."""
        inside = all(radius < room * self.scale for radius, room in zip(self._radii, self._seen.rooms, strict=True))
        return _pierced(self.body, self.holes) if inside else _cut(self.body, self.holes)

    @cached_property
    def zones(self) -> tuple[Area, ...]:
        """Where something is joined on."""
        return tuple(zone.mapped(self._to) for zone in self._seen.zones)

    @property
    def press(self) -> tuple[Line, ...]:
        """Lines to press."""
        marks = (mark for mark in self._part.marks if mark.kind == "press")
        return tuple(mapped_line((*mark.line, mark.line[0]) if mark.closed else mark.line, self._to) for mark in marks)


@dataclass(frozen=True, eq=False)
class Subject:
    """A piece to draw; `mirrored` turns it back beforehand, because a left-hander's picture is mirrored as a whole."""

    piece: Piece
    mirrored: bool = False

    @cached_property
    def part(self) -> Part:
        """What is cut: a pot's wall, else the first part."""
        return self.wall or self.piece.parts[0]

    @cached_property
    def wall(self) -> Part | None:
        """The strip that goes round."""
        return self._named("wall")

    @cached_property
    def base(self) -> Part | None:
        return self._named("base")

    def _named(self, name: str) -> Part | None:
        return next((part for part in self.piece.parts if part.name == name), None) if self.piece.form != "flat" else None

    @cached_property
    def pot(self) -> Pot | None:
        """What the parts become, if it is hollow and stands."""
        sizes = {measure.key: measure.cut for measure in self.piece.measures}
        thick, tall = self.piece.thickness_mm, sizes.get("tall", 0.0)
        match self.piece.form:
            case "cylinder":
                return Pot(sizes["outside"], sizes["outside"], tall, thick)
            case "coil_pot":
                return self._coiled(tall)
            case "oval":
                return Pot(sizes["wide"], sizes["wide"], tall, thick, sizes["deep"] / sizes["wide"])
            case "cone":
                return Pot(sizes["top"], sizes["bottom"], tall, thick)
            case "dish":
                return Pot(sizes["rim"], sizes["bottom"], tall, thick)
            case "bowl" | "pinch":
                rim = sizes.get("rim", sizes.get("across", 0.0))
                return Pot(rim, 0.45 * rim, tall, thick, bowl=True, closed=dict(self.piece.facts).get("balls", "1") != "1")
            case "box":
                return Pot(sizes["wide"], sizes["wide"], tall, thick, sizes["deep"] / sizes["wide"], 4)
            case "hut":
                return Pot(sizes["wide"], sizes["wide"], sizes["eaves"], thick, sizes["deep"] / sizes["wide"], 4, roof=tall - sizes["eaves"])
            case "many_sided":
                return self._many_sided(tall)
        return None

    def _coiled(self, tall: float) -> Pot:
        """The gauge that is held against it has its outside as its left edge."""
        base, gauge = (part.shape for part in self.piece.parts)
        (left, _, end, _), (_, bottom, right, _) = bounds(base), bounds(gauge)
        edge = sorted((y - bottom, x) for x, y in gauge.outline if x < right)
        profile = tuple((height, end - left + 2 * (x - edge[0][1])) for height, x in edge)
        return Pot(profile[-1][1], profile[0][1], tall, self.piece.thickness_mm, profile=profile if len(profile) > 2 else ())

    def _many_sided(self, tall: float) -> Pot:
        side = self.piece.parts[0]
        _, bottom, _, top = bounds(side.shape)
        foot, rim = (_level_width(side, y) for y in (bottom, top))
        across = foot / sin(pi / side.count)  # of the circle through its corners
        return Pot(across * rim / foot, across, tall, self.piece.thickness_mm, sides=side.count)

    @property
    def ratio(self) -> float:
        """Width by height of the main part as it will be drawn."""
        left, bottom, right, top = _seen(Same(self.part)).bounds
        return (top - bottom) / (right - left) if self.lies else (right - left) / (top - bottom)

    @property
    def lies(self) -> bool:
        """Whether the main part is drawn on its side."""
        return self._lies(self.part)

    def place(self, x0: float, y0: float, x1: float, y1: float, part: Part | None = None, flipped: bool = False,
              least_hole: float = LEAST_HOLE) -> Placed:  # fmt: skip
        """A part as large as a window allows, centred, y down; `flipped` shows its back."""
        part = part or self.part
        window = (x0, y0, x1, y1, part.letter, flipped, least_hole)
        if window not in self._placed:
            self._placed[window] = self._place((x0, y0, x1, y1), part, flipped, least_hole)
        return self._placed[window]

    @cached_property
    def _placed(self) -> dict[Hashable, Placed]:
        return {}

    def _place(self, window: Bounds, part: Part, flipped: bool, least_hole: float) -> Placed:
        (x0, y0, x1, y1), seen = window, _seen(Same(part))
        left, bottom, right, top = seen.bounds
        wide, tall, lies = right - left, top - bottom, self._lies(part)
        k = min((x1 - x0) / (tall if lies else wide), (y1 - y0) / (wide if lies else tall))
        side = -1.0 if self.mirrored != flipped else 1.0
        cx, cy, mx, my = (x0 + x1) / 2, (y0 + y1) / 2, (left + right) / 2, (bottom + top) / 2

        def to(x: float, y: float) -> tuple[float, float]:
            dx, dy = (y - my, mx - x) if lies else (x - mx, y - my)
            return cx + side * k * dx, cy - k * dy

        return Placed(part, seen, to, k, least_hole)

    def _lies(self, part: Part) -> bool:
        """A tall narrow part that has no top (nothing to hang it by, nothing said) lies on its side."""
        left, bottom, right, top = _seen(Same(part)).bounds
        return not part.holes and not self.piece.face and (top - bottom) > NARROW * (right - left)


@of_a_lesson
@lru_cache(16)
def _seen(of: Same[Part]) -> _Seen:
    part = of.value
    left, bottom, right, top = bounds(part.shape)
    stray = FINEST * max(right - left, top - bottom)
    body = area_of(part.shape).simplified(stray)
    rooms = (body.distance((hole.x_mm, hole.y_mm)) * (1 if contains_point(part.shape, hole.x_mm, hole.y_mm) else -1) for hole in part.holes)
    zones = (area(mark.line).simplified(stray) for mark in part.marks if mark.kind == "join")
    return _Seen((left, bottom, right, top), body, tuple(zones), tuple(rooms), body.openings)


def _pierced(body: Area, holes: Sequence[Area]) -> Area:
    """The same as `_cut`, where all holes lie within the clay and apart."""
    first, *others = body.shapes
    return Area((first._replace(holes=(*first.holes, *(ring[::-1] for hole in holes for ring in hole.rings))), *others)) if holes else body


def _cut(body: Area, holes: Sequence[Area]) -> Area:
    return reduce(sub, holes, body)


def _level_width(part: Part, y: float) -> float:
    xs = [px for px, py in part.shape.outline if abs(py - y) < 0.01]
    return max(xs) - min(xs)
