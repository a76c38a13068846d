"""A pen for pages: gathers drawing items in millimetres, y down. The shapes that all papers share are drawn here once."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from functools import lru_cache
from itertools import chain
from typing import Literal

from lessonkit.drawing.fonts import CAPITAL, rise_em, width_mm
from lessonkit.drawing.items import BLACK, WHITE, Command, Group, Item, Path, Stroke, TextLine, mapped
from lessonkit.drawing.typesetting import Block, Span, set_text
from lessonkit.geometry.shape import Point, Shape
from lessonkit.units import MM_PER_POINT

# Line widths in mm, ISO 128 steps; one meaning each on every paper.
THIN, FINE, PRESS, OBJECT, CUT, ATTENTION, HEAVY = 0.18, 0.25, 0.35, 0.5, 0.7, 1.0, 1.4
DASHED = (3.0, 1.5)  # press, do not cut
CENTRE = (6.0, 1.2, 0.6, 1.2)
OVERLAP = (8.0, 1.0, 0.6, 1.0, 0.6, 1.0)
SCISSORS_LINE = (2.4, 1.6)

Align = Literal["left", "centre", "right"]
_ARC = 0.5519150244935106  # control length of a quarter circle in one Bezier; eight arcs use their own below


def _arcs() -> Iterator[tuple[float, float, float, float, float, float]]:
    """Of a circle of radius 1 around 0, from its right."""
    step = math.pi / 4
    reach = 4 / 3 * math.tan(step / 4)
    for i in range(8):
        (x1, y1), (x2, y2) = ((math.cos(angle), math.sin(angle)) for angle in (i * step, (i + 1) * step))
        yield x1 - reach * y1, y1 + reach * x1, x2 + reach * y2, y2 - reach * x2, x2, y2


_CIRCLE = (1.0, 0.0, *chain.from_iterable(_arcs()))


def _stroke(width_mm: float, dash: tuple[float, ...] = (), cap: Literal["butt", "round"] = "butt", join: Literal["mitre", "round"] = "mitre",
            tone: float = BLACK) -> Stroke | None:  # fmt: skip
    """None for a width of 0."""
    return Stroke(width_mm, dash, tone, cap, join) if width_mm else None


class Pen:
    """Draws onto a list of items. Every method takes absolute millimetres from the top left of the page or panel."""

    def __init__(self) -> None:
        self.items: list[Item] = []

    def group(self, x_mm: float = 0.0, y_mm: float = 0.0, layer: str = "", clip_mm: tuple[float, float, float, float] | None = None) -> Group:
        return Group(tuple(self.items), x_mm, y_mm, clip_mm, layer)

    def put(self, *items: Item) -> None:
        self.items.extend(items)

    # -- text
    def text(self, x_mm: float, y_mm: float, words: str, size_pt: float, bold: bool = False, align: Align = "left", tone: float = BLACK) -> float:
        """One line on the baseline `y_mm`; returns its right end."""
        wide = width_mm(words, size_pt, bold)
        left = x_mm - {"left": 0.0, "centre": wide / 2, "right": wide}[align]
        if words:
            self.put(TextLine(left, y_mm, words, size_pt, bold, tone))
        return left + wide

    def block(self, x_mm: float, top_mm: float, block: Block, tone: float = BLACK) -> float:
        """Set lines with the top of their first capitals at `top_mm`; returns the last baseline."""
        self.items += block.at(x_mm, top_mm, tone)
        return top_mm + block.tall_mm

    def words(self, x_mm: float, top_mm: float, wide_mm: float, words: str | Sequence[Span], size_pt: float, leading_pt: float) -> float:
        """Break and set; returns the last baseline."""
        spans = [Span(words)] if isinstance(words, str) else words
        return self.block(x_mm, top_mm, set_text(spans, wide_mm, size_pt, leading_pt))

    # -- lines and shapes
    def path(self, commands: Iterable[Command], width_mm: float = 0.0, fill: float | None = None, dash: tuple[float, ...] = (),
             cap: Literal["butt", "round"] = "butt", join: Literal["mitre", "round"] = "mitre", tone: float = BLACK) -> None:  # fmt: skip
        self.put(Path.of(commands, _stroke(width_mm, dash, cap, join, tone), fill))

    def lines(self, lines: Iterable[Sequence[Point]], width_mm: float = FINE, fill: float | None = None, dash: tuple[float, ...] = (),
              cap: Literal["butt", "round"] = "butt", join: Literal["mitre", "round"] = "mitre", tone: float = BLACK,
              closed: bool = False) -> None:  # fmt: skip
        """Several as one path."""
        self.put(Path.along(lines, closed, _stroke(width_mm, dash, cap, join, tone), fill))

    def line(self, x1: float, y1: float, x2: float, y2: float, width_mm: float = FINE, dash: tuple[float, ...] = (),
             cap: Literal["butt", "round"] = "butt") -> None:  # fmt: skip
        self.put(Path("ML", (x1, y1, x2, y2), _stroke(width_mm, dash, cap)))

    def polygon(self, points: Sequence[Point], width_mm: float = FINE, fill: float | None = None, closed: bool = True, dash: tuple[float, ...] = (),
                join: Literal["mitre", "round"] = "mitre", tone: float = BLACK) -> None:  # fmt: skip
        self.lines((points,), width_mm, fill, dash, join=join, tone=tone, closed=closed)

    def rectangle(self, x: float, y: float, wide: float, tall: float, width_mm: float = FINE, fill: float | None = None, radius: float = 0.0,
                  dash: tuple[float, ...] = ()) -> None:  # fmt: skip
        if not radius:
            self.polygon([(x, y), (x + wide, y), (x + wide, y + tall), (x, y + tall)], width_mm, fill, dash=dash)
            return
        r, k = radius, radius * (1 - _ARC)
        right, foot = x + wide, y + tall
        numbers = (x + r, y, right - r, y, right - k, y, right, y + k, right, y + r,
                   right, foot - r, right, foot - k, right - k, foot, right - r, foot,
                   x + r, foot, x + k, foot, x, foot - k, x, foot - r,
                   x, y + r, x, y + k, x + k, y, x + r, y)  # fmt: skip
        self.put(Path("MLCLCLCLCZ", numbers, _stroke(width_mm, dash), fill))

    def circle(self, x: float, y: float, radius: float, width_mm: float = FINE, fill: float | None = None, dash: tuple[float, ...] = ()) -> None:
        """Of eight Bezier arcs: within 0.00001 of its radius."""
        self.put(Path("MCCCCCCCCZ", tuple(mapped(_CIRCLE, (radius, x), (radius, y))), _stroke(width_mm, dash), fill))

    def shape(self, shape: Shape, x_mm: float, y_mm: float, scale: float = 1.0, width_mm: float = OBJECT, fill: float | None = None,
              dash: tuple[float, ...] = ()) -> None:  # fmt: skip
        """A piece's shape (y up) with its origin at `x_mm`, `y_mm`."""
        self.put(Path.along((shape.outline, *shape.holes), True, _stroke(width_mm, dash, join="round"), fill).mapped((scale, x_mm), (-scale, y_mm)))

    # -- marks with a meaning
    def head(self, x: float, y: float, angle_deg: float, size_mm: float = 3.2) -> None:
        """A filled arrow head with its tip at x, y; 0 points up, 90 to the right."""
        a = math.radians(angle_deg)
        along, across = (math.sin(a), -math.cos(a)), (math.cos(a), math.sin(a))
        back = (x - along[0] * size_mm, y - along[1] * size_mm)
        half = size_mm * 0.42
        barbs = [(back[0] + side * across[0], back[1] + side * across[1]) for side in (half, -half)]
        self.polygon([(x, y), *barbs], 0, BLACK)

    def arrow(self, x1: float, y1: float, x2: float, y2: float, width_mm: float = ATTENTION, size_mm: float = 3.6) -> None:
        angle = math.degrees(math.atan2(x2 - x1, y1 - y2))
        a = math.radians(angle)
        self.line(x1, y1, x2 - math.sin(a) * size_mm * 0.8, y2 + math.cos(a) * size_mm * 0.8, width_mm)
        self.head(x2, y2, angle, size_mm)

    def warning(self, x: float, y: float, tall_mm: float) -> float:
        """The general warning sign (after ISO 7010 W001), black on white; returns its width."""
        wide, line = tall_mm * 1.155, tall_mm * 0.11
        self.polygon([(x + wide / 2, y + line), (x + wide - line * 0.9, y + tall_mm - line / 2), (x + line * 0.9, y + tall_mm - line / 2)],
                     line, WHITE, join="round")  # fmt: skip
        middle, t = x + wide / 2, tall_mm
        stroke = ((-0.06, 0.38), (0.06, 0.38), (0.03, 0.66), (-0.03, 0.66))  # of the exclamation mark
        self.polygon([(middle + t * dx, y + t * dy) for dx, dy in stroke], 0, BLACK)
        self.circle(middle, y + t * 0.77, t * 0.055, 0, BLACK)
        return wide

    def tick_box(self, x: float, y: float, side_mm: float, width_mm: float = CUT) -> None:
        self.put(Group(_tick_box(side_mm, width_mm), x, y))

    def dots(self, places: Iterable[Point], radius: float, width_mm: float, fill: float | None = None) -> None:
        self.items += [Group(_dot(radius, width_mm, fill), x, y) for x, y in places]


# What comes many times on a page is the same thing each time, so that it is written once.
@lru_cache(8)
def _tick_box(side_mm: float, width_mm: float) -> tuple[Item, ...]:
    pen = Pen()
    pen.rectangle(0, 0, side_mm, side_mm, width_mm, WHITE, radius=side_mm / 10)
    return tuple(pen.items)


@lru_cache(8)
def _dot(radius: float, width_mm: float, fill: float | None) -> tuple[Item, ...]:
    pen = Pen()
    pen.circle(0, 0, radius, width_mm, fill)
    return tuple(pen.items)


def capitals_mm(size_pt: float) -> float:
    """The height of a capital letter of Andika at this size."""
    return CAPITAL * size_pt * MM_PER_POINT


def rise_mm(text: str, size_pt: float, bold: bool = False) -> float:
    """How far the highest letter of a text, such as İ or Ổ, stands above the tops of its capitals."""
    return max(rise_em(text, bold) - CAPITAL, 0.0) * size_pt * MM_PER_POINT
