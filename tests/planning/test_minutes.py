"""Minutes by level against sums done by hand, and what must hold for any lesson."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from lessonkit.planning.minutes import Course, Timeline, Unfinished, timeline
from tests.lessons_for_tests import FRAME, ROOM, kit_of

HEAD = FRAME[: FRAME.index("steps:")]
PERIOD = "minutes: {period: 50, arrive: 4, show: 8, clean: 8, leave: 2}\n"


def steps(*lines: str) -> str:
    return HEAD + "steps:\n" + "".join(f"  - {{{line}, text: Do it.}}\n" for line in lines)


PORTHOLE = steps(
    "id: plan, title: Plan, minutes: 2, only: [advanced]",
    "id: roll, title: Roll, minutes: {easy: 6, advanced: 5}",
    "id: press, title: Press, minutes: {easy: 4, advanced: 3}",
    "id: cut, title: Cut, minutes: 8, together: true",
    "id: hole, title: Make the hole, minutes: 2",
    "id: join, title: Join, minutes: 6",
    "id: show, title: Show, minutes: 2",
)
TOO_LONG = steps(
    "id: roll, title: Roll, minutes: {easy: 9, advanced: 5}, together: true",
    "id: plan, title: Plan, minutes: 3, only: [advanced]",
    "id: cut, title: Cut, minutes: {easy: 9, advanced: 12}, together: true",
    "id: join, title: Join, minutes: 8",
    "id: show, title: Show, minutes: 2",
)


def of(times: Timeline, level: str) -> Course:
    return next(course for course in times.courses if course.level == level)


def bars(course: Course) -> list[tuple[str, float, float]]:
    return [(s.number or s.kind, s.start_min, s.end_min) for s in course.stretches]


def test_a_lesson_that_fills_its_period() -> None:
    """4 in, 8 to show, 28 of work to minute 40, 8 to clean, 2 out: both levels are ready to cut at 22 (summed by hand)."""
    times = timeline(kit_of(PORTHOLE, ROOM + PERIOD))
    assert times.together_min == (4, 12, 22, 40)
    assert (times.period_min, times.clean_at_min, times.for_work_min, times.ends_min) == (50, 40, 28, 50)
    assert bars(of(times, "easy")) == [
        ("arrive", 0, 4), ("show", 4, 12), ("1", 12, 18), ("2", 18, 22), ("3", 22, 30), ("4", 30, 32), ("5", 32, 38), ("6", 38, 40),
        ("clean", 40, 48), ("leave", 48, 50),
    ]  # fmt: skip
    assert bars(of(times, "advanced"))[2:6] == [("0a", 12, 14), ("1", 14, 19), ("2", 19, 22), ("3", 22, 30)]
    assert times.over_min == 0
    assert all(course.work_min == 28 and not course.unfinished for course in times.courses)


def test_a_lesson_that_is_too_long() -> None:
    """In 40 minutes with 20 of work: easy 28 is 8 over; advanced waits 1 to cut together, ends at 42, 11 over (by hand)."""
    times = timeline(kit_of(TOO_LONG, ROOM + "minutes: {period: 40, arrive: 3, show: 8, clean: 7, leave: 2}\n"))
    easy, advanced = of(times, "easy"), of(times, "advanced")
    assert times.clean_at_min == 31
    assert (easy.over_min, advanced.over_min, times.over_min) == (8, 11, 11)
    assert easy.unfinished == (Unfinished("3", "Join", 6), Unfinished("4", "Show", 2))
    assert advanced.unfinished == (Unfinished("2", "Cut", 1), Unfinished("3", "Join", 8), Unfinished("4", "Show", 2))
    assert ("wait", 19, 20) in bars(advanced)
    assert ("spare", 39, 42) in bars(easy)
    assert times.together_min == (3, 11, 20, 42)
    assert times.ends_min == 51


def test_spare_minutes_come_before_clean_up() -> None:
    """12 + 8 is minute 20; clean-up still begins at 40."""
    times = timeline(kit_of(FRAME, ROOM + PERIOD))
    assert bars(of(times, "easy"))[2:4] == [("1", 12, 20), ("spare", 20, 40)]


def test_a_room_that_gives_no_minutes() -> None:
    """Only the work, from 0; nothing can be over."""
    times = timeline(kit_of(TOO_LONG))
    assert (times.period_min, times.clean_at_min, times.for_work_min) == (None, None, None)
    assert bars(of(times, "easy")) == [("1", 0, 9), ("2", 9, 18), ("3", 18, 26), ("4", 26, 28)]
    assert times.together_min == (0, 9)
    assert times.ends_min == 31
    assert times.over_min == 0


def test_what_only_one_level_does_together_is_no_moment_for_all() -> None:
    lesson = PORTHOLE.replace("only: [advanced]", "only: [advanced], together: true").replace("8, together: true", "8")
    assert timeline(kit_of(lesson)).together_min == ()


def test_a_step_of_no_minutes_is_kept() -> None:
    times = timeline(kit_of(FRAME.replace("minutes: 8", "minutes: 0"), ROOM + PERIOD))
    assert ("1", 12, 12) in bars(of(times, "easy"))


@settings(max_examples=40, deadline=None)
@given(st.lists(st.tuples(st.integers(0, 15), st.integers(0, 15), st.booleans(), st.sampled_from(["", "easy", "advanced"])), min_size=1, max_size=9),
       st.booleans())  # fmt: skip
def test_every_course_runs_without_a_gap_and_all_end_together(lesson: list[tuple[int, int, bool, str]], period: bool) -> None:
    lines = []
    for i, (easy, advanced, together, only) in enumerate(lesson):
        more = (", together: true" if together else "") + (f", only: [{only}]" if only else "")
        lines.append(f"id: s{i}, title: Step, minutes: {{easy: {easy}, advanced: {advanced}}}{more}")
    kit = kit_of(steps("id: begin, title: Begin, minutes: 1", *lines), ROOM + PERIOD if period else ROOM)
    times = timeline(kit)
    for course in times.courses:
        ends = [0.0, *(s.end_min for s in course.stretches)]
        assert all(s.start_min == end for s, end in zip(course.stretches, ends, strict=False))
        assert course.work_min == sum(step.minutes for step in kit.steps[course.level])
        assert sum(late.lacks_min for late in course.unfinished) <= course.over_min
        if period:
            assert ends[-1] == times.ends_min == 50 + times.over_min
    for i, (_, _, together, only) in enumerate(lesson):
        if together and not only:
            place = {level: [step.id for step in of_level].index(f"s{i}") for level, of_level in kit.steps.items()}
            starts = {[s for s in of(times, level).stretches if s.kind == "step"][at].start_min for level, at in place.items()}
            assert len(starts) == 1
            assert starts <= set(times.together_min)


def test_waiting_is_not_counted_as_work() -> None:
    times = timeline(kit_of(TOO_LONG))
    assert of(times, "advanced").work_min == pytest.approx(5 + 3 + 12 + 8 + 2)
