"""SVG's shapes as subpaths, in the coordinates of the element that they stand in; its lengths and transforms."""

from __future__ import annotations

import re
from collections.abc import Callable
from itertools import pairwise
from math import cos, hypot, isfinite, radians, sin, sqrt, tan, tau

from lessonkit.source.svg_curves import IDENTITY, Arc, Line, Matrix, Point, Subpath, times
from lessonkit.source.svg_paths import Pen, finite, numbers, path_subpaths
from lessonkit.source.svg_tree import Element, Refused
from lessonkit.units import MM_PER_INCH, MM_PER_POINT

MM_PER_PX = MM_PER_INCH / 96  # CSS Values and Units 4, absolute lengths
_PX = {"": 1.0, "px": 1.0, "mm": 1 / MM_PER_PX, "cm": 10 / MM_PER_PX, "in": 96.0, "pt": MM_PER_POINT / MM_PER_PX, "pc": 16.0}
_LENGTH = re.compile(r"\s*([+-]?(?:[0-9]+\.?[0-9]*|\.[0-9]+)(?:[eE][+-]?[0-9]+)?)([a-zA-Z%]*)\s*")
_TRANSFORM = re.compile(r"[\s,]*([a-zA-Z]{1,10})\s*\(([^()]*)\)[\s,]*")
_LARGEST = 1e12

View = tuple[float, float]  # what a percentage is of: the width and the height around an element


def length(text: str | None, whole: float, otherwise: float = 0.0) -> float:
    """A length in user units; `whole` is what 100 % is. Missing or `auto` is `otherwise`. Refused for units that depend on a font."""
    if text is None or text.strip() in ("", "auto"):
        return otherwise
    found = _LENGTH.fullmatch(text)
    unit = found[2].casefold() if found else ""
    if found is None or (unit not in _PX and unit != "%"):
        raise Refused(f"it holds the length “{text.strip()[:20]}”, which can't be read.")
    return finite(found[1]) * (whole / 100 if unit == "%" else _PX[unit])


def transform(text: str) -> Matrix:
    """The map that a `transform` names. Refused where one of its parts can't be read, or makes things endlessly large."""
    matrix, at, text = IDENTITY, 0, text.strip()
    while at < len(text):
        found = _TRANSFORM.match(text, at)
        values = numbers(found[2]) if found else None
        if found is None or values is None or (step := _step(found[1], values)) is None:
            raise Refused(f"a shape is moved by “{text[at : at + 30]}”, which can't be read.")
        matrix, at = checked(times(matrix, step)), found.end()
    return matrix


def checked(matrix: Matrix) -> Matrix:
    if not all(isfinite(value) and abs(value) < _LARGEST for value in matrix):
        raise Refused("a shape is enlarged beyond all measure.")
    return matrix


def _step(name: str, values: list[float]) -> Matrix | None:
    match name, values:
        case "matrix", [a, b, c, d, e, f]:
            return a, b, c, d, e, f
        case "translate", [x, *rest] if len(rest) < 2:
            return 1.0, 0.0, 0.0, 1.0, x, rest[0] if rest else 0.0
        case "scale", [x, *rest] if len(rest) < 2:
            return x, 0.0, 0.0, rest[0] if rest else x, 0.0, 0.0
        case "rotate", [deg]:
            c, s = cos(radians(deg % 360)), sin(radians(deg % 360))
            return c, s, -s, c, 0.0, 0.0
        case "rotate", [deg, x, y]:
            c, s = cos(radians(deg % 360)), sin(radians(deg % 360))
            return c, s, -s, c, x - c * x + s * y, y - s * x - c * y
        case "skewX", [deg]:
            return 1.0, 0.0, tan(radians(deg)), 1.0, 0.0, 0.0
        case "skewY", [deg]:
            return 1.0, tan(radians(deg)), 0.0, 1.0, 0.0, 0.0
    return None


def _rect(element: Element, view: View) -> tuple[Subpath, ...]:
    size = element.attributes.get
    x, y = length(size("x"), view[0]), length(size("y"), view[1])
    wide, tall = length(size("width"), view[0]), length(size("height"), view[1])
    rx, ry = length(size("rx"), view[0], -1.0), length(size("ry"), view[1], -1.0)
    rx, ry = (rx if rx >= 0 else max(ry, 0.0)), (ry if ry >= 0 else max(rx, 0.0))  # one alone stands for both
    if wide <= 0 or tall <= 0:
        return ()
    rx, ry = min(rx, wide / 2), min(ry, tall / 2)
    if not (rx and ry):
        return _polygon([(x, y), (x + wide, y), (x + wide, y + tall), (x, y + tall)], True)
    pen, right, foot = Pen(), x + wide, y + tall
    pen.move((x + rx, y))
    for straight, bend in (
        ((right - rx, y), (right, y + ry)),
        ((right, foot - ry), (right - rx, foot)),
        ((x + rx, foot), (x, foot - ry)),
        ((x, y + ry), (x + rx, y)),
    ):
        pen.line(straight)
        pen.arc((rx, ry), 0.0, False, True, bend)
    pen.close()
    return pen.drawn()


def _round(element: Element, view: View) -> tuple[Subpath, ...]:
    size = element.attributes.get
    x, y = length(size("cx"), view[0]), length(size("cy"), view[1])
    if element.name == "circle":
        rx = ry = length(size("r"), hypot(*view) / sqrt(2))
    else:
        rx, ry = length(size("rx"), view[0], -1.0), length(size("ry"), view[1], -1.0)
        rx, ry = (rx if rx >= 0 else ry), (ry if ry >= 0 else rx)
    if rx <= 0 or ry <= 0:
        return ()
    return (Subpath((Arc((x + rx, y), (x + rx, y), (x, y), (rx, 0.0), (0.0, ry), 0.0, tau),), True),)


def _points(element: Element, _: View) -> tuple[Subpath, ...]:
    values = numbers(element.attributes.get("points", ""))
    if values is None or len(values) % 2:
        raise Refused(f"the points of a {element.name} can't be read.")
    return _polygon(list(zip(values[::2], values[1::2], strict=True)), element.name == "polygon")


def _line(element: Element, view: View) -> tuple[Subpath, ...]:
    size = element.attributes.get
    ends = [(length(size(f"x{n}"), view[0]), length(size(f"y{n}"), view[1])) for n in (1, 2)]
    return _polygon(ends, False)


def _polygon(points: list[Point], closed: bool) -> tuple[Subpath, ...]:
    if len(points) < 2:
        return ()
    return (Subpath(tuple(Line(a, b) for a, b in pairwise(points)), closed),)


def _path(element: Element, _: View) -> tuple[Subpath, ...]:
    return path_subpaths(element.attributes.get("d", ""))


SHAPES: dict[str, Callable[[Element, View], tuple[Subpath, ...]]] = {
    "path": _path,
    "rect": _rect,
    "circle": _round,
    "ellipse": _round,
    "polygon": _points,
    "polyline": _points,
    "line": _line,
}
