"""Commands and options that do not exist or are left out, told in a teacher's words and with what to write instead."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from errno import EDQUOT, ENOSPC

import click


@contextmanager
def told_kindly() -> Iterator[None]:
    """Rewords the library's own words about options and arguments, of the program and of every command, and the system's about a disk
    that has no room for what is told."""
    try:
        yield
    except click.NoSuchOption as error:
        from lessonkit.problems import instead

        ctx = error.ctx
        options = [name for param in ctx.command.get_params(ctx) for name in (*param.opts, *param.secondary_opts) if name[:1] == "-"] if ctx else []
        raise click.UsageError(f"there is no option {error.option_name} here. {instead(error.option_name, options)}", ctx) from None
    except click.MissingParameter as error:
        if error.ctx is None or error.param is None:
            raise
        name = error.param.human_readable_name
        raise click.UsageError(f"{name} is missing. Write it behind the command: {error.ctx.command_path} {name}", error.ctx) from None
    except OSError as error:
        if error.errno not in (ENOSPC, EDQUOT):
            raise
        raise click.ClickException("not all that was to be told could be written: the disk is full. Make room on it, and run this again.") from None


def known_command(program: click.Group, ctx: click.Context, word: str) -> None:
    """Raises UsageError when the program has no such command."""
    if word not in program.commands and not word.startswith("-") and not ctx.resilient_parsing:
        from lessonkit.problems import instead

        raise click.UsageError(f"there is no command {word}. {instead(word, sorted(program.commands))}", ctx)
