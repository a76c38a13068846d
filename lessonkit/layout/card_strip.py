"""A strip of pictures for those who do not read: numbers, pictures, level stripes, STOP boxes, and no sentence.

Two strips to the sheet, one cut between them; glued end to end they are the whole lesson, and a clothes peg says “I am here”.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from lessonkit.drawing.fonts import DESCENT, width_mm
from lessonkit.drawing.items import BLACK, Document, Page
from lessonkit.drawing.typesetting import set_lines
from lessonkit.layout import card_parts as parts
from lessonkit.layout.card_face import PICTURE_SHAPE, RING_MM, Face, ring_mark, stripe_places, stripes
from lessonkit.layout.card_formats import CardType, Format
from lessonkit.layout.card_order import CardOrder
from lessonkit.layout.card_pictures import Scene
from lessonkit.layout.card_piles import collated
from lessonkit.layout.pen import ATTENTION, FINE, SCISSORS_LINE, Pen, capitals_mm
from lessonkit.layout.sheet import EDGE_MM, MODULE_MM, Sheet, scissors
from lessonkit.layout.wording import say
from lessonkit.pieces.model import Kit, Step
from lessonkit.units import MM_PER_POINT

_CELLS, _STRIPS = 4, 2  # steps on a strip, strips on a sheet
_TYPE = CardType(28, 14, 18, 17.5, 14)
_NUMBER_MM, _HEAD_MM, _GAP_MM, _SIGN_MM, _PANEL_MM = 6.0, 9.0, 3.0, 9.0, 12.0


def strip_document(kit: Kit, level: str, paper: str, order: CardOrder) -> Document:
    """The strips of one level. Raises ValueError if the level has no steps, or if fewer than one set is ordered; KeyError for a
    language that the lesson is not there in."""
    kits = order.spoken(kit)
    steps = kits[0].steps[level]
    if not steps:
        raise ValueError(f"level {level} has no steps, so there is no strip")
    strips = [steps[start : start + _CELLS] for start in range(0, len(steps), _CELLS)]
    sheets = collated(strips, order.sets, _STRIPS)
    face = Face(kits[:1], level, paper, Format(4, _TYPE), "picture", len(sheets))
    scene = Scene(_TYPE, True, kit.room.units, face.languages, order.left_handed, silent=True)
    title = say("cards_title", face.languages[0], lesson=face.kit.lesson.title, level=face.kit.room.levels[level])
    return Document(title, face.languages[0], tuple(_page(face, scene, on_sheet, k) for k, on_sheet in enumerate(sheets, 1)))


def _page(face: Face, scene: Scene, strips: Sequence[Sequence[Step]], number: int) -> Page:
    sheet, over = Sheet(face.paper), Pen()
    wide, tall = sheet.size_mm
    over.line(wide / 2, EDGE_MM + 8, wide / 2, tall - EDGE_MM, FINE, SCISSORS_LINE)
    scissors(over, wide / 2, EDGE_MM + 4)
    groups = [_strip(face, scene, steps, number).group(column * wide / 2 + (wide / 2 - face.wide_mm) / 2, sheet.corner_mm[1], layer="card")
              for column, steps in enumerate(strips)]  # fmt: skip
    return Page(wide, tall, (over.group(layer="cuts"), *groups), _name(face, [strips[0][0], strips[-1][-1]]))


def _name(face: Face, steps: Sequence[Step]) -> str:
    first, last = steps[0].number, steps[-1].number
    return say("steps" if first != last else "step", face.languages[0], first=first, last=last, number=first)


def _strip(face: Face, scene: Scene, steps: Sequence[Step], sheet: int) -> Pen:
    pen, tall = Pen(), Sheet(face.paper).live_mm[1]
    ring_mark(pen, 0, 0, RING_MM)
    foot = set_lines(face.foot_words(_name(face, steps), sheet), face.wide_mm, _TYPE.foot_pt, _TYPE.foot_pt * 1.25)
    top = tall - foot.tall_mm - DESCENT * _TYPE.foot_pt * MM_PER_POINT
    pen.block(0, top, foot)
    pitch = (top - _GAP_MM - _HEAD_MM) / _CELLS
    for left, wide in stripe_places(stripes(face.kit, face.level)):
        pen.rectangle(left, _HEAD_MM, wide, pitch * len(steps) - _GAP_MM, 0, BLACK)
    left = _frame_left_mm(face)
    tall = min((face.wide_mm - left) * PICTURE_SHAPE, pitch - 3 * _GAP_MM - _PANEL_MM)
    for cell, step in enumerate(steps):
        pen.put(_cell(face, scene, step, left, tall).group(0, _HEAD_MM + cell * pitch))
        if step is not face.steps[-1]:
            x, foot_mm = _NUMBER_MM + 4, _HEAD_MM + (cell + 1) * pitch - _GAP_MM
            pen.arrow(x, foot_mm - 12, x, foot_mm, ATTENTION)
    return pen


def _frame_left_mm(face: Face) -> float:
    """Where the pictures begin: past the widest number, on the sheet's grid."""
    widest = max(width_mm(step.number, _TYPE.heading_pt, bold=True) for step in face.steps)
    return math.ceil((_NUMBER_MM + max(widest, _SIGN_MM * 1.16) + 1) / MODULE_MM) * MODULE_MM


def _cell(face: Face, scene: Scene, step: Step, left_mm: float, tall_mm: float) -> Pen:
    pen, wide, below = Pen(), face.wide_mm - left_mm, capitals_mm(_TYPE.heading_pt)
    pen.text(_NUMBER_MM, below, step.number, _TYPE.heading_pt, bold=True)
    pen.put(scene.framed(step, wide, tall_mm).group(left_mm, 0, layer="frame"))
    if step.safety:
        pen.warning(_NUMBER_MM, below + _GAP_MM, _SIGN_MM)
    for stop in parts.stop_part((step,), wide, _TYPE, face.languages, silent=True):
        panel = Pen()
        stop.draw(panel, 0)
        pen.put(panel.group(left_mm, tall_mm + _GAP_MM))
    return pen
