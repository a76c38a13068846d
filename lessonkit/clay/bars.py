"""Shrinkage from her own test bars: what ASTM C326 defines, with how far the next piece may stray."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from statistics import NormalDist, fmean, stdev
from typing import NamedTuple

CONFIDENCE = 0.95
FEWEST_FOR_A_SPREAD = 3


class Bar(NamedTuple):
    """One bar: the length between its marks, wet and after each stage that was measured, in mm."""

    wet_mm: float
    dry_mm: float | None = None
    bisque_mm: float | None = None
    fired_mm: float | None = None

    @property
    def drying(self) -> float | None:
        """Of the wet length: Sd = (Lp - Ld) / Lp (ASTM C326)."""
        return None if self.dry_mm is None else (self.wet_mm - self.dry_mm) / self.wet_mm

    @property
    def firing(self) -> float | None:
        """Of the dry length: Sf = (Ld - Lf) / Ld (ASTM C326)."""
        return None if self.dry_mm is None or self.fired_mm is None else (self.dry_mm - self.fired_mm) / self.dry_mm

    @property
    def total(self) -> float | None:
        """Of the wet length: St = (Lp - Lf) / Lp (ASTM C326)."""
        return None if self.fired_mm is None else (self.wet_mm - self.fired_mm) / self.wet_mm


@dataclass(frozen=True, slots=True)
class Measured:
    """A quantity from several bars: its mean, and the half width of the interval in which the next one is expected to lie
    (None under three bars: nothing can be said)."""

    count: int
    mean: float
    spread: float | None


def measured(values: Sequence[float]) -> Measured:
    """Mean and prediction interval, mean ± t s √(1 + 1/n) at 95 %. Raises ValueError without a value.

    Source: prediction interval for one future observation from a normal population (NIST/SEMATECH e-Handbook of
    Statistical Methods, from memory).
    """
    if not values:
        raise ValueError("no bar has been measured")
    n = len(values)
    if n < FEWEST_FOR_A_SPREAD:
        return Measured(n, fmean(values), None)
    return Measured(n, fmean(values), t_quantile((1 + CONFIDENCE) / 2, n - 1) * stdev(values) * math.sqrt(1 + 1 / n))


@lru_cache(maxsize=32)  # the same few bars stand behind every lesson
def t_quantile(probability: float, freedom: int) -> float:
    """Student's t with `freedom` degrees: the value that `probability` of all values lie under, for 0.5 <= probability < 1.

    Found by halving on the distribution function, whose finite sums for whole degrees of freedom are in Abramowitz and
    Stegun, 26.7.3 and 26.7.4. Raises ValueError outside its range.
    """
    if not (0.5 <= probability < 1 and freedom >= 1):
        raise ValueError(f"no t quantile for {probability} with {freedom} degrees of freedom")
    low, high = 0.0, max(2.0, NormalDist().inv_cdf(probability))
    while _t_below(high, freedom) < probability:
        high *= 2
    for _ in range(100):
        middle = (low + high) / 2
        low, high = (middle, high) if _t_below(middle, freedom) < probability else (low, middle)
    return (low + high) / 2


def _t_below(t: float, freedom: int) -> float:
    angle = math.atan(t / math.sqrt(freedom))
    cos2 = math.cos(angle) ** 2
    if freedom % 2:
        term, total = math.cos(angle), 0.0
        for k in range(1, freedom - 1, 2):
            total += term
            term *= cos2 * (k + 1) / (k + 2)
        middle = 2 / math.pi * (angle + math.sin(angle) * total)
    else:
        term, total = 1.0, 0.0
        for k in range(0, freedom - 1, 2):
            total += term
            term *= cos2 * (k + 1) / (k + 2)
        middle = math.sin(angle) * total
    return (1 + middle) / 2
