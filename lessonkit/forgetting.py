"""What is remembered while a lesson's papers are made, and forgotten when the next is begun, which asks for other things."""

from __future__ import annotations

from typing import Protocol, TypeVar


class _Remembering(Protocol):
    def cache_clear(self) -> None: ...


Remembering = TypeVar("Remembering", bound=_Remembering)
_of_the_lesson: list[_Remembering] = []


def of_a_lesson(function: Remembering) -> Remembering:
    """Above `lru_cache`: what this function remembers is of one lesson's pieces and no use to another."""
    _of_the_lesson.append(function)
    return function


def forget_lesson() -> None:
    for function in _of_the_lesson:
        function.cache_clear()
