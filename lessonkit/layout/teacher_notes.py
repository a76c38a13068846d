"""What stands in columns on the teacher's sheet: to prepare, to lay out, stops, faults and cures, cautions, words, notes."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import groupby
from typing import NamedTuple

from lessonkit.drawing.fonts import width_mm
from lessonkit.drawing.typesetting import Span, set_text
from lessonkit.layout.flow import Strip, paragraph
from lessonkit.layout.pen import CUT, FINE, OBJECT, Pen, capitals_mm
from lessonkit.layout.teacher_rubric import standards
from lessonkit.layout.teacher_table import TEXT
from lessonkit.layout.wording import say
from lessonkit.pieces.model import Kit
from lessonkit.pieces.things import substitutes
from lessonkit.units import show_length

HEADING_MM = 6.0
TICK_MM = 5.6
USUAL_CAUTIONS = ("dust", "tools", "hands", "dry", "kiln", "fumes", "food", "rules")
TO_WRITE_DOWN = ("short", "lost", "bar", "change")


class Air(NamedTuple):
    """Room between things, in mm: above a section, above a paragraph, above a row of the two tables. Closed up by a little
    where that saves a page; type never is."""

    section: float
    item: float
    size_row: float
    step_row: float


AIRS = tuple(Air(4.8 - k * 0.3, 2.4 - k * 0.2, 2.0 - k * 0.1, 2.6 - k * 0.2) for k in range(5))


def heading(words: str, wide_mm: float, air: Air, warning: bool = False) -> list[Strip]:
    """A rule and the words under it, kept with what follows."""
    room = wide_mm - (9 if warning else 0)
    block = set_text([Span(words, True)], room, TEXT.size_pt, TEXT.leading_pt)
    rest = HEADING_MM - TEXT.line_mm

    def put(pen: Pen, x: float, top: float) -> None:
        pen.line(x, top + CUT / 2, x + wide_mm, top + CUT / 2, CUT)
        pen.block(x, top + rest, block)
        if warning:
            pen.warning(x + wide_mm - 7, top + 1.2, 5.4)

    return [Strip(max(rest + TEXT.tall_mm(block), 7.0 if warning else 0.0), put, air.section, keep=True)]


def sections(kit: Kit, wide_mm: float) -> list[list[Strip]]:
    """Every section that has something to say, in reading order; a heading is the first strip of each. Without the room above
    them and above their items, which `aired` gives."""
    language = kit.room.language
    listed: list[tuple[str, list[Strip]]] = [
        ("teacher_warnings", _warnings(kit, wide_mm)),
        ("teacher_prepare", _ticked([*kit.lesson.prepare, say(f"teacher_bars_{kit.room.units}", language)], wide_mm)),
        ("teacher_supplies", _supplies(kit, wide_mm)),
        ("teacher_stops", _stops(kit, wide_mm)),
        ("teacher_early", _items(_early(kit), wide_mm)),
        ("teacher_wrong", _items([(mishap.what, mishap.cure) for mishap in kit.lesson.wrong], wide_mm)),
        ("teacher_cautions", _cautions(kit, wide_mm)),
        ("teacher_words", _items(list(kit.lesson.words.items()), wide_mm)),
        ("teacher_care", _items([("", text) for text in kit.lesson.care], wide_mm)),
        ("rubric_standards", _ticked(standards(kit), wide_mm)),
        ("teacher_at_hand", _items(_at_hand(kit), wide_mm)),
        ("teacher_write", _to_write(kit, wide_mm)),
    ]
    signed = ("teacher_warnings", "teacher_cautions")
    return [[*heading(say(key, language), wide_mm, AIRS[0], key in signed), *strips] for key, strips in listed if strips]


def aired(parts: Sequence[Sequence[Strip]], air: Air) -> list[list[Strip]]:
    """The sections with that room above them and above their items."""
    return [
        [first._replace(gap_mm=air.section), *(strip._replace(gap_mm=air.item) if strip.item else strip for strip in strips)]
        for first, *strips in parts
    ]


def _items(pairs: Sequence[tuple[str, str]], wide: float) -> list[Strip]:
    """Paragraphs that begin bold."""
    strips: list[Strip] = []
    for bold, text in pairs:
        spans = [Span(f"{bold} ", True), Span(text)] if bold else [Span(text)]
        strips += paragraph(spans, wide, TEXT, item=True)
    return strips


def _ticked(texts: Sequence[str | Sequence[Span]], wide: float) -> list[Strip]:
    strips: list[Strip] = []
    for text in texts:
        strips += paragraph(text, wide, TEXT, 0, lambda pen, x, top: pen.tick_box(x + 0.3, top - 0.5, 3.4, OBJECT), TICK_MM, item=True)
    return strips


def _early(kit: Kit) -> list[tuple[str, str]]:
    """What the lesson offers to those who are done early, with the levels where it is not for all."""
    names = kit.room.levels
    whose = (", ".join(names.get(level, level) for level in extra.levels) for extra in kit.lesson.early)
    return [(f"{who}:" if who else "", extra.text) for who, extra in zip(whose, kit.lesson.early, strict=True)]


def _at_hand(kit: Kit) -> list[tuple[str, str]]:
    """Round things that mark the circles when the printer is broken."""
    language, units, found = kit.room.language, kit.room.units, []
    for one in substitutes(kit):
        sizes = {"across": one.across_mm, "cut": one.measure.cut, "fired": one.fired_mm}
        marks = say("teacher_thing_marks", language, thing=one.thing, **{key: show_length(mm, units) for key, mm in sizes.items()})
        found.append((say("teacher_thing", language, piece=one.piece.name, measure=one.measure.words), marks))
    return found


def _warnings(kit: Kit, wide: float) -> list[Strip]:
    return _items([(problem.what, problem.hint) for piece in kit.pieces for problem in piece.warnings], wide)


def _supplies(kit: Kit, wide: float) -> list[Strip]:
    """Under each of what they are counted by, person first."""
    strips: list[Strip] = []
    order = ("person", "pair", "table", "class")
    for per, group in groupby(sorted(kit.lesson.supplies, key=lambda one: order.index(one.per)), key=lambda one: one.per):
        label = paragraph([Span(say(f"teacher_per_{per}", kit.room.language), True)], wide, TEXT, item=True)
        strips += [strip._replace(keep=True) for strip in label]
        counted = [("" if supply.count is None else f"{supply.count}", supply.name) for supply in group]
        column = max(TICK_MM - 1.6, *(width_mm(count, TEXT.size_pt) for count, _ in counted))
        for count, name in counted:
            strips += _supply(count, name, wide, column)
    return strips


def _supply(count: str, name: str, wide: float, column_mm: float) -> list[Strip]:
    def put(pen: Pen, x: float, top: float) -> None:
        pen.text(x + column_mm, top + capitals_mm(TEXT.size_pt), count, TEXT.size_pt, align="right")

    return paragraph(name, wide, TEXT, 1.1, put, column_mm + 2.6)


def _stops(kit: Kit, wide: float) -> list[Strip]:
    """Each question once, with the levels it is for where they differ."""
    language = kit.room.language
    asked: dict[tuple[str, str], list[str]] = {}
    for written in kit.lesson.steps:
        for level, steps in kit.steps.items():
            for step in steps:
                if step.id == written.id and step.stop:
                    asked.setdefault((step.number, step.stop), []).append(level)
    pairs = []
    for (number, question), levels in asked.items():
        who = "" if len(levels) == len(kit.steps) else ", " + ", ".join(kit.room.levels.get(level, level) for level in levels)
        pairs.append((say("teacher_step_n", language, number=number) + who, question))
    return _items(pairs, wide)


def _cautions(kit: Kit, wide: float) -> list[Strip]:
    """What the steps say for safety, what the lesson adds, and what is usual in every clay room."""
    language = kit.room.language
    of_steps = dict.fromkeys((step.number, text) for written in kit.lesson.steps for steps in kit.steps.values() for step in steps
                             if step.id == written.id for text in step.safety)  # fmt: skip
    pairs = [(say("teacher_step_n", language, number=number), text) for number, text in of_steps]
    pairs += [("", text) for text in kit.lesson.cautions]
    pairs += [(say(f"caution_{key}_word", language), say(f"caution_{key}", language)) for key in USUAL_CAUTIONS]
    return _items(pairs, wide)


def _to_write(kit: Kit, wide: float) -> list[Strip]:
    return [strip for key in TO_WRITE_DOWN for strip in _line_to_fill(say(f"teacher_write_{key}", kit.room.language), wide)]


def _line_to_fill(words: str, wide: float) -> list[Strip]:
    block = set_text([Span(words)], wide, TEXT.size_pt, TEXT.leading_pt)
    last = "".join(span.text for span in block.lines[-1])
    left = width_mm(last, TEXT.size_pt) + 2
    below = wide - left < 14
    tall = TEXT.tall_mm(block) + (6.5 if below else 0.0)

    def put(pen: Pen, x: float, top: float) -> None:
        pen.block(x, top, block)
        y = top + block.tall_mm + (7.3 if below else 0.4)
        pen.line(x + (0.0 if below else left), y, x + wide, y, FINE)

    return [Strip(tall, put, 4.8)]
