"""The two families that every paper is set in, and how wide their words are. Both writers place text by these widths.

Andika (letters as children write them) is the face of all text; DejaVu Sans stands in, word by word, for what Andika
lacks. Letters are set without kerning, so that a line is as wide as the sum of its characters in every writer.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache, lru_cache
from itertools import groupby
from mmap import ACCESS_READ, mmap
from pathlib import Path
from typing import Literal

from lessonkit.drawing.truetype import TrueType
from lessonkit.units import MM_PER_POINT

Face = Literal["Andika", "AndikaBold", "DejaVu", "DejaVuBold"]

# Andika's own measures in em, the same in bold: the tops of the round capitals and figures, and of the round small letters
# (flat ones end 0.01 em lower, the stems of b, d, f, h rise to 0.79); the depth of p and q.
CAPITAL = 0.725
X_HEIGHT = 0.508
DESCENT = 0.24
EM = 2048  # font units, in all four fonts

_FILES: dict[Face, str] = {
    "Andika": "Andika-Regular.ttf",
    "AndikaBold": "Andika-Bold.ttf",
    "DejaVu": "DejaVuSans.ttf",
    "DejaVuBold": "DejaVuSans-Bold.ttf",
}
_FACES: dict[bool, tuple[Face, Face]] = {False: ("Andika", "DejaVu"), True: ("AndikaBold", "DejaVuBold")}
_WORD = re.compile(r"\S+\s*|\s+")
_BLANKS = str.maketrans("\t\n\r", "   ")  # one line has neither tabs nor line ends
_CACHED_WORDS = 2048


def typeface_path(face: Face) -> Path:
    """The font file, as its makers published it."""
    return Path(__file__).with_name("typefaces") / _FILES[face]


@cache
def typeface(face: Face) -> TrueType:
    """The font, opened once for the widths here and for embedding in a PDF. Of its file, only what is used comes into memory."""
    with typeface_path(face).open("rb") as file:
        return TrueType(mmap(file.fileno(), 0, access=ACCESS_READ))


def width_mm(text: str, size_pt: float, bold: bool = False) -> float:
    """How far a line of `text` reaches from its left end to where the next letter would start, spaces included.

    Tabs and line ends count as spaces; a character that neither family has counts as the font's empty box (see `missing`)."""
    return _width_mm(text, bold) * size_pt


@lru_cache(_CACHED_WORDS)
def _width_mm(text: str, bold: bool) -> float:
    """At a size of one point."""
    return sum(advances(text, bold)) / EM * MM_PER_POINT


def advances(text: str, bold: bool = False) -> list[int]:
    """How wide each character of a line is, in font units."""
    try:
        return list(map(_advances(_FACES[bold][0]).__getitem__, text))
    except KeyError:  # Andika lacks something
        return [advance for face, piece in runs(text, bold) for advance in _all_advances(face, piece)]


def advance_em(face: Face, text: str) -> float:
    """The width of a piece that `runs` gave, in em."""
    return sum(_all_advances(face, text)) / EM


def _all_advances(face: Face, text: str) -> list[int]:
    try:
        return list(map(_advances(face).__getitem__, text))
    except KeyError:  # a character that no face has is an empty box
        font = typeface(face)
        return [font.advance(font.glyphs.get(ord(character), 0)) for character in text]


class _Advances(dict[str, int]):
    """Of the characters that a font has, and of those that are set as spaces, in font units; each is looked up once."""

    def __init__(self, font: TrueType) -> None:
        self._font = font

    def __missing__(self, character: str) -> int:
        self[character] = advance = self._font.advance(self._font.glyphs[ord(character.translate(_BLANKS))])
        return advance


@cache
def _advances(face: Face) -> _Advances:
    return _Advances(typeface(face))


@cache
def _characters(face: Face) -> frozenset[str]:
    """Without those that are set as spaces."""
    return frozenset(map(chr, typeface(face).glyphs)).difference("\t\n\r")


def _has(face: Face, character: str) -> bool:
    return ord(character) in typeface(face).glyphs


@lru_cache(_CACHED_WORDS)
def rise_em(text: str, bold: bool = False) -> float:
    """How high the highest letter stands above the baseline, in em; 0 for none."""
    return max((_rise_em(face, letter) for face, piece in runs(text, bold) for letter in piece), default=0.0)


@lru_cache(_CACHED_WORDS)
def _rise_em(face: Face, letter: str) -> float:
    font = typeface(face)
    return max((y for spots in font.contours(font.glyphs.get(ord(letter), 0)) for _, y, _ in spots), default=0.0) / font.em


def runs(text: str, bold: bool = False) -> tuple[tuple[Face, str], ...]:
    """`text` in pieces of one face each, in order; spaces belong to the piece before them.

    A word that Andika has whole is set in Andika, one that DejaVu Sans has whole in that, and any other character by
    character in the first that has it. Tabs and line ends become spaces."""
    usual = _FACES[bold][0]
    if _characters(usual).issuperset(text):
        return ((usual, text),) if text else ()
    parts = (part for word in _WORD.findall(text.translate(_BLANKS)) for part in _word_runs(word, _FACES[bold]))
    return tuple((face, "".join(piece for _, piece in group)) for face, group in groupby(parts, key=lambda part: part[0]))


@lru_cache(_CACHED_WORDS)
def missing(text: str) -> tuple[str, ...]:
    """The characters of `text` that neither family has in both weights, each once, in order; control characters are among
    them. Spaces, tabs and line ends are not: they are set as white space."""
    return tuple(c for c in dict.fromkeys(text.translate(_BLANKS)) if not all(any(_has(f, c) for f in faces) for faces in _FACES.values()))


def begun_large(text: str) -> str:
    """With a capital as its first letter, where the typefaces have one: they lack those of Georgian, for one."""
    first = text[:1].upper()
    return text if missing(first) else first + text[1:]


def _word_runs(word: str, faces: tuple[Face, Face]) -> Iterator[tuple[Face, str]]:
    if whole := next((face for face in faces if all(_has(face, c) for c in word)), None):
        yield whole, word
    else:
        yield from ((next((face for face in faces if _has(face, c)), faces[0]), c) for c in word)
