"""Neutral pages to draw, the same on every machine: for each of 26 lessons 8 pages of four cards, a stencil in 4 tiles and a sign."""

from __future__ import annotations

import math
import random
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import NamedTuple

Command = tuple[str, *tuple[float, ...]]  # M and L with a point, C with three, as in drawing.items

LESSONS = 26
PAGES_A_LESSON = 2 * 4 + 4 + 1
TILE_MM = (180, 255)
PICTURE_SIZE = (100, 70)  # in its own units, y upwards
TYPEFACES = Path(__file__).parents[2] / "lessonkit" / "drawing" / "typefaces"

_SYLLABLES = ["ba", "ce", "di", "fo", "gu", "ha", "ki", "lo", "mu", "ne", "pra", "qui", "ro", "sta", "tre", "ver", "win", "xo", "ya", "zé"]
_OUTLINE_POINTS = 600


class Card(NamedTuple):
    """Four to a page. The picture is five lines of ten segments, every third of them a curve."""

    title: str
    words: list[str]
    picture: list[Command]


class Label(NamedTuple):
    x_mm: float
    y_mm: float
    text: str


class Lesson(NamedTuple):
    """`levels` holds pages of cards for each level; `outline` is in mm, y upwards, and fits two by two tiles."""

    name: str
    levels: list[list[list[Card]]]
    outline: list[tuple[float, float]]
    labels: list[Label]
    sign: Card


def lessons(count: int = LESSONS) -> list[Lesson]:
    return [_lesson(number) for number in range(count)]


def _lesson(number: int) -> Lesson:
    dice = random.Random(1000 + number)
    words = _vocabulary()
    levels = [[[_card(dice, page * 4 + card + 1) for card in range(4)] for page in range(4)] for _ in range(2)]
    labels = [Label(20 + 15.0 * i, 30 + 20.0 * i, f"Part {letter} {10 * i + 7} mm") for i, letter in enumerate("ABCDEFGHIJ")]
    sign = Card(f"{dice.choice(words).capitalize()} {number + 1}", [dice.choice(words) for _ in range(25)], list(_picture(dice)))
    return Lesson(f"Lesson {number + 1}", levels, list(_outline(3 + number % 5)), labels, sign)


def _card(dice: random.Random, number: int) -> Card:
    words = _vocabulary()
    title = " ".join(dice.choice(words) for _ in range(3)).capitalize()
    return Card(f"{number}. {title}", [dice.choice(words) for _ in range(40)], list(_picture(dice)))


@cache
def _vocabulary() -> list[str]:
    dice = random.Random(7)
    words = ["".join(dice.choice(_SYLLABLES) for _ in range(dice.choice((1, 2, 2, 3, 3, 4)))) for _ in range(600)]
    words = [word if i % 40 else f"{word}5mm" for i, word in enumerate(words)]
    return [word if i % 97 else f"½°{word}" for i, word in enumerate(words)]


def _picture(dice: random.Random) -> Iterator[Command]:
    wide, tall = PICTURE_SIZE

    def x() -> float:
        return dice.randint(0, wide * 10) / 10

    def y() -> float:
        return dice.randint(0, tall * 10) / 10

    for _ in range(5):
        yield "M", x(), y()
        for segment in range(10):
            yield ("C", x(), y(), x(), y(), x(), y()) if segment % 3 == 2 else ("L", x(), y())


def _outline(lobes: int) -> Iterator[tuple[float, float]]:
    for i in range(_OUTLINE_POINTS):
        angle = 2 * math.pi * i / _OUTLINE_POINTS
        out = (1 + 0.15 * math.cos(lobes * angle)) / 1.15
        yield 180 + 155 * out * math.cos(angle), 255 + 225 * out * math.sin(angle)
