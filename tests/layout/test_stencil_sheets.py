"""Stencil sheets, read back from the PDF by pypdf, and their words and lines taken from the drawing."""

from __future__ import annotations

from dataclasses import replace
from io import BytesIO
from itertools import combinations
from math import dist, hypot

import pypdfium2
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pypdf import PdfReader
from shapely import LineString, box

from lessonkit.geometry import outlines, shape
from lessonkit.layout.stencils.document import stencil_document
from lessonkit.pieces.model import Edge, Hole, Mark, Piece
from lessonkit.units import PAPERS
from lessonkit.writers.pdf import write_pdf
from tests.lessons_for_tests import ROOM
from tests.stencil_pages_for_tests import check_document, cuts, lines_of, printed, word_boxes
from tests.stencils_for_tests import (
    INCH_ROOM,
    POINT_MM,
    disc,
    drawn,
    heart_frame,
    kit_with,
    part_of,
    piece_of,
    plate,
    pot,
    ring,
)

BOTH = pytest.mark.parametrize("paper", ["A4", "Letter"])


EVERYTHING = (ring(), heart_frame(), plate(170.5, 170.5, name="tile"), pot(), disc(13, "rivet", 8), plate(400, 300, 40))


@BOTH
@pytest.mark.parametrize("room", [ROOM, INCH_ROOM], ids=["mm", "in"])
def test_every_sheet_is_legible_and_has_its_bars(paper: str, room: str) -> None:
    check_document(stencil_document(kit_with(*EVERYTHING, room=room, assumed=("No room file was found.",)), paper))


@BOTH
def test_c02_paper_is_exact_and_the_stencil_is_the_same_on_both(paper: str) -> None:
    pdf = write_pdf(stencil_document(kit_with(ring()), paper))
    (page,) = PdfReader(BytesIO(pdf)).pages
    wide, tall = PAPERS[paper]
    assert (float(page.mediabox.width), float(page.mediabox.height)) == pytest.approx((wide / POINT_MM, tall / POINT_MM), abs=0.001)
    outside, opening, hole = sorted((path.bounds[2] - path.bounds[0] for path in cuts(drawn(pdf)[0])), reverse=True)
    assert (outside, opening, hole) == pytest.approx((181.818, 96.591, 4.545), abs=0.01)


def test_c02_an_unknown_paper_is_refused() -> None:
    with pytest.raises(KeyError):
        stencil_document(kit_with(ring()), "Leter")


def test_c01_a_square_of_100_is_100_and_viewers_are_asked_not_to_scale() -> None:
    pdf = write_pdf(stencil_document(kit_with(plate(100, 100)), "A4"))
    left, top, right, bottom = cuts(drawn(pdf)[0])[0].bounds
    assert ((right - left) / POINT_MM, (bottom - top) / POINT_MM) == pytest.approx((100 / POINT_MM, 100 / POINT_MM), abs=0.001)  # 283.465
    assert PdfReader(BytesIO(pdf)).root_object["/ViewerPreferences"]["/PrintScaling"] == "/None"
    assert "actual size" in printed(kit_with(plate(100, 100)))[1][0]


def test_c28_a_plate_is_round() -> None:
    """255 mm, over several sheets: every line end on every sheet lies within 0.02 mm of the circle."""
    kit = kit_with(disc(255.0, "plate"))
    pages, _ = printed(kit)
    assert len(pages) > 1
    for page in pages:
        (path,) = cuts(page)
        left, top, right, bottom = path.bounds
        assert (right - left, bottom - top) == pytest.approx((255, 255), abs=0.01)
        middle = ((left + right) / 2, (top + bottom) / 2)
        for a, b in zip(path.points, path.points[1:], strict=False):
            assert dist(a, middle) == pytest.approx(127.5, abs=0.02)
            assert dist(((a[0] + b[0]) / 2, (a[1] + b[1]) / 2), middle) == pytest.approx(127.5, abs=0.02)


# -- words


@BOTH
def test_what_a_sheet_says(paper: str) -> None:
    _, (text,) = printed(kit_with(ring(), assumed=("No room file was found.",)), paper)
    wanted = "Frame, Porthole, A of 1, cut 1 for each learner, 181.8, outside, 96.6, opening, outside 160 mm, buff mid-fire, cone 6, 12 %, "
    wanted += "slab 8 mm, green, TOP, hole 4.5 mm, fired 4 mm, Texture side up, press, do not cut, centre, join: rivet, 100 mm, 4 in, "
    wanted += f"Measure both bars before you cut., actual size, No room file was found., {paper}, sheet 1 of 1, never fire above cone 6"
    for words in wanted.split(", "):
        assert words in text, words
    assert kit_with(ring()).code in text


def test_edges_say_letter_bevel_face_and_lap() -> None:
    _, texts = printed(kit_with(pot()))
    for words in (
        "edge J",
        "bevel 45°, inside face",
        "bevel 45°, outside face",
        "edge J meets edge J",
        "edge J laps 6 mm",
        "edge K meets edge K of base (B)",
    ):
        assert words in texts[0], words
    assert "quarter mark" in texts[0]
    assert "The wall stands on the base." in texts[0]
    assert "TOP" not in texts[0]


def test_inches_are_sixteenths_with_millimetres() -> None:
    _, (text,) = printed(kit_with(plate(172.2, 100), room=INCH_ROOM))
    for words in ("6 3/4 in", "wide (172.2 mm)", "wide 5 15/16 in (151.5 mm)", "slab 5/16 in (8 mm)"):
        assert words in text.replace("\xa0", " "), words


def test_a_mark_of_one_level_says_whose_it_is() -> None:
    body = outlines.rectangle(150, 100)
    marks = (Mark("join", outlines.circle(12).outline, True, "handle", ("advanced",)), Mark("fold", ((-75, 30), (75, 30))))
    _, (text,) = printed(kit_with(piece_of("box", part_of("box", body, marks=marks, wide=150, tall=100))))
    assert "join: handle (Done this before)" in text
    assert "fold, do not cut" in text


def test_lines_look_like_what_they_mean() -> None:
    """Cut wide and continuous, pressed dashed, centre long-dash-dot (ISO 128-2), a joining zone hatched."""
    kit = kit_with(ring())
    pages, _ = printed(kit)
    press = [path for path in pages[0] if path.bounds[2] - path.bounds[0] == pytest.approx(168, abs=0.01)]
    assert [(path.width_mm, bool(path.dash)) for path in press] == [(pytest.approx(0.35, abs=1e-3), True)]
    assert not any(path.dash for path in cuts(pages[0]))
    hatching = [path for path in pages[0] if path.width_mm == pytest.approx(0.18, abs=1e-3) and len(path.points) == 2]
    assert len(hatching) > 8 * 4
    assert any(len(path.dash) == 4 for path in pages[0])


def test_the_ring_keeps_its_name_and_its_sizes_when_the_middle_is_gone() -> None:
    (page,) = stencil_document(kit_with(ring()), "A4").pages
    outlines_ = [line.bounds for line, width, layer in lines_of(page) if layer == "cut"]
    left, top, right, bottom = max(outlines_, key=lambda b: b[2] - b[0])
    x, y = (left + right) / 2, (top + bottom) / 2
    on_ring = [text for b, text in word_boxes(page) if 48.3 < hypot((b[0] + b[2]) / 2 - x, (b[1] + b[3]) / 2 - y) < 90.9]
    for words in ("Frame, A of 1", "Porthole", "181.8", "96.6"):
        assert words in on_ring, words
    assert any("buff" in words for words in on_ring)
    assert any("fired: 160\xa0mm" in words for words in on_ring)


def test_a_ring_full_of_joins_keeps_at_least_its_sizes_in_small() -> None:
    """Four places to join leave no room for the label on the ring; each size finds a place of its own there."""
    body = shape.with_opening(outlines.circle(170.2), outlines.circle(110))
    zones = (shape.moved(outlines.rectangle(26, 13), dx, dy) for dx, dy in ((-70, 0), (70, 0)))
    upright = (shape.moved(outlines.rectangle(13, 26), 0, dy) for dy in (-70, 70))
    marks = tuple(Mark("join", zone.outline, True, "rope") for zone in (*zones, *upright))
    document = stencil_document(kit_with(piece_of("ring", part_of("ring", body, marks=marks, outside=170.2, opening=110))), "A4")
    check_document(document)
    (page,) = document.pages
    left, top, right, bottom = max((line.bounds for line, _, layer in lines_of(page) if layer == "cut"), key=lambda b: b[2] - b[0])
    x, y = (left + right) / 2, (top + bottom) / 2
    on_ring = [text for b, text in word_boxes(page) if 55 < hypot((b[0] + b[2]) / 2 - x, (b[1] + b[3]) / 2 - y) < 85.1]
    assert {"Ring, A of 1 · Porthole", "outside 170.2", "opening 110"} <= set(on_ring)


# -- several parts on a sheet


def test_small_parts_share_a_sheet_each_with_its_label() -> None:
    pages, texts = printed(kit_with(disc(13, "rivet", 8), disc(60, "foot"), plate(80, 50, name="handle")))
    assert len(pages) == 1
    for words in ("Rivet", "cut 8 for each learner", "Foot", "Handle", "A of 3", "B of 3", "C of 3"):
        assert words in texts[0], words
    shapes = [LineString(path.subpaths[0]) for path in cuts(pages[0])]
    assert len(shapes) == 3
    assert min(a.distance(b) for a, b in combinations(shapes, 2)) >= 6
    assert not any(a.envelope.contains(b) for a, b in combinations(shapes, 2))


def test_sheets_are_counted_in_the_order_of_the_letters() -> None:
    _, texts = printed(kit_with(*EVERYTHING))
    for k, text in enumerate(texts, 1):
        assert f"sheet {k} of {len(texts)}" in text
    assert [next(n for n, name in enumerate(("Frame", "Window", "Tile", "Pot", "Plate")) if name in text) for text in texts[:4]] == [0, 1, 2, 3]


def test_a_small_part_is_named_by_a_leader() -> None:
    (page,) = stencil_document(kit_with(disc(13, "rivet", 8)), "A4").pages
    circle = next(line for line, width, layer in lines_of(page) if layer == "cut")
    leader = next(line for line, width, layer in lines_of(page) if layer == "leader" and len(line.coords) == 2)
    assert leader.distance(circle) < 0.01
    words = [box(*place) for place, text in word_boxes(page) if text != "A"]
    assert min(leader.distance(word) for word in words) < 2


# -- anything that a teacher may draw

SIZE = st.floats(9, 420)


@st.composite
def pieces(draw: st.DrawFn) -> Piece:
    wide, tall = draw(SIZE), draw(SIZE)
    kind = draw(st.sampled_from(["rectangle", "ellipse", "heart", "ring", "frame", "polygon"]))
    bodies = {
        "rectangle": lambda: outlines.rectangle(wide, tall, min(wide, tall) / 5),
        "ellipse": lambda: outlines.ellipse(wide, tall),
        "heart": lambda: outlines.heart(wide),
        "polygon": lambda: outlines.polygon(draw(st.integers(3, 8)), wide),
        "ring": lambda: shape.with_opening(outlines.ellipse(wide, tall), outlines.ellipse(wide * 0.6, tall * 0.6)),
        "frame": lambda: shape.with_opening(outlines.rectangle(wide, tall), outlines.heart(min(wide, tall) * 0.7)),
    }
    body = bodies[kind]()
    left, bottom, right, top = shape.bounds(body)
    marks = [Mark("centre", ((0.0, bottom), (0.0, top)))] if draw(st.booleans()) else []
    inner = shape.grown(shape.whole(body), -3.0)
    if draw(st.booleans()) and len(inner) == 1:
        marks.append(Mark("press", inner[0].outline, True))
    edges = (Edge("J", (body.outline[0], body.outline[1]), 45.0, "inside"),) if draw(st.booleans()) else ()
    upper = shape.bounds(shape.clip(body, (-0.01, bottom, 0.01, top))[0])[3]
    holes = (Hole(0.0, upper - 6, 4.5, 4.0),) if kind != "ring" and min(wide, tall) > 30 and draw(st.booleans()) else ()
    part = part_of(kind, body, holes=holes, marks=tuple(marks), edges=edges, wide=right - left, tall=top - bottom)
    return piece_of(kind, part, face="texture side up")


@given(st.lists(pieces(), min_size=1, max_size=3), st.sampled_from(["A4", "Letter"]))
@settings(max_examples=20, deadline=None)
def test_every_shape_finds_its_sheets(several: list[Piece], paper: str) -> None:
    named = [replace(piece, name=f"{piece.name} {number}") for number, piece in enumerate(several)]
    document = stencil_document(kit_with(*named), paper)
    check_document(document)
    text = " ".join(text for page in document.pages for _, text in word_boxes(page))
    for piece in named:
        assert piece.name[:4] in text.lower()


def test_long_names_find_room() -> None:
    long = plate(120, 90, name="the very long inscription plate for the north wall of the harbour clay room, second version")
    long = replace(long, face="the side that was pressed with the driftwood board lies uppermost")
    kit = kit_with(long, replace(long, name=long.name + " too"), disc(20, "Unterglasurfarbenauftragsprobe" * 3))
    kit = replace(
        kit, lesson=kit.lesson.model_copy(update={"title": "An inscription for the wall above the drying racks " * 4, "version": "24 Nov 2026"})
    )
    document = stencil_document(kit, "Letter")
    check_document(document)
    for page in document.pages:
        assert any("24 Nov 2026" in text and kit.code in text for _, text in word_boxes(page))


def test_a_part_on_its_side_shows_where_its_top_is() -> None:
    """250 x 185 fits an upright A4 on its side alone: the arrow to the top then points to the right."""
    part = part_of("frame", outlines.rectangle(250, 185), holes=(Hole(0, 70, 4.5, 4),), wide=250, tall=185)
    (page,) = stencil_document(kit_with(piece_of("frame", part)), "A4").pages
    check_document(stencil_document(kit_with(piece_of("frame", part)), "A4"))
    outline, hole = sorted((line for line, _, layer in lines_of(page) if layer == "cut"), key=lambda line: -line.length)
    assert (outline.bounds[2] - outline.bounds[0], outline.bounds[3] - outline.bounds[1]) == pytest.approx((185, 250))
    assert outline.bounds[2] - hole.centroid.x == pytest.approx(92.5 - 70)
    heads = [line for line, width, layer in lines_of(page) if not width and layer == "words" and len(line.coords) == 4]
    (tip, *back) = max(heads, key=lambda line: line.length).coords[:3]
    assert all(tip[0] - x == pytest.approx(5) for x, _ in back)


def test_a_hole_in_a_narrow_place_has_its_size_at_the_end_of_a_leader() -> None:
    """Between two places to join there is no room beside it: the note stands elsewhere and an arrow leads back to the hole's rim."""
    zones = tuple(Mark("join", shape.moved(outlines.rectangle(66, 60), dx, 20).outline, True, "plank") for dx in (-38, 38))
    part = part_of("sign", outlines.rectangle(150, 110), holes=(Hole(0, 40, 4.5, 4),), marks=zones, wide=150, tall=110)
    document = stencil_document(kit_with(piece_of("sign", part)), "A4")
    check_document(document)
    (page,) = document.pages
    hole = min((line for line, _, layer in lines_of(page) if layer == "cut"), key=lambda line: line.length)
    leader = next(line for line, _, layer in lines_of(page) if layer == "leader" and len(line.coords) == 2)
    assert leader.distance(hole) < 0.5
    note = next(box(*place) for place, text in word_boxes(page) if text.startswith("hole"))
    assert leader.distance(note) < 1.5


def test_ink_stays_inside_when_rendered() -> None:
    """PDFium's own picture of the sheets: the outermost 9.9 mm of the paper are white."""
    for page in pypdfium2.PdfDocument(write_pdf(stencil_document(kit_with(ring(), plate(400, 300)), "A4"))):
        picture = page.render(scale=2, grayscale=True).to_pil()
        edge = int(9.9 / POINT_MM * 2)
        wide, tall = picture.size
        for side in ((0, 0, wide, edge), (0, tall - edge, wide, tall), (0, 0, edge, tall), (wide - edge, 0, wide, tall)):
            assert picture.crop(side).getextrema() == (255, 255)
