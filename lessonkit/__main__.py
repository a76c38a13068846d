"""The start of every command: what makes the libraries load and end faster is said before the first of them is loaded."""

from __future__ import annotations

import atexit
import gc
import os
from collections.abc import Sequence

from lessonkit.late import load_late


def main(words: Sequence[str] | None = None) -> None:
    """Runs the command that `words` are, or that was typed, and ends the program."""
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # for sums as small as ours
    os.environ.setdefault("PYDANTIC_DISABLE_PLUGINS", "__all__")  # no search through all that is installed
    load_late()
    gc.set_threshold(200_000)  # most of what is made stays
    atexit.register(gc.freeze)  # and ends with the process

    from lessonkit.cli import commands

    commands.main(words)


if __name__ == "__main__":  # a process that shares the work imports this too
    main()
