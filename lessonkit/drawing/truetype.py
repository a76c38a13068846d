"""TrueType files, as far as paper needs them: how wide each character is, its outline, and a smaller font with a few of the glyphs.

The tables are those of the OpenType specification, version 1.9: head, hhea, hmtx, maxp, cmap, loca, glyf. A smaller font has no
hinting programs: they help on screens of few dots an inch, and are half of its bytes.
"""

from __future__ import annotations

import sys
from array import array
from collections.abc import Mapping, Sequence
from itertools import accumulate
from mmap import mmap
from struct import pack, unpack_from
from typing import NamedTuple

_WORDS, _SCALE, _MORE, _SCALES, _MATRIX, _INSTRUCTIONS = 0x0001, 0x0008, 0x0020, 0x0040, 0x0080, 0x0100  # flags of a glyph's parts
_ON, _SHORT_X, _SHORT_Y, _REPEAT, _SAME_X, _SAME_Y = 0x01, 0x02, 0x04, 0x08, 0x10, 0x20  # flags of a spot
_UNIT = 1 << 14  # of a scale
_MAGIC = 0xB1B0AFBA  # what head.checkSumAdjustment makes the whole file add up to


Spot = tuple[float, float, bool]  # on the outline, or a curve's control


class TrueType:
    """A font file's bytes, opened. `glyphs` gives each character's glyph, of those up to U+FFFF."""

    def __init__(self, data: bytes | mmap) -> None:
        self._data = data
        self._tables: dict[bytes, tuple[int, int]] = {}
        for record in range(12, 12 + 16 * unpack_from(">H", data, 4)[0], 16):
            name, _, start, size = unpack_from(">4sLLL", data, record)
            self._tables[name] = start, size
        head, hhea = self._tables[b"head"][0], self._tables[b"hhea"][0]
        self.em: int = unpack_from(">H", data, head + 18)[0]
        self.box: tuple[int, int, int, int] = unpack_from(">4h", data, head + 36)
        self.ascent, self.descent = unpack_from(">2h", data, hhea + 4)
        self._measured: int = unpack_from(">H", data, hhea + 34)[0]
        self._metrics = _numbers(self._table(b"hmtx")[: 4 * self._measured], "H")
        places = _numbers(self._table(b"loca"), "I" if unpack_from(">h", data, head + 50)[0] else "H")
        self._places: Sequence[int] = places if places.typecode == "I" else [2 * place for place in places]
        self.glyphs = self._characters()
        self._ready: dict[int, _Glyph] = {}

    def advance(self, glyph: int) -> int:
        """In font units."""
        return self._metrics[2 * min(glyph, self._measured - 1)]

    def bearing(self, glyph: int) -> int:
        """Of the left side, as the file writes it: 16 bits without a sign."""
        if glyph < self._measured:
            return self._metrics[2 * glyph + 1]
        return int(unpack_from(">H", self._table(b"hmtx"), 2 * (self._measured + glyph))[0])

    def contours(self, glyph: int) -> list[list[Spot]]:
        """The glyph's closed outlines in font units, y up, as the file has them: spots on the outline, and between them the controls of
        quadratic curves, where a spot midway between two controls is left out."""
        start = self._tables[b"glyf"][0]
        outline = self._data[start + self._places[glyph] : start + self._places[glyph + 1]]
        if not outline:
            return []
        if unpack_from(">h", outline)[0] >= 0:
            return _simple(outline)
        return [spots for at in _parts(outline) for spots in self._part(outline, at)]

    def _part(self, outline: bytes, at: int) -> list[list[Spot]]:
        """One of those that a glyph is made of, scaled and moved to its place."""
        flags, part = unpack_from(">2H", outline, at - 2)
        x, y = unpack_from(">2h" if flags & _WORDS else ">2b", outline, at + 2)
        xx, xy, yx, yy = 1.0, 0.0, 0.0, 1.0
        after = at + (6 if flags & _WORDS else 4)
        if flags & _SCALE:
            xx = yy = unpack_from(">h", outline, after)[0] / _UNIT
        elif flags & _SCALES:
            xx, yy = (number / _UNIT for number in unpack_from(">2h", outline, after))
        elif flags & _MATRIX:
            xx, xy, yx, yy = (number / _UNIT for number in unpack_from(">4h", outline, after))
        return [[(xx * a + yx * b + x, xy * a + yy * b + y, on) for a, b, on in spots] for spots in self.contours(part)]

    def subset(self, shown: Sequence[int], first: int = 0) -> bytes:
        """A font whose codes from `first` on show these glyphs of this one; what accented letters are made of comes with them."""
        kept = list(dict.fromkeys((0, *shown)))
        number = {glyph: new for new, glyph in enumerate(kept)}
        glyphs: list[_Glyph] = []
        for old in kept:  # which grows by the parts that are found
            glyph = self._glyph(old)
            for part in glyph.parts.values():
                if part not in number:
                    number[part] = len(kept)
                    kept.append(part)
            glyphs.append(glyph.renumbered(number) if glyph.parts else glyph)
        places = [0, *accumulate([len(glyph.outline) for glyph in glyphs])]
        cmap = [0, 1, 1, 0, 0, 12, 6, 10 + 2 * len(shown), 0, first, len(shown), *(number[glyph] for glyph in shown)]
        return _file({
            b"cmap": pack(f">{len(cmap)}H", *cmap),
            b"glyf": b"".join([glyph.outline for glyph in glyphs]),
            b"head": self._table(b"head")[:8] + b"\0" * 4 + self._table(b"head")[12:50] + pack(">2h", 1, 0),
            b"hhea": self._table(b"hhea")[:34] + pack(">H", len(kept)),
            b"hmtx": b"".join([glyph.measures for glyph in glyphs]),
            b"loca": pack(f">{len(places)}L", *places),
            b"maxp": self._table(b"maxp")[:4] + pack(">H", len(kept)) + self._table(b"maxp")[6:],
        }, {b"glyf": sum([glyph.sum for glyph in glyphs])})  # fmt: skip

    def _table(self, name: bytes) -> bytes:
        start, size = self._tables[name]
        return self._data[start : start + size]

    def _characters(self) -> dict[int, int]:
        """From the table of Windows and Unicode in segments (format 4), which every font has."""
        start, data = self._tables[b"cmap"][0], self._data
        records = (unpack_from(">2HL", data, start + 4 + 8 * i) for i in range(unpack_from(">H", data, start + 2)[0]))
        at = next(start + offset for platform, encoding, offset in records if (platform, encoding) == (3, 1))
        count = unpack_from(">H", data, at + 6)[0] // 2
        ends, starts, deltas, offsets = (_numbers(data[p : p + 2 * count], "H") for p in (at + 14 + k * 2 * count + 2 * (k > 0) for k in range(4)))
        found: dict[int, int] = {}
        for i, (first, last, delta, offset) in enumerate(zip(starts, ends, deltas, offsets, strict=True)):
            if not offset:
                found |= {character: (character + delta) & 0xFFFF for character in range(first, last + 1)}
                continue
            listed = at + 16 + 6 * count + 2 * i + offset
            glyphs = _numbers(data[listed : listed + 2 * (last - first + 1)], "H")
            found |= {first + k: (glyph + delta) & 0xFFFF for k, glyph in enumerate(glyphs) if glyph}
        return {character: glyph for character, glyph in found.items() if glyph}

    def _glyph(self, glyph: int) -> _Glyph:
        if glyph not in self._ready:
            start = self._tables[b"glyf"][0]
            outline = _unhinted(self._data[start + self._places[glyph] : start + self._places[glyph + 1]])
            whole = outline + b"\0" * (-len(outline) % 4)
            parts = {at: unpack_from(">H", outline, at)[0] for at in _parts(outline)}
            self._ready[glyph] = _Glyph(whole, parts, pack(">2H", self.advance(glyph), self.bearing(glyph)), _sum(whole))
        return self._ready[glyph]


class _Glyph(NamedTuple):
    """Ready for a smaller font: without its hinting program, in whole words of four bytes, whose sum is known."""

    outline: bytes
    parts: dict[int, int]  # where it names those that it is made of
    measures: bytes
    sum: int

    def renumbered(self, number: Mapping[int, int]) -> _Glyph:
        outline = bytearray(self.outline)
        for at, part in self.parts.items():
            outline[at : at + 2] = pack(">H", number[part])
        return self._replace(outline=bytes(outline), sum=_sum(outline))


def _unhinted(outline: bytes) -> bytes:
    if not outline:
        return b""
    (contours,) = unpack_from(">h", outline)
    if contours >= 0:
        at = 10 + 2 * contours
        (size,) = unpack_from(">H", outline, at)
        return outline[:at] + b"\0\0" + outline[at + 2 + size :]
    end = 0
    for at in _parts(outline):
        (flags,) = unpack_from(">H", outline, at - 2)
        outline = outline[: at - 2] + pack(">H", flags & ~_INSTRUCTIONS) + outline[at:]
        end = at + _part_size(flags)
    return outline[:end]


def _simple(outline: bytes) -> list[list[Spot]]:
    """The outlines of a glyph that is made of no others."""
    count = unpack_from(">h", outline)[0]
    ends = unpack_from(f">{count}H", outline, 10)
    at = 12 + 2 * count + unpack_from(">H", outline, 10 + 2 * count)[0]
    flags: list[int] = []
    while len(flags) <= ends[-1]:
        times = 1
        if outline[at] & _REPEAT:
            times += outline[at + 1]
        flags += [outline[at]] * times
        at += 2 if outline[at] & _REPEAT else 1
    xs, at = _steps(outline, at, flags, _SHORT_X, _SAME_X)
    ys, _ = _steps(outline, at, flags, _SHORT_Y, _SAME_Y)
    spots = [(x, y, bool(flag & _ON)) for x, y, flag in zip(xs, ys, flags, strict=True)]
    return [spots[first:end] for first, end in zip((0, *(end + 1 for end in ends)), (end + 1 for end in ends), strict=False)]


def _steps(outline: bytes, at: int, flags: Sequence[int], short: int, same: int) -> tuple[list[float], int]:
    """Coordinates of one axis, each written as the step from the one before; and where they end."""
    found, value = [], 0.0
    for flag in flags:
        if flag & short:
            value += outline[at] if flag & same else -outline[at]
            at += 1
        elif not flag & same:
            value += unpack_from(">h", outline, at)[0]
            at += 2
        found.append(value)
    return found, at


def _parts(outline: bytes) -> list[int]:
    """Where the outline of a glyph that is made of others names each of them."""
    if not outline or unpack_from(">h", outline)[0] >= 0:
        return []
    found, at, flags = [], 10, _MORE
    while flags & _MORE:
        (flags,) = unpack_from(">H", outline, at)
        found.append(at + 2)
        at += 2 + _part_size(flags)
    return found


def _part_size(flags: int) -> int:
    """Bytes from a part's number to its end: the number, its place, its scale."""
    return 2 + (4 if flags & _WORDS else 2) + (2 if flags & _SCALE else 4 if flags & _SCALES else 8 if flags & _MATRIX else 0)


def _numbers(data: bytes | bytearray, kind: str) -> array[int]:
    """Of two (H) or four (I) bytes each."""
    found = array(kind, data)
    if sys.byteorder == "little":
        found.byteswap()
    return found


def _sum(data: bytes | bytearray) -> int:
    return sum(_numbers(data + b"\0" * (-len(data) % 4), "I")) & 0xFFFFFFFF


def _file(tables: Mapping[bytes, bytes], sums: Mapping[bytes, int]) -> bytes:
    """The tables, which are in order of their names, under a directory. Some of their sums are known."""
    power = len(tables).bit_length() - 1
    parts = [pack(">L4H", 0x10000, len(tables), 16 << power, power, 16 * (len(tables) - (1 << power)))]
    at = 12 + 16 * len(tables)
    total = 0
    for name, data in tables.items():
        parts.append(pack(">4s3L", name, added := (sums[name] if name in sums else _sum(data)) & 0xFFFFFFFF, at, len(data)))
        total += added
        at += len(data) + -len(data) % 4
    total += _sum(b"".join(parts))
    whole = b"".join((*parts, *(data + b"\0" * (-len(data) % 4) for data in tables.values())))
    head = 12 + 16 * len(tables) + sum(len(data) + -len(data) % 4 for name, data in tables.items() if name < b"head") + 8
    return whole[:head] + pack(">L", (_MAGIC - total) & 0xFFFFFFFF) + whole[head + 4 :]
