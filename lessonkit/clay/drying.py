"""Drying: days until work may be fired, and what clay may dry on. Rules of thumb (common practice, no source), said as such.

Drying takes longer than in proportion to the thickness, between t and t² (from memory). Bone dry is not cool on the wrist, and weighs
the same two days running; the last water leaves below 100 °C in the kiln, hence the preheat.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from math import ceil
from typing import NamedTuple

THIN_MM, USUAL_MM, THICK_MM = 6.0, 10.0, 13.0
BANDS = ((THIN_MM, 5, 7), (USUAL_MM, 7, 10), (THICK_MM, 10, 14))  # up to so many mm, from so many days to so many
HUMID_FACTOR = 1.5
SIGNS = "dry when it is not cool on the wrist and its weight is steady for two days"


class Drying(NamedTuple):
    """`days` are planned with (the long end of the rule), `least_days` is its short end. Covered up to and with day `uncover`, turned
    on day `turn`, both counted from the day it is made. `too_thick` says that the work should be hollowed."""

    days: int
    least_days: int
    turn: int
    uncover: int
    too_thick: bool
    assumptions: tuple[str, ...]


def drying(thickness_mm: float, joined: bool = False, own: Sequence[tuple[float, int]] = (), own_days: int | None = None) -> Drying:
    """Days from the day of making to the day on which it may be loaded, in air of usual damp.

    Up to 6 mm 5 to 7 days, to 10 mm 7 to 10, thicker or joined 10 to 14; above 13 mm the days grow as the square of the thickness.
    `own` is the room's own table (up to so many mm, so many days), `own_days` what the lesson or the log says: those go first. ValueError
    for a thickness of 0 or less.
    """
    if not thickness_mm > 0:
        raise ValueError(f"no work is {thickness_mm:g} mm thick")
    least, days, said = _by_rule(thickness_mm, joined)
    table = next((known for up_to, known in sorted(own) if thickness_mm <= up_to), None)
    if own_days is not None:
        least, days, said = own_days, own_days, f"{own_days} drying days, as the lesson or the log says"
    elif table is not None:
        least, days, said = table, table, f"{table} drying days for {thickness_mm:g} mm, the room's own figure"
    too_thick = thickness_mm > THICK_MM
    notice = (f"{thickness_mm:g} mm is thicker than {THICK_MM:g} mm: hollow it, or give it more days than these",) if too_thick else ()
    return Drying(days, least, max(1, ceil(days / 4)), max(1, ceil(days / 2)), too_thick, (said, SIGNS, *notice))


def _by_rule(thickness_mm: float, joined: bool) -> tuple[int, int, str]:
    _, least, days = next((band for band in BANDS if thickness_mm <= band[0]), BANDS[-1])
    if joined:
        _, least, days = BANDS[-1]
    if thickness_mm > THICK_MM:
        least, days = (ceil(count * (thickness_mm / THICK_MM) ** 2) for count in (least, days))
    work = f"{thickness_mm:g} mm thick" + (" with joints" if joined else "")
    return least, days, f"{least} to {days} drying days for work {work}, a rule of thumb (common practice); {days} are planned"


def thickest_dry_mm(days: float, joined: bool = False, own: Sequence[tuple[float, int]] = ()) -> float | None:
    """The thickest work that is dry after so many days, by the room's own table if there is one, else by the rule; None where even thin
    work is not."""
    if own:
        return max((up_to for up_to, known in own if known <= days), default=None)
    longest = BANDS[-1][2]
    if days >= longest:
        return float(THICK_MM * (days / longest) ** 0.5)
    return None if joined else max((up_to for up_to, _, known in BANDS if known <= days), default=None)


_DRINKS = {"paper", "newspaper", "newsprint", "cardboard", "card", "plaster", "plasterboard", "wood", "wooden", "plywood", "board", "canvas",
           "cloth", "cotton", "bisque", "brick", "tile", "cement"}  # fmt: skip
_HOLDS = {"wax": "wax", "waxed": "wax", "foam": "foam", "styrofoam": "foam", "polystyrene": "foam", "plastic": "plastic", "vinyl": "plastic",
          "acrylic": "plastic", "laminated": "plastic", "coated": "a coating", "glossy": "a coating", "metal": "metal", "tin": "metal",
          "steel": "metal", "foil": "metal", "glass": "glass", "glazed": "glaze", "silicone": "silicone", "oilcloth": "oilcloth"}  # fmt: skip


class Ground(NamedTuple):
    """Whether what clay dries on drinks its water: yes, no, or None where nobody knows; and the reason."""

    drinks: bool | None
    reason: str


def ground(name: str) -> Ground:
    """Judge a support by its name: `paper plate` drinks, `waxed paper plate` does not (wax, foam, plastic, metal, glass go before all else)."""
    words = re.findall(r"[\w-]+", name.casefold())
    plain = {word for word in words if not word.startswith(("un", "non-"))}
    if holding := next((_HOLDS[word] for word in words if word in plain and word in _HOLDS), ""):
        return Ground(False, f"{holding} does not drink water: clay cannot slip on it while it shrinks, dries from above only, and cracks or warps")
    if plain & _DRINKS:
        return Ground(True, "it drinks water, and lets the clay slip while it shrinks")
    return Ground(None, "it is not known whether it drinks water")
