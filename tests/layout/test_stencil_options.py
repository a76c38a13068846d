"""Half a stencil on a fold, and a stencil that is a window: what is cut, read back from the PDF, and what the sheet says of it."""

from __future__ import annotations

import pypdfium2
import pytest
from shapely import LineString, MultiLineString, Point, Polygon, box, unary_union
from shapely.affinity import scale

from lessonkit.geometry.shape import Shape, bounds
from lessonkit.layout.stencils.document import stencil_document
from lessonkit.pieces.model import Kit
from lessonkit.writers.pdf import write_pdf
from tests.lessons_for_tests import ROOM, kit_of, problems_of
from tests.shapes_for_tests import flat
from tests.stencil_pages_for_tests import check_document, cuts, lines_of, printed, word_boxes
from tests.stencils_for_tests import Drawn

BOTH = pytest.mark.parametrize("paper", ["A4", "Letter"])
HEART = flat("heart: {wide: 160 mm}", "openings: [{circle: {across: 40 mm}}], fold: yes}, hang: {across: 4 mm, from_edge: 10 mm")
WINDOW = flat("circle: {across: 150 mm}", "openings: [{circle: {across: 85 mm}}], window: {count: 3, wide: 6 mm}}, hang: {across: 4 mm")


def stencil(kit: Kit) -> Shape:
    part = kit.pieces[0].parts[0]
    return part.stencil[0] if part.stencil else part.shape


def lines(page: list[Drawn]) -> list[LineString]:
    return [LineString(line).intersection(box(*path.clip)) for path in cuts(page) for line in path.subpaths]


def crease(page: list[Drawn]) -> LineString:
    """The long-dash-dot line of the fold; centre lines are thinner, the legend's sample is short."""
    found = [path for path in page if len(path.dash) == 4 and path.width_mm == pytest.approx(0.35, abs=1e-3)]
    return max((LineString(path.points) for path in found), key=lambda line: line.length)


def coincide(one: MultiLineString | LineString, other: MultiLineString | LineString, by: float = 0.02) -> bool:
    return bool(other.buffer(by).covers(one) and one.buffer(by).covers(other))


# -- on a fold


@BOTH
def test_the_half_and_its_mirror_image_are_the_whole(paper: str) -> None:
    """Unfolding, done by hand: mirrored about the fold, the cut lines give back outline, opening and hole."""
    kit = kit_of(HEART)
    ((page,), (text,)) = printed(kit, paper)
    fold = crease(page).coords[0][0]
    half = unary_union(lines(page))
    assert half.bounds[0] >= fold - 0.001
    assert all(abs(x - fold) < 0.001 for line in lines(page) for x, _ in (line.coords[0], line.coords[-1])), "each ends on the fold"
    whole = unary_union([half, scale(half, -1, 1, origin=(fold, 0))])
    body, (hole,) = stencil(kit), kit.pieces[0].parts[0].holes
    (left, top, *_), (a, _, _, d) = whole.bounds, bounds(body)
    rings = [[(x - a + left, d - y + top) for x, y in (*ring, ring[0])] for ring in (body.outline, *body.holes)]
    rim = Point(hole.x_mm - a + left, d - hole.y_mm + top).buffer(hole.across_mm / 2, quad_segs=64).exterior
    assert coincide(whole, unary_union([MultiLineString(rings), rim]))
    assert "fold here, cut through both layers" in text
    assert "the other half, under the fold" in text


@BOTH
def test_a_half_that_fits_one_sheet_saves_the_tiles_of_the_whole(paper: str) -> None:
    """A heart of 240 mm as cut is two sheets whole and one as half, to be laid on the fold of a larger card."""
    room = ROOM.replace("kind: room", "kind: room\nneedle: 1.2 mm")
    kit, plain = (kit_of(flat("heart: {wide: 211.2 mm}", f"fold: {fold}"), room) for fold in ("yes", "no"))
    assert len(stencil_document(plain, paper).pages) == 2
    check_document(stencil_document(kit, paper))
    ((page,), (text,)) = printed(kit, paper)
    assert "lay on the fold of a larger card, cut through both layers" in text.replace("\n", " ")
    assert "under the fold" not in text
    left, top, right, foot = unary_union(lines(page)).bounds
    a, b, c, d = bounds(stencil(kit))
    assert sorted((right - left, foot - top)) == pytest.approx(sorted(((c - a) / 2, d - b)), abs=0.02)


def test_a_half_too_large_for_a_sheet_is_tiled() -> None:
    document = stencil_document(kit_of(flat("ellipse: {wide: 420 mm, tall: 400 mm}", "fold: yes")), "A4")
    check_document(document)
    assert len(document.pages) > 1
    assert all("lay on the fold of a larger" in " ".join(text for _, text in word_boxes(page)) for page in document.pages[:1])


@pytest.mark.parametrize(
    ("text", "reason"),
    [
        (flat("crescent: {across: 160 mm, thick: 50 mm}", "fold: yes"), "left and right of this shape differ"),
        (flat("circle: {across: 160 mm}", "fold: yes}, hang: {across: 4 mm, at: [10 mm, 60 mm]"), "a hanging hole has no twin"),
        (flat("circle: {across: 160 mm}", "fold: yes, joins: [{name: knob, circle: {across: 12 mm}, at: [30 mm, 0 mm]}]"), "a place to join has no"),
        (flat("circle: {across: 160 mm}", "fold: yes, window: {count: 2, wide: 6 mm}"), "a window is cut out of an open sheet"),
    ],
)
def test_what_cannot_be_folded_is_drawn_whole_and_the_check_says_why(text: str, reason: str) -> None:
    (line,) = [line for line in problems_of(text) if "not half" in line]
    assert reason in line
    assert "warning" in line
    page = printed(kit_of(text))[0][0]
    assert not any(len(path.dash) == 4 and path.width_mm == pytest.approx(0.35, abs=1e-3) for path in page)
    if "window" not in text:
        left, _, right, _ = unary_union(lines(page)).bounds
        a, _, c, _ = bounds(stencil(kit_of(text)))
        assert right - left == pytest.approx(c - a, abs=0.02)


def test_marks_that_have_a_twin_stay_on_the_half() -> None:
    """A pressed line all round and a ring of eight places: on the half lie four, and half the line."""
    joins = "joins: [{name: knob, circle: {across: 12 mm}, ring: {count: 8, across: 120 mm, first: 22.5}}], press: [{inset: 6 mm}], fold: yes"
    kit = kit_of(flat("circle: {across: 160 mm}", joins))
    (page,) = stencil_document(kit, "A4").pages
    check_document(stencil_document(kit, "A4"))
    assert sum(line.is_ring for line, _, layer in lines_of(page) if layer == "join") == 4
    pressed = [line for line, width, layer in lines_of(page) if layer == "press" and line.length > 200 and width == 0.35]
    assert [line.is_ring for line in pressed if abs(line.bounds[2] - line.bounds[0]) > 1] == [False]


# -- as a window


@BOTH
def test_what_is_left_of_the_sheet_hangs_together_by_the_bridges(paper: str) -> None:
    ((page,), (text,)) = printed(kit_of(WINDOW), paper)
    windows = [Polygon(line.coords) for line in lines(page) if line.length > 30]
    assert len(windows) == 3
    sheet = box(*unary_union(windows).buffer(5).bounds).difference(unary_union(windows))
    assert sheet.geom_type == "Polygon", "the middle would fall out"
    assert "bridge: leave it standing" in text
    assert "the sheet around it is the stencil" in text


@BOTH
def test_bridges_are_grey_where_they_are(paper: str) -> None:
    """PDFium's own picture at the middle of each bridge: the 18 % grey of all papers; in the windows beside it white."""
    document = stencil_document(kit_of(WINDOW), paper)
    bridges = [Polygon(line.coords) for line, _, layer in lines_of(document.pages[0]) if layer == "bridge" and line.length > 60]
    assert len(bridges) == 3
    picture = pypdfium2.PdfDocument(write_pdf(document))[0].render(scale=4, grayscale=True).to_pil()
    for bridge in bridges:
        x, y = bridge.centroid.coords[0]
        assert picture.getpixel((int(x * 4 * 72 / 25.4), int(y * 4 * 72 / 25.4))) == pytest.approx(209, abs=2)
        assert bridge.minimum_rotated_rectangle.length / 2 > 30
        assert bridge.area / (bridge.minimum_rotated_rectangle.length / 2 - 6) == pytest.approx(6, abs=0.3)


@BOTH
def test_the_label_of_a_window_stands_on_the_frame(paper: str) -> None:
    """Inside the outline there is nothing but the size of the hole, which is also in the label; the sheet says all the rest."""
    document = stencil_document(kit_of(WINDOW), paper)
    check_document(document)
    (page,) = document.pages
    outline = unary_union([Polygon(line.coords) for line, width, layer in lines_of(page) if layer == "cut" and line.length > 30]).convex_hull
    inside = [words for place, words in word_boxes(page) if box(*place).intersects(outline)]
    assert inside == ["hole 4.5\xa0mm"]
    assert "TOP" in [words for _, words in word_boxes(page)]


def test_a_hole_in_a_window_can_be_found_from_the_frame() -> None:
    """Lines through the hole's middle run on over the frame, level and upright."""
    (page,) = stencil_document(kit_of(WINDOW), "A4").pages
    outline = unary_union([Polygon(line.coords) for line, _, layer in lines_of(page) if layer == "cut" and line.length > 30]).convex_hull
    hole = next(line for line, _, layer in lines_of(page) if layer == "cut" and line.length < 30).centroid
    ends = unary_union([line.difference(outline.buffer(0.5)) for line, _, layer in lines_of(page) if layer == "centre"])
    assert {(x == pytest.approx(hole.x, abs=0.01), y == pytest.approx(hole.y, abs=0.01)) for line in ends.geoms for x, y in line.coords} == {
        (True, False), (False, True)}  # fmt: skip


def test_the_needle_runs_inside_a_window() -> None:
    """Half its width, 0.6 mm: the window is so much larger all round, an ordinary stencil so much smaller."""
    room = ROOM.replace("kind: room", "kind: room\nneedle: 1.2 mm")
    for text, more, words in ((WINDOW, 1.2, "larger"), (WINDOW.replace("window: {count: 3, wide: 6 mm}", "fold: no"), -1.2, "smaller")):
        ((page,), (said,)) = printed(kit_of(text, room))
        left, top, right, foot = unary_union([line for line in lines(page) if line.length > 30]).bounds
        assert (right - left, foot - top) == pytest.approx((150 / 0.88 + more,) * 2, abs=0.02)
        assert f"drawn 0.6 mm {words} all round, for the needle" in said.replace("\xa0", " ")


def test_stencils_for_another_needle_have_another_code() -> None:
    codes = {kit_of(WINDOW, ROOM + needle).code for needle in ("", "needle: 1 mm\n", "needle: 2 mm\n")}
    assert len(codes) == 3
