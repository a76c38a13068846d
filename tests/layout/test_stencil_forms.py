"""Every built form on its sheets, and notes that take no room from a stencil."""

from __future__ import annotations

import re
from dataclasses import replace
from functools import cache

import pytest
import yaml

from lessonkit.drawing.items import Document
from lessonkit.geometry import outlines
from lessonkit.layout.stencils.document import stencil_document
from lessonkit.lesson.examples import FORMS
from lessonkit.pieces.model import Kit, Part
from lessonkit.problems import Problem, Span
from lessonkit.writers.pdf import write_pdf
from tests.layout.read_back import says, sheets
from tests.lessons_for_tests import ROOM, kit_of
from tests.shapes_for_tests import HEAD, STEPS, flat
from tests.stencil_pages_for_tests import check_document, check_page, cuts, drawn, word_boxes
from tests.stencils_for_tests import disc, kit_with, part_of, piece_of, plate

MORE = {
    "cone, tiled": ("cone", {"bottom": "100 mm", "top": "60 mm", "tall": "220 mm", "measured": "outside"}),
    "cylinder, lapped": ("cylinder", {**FORMS["cylinder"], "joint": "lapped"}),
    "box, butted": ("box", {**FORMS["box"], "corner": "butt"}),
    "oval, lapped": ("oval", {**FORMS["oval"], "joint": "lapped", "base": "inside"}),
}
EVERY = {**{form: (form, sizes) for form, sizes in FORMS.items()}, **MORE}
SHEETS = {
    "box": (3, 3), "hut": (3, 4), "many_sided": (1, 1), "pocket": (3, 3), "cone, tiled": (3, 5), "cone": (3, 3), "pinch": (1, 1), "coil_pot": (1, 1),
}  # fmt: skip
SLAB_ROOM = ROOM + "slab: {wide: 400 mm, long: 600 mm}\n"


def kit_for(form: str, sizes: dict[str, str], room: str = SLAB_ROOM) -> Kit:
    piece = yaml.safe_dump({"name": "boat", form: sizes}, default_flow_style=True, width=1000).strip()
    return kit_of(f"{HEAD}  - {piece}\n{STEPS}", room)


@cache
def made(name: str, paper: str) -> tuple[Kit, Document, str]:
    """The kit, its sheets, and all their words as PDFium reads them."""
    kit = kit_for(*EVERY[name])
    document = stencil_document(kit, paper)
    return kit, document, " ".join(sheet.text for sheet in sheets(write_pdf(document)))


def parts(kit: Kit) -> list[Part]:
    return [part for piece in kit.pieces for part in piece.parts]


@pytest.mark.parametrize("paper", ["A4", "Letter"])
@pytest.mark.parametrize("name", EVERY)
def test_the_sheets_of_every_form_are_legible_and_few(name: str, paper: str) -> None:
    kit, document, _ = made(name, paper)
    check_document(document)
    assert sum("notes" in page.name.lower() for page in document.pages) == 0
    if name in SHEETS:
        assert len(document.pages) == SHEETS[name][paper == "Letter"]
    names = " ".join(page.name for page in document.pages)
    for part in parts(kit):
        assert f"Boat, {part.name}, {part.letter} of" in names or len(parts(kit)) == 1


@pytest.mark.parametrize("name", EVERY)
def test_edges_are_lettered_and_told_with_their_bevel_lap_and_mate(name: str) -> None:
    """Every letter stands at as many edges as have it; the sheet says what each meets, and each bevel with its angle and its face."""
    kit, document, text = made(name, "A4")
    tiled = any("Row" in page.name for page in document.pages)
    shown = [words for page in document.pages for _, words in word_boxes(page)]
    for letter in {edge.letter for part in parts(kit) for edge in part.edges if edge.letter}:
        count = sum(edge.letter == letter for part in parts(kit) for edge in part.edges)
        assert shown.count(f"edge {letter}") == count or (tiled and shown.count(f"edge {letter}") >= count), letter
        assert says(text, f"edge {letter} meets edge {letter}")
    assert "edge " not in shown, "an edge without a letter has its bevel alone"
    for part in parts(kit):
        for edge in part.edges:
            if edge.bevel_deg:
                assert says(text, f"bevel {edge.bevel_deg:.1f}".removesuffix(".0") + f"°, {edge.face} face"), (part.name, edge)
            if edge.lap_mm:
                assert says(text, f"edge {edge.letter} laps {edge.lap_mm:g} mm")


@pytest.mark.parametrize("name", EVERY)
def test_notes_counts_and_sizes_are_all_there(name: str) -> None:
    kit, _, text = made(name, "A4")
    for part in parts(kit):
        for note in part.notes:
            assert says(text, note), note
        if part.use == "clay":
            assert says(text, f"cut {part.count} for each learner")
        for measure in part.measures:
            assert f"{measure.cut:.1f}".removesuffix(".0") in text.replace("°", " ").split(), (part.name, measure)


def test_mates_are_the_other_parts_or_the_next_copy() -> None:
    """A roof slab meets the other at the ridge and the gables at its ends, never itself; a base meets six sides, not its own edges."""
    _, _, hut = made("hut", "A4")
    assert says(hut, "edge R meets edge R of the next one")
    assert says(hut, "edge S meets edge S of gable (G)")
    assert says(hut, "edge S meets edge S of roof (F)")
    _, _, many = made("many_sided", "A4")
    assert says(many, "edge J meets edge J of the next one")
    assert says(many, "edge K meets edge K of side (A)")
    assert says(many, "all edges K: bevel 8°, outside face")
    assert len(re.findall("bevel 8°, outside", " ".join(many.replace("\xa0", " ").split()))) == 2, "once for the base, once at the side's foot"


def test_what_is_not_cut_from_clay_says_so() -> None:
    """A gauge is of card; a ball's outline is only compared, has no slab and no count, and its sheet has nothing to cut."""
    _, document, text = made("pinch", "A4")
    assert says(text, "an outline to hold the work against, not a stencil")
    for words in ("slab", "for each learner", "Cut along"):
        assert words not in text
    assert says(text, "Your ball should cover this circle.")
    assert says(text, "fired: across 80 mm")
    assert text.count("fired:") == 1, "a ball of wet clay is not fired"
    assert not cuts(drawn(write_pdf(document))[0])
    _, _, pot = made("coil_pot", "A4")
    assert says(pot, "cut 1 from card")
    assert pot.count("slab 6") == 1


# -- notes

LONG = "Hold the strip upright while you join it and turn the board, not the pot, so that the seam stays where it is. "


@pytest.mark.parametrize(("times", "extra"), [(3, False), (14, True)])
def test_long_notes_push_no_part_to_more_sheets(times: int, extra: bool) -> None:
    """A wall that fits its sheet with nothing to spare, and several parts on one sheet: as many stencil sheets as without a note,
    and every word of the note once, on the sheet or on one of notes that the foot names."""
    wall = plate(264, 120, name="wall").parts[0]
    pieces = [piece_of("wall", wall), piece_of("set", *(part_of(f"tile {n}", outlines.rectangle(90, 60), wide=90, tall=60) for n in range(4)))]
    noted = [replace(piece, parts=tuple(replace(part, notes=(f"Note {part.name}. {LONG * times}",)) for part in piece.parts)) for piece in pieces]
    for paper in ("A4", "Letter"):
        plain, document = (stencil_document(kit_with(*each), paper) for each in (pieces, noted))
        stencils = [page for page in document.pages if page.name != "Notes"]
        assert len(stencils) == len(plain.pages)
        for page in document.pages:
            check_page(page)
        text = " ".join(" ".join(sheet.text.split()) for sheet in sheets(write_pdf(document)))
        for part in (part for piece in noted for part in piece.parts):
            assert text.count(" ".join(part.notes[0].split())) == 1, part.name
        assert (len(document.pages) > len(stencils)) == extra
        if extra:
            assert f"notes: sheet {len(stencils) + 1}" in text


def test_a_note_of_a_tiled_part_stands_on_one_of_its_sheets() -> None:
    kit = kit_with(replace(plate(400, 150), parts=(replace(plate(400, 150).parts[0], notes=("The wall stands on the base.",)),)))
    found = [says(sheet.text, "The wall stands on the base.") for sheet in sheets(write_pdf(stencil_document(kit, "A4")))]
    assert found == [True, False]


def test_warnings_stand_on_the_stencil_without_what_to_type() -> None:
    kit = kit_of(flat("star: {points: 5, across: 160 mm, depth: 40 mm}"))
    (warning,) = (problem for problem in kit.pieces[0].warnings if problem.kind == "sharp-inner-corner")
    (sheet,) = sheets(write_pdf(stencil_document(kit, "A4")))
    assert says(sheet.text, warning.what.removeprefix("boat: a").replace("sharp", "A sharp").strip())
    assert says(sheet.text, "cracks start there. Round it.")
    assert "rounded:" not in sheet.text


def test_a_warning_is_said_once_for_a_piece_of_several_parts() -> None:
    problem = Problem("warning", "wet", Span("a", 1, 1, 1, 1), "boat: it is wet.", "Let it dry.")
    piece = replace(piece_of("boat", disc(40).parts[0], disc(50).parts[0]), warnings=(problem,))
    document = stencil_document(kit_with(piece), "A4")
    text = " ".join(sheet.text for sheet in sheets(write_pdf(document)))
    assert " ".join(text.split()).count("It is wet. Let it dry.") == 1
