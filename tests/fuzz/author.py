"""Lessons, rooms, translations and logs written from the models themselves: every table, every field, good or bad."""

from __future__ import annotations

import types
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from itertools import count
from random import Random
from typing import Annotated, Any, Literal, Union, get_args, get_origin

from pydantic import BaseModel, BeforeValidator
from pydantic.fields import FieldInfo

from lessonkit.lesson import amounts, classroom, fields, firing, forms, lesson, log, outlines, room, shapes, translation
from lessonkit.lesson.examples import FORMS, OUTLINES
from lessonkit.lesson.limits import LONGEST_LINE, LONGEST_NOTE
from lessonkit.lesson.vocabulary import PICTURES
from lessonkit.units import parse_length
from tests.fuzz import spellings
from tests.fuzz.settled import CLAYS, SETTLE, STATIONS, TERMS, Table

LEVELS = ("easy", "advanced")
STEP_IDS = ("roll", "cut", "score", "join", "smooth", "show", "2b", "10")
PIECES = ("frame", "pot", "lid", "foot")

_KNOWN: dict[str, tuple[str, ...]] = {
    "clay": CLAYS, "cone": ("04", "6"), "highest_cone": ("6", "04"), "bisque_cone": ("04", "06"), "station": STATIONS, "next": STATIONS,
    "piece": PIECES, "picture": PICTURES, "pictures": PICTURES, "levels": LEVELS, "only": LEVELS, "word": TERMS, "steps": STEP_IDS,
    "language": ("en", "es"), "country": ("US", "GB", "MX", "XX"), "region": ("TX", "ENG"),
    "file": ("boat.svg", "boat.svg", "none.svg", "../boat.svg", "/etc/passwd"),
    "shows": ("4 x 6 in photo", "90 x 60 mm photo"), "holds": ("tealight", "38 mm round", "86 x 86 mm"), "group": ("Tuesday", "A"),
    "lesson": ("Porthole", "Reed Pot"), "absent": ("A3", "B11"), "date": ("14 May",), "version": ("3", "24 Nov 2026"), "code": ("A", "B", "C", "D"),
}  # fmt: skip
_KEYS: dict[str, tuple[str, ...]] = {
    **dict.fromkeys(("levels", "title", "stop", "minutes", "reading", "word"), LEVELS),
    "words": TERMS, "stations": STATIONS, "steps": STEP_IDS, "other_cones": ("06",),
    "standards": ("A.1", "B.2"), "where": ("clay", "tools"),
}  # fmt: skip
_NAMED: dict[type[BaseModel], tuple[str, ...]] = {
    lesson.Piece: PIECES, lesson.Step: STEP_IDS, lesson.Station: STATIONS, room.RoomStation: STATIONS, room.Clay: CLAYS,
    room.Stick: ("green", "blue", "red"),
    classroom.Group: ("Tuesday", "Thursday", "Friday", "Saturday"),
}  # fmt: skip
_ONE_OF: dict[type[BaseModel], tuple[tuple[str, ...], ...]] = {
    lesson.Piece: (lesson.FORMS,),
    shapes.Outline: (shapes.SHAPES,),
    shapes.Placed: (shapes.SHAPES, ("at", "ring", "row", "")),
    shapes.Join: (shapes.SHAPES, ("at", "ring", "")),
    shapes.Opening: ((*shapes.SHAPES, "shows", "holds"), ("at", "ring", "row", "")),
    outlines.Polygon: (("across", "flats"),),
    forms.ManySided: (("across", "flats"),),
    outlines.Silhouette: (("wide", "tall"),),
    firing.Shelf: (("round", "half_round", "wide"),),
}
_PARTNERS = {"shows": ("lip",), "holds": ("clearance",), "wide": ("deep",)}  # what is only written together
_DEEPEST = 6


def _bare(annotation: Any) -> Any:
    """Without Optional; the model itself, if it is loaded late."""
    if get_origin(annotation) in (Union, types.UnionType):
        return _bare(next(arg for arg in get_args(annotation) if arg is not type(None)))
    return next((mark.model for mark in get_args(annotation)[1:] if isinstance(mark, fields.Late)), annotation)


_EXAMPLES: dict[type[BaseModel], Any] = {
    _bare(info.annotation): examples[name]
    for model, examples in ((shapes.Outline, OUTLINES), (lesson.Piece, FORMS))
    for name, info in model.model_fields.items()
    if name in examples
}


@dataclass
class Author:
    """Somebody who writes files. `wildness` is how often a value is not what the model asks for, `fulness` how often a field that
    may be left out is there, `boldness` how often a size or a number is far from the usual, `oddness` how often words are."""

    random: Random
    wildness: float = 0.0
    fulness: float = 0.3
    boldness: float = 0.0
    oddness: float = 0.0
    marks: Iterator[str] = field(default_factory=lambda: (f"zq{number}" for number in count(1)))  # words that stand once in all that is written
    _counted: dict[type[BaseModel], int] = field(default_factory=dict)
    _earlier: dict[type[BaseModel], Table] = field(default_factory=dict)

    def chance(self, share: float) -> bool:
        return self.random.random() < share

    def lesson(self) -> Table:
        return self.table(lesson.Lesson)

    def room(self) -> Table:
        return self.table(room.Room)

    def translation(self) -> Table:
        return self.table(translation.Translation)

    def log(self) -> Table:
        return self.table(log.Log)

    def table(self, model: type[BaseModel], depth: int = 0) -> Any:
        """What a table of this model may hold."""
        if model in _EXAMPLES and not self.chance(0.2 + self.wildness):
            return self._like(_EXAMPLES[model], self.random.choice((0.4, 0.8, 1.0, 1.0, 1.3, 2.0)))
        chosen, left_out = self._alternatives(model)
        made: Table = {}
        for name, info in model.model_fields.items():
            wanted = name in chosen or (name not in left_out and (info.is_required() or self.chance(self.fulness * (0.3 if depth > 2 else 1.0))))
            if wanted != self.chance(self.wildness / 8):
                made[name] = self._field(model, name, info, depth)
        return self._settled(model, made)

    def _alternatives(self, model: type[BaseModel]) -> tuple[set[str], set[str]]:
        """The fields that are chosen out of each group of which one is written, and those that are not."""
        chosen, left_out = set(), set()
        for group in _ONE_OF.get(model, ()):
            picked = self.random.choice(group)
            chosen |= {picked, *_PARTNERS.get(picked, ())} if model in (shapes.Opening, firing.Shelf) else {picked}
            left_out |= set(group)
        for partners in _PARTNERS.values() if model in (shapes.Opening, firing.Shelf) else ():
            left_out |= set(partners)
        return chosen & set(model.model_fields), left_out - chosen

    def _field(self, model: type[BaseModel], name: str, info: FieldInfo, depth: int) -> Any:
        if self.chance(self.wildness):
            return spellings.wild(self.random)
        names = _NAMED.get(model, ())
        if names and name == ("id" if model is lesson.Step else "name"):
            number = self._counted[model] = self._counted.get(model, -1) + 1
            return names[number % len(names)] + (str(number) if number >= len(names) else "")
        return self.value(info.annotation, tuple(info.metadata), name, depth)

    def value(self, annotation: Any, metadata: tuple[Any, ...], name: str, depth: int) -> Any:
        """A value for a field of that name and kind."""
        while get_origin(annotation) in (Annotated, Union, types.UnionType):
            if get_origin(annotation) is Annotated:
                annotation, *more = get_args(annotation)
                metadata = (*metadata, *more)
            annotation = _bare(annotation)
        reader = next((mark for mark in metadata if isinstance(mark, fields.Reader | BeforeValidator)), None)
        if reader in _NAMES and not any(isinstance(mark, fields.Prose) for mark in metadata):
            return self.name(name)
        if reader in _WRITERS:
            return _WRITERS[reader](self)
        return self._composed(annotation, reader is not None, name, depth)

    def _composed(self, annotation: Any, has_short_form: bool, name: str, depth: int) -> Any:
        origin, inner = get_origin(annotation), get_args(annotation)
        if origin is Literal:
            return self.random.choice(inner) if self.chance(0.9) else str(self.random.choice(inner)).upper()
        short = has_short_form and self.chance(0.5)
        if isinstance(annotation, type) and issubclass(annotation, BaseModel):
            if short:
                first, info = next(iter(annotation.model_fields.items()))
                return self.value(info.annotation, tuple(info.metadata), first, depth + 1)
            if annotation in self._earlier and annotation not in _NAMED and self.chance(0.05):
                return self._earlier[annotation]  # the same again: an anchor and its repeat
            made = self._earlier[annotation] = self.table(annotation, depth + 1)
            return made
        if origin is tuple and inner[-1] is not Ellipsis:
            return [self.value(item, (), name, depth + 1) for item in inner]
        if origin is tuple:
            if short:
                return self.value(inner[0], (), name, depth + 1)
            return [self.value(inner[0], (), name, depth + 1) for _ in range(self._how_many(name, depth))]
        if origin is dict:
            if short:
                return self.value(inner[1], (), name, depth + 1)
            keys = _KEYS.get(name, ("a", "b"))[: self.random.choice((1, 2)) if self.chance(self.wildness) else None]
            return {self._key(key): self.value(inner[1], (), name, depth + 1) for key in keys}
        return self.text()

    def _key(self, usual: str) -> str:
        return self.random.choice(spellings.WILD) or "x" if self.chance(self.wildness) else usual

    def _how_many(self, name: str, depth: int) -> int:
        if depth > _DEEPEST:
            return 0
        if self.chance(self.wildness / 2):
            return self.random.choice((0, 1, 20, 60))
        return self.random.choice((1, 2, 3, 4)) if name == "steps" else self.random.choice((1, 1, 1, 2, 3))

    def name(self, of: str) -> str:
        known = _KNOWN.get(of)
        return self.random.choice(known) if known and not self.chance(self.wildness) else self.random.choice(spellings.WORDS)

    def text(self) -> str:
        if self.chance(self.wildness):
            return self.random.choice(spellings.ODD_TEXTS)
        if self.chance(self.oddness):
            return spellings.odd_sentence(self.random)
        return spellings.sentence(self.random, self.random.choice((4, 12, 12, 40)))

    def length(self) -> str:
        if self.chance(self.boldness):
            return spellings.length(10 ** self.random.uniform(-2, 3.5), self.random)
        return spellings.length(self.random.choice((4, 8, 12, 20, 35, 60, 90, 140, 260)) * self.random.uniform(0.8, 1.25), self.random)

    def _like(self, example: Any, factor: float) -> Any:
        """The example in other sizes, a little out of proportion."""
        match example:
            case dict():
                return {key: self._like(value, factor) for key, value in example.items()}
            case list():
                return [self._like(value, factor) for value in example]
            case str() if example.endswith(" mm") and not example.startswith("0"):
                bold = 10 ** self.random.uniform(-2, 2) if self.chance(self.boldness) else 1
                return spellings.length(parse_length(example).mm * factor * bold * self.random.uniform(0.9, 1.1), self.random)
            case str() if example.isdecimal():
                return self.whole() if self.chance(self.boldness) else example
        return example

    def whole(self) -> str:
        bold = self.chance(self.boldness)
        return self.random.choice(("0", "1", "2", "3", "60", "199", "200", "1000", "999999") if bold else ("1", "2", "3", "4", "6", "8", "12", "24"))

    def _settled(self, model: type[BaseModel], made: Table) -> Table:
        """The table with what its own rules ask for, unless its author is wild."""
        settle = SETTLE.get(model)
        if settle and not self.chance(self.wildness):
            settle(self, made)
        return made


def _reader_of(kind: Any) -> fields.Reader:
    return next(mark for mark in get_args(kind)[1:] if isinstance(mark, fields.Reader))


def _one(*choices: str) -> Callable[[Author], Any]:
    return lambda author: author.random.choice(choices)


def _offset(author: Author) -> str:
    return author.random.choice(("", "-", "+", "−")) + author.length() if author.chance(0.8) else "0 mm"


_NAMES = [_reader_of(kind) for kind in (fields.Name, fields.Mark, fields.FileName)]
_WRITERS: dict[fields.Reader | BeforeValidator | None, Callable[[Author], Any]] = {
    _reader_of(kind): writer
    for kind, writer in (
        (fields.Copy, Author.text),
        (fields.Text, Author.text),
        (fields.Note, lambda author: author.text()[:LONGEST_NOTE]),
        (fields.Line, lambda author: author.text()[:LONGEST_LINE]),
        (fields.Length, Author.length),
        (fields.Offset, _offset),
        (fields.Gap, lambda author: spellings.length(author.random.uniform(1, 9), author.random)),
        (fields.Distance, _one("5 m", "15 ft", "2 m", "800 mm", "40 m")),
        (fields.Weight, lambda author: spellings.weight(author.random.uniform(60, 900), author.random)),
        (fields.Percent, _one("3 %", "12", "11.5%", "5 percent", "½ %")),
        (fields.PercentRange, _one("12 %", "11-13 %", "6", "5 to 7 %")),
        (fields.Density, _one("1.95", "1.8 g/cm3", "2000 kg/m³")),
        (fields.Minutes, lambda author: spellings.minutes(author.random)),
        (fields.Paper, _one("A4", "Letter", "a3", "tabloid")),
        (fields.Flag, _one("yes", "no", "true", "Off")),
        (fields.Whole, Author.whole),
        (fields.Angle, _one("0", "22.5", "45°", "-90 degrees", "180", "7,5")),
        (fields.Date, _one("2027-01-07", "2027-04-09", "2028-02-29", "2026-12-31")),
        (fields.DateRange, _one("2027-01-07", "2027-03-29 to 2027-04-02", "2026-12-21..2027-01-01")),
        (fields.Days, _one("1", "12 days", "2 weeks", "one day")),
        (fields.Window, _one("none", "1 day", "3 days", "one week Monday to Friday", "2 weeks, Tue, Thu")),
        (fields.Making, _one("2027-01-07", "2027-04-09", "3 days", "one week Tue, Thu")),
        (fields.Weekdays, _one("Mon-Fri", "Tue, Thu", "every day", "Saturday", "Fri to Mon")),
        (amounts.People, _one("1", "24", "28", "60", "999")),
        (amounts.Learners, _one("0", "1", "13", "16")),
        (amounts.Some, _one("1", "2", "6", "14")),
        (amounts.Share, _one("0 %", "5 %", "10", "50 %", "99 %")),
        (amounts.Volume, _one("40 ml", "1 l", "473 ml")),
        (amounts.Energy, _one("42 kWh", "38,5 kwh")),
        (amounts.Price, _one("$28", "$0.17", "$14.50")),
    )
}
