"""How long a lesson's stages take in its room: what the lesson says, else the room or the log, else a rule of thumb; each is said."""

from __future__ import annotations

from dataclasses import dataclass

from lessonkit.clay.cones import cone_named, hotter
from lessonkit.clay.drying import Drying, drying
from lessonkit.clay.firing import OPEN_BELOW_C, Cooling, Programme, bisque_programme, cooling, days_in_kiln, programme
from lessonkit.lesson.days import EVERY_DAY, Window, weekdays_shown
from lessonkit.lesson.firing import Dates, Kiln, Term
from lessonkit.pieces.model import Kit
from lessonkit.planning.calendar import ONE_DAY, Lead
from lessonkit.planning.faults import PlanError
from lessonkit.planning.log import OwnFigures
from lessonkit.planning.standing import is_joined, thickest_mm
from lessonkit.units import lengths_shown

BISQUE_CONE, LOW_GLAZE_CONE = "04", "06"


@dataclass(frozen=True, slots=True)
class Firing:
    """One firing of a lesson's work: its programme, its cooling, and the days from starting the kiln to unloading it."""

    programme: Programme
    cooling: Cooling
    days: int
    warning: str = ""

    @property
    def cone(self) -> str:
        return self.programme.cone


@dataclass(frozen=True, slots=True)
class Way:
    """A lesson's stages in its room. `glaze` is None where one firing is all."""

    drying: Drying
    bisque: Firing
    glaze: Firing | None
    lead: Lead
    warnings: tuple[str, ...]
    assumptions: tuple[str, ...]


def way_of(kit: Kit, bisque_loads: int = 1, glaze_loads: int = 1, own: OwnFigures | None = None) -> Way:
    """The way of a lesson. FiringError for a cone that cannot be; PlanError for what is no cone in the room's kiln."""
    dates, kiln = kit.lesson.dates or Dates(), kit.room.kiln
    dried = _dried(kit, dates, own)
    first, second, said = cones(kit)
    preheat = _hours(kiln.preheat if kiln else None)
    bisque = _firing(bisque_programme(first, thickest_mm(kit), preheat), kiln, dates.bisque or (kiln.bisque_days if kiln else None))
    glaze = _firing(programme("glaze", second), kiln, dates.glaze or (kiln.glaze_days if kiln else None)) if second else None
    lead = _lead(kit, dried, bisque, glaze, bisque_loads, glaze_loads)
    firings = [firing for firing in (bisque, glaze) if firing]
    return Way(
        drying=dried,
        bisque=bisque,
        glaze=glaze,
        lead=lead,
        warnings=tuple(firing.warning for firing in firings if firing.warning),
        assumptions=(*dried.assumptions, *said, *_lead_said(lead, kit), *(own.assumptions if own else ())),
    )


def is_painted(dates: Dates | None) -> bool:
    """Whether it is painted or glazed after a first firing: yes, unless the lesson says `paint: none`."""
    paint = dates.paint if dates and dates.paint is not None else ONE_DAY
    return bool(paint.days or paint.weeks)


def cones(kit: Kit) -> tuple[str, str | None, tuple[str, ...]]:
    """The cones of the first and the second firing (None where there is one only), and what was assumed.

    The lesson's cone is its hottest. A mid-fire lesson is bisque-fired at the room's bisque cone and glazed at its own; a low-fire
    one is bisque-fired at its own and glazed at 06 or cooler (common practice).
    """
    hottest = kit.clay.cone
    if not is_painted(kit.lesson.dates):
        return hottest, None, (f"one firing, to cone {hottest}: nothing is painted or glazed after it",)
    own = kit.room.kiln.bisque_cone if kit.room.kiln else None
    try:
        bisque = cone_named(own or BISQUE_CONE)
    except ValueError as error:
        raise PlanError(f"the kiln's bisque cone: {error}.", 'Write such as bisque_cone: "04" in the room file.') from None
    said = () if own else (f"bisque to cone {BISQUE_CONE} or cooler: the room does not say its own (common practice)",)
    if hotter(hottest, bisque):
        return bisque, hottest, said
    glaze = LOW_GLAZE_CONE if hotter(hottest, LOW_GLAZE_CONE) else hottest
    return hottest, glaze, (*said, f"low-fire work is glazed at cone {glaze} (common practice)")


def _dried(kit: Kit, dates: Dates, own: OwnFigures | None) -> Drying:
    days = dates.dry if dates.dry is not None else own.dry_days if own else None
    dried = drying(thickest_mm(kit), _joined(kit), _own_table(kit), days)
    return dried._replace(assumptions=tuple(lengths_shown(line, kit.room.units) for line in dried.assumptions))


def _joined(kit: Kit) -> bool:
    return any(is_joined(piece) for piece in kit.lesson.pieces)


def _own_table(kit: Kit) -> tuple[tuple[float, int], ...]:
    return tuple((line.up_to.mm, line.days) for line in kit.room.calendar.dry_days) if kit.room.calendar else ()


def _hours(minutes: float | None) -> float | None:
    return None if minutes is None else minutes / 60


def _firing(made: Programme, kiln: Kiln | None, own_days: int | None) -> Firing:
    opens = float(kiln.opens_below) if kiln and kiln.opens_below else OPEN_BELOW_C
    cools = cooling(made.peak_c, opens, _hours(kiln.cooling if kiln else None))
    takes = made.hours + cools.hours
    needed = days_in_kiln(takes)
    warning = ""
    if own_days is not None and own_days < needed:
        warning = (f"{_days(own_days)} for the {made.kind} firing: programme and cooling take about {takes:.0f} h, which is {_days(needed)}. "
                   f"Never open a kiln above {opens:g} °C.")  # fmt: skip
    return Firing(made, cools, own_days or needed, warning)


def _lead(kit: Kit, dried: Drying, bisque: Firing, glaze: Firing | None, bisque_loads: int, glaze_loads: int) -> Lead:
    dates, term, kiln = kit.lesson.dates or Dates(), kit.room.calendar or Term(), kit.room.kiln
    return Lead(
        dry_days=dried.days,
        turn_day=dried.turn,
        uncover_day=dried.uncover,
        bisque_days=bisque.days,
        glaze_days=glaze.days if glaze else 0,
        paint=ONE_DAY if dates.paint is None else dates.paint,
        make=dates.make if isinstance(dates.make, Window) else ONE_DAY,
        wrap_days=term.wrap_days if dates.wrap is None else dates.wrap,
        starts=(kiln and kiln.starts) or EVERY_DAY,
        unloads=(kiln and kiln.unloads) or EVERY_DAY,
        bisque_loads=bisque_loads,
        glaze_loads=glaze_loads,
        joined=_joined(kit),
        own_drying=_own_table(kit),
    )


def _days(count: int) -> str:
    return f"{count} day{'s' * (count != 1)}"


def _lead_said(lead: Lead, kit: Kit) -> tuple[str, ...]:
    dates, kiln = kit.lesson.dates or Dates(), kit.room.kiln
    said = [f"bisque {_days(lead.bisque_days)} from starting the kiln to unloading it"]
    if lead.is_painted:
        said.append(f"painted in {lead.paint}" + ("" if dates.paint else ", assumed"))
        said.append(f"glaze {_days(lead.glaze_days)} from starting the kiln to unloading it")
    if lead.wrap_days:
        said.append(f"wrapping {_days(lead.wrap_days)}")
    starts, unloads = weekdays_shown(lead.starts), weekdays_shown(lead.unloads)
    said.append(f"the kiln is started {starts} and unloaded {unloads}" + ("" if kiln and kiln.starts and kiln.unloads else ", assumed"))
    if max(lead.bisque_loads, lead.glaze_loads) > 1:
        said.append(f"{lead.bisque_loads} bisque and {lead.glaze_loads} glaze loads, one after another in one kiln")
    return tuple(said)
