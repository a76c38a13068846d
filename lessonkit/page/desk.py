"""What lies on the desk while the page is open: her folder of lessons, her room, and the one lock round all work."""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Iterable, Iterator
from contextlib import suppress
from dataclasses import dataclass, field
from pathlib import Path, PureWindowsPath
from threading import Lock

from lessonkit.build import Source
from lessonkit.page.refused import Refused

ROOM_NAME = "room.yaml"
ENDINGS = (".yaml", ".yml")
CHANGED = "was changed meanwhile, in another window or another program."


@dataclass(frozen=True, slots=True)
class Desk:
    """`folder` is resolved; `room` is the room file that was named or found when the page was opened. `lessons` finds the lessons
    in a folder and `source` reads a file, both as the commands do. The libraries that draw are not made for two threads: whoever
    works holds `lock`."""

    folder: Path
    room: Path | None
    lessons: Callable[[Iterable[Path]], Iterable[Path]]
    source: Callable[[Path], Source]
    first: str | None = None  # the lesson to begin with
    lock: Lock = field(default_factory=Lock)

    def shelf(self) -> Iterator[Source]:
        """Her lessons, those alone that really lie in the folder and can be read."""
        for path in self.lessons([self.folder]):
            with suppress(Refused):
                yield self.lesson(path.name)

    def path(self, file: str) -> Path:
        """Of a file in the folder itself, by a name that every system takes for one. Refused otherwise; it need not be there."""
        path = self.folder / file
        plain = PureWindowsPath(file).parts == (file,) and "\0" not in file and not file.startswith(".") and path.suffix in ENDINGS
        if not plain or path.resolve().parent != self.folder:
            raise Refused(404, f"“{file[:60]}” is no lesson of this folder.", "Choose one from the list.")
        return path

    def lesson(self, file: str, mark: str | None = None) -> Source:
        """A lesson as it is on the disk. Refused if it is not there, or is no longer the one that `mark` was made of."""
        path = self.path(file)
        try:
            source = self.source(path)
        except OSError as error:
            raise Refused(404, f"{file} could not be read: {error.strerror}.", "Choose another from the list.") from None
        if mark is not None and mark != mark_of(source.data):
            raise Refused(409, f"{file} {CHANGED}", "Read it again here; then what you typed goes into what it says now.")
        return source._replace(file=file)

    def room_path(self) -> Path | None:
        """Also one that was put into the folder meanwhile."""
        own = self.folder / ROOM_NAME
        return self.room or (own if own.is_file() else None)

    def room_source(self) -> Source | None:
        path = self.room_path()
        if path is None:
            return None
        try:
            return self.source(path)._replace(file=path.name)
        except OSError as error:
            raise Refused(404, f"{path} could not be read: {error.strerror}.", "Put it back, or start lessonkit open again.") from None


def mark_of(data: bytes) -> str:
    """Two texts with the same mark are the same."""
    return hashlib.sha256(data).hexdigest()
