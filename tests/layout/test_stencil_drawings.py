"""Drawings for a cutting machine, read back from the SVG by svgelements and a strict XML parser."""

from __future__ import annotations

import re
from dataclasses import replace
from io import StringIO
from math import hypot
from xml.etree import ElementTree

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import LineString, MultiPoint, Polygon
from shapely.affinity import translate
from svgelements import SVG, Group, Move
from svgelements import Path as SvgPath

from lessonkit.build import Order, papers
from lessonkit.drawing.items import Group as DrawnGroup
from lessonkit.drawing.items import Item, Page, TextLine
from lessonkit.geometry import outlines, shape
from lessonkit.layout.stencils.drawings import stencil_drawings
from lessonkit.pieces.model import Mark, Piece
from lessonkit.writers.svg import write_svg
from tests.lessons_for_tests import ROOM, kit_of
from tests.shapes_for_tests import flat, lesson
from tests.stencils_for_tests import disc, heart_frame, kit_with, part_of, piece_of, plate, pot, ring

PX_PER_MM = 96 / 25.4  # CSS Values and Units: 1in is 96px


def paths(svg: bytes, layer: str) -> list[SvgPath]:
    """The paths of one layer; svgelements measures in CSS pixels."""
    drawing = SVG.parse(StringIO(svg.decode()))
    groups = [group for group in drawing.select(lambda element: isinstance(element, Group)) if group.id == layer]
    return [path for group in groups for path in group.select(lambda e: isinstance(e, SvgPath))]


def size_mm(path: SvgPath) -> tuple[float, float]:
    left, top, right, bottom = path.bbox(with_stroke=False)
    return (right - left) / PX_PER_MM, (bottom - top) / PX_PER_MM


def svg_of(name: str, *pieces: Piece) -> bytes:
    drawings = dict(stencil_drawings(kit_with(*pieces)))
    return write_svg(drawings[name], name)


@pytest.mark.parametrize(
    ("piece", "name", "wide", "tall"),
    [
        (ring(), "frame", 181.818, 181.818),
        (plate(170.5, 120.25), "plate", 170.5, 120.25),
        (disc(13, "rivet"), "rivet", 13, 13),
        (pot(), "pot-wall", 266.7, 102.3),
        (plate(900, 700), "plate", 900, 700),
    ],
)
def test_page_and_outline_are_true_millimetres(piece: Piece, name: str, wide: float, tall: float) -> None:
    svg = svg_of(name, piece)
    root = ElementTree.fromstring(svg)
    assert float(root.get("width", "").removesuffix("mm")) == pytest.approx(wide + 10, abs=0.001)
    assert float(root.get("height", "").removesuffix("mm")) == pytest.approx(tall + 10, abs=0.001)
    largest = max(paths(svg, "cut"), key=lambda path: size_mm(path)[0])
    assert size_mm(largest) == pytest.approx((wide, tall), abs=0.01)
    left, top, _, _ = largest.bbox(with_stroke=False)
    assert (left / PX_PER_MM, top / PX_PER_MM) == pytest.approx((5, 5), abs=0.01)


def test_c28_a_circle_is_round_in_the_svg() -> None:
    (path,) = paths(svg_of("plate", disc(255, "plate")), "cut")
    for segment in path:
        if not isinstance(segment, Move):
            for t in (0.0, 0.5, 1.0):
                at = segment.point(t)
                assert hypot(at.x / PX_PER_MM - 132.5, at.y / PX_PER_MM - 132.5) == pytest.approx(127.5, abs=0.02)


def test_outlines_openings_and_holes_are_closed_paths_of_their_own() -> None:
    found = paths(svg_of("frame", ring()), "cut")
    assert sorted(round(size_mm(path)[0], 2) for path in found) == [4.55, 96.59, 181.82]
    for path in found:
        assert path.first_point == path.current_point
        assert str(path).rstrip().upper().endswith("Z")


def test_c31_marks_and_words_are_on_layers_of_their_own_as_lines() -> None:
    svg = svg_of("frame", ring())
    assert not re.search(rb"<text", svg)
    assert [round(size_mm(path)[0], 2) for path in paths(svg, "press")] == [168.0]
    assert len(paths(svg, "engrave")) > 8
    assert not paths(svg_of("plate", plate(50, 50)), "press")


def words(page: Page) -> list[str]:
    def of(items: tuple[Item, ...]) -> list[str]:
        return [
            word for item in items for word in (of(item.items) if isinstance(item, DrawnGroup) else [item.text] if isinstance(item, TextLine) else [])
        ]

    return of(page.items)


def test_the_drawing_says_top_name_letter_clay_and_code() -> None:
    kit = kit_with(ring(), pot())
    drawings = dict(stencil_drawings(kit))
    assert {"TOP", "Frame, A of 3", kit.code} <= set(words(drawings["frame"]))
    assert any("buff" in word for word in words(drawings["frame"]))
    assert "TOP" not in words(drawings["pot-wall"])
    assert "edge J" in words(drawings["pot-wall"])
    assert words(dict(stencil_drawings(kit_with(disc(13, "rivet"))))["rivet"]) == ["A"]


@pytest.mark.parametrize("name", ["window", "heart"])
def test_words_and_centre_lines_lie_on_the_clay(name: str) -> None:
    """A laser that engraves beside the part, or across its opening, marks its bed: the centre line of a heart begins in its notch."""
    notch = part_of("heart", outlines.heart(150), marks=(Mark("centre", ((0.0, -70.0), (0.0, 70.0))),), wide=150)
    svg = svg_of(name, heart_frame() if name == "window" else piece_of("heart", notch))
    outside, *holes = sorted(paths(svg, "cut"), key=lambda path: -size_mm(path)[0])
    body = Polygon([(p.x, p.y) for p in outside.as_points()], [[(p.x, p.y) for p in hole.as_points()] for hole in holes]).buffer(0.02)
    parts = [SvgPath(part) for path in paths(svg, "engrave") for part in path.as_subpaths()]
    engraved = [LineString([(point.x, point.y) for point in part.as_points()]) for part in parts]
    assert sum(len(line.coords) for line in engraved) > 500
    assert all(body.covers(line) for line in engraved)


def test_files_have_safe_names_and_no_two_alike() -> None:
    named = [replace(disc(40), name=name) for name in ("Rivet", "rivet", "rivet 2", "RIVET!", "../etc/passwd", "蛙", "Grüße", "…", "a" * 300)]
    names = [name for name, _ in stencil_drawings(kit_with(*named))]
    assert names == ["rivet", "rivet-2", "rivet-2-2", "rivet-3", "etc-passwd", "piece", "grue", "piece-2", "a" * 60]


@given(st.lists(st.text(max_size=12), min_size=1, max_size=5), st.lists(st.text(max_size=12), min_size=2, max_size=3))
@settings(max_examples=40, deadline=None)
def test_any_names_give_safe_files(pieces: list[str], parts: list[str]) -> None:
    two = piece_of("pot", *(replace(disc(30).parts[0], name=name) for name in parts))
    drawings = stencil_drawings(kit_with(*(replace(disc(30), name=name) for name in pieces), two))
    names = [name for name, _ in drawings]
    assert len(set(names)) == len(names) == len(pieces) + len(parts)
    assert all(re.fullmatch(r"[a-z0-9]+(-[a-z0-9]+)*", name) for name in names)


def test_the_drawing_is_the_stencil_that_allows_for_the_needle() -> None:
    piece = plate(100, 80)
    smaller = shape.grown(outlines.rectangle(100, 80), -0.6)
    part = replace(piece.parts[0], stencil=smaller)
    svg = svg_of("plate", replace(piece, parts=(part,)))
    (path,) = paths(svg, "cut")
    assert size_mm(path) == pytest.approx((98.8, 78.8), abs=0.01)


# -- for a machine that takes away a line as wide as its beam or its knife


CUT_MM = 0.24
BEAM = ROOM + f"machine_cut: {CUT_MM} mm\n"


def drawing(text: str, room: str, name: str = "boat") -> bytes:
    return papers(kit_of(text, room), Order(only=("cutting-files",)))[f"stencil-{name}.svg"]


def test_half_the_machines_cut_is_added_outside_and_taken_from_openings_and_holes() -> None:
    """The beam's middle runs along the line: outside it eats 0.12 mm of what is drawn, in an opening 0.12 mm of the stencil."""
    text = flat("circle: {across: 160 mm}", "openings: [{circle: {across: 85 mm}}]}, hang: {across: 4 mm")
    svg, plain = drawing(text, BEAM), drawing(text, ROOM)
    sizes, without = (sorted(size_mm(path)[0] for path in paths(made, "cut")) for made in (svg, plain))
    assert without == pytest.approx([4 / 0.88, 85 / 0.88, 160 / 0.88], abs=0.01)
    assert [a - b for a, b in zip(sizes, without, strict=True)] == pytest.approx([-CUT_MM, -CUT_MM, CUT_MM], abs=0.01)
    root = ElementTree.fromstring(svg)
    assert float(root.get("width", "").removesuffix("mm")) == pytest.approx(160 / 0.88 + CUT_MM + 10, abs=0.01)


def test_the_drawing_says_what_was_done_for_the_machine_and_the_pdf_stays_as_it_is() -> None:
    text = flat("circle: {across: 160 mm}")
    kit, plain = kit_of(text, BEAM), kit_of(text)
    said = "drawn 0.12\xa0mm larger all round, for a cut 0.24\xa0mm wide"
    (page,) = (page for _, page in stencil_drawings(kit))
    assert said in " ".join(words(page))
    assert said in page.name
    title = ElementTree.fromstring(drawing(text, BEAM)).find("{http://www.w3.org/2000/svg}title")
    assert title is not None
    assert said in (title.text or "")
    assert papers(kit, Order(only=("stencils",))) == papers(plain, Order(only=("stencils",)))


def test_what_is_no_wider_than_the_cut_is_left_out() -> None:
    text = flat("circle: {across: 160 mm}", "openings: [{circle: {across: 2 mm}}]}, hang: {across: 1 mm")
    found = paths(drawing(text, ROOM + "machine_cut: 3 mm\n"), "cut")
    assert [round(size_mm(path)[0], 2) for path in found] == [round(160 / 0.88 + 3, 2)]


def test_a_window_is_cut_smaller_so_that_the_sheet_around_it_is_true() -> None:
    """The sheet is the stencil: three windows, half the cut inside their lines; no hole in what falls out, the name on the frame."""
    text = flat("circle: {across: 160 mm}", "openings: [{circle: {across: 85 mm}}], window: {count: 3, wide: 6 mm}}, hang: {across: 4 mm")
    outlines_, plain = ([Polygon([(p.x / PX_PER_MM, p.y / PX_PER_MM) for p in path.as_points()]) for path in paths(drawing(text, room), "cut")]
                        for room in (BEAM, ROOM))  # fmt: skip
    assert len(outlines_) == len(plain) == 3
    for smaller, window in zip(outlines_, plain, strict=True):
        smaller = translate(smaller, CUT_MM / 2, CUT_MM / 2)  # each drawing begins at its own left and top
        assert window.buffer(0.001).covers(smaller)
        assert smaller.exterior.distance(window.exterior) == pytest.approx(CUT_MM / 2, abs=0.005)
        assert window.area - smaller.area == pytest.approx(window.length * CUT_MM / 2, rel=0.01)
    (page,) = (page for _, page in stencil_drawings(kit_of(text)))
    assert "Boat, A of 1" in words(page)
    engraved = MultiPoint([(p.x / PX_PER_MM, p.y / PX_PER_MM) for path in paths(drawing(text, ROOM), "engrave") for p in path.as_points()])
    assert not any(window.buffer(-0.01).intersects(engraved) for window in plain)


def test_only_what_is_cut_has_a_drawing() -> None:
    """The outline of a ball is only looked at; the gauge of a coil pot is cut from card. A stencil on a fold is cut whole."""
    assert not papers(kit_of(lesson("pinch: {across: 80 mm, tall: 40 mm, ball: 180 g, measured: outside}")), Order(only=("cutting-files",)))
    coil = kit_of(lesson("coil_pot: {across: 110 mm, tall: 100 mm, coil: 10 mm, measured: outside}"))
    assert set(papers(coil, Order(only=("cutting-files",)))) == {"stencil-boat-base.svg", "stencil-boat-gauge.svg"}
    (path,) = paths(drawing(flat("heart: {wide: 160 mm}", "fold: yes"), ROOM), "cut")
    assert size_mm(path)[0] == pytest.approx(160 / 0.88, abs=0.01)
