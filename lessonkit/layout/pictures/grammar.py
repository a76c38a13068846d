"""The marks that every step picture is made of, and their weights.

A picture is drawn once, in a box of 100 x 70 units, y down, and printed at any width. Lines are millimetres on paper, chosen
by the printed width. White is paper, tools and forms; grey is clay, always and only; black is table, arrow and texture.
"""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterator, Sequence
from functools import lru_cache
from typing import Concatenate, Literal, NamedTuple, ParamSpec

from lessonkit.drawing.fonts import width_mm
from lessonkit.drawing.items import BLACK, CLAY, WHITE, Item, Path, Stroke, TextLine, letters_along
from lessonkit.geometry.areas import Area, area, mapped_line, placing
from lessonkit.geometry.drafting import Lines, arrow, curve, disc, thinned
from lessonkit.geometry.shape import Line
from lessonkit.units import MM_PER_POINT

WIDE, TALL = 100.0, 70.0
# Up to a printed width in mm: thin, object and heavy lines in mm (ISO 128 steps of root 2).
WEIGHTS_MM = ((36.0, (0.18, 0.35, 0.70)), (85.0, (0.25, 0.50, 1.00)), (float("inf"), (0.35, 0.70, 1.40)))
SMALL_MM = 36.0  # up to here: no grain, no measures, wider hatching
SEEN_MM = 0.02  # how far a line may stray on paper
WIDTHS_MM = (85.0, 140.0, 285.0)  # drawn for widths up to these: on most papers, on half a sheet, in large print
LEAST_LETTERS = 7.5  # units high, in a small picture
HALO = 1.2  # white around black, so that it stands out
PRESS, CENTRE = (8.0, 4.0), (16.0, 4.0, 2.0, 4.0)  # dashes, in line widths

PIPS = {1: ((0.0, 0.0),), 2: ((-1.9, 0.0), (1.9, 0.0)), 3: ((-1.9, 1.3), (1.9, 1.3), (0.0, -2.0))}  # the dots of a disc

Weight = Literal["thin", "object", "heavy"]
WEIGHTS: tuple[Weight, ...] = ("thin", "object", "heavy")
Weights = tuple[float, float, float]  # in mm
Kind = Literal["thing", "clay", "ink", "line", "fine", "bare"]
Tool = tuple[tuple[Kind, Area | Line], ...]  # drawn with its tip at (0, 0) and its body along +x


_Told = ParamSpec("_Told")


class Mark(NamedTuple):
    """Lines or outlines in units, printed as one path. They are laid out once for all the papers that they come to."""

    path: Path
    weight: Weight | None = None
    dash: tuple[float, ...] = ()  # in line widths
    tone: float = BLACK
    square: bool = False

    @classmethod
    def of(cls, lines: Lines, closed: bool = False, fill: float | None = None, weight: Weight | None = None, dash: tuple[float, ...] = (),
           tone: float = BLACK, square: bool = False) -> Mark:  # fmt: skip
        return cls(Path.along(lines, closed, fill=fill), weight, dash, tone, square)

    def printed(self, mirrored: bool, weights: Weights) -> Path:
        path = self.path.mapped((-1.0, WIDE), (1.0, 0.0)) if mirrored else self.path
        if self.weight is None:
            return path
        return Path(path.letters, path.numbers, _stroke(weights[WEIGHTS.index(self.weight)], self.dash, self.tone, self.square), path.fill)


@lru_cache(64)  # few are not the same
def _stroke(wide_mm: float, dash: tuple[float, ...], tone: float, square: bool) -> Stroke:
    """`dash` in line widths."""
    return Stroke(wide_mm, tuple([wide_mm * length for length in dash]), tone, "butt" if square or dash else "round")


class Words(NamedTuple):
    """Bold, centred at x, on the baseline y, the size in units."""

    x: float
    y: float
    text: str
    size: float
    tone: float = BLACK

    def printed(self, mirrored: bool, weights: Weights) -> TextLine:
        """Letters are as wide as their face has them, whatever lines are."""
        left = (WIDE - self.x if mirrored else self.x) - wide_of(self.text, self.size) / 2
        return TextLine(round(left, 3), round(self.y, 3), self.text, round(self.size / MM_PER_POINT, 3), True, self.tone)


class Manner(NamedTuple):
    """How a picture is shown: `small` or not; a `wordless` one has a wavy line for a word and dots, as on dice, for a number."""

    small: bool = False
    wordless: bool = False


class Either(NamedTuple):
    """Marks that are not the same in small pictures and large: made when it is known; if `worded`, told whether without words too."""

    make: Callable[..., Sequence[Mark | Words]]
    told: tuple[Hashable, ...]
    worded: bool = False

    def marks(self, manner: Manner) -> Sequence[Mark | Words]:
        return self.make(manner, *self.told) if self.worded else self.make(manner.small, *self.told)


class Drawing:
    """One picture, drawn once for every manner, for widths up to `widest_mm`; `mirrored` swaps the action's left and right, but no
    word or sign."""

    def __init__(self, mirrored: bool = False, widest_mm: float = WIDTHS_MM[0]) -> None:
        self.mirrored, self.widest_mm = mirrored, widest_mm
        self._marks: list[Mark | Words | Either | Drawing] = []

    @property
    def _stray(self) -> float:
        return SEEN_MM * WIDE / self.widest_mm

    def thinned(self) -> Drawing:
        """With no more points than can be seen."""
        self._marks = _thinned(self._marks, self._stray)
        return self

    def printed(self, manner: Manner, weights: Weights) -> tuple[Item, ...]:
        """For a paper, still in units: shown in this manner, with lines of these widths in mm."""
        return tuple([mark.printed(self.mirrored, weights) for mark in self._shown(manner)])

    def _shown(self, manner: Manner) -> Iterator[Mark | Words]:
        for mark in self._marks:
            if isinstance(mark, Either):
                yield from mark.marks(manner)
            elif isinstance(mark, Drawing):
                yield from mark._shown(manner)
            else:
                yield mark

    @property
    def worded(self) -> bool:
        """Whether it has any word or number."""
        return any(mark.worded for mark in self._marks if isinstance(mark, (Either, Drawing)))

    def fixed(self, draw: Callable[Concatenate[Drawing, _Told], None], *told: _Told.args, **_: _Told.kwargs) -> None:
        """What no piece changes: drawn once for all pictures that it stands in."""
        self._marks.append(_fixed(draw, self.mirrored, self.widest_mm, *told))

    def either(self, make: Callable[Concatenate[bool, _Told], Sequence[Mark]], *told: _Told.args, **_: _Told.kwargs) -> None:
        """What is not the same in small pictures and large: `make` is told first whether it is small."""
        self._marks.append(Either(make, told))

    # -- marks
    def fill(self, ground: Area, tone: float | None, weight: Weight | None = None, dotted: bool = False) -> None:
        if ground:
            self._marks.append(Mark.of(ground.rings, True, tone, weight, (1.0, 3.0) if dotted else ()))

    def line(self, lines: Line | Lines, weight: Weight = "object", tone: float = BLACK, dash: tuple[float, ...] = (), square: bool = False) -> None:
        """One or several open lines; a dash is counted in line widths; `square` ends stop where the line stops."""
        if several := _several(lines):
            self._marks.append(Mark.of(several, weight=weight, tone=tone, dash=dash, square=square))

    def words(self, x: float, y: float, text: str, size: float, tone: float = BLACK) -> None:
        """Bold, centred at x, on the baseline y. Left out where they would be too small to read."""
        self._marks.append(Either(_words, (Words(x, y, text, size, tone),), worded=True))

    # -- the grammar
    def clay(self, ground: Area, heavy: bool = False) -> None:
        self.fill(ground, CLAY, "heavy" if heavy else "object")

    def thing(self, ground: Area, heavy: bool = False) -> None:
        """Anything that is not clay: tools, paper, forms, fingers, slip."""
        self.fill(ground, WHITE, "heavy" if heavy else "object")

    def ink(self, ground: Area, halo: bool = False) -> None:
        if halo:
            self.fill(ground.grown(HALO), WHITE)
        self.fill(ground, BLACK)

    def fine(self, lines: Line | Lines) -> None:
        """Grain, folds, nails: gone in small pictures."""
        if several := _several(lines):
            self.either(_large, Mark.of(several, weight="thin"))

    def ghost(self, ground: Area) -> None:
        """What comes later or was there: thin and dotted (dashes mean press)."""
        self.fill(ground, None, "thin", dotted=True)

    def shade(self, ground: Area, cut: float = 1.35) -> None:
        """A black sliver along the lower right of raw clay seen whole. Cut edges have none."""
        self.ink(ground - ground.moved(-cut * 0.7, -cut))

    def arrow(self, line: Line, size: float = 1.0) -> None:
        """The one arrow, with a white halo."""
        self.either(_arrow, line, size, 2 * self._stray)

    def table(self, x0: float = 4, x1: float = 96, y: float = 60) -> None:
        """The black bar with slanted ends: this picture is a section seen from the front."""
        self.ink(area(((x0, y), (x1, y), (x1 - 0.8, y + 2.2), (x0 + 0.8, y + 2.2))))

    def cross(self, x: float, y: float, r: float) -> None:
        """Not like this."""
        half, tip = 1.5, 0.9
        for s in (1, -1):
            upper = ((x - r, y - s * r - tip), (x, y - half), (x + r, y + s * r - tip))
            lower = ((x + r, y + s * r + tip), (x, y + half), (x - r, y - s * r + tip))
            self.ink(area((*upper, *lower)), halo=True)

    def tick(self, x: float, y: float, size: float = 1.0) -> None:
        points = ((-5, -1), (-3.6, -2.4), (-1.2, 0.6), (5.2, -8.2), (6.4, -7.2), (-0.8, 4.4))
        side = -1 if self.mirrored else 1  # a tick reads one way only
        self.ink(area([(x + side * (a - 0.7) * size, y + b * size) for a, b in points]), halo=True)

    def measure(self, x: float, y0: float, y1: float, from0: float, from1: float | None = None) -> None:
        """A height, measured at x between two small heads that point in. Left out of small pictures."""
        for y, start, side in ((y0, from0, -1), (y1, from1, 1)):
            if start is not None:
                self.fine(((start, y), (x + 3, y)))
            if y + side * 5.5 < TALL:
                self.fine(((x, y), (x, y + side * 5.5)))
            head = ((x, y), (x - 1.2, y + side * 3.2), (x + 1.2, y + side * 3.2))
            self.either(_large, Mark.of((head,), True, BLACK))

    def number(self, x: float, y: float, n: int) -> None:
        """Which comes first: a white figure on a black disc."""
        self.fill(disc(x, y, 5 + HALO), WHITE)
        self.ink(disc(x, y, 5))
        self._marks.append(Either(_figure, (x, y, n), worded=True))

    def tool(self, layers: Tool, x: float, y: float, deg: float = 0.0, size: float = 1.0, flipped: bool = False) -> None:
        """Put a tool with its tip at a place, its body leaning `deg` clockwise from straight right."""
        to = placing(x, y, deg, size, flipped)
        for kind, what in layers:
            if not isinstance(what, Area):
                (self.fine if kind == "fine" else self.line)(mapped_line(what, to))
            elif kind in ("clay", "thing"):
                self.fill(what.mapped(to), CLAY if kind == "clay" else WHITE, "object")
            else:
                self.fill(what.mapped(to), BLACK if kind == "ink" else WHITE)


def widest_mm(wide_mm: float) -> float:
    """The width that a picture so wide is drawn for."""
    return next((widest for widest in WIDTHS_MM if wide_mm <= widest), wide_mm)


def weights_mm(wide_mm: float) -> Weights:
    """Thin, object and heavy lines of a picture so wide."""
    return next(weights for limit, weights in WEIGHTS_MM if wide_mm <= limit)


@lru_cache(128)
def _fixed(draw: Callable[..., None], mirrored: bool, widest_mm: float, *told: Hashable) -> Drawing:
    drawing = Drawing(mirrored, widest_mm)
    draw(drawing, *told)
    return drawing.thinned()


# --- marks that are not the same in every picture ---


def _large(small: bool, mark: Mark) -> tuple[Mark, ...]:
    return () if small else (mark,)


def _words(manner: Manner, words: Words) -> tuple[Mark | Words, ...]:
    if manner.wordless:
        wave = _wave(words.x, words.y - words.size * 0.25, wide_of(words.text, words.size), words.size * 0.2)
        return (Mark.of((wave,), weight="object", tone=words.tone),)
    return (words,) if not manner.small or words.size >= LEAST_LETTERS else ()


def _figure(manner: Manner, x: float, y: float, n: int) -> tuple[Mark | Words, ...]:
    if manner.wordless:
        return tuple(Mark.of(disc(x + across, y + down, 1.25).rings, True, WHITE) for across, down in PIPS[n])
    return _words(manner, Words(x, y + 3.1, str(n), 8.6, WHITE))


@lru_cache(64)  # most arrows are the same in every lesson
def _arrow(small: bool, line: Line, size: float, stray: float) -> tuple[Mark, Mark]:
    """Its halo, whose edge may stray by so much, and the arrow."""
    black = arrow(line, size * (1.15 if small else 1.0))
    halo = black.grown(HALO).simplified(stray)
    return Mark.of(halo.rings, True, WHITE), Mark.of(black.rings, True, BLACK)


def _thinned(marks: Sequence[Mark | Words | Either | Drawing], stray: float) -> list[Mark | Words | Either | Drawing]:
    """Those of the drawing itself, all in one go, but for straight lines and boxes."""
    long = {at: mark for at, mark in enumerate(marks) if isinstance(mark, Mark) and len(mark.path.letters) > 5}
    counts = [[len(line) + 1 for line in mark.path.letters.replace("Z", "").split("M")[1:]] for mark in long.values()]
    numbers = [n for mark in long.values() for n in mark.path.numbers]
    left, kept = thinned(numbers, [count for several in counts for count in several], stray)
    found, begun, line = list(marks), 0, 0
    for (at, mark), several in zip(long.items(), counts, strict=True):
        here = kept[line : line + len(several)]
        end = begun + 2 * sum(here)
        path = mark.path._replace(letters=letters_along(here, mark.path.letters[-1] == "Z"), numbers=left[begun:end])
        found[at] = mark._replace(path=path)
        begun, line = end, line + len(several)
    return found


def wide_of(text: str, size: float) -> float:
    """How wide bold words are, in units, at a size in units."""
    return width_mm(text, 1.0, bold=True) * size / MM_PER_POINT


def _wave(x: float, y: float, wide: float, high: float) -> Line:
    """Handwriting that nobody reads, centred at x."""
    turns = max(round(wide / (2 * high)), 2)
    return curve([(x - wide / 2 + wide * i / turns, y + (high if i % 2 else -high)) for i in range(turns + 1)])


def _several(lines: Line | Lines) -> Lines:
    if not lines:
        return ()
    return lines if isinstance(lines[0][0], tuple) else (lines,)
