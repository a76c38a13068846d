"""A small drawing of how the parts lie on the slab, where a stencil sheet has room for it."""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache
from typing import TYPE_CHECKING

from lessonkit.drawing.items import CLAY, Item
from lessonkit.drawing.typesetting import Span
from lessonkit.forgetting import of_a_lesson
from lessonkit.geometry.shape import Shape, centroid, contains_point, largest_free_disc, moved, turned
from lessonkit.layout.pen import FINE, OBJECT, Pen
from lessonkit.layout.stencils.board import Board, Spot
from lessonkit.layout.stencils.panels import FEW, SMALL, Panel, stacked, words
from lessonkit.layout.wording import say
from lessonkit.pieces.model import Kit
from lessonkit.units import number, show_length

if TYPE_CHECKING:
    from lessonkit.planning.nests import Lying, Nest

Spoke = tuple[float, float, float]  # a place and a radius

LONG_MM = (56.0, 40.0)  # of the drawn slab, as there is room
EASES_MM = (4.0, 1.0)  # of free room around it
LETTER_MM = 2.4  # a part must leave so much around its letter


def seat_nests(boards: Sequence[Board], kit: Kit) -> None:
    """Each slab on the last sheet that has room for it in its waste. Where not even a bare slab has room, nobody asks what lies on it."""
    if kit.room.slab is None:
        return
    tall, wide = sorted((kit.room.slab.wide.mm, kit.room.slab.long.mm))
    least, ease = min(LONG_MM), 2 * min(EASES_MM)
    if not any(board.ground.fits(least + ease, least * tall / wide + ease, board.scrap) for board in boards):
        return
    from lessonkit.planning.nests import nests

    found = nests(kit)
    for nest in found:
        panels = [_panel(nest, long, kit, len(found) > 1) for long in LONG_MM]
        for board in reversed(boards):
            if board.seat(panels, Spot(board.wide_mm, board.tall_mm, (1, 1), board.scrap, EASES_MM), layer="nest"):
                break


def _panel(nest: Nest, long_mm: float, kit: Kit, named: bool) -> Panel:
    language, units = kit.room.language, kit.room.units
    size = f"{show_length(nest.wide_mm, units)} x {show_length(nest.tall_mm, units)}"
    key = "stencil_nest" + ("_slabs" if nest.slabs > 1 else "_more" if nest.more else "_one" if nest.learners == 1 else "")
    text = say(key, language, size=size, n=nest.slabs if nest.slabs > 1 else nest.learners, offcut=number(nest.offcut * 100, 0))
    whose = say("stencil_nest_of", language, clay=nest.clay, thick=show_length(nest.thickness_mm, units)) + " "
    return stacked([words([[Span(whose if named else "", True), Span(text)]], 60.0), _drawing(nest, long_mm)], 1, (0, 1.6))


def _drawing(nest: Nest, long_mm: float) -> Panel:
    """With its longer side across."""
    scale, on_its_side = long_mm / max(nest.wide_mm, nest.tall_mm), nest.tall_mm > nest.wide_mm
    line = OBJECT / 2
    wide, tall = (side * scale for side in ((nest.tall_mm, nest.wide_mm) if on_its_side else (nest.wide_mm, nest.tall_mm)))

    def place(x: float, y: float) -> tuple[float, float]:
        return (line + y * scale, line + x * scale) if on_its_side else (line + x * scale, line + tall - y * scale)

    def draw() -> tuple[Item, ...]:
        pen = Pen()
        pen.rectangle(line, line, wide, tall, OBJECT)
        for lying in nest.lying:
            pen.polygon([place(x, y) for x, y in lying.shape.outline], FINE, CLAY, join="round")
            for hole in lying.shape.holes:
                pen.polygon([place(x, y) for x, y in hole], FINE, 1.0, join="round")
            x, y, radius = _letter_spot(lying)
            if radius * scale >= LETTER_MM:
                letter = words([[Span(lying.letter, True)]], 20.0, SMALL)
                left, top = place(x, y)
                pen.put(letter.at(left - letter.wide_mm / 2, top - letter.tall_mm / 2))
        return tuple(pen.items)

    return Panel(draw, wide + OBJECT, tall + OBJECT)


def _letter_spot(lying: Lying) -> Spoke:
    """Where a part has room for its letter, and how far round: in its middle, or if that is no clay, where most is."""
    middle = _middle(lying.part)
    if middle is None:
        return largest_free_disc(lying.shape, 1.0)
    x, y, radius = middle
    return *moved(turned(Shape(((x, y),)), lying.place.turn_deg), lying.place.x, lying.place.y).outline[0], radius


@of_a_lesson
@lru_cache(FEW)
def _middle(part: Shape) -> Spoke | None:
    """The middle of a part that has clay there, and how far round there is as much somewhere."""
    x, y = centroid(part)
    return (x, y, largest_free_disc(part, 1.0)[2]) if contains_point(part, x, y) else None
