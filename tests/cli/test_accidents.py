"""Whatever happens while papers are written, each file is the old one or the new one, the next build makes the set whole, and nothing of hers
is touched. KILLS=200 in the environment kills that many builds."""

from __future__ import annotations

import errno
import os
import random
import re
import signal
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result

from lessonkit import keeping
from lessonkit.build import Paper
from lessonkit.cli import inputs, making, record, workers
from lessonkit.cli.commands import main
from lessonkit.keeping import NotReplaced, write_all
from tests.lessons_for_tests import FRAME, ROOM

KILLS = int(os.environ.get("KILLS", "8"))
QUICK = ("--only", "cutting-files", "--only", "set-out")
OLD = {"a.pdf": b"old a" * 99, "b.svg": b"the same", "gone.svg": b"no longer made"}
NEW = {"a.pdf": b"new a" * 99, "b.svg": b"the same", "new.svg": b"made now"}
HERS = {"notes.txt": b"hers"}

posix = pytest.mark.skipif(not hasattr(os, "fork"), reason="it needs a process that can be forked")


class As(inputs.Inputs):
    """What goes in, by name alone."""

    def __init__(self, noted: str) -> None:
        self.noted = {"all": noted}


def keep(folder: Path, files: dict[str, bytes], noted: str, order: str = "all") -> record.Changes:
    papers = {name: Paper(data, (data.hex(),)) for name, data in files.items()}
    build = record.Build(order, As(noted).noted, [], {name: inputs.digest(data) for name, data in files.items()})
    return record.keep(folder, build, papers, noted.upper())


def lying(folder: Path) -> dict[str, bytes]:
    return {path.name: path.read_bytes() for path in folder.iterdir() if path.name != record.NAME}


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    keep(tmp_path / "papers", OLD, "old")
    write_all(tmp_path / "papers", HERS)
    return tmp_path / "papers"


@contextmanager
def each_step(then: Callable[[], object], first: bool = False) -> Iterator[None]:
    """`then` is called after whatever changes something on the disk, or before it, and in the middle of what is written."""

    class Slow:
        def __init__(self, file: Any) -> None:
            self.file = file

        def __enter__(self) -> Slow:
            return self

        def __exit__(self, *_: object) -> None:
            self.file.close()

        def write(self, data: bytes) -> None:
            for half in (data[: len(data) // 2], data[len(data) // 2 :]):
                stepping(lambda half=half: (self.file.write(half), self.file.flush()))()

    def stepping(real: Callable[..., Any]) -> Callable[..., Any]:
        def step(*arguments: Any, **named: Any) -> Any:
            if first:
                then()
            result = real(*arguments, **named)
            if not first:
                then()
            return result

        return step

    with pytest.MonkeyPatch.context() as patch:
        for owner, name in ((os, "replace"), (os, "unlink"), (os, "chmod"), (tempfile, "mkstemp")):
            patch.setattr(owner, name, stepping(getattr(owner, name)))
        real = os.fdopen
        patch.setattr(os, "fdopen", lambda handle, mode: Slow(real(handle, mode)))
        yield


def steps_of(work: Callable[[], object]) -> int:
    count = 0

    def counted() -> None:
        nonlocal count
        count += 1

    with each_step(counted):
        work()
    return count


def steps_of_new(place: Path) -> int:
    """Of the build that finds the old papers there."""
    keep(place, OLD, "old")
    return steps_of(lambda: keep(place, NEW, "new"))


def after(step: int, what: Callable[[], object]) -> Callable[[], object]:
    count = 0

    def then() -> None:
        nonlocal count
        count += 1
        if count == step:
            what()

    return then


@posix
@pytest.mark.parametrize("next_build", ["new", "old"])
def test_killed_between_any_two_steps(tmp_path: Path, next_build: str) -> None:
    """After a kill the record vouches for nothing that isn't so, and the next build, of the edited lesson or of the edit taken back, leaves
    just what it makes."""
    files = {"old": OLD, "new": NEW}
    total = steps_of_new(tmp_path / "count")
    assert total > 20
    for step in range(1, total + 1):
        place = tmp_path / str(step)
        keep(place, OLD, "old")
        write_all(place, HERS)
        child = os.fork()
        if child == 0:
            try:
                with each_step(after(step, lambda: os._exit(9))):
                    keep(place, NEW, "new")
            finally:
                os._exit(1)
        assert os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]) == 9
        now = lying(place)
        whole = {name: data for name, data in now.items() if not name.endswith(keeping.SUFFIX)}
        for name in OLD.keys() | NEW.keys():
            assert whole.get(name) in (OLD.get(name), NEW.get(name)), (step, name)
        for noted, made in files.items():
            if record.unchanged(place, "all", As(noted)):
                assert made.items() <= whole.items(), step
        keep(place, files[next_build], next_build)
        assert lying(place) == files[next_build] | HERS, step
        assert record.unchanged(place, "all", As(next_build))


def test_a_full_disk_at_any_step(tmp_path: Path) -> None:
    """An error that isn't NotReplaced means that nothing was changed."""

    def full() -> None:
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    said: set[type | None] = set()
    for step in range(1, steps_of_new(tmp_path / "count") + 1):
        place = tmp_path / str(step)
        keep(place, OLD, "old")
        error: OSError | None = None
        with each_step(after(step, full), first=True):
            try:
                keep(place, NEW, "new")
            except OSError as raised:
                error = raised
        said.add(type(error) if error else None)
        if isinstance(error, NotReplaced):
            assert all(lying(place)[name] == NEW[name] for name in error.moved), step
        elif error is not None:
            assert lying(place) == OLD, step
        assert not [name for name in lying(place) if name.endswith(keeping.SUFFIX)], step
        for noted, made in {"old": OLD, "new": NEW}.items():
            if record.unchanged(place, "all", As(noted)):
                assert made.items() <= lying(place).items(), step
        keep(place, NEW, "new")
        assert lying(place) == NEW, step
    assert {OSError, NotReplaced} <= said


def test_a_file_that_another_program_has_open(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    real = os.replace

    def locked(source: str, target: Path) -> None:
        if target.name == "a.pdf":
            raise PermissionError(errno.EACCES, os.strerror(errno.EACCES))
        real(source, target)

    with monkeypatch.context() as patch:
        patch.setattr(os, "replace", locked)
        with pytest.raises(NotReplaced) as told:
            keep(folder, NEW, "new")
    assert (told.value.names, told.value.moved) == (("a.pdf",), ("new.svg",))
    assert lying(folder) == OLD | {"new.svg": NEW["new.svg"]} | HERS
    assert record.unchanged(folder, "all", As("new")) is None
    changes = keep(folder, NEW, "new")
    assert (changes.gone, list(changes.made)) == (("gone.svg",), list(NEW))
    assert lying(folder) == NEW | HERS


def test_a_folder_where_a_file_should_go(folder: Path) -> None:
    (folder / "new.svg").mkdir()
    with pytest.raises(NotReplaced, match="director") as told:
        keep(folder, NEW, "new")
    assert told.value.names == ("new.svg",)


@posix
def test_a_file_that_may_only_be_read_is_replaced(folder: Path) -> None:
    (folder / "a.pdf").chmod(0o444)
    keep(folder, NEW, "new")
    assert lying(folder) == NEW | HERS


@posix
def test_no_link_is_written_through(folder: Path, tmp_path: Path) -> None:
    (tmp_path / "away.pdf").write_bytes(OLD["a.pdf"])
    (folder / "a.pdf").unlink()
    (folder / "a.pdf").symlink_to(tmp_path / "away.pdf")
    assert record.unchanged(folder, "all", As("old")) is None
    (folder / "gone.svg").unlink()
    (folder / "gone.svg").symlink_to(tmp_path / "nowhere.svg")
    changes = keep(folder, NEW, "new")
    assert (changes.gone, changes.left) == ((), ("gone.svg",))
    assert ((tmp_path / "away.pdf").read_bytes(), (folder / "a.pdf").read_bytes()) == (OLD["a.pdf"], NEW["a.pdf"])
    assert (folder / "gone.svg").is_symlink()


def test_parts_that_a_killed_run_left_are_swept_and_hers_are_not(folder: Path) -> None:
    (folder / f"{keeping.PREFIX}x{keeping.SUFFIX}").write_bytes(b"half")
    (folder / ".mine.part").write_bytes(b"hers")
    assert record.unchanged(folder, "all", As("old"))
    assert lying(folder) == OLD | HERS | {".mine.part": b"hers"}
    (folder / f"{keeping.PREFIX}x{keeping.SUFFIX}").write_bytes(b"half")
    keep(folder, NEW, "new")
    assert lying(folder) == NEW | HERS | {".mine.part": b"hers"}
    assert keeping.PREFIX == record.PART


def test_without_a_lock_only_old_parts_are_swept(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(keeping, "fcntl", None)
    young, old = (folder / f"{keeping.PREFIX}{name}{keeping.SUFFIX}" for name in ("young", "old"))
    young.write_bytes(b"")
    old.write_bytes(b"")
    os.utime(old, (0, 0))
    keep(folder, NEW, "new")
    assert (young.exists(), old.exists()) == (True, False)


@posix
def test_many_at_once_in_one_folder(tmp_path: Path) -> None:
    """Each order's files are all there at the end, and the record knows them."""
    place = tmp_path / "papers"
    children = []
    for number in range(4):
        child = os.fork()
        if child == 0:
            try:
                for turn in range(15):
                    keep(place, {"both.pdf": f"{number} {turn}".encode(), f"{number}.pdf": str(turn).encode()}, str(turn), str(number))
                os._exit(0)
            finally:
                os._exit(1)
        children.append(child)
    assert [os.waitpid(child, 0)[1] for child in children] == [0] * 4
    assert {name: data for name, data in lying(place).items() if name != "both.pdf"} == {f"{number}.pdf": b"14" for number in range(4)}
    assert sum(record.unchanged(place, str(number), As("14")) is not None for number in range(4)) == 1  # whose both.pdf it is
    for number in range(4):
        keep(place, {}, "nothing", str(number))
    assert lying(place) == {}


# The commands.


@pytest.fixture
def room(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("PYTHONPATH", str(inputs.PACKAGE.parent))
    (tmp_path / "room.yaml").write_text(ROOM)
    for name in ("arch", "bell", "crab", "dune"):
        (tmp_path / f"{name}.yaml").write_text(FRAME.replace("Porthole", name.title()))
    return tmp_path


def run(*words: str) -> Result:
    return CliRunner().invoke(main, words)


def command(*words: str) -> list[str]:
    return [sys.executable, "-m", "lessonkit", *words]


def all_papers(place: Path) -> dict[str, bytes]:
    return {path.relative_to(place).as_posix(): path.read_bytes() for path in place.rglob("*") if path.is_file() and path.name != record.NAME}


@posix
def test_killed_at_any_moment(room: Path) -> None:
    """The kills fall anywhere, most of them about the time when files are written."""
    texts = {across: FRAME.replace("85 mm", f"{across} mm") for across in (85, 80)}
    made: dict[int, dict[str, bytes]] = {}
    for across, text in texts.items():
        (room / "arch.yaml").write_text(text)
        assert run("build", "arch.yaml", *QUICK, "--out", str(across)).exit_code == 0
        made[across] = all_papers(room / str(across))
    place = room / "85"
    (place / "arch" / "notes.txt").write_bytes(b"hers")
    chance = random.Random(9)
    for turn in range(KILLS):
        (room / "arch.yaml").write_text(texts[80 if turn % 2 == 0 else 85])
        build = subprocess.Popen(command("build", "arch.yaml", *QUICK, "--out", "85"), stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
        if chance.random() < 0.25:
            time.sleep(chance.uniform(0, 1))
        else:
            while build.poll() is None and not list((place / "arch").glob(f"{keeping.PREFIX}*")):
                time.sleep(0.0005)
            time.sleep(chance.choice([0, chance.uniform(0, 0.005), chance.uniform(0, 0.03)]))
        build.kill()
        build.wait()
        now = {name: data for name, data in all_papers(place).items() if not name.endswith(keeping.SUFFIX)}
        assert now.pop("arch/notes.txt") == b"hers"
        assert now.keys() == made[85].keys(), "lost"
        assert all(data in (made[85][name], made[80][name]) for name, data in now.items()), "half a file"
    (room / "arch.yaml").write_text(texts[80])
    assert run("build", "arch.yaml", *QUICK, "--out", "85").exit_code == 0
    assert all_papers(place) == made[80] | {"arch/notes.txt": b"hers"}


@posix
def test_two_builds_at_once(room: Path) -> None:
    """The second order makes a part of the first's papers, and one of its own."""
    orders = (QUICK, ("--only", "set-out", "--only", "substitute"))
    builds = [subprocess.Popen(command("build", "arch.yaml", *order), stdout=subprocess.DEVNULL) for order in orders]
    assert [build.wait() for build in builds] == [0, 0]
    for order in orders:
        told = subprocess.run(command("build", "arch.yaml", *order), stdout=subprocess.PIPE, text=True, check=True).stdout
        assert told == "1 lesson in papers: nothing changed since the last build.\n"
        assert run("build", "arch.yaml", *order, "--out", "alone").exit_code == 0
    assert all_papers(room / "papers") == all_papers(room / "alone")


@posix
def test_interrupted(room: Path) -> None:
    """Ctrl-C reaches every process of the terminal. None is left, no part is, and each lesson is done or not begun."""
    assert run("build", *QUICK, "--out", "whole").exit_code == 0
    whole = all_papers(room / "whole")
    for wait in (0.3, 1.2, 1.6):
        build = subprocess.Popen(command("build", *QUICK, "--jobs", "2", "--again"), stderr=subprocess.PIPE, start_new_session=True)
        time.sleep(wait)
        os.killpg(build.pid, signal.SIGINT)
        told = build.communicate(timeout=60)[1].decode()
        assert "Traceback" not in told or "import" in told  # Python itself tells of one that comes before we begin
        with pytest.raises(ProcessLookupError):
            os.killpg(build.pid, 0)
        lessons = {path.name for path in (room / "papers").glob("*")}
        assert all_papers(room / "papers") == {name: data for name, data in whole.items() if name.partition("/")[0] in lessons}


def test_more_processes_give_the_same(room: Path) -> None:
    (room / "bell.yaml").write_text(FRAME.replace("title", "titel"))
    told = {jobs: run("build", "--out", "papers", "--again", "--jobs", jobs) for jobs in ("1", "3")}
    assert told["1"].output == told["3"].output
    assert told["1"].exit_code == told["3"].exit_code == 1
    assert "3 lessons built in papers, 1 not: see above." in told["1"].output
    made = all_papers(room / "papers")
    assert run("build", "--out", "shared", "--jobs", "3").exit_code == 1
    assert all_papers(room / "shared") == made




@posix
@pytest.mark.parametrize("how", ["killed", "failed"])
def test_one_that_comes_to_grief_stops_no_other(room: Path, monkeypatch: pytest.MonkeyPatch, how: str) -> None:
    real = making.work

    def bad(lesson: Any, *others: Any) -> Any:
        if lesson.file == "crab.yaml" and how == "killed":
            os.kill(os.getpid(), signal.SIGKILL)
        if lesson.file == "crab.yaml":
            raise MemoryError("no more clay")
        return real(lesson, *others)

    monkeypatch.setattr(making, "work", bad)
    result = run("build", *QUICK, "--jobs", "2")
    assert (result.exit_code, "3 lessons built in papers, 1 not: see above." in result.output) == (1, True), result.output
    assert {"killed": "crab.yaml: its process ended before it was done (exit code -9)", "failed": "MemoryError: no more clay"}[how] in result.output
    assert {path.name for path in (room / "papers").iterdir()} == {"arch", "bell", "dune"}


def slow(task: int) -> int:
    time.sleep(0.2 if task == 0 else 0)
    return task * 2


def test_results_come_in_the_order_of_the_tasks() -> None:
    assert list(workers.in_order(slow, range(20), 3)) == [task * 2 for task in range(20)]
    assert list(workers.in_order(slow, range(3), 1)) == [0, 2, 4]
    assert list(workers.in_order(slow, [], 3)) == []
    assert workers.cores() >= 1


@posix
def test_what_is_in_the_way_is_told(room: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (room / "papers").mkdir()
    (room / "papers" / "arch").write_text("a file, not a folder")
    result = run("build", "arch.yaml", *QUICK)
    assert "papers/arch: could not be written: File exists. Nothing there was changed. Close the file or choose another place." in result.output
    assert result.exit_code == 1
    (room / "papers" / "arch").unlink()
    (room / "papers" / "arch" / "stencil-frame.svg").mkdir(parents=True)
    result = run("build", "arch.yaml", *QUICK)
    assert "papers/arch: stencil-frame.svg could not be replaced or removed: Is a directory. The other papers are the new ones." in result.output
    assert result.exit_code == 1
    assert run("build", "arch.yaml", *QUICK, "--out", "arch.yaml").exit_code == 2


@posix
@pytest.mark.skipif(hasattr(os, "geteuid") and os.geteuid() == 0, reason="root may write everywhere")
def test_a_folder_that_may_not_be_written(room: Path) -> None:
    (room / "papers").mkdir(mode=0o555)
    result = run("build", "arch.yaml", *QUICK)
    assert (result.exit_code, "could not be written: Permission denied" in result.output) == (1, True)


@posix
@pytest.mark.parametrize("words", [("room", "--out", "arch.yaml/x"), ("gallery", "--out", "arch.yaml/x"), ("new", "arch.yaml/x.yaml")])
def test_other_papers_that_cannot_be_written_are_told(room: Path, words: tuple[str, ...]) -> None:
    result = run(*words)
    assert result.exit_code == 1
    assert re.search(r"arch.yaml.*: could not be written: (Not a directory|File exists). Nothing there was changed.", result.output), result.output


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="no full disk at hand")
@pytest.mark.parametrize("words", [["check", "lessons"], ["plan", "lessons/porthole.yaml"], ["--help"]])
def test_a_full_disk_under_what_is_told(words: list[str]) -> None:
    with open("/dev/full", "w") as full:
        command = [sys.executable, "-m", "lessonkit", *words]
        run = subprocess.run(command, cwd=Path(__file__).parents[2], stdout=full, stderr=subprocess.PIPE, text=True)
    assert run.returncode == 1
    assert run.stderr == "Error: not all that was to be told could be written: the disk is full. Make room on it, and run this again.\n"
