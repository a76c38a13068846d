"""Measure, and print the table for DEVELOPERS.md: python -m tests.benchmarks [GROUP ...] [--rounds N]"""

from __future__ import annotations

import argparse
import os
import tempfile
from collections.abc import Iterator
from pathlib import Path
from statistics import median

from tests.benchmarks.measure import Cost, ratio, rounds
from tests.benchmarks.rows import GROUPS, Group, Row
from tests.benchmarks.shelf import ROOM
from tests.benchmarks.signs import sign_kb

SIGN = "sign"

HEAD = """\
| work | against | must | goal | processor (least–most) | clock (least–most) | processor s |
|---|---|---|---|---|---|---|"""


def main() -> None:
    parser = argparse.ArgumentParser(prog="python -m tests.benchmarks", description=__doc__)
    parser.add_argument("groups", nargs="*", choices=[*GROUPS, SIGN], help="Only these.")
    parser.add_argument("--rounds", type=int, help="Another number of rounds than each group's own.")
    wanted = parser.parse_args()
    print(HEAD, flush=True)
    for name in wanted.groups or (*GROUPS, SIGN):
        with tempfile.TemporaryDirectory() as scratch:
            os.environ["XDG_CACHE_HOME"] = scratch  # what `check` remembers
            if name == SIGN:
                print(_line("a one-page sign, kB", "-", "40", "20", f"**{sign_kb(Path(scratch), ROOM):.1f}**", "", ""))
            else:
                group = GROUPS[name]
                costs = rounds(group.commands(Path(scratch)), wanted.rounds or group.rounds)
                print("\n".join(table(group, costs)), flush=True)


def table(group: Group, costs: dict[str, list[Cost]]) -> Iterator[str]:
    for row in group.rows:
        over, under = costs[row.over], costs[row.under]
        processor = ratio([cost.processor_s for cost in over], [cost.processor_s for cost in under], row.scale)
        clock = ratio([cost.clock_s for cost in over], [cost.clock_s for cost in under], row.scale)
        seconds = " / ".join(f"{median(cost.processor_s for cost in side):.3f}" for side in (over, under))
        shown = (f"{processor}", f"**{clock}**") if row.by_clock else (f"**{processor}**", f"{clock}")
        yield _line(row.work, row.under, _figure(row.must), _figure(row.goal), *shown, seconds)
    for row in group.peaks:
        yield _peak(row, costs)


def _peak(row: Row, costs: dict[str, list[Cost]]) -> str:
    over = [cost.peak_mib for cost in costs[row.over]]
    under = [cost.peak_mib for cost in costs[row.under]] if row.under else [1.0] * len(over)
    return _line(row.work, row.under or "-", _figure(row.must), _figure(row.goal), f"**{ratio(over, under)}**", "", "")


def _figure(target: float | None) -> str:
    return "" if target is None else f"{target:g}"


def _line(*cells: str) -> str:
    return f"| {' | '.join(cells)} |"


if __name__ == "__main__":
    main()
