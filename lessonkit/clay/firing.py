"""Firing: what heat a cone stands for, the programme that gets there, and when the kiln may be opened. °C, °C an hour, hours.

Sources. Cones: the chart "Temperature Equivalents for Orton Pyrometric Cones (°C)", 2016, self-supporting cones. Programmes:
a kiln controller's guide, in °F (common practice, no citable source), whose printed hours the tests hold against ours.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from math import ceil, log
from typing import Literal, NamedTuple

from lessonkit.clay.cones import CONES, COOLEST_BISQUE, cone_named, hotter

Kind = Literal["bisque", "glaze"]
Pace = Literal["slow", "fast"]
Rate = Literal[15, 60, 150]  # °C an hour over the last 100 °C

_SELF_SUPPORTING_C: dict[str, tuple[int | None, int, int]] = dict(
    zip(
        CONES,
        (
            (None, 586, 590), (None, 600, 617), (None, 626, 638), (656, 678, 695), (686, 715, 734), (705, 738, 763), (742, 772, 796),
            (750, 791, 818), (757, 807, 838), (807, 837, 861), (843, 861, 882), (857, 875, 894), (891, 903, 915), (907, 920, 930),
            (922, 942, 956), (962, 976, 987), (981, 998, 1013), (1004, 1015, 1025), (1021, 1031, 1044), (1046, 1063, 1077),
            (1071, 1086, 1104), (1078, 1102, 1122), (1093, 1119, 1138), (1109, 1137, 1154), (1112, 1142, 1164), (1115, 1152, 1170),
            (1141, 1162, 1183), (1159, 1186, 1207), (1167, 1203, 1225), (1185, 1222, 1243), (1201, 1239, 1257), (1211, 1249, 1271),
            (1224, 1260, 1280), (1251, 1285, 1305),
        ),
        strict=True,
    )
)  # fmt: skip

ROOM_F, ROOM_C = 70.0, 20.0
PREHEAT_C = 80.0
OPEN_BELOW_C = 50.0
COOLING_H = 7.0  # after so long the heat above the room's has fallen to 1/e
PREHEAT_H = ((6.0, 4.0), (10.0, 8.0))  # up to so many mm, so many hours
LEAST_PREHEAT_H, LONG_PREHEAT_H = 4.0, 12.0


class FiringError(ValueError):
    """A firing that must not be: `what` is wrong, and in `hint` what to do instead."""

    def __init__(self, what: str, hint: str) -> None:
        super().__init__(what, hint)
        self.what = what
        self.hint = hint

    def __str__(self) -> str:
        return f"{self.what} {self.hint}"


def cone_c(cone: str, rate: Rate = 60) -> int:
    """The temperature at which a self-supporting cone is down, when the last 100 °C rise by `rate` an hour.

    Kiln controllers go by the middle column, 60 °C (108 °F) an hour. ValueError for what is no cone, and for cones 022 to 020
    at 15 °C an hour, which the chart leaves out.
    """
    found = _SELF_SUPPORTING_C[cone_named(cone)][(15, 60, 150).index(rate)]
    if found is None:
        raise ValueError(f"the chart has no temperature for cone {cone} at {rate} °C an hour")
    return found


class Segment(NamedTuple):
    """A rise at a steady rate to a temperature, which is then held."""

    rate_c_per_h: float
    to_c: float
    hold_h: float = 0.0


class Programme(NamedTuple):
    """One firing from the room's temperature to the cone's. `hours` includes the preheat."""

    kind: Kind
    cone: str
    pace: Pace
    peak_c: float
    preheat_h: float
    segments: tuple[Segment, ...]
    hours: float
    assumptions: tuple[str, ...]


def programme(kind: Kind, cone: str, pace: Pace = "slow", preheat_h: float = 0.0) -> Programme:
    """The segments of a firing as the guide prints them for cones 04 and 6; other cones go by the one of their kind of clay.

    The last segment begins 250 °F below the cone's temperature. A bisque needs its preheat: work built by hand holds water
    that must go below 100 °C, or it bursts. FiringError for a bisque with less than 4 hours of it, or cooler than cone 010
    (the usual ones are 08 to 04; common practice). ValueError for what is no cone.
    """
    cone = cone_named(cone)
    if kind == "bisque" and hotter(COOLEST_BISQUE, cone):
        raise FiringError(f"cone {cone} is too cool to bisque-fire clay.", 'Write a cone from "010" up; "06" to "04" are usual.')
    if kind == "bisque" and preheat_h < LEAST_PREHEAT_H:
        raise FiringError("raw work built by hand is never fired without a preheat.", f"Preheat for {LEAST_PREHEAT_H:g} hours or more.")
    peak = cone_c(cone)
    segments: list[Segment] = []
    start, hours = _celsius(ROOM_F), preheat_h
    for rate_f, to_f in _ROUTES[kind, pace](_fahrenheit(peak), hotter(cone, "01")):
        rate, end = rate_f / 1.8, _celsius(to_f)
        if not segments and preheat_h:
            segments.append(Segment(rate, PREHEAT_C, preheat_h))
        segments.append(Segment(rate, end))
        hours += (end - start) / rate
        start = end
    first = f"preheat of {preheat_h:g} h at {PREHEAT_C:g} °C" if preheat_h else "no preheat: everything in it has been fired once"
    said = f"{pace} {kind} to cone {cone}: {peak} °C at 60 °C an hour (chart of 2016), from {ROOM_F:g} °F; the kiln's own manual goes first"
    return Programme(kind, cone, pace, float(peak), preheat_h, tuple(segments), hours, (said, first))


_Route = tuple[tuple[float, float], ...]  # °F an hour, to °F
_ROUTES: dict[tuple[Kind, Pace], Callable[[float, bool], _Route]] = {
    ("bisque", "slow"): lambda peak, hot: ((80, 250), (200, 1000), (100, 1100), (180, peak - 250), (80, peak)),
    ("bisque", "fast"): lambda peak, hot: ((120, 250), (300, 1000), (150, 1100), (225 if hot else 180, peak - 250), (108, peak)),
    ("glaze", "slow"): lambda peak, hot: ((150, 250), (400, peak - 250), (120, peak)),
    ("glaze", "fast"): lambda peak, hot: ((570, peak - 250), (200, peak)),
}  # a bisque goes slowly from 1000 to 1100 °F, around the quartz inversion at 573 °C


def least_preheat_h(thickness_mm: float) -> float:
    """The shortest preheat for hand-built work so thick: 4 h up to 6 mm, 8 h up to 10 mm, 12 h above (common practice, no source)."""
    return next((hours for up_to, hours in PREHEAT_H if thickness_mm <= up_to), LONG_PREHEAT_H)


def bisque_programme(cone: str, thickness_mm: float, own_preheat_h: float | None = None) -> Programme:
    """The firing of raw hand-built work: slow, with a preheat of 12 h as for learners' work, or the room's own.

    One that is too short for the thickness is lengthened, and the programme says so.
    """
    least = least_preheat_h(thickness_mm)
    if own_preheat_h is None:
        made = programme("bisque", cone, "slow", LONG_PREHEAT_H)
        more = "12 h is usual for hand-built work by learners (common practice); the room may say its own"
    elif own_preheat_h < least:
        made = programme("bisque", cone, "slow", least)
        more = f"the room's preheat of {own_preheat_h:g} h is too short for raw work {thickness_mm:g} mm thick"
    else:
        made = programme("bisque", cone, "slow", own_preheat_h)
        more = "the preheat is the room's own"
    return made._replace(assumptions=(*made.assumptions, more))


class Cooling(NamedTuple):
    """Hours from the end of a firing until the kiln may be opened."""

    hours: float
    opens_below_c: float
    assumptions: tuple[str, ...]


def cooling(peak_c: float, opens_below_c: float = OPEN_BELOW_C, own_h: float | None = None) -> Cooling:
    """How long a closed kiln cools: her own figure, or Newton's law of cooling as a stated rule of thumb.

    7 hours for each fall to 1/e of the heat above the room's 20 °C: that is 18 h from cone 04 to 100 °C, the middle of the 12 to 24 h usual
    in a kiln of middling size (from memory, no source). ValueError unless room < opens_below < peak.
    """
    if not ROOM_C < opens_below_c < peak_c:
        raise ValueError(f"a kiln at {peak_c:g} °C cannot cool to {opens_below_c:g} °C in a room of {ROOM_C:g} °C")
    if own_h is not None:
        return Cooling(own_h, opens_below_c, (f"cooling of {own_h:g} h, the room's own figure; open below {opens_below_c:g} °C by the pyrometer",))
    hours = COOLING_H * log((peak_c - ROOM_C) / (opens_below_c - ROOM_C))
    said = f"cooling of {hours:.0f} h to {opens_below_c:g} °C, a rule of thumb for a kiln of middling size"
    return Cooling(hours, opens_below_c, (said, "the pyrometer decides when it is opened, or the manual if it says cooler"))


def days_in_kiln(hours: float, spare_h: float = 7.0) -> int:
    """Days from the day a kiln is started to the day it is unloaded, for a firing that takes so long with its cooling: started in the
    morning and unloaded up to `spare_h` later in the day. At least 1."""
    return max(1, ceil((hours - spare_h) / 24 - 1e-9))


class Ware(NamedTuple):
    """Something to load: its name, its clay, and the hottest cone that the clay stands."""

    name: str
    clay: str
    highest_cone: str


def need_safe_load(cone: str, wares: Iterable[Ware]) -> None:
    """Raise FiringError, naming each, if any clay of a load does not stand the cone. It would melt onto the shelf."""
    cone = cone_named(cone)
    melting = [ware for ware in wares if hotter(cone, ware.highest_cone)]
    if melting:
        named = "; ".join(f"{ware.name} is of {ware.clay}, which stands only cone {cone_named(ware.highest_cone)}" for ware in melting)
        raise FiringError(f"this load is fired to cone {cone}, and it would melt: {named}.", "Take it out and fire it in a load of its own.")


def _fahrenheit(c: float) -> float:
    return c * 1.8 + 32


def _celsius(f: float) -> float:
    return (f - 32) / 1.8
