"""Pages to a PDF that prints at full size. The same document gives the same bytes, whatever was written before it."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from io import BytesIO
from threading import Lock
from typing import assert_never

from reportlab import rl_config
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.pdfgen.canvas import Canvas

from lessonkit.drawing.fonts import Face, advance_em, runs, typeface_path
from lessonkit.drawing.items import Document, Group, Item, Page, Path, Stroke, TextLine
from lessonkit.units import MM_PER_POINT

_CAPS = {"butt": 0, "round": 1}
_JOINS = {"mitre": 0, "round": 1}
_ONE_AT_A_TIME = Lock()  # all documents share the parsed fonts, whose reader keeps its place in the file

rl_config.useA85 = 0  # the streams are bytes; as printable text they are a quarter longer


def write_pdf(document: Document) -> bytes:
    """The document as PDF: sizes exact, fonts embedded as subsets, a bookmark for each page, no scaling by the viewer's wish.

    Text is drawn as it stands, never read as markup; a no-break space comes out as a space. A character that no face has
    is drawn as an empty box (see `drawing.fonts.missing`). Raises ValueError for a document without pages."""
    if not document.pages:
        raise ValueError(f"the document {document.title!r} has no pages")
    with _ONE_AT_A_TIME:
        output = BytesIO()
        _register("Andika")
        canvas = Canvas(output, pageCompression=1, invariant=1, initialFontName="Andika", lang=document.language)
        canvas.setTitle(document.title)
        canvas.setCreator("lessonkit")
        canvas.setAuthor("")  # else the library names one
        canvas.setSubject("")
        canvas.setViewerPreference("PrintScaling", "None")
        canvas.setViewerPreference("DisplayDocTitle", "true")
        canvas.addPageLabel(0, style="ARABIC", start=1)
        for number, page in enumerate(document.pages, start=1):
            _page(canvas, page, f"page-{number}")
        canvas.save()
        return output.getvalue()


@cache
def _register(face: Face) -> str:
    pdfmetrics.registerFont(TTFont(face, str(typeface_path(face)), asciiReadable=False))
    return face


def _page(canvas: Canvas, page: Page, key: str) -> None:
    canvas.setPageSize((page.wide_mm / MM_PER_POINT, page.tall_mm / MM_PER_POINT))
    canvas.bookmarkPage(key)
    canvas.addOutlineEntry(page.name, key)
    for item in page.items:
        _draw(item, _Place(canvas, 0.0, page.tall_mm))
    canvas.showPage()


@dataclass(frozen=True, slots=True)
class _Place:
    """A canvas and where the items' origin lies on it: from the paper's left, and above its foot."""

    canvas: Canvas
    left_mm: float
    up_mm: float

    def points(self, *numbers_mm: float) -> list[float]:
        """x, y, x, y ... in the items' millimetres as the PDF's own coordinates."""
        placed = (self.up_mm - n if i % 2 else self.left_mm + n for i, n in enumerate(numbers_mm))
        return [n / MM_PER_POINT for n in placed]


def _draw(item: Item, place: _Place) -> None:
    match item:
        case Path():
            _path(item, place)
        case TextLine():
            _text_line(item, place)
        case Group():
            _group(item, place)
        case _:
            assert_never(item)


_OPERATORS = {"M": "m", "L": "l", "C": "c", "Z": "h"}
_PAINT = {(True, True): "B*", (False, True): "f*", (True, False): "S", (False, False): "n"}  # (stroke, fill by even-odd)


def _path(path: Path, place: _Place) -> None:
    """Written as the page's own operators: the library's path object takes four times as long to write a number."""
    canvas = place.canvas
    if path.stroke is not None:
        _stroke(path.stroke, canvas)
    if path.fill is not None:
        canvas.setFillGray(path.fill)
    left, up, scale = place.left_mm, place.up_mm, 1 / MM_PER_POINT
    operations = []
    for operator, *numbers in path.commands:
        placed = ((up - n if i % 2 else left + n) * scale for i, n in enumerate(numbers))
        operations.append(" ".join([*(f"{n:.3f}" for n in placed), _OPERATORS[operator]]))
    operations.append(_PAINT[path.stroke is not None, path.fill is not None])
    canvas.addLiteral("\n".join(operations))


def _stroke(stroke: Stroke, canvas: Canvas) -> None:
    canvas.setLineWidth(stroke.width_mm / MM_PER_POINT)
    canvas.setDash([mm / MM_PER_POINT for mm in stroke.dash_mm])
    canvas.setLineCap(_CAPS[stroke.cap])
    canvas.setLineJoin(_JOINS[stroke.join])
    canvas.setStrokeGray(stroke.tone)


def _text_line(line: TextLine, place: _Place) -> None:
    x_mm = line.x_mm
    place.canvas.setFillGray(line.tone)
    for face, text in runs(line.text, line.bold):
        piece = place.canvas.beginText(*place.points(x_mm, line.y_mm))
        piece.setFont(_register(face), line.size_pt)
        piece.textOut(text)
        place.canvas.drawText(piece)
        x_mm += advance_em(face, text) * line.size_pt * MM_PER_POINT


def _group(group: Group, place: _Place) -> None:
    canvas = place.canvas
    inner = _Place(canvas, place.left_mm + group.x_mm, place.up_mm - group.y_mm)
    canvas.saveState()
    if group.clip_mm is not None:
        left, top, wide, tall = group.clip_mm
        window = canvas.beginPath()
        window.rect(*inner.points(left, top + tall), wide / MM_PER_POINT, tall / MM_PER_POINT)
        canvas.clipPath(window, stroke=0, fill=0)
    for item in group.items:
        _draw(item, inner)
    canvas.restoreState()
