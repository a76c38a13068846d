"""One input after the other: what came of it, how long it took, and the fewest lines with which a fault still happens."""

from __future__ import annotations

import resource
import signal
import time
import traceback
from collections import Counter
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field, replace
from pathlib import Path
from types import FrameType

from lessonkit.build import Order
from lessonkit.layout.stencils.document import StencilError
from tests.fuzz.attempts import Attempt
from tests.fuzz.oracles import Fault, checked
from tests.fuzz.papers_read import built

SLOW_CHECK_S, SLOW_BUILD_S = 2.0, 20.0  # of the processor's time
LONGEST_S = 60.0
MOST_MB_MORE = 200.0  # that one input may add to the most that was ever held
REDUCED_S = 40.0  # spent on making one failing input smaller
KEPT = 3  # of the inputs with the same fault

Outcome = str  # papers, problems, or the fault's name


class _TooLong(BaseException):
    """Not an Exception, so that nobody on the way takes it for one."""


@contextmanager
def _at_most(seconds: float) -> Iterator[None]:
    def stop(_: int, __: FrameType | None) -> None:
        raise _TooLong

    signal.signal(signal.SIGPROF, stop)
    signal.setitimer(signal.ITIMER_PROF, seconds)
    try:
        yield
    finally:
        signal.setitimer(signal.ITIMER_PROF, 0)


@dataclass(frozen=True)
class Came:
    """What came of one input."""

    outcome: Outcome
    seconds: float
    told: str = ""
    pages: int = 0

    @property
    def sound(self) -> bool:
        return self.outcome in ("papers", "problems")


def tried(attempt: Attempt, build: bool, whole: bool) -> Came:
    """Checks the input and, with `build`, makes and reads its papers. `whole`: all twice, with the papers of plan and room."""
    start, pages = time.process_time(), 0
    most_mb = _peak_mb()
    try:
        with _at_most(LONGEST_S):
            kit, problems = checked(attempt)
            spent = time.process_time() - start
            if whole and checked(attempt)[1] != problems:
                raise Fault("checked twice, the problems differ")
            if kit is not None and build:
                pages = built(kit, attempt.order or Order(), whole)
    except _TooLong:
        return Came(f"more than {LONGEST_S:g} s", LONGEST_S)
    except StencilError:  # told without a traceback, as a fault of the lesson; `check` tells it of the wordy ones
        return Came("problems", time.process_time() - start)
    except Fault as fault:
        return Came(fault.kind, time.process_time() - start, str(fault.args[1]))
    except Exception as error:
        frames = [frame for frame in traceback.extract_tb(error.__traceback__) if "lessonkit" in frame.filename]
        place = f"{Path(frames[-1].filename).name} {frames[-1].name}" if frames else "tests"
        return Came(f"{type(error).__name__} in {place}", time.process_time() - start, traceback.format_exc())
    seconds = time.process_time() - start
    if _peak_mb() - most_mb > MOST_MB_MORE:
        return Came(f"more than {MOST_MB_MORE:g} MB", seconds)
    drawn = any(problem.kind == "no-room-on-stencil" for problem in problems)  # in every way that there is
    if (spent > SLOW_CHECK_S and not drawn) or seconds > SLOW_BUILD_S * (3 if whole else 1):
        return Came("slow", seconds, f"check {spent:.1f} s, all {seconds:.1f} s")
    return Came("papers" if kit else "problems", seconds, pages=pages)


def _peak_mb() -> float:
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1000


def reduced(attempt: Attempt, fails: Callable[[Attempt], bool]) -> Attempt:
    """The input with as many lines and files left out as can be, while it still fails."""
    start = time.process_time()

    def still(smaller: Attempt) -> bool:
        return time.process_time() - start < REDUCED_S and fails(smaller)

    for name in [name for name in attempt.files if name != "lesson.yaml"]:
        smaller = replace(attempt, files={other: data for other, data in attempt.files.items() if other != name})
        attempt = smaller if still(smaller) else attempt
    for name in attempt.files:
        lines = attempt.files[name].split(b"\n")
        stretch = len(lines) // 2
        while stretch:
            at = 0
            while at < len(lines):
                fewer = lines[:at] + lines[at + stretch :]
                if still(attempt.with_file(name, b"\n".join(fewer))):
                    lines = fewer
                else:
                    at += stretch
            stretch //= 2
        attempt = attempt.with_file(name, b"\n".join(lines))
    return attempt


@dataclass
class Tally:
    """What came of all of them."""

    counts: Counter[tuple[str, Outcome]] = field(default_factory=Counter)
    faults: Counter[Outcome] = field(default_factory=Counter)
    slowest: tuple[float, str] = (0.0, "")
    pages: int = 0

    def add(self, kind: str, label: str, came: Came) -> None:
        self.counts[kind, came.outcome if came.sound else "faults"] += 1
        self.pages += came.pages
        self.slowest = max(self.slowest, (came.seconds, label))
        if not came.sound:
            self.faults[came.outcome] += 1

    def __str__(self) -> str:
        kinds = dict.fromkeys(kind for kind, _ in self.counts)
        each = [f"{kind} {'/'.join(str(self.counts[kind, outcome]) for outcome in ('papers', 'problems', 'faults'))}" for kind in kinds]
        seconds, label = self.slowest
        return (f"{sum(self.counts.values())} inputs (papers/problems/faults): {', '.join(each)}; {self.pages} pages; "
                f"slowest {seconds:.1f} s ({label}); peak {_peak_mb():.0f} MB")  # fmt: skip


def keep(folder: Path, label: str, attempt: Attempt, came: Came, build: bool, whole: bool) -> None:
    """The files of a failing input, as they were and reduced, and what was told, in a folder of their own."""

    def fails(smaller: Attempt) -> bool:
        return tried(smaller, build, whole).outcome == came.outcome

    for name, kept in (("whole", attempt), ("reduced", reduced(attempt, fails))):
        place = folder / label / name
        place.mkdir(parents=True, exist_ok=True)
        for file, data in kept.files.items():
            (place / file).write_bytes(data)
    (folder / label / "told.txt").write_text(f"{came.outcome}\n{attempt.kind}, {attempt.order}\n{came.told}\n", encoding="utf-8", errors="replace")
