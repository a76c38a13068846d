"""`lessonkit open`: the page in her browser, served from this computer until Ctrl-C."""

from __future__ import annotations

from pathlib import Path

import click

from lessonkit.cli.reading import ROOM
from lessonkit.cli.values import There


@click.command(name="open")
@click.argument("place", required=False, type=There())
@ROOM
@click.option("--no-browser", is_flag=True, help="Only print the address.")
def open_page(place: Path | None, room: Path | None, no_browser: bool) -> None:
    """Choose, change and print lessons in your browser.

    PLACE is a folder of lessons, or one lesson; left out, this folder. The page is on this computer alone; Ctrl-C here closes it.
    """
    import webbrowser
    from threading import Thread

    from lessonkit.cli.files import lesson_paths, room_path, source
    from lessonkit.page.desk import Desk
    from lessonkit.page.server import PageServer
    from lessonkit.page.trying import warm_up

    place = (place or Path()).resolve()
    folder = place if place.is_dir() else place.parent
    desk = Desk(folder, room or room_path(folder / "here"), lesson_paths, source, None if place.is_dir() else place.name)
    if not any(desk.shelf()):
        raise click.UsageError("no lesson files here. Name their folder, or start with: lessonkit new my-lesson.yaml")
    with PageServer(desk) as server:
        Thread(target=warm_up, args=(desk,), daemon=True).start()
        opened = not no_browser and webbrowser.open(server.address)
        click.echo(f"{'Opened' if opened else 'Open this in your browser'}: {server.address}")
        click.echo("Ctrl-C closes it.")
        try:
            server.serve_forever()
        except KeyboardInterrupt:
            with desk.lock:  # what is being saved is saved first
                click.echo("\nClosed.")
