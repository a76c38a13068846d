"""What a page is made of. Millimetres, origin at the page's top left, y downwards; writers choose nothing."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import chain, islice
from typing import Literal, NamedTuple, cast

Move = tuple[Literal["M"], float, float]
LineTo = tuple[Literal["L"], float, float]
Curve = tuple[Literal["C"], float, float, float, float, float, float]
Close = tuple[Literal["Z"]]
Command = Move | LineTo | Curve | Close
NUMBERS = {"M": 2, "L": 2, "C": 6, "Z": 0}  # that each command has
Axis = tuple[float, float]  # a coordinate v becomes v * first + second

BLACK, CLAY, WHITE = 0.0, 0.82, 1.0  # the three tones; clay is 18 % grey on every paper


class Stroke(NamedTuple):
    """How a line is drawn. `tone` runs from 0 (black) to 1 (white)."""

    width_mm: float
    dash_mm: tuple[float, ...] = ()
    tone: float = BLACK
    cap: Literal["butt", "round"] = "butt"
    join: Literal["mitre", "round"] = "round"


class Path(NamedTuple):
    """Lines and cubic curves; filled by the even-odd rule when `fill` is a tone.

    They are kept flat, for the sake of speed: the commands' letters in a row, and in a row the numbers of them all, x before y."""

    letters: str
    numbers: tuple[float, ...]
    stroke: Stroke | None = None
    fill: float | None = None

    @classmethod
    def of(cls, commands: Iterable[Command], stroke: Stroke | None = None, fill: float | None = None) -> Path:
        commands = tuple(commands)
        numbers = tuple(chain.from_iterable(command[1:] for command in commands))
        return cls("".join([command[0] for command in commands]), numbers, stroke, fill)

    @classmethod
    def along(cls, lines: Iterable[Sequence[tuple[float, float]]], closed: bool, stroke: Stroke | None = None, fill: float | None = None) -> Path:
        """From point to point of each line, and back to its first if they are closed. ValueError for a line without points."""
        lines = tuple(lines)
        if not all(lines):
            raise ValueError("a line without points can't be drawn.")
        return cls(letters_along(map(len, lines), closed), tuple(chain.from_iterable(chain.from_iterable(lines))), stroke, fill)

    @property
    def commands(self) -> tuple[Command, ...]:
        """Each with its numbers."""
        left = iter(self.numbers)
        return cast(tuple[Command, ...], tuple((letter, *islice(left, NUMBERS[letter])) for letter in self.letters))

    def points(self) -> Iterator[tuple[float, float]]:
        """Of the lines and curves in order, the curves' controls among them."""
        return zip(self.numbers[::2], self.numbers[1::2], strict=True)

    def mapped(self, x: Axis, y: Axis) -> Path:
        """Scaled and moved, but for the width of its line."""
        return self._replace(numbers=tuple(mapped(self.numbers, x, y)))


def letters_along(counts: Iterable[int], closed: bool) -> str:
    """Of a path along lines of so many points."""
    end = "Z" if closed else ""
    return "".join([f"M{'L' * (count - 1)}{end}" for count in counts])


def mapped(numbers: Sequence[float], x: Axis, y: Axis) -> list[float]:
    """Those of a path, x before y, each put in its place."""
    (across, right), (down, foot) = x, y
    found = [0.0] * len(numbers)
    found[::2] = [n * across + right for n in numbers[::2]]
    found[1::2] = [n * down + foot for n in numbers[1::2]]
    return found


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

    With a `scale` they are drawn so many times as large, places and letters; not so the widths of lines and their dashes, which are
    those on the paper. One picture can be shown at many sizes.

    With `half_turn` the items are upside down: what is at (x, y) comes to (x_mm - x, y_mm - y), at a scale of 1. It is for the far side of
    what is folded, which says again what stands upright elsewhere: a reader's program is told to pass over its words."""

    items: tuple[Item, ...]
    x_mm: float = 0.0
    y_mm: float = 0.0
    clip_mm: tuple[float, float, float, float] | None = None
    layer: str = ""
    half_turn: bool = False
    scale: float = 1.0


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
