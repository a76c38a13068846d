"""The commands: read her files, hand them down, print what comes back. Exit 0 no errors, 1 errors, 2 wrong use."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Any

import click

from lessonkit.cli import reading
from lessonkit.cli.card_options import card_options
from lessonkit.cli.open import open_page
from lessonkit.cli.plan import plan
from lessonkit.cli.reading import CLAY, FILES, ROOM
from lessonkit.cli.usage import known_command, told_kindly
from lessonkit.cli.values import Count, OneOf, There
from lessonkit.version import VERSION


class _Program(click.Group):
    def parse_args(self, ctx: click.Context, args: list[str]) -> list[str]:
        with told_kindly():
            return super().parse_args(ctx, args)

    def resolve_command(self, ctx: click.Context, args: list[str]) -> tuple[str | None, click.Command | None, list[str]]:
        known_command(self, ctx, args[0])
        return super().resolve_command(ctx, args)

    def invoke(self, ctx: click.Context) -> Any:
        with told_kindly():
            return super().invoke(ctx)


@click.group(cls=_Program, context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(VERSION, message="%(prog)s %(version)s")
def main() -> None:
    """Stencils, step cards, signs and teacher's sheets for clay lessons.

    A lesson is one YAML file; the room (clays, paper, sticks) is another. Start with: lessonkit new my-lesson.yaml
    """


@main.command()
@FILES
@click.option("--out", type=click.Path(file_okay=False, path_type=Path), default=Path("papers"), show_default=True, help="Where the papers go.")
@ROOM
@CLAY
@click.option("--paper", help="Another paper than the room's usual one (A4 where it names none): A4, Letter, A3, Tabloid.")
@click.option("--level", "levels", multiple=True, help="Only this level's cards (may be given more than once).")
@click.option("--mirror", is_flag=True, help="A back for every stencil sheet too, to be printed on both sides.")
@click.option("--only", multiple=True, help="Only this paper: stencils, cutting-files, cards, signs, tents, teacher, substitute, set-out.")
@card_options
@click.option("--jobs", type=Count(1), help="How many lessons to make at once. Left out: as many as the machine has cores.")
@click.option("--again", is_flag=True, help="Make all papers again, even those that would come out the same.")
def build(
    lessons: tuple[Path, ...], out: Path, room: Path | None, clay: str | None, paper: str | None, levels: tuple[str, ...], mirror: bool,
    only: tuple[str, ...], jobs: int | None, again: bool, **cards: Any,
) -> None:
    """Make all papers, one folder for each lesson; those that nothing changed for are left as they are.

    LESSONS are files or folders; left out, this folder. Errors stop a lesson, warnings do not.
    """
    from lessonkit.cli.building import Wanted, build_all

    wanted = Wanted(clay, paper, levels, mirror, only, cards)
    sys.exit(0 if build_all(list(reading.lessons(lessons)), out, room, wanted, jobs, again) else 1)


@main.command()
@FILES
@ROOM
@CLAY
@click.option("--again", is_flag=True, help="Look at every lesson again, even those that nothing changed for.")
def check(lessons: tuple[Path, ...], room: Path | None, clay: str | None, again: bool) -> None:
    """Find everything wrong in lessons and room, all at once."""
    from lessonkit.cli.checking import check_all

    found = list(reading.lessons(lessons))
    seen = check_all(found, room, clay, again)
    errors = sum(severity == "error" for severity, _ in seen)
    if not seen:
        click.echo(f"{_counted(len(found), 'lesson')}: nothing wrong.")
    else:
        click.echo(f"{_counted(len(found), 'lesson')}: {_counted(errors, 'error')}, {_counted(len(seen) - errors, 'warning')}.")
    sys.exit(1 if errors else 0)


@main.command()
@FILES
@ROOM
@CLAY
@click.option("--json", "as_json", is_flag=True, help="For other programs.")
def sizes(lessons: tuple[Path, ...], room: Path | None, clay: str | None, as_json: bool) -> None:
    """Show the fired and the cut size of every piece."""
    from lessonkit.cli.tables import sizes_json, sizes_text

    kits = [reading.worked(path, room, clay, reading.print_new(set(), sys.stderr)) for path in reading.lessons(lessons)]
    good = [kit for kit in kits if kit is not None]
    click.echo(sizes_json(good) if as_json else "\n\n".join(sizes_text(kit) for kit in good))
    sys.exit(0 if len(good) == len(kits) else 1)


@main.command()
@click.argument("path", type=click.Path(dir_okay=False, path_type=Path))
@click.option("--form", default="flat", show_default=True, help="What is made: flat, cylinder, cone, box, bowl, coil_pot, pinch, ...")
def new(path: Path, form: str) -> None:
    """Write a lesson to start from, at PATH. It builds as it is."""
    import shlex

    from lessonkit.lesson.starters import STARTERS, starter

    if form not in STARTERS:
        raise click.BadParameter(f"there is no “{form}”. There are: {', '.join(STARTERS)}.", param_hint="--form")
    path = path if path.suffix in (".yaml", ".yml") else path.with_name(path.name + ".yaml")
    if path.exists():
        raise click.BadParameter(f"{path} is there already and is left as it is. Choose another name.", param_hint="PATH")
    reading.write(path.parent, {path.name: starter(form, path.stem)})
    click.echo(f"{path} written. Change it, then: lessonkit build {shlex.quote(str(path))}")


@main.command()
@click.argument("room_file", required=False, type=There(folders=False))
@click.option("--out", type=click.Path(file_okay=False, path_type=Path), default=Path("papers/room"), show_default=True, help="Where the papers go.")
def room(room_file: Path | None, out: Path) -> None:
    """Make the papers that measure your room: print check, shrinkage test bars, fired-size rulers; and its kiln's door sign.

    ROOM_FILE left out: the room.yaml of this folder or the nearest above it.
    """
    from lessonkit.build import room_papers, sound_room
    from lessonkit.cli.files import room_path, source

    path = room_file or room_path(Path("here"))
    try:
        found, problems = sound_room(source(path) if path else None)
    except OSError as error:
        click.echo(f"{error.filename}: could not be read: {error.strerror}.", err=True)
        sys.exit(1)
    reading.print_new(set())(problems)
    if found is None:
        sys.exit(1)
    reading.write(out, room_papers(found))
    click.echo(f"Papers for {found.name} in {out}." + ("" if path else " No room.yaml was found: a clay of 12 % was assumed."))


@main.command()
@FILES
@click.option("--out", type=click.Path(file_okay=False, path_type=Path), default=Path("papers"), show_default=True, help="Where the papers go.")
@click.option("--paper", default="A4", show_default=True, help="A4, Letter, A3, Tabloid.")
def gallery(lessons: tuple[Path, ...], out: Path, paper: str) -> None:
    """Show everything that can be cut: every outline and built form, small, and every step picture.

    With LESSONS, also what each of them cuts.
    """
    from lessonkit.build import gallery_papers

    found = reading.lessons(lessons) if lessons else ()
    worked = (reading.worked(path, None, None, reading.print_new(set())) for path in found)
    kits = [kit for kit in worked if kit is not None]
    files = gallery_papers(reading.paper(paper) or "A4", kits)
    reading.write(out, files)
    click.echo(f"{', '.join(files)} in {out}.")


@main.command()
@click.argument("file", type=OneOf(["lesson", "room"]), default="lesson")
def schema(file: str) -> None:
    """Print the JSON Schema of a lesson or a room, for editors that complete and check while typing."""
    import json

    from lessonkit.lesson.lesson import Lesson
    from lessonkit.lesson.room import Room

    model = Lesson if file == "lesson" else Room
    text = {"$schema": "https://json-schema.org/draft/2020-12/schema", **model.model_json_schema()}
    click.echo(json.dumps(text, indent=2, ensure_ascii=False))


def _counted(count: int, noun: str) -> str:
    return f"{count} {noun}{'' if count == 1 else 's'}"


main.add_command(open_page)
main.add_command(plan)
