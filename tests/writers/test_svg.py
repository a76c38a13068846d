from __future__ import annotations

import hashlib
import os
import subprocess
import sys
from io import BytesIO
from xml.etree import ElementTree

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from svgelements import SVG

from lessonkit.drawing.items import CLAY, Group, Item, Page, Path, Stroke, TextLine
from lessonkit.writers.decimals import decimal, decimals, path_data
from lessonkit.writers.svg import write_svg

NAMES = {"svg": "http://www.w3.org/2000/svg"}
SQUARE = Path.of((("M", 10, 10), ("L", 110, 10), ("L", 110, 110), ("L", 10, 110), ("Z",)), Stroke(0.7))


def tree_of(*items: Item, title: str = "Porthole") -> ElementTree.Element:
    """Read by expat, which is strict."""
    return ElementTree.fromstring(write_svg(Page(210, 297, items, "Stencil"), title))


def boxes(*items: Item) -> list[tuple[float, float, float, float]]:
    """Of each path, in mm, as an outside reader computes them; 25.4 pixels an inch make its pixel a millimetre."""
    svg = SVG.parse(BytesIO(write_svg(Page(210, 297, items, "Stencil"), "Porthole")), ppi=25.4)
    return [path.bbox(with_stroke=False) for path in svg.select(lambda element: type(element).__name__ == "Path")]


def test_a_unit_is_a_millimetre() -> None:
    root = tree_of(SQUARE)
    assert (root.get("width"), root.get("height"), root.get("viewBox")) == ("210mm", "297mm", "0 0 210 297")
    assert boxes(SQUARE) == [pytest.approx((10, 10, 110, 110), abs=1e-4)]


def test_c31_control_characters_are_dropped_and_the_rest_of_the_title_is_intact() -> None:
    title = tree_of(SQUARE, title="Cup\x0b <A> & B").find("svg:title", NAMES)
    assert title is not None
    assert title.text == "Cup <A> & B"


@settings(max_examples=40, deadline=None)
@given(st.text(alphabet=st.characters(codec=None, exclude_categories=[])))
def test_c31_any_title_parses(title: str) -> None:
    kept = "".join(c for c in title if c in "\t\n\r" or " " <= c <= "\ud7ff" or "\ue000" <= c <= "\ufffd" or c > "\uffff")
    found = tree_of(title=title).find("svg:title", NAMES)
    assert found is not None
    # a parser reads every line end as one newline (XML 1.0, section 2.11)
    assert (found.text or "") == kept.replace("\r\n", "\n").replace("\r", "\n")


def test_c31_marks_are_outlines_on_their_layer_and_never_text() -> None:
    root = tree_of(Group((SQUARE,), layer="cut"), Group((TextLine(20, 30, "TOP", 24),), layer="engrave"))
    assert [group.get("id") for group in root.findall("svg:g", NAMES)] == ["cut", "engrave"]
    (letters,) = root.findall("svg:g[@id='engrave']/svg:path", NAMES)
    assert (letters.get("d") or "").count("Z") == 5  # T, and O and P with their counters
    assert not root.findall(".//svg:text", NAMES)


def test_layers_keep_their_order_and_each_id_is_used_once() -> None:
    layers = ["cut", "engrave", "cut", "cut"]
    root = tree_of(*(Group((SQUARE,), layer=layer) for layer in layers))
    assert [group.get("id") for group in root.findall("svg:g", NAMES)] == ["cut", "engrave", "cut-2", "cut-3"]


def test_a_group_moves_its_items_without_a_transform() -> None:
    moved = Group((Group((SQUARE,), 3, 4), Group((SQUARE,), layer="engrave")), 20, 30)
    assert boxes(moved) == [pytest.approx((33, 44, 133, 144)), pytest.approx((30, 40, 130, 140))]
    assert not [element for element in tree_of(moved).iter() if element.get("transform")]


def test_a_half_turn_is_in_the_numbers_too() -> None:
    """What is at (x, y) comes to (x_mm - x, y_mm - y); a group inside is turned with the rest, and turned again it is upright."""
    inner = Group((SQUARE,), 3, 4)
    assert boxes(Group((inner,), 150, 160, half_turn=True)) == [pytest.approx((37, 46, 137, 146))]
    assert boxes(Group((inner._replace(half_turn=True),), 150, 160, half_turn=True)) == [pytest.approx((157, 166, 257, 266))]
    root = tree_of(Group((SQUARE,), 50, 60, (1, 2, 20, 10), half_turn=True))
    assert not [element for element in root.iter() if element.get("transform")]
    window = root.find("svg:defs/svg:clipPath/svg:rect", NAMES)
    assert window is not None
    assert [window.get(name) for name in ("x", "y", "width", "height")] == ["29", "48", "20", "10"]


def test_a_clip_lies_where_its_group_lies() -> None:
    root = tree_of(Group((Group((SQUARE,), 5, 7, (1, 2, 20, 10)),), 50, 60), Group((SQUARE,), clip_mm=(0, 0, 1, 1), layer="map"))
    windows = {clip.get("id"): clip.find("svg:rect", NAMES) for clip in root.findall("svg:defs/svg:clipPath", NAMES)}
    assert len(windows) == 2
    clipped = [g for g in root.findall("svg:g", NAMES) if g.get("clip-path")]
    first = windows[(clipped[0].get("clip-path") or "")[5:-1]]
    assert first is not None
    assert [first.get(name) for name in ("x", "y", "width", "height")] == ["56", "69", "20", "10"]
    assert (clipped[1].get("id"), clipped[1].get("clip-path") != clipped[0].get("clip-path")) == ("map", True)


def test_strokes_and_fills_are_in_millimetres_and_greys() -> None:
    stroke = Stroke(0.35, (3.0, 1.5), tone=0.5, cap="round", join="mitre")
    first, second = tree_of(Path.of(SQUARE.commands, stroke, CLAY), SQUARE).findall("svg:path", NAMES)
    wanted = {
        "stroke": "#808080",
        "stroke-width": "0.35",
        "stroke-dasharray": "3 1.5",
        "stroke-linecap": "round",
        "stroke-linejoin": "miter",
        "fill": "#d1d1d1",
    }
    assert {name: first.get(name) for name in wanted} == wanted
    assert (second.get("fill"), second.get("stroke-dasharray")) == ("none", None)


def test_corners_and_fills_follow_the_rules_of_the_pdf() -> None:
    """PDF's default mitre limit is 10 (ISO 32000-1, table 52), SVG's is 4."""
    root = tree_of(SQUARE)
    assert (root.get("fill-rule"), root.get("stroke-miterlimit")) == ("evenodd", "10")


def test_closed_outlines_are_closed_in_the_file() -> None:
    (path,) = tree_of(SQUARE).findall("svg:path", NAMES)
    assert path.get("d") == "M10 10L110 10L110 110L10 110Z"


@pytest.mark.parametrize(
    ("value", "text"), [(12.5, "12.5"), (3.0, "3"), (100.0, "100"), (0.00001, "0"), (-0.00001, "0"), (-1.23456, "-1.2346"), (1e-3, "0.001")]
)
def test_numbers_are_short(value: float, text: str) -> None:
    assert decimal(value, 4) == text


NUMBERS = st.floats(-2000, 2000) | st.integers(-300, 300).map(float)


@settings(max_examples=60, deadline=None)
@given(st.lists(NUMBERS, min_size=1, max_size=8), st.sampled_from((2, 4)))
def test_many_numbers_are_written_as_each_alone(values: list[float], places: int) -> None:
    alone = [f"{value:.{places}f}".rstrip("0").rstrip(".") for value in values]
    assert decimals(values, places) == " ".join("0" if text == "-0" else text for text in alone)
    assert path_data(f"M{'L' * (len(values) - 1)}Z", [n for value in values for n in (value, 10)], places) == "L".join(
        f"{decimal(value, places)} 10" for value in values
    ).join("MZ")


def test_c11_the_same_page_gives_the_same_bytes_in_any_process() -> None:
    program = """
import hashlib
from lessonkit.drawing.items import *
from lessonkit.writers.svg import write_svg
letters = TextLine(20, 30, "Kettle ☑ 8 mm", 24, True)
items = (Group((letters,), 1, 2, (0, 0, 50, 50), "engrave"), Path.of((("M", 1, 2), ("L", 3, 4)), Stroke(0.5, (1, 2))))
print(hashlib.sha256(write_svg(Page(210, 297, items, "a"), "Porthole")).hexdigest())
"""
    found = set()
    for seed, zone in (("1", "UTC"), ("2", "Pacific/Auckland")):
        surroundings = {**os.environ, "PYTHONHASHSEED": seed, "TZ": zone, "PYTHONPATH": os.pathsep.join(sys.path)}
        run = subprocess.run([sys.executable, "-c", program], env=surroundings, capture_output=True, text=True, check=True)
        found.add(run.stdout.strip())
    assert len(found) == 1
    assert len(found.pop()) == len(hashlib.sha256().hexdigest())
