"""The start and the end of every command: what makes the libraries load faster is said before the first of them is loaded."""

from __future__ import annotations

import gc
import os
import sys

from lessonkit.late import load_late


def begin() -> None:
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # for sums as small as ours
    os.environ.setdefault("PYDANTIC_DISABLE_PLUGINS", "__all__")  # no search through all that is installed
    gc.set_threshold(400_000)  # more than lessons hold at once
    load_late()


def main() -> None:
    """Runs the command that was typed and ends the program, without taking apart a hundred thousand objects that end with it."""
    begin()
    from lessonkit.cli import commands

    try:
        commands.main()
    except SystemExit as end:
        for stream in filter(None, (sys.stdout, sys.stderr)):  # None where it is closed
            stream.flush()
        if isinstance(end.code, int):  # all files are closed, all processes ended
            os._exit(end.code)
        raise


if __name__ == "__main__":  # a process that shares the work imports this too
    main()
