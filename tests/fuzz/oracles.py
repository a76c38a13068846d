"""What must be true of every outcome, whatever the files: papers or problems, each at its place and in a teacher's words."""

from __future__ import annotations

import codecs
import json
import re
from collections.abc import Iterator

from lessonkit.build import Source, read, work
from lessonkit.cli.plan_text import plan_text, today_text
from lessonkit.lesson.days import parse_date
from lessonkit.lesson.log import Log
from lessonkit.pieces.model import Kit
from lessonkit.planning.log import log_problems
from lessonkit.planning.numbers import FAULTS, Asked, calendar_of, faults_of, groups_of, plan
from lessonkit.problems import Problem
from tests.fuzz.attempts import Attempt

LONGEST = 700  # letters of one problem: some six lines of a terminal
_LIBRARY_WORDS = re.compile(
    r"pydantic|yaml\b.*error|shapely|reportlab|svgwrite|Traceback|NoneType|Input should|validation error|\b[A-Z]\w+Error\b|object at 0x|LinearRing"
    r"|LineString|MultiPolygon|GeometryCollection|TopologyException|\bdict\b|\bstr\b|\btuple\b|\bfloat\b|\bint\b|\bNone\b|\bTrue\b|\bFalse\b|\bnan\b|\binf\b"
    r"|scalar|\btoken\b|while scanning|while parsing|<class|lambda|\bcharmap\b|codec"
)


class Fault(AssertionError):
    """What should not be. `kind` is the same for the same fault of another input."""

    def __init__(self, kind: str, told: str = "") -> None:
        super().__init__(kind, told)
        self.kind = kind


def checked(attempt: Attempt) -> tuple[Kit | None, tuple[Problem, ...]]:
    """The outcome of `lessonkit check`, looked at. Raises Fault."""
    lesson = attempt.source("lesson.yaml")
    assert lesson is not None
    kit, problems = work(lesson, attempt.source("room.yaml"), None, attempt.order)
    errors = [problem for problem in problems if problem.severity == "error"]
    if kit is None and not errors:
        raise Fault("no papers and no error")
    if kit is not None and any(problem.span.file != "lesson.es.yaml" for problem in errors):
        raise Fault("papers in spite of an error", str(errors[0]))
    _look_at(problems, attempt)
    if "log.yaml" in attempt.files:
        written, problems_of_log = read(Source("log.yaml", attempt.files["log.yaml"]), Log)
        problems_of_log = (*problems_of_log, *(log_problems(written, (kit,)) if written and kit else ()))
        _look_at(problems_of_log, attempt)
        if kit is not None:
            _planned(kit, written.value if written else None, attempt)
    return kit, problems


def _look_at(problems: tuple[Problem, ...], attempt: Attempt) -> None:
    rows = {name: _rows(data) for name, data in attempt.files.items()}
    for problem in problems:
        for told in _wrong_with(problem, rows, attempt):
            raise Fault(f"{told}: {problem.kind}", str(problem))


def _wrong_with(problem: Problem, rows: dict[str, list[str] | None], attempt: Attempt) -> Iterator[str]:
    span = problem.span
    if span.file not in rows and span.file != "assumed room":
        yield "names no file of hers"
    lines = rows.get(span.file)
    if span.line < 1 or span.end_line < span.line or span.column < 1 or span.end_column < 1:
        yield "has no place"
    elif lines is not None and (span.end_line > len(lines) or span.column > len(lines[span.line - 1]) + 1):
        yield "lies outside of its file"
    if not problem.what.strip() or (problem.severity == "error" and not problem.hint.strip()):
        yield "says nothing"
    if re.search(r"[\n\r\x00-\x08\x0b-\x1f\x7f]", str(problem)):
        yield "is not one line"
    if len(str(problem)) > LONGEST:
        yield "is too long"
    if word := _library_word(f"{problem.what} {problem.hint}", rows):
        yield f"says {word}"


def _library_word(text: str, rows: dict[str, list[str] | None]) -> str | None:
    """The first of a library's words in the text that no file of hers has: her group may be called None, and her step “True the wall”."""
    hers = "\n".join(line for lines in rows.values() for line in lines or ())
    return next((found[0] for found in _LIBRARY_WORDS.finditer(text) if not re.search(rf"\b{re.escape(found[0])}\b", hers)), None)


def _rows(data: bytes) -> list[str] | None:
    """The lines of a file that can be read, None of another."""
    try:
        text = data.decode("utf-16" if data.startswith((codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)) else "utf-8-sig")
    except UnicodeDecodeError:
        return None
    return text.replace("\r\n", "\n").replace("\r", "\n").split("\n")


def _planned(kit: Kit, log: Log | None, attempt: Attempt) -> None:
    rows = {name: _rows(data) for name, data in attempt.files.items()}
    groups, said = groups_of(kit.room)
    asked = Asked((kit,), groups, log, parse_date("2027-01-12"))
    found = plan(asked, said)
    json.dumps(found, allow_nan=False)
    for text in (today_text(found), plan_text(found, kit.room)):
        if not text.strip() or _library_word(re.sub(r"“[^”]*”", "", text), rows):
            raise Fault("the plan says nothing, or in a library's words", text)
    for topic, error in faults_of(found):
        if not error["what"].strip() or not error["hint"].strip() or _library_word(f"{error['what']} {error['hint']}", rows):
            raise Fault(f"the fault of {topic} says nothing a teacher knows", str(error))
    try:
        calendar_of(asked, kit.room.name)
    except FAULTS as error:
        if not error.what or not error.hint:
            raise Fault("the calendar's fault says nothing") from None
