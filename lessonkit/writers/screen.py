"""A page to an SVG for a browser's page: the same drawing as on paper, its words as text in the same typefaces.

Everything is said by attributes, so that a page without inline styles can hold it; what is common to all text (no kerning, blanks
kept) is the style sheet's.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator, Sequence
from typing import NamedTuple, assert_never
from xml.sax.saxutils import escape, quoteattr

from lessonkit.drawing.fonts import Face, runs
from lessonkit.drawing.items import Group, Item, Page, Path, Stroke, TextLine, mapped
from lessonkit.units import MM_PER_POINT
from lessonkit.writers.decimals import decimal, decimals, path_data

FAMILIES: dict[Face, str] = {"Andika": "Andika", "AndikaBold": "Andika", "DejaVu": "DejaVu Sans", "DejaVuBold": "DejaVu Sans"}

_PLACES = 2  # behind the point
_JOINS = {"mitre": "miter", "round": "round"}
_NOT_XML = re.compile("[^\t\n\r\u0020-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")  # XML 1.0, section 2.2


def write_screen(page: Page, title: str, name: str) -> str:
    """The page as one `svg` element, an image called `title`, in millimetres. Its ids begin with `name`, so that several of them can
    stand in one document. To a hundredth of a millimetre, which no screen shows."""
    wide, tall = _number(page.wide_mm), _number(page.tall_mm)
    box = f'viewBox="0 0 {wide} {tall}" width="{wide}mm" height="{tall}mm"'
    head = f'<svg xmlns="http://www.w3.org/2000/svg" {box} role="img" fill-rule="evenodd" stroke-miterlimit="10" xml:space="preserve">'
    place = _Place(0.0, 0.0, name, Counter())
    body = "".join(part for item in page.items for part in _drawn(item, place))
    return f"{head}<title>{_text(title)}</title>{body}</svg>"


class _Place(NamedTuple):
    """Where the items' origin lies on the page, and the ids that are taken."""

    left_mm: float
    top_mm: float
    name: str
    taken: Counter[str]
    scale: float = 1.0

    def points(self, *numbers_mm: float) -> str:
        """x, y, x, y ... of the items on the page."""
        return decimals(self.placed(numbers_mm), _PLACES)

    def placed(self, numbers_mm: Sequence[float]) -> list[float]:
        return mapped(numbers_mm, (self.scale, self.left_mm), (self.scale, self.top_mm))


def _drawn(item: Item, place: _Place) -> Iterator[str]:
    match item:
        case Path():
            yield _path(item, place)
        case TextLine():
            yield _line(item, place)
        case Group():
            yield from _group(item, place)
        case _:
            assert_never(item)


def _path(path: Path, place: _Place) -> str:
    data = path_data(path.letters, place.placed(path.numbers), _PLACES)
    fill = "none" if path.fill is None else _grey(path.fill)
    return f'<path d="{data}" fill="{fill}"{_stroke(path.stroke) if path.stroke else ""}/>'


def _stroke(stroke: Stroke) -> str:
    dash = f' stroke-dasharray="{" ".join(map(_number, stroke.dash_mm))}"' if stroke.dash_mm else ""
    ends = f'stroke-linecap="{stroke.cap}" stroke-linejoin="{_JOINS[stroke.join]}"'
    return f' stroke="{_grey(stroke.tone)}" stroke-width="{_number(stroke.width_mm)}" {ends}{dash}'


def _line(line: TextLine, place: _Place) -> str:
    """One family a run, as on paper: a browser would choose letter by letter."""
    parts = [f'<tspan font-family="{FAMILIES[face]}">{_text(text)}</tspan>' for face, text in runs(line.text, line.bold)]
    x, y = place.points(line.x_mm, line.y_mm).split()
    bold = ' font-weight="bold"' if line.bold else ""
    size = _number(line.size_pt * MM_PER_POINT * place.scale)
    return f'<text x="{x}" y="{y}" font-size="{size}" fill="{_grey(line.tone)}"{bold}>{"".join(parts)}</text>'


def _group(group: Group, place: _Place) -> Iterator[str]:
    left, top = place.left_mm + place.scale * group.x_mm, place.top_mm + place.scale * group.y_mm
    inner = place._replace(left_mm=left, top_mm=top, scale=place.scale * group.scale)
    names = f" data-layer={quoteattr(group.layer)}" if group.layer else ""
    if group.half_turn:
        names += f' transform="translate({inner.points(0, 0)}) rotate(180)"'
        inner = inner._replace(left_mm=0.0, top_mm=0.0)
    if group.clip_mm is not None:
        place.taken["clip"] += 1
        name = f"{place.name}-clip-{place.taken['clip']}"
        left, top, wide, tall = group.clip_mm
        x, y = inner.points(left, top).split()
        yield f'<clipPath id="{name}"><rect x="{x}" y="{y}" width="{_number(wide * inner.scale)}" height="{_number(tall * inner.scale)}"/></clipPath>'
        names += f' clip-path="url(#{name})"'
    if names:
        yield f"<g{names}>"
    for item in group.items:
        yield from _drawn(item, inner)
    if names:
        yield "</g>"


def _grey(tone: float) -> str:
    return "#" + f"{round(tone * 255):02x}" * 3


def _number(value: float) -> str:
    return decimal(value, _PLACES)


def _text(text: str) -> str:
    return escape(_NOT_XML.sub("", text))
