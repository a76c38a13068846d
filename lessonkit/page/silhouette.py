"""An SVG file of hers as a stencil, and as a lesson if she keeps it."""

from __future__ import annotations

import re
from importlib.resources import files
from typing import Any

from lessonkit.build import Order, Source, work
from lessonkit.lesson.lesson import Lesson
from lessonkit.page.asked import Drawing
from lessonkit.page.desk import Desk
from lessonkit.page.fields import place_of
from lessonkit.page.refused import Refused
from lessonkit.page.saving import TAKEN, keep
from lessonkit.page.splicing import Change, spliced
from lessonkit.page.trying import seen, told
from lessonkit.page.values import NotSpliced
from lessonkit.source.text import read_tree
from lessonkit.source.tree import Path

Json = dict[str, Any]

_PIECE: Path = ("pieces", 0)
_ACROSS: Path = (*_PIECE, "flat", "outline", "svg", "wide")
_FIELDS: dict[Path, str] = {
    (*_PIECE, "flat", "outline", "svg", "file"): "text",
    _ACROSS: "across",
    ("thickness",): "thickness",
    ("title",): "title",
}


def silhouette(desk: Desk, asked: Drawing) -> Json:
    """Like /try; or, if she keeps it, the lesson's new file. Refused (422) if it is to be kept and has an error."""
    stem = _free(desk, asked.name)
    file, drawing = f"{stem}.yaml", f"{stem}.svg"
    data = asked.text.encode("utf-8", "replace")
    title = asked.title or stem.replace("-", " ").capitalize()
    values = {"text": drawing, "across": asked.across, "thickness": asked.thickness or "", "title": title}
    changes = [Change(path, values[name]) for path, name in _FIELDS.items()] + [Change((*_PIECE, "name"), stem.replace("-", " "))]
    try:
        if not asked.across.strip():
            raise NotSpliced(_ACROSS, "it needs a width.", "Write how wide it is when it is fired, such as 150 mm or 6 in.")
        text = spliced(_starter(), file, changes, Lesson)
    except NotSpliced as fault:
        if asked.keep:
            raise Refused(422, fault.what, fault.hint) from None
        problem = {"severity": "error", "what": fault.what, "hint": fault.hint, "line": None, "field": _FIELDS.get(fault.path)}
        return {"turn": asked.turn, "problems": [problem], **seen(None, Order(), "stencils", None, None)}

    def beside(name: str) -> bytes:
        if name != drawing:
            raise FileNotFoundError(name)
        return data

    kit, problems = work(Source(file, text, beside), desk.room_source(), None, Order() if asked.keep else None)
    if asked.keep:
        if kit is None:
            errors = tuple(problem for problem in problems if problem.severity == "error")
            raise Refused(422, "this drawing can't be kept as it is.", "Mend what is marked first.", errors)
        keep(desk.folder, {drawing: data, file: text}, {drawing: None, file: None})
        return {"file": file}
    tree, _ = read_tree(text, file)
    places = [place_of(tree, problem.span, _FIELDS) if tree and problem.span.file == file else None for problem in problems]
    found = [told(problem, _FIELDS.get(place) if place else None, file) for problem, place in zip(problems, places, strict=True)]
    return {"turn": asked.turn, "problems": found, **seen(kit, Order(), "stencils", None, None)}


def _starter() -> bytes:
    return files("lessonkit.lesson.starters").joinpath("silhouette.yaml").read_bytes()


def _free(desk: Desk, name: str) -> str:
    """The drawing's own name as a file's, with a number where a lesson or a drawing of that name is there."""
    own = stem = re.sub(r"\W+", "-", re.sub(r"\.svg$", "", name, flags=re.IGNORECASE)).strip("-")[:60] or "shape"
    number = 2
    while TAKEN.fullmatch(stem) or any((desk.folder / f"{stem}{ending}").exists() for ending in (".yaml", ".yml", ".svg")):
        stem, number = f"{own}-{number}", number + 1
    return stem
