"""Her changes kept: whole or not at all, never over a file that was changed meanwhile, and never a lesson that `check` would refuse."""

from __future__ import annotations

import os
import re
from collections.abc import Mapping
from contextlib import suppress
from pathlib import Path
from typing import Any

from lessonkit.build import Order, Source, work
from lessonkit.keeping import contents, held, ready
from lessonkit.lesson.lesson import Lesson
from lessonkit.page.asked import Saving
from lessonkit.page.desk import CHANGED, Desk, mark_of
from lessonkit.page.refused import Refused
from lessonkit.page.splicing import Change, spliced
from lessonkit.page.values import NotSpliced

Json = dict[str, Any]

_NAME = re.compile(r"\w[\w ,'()-]{0,80}(?<! )")  # no point: porthole.es.yaml is a translation
TAKEN = re.compile(r"(con|prn|aux|nul|com\d|lpt\d|room)", re.IGNORECASE)  # by a system for a device, or by us


def save(desk: Desk, asked: Saving) -> Json:
    """The lesson with its changes, in its own file or a new one. Refused: 409 for a file that is no longer what `mark` says, or a new one that
    is there; 422 for a name that is none and for a lesson with an error."""
    source = desk.lesson(asked.file, asked.mark)
    name = asked.file if asked.name is None else sound_name(asked.name)
    changes = [Change(change.path, change.written) for change in asked.changes]
    if asked.clay is not None:
        changes.append(Change(("clay",), asked.clay))
    try:
        text = spliced(source.data, asked.file, changes, Lesson)
    except NotSpliced as fault:
        raise Refused(422, fault.what, fault.hint) from None
    kit, problems = work(Source(name, text, source.beside), desk.room_source(), None, Order())
    if kit is None:
        errors = tuple(problem for problem in problems if problem.severity == "error")
        raise Refused(422, "this lesson has a fault, so it was not saved.", "Mend what is marked first.", errors)
    keep(desk.folder, {name: text}, {name: source.data if asked.name is None else None})
    return {"file": name, "mark": mark_of(text)}


def sound_name(name: str) -> str:
    """A new lesson's file name that every system takes. Refused (422) otherwise."""
    stem, point, ending = name.strip().rpartition(".")
    if f"{point}{ending}" not in (".yaml", ".yml") or not _NAME.fullmatch(stem) or TAKEN.fullmatch(stem):
        raise Refused(422, f"“{name[:60]}” can't be a lesson's file name.", "Write letters, digits, blanks and hyphens, such as my-porthole.yaml.")
    return f"{stem}.{ending}"


def keep(folder: Path, files: Mapping[str, bytes], was: Mapping[str, bytes | None]) -> None:
    """All of the files, in place of what they were (None: nothing was there). Refused (409) and nothing written where they are
    something else by now; Refused (500) where they can't be written."""
    try:
        with held(folder), ready(folder, files) as move:
            for name, before in was.items():
                _need_unchanged(folder / name, before)
            modes = {name: (folder / name).stat().st_mode for name, before in was.items() if before is not None}
            move()
            for name, mode in modes.items():
                with suppress(OSError):
                    os.chmod(folder / name, mode)  # who else may read it is hers to say
    except OSError as error:
        what = f"{' and '.join(files)} could not be written: {error.strerror}."
        raise Refused(500, f"{what} Nothing was changed.", "Is the disk full, or the folder locked? Then try again.") from None


def _need_unchanged(path: Path, before: bytes | None) -> None:
    if before is None and os.path.lexists(path):
        raise Refused(409, f"{path.name} is there already and is left as it is.", "Choose another name.")
    if before is not None and contents(path) != before:
        raise Refused(409, f"{path.name} {CHANGED}", "Read it again here, then save.")
