"""What the pictures know of a piece, as the learner sees it: its main part in a window, and the pot that its parts make."""

from __future__ import annotations

from dataclasses import dataclass
from math import pi, sin

from lessonkit.geometry.areas import Area, area, area_of, mapped_line
from lessonkit.geometry.drafting import disc
from lessonkit.geometry.shape import Line, bounds
from lessonkit.pieces.model import Part, Piece

NARROW = 2.0  # from this ratio of its sides a piece with no top lies on its side, and two views stand one above the other
LEAST_HOLE = 1.7  # radius in units: a smaller hanging hole would not be seen


@dataclass(frozen=True, slots=True)
class Pot:
    """A hollow thing that stands, before drying; mm, outside. It is round, or has `sides`; `deep` is its depth by its width."""

    rim: float
    foot: float
    tall: float
    thickness: float
    deep: float = 1.0
    sides: int = 0
    bowl: bool = False  # its wall bulges
    roof: float = 0.0


@dataclass(frozen=True, slots=True)
class Placed:
    """A part in its window, in units: clay with openings, hanging holes, joining zones, lines to press."""

    body: Area
    holes: tuple[Area, ...]
    zones: tuple[Area, ...]
    press: tuple[Line, ...]
    scale: float

    @property
    def whole(self) -> Area:
        return self.body.outer


@dataclass(frozen=True, slots=True)
class Subject:
    """A piece to draw; `mirrored` turns it back beforehand, because a left-hander's picture is mirrored as a whole."""

    piece: Piece
    mirrored: bool = False

    @property
    def part(self) -> Part:
        """What is cut: a pot's wall, else the first part."""
        return self.wall or self.piece.parts[0]

    @property
    def wall(self) -> Part | None:
        """The strip that goes round."""
        return self._named("wall")

    @property
    def base(self) -> Part | None:
        return self._named("base")

    def _named(self, name: str) -> Part | None:
        return next((part for part in self.piece.parts if part.name == name), None) if self.piece.form != "flat" else None

    @property
    def pot(self) -> Pot | None:
        """What the parts become, if it is hollow and stands."""
        sizes = {measure.key: measure.cut for measure in self.piece.measures}
        thick, tall = self.piece.thickness_mm, sizes.get("tall", 0.0)
        match self.piece.form:
            case "cylinder":
                return Pot(sizes["outside"], sizes["outside"], tall, thick)
            case "coil_pot":
                return Pot(sizes["across"], sizes["across"], tall, thick)
            case "oval":
                return Pot(sizes["wide"], sizes["wide"], tall, thick, sizes["deep"] / sizes["wide"])
            case "cone":
                return Pot(sizes["top"], sizes["bottom"], tall, thick)
            case "dish":
                return Pot(sizes["rim"], sizes["bottom"], tall, thick)
            case "bowl" | "pinch":
                rim = sizes.get("rim", sizes.get("across", 0.0))
                return Pot(rim, 0.45 * rim, tall, thick, bowl=True)
            case "box":
                return Pot(sizes["wide"], sizes["wide"], tall, thick, sizes["deep"] / sizes["wide"], 4)
            case "hut":
                return Pot(sizes["wide"], sizes["wide"], sizes["eaves"], thick, sizes["deep"] / sizes["wide"], 4, roof=tall - sizes["eaves"])
            case "many_sided":
                return self._many_sided(tall)
        return None

    def _many_sided(self, tall: float) -> Pot:
        side = self.piece.parts[0]
        _, bottom, _, top = bounds(side.shape)
        foot, rim = (_level_width(side, y) for y in (bottom, top))
        across = foot / sin(pi / side.count)  # of the circle through its corners
        return Pot(across * rim / foot, across, tall, self.piece.thickness_mm, sides=side.count)

    @property
    def ratio(self) -> float:
        """Width by height of the main part as it will be drawn."""
        left, bottom, right, top = bounds(self.part.shape)
        return (top - bottom) / (right - left) if self.lies else (right - left) / (top - bottom)

    @property
    def lies(self) -> bool:
        """Whether the main part is drawn on its side."""
        return self._lies(self.part)

    def place(self, x0: float, y0: float, x1: float, y1: float, part: Part | None = None, flipped: bool = False,
              least_hole: float = LEAST_HOLE) -> Placed:  # fmt: skip
        """A part as large as a window allows, centred, y down; `flipped` shows its back."""
        part = part or self.part
        left, bottom, right, top = bounds(part.shape)
        wide, tall, lies = right - left, top - bottom, self._lies(part)
        k = min((x1 - x0) / (tall if lies else wide), (y1 - y0) / (wide if lies else tall))
        side = -1.0 if self.mirrored != flipped else 1.0
        cx, cy, mx, my = (x0 + x1) / 2, (y0 + y1) / 2, (left + right) / 2, (bottom + top) / 2

        def to(x: float, y: float) -> tuple[float, float]:
            dx, dy = (y - my, mx - x) if lies else (x - mx, y - my)
            return cx + side * k * dx, cy - k * dy

        body = area_of(part.shape).mapped(to).simplified()
        holes = []
        for hole in part.holes:
            x, y = to(hole.x_mm, hole.y_mm)
            holes.append(disc(x, y, max(hole.across_mm / 2 * k, min(least_hole, 0.8 * body.distance((x, y))))))
        marks = {kind: [mark for mark in part.marks if mark.kind == kind] for kind in ("join", "press")}
        zones = tuple(area(mapped_line(mark.line, to)).simplified() for mark in marks["join"])
        press = tuple(mapped_line((*mark.line, mark.line[0]) if mark.closed else mark.line, to) for mark in marks["press"])
        return Placed(body, tuple(holes), zones, press, k)

    def _lies(self, part: Part) -> bool:
        """A tall narrow part that has no top (nothing to hang it by, nothing said) lies on its side."""
        left, bottom, right, top = bounds(part.shape)
        return not part.holes and not self.piece.face and (top - bottom) > NARROW * (right - left)


def _level_width(part: Part, y: float) -> float:
    xs = [px for px, py in part.shape.outline if abs(py - y) < 0.01]
    return max(xs) - min(xs)
