"""Sheets for printing on both sides, read back: the back's lines fall on the front's, its words can be read and touch nothing."""

from __future__ import annotations

from dataclasses import replace
from io import BytesIO
from pathlib import Path

import pypdfium2
import pytest
from click.testing import CliRunner
from pypdf import PdfReader
from shapely import LineString, MultiLineString, box, unary_union
from shapely.affinity import scale

from lessonkit.build import Order, papers
from lessonkit.cli.commands import main
from lessonkit.drawing.items import Document, Page
from lessonkit.geometry import outlines
from lessonkit.layout.printing import corrected
from lessonkit.layout.stencils.document import stencil_document, stencil_documents
from lessonkit.pieces.model import Hole, Kit
from lessonkit.writers.pdf import write_pdf
from tests.layout.read_back import sheets
from tests.lessons_for_tests import FRAME, ROOM, kit_of
from tests.stencil_pages_for_tests import check_document, cuts, lines_of, word_boxes
from tests.stencils_for_tests import Drawn, disc, drawn, heart_frame, kit_with, part_of, piece_of, plate, pot, ring

BOTH = pytest.mark.parametrize("paper", ["A4", "Letter"])
EVERYTHING = kit_with(ring(), heart_frame(), pot(), disc(13, "rivet", 8), plate(400, 300, 40), plate(250, 185))
HOW_TO_TAPE = "Trim the left and top edges at the outer line of the strip. Lay each strip on its twin, cross on cross, and tape."
TWO_FACED = FRAME.replace("openings:", "sides: both\n      openings:")


def both_sides(kit: Kit, paper: str) -> Document:
    document = stencil_documents(kit, paper, mirror=True)[1]
    assert document is not None
    return document


def lines(page: list[Drawn]) -> MultiLineString:
    """The cut lines, without the legend's samples, which are straight."""
    seen = [LineString(line).intersection(box(*path.clip)) for path in cuts(page) for line in path.subpaths if len(line) > 2]
    return unary_union([line for line in seen if line.length > 20])


def turned_over(front: MultiLineString, wide: float, tall: float) -> MultiLineString:
    """The paper turned over its long edge, in the hand: left and right change places on upright paper, top and foot on turned."""
    return scale(front, -1, 1, origin=(wide / 2, 0)) if tall > wide else scale(front, 1, -1, origin=(0, tall / 2))


@BOTH
@pytest.mark.parametrize("printer", [(1.0, 1.0), (0.99, 1.01)], ids=["true", "corrected"])
def test_the_outlines_of_both_sides_coincide(paper: str, printer: tuple[float, float]) -> None:
    document = corrected(both_sides(EVERYTHING, paper), printer)
    read = list(zip(document.pages, drawn(write_pdf(document)), strict=True))
    assert {page.wide_mm > page.tall_mm for page, _ in read} == {True, False}
    for (page, front), (behind, back) in zip(read[::2], read[1::2], strict=True):
        assert (page.wide_mm, page.tall_mm) == (behind.wide_mm, behind.tall_mm)
        seen, expected = lines(back), turned_over(lines(front), page.wide_mm, page.tall_mm)
        assert seen.hausdorff_distance(expected) < 0.002
        assert seen.length == pytest.approx(expected.length, abs=0.1)


@BOTH
def test_words_stand_on_the_back_as_they_stand_on_the_front(paper: str) -> None:
    """Nothing overlaps on either side, and an outside reader finds the same words, but for the face, the count and how to tape."""
    document = both_sides(EVERYTHING, paper)
    check_document(document)
    texts = [sheet.text.split() for sheet in sheets(write_pdf(document))]
    for front, back in zip(texts[::2], texts[1::2], strict=True):
        assert set(front) - set(back) <= {*HOW_TO_TAPE.split(), "front", "front:", "up"}
        assert set(back) - set(front) <= {"back", "back:", "down"}


def test_no_word_is_mirrored() -> None:
    """PDFium: in every word the letters run to the right, and none is set by a matrix that mirrors."""
    for page in pypdfium2.PdfDocument(write_pdf(both_sides(EVERYTHING, "A4"))):
        words = page.get_textpage()
        for index in range(words.count_chars() - 1):
            if words.get_text_range(index, 2).strip().isalpha() and len(words.get_text_range(index, 2).strip()) == 2:
                (left, *_), (after, *_) = words.get_charbox(index), words.get_charbox(index + 1)
                assert after > left or abs(words.get_charbox(index)[1] - words.get_charbox(index + 1)[1]) > 5
        for item in page.get_objects(filter=[1]):
            a, b, c, d, *_ = item.get_matrix().get()
            assert a * d - b * c > 0


def test_a_flipped_stencil_names_both_its_faces() -> None:
    """By itself, in a file of its own; a lesson where nothing is flipped has none."""
    kit = kit_of(TWO_FACED)
    made = papers(kit, Order(only=("stencils",)))
    assert list(made) == ["stencils.pdf", "stencils-both-sides.pdf"]
    front, back = (page.extract_text() for page in PdfReader(BytesIO(made["stencils-both-sides.pdf"])).pages)
    assert "cut 1 for each learner" in front.replace("\n", " ")
    assert "then flip it and cut as many" in front.replace("\n", " ")
    assert "front" in front.split()
    assert "back" in back.split()
    assert "Print on both sides, flip on the long edge." in front
    assert "sheet 1 of 1, front" in front
    assert "sheet 1 of 1, back" in back
    assert list(papers(kit_of(FRAME), Order(only=("stencils",)))) == ["stencils.pdf"]


def test_the_sheets_alone_are_the_same_with_and_without_a_back_but_for_the_name_of_the_face() -> None:
    kit = kit_with(plate(170, 120))
    plain, (faced, backs) = stencil_document(kit, "A4"), stencil_documents(kit, "A4", mirror=True)
    assert backs is not None
    assert len(plain.pages) == len(faced.pages) == len(backs.pages) / 2
    words, more = ([text for _, text in word_boxes(document.pages[0])] for document in (plain, faced))
    assert sorted([*words, "front: this side up"]) == sorted(more)
    assert "back: this side down" in [text for _, text in word_boxes(backs.pages[1])]


def test_the_arrow_to_the_top_still_points_there() -> None:
    """On upright paper up on both sides; behind turned paper down, for there top and foot have changed places."""
    hole = replace(part_of("sign", outlines.rectangle(250, 120), wide=250, tall=120), holes=(Hole(0.0, 45.0, 4.5, 4.0),))
    for piece, expected in ((ring(), [-5, -5]), (piece_of("sign", hole), [-5, 5])):
        pages = both_sides(kit_with(piece), "A4").pages
        assert [_points_down(page) for page in pages] == pytest.approx(expected)


def _points_down(page: Page) -> float:
    """How much lower the tip of the largest arrow head lies than its back."""
    heads = [line for line, width, layer in lines_of(page) if not width and layer == "words" and len(line.coords) == 4]
    tip, back, _, _ = max(heads, key=lambda line: line.length).coords
    return tip[1] - back[1]


def test_the_command_makes_backs_when_asked(tmp_path: Path) -> None:
    (tmp_path / "room.yaml").write_text(ROOM)
    (tmp_path / "porthole.yaml").write_text(FRAME)
    for words, made in (((), {"stencils.pdf"}), (("--mirror",), {"stencils.pdf", "stencils-both-sides.pdf"})):
        out = tmp_path / f"out{len(words)}"
        result = CliRunner().invoke(main, ["build", str(tmp_path / "porthole.yaml"), "--out", str(out), "--only", "stencils", *words])
        assert result.exit_code == 0, result.output
        assert {path.name for path in (out / "porthole").glob("*.pdf")} == made
