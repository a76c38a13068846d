"""Linear shrinkage, as ASTM C326 defines it: what is lost, over the wet length."""

from __future__ import annotations

import math


def cut_mm(fired_mm: float, shrinkage: float) -> float:
    """The wet size that fires to `fired_mm`: fired / (1 - s), s a fraction of the wet length.

    Multiplying by (1 + s) instead is the usual error: at 12 % it comes out 1.44 % small. Raises ValueError unless 0 <= s < 1.
    Source: ASTM C326, total linear shrinkage St = (Lp - Lf) / Lp.
    """
    return fired_mm / (1 - _checked(shrinkage))


def fired_mm(cut: float, shrinkage: float) -> float:
    """The size that a wet piece `cut` mm long fires to. Raises ValueError unless 0 <= s < 1."""
    return cut * (1 - _checked(shrinkage))


def total(drying: float, firing: float) -> float:
    """Total shrinkage of two stages, each over its own starting length: they multiply, never add (ASTM C326).

    6.25 % in drying and 6.66 % of the dry length in firing make 12.49 %, not 12.91 %.
    """
    return 1 - (1 - _checked(drying)) * (1 - _checked(firing))


def _checked(shrinkage: float) -> float:
    if not (math.isfinite(shrinkage) and 0 <= shrinkage < 1):
        raise ValueError(f"shrinkage is a fraction from 0 to below 1, not {shrinkage}")
    return shrinkage
