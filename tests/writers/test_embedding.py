"""How words become codes, and what a file carries of the typefaces."""

from __future__ import annotations

from io import BytesIO

import pypdfium2
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pypdf import PdfReader

from lessonkit.drawing.fonts import runs, typeface, width_mm
from lessonkit.drawing.items import Document, Page, TextLine
from lessonkit.units import MM_PER_POINT
from lessonkit.writers.embedding import coded
from lessonkit.writers.pdf import write_pdf


def sign(*words: str) -> bytes:
    return write_pdf(Document("Sign", "en", (Page(210, 297, tuple(TextLine(20, 40 + 9 * i, line, 14) for i, line in enumerate(words)), "one"),)))


def test_every_face_has_the_letters_of_windows_1252() -> None:
    """Each of them then reads back at its own code: those that lie at other places in Unicode, too."""
    letters = [c for c in bytes(range(33, 256)).decode("cp1252", "ignore") if c.isprintable()]
    assert all(ord(c) in typeface(face).glyphs for face in ("Andika", "AndikaBold", "DejaVu", "DejaVuBold") for c in letters)
    lines = ["".join(letters[i : i + 40]) for i in range(0, len(letters), 40)]
    reader = PdfReader(BytesIO(sign(*lines)), strict=True)
    assert reader.pages[0].extract_text().split("\n") == lines
    assert list(reader.pages[0]["/Resources"]["/Font"]) == ["/Andika"]


def test_a_no_break_space_is_drawn_as_a_space() -> None:
    """Though the document has no other: nothing is drawn where it stands."""
    with_break, without = (pypdfium2.PdfDocument(sign(text))[0].render(scale=2).to_pil() for text in ("8 mm", "8\u00a0mm"))
    assert with_break.tobytes() == without.tobytes()


def test_a_letter_gets_the_same_code_wherever_it_stands() -> None:
    """The last byte of its number in Unicode, in a font of its page there."""
    stretches = coded("Žižka ā Ω", False)
    assert coded("Ωā", False)[0].string == stretches[3].string
    assert [(font.name, string) for _, font, _, string in stretches] == [
        ("Andika", "(\x8ei\x9eka )"), ("Andika2", "(\\001)"), ("Andika", "( )"), ("Andika4", "(\xa9)"),
    ]  # fmt: skip
    assert [before_em for before_em, *_ in stretches] == pytest.approx([width_mm("Žižka ā Ω"[:i], 12) / 12 / MM_PER_POINT for i in (0, 6, 7, 8)])


@settings(max_examples=60, deadline=None)
@given(st.text(max_size=30))
def test_any_text_can_be_written(text: str) -> None:
    """The file is sound for a strict reader whatever is in it: brackets, line ends, letters that no face has."""
    reader = PdfReader(BytesIO(sign(text)), strict=True)
    content = reader.pages[0].get_contents()
    assert content is not None
    shown = [operands[0] for operands, operator in content.operations if operator == b"Tj"]
    assert len(shown) >= len(runs(text))


def test_a_one_page_sign_is_small() -> None:
    everything = [chr(c) for c in range(33, 127)]
    lines = ["".join(everything), "Come here when your card has its tick.", "¿Más arcilla, niño?"]
    assert len(sign(*lines)) < 14_000
    assert len(sign("Join")) < 5_000
