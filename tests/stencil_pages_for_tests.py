"""What is on a stencil sheet: its words and lines from the drawing, its lines and text from the PDF, and the rules for all sheets."""

from __future__ import annotations

from io import BytesIO
from itertools import combinations

import pytest
from pypdf import PdfReader
from shapely import LineString, STRtree, box

from lessonkit.drawing.fonts import CAPITAL, DESCENT, width_mm
from lessonkit.drawing.items import Document, Group, Item, Page, Path, TextLine
from lessonkit.layout.stencils.document import stencil_document
from lessonkit.pieces.model import Kit
from lessonkit.writers.pdf import write_pdf
from tests.stencils_for_tests import POINT_MM, Drawn, drawn

LINE_LAYERS = ("cut", "press", "join", "bridge", "centre", "overlap", "leader")
Box = tuple[float, float, float, float]
Found = tuple[Path | TextLine, float, float, Box | None, str]


def printed(kit: Kit, paper: str = "A4") -> tuple[list[list[Drawn]], list[str]]:
    """Lines and words of each sheet, from the bytes."""
    pdf = write_pdf(stencil_document(kit, paper))
    return drawn(pdf), [page.extract_text().replace("\n", " ") for page in PdfReader(BytesIO(pdf)).pages]


def cuts(page: list[Drawn]) -> list[Drawn]:
    """The wide lines but the legend's sample, which is straight and 16 long."""
    return [
        path
        for path in page
        if path.width_mm == pytest.approx(0.7, abs=1e-3)
        and not (path.bounds[2] - path.bounds[0] == pytest.approx(16, abs=1e-3) and path.bounds[1] == path.bounds[3])
    ]


def straight(page: list[Drawn], long_mm: float, upright: bool) -> bool:
    """Whether a plain line of this length runs across or down the page."""
    for path in page:
        left, top, right, bottom = path.bounds
        across, along = (right - left, bottom - top) if upright else (bottom - top, right - left)
        if path.width_mm and not path.dash and len(path.points) == 2 and across < 1e-6 and along == pytest.approx(long_mm, abs=0.01):
            return True
    return False


# -- what is on a page, from the drawing model


def flat(items: tuple[Item, ...], x: float = 0.0, y: float = 0.0, clip: Box | None = None, layer: str = "") -> list[Found]:
    """Every path and line of text, where its group stands, what it is clipped to, and the layer it is on."""
    found: list[Found] = []
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
    """Each line of text with its rectangle, from the top of its capitals to the foot of its p and q."""
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
    figure = [line.buffer(width / 2) for line, width, layer in drawn_lines if layer in LINE_LAYERS]
    for index in STRtree(figure).query([box(*place) for place, _ in words], predicate="intersects")[0].tolist():
        raise AssertionError(f"{words[index][1]!r} on a line")
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
