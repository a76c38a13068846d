"""Stencils over several sheets: as few as can be, and put together cross on cross they give back the part."""

from __future__ import annotations

from math import dist

import pytest
from shapely import LineString, MultiLineString, box, unary_union
from shapely.affinity import translate

from lessonkit.drawing.items import Page
from lessonkit.geometry import outlines, shape
from lessonkit.layout.stencils.document import stencil_document
from lessonkit.pieces.model import Piece
from lessonkit.writers.pdf import write_pdf
from tests.stencil_pages_for_tests import check_document, cuts, lines_of, word_boxes
from tests.stencils_for_tests import Drawn, disc, drawn, kit_with, part_of, piece_of, plate, pot


@pytest.mark.parametrize(
    ("wide", "tall", "sheets", "turned"),
    [(400, 300, 4, True), (188, 268, 1, False), (188.01, 268, 2, True), (250, 185, 1, False), (276.01, 250, 2, False), (276, 180, 1, True)],
)
def test_c04_the_fewest_sheets(wide: float, tall: float, sheets: int, turned: bool) -> None:
    """Windows of 188 x 268 upright and 276 x 180 turned, overlap 10: 400 x 300 is 3 x 2 upright and 2 x 2 turned."""
    document = stencil_document(kit_with(plate(wide, tall)), "A4")
    assert len(document.pages) == sheets
    assert all((page.wide_mm > page.tall_mm) == turned for page in document.pages)


def crosses(page: Page, paths: list[Drawn]) -> dict[str, tuple[float, float]]:
    """The middle of each ring of the overlap, from the PDF, by the letter that stands nearest."""
    letters = [(((b[0] + b[2]) / 2, (b[1] + b[3]) / 2), text) for b, text in word_boxes(page) if len(text) <= 2 and text[0].islower()]
    found = {}
    for path in paths:
        left, top, right, bottom = path.bounds
        if (right - left, bottom - top) == pytest.approx((4.4, 4.4), abs=1e-3) and len(path.points) > 8:
            middle = (left + right) / 2, (top + bottom) / 2
            name = min(letters, key=lambda letter: dist(letter[0], middle))[1]
            assert name not in found
            found[name] = middle
    return found


def seen(paths: list[Drawn]) -> list[LineString]:
    """The cut lines that the sheet shows."""
    return [LineString(line).intersection(box(*path.clip)) for path in cuts(paths) for line in path.subpaths]


LARGE = [
    (plate(400, 300, 40), "A4", 4),
    (plate(400, 300, 40), "Letter", 4),
    (disc(430, "platter"), "A4", 6),
    (disc(430, "platter"), "Letter", 6),
    (pot(), "Letter", 2),
    (piece_of("hoop", part_of("hoop", shape.with_opening(outlines.circle(420), outlines.circle(300)), outside=420, opening=300)), "A4", 6),
]


@pytest.mark.parametrize(("piece", "paper", "sheets"), LARGE)
def test_c04_tiles_put_together_give_back_the_whole(piece: Piece, paper: str, sheets: int) -> None:
    """Sheets are laid cross on cross, as a hand does it: all crosses coincide, and so do all lines with the part's."""
    document = stencil_document(kit_with(piece), paper)
    read = zip(document.pages, drawn(write_pdf(document)), strict=True)
    (known, together), *rest = [(crosses(page, paths), seen(paths)) for page, paths in read if "Row" in page.name]
    assert len(rest) == sheets - 1
    while rest:
        mine, lines = next(sheet for sheet in rest if len(known.keys() & sheet[0].keys()) >= 2)
        rest.remove((mine, lines))
        first, *others = sorted(known.keys() & mine.keys())
        dx, dy = known[first][0] - mine[first][0], known[first][1] - mine[first][1]
        for name in others:
            assert (mine[name][0] + dx, mine[name][1] + dy) == pytest.approx(known[name], abs=1e-3), name
        known |= {name: (x + dx, y + dy) for name, (x, y) in mine.items()}
        together += [translate(line, dx, dy) for line in lines]
    whole = unary_union(together)
    body = piece.parts[0].shape
    (left, top, right, bottom), (a, b, c, d) = whole.bounds, shape.bounds(body)
    assert (right - left, bottom - top) == pytest.approx((c - a, d - b), abs=0.01)
    true = MultiLineString([[(x - a + left, d - y + top) for x, y in (*ring, ring[0])] for ring in (body.outline, *body.holes)])
    assert true.buffer(0.01).covers(whole)
    assert whole.buffer(0.01).covers(true)


def test_both_sheets_show_the_whole_strip_of_10_mm_with_crosses_far_apart() -> None:
    document = stencil_document(kit_with(plate(400, 150)), "A4")
    (marks, lines), (others, more) = [
        (crosses(page, paths), seen(paths)) for page, paths in zip(document.pages, drawn(write_pdf(document)), strict=True)
    ]
    assert set(marks) == set(others) == {"a", "b"}
    assert dist(marks["a"], marks["b"]) > 60
    moved = [translate(line, marks["a"][0] - others["a"][0], marks["a"][1] - others["a"][1]) for line in more]
    left, _, right, _ = unary_union(lines).buffer(0.01).intersection(unary_union(moved).buffer(0.01)).bounds
    assert right - left == pytest.approx(10, abs=0.05)
    for page in document.pages:
        edges = [line.bounds[0] for line, _, layer in lines_of(page) if layer == "overlap" and line.bounds[0] == line.bounds[2] and line.length > 60]
        assert max(edges) - min(edges) == pytest.approx(10)


def test_a_tile_without_a_line_has_no_sheet_and_that_is_said() -> None:
    """520 x 730 mm is 3 x 3 tiles upright; the middle one is bare clay."""
    document = stencil_document(kit_with(plate(520, 730)), "A4")
    check_document(document)
    places = {page.name.removeprefix("Plate, A of 1, ") for page in document.pages}
    assert places == {f"Row {row}, column {column}" for row in (1, 2, 3) for column in (1, 2, 3)} - {"Row 2, column 2"}
    for page in document.pages:
        assert "Row 2, column 2 has no line and no sheet." in " ".join(text for _, text in word_boxes(page))


def test_tiles_name_row_and_column_and_show_a_map() -> None:
    document = stencil_document(kit_with(plate(400, 300, 40)), "A4")
    names = [f"Row {row}, column {column}" for row in (1, 2) for column in (1, 2)]
    assert [page.name for page in document.pages] == [f"Plate, A of 1, {name}" for name in names]
    for page, name in zip(document.pages, names, strict=True):
        assert name in {text for _, text in word_boxes(page)}
        heavy = [line for line, width, layer in lines_of(page) if layer == "map" and width == 1.0]
        assert len(heavy) == 1
