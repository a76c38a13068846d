"""What a card says in one language or in two: the second on the next line, so that both stand in the same place."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from lessonkit.drawing.typesetting import Span
from lessonkit.layout.wording import minutes, say
from lessonkit.pieces.translating import marked
from lessonkit.units import show_minutes

Languages = tuple[str, ...]


def say_all(key: str, languages: Languages, **values: Any) -> str:
    """The program's words on one line, once where both languages have the same."""
    return _row(say(key, language, **values) for language in languages)


def minutes_all(n: float, languages: Languages) -> str:
    """“6 minutes · minutos”: the number stands once."""
    first, *others = (minutes(n, language) for language in languages)
    return _row((first, *(other.removeprefix(f"{show_minutes(n)} ") for other in others)))


def once(texts: Sequence[str], languages: Languages) -> list[str]:
    """Both texts; one only where they are the same, or where the second is the first one, marked as not translated."""
    if len(texts) == 1 or texts[0] == texts[1]:
        return [texts[0]]
    return [texts[1]] if texts[1] == marked(texts[0], languages[0]) else list(texts)


def stacked(texts: Sequence[str], languages: Languages, bold: bool = False) -> list[Span]:
    """Her own words, one language below the other, of which the first is bold."""
    said = once(texts, languages)
    if len(said) == 1:
        return [Span(said[0], bold or len(texts) > 1)]
    return [Span(f"{said[0]}\n", bold=True), Span(said[1])]


def led(key: str, texts: Sequence[str], languages: Languages) -> list[Span]:
    """Her own words after some of the program's, which are bold; of two languages, the first is bold as a whole."""
    leads = [say(key, language) for language in languages]
    if len(texts) == 1:
        return [Span(f"{leads[0]} ", bold=True), Span(texts[0])]
    said = once(texts, languages)
    return stacked([f"{lead} {words}" for lead, words in zip(leads, said, strict=False)], languages[: len(said)], bold=True)


def _row(texts: Any) -> str:
    return " · ".join(dict.fromkeys(text for text in texts if text))
