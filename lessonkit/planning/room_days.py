"""Which days the room is open, and why not: its own closed days, then public holidays. Nothing here looks at the clock."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta
from functools import cache

from lessonkit.lesson.days import EVERY_DAY, FIRST_YEAR, LAST_YEAR, WEEKDAYS, weekdays_shown
from lessonkit.lesson.firing import Term
from lessonkit.planning.faults import PlanError

DAY = timedelta(days=1)
LONGEST_SEARCH_DAYS = 800

_EVERY_DAY_OPEN = Term()


@dataclass(frozen=True, slots=True)
class RoomDays:
    """The days of a room. Without a term every day is open."""

    term: Term = _EVERY_DAY_OPEN

    def why_closed(self, day: date) -> str:
        """The reason in words; empty for an open day. Its own closed days go before all, days named open before holidays."""
        for closed in self.term.closed:
            if day in closed.days:
                return closed.why
        if any(day in opened for opened in self.term.open):
            return ""
        return self.holiday(day)

    def holiday(self, day: date) -> str:
        """The public holiday's name, or empty."""
        return public_holidays(self.term.country, self.term.region, day.year).get(day, "") if self.term.country else ""

    def is_open(self, day: date) -> bool:
        return not self.why_closed(day)

    def has_class(self, day: date) -> bool:
        """Whether the room is open on a weekday with classes."""
        return day.weekday() in self.sessions and self.is_open(day)

    @property
    def sessions(self) -> tuple[int, ...]:
        return EVERY_DAY if self.term.sessions is None else self.term.sessions

    def humid(self, day: date) -> bool:
        return any(day in damp for damp in self.term.humid)

    def special_days(self, first: date, last: date) -> tuple[tuple[date, str], ...]:
        """Days such as Mother's Day in a country that keeps them: not closed, but gifts are made for them."""
        if not self.term.country:
            return ()
        return tuple((day, name) for day in days_between(first, last) if (name := days_kept(self.term.country, day.year).get(day, "")))

    @property
    def assumptions(self) -> tuple[str, ...]:
        term = self.term
        said = [f"public holidays of {term.country}{f' ({term.region})' if term.region else ''} are closed" if term.country else
                "no country is given: public holidays are not known"]  # fmt: skip
        said += [f"closed {closed.days}" + (f": {closed.why}" if closed.why != "closed" else "") for closed in term.closed]
        if term.sessions is None:
            said.append("there may be a class on any open day: the calendar has no sessions")
        else:
            said.append(f"classes {weekdays_shown(term.sessions)}")
        return tuple(said)


def days_between(first: date, last: date) -> Iterator[date]:
    """Every day from the first to the last, both counted; none when it runs backwards."""
    return (first + DAY * step for step in range((last - first).days + 1))


def searched(start: date, step: int) -> Iterator[date]:
    """The days from `start` onwards (step 1) or backwards (step -1), for as far as a plan may reach."""
    for count in range(LONGEST_SEARCH_DAYS):
        day = start + DAY * (step * count)
        if not FIRST_YEAR <= day.year <= LAST_YEAR:
            break
        yield day
    raise PlanError(f"no day was found for this within {LONGEST_SEARCH_DAYS} days of {start}.",
                    "Look at the closed days and the kiln's days in the room file.")  # fmt: skip


def shown(day: date) -> str:
    """`Fri 2027-04-09`: no language but English is spoken here yet, and the date stays sortable."""
    return f"{WEEKDAYS[day.weekday()][:3]} {day.isoformat()}"


@cache
def public_holidays(country: str, region: str | None, year: int) -> dict[date, str]:
    """Public holidays by date. PlanError for a country or region that the holidays library does not know."""
    import holidays  # late: it is large, and most commands need no calendar

    try:
        return dict(holidays.country_holidays(country.upper(), subdiv=region, years=year))
    except NotImplementedError:
        place = f"{region} in {country}" if region else country
        hint = "Write the country's two letters, such as US or GB, and leave the region out."
        raise PlanError(f"the holidays of {place} are not known.", hint) from None


@cache
def days_kept(country: str, year: int) -> dict[date, str]:
    """Days that people keep without a holiday, where the library lists them for the country; else none."""
    import holidays

    supported = getattr(holidays, country.upper(), None)
    if supported is None or "unofficial" not in getattr(supported, "supported_categories", ()):
        return {}
    return dict(holidays.country_holidays(country.upper(), years=year, categories=("unofficial",)))
