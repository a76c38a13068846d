"""Work shared among processes. They only reckon: what they give is written and told by the one that started them, in order."""

from __future__ import annotations

import os
import signal
import sys
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from multiprocessing import connection, context
from multiprocessing.process import BaseProcess
from typing import Any, NamedTuple, TypeVar

T = TypeVar("T")
R = TypeVar("R")
End = Any  # of a pipe: its class is another on each system


class Stopped(NamedTuple):
    """The process of this task came to an end by itself, such as one that ran out of memory."""

    exit_code: int | None


def cores() -> int:
    """How many this process may use."""
    return len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1


def in_order(work: Callable[[T], R], tasks: Sequence[T], count: int) -> Iterator[R | Stopped]:
    """What `work` gives for each task, in the order of the tasks, from at most `count` processes; from this one if that is 1.

    Closing the iterator, or an exception such as Ctrl-C, ends them all."""
    count = min(count, len(tasks))
    if count <= 1:
        yield from map(work, tasks)
        return
    crew = _Crew(work)
    try:
        yield from _results(crew, tasks, count)
    finally:
        crew.end()


def _results(crew: _Crew, tasks: Sequence[Any], count: int) -> Iterator[Any]:
    done: dict[int, Any] = {}
    busy: dict[End, int] = {}
    given = wanted = 0
    idle = [crew.start() for _ in range(count)]
    while wanted < len(tasks):
        while idle and given < min(len(tasks), wanted + 2 * count):  # no further ahead: what is done waits in memory
            busy[crew.give(idle.pop(), tasks[given])] = given
            given += 1
        if wanted in done:
            yield done.pop(wanted)
            wanted += 1
            continue
        end: End
        for end in connection.wait(list(busy)):
            try:
                done[busy.pop(end)] = end.recv()
                idle.append(end)
            except (EOFError, OSError):
                done[busy.pop(end)] = Stopped(crew.ended(end))
                idle.append(crew.start())


class _Crew:
    def __init__(self, work: Callable[[Any], Any]) -> None:
        self.work = work
        forked = sys.platform == "linux"  # they have the libraries already; elsewhere it isn't safe, or isn't there
        self.context = context.ForkContext() if forked else context.SpawnContext()
        self.members: dict[End, BaseProcess] = {}

    def start(self) -> End:
        ours, theirs = self.context.Pipe()
        inherited = [ours, *self.members] if self.context.get_start_method() == "fork" else []
        process = self.context.Process(target=_serve, args=(self.work, theirs, inherited), daemon=True)
        with _uninterrupted():
            process.start()
            self.members[ours] = process
        theirs.close()
        return ours

    def give(self, end: End, task: Any) -> End:
        """One that came to its end while it had nothing to do is replaced."""
        try:
            end.send(task)
        except OSError:
            self.ended(end)
            end = self.start()
            end.send(task)
        return end

    def ended(self, end: End) -> int | None:
        process = self.members.pop(end)
        end.close()
        process.join()
        return process.exitcode

    def end(self) -> None:
        """They hold nothing that could be lost."""
        for process in self.members.values():
            process.kill()
        for end in list(self.members):
            self.ended(end)


@contextmanager
def _uninterrupted() -> Iterator[None]:
    """Ctrl-C waits; a process that is started meanwhile never gets it."""
    if not hasattr(signal, "pthread_sigmask"):  # Windows
        yield
        return
    before = signal.pthread_sigmask(signal.SIG_BLOCK, {signal.SIGINT})
    try:
        yield
    finally:
        signal.pthread_sigmask(signal.SIG_SETMASK, before)


def _serve(work: Callable[[Any], Any], end: End, inherited: list[End]) -> None:
    """Until the other end is closed, or the process that has it is gone."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # Ctrl-C is for the one that started this, which ends it
    for other in inherited:
        other.close()
    while True:
        try:
            task = end.recv()
        except EOFError:
            return
        end.send(work(task))
