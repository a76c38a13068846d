"""The substitute's page: what a stranger needs to run this lesson. No clock, no craft, and the kiln left alone."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from lessonkit.drawing.items import Document
from lessonkit.drawing.typesetting import Span
from lessonkit.layout.classroom.sheets import Imprint, Sheets, caution_words, column_mm, head, in_columns, notes, section, table, to_fill
from lessonkit.layout.flow import Strip
from lessonkit.layout.sheet import Sheet, edition
from lessonkit.layout.teacher_table import Cell, Column, Row, cell
from lessonkit.layout.wording import say
from lessonkit.lesson.classroom import Copies
from lessonkit.pieces.model import Kit, Step
from lessonkit.planning.minutes import Timeline, timeline
from lessonkit.units import show_minutes

ALONE = ("kiln", "alarm", "work", "glaze")  # what a stranger leaves alone
PLACES = ("clay", "stencils", "tools", "plastic", "aprons", "first_aid")
TO_TELL = ("absent", "far", "broken")
AROUND = ("arrive", "show")
LEVEL_MM, LEVELS_MM, TITLE_MM = 17.0, 54.0, 46.0  # of the table's columns; all levels together


def substitute_document(kit: Kit, paper: str) -> Document:
    """On as many sheets as it takes. Places that the room does not name are lines to fill in."""
    language = kit.room.language
    title = say("sub_title", language, lesson=kit.lesson.title)
    sheets = Sheets(Sheet(paper), Imprint(title, edition(kit), language))
    wide, times = sheets.wide, timeline(kit)
    sheets.add(head(kit.lesson.title, "", say("sub_for", language, room=kit.room.name), [kit.lesson.about, say("sub_how", language)], wide))
    sheets.add([*section(say("sub_alone", language), wide, warning=True), *_alone(kit, wide)])
    sheets.add([*section(say("sub_where", language), wide), *_where(kit, wide)])
    sheets.add_table(section(_period_words(times, language), wide), *table(_columns(kit), list(_rows(kit, times)), wide))
    sheets.add([*section(say("sub_time", language), wide), *notes(list(_time(times, language)), wide)])
    extras = list(_extras(kit))
    if extras:
        sheets.add([*section(say("teacher_early", language), wide), *notes(extras, wide)])
    care: list[str | Sequence[Span]] = [*_safety(kit), *caution_words(("dust", "tools", "hands"), language)]
    sheets.add([*section(say("teacher_cautions", language), wide, warning=True), *notes(care, wide)])
    sheets.add([*section(say("sub_tell", language), wide), *_lines([say(f"sub_tell_{key}", language) for key in TO_TELL], wide)])
    return sheets.document()


def _alone(kit: Kit, wide: float) -> list[Strip]:
    language = kit.room.language
    return notes([(Span(f"{say(f'sub_alone_{key}_word', language)} ", True), Span(say(f"sub_alone_{key}", language))) for key in ALONE], wide)


def _where(kit: Kit, wide: float) -> list[Strip]:
    """The room's own words; whom to ask is always a line to fill in, and where nothing is said, so is all else."""
    language = kit.room.language
    known: list[str | Sequence[Span]] = [(Span(f"{thing}: ", True), Span(place)) for thing, place in kit.room.where.items()]
    blank = [say("sub_ask", language)] if known else [say("sub_ask", language), *(say(f"sub_place_{key}", language) for key in PLACES)]
    return [*notes(known, wide), *_lines(blank, wide)]


def _lines(labels: Sequence[str], wide: float) -> list[Strip]:
    """Lines to write on, in two columns, each behind what it is for."""
    return in_columns([to_fill(label, column_mm(wide, 2)) for label in labels], wide)


# -- the period
def _period_words(times: Timeline, language: str) -> str:
    return say("sub_period", language, n=show_minutes(times.period_min)) if times.period_min is not None else say("sub_period_open", language)


def _columns(kit: Kit) -> list[Column]:
    language = kit.room.language
    levels = [Column(name, right=True, wide_mm=min(LEVEL_MM, LEVELS_MM / len(kit.room.levels))) for name in kit.room.levels.values()]
    return [*levels, Column(say("teacher_step", language), wide_mm=TITLE_MM), Column(say("sub_do", language), wraps=True, grows=True)]


def _rows(kit: Kit, times: Timeline) -> Iterator[Row]:
    """In the order of the period: coming in, what is shown, each step with the minute at which each level begins it, cleaning up."""
    language = kit.room.language
    begun = {(course.level, stretch.number): stretch.start_min for course in times.courses for stretch in course.stretches if stretch.number}
    share = (kit.room.copies or Copies()).learners_a_card
    cards = say("sub_cards" if share > 1 else "sub_cards_each", language, n=share)
    around = {s.kind: s.start_min for course in times.courses for s in course.stretches if not s.number}

    def shared(kind: str) -> Iterator[Row]:
        if kind in around:
            minute = cell(show_minutes(around[kind]), True)
            what, doing = cell(say(f"sub_{kind}", language), True), cell(say(f"sub_{kind}_do", language, cards=cards))
            yield Row((*[minute] * len(kit.room.levels), what, doing), ruled=True)

    for kind in AROUND:
        yield from shared(kind)
    for written in kit.lesson.steps:
        found = {level: step for level, steps in kit.steps.items() for step in steps if step.id == written.id}
        if not found:
            continue
        first = next(iter(found.values()))
        minutes = [cell(show_minutes(begun[level, found[level].number]) if level in found else "–", True) for level in kit.room.levels]
        title = cell(f"{first.number} {first.title}", True) + (cell(f" {first.station}") if first.station else ())
        yield Row((*minutes, title, _doing(kit, found)), ruled=True)
    for kind in ("clean", "leave"):
        yield from shared(kind)


def _doing(kit: Kit, found: dict[str, Step]) -> Cell:
    """What to say, the plainest words that the lesson has for the step, whose it is where it is not for all, and its stops."""
    language, (level, step) = kit.room.language, next(iter(found.items()))
    written = next(one for one in kit.lesson.steps if one.id == step.id)
    words = written.levels.get(level)
    spans = [Span(say("sub_say", language, cue=step.cue) + " ")] if step.cue else []
    spans += [Span(f"{_names(kit, found)}: ")] if len(found) < len(kit.room.levels) else []
    spans.append(Span(words.said("plain").text if words else step.text))
    stops: dict[str, list[str]] = {}
    for level, one in found.items():
        if one.stop:
            stops.setdefault(one.stop, []).append(level)
    for stop, levels in stops.items():
        who = f", {_names(kit, levels)}" if len(levels) < len(found) else ""
        spans.append(Span(f" {say('stop', language)}{who}: {stop}", True))
    return tuple(spans)


def _names(kit: Kit, levels: Iterable[str]) -> str:
    return ", ".join(kit.room.levels.get(level, level) for level in levels)


def _time(times: Timeline, language: str) -> Iterator[str]:
    if times.period_min is not None:
        clean = times.clean_at_min or 0.0
        yield say("sub_time_clean", language, n=show_minutes(clean))
    yield say("sub_time_cover", language)
    yield say("sub_time_early", language)


def _extras(kit: Kit) -> Iterator[str | Sequence[Span]]:
    """What the lesson offers, and what its steps say for those who finish early."""
    seen = set()
    for extra in kit.lesson.early:
        names = _names(kit, extra.levels)
        yield (Span(f"{names}: ", True), Span(extra.text)) if names else extra.text
    for level, steps in kit.steps.items():
        for step in steps:
            if step.early and (level, step.early) not in seen:
                seen.add((level, step.early))
                yield (Span(f"{kit.room.levels[level]}: ", True), Span(step.early))


def _safety(kit: Kit) -> Iterator[Sequence[Span]]:
    """What the steps say for safety, each once, with the steps that say it: it stands apart from them."""
    numbers: dict[str, dict[str, None]] = {}
    for written in kit.lesson.steps:
        for step in (step for steps in kit.steps.values() for step in steps if step.id == written.id):
            for text in step.safety:
                numbers.setdefault(text, {})[step.number] = None
    for text, of in numbers.items():
        yield Span(say("teacher_step_n", kit.room.language, number=", ".join(of)) + " ", True), Span(text)
