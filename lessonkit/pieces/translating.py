"""A kit in another language. What nobody has translated stays in the lesson's own language, is marked, and is reported."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from typing import TypeVar

from lessonkit.lesson.decode import Written
from lessonkit.lesson.fields import described
from lessonkit.lesson.lesson import Lesson, Said, Station, Step, Words
from lessonkit.lesson.room import RoomStation
from lessonkit.lesson.translation import SaidThere, StationThere, StepThere, Translation, WordsThere
from lessonkit.pieces.fills import fill, fill_problems, fill_values
from lessonkit.pieces.letters import text_problems
from lessonkit.pieces.model import Kit
from lessonkit.pieces.steps import steps_by_level
from lessonkit.problems import Problem, instead
from lessonkit.source.tree import Path, span_at

Found = TypeVar("Found")


def marked(text: str, language: str) -> str:
    """A text that is not there in the language it should be in: “[en] Roll the slab”."""
    return f"[{language}] {text}"


def translate(kit: Kit, there: Written[Translation], language: str) -> tuple[Kit | None, tuple[Problem, ...]]:
    """The kit with its words in `language`; None with at least one error. What the translation lacks is a warning."""
    values = fill_values(kit.pieces, kit.clay, kit.room.units)
    faults = [*_unknown(kit, there), *_uneven(kit.lesson, there), *text_problems(there), *fill_problems(there, values)]
    if faults:
        return None, tuple(faults)
    work = _Translator(kit, there, values)
    lesson = work.lesson()
    room = kit.room.model_copy(update={"language": language, "levels": work.level_names(), "stations": work.places()})
    steps = steps_by_level(lesson, list(room.levels), kit.pieces)
    return replace(kit, lesson=lesson, room=room, steps=steps, translations={}), tuple(work.warnings)


def _unknown(kit: Kit, there: Written[Translation]) -> Iterator[Problem]:
    """Steps, stations, words and levels that the lesson does not have."""
    value, lesson, levels = there.value, kit.lesson, [*kit.room.levels]
    known: list[tuple[str, list[str], list[str], Path]] = [
        ("level", [*value.levels], levels, ("levels",)),
        ("step", [*value.steps], [step.id for step in lesson.steps], ("steps",)),
        ("station", [*value.stations], [*(own.name for own in lesson.stations), *(place.name for place in kit.room.stations)], ("stations",)),
        ("word", [*value.words], [*lesson.words], ("words",)),
    ]
    for id_, step in value.steps.items():
        for part, table in (("title", step.title), ("levels", step.levels), ("stop", step.stop)):
            known.append(("level", [level for level in table if level != "all"], levels, ("steps", id_, part)))
    for kind, names, choices, path in known:
        for name in names:
            if name.casefold() not in {choice.casefold() for choice in choices}:
                hint = instead(name, choices, f"There are: {', '.join(dict.fromkeys(choices)) or 'none'}.")
                span = span_at(there.tree, (*path, name), of_key=True)
                yield Problem("error", f"unknown-{kind}", span, f"the lesson has no {kind} called {described(name)}.", hint)


def _uneven(lesson: Lesson, there: Written[Translation]) -> Iterator[Problem]:
    """A station's lines stand beside its pictures, so there must be as many."""
    for station in lesson.stations:
        for name, theirs in there.value.stations.items():
            if name.casefold() == station.name.casefold() and theirs.do and len(theirs.do) != len(station.do):
                what = f"{station.name} has {len(station.do)} lines to do in the lesson, and {len(theirs.do)} here."
                yield Problem("error", "uneven-lines", there.span("stations", name, "do"), what, "Write one line for each.")


class _Translator:
    """One translation under way. What is lacking is gathered, for one warning for each step, station or word."""

    def __init__(self, kit: Kit, there: Written[Translation], values: dict[str, str]) -> None:
        self.kit, self.there, self.values = kit, there, values
        self.stations: dict[str, str] = {}  # new names by the old ones
        self.words: dict[str, str] = {}
        self.lacking: list[str] = []
        self.warnings: list[Problem] = []

    def said(self, own: str, theirs: str | None, name: str) -> str:
        if theirs:
            return fill(theirs, self.values)
        self.lacking.append(name)
        return marked(own, self.kit.room.language)

    def report(self, what: str, *path: str) -> None:
        if self.lacking:
            words = ", ".join(dict.fromkeys(self.lacking))
            mark = marked("", self.kit.room.language).strip()
            told = f"{what} is not translated ({words}); it is printed as it is, marked {mark}."
            self.warnings.append(Problem("warning", "not-translated", self.there.span(*path), told, "Add what is missing."))
            self.lacking = []

    def lesson(self) -> Lesson:
        own, value = self.kit.lesson, self.there.value
        title = self.said(own.title, value.title, "title")
        self.report("the lesson")
        words = dict(self._word(term, meaning) for term, meaning in own.words.items())
        here = {station.name for station in own.stations}
        for name in (*here, *(station.name for station in self.kit.room.stations)):
            theirs = (_found(value.stations, name) or StationThere()).name
            self.stations[name.casefold()] = self.said(name, theirs, "name") if theirs or name in here else name
        self.lacking = []  # told with the rest of each station
        return own.model_copy(update={
            "title": title,
            "words": words,
            "stations": tuple(self._station(station, _found(value.stations, station.name) or StationThere()) for station in own.stations),
            "steps": tuple(self._step(step, _found(value.steps, step.id) or StepThere()) for step in own.steps),
        })  # fmt: skip

    def places(self) -> tuple[RoomStation, ...]:
        """The room's stations under their new names."""
        return tuple(place.model_copy(update={"name": self.stations[place.name.casefold()]}) for place in self.kit.room.stations)

    def level_names(self) -> dict[str, str]:
        names = {level: self.said(name, _found(self.there.value.levels, level), name) for level, name in self.kit.room.levels.items()}
        self.report("what the levels are called", "levels")
        return names

    def _word(self, term: str, meaning: str) -> tuple[str, str]:
        theirs = _found(self.there.value.words, term)
        self.words[term.casefold()] = self.said(term, theirs.word if theirs else None, "word")
        told = self.said(meaning, theirs.means if theirs else None, "meaning")
        self.report(f"the word “{term}”", "words", term)
        return self.words[term.casefold()], told

    def _station(self, own: Station, theirs: StationThere) -> Station:
        lines = theirs.do or (None,) * len(own.do)
        update = {
            "name": self.said(own.name, theirs.name, "name"),
            "do": tuple(self.said(mine, line, "do") for mine, line in zip(own.do, lines, strict=True)),
            "need": tuple(fill(each, self.values) for each in theirs.need) or tuple(self.said(each, None, "need") for each in own.need),
            "come": own.come and self.said(own.come, theirs.come, "come"),
            "next": own.next and self.stations.get(own.next.casefold(), own.next),
            "safety": own.safety and self.said(own.safety, theirs.safety, "safety"),
        }
        self.report(f"the station {own.name}", "stations", own.name)
        return own.model_copy(update=update)

    def _step(self, own: Step, theirs: StepThere) -> Step:
        update = {
            "title": self._by_level(own.title, theirs.title, "title"),
            "text": own.text and self.said(own.text, theirs.text, "text"),
            "levels": {level: self._words(words, _found(theirs.levels, level) or WordsThere(text=theirs.text), level)
                       for level, words in own.levels.items()},
            "stop": own.stop and self._by_level(own.stop, theirs.stop, "stop"),
            "safety": own.safety and self.said(own.safety, theirs.safety, "safety"),
            "word": own.word and {level: self.words.get(word.casefold(), word) for level, word in own.word.items()},
            "station": own.station and self.stations.get(own.station.casefold(), own.station),
        }
        self.report(f"step “{own.id}”", "steps", own.id)
        return own.model_copy(update=update)

    def _by_level(self, own: Mapping[str, str], theirs: Mapping[str, str], name: str) -> dict[str, str]:
        """A text for each level, though one may stand for all in either file."""
        texts = {level: own.get(level) or own.get("all") for level in self.kit.room.levels}
        return {level: self.said(text, _found(theirs, level) or theirs.get("all"), name if "all" in own else f"{level} {name}")
                for level, text in texts.items() if text}  # fmt: skip

    def _words(self, own: Words, theirs: WordsThere, level: str) -> Words:
        update: dict[str, object] = self._said_update(own, theirs, level)
        for reading in ("plain", "full"):
            if other := getattr(own, reading):
                there = getattr(theirs, reading) or SaidThere()
                update[reading] = other.model_copy(update=self._said_update(other, there, f"{level} {reading}"))
        return own.model_copy(update=update)

    def _said_update(self, own: Said, theirs: SaidThere, name: str) -> dict[str, object]:
        parts = ("text", "good", "choose", "early")
        return {part: self.said(getattr(own, part), getattr(theirs, part), f"{name} {part}") for part in parts if getattr(own, part)}


def _found(table: Mapping[str, Found], name: str) -> Found | None:
    return next((value for key, value in table.items() if key.casefold() == name.casefold()), None)
