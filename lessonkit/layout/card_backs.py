"""The back of a card: when its step is well done, and where you are with it."""

from __future__ import annotations

from lessonkit.drawing.typesetting import Span, set_text
from lessonkit.layout.card_deck import Card
from lessonkit.layout.card_face import INDENT_MM, RING_MM, Face, ring_mark
from lessonkit.layout.card_speech import led
from lessonkit.layout.pen import CUT, FINE, Pen
from lessonkit.pieces.model import Step

_GAP_MM, _BOX_MM, _BOXES_MM = 8.0, 8.0, 5.0
_BOXES = ("not_yet", "nearly", "yes")


def drawn_back(face: Face, card: Card, sheet: int, over_side: bool) -> Pen:
    """The step's number and title again, when it is good, and three boxes to tick.

    The hole for the ring comes out at the right end of the upper edge where the card is turned over a side, at the left end
    of the lower edge where it is turned over the top; both are left free for it. Empty for a card that is not a step's first."""
    pen, z = Pen(), face.type.scale
    if not card.pictured or card.step is None:
        return pen
    ring, indent = 2 * RING_MM * z, INDENT_MM * z
    ring_mark(pen, face.wide_mm - ring if over_side else 0, 0 if over_side else face.tall_mm - ring, ring / 2)
    face.draw_name(pen, card.heading, 0, 0, face.wide_mm - (indent if over_side else 0))
    if card.step.good:
        _draw_answer(pen, face, card.step, face.head_mm(card.heading, 0))
    face.draw_foot(pen, card.place, sheet, left_mm=0 if over_side else indent)
    return pen


def _draw_answer(pen: Pen, face: Face, step: Step, top_mm: float) -> None:
    z, type_ = face.type.scale, face.type
    pen.line(0, top_mm, face.wide_mm, top_mm, FINE)
    spans = led("good", [told.good for told in face.told(step)], face.languages)
    measure = min(face.wide_mm, type_.measure_mm)
    y = pen.block(0, top_mm + _GAP_MM * z, set_text(spans, measure, type_.text_pt, type_.leading_pt)) + _GAP_MM * z
    for key in _BOXES:
        pen.tick_box(0, y, _BOX_MM * z, CUT * z)
        words = set_text((Span(face.all_said(key)),), measure - 2 * _BOX_MM * z, type_.text_pt, type_.leading_pt)
        pen.block(1.5 * _BOX_MM * z, y + _BOX_MM * z / 2 - type_.capital_mm / 2, words)
        y += (_BOX_MM + _BOXES_MM) * z
