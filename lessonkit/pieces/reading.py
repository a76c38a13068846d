"""How hard a card reads: the words of its sentences and the school grade of its text. English only: nothing else is measured.

A short text sways: one long word in a card of eight lifts its grade by one and a half. So the limits are for choosing words, not for ranking people.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import lru_cache
from typing import NamedTuple

from lessonkit.lesson.decode import Written
from lessonkit.lesson.fields import described
from lessonkit.lesson.lesson import Lesson, Words
from lessonkit.lesson.lesson import Step as WrittenStep
from lessonkit.lesson.teaching import Limit
from lessonkit.pieces.model import Kit
from lessonkit.pieces.steps import levels_of
from lessonkit.problems import Problem
from lessonkit.source.tree import Path

# Usual limits (from memory, shaped by plain-language guidance): an easy card about grade 3, an advanced one about grade 7.
EASY, ADVANCED = (3, 12), (7, 25)
LANGUAGE = "en"
LONG_WORD = 3  # syllables: words from here on are named
MOST_NAMED = 4
MOST_SHOWN, MOST_LETTERS = 30, 240

# One syllable for each run of vowels, but for these. Where English agrees on no rule, the word is an exception.
_VOWELS = re.compile(r"[aeiouy]+")
_APART = re.compile(r"""  # a vowel that does not run together with the one behind it: li-on, be-ing, cre-ate, flu-id; and rhyth-m
    [aeiouy](?=ing) | (?<![tcsgxnlh])i(?=[ao]) | i(?=ate|ation) | (?<!g)e(?=o(?!r)) | cr?e(?=at(?!ure)|act) | (?<=[aeiouy][^aeiouy])e(?=as?$)
    | (?<![tcsh])i(?=en[tc]) | i(?=ety|ets?$) | (?<!^[pt])(?<!d)i(?=ers?$|est$) | (?<![gq])u(?=a|el|en[ct]|et) | uo(?=u)
    | (?<![gq])u(?=i(?:ty|tive|ds?$|n)) | (?<!g)i(?=u) | e(?=u[ms]$) | (?<=[a-z])y(?=[ao]|e(?!s?$|d$)) | o(?=i(?:nc|cs?$)|e[mtfx]|erc)
    | a(?=o|ics?$) | ^co(?=or|ope) | is(?=ms?$) | th(?=ms?$)
""", re.VERBOSE)  # fmt: skip
_SILENT = re.compile(r"""  # a vowel that is not heard: tile, tiles, rolled, safe-ly, some-thing, ev-ery, bisque
    (?<=[^aeiouy])(?<![^aeiouylr][lr])(?: e | (?<!.[sxzcg])(?<![sc]h)es | (?<![td])ed )$
    | (?<=[aeiouy])[^aeiouy]{1,2}(?<![^aeiouylr][lr])e(?=(?:ly|ness|less|ful|fully|wares?|ty)$)
    | (?<=[aeiouy])[^aeiouy]?[^aeiouyl]e(?=ments?$) | (?<=q)ue[ds]?$ | (?<=[aeion]g)ues?$ | ^ev(?=ery) | (?<=ic)a(?=lly)
    | ^(?:som|ther|her|wher|hom|tim|lif|bas|fram|lik|whit|trad|nam|fil|lin|sid|fir|ston|hous|plac|edg|not|mor|wav|pip|els)e(?=[^aeiouy]+[aeiouy])
""", re.VERBOSE)  # fmt: skip
_EXCEPTIONS = {
    "people": 2, "recipe": 3, "maybe": 2, "business": 2, "science": 2, "ratio": 3, "diamond": 2, "priest": 1, "leopard": 2, "someone": 2,
    "crooked": 2, "jagged": 2, "ragged": 2, "rugged": 2, "naked": 2, "wicked": 2,
    "engobe": 2, "sgraffito": 3, "slipware": 2, "terracotta": 4, "tenmoku": 3, "majolica": 4, "celadon": 3, "raku": 2, "kaolin": 3, "ochre": 2,
}  # fmt: skip
_ABBREVIATIONS = frozenset(("e.g.", "i.e.", "approx.", "no.", "vs.", "etc."))
_STOPS, _CLOSING = (".", "!", "?", "…"), "\"'”’)]"


@lru_cache(maxsize=5_000)
def syllables(word: str) -> int:
    """How many syllables an English word is spoken with, the fewer of two ways to say it; a hyphenated word is the sum of its parts.

    Figures, signs and abbreviations count as one (Flesch's rule, from memory). A rule with exceptions: right for 98 of 100 common words.
    """
    parts = [re.sub(r"[^a-z]", "", part.split("'")[0]) for part in re.split("[-/]", word.casefold().replace("’", "'").replace("–", "-"))]
    return max(sum(_part_syllables(part) for part in parts if part), 1)


def _part_syllables(word: str) -> int:
    known = _EXCEPTIONS.get(word) or _EXCEPTIONS.get(word.removesuffix("s"))
    return known or max(len(_VOWELS.findall(word)) + len(_APART.findall(word)) - len(_SILENT.findall(word)), 1)


def sentences(text: str) -> tuple[tuple[str, ...], ...]:
    """The words of each sentence, as they stand between white space. A sentence ends with . ! or ?; the last may lack its end."""
    found: list[list[str]] = [[]]
    for token in text.split():
        if token.isalnum():  # most are plain words
            found[-1].append(token)
            continue
        if any(character.isalnum() for character in token):
            found[-1].append(token)
        if token.rstrip(_CLOSING).endswith(_STOPS) and token.casefold() not in _ABBREVIATIONS and found[-1]:
            found.append([])
    return tuple(tuple(sentence) for sentence in found if sentence)


def grade(text: str) -> float:
    """The Flesch-Kincaid grade, 0.39 words / sentences + 11.8 syllables / words - 15.59: Kincaid, Fishburne, Rogers and Chissom, Naval
    Technical Training Command, Research Branch Report 8-75, 1975. ValueError for a text without words."""
    spoken = sentences(text)
    if not spoken:
        raise ValueError("a text without words has no grade.")
    return _grade(spoken)


def _grade(spoken: tuple[tuple[str, ...], ...]) -> float:
    words = [word for sentence in spoken for word in sentence]
    return 0.39 * len(words) / len(spoken) + 11.8 * sum(map(syllables, words)) / len(words) - 15.59


class _Copy(NamedTuple):
    """One text of a step, with the level that reads it and where it stands."""

    text: str
    level: str
    shown: str
    path: Path


def reading_level(lesson: Written[Lesson], kit: Kit) -> Iterator[Problem]:
    """The text of each step against its level's limits; `plain` words are held to those of easy, `full` ones to those of advanced. A text
    for all levels is held to the first that does the step."""
    if kit.room.language != LANGUAGE:
        return
    explained = {word.casefold() for word in kit.lesson.words}
    for index, step in enumerate(kit.lesson.steps):
        for copy in _copies(step, index, kit):
            most_grade, most_words = _limits(copy.level, kit.room.reading)
            found = _too_hard(copy, most_grade, most_words, explained)
            if found:
                yield Problem("warning", found[0], lesson.span(*copy.path), f"{copy.shown}: {found[1]}", found[2])


def _copies(step: WrittenStep, index: int, kit: Kit) -> Iterator[_Copy]:
    at: Path = ("steps", index)
    here = levels_of(step, list(kit.room.levels))
    shared = next((level for level in here if level not in step.levels), None)
    if step.text and shared:
        yield _Copy(step.text, shared, kit.room.levels[shared], (*at, "text"))
    for level in here:
        words = step.levels.get(level)
        if isinstance(words, Words):
            shown, path = kit.room.levels[level], (*at, "levels", level)
            yield _Copy(words.text, level, shown, (*path, "text"))
            for reading, said, like in (("plain", words.plain, "easy"), ("full", words.full, "advanced")):
                if said:
                    yield _Copy(said.text, like, f"{shown}, in {reading} words", (*path, reading, "text"))


def _limits(level: str, own: dict[str, Limit]) -> tuple[int, int]:
    """Grade and words; a level between or beyond the two has the limits of advanced, until the room gives its own."""
    (usual_grade, usual_words), limit = EASY if level == "easy" else ADVANCED, own.get(level, Limit())
    return limit.grade if limit.grade is not None else usual_grade, limit.words if limit.words is not None else usual_words


def _too_hard(copy: _Copy, most_grade: int, most_words: int, explained: set[str]) -> tuple[str, str, str] | None:
    """Kind, what is too much, and what to change; None for a text within its limits. Words that the lesson explains are not named."""
    spoken = sentences(copy.text)
    longest = max(spoken, key=len, default=())
    if len(longest) > most_words:
        return "long-sentence", f"a sentence of {len(longest)} words, and {most_words} are the limit.", f"Make two of it: {_shown(longest)}"
    if not spoken or round(reads_like := _grade(spoken), 1) <= most_grade:
        return None
    bare = dict.fromkeys(re.sub(r"^\W+|\W+$", "", word) for sentence in spoken for word in sentence)
    long = [word for word in sorted(bare, key=syllables, reverse=True) if syllables(word) >= LONG_WORD and word.casefold() not in explained]
    what = f"it reads like grade {reads_like:.1f}, and {most_grade} is the limit."
    if long:
        return "hard-words", what, f"Say it without {', '.join(map(described, long[:MOST_NAMED]))}, or in shorter sentences."
    return "hard-words", what, f"Make it shorter, or two sentences: {_shown(longest)}"


def _shown(sentence: tuple[str, ...]) -> str:
    few = " ".join(sentence[:MOST_SHOWN])[:MOST_LETTERS]
    return f"“{few}{'…' if few != ' '.join(sentence) else ''}”"
