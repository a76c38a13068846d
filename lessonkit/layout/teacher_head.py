"""The head of the teacher's sheet: what is made, of which clay, and the finished pieces as fired, to one scale."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from lessonkit.drawing.items import CLAY, WHITE
from lessonkit.drawing.typesetting import Span
from lessonkit.geometry.shape import bounds
from lessonkit.layout.flow import Strip, draw, paragraph, tall_mm, void
from lessonkit.layout.pen import DASHED, OBJECT, PRESS, THIN, Pen
from lessonkit.layout.teacher_table import NAME, SMALL, TEXT
from lessonkit.layout.wording import say
from lessonkit.pieces.model import Kit, Part, Piece
from lessonkit.units import NO_BREAK, number

WIDEST_TEXT_MM = 116.0
BETWEEN_MM = 4.0
RIM = 0.16  # how far the rim of a round pot opens, of its width


def head(kit: Kit, wide_mm: float, picture_mm: float) -> Strip:
    """Title, about, clay and what was assumed at the left; at the right the pieces, at most `picture_mm` high."""
    pieces = _Finished(kit, wide_mm * 0.36, picture_mm)
    text_wide = min(WIDEST_TEXT_MM, wide_mm - pieces.wide_mm - 8)
    strips = paragraph([Span(kit.lesson.title, True)], text_wide, NAME)
    strips += paragraph([Span(kit.lesson.about, True)], text_wide, TEXT, 3.0)
    for index, line in enumerate(facts(kit)):
        strips += paragraph(line, text_wide, TEXT, 2.6 if not index else 1.4)
    for line in kit.assumed:
        strips += paragraph([Span(line, True)], text_wide, TEXT, 2.6)
    return Strip(max(tall_mm(strips), pieces.tall_mm), lambda pen, x, top: void((draw(pen, x, top, strips), pieces.draw(pen, x + wide_mm, top))))


def facts(kit: Kit) -> list[str]:
    """Where and how it is made, and what the clay does."""
    language, clay = kit.room.language, kit.clay
    where = [kit.room.name, say(f"technique_{kit.lesson.technique}", language), *([kit.lesson.season] if kit.lesson.season else [])]
    key = "teacher_clay" if clay.shrinkage else "teacher_clay_true"
    return [
        " · ".join(where),
        say(key, language, clay=clay.name, cone=clay.cone, highest=clay.highest_cone, share=f"{number(clay.shrinkage * 100, 2)}{NO_BREAK}%",
            rest=number(1 - clay.shrinkage, 4)),
    ]  # fmt: skip


@dataclass(frozen=True, slots=True)
class _View:
    """A finished piece in fired millimetres; `put` draws it at a scale with its box's top left at a place."""

    wide_mm: float
    tall_mm: float
    put: Callable[[Pen, float, float, float], None]


class _Finished:
    """All pieces side by side, at one scale, ending at the right."""

    def __init__(self, kit: Kit, wide_mm: float, tall_mm: float) -> None:
        self.views = [_view(piece, 1 - kit.clay.shrinkage) for piece in kit.pieces]
        spare = BETWEEN_MM * (len(self.views) - 1)
        caption = SMALL.size_pt / 2
        self.scale = min((wide_mm - spare) / sum(view.wide_mm for view in self.views), (tall_mm - caption) / max(view.tall_mm for view in self.views))
        self.wide_mm = sum(view.wide_mm for view in self.views) * self.scale + spare
        self.tall_mm = max(view.tall_mm for view in self.views) * self.scale + 1

    def draw(self, pen: Pen, right: float, top: float) -> None:
        x, foot = right - self.wide_mm, top + self.tall_mm - 0.5
        for view in self.views:
            view.put(pen, x, foot - view.tall_mm * self.scale, self.scale)
            x += view.wide_mm * self.scale + BETWEEN_MM


def _view(piece: Piece, left_of_cut: float) -> _View:
    sizes = {measure.key: measure.fired for measure in piece.measures}
    if len(piece.parts) > 1 and {"outside", "tall"} <= sizes.keys():
        return _round_pot(sizes["outside"], sizes["tall"], sizes.get("inside", sizes["outside"]))
    boxes = [bounds(part.shape) for part in piece.parts]
    gap = 6.0
    wide = sum(right - left for left, _, right, _ in boxes) * left_of_cut + gap * (len(boxes) - 1)
    tall = max(top - bottom for _, bottom, _, top in boxes) * left_of_cut

    def put(pen: Pen, x: float, y: float, scale: float) -> None:
        for part, (left, _, right, top) in zip(piece.parts, boxes, strict=True):
            _flat(pen, part, x - left * left_of_cut * scale, y + top * left_of_cut * scale, left_of_cut * scale)
            x += ((right - left) * left_of_cut + gap) * scale

    return _View(wide, tall, put)


def _flat(pen: Pen, part: Part, x: float, y: float, scale: float) -> None:
    """As fired: hanging holes open, press lines dashed, what is joined on in outline."""
    pen.shape(part.shape, x, y, scale, OBJECT, CLAY)
    for hole in part.holes:
        pen.circle(x + hole.x_mm * scale, y - hole.y_mm * scale, hole.across_mm / 2 * scale, PRESS, WHITE)
    for mark in part.marks:
        points = [(x + a * scale, y - b * scale) for a, b in mark.line]
        if mark.kind == "join":
            pen.polygon(points, PRESS, CLAY)
        elif mark.kind == "press":
            pen.polygon(points, THIN, closed=mark.closed, dash=DASHED)


def _round_pot(across: float, tall: float, inside: float) -> _View:
    rise = across * RIM / 2

    def put(pen: Pen, x: float, y: float, scale: float) -> None:
        radius, lift, rim = across / 2 * scale, rise * scale, y + rise * scale
        foot = y + (tall + rise) * scale
        k = 4 / 3 * (2**0.5 - 1)
        pen.path((("M", x, rim), ("L", x, foot), ("C", x, foot + lift * k, x + radius * (1 - k), foot + lift, x + radius, foot + lift),
                  ("C", x + radius * (1 + k), foot + lift, x + 2 * radius, foot + lift * k, x + 2 * radius, foot), ("L", x + 2 * radius, rim)),
                 OBJECT, CLAY, join="round")  # fmt: skip
        pen.polygon(_ellipse(x + radius, rim, radius, lift), OBJECT, CLAY)
        pen.polygon(_ellipse(x + radius, rim, inside / 2 * scale, lift * inside / across), PRESS, WHITE)

    return _View(across, tall + 2 * rise, put)


def _ellipse(x: float, y: float, wide: float, tall: float) -> Sequence[tuple[float, float]]:
    from math import cos, pi, sin

    return [(x + wide * cos(pi * i / 36), y + tall * sin(pi * i / 36)) for i in range(72)]
