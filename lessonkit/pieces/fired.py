"""A fired size as every paper states it: the value, and how far it may stray where that is known."""

from __future__ import annotations

from lessonkit.pieces.model import Measure
from lessonkit.units import NO_BREAK, Units, number, show_for_hand, show_length

LEAST_OFF_MM = 0.05  # less than this would be printed as ± 0


def strays(measure: Measure) -> bool:
    """Whether so much is known, and it is so much, that it is worth saying how far off it may be."""
    return measure.unit == "mm" and measure.off >= LEAST_OFF_MM


def fired_words(measure: Measure, units: Units) -> str:
    """`160 mm ± 1.4 mm`, in a room of inches `6 5/16 in (160 mm ± 1.4 mm)`; an angle as it is, for it does not shrink."""
    if measure.unit == "deg":
        return f"{number(measure.fired, 1)}°"
    if not strays(measure):
        return show_length(measure.fired, units)
    metric = f"{number(measure.fired, 1)}{NO_BREAK}mm{NO_BREAK}±{NO_BREAK}{number(measure.off, 1)}{NO_BREAK}mm"
    return metric if units == "mm" else f"{show_for_hand(measure.fired, units)} ({metric})"
