"""What is measured against what, and how far each may be."""

from __future__ import annotations

import sys
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import NamedTuple

from tests.benchmarks.measure import Command, lessonkit, measure
from tests.benchmarks.shelf import LESSONS, ROOM, write_shelf

BARE = "bare Python start"
FLOOR = "floor"
ONE = "build of one lesson"
SHELF = 26
MANY = 1000


class Row(NamedTuple):
    """One command's cost over another's, times `scale`; the two figures are what it must reach and what it should. A row `by_clock`
    is about waiting, as with two processes; all others are about the processor's time."""

    work: str
    over: str
    under: str
    must: float | None = None
    goal: float | None = None
    scale: float = 1.0
    by_clock: bool = False


class Group(NamedTuple):
    """Commands that are measured in one interleaved run, and what is read from it. `peaks`: the memory of a command, in MiB."""

    commands: Callable[[Path], Sequence[Command]]
    rows: Sequence[Row]
    peaks: Sequence[Row] = ()
    rounds: int = 9


class Desk:
    """A folder with a lesson, or more, and its papers, made new as often as is asked."""

    def __init__(self, scratch: Path, name: str, lessons: int = 1) -> None:
        self.scratch, self.name, self.lessons, self.made = scratch, name, lessons, 0

    @property
    def folder(self) -> Path:
        return self.scratch / f"{self.name}-{self.made}"

    def renew(self) -> Path:
        self.made += 1
        if self.lessons > 1:
            write_shelf(self.folder, self.lessons)
        else:
            self.folder.mkdir()
            for path in (ROOM, LESSONS / "porthole.yaml", LESSONS / "porthole.es.yaml"):
                (self.folder / path.name).write_bytes(path.read_bytes())
        return self.folder

    def check(self) -> list[str]:
        return lessonkit("check", self.folder)

    def build(self, *options: str) -> list[str]:
        return lessonkit("build", self.folder, "--out", self.folder / "papers", *options)

    def new(self, command: Callable[..., list[str]], *options: str) -> Callable[[], list[str]]:
        def prepare() -> list[str]:
            self.renew()
            return command(*options)

        return prepare


def starts(scratch: Path) -> list[Command]:
    checked, built = Desk(scratch, "checked"), Desk(scratch, "built")
    return [
        Command(BARE, lambda: [sys.executable, "-c", "pass"]),
        Command("help", lambda: lessonkit("--help")),
        Command("version", lambda: lessonkit("--version")),
        Command("check", checked.new(checked.check)),
        Command("check again", checked.check),
        Command(ONE, built.new(built.build)),
        Command("build again", built.build),
    ]


def one_changed(scratch: Path) -> list[Command]:
    one, shelf = Desk(scratch, "one"), Desk(scratch, "changed", SHELF)
    measure(shelf.new(shelf.build)())

    def change_one() -> list[str]:
        path = shelf.folder / "porthole.yaml"
        path.write_text(path.read_text(encoding="utf-8").replace("about: A", "about: A plain"), encoding="utf-8")
        return shelf.build()

    return [Command(ONE, one.new(one.build)), Command("one of 26 changed", change_one)]


def pages(scratch: Path) -> list[Command]:
    def module(name: str) -> Command:
        return Command(name, lambda: [sys.executable, "-m", f"tests.benchmarks.{name}", str(scratch / f"{name}.pdf")])

    return [module(name) for name in (FLOOR, "drawn", "platypus", "typst_pages")]


def shelves(scratch: Path) -> list[Command]:
    floor, *_ = pages(scratch)
    one, two = Desk(scratch, "one-process", SHELF), Desk(scratch, "two-processes", SHELF)
    return [floor, Command("shelf", one.new(one.build, "--jobs", "1")), Command("two processes", two.new(two.build, "--jobs", "2"))]


def thousands(scratch: Path) -> list[Command]:
    few, many = Desk(scratch, "few", SHELF), Desk(scratch, "many", MANY)
    return [Command("few", few.new(few.build, "--jobs", "1")), Command("many", many.new(many.build, "--jobs", "1"))]


GROUPS = {
    "starts": Group(
        starts,
        [
            Row("`--help`", "help", BARE, 5, 3.5),
            Row("`--version`", "version", BARE, 5, 3.5),
            Row("`check` one lesson, first time", "check", BARE, 22, 15),
            Row("`check` one lesson, unchanged", "check again", BARE, 8, 5),
            Row("build one lesson, all papers", ONE, BARE, 36, 26),
            Row("build again, nothing changed", "build again", BARE, 8, 4.5),
        ],
        rounds=15,
    ),
    "changed": Group(one_changed, [Row("build again, one lesson of 26 changed", "one of 26 changed", ONE, 1.3, 1.1)]),
    "pages": Group(
        pages,
        [
            Row("drawing and writing alone on the benchmark's own pages", "drawn", FLOOR, 1.5, 1.0),
            Row("(the same pages, platypus)", "platypus", FLOOR),
            Row("(the same pages, typst)", "typst_pages", FLOOR),
        ],
    ),
    "shelf": Group(
        shelves,
        [
            Row("build of the whole shelf, one process", "shelf", FLOOR, 3.0, 2.0),
            Row("the same, two processes", "two processes", FLOOR, 2.0, 1.4, by_clock=True),
        ],
        [Row("peak memory, shelf, one process, MiB", "shelf", "", 96, 64)],
        rounds=7,
    ),
    "thousand": Group(
        thousands,
        [Row("1,000 lessons: time a lesson", "many", "few", 1.1, 1.0, scale=SHELF / MANY)],
        [Row("1,000 lessons: peak memory", "many", "few", 1.1, 1.0)],
        rounds=7,
    ),
}
