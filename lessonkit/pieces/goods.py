"""What goes in an opening, and does not shrink: photos by their size, and things of a known size."""

from __future__ import annotations

import re
from typing import NamedTuple

from lessonkit.units import UnitError, parse_length

THINGS_MM: dict[str, tuple[float, ...]] = {
    "tealight": (38.0,),  # 38 x 15 mm: BS EN 15426:2007, clause 2, note
    "large tealight": (59.0,),  # common practice, no source
}


class Goods(NamedTuple):
    """Something that an opening shows or holds: round (`tall_mm` None) or upright rectangle."""

    wide_mm: float
    tall_mm: float | None


def photo(text: str) -> Goods:
    """`4 x 6 in photo`: its width, then its height. Raises UnitError for anything else.

    Prints are named by these sizes in inches (ISO 1008 lists 102 x 152 mm for 4 x 6 in, which is 101.6 x 152.4).
    """
    found = _two_sizes(text, "photo|print|picture")
    if not found:
        raise UnitError(f"expected a photo's size, found “{text}”.", "Write its width, then its height: shows: 4 x 6 in photo.")
    return found


def thing(text: str) -> Goods:
    """`tealight`, `38 mm round`, `86 x 86 mm tile`. Raises UnitError for anything else."""
    if text.strip().casefold() in THINGS_MM:
        return Goods(THINGS_MM[text.strip().casefold()][0], None)
    round_thing = re.fullmatch(r"\s*(.+?)\s+(?:round|mirror|across)\s*", text)
    if round_thing:
        return Goods(parse_length(round_thing[1]).mm, None)
    found = _two_sizes(text, "tile|mirror|glass")
    if not found:
        raise UnitError(f"expected what it holds, found “{text}”.", f"Write {', '.join(THINGS_MM)}, 50 mm round, or 86 x 86 mm tile.")
    return found


def _two_sizes(text: str, nouns: str) -> Goods | None:
    found = re.fullmatch(rf"\s*(.+?)\s*[x×]\s*(.+?)\s*(mm|cm|in)\.?\s*(?:{nouns})?\s*", text)
    if not found:
        return None
    wide, tall, unit = found.groups()
    return Goods(parse_length(f"{wide} {unit}").mm, parse_length(f"{tall} {unit}").mm)


MOST_HIDDEN_MM = 3.0  # so much more than the lip, on each side, is missed in a photo (common practice, no source)
SMALLEST_LIP_MM = 1.5  # less than this and a photo slips past its edge (common practice, no source)
