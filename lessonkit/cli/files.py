"""Finding and reading her files."""

from __future__ import annotations

import errno
import os
import re
from collections.abc import Iterable, Iterator
from functools import partial
from pathlib import Path, PureWindowsPath
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from lessonkit.build import Source

ROOM_NAME = "room.yaml"
LONGEST_FOLDER = 100
_UNSOUND = re.compile(r'[<>:"/\\|?*\x00-\x1f]')
_DEVICES = {"CON", "PRN", "AUX", "NUL", *(f"{port}{digit}" for port in ("COM", "LPT") for digit in "0123456789¹²³")}
NO_LESSONS = (b"kind: room", b"kind: log")
LARGEST_BYTES = 1_000_001  # one more than the reader takes, so that it can say so
LARGEST_DRAWING = 2_000_001  # likewise


def lesson_paths(named: Iterable[Path]) -> Iterator[Path]:
    """The lessons that were named, and those in the folders that were: each file once, by name.

    In a folder, room files and translations (`porthole.es.yaml`) are passed over.
    """
    seen: set[Path] = set()
    for path in named:
        inside = (file for ending in ("*.yaml", "*.yml") for file in sorted(path.glob(ending)) if file.is_file())
        found = list(inside) if path.is_dir() else [path]
        for lesson in found:
            if lesson.resolve() not in seen and not (path.is_dir() and _no_lesson(lesson)):
                seen.add(lesson.resolve())
                yield lesson


def _no_lesson(path: Path) -> bool:
    return path.name == ROOM_NAME or "." in path.stem or any(kind in _begin(path) for kind in NO_LESSONS)


def _begin(path: Path) -> bytes:
    """As much of a file as is ever read; nothing of one that can't be, which is told when it is worked out."""
    try:
        with path.open("rb") as file:
            return file.read(LARGEST_BYTES)
    except OSError:
        return b""


def room_path(lesson: Path) -> Path | None:
    """The nearest room file upwards of the lesson."""
    for folder in lesson.resolve().parents:
        if (folder / ROOM_NAME).is_file():
            return _short(folder / ROOM_NAME)
    return None


def _short(path: Path) -> Path:
    """As she would name it from where she stands."""
    relative = Path(os.path.relpath(path))
    return path if relative.parts[:3] == ("..", "..", "..") else relative


def source(path: Path) -> Source:
    """OSError if it can't be read."""
    from lessonkit.build import Source

    return Source(str(path), read_lesson(path), partial(beside, path.resolve().parent))


def read_lesson(path: Path) -> bytes:
    """A lesson's or a room's bytes, so many as are taken. OSError if it can't be read."""
    with path.open("rb") as file:
        return file.read(LARGEST_BYTES)


def beside(folder: Path, name: str) -> bytes:
    """A file of the folder or of one inside it, by a name that reads the same on every system.

    ValueError for a name that leads out of the folder (.., a drive, a link), OSError where there is no such plain file.
    """
    written = PureWindowsPath(name)  # knows both slashes, and drives
    if written.anchor or ".." in written.parts or "\0" in name:
        raise ValueError(name)
    path = folder.joinpath(*written.parts).resolve()
    if not path.is_relative_to(folder):
        raise ValueError(name)
    if not path.is_file():  # a folder can't be read, and a pipe would be waited for
        raise FileNotFoundError(errno.ENOENT, os.strerror(errno.ENOENT), str(path))
    with path.open("rb") as file:
        return file.read(LARGEST_DRAWING)


def folder_name(stem: str) -> str:
    """A lesson file's own name as a folder's that every system takes: one inside where it stands, not hidden, not a device.

    Source: Microsoft, Naming Files, Paths, and Namespaces.
    """
    name = _UNSOUND.sub("-", stem).strip(" .")[:LONGEST_FOLDER].rstrip(" .")
    if name.partition(".")[0].rstrip().upper() in _DEVICES:
        return f"{name}-lesson"
    return name or "lesson"
