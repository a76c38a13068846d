"""Pages corrected for her printer: what it prints too small is drawn larger, so that a millimetre on her paper is one."""

from __future__ import annotations

from lessonkit.drawing.items import Axis, Document, Group, Item, Page, Path, TextLine


def corrected(document: Document, scale: tuple[float, float]) -> Document:
    """The document for a printer that makes `scale` (across, down) of a millimetre; grown about the middle of each page.

    Across and down are the paper's: a turned page runs through the printer on its side, so there they change
    places. Positions are corrected, line widths and letter sizes are not: nobody measures those. Raises ZeroDivisionError for a
    scale of 0; `lesson.room.Printed` refuses any outside 0.985 to 1.015.
    """
    if scale == (1.0, 1.0):
        return document
    correction = _Correction()
    return document._replace(pages=tuple(correction.page(page, scale) for page in document.pages))


class _Correction:
    """Of one document: what is the same value in several places stays so, and is in the file once."""

    def __init__(self) -> None:
        self._done: dict[tuple[int, float, float], tuple[Item, ...]] = {}  # by identity, which holds as long as the document does

    def page(self, page: Page, scale: tuple[float, float]) -> Page:
        across, down = scale if page.wide_mm <= page.tall_mm else scale[::-1]
        x = (1 / across, page.wide_mm / 2 * (1 - 1 / across))
        y = (1 / down, page.tall_mm / 2 * (1 - 1 / down))
        return page._replace(items=tuple(self._item(item, x, y) for item in page.items))

    def _item(self, item: Item, x: Axis, y: Axis) -> Item:
        match item:
            case Path():
                return item.mapped(x, y)
            case TextLine():
                return item._replace(x_mm=_at(item.x_mm, x), y_mm=_at(item.y_mm, y))
            case Group():
                clip = item.clip_mm and (item.clip_mm[0] * x[0], item.clip_mm[1] * y[0], item.clip_mm[2] * x[0], item.clip_mm[3] * y[0])
                return item._replace(items=self._inner(item.items, x[0], y[0]), x_mm=_at(item.x_mm, x), y_mm=_at(item.y_mm, y), clip_mm=clip)

    def _inner(self, items: tuple[Item, ...], across: float, down: float) -> tuple[Item, ...]:
        """A group's own place takes the shift."""
        key = id(items), across, down
        if key not in self._done:
            self._done[key] = tuple(self._item(item, (across, 0.0), (down, 0.0)) for item in items)
        return self._done[key]


def _at(value: float, axis: Axis) -> float:
    return value * axis[0] + axis[1]
