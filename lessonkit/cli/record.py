"""The record beside a lesson's papers: from what they were made, and which are ours. What it can't vouch for is made again.

It is written twice. Before any paper is replaced it says of which files the new ones will be, and claims nothing; once all are
in their places it says what they were made from. A run that is killed between the two is therefore made again, and its
files are known as ours.
"""

from __future__ import annotations

import json
import os
from collections.abc import Mapping
from contextlib import suppress
from pathlib import Path
from typing import TYPE_CHECKING, Any, NamedTuple

from lessonkit.cli.inputs import Inputs, digest, mark
from lessonkit.cli.reading import Said

if TYPE_CHECKING:
    from lessonkit.build import Paper

NAME = ".lessonkit.json"
PART = ".lessonkit-"  # how a part's name begins: keeping.PREFIX, which is imported only where something is to be done
FORMAT = 3
MOST_BUILDS = 20  # the last ones
LARGEST_BYTES = 4_000_000


class Build(NamedTuple):
    """What one order gave: a build with other options is another order. `inputs` are empty for one that didn't come to its end."""

    order: str
    inputs: dict[str, str]
    said: list[Said]
    files: dict[str, str]  # name -> digest


class Kept(NamedTuple):
    """A file as it was last written, by whatever order, the code that stands on it and the fingerprints of its pages."""

    digest: str
    mark: list[int]
    code: str
    pages: list[str]


class Record(NamedTuple):
    builds: tuple[Build, ...] = ()
    files: dict[str, Kept] = {}  # noqa: RUF012  never changed

    def build(self, order: str) -> Build | None:
        return next((build for build in self.builds if build.order == order), None)

    def ours(self, name: str) -> set[str]:
        """The digests of all that we may have written there."""
        known = {self.files[name].digest} if name in self.files else set()
        return known | {build.files[name] for build in self.builds if name in build.files}

    def with_build(self, new: Build, files: dict[str, Kept]) -> Record:
        others = [build for build in self.builds if build.order != new.order]
        return Record((new, *others)[:MOST_BUILDS], files)


class Changes(NamedTuple):
    """What a build did to the folder. `before` has the files as the record had them."""

    before: dict[str, Kept]
    made: dict[str, Kept]
    gone: tuple[str, ...]  # no longer made, removed
    left: tuple[str, ...]  # no longer made, but changed by someone since, and so not ours to remove
    old: tuple[str, ...]  # of other orders, and of an older version


def unchanged(folder: Path, order: str, inputs: Inputs) -> Build | None:
    """The build that would be made again just as it lies there; None if anything is, or could be, otherwise."""
    record = read(folder)
    build = record.build(order)
    if build is None or not inputs.are(build.inputs):
        return None
    if not all(_intact(folder / name, found, record.files.get(name)) for name, found in build.files.items()):
        return None
    _sweep(folder)
    return build


def _intact(path: Path, found: str, kept: Kept | None) -> bool:
    if kept is not None and kept.digest == found and kept.mark == mark(path, follow=False):
        return True
    from lessonkit.keeping import contents

    data = contents(path)
    return data is not None and digest(data) == found


def _sweep(folder: Path) -> None:
    """Removes what a run left that was killed before it replaced anything."""
    with suppress(OSError):
        if any(name.startswith(PART) for name in os.listdir(folder)):
            from lessonkit.keeping import held

            with held(folder):  # which sweeps
                pass


def keep(folder: Path, build: Build, papers: Mapping[str, Paper], code: str) -> Changes:
    """The papers into the folder, and the record. OSError as `write_all`, NotReplaced among them: then it is not claimed to be done."""
    from lessonkit.keeping import NotReplaced, held, ready, uninterrupted

    with held(folder):
        before = read(folder)
        former = before.build(build.order)
        unfinished = build._replace(inputs={}, files=(former.files if former else {}) | build.files)
        with ready(folder, {name: paper.data for name, paper in papers.items()}) as move, uninterrupted():
            _write(folder, before.with_build(unfinished, before.files))
            move()
            made = {name: Kept(found, mark(folder / name, follow=False) or [], code, list(papers[name].pages)) for name, found in build.files.items()}
            gone, left = _unwanted(folder, before, build)
            _remove(folder, gone, tuple(made))
            others = {name: kept for name, kept in before.files.items() if name not in (*gone, *left, *made) and (folder / name).exists()}
            try:
                _write(folder, before.with_build(build, others | made))
            except OSError as error:
                raise NotReplaced({NAME: error}, tuple(made)) from error
    return Changes(before.files, made, gone, left, tuple(sorted(name for name, kept in others.items() if kept.code != code)))


def _unwanted(folder: Path, before: Record, build: Build) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """What this order made before and no longer makes: as we wrote it, and otherwise. What another order made from just these inputs stays."""
    from lessonkit.keeping import contents

    former = before.build(build.order)
    wanted = {name for other in before.builds if other is not former and other.inputs == build.inputs for name in other.files} | build.files.keys()
    gone, left = [], []
    for name in sorted(former.files.keys() - wanted if former else ()):
        data = contents(folder / name)
        if data is not None and digest(data) in before.ours(name):
            gone.append(name)
        elif os.path.lexists(folder / name):
            left.append(name)
    return tuple(gone), tuple(left)


def _remove(folder: Path, names: tuple[str, ...], moved: tuple[str, ...]) -> None:
    from lessonkit.keeping import NotReplaced

    errors: dict[str, OSError] = {}
    for name in names:
        try:
            (folder / name).unlink()
        except OSError as error:
            errors[name] = error
    if errors:
        raise NotReplaced(errors, moved)


def read(folder: Path) -> Record:
    """An empty one where there is none, or where it can't be read as ours."""
    try:
        with (folder / NAME).open("rb") as file:
            written = json.loads(file.read(LARGEST_BYTES))
        if written["format"] != FORMAT:
            return Record()
        builds = tuple(Build(str(order), _texts(inputs), _said(said), _texts(files)) for order, inputs, said, files in written["builds"])
        files = {name: Kept(str(found), list(at), str(code), list(pages)) for name, (found, at, code, pages) in written["files"].items()}
    except (OSError, ValueError, TypeError, KeyError, AttributeError, RecursionError):
        return Record()
    names = {*files, *(name for build in builds for name in build.files)}
    return Record(builds, files) if all(_is_file_name(name) for name in names) else Record()


def _texts(value: Any) -> dict[str, str]:
    return {str(name): str(text) for name, text in value.items()}


def _said(value: Any) -> list[Said]:
    return [(str(severity), str(line)) for severity, line in value]


def _is_file_name(name: str) -> bool:
    """What we remove lies in this folder, whatever a record says."""
    return name not in ("", ".", "..") and not any(sign in name for sign in "/\\:\0")


def _write(folder: Path, record: Record) -> None:
    from lessonkit.keeping import ready

    written = {"format": FORMAT, "about": "What lessonkit made here, and from what. Safe to delete: all is made again.", **record._asdict()}
    with ready(folder, {NAME: json.dumps(written).encode()}) as move:
        move()
