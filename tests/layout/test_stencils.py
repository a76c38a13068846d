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
from shapely import LineString, MultiLineString, box, unary_union
from shapely.affinity import translate

from lessonkit.drawing.fonts import CAPITAL, DESCENT, width_mm
from lessonkit.drawing.items import Document, Group, Item, Page, Path, TextLine
from lessonkit.geometry import outlines, shape
from lessonkit.layout.stencils.document import stencil_document
from lessonkit.pieces.model import Edge, Kit, Mark, Piece
from lessonkit.units import PAPERS
from lessonkit.writers.pdf import write_pdf
from tests.lessons_for_tests import ROOM
from tests.stencils_for_tests import (
    INCH_ROOM,
    POINT_MM,
    Drawn,
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

Box = tuple[float, float, float, float]
BOTH = pytest.mark.parametrize("paper", ["A4", "Letter"])


def printed(kit: Kit, paper: str = "A4") -> tuple[list[list[Drawn]], list[str]]:
    """Lines and words of each sheet, from the bytes."""
    pdf = write_pdf(stencil_document(kit, paper))
    return drawn(pdf), [page.extract_text().replace("\n", " ") for page in PdfReader(BytesIO(pdf)).pages]


def cuts(page: list[Drawn]) -> list[Drawn]:
    """The wide lines but the legend's sample, which is straight and 16 long."""
    return [path for path in page if path.width_mm == pytest.approx(0.7, abs=1e-3) and not (path.bounds[2] - path.bounds[0] == pytest.approx(16, abs=1e-3) and path.bounds[1] == path.bounds[3])]


def straight(page: list[Drawn], long_mm: float, upright: bool) -> bool:
    for path in page:
        left, top, right, bottom = path.bounds
        across, along = (right - left, bottom - top) if upright else (bottom - top, right - left)
        if path.width_mm and not path.dash and len(path.points) == 2 and across < 1e-6 and along == pytest.approx(long_mm, abs=0.01):
            return True
    return False


# -- what is on a page, from the drawing model


def flat(items: tuple[Item, ...], x: float = 0.0, y: float = 0.0, clip: Box | None = None, layer: str = "") -> list[tuple[Path | TextLine, float, float, Box | None, str]]:
    found: list[tuple[Path | TextLine, float, float, Box | None, str]] = []
    for item in items:
        if isinstance(item, Group):
            inner, (dx, dy) = clip, (x + item.x_mm, y + item.y_mm)
            if item.clip_mm:
                left, top, wide, tall = item.clip_mm
                inner = (dx + left, dy + top, dx + left + wide, dy + top + tall)
            found += flat(item.items, dx, dy, inner, item.layer or layer)
        else:
            found.append((item, x, y, clip, layer))
    return found


def word_boxes(page: Page) -> list[tuple[Box, str]]:
    return [
        ((x + item.x_mm, y + item.y_mm - CAPITAL * item.size_pt * POINT_MM, x + item.x_mm + width_mm(item.text.rstrip(), item.size_pt, item.bold),
          y + item.y_mm + DESCENT * item.size_pt * POINT_MM), item.text)
        for item, x, y, _, _ in flat(page.items) if isinstance(item, TextLine) and item.text.strip()
    ]  # fmt: skip


def lines_of(page: Page) -> list[tuple[LineString, float, str]]:
    """Every stroke, clipped as it is drawn, with its width and layer; curves by their ends (ours are short)."""
    found = []
    for item, x, y, clip, layer in flat(page.items):
        if isinstance(item, Path):
            points: list[tuple[float, float]] = []
            subpaths = []
            for command in item.commands:
                if command[0] == "M":
                    points = [(x + command[1], y + command[2])]
                    subpaths.append(points)
                elif command[0] == "Z":
                    points.append(points[0])
                else:
                    points.append((x + command[-2], y + command[-1]))
            for line in subpaths:
                seen = LineString(line).intersection(box(*clip)) if clip else LineString(line)
                if not seen.is_empty:
                    found.append((seen, item.stroke.width_mm if item.stroke else 0.0, layer))
    return found


def check_page(page: Page) -> None:
    """Words touch neither words nor lines that are cut, pressed, hatched or centred; all ink is 10 mm from the paper's edge."""
    words = word_boxes(page)
    for (a, first), (b, second) in combinations(words, 2):
        apart = a[2] <= b[0] + 0.01 or b[2] <= a[0] + 0.01 or a[3] <= b[1] + 0.01 or b[3] <= a[1] + 0.01
        assert apart, f"{first!r} on {second!r}"
    drawn_lines = lines_of(page)
    figure = unary_union([line.buffer(width / 2) for line, width, layer in drawn_lines if layer in ("cut", "press", "join", "centre", "overlap", "leader")])
    for place, text in words:
        assert not box(*place).intersects(figure), f"{text!r} on a line"
    inside = box(9.999, 9.999, page.wide_mm - 9.999, page.tall_mm - 9.999)
    for line, width, layer in drawn_lines:
        assert inside.covers(line.buffer(width / 2, cap_style="flat") if width else line), (layer, line.bounds)
    for place, text in words:
        assert inside.covers(box(*place)), text


def check_document(document: Document) -> None:
    for page in document.pages:
        check_page(page)
    for page in drawn(write_pdf(document)):
        assert straight(page, 100, upright=False)
        assert straight(page, 100, upright=True)
        assert straight(page, 101.6, upright=False)


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
    assert ((right - left) / POINT_MM, (bottom - top) / POINT_MM) == pytest.approx((283.465, 283.465), abs=0.001)
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


# -- tiles


@pytest.mark.parametrize(("wide", "tall", "sheets", "turned"), [(400, 300, 4, True), (188, 268, 1, False), (188.01, 268, 2, False), (276, 180, 1, True)])
def test_c04_the_fewest_sheets(wide: float, tall: float, sheets: int, turned: bool) -> None:
    """Windows of 188 x 268 upright and 276 x 180 turned, overlap 10: 400 x 300 is 3 x 2 upright and 2 x 2 turned."""
    document = stencil_document(kit_with(plate(wide, tall)), "A4")
    assert len(document.pages) == sheets
    assert all((page.wide_mm > page.tall_mm) == turned for page in document.pages)


def crosses(page: Page) -> dict[str, tuple[float, float]]:
    """The middle of each ring of the overlap, by the letter that stands nearest."""
    letters = [((b[0] + b[2]) / 2, (b[1] + b[3]) / 2, text) for b, text in word_boxes(page) if len(text) <= 2 and text.isalnum() and text[0].islower()]
    found = {}
    for line, _, layer in lines_of(page):
        left, top, right, bottom = line.bounds
        if layer == "overlap" and right - left == pytest.approx(4.4) and bottom - top == pytest.approx(4.4):
            x, y = (left + right) / 2, (top + bottom) / 2
            _, name = min((hypot(x - lx, y - ly), name) for lx, ly, name in letters)
            assert name not in found
            found[name] = (x, y)
    return found


LARGE = [
    pytest.param(plate(400, 300, 40), id="plate"),
    pytest.param(disc(430, "platter"), id="platter"),
    pytest.param(pot(), id="pot"),
    pytest.param(piece_of("hoop", part_of("hoop", shape.with_opening(outlines.circle(420), outlines.circle(300)), outside=420, opening=300)), id="hoop"),
]


@BOTH
@pytest.mark.parametrize("piece", LARGE)
def test_c04_tiles_put_together_give_back_the_whole(piece: Piece, paper: str) -> None:
    """Sheets are laid cross on cross, as a hand does it: all crosses coincide, and so do all lines with the part's."""
    document = stencil_document(kit_with(piece), paper)
    tiled = [page for page in document.pages if "row" in page.name.lower()]
    part = piece.parts[0]
    true = MultiLineString([(*ring, ring[0]) for ring in (part.shape.outline, *part.shape.holes)])
    if not tiled:  # the pot's wall on A4
        assert piece.name == "pot"
        return
    first, *rest = tiled
    known = crosses(first)
    together = [line for line, width, layer in lines_of(first) if layer == "cut"]
    while rest:
        page = next(page for page in rest if len(known.keys() & crosses(page).keys()) >= 2)
        rest.remove(page)
        mine = crosses(page)
        shared = sorted(known.keys() & mine.keys())
        dx, dy = known[shared[0]][0] - mine[shared[0]][0], known[shared[0]][1] - mine[shared[0]][1]
        for name in shared:
            assert (mine[name][0] + dx, mine[name][1] + dy) == pytest.approx(known[name], abs=1e-6), name
        known |= {name: (x + dx, y + dy) for name, (x, y) in mine.items()}
        together += [translate(line, dx, dy) for line, width, layer in lines_of(page) if layer == "cut"]
    whole = unary_union(together)
    left, top, right, bottom = whole.bounds
    a, b, c, d = true.bounds
    flipped = MultiLineString([[(x - a + left, d - y + top) for x, y in line.coords] for line in true.geoms])
    assert (right - left, bottom - top) == pytest.approx((c - a, d - b), abs=0.01)
    assert whole.hausdorff_distance(flipped) < 0.01
    assert whole.buffer(0.01).covers(flipped)


def test_a_strip_has_its_crosses_far_apart_and_is_10_wide() -> None:
    document = stencil_document(kit_with(plate(400, 150)), "A4")
    names = [crosses(page) for page in document.pages]
    assert all(set(found) == {"a", "b"} for found in names)
    assert all(dist(found["a"], found["b"]) > 60 for found in names)
    for page in document.pages:
        xs = [line.bounds[0] for line, _, layer in lines_of(page) if layer == "overlap" and line.bounds[0] == line.bounds[2] and line.length > 60]
        assert max(xs) - min(xs) == pytest.approx(10)


def test_a_tile_without_a_line_has_no_sheet_and_that_is_said() -> None:
    _, texts = printed(kit_with(plate(520, 730)))
    assert len(texts) == 8
    assert not any("Row 2, column 2 " in text.split("has no line")[1] for text in texts)
    for text in texts:
        assert "Row 2, column 2 has no line and no sheet." in text


def test_tiles_name_row_and_column_and_show_a_map() -> None:
    document = stencil_document(kit_with(plate(400, 300, 40)), "A4")
    names = [f"Row {row}, column {column}" for row in (1, 2) for column in (1, 2)]
    assert [page.name for page in document.pages] == [f"Plate, A of 1, {name}" for name in names]
    for page, name in zip(document.pages, names, strict=True):
        assert name in {text for _, text in word_boxes(page)}
        heavy = [line for line, width, layer in lines_of(page) if layer == "map" and width == 1.0]
        assert len(heavy) == 1


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
    for words in ("edge J", "bevel 45°, inside face", "bevel 45°, outside face", "edge J meets edge J", "edge J laps 6 mm", "edge K meets edge K of base (B)"):
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
    assert any("160 mm" in words for words in on_ring)


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
    return piece_of(kind, part_of(kind, body, marks=tuple(marks), edges=edges, wide=right - left, tall=top - bottom), face="texture side up")


@given(st.lists(pieces(), min_size=1, max_size=3), st.sampled_from(["A4", "Letter"]))
@settings(max_examples=30, deadline=None)
def test_every_shape_finds_its_sheets(several: list[Piece], paper: str) -> None:
    named = [replace(piece, name=f"{piece.name} {number}") for number, piece in enumerate(several)]
    document = stencil_document(kit_with(*named), paper)
    check_document(document)
    text = " ".join(text for page in document.pages for _, text in word_boxes(page))
    for piece in named:
        assert piece.name[:4] in text.lower()


def test_long_names_find_room() -> None:
    long = plate(120, 90, name="the very long inscription plate for the north wall of the harbour clay room, second version")
    document = stencil_document(kit_with(replace(long, face="the side that was pressed with the driftwood board lies uppermost")), "Letter")
    check_document(document)


def test_ink_stays_inside_when_rendered() -> None:
    """PDFium's own picture of the sheets: the outermost 9.9 mm of the paper are white."""
    for page in pypdfium2.PdfDocument(write_pdf(stencil_document(kit_with(ring(), plate(400, 300)), "A4"))):
        picture = page.render(scale=2, grayscale=True).to_pil()
        edge = int(9.9 / POINT_MM * 2)
        wide, tall = picture.size
        for side in ((0, 0, wide, edge), (0, tall - edge, wide, tall), (0, 0, edge, tall), (wide - edge, 0, wide, tall)):
            assert picture.crop(side).getextrema() == (255, 255)
