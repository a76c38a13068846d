"""Content that runs down columns and over pages: strips of a known height, stacked. What is kept together stays together."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from functools import lru_cache
from typing import NamedTuple

from lessonkit.drawing.fonts import CAPITAL, DESCENT, width_mm
from lessonkit.drawing.typesetting import Block, Span, part, set_text
from lessonkit.layout.pen import Pen
from lessonkit.units import MM_PER_POINT

Draw = Callable[[Pen, float, float], object]  # what it returns is not used

LINES_TOGETHER = 6  # a longer paragraph may be divided between columns, in pieces of at most so many lines


class Strip(NamedTuple):
    """Something `tall_mm` high, drawn with its top left where the flow puts it. `gap_mm` is left free above it, but not at
    the top of a column; `keep` ties it to the strip that follows. `item` marks what begins an item: the gaps between items may be closed up."""

    tall_mm: float
    draw: Draw
    gap_mm: float = 0.0
    keep: bool = False
    item: bool = False


class Type(NamedTuple):
    """Size and leading of a text, in points."""

    size_pt: float
    leading_pt: float

    @property
    def descent_mm(self) -> float:
        return DESCENT * self.size_pt * MM_PER_POINT

    def tall_mm(self, block: Block) -> float:
        """From the top of the first capitals to the foot of the last line's letters."""
        return block.tall_mm + self.descent_mm if block.lines else 0.0

    @property
    def line_mm(self) -> float:
        """From the top of a line's capitals to the foot of its letters."""
        return (CAPITAL + DESCENT) * self.size_pt * MM_PER_POINT

    @property
    def between_mm(self) -> float:
        """What lies free between one line and the next."""
        return self.leading_pt * MM_PER_POINT - self.line_mm


def tall_mm(strips: Sequence[Strip]) -> float:
    """The height of a column of strips."""
    return sum(strip.tall_mm + (strip.gap_mm if index else 0.0) for index, strip in enumerate(strips))


def draw(pen: Pen, x_mm: float, top_mm: float, strips: Iterable[Strip]) -> float:
    """Draw a column from its top; returns where it ends."""
    many = tuple(strips)
    *tops, end = _tops_mm(top_mm, many)
    for strip, top in zip(many, tops, strict=True):
        strip.draw(pen, x_mm, top)
    return end


def ends_mm(top_mm: float, strips: Iterable[Strip]) -> float:
    """Where a column ends that is drawn from `top_mm`."""
    return _tops_mm(top_mm, strips)[-1]


def _tops_mm(top_mm: float, strips: Iterable[Strip]) -> list[float]:
    """Where each strip of a column begins, and where the last ends."""
    tops: list[float] = []
    y = top_mm
    for strip in strips:
        y += strip.gap_mm if tops else 0.0
        tops.append(y)
        y += strip.tall_mm
    return [*tops, y]


def stacked(strips: Sequence[Strip]) -> Strip:
    """Several strips as one, which is never divided."""
    many = tuple(strips)
    return Strip(tall_mm(many), lambda pen, x, top: draw(pen, x, top, many), many[0].gap_mm, many[-1].keep)


def bound(strips: Sequence[Strip]) -> list[Strip]:
    """Each strip that is kept with its next, as one with it."""
    runs: list[list[Strip]] = [[]]
    for strip in strips:
        runs[-1].append(strip)
        if not strip.keep:
            runs.append([])
    return [stacked(run) if len(run) > 1 else run[0] for run in runs if run]


def taken(strips: Sequence[Strip], tall: float) -> int:
    """How many of the strips fit into a column `tall` high."""
    used = 0.0
    for count, strip in enumerate(strips):
        used += strip.tall_mm + strip.gap_mm if count else strip.tall_mm
        if used > tall + 1e-6:
            return count
    return len(strips)


def columns(strips: Sequence[Strip], tall: float, count: int) -> tuple[list[Sequence[Strip]], Sequence[Strip]]:
    """Fill `count` columns one after the other; returns them and what is left over."""
    filled: list[Sequence[Strip]] = []
    rest = strips
    for _ in range(count):
        fit = taken(rest, tall)
        filled.append(rest[:fit])
        rest = rest[fit:]
    return filled, rest


def balanced(strips: Sequence[Strip], tall: float, count: int) -> tuple[list[Sequence[Strip]], Sequence[Strip]]:
    """As `columns`, but as low as can be when all fit, so that the columns end side by side."""
    filled, rest = columns(strips, tall, count)
    if rest:
        return filled, rest
    widest_gaps = sorted(strip.gap_mm for strip in strips[1:])[::-1][: count - 1]  # that no column keeps
    low = (tall_mm(strips) - sum(widest_gaps)) / count
    while (found := columns(strips, low, count))[1]:
        low = min(_with_next(strips, found[0]))
    return found


def _with_next(strips: Sequence[Strip], filled: Sequence[Sequence[Strip]]) -> Iterator[float]:
    """How high each column would be with one strip more."""
    after = 0
    for column in filled:
        after += len(column)
        yield tall_mm([*column, strips[after]])


def paragraph(spans: str | Sequence[Span], wide_mm: float, type_: Type, gap_mm: float = 0.0, lead: Draw | None = None,
              indent_mm: float = 0.0, item: bool = False) -> list[Strip]:  # fmt: skip
    """Text as strips. `lead` draws what stands beside its first line; the text begins `indent_mm` to the right of it. `item` marks the first."""
    block = set_text([Span(spans)] if isinstance(spans, str) else spans, wide_mm - indent_mm, type_.size_pt, type_.leading_pt)
    strips = []
    for index, piece in enumerate(pieces(block)):
        first = index == 0

        def put(pen: Pen, x: float, top: float, piece: Block = piece, first: bool = first) -> None:
            if lead and first:
                lead(pen, x, top)
            pen.block(x + indent_mm, top, piece)

        strips.append(Strip(type_.tall_mm(piece), put, gap_mm if first else type_.between_mm, item=item and first))
    return strips


def pieces(block: Block, lines: int = LINES_TOGETHER) -> Iterator[Block]:
    """A block whole if it is short, else in pieces of nearly equal length."""
    total = len(block.lines)
    if 0 < total <= lines:
        yield block
        return
    count = -(-total // lines)
    for index in range(count):
        yield part(block, total * index // count, total * (index + 1) // count)


@lru_cache(32)  # tried again and again, until all else fits above it
def foot_lines(left: str, right: str, wide_mm: float, type_: Type) -> tuple[Strip, ...]:
    """What stands at the foot: both on one line where they fit beside each other, else the left one wrapped above."""
    right_wide = width_mm(right, type_.size_pt)
    if width_mm(left, type_.size_pt) + right_wide + 4 <= wide_mm:

        def both(pen: Pen, x: float, top: float) -> None:
            baseline = pen.words(x, top, wide_mm, left, type_.size_pt, type_.leading_pt)
            pen.text(x + wide_mm, baseline, right, type_.size_pt, align="right")

        return (Strip(type_.tall_mm(set_text([Span(left)], wide_mm, type_.size_pt, type_.leading_pt)), both),)
    above = paragraph(left, wide_mm, type_)
    below = paragraph(right, wide_mm, type_)
    return (*above, *(Strip(s.tall_mm, s.draw, 1.0) for s in below))
