"""The typefaces in a PDF: words as codes of one byte, and with each document just the letters that it shows.

Codes are those of Windows-1252, which has nearly all that papers say. Any other letter is in a further font of its face, one for each
256 characters of Unicode, by the last byte of its number. So a letter's code hangs on nothing else in the document.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping
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


_PLAIN_FONTS = {face: Font(face, 0) for face in _NAMES}


class Stretch(NamedTuple):
    """Letters of a line in one font. They begin so far from the line's left end; `string` shows their codes in PDF."""

    before_em: float
    font: Font
    codes: str
    string: str


@lru_cache(_KEPT_TEXTS)
def coded(text: str, bold: bool) -> tuple[Stretch, ...]:
    """A no-break space comes out as a space, a letter that no face has as an empty box."""
    found: list[Stretch] = []
    before_em, last = 0.0, ""
    for face, run in runs(text.replace(NO_BREAK, " "), bold):
        for font, letters, codes in _plain(face, run) or _by_font(face, run):
            if found:
                before_em += advance_em(found[-1].font.face, last)
            found.append(Stretch(before_em, font, codes, literal(codes)))
            last = letters
    return tuple(found)


def _plain(face: Face, text: str) -> tuple[tuple[Font, str, str], ...]:
    """The text with its codes; nothing if it has other than plain letters."""
    try:
        codes = text if text.isascii() else text.encode("cp1252").decode("latin-1")
    except UnicodeEncodeError:
        return ()
    return ((_PLAIN_FONTS[face], text, codes),) if text.isprintable() else ()


def _by_font(face: Face, text: str) -> Iterator[tuple[Font, str, str]]:
    for font, each in groupby(text, lambda letter: _font(face, letter)):
        letters = "".join(each)
        yield font, letters, "".join([chr(font.code(letter)) for letter in letters])


def _font(face: Face, letter: str) -> Font:
    is_further = letter not in _PLAIN and ord(letter) in typeface(face).glyphs
    return Font(face, 1 + ord(letter) // _PAGE if is_further else 0)


def embed(file: PDFDocument, shown: Mapping[Font, Iterable[str]]) -> str:
    """The fonts that show these codes, as the resources of pages have them."""
    meanings = {number: added(file, _meanings(number)) for number in sorted({font.number for font in shown})}
    fonts = [f"/{font.name} {_embedded(file, font, set().union(*codes), meanings[font.number])}" for font, codes in shown.items()]
    return f"<<{' '.join(fonts)}>>"


def _embedded(file: PDFDocument, font: Font, shown: Collection[str], meanings: str) -> str:
    """It is the font's own (symbolic) coding, which every viewer takes from the file itself."""
    face, letters, first, last = typeface(font.face), _letters(font), ord(min(shown)), ord(max(shown))
    glyphs, widths = zip(*[letters[code] if chr(code) in shown else (0, "0") for code in range(first, last + 1)], strict=True)
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


@lru_cache(16)
def _letters(font: Font) -> list[tuple[int, str]]:
    """Each code's glyph, and its width in thousandths of an em."""
    face, meant = typeface(font.face), _meant(font.number)
    glyphs = [face.glyphs.get(meant.get(code, -1), 0) for code in range(_PAGE)]
    return [(glyph, f"{face.advance(glyph) * 1000 / face.em:g}") for glyph in glyphs]


def _meant(number: int) -> dict[int, int]:
    """The codes of such a font in order, and the letters' own in Unicode."""
    return {code: (number - 1) * _PAGE + code for code in range(_PAGE)} if number else {code: ord(letter) for letter, code in _PLAIN.items()}


@lru_cache(16)
def _meanings(number: int) -> bytes:
    """Of all codes of such a font, whatever a document shows of them: for search and for reading aloud. ISO 32000-1, 9.10.3.

    They make fewer rows than the hundred that a block may have."""
    rows: list[list[int]] = []  # of codes and letters that go up together: the first code, the last, the first letter
    for code, letter in _meant(number).items():
        if rows and rows[-1][1] == code - 1 and letter - code == rows[-1][2] - rows[-1][0]:
            rows[-1][1] = code
        else:
            rows.append([code, code, letter])
    ranges = "\n".join([f"<{first:02X}> <{last:02X}> <{letter:04X}>" for first, last, letter in rows])
    return stream(compressed(f"""/CIDInit /ProcSet findresource begin
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
"""))
