"""Her files: which were named, read and worked out, their problems printed. What every command begins with."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from lessonkit.cli.values import There

if TYPE_CHECKING:
    from lessonkit.build import Order
    from lessonkit.pieces.model import Kit
    from lessonkit.problems import Problem

Said = tuple[str, str]  # severity, and the line as it is printed

FILES = click.argument("lessons", nargs=-1, type=There())
ROOM = click.option("--room", type=There(folders=False), help="The room file. Left out: the nearest room.yaml.")
CLAY = click.option("--clay", help="Another clay of the room than the lesson's.")


def lessons(named: tuple[Path, ...]) -> Iterator[Path]:
    from lessonkit.cli.files import lesson_paths

    found = list(lesson_paths(named or (Path(),)))
    if not found:
        raise click.UsageError("no lesson files here. Name one, or start with: lessonkit new my-lesson.yaml")
    yield from found


def worked(
    path: Path, room: Path | None, clay: str | None, report: Callable[[tuple[Problem, ...]], None], order: Order | None = None
) -> Kit | None:
    """One lesson worked out, its problems reported; None if it can't be built."""
    from lessonkit.build import work
    from lessonkit.cli.files import room_path, source

    room = room or room_path(path)
    try:
        kit, problems = work(source(path), source(room) if room else None, clay, order)
    except OSError as error:
        progress("")
        click.echo(f"{error.filename}: could not be read: {error.strerror}.", err=True)
        return None
    report(problems)
    return kit


def print_new(seen: set[Said], stream: Any = None) -> Callable[[tuple[Problem, ...]], None]:
    """Prints each problem once, though many lessons share the room that it is in."""
    return lambda problems: print_said(said(problems), seen, stream)


def said(problems: tuple[Problem, ...]) -> list[Said]:
    return [(problem.severity, str(problem)) for problem in sorted(dict.fromkeys(problems), key=lambda problem: problem.span)]


def print_said(lines: list[Said], seen: set[Said], stream: Any = None) -> None:
    """What isn't among the `seen`, to which it is added."""
    for line in dict.fromkeys(lines):
        if line not in seen:
            progress("")
            click.echo(line[1], file=stream)
    seen.update(lines)


def write(folder: Path, files: dict[str, bytes]) -> None:
    """All of them, or the reason is told and the command ends."""
    from lessonkit.keeping import write_all

    try:
        write_all(folder, files)
    except OSError as error:
        progress("")
        click.echo(f"{folder}: {told(error)}", err=True)
        sys.exit(1)


def told(error: OSError) -> str:
    """Why papers could not be written, what lies there now, and what to do."""
    from lessonkit.keeping import NotReplaced

    if not isinstance(error, NotReplaced):
        return f"could not be written: {error.strerror}. Nothing there was changed. Close the file or choose another place."
    rest = "The other papers are the new ones." if error.moved else "Nothing there was changed."
    return f"{', '.join(error.names)} could not be replaced or removed: {error.strerror}. {rest} Close it and try again."


def paper(name: str | None) -> str | None:
    from lessonkit.units import UnitError, paper_named

    try:
        return paper_named(name) if name else None
    except UnitError as error:
        raise click.BadParameter(f"{error.what} {error.hint}", param_hint="--paper") from None


def progress(text: str) -> None:
    """One line that is overwritten, on a terminal only."""
    if sys.stderr.isatty():
        click.echo(f"\r\033[K{text}", nl=False, err=True)
