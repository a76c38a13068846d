from __future__ import annotations

import unicodedata
from itertools import pairwise

import pytest
from fontTools.ttLib import TTFont
from hypothesis import given, settings
from hypothesis import strategies as st

from lessonkit.drawing.fonts import CAPITAL, DESCENT, EM, X_HEIGHT, Face, begun_large, missing, runs, typeface_path, width_mm

FACES: tuple[Face, ...] = ("Andika", "AndikaBold", "DejaVu", "DejaVuBold")
CHARACTERS = {face: TTFont(typeface_path(face)).getBestCmap() for face in FACES}


@pytest.mark.parametrize("face", ["Andika", "AndikaBold"])
def test_measures_are_those_of_the_font(face: Face) -> None:
    """Read by fontTools from the glyphs themselves; 0.002 em is 0.02 mm at 30 pt."""
    font = TTFont(typeface_path(face))
    glyphs, letters, em = font["glyf"], font.getBestCmap(), font["head"].unitsPerEm

    def top(of: str) -> float:
        return float(max(glyphs[letters[ord(letter)]].yMax for letter in of) / em)

    assert top("ABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789") == pytest.approx(CAPITAL, abs=0.002)
    assert top("acemnorsuvwxz") == pytest.approx(X_HEIGHT, abs=0.002)
    assert -min(glyphs[letters[ord(letter)]].yMin for letter in "gjpqy") / em == pytest.approx(DESCENT, abs=0.002)


@pytest.mark.parametrize("face", FACES)
def test_every_font_has_the_same_em(face: Face) -> None:
    assert TTFont(typeface_path(face))["head"].unitsPerEm == EM


@pytest.mark.parametrize(("face", "bold"), [("Andika", False), ("AndikaBold", True)])
def test_widths_are_the_advances_of_the_font(face: Face, bold: bool) -> None:
    font = TTFont(typeface_path(face))
    text = "Roll to 8 mm, R&D \u2013 ¿más?"
    advance = sum(font["hmtx"][font.getBestCmap()[ord(c)]][0] for c in text) / font["head"].unitsPerEm
    assert width_mm(text, 12, bold) == pytest.approx(advance * 12 * 25.4 / 72, abs=1e-9)


def test_width_grows_with_size_and_is_nothing_for_no_text() -> None:
    assert width_mm("Kiln", 28) == pytest.approx(2 * width_mm("Kiln", 14))
    assert width_mm("", 12) == 0
    assert width_mm("Kiln", 12, bold=True) > width_mm("Kiln", 12)


@settings(max_examples=50, deadline=None)
@given(st.text(), st.text(), st.booleans())
def test_width_of_words_adds_up(first: str, second: str, bold: bool) -> None:
    assert width_mm(f"{first} {second}", 10, bold) == pytest.approx(width_mm(f"{first} ", 10, bold) + width_mm(second, 10, bold))


@settings(max_examples=50, deadline=None)
@given(st.text(), st.booleans())
def test_runs_keep_every_character(text: str, bold: bool) -> None:
    pieces = runs(text, bold)
    assert "".join(piece for _, piece in pieces) == text.translate(str.maketrans("\t\n\r", "   "))
    assert all(first != second for (first, _), (second, _) in pairwise(pieces))


def test_a_word_that_andika_lacks_is_set_in_dejavu() -> None:
    assert runs("Done \u2610 well") == (("Andika", "Done "), ("DejaVu", "\u2610 "), ("Andika", "well"))
    assert runs("a\u2610 b", bold=True) == (("DejaVuBold", "a\u2610 "), ("AndikaBold", "b"))


def test_a_sign_without_a_bold_form_is_missing() -> None:
    """Four signs of the private area."""
    thin = {chr(c) for c in CHARACTERS["DejaVu"].keys() - CHARACTERS["DejaVuBold"].keys() - CHARACTERS["Andika"].keys() if c < 0x10000}
    assert thin
    assert set(missing("".join(thin))) == thin


def test_missing_names_what_no_face_has() -> None:
    assert missing("Roll \u6f22 and \u6f22 \U0001f600\x07 mug\tnow\nthen") == ("\u6f22", "\U0001f600", "\x07")
    assert missing("¡Estira más! \u2610 ½ ⅜ × → Ω ß ž") == ()


def test_every_control_character_is_missing() -> None:
    controls = {chr(c) for c in range(0x100) if unicodedata.category(chr(c)) == "Cc"} - set("\t\n\r")
    assert set(missing("".join(sorted(controls)))) == controls


@settings(max_examples=50, deadline=None)
@given(st.text())
def test_what_is_not_missing_stands_in_the_face_chosen_for_it(text: str) -> None:
    lacking = set(missing(text))
    for bold in (False, True):
        assert {c for face, piece in runs(text, bold) for c in piece if ord(c) not in CHARACTERS[face]} <= lacking


def test_a_text_begins_large_where_the_typefaces_have_the_capital() -> None:
    assert [begun_large(text) for text in ("clay", "über", "ß", "", "6 mm", "თიხა")] == ["Clay", "Über", "SS", "", "6 mm", "თიხა"]
