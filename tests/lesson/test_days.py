"""Dates, ranges, weekdays and stretches as a teacher writes them; nothing is guessed."""

from __future__ import annotations

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from lessonkit.lesson.days import (
    EVERY_DAY,
    DateRange,
    Window,
    parse_date,
    parse_days,
    parse_range,
    parse_weekdays,
    parse_window,
    weekdays_shown,
)
from lessonkit.units import UnitError
from tests.lessons_for_tests import FRAME, ROOM, kit_of, problems_of


@given(st.dates(date(2000, 1, 1), date(2100, 12, 31)))
def test_every_iso_date_is_read(day: date) -> None:
    assert parse_date(f" {day.isoformat()} ") == day


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("05/09/2025", "two ways: write 2025-05-09 or 2025-09-05"),
        ("5.9.2025", "two ways: write 2025-05-09 or 2025-09-05"),
        ("13/05/2025", "Write 2025-05-13."),
        ("05/05/2025", "Write 2025-05-05."),
        ("2025-02-29", "there is no day 2025-02-29"),
        ("2100-02-29", "there is no day"),
        ("1999-12-31", "outside the years 2000 to 2100"),
        ("May 9", "expected a date, found “May 9”"),
        ("2027-5-7", "Write year-month-day"),
        ("", "expected a date"),
    ],
)
def test_another_date_is_refused(text: str, told: str) -> None:
    with pytest.raises(UnitError) as caught:
        parse_date(text)
    assert told in str(caught.value)


def test_c38_quoted_and_unquoted_dates_are_the_same() -> None:
    plain = kit_of(FRAME + "dates: {make: 2025-05-02, in_hands: 2025-05-09}\n").lesson.dates
    quoted = kit_of(FRAME + 'dates: {make: "2025-05-02", in_hands: "2025-05-09"}\n').lesson.dates
    assert plain == quoted
    assert plain is not None
    assert plain.make == date(2025, 5, 2)
    (line,) = problems_of(FRAME + "dates: {in_hands: 05/09/2025}\n")
    line_number = FRAME.count("\n") + 1
    assert f"lesson.yaml:{line_number}:19: error: expected a date, found “05/09/2025”. It can be read in two ways" in line
    (line,) = problems_of(FRAME + "dates: {make: 05/09/2025}\n")
    assert "two ways" in line
    (line,) = problems_of(FRAME + "dates: {make: 2025-05-10, in_hands: 2025-05-09}\n")
    assert "before it is made" in line


def test_ranges() -> None:
    spring = DateRange(date(2027, 3, 29), date(2027, 4, 2))
    assert parse_range("2027-03-29 to 2027-04-02") == parse_range("2027-03-29 – 2027-04-02") == spring
    assert parse_range("2027-05-31") == DateRange(date(2027, 5, 31), date(2027, 5, 31))
    assert date(2027, 4, 2) in spring
    assert date(2027, 4, 3) not in spring
    assert str(spring) == "2027-03-29 to 2027-04-02"
    with pytest.raises(UnitError, match="run backwards"):
        parse_range("2027-04-02 to 2027-03-29")


def test_weekdays() -> None:
    assert parse_weekdays("Mon-Fri") == parse_weekdays("Monday to Friday") == (0, 1, 2, 3, 4)
    assert parse_weekdays("Tue, Thu") == parse_weekdays(["Tuesdays", "thurs"]) == (1, 3)
    assert parse_weekdays("Sat-Mon") == (0, 5, 6)
    assert parse_weekdays("every day") == EVERY_DAY
    for word in ("M", "Funday", "", "Mon-Wed-Fri", "T"):
        with pytest.raises(UnitError):
            parse_weekdays(word)
    for value in ([], None, 3, [["Mon"]]):
        with pytest.raises(UnitError):
            parse_weekdays(value)
    assert [weekdays_shown(days) for days in ((0, 1, 2, 3, 4), (1, 3), (2,), EVERY_DAY)] == ["Mon-Fri", "Tue, Thu", "Wed", "every day"]


def test_days_and_stretches() -> None:
    assert [parse_days(text) for text in ("12", "12 days", "2 weeks", "one week", "1 day", "0")] == [12, 12, 14, 7, 1, 0]
    assert parse_window("one week Monday to Friday") == Window(weeks=1, weekdays=(0, 1, 2, 3, 4))
    assert parse_window("two weeks") == Window(weeks=2)
    assert parse_window("3 days") == parse_window("3") == Window(days=3)
    assert parse_window("none") == Window()
    assert [str(parse_window(text)) for text in ("1 week Mon-Fri", "1 day", "none")] == ["1 week, Mon-Fri", "1 day", "none"]
    for text in ("soon", "-1 days", "400 days", "1.5 weeks", "week", "99 weeks"):
        with pytest.raises(UnitError):
            parse_days(text)
        with pytest.raises(UnitError):
            parse_window(text)


@pytest.mark.parametrize(
    ("line", "told"),
    [
        ("kiln: {shelf: {round: 53 cm, wide: 30 cm}, stack: 66 cm}", "needs both wide and deep"),
        ("kiln: {shelf: {round: 53 cm, half_round: 53 cm}, stack: 66 cm}", "one shape"),
        ("kiln: {shelf: {round: 53 cm}, stack: 66 cm, opens_below: 80}", "below 50 °C"),
        ("kiln: {shelf: {round: 53 cm}, stack: 66 cm, rim: -1 mm}", "0 mm or more"),
        ("kiln: {shelf: {round: 53 cm}, stack: 66 cm, beside: 0}", "beside is 0"),
        ("kiln: {shelf: {round: 53 cm}, inside: {round: 50 cm}, stack: 66 cm}", "larger than the inside"),
        ("kiln: {shelf: {round: 53 cm}, stack: 66 cm, starts: Mon-Fry}", "“Fry” is not a day"),
        ("racks: {shelves: 0, wide: 120 cm, deep: 60 cm}", "1 shelf or more"),
        ("calendar: {region: TX}", "needs its country"),
        ("calendar: {closed: [2027-04-02 to 2027-03-29]}", "run backwards"),
        ("calendar: {term: 05/09/2025}", "two ways"),
    ],
)
def test_a_fault_in_kiln_racks_or_calendar_stands_at_its_line(line: str, told: str) -> None:
    (found,) = problems_of(FRAME, ROOM + line + "\n")
    assert found.startswith(f"room.yaml:{ROOM.count(chr(10)) + 1}:")
    assert told in found


def test_short_forms_of_the_room() -> None:
    room = kit_of(FRAME, ROOM + """\
racks: {shelves: 10, wide: 120 cm, deep: 60 cm}
calendar:
  closed: [2027-05-31, {days: 2027-03-29 to 2027-04-02, why: Spring break}]
  sessions: [Mon, Wed]
""").room  # fmt: skip
    assert [rack.shelves for rack in room.racks] == [10]
    assert room.calendar is not None
    assert [closed.why for closed in room.calendar.closed] == ["closed", "Spring break"]
    assert room.calendar.sessions == (0, 2)
