"""A lesson's words in another language: a file beside it, `porthole.es.yaml`. Everything in it may be left out."""

from __future__ import annotations

from typing import Annotated, Any

from pydantic import BeforeValidator, Field

from lessonkit.lesson.fields import Copy, Line, Name, Note, Record, Text
from lessonkit.lesson.lesson import ByLevel, LineByLevel

LANGUAGES = ("en", "es")  # those that the program speaks itself


def translation_name(lesson_file: str, language: str) -> str:
    """What the file beside the lesson is called: porthole.yaml, porthole.es.yaml."""
    stem, dot, ending = lesson_file.replace("\\", "/").rsplit("/", 1)[-1].rpartition(".")
    return f"{stem}.{language}.{ending}" if dot else f"{ending}.{language}.yaml"


def _text_alone(value: Any) -> Any:
    return value if isinstance(value, dict) else {"text": value}


class SaidThere(Record):
    """What a card says of a step."""

    text: Copy | None = None
    good: Text | None = None
    choose: Text | None = None
    early: Text | None = None


class WordsThere(SaidThere):
    plain: Annotated[SaidThere, BeforeValidator(_text_alone)] | None = None
    full: Annotated[SaidThere, BeforeValidator(_text_alone)] | None = None


class StepThere(Record):
    title: LineByLevel = Field(default_factory=dict)
    text: Copy | None = None
    levels: dict[str, Annotated[WordsThere, BeforeValidator(_text_alone)]] = Field(default_factory=dict)
    stop: ByLevel = Field(default_factory=dict)
    safety: Text | None = None


class StationThere(Record):
    name: Name | None = None
    do: tuple[Note, ...] = ()
    need: tuple[Note, ...] = ()
    come: Note | None = None
    safety: Note | None = None


class WordThere(Record):
    """A word of the trade and its meaning."""

    word: Name
    means: Text


class Translation(Record):
    """The whole file: steps by their ids, stations and words by what the lesson calls them."""

    title: Line | None = None
    levels: dict[str, Line] = Field(default_factory=dict)  # what the levels are called
    steps: dict[str, StepThere] = Field(default_factory=dict)
    stations: dict[str, StationThere] = Field(default_factory=dict)
    words: dict[str, WordThere] = Field(default_factory=dict)
