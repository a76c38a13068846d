"""Tells whether a page that was printed before is still good."""

from __future__ import annotations

import re
from hashlib import sha256

from lessonkit.writers.operators import TEXT, Sheet

_LETTERS = 16  # of the hash: 64 bits, and a page is compared with its own past alone
_LEFT = re.compile(r"\S+ (?=\S+ Tm )")


def fingerprint(sheet: Sheet, code: str) -> str:
    """The same for two pages that look alike but for the code of their version, wherever it stands in a line of text."""
    content, at = sheet.operators, -1
    while (at := content.find(code, at + 1)) >= 0:
        start, end = content.rfind("\n", 0, at) + 1, content.find("\n", at)
        if content.startswith(TEXT, start):
            at = start
            # a line that is not set from the left moves with its width
            content = content[:start] + _LEFT.sub("", content[start:end].replace(code, "")) + content[end:]
    return sha256(f"{sheet.box} {content}".encode("latin-1")).hexdigest()[:_LETTERS]
