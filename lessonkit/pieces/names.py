"""Names in a lesson that must exist: levels, pieces, stations, step ids, words, pictures."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator

from lessonkit.lesson.decode import Written
from lessonkit.lesson.fields import described
from lessonkit.lesson.lesson import Lesson
from lessonkit.lesson.room import Room
from lessonkit.lesson.verbs import picture_for
from lessonkit.lesson.vocabulary import PICTURES
from lessonkit.pieces.steps import levels_of
from lessonkit.problems import Problem, instead
from lessonkit.source.tree import Path, span_at
from lessonkit.units import doubt


def name_problems(lesson: Written[Lesson], room: Written[Room]) -> tuple[Problem, ...]:
    """Every name that is used and not there, or given twice."""
    return (*_unknown(lesson, room.value), *_twice(lesson), *_unsaid(lesson, list(room.value.levels)), *_without_picture(lesson))


def _unsaid(lesson: Written[Lesson], levels: list[str]) -> Iterator[Problem]:
    """Steps that have nothing to say to a level that does them: no title, no words or no minutes."""
    for index, step in enumerate(lesson.value.steps):
        tables: dict[str, Collection[str]] = {"title": step.title, "text": ("all",) if step.text else step.levels, "minutes": step.minutes}
        for word, table in tables.items():
            lacking = [level for level in levels_of(step, levels) if level not in table and "all" not in table]
            if lacking:
                what = f"step “{step.id}” has no {word} for {', '.join(lacking)}."
                hint = "Write it for each level that does the step, or once for all; only: [...] says whose the step is."
                yield Problem("error", f"no-{word}", lesson.span("steps", index, word), what, hint)


def _without_picture(lesson: Written[Lesson]) -> Iterator[Problem]:
    """Steps that name no picture and whose words imply none: their cards show the plain piece."""
    for index, step in enumerate(lesson.value.steps):
        texts = [*step.title.values(), step.text or "", *(words.text for words in step.levels.values())]
        if not step.picture and not any(picture_for(text) for text in texts):
            what = f"no picture is named for “{step.id}”, and its words imply none: its card shows the plain piece."
            yield Problem("warning", "no-picture", lesson.span("steps", index), what, f"Add picture: one of {', '.join(PICTURES)}.")


def length_doubts(*files: Written[Lesson] | Written[Room]) -> Iterator[Problem]:
    """Lengths that were read, but probably not meant, as they stand (11/4 in for 1 1/4 in)."""
    for file in files:
        for _, scalar in file.rest:
            if question := doubt(scalar.text or ""):
                yield Problem("warning", "doubtful-length", scalar.span, f"“{scalar.text}” was read as it stands.", question)


def _unknown(lesson: Written[Lesson], room: Room) -> Iterator[Problem]:
    value = lesson.value
    known = {
        "level": list(room.levels),
        "piece": [piece.name for piece in value.pieces],
        "station": [*dict.fromkeys([station.name for station in value.stations] + [station.name for station in room.stations])],
        "step": [step.id for step in value.steps],
        "word": list(value.words),
        "picture": list(PICTURES),
    }
    folded = {kind: {choice.casefold() for choice in choices} for kind, choices in known.items()}
    for kind, word, path, of_key in _uses(value):
        if word.casefold() not in folded[kind]:
            hint = instead(word, known[kind], "" if known[kind] else f"The lesson has none yet: add it under {kind}s.")
            span = span_at(lesson.tree, path, of_key)
            yield Problem("error", f"unknown-{kind}", span, f"there is no {kind} called {described(word)}.", hint)


def _uses(lesson: Lesson) -> Iterator[tuple[str, str, Path, bool]]:
    """Kind, word, place, and whether the word is a key."""
    for i, piece in enumerate(lesson.pieces):
        yield from (("level", level, ("pieces", i, "levels", k), False) for k, level in enumerate(piece.levels))
    for i, step in enumerate(lesson.steps):
        at: Path = ("steps", i)
        single = (("piece", step.piece), ("station", step.station), ("picture", step.picture))
        yield from ((kind, word, (*at, kind), False) for kind, word in single if word)
        yield from (("word", word, (*at, "word", level), False) for level, word in (step.word or {}).items())
        yield from (("level", level, (*at, "only", k), False) for k, level in enumerate(step.only))
        tables: Iterable[tuple[str, Iterable[str]]] = (
            ("title", step.title),
            ("minutes", step.minutes),
            ("levels", step.levels),
            ("stop", step.stop or ()),
            ("word", step.word or ()),
        )
        for field, table in tables:
            yield from (("level", level, (*at, field, level), True) for level in table if level != "all")
    for i, extra in enumerate(lesson.early):
        yield from (("level", level, ("early", i, "levels", k), False) for k, level in enumerate(extra.levels))
    for i, station in enumerate(lesson.stations):
        yield from (("step", step, ("stations", i, "steps", k), False) for k, step in enumerate(station.steps))
        yield from (("picture", name, ("stations", i, "pictures", k), False) for k, name in enumerate(station.pictures))
        if station.next:
            yield ("station", station.next, ("stations", i, "next"), False)


def _twice(lesson: Written[Lesson]) -> Iterator[Problem]:
    groups: tuple[tuple[str, str, list[str]], ...] = (
        ("pieces", "name", [piece.name for piece in lesson.value.pieces]),
        ("steps", "id", [step.id for step in lesson.value.steps]),
        ("stations", "name", [station.name for station in lesson.value.stations]),
    )
    for field, key, names in groups:
        for index, name in enumerate(names):
            if name.casefold() in (earlier.casefold() for earlier in names[:index]):
                what = f"“{name}” is used twice among the {field}."
                yield Problem("error", "same-name", lesson.span(field, index, key), what, "Give each a name of its own.")
