"""The kiln's door sign: three sheets on one nail, the true one in front. They differ in black and white and from across the room."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import count
from typing import NamedTuple

from lessonkit.drawing.fonts import CAPITAL, width_mm
from lessonkit.drawing.items import BLACK, CLAY, WHITE, Document, Page
from lessonkit.geometry.drafting import curve
from lessonkit.layout.flow import Type, draw, foot_lines, paragraph, tall_mm
from lessonkit.layout.pen import CUT, FINE, HEAVY, OBJECT, Pen, capitals_mm
from lessonkit.layout.sheet import Sheet
from lessonkit.layout.sign_names import ABOVE, above_em
from lessonkit.layout.wording import say
from lessonkit.lesson.firing import WARMEST_TO_OPEN_C
from lessonkit.lesson.room import Room
from lessonkit.units import MM_PER_POINT, NO_BREAK

SENTENCE, TEXTS = Type(44, 50), (Type(17, 23.5), Type(13, 17.5), Type(9.5, 12.6))
PANEL_MM, FRAME_MM = 74.0, 6.0
KILN_MM, HOT_MM = 58.0, 38.0
ABOVE_FOOT_MM = 11.0
LINE_MM = 11.0  # from a label down to its line to write on
MOST_WORD = 0.62  # of the panel's height


class State(NamedTuple):
    """`heat` is how many waves rise, `blanks` what is written by hand; only the cold kiln may be opened."""

    key: str
    heat: int
    blanks: tuple[str, ...]
    opened: bool = False


STATES = (
    State("firing", 3, ("cone", "started", "adult")),
    State("cooling", 1, ("ended", "open_from", "adult")),
    State("cold", 0, ("read", "unloads"), opened=True),
)


def kiln_door_document(room: Room, paper: str) -> Document:
    """FIRING, COOLING and COLD, each on a turned sheet of its own. The temperature at which it may be opened is the kiln's own, from its
    manual, or 50 °C."""
    title = say("door_title", room.language, kiln=_kiln(room))
    return Document(title, room.language, tuple(_page(room, paper, state, k) for k, state in zip(count(1), STATES, strict=False)))


def _kiln(room: Room) -> str:
    return room.kiln.name if room.kiln else say("door_kiln", room.language)


def _page(room: Room, paper: str, state: State, k: int) -> Page:
    sheet, pen, language = Sheet(paper, turned=True), Pen(), room.language
    wide, tall = sheet.live_mm
    top, left = PANEL_MM + 9, 0.0 if state.opened else HOT_MM * 1.155 + 8
    word, where = say(f"door_{state.key}", language), f"{room.name} · {_kiln(room)} · {paper} · {say('sheet_of', language, k=k, n=len(STATES))}"
    for text in TEXTS:  # smaller only where a long name fills the foot
        lines = paragraph(say(f"door_{state.key}_do", language), wide - left - KILN_MM - 10, SENTENCE)
        lines += paragraph(say(f"door_{state.key}_why", language, limit=_limit(room)), wide - left - KILN_MM - 10, text, 6.0)
        foot = foot_lines(say("door_rules", language), where, wide, text)
        foot_top = tall - tall_mm(foot)
        write_on = foot_top - ABOVE_FOOT_MM
        if top + tall_mm(lines) < write_on - LINE_MM - text.line_mm:
            break
    _panel(pen, state, word, wide)
    _picture(pen, state, wide - KILN_MM, top)
    draw(pen, left, top, lines)
    if not state.opened:
        _hot(pen, 0, top - 1, HOT_MM)
    _blanks(pen, [say(f"door_blank_{blank}", language) for blank in state.blanks], write_on, wide, text)
    pen.line(0, foot_top - 4, wide, foot_top - 4, CUT)
    draw(pen, 0, foot_top, foot)
    return sheet.page(pen, word)


def _limit(room: Room) -> str:
    """In the units that the room's thermometer has."""
    warmest = room.kiln.opens_below if room.kiln and room.kiln.opens_below else WARMEST_TO_OPEN_C
    celsius = f"{warmest}{NO_BREAK}°C"
    return celsius if room.units == "mm" else f"{round(warmest * 9 / 5 + 32)}{NO_BREAK}°F ({celsius})"


def _panel(pen: Pen, state: State, word: str, wide: float) -> None:
    """The word as large as fits: white on black while it fires, in a barred frame while it cools, in a thin one when it is cold."""
    if state.key == "firing":
        pen.rectangle(0, 0, wide, PANEL_MM, 0, BLACK)
    elif state.key == "cooling":
        _barred(pen, wide)
    else:
        pen.rectangle(HEAVY / 2, HEAVY / 2, wide - HEAVY, PANEL_MM - HEAVY, HEAVY)
    rise = above_em(word)
    size = min((wide - 2 * (FRAME_MM + 6)) / width_mm(word, 1.0, True), MOST_WORD * PANEL_MM / (CAPITAL + rise - ABOVE) / MM_PER_POINT)
    tone, middle = WHITE if state.key == "firing" else BLACK, (PANEL_MM + (rise - ABOVE) * size * MM_PER_POINT) / 2
    pen.text(wide / 2, middle + capitals_mm(size) / 2, word, size, bold=True, align="centre", tone=tone)


def _barred(pen: Pen, wide: float) -> None:
    """A frame of slanted bars."""
    for top in (0.0, PANEL_MM - FRAME_MM):
        bars = round(wide / 12)
        pitch = wide / bars
        for bar in range(bars):
            x = bar * pitch
            pen.polygon([(x, top + FRAME_MM), (x + pitch / 2, top + FRAME_MM), (x + pitch, top), (x + pitch / 2, top)], 0, BLACK)
    for x in (OBJECT / 2, wide - OBJECT / 2):
        pen.line(x, 0, x, PANEL_MM, OBJECT)


def _hot(pen: Pen, x: float, y: float, tall: float) -> None:
    """The sign for a hot surface (after ISO 7010 W017), black on white."""
    wide, line = tall * 1.155, tall * 0.08
    inner = [(x + wide / 2, y + line), (x + wide - line * 0.9, y + tall - line / 2), (x + line * 0.9, y + tall - line / 2)]
    pen.polygon(inner, line, WHITE, join="round")
    middle = x + wide / 2
    pen.rectangle(middle - tall * 0.26, y + tall * 0.78, tall * 0.52, tall * 0.055, 0, BLACK)
    for side in (-1, 0, 1):
        _wave(pen, middle + side * tall * 0.15, y + tall * (0.46 if not side else 0.54), y + tall * 0.73, tall * 0.045)


def _wave(pen: Pen, x: float, top: float, foot: float, width_mm: float) -> None:
    """One wave of rising heat."""
    sway = (foot - top) * 0.13
    points = [(x + sway * math.sin(math.pi * i / 3), top + (foot - top) * i / 9) for i in range(10)]
    pen.lines((curve(points),), width_mm, cap="round", join="round")


def _picture(pen: Pen, state: State, x: float, top: float) -> None:
    """A kiln from the front: shut and crossed out, or its lid up and ticked."""
    wide, foot = KILN_MM, top + KILN_MM
    left, right, body = x + 8, x + wide - 8, top + 22
    for leg in (left + 3, right - 7):
        pen.rectangle(leg, foot - 5, 4, 5, OBJECT, BLACK)
    pen.rectangle(left, body, right - left, foot - 5 - body, HEAVY, WHITE)
    for ring in (body + 9, foot - 14):
        pen.line(left, ring, right, ring, OBJECT)
    if state.opened:
        pen.polygon([(left, body - 1.5), (left - 3.4, body - 3.2), (left + 14, body - 21), (left + 17.4, body - 19.2)], HEAVY, WHITE, join="round")
        pen.rectangle(left + 16, body + 0.7, 10, 1.6, 0, CLAY)
        _tick(pen, right - 4, body - 8)
        return
    pen.rectangle(left - 2, body - 6, right - left + 4, 6, HEAVY, WHITE)
    for wave in range(state.heat):
        middle = (left + right) / 2 + (wave - (state.heat - 1) / 2) * 10
        _wave(pen, middle, top - 1, body - 8.5, 1.2)
    middle, centre, half = (left + right) / 2, (body + foot - 5) / 2, 13.0
    for ground, width in ((WHITE, 6.4), (BLACK, 3.6)):
        for side in (1, -1):
            pen.path((("M", middle - half, centre - side * half), ("L", middle + half, centre + side * half)), width, cap="round", tone=ground)


def _tick(pen: Pen, x: float, y: float) -> None:
    pen.path((("M", x - 8, y), ("L", x - 3, y + 5.4), ("L", x + 6, y - 8)), 3.0, cap="round", join="round")


def _blanks(pen: Pen, labels: Sequence[str], foot: float, wide: float, text: Type) -> None:
    """Lines to write on with a wax pencil, side by side, each under what it is for."""
    pitch = (wide + 8) / len(labels)
    for index, label in enumerate(labels):
        pen.text(index * pitch, foot - LINE_MM, label, text.size_pt)
        pen.line(index * pitch, foot, (index + 1) * pitch - 8, foot, FINE)
