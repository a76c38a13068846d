"""A page to an SVG for a browser's page: the same drawing as on paper, its words as text in the same typefaces.

Everything is said by attributes, so that a page without inline styles can hold it; what is common to all text (no kerning, blanks
kept) is the style sheet's.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from typing import NamedTuple, assert_never
from xml.sax.saxutils import escape, quoteattr

from lessonkit.drawing.fonts import Face, runs
from lessonkit.drawing.items import Group, Item, Page, Path, Stroke, TextLine
from lessonkit.units import MM_PER_POINT
from lessonkit.writers.decimals import JOINS, MITRE_LIMIT, NOT_XML, Origin, decimal, decimals, grey, path_data

FAMILIES: dict[Face, str] = {"Andika": "Andika", "AndikaBold": "Andika", "DejaVu": "DejaVu Sans", "DejaVuBold": "DejaVu Sans"}

_PLACES = 2  # behind the point


def write_screen(page: Page, title: str, name: str) -> str:
    """The page as one `svg` element, an image called `title`, in millimetres. Its ids begin with `name`, so that several of them can
    stand in one document. To a hundredth of a millimetre, which no screen shows."""
    wide, tall = _number(page.wide_mm), _number(page.tall_mm)
    box = f'viewBox="0 0 {wide} {tall}" width="{wide}mm" height="{tall}mm"'
    head = f'<svg xmlns="http://www.w3.org/2000/svg" {box} role="img" fill-rule="evenodd" stroke-miterlimit="{MITRE_LIMIT}" xml:space="preserve">'
    place = _Place(name, Counter())
    body = "".join(part for item in page.items for part in _drawn(item, place))
    return f"{head}<title>{_text(title)}</title>{body}</svg>"


class _Place(NamedTuple):
    """The ids that are taken, and where items lie."""

    name: str
    taken: Counter[str]
    origin: Origin = Origin()


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
    data = path_data(path.letters, place.origin.placed(path.numbers), _PLACES)
    fill = "none" if path.fill is None else grey(path.fill)
    return f'<path d="{data}" fill="{fill}"{_stroke(path.stroke) if path.stroke else ""}/>'


def _stroke(stroke: Stroke) -> str:
    dash = f' stroke-dasharray="{" ".join(map(_number, stroke.dash_mm))}"' if stroke.dash_mm else ""
    ends = f'stroke-linecap="{stroke.cap}" stroke-linejoin="{JOINS[stroke.join]}"'
    return f' stroke="{grey(stroke.tone)}" stroke-width="{_number(stroke.width_mm)}" {ends}{dash}'


def _line(line: TextLine, place: _Place) -> str:
    """One family a run, as on paper: a browser would choose letter by letter."""
    parts = [f'<tspan font-family="{FAMILIES[face]}">{_text(text)}</tspan>' for face, text in runs(line.text, line.bold)]
    x, y = map(_number, place.origin.placed((line.x_mm, line.y_mm)))
    bold = ' font-weight="bold"' if line.bold else ""
    size = _number(line.size_pt * MM_PER_POINT * place.origin.scale)
    return f'<text x="{x}" y="{y}" font-size="{size}" fill="{grey(line.tone)}"{bold}>{"".join(parts)}</text>'


def _group(group: Group, place: _Place) -> Iterator[str]:
    origin = place.origin.inside(group)
    names = f" data-layer={quoteattr(group.layer)}" if group.layer else ""
    if group.half_turn:
        names += f' transform="translate({decimals((origin.left_mm, origin.top_mm), _PLACES)}) rotate(180)"'
        origin = Origin(scale=origin.scale)
    if group.clip_mm is not None:
        place.taken["clip"] += 1
        name = f"{place.name}-clip-{place.taken['clip']}"
        left, top, wide, tall = group.clip_mm
        x, y = map(_number, origin.placed((left, top)))
        size = f'width="{_number(wide * origin.scale)}" height="{_number(tall * origin.scale)}"'
        yield f'<clipPath id="{name}"><rect x="{x}" y="{y}" {size}/></clipPath>'
        names += f' clip-path="url(#{name})"'
    if names:
        yield f"<g{names}>"
    inner = place._replace(origin=origin)
    for item in group.items:
        yield from _drawn(item, inner)
    if names:
        yield "</g>"


def _number(value: float) -> str:
    return decimal(value, _PLACES)


def _text(text: str) -> str:
    return escape(NOT_XML.sub("", text))
