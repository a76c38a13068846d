"""Groups, jobs of a day, the calendar file, and two projects at once over a term."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

import pytest
from icalendar import Calendar

from lessonkit.lesson.classroom import Group
from lessonkit.lesson.days import DateRange, Window, parse_window
from lessonkit.lesson.firing import Term
from lessonkit.planning.calendar import Lead, backwards
from lessonkit.planning.groups import GroupWay, group_way
from lessonkit.planning.ics import calendar_file
from lessonkit.planning.jobs import all_jobs, jobs_on
from lessonkit.planning.room_days import RoomDays
from lessonkit.planning.term import Project, firings_that_fit, term_grid

SCHOOL_WEEK = (0, 1, 2, 3, 4)
BREAK = {"days": "2027-03-29 to 2027-04-02", "why": "Spring break"}
DAYS = RoomDays(Term.model_validate({"country": "US", "sessions": "Mon-Fri", "closed": [BREAK]}))
GIFT = Lead(12, 3, 6, paint=parse_window("one week Monday to Friday"), wrap_days=1, starts=SCHOOL_WEEK, unloads=SCHOOL_WEEK)
WEEKLY = Lead(7, 2, 4, starts=SCHOOL_WEEK, unloads=SCHOOL_WEEK)
SPRING = DateRange(date(2027, 3, 1), date(2027, 5, 28))
MONDAYS = Group.model_validate({"name": "Monday makers", "code": "MM", "people": "24", "day": "Mon"})
FRIDAYS = Group.model_validate({"name": "Friday makers", "code": "FM", "people": "26", "day": "Fri"})


def gift_ways(*groups: Group) -> list[GroupWay]:
    common = backwards(GIFT, DAYS, date(2027, 5, 7))
    return [group_way(group, "Porthole", common, GIFT, DAYS, group.size) for group in groups]


def test_each_group_has_its_own_days_and_the_kiln_is_common() -> None:
    mondays, fridays = (way.schedule for way in gift_ways(MONDAYS, FRIDAYS))
    assert (mondays.last_make, fridays.last_make) == (date(2027, 4, 5), date(2027, 4, 9))
    assert (mondays.of("paint").first, fridays.of("paint").first) == (date(2027, 4, 26), date(2027, 4, 30))
    assert mondays.of("bisque") == fridays.of("bisque")
    assert (mondays.of("dry").last - mondays.last_make).days == 16


def test_a_group_without_a_class_in_the_painting_week_is_told() -> None:
    closed = RoomDays(Term.model_validate({"sessions": "Mon-Fri", "closed": ["2027-04-26"]}))
    common = backwards(GIFT, closed, date(2027, 5, 7))
    way = group_way(MONDAYS, "Porthole", common, GIFT, closed, 24)
    assert "MM has no class in the days of painting" in way.notes[0]
    assert "paint" not in [stage.kind for stage in way.schedule.stages]


@pytest.mark.parametrize(
    ("day", "jobs"),
    [
        ("2027-04-09", [("make", ("FM",)), ("cover", ("FM",))]),
        ("2027-04-12", [("turn", ("FM",)), ("uncover", ("MM",))]),
        ("2027-04-21", [("load bisque", ("MM", "FM"))]),
        ("2027-04-22", [("leave closed", ("MM", "FM"))]),
        ("2027-04-23", [("unload bisque", ("MM", "FM"))]),
        ("2027-04-26", [("paint", ("MM",))]),
        ("2027-05-07", [("hand back", ("MM", "FM"))]),
        ("2027-05-01", []),
    ],
)
def test_what_is_to_be_done_on_a_day(day: str, jobs: list[tuple[str, tuple[str, ...]]]) -> None:
    found = jobs_on(date.fromisoformat(day), gift_ways(MONDAYS, FRIDAYS))
    assert [(job.do, job.tags) for job in found] == jobs
    assert all(job.pieces == sum({"MM": 24, "FM": 26}[tag] for tag in job.tags) for job in found)


def test_the_calendar_file_is_read_back_by_icalendar() -> None:
    jobs = all_jobs(gift_ways(MONDAYS, FRIDAYS))
    data = calendar_file("Saltmarsh Clay Room", jobs)
    calendar = Calendar.from_ical(data)
    events = calendar.walk("VEVENT")
    assert len(events) == len(jobs)
    assert [(event.decoded("dtstart"), event.decoded("dtend")) for event in events] == [(job.first, job.last + timedelta(1)) for job in jobs]
    uids = [str(event["uid"]) for event in events]
    assert len(set(uids)) == len(uids)
    assert "SUMMARY:Porthole: load bisque (MM\\, FM)" in data.decode().replace("\r\n", "\n")
    assert all(len(line) <= 75 for line in data.split(b"\r\n"))  # RFC 5545, 3.1
    assert b"Monday makers" not in data  # tags alone


def test_the_calendar_file_is_the_same_bytes_and_moves_with_its_plan() -> None:
    once = calendar_file("Room", all_jobs(gift_ways(MONDAYS)))
    assert once == calendar_file("Room", all_jobs(gift_ways(MONDAYS)))
    later = [replace(job, first=job.first + timedelta(7), last=job.last + timedelta(7)) for job in all_jobs(gift_ways(MONDAYS))]
    uids = [[str(event["uid"]) for event in Calendar.from_ical(data).walk("VEVENT")] for data in (once, calendar_file("Room", later))]
    assert uids[0] == uids[1]
    twice = calendar_file("Room", [all_jobs(gift_ways(MONDAYS))[0]] * 2)
    assert len({str(event["uid"]) for event in Calendar.from_ical(twice).walk("VEVENT")}) == 2


def test_a_group_makes_one_project_and_paints_the_one_before() -> None:
    """Made on Monday, dry a week later, fired Monday to Wednesday: painted while the project after the next is made."""
    projects = [Project(name, WEEKLY) for name in ("Tile", "Ring", "Window")]
    (row,) = term_grid([MONDAYS], projects, DAYS, SPRING).rows
    taught = [(session.day.isoformat(), session.make, session.paint) for week in row.weeks for session in week.sessions]
    assert taught[:6] == [
        ("2027-03-01", "Tile", ""),
        ("2027-03-08", "Ring", ""),
        ("2027-03-15", "Window", "Tile"),
        ("2027-03-22", "", "Ring"),
        ("2027-04-05", "", "Window"),
        ("2027-04-12", "", ""),
    ]
    assert [week.closed for week in row.weeks if week.closed] == ["Spring break"]
    assert (row.left_out, row.late) == ((), ())


def test_nothing_is_painted_on_the_day_that_it_is_unloaded() -> None:
    (row,) = term_grid([MONDAYS], [Project("Tile", replace(WEEKLY, bisque_days=7))], DAYS, SPRING).rows
    painted = [session.day for week in row.weeks for session in week.sessions if session.paint]
    assert painted == [date(2027, 3, 22)]  # made 1 March, dry and started 8, unloaded 15


def test_what_cannot_be_finished_is_left_out_and_what_is_late_is_told() -> None:
    projects = [Project(f"project {number}", WEEKLY, date(2027, 4, 1)) for number in range(1, 16)]
    grid = term_grid([MONDAYS, FRIDAYS], projects, DAYS, SPRING)
    assert len(grid.mondays) == 13
    for row in grid.rows:
        made = [session.make for week in row.weeks for session in week.sessions if session.make]
        painted = [session.paint for week in row.weeks for session in week.sessions if session.paint]
        assert made == painted
        assert len(made) + len(row.left_out) == 15
        assert len(row.left_out) >= 4
        in_time = 2 if row.group is MONDAYS else 1  # glazed on a Friday before the break, it waits in the kiln
        assert [late.project for late in row.late] == made[in_time:]
        assert all(late.days == (late.ready - date(2027, 4, 1)).days > 0 for late in row.late)
    (empty,) = term_grid([MONDAYS], projects[:1], DAYS, DateRange(date(2027, 5, 17), date(2027, 5, 28))).rows
    assert empty.left_out == ("project 1",)
    once = Project("once fired", replace(WEEKLY, paint=Window()))
    (row,) = term_grid([FRIDAYS], [once], DAYS, SPRING).rows
    assert not any(session.paint for week in row.weeks for session in week.sessions)
    assert row.left_out == ()


def test_does_the_calendar_hold_all_firings() -> None:
    """58 bisque and 90 glaze loads of two days in one kiln (worked sum: 148 firings), started and unloaded Monday to Friday."""
    year = DateRange(date(2026, 9, 1), date(2027, 6, 11))
    found = firings_that_fit(WEEKLY, 58, 90, DAYS, year)
    assert found.wanted == 148
    assert not found.holds
    assert 90 < found.fit <= 3 * (year.last - year.first).days / 7  # at best Monday, Wednesday and Friday
    assert firings_that_fit(WEEKLY, 20, 20, DAYS, year).holds
    week = DateRange(date(2027, 4, 5), date(2027, 4, 9))
    assert firings_that_fit(WEEKLY, 3, 0, DAYS, week).fit == 2  # Monday to Wednesday, Wednesday to Friday
    assert firings_that_fit(WEEKLY, 0, 0, DAYS, week).holds
