"""A shelf of any number of lessons: those of this repository, then variations, so that nothing remembered fits the next lesson."""

from __future__ import annotations

import random
import re
from collections.abc import Iterator
from itertools import islice
from pathlib import Path

LESSONS = Path(__file__).parents[2] / "lessons"
ROOM = LESSONS / "room.yaml"

_LENGTH = re.compile(r"\b(\d+(?:\.\d+)?) mm\b")
_SENTENCES = re.compile(r"(?m)^ +(?:(?:text|full|plain): )?[A-Z][a-z]* [^:{}\n]*$")  # whole lines of running text
_LONG_WORD = re.compile(r"(?<=\w )[a-z]{5,}\b")
_LARGER = 0.0004  # a round of variations: a thousand lessons are 38 rounds, and the last pieces are 1.5 % larger


def write_shelf(folder: Path, count: int) -> list[Path]:
    """`count` lessons with the room in a new folder; raises FileExistsError if it is there."""
    folder.mkdir(parents=True)
    (folder / "room.yaml").write_bytes(ROOM.read_bytes())
    for name, text in islice(_lessons(), count):
        (folder / f"{name}.yaml").write_text(text, encoding="utf-8")
    return sorted(folder.glob("*.yaml"))


def vary(text: str, number: int) -> str:
    """The lesson with another title, its pieces larger, and other words of the same letters in its texts, so that all fits as it did."""
    head, steps = re.split(r"(?m)^(?=steps:)", text, maxsplit=1)
    head = re.sub(r"(?m)^title: .*", rf"\g<0> {number}", head)
    about, pieces = re.split(r"(?m)^(?=pieces:)", head, maxsplit=1)
    pieces = _LENGTH.sub(lambda found: f"{float(found[1]) * (1 + _LARGER * number):.2f} mm", pieces)
    dice = random.Random(number)
    return about + pieces + _SENTENCES.sub(lambda found: _misspelt(found[0], dice), steps)


def _misspelt(line: str, dice: random.Random) -> str:
    """Two inner letters of a third of the long words change places."""

    def swapped(found: re.Match[str]) -> str:
        word, at = found[0], dice.randrange(1, len(found[0]) - 2)
        return word[:at] + word[at + 1] + word[at] + word[at + 2 :] if dice.random() < 1 / 3 else word

    return _LONG_WORD.sub(swapped, line)


def _lessons() -> Iterator[tuple[str, str]]:
    paths = (path for path in sorted(LESSONS.glob("*.yaml")) if path != ROOM and "." not in path.stem)  # porthole.es is a translation
    shelf = [(path.stem, path.read_text(encoding="utf-8")) for path in paths]
    yield from shelf
    number = 1
    while True:
        yield from ((f"{name}-{number}", vary(text, number)) for name, text in shelf)
        number += 1
