"""The values of a lesson that the page offers for change, each with its place in the file and a name that a teacher knows it by."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Literal

from lessonkit.lesson.decode import annotation_at
from lessonkit.lesson.lesson import Lesson
from lessonkit.problems import Span
from lessonkit.source.tree import Node, Path, scalars
from lessonkit.units import Length, UnitError, Weight, parse_offset

Kind = Literal["length", "text", "count"]
Texts = Mapping[Path, str]  # everything that is written, by its place

_OF_LESSON = {"title": "Title", "about": "What it is", "thickness": "Thickness of the slab"}
_TEXTS = ("shows", "holds", "lean")
_LISTS = {"openings": "opening", "joins": "joining place", "press": "pressed line", "joined": "part", "cut_away": "cut-away", "profile": "width"}
_GROUPS = {"hang": "hanging hole", "ring": "ring", "row": "row", "start": "start", "end": "end", "at": "place", "rounded": "corners"}
_WORDS = {
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
    def value_mm(self) -> float | None:
        """Of a length that can be read."""
        try:
            return parse_offset(self.written).mm if self.kind == "length" else None
        except UnitError:
            return None


def fields(root: Node) -> tuple[Field, ...]:
    """Those of the lesson first, then each piece's in the order of the file. The lesson need not be sound."""
    texts: Texts = {path: scalar.text or "" for path, scalar in scalars(root)}
    found = [field for path in texts if (field := _field(texts, path))]
    if ("thickness",) not in texts:
        found.append(Field(("thickness",), _OF_LESSON["thickness"], "as you roll it", "", "length", None, True))
    return tuple(sorted(found, key=lambda field: _rank(field.path)))


def place_of(root: Node, span: Span, paths: Iterable[Path]) -> Path | None:
    """The path that a problem at `span` belongs to: whose value holds it; or the only one that lies in it."""
    spans = {path: scalar.span for path, scalar in scalars(root)}
    places = [(path, spans[path]) for path in paths if path in spans]
    around = [path for path, place in places if _holds(place, span)]
    within = [path for path, place in places if _holds(span, place)]
    return around[0] if around else within[0] if len(within) == 1 else None


def _holds(outer: Span, inner: Span) -> bool:
    return (outer.line, outer.column) <= (inner.line, inner.column) and (inner.end_line, inner.end_column) <= (outer.end_line, outer.end_column)


def _rank(path: Path) -> int:
    return list(_OF_LESSON).index(str(path[0])) if path[0] in _OF_LESSON else len(_OF_LESSON)


def _field(texts: Texts, path: Path) -> Field | None:
    if len(path) == 1 and path[0] in _OF_LESSON:
        length = path[0] == "thickness"
        return Field(path, _OF_LESSON[str(path[0])], "as you roll it" if length else "", texts[path], "length" if length else "text")
    if path[:1] != ("pieces",) or len(path) < 3 or (kind := _kind(path)) is None:
        return None
    piece = texts.get((*path[:2], "name")) or f"piece {int(path[1]) + 1}"
    label = ", ".join([piece[:1].upper() + piece[1:], *_words(texts, path)])
    return Field(path, label, _hint(texts, path, kind), texts[path], kind, piece)


def _kind(path: Path) -> Kind | None:
    annotation = annotation_at(Lesson, path)
    if annotation is Length:
        return "length"
    if annotation is int and path[-1] != "holes":
        return "count"
    return "text" if annotation is Weight or path[-1] in _TEXTS else None


def _hint(texts: Texts, path: Path, kind: Kind) -> str:
    if kind == "count" or path[-1] in _TEXTS:
        return "degrees" if path[-1] == "lean" else ""
    if path[-1] in _WET or texts.get((*path[:2], "sizes")) == "wet":
        return "wet weight" if path[-1] == "ball" else "wet size"
    return "fired size"


def _words(texts: Texts, path: Path) -> Iterator[str]:
    """What stands between the piece and its value, then the value's own name; words that only name a shape are passed over."""
    for depth in range(2, len(path) - 1):
        word, following = path[depth], path[depth + 1]
        if word in _LISTS and isinstance(following, int):
            yield _in_list(texts, path[: depth + 1], following)
        elif word in _GROUPS and not isinstance(following, int):
            yield _GROUPS[str(word)]
    yield _own_name(path)


def _in_list(texts: Texts, path: Path, index: int) -> str:
    """By its own name if it has one, and by its number where several have the same."""
    names: dict[int, str] = {}
    for place in texts:
        if place[: len(path)] == path and isinstance(number := place[len(path)], int):
            names.setdefault(number, texts.get((*path, number, "name")) or _LISTS[str(path[-1])])
    alike = [number for number, name in names.items() if name == names[index]]
    return names[index] if len(alike) == 1 else f"{names[index]} {alike.index(index) + 1}"


def _own_name(path: Path) -> str:
    last, above = path[-1], path[-2]
    if isinstance(last, int):  # a place: the way right, then the way up
        named = _GROUPS.get(str(above)) or (f"point {above + 1}" if isinstance(above, int) else str(above))
        return f"{named}, {'to the right' if last == 0 else 'up'}"
    if above == "rounded":
        return f"{last} ones"
    if last == "count" and len(path) == 3:
        return "how many each"
    return _WORDS.get(last, last.replace("_", " "))
