"""The typefaces in a PDF: words as codes of one byte, and with each document just the letters that it shows.

Codes are those of Windows-1252, which has nearly all that papers say; any other letter gets a code in a further font of its face.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from functools import cache, lru_cache
from itertools import groupby
from typing import NamedTuple

from reportlab.pdfbase.pdfdoc import PDFDocument

from lessonkit.drawing.fonts import CAPITAL, Face, advance_em, runs, typeface
from lessonkit.units import NO_BREAK
from lessonkit.writers.objects import ESCAPED, added, literal, stream

_NAMES: Mapping[Face, str] = {"Andika": "Andika", "AndikaBold": "Andika-Bold", "DejaVu": "DejaVuSans", "DejaVuBold": "DejaVuSans-Bold"}
_STEMS: Mapping[Face, int] = {"Andika": 87, "AndikaBold": 165, "DejaVu": 87, "DejaVuBold": 165}  # thousandths of an em
_PLAIN = {c: c.encode("cp1252")[0] for c in bytes(range(32, 256)).decode("cp1252", "ignore") if c.isprintable()}  # every face has these
_LITERAL = {ord(c): chr(code) for c, code in _PLAIN.items()}  # what stands for a character or a code in a string of PDF
_LITERAL |= ESCAPED
_SYMBOLIC = 4  # ISO 32000-1, table 123: the codes are the font's own
_KEPT = 1024  # texts that come again
_FURTHER = 255  # codes of a further font; 0 is the empty box in each


Stretch = tuple[str, str]  # a font's name in the page's resources, and the literal string that shows the letters


class Letters:
    """What one document shows of each face, gathered while its words are coded."""

    def __init__(self) -> None:
        self._plain: defaultdict[Face, set[str]] = defaultdict(set)  # whole texts
        self._others: defaultdict[Face, dict[str, int]] = defaultdict(dict)  # in the order of the text

    def coded(self, text: str, bold: bool) -> list[tuple[float, Sequence[Stretch]]]:
        """For each run of one face, how far from the line's left end it begins, in em, and its stretches of one font.

        A no-break space comes out as a space, a letter that the face lacks as its empty box."""
        found: list[tuple[float, Sequence[Stretch]]] = []
        for run in _runs(text, bold):
            if run.plain:
                self._plain[run.face].add(run.text)
            found.append((run.before_em, run.plain or self._stretches(run.face, run.text)))
        return found

    def _stretches(self, face: Face, text: str) -> list[Stretch]:
        stretches = groupby((self._code(face, character) for character in text), key=lambda code: code[0])
        return [(_name(face, number), f"({''.join(string for _, string in stretch)})") for number, stretch in stretches]

    def _code(self, face: Face, character: str) -> tuple[int, str]:
        """The font's number in its face, and the letter as a string's byte."""
        if character in _PLAIN or ord(character) not in typeface(face).glyphs:
            self._plain[face].add(character)
            return 0, _LITERAL[ord(character)] if character in _PLAIN else _LITERAL[0]
        place = self._others[face].setdefault(character, len(self._others[face]))
        code = 1 + place % _FURTHER
        return 1 + place // _FURTHER, _LITERAL[code] if chr(code) in "\\()" or code < 32 else chr(code)

    def embed(self, file: PDFDocument) -> str:
        """The fonts, by the names that `coded` gave, as the resources of pages have them."""
        fonts: dict[str, str] = {}
        for face, plain in self._plain.items():
            fonts[_name(face, 0)] = _font(file, face, 0, {_PLAIN[c]: c for c in sorted(_PLAIN.keys() & set().union(*plain))})
        for face, others in self._others.items():
            letters = list(others)
            for number, first in enumerate(range(0, len(letters), _FURTHER), start=1):
                fonts[_name(face, number)] = _font(file, face, number, dict(enumerate(letters[first : first + _FURTHER], start=1)))
        return f"<<{' '.join(f'/{name} {font}' for name, font in fonts.items())}>>"


class _Run(NamedTuple):
    face: Face
    text: str
    before_em: float
    plain: tuple[Stretch, ...]  # one, if the text has none but plain letters


@lru_cache(_KEPT)
def _runs(text: str, bold: bool) -> tuple[_Run, ...]:
    found: list[_Run] = []
    before_em = 0.0
    for face, letters in runs(text, bold):
        before_em += advance_em(found[-1].face, found[-1].text) if found else 0.0
        shown = letters.replace(NO_BREAK, " ")
        string = _plain_string(shown)
        found.append(_Run(face, shown, before_em, ((face, string),) if string else ()))
    return tuple(found)


def _plain_string(text: str) -> str | None:
    """The string of PDF for a text of plain letters; nothing if it has others."""
    try:
        codes = text.encode("cp1252").decode("latin-1") if text.isprintable() else None
    except UnicodeEncodeError:
        return None
    return codes and literal(codes)


def _name(face: Face, number: int) -> str:
    return f"{face}{number or ''}"


def _font(file: PDFDocument, face: Face, number: int, letters: Mapping[int, str]) -> str:
    """A font whose codes show these letters. It is the font's own (symbolic) coding, which every viewer takes from the file itself."""
    font, last = typeface(face), max(letters, default=0)
    glyphs = [font.glyphs[ord(letters[code])] if code in letters else 0 for code in range(last + 1)]
    widths = [_width(face, glyph) if glyph or not code else "0" for code, glyph in enumerate(glyphs)]
    name = f"/AAAA{chr(65 + number // 26)}{chr(65 + number % 26)}+{_NAMES[face]}"
    program = font.subset(glyphs)
    descriptor = (
        f"<</Type /FontDescriptor /FontName {name} /Flags {_SYMBOLIC} /ItalicAngle 0 /StemV {_STEMS[face]}"
        f" /FontBBox {_array(f'{edge * 1000 / font.em:.0f}' for edge in font.box)} /CapHeight {CAPITAL * 1000:.0f}"
        f" /Ascent {font.ascent * 1000 / font.em:.0f} /Descent {font.descent * 1000 / font.em:.0f}"
        f" /FontFile2 {added(file, stream(program, f' /Length1 {len(program)}'))}>>"
    )
    return added(
        file,
        f"<</Type /Font /Subtype /TrueType /BaseFont {name} /FirstChar 0 /LastChar {last} /Widths {_array(widths)}"
        f" /ToUnicode {added(file, stream(_unicode(letters)) if number else _plain_meanings())} /FontDescriptor {added(file, descriptor)}>>",
    )


@lru_cache(_KEPT)
def _width(face: Face, glyph: int) -> str:
    """In thousandths of an em."""
    font = typeface(face)
    return f"{font.advance(glyph) * 1000 / font.em:g}"


@cache
def _plain_meanings() -> bytes:
    """Of all codes of Windows-1252, whatever a document shows of them."""
    return stream(_unicode({code: letter for letter, code in _PLAIN.items()}))


def _array(numbers: Iterable[str]) -> str:
    return f"[{' '.join(numbers)}]"


def _unicode(letters: Mapping[int, str]) -> bytes:
    """What the codes, which ascend, mean, for search and for reading aloud: ISO 32000-1, 9.10.3. At most a hundred rows to a block."""
    rows: list[list[int]] = []  # of codes and letters that go up together: the first code, the last, the first letter
    for code, letter in letters.items():
        if rows and rows[-1][1] == code - 1 and ord(letter) - code == rows[-1][2] - rows[-1][0]:
            rows[-1][1] = code
        else:
            rows.append([code, code, ord(letter)])
    lines = [f"<{first:02X}> <{last:02X}> <{letter:04X}>" for first, last, letter in rows]
    blocks = [lines[first : first + 100] for first in range(0, len(lines), 100)]
    meanings = "\n".join(f"{len(block)} beginbfrange\n{chr(10).join(block)}\nendbfrange" for block in blocks)
    return f"""/CIDInit /ProcSet findresource begin
12 dict begin
begincmap
/CIDSystemInfo <</Registry (Adobe) /Ordering (UCS) /Supplement 0>> def
/CMapName /Adobe-Identity-UCS def
/CMapType 2 def
1 begincodespacerange
<00> <FF>
endcodespacerange
{meanings}
endcmap
CMapName currentdict /CMap defineresource pop
end
end
""".encode()
