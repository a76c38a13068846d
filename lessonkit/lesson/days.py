"""Dates and spans of days as a teacher writes them, read without guessing: a date is year-month-day, or it is refused."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from typing import Any

from lessonkit.units import UnitError

FIRST_YEAR, LAST_YEAR = 2000, 2100
MOST_DAYS, MOST_WEEKS = 366, 52

WEEKDAYS = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")
EVERY_DAY = tuple(range(7))
_SPELLED = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve")
_COUNTED = re.compile(r"(?P<number>[0-9]{1,4}|[a-z]+)\s+(?P<unit>days?|weeks?)(?:\s*,?\s*(?P<weekdays>\S.*))?")
_SLASHED = re.compile(r"([0-9]{1,2})[/. -]([0-9]{1,2})[/. -]([0-9]{4})")
_TO = re.compile(r"\s+(?:to|until|[-–—])\s+|\s*\.\.\s*|\s*[–—]\s*")


@dataclass(frozen=True, slots=True)
class DateRange:
    """From the first day to the last, both counted."""

    first: date
    last: date

    def __contains__(self, day: date) -> bool:
        return self.first <= day <= self.last

    def __str__(self) -> str:
        return f"{self.first}" if self.first == self.last else f"{self.first} to {self.last}"


@dataclass(frozen=True, slots=True)
class Window:
    """A stretch of work: so many open days, or so many whole weeks on the weekdays named (0 is Monday). Nothing: no work."""

    days: int = 0
    weeks: int = 0
    weekdays: tuple[int, ...] = EVERY_DAY

    def __str__(self) -> str:
        if self.weeks:
            return f"{self.weeks} week{'s' * (self.weeks > 1)}, {weekdays_shown(self.weekdays)}"
        return f"{self.days} day{'s' * (self.days > 1)}" if self.days else "none"


def parse_date(text: str) -> date:
    """Read `2027-05-07`. UnitError for any other order (05/09/2025 is 5 September or 9 May), no such day, or another century."""
    text = text.strip()
    if not re.fullmatch(r"[0-9]{4}-[0-9]{2}-[0-9]{2}", text):
        raise UnitError(f"expected a date, found “{text[:40]}”.", _date_hint(text))
    try:
        day = date.fromisoformat(text)
    except ValueError:
        raise UnitError(f"there is no day {text}.", "Look at its month and day: year-month-day, such as 2027-05-07.") from None
    if not FIRST_YEAR <= day.year <= LAST_YEAR:
        raise UnitError(f"{text} lies outside the years {FIRST_YEAR} to {LAST_YEAR}.", "Look at its year.")
    return day


def _date_hint(text: str) -> str:
    found = _SLASHED.fullmatch(text)
    if not found:
        return "Write year-month-day, such as 2027-05-07."
    one, two, year = int(found[1]), int(found[2]), found[3]
    meant = [f"{year}-{month:02}-{day:02}" for month, day in dict.fromkeys(((one, two), (two, one))) if 1 <= month <= 12 and 1 <= day <= 31]
    return f"It can be read in two ways: write {meant[0]} or {meant[1]}." if len(meant) == 2 else f"Write {(meant or ['2027-05-07'])[0]}."


def parse_range(text: str) -> DateRange:
    """Read one date, or `2027-03-29 to 2027-04-02`. UnitError as `parse_date`, or where the range runs backwards."""
    ends = [parse_date(end) for end in _TO.split(text.strip(), maxsplit=1)]
    if ends[-1] < ends[0]:
        raise UnitError(f"the days from {ends[0]} to {ends[-1]} run backwards.", "Write the earlier date first.")
    return DateRange(ends[0], ends[-1])


def parse_days(text: str) -> int:
    """Read `12`, `12 days` or `2 weeks` as a number of days. UnitError for anything else, or more than a year."""
    tidy = " ".join(text.split()).casefold()
    found = _COUNTED.fullmatch(tidy if not tidy.isdecimal() else f"{tidy} days")
    number = _number(found["number"]) if found and not found["weekdays"] else None
    if found is None or number is None:
        raise UnitError(f"expected a number of days, found “{text.strip()[:40]}”.", "Write such as 12 days or 2 weeks.")
    days = number * (7 if found["unit"].startswith("week") else 1)
    if days > MOST_DAYS:
        raise UnitError(f"{days} days are more than a year.", "Look at the number: days, or weeks?")
    return days


def parse_window(text: str) -> Window:
    """Read `none`, `1 day`, `3 days`, `one week Monday to Friday` or `two weeks`. UnitError for anything else."""
    tidy = " ".join(text.split()).casefold()
    if tidy in ("none", "no", "0", "0 days"):
        return Window()
    found = _COUNTED.fullmatch(tidy if not tidy.isdecimal() else f"{tidy} days")
    number = _number(found["number"]) if found else None
    in_weeks = bool(found) and found["unit"].startswith("week")  # type: ignore[index]
    if found is None or not number or number > (MOST_WEEKS if in_weeks else MOST_DAYS):
        raise UnitError(f"expected a stretch of days, found “{text.strip()[:40]}”.",
                        "Write such as 1 day, one week Monday to Friday, or none.")  # fmt: skip
    weekdays = parse_weekdays(found["weekdays"]) if found["weekdays"] else EVERY_DAY
    if in_weeks:
        return Window(weeks=number, weekdays=weekdays)
    return Window(days=number, weekdays=weekdays)


def _number(word: str) -> int | None:
    if word.isdecimal():
        return int(word)
    return _SPELLED.index(word) if word in _SPELLED else None


def parse_weekdays(value: Any) -> tuple[int, ...]:
    """Read `Mon-Fri`, `Monday to Friday`, `Tue, Thu`, a list of days or `every day` as weekdays, 0 for Monday.

    UnitError for a word that is no weekday, and for none at all.
    """
    words = value.split(",") if isinstance(value, str) else value
    days: set[int] = set()
    for word in _texts(words):
        if word.strip().casefold() in ("every day", "all", "daily"):
            return EVERY_DAY
        ends = [_weekday(end) for end in re.split(r"\s*(?:-|–|\bto\b)\s*", word.strip())]
        first, last = ends[0], ends[-1]
        if len(ends) > 2:
            raise UnitError(f"expected one stretch of weekdays, found “{word.strip()[:40]}”.", "Write such as Mon-Fri, or Tue, Thu.")
        days |= {(first + step) % 7 for step in range((last - first) % 7 + 1)}
    return tuple(sorted(days))


def _texts(words: object) -> Iterable[str]:
    if not isinstance(words, list | tuple) or not words or not all(isinstance(word, str) for word in words):
        raise UnitError("expected days of the week.", "Write such as Mon-Fri, or Tue, Thu.")
    return words


def _weekday(word: str) -> int:
    short = word.strip().casefold().rstrip(".")
    found = [index for index, name in enumerate(WEEKDAYS) if len(short) >= 2 and name.casefold().startswith(short.removesuffix("s") or short)]
    if len(found) != 1:
        raise UnitError(f"“{word.strip()[:40]}” is not a day of the week.", "Write such as Mon-Fri, or Tue, Thu.")
    return found[0]


def weekdays_shown(weekdays: tuple[int, ...]) -> str:
    """`Mon-Fri` for a run of three days or more, else `Tue, Thu`."""
    if weekdays == EVERY_DAY:
        return "every day"
    short = [WEEKDAYS[day][:3] for day in weekdays]
    together = len(weekdays) > 2 and weekdays[-1] - weekdays[0] == len(weekdays) - 1
    return f"{short[0]}-{short[-1]}" if together else ", ".join(short)
