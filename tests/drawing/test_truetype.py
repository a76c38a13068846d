"""The smaller fonts that papers carry, and what is read from the large ones; fontTools is the judge of both."""

from __future__ import annotations

from io import BytesIO

import pytest
from fontTools.pens.recordingPen import DecomposingRecordingPen
from fontTools.ttLib import TTFont

from lessonkit.drawing.fonts import Face, typeface, typeface_path

FACES: tuple[Face, ...] = ("Andika", "AndikaBold", "DejaVu", "DejaVuBold")
TEXT = "".join(map(chr, range(32, 127))) + "áéñüÅ½–“☐→Ω\u0131"


def drawn(font: TTFont, glyph: str) -> list[tuple[str, tuple[object, ...]]]:
    pen = DecomposingRecordingPen(font.getGlyphSet())
    font.getGlyphSet()[glyph].draw(pen)
    return list(pen.value)


@pytest.mark.parametrize("face", FACES)
def test_every_character_has_its_glyph_and_every_glyph_its_measures(face: Face) -> None:
    font, whole = typeface(face), TTFont(typeface_path(face))
    names = whole.getGlyphOrder()
    assert {code: names[glyph] for code, glyph in font.glyphs.items()} == {code: name for code, name in whole.getBestCmap().items() if code <= 0xFFFF}
    assert [font.advance(glyph) for glyph in range(len(names))] == [whole["hmtx"][name][0] for name in names]
    bearings = [font.bearing(glyph) for glyph in range(len(names))]
    assert [bearing - 0x10000 * (bearing > 0x7FFF) for bearing in bearings] == [whole["hmtx"][name][1] for name in names]
    head, hhea = whole["head"], whole["hhea"]
    assert (font.em, font.box) == (head.unitsPerEm, (head.xMin, head.yMin, head.xMax, head.yMax))
    assert (font.ascent, font.descent) == (hhea.ascent, hhea.descent)


@pytest.mark.parametrize("face", FACES)
def test_every_glyph_has_its_outline(face: Face) -> None:
    """Each spot of each; fontTools rounds those of scaled parts to whole units."""
    font, whole = typeface(face), TTFont(typeface_path(face))
    for glyph, name in enumerate(whole.getGlyphOrder()):
        spots, _, flags = whole["glyf"][name].getCoordinates(whole["glyf"])
        found = [spot for contour in font.contours(glyph) for spot in contour]
        assert [on for _, _, on in found] == [bool(flag & 1) for flag in flags], name
        assert all(abs(x - a) <= 0.51 and abs(y - b) <= 0.51 for (x, y, _), (a, b) in zip(found, spots, strict=True)), name


@pytest.mark.parametrize("face", FACES)
def test_a_subset_draws_the_same_letters(face: Face) -> None:
    """Sound by its own sums, and each letter's outline is the large font's; one that the font lacks is its empty box."""
    font, whole = typeface(face), TTFont(typeface_path(face))
    data = font.subset([font.glyphs.get(ord(letter), 0) for letter in TEXT], 32)
    small = TTFont(BytesIO(data), checkChecksums=2)
    codes, characters = small["cmap"].tables[0].cmap, whole.getBestCmap()
    for code, letter in enumerate(TEXT, 32):
        name, of_whole = codes.get(code, ".notdef"), characters.get(ord(letter), ".notdef")
        assert drawn(small, name) == drawn(whole, of_whole), letter
        assert small["hmtx"][name] == whole["hmtx"][of_whole]
    assert len(data) < 14_000
    assert not {"fpgm", "prep", "cvt ", "name"} & set(small.keys())


def test_the_whole_file_adds_up_to_what_the_standard_wants() -> None:
    """OpenType 1.9, head: with its adjustment, the sum of the file's words is 0xB1B0AFBA."""
    data = typeface("Andika").subset([typeface("Andika").glyphs[ord("K")]])
    assert len(data) % 4 == 0
    assert sum(int.from_bytes(data[i : i + 4]) for i in range(0, len(data), 4)) % 2**32 == 0xB1B0AFBA
