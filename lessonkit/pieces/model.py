"""Everything computed for one lesson in one room with one clay. Frozen; millimetres as cut; y upwards."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal, NamedTuple

from lessonkit.geometry.shape import Line, Ring, Shape
from lessonkit.lesson.lesson import Lesson
from lessonkit.lesson.room import Room
from lessonkit.problems import Problem


class FiredClay(NamedTuple):
    """A clay at the cone that this lesson ends at. `shrinkage` is a fraction of the wet length (ASTM C326), `least` and
    `most` where the next piece is expected to lie (all equal where nothing is known of it); `basis` says how it is known.
    `leather_hard` is the part of the wet length already lost when it is cut leather-hard, None where it was not measured."""

    name: str
    cone: str
    shrinkage: float
    least: float
    most: float
    basis: str
    highest_cone: str
    density_g_cm3: float
    leather_hard: float | None = None


class Measure(NamedTuple):
    """One size of a part. `key` is its short name in JSON and fill-ins (`across`), `words` what a paper says (`outside`).
    `unit` is mm, or deg for an angle (which does not shrink: fired and cut agree). `off` is how far the fired size may
    stray, either way; 0 where nothing is known of it."""

    key: str
    words: str
    fired: float
    cut: float
    off: float = 0.0
    unit: Literal["mm", "deg"] = "mm"


class Hole(NamedTuple):
    """A hole for hanging: its middle and its width as cut."""

    x_mm: float
    y_mm: float
    across_mm: float
    fired_mm: float


class Mark(NamedTuple):
    """A line that is not cut: press, fold, centre or quarter. `join` is a closed zone to hatch; `words` names what it is for."""

    kind: Literal["press", "fold", "centre", "quarter", "join"]
    line: Line
    closed: bool = False
    words: str = ""
    levels: tuple[str, ...] = ()  # whose it is; empty: all


class Edge(NamedTuple):
    """An edge that meets the one with the same letter. The bevel is measured from square, cut into `face`."""

    letter: str
    line: Line
    bevel_deg: float = 0.0
    face: Literal["", "inside", "outside"] = ""
    lap_mm: float = 0.0


Use = Literal["clay", "card", "compare"]


@dataclass(frozen=True, slots=True)
class Part:
    """A flat piece as cut. `letter` counts over the whole lesson (A, B, ...). The shape's holes are its openings; hanging
    holes stand apart in `holes`. `use` tells what is cut from clay from a gauge of card, and from an outline that work is only
    held against."""

    name: str
    letter: str
    shape: Shape
    measures: tuple[Measure, ...]
    holes: tuple[Hole, ...] = ()
    marks: tuple[Mark, ...] = ()
    edges: tuple[Edge, ...] = ()
    notes: tuple[str, ...] = ()
    count: int = 1  # for one piece
    use: Use = "clay"
    stencil: tuple[Shape, ...] = ()  # what is cut out of card, where that is not the shape itself
    half: Shape | None = None  # the right half of the stencil, for card folded in two
    bridges: tuple[Shape, ...] = ()  # what stays of the card in a stencil that is a window
    window: bool = False


@dataclass(frozen=True, slots=True)
class Piece:
    """One thing that each learner makes `count` of. Its parts are all cut from a slab `thickness_mm` thick (wet).

    `measures` are the finished thing's; `facts` its numbers that are no sizes (rows of coil, weight of a ball); `form` is the
    word of the lesson file; `stick` names the room's sticks of that thickness, empty where it has none. `clay` is its own where
    it is made of another than the lesson's; `fold` says that its stencil is drawn as half, `flip` that it is cut both ways up.
    """

    name: str
    levels: tuple[str, ...]
    count: int
    thickness_mm: float
    stick: str
    mass_g: float
    measures: tuple[Measure, ...]
    parts: tuple[Part, ...]
    face: str
    sizes: Literal["fired", "wet"]
    form: str = "flat"
    facts: tuple[tuple[str, str], ...] = ()
    clay: FiredClay | None = None
    fold: bool = False
    flip: bool = False
    warnings: tuple[Problem, ...] = ()


class Step(NamedTuple):
    """One level's card. Texts have their sizes filled in. `next` is the following card's number, if the count jumps."""

    id: str
    number: str
    level: str
    title: str
    text: str
    minutes: float
    picture: str
    piece: Piece
    good: str = ""
    choose: str = ""
    early: str = ""
    stop: str = ""
    safety: tuple[str, ...] = ()
    word: tuple[str, str] | None = None
    next: str = ""
    station: str = ""
    together: bool = False
    cue: str = ""
    help: str = ""


@dataclass(frozen=True, slots=True)
class Kit:
    """One lesson worked out. `code` changes whenever anything that she wrote, or the clay, changes; `assumed` says what
    was taken for granted because no room said it."""

    lesson: Lesson
    room: Room
    clay: FiredClay
    code: str
    pieces: tuple[Piece, ...]
    steps: dict[str, tuple[Step, ...]]  # by level, in the room's order of levels
    assumed: tuple[str, ...] = ()
    problems: tuple[Problem, ...] = field(default=())
    translations: dict[str, Kit] = field(default_factory=dict)  # the same in other languages


__all__ = ["Edge", "FiredClay", "Hole", "Kit", "Line", "Mark", "Measure", "Part", "Piece", "Ring", "Shape", "Step"]
