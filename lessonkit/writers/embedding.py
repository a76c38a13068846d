"""The typefaces in a PDF: words as codes of one byte, and with each document just the letters that it shows.

Codes are those of Windows-1252, which has nearly all that papers say. Any other letter is in a further font of its face, one for each
256 characters of Unicode, by the last byte of its number. So a letter's code hangs on nothing else in the document.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from functools import lru_cache
from itertools import groupby
from typing import NamedTuple

from reportlab.pdfbase.pdfdoc import PDFDocument

from lessonkit.drawing.fonts import CAPITAL, Face, advance_em, runs, typeface
from lessonkit.units import NO_BREAK
from lessonkit.writers.objects import added, compressed, literal, stream

_NAMES: Mapping[Face, str] = {"Andika": "Andika", "AndikaBold": "Andika-Bold", "DejaVu": "DejaVuSans", "DejaVuBold": "DejaVuSans-Bold"}
_STEMS: Mapping[Face, int] = {"Andika": 87, "AndikaBold": 165, "DejaVu": 87, "DejaVuBold": 165}  # thousandths of an em
_PLAIN = {c: c.encode("cp1252")[0] for c in bytes(range(32, 256)).decode("cp1252", "ignore") if c.isprintable()}  # every face has these
_SYMBOLIC = 4  # ISO 32000-1, table 123: the codes are the font's own
_PAGE = 256  # characters of a further font
_KEPT_TEXTS, _KEPT_FONTS = 1024, 32  # that come again


class Font(NamedTuple):
    """The letters of Windows-1252 in a face, and its empty box, which has code 0; or, counted from 1, those of a further font."""

    face: Face
    number: int

    @property
    def name(self) -> str:
        """In the resources of pages."""
        return f"{self.face}{self.number or ''}"

    def code(self, letter: str) -> int:
        return ord(letter) % _PAGE if self.number else _PLAIN.get(letter, 0)


class Stretch(NamedTuple):
    """Letters of a line in one font. They begin so far from the line's left end; `string` shows them in PDF."""

    before_em: float
    font: Font
    text: str
    string: str


@lru_cache(_KEPT_TEXTS)
def coded(text: str, bold: bool) -> tuple[Stretch, ...]:
    """A no-break space comes out as a space, a letter that no face has as an empty box."""
    found: list[Stretch] = []
    for face, run in runs(text.replace(NO_BREAK, " "), bold):
        for font, letters, codes in _plain(face, run) or _by_font(face, run):
            before_em = found[-1].before_em + advance_em(found[-1].font.face, found[-1].text) if found else 0.0
            found.append(Stretch(before_em, font, letters, literal(codes)))
    return tuple(found)


def _plain(face: Face, text: str) -> tuple[tuple[Font, str, str], ...]:
    """The text with its codes; nothing if it has other than plain letters."""
    try:
        return ((Font(face, 0), text, text.encode("cp1252").decode("latin-1")),) if text.isprintable() else ()
    except UnicodeEncodeError:
        return ()


def _by_font(face: Face, text: str) -> Iterator[tuple[Font, str, str]]:
    for font, each in groupby(text, lambda letter: _font(face, letter)):
        letters = "".join(each)
        yield font, letters, "".join([chr(font.code(letter)) for letter in letters])


def _font(face: Face, letter: str) -> Font:
    is_further = letter not in _PLAIN and ord(letter) in typeface(face).glyphs
    return Font(face, 1 + ord(letter) // _PAGE if is_further else 0)


def embed(file: PDFDocument, shown: Mapping[Font, Iterable[str]]) -> str:
    """The fonts that show these texts, as the resources of pages have them."""
    meanings = {number: added(file, _meanings(number)) for number in sorted({font.number for font in shown})}
    fonts = [f"/{font.name} {_embedded(file, font, set().union(*texts), meanings[font.number])}" for font, texts in shown.items()]
    return f"<<{' '.join(fonts)}>>"


def _embedded(file: PDFDocument, font: Font, letters: Iterable[str], meanings: str) -> str:
    """A font whose codes show these letters. It is the font's own (symbolic) coding, which every viewer takes from the file itself."""
    face = typeface(font.face)
    coded = {font.code(letter): face.glyphs.get(ord(letter), 0) for letter in letters}
    first, last = min(coded), max(coded)
    glyphs = tuple([coded.get(code, 0) for code in range(first, last + 1)])
    widths = [_width(font.face, glyph) if code in coded else "0" for code, glyph in enumerate(glyphs, first)]
    name = f"/AAAA{chr(65 + font.number // 26)}{chr(65 + font.number % 26)}+{_NAMES[font.face]}"
    descriptor = (
        f"<</Type /FontDescriptor /FontName {name} /Flags {_SYMBOLIC} /ItalicAngle 0 /StemV {_STEMS[font.face]}"
        f" /FontBBox [{' '.join([f'{edge * 1000 / face.em:.0f}' for edge in face.box])}] /CapHeight {CAPITAL * 1000:.0f}"
        f" /Ascent {face.ascent * 1000 / face.em:.0f} /Descent {face.descent * 1000 / face.em:.0f}"
        f" /FontFile2 {added(file, _program(font.face, first, glyphs))}>>"
    )
    return added(
        file,
        f"<</Type /Font /Subtype /TrueType /BaseFont {name} /FirstChar {first} /LastChar {last} /Widths [{' '.join(widths)}]"
        f" /ToUnicode {meanings} /FontDescriptor {added(file, descriptor)}>>",
    )


@lru_cache(_KEPT_FONTS)
def _program(face: Face, first: int, glyphs: tuple[int, ...]) -> bytes:
    program = typeface(face).subset(glyphs, first)
    return stream(compressed(program), f" /Length1 {len(program)}")


@lru_cache(1024)
def _width(face: Face, glyph: int) -> str:
    """In thousandths of an em."""
    font = typeface(face)
    return f"{font.advance(glyph) * 1000 / font.em:g}"


@lru_cache(16)
def _meanings(number: int) -> bytes:
    """What all codes of such a font mean, whatever a document shows of them: for search and for reading aloud."""
    page = _PAGE * (number - 1)
    letters = {code: chr(page + code) for code in range(_PAGE)} if number else {code: letter for letter, code in _PLAIN.items()}
    return stream(compressed(_unicode(letters)))


def _unicode(letters: Mapping[int, str]) -> bytes:
    """ISO 32000-1, 9.10.3. The codes ascend; they make fewer rows than the hundred that a block may have."""
    rows: list[list[int]] = []  # of codes and letters that go up together: the first code, the last, the first letter
    for code, letter in letters.items():
        if rows and rows[-1][1] == code - 1 and ord(letter) - code == rows[-1][2] - rows[-1][0]:
            rows[-1][1] = code
        else:
            rows.append([code, code, ord(letter)])
    ranges = "\n".join([f"<{first:02X}> <{last:02X}> <{letter:04X}>" for first, last, letter in rows])
    return f"""/CIDInit /ProcSet findresource begin
12 dict begin
begincmap
/CIDSystemInfo <</Registry (Adobe) /Ordering (UCS) /Supplement 0>> def
/CMapName /Adobe-Identity-UCS def
/CMapType 2 def
1 begincodespacerange
<00> <FF>
endcodespacerange
{len(rows)} beginbfrange
{ranges}
endbfrange
endcmap
CMapName currentdict /CMap defineresource pop
end
end
""".encode()
