"""Pages to a PDF that prints at full size. The same document gives the same bytes, whatever was written before it.

What is on a page is written here, as the file's own operators; of the library the file itself is made. Its canvas writes each
number and each letter by a call of its own, and took five times as long.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from functools import lru_cache
from itertools import chain
from typing import assert_never

from reportlab import rl_config
from reportlab.pdfbase.pdfdoc import PDFDocument

from lessonkit.drawing.items import NUMBERS, Document, Group, Item, Page, Path, Stroke, TextLine
from lessonkit.units import MM_PER_POINT
from lessonkit.writers.embedding import Letters
from lessonkit.writers.objects import Bookmarks, Written, added, stream

_FINE_PLACES, _PLACES = 3, 2  # behind the point: a thousandth of a millimetre for all that is to size, less for a picture in units of its own
_KEPT = 200_000  # characters of pictures
_MITRE_LIMIT = 10  # ISO 32000-1, table 52
_CAPS = {"butt": 0, "round": 1}
_JOINS = {"mitre": 0, "round": 1}
_OPERATORS = {"M": "m\n", "L": "l\n", "C": "c\n", "Z": "h\n"}
_PAINT = {(True, True): "B*\n", (False, True): "f*\n", (True, False): "S\n", (False, False): "n\n"}  # (stroke, fill by even-odd)
_LETTERS = "BT /%s %g Tf %s %.4f %.4f Tm %s Tj"
_PASSED_OVER = "/Span <</ActualText ( )>> BDC\n"  # ISO 32000-1, 14.9.4: what a reader's program takes for the words inside; not in forms

rl_config.pdfComments = 0  # else every object of the file has a remark


def write_pdf(document: Document) -> bytes:
    """The document as PDF: sizes exact, fonts embedded as subsets, a bookmark for each page, no scaling by the viewer's wish.

    Text is drawn as it stands, never read as markup; a no-break space comes out as a space. A character that no face has
    is drawn as an empty box (see `drawing.fonts.missing`). Raises ValueError for a document without pages."""
    if not document.pages:
        raise ValueError(f"the document {document.title!r} has no pages")
    file = PDFDocument(invariant=1, pdfVersion=(1, 4), lang=document.language)
    file.setTitle(document.title)
    file.setCreator("lessonkit")
    file.setAuthor("")  # else the library names one
    file.setSubject("")
    file.Catalog.ViewerPreferences = Written("<</PrintScaling /None /DisplayDocTitle true>>")
    file.Catalog.PageLabels = Written("<</Nums [0 <</S /D /St 1>>]>>")
    names = _add_pages(file, document.pages)
    file.Outlines = file.Catalog.Outlines = Bookmarks(file, [(page.name, name) for page, name in zip(document.pages, names, strict=True)])
    data: bytes = file.GetPDFData(None)
    return data


def _add_pages(file: PDFDocument, pages: Sequence[Page]) -> list[str]:
    """Returns what the file's other objects call them."""
    drawing, resources, names = _Drawing(pages), Written(), []
    shared, parent = added(file, resources), added(file, file.Pages)
    for page in pages:
        wide, tall = page.wide_mm / MM_PER_POINT, page.tall_mm / MM_PER_POINT
        # from here on a unit is a millimetre, and y runs down, as in the items
        content = f"{1 / MM_PER_POINT:.8f} 0 0 {-1 / MM_PER_POINT:.8f} 0 {tall:.5f} cm\n{drawing.items(page.items)}"
        contents = added(file, stream(content))
        sheet = Written(f"<</Type /Page /Parent {parent} /MediaBox [0 0 {wide:.4f} {tall:.4f}] /Contents {contents} /Resources {shared}>>")
        file.addPage(sheet)
        names.append(added(file, sheet))
    pictures = " ".join([f"/{name} {added(file, picture)}" for name, picture in drawing.pictures.items()])
    resources.content = f"<</Font {drawing.letters.embed(file)} /XObject <<{pictures}>>>>"
    return names


class _Drawing:
    """A document's items as operators of PDF, the letters that they show, and the pictures that come again, each an object of the file."""

    def __init__(self, pages: Iterable[Page]) -> None:
        self.letters = Letters()
        self.pictures: dict[str, bytes] = {}
        self._times = Counter(key for page in pages for key in _pictures(page.items))
        # by identity, which holds as long as the document does, and scale: what is on it twice is written once
        self._written: dict[tuple[int, str, float], str] = {}

    def items(self, items: Iterable[Item], scale: float = 1.0) -> str:
        """Drawn so many times as large as they are."""
        parts: list[str] = []
        stroke: Stroke | None = None
        tone: float | None = None  # of fills and of letters
        for item in items:
            match item:
                case Path():
                    if item.stroke is not None and item.stroke != stroke:
                        parts.append(_pen(stroke := item.stroke, scale))
                    if item.fill is not None and item.fill != tone:
                        parts.append(f"{(tone := item.fill):g} g\n")
                    parts.append(self._outline(item, scale))
                    parts.append(_PAINT[item.stroke is not None, item.fill is not None])
                case TextLine():
                    if item.tone != tone:
                        parts.append(f"{(tone := item.tone):g} g\n")
                    parts.append(self._text_line(item, scale))
                case Group():
                    parts.append(self._group(item, scale))
                case _:
                    assert_never(item)
        return "".join(parts)

    def _outline(self, path: Path, scale: float) -> str:
        if scale != 1.0:
            return _PICTURES.written(path, _FINE_PLACES if scale > 1.0 else _PLACES)
        key = id(path.numbers), path.letters, scale
        if key not in self._written:
            self._written[key] = _form(path.letters, _FINE_PLACES) % path.numbers
        return self._written[key]

    def _text_line(self, line: TextLine, scale: float) -> str:
        """Each run of one face is put in its place: a viewer's sum of rounded widths would drift."""
        parts, size_pt = [], line.size_pt * scale
        for before_em, ((font, letters), *more) in self.letters.coded(line.text, line.bold):
            x_mm = line.x_mm + before_em * line.size_pt * MM_PER_POINT
            parts.append(_LETTERS % (font, size_pt, _upright(scale), x_mm, line.y_mm, letters))
            parts.extend([f" /{font} {size_pt:g} Tf {letters} Tj" for font, letters in more])
            parts.append(" ET\n")
        return "".join(parts)

    def _group(self, group: Group, scale: float) -> str:
        inner = scale * group.scale
        key = id(group.items), "", inner
        if key not in self._written:
            drawn = self.items(group.items, inner)
            self._written[key] = self._picture(group, inner, drawn) if self._times[key[0], inner] > 1 else drawn
        size = f"{-group.scale if group.half_turn else group.scale:g}"
        place = f"q\n{size} 0 0 {size} {group.x_mm:.4f} {group.y_mm:.4f} cm\n"
        clip = "" if group.clip_mm is None else f"{' '.join(f'{n:.4f}' for n in group.clip_mm)} re W n\n"
        drawn = f"{place}{clip}{self._written[key]}Q\n"
        return f"{_PASSED_OVER}{drawn}EMC\n" if group.half_turn else drawn

    def _picture(self, group: Group, scale: float, drawn: str) -> str:
        name = f"P{len(self.pictures) + 1}"
        box = " ".join([f"{n:.2f}" for n in _box(group, scale)])
        self.pictures[name] = stream(drawn, f" /Type /XObject /Subtype /Form /BBox [{box}] /Resources <<>>")
        return f"/{name} Do\n"


def _pictures(items: Iterable[Item], scale: float = 1.0) -> Iterator[tuple[int, float]]:
    """Groups of nothing but lines, drawn at a scale of their own: by identity, and scale."""
    for item in items:
        if isinstance(item, Group):
            inner = scale * item.scale
            if item.scale != 1.0 and item.items and all(isinstance(each, Path) for each in item.items):
                yield id(item.items), inner
            else:
                yield from _pictures(item.items, inner)


def _box(group: Group, scale: float) -> tuple[float, float, float, float]:
    """Around all its lines, as far as the sharpest corner of the widest may reach."""
    paths = [item for item in group.items if isinstance(item, Path)]
    reach = _MITRE_LIMIT * max((path.stroke.width_mm for path in paths if path.stroke), default=0.0) / scale
    xs, ys = (list(chain.from_iterable([path.numbers[axis::2] for path in paths])) for axis in (0, 1))
    return min(xs) - reach, min(ys) - reach, max(xs) + reach, max(ys) + reach


@lru_cache(64)
def _upright(scale: float) -> str:
    """Sizes stay points, and letters upright on a page whose y runs down."""
    return f"{MM_PER_POINT / scale:.7f} 0 0 {-MM_PER_POINT / scale:.7f}"


class _Pictures:
    """What is drawn at several sizes, on several papers, written once for all of them; the last of it, by identity, which holds as long
    as its numbers are kept too."""

    def __init__(self) -> None:
        self._found: dict[tuple[int, str, int], tuple[tuple[float, ...], str]] = {}
        self._size = 0

    def written(self, path: Path, places: int) -> str:
        key = id(path.numbers), path.letters, places
        if key not in self._found:
            text = _form(path.letters, places) % path.numbers
            if self._size > _KEPT:
                self._found.clear()
                self._size = 0
            self._found[key] = path.numbers, text
            self._size += len(text)
        return self._found[key][1]


_PICTURES = _Pictures()


@lru_cache(96)
def _form(letters: str, places: int) -> str:
    return "".join([f"%.{places}f " * NUMBERS[letter] + _OPERATORS[letter] for letter in letters])


@lru_cache(256)
def _pen(stroke: Stroke, scale: float) -> str:
    dashes = " ".join(f"{length / scale:g}" for length in stroke.dash_mm)
    return f"{stroke.width_mm / scale:g} w [{dashes}] 0 d {_CAPS[stroke.cap]} J {_JOINS[stroke.join]} j {stroke.tone:g} G\n"
