"""Days and clock times in the room's language. A day comes as the plan writes it: year-month-day."""

from __future__ import annotations

import re
from collections.abc import Mapping
from datetime import date, timedelta
from typing import Any

from lessonkit.layout.wording import say
from lessonkit.units import NO_BREAK

_CLOCK = re.compile(r"\s*(\d{1,2})[:.](\d{2})(?!\d)")


def long_day(text: str, language: str) -> str:
    """`Tuesday 5 January 2027`."""
    day = date.fromisoformat(text)
    return say("day_long", language, weekday=_word("day_weekdays", language, day.weekday()), day=day.day,
               month=_word("day_months", language, day.month - 1), year=day.year)  # fmt: skip


def short_day(text: str, language: str) -> str:
    """`Tue 5 Jan`, never divided."""
    day = date.fromisoformat(text)
    words = say("day_short", language, weekday=_word("day_weekdays_short", language, day.weekday()), day=day.day,
                month=_word("day_months_short", language, day.month - 1))  # fmt: skip
    return words.replace(" ", NO_BREAK)


def two_lines(text: str, language: str) -> str:
    """`Tue` over `5 Jan`."""
    return f"{_word('day_weekdays_short', language, date.fromisoformat(text).weekday())}\n{day_and_month(text, language)}"


def day_and_month(text: str, language: str) -> str:
    """`5 Jan`, never divided."""
    day = date.fromisoformat(text)
    return f"{day.day}{NO_BREAK}{_word('day_months_short', language, day.month - 1)}"


def weekday_letter(text: str, language: str) -> str:
    return _word("day_weekdays_short", language, date.fromisoformat(text).weekday())[0]


def span_words(stage: Mapping[str, Any], language: str) -> str:
    """`Tue 5 Jan`, or `Thu 21 Jan to Mon 25 Jan`."""
    first, last = short_day(stage["first"], language), short_day(stage["last"], language)
    return first if first == last else say("day_span", language, first=first, last=last)


def days_of(first: str, last: str) -> list[str]:
    """Every day from the first to the last, both counted."""
    start, end = date.fromisoformat(first), date.fromisoformat(last)
    return [(start + timedelta(days=step)).isoformat() for step in range((end - start).days + 1)]


def is_weekend(text: str) -> bool:
    return date.fromisoformat(text).weekday() >= 5


def _word(key: str, language: str, index: int) -> str:
    return say(key, language).split()[index]


def clock(at: str | None, minute: float) -> str:
    """The time of day at a minute of a class that begins `at` (`9:30`, `18.00`), to the nearest minute; empty where `at` is no time."""
    found = _CLOCK.match(at or "")
    if not found:
        return ""
    whole = int(found[1]) * 60 + int(found[2]) + int(minute + 0.5)
    return f"{whole // 60 % 24}:{whole % 60:02}"


def minutes_seconds(minutes: float) -> str:
    """`20:15`."""
    seconds = round(minutes * 60)
    return f"{seconds // 60}:{seconds % 60:02}"
