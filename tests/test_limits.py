"""Files that are meant to choke the program: each is answered in words, in a process of its own whose time and memory are bounded.

The bounds are against running away, five times what is wanted or more: 2 s of processor time and 200 MB of memory.
"""

from __future__ import annotations

import math
import os
import resource
import subprocess
import sys
from pathlib import Path

import pytest

from lessonkit.lesson.limits import LONGEST_WORD, MOST, MOST_ITEMS, MOST_WORDS
from tests.lessons_for_tests import FRAME, ROOM, problems_of
from tests.shapes_for_tests import STEPS, flat, lesson

MOST_CPU_S, MOST_BYTES = 20, 2_000_000_000  # addresses, of which the libraries alone take a fifth
CIRCLE = "circle: {across: 160 mm}"


def around(count: int, deep_mm: float = 0.0) -> str:
    """Points on a circle, every other one so much further in."""
    turns = ((80 - deep_mm * (n % 2), 2 * math.pi * n / count) for n in range(count))
    return "points: [" + ", ".join(f"[{r * math.cos(a):.3f} mm, {r * math.sin(a):.3f} mm]" for r, a in turns) + "]"


def many(kind: str, count: int, item: str) -> str:
    return FRAME + f"{kind}:\n" + "".join(f"  - {item}\n".replace("#", str(n)) for n in range(count))


def step(text: str) -> str:
    return FRAME.replace("Cut the ring. It is {frame cut} wide.", f"'{text}'")


RING = "{circle: {across: 2 mm}, ring: {count: 200, across: 10 mm}}"
NESTED = f"{{joined: [{{joined: [{RING}], ring: {{count: 200, across: 90 mm}}}}], ring: {{count: 200, across: 300 mm}}}}"
BOMB = "a: &a [x, x, x, x, x, x, x, x, x]\n" + "".join(
    f"{b}: &{b} [{', '.join(f'*{a}' for _ in range(9))}]\n" for a, b in zip("abcdefgh", "bcdefghi", strict=True)
)
HOSTILE = {
    "an alias bomb": (BOMB, ROOM),
    "deep brackets": ("[" * 900_000, ROOM),
    "dashes": ("- " * 450_000, ROOM),
    "quotes": ('"' * 900_000, ROOM),
    "empty lines": ("\n" * 900_000 + "title: x", ROOM),
    "invisible letters": (step("\u200b" * 300_000), ROOM),
    "accents": (step("e" + "\u0301" * 300_000), ROOM),
    "a word without end": (step("w" * 900_000), ROOM),
    "long words": (step(("w" * 119 + " ") * 660), ROOM),
    "words without end": (step("word " * 180_000), ROOM),
    "a title without end": (FRAME.replace("Porthole", "T" * 900_000), ROOM),
    "fill-ins without end": (step("{frame cut} " * 70_000), ROOM),
    "a number without end": (flat(f"circle: {{across: {'9' * 900_000} mm}}"), ROOM),
    "a fraction without end": (flat(f"circle: {{across: {'1/' * 400_000} mm}}"), ROOM),
    "1,000 stations": (many("stations", 1000, "{name: s#, do: [Cut it.]}"), ROOM),
    "8,000 names of levels": (many("early", 8000, "{text: a, levels: [xq#]}"), ROOM),
    "1,000 steps": (FRAME + "".join(f"  - {{id: s{n}, title: Cut, picture: cut, minutes: 8, text: Cut it.}}\n" for n in range(1000)), ROOM),
    "300 pieces": (
        FRAME.replace("pieces:\n", "pieces:\n" + "".join(f"  - {{name: p{n}, flat: {{outline: {{{CIRCLE}}}}}}}\n" for n in range(300))),
        ROOM,
    ),
    "openings of openings": (flat("circle: {across: 600 mm}", "openings: [" + ", ".join([RING] * 60) + "]"), ROOM),
    "rings of rings": (flat(f"joined: [{NESTED}]"), ROOM),
    "4,000 points on a circle": (flat(around(4000)), ROOM),
    "4,000 points in and out": (flat(around(4000, 20)), ROOM),
    "4,000 points in and out, rounded and pressed": (flat(around(4000, 20) + ", rounded: {inside: 3 mm}", "press: [{inset: 7 mm}]"), ROOM),
    "8,000 points": (flat(around(8000)), ROOM),
    "sides without end": (flat("polygon: {sides: 999999, across: 160 mm}"), ROOM),
    "a hole of a hair's width": (flat("circle: {across: 0.001 mm}"), ROOM),
    "a coil of a hair's width": (lesson("coil_pot: {across: 2900 mm, tall: 2900 mm, coil: 0.2 mm, measured: outside}"), ROOM),
    "999,999 of each": (flat(CIRCLE).replace("name: boat", "name: boat, count: 999999"), ROOM),
    "1,000 groups": (FRAME, ROOM + "groups:\n" + "".join(f"  - {{name: g{n}, people: 24}}\n" for n in range(1000))),
    "5,000 levels": (FRAME, ROOM.replace("advanced: Done", "".join(f"l{n}: L, " for n in range(5000)) + "advanced: Done")),
}


def bounded() -> None:
    resource.setrlimit(resource.RLIMIT_CPU, (MOST_CPU_S, MOST_CPU_S))
    resource.setrlimit(resource.RLIMIT_AS, (MOST_BYTES, MOST_BYTES))


@pytest.mark.skipif(sys.platform != "linux", reason="asks Linux for the bounds")
@pytest.mark.parametrize("name", HOSTILE)
def test_c20_a_hostile_file_is_answered_in_words(tmp_path: Path, name: str) -> None:
    text, room = HOSTILE[name]
    (tmp_path / "lesson.yaml").write_text(text, encoding="utf-8")
    (tmp_path / "room.yaml").write_text(room, encoding="utf-8")
    command = [sys.executable, "-m", "lessonkit", "check", "lesson.yaml"]
    environment = {**os.environ, "PYTHONPATH": str(Path(__file__).parents[1]), "PYTHONIOENCODING": "utf-8"}
    found = subprocess.run(command, cwd=tmp_path, env=environment, capture_output=True, encoding="utf-8", preexec_fn=bounded, check=False)
    assert found.returncode in (0, 1), found.stderr[-500:]
    assert found.stderr == ""
    assert found.stdout.splitlines()[-1].startswith("1 lesson: ")
    assert all(len(line) < 1000 for line in found.stdout.splitlines())


@pytest.mark.parametrize("word", ["prepare", "stations"])
def test_a_list_may_be_as_long_as_its_bound_and_no_longer(word: str) -> None:
    most, item = MOST.get(word, MOST_ITEMS), "{name: s#, do: [Cut it.]}" if word == "stations" else "Cut it."
    assert problems_of(many(word, most, item)) == []
    (told,) = problems_of(many(word, most + 1, item))
    assert f"lesson.yaml:19:3: error: “{word}” has {most + 1} items, and {most} are the most." in told


def test_c08_a_step_may_be_as_long_as_its_bound_and_no_longer() -> None:
    assert not [told for told in problems_of(step("tide " * MOST_WORDS)) if ": error: " in told]
    (told,) = (told for told in problems_of(step("tide " * (MOST_WORDS + 7))) if ": error: " in told)
    assert "lesson.yaml:17:11: error: step “cut” has 5,007 words, 7 more than the 5,000 that one text may have." in told


def test_a_word_may_be_as_long_as_its_bound_and_no_longer() -> None:
    assert problems_of(step("w" * LONGEST_WORD)) == []
    (told,) = problems_of(step("w" * (LONGEST_WORD + 1)))
    assert f"has {LONGEST_WORD + 1} letters, and {LONGEST_WORD} are the most." in told


def test_a_smooth_outline_of_many_points_has_few_corners() -> None:
    assert problems_of(flat(around(2000))) == []
    (told,) = problems_of(flat(around(2000, 20)))
    assert "boat: it has 2,000 corners, and nobody cuts more than 1,000." in told


def test_the_pieces_of_a_lesson_have_a_bounded_number_of_points_together() -> None:
    piece = f"  - {{name: p#, flat: {{outline: {{{CIRCLE}}}, openings: [{{circle: {{across: 3 mm}}, ring: {{count: 30, across: 100 mm}}}}]}}}}\n"
    text = FRAME[: FRAME.index("pieces:")] + "pieces:\n" + "".join(piece.replace("#", str(n)) for n in range(60)) + STEPS
    told = [line for line in problems_of(text) if ": error: " in line]
    assert len(told) == 1
    assert "error: with this piece the lesson has more than 16,000 points and curves." in told[0]
