"""Any text in any field: it stands on paper as it was typed, or it is reported where it stands, before anything is written."""

from __future__ import annotations

import json
import unicodedata
from io import BytesIO

import pypdfium2
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from lessonkit.build import Order, Source, papers, work
from lessonkit.drawing.fonts import missing
from lessonkit.drawing.items import TextLine
from lessonkit.problems import Problem
from lessonkit.source.lines import INVISIBLE, composed
from tests.drawings_for_tests import outlines

FIELDS = (
    "title", "about", "season", "version", "piece", "step id", "step title", "cue", "help", "easy text", "good", "choose", "early", "text for all",
    "stop", "safety", "word", "meaning", "station", "do", "need", "come", "station safety", "supply", "prepare", "what goes wrong", "cure", "caution",
    "care", "look", "room", "clay", "easy", "advanced", "face",
)  # fmt: skip
PLAIN = {field: f"{field} here" for field in FIELDS}


def lesson(said: dict[str, str]) -> bytes:
    q = {field: json.dumps(text, ensure_ascii=False) for field, text in said.items()}
    return f"""\
title: {q["title"]}
about: {q["about"]}
technique: slab
season: {q["season"]}
version: {q["version"]}
pieces:
  - {{name: {q["piece"]}, face: {q["face"]}, flat: {{outline: {{circle: {{across: 160 mm}}}}}}}}
steps:
  - id: {q["step id"]}
    title: {q["step title"]}
    picture: trace
    station: {q["station"]}
    minutes: 8
    cue: {q["cue"]}
    help: {q["help"]}
    levels:
      easy: {{text: {q["easy text"]}, good: {q["good"]}, choose: {q["choose"]}, early: {q["early"]}}}
    text: {q["text for all"]}
    stop: {q["stop"]}
    safety: {q["safety"]}
    word: {q["word"]}
stations:
  - {{name: {q["station"]}, do: [{q["do"]}], need: [{q["need"]}], come: {q["come"]}, safety: {q["station safety"]}}}
words: {{{q["word"]}: {q["meaning"]}}}
supplies: [{q["supply"]}]
prepare: [{q["prepare"]}]
wrong: [{{what: {q["what goes wrong"]}, cure: {q["cure"]}}}]
cautions: [{q["caution"]}]
care: [{q["care"]}]
rubric: [{q["look"]}]
""".encode()


def room(said: dict[str, str]) -> bytes:
    q = {field: json.dumps(text, ensure_ascii=False) for field, text in said.items()}
    return f"""\
kind: room
name: {q["room"]}
levels: {{easy: {q["easy"]}, advanced: {q["advanced"]}}}
clays: [{{name: {q["clay"]}, cone: "6", shrinkage: 12 %, highest_cone: "6"}}]
sticks: [{{name: green, thick: 8 mm}}]
""".encode()


def built(said: dict[str, str]) -> tuple[dict[str, bytes], tuple[Problem, ...]]:
    kit, problems = work(Source("lesson.yaml", lesson(said)), Source("room.yaml", room(said)), None, Order())
    return papers(kit) if kit else {}, problems


HYPHENS = str.maketrans(dict.fromkeys("\x02\ufffe", "-"))  # what this reader makes of a hyphen at the end of a line


def printed(pdf: bytes) -> str:
    """All letters of a PDF without blanks; each lies on its page."""
    found = []
    for page in pypdfium2.PdfDocument(BytesIO(pdf)):
        wide, tall = page.get_size()
        words = page.get_textpage()
        for index in range(words.count_chars()):
            letter = chr(pypdfium2.raw.FPDFText_GetUnicode(words, index))
            if not letter.isspace():
                left, foot, right, top = words.get_charbox(index)
                assert 0 <= left <= right <= wide, letter
                assert 0 <= foot <= top <= tall, letter
                found.append(letter)
    return "".join(found)


def bare(text: str) -> str:
    return "".join(text.split())


def not_printed(said: dict[str, str]) -> dict[str, str]:
    """The fields whose text is on no paper. The first letter of a name may have become a capital; a step's id is not for paper."""
    files, problems = built(said)
    assert files, "\n".join(map(str, problems))
    everything = "\0".join(printed(data) for name, data in files.items() if name.endswith(".pdf")).upper().casefold().translate(HYPHENS)
    return {field: text for field, text in said.items() if field != "step id" and bare(text).upper().casefold() not in everything}


def test_every_field_is_printed_somewhere() -> None:
    assert not_printed(PLAIN) == {}


def sound(letter: str) -> bool:
    """By Unicode's own tables and the typefaces, and not by the code under test."""
    category = unicodedata.category(letter)
    forward = unicodedata.bidirectional(letter) not in ("R", "AL", "AN")
    return (
        category[0] not in "CMZ"
        and forward
        and not missing(letter)
        and unicodedata.normalize("NFC", letter) == letter
        and not INVISIBLE.match(letter)
    )


SOUND = [letter for letter in map(chr, range(0x21, 0x10000)) if sound(letter) and letter not in "{}"]
LATIN = [letter for letter in SOUND if letter < "\u0180"]
MARKUP = [
    "<b>",
    "</para>",
    "<your own>",
    "&amp;",
    "&#65;",
    "AT&T",
    "<img/>",
    "%(x)s",
    "$x",
    "\\n",
    "]]>",
    "<!--",
    "*b*",
    "# a",
    "- a",
    "a: b",
    "'",
    '"',
]
WORD = st.text(st.sampled_from(SOUND), min_size=1, max_size=7) | st.text(st.sampled_from(LATIN), min_size=1, max_size=7)
SAID = st.fixed_dictionaries({field: st.lists(WORD | st.sampled_from(MARKUP), min_size=1, max_size=3).map(" ".join) for field in FIELDS})


def test_every_letter_that_may_stand_has_a_shape() -> None:
    assert [letter for letter in SOUND if not outlines(TextLine(0, 0, letter, 10)).commands] == []


@settings(max_examples=12, deadline=None, suppress_health_check=list(HealthCheck))
@given(SAID)
def test_c05_c07_sound_text_in_every_field_is_printed_as_it_was_typed(no_network: None, said: dict[str, str]) -> None:
    assert not_printed(said) == {}


@pytest.mark.parametrize(
    ("text", "kind"),
    [
        ("\u05e9\u05dc\u05d5\u05dd", "right-to-left"),  # Hebrew
        ("Ton \u0645\u0631\u062d\u0628\u0627", "right-to-left"),  # Arabic
        ("\u0661\u0662", "right-to-left"),  # Arabic figures
        ("\u0938\u094d", "missing-letter"),  # Devanagari, which would have to be shaped
        ("\u0e2a\u0e31", "missing-letter"),  # Thai
        ("\u9676", "missing-letter"),  # Chinese
        ("pot \U0001f600", "missing-letter"),
        ("\U0001d400", "missing-letter"),
        ("\ue000", "missing-letter"),  # private: every program shows another sign
        ("\uf130", "missing-letter"),
        ("\ufdd0", "missing-letter"),  # no character at all
        ("q\u0301", "missing-accent"),
        ("\u0301", "missing-accent"),
        ("\u0ea5\u0eb2\u0ea7\u0eb5", "missing-accent"),  # Lao: its vowels stand above
        ("a\u200bb", "control-character"),
        ("a\xadb", "control-character"),
        ("a\u202eb", "control-character"),
        ("a\U000e0041", "control-character"),
    ],
)
@pytest.mark.parametrize("field", ["title", "step title", "easy text", "station", "word", "meaning", "room", "advanced", "piece"])
def test_what_cannot_be_printed_is_told_at_its_place_before_anything_is_written(field: str, text: str, kind: str) -> None:
    files, problems = built(PLAIN | {field: text})
    assert files == {}
    source = (room if field in ("room", "advanced") else lesson)(PLAIN | {field: text}).decode().split("\n")
    errors = [problem for problem in problems if problem.severity == "error"]
    assert {problem.kind for problem in errors} == {kind}
    for problem in errors:
        assert problem.span.file == ("room.yaml" if field in ("room", "advanced") else "lesson.yaml")
        assert source[problem.span.line - 1][problem.span.column - 1] in composed(text)
        assert problem.hint


@settings(max_examples=60, deadline=None, suppress_health_check=list(HealthCheck))
@given(st.sampled_from(FIELDS), st.text(st.characters(exclude_categories=["Cs"]), min_size=1, max_size=4))
def test_any_text_is_printed_or_told(field: str, text: str) -> None:
    said = PLAIN | {field: text.replace("{", "{{").replace("}", "}}")}
    files, problems = built(said)
    if files:
        everything = "\0".join(printed(data) for name, data in files.items() if name.endswith(".pdf")).upper().casefold().translate(HYPHENS)
        assert field == "step id" or bare(composed(text)).upper().casefold() in everything
    else:
        assert any(problem.severity == "error" for problem in problems)


def test_accents_are_printed_on_their_letters_however_they_were_typed() -> None:
    typed = PLAIN | {"title": "Cafe\u0301 \u2764\ufe0f", "station": "Mo\u0308bel", "piece": "n\u0303andu\u0301"}
    assert not_printed({field: composed(text) for field, text in typed.items()}) == {}
    assert built(typed) == built({field: composed(text) for field, text in typed.items()})


def test_names_are_in_one_line_and_long_words_are_broken_with_nothing_lost() -> None:
    long = "".join(chr(0x61 + n % 26) for n in range(120))
    files, _ = built(PLAIN | {"easy text": long, "do": long[:100], "piece": "a\n b", "title": "Port\nhole"})
    cards = printed(files["cards-easy.pdf"])
    assert long in cards.replace("\x02", "")
    assert long[:100] in printed(files["station-signs.pdf"]).replace("\x02", "")
    assert "stencil-a-b.svg" in files
    assert "Porthole" in cards


def test_a_drawing_may_be_called_what_it_likes() -> None:
    text = lesson(PLAIN).decode().replace("circle: {across: 160 mm}", "svg: {file: \U0001f600.svg, wide: 60 mm}")
    square = b'<svg xmlns="http://www.w3.org/2000/svg"><path d="M0 0 H10 V10 H0 Z"/></svg>'
    source = Source("lesson.yaml", text.encode(), lambda name: square if name == "\U0001f600.svg" else b"title: x")
    kit, problems = work(source, Source("room.yaml", room(PLAIN)))
    assert kit is not None, "\n".join(map(str, problems))


MARKUP_OF_C07 = ("use <your own> stamp", '<font color="[1,2]">x</font>', '<img src="http://127.0.0.1:9/x.png"/>hi')


@pytest.mark.parametrize("text", MARKUP_OF_C07)
def test_c07_what_looks_like_a_tag_is_printed_and_neither_fetched_nor_evaluated(no_network: None, text: str) -> None:
    fields = ("title", "step title", "easy text", "do", "meaning", "supply", "room", "advanced", "face")
    assert not_printed(PLAIN | dict.fromkeys(fields, text)) == {}


@pytest.mark.parametrize("colour", ["[1,2]", "__import__('os')", "red"])
def test_c07_a_colour_is_no_word_of_a_station(colour: str) -> None:
    """Signs differ in letter, shape and band: there is no colour to choose, and so none to evaluate."""
    source = lesson(PLAIN).decode().replace('do: ["do here"]', f'do: ["do here"], colour: {json.dumps(colour)}')
    kit, problems = work(Source("lesson.yaml", source.encode()), Source("room.yaml", room(PLAIN)))
    assert kit is None
    (told,) = (str(problem) for problem in problems)
    line = next(number for number, row in enumerate(source.split("\n"), 1) if "colour" in row)
    assert told.startswith(f"lesson.yaml:{line}:")
    assert "“colour” is not a word that can stand here." in told
