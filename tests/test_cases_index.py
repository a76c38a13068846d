"""Every case that was met in public has tests that bear its number."""

from __future__ import annotations

import re
from functools import cache
from pathlib import Path

import pytest

CASES = (
    "c01", "c02", "c04", "c05", "c07", "c08", "c10", "c11", "c13", "c14", "c16", "c17", "c19", "c20", "c22", "c23", "c25", "c26", "c28", "c29",
    "c31", "c32", "c34", "c35", "c37", "c38", "c40", "c41",
)  # fmt: skip


@cache
def numbered() -> frozenset[str]:
    texts = (path.read_text(encoding="utf-8") for path in Path(__file__).parent.rglob("test_*.py"))
    return frozenset(name for text in texts for name in re.findall(r"^def test_(c\d\d)_\w+\(", text, re.MULTILINE))


@pytest.mark.parametrize("case", CASES)
def test_every_case_has_its_tests(case: str) -> None:
    assert case in numbered()


def test_no_test_bears_the_number_of_a_case_that_is_not_there() -> None:
    assert numbered() <= set(CASES)
