"""A page as a picture for a browser's page: the same drawing as the PDF's and the cutting file's, with its words as text."""

from __future__ import annotations

from io import BytesIO
from xml.etree import ElementTree

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from svgelements import SVG
from svgelements import Path as SvgPath

from lessonkit.drawing.fonts import typeface_path, width_mm
from lessonkit.drawing.items import CLAY, Group, Item, Page, Path, Stroke, TextLine
from lessonkit.units import MM_PER_POINT
from lessonkit.writers.screen import FAMILIES, write_screen
from lessonkit.writers.svg import write_svg

NAMES = {"svg": "http://www.w3.org/2000/svg"}
SQUARE = Path.of((("M", 10, 10), ("L", 110, 10), ("L", 110, 110), ("L", 10, 110), ("Z",)), Stroke(0.7, (3, 1.5), tone=0.5, join="mitre"))
LOOP = Path.of((("M", 30, 40.123), ("L", 90.5, 40), ("C", 120.25, 40, 120.75, 80, 90, 80.333), ("Z",)), None, CLAY)


def page(*items: Item) -> Page:
    return Page(215.9, 279.4, items, "Stencil")


def tree_of(*items: Item, title: str = "Porthole") -> ElementTree.Element:
    return ElementTree.fromstring(write_screen(page(*items), title, "p"))


def points(text: str | bytes) -> list[tuple[float, float]]:
    """Of every path, as an outside reader places them, in mm."""
    svg = SVG.parse(BytesIO(text.encode() if isinstance(text, str) else text), ppi=25.4)
    paths = svg.select(lambda element: type(element) is SvgPath)
    return [(point.x, point.y) for path in paths for point in path.as_points() if point is not None]


DRAWINGS = (
    (SQUARE, LOOP),
    (Group((Group((SQUARE,), 3, 4), LOOP), 20, 30, layer="cut"),),
    (Group((LOOP,), 50, 60, (1, 2, 20, 10), "map"),),
    (Group((Group((SQUARE, LOOP), 7, 9), LOOP), 150, 200, half_turn=True),),
    (Group((Group((LOOP,), 5, 6, half_turn=True),), 150, 200, (0, 0, 9, 9), half_turn=True),),
    (Group((Group((LOOP,), 5, 6, scale=0.5), SQUARE), 15, 20, (0, 0, 9, 9), scale=0.7),),
    (Group((Group((LOOP,), 5, 6, scale=0.5), SQUARE), 150, 200, half_turn=True, scale=0.7),),
)


@pytest.mark.parametrize("items", DRAWINGS)
def test_it_is_the_drawing_of_the_cutting_file(items: tuple[Item, ...]) -> None:
    mine, other = points(write_screen(page(*items), "Porthole", "p")), points(write_svg(page(*items), "Porthole"))
    assert len(mine) == len(other) > 4
    assert [n for point in mine for n in point] == pytest.approx([n for point in other for n in point], abs=0.011)


def test_an_image_with_a_name_in_millimetres() -> None:
    root = tree_of(SQUARE, title="Cup\x0b <A> & B")
    assert root.tag == f"{{{NAMES['svg']}}}svg"
    assert (root.get("role"), root.get("viewBox"), root.get("width")) == ("img", "0 0 215.9 279.4", "215.9mm")
    title = root.find("svg:title", NAMES)
    assert title is not None
    assert title.text == "Cup <A> & B"
    assert root[0] is title


def test_lines_and_tones_are_those_of_the_drawing() -> None:
    square, loop = tree_of(SQUARE, LOOP).findall("svg:path", NAMES)
    assert square.attrib == {
        "d": "M10 10L110 10L110 110L10 110Z",
        "fill": "none",
        "stroke": "#808080",
        "stroke-width": "0.7",
        "stroke-linecap": "butt",
        "stroke-linejoin": "miter",
        "stroke-dasharray": "3 1.5",
    }
    assert (loop.get("fill"), loop.get("stroke")) == ("#d1d1d1", None)


def test_words_are_text_at_their_place_in_the_faces_of_the_paper() -> None:
    line = TextLine(20, 30, "Cut it ☐ now", 14, True, 0.5)
    (text,) = tree_of(Group((line,), 5, 6)).iter(f"{{{NAMES['svg']}}}text")
    assert {name: text.get(name) for name in ("x", "y", "font-size", "font-weight", "fill")} == {
        "x": "25", "y": "36", "font-size": f"{14 * MM_PER_POINT:.2f}", "font-weight": "bold", "fill": "#808080",
    }  # fmt: skip
    assert [(span.get("font-family"), span.text) for span in text] == [("Andika", "Cut it "), ("DejaVu Sans", "☐ "), ("Andika", "now")]
    assert width_mm(line.text, 14, True) > 0
    assert all(typeface_path(face).is_file() for face in FAMILIES)


@settings(max_examples=50, deadline=None)
@given(st.text(st.characters(codec=None, exclude_categories=[]), max_size=30))
def test_any_words_can_be_read_back(words: str) -> None:
    root = tree_of(TextLine(0, 0, words, 10), title=words)
    shown = "".join("".join(text.itertext()) for text in root.iter(f"{{{NAMES['svg']}}}text"))
    sound = "".join(c for c in words.translate({9: " ", 10: " ", 13: " "}) if " " <= c <= "\ud7ff" or "\ue000" <= c <= "\ufffd" or c > "\uffff")
    assert shown == sound


def test_several_pictures_share_a_page() -> None:
    clipped = [Group((SQUARE,), clip_mm=(0, 0, 1, 1)), Group((SQUARE,), clip_mm=(0, 0, 2, 2), layer="map")]
    ids = []
    for name in ("page-1", "page-2"):
        root = ElementTree.fromstring(write_screen(page(*clipped), "Porthole", name))
        own = [element.get("id") for element in root.iter() if element.get("id")]
        assert [f"url(#{one})" for one in own] == [g.get("clip-path") for g in root.iter(f"{{{NAMES['svg']}}}g")]
        ids += own
    assert len(set(ids)) == len(ids) == 4


def test_nothing_that_a_strict_page_forbids() -> None:
    """No inline style, no script, nothing from elsewhere."""
    text = write_screen(page(*DRAWINGS[1], *DRAWINGS[2], TextLine(0, 0, "<script>x</script>", 9)), '"><script>', "p")
    root = ElementTree.fromstring(text)
    names = {element.tag.removeprefix(f"{{{NAMES['svg']}}}") for element in root.iter()}
    assert names <= {"svg", "title", "path", "text", "tspan", "g", "clipPath", "rect"}
    attributes = {name for element in root.iter() for name in element.attrib}
    assert not [name for name in attributes if name == "style" or name.startswith("on") or "href" in name]
