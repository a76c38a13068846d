"""One input: the files of a lesson, its room and what lies beside it, made from a kind, a seed and a number, and from nothing else."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import cache
from pathlib import Path
from random import Random
from typing import Any

from lessonkit.build import Order, Source
from lessonkit.layout.card_order import CARD_FORMATS, FLIPS, CardOrder
from lessonkit.source.text import read_tree
from lessonkit.source.tree import plain
from tests.fuzz.author import Author
from tests.fuzz.mutations import bytes_changed, lines_changed, structure_changed
from tests.fuzz.written import written

LESSONS = Path(__file__).parents[2] / "lessons"
BOAT = b"""<svg xmlns="http://www.w3.org/2000/svg" width="60mm" height="40mm" viewBox="0 0 60 40">
  <g transform="translate(2 1) rotate(3)"><path d="M0 20 H20 L30 2 C34 6 38 12 40 18 V20 H56 L46 38 H10 Z M20 24 H30 A4 4 0 0 1 30 32 H20 Z"/></g>
</svg>"""


_TOPICS = ("groups", "kiln", "racks", "calendar", "buying", "tables", "tools", "slab", "check", "copies", "minutes", "stations")


@dataclass(frozen=True)
class Attempt:
    """What one run is given: files by name (lesson.yaml among them, the others may be missing), and what is ordered."""

    kind: str
    files: dict[str, bytes]
    order: Order | None = None  # None: the papers are not tried, as in `lessonkit sizes`

    def source(self, name: str) -> Source | None:
        return Source(name, self.files[name], self._beside) if name in self.files else None

    def _beside(self, name: str) -> bytes:
        if "/" in name or "\\" in name or ".." in name:
            raise ValueError(name)
        if name not in self.files:
            raise FileNotFoundError(2, "No such file or directory", name)
        return self.files[name]

    def with_file(self, name: str, data: bytes) -> Attempt:
        return replace(self, files={**self.files, name: data})


@cache
def real(name: str) -> bytes:
    return (LESSONS / name).read_bytes()


@cache
def real_lessons() -> tuple[str, ...]:
    return tuple(sorted(path.name for path in LESSONS.glob("*.yaml") if path.name != "room.yaml" and "." not in path.stem))


@cache
def _tables(name: str) -> Any:
    tree, _ = read_tree(real(name), name)
    assert tree is not None
    return plain(tree)


def _as_it_is(random: Random) -> tuple[str, dict[str, bytes]]:
    """A real lesson with its room and its translation."""
    name = random.choice(real_lessons())
    files = {"lesson.yaml": real(name), "room.yaml": real("room.yaml")}
    translation = LESSONS / name.replace(".yaml", ".es.yaml")
    return name, files | ({"lesson.es.yaml": real(translation.name)} if translation.exists() else {})


def _changed(change: Callable[[bytes, Random], bytes]) -> Callable[[Random], dict[str, bytes]]:
    def make(random: Random) -> dict[str, bytes]:
        _, files = _as_it_is(random)
        name = random.choice((*["lesson.yaml"] * 3, "room.yaml", *(["lesson.es.yaml"] * 2 if "lesson.es.yaml" in files else ())))
        return files | {name: change(files[name], random)}

    return make


def _structure(random: Random) -> dict[str, bytes]:
    name, files = _as_it_is(random)
    target, original = random.choice((("lesson.yaml", name), ("lesson.yaml", name), ("room.yaml", "room.yaml")))
    return files | {target: _written(structure_changed(_tables(original), random), random)}


def _translation(random: Random) -> dict[str, bytes]:
    name = random.choice([name for name in real_lessons() if (LESSONS / name.replace(".yaml", ".es.yaml")).exists()])
    told = structure_changed(_tables(name.replace(".yaml", ".es.yaml")), random) if random.random() < 0.7 else Author(random, 0.02).translation()
    return {"lesson.yaml": real(name), "room.yaml": real("room.yaml"), "lesson.es.yaml": _written(told, random)}


def _by_model(wildness: tuple[float, ...]) -> Callable[[Random], dict[str, bytes]]:
    def make(random: Random) -> dict[str, bytes]:
        author = Author(random, random.choice(wildness), random.choice((0.1, 0.3, 0.6)))
        files = {"lesson.yaml": _written(author.lesson(), random), "boat.svg": BOAT}
        if random.random() < 0.9:
            files["room.yaml"] = real("room.yaml") if random.random() < 0.5 else _written(author.room(), random)
        if random.random() < 0.1:
            files["lesson.es.yaml"] = _written(author.translation(), random)
        return files

    return make


def _bold(random: Random) -> dict[str, bytes]:
    """A lesson whose sizes and numbers are far from the usual, one or two of them or all."""
    author = Author(random, 0.0, random.choice((0.1, 0.3)), random.choice((0.05, 0.1, 0.3, 1.0)))
    return {"lesson.yaml": _written(author.lesson(), random), "room.yaml": real("room.yaml"), "boat.svg": BOAT}


def _odd_words(random: Random) -> dict[str, bytes]:
    author = Author(random, 0.0, random.choice((0.2, 0.5)), oddness=random.choice((0.1, 0.5)))
    return {"lesson.yaml": _written(author.lesson(), random), "room.yaml": _written(author.room(), random), "boat.svg": BOAT}


def _plan(random: Random) -> dict[str, bytes]:
    """A lesson that is sound, with a room, a log and dates that may not be."""
    name, files = _as_it_is(random)
    author = Author(random, random.choice((0.0, 0.0, 0.02)), random.choice((0.3, 0.7)))
    room = dict(_tables("room.yaml"))
    written_room = author.room()
    for topic in random.sample(_TOPICS, k=3):
        room[topic] = written_room.get(topic, room[topic])
    if random.random() < 0.5:
        room = structure_changed(room, random)
    lesson = dict(_tables(name))
    made = author.lesson()
    lesson |= {topic: made[topic] for topic in ("dates", "dries_on") if topic in made}
    log = {"kind": "log", **author.log()}
    return files | {"lesson.yaml": _written(lesson, random), "room.yaml": _written(room, random), "log.yaml": _written(log, random)}


def _drawing(random: Random) -> dict[str, bytes]:
    lesson = b"""title: Boat\nabout: A boat.\ntechnique: slab\npieces:\n- {name: boat, flat: {outline: {svg: {file: boat.svg, wide: 120 mm}}}}
steps: [{id: cut, title: Cut, minutes: 3, text: Cut it.}]\n"""
    return {"lesson.yaml": lesson, "room.yaml": real("room.yaml"), "boat.svg": bytes_changed(BOAT, random)}


def _written(value: Any, random: Random) -> bytes:
    return written(value, random).encode("utf-8", "surrogatepass")


MAKERS: dict[str, tuple[int, Callable[[Random], dict[str, bytes]]]] = {  # with their shares
    "bytes": (23, _changed(bytes_changed)),
    "lines": (18, _changed(lines_changed)),
    "structure": (18, _structure),
    "by model, good": (8, _by_model((0.0, 0.0, 0.005))),
    "by model, bad": (12, _by_model((0.02, 0.05, 0.2, 0.5))),
    "bold sizes": (6, _bold),
    "odd words": (4, _odd_words),
    "translation": (5, _translation),
    "plan": (4, _plan),
    "drawing": (4, _drawing),
}
BUILT = ("by model, good", "by model, good", "by model, good", "bold sizes", "odd words", "structure", "lines", "plan")


def attempt(seed: int, number: int) -> Attempt:
    """The check of that number: always the same."""
    random = Random(f"check {seed} {number}")
    kind = random.choices(list(MAKERS), [share for share, _ in MAKERS.values()])[0]
    made = make(kind, random)
    return replace(made, order=Order()) if random.random() < 1 / 3 else made


def to_build(seed: int, number: int) -> Attempt:
    """The input of that number whose papers are wanted, if it can be built: always the same."""
    random = Random(f"build {seed} {number}")
    made = make(random.choice(BUILT), random)
    return replace(made, order=_order(random) if random.random() < 0.3 else Order())


def make(kind: str, random: Random) -> Attempt:
    return Attempt(kind, MAKERS[kind][1](random))


def _order(random: Random) -> Order:
    cards = CardOrder(
        format=random.choice((None, *CARD_FORMATS)),
        reading=random.choice((None, "picture", "plain", "full")),
        left_handed=random.random() < 0.2,
        backs=random.choice((None, None, *FLIPS)),
        sets=random.choice((None, None, 1, 3)),
    )
    return Order(paper=random.choice((None, "A4", "Letter", "A3", "Tabloid")), mirror=random.random() < 0.3, cards=cards)
