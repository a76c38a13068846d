"""All messages stand in one list, tests/messages.txt, as they are printed today. If they do not: python -m tests.message_cases"""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

import lessonkit
from tests.message_cases import CASES, LIST, messages

PACKAGE = Path(lessonkit.__file__).parent
KIND = re.compile(r"[a-z]+(?:-[a-z]+)*")
MAKERS = {"Problem": 1, "error": 0, "_error": 0, "warning": 0}  # what makes a problem, and which of its arguments is the kind
NOT_OURS = (
    "YAML",
    "XML",
    "token",
    "mapping",
    "sequence",
    "scalar",
    "None",
    "Traceback",
    "pydantic",
    "float",
    "str(",
    "NoneType",
    "parse",
    "invalid",
    "illegal",
)


def kinds() -> Iterator[str]:
    """Every kind that the package can make, as a pattern: the argument of what makes a problem, or the first of three texts."""
    for path in sorted(PACKAGE.rglob("*.py")):
        for node in ast.walk(ast.parse(path.read_text())):
            if isinstance(node, ast.Call):
                name = node.func.attr if isinstance(node.func, ast.Attribute) else getattr(node.func, "id", "")
                place = MAKERS.get(name, -1)
                found = node.args[place : place + 1] if place >= 0 else []
            else:
                found = node.elts[:1] if isinstance(node, ast.Tuple) and len(node.elts) == 3 else []
            for part in found:
                if isinstance(part, ast.Constant) and KIND.fullmatch(str(part.value)) and ("-" in str(part.value) or isinstance(node, ast.Call)):
                    yield str(part.value)
                elif isinstance(part, ast.JoinedStr):
                    pattern = "".join(str(v.value) if isinstance(v, ast.Constant) else "[a-z]+" for v in part.values)
                    if re.fullmatch(r"[a-z]+-\[a-z\]\+", pattern):
                        yield pattern


def test_every_kind_is_found_in_the_package() -> None:
    found = set(kinds())
    assert len(found) > 70
    assert {"tab", "hard-words", "silhouette-missing", "narrow-neck", "unknown-[a-z]+"} <= found


@pytest.mark.parametrize("kind", sorted(set(kinds())))
def test_every_kind_has_its_case(kind: str) -> None:
    listed = {case.kind for cases in CASES.values() for case in cases}
    assert [other for other in listed if re.fullmatch(kind, other)], kind


@pytest.mark.parametrize("section", CASES)
def test_every_case_brings_about_its_message(section: str) -> None:
    """In plain words: what is wrong, begun small and ended with a stop; then what to do, begun large."""
    for case in CASES[section]:
        problems = case.problems()
        assert problems, f"{case.kind}: {str(case.lesson)[:300]}"
        for problem in problems:
            assert problem.what.endswith("."), problem
            assert problem.hint[:1].isupper() or not problem.hint[:1].isalpha(), problem
            assert problem.hint, problem
            assert "\n" not in str(problem), problem
            assert len(str(problem)) < 500 or problem.kind in ("no-picture", "wrong-value"), problem
            assert not [word for word in NOT_OURS if word in str(problem)], problem
            assert "'" not in re.sub(r"\w'\w|'[^ ]+'|\\S'", "", problem.what), problem


def test_the_list_is_what_is_printed_today() -> None:
    assert LIST.read_text(encoding="utf-8").splitlines() == messages().splitlines()
