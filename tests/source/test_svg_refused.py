"""SVG files that are no silhouette, or mean harm: refused with a reason, and nothing ever raised."""

from __future__ import annotations

import gzip
import math
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from lessonkit.source.svg import MOST_RINGS, Refusal, read_silhouette
from tests.source.test_svg import HEART, MANY, path, refusal, rings, svg

TRUNCATED = path(HEART)[:-9]
LAUGHS = "".join('<!ENTITY {} "{}">'.format(name, f"&{before};" * 10) for before, name in pairwise("abcdefghij"))
BOMB = f'<!DOCTYPE svg [<!ENTITY a "aaaaaaaaaa">{LAUGHS}]><svg xmlns="http://www.w3.org/2000/svg"><text>&j;</text></svg>'.encode()
LINKS = "".join(f'<g id="{name}">' + f'<use href="#{inner}"/>' * 10 + "</g>" for name, inner in pairwise("abcdefghijkl"))
OUTSIDE = b'<!DOCTYPE svg [<!ENTITY x SYSTEM "file:///etc/passwd">]><svg xmlns="http://www.w3.org/2000/svg"><text>&x;</text></svg>'
REFUSED = {
    "open": (path("M10 10H60V60"), "its outline is open near (50, 0): the ends lie 70.7 mm apart."),
    "open line": (svg('<line x1="5" y1="5" x2="35" y2="5" stroke="red"/>'), "open near (30, 0): the ends lie 30 mm apart."),
    "two": (svg('<circle r="5"/><circle r="5" cx="20"/><circle r="4" cx="40"/>'), "shows 3 separate outlines, one of them near"),
    "loose": (svg('<circle r="30"/><circle r="20"/><circle r="5"/>'), "lies loose inside an opening"),
    "line": (path("M10 10L50 10L30 10Z"), "a line near (0, 0) encloses nothing."),
    "lozenge without width": (path("M10 10L50 30L30 20L90 50Z"), "a line near (0, 40) encloses nothing."),
    "empty": (svg(""), "nothing is drawn in it."),
    "hidden": (svg('<circle r="5" display="none"/>'), "nothing is drawn in it."),
    "flattened": (svg('<circle r="5" transform="scale(0)"/>'), "nothing is drawn in it."),
    "text": (svg("<text>Boat</text>"), "it holds only text."),
    "picture": (svg('<image href="boat.png"/>'), "it holds only a picture."),
    "tiny": (svg('<circle r=".01"/>'), "0.02 mm across"),
    "huge": (svg('<circle r="6000"/>'), "1.2e+04 mm across"),
    "many points": (path("M0 0" + "h1v1" * 3_000 + "z"), "more than 4,000 points"),
    "a million points": (path("M0 0" + "h1" * 900_000), "more than 4,000 points"),
    "polygon of many": (svg(f'<polygon points="{"1 2 3 5 " * 200_000}"/>'), "more than 4,000 points"),
    "many rings": (path("M0 0H50V50H0Z" + "m1 1h.1v.1z" * MOST_RINGS), "more than 100 outlines"),
    "many elements": (svg("<g/>" * 30_000), "more than 20,000 elements"),
    "deep": (svg("<g>" * 150_000), "100 in one another"),
    "use without end": (svg('<g id="a"><use href="#a"/></g>'), "repeat one another without end"),
    "use upon use": (svg(LINKS), "repeat one another without end"),
    "another file": (svg('<use href="boat.svg#a"/>'), "shows a part of another file"),
    "large number": (svg('<circle r="1e400"/>'), "too large for a drawing"),
    "long number": (path(f"M0 0L{'9' * 100_000} 5z"), "too large for a drawing"),
    "enlarged": (svg('<g transform="scale(1e8)"><g transform="scale(1e8)"><circle r="5"/></g></g>'), "enlarged beyond all measure"),
    "unknown unit": (svg('<circle r="5em"/>'), "the length “5em”"),
    "no number": (svg('<circle r="NaN"/>'), "the length “NaN”"),
    "unknown move": (svg('<circle r="5" transform="turn(5)"/>'), "moved by “turn(5)”"),
    "half a move": (svg('<circle r="5" transform="scale(5"/>'), "moved by “scale(5”"),
    "move by style": (svg('<circle r="5" style="transform: scale(2)"/>'), "moved by its style"),
    "odd points": (svg('<polygon points="1 2 3 4 5"/>'), "the points of a polygon can't be read."),
    "viewBox": (svg('<circle r="5"/>', 'viewBox="0 0 100"'), "its viewBox “0 0 100” can't be read."),
    "no room": (svg('<circle r="5"/>', 'viewBox="0 0 0 0"'), "viewBox"),
    "broken off": (TRUNCATED, "the file is damaged: it can't be read past its line 1."),
    "nothing": (b"", "damaged"),
    "a picture": (b"\x89PNG\r\n\x1a\n", "damaged"),
    "a page": (b"<html xmlns='http://www.w3.org/1999/xhtml'/>", "not an SVG drawing"),
    "packed": (gzip.compress(path(HEART), mtime=0), "packed (SVGZ)"),
    "over 2 MB": (svg("<!--" + "x" * 2_000_000 + "-->"), "the drawing has 2.0 MB; at most 2 MB are read."),
    "bomb": (BOMB, "declares entities"),
    "outside entity": (OUTSIDE, "declares entities"),
    "undeclared entity": (b'<!DOCTYPE svg SYSTEM "http://127.0.0.1:9/x.dtd"><svg><text>&x;</text></svg>', "declares entities"),
    "style sheet": (svg(f"<style>{'}' * 300_000}</style>"), "style sheet is far too long"),
    "letters": (b'<?xml version="1.0" encoding="klingon"?><svg/>', "letters are saved in a way that can't be read"),
}  # fmt: skip


@pytest.mark.parametrize("name", REFUSED)
def test_refused_with_a_reason(name: str) -> None:
    data, reason = REFUSED[name]
    assert reason in refusal(data)


def test_the_usual_document_type_is_passed_over_and_not_fetched(no_network: None) -> None:
    kind = b'<?xml version="1.0"?><!DOCTYPE svg PUBLIC "-//W3C//DTD SVG 1.1//EN" "http://127.0.0.1:9/svg11.dtd">'
    assert rings(kind + path(HEART)) == rings(path(HEART))


def test_letters_of_other_encodings_and_no_namespace() -> None:
    text = path(HEART).decode()
    for encoding in ("utf-8", "utf-16", "iso-8859-1"):
        assert rings(f'<?xml version="1.0" encoding="{encoding}"?>{text}'.encode(encoding)) == rings(path(HEART))
    assert rings(text.replace('xmlns="http://www.w3.org/2000/svg"', "").encode()) == rings(path(HEART))


def sound(data: bytes) -> None:
    found = read_silhouette(data)
    if isinstance(found, Refusal):
        assert found.what
        assert "\n" not in found.what
        return
    for ring in found:
        assert len(ring) >= 3
        assert all(math.isfinite(v) and -1 < v < 10_001 for point in ring for v in point)
        assert all(a != b for a, b in zip(ring, ring[1:] + ring[:1], strict=True))


@MANY
@given(st.binary(max_size=80))
def test_any_bytes(data: bytes) -> None:
    sound(data)
    sound(svg("").replace(b"></svg>", b">" + data + b"</svg>"))


MIXED = svg(
    '<style>.a{fill:none}</style><g transform="rotate(20 3 4) scale(2)"><path class="b" d="' + HEART + '"/></g>'
    '<svg width="5" height="5" viewBox="0 0 9 9"><use href="#c"/></svg><circle id="c" cx="40" cy="40" r="3mm" style="fill-rule:evenodd"/>'
)
PIECES = ["1e308", "-0", "1e-320", "NaN", "inf", "%", "e", ".", ",", "0", "999999999", " ", '"', "<", ">", "/", "&x;", "z", "M"]
PIECES += ["a1 1 0 1 1", "(", ")", "#c"]


@MANY
@given(st.lists(st.tuples(st.integers(0, len(MIXED)), st.integers(0, 8), st.sampled_from(PIECES)), min_size=1, max_size=4))
def test_a_drawing_with_slips(slips: list[tuple[int, int, str]]) -> None:
    data = MIXED
    for place, length, piece in slips:
        data = data[:place] + piece.encode() + data[place + length :]
    sound(data)


@MANY
@given(st.text(st.sampled_from("MmLlHhVvCcSsQqTtAaZz0123456789.,-+eE "), max_size=60))
def test_any_path(d: str) -> None:
    sound(path(d))
