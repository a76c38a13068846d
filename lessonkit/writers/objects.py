"""A PDF's objects, each written by us as soon as it is known: the library, which numbers them and makes the file, would take a dictionary
apart and put it together again entry by entry."""

from __future__ import annotations

import re
import zlib
from collections.abc import Sequence
from typing import Any

from reportlab.pdfbase.pdfdoc import PDFDocument, PDFObject

_QUICK = 2  # of zlib's nine levels: a twelfth more bytes than the usual one, in a third of its time
_UNSAFE = re.compile(r"[\0-\x1f\\()]")  # what can't stand in a string as it is


class Written(PDFObject):  # type: ignore[misc]  # the library has no types
    """One object. What isn't known yet may be set later."""

    def __init__(self, content: str | bytes = b"") -> None:
        self.content = content

    def format(self, *_: object) -> bytes:
        return self.content.encode("latin-1") if isinstance(self.content, str) else self.content


class Info(Written):
    """Of the document; the library asks for what tells it from others."""

    def digest(self, signature: Any) -> None:
        signature.update(self.format())


def added(file: PDFDocument, content: str | bytes | Written) -> str:
    """How other objects name this one, from now on one of the file's."""
    file.Reference(content if isinstance(content, Written) else Written(content))
    return f"{file.objectcounter} 0 R"


def bookmarks(file: PDFDocument, marks: Sequence[tuple[str, str]]) -> str:
    """The root of the outline that a viewer shows, of one level: titles, and the pages that they lead to."""
    root, entries = Written(), [Written() for _ in marks]
    name, names = added(file, root), [added(file, entry) for entry in entries]
    for i, (entry, (title, page)) in enumerate(zip(entries, marks, strict=True)):
        before = f" /Prev {names[i - 1]}" if i else ""
        after = f" /Next {names[i + 1]}" if i + 1 < len(names) else ""
        entry.content = f"<</Title {text_string(title)} /Parent {name} /Dest [{page} /Fit]{before}{after}>>"
    root.content = f"<</Type /Outlines /Count {len(names)} /First {names[0]} /Last {names[-1]}>>"
    return name


def compressed(content: str | bytes, level: int = _QUICK) -> bytes:
    """Text is written as the codes it has, none above 255."""
    return zlib.compress(content.encode("latin-1") if isinstance(content, str) else content, level)


def stream(data: bytes, entries: str = "") -> bytes:
    """Of what was compressed, with these entries in its dictionary."""
    return b"<</Filter /FlateDecode /Length %d%s>>\nstream\n%s\nendstream" % (len(data), entries.encode(), data)


def literal(codes: str) -> str:
    """A string of these codes, none above 255: ISO 32000-1, 7.3.4.2."""
    return f"({_UNSAFE.sub(lambda found: f'{chr(92)}{ord(found[0]):03o}', codes)})"


def text_string(text: str) -> str:
    """ISO 32000-1, 7.9.2.2."""
    return literal(text) if text.isascii() else f"<FEFF{text.encode('utf-16-be', 'surrogatepass').hex()}>"
