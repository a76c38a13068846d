"""Both writers draw the same: each file is read back by somebody else's reader, and the places are compared."""

from __future__ import annotations

from io import BytesIO

import pypdfium2
import pytest
from svgelements import SVG
from svgelements import Path as SvgPath

from lessonkit.drawing.items import BLACK, CLAY, Document, Group, Page, Path, Stroke, TextLine
from lessonkit.writers.pdf import write_pdf
from lessonkit.writers.svg import write_svg

POINT_MM = 25.4 / 72
TALL_MM = 279.4
LOOP = Path.of((("M", 30, 40.123), ("L", 90.5, 40), ("C", 120.25, 40, 120.75, 80, 90, 80.333), ("L", 30, 80), ("Z",)), Stroke(0.7), CLAY)
DASHES = Path.of((("M", 12.34567, 100), ("C", 60, 120, 70, 90, 190, 101)), Stroke(0.35, (3, 1.5)))
DRAWING = (LOOP, Group((DASHES, Group((LOOP, DASHES), -10.5, 77.7, (0, 0, 200, 200), "map")), 3.25, 40, layer="cut"))
LETTERS = (
    TextLine(20, 30, "g", 14),
    Group((TextLine(20, 30, "K", 12, True), TextLine(60, 30, "☐", 14)), 5.5, 20),
    Group((Group((TextLine(0, 0, "e", 9, True),), 3, 4),), 30, 120, layer="engrave"),
)
Points = list[tuple[float, float]]
Box = tuple[float, float, float, float]


def paths_in_svg(*items: Path | Group | TextLine) -> list[SvgPath]:
    svg = SVG.parse(BytesIO(write_svg(Page(215.9, TALL_MM, items, "Stencil"), "Porthole")), ppi=25.4)
    return list(svg.select(lambda element: type(element) is SvgPath))


def points_in_svg(path: SvgPath) -> Points:
    """Controls and ends; a closing line ends where its part began, as it does for PDFium."""
    ends = [[p for name in ("control1", "control2", "end") if (p := getattr(segment, name, None)) is not None] for segment in path]
    return [(p.x, p.y) for points in ends for p in points]


def page_in_pdf(*items: Path | Group | TextLine) -> pypdfium2.PdfPage:
    return pypdfium2.PdfDocument(write_pdf(Document("Porthole", "en", (Page(215.9, TALL_MM, items, "Stencil"),))))[0]


def matrix_on_page(thing: pypdfium2.PdfObject) -> pypdfium2.PdfMatrix:
    """Lines of a picture are in units of its own."""
    matrix = thing.get_matrix()
    return matrix if thing.container is None else matrix.multiply(matrix_on_page(thing.container))


def points_in_pdf(page: pypdfium2.PdfPage) -> list[Points]:
    raw = pypdfium2.raw
    found = []
    for thing in page.get_objects(filter=[raw.FPDF_PAGEOBJ_PATH]):
        points, matrix = [], matrix_on_page(thing)
        for i in range(raw.FPDFPath_CountSegments(thing)):
            x, y = raw.c_float(), raw.c_float()
            assert raw.FPDFPathSegment_GetPoint(raw.FPDFPath_GetPathSegment(thing, i), x, y)
            x_pt, y_pt = matrix.on_point(x.value, y.value)
            points.append((x_pt * POINT_MM, TALL_MM - y_pt * POINT_MM))
        found.append(points)
    return found


def flat(points: Points) -> list[float]:
    return [n for point in points for n in point]


def test_lines_and_curves_stand_at_the_same_place_in_both() -> None:
    svg, pdf = [points_in_svg(path) for path in paths_in_svg(*DRAWING)], points_in_pdf(page_in_pdf(*DRAWING))
    assert [len(points) for points in svg] == [len(points) for points in pdf] == [7, 4, 7, 4]
    for in_svg, in_pdf in zip(svg, pdf, strict=True):
        assert flat(in_svg) == pytest.approx(flat(in_pdf), abs=0.001)
    assert svg[2][0] == pytest.approx((30 - 10.5 + 3.25, 40.123 + 77.7 + 40), abs=1e-4)  # and at the right one


@pytest.mark.parametrize("scale", [0.37, 1.6])
def test_what_is_drawn_larger_or_smaller_is_so_in_both(scale: float) -> None:
    """Its places and letters are, its lines are not; a group inside is with the rest. Half a hundredth of its own unit is allowed."""
    inside = Group((LOOP, Group((DASHES,), 7, 9, scale=0.5), TextLine(10, 20, "g", 14)), 21.5, 40, (0, 0, 100, 90), scale=scale)
    loop, dashes, letter = paths_in_svg(inside)
    page = page_in_pdf(inside)
    pdf = points_in_pdf(page)
    for in_svg, in_pdf in zip((loop, dashes), pdf, strict=True):
        assert flat(points_in_svg(in_svg)) == pytest.approx(flat(in_pdf), abs=0.005)
    assert pdf[1][0] == pytest.approx((21.5 + scale * (7 + 12.34567 / 2), 40 + scale * (9 + 50)), abs=0.005)
    text = page.get_textpage()
    left, foot, right, top = (n * POINT_MM for n in text.get_charbox(0))
    assert letter.bbox(with_stroke=False) == pytest.approx((left, TALL_MM - top, right, TALL_MM - foot), abs=0.02)
    assert pypdfium2.raw.FPDFText_GetFontSize(text, 0) == pytest.approx(14 * scale)
    widths = [stroke_width_mm(thing) for thing in page.get_objects(filter=[pypdfium2.raw.FPDF_PAGEOBJ_PATH])]
    assert widths == pytest.approx([0.7, 0.35], abs=1e-4) == [loop.stroke_width, dashes.stroke_width]


def stroke_width_mm(thing: pypdfium2.PdfObject) -> float:
    width = pypdfium2.raw.c_float()
    assert pypdfium2.raw.FPDFPageObj_GetStrokeWidth(thing, width)
    return float(width.value * matrix_on_page(thing).a * POINT_MM)


def test_letters_stand_at_the_same_place_in_both() -> None:
    """PDFium rounds a letter's box to thousandths of its size: 0.005 mm at 14 pt."""
    text = page_in_pdf(*LETTERS).get_textpage()
    pdf = [text.get_charbox(i) for i in range(text.count_chars()) if text.get_text_range(i, 1).strip()]
    svg: list[Box] = [path.bbox(with_stroke=False) for path in paths_in_svg(*LETTERS)]
    assert len(svg) == len(pdf) == 4
    for in_svg, (left, foot, right, top) in zip(svg, pdf, strict=True):
        assert in_svg == pytest.approx((left * POINT_MM, TALL_MM - top * POINT_MM, right * POINT_MM, TALL_MM - foot * POINT_MM), abs=0.01)


def test_strokes_have_the_same_width_and_tone_in_both() -> None:
    raw = pypdfium2.raw
    things = list(page_in_pdf(LOOP, Path.of(DASHES.commands, Stroke(0.18, tone=0.5), BLACK)).get_objects(filter=[raw.FPDF_PAGEOBJ_PATH]))
    for path, thing in zip(paths_in_svg(LOOP, Path.of(DASHES.commands, Stroke(0.18, tone=0.5), BLACK)), things, strict=True):
        assert stroke_width_mm(thing) == pytest.approx(path.stroke_width, abs=1e-4)
        for read, colour in ((raw.FPDFPageObj_GetStrokeColor, path.stroke), (raw.FPDFPageObj_GetFillColor, path.fill)):
            red, green, blue, alpha = (raw.c_uint() for _ in range(4))
            assert read(thing, red, green, blue, alpha)
            assert [red.value, green.value, blue.value] == pytest.approx([colour.red, colour.green, colour.blue], abs=1)
