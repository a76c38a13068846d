"""Pages as a PDF's operators: a millimetre a unit, y down, a line of text in one line. What the file needs for them is gathered on the way."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence
from functools import lru_cache
from hashlib import blake2b
from typing import NamedTuple, assert_never, cast

from lessonkit.drawing.items import NUMBERS, Group, Item, Page, Path, Stroke, TextLine
from lessonkit.units import MM_PER_POINT
from lessonkit.writers.embedding import Font, coded
from lessonkit.writers.objects import compressed, stream

_EVERYWHERE = "-999999 -999999 999999 999999"  # a form must say where it may draw
_CAPS = {"butt": 0, "round": 1}
_JOINS = {"mitre": 0, "round": 1}
_OPERATORS = {"M": "m\n", "L": "l\n", "C": "c\n", "Z": "h\n"}
_PAINT = {(True, True): "B*\n", (False, True): "f*\n", (True, False): "S\n", (False, False): "n\n"}  # (stroke, fill by even-odd)
_PLACE = "q\n%g 0 0 %g %.4f %.4f cm\n"
TEXT = "BT"  # how a line of text begins
_PASSED_OVER = "/Span <</ActualText ( )>> BDC\n"  # ISO 32000-1, 14.9.4: what a reader's program takes for the words inside; not in forms
_DENSE = 4  # of zlib's levels: pictures come again
_KEPT_PICTURES = 48  # of a lesson, and of what every lesson shows


class Sheet(NamedTuple):
    """One page: its size as the file has it, and all that is on it."""

    box: str
    operators: str


class Drawn:
    """Pages, with the codes of what they show in each font, and their pictures: objects of the file, by the names that operators have for them.

    What is on a page decides alone what is written for it, whatever else is in the document."""

    def __init__(self, pages: Sequence[Page]) -> None:
        self.shown: defaultdict[Font, set[str]] = defaultdict(set)
        self.pictures: dict[str, bytes] = {}
        # by identity, which holds as long as the pages do, and scales: what is on them twice is written once
        self._groups: dict[tuple[int, float, float], str] = {}
        self.sheets = [self._sheet(page) for page in pages]

    def _sheet(self, page: Page) -> Sheet:
        wide, tall = page.wide_mm / MM_PER_POINT, page.tall_mm / MM_PER_POINT
        # from here on a unit is a millimetre, and y runs down, as in the items
        units = f"{1 / MM_PER_POINT:.8f} 0 0 {-1 / MM_PER_POINT:.8f} 0 {tall:.5f} cm\n"
        return Sheet(f"[0 0 {wide:.4f} {tall:.4f}]", units + self._items(page.items, 1.0))

    def _items(self, items: Iterable[Item], scale: float, pens: dict[Stroke, str] | None = None) -> str:
        """Drawn so many times as large as they are. With `pens` they are those of a picture: in whole numbers of its unit, and its strokes have
        names, which are gathered."""
        parts: list[str] = []
        stroke: Stroke | None = None
        tone: float | None = None  # of fills and of letters
        places = _places(scale)
        for item in items:
            match item:
                case Path():
                    letters, numbers, ink, fill = item
                    if ink is not None and ink != stroke:
                        stroke = ink
                        parts.append(_pen(ink, scale) if pens is None else f"/{pens.setdefault(ink, f'L{len(pens)}')} gs {ink.tone:g} G\n")
                    if fill is not None and fill != tone:
                        parts.append(f"{(tone := fill):g} g\n")
                    drawn = _form(letters, places, ink is not None, fill is not None) % numbers
                    parts.append(drawn if pens is None else drawn.replace(".", ""))
                case TextLine():
                    if item.tone != tone:
                        parts.append(f"{(tone := item.tone):g} g\n")
                    parts.append(self._text_line(item, scale))
                case Group():
                    parts.append(self._group(item, scale))
                case _:
                    assert_never(item)
        return "".join(parts)

    def _text_line(self, line: TextLine, scale: float) -> str:
        """Each stretch of one font is put in its place: a viewer's sum of rounded widths would drift."""
        parts = []
        for before_em, font, codes, string in coded(line.text, line.bold):
            self.shown[font].add(codes)
            x_mm = line.x_mm + before_em * line.size_pt * MM_PER_POINT
            parts.append(f"{_set_in(font, line.size_pt, scale)} {x_mm:.4f} {line.y_mm:.4f} Tm {string} Tj ET")
        return f"{' '.join(parts)}\n"

    def _group(self, group: Group, scale: float) -> str:
        inner = scale * group.scale
        key = id(group.items), scale, group.scale
        if key not in self._groups:
            is_picture = group.scale != 1.0 and group.items and all(isinstance(each, Path) for each in group.items)
            paths = cast(tuple[Path, ...], group.items)
            self._groups[key] = self._picture(paths, inner) if is_picture else self._items(group.items, inner)
        size = -group.scale if group.half_turn else group.scale
        place = _PLACE % (size, size, group.x_mm, group.y_mm)
        clip = "" if group.clip_mm is None else f"{' '.join([f'{n:.4f}' for n in group.clip_mm])} re W n\n"
        drawn = f"{place}{clip}{self._groups[key]}Q\n"
        return f"{_PASSED_OVER}{drawn}EMC\n" if group.half_turn else drawn

    def _picture(self, paths: tuple[Path, ...], scale: float) -> str:
        """It is kept by identity, which holds as long as its lines are kept too."""
        key = id(paths), _places(scale)
        picture = _LATEST.pop(key, None) or self._new_picture(paths, scale)
        _LATEST[key] = picture
        if len(_LATEST) > _KEPT_PICTURES:
            del _LATEST[next(iter(_LATEST))]
        name = f"{picture.name}x{scale:g}"
        self.pictures[name] = picture.at(scale)
        return f"{picture.unit} 0 0 {picture.unit} 0 0 cm\n/{name} Do\n"

    def _new_picture(self, paths: tuple[Path, ...], scale: float) -> _Picture:
        pens: dict[Stroke, str] = {}
        drawn = self._items(paths, scale, pens)
        name = f"P{blake2b(f'{drawn}{pens}'.encode(), digest_size=6).hexdigest()}"
        return _Picture(paths, name, compressed(drawn, _DENSE), pens, 10.0 ** -_places(scale))


def _places(scale: float) -> int:
    """Behind the point: a thousandth of a millimetre for all that is to size, less for what is smaller than drawn."""
    return 3 if scale >= 1.0 else 2


class _Picture(NamedTuple):
    """A group of nothing but lines, drawn at a scale of its own: written once, in units of its own, for all papers and sizes that show it.
    How wide its lines are there is said beside it, under the names that it has for them."""

    paths: tuple[Path, ...]
    name: str
    data: bytes
    pens: dict[Stroke, str]
    unit: float

    def at(self, scale: float) -> bytes:
        pens = " ".join([f"/{name} {_state(stroke, scale * self.unit)}" for stroke, name in self.pens.items()])
        return stream(self.data, f" /Subtype /Form /BBox [{_EVERYWHERE}] /Resources <</ExtGState <<{pens}>>>>")


_LATEST: dict[tuple[int, int], _Picture] = {}


@lru_cache(256)
def _set_in(font: Font, size_pt: float, scale: float) -> str:
    """Sizes stay points, and letters upright on a page whose y runs down."""
    return f"{TEXT} /{font.name} {size_pt * scale:g} Tf {MM_PER_POINT / scale:.7f} 0 0 {-MM_PER_POINT / scale:.7f}"


@lru_cache(256)
def _form(letters: str, places: int, is_stroked: bool, is_filled: bool) -> str:
    for letter, operator in _OPERATORS.items():
        letters = letters.replace(letter, f"%.{places}f " * NUMBERS[letter] + operator)
    return letters + _PAINT[is_stroked, is_filled]


@lru_cache(256)
def _pen(stroke: Stroke, scale: float) -> str:
    return f"{stroke.width_mm / scale:g} w {_dashes(stroke, scale)} d {_CAPS[stroke.cap]} J {_JOINS[stroke.join]} j {stroke.tone:g} G\n"


@lru_cache(256)
def _state(stroke: Stroke, scale: float) -> str:
    """The same but for the tone, as a dictionary: ISO 32000-1, table 58."""
    return f"<</LW {stroke.width_mm / scale:g} /D [{_dashes(stroke, scale)}] /LC {_CAPS[stroke.cap]} /LJ {_JOINS[stroke.join]}>>"


def _dashes(stroke: Stroke, scale: float) -> str:
    return f"[{' '.join([f'{length / scale:g}' for length in stroke.dash_mm])}] 0"
