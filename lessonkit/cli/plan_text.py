"""A plan to read: what to weigh, print and lay out first, then the class, the kiln and the days, and last what was assumed."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from textwrap import wrap
from typing import Any

from lessonkit.lesson.room import Room
from lessonkit.planning.numbers import TOPICS
from lessonkit.units import G_PER_POUND, Units, lengths_shown, number, show_for_hand, show_weight

Json = dict[str, Any]

WIDE = 100
_SIGNS = {"arrive": ".", "show": "s", "wait": "-", "spare": " ", "clean": "c", "leave": "."}


def plan_text(plan: Json, room: Room) -> str:
    """The whole plan."""
    lines = [f"{plan['room']}: plan for {', '.join(_group(group) for group in plan['groups'])}"]
    for index, needs in enumerate(plan["quantities"].get("each", [])):
        lines += ["", f"{needs['lesson']} ({needs['code']}), {needs['group']}", *_needs(needs, room)]
        if "each" in plan["stations"]:
            lines += _stations(plan["stations"]["each"][index])
    order = plan["quantities"].get("order", [])
    if len(plan["quantities"].get("each", [])) > 1:
        lines += ["", "Clay for all of it", *(line for clay in order for line in _item(_ordered(clay)))]
    for topic, heading, told in (("minutes", "Minutes", _minutes), ("drying", "Drying", _drying), ("calendar", "Calendar", _calendar)):
        if "each" in plan[topic]:
            lines += ["", heading, *(line for one in plan[topic]["each"] for line in told(one, room))]
    lines += [*_term(plan["calendar"].get("term")), *_kiln(plan["kiln"])]
    lines += ["", "Assumed", *(line for said in dict.fromkeys(s for topic in TOPICS for s in plan[topic]["assumptions"]) for line in _item(said))]
    return "\n".join(lines)


def today_text(plan: Json) -> str:
    """What is to be done on the day that was asked for: half a page."""
    if "today" not in plan["calendar"]:
        return "Nothing can be said of the day: see the error."
    today = plan["calendar"]["today"]
    head = _day(today["day"]) + (f": closed, {today['closed']}" if today["closed"] else "")
    jobs = [f"[ ] {job['lesson']}, {', '.join(job['groups'])}: {job['says']} ({_pieces(job)})" for job in today["jobs"]]
    undated = [one["lesson"] for one in plan["calendar"]["each"] if not one["groups"]]
    notes = [f"Not in the calendar, as it has no dates: {', '.join(undated)}."] if undated else []
    return "\n".join([head, *(line for job in jobs for line in _item(job)), *([] if jobs else ["  Nothing to do."]), *notes])


def _pieces(job: Json) -> str:
    return _counted(job["pieces"], "piece") + (f", load {job['load']}" if job["load"] > 1 else "")


def _item(text: str, indent: str = "  ") -> list[str]:
    return wrap(text, WIDE, initial_indent=indent, subsequent_indent=indent + "  ", break_on_hyphens=False)


def _counted(count: int, noun: str) -> str:
    return f"{count:,} {noun}{'' if count == 1 else 's'}"


def _group(group: Json) -> str:
    return f"{group['group']} ({group['people']} people)"


def _day(text: str) -> str:
    day = date.fromisoformat(text)
    return f"{day:%a} {day.day} {day:%B %Y}"


def _warned(values: Json) -> Iterator[str]:
    for warning in values["warnings"]:
        yield from _item(f"! {warning}")


def _needs(needs: Json, room: Room) -> Iterator[str]:
    yield from _warned(needs)
    for clay in needs["clay"]:
        yield from _clay(clay, room)
    if needs["slip_ml"]:
        yield from _item(f"slip: {needs['slip_ml'] / 1000:.1f} l in {_counted(needs['slip_cups'], 'cup')}")
    cards = [f"{card['sets']} {card['shown']} (for {card['learners']})" for card in needs["cards"]]
    yield from _item(f"cards to print: {', '.join(cards)}")
    stencils = [f"{one['copies']} {one['letter']} {one['part']}" for one in needs["stencils"]]
    yield from _item(f"stencils: {', '.join(stencils)}")
    supplies = [f"{supply['count']} {supply['name']}" if supply["count"] is not None else supply["name"] for supply in needs["supplies"]]
    if supplies:
        yield from _item(f"lay out on {_counted(needs['tables'], 'table')}: {'; '.join(supplies)}")
    if needs["dries_on"]:
        yield from _item(f"to dry on: {needs['dries_on']['count']} {needs['dries_on']['on']}")
    yield from _cost(needs["cost"])
    for note in needs["access"]:
        yield from _item(f"note: {note}")


def _clay(clay: Json, room: Room) -> Iterator[str]:
    units = room.units
    for lump in clay["lumps"]:
        who = " and ".join(room.levels[level] for level in lump["levels"])
        rolled = "; ".join(
            f"roll {show_for_hand(slab['wide_mm'], units)} x {show_for_hand(slab['tall_mm'], units)}, {_thick(slab['thickness_mm'], units)} thick"
            for slab in lump["slabs"]
        )
        yield from _item(f"{clay['clay']}, {who} ({lump['people']}): a ball of {_ball(lump['ball_g'], units)}, {lump['balls_a_bag']} a bag"
                         + (f"; {rolled}" if rolled else ""))  # fmt: skip
    more = f"{_counted(clay['spares'], 'spare')}, and {clay['remakes']} more for what is lost"
    weigh = f"{clay['clay']}: weigh {_counted(clay['balls'], 'ball')}, with {more}"
    yield from _item(f"{weigh}: {_bags(clay)}, {show_weight(clay['left_g'], units)} over")
    if clay["offcut_g"] >= 1:
        yield from _item(f"offcut: {show_weight(clay['offcut_g'], units)} comes back, {_counted(clay['balls_from_offcut'], 'ball')} another time")


def _thick(mm: float, units: Units) -> str:
    return lengths_shown(f"{number(mm, 1)} mm", units)


def _ball(g: float, units: Units) -> str:
    """For the scale: whole grams, and hundredths of a pound."""
    return f"{g:.0f} g" if units == "mm" else f"{g / G_PER_POUND:.2f} lb ({g:.0f} g)"


def _bags(clay: Json) -> str:
    """Always in both, so that nobody orders pounds as kilograms."""
    return f"{_counted(clay['bags'], 'bag')} of {show_weight(clay['bag_g'], 'in')}"


def _ordered(clay: Json) -> str:
    return f"{clay['clay']}: {_counted(clay['balls'], 'ball')}, {show_weight(clay['weight_g'], 'in')}: {_bags(clay)}"


def _cost(cost: Json) -> Iterator[str]:
    if not cost["lines"]:
        return
    mark = cost["currency"]
    parts = ", ".join(f"{line['name']} {mark}{line['each']:.2f} ({line['how']})" for line in cost["lines"])
    yield from _item(f"cost of one learner's work: {mark}{cost['each']:.2f}, with {mark}{cost['loss']:.2f} for loss: {parts}")
    if cost["fees"]:
        yield from _item(f"fees: {mark}{cost['fees_each']:.2f} each")
    for missing in cost["missing"]:
        yield from _item(f"not counted: {missing}")


def _stations(stations: Json) -> Iterator[str]:
    yield from _warned(stations)
    for station in stations["runs"]:
        crowd = station["crowd"]
        if crowd["longest_queue"]:
            at_bell = f", {crowd['waiting_at_bell']} at the bell" if crowd["waiting_at_bell"] else ""
            yield from _item(f"{station['station']}: up to {crowd['longest_queue']} wait{at_bell}, the longest {_clock(crowd['longest_wait_min'])}")
    for change in stations["changes"]:
        left = "" if change["unfinished"] is None else f", {change['unfinished']} of {stations['people']} not through at the bell"
        yield from _item(f"if {change['what']}: the longest wait {_clock(change['longest_wait_min'])}{left}, the last at {change['done_min']:.0f}")
    if stations["to_post"]:
        yield "  to post (minutes of the period):"
        for table in dict.fromkeys(move["table"] for move in stations["to_post"]):
            moves = [f"{m['station']} {_clock(m['from_min'])} to {_clock(m['to_min'])}" for m in stations["to_post"] if m["table"] == table]
            yield from _item(f"table {table}: {', '.join(moves)}", "    ")


def _clock(minutes: float) -> str:
    seconds = round(minutes * 60)
    return f"{seconds // 60}:{seconds % 60:02}"


def _minutes(minutes: Json, room: Room) -> Iterator[str]:
    yield f"  {minutes['lesson']}: each sign is a minute: . in and out, s shown, 1 2 3 the steps, - waiting, c clean-up"
    wide = max(len(shown) for shown in room.levels.values())
    for course in minutes["timeline"]["courses"]:
        yield f"    {room.levels[course['level']]:<{wide}}  {_bar(course['stretches'])}"
    yield from _warned(minutes)
    if len(minutes["sessions"]) > 1:
        parts = ", then ".join(f"{one['first']} to {one['last']}" for one in minutes["sessions"])
        yield from _item(f"in {len(minutes['sessions'])} classes: steps {parts}")


def _bar(stretches: list[Json]) -> str:
    signs = ""
    for stretch in stretches:
        sign = stretch["number"][-1:] if stretch["kind"] == "step" else _SIGNS[stretch["kind"]]
        signs += sign * (round(stretch["start_min"] + stretch["minutes"]) - len(signs))
    return signs


def _drying(drying: Json, room: Room) -> Iterator[str]:
    days = f"{drying['days']} days ({drying['least_days']} at the least)"
    yield from _item(f"{drying['lesson']}: {days}; turn on day {drying['turn_on_day']}, uncover on day {drying['uncover_on_day']}")


def _kiln(kiln: Json) -> Iterator[str]:
    if "firings" not in kiln:
        return
    yield from ("", "Kiln")
    yield from _warned(kiln)
    for firing in kiln["firings"]:
        programme = firing["programme"]
        loads = _counted(len(firing["loads"]), "load") + ", " if firing["loads"] else ""
        hours = f"{programme['hours']:.0f} h, and {programme['cooling_h']:.0f} h to cool below {programme['opens_below_c']:g} °C"
        what = f"{', '.join(firing['lessons'])}: {programme['kind']} to cone {firing['cone']} ({programme['peak_c']:.0f} °C)"
        yield from _item(f"{what}: {loads}{hours}")
        for kind in firing.get("kinds", []):
            stands = f"{kind['clay']} stands cone {kind['highest_cone']}"
            yield from _item(f"{kind['name']}: {kind['count']} pieces, {kind['per_shelf']} on a shelf; {stands}", "    ")


def _calendar(calendar: Json, room: Room) -> Iterator[str]:
    yield from _warned(calendar)
    for group in calendar["groups"]:
        stages = [f"{stage['stage']} {_span(stage)}" for stage in group["stages"] if stage["stage"] not in ("cover", "turn", "uncover")]
        yield from _item(f"{calendar['lesson']}, {group['group']}: {', '.join(stages)}")
    if not calendar["groups"]:
        yield from _item(f"{calendar['lesson']}: no dates")
    for key, words in (("latest", "last day to make, to be in hands"), ("earliest", "made, and in hands")):
        if calendar[key]:
            yield from _item(f"{words} on {_day(calendar[key]['in_hands'])}: {_day(calendar[key]['last_make'])}" if key == "latest" else
                             f"made {_day(calendar[key]['last_make'])}, it is in hands on {_day(calendar[key]['in_hands'])}")  # fmt: skip
    for day in calendar["absent"]:
        thin = f", up to {_thick(day['thickest_mm'], room.units)} thick" if day["thickest_mm"] and day["can"] == "make it thinner" else ""
        yield from _item(f"absent until {_day(day['day'])}: can {day['can']}{thin}", "    ")


def _term(term: Json | None) -> Iterator[str]:
    """Group by week: what is made, and what is painted from before."""
    if term is None:
        return
    yield from ("", "The term")
    yield from _warned(term)
    for group in term["groups"]:
        yield f"  {group['group']}"
        for week in group["weeks"]:
            work = [f"{word} {one[word]}" for one in week["classes"] for word in ("make", "paint") if one[word]]
            closed = [f"closed: {week['closed']}"] if week["closed"] else []
            if work or closed:
                yield from _item(f"week of {_day(week['monday'])}: {', '.join([*work, *closed])}", "    ")
    firings = term["firings"]
    yield from _item(f"{firings['bisque']} bisque and {firings['glaze']} glaze firings; the kiln has days for {firings['fit']}")


def _span(stage: Json) -> str:
    first, last = date.fromisoformat(stage["first"]), date.fromisoformat(stage["last"])
    if first == last:
        return f"{first.day} {first:%b}"
    return f"{first.day} {first:%b} to {last.day} {last:%b}" if first.month != last.month else f"{first.day} to {last.day} {last:%b}"
