"""What may stand behind a command's options, refused in a teacher's words."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import click


class There(click.Path):
    """A file, or also a folder, that exists."""

    def __init__(self, folders: bool = True) -> None:
        super().__init__(exists=True, dir_okay=folders, path_type=Path)

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> Any:
        try:
            return super().convert(value, param, ctx)
        except click.BadParameter:
            path = Path(value)
            if path.is_dir():
                raise click.UsageError(f"{path} is a folder, and a file is wanted here. Write its name behind it.", ctx) from None
            near = _nearest(path)
            hint = f"Did you mean {near}?" if near else "Look at its name, and at the folder that you are in."
            raise click.UsageError(f"there is no file or folder called {path}. {hint}", ctx) from None


def _nearest(path: Path) -> Path | None:
    from lessonkit.problems import nearest

    try:
        there = {other.stem: other for other in sorted(path.parent.iterdir()) if other.is_dir() or other.suffix in (".yaml", ".yml")}
    except OSError:
        return None
    near = nearest(path.stem, list(there))
    return there[near] if near else None


class Count(click.IntRange):
    """A whole number."""

    name = "number"

    def __init__(self, least: int, most: int | None = None) -> None:
        super().__init__(least, most)

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> Any:
        try:
            return super().convert(value, param, ctx)
        except click.BadParameter:
            limits = f"from {self.min} to {self.max}" if self.max is not None else f"of {self.min} or more"
            self.fail(f"expected a whole number {limits}, found “{value}”.", param, ctx)


class OneOf(click.Choice[str]):
    """One of some words."""

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> Any:
        from lessonkit.problems import instead

        try:
            return super().convert(value, param, ctx)
        except click.BadParameter:
            self.fail(f"“{value}” is not known here. {instead(str(value), [str(choice) for choice in self.choices])}", param, ctx)
