"""The long run: python -m tests.fuzz --checks 100000 --builds 5000 --seed 7 --failures /some/folder

Each input is made from the seed and its number alone: `--only check/12345` does that one again, with its traceback.
"""

from __future__ import annotations

import argparse
import importlib
import pkgutil
import sys
from pathlib import Path

import lessonkit
from tests.fuzz.attempts import Attempt, attempt, to_build
from tests.fuzz.running import KEPT, Came, Tally, keep, tried

TOLD_EVERY = 500
WHOLE_EVERY = 20


def _input(seed: int, label: str) -> tuple[Attempt, bool, bool]:
    """The input of that label, whether its papers are made, and whether all is done twice."""
    task, _, number = label.partition("/")
    build = task == "build"
    return (to_build if build else attempt)(seed, int(number)), build, int(number) % WHOLE_EVERY == 0


def _done(seed: int, label: str, failures: Path | None, tally: Tally) -> Came:
    made, build, whole = _input(seed, label)
    came = tried(made, build, whole)
    tally.add(f"build of {made.kind}" if build else made.kind, label, came)
    if not came.sound:
        print(f"seed {seed} {label} ({made.kind}): {came.outcome}: {came.told.strip().splitlines()[-1][:200] if came.told else ''}", flush=True)
        if failures and tally.faults[came.outcome] <= KEPT:
            keep(failures, f"{seed}-{label.replace('/', '-')}", made, came, build, whole)
    return came


def _load_all() -> None:
    """Every module now: an edit while the run goes on must not mix old ones and new ones."""
    for module in pkgutil.walk_packages(lessonkit.__path__, "lessonkit."):
        if not module.name.endswith("__main__"):
            importlib.import_module(module.name)


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--checks", type=int, default=1000, help="how many inputs are checked")
    parser.add_argument("--builds", type=int, default=20, help="how many are built; those that cannot be built are not counted")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--only", help="one input: check/12345 or build/67")
    parser.add_argument("--failures", type=Path, help="a folder outside of the repository for the inputs that fail")
    asked = parser.parse_args()
    _load_all()
    tally = Tally()
    if asked.only:
        print(_done(asked.seed, asked.only, asked.failures, tally).told)
    else:
        _all(asked, tally)
    print(f"seed {asked.seed}: {tally}")
    for outcome, count in tally.faults.most_common():
        print(f"  {count} x {outcome}")
    sys.exit(1 if tally.faults else 0)


def _all(asked: argparse.Namespace, tally: Tally) -> None:
    for number in range(asked.checks):
        _done(asked.seed, f"check/{number}", asked.failures, tally)
        if number % TOLD_EVERY == TOLD_EVERY - 1:
            print(f"seed {asked.seed}, {number + 1} checks: {tally}", flush=True)
    number = built = 0
    while built < asked.builds:
        built += _done(asked.seed, f"build/{number}", asked.failures, tally).outcome != "problems"
        number += 1


main()
