"""The shapes of the SVG files that a lesson names, each read once, each fault at the place of its name."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import TYPE_CHECKING, Any

from lessonkit.geometry.combining import from_rings
from lessonkit.geometry.faults import GeometryError
from lessonkit.geometry.shape import Shape
from lessonkit.lesson.decode import Written
from lessonkit.lesson.fields import Record
from lessonkit.lesson.lesson import Lesson
from lessonkit.lesson.shapes import Outline
from lessonkit.problems import Problem, Span
from lessonkit.source.tree import Path

if TYPE_CHECKING:
    from lessonkit.lesson.outlines import Silhouette

MOST_FILES = 20


def silhouettes(lesson: Written[Lesson], beside: Callable[[str], bytes] | None) -> tuple[dict[str, Shape | None], tuple[Problem, ...]]:
    """The shape of each file by its name, at the size that it is drawn; None, and an error at every such name, for one that
    can't be used.

    `beside` reads a file of the lesson's folder by its name: OSError where it can't, ValueError for a name that leads elsewhere.
    """
    read: dict[str, Shape | tuple[str, str, str]] = {}
    problems: list[Problem] = []
    for path, silhouette in _named(lesson.value) if any("svg" in path for path, _ in lesson.rest) else ():
        file, span = silhouette.file, lesson.span(*path, "file")
        if file not in read and len(read) == MOST_FILES:
            problems.append(_error(span, "too-many-silhouettes", f"the lesson names more than {MOST_FILES} SVG files.", "Use fewer."))
            break
        if file not in read:
            read[file] = _shape(file, beside)
        if not isinstance(fault := read[file], Shape):
            problems.append(_error(span, *fault))
    return {file: shape if isinstance(shape, Shape) else None for file, shape in read.items()}, tuple(problems)


def _error(span: Span, kind: str, what: str, hint: str) -> Problem:
    return Problem("error", kind, span, what, hint)


def _named(value: Any, path: Path = ()) -> Iterator[tuple[Path, Silhouette]]:
    """Every silhouette in a lesson, wherever an outline can stand."""
    match value:
        case Record():
            if isinstance(value, Outline) and value.svg:
                yield (*path, "svg"), value.svg
            for name in value.model_fields_set:
                yield from _named(getattr(value, name), (*path, name))
        case tuple():
            for index, item in enumerate(value):
                yield from _named(item, (*path, index))


def _shape(file: str, beside: Callable[[str], bytes] | None) -> Shape | tuple[str, str, str]:
    """The shape; or the kind of fault, what it is, and what to do."""
    from lessonkit.source.svg import FROM_CORNER, Refusal, read_silhouette  # late: few lessons have such a file

    try:
        data = beside(file) if beside else None
    except FileNotFoundError:
        data = None
    except ValueError:
        what = f"“{file}” does not lie in the lesson's folder, and only files in it are read."
        return "silhouette-elsewhere", what, "Put the SVG file beside the lesson, and write only its name."
    except OSError as error:
        return "silhouette-unreadable", f"{file} could not be read: {error.strerror}.", "See whether you can open it yourself."
    if data is None:
        what = f"there is no file “{file}” in the lesson's folder."
        return "silhouette-missing", what, "Put the SVG file beside the lesson, or correct its name."
    rings = read_silhouette(data)
    if isinstance(rings, Refusal):
        return "silhouette-refused", f"{file}: {rings.what}", rings.hint
    try:
        return from_rings(rings)
    except GeometryError as error:
        return "silhouette-refused", f"{file}: {error.what}", f"Mend it in your drawing program. {FROM_CORNER}"
