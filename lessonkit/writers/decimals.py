"""Numbers, paths, places and tones as an SVG has them, the numbers short: 12.5, 3, 0; M10 10L110 10Z."""

from __future__ import annotations

import re
from collections.abc import Sequence
from functools import lru_cache
from typing import NamedTuple

from lessonkit.drawing.items import NUMBERS, Group, mapped

JOINS = {"mitre": "miter", "round": "round"}
MITRE_LIMIT = 10  # PDF's own, so that all papers have the same corners
NOT_XML = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\ud800-\udfff\ufffe\uffff]")  # all but what XML 1.0, section 2.2, allows


class Origin(NamedTuple):
    """Where the origin of items lies on the page, and how large a millimetre of theirs is drawn there: less than 0 where they are upside down."""

    left_mm: float = 0.0
    top_mm: float = 0.0
    scale: float = 1.0

    def placed(self, numbers_mm: Sequence[float]) -> list[float]:
        """x, y, x, y ... of the items on the page."""
        return mapped(numbers_mm, (self.scale, self.left_mm), (self.scale, self.top_mm))

    def inside(self, group: Group) -> Origin:
        """That of a group's items, upright."""
        return Origin(self.left_mm + self.scale * group.x_mm, self.top_mm + self.scale * group.y_mm, self.scale * group.scale)


def grey(tone: float) -> str:
    return "#" + f"{round(tone * 255):02x}" * 3


def decimal(value: float, places: int) -> str:
    """Up to so many decimals, no zeros at the end."""
    return decimals((value,), places)


def decimals(values: Sequence[float], places: int) -> str:
    """Several, with blanks between them."""
    return _short("%.*f " * len(values) % tuple([n for value in values for n in (places, value)]), places)


def path_data(letters: str, numbers: Sequence[float], places: int) -> str:
    """What an SVG's path calls `d`. Small letters count from where the last command came to."""
    return _short(_form(letters, places) % tuple(numbers), places)


@lru_cache(256)
def _form(letters: str, places: int) -> str:
    return "".join([letter + f"%.{places}f " * NUMBERS[letter.upper()] for letter in letters])


def _short(text: str, places: int) -> str:
    """Without the zeros that end a number, each of which has a blank after it; whole passes over the text, and not one a number."""
    for _ in range(places):
        text = text.replace("0 ", " ")
    text = text.replace(". ", " ").replace("-0 ", "0 ")
    for letter in "MLCZmlc":
        text = text.replace(f" {letter}", letter)
    return text.rstrip()
