"""From the class to the day in hands and back, against worked sums, printed calendars and date sums of our own."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from lessonkit.lesson.days import Window, parse_window
from lessonkit.lesson.firing import Term
from lessonkit.planning.calendar import Lead, Schedule, backwards, dried_days, forwards
from lessonkit.planning.faults import PlanError
from lessonkit.planning.in_time import catch_up, lateness
from lessonkit.planning.room_days import RoomDays, days_kept, public_holidays

SCHOOL_WEEK = (0, 1, 2, 3, 4)
ONE_WEEK = parse_window("one week Monday to Friday")
GIFT = Lead(dry_days=12, turn_day=3, uncover_day=6, paint=ONE_WEEK, wrap_days=1, starts=SCHOOL_WEEK, unloads=SCHOOL_WEEK)
MAY_7 = date(2027, 5, 7)
HOLIDAY_LEAD = Lead(dry_days=10, paint=parse_window("1 day"))


def room(**term: object) -> RoomDays:
    return RoomDays(Term.model_validate(term))


def shown(schedule: Schedule) -> dict[str, tuple[str, str]]:
    return {stage.kind: (stage.first.isoformat(), stage.last.isoformat()) for stage in schedule.stages}


def test_holidays_agree_with_a_printed_calendar() -> None:
    """2027, as printed calendars have it: Easter Sunday 28 March, Mother's Day (US) Sunday 9 May, Father's Day (US) Sunday 20 June."""
    british = public_holidays("GB", "ENG", 2027)
    easter = date(2027, 3, 28)
    assert british[easter - timedelta(2)] == "Good Friday"
    assert british[easter + timedelta(1)] == "Easter Monday"
    kept = days_kept("US", 2027)
    assert kept[easter] == "Easter Sunday"
    assert kept[date(2027, 5, 9)] == "Mother's Day"
    assert kept[date(2027, 6, 20)] == "Father's Day"
    assert public_holidays("us", None, 2027)[date(2027, 5, 31)] == "Memorial Day"
    assert room(country="US").special_days(MAY_7, date(2027, 5, 14)) == ((date(2027, 5, 9), "Mother's Day"),)
    for country, region in (("XX", None), ("US", "ZZ")):
        with pytest.raises(PlanError, match="are not known"):
            public_holidays(country, region, 2027)


def test_why_the_room_is_closed() -> None:
    closed = [{"days": "2027-03-29 to 2027-04-02", "why": "Spring break"}, "2027-05-28"]
    days = room(country="US", closed=closed, open=["2027-02-15"], sessions="Mon-Fri")
    assert days.why_closed(date(2027, 3, 31)) == "Spring break"
    assert days.why_closed(date(2027, 5, 28)) == "closed"
    assert days.why_closed(date(2027, 5, 31)) == "Memorial Day"
    assert days.why_closed(date(2027, 2, 15)) == ""  # a holiday that is taught
    assert days.holiday(date(2027, 2, 15)) == "Washington's Birthday"
    assert days.has_class(date(2027, 5, 7))
    assert not days.has_class(date(2027, 5, 8))
    assert room().is_open(date(2027, 12, 25))


def test_a_gift_in_hands_on_7_may_2027() -> None:
    """Worked sum, US calendar: wrap 6 May, glaze 3 to 5 May, paint 26 to 30 April, bisque 21 to 23 April, last make 9 April."""
    assert shown(backwards(GIFT, room(country="US"), MAY_7)) == {
        "make": ("2027-04-09", "2027-04-09"),
        "cover": ("2027-04-09", "2027-04-09"),
        "turn": ("2027-04-12", "2027-04-12"),
        "uncover": ("2027-04-15", "2027-04-15"),
        "dry": ("2027-04-09", "2027-04-21"),
        "bisque": ("2027-04-21", "2027-04-23"),
        "paint": ("2027-04-26", "2027-04-30"),
        "glaze": ("2027-05-03", "2027-05-05"),
        "wrap": ("2027-05-06", "2027-05-06"),
        "in hands": ("2027-05-07", "2027-05-07"),
    }


@pytest.mark.parametrize(
    ("closed", "first"),
    [
        ([], "2027-03-29"),
        (["2027-03-29"], "2027-03-30"),  # Easter Monday off: the worked sum's first make
        (["2027-03-29 to 2027-04-02"], "2027-03-22"),  # a spring break eats the week
    ],
)
def test_two_make_weeks(closed: list[str], first: str) -> None:
    lead = replace(GIFT, make=parse_window("two weeks Monday to Friday"))
    assert shown(backwards(lead, room(country="US", closed=closed), MAY_7))["make"] == (first, "2027-04-09")


def test_who_was_absent_on_the_last_day() -> None:
    """Worked sum: made on 14 April it has 7 drying days, so only thin pieces (6 mm) qualify; later there is a spare tile to paint."""
    days = room(country="US", sessions="Mon-Fri")
    found = {day.day: day for day in catch_up(GIFT, days, backwards(GIFT, days, MAY_7), date(2027, 4, 8))}
    assert found[date(2027, 4, 8)].can == found[date(2027, 4, 9)].can == "make it"
    assert (found[date(2027, 4, 14)].can, found[date(2027, 4, 14)].drying_days) == ("make it thinner", 7)
    assert found[date(2027, 4, 14)].thickest_mm == 6
    assert found[date(2027, 4, 15)].can == found[date(2027, 4, 30)].can == "paint a spare"
    assert date(2027, 4, 10) not in found
    assert max(found) == date(2027, 4, 30)
    seams = catch_up(replace(GIFT, joined=True), days, backwards(GIFT, days, MAY_7), date(2027, 4, 14))
    assert seams[0].can == "paint a spare"
    bare = replace(GIFT, paint=Window())
    assert catch_up(bare, days, backwards(bare, days, MAY_7), date(2027, 5, 3))[-1].can == "watch"


def test_c38_not_dry_before_the_holiday() -> None:
    """Made 2 May 2025, 10 days of drying, bisque 2, paint 1, glaze 2: ready 17 May, 8 days late; last making day 24 April."""
    late = lateness(HOLIDAY_LEAD, room(), date(2025, 5, 2), date(2025, 5, 9))
    assert (late.days_late, late.ready, late.last_make) == (8, date(2025, 5, 17), date(2025, 4, 24))
    assert lateness(HOLIDAY_LEAD, room(), date(2025, 4, 24), date(2025, 5, 9)).days_late == 0
    way = forwards(HOLIDAY_LEAD, room(), date(2025, 5, 2))
    assert (way.of("bisque").first - way.last_make).days == 10  # never fewer


def test_c38_no_firing_at_weekends() -> None:
    """The glaze firing would end on Saturday: the kiln stays closed until Monday, and the last making day is earlier."""
    lead = replace(HOLIDAY_LEAD, starts=SCHOOL_WEEK, unloads=SCHOOL_WEEK)
    late = lateness(lead, room(), date(2025, 5, 2), date(2025, 5, 9))
    assert (late.days_late, late.ready, late.last_make) == (10, date(2025, 5, 19), date(2025, 4, 22))


def test_c38_leap_day_and_year_end() -> None:
    """Date sums by hand: 2024 has a 29 February, 2025 and 2100 have none."""
    for made, ready in ((date(2024, 2, 20), date(2024, 3, 6)), (date(2025, 2, 20), date(2025, 3, 7)), (date(2100, 2, 20), date(2100, 3, 7))):
        assert forwards(HOLIDAY_LEAD, room(), made).in_hands == ready
        assert backwards(HOLIDAY_LEAD, room(), ready).last_make == made
    assert forwards(HOLIDAY_LEAD, room(), date(2026, 12, 24)).in_hands == date(2027, 1, 8)
    new_year = forwards(replace(HOLIDAY_LEAD, dry_days=7), room(country="US"), date(2026, 12, 24))  # 31 and 1: start 31, unload 2
    assert new_year.of("bisque").first == date(2026, 12, 31)
    assert forwards(replace(HOLIDAY_LEAD, dry_days=8), room(country="US"), date(2026, 12, 24)).of("bisque").first == date(2027, 1, 2)


def test_humid_days_dry_less() -> None:
    """Half as long again in humid weather (from memory, no source)."""
    damp = room(humid=["2027-06-01 to 2027-08-31"])
    assert forwards(HOLIDAY_LEAD, damp, date(2027, 6, 1)).of("bisque").first == date(2027, 6, 16)
    assert backwards(HOLIDAY_LEAD, damp, date(2027, 6, 21)).last_make == date(2027, 6, 1)
    assert dried_days(damp, date(2027, 6, 1), date(2027, 6, 16)) == pytest.approx(10)


def test_several_loads_in_one_kiln() -> None:
    lead = replace(GIFT, bisque_loads=2)
    stages = [stage for stage in forwards(lead, room(), date(2027, 4, 9)).stages if stage.kind == "bisque"]
    assert [(stage.load, stage.first.day, stage.last.day) for stage in stages] == [(1, 21, 23), (2, 23, 26)]
    assert backwards(lead, room(), MAY_7).last_make == date(2027, 4, 7)


def test_one_firing_only() -> None:
    way = forwards(replace(HOLIDAY_LEAD, paint=Window()), room(), date(2027, 4, 1))
    assert [stage.kind for stage in way.stages if stage.kind in ("paint", "glaze")] == []
    assert way.in_hands == date(2027, 4, 13)
    with pytest.raises(KeyError):
        way.of("glaze")


def test_what_cannot_be_planned_is_told() -> None:
    with pytest.raises(PlanError, match="closed on 2027-05-31: Memorial Day"):
        forwards(GIFT, room(country="US"), date(2027, 5, 31))
    with pytest.raises(PlanError, match="no day was found"):
        forwards(GIFT, room(closed=["2027-04-10 to 2031-01-01"]), date(2027, 4, 9))
    with pytest.raises(PlanError, match="no day was found"):
        backwards(GIFT, room(closed=["2000-01-01 to 2027-05-06"]), MAY_7)
    with pytest.raises(PlanError):
        forwards(GIFT, room(), date(2100, 12, 28))


def test_handed_out_before_a_closed_day() -> None:
    """Wanted for Sunday, when nobody is there: handed out on Friday."""
    days = room(country="US", closed=["2027-05-08 to 2027-05-09"])
    assert backwards(GIFT, days, date(2027, 5, 9)).in_hands == MAY_7


LEADS = st.builds(
    Lead,
    dry_days=st.integers(0, 16),
    turn_day=st.integers(1, 4),
    uncover_day=st.integers(1, 8),
    bisque_days=st.integers(1, 3),
    glaze_days=st.integers(1, 3),
    paint=st.sampled_from([Window(), Window(days=1), Window(days=3), Window(weeks=1, weekdays=SCHOOL_WEEK), Window(weeks=2)]),
    wrap_days=st.integers(0, 2),
    starts=st.sampled_from([SCHOOL_WEEK, (0, 2), (0, 1, 2, 3, 4, 5, 6)]),
    unloads=st.sampled_from([SCHOOL_WEEK, (2, 4), (0, 1, 2, 3, 4, 5, 6)]),
    bisque_loads=st.integers(1, 2),
)
ROOMS = st.sampled_from([
    room(),
    room(sessions="Mon-Fri"),
    room(country="US", sessions="Mon-Fri", closed=["2027-03-29 to 2027-04-02"]),
    room(sessions="Tue", humid=["2027-02-01 to 2027-04-10"]),
    room(country="GB", region="ENG", closed=["2027-02-15 to 2027-02-19", "2027-03-26 to 2027-04-09"]),
])  # fmt: skip


@settings(max_examples=60, deadline=None)
@given(LEADS, ROOMS, st.integers(0, 60))
def test_there_and_back(lead: Lead, days: RoomDays, later: int) -> None:
    """What is made on the last day is in time; what is made on the next class day is not. Drying is never shortened."""
    wanted = date(2027, 4, 20) + timedelta(later)
    last = backwards(lead, days, wanted).last_make
    assert days.has_class(last)
    assert forwards(lead, days, last).in_hands <= wanted
    following = next(day for day in (last + timedelta(n) for n in range(1, 40)) if days.has_class(day))
    assert forwards(lead, days, following).in_hands > wanted


@settings(max_examples=40, deadline=None)
@given(LEADS, ROOMS, st.integers(0, 90))
def test_the_stages_follow_one_another(lead: Lead, days: RoomDays, later: int) -> None:
    for way in (forwards(lead, days, next(day for day in (date(2027, 1, 19) + timedelta(later + n) for n in range(40)) if days.has_class(day))),
                backwards(lead, days, date(2027, 6, 1))):  # fmt: skip
        by_kind = [stage for kind in ("make", "dry", "bisque", "paint", "glaze", "wrap", "in hands") for stage in way.stages if stage.kind == kind]
        for before, after in pairwise(by_kind):
            assert before.last <= after.first
            if before.kind in ("bisque", "wrap") and after.kind in ("paint", "in hands"):
                assert before.last < after.first or after.kind == "in hands"
        assert dried_days(days, way.last_make, way.of("bisque").first) >= lead.dry_days - 1e-9
        for stage in way.stages:
            if stage.kind in ("bisque", "glaze"):
                assert stage.first.weekday() in lead.starts
                assert stage.last.weekday() in lead.unloads
                assert days.is_open(stage.first)
                assert days.is_open(stage.last)
                assert (stage.last - stage.first).days >= (lead.bisque_days if stage.kind == "bisque" else lead.glaze_days)
            if stage.kind in ("turn", "uncover"):
                assert days.has_class(stage.first)
                assert way.last_make < stage.first < way.of("dry").last
