"""A tree with positions into a frozen model; every fault gathered, each at its place, in words for a teacher."""

from __future__ import annotations

from functools import lru_cache, reduce
from types import UnionType
from typing import Annotated, Any, Generic, TypeVar, Union, get_args, get_origin

from pydantic import BaseModel, ValidationError
from pydantic_core import ErrorDetails

from lessonkit.lesson.fields import Late, Prose, described
from lessonkit.lesson.limits import length_problems
from lessonkit.problems import Problem, Span, instead
from lessonkit.source.tree import Mapping, Node, Path, Scalar, plain, span_at

Model = TypeVar("Model", bound=BaseModel)


class Written(Generic[Model]):
    """A decoded file that still knows where each value stands. Two are the same only if they were read at once."""

    __slots__ = ("prose", "rest", "tree", "value")

    def __init__(self, value: Model, tree: Node, prose: list[tuple[Path, Scalar]], rest: list[tuple[Path, Scalar]]) -> None:
        self.value, self.tree = value, tree
        self.prose, self.rest = prose, rest  # every text for people in the file, and every other value

    def span(self, *path: str | int) -> Span:
        return span_at(self.tree, path)


def decode(tree: Node, model: type[Model]) -> tuple[Written[Model] | None, tuple[Problem, ...]]:
    """The model, or None with at least one error. Warnings may come with a model too."""
    prose: list[tuple[Path, Scalar]] = []
    rest: list[tuple[Path, Scalar]] = []
    _sort(tree, model, (), prose, rest)
    remarks = tuple(_lost_remark(scalar) for _, scalar in prose if scalar.remark)
    if isinstance(tree, Scalar):
        what = "expected a table such as “title: Porthole”, found only text."
        return None, (Problem("error", "not-a-table", tree.span, what, "Start from lessonkit new."),)
    if too_long := tuple(length_problems(tree)):
        return None, too_long
    try:
        return Written(model.model_validate(plain(tree)), tree, prose, rest), remarks
    except ValidationError as error:
        # a list whose only item is wrong counts as empty for pydantic: the item's own fault says enough
        details = [detail for detail in error.errors(include_url=False) if not (detail["type"] == "too_short" and detail["input"])]
        faults = (_problem(detail, tree, model) for detail in details)
        return None, (*remarks, *sorted(faults, key=lambda fault: fault.span))


def _lost_remark(scalar: Scalar) -> Problem:
    assert scalar.remark is not None
    return Problem("warning", "text-after-hash", scalar.remark, "the text after # is left out.",
                   f'If it belongs to the line, put the whole line in quotes: "{scalar.text} # ...".')  # fmt: skip


def _problem(detail: ErrorDetails, tree: Node, model: type[BaseModel]) -> Problem:
    path: Path = detail["loc"]
    kind, value = detail["type"], detail["input"]
    match kind:
        case "teacher":
            context = detail.get("ctx", {})
            return Problem("error", "wrong-value", span_at(tree, path), context["what"], context["hint"])
        case "extra_forbidden":
            word, choices = str(path[-1]), _words_at(model, path[:-1])
            hint = instead(word, choices, f"Words that can stand here: {', '.join(choices)}.")
            return Problem("error", "unknown-word", span_at(tree, path, of_key=True), f"{described(word)} is not a word that can stand here.", hint)
        case "too_long" | "missing" if kind == "too_long" or isinstance(path[-1], int):
            return _no_place(span_at(tree, path if kind == "too_long" else path[:-1]))
        case "tuple_type" if Ellipsis not in get_args(annotation_at(model, path)):
            return _no_place(span_at(tree, path))
        case "missing":
            what = f"“{path[-1]}” is missing here."
            return Problem("error", "missing-word", span_at(tree, path[:-1]), what, f"Add a line {path[-1]}: ...")
    expected = {
        "tuple_type": "a list, each item behind a dash",
        "dict_type": "a table of names and values",
        "model_type": "a table of names and values",
        "model_attributes_type": "a table of names and values",
        "too_short": "at least one item",
        "string_type": "text",
    }.get(kind, "another value")
    return Problem("error", "wrong-value", span_at(tree, path), f"expected {expected}, found {described(value)}.",
                   "See a lesson that works: lessonkit new.")  # fmt: skip


def _no_place(span: Span) -> Problem:
    return Problem("error", "wrong-value", span, "expected two values, such as [0 mm, 0 mm].", "Write the way right, then the way up.")


def _words_at(model: type[BaseModel], path: Path) -> list[str]:
    inner = annotation_at(model, path)
    return list(inner.model_fields) if isinstance(inner, type) and issubclass(inner, BaseModel) else []


def annotation_at(model: type[BaseModel], path: Path) -> Any:
    """The model class (or Prose) that `path` leads to, through optional values, lists and tables; None if it leads nowhere."""
    return _without_levels(reduce(_under, path, model))


def _sort(node: Node, found: Any, path: Path, prose: list[tuple[Path, Scalar]], rest: list[tuple[Path, Scalar]]) -> None:
    """The values in `node`, which stands where a file has a value of the kind `found`, into texts for people and others."""
    if isinstance(node, Scalar):
        (prose if node.text and _holds_prose(found) else rest).append((path, node))
    elif isinstance(node, Mapping):
        for key, _, value in node.entries:
            _sort(value, _under(found, key), (*path, key), prose, rest)
    else:
        item = _under(found, 0)
        for index, value in enumerate(node.items):
            _sort(value, item, (*path, index), prose, rest)


@lru_cache(maxsize=1_000)
def _holds_prose(found: Any) -> bool:
    """A short form (`easy: words` for a table) counts as what it stands for."""
    found = _without_levels(found)
    if isinstance(found, type) and issubclass(found, BaseModel):  # one text for a whole table: its first field
        return _without_levels(_under(found, next(iter(found.model_fields)))) is Prose
    return found is Prose


def _without_levels(found: Any) -> Any:
    """One value may be written for a table of levels."""
    return _bare(get_args(found)[1]) if get_origin(found) is dict else found


@lru_cache(maxsize=1_000)  # lessons have the same places
def _under(found: Any, step: str | int) -> Any:
    """What stands under a name of a model or a table, or at a number in a list."""
    if isinstance(found, type) and issubclass(found, BaseModel):
        field = found.model_fields.get(str(step))
        if field is None:
            return None
        return Prose if any(isinstance(m, Prose) for m in field.metadata) else _bare(field.annotation)
    if (origin := get_origin(found)) in (tuple, dict):
        return _bare(get_args(found)[0 if origin is tuple else 1])
    return None


def _bare(annotation: Any) -> Any:
    """An annotation without Optional and Annotated; Prose where it is marked so."""
    if get_origin(annotation) is Annotated:
        if any(isinstance(m, Prose) for m in annotation.__metadata__):
            return Prose
        late = next((m for m in annotation.__metadata__ if isinstance(m, Late)), None)
        return late.model if late else _bare(get_args(annotation)[0])
    if get_origin(annotation) in (Union, UnionType):
        return _bare(next(arg for arg in get_args(annotation) if arg is not type(None)))
    return annotation
