"""Whole processes measured: the time of the processor and of the clock, and the peak of memory, of one command and all that it started."""

from __future__ import annotations

import os
import subprocess
import sys
import time
from collections.abc import Callable, Sequence
from pathlib import Path
from statistics import median
from typing import NamedTuple

MIB = 1 << 20


class Cost(NamedTuple):
    """`processor_s` is user and system time together."""

    processor_s: float
    clock_s: float
    peak_mib: float


class Command(NamedTuple):
    """What is run: `prepare` is called before each run, its time not counted, and gives the arguments."""

    name: str
    prepare: Callable[[], Sequence[str]]


class Ratio(NamedTuple):
    """The median over the rounds, and the least and the most. Each round divides two neighbours, so that a slow minute hits both."""

    middle: float
    least: float
    most: float

    def __str__(self) -> str:
        return f"{self.middle:.2f} ({self.least:.2f}–{self.most:.2f})"


def lessonkit(*arguments: str | Path) -> list[str]:
    return [sys.executable, "-m", "lessonkit", *map(str, arguments)]


def measure(arguments: Sequence[str]) -> Cost:
    """Run it to its end, as it is run where Python may keep what it compiled. Raises CalledProcessError if it fails.

    The peak is the largest process's; Linux counts it in KiB, and no lower than this process's own before the command took its place."""
    environment = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
    begun = time.perf_counter()
    with subprocess.Popen(arguments, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, env=environment) as process:
        assert process.stdout
        printed = process.stdout.read()
        _, status, used = os.wait4(process.pid, 0)
        clock = time.perf_counter() - begun
        process.returncode = os.waitstatus_to_exitcode(status)
    if process.returncode:
        print(printed.decode(errors="replace"), file=sys.stderr)
        raise subprocess.CalledProcessError(process.returncode, arguments)
    return Cost(used.ru_utime + used.ru_stime, clock, used.ru_maxrss * 1024 / MIB)


def rounds(commands: Sequence[Command], count: int) -> dict[str, list[Cost]]:
    """Every command once a round, in turn; a first round fills the caches of the disk and is not counted."""
    costs: dict[str, list[Cost]] = {command.name: [] for command in commands}
    for number in range(count + 1):
        for command in commands:
            cost = measure(command.prepare())
            if number:
                costs[command.name].append(cost)
    return costs


def ratio(over: Sequence[float], under: Sequence[float], scale: float = 1.0) -> Ratio:
    """Round by round, times `scale`. Raises ValueError for unequal numbers of rounds."""
    found = [a / b * scale for a, b in zip(over, under, strict=True)]
    return Ratio(median(found), min(found), max(found))
