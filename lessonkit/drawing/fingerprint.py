"""Tells whether a page that was printed before is still good."""

from __future__ import annotations

import hashlib
from array import array
from collections.abc import Iterator
from typing import assert_never

from lessonkit.drawing.items import Group, Item, Page, Path, TextLine

_LETTERS = 16  # of the hash: 64 bits, and a page is compared with its own past alone


def fingerprint(page: Page, code: str) -> str:
    """The same for two pages that look alike but for the code of their version, wherever it stands in a line of text."""
    content = hashlib.sha256(repr((page.wide_mm, page.tall_mm)).encode())
    for part in _parts(page.items, code):
        content.update(part)
    return content.hexdigest()[:_LETTERS]


def _parts(items: tuple[Item, ...], code: str) -> Iterator[bytes]:
    for item in items:
        match item:
            case Path():
                yield f"{item.stroke} {item.fill} {item.letters}".encode()
                yield array("d", item.numbers).tobytes()
            case TextLine():
                x_mm = None if code in item.text else item.x_mm  # a line that is not set from the left moves with its width
                yield repr((x_mm, item.y_mm, item.text.replace(code, "\0"), item.size_pt, item.bold, item.tone)).encode()
            case Group():
                yield repr((item.x_mm, item.y_mm, item.clip_mm, item.layer, item.half_turn, item.scale)).encode()
                yield from _parts(item.items, code)
                yield b"end of group"
            case _:
                assert_never(item)
