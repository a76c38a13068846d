"""What stands on every card of a set: ring mark, stripes, level, minutes, heading, and the foot."""

from __future__ import annotations

from dataclasses import dataclass

from lessonkit.drawing.fonts import DESCENT, width_mm
from lessonkit.drawing.items import BLACK
from lessonkit.drawing.typesetting import Block, Span, set_text
from lessonkit.layout.card_formats import CardType, Format
from lessonkit.layout.pen import THIN, Pen, capitals_mm
from lessonkit.layout.sheet import edition
from lessonkit.layout.wording import minutes, say
from lessonkit.pieces.model import Kit, Step
from lessonkit.units import MM_PER_POINT

HEADING_LINES = 3
_HEADING_LEADING = 1.2  # of the type's size
_FOOT_LEADING = 1.25
_LABEL_AIR_MM, _LABEL_GAP_MM, _HEADING_GAP_MM, _FOOT_GAP_MM = 1.2, 2.7, 2.8, 2.3  # on a quarter of a sheet
_INDENT_MM = 12.0  # of stripes and level, past the ring mark
_STRIPE_MM, _STRIPES_MM = 1.6, 3.4  # one stripe's height; all of them, if there are several


@dataclass(frozen=True, slots=True)
class Heading:
    """A step's number and title, or the name of a card that goes on. `rest` is what has no room in three lines."""

    number: str
    block: Block
    indent_mm: float
    rest: str = ""


@dataclass(frozen=True, slots=True)
class Face:
    """A set's common look. `sheets` is how many there are, for the foot."""

    kit: Kit
    level: str
    paper: str
    format: Format
    sheets: int

    @property
    def type(self) -> CardType:
        return self.format.type

    @property
    def wide_mm(self) -> float:
        return self.format.field_mm(self.paper)[0]

    @property
    def tall_mm(self) -> float:
        return self.format.field_mm(self.paper)[1]

    @property
    def language(self) -> str:
        return self.kit.room.language

    # -- head
    def heading(self, step: Step) -> Heading:
        indent = width_mm(step.number, self.type.heading_pt, bold=True) + 3.2 * self.type.scale
        words = step.title.split(" ")
        count = len(words)
        block = self._heading_block(step.title, indent)
        while len(block.lines) > HEADING_LINES and count > 1:
            count = min(count - 1, 40)
            block = self._heading_block(" ".join(words[:count]), indent)
        return Heading(step.number, block, indent, " ".join(words[count:]))

    def continued(self, words: str) -> Heading:
        return Heading("", self._heading_block(words, 0), 0)

    def _heading_block(self, words: str, indent_mm: float) -> Block:
        return set_text([Span(words, bold=True)], self.wide_mm - indent_mm, self.type.heading_pt, self.type.heading_pt * _HEADING_LEADING)

    def head_mm(self, heading: Heading, time_min: float) -> float:
        """Where the head ends and the picture, or on a card without one the words, may begin."""
        z = self.type.scale
        return (self._stripes_mm + _LABEL_AIR_MM + _LABEL_GAP_MM + _HEADING_GAP_MM) * z + self._level_block(time_min).tall_mm + heading.block.tall_mm

    def draw_head(self, pen: Pen, heading: Heading, time_min: float) -> None:
        z = self.type.scale
        _ring_mark(pen, 3 * z)
        self._draw_stripes(pen)
        level, top = self._level_block(time_min), (self._stripes_mm + _LABEL_AIR_MM) * z
        below = pen.block(_INDENT_MM * z, top, level)
        pen.text(self.wide_mm, top + capitals_mm(self.type.label_pt), self._time(time_min), self.type.label_pt, align="right")
        top = below + _LABEL_GAP_MM * z
        pen.text(0, top + capitals_mm(self.type.heading_pt), heading.number, self.type.heading_pt, bold=True)
        pen.block(heading.indent_mm, top, heading.block)

    def _time(self, time_min: float) -> str:
        return minutes(time_min, self.language) if time_min else ""

    def _level_block(self, time_min: float) -> Block:
        """The level's word, left of the minutes."""
        z, size = self.type.scale, self.type.label_pt
        room = self.wide_mm - _INDENT_MM * z - width_mm(self._time(time_min), size) - 3 * z
        return set_text([Span(self.kit.room.levels[self.level], bold=True)], room, size, size * _HEADING_LEADING)

    @property
    def _stripes(self) -> int:
        """One for easy, two for advanced, three and more for the room's own levels."""
        own = [level for level in self.kit.room.levels if level not in ("easy", "advanced")]
        return ["easy", "advanced", *own].index(self.level) + 1

    @property
    def _stripes_mm(self) -> float:
        return _STRIPE_MM if self._stripes == 1 else _STRIPES_MM

    def _draw_stripes(self, pen: Pen) -> None:
        """From the ring mark to the right edge; the gap between two is half as high as they are."""
        z, tall = self.type.scale, self._stripes_mm / (1.5 * self._stripes - 0.5)
        for stripe in range(self._stripes):
            pen.rectangle(_INDENT_MM * z, stripe * 1.5 * tall * z, self.wide_mm - _INDENT_MM * z, tall * z, 0, BLACK)

    # -- foot
    def foot_mm(self, step: Step, part: str, first: bool) -> float:
        """The height that the foot takes, with the air above it."""
        block = self._foot_block(step, part, self.sheets, first)
        return block.tall_mm + DESCENT * self.type.foot_pt * MM_PER_POINT + _FOOT_GAP_MM * self.type.scale

    def draw_foot(self, pen: Pen, step: Step, part: str, sheet: int, first: bool) -> None:
        block = self._foot_block(step, part, sheet, first)
        top = self.tall_mm - DESCENT * self.type.foot_pt * MM_PER_POINT - block.tall_mm
        if self._one_line(part):
            right = self._foot_words(step, part, sheet)[1]
            pen.text(self.wide_mm, top + capitals_mm(self.type.foot_pt), right, self.type.foot_pt, align="right")
        pen.block(0, top, block)

    def _foot_block(self, step: Step, part: str, sheet: int, first: bool) -> Block:
        """All of the foot but a right half that stands on the first line. The set's first card says what was assumed."""
        left, right = self._foot_words(step, part, sheet)
        lines = [left, *([] if self._one_line(part) else [right]), *(self.kit.assumed if first else ())]
        return set_text([Span("\n".join(lines))], self.wide_mm, self.type.foot_pt, self.type.foot_pt * _FOOT_LEADING)

    def _foot_words(self, step: Step, part: str, sheet: int) -> tuple[str, str]:
        last = self.kit.steps[self.level][-1].number
        number = say("step_of", self.language, number=step.number, last=last) + (f", {part}" if part else "")
        left = (self.kit.lesson.title, self.kit.room.levels[self.level], number)
        right = (edition(self.kit), self.kit.clay.name, self.paper, say("sheet_of", self.language, k=sheet, n=self.sheets))
        return " · ".join(left), " · ".join(right)

    def _one_line(self, part: str) -> bool:
        """Whether both halves go on one line, on all cards of the set."""
        size, air = self.type.foot_pt, 4 * self.type.scale
        halves = (self._foot_words(step, part, self.sheets) for step in self.kit.steps[self.level])
        return all(width_mm(left, size) + air + width_mm(right, size) <= self.wide_mm for left, right in halves)


def _ring_mark(pen: Pen, radius_mm: float) -> None:
    """Where to punch the hole for a ring."""
    pen.circle(radius_mm, radius_mm, radius_mm, THIN)
    third = radius_mm / 3
    pen.line(2 * third, radius_mm, 4 * third, radius_mm, THIN)
    pen.line(radius_mm, 2 * third, radius_mm, 4 * third, THIN)
