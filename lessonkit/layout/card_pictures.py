"""The framed picture of a card: the action, the piece with its measures, and the slab's thickness as thick as it is."""

from __future__ import annotations

from typing import NamedTuple

from lessonkit.drawing.fonts import width_mm
from lessonkit.drawing.items import CLAY, Group
from lessonkit.layout.card_face import PICTURE_SHAPE
from lessonkit.layout.card_formats import CardType
from lessonkit.layout.card_speech import Languages, say_all
from lessonkit.layout.pen import FINE, Pen
from lessonkit.layout.pictures.book import picture
from lessonkit.layout.pictures.measured import measured
from lessonkit.layout.sheet import MODULE_MM
from lessonkit.layout.wording import say
from lessonkit.pieces.model import Step
from lessonkit.units import NO_BREAK, Units, show_for_hand

SIZE_STEPS = frozenset({"trace", "cut", "opening", "hole", "lay", "wrap", "roll", "stand"})  # where sizes are minded
THICKNESS_STEPS = frozenset({"roll", "cut"})
_MEASURED_SHARE = 0.57  # of the frame's width, beside the action


class Scene(NamedTuple):
    """What all pictures of a set have in common."""

    type: CardType
    easy: bool
    units: Units
    languages: Languages
    left_handed: bool = False
    silent: bool = False  # numbers alone, no words

    def framed(self, step: Step, wide_mm: float, tall_mm: float) -> Pen:
        """The picture of a step in its frame, origin at the frame's top left."""
        pen = Pen()
        bar = self._bar(step)
        cut_from_slab = step.piece.form != "pinch"  # a ball's circle is to compare with, and has no size to cut
        if not self.easy and cut_from_slab and step.picture in SIZE_STEPS:
            left = round(wide_mm * _MEASURED_SHARE / MODULE_MM) * MODULE_MM
            bar = bar if bar and bar.leaves_room(wide_mm - left, tall_mm) else None
            pen.put(measured(step.piece, left, tall_mm, self.units, self.type.text_pt, thickness=bar is None))
            pen.line(left, 0, left, tall_mm)
            self._action_above(bar, pen, step, left, wide_mm - left, tall_mm)
        elif bar and bar.better_beside(wide_mm, tall_mm):
            room = wide_mm - bar.beside_mm
            self._action(pen, step, 0, room, tall_mm)
            bar.draw(pen, room, (tall_mm - bar.tall_mm(bar.beside_mm)) / 2, bar.beside_mm)
        else:
            self._action_above(bar if bar and bar.leaves_room(wide_mm, tall_mm) else None, pen, step, 0, wide_mm, tall_mm)
        pen.rectangle(0, 0, wide_mm, tall_mm)
        return pen

    def _action_above(self, bar: ThicknessBar | None, pen: Pen, step: Step, x: float, wide_mm: float, tall_mm: float) -> None:
        below = bar.tall_mm(wide_mm) if bar else 0.0
        self._action(pen, step, x, wide_mm, tall_mm - below)
        if bar:
            bar.draw(pen, x, tall_mm - below, wide_mm)

    def _action(self, pen: Pen, step: Step, x: float, wide_mm: float, tall_mm: float) -> None:
        """As large as goes into the window, in its middle. A step without a picture of its own shows the piece."""
        air = 2 * self.type.scale
        wide = min(wide_mm - air, (tall_mm - air) / PICTURE_SHAPE)
        drawn = picture(step.picture or "plain", step.piece, wide, self.left_handed) or picture("plain", step.piece, wide)
        if drawn:
            pen.put(Group((drawn,), x + (wide_mm - wide) / 2, (tall_mm - wide * PICTURE_SHAPE) / 2, layer="picture"))

    def _bar(self, step: Step) -> ThicknessBar | None:
        if not names_thickness(step, self.units, self.languages[0]):
            return None
        size = show_for_hand(step.piece.thickness_mm, self.units)
        words = () if self.silent else (f"{say_all('thickness', languages)}: {size}" for languages in (self.languages, self.languages[:1]))
        return ThicknessBar(self.type, step.piece.thickness_mm, (*words, size))


def names_thickness(step: Step, units: Units, language: str) -> bool:
    """Whether the slab's thickness matters in this step: its picture, its text or its STOP speaks of it."""
    size = show_for_hand(step.piece.thickness_mm, units).replace(NO_BREAK, " ")
    named = any(size in words.replace(NO_BREAK, " ") for words in (step.text, step.stop))
    return step.picture in THICKNESS_STEPS or named or say("thick", language) in step.stop.casefold()


class ThicknessBar(NamedTuple):
    """A strip as thick as the slab, to lay clay on. Of its labels, the first that leaves room for the strip stands before
    it; if none does, the last stands above."""

    type: CardType
    thick_mm: float
    labels: tuple[str, ...]

    @property
    def beside_mm(self) -> float:
        """Its width where it stands beside a picture."""
        return 6 * MODULE_MM * self.type.scale

    def leaves_room(self, wide_mm: float, tall_mm: float) -> bool:
        """Whether a picture still goes above it: a slab too thick for that is told in words alone."""
        return self.tall_mm(wide_mm) <= tall_mm * 2 / 3

    def better_beside(self, wide_mm: float, tall_mm: float) -> bool:
        """Whether that leaves a larger picture than the room above the bar."""
        beside = min(wide_mm - self.beside_mm, tall_mm / PICTURE_SHAPE)
        return self.tall_mm(self.beside_mm) <= tall_mm and beside > (tall_mm - self.tall_mm(wide_mm)) / PICTURE_SHAPE

    def tall_mm(self, wide_mm: float) -> float:
        """The row's height, with the air around."""
        label = self._label_before(wide_mm)
        above = 0.0 if label else self._capital_mm + self._below_mm
        return max(self.thick_mm, self._capital_mm if label else 0.0) + above + 2 * self._air_mm

    def draw(self, pen: Pen, x: float, y: float, wide_mm: float) -> None:
        label = self._label_before(wide_mm)
        left, right, top = x + self._air_mm, x + wide_mm - self._air_mm, y + self._air_mm
        if label:
            middle = y + self.tall_mm(wide_mm) / 2
            left = pen.text(left, middle + self._capital_mm / 2, label, self.type.text_pt, bold=True) + 1.5 * self._air_mm
            top = middle - self.thick_mm / 2
        else:
            pen.text(left, top + self._capital_mm, self.labels[-1], self.type.text_pt, bold=True)
            top += self._capital_mm + self._below_mm
        pen.rectangle(left, top, right - left, self.thick_mm, FINE, CLAY)

    def _label_before(self, wide_mm: float) -> str | None:
        """A label that leaves a strip of two modules at least, and not shorter than half of the label."""
        inner = wide_mm - 3.5 * self._air_mm
        widths = ((label, width_mm(label, self.type.text_pt, bold=True)) for label in self.labels)
        return next((label for label, wide in widths if inner - wide >= max(2 * MODULE_MM * self.type.scale, wide / 2)), None)

    @property
    def _air_mm(self) -> float:
        return 2 * self.type.scale

    @property
    def _capital_mm(self) -> float:
        return self.type.capital_mm

    @property
    def _below_mm(self) -> float:
        return self.type.descent_mm + 0.8 * self.type.scale
