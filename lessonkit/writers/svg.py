"""A page to an SVG that a cutting machine can follow: one unit is a millimetre, nothing is left to a transform or a font."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Sequence
from functools import lru_cache
from itertools import cycle
from typing import Any, NamedTuple, assert_never

from svgwrite import Drawing

from lessonkit.drawing.fonts import Face
from lessonkit.drawing.items import Group, Item, Page, Path, Stroke, TextLine, mapped
from lessonkit.drawing.lettering import glyph, letters
from lessonkit.units import MM_PER_POINT
from lessonkit.writers.decimals import decimal, decimals, path_data

_PLACES = 4  # behind the point
_STEPS = str.maketrans("MLC", "mlc")
_JOINS = {"mitre": "miter", "round": "round"}
_MITRE_LIMIT = 10  # PDF's own, so that both papers have the same corners
_NOT_XML = re.compile("[^\t\n\r\u0020-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")  # XML 1.0, section 2.2


def write_svg(page: Page, title: str) -> bytes:
    """The page as SVG. A group with a layer becomes a `g` of that id (a later one of the same name gets -2, -3);
    text is written as outlines. Characters that XML cannot hold are dropped from the title. Coordinates have up to four decimals."""
    wide, tall = _number(page.wide_mm), _number(page.tall_mm)
    drawing = Drawing(size=(f"{wide}mm", f"{tall}mm"), viewBox=f"0 0 {wide} {tall}", debug=False,
                      fill_rule="evenodd", stroke_miterlimit=_MITRE_LIMIT)  # fmt: skip
    drawing.set_desc(title=_NOT_XML.sub("", title))
    place = _Place(drawing, drawing, 0.0, 0.0, Counter())
    for item in page.items:
        _draw(item, place)
    return f'<?xml version="1.0" encoding="utf-8"?>\n{drawing.tostring()}\n'.encode()


class _Place(NamedTuple):
    """The element that items go into, where their origin lies on the page, and how large a millimetre of theirs is drawn there: less than
    0 where they are upside down.
    `names` counts the ids that are taken."""

    drawing: Drawing
    parent: Any
    left_mm: float
    top_mm: float
    names: Counter[str]
    scale: float = 1.0

    def points(self, *numbers_mm: float) -> str:
        """x, y, x, y ... of the items on the page."""
        return decimals(self.placed(numbers_mm), _PLACES)

    def placed(self, numbers_mm: Sequence[float]) -> list[float]:
        return mapped(numbers_mm, (self.scale, self.left_mm), (self.scale, self.top_mm))

    def name(self, wish: str) -> str:
        self.names[wish] += 1
        return wish if self.names[wish] == 1 else f"{wish}-{self.names[wish]}"


def _draw(item: Item, place: _Place) -> None:
    match item:
        case Path():
            _path(item, place)
        case TextLine():
            _line(item, place)
        case Group():
            _group(item, place)
        case _:
            assert_never(item)


def _path(path: Path, place: _Place) -> None:
    strokes = {} if path.stroke is None else _stroke(path.stroke)
    fill = "none" if path.fill is None else _grey(path.fill)
    data = path_data(path.letters, place.placed(path.numbers), _PLACES)
    place.parent.add(place.drawing.path(data, fill=fill, **strokes))


def _line(line: TextLine, place: _Place) -> None:
    """Each letter's outline begins at its place, and goes on in steps, which are the same wherever it stands."""
    size_mm = line.size_pt * MM_PER_POINT * place.scale
    data = []
    for face, letter, at_mm in letters(line):
        right, down, steps = _letter(face, letter, size_mm)
        if steps:
            x, y = place.placed((at_mm, line.y_mm))
            data.append(path_data("M", (x + right, y + down), _PLACES) + steps)
    place.parent.add(place.drawing.path("".join(data), fill=_grey(line.tone)))


@lru_cache(512)
def _letter(face: Face, letter: str, size_mm: float) -> tuple[float, float, str]:
    """How far right and down of its place its outline begins, and the steps from there. They are counted between rounded places, so
    that no rounding adds up."""
    outline, unit = glyph(face, letter), 10.0**_PLACES
    steps: list[float] = []
    begun = here = (0, 0)
    for kind, *numbers in outline.commands:
        places = [round(sense * size_mm * n * unit) for n, sense in zip(numbers, cycle((1, -1)))]
        steps += [(n - from_) / unit for n, from_ in zip(places, cycle(here))]
        here = (places[-2], places[-1]) if places else begun
        begun = here if kind == "M" else begun
    right, down, *steps = steps or (0.0, 0.0)
    return right, down, path_data(outline.letters[1:].translate(_STEPS), steps, _PLACES)


def _stroke(stroke: Stroke) -> dict[str, str]:
    dashes = {"stroke_dasharray": decimals(stroke.dash_mm, _PLACES)} if stroke.dash_mm else {}
    return {
        "stroke": _grey(stroke.tone),
        "stroke_width": _number(stroke.width_mm),
        "stroke_linecap": stroke.cap,
        "stroke_linejoin": _JOINS[stroke.join],
        **dashes,
    }


def _number(value: float) -> str:
    return decimal(value, _PLACES)


def _grey(tone: float) -> str:
    return "#" + f"{round(tone * 255):02x}" * 3


def _group(group: Group, place: _Place) -> None:
    left, top = place.left_mm + place.scale * group.x_mm, place.top_mm + place.scale * group.y_mm
    inner = place._replace(left_mm=left, top_mm=top, scale=place.scale * (-group.scale if group.half_turn else group.scale))
    if group.layer or group.clip_mm is not None:
        names = {"id": place.name(group.layer)} if group.layer else {}
        if group.clip_mm is not None:
            names["clip_path"] = f"url(#{_clip(group.clip_mm, inner)})"
        inner = inner._replace(parent=place.parent.add(place.drawing.g(**names)))
    for item in group.items:
        _draw(item, inner)


def _clip(clip_mm: tuple[float, float, float, float], place: _Place) -> str:
    left, top, wide, tall = clip_mm
    name, drawing = place.name("clip"), place.drawing
    window = drawing.defs.add(drawing.clipPath(id=name))
    corner = place.points(left, top) if place.scale > 0 else place.points(left + wide, top + tall)
    window.add(drawing.rect(tuple(corner.split()), (_number(wide * abs(place.scale)), _number(tall * abs(place.scale)))))
    return name
