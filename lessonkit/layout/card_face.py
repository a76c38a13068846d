"""What stands on every card of a set: ring mark, stripes, level, minutes, heading, and the foot."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import NamedTuple

from lessonkit.drawing.fonts import DESCENT, width_mm
from lessonkit.drawing.items import BLACK
from lessonkit.drawing.typesetting import Block, Span, set_lines, set_text
from lessonkit.layout.card_formats import CardType, Format
from lessonkit.layout.card_speech import Languages, minutes_all, once, say_all, stacked
from lessonkit.layout.pen import THIN, Pen, capitals_mm
from lessonkit.layout.sheet import edition
from lessonkit.layout.wording import say
from lessonkit.lesson.lesson import Reading
from lessonkit.pieces.model import Kit, Step
from lessonkit.units import MM_PER_POINT

HEADING_LINES = 3
PICTURE_SHAPE = 70 / 100  # height to width of every step picture
_HEADING_LEADING = 1.2  # of the type's size
_FOOT_LEADING = 1.25
_LABEL_AIR_MM, _LABEL_GAP_MM, _HEADING_GAP_MM, _FOOT_GAP_MM = 1.2, 2.7, 2.8, 2.3  # on a quarter of a sheet
RING_MM, INDENT_MM = 3.0, 12.0  # the ring mark's radius; where stripes and level begin, past it
_STRIPE_MM, _STRIPES_MM = 1.6, 3.4  # one stripe's height; all of them, if there are several


class Heading(NamedTuple):
    """A step's number and title, or the name of a card that goes on. `rest` is what has no room in three lines, by language."""

    number: str
    block: Block
    indent_mm: float
    rest: tuple[str, ...] = ()


@dataclass(frozen=True, eq=False)
class Face:
    """A set's common look. `kits` are the lesson in each of its languages; `sheets` is how many sheets there are, for the foot.

    What it has worked out for one card it keeps for the next."""

    kits: tuple[Kit, ...]
    level: str
    paper: str
    format: Format
    reading: Reading
    sheets: int

    @cached_property
    def kit(self) -> Kit:
        return self.kits[0]

    @cached_property
    def steps(self) -> tuple[Step, ...]:
        return self.kit.steps[self.level]

    @cached_property
    def silent(self) -> bool:
        """For those who do not read."""
        return self.reading == "picture"

    @cached_property
    def type(self) -> CardType:
        return self.format.type

    @cached_property
    def wide_mm(self) -> float:
        return self.format.field_mm(self.paper)[0]

    @cached_property
    def tall_mm(self) -> float:
        return self.format.field_mm(self.paper)[1]

    @cached_property
    def languages(self) -> Languages:
        return tuple(kit.room.language for kit in self.kits)

    def holds(self, other: Face) -> bool:
        """Whether there is room for whatever a like card of another paper has room for."""
        return self.wide_mm == other.wide_mm and self.tall_mm >= other.tall_mm and self._right_mm <= other._right_mm

    def told(self, step: Step) -> tuple[Step, ...]:
        """The step in each language."""
        return self._told[step.id]

    @cached_property
    def _told(self) -> dict[str, tuple[Step, ...]]:
        return {told[0].id: told for told in zip(*(kit.steps[self.level] for kit in self.kits), strict=True)}

    @cached_property
    def level_names(self) -> list[str]:
        return once([kit.room.levels[self.level] for kit in self.kits], self.languages)

    # -- head
    def heading(self, step: Step) -> Heading:
        if step.id not in self._headings:
            self._headings[step.id] = self._heading(step)
        return self._headings[step.id]

    @cached_property
    def _headings(self) -> dict[str, Heading]:
        return {}

    def _heading(self, step: Step) -> Heading:
        indent = width_mm(step.number, self.type.heading_pt, bold=True) + 3.2 * self.type.scale
        if self.silent:
            return Heading(step.number, self._heading_block([Span(step.number, bold=True)], 0), 0)
        titles = [told.title.split(" ") for told in self.told(step)]
        counts = [self._fitting(words, indent) for words in titles]
        begun = [" ".join(words[:count]) for words, count in zip(titles, counts, strict=True)]
        rest = tuple(" ".join(words[count:]) for words, count in zip(titles, counts, strict=True))
        return Heading(step.number, self._heading_block(stacked(begun, self.languages, bold=True), indent), indent, rest if any(rest) else ())

    def _fitting(self, words: Sequence[str], indent_mm: float) -> int:
        """How many words of a title have room in its lines."""
        count = len(words)
        while len(self._heading_block([Span(" ".join(words[:count]), bold=True)], indent_mm).lines) > HEADING_LINES and count > 1:
            count = min(count - 1, 40)
        return count

    def named(self, names: Sequence[str]) -> Heading:
        """The heading of a card that is not the first of a step, in each language."""
        return Heading("", self._heading_block(stacked(names, self.languages, bold=True), 0), 0)

    def _heading_block(self, spans: Sequence[Span], indent_mm: float) -> Block:
        return set_text(spans, self.wide_mm - indent_mm, self.type.heading_pt, self.type.heading_pt * _HEADING_LEADING)

    def head_mm(self, heading: Heading, time_min: float) -> float:
        """Where the head ends and the picture, or on a card without one the words, may begin."""
        gaps = (self._stripes_mm + _LABEL_AIR_MM + _HEADING_GAP_MM) * self.type.scale + _LABEL_GAP_MM * self.type.gap_scale
        return gaps + self._level_block(time_min).tall_mm + heading.block.tall_mm

    def draw_head(self, pen: Pen, heading: Heading, time_min: float) -> None:
        ring_mark(pen, 0, 0, RING_MM * self.type.scale)
        self.draw_name(pen, heading, time_min, INDENT_MM * self.type.scale, self.wide_mm)

    def draw_name(self, pen: Pen, heading: Heading, time_min: float, left_mm: float, right_mm: float) -> None:
        """Stripes, level and minutes between two margins, and the heading below."""
        self._draw_stripes(pen, left_mm, right_mm)
        level, top = self._level_block(time_min), (self._stripes_mm + _LABEL_AIR_MM) * self.type.scale
        below = pen.block(left_mm, top, level)
        pen.text(right_mm, top + capitals_mm(self.type.label_pt), self._time(time_min), self.type.label_pt, align="right")
        top = below + _LABEL_GAP_MM * self.type.gap_scale
        if heading.indent_mm:
            pen.text(0, top + capitals_mm(self.type.heading_pt), heading.number, self.type.heading_pt, bold=True)
        pen.block(heading.indent_mm, top, heading.block)

    def draw_sign(self, pen: Pen, heading: Heading) -> None:
        """The warning sign in the row of the number, as tall as it, at the right."""
        tall = capitals_mm(self.type.heading_pt)
        top = self.head_mm(heading, 0) - _HEADING_GAP_MM * self.type.scale - tall
        pen.warning(self.wide_mm - tall * 1.155, top, tall)

    def _time(self, time_min: float) -> str:
        return minutes_all(time_min, self.languages) if time_min and not self.silent else ""

    def _level_block(self, time_min: float) -> Block:
        """The level's word, left of the minutes."""
        if time_min not in self._level_blocks:
            z, size = self.type.scale, self.type.label_pt
            room = self.wide_mm - INDENT_MM * z - width_mm(self._time(time_min), size) - 3 * z
            in_row = " · ".join(self.level_names)
            words = in_row if width_mm(in_row, size, bold=True) <= room else "\n".join(self.level_names)
            self._level_blocks[time_min] = set_text((Span(words, bold=True),), room, size, size * _HEADING_LEADING)
        return self._level_blocks[time_min]

    @cached_property
    def _level_blocks(self) -> dict[float, Block]:
        return {}

    @cached_property
    def _stripes_mm(self) -> float:
        return stripes_mm(stripes(self.kit, self.level))

    def _draw_stripes(self, pen: Pen, left_mm: float, right_mm: float) -> None:
        z = self.type.scale
        for top, tall in stripe_places(stripes(self.kit, self.level)):
            pen.rectangle(left_mm, top * z, right_mm - left_mm, tall * z, 0, BLACK)

    # -- foot
    def place(self, step: Step, number: int = 1, total: int = 1) -> str:
        """Where a card stands in its set."""
        some = say("part_of_step", self.kit.room.language, k=number, n=total) if total > 1 else ""
        whole = say("step_of", self.kit.room.language, number=step.number, last=self.steps[-1].number)
        return f"{whole}, {some}" if some else whole

    def foot_mm(self, place: str, more: Sequence[str] = ()) -> float:
        """The height that the foot takes, with the air above it."""
        return self._foot(place, self.sheets, more, 0)[0].tall_mm + DESCENT * self.type.foot_pt * MM_PER_POINT + _FOOT_GAP_MM * self.type.gap_scale

    def draw_foot(self, pen: Pen, place: str, sheet: int, more: Sequence[str] = (), left_mm: float = 0.0) -> None:
        block, right = self._foot(place, sheet, more, left_mm)
        top = self.tall_mm - DESCENT * self.type.foot_pt * MM_PER_POINT - block.tall_mm
        pen.text(self.wide_mm, top + capitals_mm(self.type.foot_pt), right, self.type.foot_pt, align="right")
        pen.block(left_mm, top, block)

    def _foot(self, place: str, sheet: int, more: Sequence[str], left_mm: float) -> tuple[Block, str]:
        """Its lines, and what stands at the right of the first: nothing where that has a line of its own. `more` stands below."""
        left, right = self.foot_words(place, sheet)
        beside = self._one_line(left, left_mm)
        lines = [left, *more] if beside else [left, right, *more]
        block = set_lines(lines, self.wide_mm - left_mm, self.type.foot_pt, self.type.foot_pt * _FOOT_LEADING)
        return block, right if beside else ""

    def foot_words(self, place: str, sheet: int) -> tuple[str, str]:
        return self._foot_left(place), self._foot_right(sheet)

    def _foot_left(self, place: str) -> str:
        spoken = ", ".join(say("language_name", each) for each in self.languages) if len(self.kits) > 1 else ""
        return " · ".join(part for part in (self.kit.lesson.title, self.kit.room.levels[self.level], place, spoken) if part)

    def _foot_right(self, sheet: int) -> str:
        return f"{self._imprint} · {say('sheet_of', self.kit.room.language, k=sheet, n=self.sheets)}"

    @cached_property
    def _imprint(self) -> str:
        return " · ".join((edition(self.kit), self.kit.clay.name, self.paper))

    def _one_line(self, left: str, left_mm: float) -> bool:
        """Whether both halves go on one line, on all cards of the set, with the air between them."""
        widest = max(width_mm(left, self.type.foot_pt), self._widest_left_mm)
        return widest + 4 * self.type.scale + self._right_mm <= self.wide_mm - left_mm

    @cached_property
    def _widest_left_mm(self) -> float:
        return max(width_mm(self._foot_left(self.place(step)), self.type.foot_pt) for step in self.steps)

    @cached_property
    def _right_mm(self) -> float:
        return width_mm(self._foot_right(self.sheets), self.type.foot_pt)

    def all_said(self, key: str, **values: object) -> str:
        """The program's words on one line, in all languages."""
        return say_all(key, self.languages, **values)


def stripes(kit: Kit, level: str) -> int:
    """One for easy, two for advanced, three and more for the room's own levels."""
    own = [name for name in kit.room.levels if name not in ("easy", "advanced")]
    return ["easy", "advanced", *own].index(level) + 1


def stripes_mm(count: int) -> float:
    """How much room so many stripes take, on a quarter of a sheet."""
    return _STRIPE_MM if count == 1 else _STRIPES_MM


def stripe_places(count: int) -> list[tuple[float, float]]:
    """Where each stripe begins and how wide it is; the gap between two is half as wide as they are."""
    wide = stripes_mm(count) / (1.5 * count - 0.5)
    return [(stripe * 1.5 * wide, wide) for stripe in range(count)]


def ring_mark(pen: Pen, left_mm: float, top_mm: float, radius_mm: float) -> None:
    """Where to punch the hole for a ring."""
    x, y, third = left_mm + radius_mm, top_mm + radius_mm, radius_mm / 3
    pen.dots([(x, y)], radius_mm, THIN)
    pen.line(x - third, y, x + third, y, THIN)
    pen.line(x, y - third, x, y + third, THIN)
