"""Queues, turns and the run of a class: against closed forms, sums done by hand, and a simulation by another hand (simpy)."""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import asdict
from math import ceil
from random import Random
from typing import Any

import pytest
import simpy
from hypothesis import given, settings
from hypothesis import strategies as st

from lessonkit.lesson.classroom import Group
from lessonkit.planning.faults import PlanError
from lessonkit.planning.queues import queue, rotation, turns
from lessonkit.planning.running import Stage, Walker, crowd, run
from lessonkit.planning.stations import Stations, stations
from tests.lessons_for_tests import FRAME, ROOM, kit_of, problems_of

HEAD = FRAME[: FRAME.index("steps:")]
PERIOD = "minutes: {period: 50, arrive: 4, show: 8, clean: 8, leave: 2}\n"
ROOM_OF_28 = ROOM + PERIOD + "stations: [{name: Table, places: 28}, {name: Texture, places: 14}, {name: Check, places: 3}]\n"
LESSON = HEAD + """\
steps:
  - {id: roll, title: Roll, station: Table, minutes: 6, text: Roll., together: yes}
  - {id: stamp, title: Stamp, station: Texture, minutes: 4, text: Stamp.}
  - {id: cut, title: Cut, station: Table, minutes: {easy: 6, advanced: 4}, text: Cut.}
  - {id: show, title: Show, station: Check, minutes: 2, text: Show.}
"""


def group(**levels: int) -> Group:
    return Group.model_validate({"name": "Tuesday", "levels": {level: str(count) for level, count in levels.items()}})


def planned(lesson: str = LESSON, room: str = ROOM_OF_28, people: Group | None = None, seed: int = 1) -> Stations:
    return stations(kit_of(lesson, room), people or group(easy=14, advanced=14), seed)


def at_once(people: int, places: int, each_min: float) -> tuple[Any, ...]:
    """All come to one station at once and take equally long."""
    return run([Walker(1, (Stage("show", "check", each_min),))] * people, {"check": places})


class TestCheck:
    """28 at 45 s each are 21 minutes: the last is served at 21:00 after waiting 20:15. In the last 15 minutes 20 are seen and 8 wait.
    A partner's look makes it 25 s and 11.7 min. One tap for 30 s each is 14 min, four buckets 3.5. (Summed by hand.)"""

    def test_by_the_closed_form(self) -> None:
        found = queue(28, 0.75, time_min=15)
        assert (found.last_served_min, found.longest_wait_min, found.seen, found.waiting) == (21.0, 20.25, 20, 8)
        assert queue(28, 25 / 60).last_served_min == pytest.approx(11.67, abs=0.005)
        assert (queue(28, 0.5).last_served_min, queue(28, 0.5, 4).last_served_min) == (14, 3.5)

    def test_by_the_run(self) -> None:
        found = crowd(at_once(28, 1, 0.75), bell_min=15)
        assert (found.last_done_min, found.longest_wait_min, found.longest_queue) == (21.0, 20.25, 27)
        assert (found.visits - found.waiting_at_bell, found.waiting_at_bell, found.busy_at_bell) == (20, 8, 0)


@given(st.integers(1, 60), st.integers(1, 12), st.sampled_from([0.25, 0.5, 0.75, 2, 4.5]), st.integers(0, 40))
@settings(max_examples=50, deadline=None)
def test_the_run_agrees_with_the_closed_form(people: int, places: int, each: float, left: int) -> None:
    """One queue, fixed times: the last of n at c places is served after ceil(n / c) times the minutes."""
    summed, found = queue(people, each, places, left), crowd(at_once(people, places, each), left)
    assert found.last_done_min == summed.last_served_min == ceil(people / places) * each
    assert found.longest_wait_min == summed.longest_wait_min
    assert found.longest_queue == max(0, people - places)
    assert summed.seen is not None
    assert summed.waiting == people - summed.seen == found.waiting_at_bell + found.busy_at_bell


def by_simpy(walkers: list[Walker], places: dict[str, int], vary: float, seed: int) -> tuple[list[tuple[float, float, float]], dict[str, int]]:
    """Ready, begun and done for every walker and stage, and the longest queue at each station, by simpy's resources."""
    random, env = Random(seed), simpy.Environment()
    stops = {name: simpy.Resource(env, count) for name, count in places.items()}
    longest = dict.fromkeys(places, 0)
    times: dict[tuple[int, int], tuple[float, float, float]] = {}

    def walk(index: int, way: list[tuple[str, float]]) -> Iterator[Any]:
        for at, (station, minutes) in enumerate(way):
            ready = env.now
            if station not in stops:
                yield env.timeout(minutes)
                times[index, at] = (ready, ready, env.now)
                continue
            with stops[station].request() as turn:
                longest[station] = max(longest[station], len(stops[station].queue))
                yield turn
                start = env.now
                yield env.timeout(minutes)
            times[index, at] = (ready, start, env.now)

    ways = [[(stage.station, stage.minutes * random.uniform(1 - vary, 1 + vary)) for stage in walker.way] for walker in walkers]
    for index, way in enumerate(ways):
        env.process(walk(index, way))
    env.run()
    return [times[key] for key in sorted(times)], longest


@pytest.mark.parametrize("seed", [1, 2, 3, 4, 5])
def test_the_run_agrees_with_simpy(seed: int) -> None:
    """Three stations in a row, minutes that vary, fewer places than people: the same times and the same longest queues (simpy 4)."""
    way = (Stage("roll", "table", 6), Stage("stamp", "texture", 4), Stage("join", "join", 5), Stage("show", "check", 0.75), Stage("tidy", "table", 2))
    walkers, places = [Walker(1, way[seed % 2 :])] * 14 + [Walker(2, way)] * 14, {"texture": 6, "join": 8, "check": 1}
    visits = run(walkers, places, vary=0.2, seed=seed)
    theirs, longest = by_simpy(walkers, places, 0.2, seed)
    ours = sorted((visit.walker, visit.ready_min, visit.start_min, visit.end_min) for visit in visits)
    assert [times for _, *times in ours] == [pytest.approx(times, abs=1e-9) for times in theirs]
    assert {name: crowd([v for v in visits if v.station == name]).longest_queue for name in places} == longest
    assert max(longest.values()) > 3


def test_a_gate_waits_for_the_slowest() -> None:
    way = (Stage("roll", "table", 4), Stage("cut", "table", 2, gate=True))
    slow = (Stage("roll", "table", 9), Stage("cut", "table", 2, gate=True))
    visits = run([Walker(1, way), Walker(1, slow)], {}, begin_min=12)
    assert [(v.step, v.start_min) for v in visits] == [("roll", 12), ("roll", 12), ("cut", 21), ("cut", 21)]


def test_a_table_moves_together() -> None:
    """Six who need a place each: at 14 places two tables at once, the third when one is through; at one place six rounds."""
    tables = [Walker(number, (Stage("stamp", "texture", 4),), people=6) for number in (1, 2, 3)]
    assert [visit.start_min for visit in run(tables, {"texture": 14})] == [0, 0, 4]
    (visit,) = run([Walker(1, (Stage("show", "check", 0.75),), people=6)], {"check": 1})
    assert visit.end_min == 4.5


def test_turns() -> None:
    """People divided by places, rounded up, times the minutes: 28 at 14 places are two turns; 25 at 19 wheels leave 6 without (case C40)."""
    found = turns("Texture", 28, 14, 4, 28)
    assert (found.turns, found.takes_min, found.without, found.fits) == (2, 8, 14, True)
    assert str(found) == "28 people, 14 Texture places: 14 without. 2 turns of 4 min: 8 min of 28."
    assert str(turns("wheel", 25, 19, 15, 28)) == "25 people, 19 wheel places: 6 without. 2 turns of 15 min: 30 min, and there are 28: it is a queue."


def test_c40_more_people_than_wheels() -> None:
    """13, 5 and 7 learners, 19 places at the wheel."""
    room = ROOM.replace("levels: {easy: New to this, advanced: Done this before}", "levels: {easy: New, standard: Some, advanced: Done}")
    lesson = HEAD + "steps:\n  - {id: throw, title: Throw, station: wheel, minutes: 10, text: Throw.}\n"
    found = planned(lesson, room + "stations: [{name: wheel, places: 19}]\n", group(easy=13, standard=5, advanced=7))
    assert found.warnings == ("25 people, 19 wheel places: 6 without. 2 turns of 10 min: 20 min.",)
    assert found.check is None


def test_rotation() -> None:
    """50 - 4 - 8 - 8 are 30 minutes: four stations of 7.5 each, 6.5 at work. Every group is once at every station, none is full twice."""
    found = rotation(("texture", "join", "paint", "check"), 30)
    assert (found.slot_min, found.at_work_min) == (7.5, 6.5)
    assert found.rounds == ((1, 2, 3, 4), (4, 1, 2, 3), (3, 4, 1, 2), (2, 3, 4, 1))
    assert rotation(("texture", "join", "paint"), 30, groups=2).rounds == ((1, 2, 0), (0, 1, 2), (2, 0, 1))
    with pytest.raises(PlanError, match="5 groups cannot go round 4"):
        rotation(("a", "b", "c", "d"), 30, groups=5)
    with pytest.raises(PlanError, match=r"has 0\.5 min, and moving takes 1"):
        rotation(("a", "b"), 1)


class TestClass:
    """28 people: in at 12, clean-up at 40, so 28 minutes; the texture table takes 14; the check is one adult, 45 s each."""

    found = planned()

    def test_what_all_at_once_would_mean(self) -> None:
        """The first can come to the check at 12 + 6 + 4 + 4 = 26, so 14 minutes are left: 18 are seen."""
        check = self.found.check
        assert check is not None
        assert (check.people, check.last_served_min, check.longest_wait_min, check.time_min, check.seen, check.waiting) == (28, 21, 20.25, 14, 18, 10)
        assert self.found.check_with_peer is not None
        assert self.found.check_with_peer.last_served_min == pytest.approx(11.67, abs=0.01)

    def test_scarce_places(self) -> None:
        assert [(one.name, one.turns, one.takes_min) for one in self.found.scarce] == [("Texture", 2, 8)]
        assert self.found.warnings[:2] == (
            "28 people, 14 Texture places: 14 without. 2 turns of 4 min: 8 min of 28.",
            "28 at a check of 45 s are 21 min. If all come at once, 18 are seen and 10 wait: send the tables one after the other.",
        )

    def test_the_run_is_repeated_by_its_seed(self) -> None:
        assert planned() == self.found
        assert planned(seed=2).runs != self.found.runs

    def test_who_waits_at_the_bell(self) -> None:
        """The run's counts agree: who waits and who is busy at the check are those not through."""
        check = next(one for one in self.found.runs if one.station == "Check")
        assert check.crowd.waiting_at_bell == sum(one.people for one in self.found.waiting if one.station == "Check") > 0
        assert self.found.unfinished is not None
        assert self.found.unfinished >= check.crowd.waiting_at_bell + (check.crowd.busy_at_bell or 0)

    def test_what_would_change_it(self) -> None:
        changes = {change.what: change for change in self.found.changes}
        assert list(changes) == ["Texture has one more place", "a second adult is at the check", "a partner checks first"]
        assert self.found.unfinished is not None
        for what in ("a second adult is at the check", "a partner checks first"):
            assert changes[what].unfinished is not None
            assert changes[what].unfinished < self.found.unfinished

    def test_when_each_table_moves(self) -> None:
        """By hand: 14 at Texture are two tables of 6, so tables 1 and 2 stamp at 18, 3 and 4 at 22, 5 (of 4) at 26."""
        texture = {move.table: (move.from_min, move.to_min) for move in self.found.to_post if move.station == "Texture"}
        assert texture == {1: (18, 22), 2: (18, 22), 3: (22, 26), 4: (22, 26), 5: (26, 30)}
        check = [(move.table, move.from_min, move.to_min) for move in self.found.to_post if move.station == "Check"]
        assert check == [(1, 28, 32.5), (2, 32.5, 37), (3, 37, 41.5), (4, 41.5, 46), (5, 46, 49)]
        assert {move.table for move in self.found.moves} == {1, 2, 3, 4, 5}

    def test_it_can_be_written_as_json(self) -> None:
        assert json.loads(json.dumps(asdict(self.found)))["check"]["waiting"] == 10

    def test_it_says_what_it_assumed(self) -> None:
        said = " / ".join(self.found.assumptions)
        for part in ("seed 1", "within 20 %", "45 s each", "25 s each", "6 sit at a table (common practice)"):
            assert part in said


def test_the_room_s_own_check() -> None:
    """Her own minute and her own name for it."""
    room = ROOM_OF_28.replace("{name: Check, places: 3}", "{name: My chair, places: 3}") + "check: {station: My chair, minutes: 60 s, peer: 30 s}\n"
    found = planned(LESSON.replace("station: Check", "station: My chair"), room)
    assert found.check is not None
    assert (found.check.last_served_min, found.check_with_peer and found.check_with_peer.last_served_min) == (28, 14)
    assert "a check takes time" in problems_of(LESSON, ROOM + "check: {minutes: 30 s, peer: 45 s}\n")[0]


def test_a_tool_that_few_can_use_at_once() -> None:
    """14 pairs and 10 rolling pins for 6 minutes each are two turns, 12 minutes."""
    lesson = LESSON + "supplies: [{name: rolling pin, count: 1, per: pair}]\n"
    found = planned(lesson, ROOM_OF_28 + "tools: [{name: rolling pin, count: 10, minutes: 6}]\n")
    assert "rolling pin: 14 needed, 10 there: 4 without. 2 turns of 6 min: 12 min of 28." in found.warnings


def test_without_minutes_nothing_is_counted_to_a_bell() -> None:
    found = planned(room=ROOM_OF_28.replace(PERIOD, ""))
    assert (found.bell_min, found.unfinished, found.waiting, found.rotation) == (None, None, (), None)
    assert found.check is not None
    assert found.check.seen is None
    assert "the room says no minutes: nothing is counted up to a bell" in found.assumptions


def test_levels_that_nobody_knows() -> None:
    found = planned(people=Group.model_validate({"name": "Tuesday", "people": "28"}))
    assert found.people == 28
    assert "nobody said how many are of which level: all do the longest way" in found.assumptions


def test_even_rotation_of_several_narrow_stations() -> None:
    """28 minutes of work over two narrow stations: 14 each, 13 at work; the check is no part of it."""
    joined = LESSON.replace("  - {id: cut", "  - {id: join, title: Join, station: Join, minutes: 5, text: Join.}\n  - {id: cut")
    found = planned(joined, ROOM_OF_28.replace("{name: Check", "{name: Join, places: 14}, {name: Check")).rotation
    assert found is not None
    assert (found.stations, found.slot_min, found.at_work_min, found.rounds) == (("Texture", "Join"), 14, 13, ((1, 2), (2, 1)))


@pytest.mark.parametrize(("people", "places"), [(0, 1), (-1, 1), (2.5, 1), (28, 0), (28, 1.5)])
def test_no_part_of_a_person_or_a_place(people: float, places: float) -> None:
    with pytest.raises(PlanError):
        queue(people, 0.75, places)
    with pytest.raises(PlanError):
        turns("wheel", people, places, 10)


@given(st.integers(1, 40), st.integers(1, 40), st.integers(0, 5))
@settings(max_examples=30, deadline=None)
def test_nobody_is_lost_and_nothing_is_negative(easy: int, advanced: int, seed: int) -> None:
    found = planned(people=group(easy=easy, advanced=advanced), seed=seed)
    assert all(one.people == easy + advanced for one in found.runs)
    assert found.unfinished is not None
    assert 0 <= found.unfinished <= easy + advanced
    assert all(0 <= one.crowd.longest_queue < easy + advanced and one.crowd.longest_wait_min >= 0 for one in found.runs)
