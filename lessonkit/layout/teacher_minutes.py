"""The period as a bar for each level, with the moments when all start together."""

from __future__ import annotations

from itertools import count, takewhile

from lessonkit.drawing.fonts import width_mm
from lessonkit.drawing.items import CLAY
from lessonkit.drawing.typesetting import Span, set_text
from lessonkit.layout.flow import Strip
from lessonkit.layout.pen import ATTENTION, FINE, HEAVY, PRESS, Pen
from lessonkit.layout.teacher_table import SMALL, TEXT
from lessonkit.layout.wording import minutes, say
from lessonkit.pieces.model import Kit
from lessonkit.planning.minutes import Course, Stretch, Timeline
from lessonkit.units import show_minutes

BAR_MM, BETWEEN_MM = 8.0, 3.0
WIDEST_LABEL_MM = 36.0


def chart(kit: Kit, times: Timeline, wide_mm: float) -> Strip:
    """Clay is work; white is the rest of the period. A head stands over each moment when all start together."""
    names = [set_text([Span(kit.room.levels.get(c.level, c.level), True)], WIDEST_LABEL_MM, TEXT.size_pt, TEXT.leading_pt) for c in times.courses]
    left = max((name.wide_mm for name in names), default=0.0) + 5
    whole = max(times.ends_min, times.period_min or 0.0)
    per_minute = (wide_mm - left) / whole if whole else 0.0
    talls = [max(BAR_MM, TEXT.tall_mm(name)) for name in names]
    foot = 4.4 + sum(talls) + BETWEEN_MM * (len(talls) - 1)

    def put(pen: Pen, x: float, top: float) -> None:
        y = top + 4.4
        for course, name, tall in zip(times.courses, names, talls, strict=True):
            pen.block(x, y + (tall - name.tall_mm) / 2, name)
            for stretch in course.stretches:
                _bar(pen, x + left, y + (tall - BAR_MM) / 2, stretch, per_minute, kit.room.language)
            y += tall + BETWEEN_MM
        _moments(pen, x + left, top + 4.4, top + foot, times, per_minute)
        _axis(pen, x + left, top + foot, whole, times, per_minute)
        if times.together_min:
            pen.head(x + 2.2, top + foot + 6.2, 180, 3)
            pen.text(x + 6, top + foot + 6.2, say("teacher_all_start", kit.room.language), SMALL.size_pt)

    return Strip(foot + 6.2 + SMALL.descent_mm, put)


def _bar(pen: Pen, x: float, y: float, stretch: Stretch, per_minute: float, language: str) -> None:
    if not stretch.minutes:
        return
    left, wide = x + stretch.start_min * per_minute, stretch.minutes * per_minute
    pen.rectangle(left, y, wide, BAR_MM, PRESS, CLAY if stretch.kind == "step" else None)
    if stretch.kind == "step":
        labels = [f"{stretch.number} {words}" for words in (stretch.title, stretch.title.split()[0])] + [stretch.number]
    else:
        labels = [say(f"teacher_{stretch.kind}", language)]
    fitting = next((label for label in labels if width_mm(label, TEXT.size_pt) < wide - 2.2), "")
    pen.text(left + wide / 2, y + BAR_MM / 2 + 1.3, fitting, TEXT.size_pt, align="centre")


def _moments(pen: Pen, x: float, top: float, foot: float, times: Timeline, per_minute: float) -> None:
    for moment in times.together_min:
        at = x + moment * per_minute
        pen.line(at, top - 1.2, at, foot + 1.2, ATTENTION)
        pen.head(at, top - 0.6, 180, 3)
    if times.over_min and times.period_min is not None:
        at = x + times.period_min * per_minute
        pen.line(at, top - 3.6, at, foot + 1.2, HEAVY)


def _axis(pen: Pen, x: float, foot: float, whole: float, times: Timeline, per_minute: float) -> None:
    step = next(step for step in (5, 10, 20, 30, 60, 120) if whole / step <= 8 or step == 120)
    ends = [times.period_min if times.period_min is not None else whole]
    ticks = [at for at in takewhile(lambda at: at <= whole, count(0, step)) if all(abs(at - end) * per_minute > 6 for end in ends)] + ends
    for at in sorted(ticks):
        place = x + at * per_minute
        pen.line(place, foot + 1.2, place, foot + 3, FINE)
        half = width_mm(show_minutes(at), SMALL.size_pt) / 2
        pen.text(min(place, x + whole * per_minute - half), foot + 6.2, show_minutes(at), SMALL.size_pt, align="centre")


def minute_notes(kit: Kit, times: Timeline) -> list[str]:
    """What the bars say, in words: what is left over, or what does not fit and by how much."""
    language = kit.room.language
    if times.period_min is None:
        return [say("teacher_no_minutes", language)]
    return [_note(kit, times, course) for course in times.courses]


def _note(kit: Kit, times: Timeline, course: Course) -> str:
    language, level = kit.room.language, kit.room.levels.get(course.level, course.level)
    has = show_minutes(times.for_work_min or 0.0)
    if not course.over_min and course.work_min == times.for_work_min:
        return say("teacher_just_fits", language, level=level, need=minutes(course.work_min, language))
    if not course.over_min:
        left = (times.for_work_min or 0.0) - course.work_min
        return say("teacher_fits", language, level=level, need=minutes(course.work_min, language), has=has, left=show_minutes(left))
    waits = sum(s.minutes for s in course.stretches if s.kind == "wait")
    need = show_minutes(course.work_min + waits)
    if waits:
        need = say("teacher_waiting", language, n=need, wait=show_minutes(waits))
    late = "; ".join(say("teacher_lacks", language, number=s.number, title=s.title, lacks=minutes(s.lacks_min, language)) for s in course.unfinished)
    over, clean = minutes(course.over_min, language), show_minutes(times.clean_at_min or 0.0)
    return say("teacher_over", language, level=level, need=need, has=has, over=over, clean=clean, late=late)
