"""Everything that an SVG drawing shows, in millimetres, y upwards: its groups, links and pages followed within bounds."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import NamedTuple

from lessonkit.source.svg_curves import IDENTITY, MOST_POINTS, Matrix, Subpath, mapped, times
from lessonkit.source.svg_paths import numbers, too_many_points
from lessonkit.source.svg_shapes import MM_PER_PX, SHAPES, View, checked, length, transform
from lessonkit.source.svg_style import Look, Styles
from lessonkit.source.svg_tree import DEEPEST, LARGEST_BYTES, Element, Refused

_GROUPS = ("g", "a", "switch", "svg")
_MOST_WORK = 2 * LARGEST_BYTES  # letters looked at, and a hundred for each element: what is linked counts each time
_UNSIZED: View = (300.0, 150.0)  # CSS 2, 10.3.2: what has no size of its own


class Drawn(NamedTuple):
    """One shape; `even_odd` tells how its subpaths make holes in one another."""

    subpaths: tuple[Subpath, ...]
    even_odd: bool


@dataclass(slots=True)
class Drawing:
    shapes: list[Drawn] = field(default_factory=list)
    holds: set[str] = field(default_factory=set)  # text, image: what is seen but is no outline


def drawing(root: Element) -> Drawing:
    """What the root element shows. Raises Refused."""
    matrix, view = _page(root)
    walk = _Walk(root)
    walk.inside(root, times((MM_PER_PX, 0.0, 0.0, -MM_PER_PX, 0.0, 0.0), matrix), view, Look(), 0)
    return walk.drawing


class _Walk:
    def __init__(self, root: Element) -> None:
        self.drawing = Drawing()
        self._styles = Styles(root)
        self._named: dict[str, Element] = {}
        for element in root.everything():
            self._named.setdefault(element.attributes.get("id", ""), element)
        self._work = self._curves = 0

    def inside(self, element: Element, matrix: Matrix, view: View, around: Look, level: int) -> None:
        look = self._styles.look(element, around)
        if look is not None:
            for child in element.children:
                self._draw(child, matrix, view, look, level + 1)

    def _draw(self, element: Element, matrix: Matrix, view: View, around: Look, level: int, linked: Element | None = None) -> None:
        self._work += 100 + sum(map(len, element.attributes.values()))
        if level > DEEPEST or self._work > _MOST_WORK:
            raise Refused("its parts repeat one another without end.", "Draw only the outline.")
        matrix = checked(times(matrix, transform(element.attributes.get("transform", ""))))
        if element.name == "svg" or (element.name == "symbol" and linked):
            window, view = _window(element, view, linked)
            self.inside(element, checked(times(matrix, window)), view, around, level)
        elif element.name in _GROUPS:
            self.inside(element, matrix, view, around, level)
        elif element.name == "use":
            self._follow(element, matrix, view, around, level)
        elif element.name in ("text", "image"):
            if (look := self._styles.look(element, around)) is not None and look.is_painted:
                self.drawing.holds.add(element.name)
        elif element.name in SHAPES:
            look = self._styles.look(element, around)
            if look is not None and look.is_painted:
                self._add(SHAPES[element.name](element, view), matrix, look)

    def _follow(self, use: Element, matrix: Matrix, view: View, around: Look, level: int) -> None:
        link, look = use.attributes.get("href", "").strip(), self._styles.look(use, around)
        if look is None:
            return
        if not link.startswith("#"):
            raise Refused("it shows a part of another file.", "Copy that part into this drawing.")
        if (target := self._named.get(link[1:])) is not None and link != "#":
            shift = length(use.attributes.get("x"), view[0]), length(use.attributes.get("y"), view[1])
            self._draw(target, checked(times(matrix, (1.0, 0.0, 0.0, 1.0, *shift))), view, look, level + 1, use)

    def _add(self, subpaths: tuple[Subpath, ...], matrix: Matrix, look: Look) -> None:
        self._curves += sum(len(subpath.curves) for subpath in subpaths)
        if self._curves > MOST_POINTS:
            raise too_many_points()
        placed = (Subpath(tuple(mapped(curve, matrix) for curve in subpath.curves), subpath.closed) for subpath in subpaths)
        self.drawing.shapes.append(Drawn(tuple(placed), look.fill_rule == "evenodd"))


def _page(root: Element) -> tuple[Matrix, View]:
    """The root's own map into px: its viewBox fitted to its width and height. One that is missing, or a percentage, follows the other."""
    box = _view_box(root)
    wide, tall = (length(root.attributes.get(name), 0.0) or None for name in ("width", "height"))
    if box:
        wide, tall = wide or (tall * box[2] / box[3] if tall else box[2]), tall or (wide * box[3] / box[2] if wide else box[3])
    view = wide or _UNSIZED[0], tall or _UNSIZED[1]
    return _fitted(root, box, view)


def _window(element: Element, view: View, use: Element | None) -> tuple[Matrix, View]:
    """A drawing inside the drawing: where it stands and how it is fitted. A `use` that shows it says how large."""
    sizes = {name: value for name, value in (use.attributes if use else {}).items() if name in ("width", "height")}
    own = element.attributes | sizes
    size = length(own.get("width"), view[0], view[0]), length(own.get("height"), view[1], view[1])
    matrix, inner = _fitted(element, _view_box(element), size)
    place = (0.0, 0.0) if element.name == "symbol" else (length(own.get("x"), view[0]), length(own.get("y"), view[1]))
    return times((1.0, 0.0, 0.0, 1.0, *place), matrix), inner


def _view_box(element: Element) -> list[float] | None:
    text = element.attributes.get("viewBox")
    if text is None:
        return None
    box = numbers(text)
    if box is None or len(box) != 4 or box[2] <= 0 or box[3] <= 0:
        raise Refused(f"its viewBox “{text[:30]}” can't be read.")
    return box


def _fitted(element: Element, box: list[float] | None, size: View) -> tuple[Matrix, View]:
    """A viewBox fitted into a window, as preserveAspectRatio says. Source: W3C SVG 2, 8.2, equivalent transform."""
    if box is None:
        return IDENTITY, size
    x, y, wide, tall = box
    kx, ky = size[0] / wide, size[1] / tall
    align, _, how = element.attributes.get("preserveAspectRatio", "xMidYMid meet").strip().partition(" ")
    if align != "none":
        kx = ky = max(kx, ky) if how.strip() == "slice" else min(kx, ky)
    shares = {"Min": 0.0, "Max": 1.0}
    dx = (size[0] - wide * kx) * shares.get(align[1:4], 0.5)
    dy = (size[1] - tall * ky) * shares.get(align[5:8], 0.5)
    return checked((kx, 0.0, 0.0, ky, dx - x * kx, dy - y * ky)), (wide, tall)
