"""Accidents that happen to a file: to its bytes, its lines, its tables and values."""

from __future__ import annotations

import codecs
import re
from collections.abc import Callable, Iterator
from random import Random
from typing import Any

from tests.fuzz import spellings
from tests.fuzz.written import written

_TOKENS = (
    b"\t", b"\n", b"  ", b": ", b":", b"- ", b"-", b'"', b"'", b"[", b"]", b"{", b"}", b"&a ", b"*a", b"@", b"%", b"!x ",
    b" # ", b"#", b"|", b">-", b"? ", b"---\n", b"...\n", b"<<: ", b"\\", b"\xc2\xa0", b"\xff", b"\x00", b"\xe9", b"\xf0\x9f\x90\x9f",
    b"\xe2\x80\xa8", b"\xef\xbb\xbf", b"\xed\xa0\x80",     b"a: &a [*a]\n", b"[" * 60, b"{a: " * 30, b"x" * 2000, b"0", b"9" * 30, b"-",
)  # fmt: skip
_ENCODINGS: tuple[Callable[[str], bytes], ...] = (
    lambda text: text.encode("utf-8-sig"),
    lambda text: text.encode("utf-16"),
    lambda text: codecs.BOM_UTF16_BE + text.encode("utf-16-be"),
    lambda text: text.encode("utf-16-le"),
    lambda text: text.encode("utf-32"),
    lambda text: text.encode("cp1252", "replace"),
    lambda text: text.encode("utf-16")[:-1],
    lambda text: text.replace("\n", "\r\n").encode(),
    lambda text: text.replace("\n", "\r").encode(),
    lambda text: text.encode().replace(b"\n", b"\r\n", 7),
    lambda text: text.replace("    ", "\t").encode(),
    lambda text: text.encode("utf-8-sig") + b"\xef\xbb\xbf",
)


def bytes_changed(data: bytes, random: Random) -> bytes:
    """One to four accidents to its bytes; now and then another encoding."""
    if random.random() < 0.1:
        return random.choice(_ENCODINGS)(data.decode())
    for _ in range(random.choice((1, 1, 2, 4))):
        start = random.randrange(len(data) + 1)
        end = min(len(data), start + random.choice((0, 1, 3, 30, 300)))
        match random.choice(("flip", "drop", "twice", "moved", "token", "token", "cut off")):
            case "flip" if start < len(data):
                data = data[:start] + bytes((data[start] ^ 1 << random.randrange(8),)) + data[start + 1 :]
            case "drop":
                data = data[:start] + data[end:]
            case "twice":
                data = data[:end] + data[start:]
            case "moved":
                to = random.randrange(len(data) + 1)
                data = data[:to] + data[start:end] + data[to:]
            case "token":
                data = data[:start] + random.choice(_TOKENS) + data[min(end, start + 3) :]
            case "cut off" if random.random() < 0.3:
                data = data[:start]
    return data


def lines_changed(data: bytes, random: Random) -> bytes:
    """One to four accidents to its lines, most of them to what stands after a colon."""
    lines = data.decode().split("\n")
    for _ in range(random.choice((1, 1, 2, 4))):
        at = random.randrange(len(lines))
        line = lines[at]
        name, colon, value = line.partition(": ")
        match random.randrange(12):
            case 0:
                del lines[at : at + random.choice((1, 1, 2, 6))]
            case 1:
                lines.insert(random.randrange(len(lines) + 1), line)
            case 2:
                there = random.randrange(len(lines))
                lines[at], lines[there] = lines[there], line
            case 3:
                lines[at] = random.choice((" ", "  ", "\t", "- ", "#", "    ")) + line
            case 4:
                lines[at] = line[random.choice((1, 2, 4)) :]
            case 5:
                lines[at : at + 2] = [" ".join(lines[at : at + 2])]
            case 6:
                sign, other = random.choice(('"', "'", ":", ",", "{", "}", "]", "- ", " ")), random.choice(("", ":", "\t", " # ", "\u00a0"))
                lines[at] = line.replace(sign, other, 1)
            case 7 if colon:
                lines[at] = f"{name}s{colon}{value}"
            case 8:
                lines[at] = line.upper() if random.random() < 0.5 else line.swapcase()
            case _ if colon:
                lines[at] = f"{name}{colon}{_typed(random)}"
        lines = lines or [""]
    return "\n".join(lines).encode()


def _typed(random: Random) -> str:
    """What stands there as it is typed, most of it without the quotes that it should have."""
    value = spellings.wild(random)
    return value if isinstance(value, str) and "\n" not in value and random.random() < 0.9 else written(value, random).replace("\n", " ")


Spot = tuple[Any, Any]
"""A table or a list, and a key or an index in it."""


def structure_changed(value: Any, random: Random) -> Any:
    """One to five accidents to a copy of the tables: values exchanged, lost, doubled, renamed, in the wrong place, of the wrong kind, out
    of all proportion."""
    value = _copy(value)
    for _ in range(random.choice((1, 1, 1, 2, 3, 5))):
        spots = list(_spots(value))
        if not spots:
            return value
        holder, key = random.choice(spots)
        other, place = random.choice(spots)
        there = holder[key]
        match random.randrange(14):
            case 0 | 1 if _holds(there, other) or _holds(other[place], holder):
                holder[key] = [there]
            case 0:
                holder[key], other[place] = other[place], there
            case 1:
                other[place] = there  # the same: written as an anchor and its repeat
            case 2:
                del holder[key]
            case 3 if isinstance(holder, dict):
                holder[_misspelt(str(key), random)] = holder.pop(key)
            case 3 | 4 if isinstance(holder, list):
                holder.insert(key, there)
            case 4:
                holder[random.choice(list(_names(spots)))] = there
            case 5:
                holder[key] = [there]
            case 6 if isinstance(there, list) and there:
                holder[key] = random.choice(there)
            case 6 if isinstance(there, dict) and there:
                holder[key] = random.choice(list(there.values()))
            case 7:
                holder[key] = _nested(there, random.choice((1, 5, 38, 45)))
            case 8 if isinstance(there, list):
                holder[key] = there * random.choice((2, 10, 40))
            case 9 if isinstance(there, str):
                holder[key] = random.choice(spellings.ODD_TEXTS)
            case 10 if isinstance(there, str) and re.search(r"\d", there):
                holder[key] = _other_unit(there, random)
            case 11:
                holder[key] = spellings.shapeless(random)
            case _ if isinstance(there, str) and re.search(r"\d", there):
                holder[key] = _other_size(there, random)
            case _:
                holder[key] = spellings.wild(random)
    return value


def _spots(value: Any) -> Iterator[Spot]:
    held = list(value.items()) if isinstance(value, dict) else list(enumerate(value)) if isinstance(value, list) else []
    for key, inner in held:
        yield value, key
        yield from _spots(inner)


def _holds(value: Any, part: Any) -> bool:
    return value is part or any(holder[key] is part for holder, key in _spots(value))


def _names(spots: list[Spot]) -> Iterator[str]:
    yield "<<"
    yield from (str(key) for holder, key in spots if isinstance(holder, dict))


def _copy(value: Any) -> Any:
    match value:
        case dict():
            return {key: _copy(inner) for key, inner in value.items()}
        case list():
            return [_copy(inner) for inner in value]
    return value


def _misspelt(word: str, random: Random) -> str:
    at = random.randrange(len(word) + 1)
    return random.choice((word[:at] + word[at + 1 :], word[:at] + "e" + word[at:], word.upper(), word + "s", "", "<<", "é" + word, word * 40)) or "x"


def _nested(value: Any, deep: int) -> Any:
    for _ in range(deep):
        value = [value]
    return value


def _other_size(text: str, random: Random) -> str:
    """The first number in it nearly the same, or far from it."""
    found = re.search(r"\d+(?:\.\d+)?", text)
    assert found is not None
    number = float(found[0]) * random.choice((0, 0.001, 0.1, 0.5, 0.9, 1.1, 1.5, 2, 3, 10, 100, 1e4, -1))
    return f"{text[: found.start()]}{number:.6g}{text[found.end() :]}"


def _other_unit(text: str, random: Random) -> str:
    unit = random.choice((" mm", " cm", " in", " ft", " m", '"', " %", " kg", " g", " lb", " min", " h", " ml", "°", ""))
    return re.sub(r"(?<=\d)\s*[a-zA-Z%\"°]+$", "", text) + unit
