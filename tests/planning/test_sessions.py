"""A lesson divided over classes: sums done by hand, and what must hold of any division."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st

from lessonkit.planning.sessions import Minutes, minutes
from tests.lessons_for_tests import FRAME, ROOM, kit_of

HEAD = FRAME[: FRAME.index("steps:")]
PERIOD = "minutes: {period: 50, arrive: 4, show: 8, clean: 8, leave: 2}\n"  # 28 of work


def of(*steps: str, room: str = ROOM + PERIOD) -> Minutes:
    return minutes(kit_of(HEAD + "steps:\n" + "".join(f"  - {{{step}, text: Do it.}}\n" for step in steps), room))


def test_what_fits_is_one_session() -> None:
    found = of("id: roll, title: Roll, minutes: 10", "id: cut, title: Cut, minutes: 18")
    assert [(session.steps, session.over_min) for session in found.sessions] == [(("roll", "cut"), 0)]
    assert (found.shorten, found.warnings) == ((), ())


def test_it_is_divided_where_the_clay_rests() -> None:
    """10 + 12 + 2 are 24 of 28 minutes; joining would fit in up to step 4 too, but the clay waits after step 3."""
    found = of(
        "id: roll, title: Roll, minutes: 10",
        "id: cut, title: Cut, minutes: 12",
        "id: wait, title: Wait, picture: wait, minutes: 2",
        "id: score, title: Score, minutes: 3",
        "id: join, title: Join, minutes: 12",
    )
    assert [(session.first, session.last, session.rests) for session in found.sessions] == [("1", "3", True), ("4", "5", True)]
    assert found.timeline.over_min == 11
    assert found.warnings[0].startswith("New to this runs 11 min over; its longest steps: 2 Cut 12, 5 Join 12, 1 Roll 10.")


def test_covered_work_rests_until_the_next_class() -> None:
    """Though all of it would fit in one."""
    found = of("id: cut, title: Cut, minutes: 5", "id: cover, title: Cover, picture: cover, minutes: 1", "id: join, title: Join, minutes: 5")
    assert [session.steps for session in found.sessions] == [("cut", "cover"), ("join",)]


def test_where_nothing_rests_it_is_covered_tightly() -> None:
    found = of("id: roll, title: Roll, minutes: 20", "id: cut, title: Cut, minutes: 20")
    assert [(session.steps, session.rests) for session in found.sessions] == [(("roll",), False), (("cut",), True)]
    assert any("covered tightly" in line for line in found.assumptions)


def test_a_single_step_that_is_too_long() -> None:
    found = of("id: roll, title: Roll, minutes: 40", "id: cut, title: Cut, minutes: 5")
    assert [(session.steps, session.over_min) for session in found.sessions] == [(("roll",), 12), (("cut",), 0)]
    assert "step 1 alone is 12 min too long for one class (class 1): divide it." in found.warnings


def test_steps_that_take_no_time_have_no_class_of_their_own() -> None:
    found = of("id: look, title: Look, minutes: 0", "id: roll, title: Roll, minutes: 40", "id: show, title: Show, minutes: 0")
    assert [(session.steps, session.over_min) for session in found.sessions] == [(("look", "roll", "show"), 12)]
    assert "step 2 alone is 12 min too long for one class (class 1): divide it." in found.warnings
    found = of("id: roll, title: Roll, minutes: 40", "id: plan, title: Plan, minutes: 5, only: [advanced]")  # too long at both levels
    assert [session.steps for session in found.sessions] == [("roll",), ("plan",)]
    found = of("id: roll, title: Roll, minutes: 40, only: [easy]", "id: plan, title: Plan, minutes: 5, only: [advanced]")
    assert [(session.steps, session.over_min) for session in found.sessions] == [(("roll", "plan"), 12)]
    assert "step 0a alone is 12 min too long for one class (class 1): divide it." in found.warnings


def test_what_a_level_can_leave_out() -> None:
    found = of("id: roll, title: Roll, minutes: 25", "id: plan, title: Plan, minutes: 6, only: [advanced]", "id: cut, title: Cut, minutes: 3")
    (one,) = found.shorten
    assert (one.level, one.over_min, [step.number for step in one.leave_out]) == ("advanced", 6, ["1a"])
    assert "It can leave out 1a Plan." in found.warnings[0]


def test_without_minutes_it_says_so() -> None:
    found = of("id: roll, title: Roll, minutes: 90", room=ROOM)
    assert len(found.sessions) == 1
    assert found.assumptions == ("the room says no minutes (arrive, show, clean, leave): the lesson is not held against a period",)


@given(st.lists(st.tuples(st.integers(0, 40), st.sampled_from(["plain", "wait", "cover"])), min_size=1, max_size=8))
@settings(max_examples=40, deadline=None)
def test_no_step_is_lost_and_only_single_steps_run_over(steps: list[tuple[int, str]]) -> None:
    found = of(*(f"id: s{index}, title: S, picture: {picture}, minutes: {length}" for index, (length, picture) in enumerate(steps)))
    assert [step for session in found.sessions for step in session.steps] == [f"s{index}" for index in range(len(steps))]
    takes = {f"s{index}": length for index, (length, _) in enumerate(steps)}
    assert all(sum(takes[step] > 0 for step in session.steps) == 1 for session in found.sessions if session.over_min)
    assert len(found.sessions) <= sum(length > 0 or picture == "cover" for length, picture in steps) + 1
