"""`lessonkit build`: which lessons must be made again, their making, and what is told of each, in the order of the lessons."""

from __future__ import annotations

import json
import os
import unicodedata
from collections.abc import Generator, Iterator, Sequence
from contextlib import closing
from pathlib import Path
from typing import TYPE_CHECKING, Any, NamedTuple

import click

from lessonkit.cli import reading, record
from lessonkit.cli.card_options import card_order
from lessonkit.cli.files import folder_name, room_path
from lessonkit.cli.inputs import Inputs, digest, program

if TYPE_CHECKING:
    from lessonkit.build import Order
    from lessonkit.cli.making import Made
    from lessonkit.cli.workers import Stopped


class Wanted(NamedTuple):
    """The options as they were typed; `order` checks them, and needs the libraries for it."""

    clay: str | None
    paper: str | None
    levels: tuple[str, ...]
    mirror: bool
    only: tuple[str, ...]
    cards: dict[str, Any]

    def key(self) -> str:
        return json.dumps(self)

    def order(self) -> Order:
        """Raises BadParameter."""
        from lessonkit.build import Order

        return Order(reading.paper(self.paper), self.levels or None, _only(self.only), self.mirror, card_order(**self.cards))


class Place(NamedTuple):
    """A lesson and where its papers go. `found` is the build that lies there, if all would be made just so again."""

    lesson: Path
    room: Path | None
    folder: Path
    found: record.Build | None


def build_all(lessons: Sequence[Path], out: Path, room: Path | None, wanted: Wanted, jobs: int | None, again: bool) -> bool:
    """Whether all is well."""
    began = program()  # before anything else is imported: what is edited from now on counts as a change
    places = [_place(lesson, room or room_path(lesson), out / name, wanted, again) for lesson, name in _folders(lessons)]
    results = _results([place for place in places if place.found is None], wanted, jobs)
    built = unchanged = 0
    with closing(results):
        for count, place in enumerate(places, 1):
            reading.progress(f"{count} of {len(places)}: {place.lesson.name}")
            if place.found is not None:
                reading.print_said(place.found.said, set())
                unchanged += 1
            else:
                built += _finished(place, next(results), wanted, began)
    reading.progress("")
    failed = len(places) - built - unchanged
    parts = [f"{unchanged} unchanged"] if unchanged else []
    parts += [f"{failed} not: see above"] if failed else []
    first = f"{built} lesson{'s' if built != 1 else ''} built in {out}"
    if unchanged == len(places):
        first, parts = f"{unchanged} lesson{'s' if unchanged != 1 else ''} in {out}: nothing changed since the last build", []
    click.echo(", ".join([first, *parts]) + ".")
    return not failed


def _place(lesson: Path, room: Path | None, folder: Path, wanted: Wanted, again: bool) -> Place:
    try:
        found = None if again else record.unchanged(folder, wanted.key(), Inputs(lesson, room))
    except OSError:  # told when it is to be made
        found = None
    return Place(lesson, room, folder, found)


def _results(places: list[Place], wanted: Wanted, jobs: int | None) -> Generator[Made | Stopped]:
    if not places:
        return
    from lessonkit.cli.making import Task, load, make

    order = wanted.order()
    tasks = [Task(place.lesson, place.room, wanted.clay, order) for place in places]
    if len(tasks) == 1 or jobs == 1:
        yield from map(make, tasks)
        return
    from lessonkit.cli.workers import cores, in_order

    load()
    yield from in_order(make, tasks, jobs or cores())


def _finished(place: Place, made: Made | Stopped, wanted: Wanted, began: str) -> bool:
    """Whether its papers are in their folder."""
    from lessonkit.cli.changes import told
    from lessonkit.cli.making import Made

    if not isinstance(made, Made):
        return _failed(place, f"{place.lesson}: its process ended before it was done (exit code {made.exit_code}). Build it alone, with --jobs 1.")
    reading.print_said(made.said, set())
    if made.level is not None:
        raise click.BadParameter(f"there is no level called “{made.level}”. There are: {', '.join(made.levels)}.", param_hint="--level")
    if made.papers is None:
        return _failed(place)
    files = {name: digest(paper.data) for name, paper in made.papers.items()}
    build = record.Build(wanted.key(), made.inputs | {"program": began}, made.said, files)
    other = _other_lesson(place, build.order)
    try:
        changes = record.keep(place.folder, build, made.papers, made.code)
    except OSError as error:
        return _failed(place, f"{place.folder}: {reading.told(error)}")
    text = f"the papers of {other} lay here and were replaced. Choose another --out to keep both." if other else told(changes)
    if text:
        reading.progress("")
        click.echo(f"{place.folder.name}: {text}")
    return True


def _other_lesson(place: Place, order: str) -> str:
    """The lesson whose papers lie there, if it is another of the same name, and not this one before it was moved."""
    former = record.read(place.folder).build(order)
    labels = [label.removeprefix("lesson ") for label in former.inputs if label.startswith("lesson ")] if former else []
    return "".join(lesson for lesson in labels if os.path.exists(lesson) and not os.path.samefile(lesson, place.lesson))


def _failed(place: Place, what: str = "") -> bool:
    """Tells it, and what lies there instead."""
    reading.progress("")
    if what:
        click.echo(what, err=True)
    elif codes := sorted({kept.code for kept in record.read(place.folder).files.values()}):
        click.echo(f"{place.folder}: left as it was, version {', '.join(codes)}.")
    return False


def _folders(lessons: Sequence[Path]) -> Iterator[tuple[Path, str]]:
    """The file's own name as a folder; a second lesson of the same name, or one that differs only in capitals, gets a number."""
    taken: set[str] = set()
    for lesson in lessons:
        own = name = folder_name(lesson.stem)
        number = 2
        while _alike(name) in taken:
            name, number = f"{own}-{number}", number + 1
        taken.add(_alike(name))
        yield lesson, name


def _alike(name: str) -> str:
    """What file systems that do not tell capitals or composed letters apart take for the same name."""
    return unicodedata.normalize("NFC", name).casefold()


def _only(names: tuple[str, ...]) -> tuple[str, ...] | None:
    from lessonkit.build import PAPERS
    from lessonkit.problems import instead

    for name in names:
        if name not in PAPERS:
            raise click.BadParameter(f"there is no paper called “{name}”. {instead(name, list(PAPERS))}", param_hint="--only")
    return names or None
