from __future__ import annotations

import hashlib
import os
import subprocess
import sys
from io import BytesIO

import pypdfium2
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import ImageChops
from pypdf import PdfReader

from lessonkit.drawing.fonts import missing, width_mm
from lessonkit.drawing.items import BLACK, CLAY, Document, Group, Item, Page, Path, Stroke, TextLine
from lessonkit.drawing.typesetting import Span, set_text
from lessonkit.writers.pdf import write_pdf

POINT_MM = 25.4 / 72
A4, LETTER = (210.0, 297.0), (215.9, 279.4)  # ISO 216; ANSI/ASME Y14.1


def one_page(*items: Item, size: tuple[float, float] = A4) -> Document:
    return Document("Porthole", "en", (Page(*size, items, "Stencil"),))


def read(document: Document) -> PdfReader:
    return PdfReader(BytesIO(write_pdf(document)), strict=True)


def text_of(*items: Item) -> str:
    return read(one_page(*items)).pages[0].extract_text()


def outline_points(document: Document) -> list[list[tuple[float, float]]]:
    """The points of each path of the first page in PDF coordinates, as PDFium reads them."""
    raw = pypdfium2.raw
    page = pypdfium2.PdfDocument(write_pdf(document))[0]
    found = []
    for thing in page.get_objects(filter=[raw.FPDF_PAGEOBJ_PATH]):
        points, matrix = [], thing.get_matrix()
        for i in range(raw.FPDFPath_CountSegments(thing)):
            x, y = raw.c_float(), raw.c_float()
            raw.FPDFPathSegment_GetPoint(raw.FPDFPath_GetPathSegment(thing, i), x, y)
            points.append(matrix.on_point(x.value, y.value))
        found.append(points)
    return found


@pytest.mark.parametrize(("size", "points"), [(A4, (595.276, 841.890)), (LETTER, (612, 792)), (A4[::-1], (841.890, 595.276))])
def test_c01_the_paper_has_its_exact_size(size: tuple[float, float], points: tuple[float, float]) -> None:
    box = read(one_page(size=size)).pages[0].mediabox
    assert (float(box.left), float(box.bottom)) == (0, 0)
    assert (float(box.width), float(box.height)) == pytest.approx(points, abs=0.001)


def test_c01_a_bar_of_100_mm_is_283_465_points_long_and_the_viewer_is_asked_not_to_scale() -> None:
    bar = Path.of((("M", 20, 40), ("L", 120, 40)), Stroke(0.5))
    document = one_page(bar)
    ((start, end),) = outline_points(document)
    assert end[0] - start[0] == pytest.approx(283.465, abs=0.001)
    assert start == pytest.approx((20 / POINT_MM, (297 - 40) / POINT_MM), abs=0.001)
    assert read(document).root_object["/ViewerPreferences"]["/PrintScaling"] == "/None"


def test_places_are_written_to_a_thousandth_of_a_millimetre() -> None:
    corners = [(20 + i * 18.1234567, 250 - i * 7.6543219) for i in range(10)]
    document = one_page(Path.of((("M", *corners[0]), *(("L", x, y) for x, y in corners[1:])), Stroke(0.18)))
    content = read(document).pages[0].get_contents()
    assert content is not None
    ((a, b, c, d, e, f),) = [map(float, operands) for operands, operator in content.operations if operator == b"cm"]
    written = [map(float, operands) for operands, operator in content.operations if operator in (b"m", b"l")]
    got = [((a * x + c * y + e) * POINT_MM, 297 - (b * x + d * y + f) * POINT_MM) for x, y in written]
    assert [n for point in got for n in point] == pytest.approx([n for point in corners for n in point], abs=0.0005)


@pytest.mark.parametrize(
    "text",
    [
        "Roll to <6 mm", "if 3 <x< 5 & damp", "R&D table", "AT&T mug", "salt & pepper", "</b> done", "<b>bold", "use <your own> stamp",
        '<font color="[1,2]">x</font>', '<img src="http://127.0.0.1:9/x.png"/>hi', "__import__('os')", "back\\slash (and) [brackets]",
        "¿Más arcilla, niño?", "Žižka œuvre ß Łódź", "☐ Dry  ☑ Fired → 1060 °C", "½ in, 1⅜ in", "αβγ", "%d {cut} %%",
    ],
)  # fmt: skip
@pytest.mark.parametrize("bold", [False, True])
def test_c05_c07_text_comes_out_as_it_went_in(text: str, bold: bool, no_network: None) -> None:
    assert text_of(TextLine(20, 40, text, 12, bold)) == text


@settings(max_examples=40, deadline=None)
@given(st.lists(st.text(alphabet=[chr(c) for c in range(33, 127)] + list("éñß→☐½"), min_size=1, max_size=8), min_size=1, max_size=6))
def test_any_words_come_out_with_their_spaces(words: list[str]) -> None:
    text = " ".join(words)
    assert text_of(TextLine(10, 40, text, 8)) == text


def test_a_no_break_space_comes_out_as_a_space() -> None:
    assert text_of(TextLine(20, 40, "8\u00a0mm", 12)) == "8 mm"


def test_a_line_of_two_weights_reads_as_one() -> None:
    plain = " the ring lies flat and no light shows under the stick."
    block = set_text([Span("Good when", True), Span(plain)], 84, 12, 15.5)
    assert " ".join(text_of(*block.at(20, 40)).split("\n")) == "Good when" + plain


def test_letters_of_many_alphabets_fill_several_subsets() -> None:
    """More than 256 characters of one face: each line still reads back."""
    letters = [chr(c) for c in range(0xC0, 0x400) if chr(c).isalpha() and not missing(chr(c))]
    lines = ["".join(letters[i : i + 30]) for i in range(0, len(letters), 30)]
    assert len(letters) > 512
    items = [TextLine(10, 20 + 8 * i, line, 12) for i, line in enumerate(lines)]
    assert text_of(*items).split("\n") == lines


def test_fonts_are_embedded_as_subsets_and_no_other_is_named() -> None:
    reader = read(one_page(TextLine(20, 40, "Kiln ☐", 12), TextLine(20, 50, "Kiln ☐", 12, bold=True)))
    fonts = [font.get_object() for font in reader.pages[0]["/Resources"]["/Font"].values()]
    assert {str(font["/BaseFont"]).partition("+")[2] for font in fonts} == {"Andika", "Andika-Bold", "DejaVuSans", "DejaVuSans-Bold"}
    for font in fonts:
        assert 100 < len(font["/FontDescriptor"]["/FontFile2"].get_object().get_data()) < 60_000
        assert "/ToUnicode" in font


def test_letters_are_drawn_at_the_widths_that_the_page_was_set_by() -> None:
    """PDFium rounds each letter's width down to a thousandth of its size; what begins a run has its exact place."""
    text = "Kiln ☐ shelf, 8 mm"
    page = pypdfium2.PdfDocument(write_pdf(one_page(TextLine(20, 40, text, 12))))[0].get_textpage()
    for i in range(1, len(text)):
        x, y = pypdfium2.raw.c_double(), pypdfium2.raw.c_double()
        assert pypdfium2.raw.FPDFText_GetCharOrigin(page, i, x, y)
        rounded = 0.001 if text[i - 1 : i + 1] in (" ☐", " s") else i * 12 * POINT_MM / 1000
        assert x.value * POINT_MM == pytest.approx(20 + width_mm(text[:i], 12), abs=rounded)
        assert y.value * POINT_MM == pytest.approx(257, abs=0.001)


def test_title_language_page_labels_and_bookmarks() -> None:
    names = ["Sheet 1 of 2", "Row 1, column 2 – <frame> (B)"]
    reader = read(Document("Porthole & <ring>", "es", tuple(Page(*A4, (), name) for name in names)))
    root = reader.root_object
    assert reader.metadata is not None
    assert (reader.metadata.title, root["/Lang"], root["/ViewerPreferences"]["/DisplayDocTitle"]) == ("Porthole & <ring>", "es", True)
    assert [entry.title for entry in reader.outline] == names
    assert [reader.get_destination_page_number(entry) for entry in reader.outline] == [0, 1]
    assert reader.page_labels == ["1", "2"]


def test_a_document_without_pages_is_refused() -> None:
    with pytest.raises(ValueError, match="'Empty' has no pages"):
        write_pdf(Document("Empty", "en", ()))


def test_groups_move_their_items_and_clip_them() -> None:
    square = Path.of((("M", 0, 0), ("L", 40, 0), ("L", 40, 40), ("L", 0, 40), ("Z",)), fill=BLACK)
    document = one_page(Group((Group((square,), 5, 7, (0, 0, 20, 10)),), 50, 60))
    corners = [(x * POINT_MM, 297 - y * POINT_MM) for x, y in outline_points(document)[-1]]
    assert corners[0] == pytest.approx((55, 67), abs=0.001)
    assert corners[2] == pytest.approx((95, 107), abs=0.001)
    picture = pypdfium2.PdfDocument(write_pdf(document))[0].render(scale=72 / 25.4 * 2).to_pil().convert("L")
    per_mm = picture.width / 210
    inside = [picture.getpixel((round(x * per_mm), round(y * per_mm))) for x, y in ((56, 68), (74, 76))]
    outside = [picture.getpixel((round(x * per_mm), round(y * per_mm))) for x, y in ((76, 70), (60, 79), (54, 68))]
    assert (inside, outside) == ([0, 0], [255, 255, 255])


def test_a_half_turn_puts_items_upside_down_and_their_words_are_read_once() -> None:
    """PDFium, which reads for a well-known browser, takes the replacement; the letters are there, drawn as the upright ones are."""
    face = Group((TextLine(20, 30, "Kiln", 40, bold=True), Path.of((("M", 0, 0), ("L", 60, 0)), Stroke(1))), 10, 20)
    page = pypdfium2.PdfDocument(write_pdf(one_page(face, Group((face,), 210, 297, half_turn=True))))[0]
    assert page.get_textpage().get_text_range().split() == ["Kiln"]
    lines = outline_points(one_page(Group((face,), 210, 297, half_turn=True)))
    assert [(x * POINT_MM, 297 - y * POINT_MM) for x, y in lines[0]] == [pytest.approx((200, 277), abs=0.001), pytest.approx((140, 277), abs=0.001)]
    picture = page.render(scale=3).to_pil().convert("L")
    apart = ImageChops.difference(picture, picture.rotate(180)).point(lambda tone: tone > 128 and 255).histogram()[255]
    assert apart < 0.03 * picture.point(lambda tone: tone < 128 and 255).histogram()[255]


def test_a_half_turn_and_a_scale_go_together() -> None:
    bar = Path.of((("M", 10, 20), ("L", 60, 20)), Stroke(1))
    ((start, end),) = outline_points(one_page(Group((Group((bar,), 4, 6),), 150, 100, half_turn=True, scale=0.5)))
    assert (start[0] * POINT_MM, 297 - start[1] * POINT_MM) == pytest.approx((150 - 14 / 2, 100 - 26 / 2), abs=0.001)
    assert (end[0] * POINT_MM, 297 - end[1] * POINT_MM) == pytest.approx((150 - 64 / 2, 100 - 26 / 2), abs=0.001)


def test_what_follows_a_clipped_group_is_not_clipped() -> None:
    square = Path.of((("M", 0, 0), ("L", 10, 0), ("L", 10, 10), ("L", 0, 10), ("Z",)), fill=BLACK)
    document = one_page(Group((square,), 0, 0, (0, 0, 1, 1)), Group((square,), 100, 100))
    picture = pypdfium2.PdfDocument(write_pdf(document))[0].render(scale=1).to_pil().convert("L")
    assert picture.getpixel((round(105 / POINT_MM), round(105 / POINT_MM))) == 0


def test_fills_alternate_and_tones_are_greys() -> None:
    """A ring within a ring is open in the middle though both run the same way; clay is 18 % grey."""
    rings = [[(10, 10), (50, 10), (50, 50), (10, 50)], [(20, 20), (40, 20), (40, 40), (20, 40)]]
    commands = [c for ring in rings for c in (("M", *ring[0]), *(("L", *p) for p in ring[1:]), ("Z",))]
    page = pypdfium2.PdfDocument(write_pdf(one_page(Path.of(commands, fill=CLAY))))[0]
    picture = page.render(scale=1).to_pil().convert("L")
    at = [picture.getpixel((round(mm / POINT_MM), round(mm / POINT_MM))) for mm in (15, 30)]
    assert at == [pytest.approx(0.82 * 255, abs=1), 255]


def test_strokes_keep_their_width_dashes_ends_and_corners() -> None:
    stroke = Stroke(0.35, (3.0, 1.5), tone=0.5, cap="round", join="mitre")
    content = read(one_page(Path.of((("M", 20, 40), ("L", 120, 40)), stroke))).pages[0].get_contents()
    assert content is not None
    state = {operator: operands for operands, operator in content.operations}
    unit_mm = float(state[b"cm"][0]) * POINT_MM
    assert float(state[b"w"][0]) * unit_mm == pytest.approx(0.35, abs=1e-4)
    assert [float(n) * unit_mm for n in state[b"d"][0]] == pytest.approx([3, 1.5], abs=1e-4)
    assert ([float(state[o][0]) for o in (b"J", b"j", b"G")], b"S" in state) == ([1, 0, 0.5], True)


RICH = """
from lessonkit.drawing.items import *
from lessonkit.writers.pdf import write_pdf
line = Path.of((("M", 20, 40), ("C", 30, 50, 60, 50, 70.123, 40)), Stroke(0.5, (1, 2)))
texts = [TextLine(20, 50 + 9 * i, text, 12, bold) for i, text in enumerate(["Kiln ☐ Ω", "Schlicker ½", "¿Más?"]) for bold in (False, True)]
RICH = Document("Porthole", "en", tuple(Page(210, 297, (line, Group(tuple(texts), 3, 4, (0, 0, 90, 90), "a")), f"Sheet {i}") for i in range(3)))
"""


def test_c11_the_same_document_gives_the_same_bytes_in_any_process() -> None:
    program = f"{RICH}\nimport hashlib\nprint(hashlib.sha256(write_pdf(RICH)).hexdigest())"
    found = set()
    for seed, zone in (("1", "UTC"), ("2", "Pacific/Auckland")):
        surroundings = {**os.environ, "PYTHONHASHSEED": seed, "TZ": zone, "PYTHONPATH": os.pathsep.join(sys.path)}
        run = subprocess.run([sys.executable, "-c", program], env=surroundings, capture_output=True, text=True, check=True)
        found.add(run.stdout.strip())
    # and in this process, after all that other tests have written
    scope: dict[str, Document] = {}
    exec(RICH, scope)
    write_pdf(one_page(TextLine(10, 10, "other letters: xyz ★ Ж", 9, bold=True)))
    found.add(hashlib.sha256(write_pdf(scope["RICH"])).hexdigest())
    assert len(found) == 1


def test_a_document_that_failed_leaves_nothing_behind() -> None:
    document = one_page(TextLine(20, 40, "Kiln", 12))
    before = write_pdf(document)
    with pytest.raises(TypeError):
        write_pdf(one_page(TextLine(20, 40, "Zebra ☐", 12), Path.of((("M", 0, None),), Stroke(1))))
    assert write_pdf(document) == before


def test_a_picture_is_in_the_file_once_a_size_and_looks_as_its_lines_do_elsewhere() -> None:
    star = Path.of((("M", 50, 5), ("L", 61, 40), ("L", 95, 40), ("L", 67, 60), ("Z",)), Stroke(2, join="mitre"), CLAY)
    wave = Path.of((("M", 20, 90), ("C", 30, 50, 60, 130, 70.123, 90)), Stroke(0.5, (1, 2)))
    grey = Path.of((("M", 20, 95), ("L", 70, 95)), Stroke(0.5, (1, 2), 0.5, "round"))
    lines = (star, wave, grey)
    shown = [Group(lines, 10 + 60 * i, 20, scale=0.5) for i in range(2)]
    sizes = [Group(lines, 10 + 60 * i, 20 + 90 * i, scale=0.5 + 0.1 * i) for i in range(2)]
    again = read(one_page(*shown, Group((*shown, TextLine(20, 90, "Kiln", 12)), 0, 200)))
    assert [len(read(one_page(*items)).pages[0]["/Resources"]["/XObject"]) for items in (shown, sizes, [shown[0]])] == [1, 2, 1]
    assert again.pages[0].extract_text() == "Kiln"
    elsewhere = [group._replace(items=(*lines, TextLine(0, 0, " ", 1))) for group in sizes]  # with words it is no picture, for the writer
    picture, in_place = (pypdfium2.PdfDocument(write_pdf(one_page(*items)))[0].render(scale=3).to_pil().convert("L") for items in (sizes, elsewhere))
    assert ImageChops.difference(picture, in_place).getextrema()[1] < 16
    assert picture.getextrema()[0] == 0


def test_a_picture_is_the_same_whatever_was_shown_before() -> None:
    """So many others that it is no longer kept; and the same lines are another picture where the numbers have more places."""
    lines = (Path("ML", (10.001234, 20, 60, 20.005678), Stroke(0.5)),)
    shown = one_page(Group(lines, 10, 20, scale=0.5), Group(lines, 10, 90, scale=1.5))
    first = write_pdf(shown)
    assert write_pdf(shown) == first
    write_pdf(one_page(*(Group((lines[0]._replace(letters="M" * 2, stroke=Stroke(i)),), scale=0.5) for i in range(1, 100))))
    assert write_pdf(shown) == first


@pytest.mark.parametrize("scale", [1.0, 0.5])
def test_lines_and_a_curve_through_the_same_numbers_are_not_taken_for_each_other(scale: float) -> None:
    lines = Path("MLLL", (20, 90, 30, 50, 60, 130, 70, 90), Stroke(0.5))
    both = Group((lines, lines._replace(letters="MC"), lines._replace(letters="MLLLZ")), scale=scale)
    raw, page = pypdfium2.raw, pypdfium2.PdfDocument(write_pdf(one_page(both)))[0]
    shapes = list(page.get_objects(filter=[raw.FPDF_PAGEOBJ_PATH]))
    ends = [raw.FPDFPath_GetPathSegment(each, raw.FPDFPath_CountSegments(each) - 1) for each in shapes]
    kinds = [(raw.FPDFPathSegment_GetType(end), bool(raw.FPDFPathSegment_GetClose(end))) for end in ends]
    assert kinds == [(raw.FPDF_SEGMENT_LINETO, False), (raw.FPDF_SEGMENT_BEZIERTO, False), (raw.FPDF_SEGMENT_LINETO, True)]


def test_a_picture_of_nothing_may_come_again() -> None:
    nothing = Group((), 10, 10, scale=0.5)
    assert text_of(nothing, nothing, TextLine(20, 90, "Kiln", 12)) == "Kiln"
