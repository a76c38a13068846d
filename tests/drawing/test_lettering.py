from __future__ import annotations

import math
from itertools import pairwise

import pytest
from fontTools.pens.areaPen import AreaPen
from fontTools.pens.boundsPen import BoundsPen
from fontTools.pens.svgPathPen import SVGPathPen
from fontTools.ttLib import TTFont
from shapely.geometry import Polygon
from svgelements import CubicBezier, Move
from svgelements import Path as SvgPath

from lessonkit.drawing.fonts import Face, typeface_path, width_mm
from lessonkit.drawing.items import CLAY, Path, TextLine
from tests.drawings_for_tests import outlines

POINT_MM = 25.4 / 72
Bounds = tuple[float, float, float, float]


def rings(path: Path) -> list[SvgPath]:
    """The closed parts of a path, as an outside reader understands them."""
    data = " ".join(" ".join(map(str, command)) for command in path.commands)
    return [SvgPath(part) for part in SvgPath(data).as_subpaths()]


def sampled(ring: SvgPath) -> list[tuple[float, float]]:
    steps = [(s, 200 if isinstance(s, CubicBezier) else 1) for s in ring if not isinstance(s, Move)]
    points = [s.point(i / n) for s, n in steps for i in range(1, n + 1)]
    return [(p.x, p.y) for p in points]


def area_mm2(path: Path) -> float:
    """Filled by the even-odd rule."""
    shape = Polygon()
    for ring in rings(path):
        shape = shape.symmetric_difference(Polygon(sampled(ring)))
    return float(shape.area)


def glyph_bounds(face: Face, character: str) -> Bounds:
    font = TTFont(typeface_path(face))
    glyphs = font.getGlyphSet()
    pen = BoundsPen(glyphs)
    glyphs[font.getBestCmap()[ord(character)]].draw(pen)
    left, low, right, high = pen.bounds
    em = font["head"].unitsPerEm
    return left / em, low / em, right / em, high / em


@pytest.mark.parametrize(("text", "bold", "face"), [("o", False, "Andika"), ("K", True, "AndikaBold"), ("\u2610", False, "DejaVu")])
def test_a_letter_stands_where_the_line_says(text: str, bold: bool, face: Face) -> None:
    size_mm = 24 * POINT_MM
    left, low, right, high = glyph_bounds(face, text)
    found = [ring.bbox() for ring in rings(outlines(TextLine(30, 50, text, 24, bold)))]
    got = min(b[0] for b in found), min(b[1] for b in found), max(b[2] for b in found), max(b[3] for b in found)
    expected = 30 + left * size_mm, 50 - high * size_mm, 30 + right * size_mm, 50 - low * size_mm
    assert got == pytest.approx(expected, abs=0.002)


def test_each_letter_follows_at_its_width() -> None:
    first, second = outlines(TextLine(10, 20, "oo", 24)), outlines(TextLine(10 + width_mm("o", 24), 20, "o", 24))
    assert len(first.commands) == 2 * len(second.commands)
    tail = first.commands[len(second.commands) :]
    assert [c[0] for c in tail] == [c[0] for c in second.commands]
    numbers = [[n for c in commands for n in c[1:]] for commands in (tail, second.commands)]
    assert numbers[0] == pytest.approx(numbers[1])


def test_letters_are_filled_in_the_tone_of_the_line_and_every_part_is_closed() -> None:
    path = outlines(TextLine(0, 0, "Kiln 8 \u2611", 12, tone=CLAY))
    assert (path.fill, path.stroke) == (CLAY, None)
    kinds = "".join(command[0] for command in path.commands)
    assert kinds.startswith("M")
    assert kinds.endswith("Z")
    assert kinds.count("M") == kinds.count("Z") == kinds.count("ZM") + 1


def test_curves_are_the_fonts_own() -> None:
    """The area of 'o' by fontTools, from its quadratic curves, and of our cubics as an outside reader follows them."""
    font = TTFont(typeface_path("Andika"))
    pen = AreaPen(font.getGlyphSet())
    font.getGlyphSet()[font.getBestCmap()[ord("o")]].draw(pen)
    path = outlines(TextLine(0, 0, "o", 24))
    assert "C" in {command[0] for command in path.commands}
    em_mm = 24 * POINT_MM / font["head"].unitsPerEm
    assert area_mm2(path) == pytest.approx(abs(pen.value) * em_mm**2, rel=1e-5)


@pytest.mark.parametrize("letter", "KMNRWXYefktxy69Ññçéÿ&@§%")
@pytest.mark.parametrize("bold", [False, True])
def test_overlapping_strokes_are_merged(letter: str, bold: bool) -> None:
    """The parts of a letter neither cross themselves nor each other."""
    parts = [Polygon(sampled(ring)) for ring in rings(outlines(TextLine(0, 0, letter, 72, bold)))]
    assert all(part.is_valid for part in parts)
    assert all(not a.boundary.intersects(b.boundary) for i, a in enumerate(parts) for b in parts[:i])


def test_a_merged_letter_lies_on_the_fonts_curves() -> None:
    """At 24 pt, with 'e' as fontTools draws it; the points to compare with are up to 0.003 mm apart."""
    font = TTFont(typeface_path("Andika"))
    glyphs = font.getGlyphSet()
    pen = SVGPathPen(glyphs)
    glyphs[font.getBestCmap()[ord("e")]].draw(pen)
    em_mm = 24 * POINT_MM / font["head"].unitsPerEm
    drawn = [s.point(i / 400) for s in SvgPath(pen.getCommands()) if not isinstance(s, Move) for i in range(401)]
    for ring in rings(outlines(TextLine(0, 0, "e", 24))):
        corners = sampled(ring)
        middles = [((x1 + x2) / 2, (y1 + y2) / 2) for (x1, y1), (x2, y2) in pairwise(corners)]
        away = [min(math.dist(point, (p.x * em_mm, -p.y * em_mm)) for p in drawn) for point in corners + middles]
        assert max(away) < 0.012
        assert 10 < len(corners) < 60


def test_no_text_no_outline() -> None:
    assert outlines(TextLine(0, 0, "", 12)).commands == ()
    assert outlines(TextLine(0, 0, "  ", 12)).commands == ()
