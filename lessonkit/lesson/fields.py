"""The kinds of value that a lesson or a room is written in, each read from plain text by pydantic.

Every reader raises `PydanticCustomError("teacher", ...)` with what is wrong and what to type instead; the place is found by
`decode.py`, which knows the tree. Nothing here knows YAML.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from datetime import date
from functools import lru_cache
from importlib import import_module
from typing import Annotated, Any

from pydantic import BaseModel, ConfigDict, GetCoreSchemaHandler, GetJsonSchemaHandler
from pydantic_core import PydanticCustomError
from pydantic_core.core_schema import CoreSchema, no_info_plain_validator_function

from lessonkit import units
from lessonkit.lesson import days
from lessonkit.lesson.limits import LONGEST_LINE, LONGEST_MARK, LONGEST_NAME, LONGEST_NOTE, LONGEST_TEXT
from lessonkit.problems import instead

_LINE_ENDS = re.compile(r"\s*\n\s*")


class Record(BaseModel):
    """A table in a file: no unknown words, frozen once read."""

    # built once, as part of the file's own model, instead of each by itself as well
    model_config = ConfigDict(extra="forbid", frozen=True, defer_build=True)


class Reader:
    """Reads a value from what was written; `schema` tells editors what may be written.

    What `read` gives is finished: pydantic builds no look at its type, which for every length took longer than all else.
    """

    def __init__(self, read: Callable[[Any], Any], schema: dict[str, Any]) -> None:
        self.read, self.schema = read, schema

    def __get_pydantic_core_schema__(self, kind: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        return no_info_plain_validator_function(self.read)

    def __get_pydantic_json_schema__(self, core: CoreSchema, handler: GetJsonSchemaHandler) -> dict[str, Any]:
        return dict(self.schema)


class Late:
    """A table whose model is loaded, and its validator built, when a file has one."""

    def __init__(self, module: str, name: str) -> None:
        self._module, self._name = module, name

    @property
    def model(self) -> type[Record]:
        model: type[Record] = getattr(import_module(self._module), self._name)
        return model

    def __get_pydantic_core_schema__(self, kind: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        return no_info_plain_validator_function(lambda value: self.model.model_validate(value))

    def __get_pydantic_json_schema__(self, core: CoreSchema, handler: GetJsonSchemaHandler) -> dict[str, Any]:
        self.model.model_rebuild()
        return handler(self.model.__pydantic_core_schema__)


class LateModule:
    """Stands for a module of models where fields are declared: its models are `Late`."""

    def __init__(self, module: str) -> None:
        self._module = module

    def __getattr__(self, name: str) -> Any:
        return Annotated[Record, Late(self._module, name)]


class Prose(Reader):
    """A text for people: it is printed as written, so a lost comment or a missing letter in it matters."""


def wrong(what: str, hint: str) -> PydanticCustomError:
    """A fault in a teacher's words; `what` and `hint` may hold braces."""
    return PydanticCustomError("teacher", "{what}", {"what": what, "hint": hint})


def _reader(parse: Callable[[str], Any], expected: str, schema: dict[str, Any]) -> Reader:
    parse = lru_cache(256)(parse)  # lessons share their measures

    def read(value: Any) -> Any:
        if not isinstance(value, str):
            raise wrong(f"expected {expected}, found {described(value)}.", f"Write one value, such as {expected.split(': ')[-1]}.")
        try:
            return parse(value)
        except units.UnitError as error:
            raise wrong(error.what, error.hint) from None

    return Reader(read, schema)


def described(value: Any) -> str:
    """What stands there, in words: a table, a list, nothing, or the text itself."""
    match value:
        case None:
            return "nothing"
        case dict():
            return "a table"
        case list():
            return "a list" if value else "an empty list"
        case _:
            text = " ".join(str(value).split())
            return f"“{text}”" if len(text) <= 40 else f"“{text[:40]}…”"


def one_of(*choices: str) -> Reader:
    """Accepts one of the words, whatever its capitals; a wrong one is answered with the nearest."""

    def read(value: Any) -> Any:
        if isinstance(value, str):
            for choice in choices:
                if value.strip().casefold() == choice.casefold():
                    return choice
        all_of_them = f"Write one of: {', '.join(choices)}."
        hint = instead(value, list(choices), all_of_them) if isinstance(value, str) else all_of_them
        raise wrong(f"expected one of {', '.join(choices)}, found {described(value)}.", hint)

    return Reader(read, {"type": "string", **({"enum": list(choices)} if len(choices) > 1 else {"const": choices[0]})})


def _flag(text: str) -> bool:
    if text.strip().casefold() in ("yes", "true", "on"):
        return True
    if text.strip().casefold() in ("no", "false", "off"):
        return False
    raise units.UnitError(f"expected yes or no, found {described(text)}.", "Write yes or no.")


def _whole(text: str) -> int:
    if not re.fullmatch(r"\d{1,6}", text.strip()):
        raise units.UnitError(f"expected a whole number, found {described(text)}.", "Write a number such as 3, without a unit.")
    return int(text)


def _angle(text: str) -> float:
    found = re.fullmatch(r"\s*([+-]?\d+(?:[.,]\d+)?)\s*(?:°|deg(?:rees)?)?\s*", text)
    if not found:
        raise units.UnitError(f"expected an angle, found {described(text)}.", "Write degrees, such as 22.5 or 45°.")
    return float(found[1].replace(",", "."))


def _gap(text: str) -> units.Length:
    length = units.parse_offset(text)
    if length.mm < 0:
        raise units.UnitError(f"expected 0 mm or more, found {described(text)}.", "Write such as 7 mm, or 0 mm for none.")
    return length


def _making(text: str) -> date | days.Window:
    return days.parse_date(text) if re.search(r"\d[-/.]\d", text) else days.parse_window(text)


def _weekdays(value: Any) -> tuple[int, ...]:
    try:
        return days.parse_weekdays(value)
    except units.UnitError as error:
        raise wrong(error.what, error.hint) from None


def _text(value: Any) -> Any:
    if isinstance(value, dict):
        first = next(iter(value), "")
        raise wrong("expected text, found a table: the colon in the line was read as the start of one.",
                    f'Put the whole text in quotes, such as "{first}: ...".')  # fmt: skip
    if not isinstance(value, str):
        raise wrong(f"expected text, found {described(value)}.", "Write the words after the colon.")
    if not value.strip():
        raise wrong("expected text, found an empty one.", "Write the words, or leave the whole line out.")
    return value.strip()


def _up_to(letters: int, in_one_line: bool = False) -> Callable[[Any], str]:
    def read(value: Any) -> str:
        text = _LINE_ENDS.sub(" ", _text(value)) if in_one_line else _text(value)
        if len(text) > letters:
            raise wrong(f"this text has {len(text):,} letters, and there is room for {letters:,} here.", "Make it shorter.")
        return text

    return read


def _string(**more: Any) -> dict[str, Any]:
    return {"type": "string", **more}


NUMBER_OR_TEXT = {"type": ["string", "number"]}

Copy = Annotated[str, Prose(_text, _string())]  # the words of a step, which go on from card to card
Text = Annotated[str, Prose(_up_to(LONGEST_TEXT), _string())]
Note = Annotated[str, Prose(_up_to(LONGEST_NOTE, in_one_line=True), _string())]  # what stands on a sign or a stencil
Line = Annotated[str, Prose(_up_to(LONGEST_LINE, in_one_line=True), _string())]  # what stands in the foot of papers, whatever line ends were typed
Mark = Annotated[str, Reader(_up_to(LONGEST_MARK, in_one_line=True), _string())]
Name = Annotated[str, Reader(_up_to(LONGEST_NAME, in_one_line=True), _string())]
FileName = Annotated[str, Reader(_text, _string())]
Length = Annotated[units.Length, _reader(units.parse_length, "a length with its unit: 160 mm", _string(examples=["160 mm", "9 1/16 in"]))]
Offset = Annotated[units.Length, _reader(units.parse_offset, "a distance with its unit: -20 mm", _string(examples=["0 mm", "-1/2 in"]))]
Distance = Annotated[units.Length, _reader(units.parse_distance, "a distance with its unit: 5 m", _string(examples=["5 m", "15 ft"]))]
Weight = Annotated[units.Weight, _reader(units.parse_weight, "a weight with its unit: 180 g", _string(examples=["180 g", "1 1/2 lb"]))]
Percent = Annotated[float, _reader(units.parse_percent, "a percentage: 12 %", NUMBER_OR_TEXT)]
PercentRange = Annotated[tuple[float, float], _reader(units.parse_percent_range, "a percentage: 12 %", NUMBER_OR_TEXT)]
Density = Annotated[float, _reader(units.parse_density, "grams in a cubic centimetre: 1.95", NUMBER_OR_TEXT)]
Minutes = Annotated[float, _reader(units.parse_minutes, "minutes: 6", NUMBER_OR_TEXT)]
Paper = Annotated[str, _reader(units.paper_named, "a paper size: A4", _string(enum=sorted(units.PAPERS)))]
Flag = Annotated[bool, _reader(_flag, "yes or no: yes", {"type": ["boolean", "string"]})]
Whole = Annotated[int, _reader(_whole, "a whole number: 3", NUMBER_OR_TEXT)]
Angle = Annotated[float, _reader(_angle, "degrees: 45", NUMBER_OR_TEXT)]
Date = Annotated[date, _reader(days.parse_date, "a date: 2027-05-07", _string(format="date"))]
DateRange = Annotated[days.DateRange, _reader(days.parse_range, "a date or a range: 2027-03-29 to 2027-04-02", _string())]
Days = Annotated[int, _reader(days.parse_days, "a number of days: 12 days", NUMBER_OR_TEXT)]
Window = Annotated[days.Window, _reader(days.parse_window, "a stretch of days: one week Monday to Friday", NUMBER_OR_TEXT)]
Making = Annotated[date | days.Window, _reader(_making, "a date or a stretch of days: 2027-04-09", _string())]
Weekdays = Annotated[tuple[int, ...], Reader(_weekdays, {"type": ["string", "array"], "items": {"type": "string"}})]
Gap = Annotated[units.Length, _reader(_gap, "a distance with its unit, 0 or more: 7 mm", _string(examples=["0 mm", "7 mm", "1/4 in"]))]
