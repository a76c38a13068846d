"""What a page is made of. Millimetres, origin at the page's top left, y downwards; writers choose nothing."""

from __future__ import annotations

from typing import Literal, NamedTuple

Move = tuple[Literal["M"], float, float]
LineTo = tuple[Literal["L"], float, float]
Curve = tuple[Literal["C"], float, float, float, float, float, float]
Close = tuple[Literal["Z"]]
Command = Move | LineTo | Curve | Close

BLACK, CLAY, WHITE = 0.0, 0.82, 1.0  # the three tones; clay is 18 % grey on every paper


class Stroke(NamedTuple):
    """How a line is drawn. `tone` runs from 0 (black) to 1 (white)."""

    width_mm: float
    dash_mm: tuple[float, ...] = ()
    tone: float = BLACK
    cap: Literal["butt", "round"] = "butt"
    join: Literal["mitre", "round"] = "round"


class Path(NamedTuple):
    """Lines and cubic curves; filled by the even-odd rule when `fill` is a tone."""

    commands: tuple[Command, ...]
    stroke: Stroke | None = None
    fill: float | None = None


class TextLine(NamedTuple):
    """One line of text from its left end on the baseline, in Andika (or DejaVu Sans, word by word, for what Andika lacks)."""

    x_mm: float
    y_mm: float
    text: str
    size_pt: float
    bold: bool = False
    tone: float = BLACK


class Group(NamedTuple):
    """Items moved right by `x_mm` and down by `y_mm`, clipped to a rectangle (left, top, wide, tall, in the
    group's own coordinates) if one is given. `layer` names it in an SVG and marks its role for tests.

    With `half_turn` the items are upside down: what is at (x, y) comes to (x_mm - x, y_mm - y). It is for the far side of
    what is folded, which says again what stands upright elsewhere: a reader's program is told to pass over its words."""

    items: tuple[Item, ...]
    x_mm: float = 0.0
    y_mm: float = 0.0
    clip_mm: tuple[float, float, float, float] | None = None
    layer: str = ""
    half_turn: bool = False


Item = Path | TextLine | Group


class Page(NamedTuple):
    """A sheet. `name` is its bookmark."""

    wide_mm: float
    tall_mm: float
    items: tuple[Item, ...]
    name: str


class Document(NamedTuple):
    """Pages in order with the title and the language (`en`, `es`) that a reader's program announces."""

    title: str
    language: str
    pages: tuple[Page, ...]
