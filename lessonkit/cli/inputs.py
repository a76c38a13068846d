"""Everything that decides a lesson's papers, as it is now, in short. Light: it stands before any library is loaded."""

from __future__ import annotations

import os
import sys
import zlib
from collections.abc import Iterable, Iterator
from contextlib import suppress
from functools import cache
from hashlib import blake2b
from pathlib import Path

from lessonkit.cli.files import beside, read_lesson

PACKAGE = Path(__file__).parents[1]
LIBRARIES = ("numpy", "pydantic", "pydantic_core", "reportlab", "shapely", "svgwrite", "yaml")  # those that papers hang on
SYSTEM_LIBRARIES = "/etc/ld.so.cache"  # Linux writes it anew whenever one of them changes, such as a GEOS that shapely did not bring


def digest(data: bytes) -> str:
    return blake2b(data, digest_size=16).hexdigest()


class Inputs:
    """A lesson, its room (None: one is assumed) and, through `beside`, the files of its folder. `noted` has what each of them was when
    it was read; one that was looked for and not there is noted too. OSError where lesson or room can't be read."""

    def __init__(self, lesson: Path, room: Path | None) -> None:
        self.path, self.lesson = lesson, read_lesson(lesson)
        self.room_path, self.room = room, read_lesson(room) if room else None
        self.noted = {"program": program(), f"lesson {lesson}": digest(self.lesson), f"room {room or ''}": digest(self.room or b"")}

    def beside(self, name: str) -> bytes:
        label = f"beside {name}"
        try:
            data = beside(self.path.resolve().parent, name)
        except (OSError, ValueError) as error:
            self.noted[label] = f"none: {getattr(error, 'strerror', '')}"
            raise
        self.noted[label] = digest(data)
        return data

    def are(self, noted: dict[str, str]) -> bool:
        """Whether all is as it was noted then."""
        if not self.noted.items() <= noted.items():
            return False
        for label in noted:
            if label.startswith("beside "):
                with suppress(OSError, ValueError):
                    self.beside(label.removeprefix("beside "))
        return self.noted == noted


@cache
def program() -> str:
    """This program, its typefaces, its libraries and Python, as they were when it began: by the files' sizes and times, which change
    with every edit and every installation."""
    return digest("\n".join((sys.version, zlib.ZLIB_RUNTIME_VERSION, *_marks(PACKAGE, LIBRARIES))).encode())


def _marks(package: Path, libraries: Iterable[str]) -> Iterator[str]:
    for path in _files(str(package)):
        yield f"{path} {mark(path)}"
    for library in libraries:
        spec = next((found for finder in sys.meta_path if (found := finder.find_spec(library, None))), None)
        origin = spec.origin if spec and spec.origin else ""
        yield f"{library} {origin} {mark(origin)}"
    yield f"{mark(SYSTEM_LIBRARIES)}"


def _files(folder: str) -> Iterator[str]:
    for entry in sorted(os.scandir(folder), key=lambda entry: entry.name):
        if entry.is_dir():
            if entry.name != "__pycache__":
                yield from _files(entry.path)
        else:
            yield entry.path


def mark(path: str | Path, follow: bool = True) -> list[int] | None:
    """What changes whenever a file is written or replaced, without reading it; None where there is none."""
    try:
        found = os.stat(path, follow_symlinks=follow)
    except (OSError, ValueError):
        return None
    return [found.st_size, found.st_mtime_ns, found.st_ctime_ns, found.st_ino]
