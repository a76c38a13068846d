"""A PDF as somebody else's reader sees it: every letter with its box on the paper, and where there is ink."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from ctypes import c_double
from dataclasses import dataclass
from itertools import combinations

import pypdfium2
from PIL import Image

from lessonkit.units import MM_PER_INCH, MM_PER_POINT

PIXELS_PER_MM = 4


@dataclass(frozen=True, slots=True)
class Letter:
    """A printed letter: its ink, in mm from the page's top left."""

    text: str
    left: float
    top: float
    right: float
    foot: float
    size_pt: float


@dataclass(frozen=True, slots=True)
class Sheet:
    wide_mm: float
    tall_mm: float
    letters: tuple[Letter, ...]
    text: str
    picture: Image.Image  # grey, PIXELS_PER_MM


def sheets(pdf: bytes) -> list[Sheet]:
    document = pypdfium2.PdfDocument(pdf)
    return [_sheet(document[index]) for index in range(len(document))]


def _sheet(page: pypdfium2.PdfPage) -> Sheet:
    wide, tall = page.get_size()
    words = page.get_textpage()
    picture = page.render(scale=PIXELS_PER_MM * MM_PER_INCH / 72).to_pil().convert("L")
    text = words.get_text_range().replace("\xa0", " ").replace("\r\n", "\n")
    return Sheet(wide * MM_PER_POINT, tall * MM_PER_POINT, tuple(_letters(words, tall)), text, picture)


def _letters(words: pypdfium2.PdfTextPage, tall: float) -> Iterator[Letter]:
    raw = pypdfium2.raw
    for index in range(words.count_chars()):
        text = chr(raw.FPDFText_GetUnicode(words, index))
        if text.isspace() or raw.FPDFText_IsGenerated(words, index):
            continue
        box = [c_double() for _ in range(4)]
        raw.FPDFText_GetCharBox(words, index, *box)
        left, right, foot, top = (side.value * MM_PER_POINT for side in box)
        yield Letter(text, left, tall * MM_PER_POINT - top, right, tall * MM_PER_POINT - foot, raw.FPDFText_GetFontSize(words, index))


def words_of(text: str) -> list[str]:
    """The words, whatever the line ends between them."""
    return text.replace("\xa0", " ").split()


def says(sheet_texts: str, sentence: str) -> bool:
    """Whether the words stand there in a row."""
    return f" {' '.join(words_of(sentence))} " in f" {' '.join(words_of(sheet_texts))} "


def ink_near_edge(sheet: Sheet, edge_mm: float = 10.0) -> bool:
    """Whether anything is printed nearer than `edge_mm` to the paper's edge."""
    edge = int(edge_mm * PIXELS_PER_MM) - 1
    wide, tall = sheet.picture.size
    white = Image.new("L", (wide - 2 * edge, tall - 2 * edge), 255)
    border = sheet.picture.copy()
    border.paste(white, (edge, edge))
    return border.getextrema()[0] < 250


def overlaps(sheet: Sheet, least_mm: float = 0.25) -> list[tuple[str, str]]:
    """Letters printed over each other: the ink of both reaches into the same place by more than `least_mm` both ways."""
    cells: defaultdict[tuple[int, int], list[Letter]] = defaultdict(list)
    for letter in sheet.letters:
        for x in range(int(letter.left // 5), int(letter.right // 5) + 1):
            for y in range(int(letter.top // 5), int(letter.foot // 5) + 1):
                cells[x, y].append(letter)
    found = set()
    for here in cells.values():
        for a, b in combinations(here, 2):
            wide, tall = min(a.right, b.right) - max(a.left, b.left), min(a.foot, b.foot) - max(a.top, b.top)
            if wide > least_mm and tall > least_mm and wide > 0.2 * min(a.right - a.left, b.right - b.left):
                found.add((f"{a.text} {a.left:.1f},{a.top:.1f}", f"{b.text} {b.left:.1f},{b.top:.1f}"))
    return sorted(found)


def places(sheet: Sheet, phrase: str) -> list[Letter]:
    """The first letter of every place where the phrase stands, in reading order."""
    printed, sought = "".join(letter.text for letter in sheet.letters), "".join(words_of(phrase))
    found, at = [], printed.find(sought)
    while at >= 0:
        found.append(sheet.letters[at])
        at = printed.find(sought, at + 1)
    return found
