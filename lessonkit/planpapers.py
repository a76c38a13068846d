"""A plan's papers as bytes, by the path of each under one folder. Touches no disk."""

from __future__ import annotations

import re
from typing import Any

from lessonkit.planning.numbers import Asked


def plan_papers(asked: Asked, found: dict[str, Any], paper: str | None = None) -> dict[str, bytes]:
    """`found` is what `planning.numbers.plan` gave for `asked`; `paper` left out, the room's usual one.

    What is for one class lies in its lesson's folder with the group's tag in the name, what is for all of them beside it. A paper
    other than the room's usual one is in the name.
    """
    from lessonkit.layout.classroom.papers import plan_documents
    from lessonkit.layout.printing import corrected
    from lessonkit.writers.pdf import write_pdf

    room = asked.kits[0].room
    usual = room.paper[0]
    mark = "" if paper in (None, usual) else f"-{paper.lower()}"
    folders = _names([kit.lesson.title for kit in asked.kits])
    tags = _names([group.tag for group in asked.groups])
    made: dict[str, bytes] = {}
    for name, place, document in plan_documents(found, asked.kits, asked.groups, paper or usual):
        path = f"{name}{mark}.pdf" if place is None else f"{folders[place[0]]}/{name}-{tags[place[1]]}{mark}.pdf"
        made[path] = write_pdf(corrected(document, room.printed.scale) if room.printed else document)
    return made


def _names(words: list[str]) -> list[str]:
    """Each as part of a file's name: letters and figures with dashes between; those that come out alike get a number."""
    names: list[str] = []
    for word in words:
        plain = re.sub(r"\W+", "-", word).strip("-_") or "x"
        taken = sum(re.sub(r"-\d+$", "", name).casefold() == plain.casefold() for name in names)
        names.append(f"{plain}-{taken + 1}" if taken else plain)
    return names
