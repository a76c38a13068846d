"""`lessonkit plan`: the numbers for a group, a term, a day, as text, as JSON, as a calendar file."""

from __future__ import annotations

import sys
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from lessonkit.cli import reading
from lessonkit.cli.reading import CLAY, FILES, ROOM
from lessonkit.cli.values import Count, There

if TYPE_CHECKING:
    from lessonkit.lesson.classroom import Group
    from lessonkit.lesson.log import Log
    from lessonkit.pieces.model import Kit
    from lessonkit.planning.numbers import Asked


@click.command()
@FILES
@ROOM
@CLAY
@click.option("--group", "named", multiple=True, help="Only this group, by its name or code (may be given more than once).")
@click.option("--today", help="What is to be done on this day, such as 2027-04-09.")
@click.option("--log", type=There(folders=False), help="What happened before: a file of kind: log.")
@click.option("--glaze-cone", help="Fire everything that is glazed together, to this cone.")
@click.option("--seed", type=Count(0), default=1, show_default=True, help="Another run of the class through its stations.")
@click.option("--json", "as_json", is_flag=True, help="For other programs.")
@click.option("--ics", type=click.Path(dir_okay=False, path_type=Path), help="Write the calendar to this file.")
@click.option("--papers", type=click.Path(file_okay=False, path_type=Path), help="Make the papers of the plan in this folder.")
@click.option("--paper", help="Another paper for them than the room's usual one (A4 where it names none): A4, Letter, A3, Tabloid.")
def plan(
    lessons: tuple[Path, ...], room: Path | None, clay: str | None, named: tuple[str, ...], today: str | None, log: Path | None,
    glaze_cone: str | None, seed: int, as_json: bool, ics: Path | None, papers: Path | None, paper: str | None,
) -> None:  # fmt: skip
    """Clay, minutes, stations, drying, kiln and calendar for your groups.

    LESSONS are files or folders; left out, this folder. The groups, the kiln and the calendar stand in the room file.
    """
    import json

    from lessonkit.cli.plan_text import plan_text, today_text
    from lessonkit.planning.numbers import Asked, faults_of
    from lessonkit.planning.numbers import plan as planned

    paths = list(reading.lessons(lessons))
    kits = [reading.worked(path, room, clay, reading.print_new(set(), sys.stderr)) for path in paths]
    good = tuple(kit for kit in kits if kit is not None)
    if not good:
        sys.exit(1)
    _need_one_room(good)
    groups, said = _groups(good[0], named)
    asked = Asked(good, groups, _log(log, good) if log else None, _day(today) if today else None, _cone(glaze_cone), seed)
    found = planned(asked, said)
    if as_json:
        click.echo(json.dumps(found, indent=2, ensure_ascii=False))
    else:
        click.echo(today_text(found) if today else plan_text(found, good[0].room))
    told: dict[str, list[str]] = {}  # one fault may stand in the way of several topics
    for topic, error in faults_of(found):
        told.setdefault(f"{error['what']} {error['hint']}", []).append(topic)
    for text, topics in told.items():
        click.echo(f"{', '.join(topics)}: error: {text}", err=True)
    written = (ics is None or _written(asked, ics)) & (papers is None or _papers_written(asked, found, papers, reading.paper(paper)))
    sys.exit(0 if len(good) == len(kits) and not faults_of(found) and written else 1)


def _need_one_room(kits: tuple[Kit, ...]) -> None:
    for kit in kits:
        if kit.room != kits[0].room:
            rooms = " and ".join(dict.fromkeys((kits[0].room.name, kit.room.name)))
            raise click.UsageError(f"these lessons are taught in different rooms ({rooms}), and one plan is for one room. Name it with --room.")


def _groups(kit: Kit, named: tuple[str, ...]) -> tuple[tuple[Group, ...], tuple[str, ...]]:
    from lessonkit.planning.numbers import groups_of
    from lessonkit.problems import instead

    groups, said = groups_of(kit.room)
    chosen = {}
    for name in named:
        found = next((group for group in groups if name.casefold() in (group.name.casefold(), group.tag.casefold())), None)
        if found is None:
            names = [group.name for group in kit.room.groups]
            others = f"There are: {', '.join(names)}." if names else "The room has none yet: add groups to its file."
            hint = instead(name, [*names, *(group.tag for group in kit.room.groups)], others)
            raise click.BadParameter(f"there is no group called “{name}”. {hint}", param_hint="--group")
        chosen[found.name] = found
    return (tuple(chosen.values()), ()) if named else (groups, said)


def _day(text: str) -> date:
    from lessonkit.lesson.days import parse_date
    from lessonkit.units import UnitError

    try:
        return parse_date(text)
    except UnitError as error:
        raise click.BadParameter(f"{error.what} {error.hint}", param_hint="--today") from None


def _cone(text: str | None) -> str | None:
    from lessonkit.clay.cones import cone_named

    try:
        return cone_named(text) if text else None
    except ValueError as error:
        raise click.BadParameter(f"{error}. Write a cone such as 04 or 6.", param_hint="--glaze-cone") from None


def _log(path: Path, kits: tuple[Kit, ...]) -> Log:
    from lessonkit.build import read
    from lessonkit.cli.files import source
    from lessonkit.lesson.log import Log
    from lessonkit.planning.log import log_problems

    written, problems = read(source(path), Log)
    problems = (*problems, *(log_problems(written, kits) if written else ()))
    reading.print_new(set(), sys.stderr)(problems)
    if written is None or any(problem.severity == "error" for problem in problems):
        sys.exit(1)
    return written.value


def _written(asked: Asked, path: Path) -> bool:
    from lessonkit.keeping import write_one
    from lessonkit.planning.numbers import FAULTS, calendar_of

    try:
        write_one(path, calendar_of(asked, asked.kits[0].room.name))
    except FAULTS as error:
        click.echo(f"{path} was not written: {error.what} {error.hint}", err=True)
        return False
    except OSError as error:
        click.echo(f"{path} could not be written: {error.strerror}.", err=True)
        return False
    click.echo(f"{path} written.", err=True)
    return True


def _papers_written(asked: Asked, found: dict[str, Any], folder: Path, paper: str | None) -> bool:
    from lessonkit.keeping import write_all
    from lessonkit.planpapers import plan_papers

    made = plan_papers(asked, found, paper)
    by_folder: dict[Path, dict[str, bytes]] = {}
    for path, data in made.items():
        by_folder.setdefault((folder / path).parent, {})[Path(path).name] = data
    try:
        for place, files in by_folder.items():
            write_all(place, files)
    except OSError as error:
        click.echo(f"{folder}: could not be written: {error.strerror}. Close the file or choose another folder.", err=True)
        return False
    click.echo(f"{len(made)} papers in {folder}.", err=True)
    return True
