"""The values of a lesson that the page offers for change, each with its place in the file and a name that a teacher knows it by."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Literal

from lessonkit.lesson.decode import annotation_at
from lessonkit.lesson.lesson import Lesson
from lessonkit.problems import Span
from lessonkit.source.tree import Mapping, Node, Path, Scalar, scalars, span_at
from lessonkit.source.tree import Sequence as Items
from lessonkit.units import Length, UnitError, Weight, parse_offset

Kind = Literal["length", "text", "count"]

_OF_LESSON = {"title": "Title", "about": "What it is", "thickness": "Thickness of the slab"}
_TEXTS = ("shows", "holds", "lean")
_LISTS = {"openings": "opening", "joins": "joining place", "press": "pressed line", "joined": "part", "cut_away": "cut-away", "profile": "width"}
_GROUPS = {"hang": "hanging hole", "ring": "ring", "row": "row", "start": "start", "end": "end", "at": "place", "rounded": "corners"}
_WORDS = {
    "across": "across",
    "from_edge": "from the edge",
    "flats": "between sides",
    "lip": "lip over the photo",
    "clearance": "free all round",
    "count": "how many",
    "inset": "from the outline",
    "coil": "thickness of a coil",
    "rise": "rise of one row",
    "ball": "weight of the ball",
    "gap": "gap of the lid",
    "lean": "lean of the walls",
}
_WET = ("thickness", "coil", "rise", "ball")  # never made larger for the shrinkage


@dataclass(frozen=True, slots=True)
class Field:
    """One value. `written` is as in the file, empty where nothing is written yet (`missing`)."""

    path: Path
    label: str
    hint: str
    written: str
    kind: Kind
    piece: str | None = None
    missing: bool = False

    @property
    def id(self) -> str:
        return ".".join(map(str, self.path))

    @property
    def value_mm(self) -> float | None:
        """Of a length that can be read."""
        try:
            return parse_offset(self.written).mm if self.kind == "length" else None
        except UnitError:
            return None


def fields(root: Node) -> tuple[Field, ...]:
    """Those of the lesson first, then each piece's in the order of the file. The lesson need not be sound."""
    found = [field for path, scalar in scalars(root) if (field := _field(root, path, scalar))]
    if isinstance(root, Mapping) and root.get("thickness") is None:
        found.append(Field(("thickness",), _OF_LESSON["thickness"], "wet", "", "length", None, True))
    return tuple(sorted(found, key=lambda field: _rank(field.path)))


def field_at(root: Node, span: Span, known: Sequence[Field]) -> str | None:
    """The field that a problem at `span` belongs to: the value that it lies in; or the only one that lies in it."""
    places = [(field, span_at(root, field.path)) for field in known if _is_there(root, field.path)]
    around = [field for field, place in places if _holds(place, span)]
    within = [field for field, place in places if _holds(span, place)]
    return around[0].id if around else within[0].id if len(within) == 1 else None


def _rank(path: Path) -> int:
    return list(_OF_LESSON).index(str(path[0])) if path[0] in _OF_LESSON else len(_OF_LESSON)


def _holds(outer: Span, inner: Span) -> bool:
    return (outer.line, outer.column) <= (inner.line, inner.column) and (inner.end_line, inner.end_column) <= (outer.end_line, outer.end_column)


def _is_there(root: Node, path: Path) -> bool:
    return any(path == found for found, _ in scalars(root))


def _field(root: Node, path: Path, scalar: Scalar) -> Field | None:
    if len(path) == 1 and path[0] in _OF_LESSON:
        length = path[0] == "thickness"
        return Field(path, _OF_LESSON[str(path[0])], "wet" if length else "", scalar.text or "", "length" if length else "text")
    if path[0] != "pieces" or len(path) < 3 or (kind := _kind(path)) is None:
        return None
    piece = _name_at(root, path[:2])
    label = ", ".join([piece[:1].upper() + piece[1:], *_words(root, path)])
    return Field(path, label, _hint(root, path), scalar.text or "", kind, piece)


def _kind(path: Path) -> Kind | None:
    annotation = annotation_at(Lesson, path)
    if annotation is Length:
        return "length"
    if annotation is int and path[-1] != "holes":
        return "count"
    return "text" if annotation is Weight or path[-1] in _TEXTS else None


def _hint(root: Node, path: Path) -> str:
    if path[-1] in _TEXTS or (path[-1] != "ball" and annotation_at(Lesson, path) is int):
        return "degrees" if path[-1] == "lean" else ""
    sizes = next((scalar.text for found, scalar in scalars(root) if found == (*path[:2], "sizes")), None)
    return "wet size" if path[-1] in _WET or sizes == "wet" else "fired size"


def _name_at(root: Node, path: Path) -> str:
    return next((scalar.text or "" for found, scalar in scalars(root) if found == (*path, "name")), "") or f"piece {int(path[-1]) + 1}"


def _words(root: Node, path: Path) -> Iterator[str]:
    """What stands between the piece and its value, then the value's own name; words that only name a shape are passed over."""
    for depth in range(2, len(path) - 1):
        word, following = path[depth], path[depth + 1]
        if word in _LISTS and isinstance(following, int):
            yield _in_list(root, path[: depth + 2])
        elif word in _GROUPS and not isinstance(following, int):
            yield _GROUPS[str(word)]
    yield _last(path)


def _last(path: Path) -> str:
    if isinstance(path[-1], int):  # a place: the way right, then the way up
        named = _GROUPS.get(str(path[-2]), f"point {int(path[-2]) + 1}" if isinstance(path[-2], int) else str(path[-2]))
        return f"{named}, {'to the right' if path[-1] == 0 else 'up'}"
    if path[-2] == "rounded":
        return f"{path[-1]} ones"
    if path[-1] == "count" and len(path) == 3:
        return "how many each"
    return _WORDS.get(path[-1], path[-1].replace("_", " "))


def _in_list(root: Node, path: Path) -> str:
    """By its own name if it has one, else by its number where there are several."""
    own = next((scalar.text for found, scalar in scalars(root) if found == (*path, "name")), None)
    if own:
        return own
    siblings: Node | None = root
    for step in path[:-1]:
        if isinstance(siblings, Mapping):
            entry = siblings.get(str(step))
            siblings = entry.value if entry else None
        elif isinstance(siblings, Items):
            siblings = siblings.items[int(step)]
    many = isinstance(siblings, Items) and len(siblings.items) > 1
    return f"{_LISTS[str(path[-2])]} {int(path[-1]) + 1}" if many else _LISTS[str(path[-2])]
