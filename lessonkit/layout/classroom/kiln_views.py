"""Kiln shelves drawn to scale: from above with every piece in its place, and all of them from the side between their posts."""

from __future__ import annotations

from collections.abc import Sequence
from math import cos, radians, sin
from typing import NamedTuple

from lessonkit.drawing.fonts import width_mm
from lessonkit.drawing.items import CLAY
from lessonkit.geometry.shape import Point
from lessonkit.layout.classroom.class_plan import Json
from lessonkit.layout.flow import Strip
from lessonkit.layout.pen import CUT, FINE, OBJECT, PRESS, THIN, Pen
from lessonkit.layout.teacher_table import SMALL, TEXT
from lessonkit.layout.wording import say
from lessonkit.lesson.firing import Kiln
from lessonkit.planning.shelves import SHELF_MM
from lessonkit.units import Units, number, show_for_hand

SCALES = (4, 5, 6, 8, 10, 12, 15, 20, 30, 50, 100)
USUAL_SCALE = 8
CAPTION_MM, BELOW_MM, GUTTER_MM = 6.0, 4.0, 4.0
SIDE_MM, SIDE_SCALES, TALLEST_SIDE_MM = 46.0, (10, 15, 20, 30, 50), 90.0  # the view from the side: its column, and how much smaller it is
KILN_MM = 18.0  # how wide the kiln is drawn from the side, where only heights are to scale
LEAST_FOR_SIGN_MM = 4.0


class Shelves(NamedTuple):
    """The tiers of one load, from the lowest up, `scale` times smaller than they are, `across` of them beside each other."""

    firing: Json
    tiers: Sequence[Json]
    kiln: Kiln
    scale: int
    across: int

    @classmethod
    def fitted(cls, firing: Json, tiers: Sequence[Json], kiln: Kiln, wide_mm: float, tall_mm: float) -> Shelves:
        """As large as goes on the rest of a sheet; where nothing does, at a usual scale on as many sheets as that takes."""
        ways = [cls(firing, tiers, kiln, scale, 1) for scale in SCALES]
        ways = [cls(firing, tiers, kiln, way.scale, int((wide_mm - SIDE_MM + GUTTER_MM) // (way._cell_mm()[0] + GUTTER_MM))) for way in ways]
        possible = [way for way in ways if way.across]
        usual = next((way for way in possible if way.scale >= USUAL_SCALE), possible[-1])
        return next((way for way in possible if way._all_mm() <= tall_mm), usual)

    def _cell_mm(self) -> tuple[float, float]:
        """One tier with all its shelves."""
        box = _Box.of(self.firing["shelf_outline_mm"])
        return box.wide / self.scale * max(len(tier["shelves"]) for tier in self.tiers), box.tall / self.scale

    @property
    def _side_scale(self) -> int:
        return next((scale for scale in SIDE_SCALES if self.kiln.stack.mm / scale <= TALLEST_SIDE_MM), SIDE_SCALES[-1])

    def _rows(self) -> list[Sequence[Json]]:
        return [self.tiers[start : start + self.across] for start in range(0, len(self.tiers), self.across)]

    def _row_mm(self, first: bool) -> float:
        """A row of its own height; the only one has to hold the view from the side too."""
        alone = first and len(self.tiers) <= self.across
        return CAPTION_MM + max(self._cell_mm()[1], self.kiln.stack.mm / self._side_scale if alone else 0.0)

    def _all_mm(self) -> float:
        rows = len(self._rows())
        return sum(self._row_mm(not row) for row in range(rows)) + BELOW_MM * rows

    def strips(self, language: str, units: Units) -> list[Strip]:
        """The view from the side stands beside the first rows."""
        strips = []
        for index, row in enumerate(self._rows()):

            def put(pen: Pen, x: float, top: float, index: int = index, row: Sequence[Json] = row) -> None:
                if not index:
                    pen.text(x, top + 3.4, say("kiln_side", language), TEXT.size_pt, True)
                    self._side(pen, x, top + CAPTION_MM, language)
                for place, tier in enumerate(row):
                    left = x + SIDE_MM + place * (self._cell_mm()[0] + GUTTER_MM)
                    self._shelf(pen, left, top, tier, index * self.across + place + 1, language, units)

            strips.append(Strip(self._row_mm(not index), put, BELOW_MM))
        return strips

    # -- from above
    def _shelf(self, pen: Pen, x: float, top: float, tier: Json, count: int, language: str, units: Units) -> None:
        whole, short = say("kiln_shelf_at", language, n=count, at=show_for_hand(tier["at_mm"], units)), say("kiln_shelf", language, n=count)
        words = whole if 5.4 + width_mm(whole, TEXT.size_pt, True) <= self._cell_mm()[0] else short  # its height stands beside it from the side
        pen.tick_box(x + 0.3, top + 0.2, 3.4, OBJECT)
        pen.text(x + 5.4, top + 3.4, words, TEXT.size_pt, True)
        box = _Box.of(self.firing["shelf_outline_mm"])
        for index, shelf in enumerate(tier["shelves"]):
            origin = (x + (index * box.wide - box.left) / self.scale, top + CAPTION_MM + box.top / self.scale)
            pen.polygon(_placed(self.firing["shelf_outline_mm"], origin, self.scale), CUT, join="round")
            for place in shelf:
                self._piece(pen, origin, place)

    def _piece(self, pen: Pen, origin: Point, place: Json) -> None:
        turn = radians(place["turn_deg"])
        outline = self.firing["kinds"][place["kind"]]["outline_mm"]
        turned = [(place["x_mm"] + x * cos(turn) - y * sin(turn), place["y_mm"] + x * sin(turn) + y * cos(turn)) for x, y in outline]
        points = _placed(turned, origin, self.scale)
        pen.polygon(points, PRESS, CLAY, join="round")
        box = _Box.of(points)
        if min(box.wide, box.tall) >= LEAST_FOR_SIGN_MM:
            pen.text(box.left + box.wide / 2, box.bottom + box.tall / 2 + 1.2, str(place["kind"] + 1), TEXT.size_pt, True, "centre")

    # -- from the side
    def _side(self, pen: Pen, x: float, top: float, language: str) -> None:
        """Each shelf with the height of its top, and the posts on it with theirs, in mm."""
        thick = (self.kiln.shelf_thick.mm if self.kiln.shelf_thick else SHELF_MM) / self._side_scale
        foot = top + self.kiln.stack.mm / self._side_scale
        free = foot + SMALL.line_mm  # the words of a low shelf stand above those of the one under it
        pen.rectangle(x + CUT / 2, top, KILN_MM, foot - top, CUT)
        for tier in self.tiers:
            last = tier is self.tiers[-1]
            y = foot - tier["at_mm"] / self._side_scale
            pen.rectangle(x + 1, y, KILN_MM - 1, thick, THIN, CLAY)
            if not last:
                for post in (x + 2.6, x + KILN_MM - 3.6):
                    pen.rectangle(post, y - tier["post_mm"] / self._side_scale, 1.6, tier["post_mm"] / self._side_scale, FINE)
            at, post_mm = number(tier["at_mm"], 0), number(tier["post_mm"], 0)
            words = say("kiln_top", language, at=at) if last else say("kiln_post", language, at=at, post=post_mm)
            free = min(y + 1.4, free - SMALL.line_mm)
            pen.text(x + KILN_MM + 2, free, words, SMALL.size_pt)


class _Box(NamedTuple):
    left: float
    bottom: float
    wide: float
    tall: float

    @classmethod
    def of(cls, points: Sequence[Sequence[float]]) -> _Box:
        xs, ys = [point[0] for point in points], [point[1] for point in points]
        return cls(min(xs), min(ys), max(xs) - min(xs), max(ys) - min(ys))

    @property
    def top(self) -> float:
        return self.bottom + self.tall


def _placed(points: Sequence[Sequence[float]], origin: Point, scale: float) -> list[Point]:
    """Kiln millimetres, y up, on the page."""
    return [(origin[0] + point[0] / scale, origin[1] - point[1] / scale) for point in points]
