"""The papers of the whole room, read back: racks, kiln log, one day, the term, the clay order."""

from __future__ import annotations

from datetime import date
from itertools import pairwise

from lessonkit.layout.classroom.days_shown import short_day
from lessonkit.layout.wording import ENGLISH, say
from lessonkit.planning.jobs import SAYS
from lessonkit.units import number
from tests.layout.classroom.plans_for_tests import FRAME, documents, everything, planned, read_paper, text_of
from tests.layout.read_back import says


def test_rack_list() -> None:
    found, _ = planned()
    racks, read = found["kiln"]["racks"], everything("rack-list")
    assert says(read, f"{racks['pieces']} pieces are in the room at once. They need {racks['shelves_needed']} of {racks['shelves']} shelves")
    assert says(read, f"{number(racks['share'] * 100, 1)} % full, warned at 80 %")
    assert bool(racks["warning"]) == says(read, racks["warning"] or "Look at this first")
    for lesson in found["calendar"]["each"]:
        for group in lesson["groups"]:
            days = {stage["stage"]: short_day(stage["first"], "en") for stage in reversed(group["stages"])}
            row = [days[kind].replace("\u00a0", " ") for kind in ("cover", "turn", "uncover", "bisque", "paint", "glaze", "in hands")]
            assert says(read, f"{group['group']} {lesson['lesson']} {group['pieces']} {' '.join(row)}"), group
    assert says(read, "window rack: 10 shelves, 1200 mm × 600 mm shelf tag, table, what lies there since 10 9 8 7 6 5 4 3 2 1")


def test_kiln_log_knows_cooling_from_cold() -> None:
    """A sheet a load, with its programme and its days; FIRING, COOLING and COLD each with an hour and a name, COLD with its degrees."""
    found, _ = planned()
    read = read_paper("kiln-log")
    loads = [(firing, count) for firing in found["kiln"]["firings"] for count in range(1, len(firing["loads"]) + 1)]
    sheets_ = [sheet for sheet in read if "FIRING" in sheet.text]
    assert len(sheets_) == len(loads)
    for sheet, (firing, count) in zip(sheets_, loads, strict=True):
        text = text_of([sheet])
        assert says(text, f"to cone {firing['cone']}, load {count} of {len(firing['loads'])}")
        for k, one in enumerate(firing["programme"]["segments"], 1):
            assert says(text, f"{k} {number(one['c_per_h'], 0)} {number(one['to_c'], 0)} {number(one['hold_h'], 1)}"), one
        assert says(text, f"About {number(firing['programme']['hours'], 0)} h, {number(firing['programme']['preheat_h'], 0)} h of it preheat,")
        assert says(text, "COLD Below 50 °C by its pyrometer. An adult opens and unloads.")
        assert says(text, "COOLING is not COLD")
    assert says(text_of(read), "Porthole: start Thu 21 Jan, unload Mon 25 Jan.")


def test_today_is_half_a_page() -> None:
    """Every job of the day with its tags and pieces; all above the middle of the sheet; the kiln's caution where the kiln is loaded."""
    found, _ = planned()
    (sheet,) = read_paper("today")
    read = text_of([sheet])
    assert read.startswith("Thursday 28 January 2027")
    for job in found["calendar"]["today"]["jobs"]:
        words = say("job_" + job["do"].replace(" ", "_"))
        assert says(read, f"{', '.join(job['groups'])} {job['lesson']}: {words} ({job['pieces']} pieces)"), job
    assert max(letter.foot for letter in sheet.letters) < sheet.tall_mm / 2
    assert says(read, "COOLING is not COLD.")
    assert says(text_of(read_paper("today", (FRAME,), today="2027-02-16")), "Closed: winter week.")
    assert "today" not in documents((FRAME,), today="")


def test_every_job_has_its_words() -> None:
    assert {f"job_{do.replace(' ', '_')}" for do in SAYS} <= set(ENGLISH)


def test_term_is_a_grid_of_group_by_week() -> None:
    found, _ = planned()
    term, read = found["calendar"]["term"], everything("term")
    fired = term["firings"]
    assert says(read, f"{fired['bisque']} bisque and {fired['glaze']} glaze firings; the kiln has days for {fired['fit']}.")
    assert says(read, "week of A makes A paints B makes B paints")
    for index, monday in enumerate(term["weeks"]):
        day = date.fromisoformat(monday)
        weeks = [group["weeks"][index] for group in term["groups"]]
        works = [[one[do] for one in week["classes"] for do in ("make", "paint") if one[do]] or [week["closed"] or ""] for week in weeks]
        assert says(read, " ".join([f"{day.day} {day:%b}", *(word for work in works for word in work if word)])), monday
    for one, next_ in pairwise(term["weeks"]):
        assert date.fromisoformat(one) < date.fromisoformat(next_)
