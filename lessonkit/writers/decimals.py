"""Numbers and paths as an SVG has them, short: 12.5, 3, 0; M10 10L110 10Z."""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache

from lessonkit.drawing.items import NUMBERS


def decimal(value: float, places: int) -> str:
    """Up to so many decimals, no zeros at the end."""
    return decimals((value,), places)


def decimals(values: Sequence[float], places: int) -> str:
    """Several, with blanks between them."""
    return _short("%.*f " * len(values) % tuple([n for value in values for n in (places, value)]), places)


def path_data(letters: str, numbers: Sequence[float], places: int) -> str:
    """What an SVG's path calls `d`."""
    return _short(_form(letters, places) % tuple(numbers), places)


@lru_cache(256)
def _form(letters: str, places: int) -> str:
    return "".join([letter + f"%.{places}f " * NUMBERS[letter] for letter in letters])


def _short(text: str, places: int) -> str:
    """Without the zeros that end a number, each of which has a blank after it; whole passes over the text, and not one a number."""
    for _ in range(places):
        text = text.replace("0 ", " ")
    text = text.replace(". ", " ").replace("-0 ", "0 ")
    for letter in NUMBERS:
        text = text.replace(f" {letter}", letter)
    return text.rstrip()
