"""The day plan: the period as bars and minute by minute, the stations and their queues, the days that follow."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby

from lessonkit.drawing.items import Document
from lessonkit.drawing.typesetting import Span
from lessonkit.layout.classroom.class_plan import ClassPlan, Json, level_words, people_words, stage_words, timeline_of
from lessonkit.layout.classroom.day_strip import day_strip, strip_fits
from lessonkit.layout.classroom.days_shown import clock, long_day, minutes_seconds, short_day, span_words
from lessonkit.layout.classroom.sheets import Imprint, Sheets, assumed, cautions, head, joined, notes, section, table, warned
from lessonkit.layout.flow import Strip
from lessonkit.layout.sheet import Sheet, edition
from lessonkit.layout.teacher_minutes import chart, minute_notes
from lessonkit.layout.teacher_table import Cell, Column, Row, cell
from lessonkit.layout.wording import say
from lessonkit.pieces.model import Step
from lessonkit.planning.minutes import Stretch, Timeline
from lessonkit.units import number


def day_plan_document(class_: ClassPlan, paper: str) -> Document:
    """Everything that is run by the clock, for the teacher alone: it holds her notes on access."""
    language = class_.language
    title = say("day_plan_title", language, lesson=class_.title)
    sheets = Sheets(Sheet(paper), Imprint(f"{title} · {class_.tag}", edition(class_.kit), language))
    sheets.add(head(title, class_.tag, _group_line(class_), _facts(class_), sheets.wide))
    warnings = [line for part in (class_.minutes, class_.stations, class_.calendar) if part for line in part["warnings"]]
    sheets.add(warned([*_faults(class_), *warnings], sheets.wide, language))
    _minutes(class_, sheets)
    _stations(class_, sheets)
    _days(class_, sheets)
    sheets.add(cautions(("dust", "tools", "hands"), sheets.wide, language))
    sheets.add(assumed([line for part in (class_.minutes, class_.stations) if part for line in part["assumptions"]], sheets.wide, language))
    return sheets.document()


def _group_line(class_: ClassPlan) -> str:
    """The group and when it meets."""
    made = class_.stage("make")
    when = [long_day(made["last"], class_.language)] if made else []
    return ", ".join([class_.group.name, *when, *([class_.group.at] if class_.group.at else [])])


def _facts(class_: ClassPlan) -> list[str]:
    language = class_.language
    tables = [say("class_tables", language, n=class_.needs["tables"])] if class_.needs else []
    access = [say("class_access", language, notes="; ".join(class_.group.access))] if class_.group.access else []
    return [*joined([class_.kit.room.name, people_words(class_), *tables]), *access]


def _faults(class_: ClassPlan) -> list[str]:
    return [class_.faults[topic] for topic in ("minutes", "stations", "drying", "calendar") if topic in class_.faults]


# --- the clock ---


def _minutes(class_: ClassPlan, sheets: Sheets) -> None:
    if class_.minutes is None:
        return
    language, kit = class_.language, class_.kit
    times = timeline_of(class_.minutes["timeline"])
    if any(course.stretches for course in times.courses):
        words = "teacher_minutes" if times.period_min is None else "teacher_minutes_of"
        drawn = chart(kit, times, sheets.wide)
        sheets.add([*section(say(words, language, n=f"{times.period_min or 0:g}"), sheets.wide), Strip(drawn.tall_mm, drawn.draw, 0.0)])
        sheets.add(notes(minute_notes(kit, times), sheets.wide))
    columns, rows = _running_order(class_, times)
    sheets.add_table(section(say("day_order", language), sheets.wide), *table(columns, rows, sheets.wide, 2.0))
    sessions = class_.minutes["sessions"]
    if len(sessions) > 1:
        sheets.add([*section(say("day_sessions", language, n=len(sessions)), sheets.wide), *notes(list(_sessions(sessions, language)), sheets.wide)])


def _sessions(sessions: Sequence[Json], language: str) -> Iterator[str]:
    for count, session in enumerate(sessions, 1):
        yield say("day_session_rests" if session["rests"] else "day_session_cover", language, k=count, first=session["first"], last=session["last"])


def _running_order(class_: ClassPlan, times: Timeline) -> tuple[list[Column], list[Row]]:
    """What happens in the order in which the first begins it: for each level from which minute to which, and what is said then."""
    language = class_.language
    timed = bool(clock(class_.group.at, 0))
    columns = [
        *([Column(say("day_clock", language), right=True)] if timed else []),
        Column("", wide_mm=5.0),
        Column(say("day_what", language), wraps=True),
        *(Column(level_words(class_, course.level), right=True, wide_mm=19.0) for course in times.courses),
        Column(say("day_say", language), wraps=True, grows=True),
    ]
    events: dict[tuple[str, str, str], dict[str, Stretch]] = {}
    for course in times.courses:
        for stretch in course.stretches:
            if stretch.kind not in ("wait", "spare"):
                title = "" if stretch.kind != "step" else stretch.number
                events.setdefault((stretch.kind, title, ""), {})[course.level] = stretch
    ordered = sorted(events.items(), key=lambda event: min(stretch.start_min for stretch in event[1].values()))
    return columns, [_event(class_, kind, found, times, timed) for (kind, _, _), found in ordered]


def _event(class_: ClassPlan, kind: str, found: dict[str, Stretch], times: Timeline, timed: bool) -> Row:
    first = min(found.values(), key=lambda stretch: stretch.start_min)
    spans = [cell(_span(found.get(course.level))) for course in times.courses]
    time = [cell(clock(class_.group.at, first.start_min), True)] if timed else []
    steps = [step for of_level in class_.kit.steps.values() for step in of_level if kind == "step" and step.number == first.number]
    what = _step_words(steps) if steps else cell(say(f"day_{kind}", class_.language), True)
    return Row((*time, cell(first.number, True), what, *spans, _said(steps, class_.language)), ruled=True)


def _span(stretch: Stretch | None) -> str:
    return f"{number(stretch.start_min, 1)}–{number(stretch.end_min, 1)}" if stretch else "–"


def _step_words(steps: Sequence[Step]) -> Cell:
    titles = " / ".join(dict.fromkeys(step.title for step in steps))
    station = next((step.station for step in steps if step.station), "")
    return (*cell(titles, True), *cell(f" {station}" if station else ""))


def _said(steps: Sequence[Step], language: str) -> Cell:
    """What the teacher says, where all stop, and what to be careful of, each once."""
    spans: list[Span] = []
    careful = [note for step in steps for note in step.safety]
    for key, texts in (("", [step.cue for step in steps]), ("stop", [step.stop for step in steps]), ("class_careful", careful)):
        for text in dict.fromkeys(text for text in texts if text):
            between = " " if spans else ""
            spans += [Span(f"{between}{say(key, language)} ", True), Span(text)] if key else [Span(f"{between}{text}")]
    return tuple(spans)


# --- the stations ---


def _stations(class_: ClassPlan, sheets: Sheets) -> None:
    found, language = class_.stations, class_.language
    if found is None or not found["runs"]:
        return
    heads = [say(f"station_{key}", language) for key in ("name", "places", "coming", "queue", "wait", "waiting", "busy", "done")]
    columns = [Column(title, right=index > 0, wraps=index > 2) for index, title in enumerate(heads)]
    rows = [_station_row(run) for run in found["runs"]]
    sheets.add_table(section(say("day_stations", language, seed=found["seed"]), sheets.wide), *table(columns, rows, sheets.wide))
    sheets.add(notes(list(_station_notes(found, language)), sheets.wide))
    if found["changes"]:
        heads = [say(f"change_{key}", language) for key in ("what", "wait", "at_bell", "unfinished", "done")]
        columns = [Column(title, right=index > 0, wraps=not index) for index, title in enumerate(heads)]
        rows = [_change_row(one) for one in found["changes"]]
        sheets.add_table(section(say("day_changes", language), sheets.wide), *table(columns, rows, sheets.wide))


def _station_row(run: Json) -> Row:
    crowd = run["crowd"]
    numbers = [run["places"] if run["places"] is not None else "–", run["people"], crowd["longest_queue"], minutes_seconds(crowd["longest_wait_min"]),
               crowd["waiting_at_bell"], crowd["busy_at_bell"], number(crowd["last_done_min"], 0)]  # fmt: skip
    return Row((cell(run["station"], True), *(cell(str(value)) for value in numbers)), ruled=True)


def _change_row(change: Json) -> Row:
    left = [_known(change[key]) for key in ("waiting_at_bell", "unfinished")]
    values = [minutes_seconds(change["longest_wait_min"]), *left, number(change["done_min"], 0)]
    return Row((cell(change["what"]), *(cell(value) for value in values)), ruled=True)


def _known(value: int | None) -> str:
    return "–" if value is None else str(value)


def _station_notes(found: Json, language: str) -> Iterator[str]:
    for key, check in (("day_check", found["check"]), ("day_check_peer", found["check_with_peer"])):
        if check:
            yield say(key, language, n=check["people"], each=number(check["each_min"] * 60, 0), last=minutes_seconds(check["last_served_min"]),
                      wait=minutes_seconds(check["longest_wait_min"]))  # fmt: skip
    for station, waiting in groupby(found["waiting"], key=lambda one: one["station"]):
        tables = ", ".join(say("day_waits", language, table=one["table"], n=one["people"]) for one in waiting)
        yield say("day_waiting", language, station=station, tables=tables)


# --- the days after ---


def _days(class_: ClassPlan, sheets: Sheets) -> None:
    if not class_.stages:
        return
    language, stages = class_.language, list(class_.stages)
    title = section(say("day_days", language), sheets.wide)
    if strip_fits(stages, sheets.wide):
        drawn = day_strip(stages, sheets.wide, language)
        sheets.add([*title, Strip(drawn.tall_mm, drawn.draw, 1.6)])
        title = []
    parts: list[Sequence[Span]] = [(Span(f"{stage_words(stage['stage'], language)} ", True), Span(span_words(stage, language))) for stage in stages]
    sheets.add([*title, *notes(parts, sheets.wide, 3, gap_mm=1.2)])
    special = class_.calendar["special_days"] if class_.calendar else []
    kept = [say("day_special", language, day=short_day(one["day"], language), name=one["name"]) for one in special]
    drying = [say("day_drying", language, days=class_.drying["days"], least=class_.drying["least_days"])] if class_.drying else []
    sheets.add(notes([*drying, *kept], sheets.wide))
