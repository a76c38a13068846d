"""Files on the disk: each the old one or the new one, never half of one. Nothing else is touched, and no link is written through."""

from __future__ import annotations

import os
import signal
import stat
import tempfile
import threading
import time
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager, suppress
from pathlib import Path, PureWindowsPath
from types import FrameType

try:
    import fcntl
except ImportError:  # Windows
    fcntl = None  # type: ignore[assignment]

PREFIX, SUFFIX = ".lessonkit-", ".part"
LEFT_BEHIND_S = 3600.0  # where no lock tells: a part this old is of a run that was killed


class NotReplaced(OSError):
    """`names` could not be moved to their places, most often because another program has them open; `moved` are the new ones."""

    def __init__(self, errors: Mapping[str, OSError], moved: tuple[str, ...]) -> None:
        first = next(iter(errors.values()))
        super().__init__(first.errno, first.strerror)
        self.names, self.moved = tuple(errors), moved


def write_all(folder: Path, files: Mapping[str, bytes]) -> None:
    """All the files in the folder, each replaced in one move once every one of them is on the disk.

    A file that is there with the same bytes is left as it is. OSError, and nothing changed, where they can't be written;
    NotReplaced where some could not be moved to their place; ValueError for a name that leads out of the folder.
    """
    for name in files:
        if PureWindowsPath(name).parts != (name,) or name == "..":
            raise ValueError(f"{name!r} is no file's name")
    with held(folder), ready(folder, files) as move:
        move()


def write_one(path: Path, data: bytes) -> None:
    write_all(path.parent, {path.name: data})


@contextmanager
def held(folder: Path) -> Iterator[None]:
    """The folder, made if need be and ours alone meanwhile: another run waits. Parts that a killed run left are swept."""
    folder.mkdir(parents=True, exist_ok=True)
    lock = _locked(folder)
    try:
        for part in folder.glob(f"{PREFIX}*{SUFFIX}"):
            with suppress(OSError):
                if lock is not None or time.time() - part.lstat().st_mtime > LEFT_BEHIND_S:
                    part.unlink()
        yield
    finally:
        if lock is not None:
            os.close(lock)


def _locked(folder: Path) -> int | None:
    """The lock is on the folder itself and goes with the process, however it ends. None where the system has no such lock."""
    if fcntl is None:
        return None
    handle = os.open(folder, os.O_RDONLY)
    try:
        fcntl.flock(handle, fcntl.LOCK_EX)
    except BaseException as error:
        os.close(handle)
        if isinstance(error, OSError):  # some network folders can't
            return None
        raise
    return handle


@contextmanager
def ready(folder: Path, files: Mapping[str, bytes]) -> Iterator[Callable[[], None]]:
    """The files written whole under other names; what is yielded moves them to their places. The folder must be held."""
    parts: dict[str, str] = {}
    try:
        for name, data in files.items():
            if contents(folder / name, len(data)) != data:
                handle, parts[name] = tempfile.mkstemp(dir=folder, prefix=PREFIX, suffix=SUFFIX)
                with os.fdopen(handle, "wb") as file:
                    file.write(data)
                os.chmod(parts[name], 0o644)
        yield lambda: _move(folder, parts)
    finally:
        for part in parts.values():
            with suppress(OSError):
                os.unlink(part)


def _move(folder: Path, parts: dict[str, str]) -> None:
    errors: dict[str, OSError] = {}
    moved = []
    with uninterrupted():
        for name, part in list(parts.items()):
            try:
                os.replace(part, folder / name)
            except OSError as error:
                errors[name] = error
            else:
                del parts[name]
                moved.append(name)
    if errors:
        raise NotReplaced(errors, tuple(moved))


def contents(path: Path, size: int | None = None) -> bytes | None:
    """A plain file's bytes; None if there is none, if it is a link, if it can't be read, or if it hasn't the size that was asked for."""
    try:
        found = path.lstat()
        if not stat.S_ISREG(found.st_mode) or size not in (None, found.st_size):
            return None
        return path.read_bytes()
    except OSError:
        return None


@contextmanager
def uninterrupted() -> Iterator[None]:
    """Ctrl-C waits until the end of the block: it is short, and a set of papers is not left half old and half new."""
    if threading.current_thread() is not threading.main_thread():  # which alone is interrupted
        yield
        return
    waiting: list[tuple[int, FrameType | None]] = []
    before = signal.signal(signal.SIGINT, lambda *call: waiting.append(call))
    try:
        yield
    finally:
        signal.signal(signal.SIGINT, before)
        if waiting and callable(before):
            before(*waiting[0])
