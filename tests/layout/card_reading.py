"""A small lesson's cards, and what outside readers (pypdf, pypdfium2) find in their PDF."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cache
from io import BytesIO
from typing import Any

import pypdfium2
import pypdfium2.raw as pdfium
from pypdf import PdfReader

from lessonkit.drawing.fonts import CAPITAL, DESCENT, width_mm
from lessonkit.drawing.items import Document, Group, Item, Path, TextLine
from lessonkit.pieces.model import Kit
from lessonkit.units import MM_PER_POINT
from lessonkit.writers.pdf import write_pdf
from tests.drawings_for_tests import shown
from tests.lessons_for_tests import ROOM, kit_of

LESSON = """\
title: Porthole
about: A round frame.
technique: slab
version: "3"
clay: white low-fire
pieces:
  - name: frame
    flat:
      outline: {circle: {across: 160 mm}}
      openings:
        - {circle: {across: 85 mm}}
    hang: {holes: 1, across: 4 mm}
words: {slip: Clay and water.}
steps:
  - id: roll
    title: Roll the slab
    picture: roll
    minutes: 6
    levels:
      easy: Roll on the sticks until the pin touches wood.
      advanced: {text: Roll from the middle outwards and flip it so that it will not warp., good: the pin touches both sticks.}
    stop: {easy: Is the slab as thick as the sticks?, advanced: "Is it {thickness} in all four corners?"}
  - id: cut
    title: Cut the ring
    picture: cut
    minutes: 8
    levels:
      easy: Trace the ring. Hold the needle straight up.
      advanced:
        text: Trace both edges in three light passes with the needle upright, so that the edge is square.
        good: no light shows beside a stick.
        choose: one notch or one flat in the rim.
        early: cut a second ring.
    safety: Needles go back in the cork.
  - {id: join, title: Join the rivets, picture: join, minutes: 1, text: Score both. Add slip. Press., word: slip}
  - {id: smooth, title: Smooth, picture: smooth, minutes: 2, text: Stroke the edge once.}
  - {id: show, title: Show your teacher, picture: show, minutes: 2, text: Carry the tray flat. Say what you did.}
"""
LEVELS, PRINTED = ("easy", "advanced"), ("A4", "Letter")


@cache
def kit(room: str = ROOM) -> Kit:
    return kit_of(LESSON, room)


def changed(level: str, index: int = 0, **changes: Any) -> Kit:
    """The lesson with one step's words changed on one level."""
    steps = list(kit().steps[level])
    steps[index] = steps[index]._replace(**changes)
    return replace(kit(), steps={**kit().steps, level: tuple(steps)})


def words(count: int, letter: str = "w") -> str:
    return " ".join(f"{letter}{i:04d}" for i in range(count))


def read_pages(document: Document) -> list[str]:
    """What pypdf reads, white space evened out."""
    return [" ".join(page.extract_text().split()) for page in PdfReader(BytesIO(write_pdf(document))).pages]


@dataclass(frozen=True, slots=True)
class Letter:
    """A character as pdfium sees it: millimetres from the page's top left."""

    text: str
    left: float
    top: float
    right: float
    foot: float
    size_pt: float


def letters(document: Document) -> Iterator[list[Letter]]:
    for page in pypdfium2.PdfDocument(write_pdf(document)):
        text, tall = page.get_textpage(), page.get_height()
        found = []
        for index in range(text.count_chars()):
            left, foot, right, top = (value * MM_PER_POINT for value in text.get_charbox(index))
            character = text.get_text_range(index, 1)
            if character.strip():
                size = pdfium.FPDFText_GetFontSize(text.raw, index)
                found.append(Letter(character, left, tall * MM_PER_POINT - top, right, tall * MM_PER_POINT - foot, size))
        yield found


def box(path: Path, x: float, y: float) -> tuple[float, float, float, float]:
    xs, ys = zip(*path.points(), strict=True)
    return x + min(xs), y + min(ys), x + max(xs), y + max(ys)


def cards(document: Document) -> list[Group]:
    return [item for page in document.pages for item in page.items if isinstance(item, Group) and item.layer == "card"]


Box = tuple[float, float, float, float]


def frames(card: Group) -> list[Box]:
    """Left, top, right and foot of each picture's frame in the card's field; none on a card of words."""
    found = [(group, x, y) for group, x, y in _groups(card.items) if group.layer == "frame"]
    outer = [(group.items[-1], x, y) for group, x, y in found]
    return [box(path, x, y) for path, x, y in outer if isinstance(path, Path)]


def _groups(items: tuple[Item, ...], x: float = 0.0, y: float = 0.0) -> Iterator[tuple[Group, float, float]]:
    for item in items:
        if isinstance(item, Group):
            yield item, x + item.x_mm, y + item.y_mm
            yield from _groups(item.items, x + item.x_mm, y + item.y_mm)


def frame(card: Group) -> Box:
    (only,) = frames(card)
    return only


def text_boxes(card: Group) -> list[tuple[str, float, float, float, float]]:
    """From the capitals to the foot of the letters, in the card's field."""
    found = []
    for item, x, y, _ in shown(card.items):
        if isinstance(item, TextLine) and item.text.strip():
            em, left, base = item.size_pt * MM_PER_POINT, x + item.x_mm, y + item.y_mm
            hangs = DESCENT * em if set(item.text) & set("gjpqyçQ,;()[]/@·") else 0.0
            found.append((item.text, left, base - CAPITAL * em, left + width_mm(item.text, item.size_pt, item.bold), base + hangs))
    return found


def card_words(card: Group) -> str:
    return " ".join(" ".join(text for text, *_ in text_boxes(card)).split())


def overlapping(card: Group) -> list[tuple[str, str]]:
    boxes = text_boxes(card)
    return [
        (a[0], b[0])
        for i, a in enumerate(boxes)
        for b in boxes[i + 1 :]
        if a[1] < b[3] - 0.05 and b[1] < a[3] - 0.05 and a[2] < b[4] - 0.05 and b[2] < a[4] - 0.05
    ]


def crossing(card: Group) -> list[str]:
    """Words that cross a panel, a rule or a picture's frame: neither inside nor outside."""
    shapes = [box(item, x, y) for item, x, y, layer in shown(card.items) if isinstance(item, Path) and layer == ""] + frames(card)
    found = []
    for text, left, top, right, foot in text_boxes(card):
        for x1, y1, x2, y2 in shapes:
            apart = right < x1 or x2 < left or foot < y1 or y2 < top
            inside = x1 < left and right < x2 and y1 < top and foot < y2
            if not (apart or inside):
                found.append(text)
    return found
