"""`lessonkit check`, and what it remembers: nothing is looked at twice that can't have changed.

The memory is a folder in the user's own cache, a small file for each lesson. It may be deleted at any time; where it can't be written, there
is none.
"""

from __future__ import annotations

import json
import os
import sys
from collections.abc import Sequence
from contextlib import suppress
from pathlib import Path

from lessonkit.cli import reading
from lessonkit.cli.files import room_path
from lessonkit.cli.inputs import Inputs, digest, program
from lessonkit.cli.reading import Said

FORMAT = 1
MOST_FILES = 2000
LARGEST_BYTES = 1_000_000


def check_all(lessons: Sequence[Path], named_room: Path | None, clay: str | None, again: bool) -> set[Said]:
    """Prints every problem once, and gives them all."""
    program()  # before anything else is imported: what is edited from now on counts as a change
    seen: set[Said] = set()
    new: dict[str, bytes] = {}
    for lesson in lessons:
        room = named_room or room_path(lesson)
        found = None if again else _remembered(lesson, room, clay)
        if found is None:
            found, noted = _looked(lesson, room, clay)
            if noted:
                new[_name(lesson, clay)] = json.dumps({"format": FORMAT, "inputs": noted, "said": found}).encode()
        reading.print_said(found, seen)
    if new:
        _remember(new)
    return seen


def _looked(lesson: Path, room: Path | None, clay: str | None) -> tuple[list[Said], dict[str, str]]:
    from lessonkit.build import Order
    from lessonkit.cli.making import Task, make

    made = make(Task(lesson, room, clay, Order(), papers=False))
    return made.said, made.inputs


def _remembered(lesson: Path, room: Path | None, clay: str | None) -> list[Said] | None:
    try:
        with (cache_folder() / _name(lesson, clay)).open("rb") as file:
            memory = json.loads(file.read(LARGEST_BYTES))
        if memory["format"] == FORMAT and Inputs(lesson, room).are(memory["inputs"]):
            return [(str(severity), str(line)) for severity, line in memory["said"]]
    except (OSError, ValueError, TypeError, KeyError, AttributeError, RecursionError, RuntimeError):
        pass
    return None


def _remember(new: dict[str, bytes]) -> None:
    from lessonkit.keeping import write_all

    with suppress(OSError, RuntimeError):
        folder = cache_folder()
        write_all(folder, new)
        files = sorted(folder.iterdir(), key=lambda path: path.stat().st_mtime_ns)
        for path in files[:-MOST_FILES]:
            path.unlink()


def _name(lesson: Path, clay: str | None) -> str:
    return digest(json.dumps([str(lesson.resolve()), clay]).encode()) + ".json"


def cache_folder() -> Path:
    """RuntimeError where the user has no home."""
    if sys.platform == "win32":
        base = os.environ.get("LOCALAPPDATA", "")
    elif sys.platform == "darwin":
        base = str(Path.home() / "Library" / "Caches")
    else:
        base = os.environ.get("XDG_CACHE_HOME", "")
    return Path(base if os.path.isabs(base) else Path.home() / ".cache") / "lessonkit" / "check"
