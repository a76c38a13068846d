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
    return document._replace(pages=tuple(_page(page, scale) for page in document.pages))


def _page(page: Page, scale: tuple[float, float]) -> Page:
    across, down = scale if page.wide_mm <= page.tall_mm else scale[::-1]
    x = (1 / across, page.wide_mm / 2 * (1 - 1 / across))
    y = (1 / down, page.tall_mm / 2 * (1 - 1 / down))
    return page._replace(items=tuple(_item(item, x, y) for item in page.items))


def _item(item: Item, x: Axis, y: Axis) -> Item:
    match item:
        case Path():
            return item.mapped(x, y)
        case TextLine():
            return item._replace(x_mm=_at(item.x_mm, x), y_mm=_at(item.y_mm, y))
        case Group():
            inner_x, inner_y = (x[0], 0.0), (y[0], 0.0)  # the group's own place takes the shift
            clip = item.clip_mm and (item.clip_mm[0] * x[0], item.clip_mm[1] * y[0], item.clip_mm[2] * x[0], item.clip_mm[3] * y[0])
            items = tuple(_item(inner, inner_x, inner_y) for inner in item.items)
            return item._replace(items=items, x_mm=_at(item.x_mm, x), y_mm=_at(item.y_mm, y), clip_mm=clip)


def _at(value: float, axis: Axis) -> float:
    return value * axis[0] + axis[1]
