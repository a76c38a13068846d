"""The catalogues of the program's words agree."""

from __future__ import annotations

import string

import pytest

from lessonkit.drawing.fonts import missing
from lessonkit.layout.spanish import SPANISH
from lessonkit.layout.wording import CATALOGUES, ENGLISH, minutes
from lessonkit.lesson.translation import LANGUAGES


def fields(text: str) -> set[str]:
    return {name for _, name, _, _ in string.Formatter().parse(text) if name}


# What learners read: it must be there in every language. The words of teachers' papers may be English still.
ON_CARDS = ENGLISH.keys() & {
    "minutes", "one_minute", "stop", "good", "choose", "early", "turn_over", "not_yet", "nearly", "yes", "next_step", "step_of", "part_of_step",
    "sheet_of", "language_name", "words_card", "back_of", "read_aloud", "cards_title", "thickness", "thick", "step", "steps", "step_part",
    "parts_of_step",
}  # fmt: skip
OWN = {"es": SPANISH}


def test_every_language_has_its_catalogue() -> None:
    assert tuple(CATALOGUES) == LANGUAGES
    assert len(ON_CARDS) == 25


@pytest.mark.parametrize("language", OWN)
def test_a_catalogue_has_all_that_learners_read(language: str) -> None:
    needed = {*ON_CARDS, *(key for key in ENGLISH if key.startswith(("sign_", "tent_", "door_")))}
    assert needed - OWN[language].keys() == set()


@pytest.mark.parametrize("language", OWN)
def test_a_catalogue_has_nothing_strange(language: str) -> None:
    there = OWN[language]
    assert there.keys() - ENGLISH.keys() == set()
    assert [key for key in there if fields(ENGLISH[key]) != fields(there[key])] == []
    assert not missing("".join(there.values()))


def test_minutes_are_counted_in_spanish_too() -> None:
    assert [minutes(n, "es") for n in (1, 2.5)] == ["1 minuto", "2.5 minutos"]
