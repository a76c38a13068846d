"""A page to an SVG that a cutting machine can follow: one unit is a millimetre, nothing is left to a transform or a font."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable
from typing import Any, NamedTuple, assert_never

from svgwrite import Drawing

from lessonkit.drawing.items import Command, Group, Item, Page, Path, Stroke, TextLine
from lessonkit.drawing.lettering import outlines

Number = Callable[[float], str]

_JOINS = {"mitre": "miter", "round": "round"}
_MITRE_LIMIT = 10  # PDF's own, so that both papers have the same corners
_NOT_XML = re.compile("[^\t\n\r\u0020-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")  # XML 1.0, section 2.2


def decimal(value: float) -> str:
    """Up to four decimals, no zeros at the end: 12.5, 3, 0."""
    text = f"{value:.4f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def write_svg(page: Page, title: str, number: Number = decimal) -> bytes:
    """The page as SVG. A group with a layer becomes a `g` of that id (a later one of the same name gets -2, -3);
    text is written as outlines. Characters that XML cannot hold are dropped from the title. `number` writes coordinates."""
    wide, tall = number(page.wide_mm), number(page.tall_mm)
    drawing = Drawing(size=(f"{wide}mm", f"{tall}mm"), viewBox=f"0 0 {wide} {tall}", debug=False,
                      fill_rule="evenodd", stroke_miterlimit=_MITRE_LIMIT)  # fmt: skip
    drawing.set_desc(title=_NOT_XML.sub("", title))
    place = _Place(drawing, drawing, 0.0, 0.0, number, Counter())
    for item in page.items:
        _draw(item, place)
    return f'<?xml version="1.0" encoding="utf-8"?>\n{drawing.tostring()}\n'.encode()


class _Place(NamedTuple):
    """The element that items go into, and where their origin lies on the page; `sense` is -1 where they are upside down.
    `names` counts the ids that are taken."""

    drawing: Drawing
    parent: Any
    left_mm: float
    top_mm: float
    number: Number
    names: Counter[str]
    sense: int = 1

    def points(self, *numbers_mm: float) -> str:
        """x, y, x, y ... of the items on the page."""
        placed = ((self.top_mm if i % 2 else self.left_mm) + self.sense * n for i, n in enumerate(numbers_mm))
        return " ".join(map(self.number, placed))

    def name(self, wish: str) -> str:
        self.names[wish] += 1
        return wish if self.names[wish] == 1 else f"{wish}-{self.names[wish]}"


def _draw(item: Item, place: _Place) -> None:
    match item:
        case Path():
            _path(item, place)
        case TextLine():
            _path(outlines(item), place)
        case Group():
            _group(item, place)
        case _:
            assert_never(item)


def _path(path: Path, place: _Place) -> None:
    strokes = {} if path.stroke is None else _stroke(path.stroke, place.number)
    fill = "none" if path.fill is None else _grey(path.fill)
    data = "".join(_command(command, place) for command in path.commands)
    place.parent.add(place.drawing.path(data, fill=fill, **strokes))


def _command(command: Command, place: _Place) -> str:
    kind, *numbers = command
    return kind + place.points(*numbers)


def _stroke(stroke: Stroke, number: Number) -> dict[str, str]:
    dashes = {"stroke_dasharray": " ".join(map(number, stroke.dash_mm))} if stroke.dash_mm else {}
    return {
        "stroke": _grey(stroke.tone),
        "stroke_width": number(stroke.width_mm),
        "stroke_linecap": stroke.cap,
        "stroke_linejoin": _JOINS[stroke.join],
        **dashes,
    }


def _grey(tone: float) -> str:
    return "#" + f"{round(tone * 255):02x}" * 3


def _group(group: Group, place: _Place) -> None:
    left, top = place.left_mm + place.sense * group.x_mm, place.top_mm + place.sense * group.y_mm
    inner = place._replace(left_mm=left, top_mm=top, sense=-place.sense if group.half_turn else place.sense)
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
    corner = place.points(left, top) if place.sense > 0 else place.points(left + wide, top + tall)
    window.add(drawing.rect(tuple(corner.split()), (place.number(wide), place.number(tall))))
    return name
