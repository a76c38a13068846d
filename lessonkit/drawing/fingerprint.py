"""Tells whether a page that was printed before is still good."""

from __future__ import annotations

import hashlib
from array import array
from functools import lru_cache
from typing import assert_never

from lessonkit.drawing.items import Group, Item, Page, Path, Stroke, TextLine

_LETTERS = 16  # of the hash: 64 bits, and a page is compared with its own past alone


def fingerprint(page: Page, code: str) -> str:
    """The same for two pages that look alike but for the code of their version, wherever it stands in a line of text."""
    words: list[str] = []
    numbers = [page.wide_mm, page.tall_mm]
    _gather(page.items, code, words, numbers)
    content = hashlib.sha256("\n".join(words).encode(errors="surrogatepass"))  # a line of text has no line ends
    content.update(array("d", numbers))
    return content.hexdigest()[:_LETTERS]


def _gather(items: tuple[Item, ...], code: str, words: list[str], numbers: list[float]) -> None:
    """All that tells one drawing from another; the words say how many numbers each item has."""
    for item in items:
        match item:
            case Path():
                words += (item.letters, _ink(item.stroke, item.fill))
                numbers += item.numbers
            case TextLine():
                words.append(item.text.replace(code, "\0"))
                # a line that is not set from the left moves with its width
                numbers += (0.0 if code in item.text else item.x_mm, item.y_mm, item.size_pt, item.bold, item.tone)
            case Group():
                words += ("group", item.layer, "clipped" if item.clip_mm else "")
                numbers += (item.x_mm, item.y_mm, item.half_turn, item.scale, *(item.clip_mm or ()))
                _gather(item.items, code, words, numbers)
                words.append("end of group")
            case _:
                assert_never(item)


@lru_cache(256)
def _ink(stroke: Stroke | None, fill: float | None) -> str:
    """The same for 1 and 1.0, whichever of them comes first."""
    if stroke:
        width_mm, dash_mm, tone = float(stroke.width_mm), tuple(map(float, stroke.dash_mm)), float(stroke.tone)
        stroke = stroke._replace(width_mm=width_mm, dash_mm=dash_mm, tone=tone)
    return f"{stroke} {fill if fill is None else float(fill)}"
