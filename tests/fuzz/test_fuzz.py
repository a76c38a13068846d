"""A few of the inputs of the long run (`python -m tests.fuzz`), and that what looks at them can find fault."""

from __future__ import annotations

from dataclasses import replace
from random import Random

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from lessonkit.build import Order
from lessonkit.problems import Problem, Span
from tests.fuzz import oracles, papers_read
from tests.fuzz.attempts import MAKERS, Attempt, attempt, make, to_build
from tests.fuzz.running import reduced, tried
from tests.lessons_for_tests import FRAME, ROOM, kit_of

FEW = settings(max_examples=20, deadline=None, derandomize=True, suppress_health_check=list(HealthCheck))
RANDOM = st.randoms(use_true_random=False)  # each choice is the library's own, so that a failing input is made small
SOUND = Attempt("sound", {"lesson.yaml": FRAME.encode(), "room.yaml": ROOM.encode()})


@pytest.mark.parametrize("kind", MAKERS)
@FEW
@given(random=RANDOM)
def test_papers_or_problems(kind: str, random: Random) -> None:
    oracles.checked(make(kind, random))


@pytest.mark.parametrize("seed", range(10))
def test_papers_are_whole(seed: int) -> None:
    tries = (to_build(seed, number) for number in range(100))
    kit, order = next((kit, tried.order) for tried in tries if (kit := oracles.checked(tried)[0]))
    assert papers_read.built(kit, order or Order(), whole=seed == 0)


def test_an_input_is_made_from_its_seed_and_number_alone() -> None:
    for number in range(40):
        assert attempt(3, number) == attempt(3, number)
    assert attempt(3, 0) != attempt(4, 0)


def test_a_failing_input_is_made_smaller() -> None:
    grown = SOUND.with_file("lesson.yaml", FRAME.replace("title: Porthole", "titel: Porthole\nseason: May").encode())
    small = reduced(grown, lambda smaller: b"titel" in smaller.files["lesson.yaml"])
    assert small.files == {"lesson.yaml": b"titel: Porthole"}


@pytest.mark.parametrize(
    ("problem", "kind"),
    [
        (Problem("error", "x", Span("lesson.yaml", 99, 1, 99, 1), "it is wrong.", "Mend it."), "lies outside of its file: x"),
        (Problem("error", "x", Span("lesson.yaml", 1, 40, 1, 41), "it is wrong.", "Mend it."), "lies outside of its file: x"),
        (Problem("error", "x", Span("other.yaml", 1, 1, 1, 1), "it is wrong.", "Mend it."), "names no file of hers: x"),
        (Problem("error", "x", Span("lesson.yaml", 1, 1, 1, 1), "it is wrong."), "says nothing: x"),
        (Problem("error", "x", Span("lesson.yaml", 1, 1, 1, 1), "Input should be a table.", "Mend it."), "says Input should: x"),
        (Problem("error", "x", Span("lesson.yaml", 1, 1, 1, 1), "w" * 800, "Mend it."), "is too long: x"),
    ],
)
def test_a_bad_problem_is_seen(problem: Problem, kind: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(oracles, "work", lambda *_: (None, (problem,)))
    assert tried(SOUND, build=False, whole=False).outcome == kind


def test_a_librarys_word_in_the_plan_is_seen_unless_it_is_hers() -> None:
    room = SOUND.files["room.yaml"] + b"groups: [{name: None, people: 12}]\n"
    assert tried(SOUND.with_file("room.yaml", room).with_file("log.yaml", b"kind: log\n"), build=False, whole=False).outcome == "papers"
    assert oracles._library_word("Plan for None.", {"room.yaml": ["  name: Nonesuch"]}) == "None"
    assert oracles._library_word("None is nan.", {"room.yaml": ["  name: None"], "lesson.yaml": None}) == "nan"


def test_a_traceback_is_seen(monkeypatch: pytest.MonkeyPatch) -> None:
    def fail(*_: object) -> None:
        raise ZeroDivisionError

    monkeypatch.setattr(oracles, "work", fail)
    assert tried(SOUND, build=False, whole=False).outcome.startswith("ZeroDivisionError")


def test_lost_and_doubled_words_are_seen() -> None:
    kit = kit_of(FRAME.replace("Cut the ring. It", "zq1 Cut the ring. It"))
    order = Order(only=("cards",))
    papers_read.built(kit, order)
    step = kit.steps["easy"][0]
    for text, told in ((f"{step.text} Truly", "are not on its cards"), (step.text.replace("zq1 ", ""), "more than once")):
        changed = replace(kit, steps={"easy": (step._replace(text=text),), "advanced": ()})
        with pytest.raises(oracles.Fault, match=told):
            papers_read._look_for_words(changed, "easy", order, papers_read.papers(kit, order))


def test_empty_and_clipped_pages_are_seen() -> None:
    from lessonkit.drawing.items import Document, Page, Path, Stroke, TextLine
    from lessonkit.writers.pdf import write_pdf

    line = Path.of((("M", 5.0, 50.0), ("L", 100.0, 50.0)), Stroke(0.5))
    for items, told in (((), "an empty page"), ((TextLine(195.0, 50.0, "Porthole", 20),), "words outside"), ((line,), "ink outside")):
        with pytest.raises(oracles.Fault, match=told):
            papers_read._read_pages(write_pdf(Document("x", "en", (Page(210.0, 297.0, items, "x"),))), "x.pdf", 9.4)
