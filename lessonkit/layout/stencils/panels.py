"""What stands on a stencil sheet beside its lines, each in a rectangle of its own that can be set where there is room."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from functools import lru_cache
from itertools import accumulate
from typing import NamedTuple

from lessonkit.drawing.fonts import CAPITAL, DESCENT, width_mm
from lessonkit.drawing.items import CLAY, Group, Item
from lessonkit.drawing.typesetting import Block, Span, set_text
from lessonkit.forgetting import of_a_lesson
from lessonkit.geometry.drafting import hatch
from lessonkit.layout.pen import CENTRE, CUT, DASHED, FINE, OBJECT, OVERLAP, PRESS, THIN, Pen, rise_mm
from lessonkit.layout.stencils.facts import Facts
from lessonkit.layout.stencils.figure import DOTTED, draw_crease
from lessonkit.layout.wording import say
from lessonkit.units import MM_PER_INCH, MM_PER_POINT

LARGE, TEXT, SMALL = 24.0, 11.0, 8.0  # the three sizes of a stencil sheet, in points
LEADING = 15.0
BAR_MM = 100.0
SWATCH_MM = 16.0
STEMS_MM = 0.6  # h and l rise so far above the capitals of a large name
UNBROKEN_MM = 1000.0
KINDS = ("cut", "crease_here", "crease_beside", "ghost", "compare", "bridge", "press", "fold", "centre", "quarter", "join", "overlap")
FEW, LABELS, WORDS = 8, 16, 512  # kept between the many arrangements that are tried for a sheet

_LINES: dict[str, tuple[float, tuple[float, ...]]] = {
    "cut": (CUT, ()),
    "compare": (OBJECT, ()),
    "ghost": (THIN, DOTTED),
    "press": (PRESS, DASHED),
    "fold": (PRESS, DASHED),
    "centre": (FINE, CENTRE),
    "overlap": (FINE, OVERLAP),
}


class Panel(NamedTuple):
    """Items from a top left of their own, which `draw` gives when the panel is set, as most are only tried; and the rectangle that
    they fill. The back of a sheet shows `back` in its place, or the same, or, of what is `drawn`, the mirror image."""

    draw: Callable[[], tuple[Item, ...]]
    wide_mm: float
    tall_mm: float
    back: Panel | None = None
    drawn: bool = False

    def at(self, x_mm: float, y_mm: float, layer: str = "") -> Group:
        return Group(self.draw(), x_mm, y_mm, layer=layer)


def words(paragraphs: Sequence[Sequence[Span]], wide_mm: float, size_pt: float = TEXT, leading_pt: float = LEADING, centred: bool = False) -> Panel:
    """Paragraphs set one under the other."""
    return _words(tuple(map(tuple, paragraphs)), wide_mm, size_pt, leading_pt, centred)


@lru_cache(WORDS)
def _words(paragraphs: tuple[tuple[Span, ...], ...], wide_mm: float, size_pt: float, leading_pt: float, centred: bool) -> Panel:
    blocks = [set_text(spans, wide_mm, size_pt, leading_pt) for spans in paragraphs]
    wide, pitch = max(block.wide_mm for block in blocks), leading_pt * MM_PER_POINT
    tops = list(accumulate((len(block.lines) * pitch for block in blocks), initial=0.0))

    def draw() -> tuple[Item, ...]:
        pen = Pen()
        for block, top in zip(blocks, tops, strict=False):
            _set(pen, block, top, wide if centred else None)
        return tuple(pen.items)

    return Panel(draw, wide, tops[-1] - pitch + (CAPITAL + DESCENT) * size_pt * MM_PER_POINT)


def _set(pen: Pen, block: Block, top: float, centred_in: float | None) -> None:
    if centred_in is None:
        pen.block(0, top, block)
        return
    for number, line in enumerate(block.lines):
        wide = sum(width_mm(span.text, block.size_pt, span.bold) for span in line)
        single = Block((line,), wide, block.tall_mm, block.size_pt, block.leading_pt)
        pen.block((centred_in - wide) / 2, top + number * block.leading_pt * MM_PER_POINT, single)


def boxed(names: Sequence[str], size_pt: float) -> Panel:
    """A word in a frame, and on the back of the sheet another."""
    front, back = (words([[Span(name, True)]], UNBROKEN_MM, size_pt) for name in names)
    wide, tall = max(front.wide_mm, back.wide_mm) + 3, front.tall_mm + 2.4

    def frame(word: Panel) -> tuple[Item, ...]:
        pen = Pen()
        pen.rectangle(FINE / 2, FINE / 2, wide - FINE, tall - FINE, FINE, radius=1.2)
        return (*pen.items, word.at((wide - word.wide_mm) / 2, 1.4))

    return Panel(lambda: frame(front), wide, tall, Panel(lambda: frame(back), wide, tall))


def stacked(panels: Sequence[Panel], columns: int = 1, between: tuple[float, float] = (6.0, 3.0), centred: bool = False) -> Panel:
    """Panels in rows, their columns aligned; `between` columns and rows."""
    rows = [panels[i : i + columns] for i in range(0, len(panels), columns)]
    across = [max(panel.wide_mm for panel in panels[column::columns]) for column in range(min(columns, len(panels)))]
    lefts = list(accumulate((wide + between[0] for wide in across), initial=0.0))
    tops = list(accumulate((max(panel.tall_mm for panel in row) + between[1] for row in rows), initial=0.0))

    def draw() -> tuple[Item, ...]:
        return tuple(
            panel.at(left + ((wide - panel.wide_mm) / 2 if centred else 0.0), top)
            for row, top in zip(rows, tops, strict=False)
            for panel, wide, left in zip(row, across, lefts, strict=False)
        )

    return Panel(draw, sum(across) + between[0] * (len(across) - 1), tops[-1] - between[1])


# -- the label
@of_a_lesson
@lru_cache(LABELS)
def size_panel(facts: Facts, wide_mm: float, columns: int, centred: bool) -> Panel:
    """Each cut size, large, over its words, all under a line that says what they are."""
    cells = [_size_cell(size, name, wide_mm, centred) for size, name in facts.sizes]
    return stacked([words([[Span(facts.sizes_are)]], wide_mm, centred=centred), stacked(cells, columns, (6.0, 2.0), centred)], 1, (0, 1.4), centred)


@of_a_lesson
@lru_cache(LABELS)
def _size_cell(size: str, name: str, wide_mm: float, centred: bool) -> Panel:
    figures = words([[Span(size, True)]], UNBROKEN_MM, LARGE, 30)
    return stacked([figures, words([[Span(name)]], max(wide_mm, figures.wide_mm), centred=centred)], 1, (0, 0.2), centred)


@of_a_lesson
@lru_cache(LABELS)
def size_label(facts: Facts) -> tuple[Panel, ...]:
    """The cut sizes alone, from wide to narrow."""
    widths = ((44.0, 1), (44.0, 2), (30.0, 1), (24.0, 1)) if facts.sizes else ()
    return tuple(size_panel(facts, wide, columns, centred=True) for wide, columns in widths)


@of_a_lesson
@lru_cache(LABELS)
def fact_label(facts: Facts, centred: bool) -> tuple[Panel, ...]:
    """All but the sizes, at several widths."""
    return tuple(words(_fact_lines(facts), wide, centred=centred) for wide in (64.0, 84.0, 50.0, 40.0))


def _fact_lines(facts: Facts) -> list[list[Span]]:
    return [[Span(line, not number)] for number, line in enumerate(facts.lines)]


def full_label(facts: Facts, centred: bool, named: bool = False) -> tuple[Panel, ...]:
    """Name, sizes and everything else, at several widths; `named` sets the name large where no heading does."""
    return _full_labels(facts, named)[not centred]


@of_a_lesson
@lru_cache(LABELS)
def _full_labels(facts: Facts, named: bool) -> tuple[tuple[Panel, ...], tuple[Panel, ...]]:
    """Centred, and not, which are as large: how one is set is asked only when it is drawn."""
    measures = ((84.0, 2), (64.0, 1), (64.0, 2), (110.0, 3), (150.0, 4), (50.0, 1), (40.0, 1), (220.0, 4))
    sized = [(_full_label(facts, named, True, *measure), measure) for measure in measures]
    sized.sort(key=lambda pair: pair[0].wide_mm + pair[0].tall_mm)

    def left(wide: float, columns: int) -> Callable[[], tuple[Item, ...]]:
        return lambda: _full_label(facts, named, False, wide, columns).draw()

    return tuple(panel for panel, _ in sized), tuple(Panel(left(*measure), panel.wide_mm, panel.tall_mm) for panel, measure in sized)


def _full_label(facts: Facts, named: bool, centred: bool, wide_mm: float, columns: int) -> Panel:
    grid = [size_panel(facts, min(wide_mm, 44.0), columns, centred)] if facts.sizes else []
    if named:
        head = [words([[Span(facts.name, True)]], wide_mm, LARGE, 30, centred), words([[Span(facts.place)]], wide_mm, centred=centred)]
        top = stacked(head, 1, (0, 1.0), centred)
    else:
        top = words([[Span(f"{facts.kept[0]} · {facts.kept[1]}", True)]], wide_mm, centred=centred)
    return stacked([top, *grid, words(_fact_lines(facts), wide_mm, centred=centred)], 1, (0, 3.0), centred)


@of_a_lesson
@lru_cache(LABELS)
def kept_label(facts: Facts) -> tuple[Panel, ...]:
    """What stays on the part itself when its opening is gone."""
    name, *rest = facts.kept
    lines = [[Span(name, True)], *([Span(line)] for line in rest)]
    return tuple(words(lines, wide, centred=True) for wide in (44.0, 34.0, 28.0))


@of_a_lesson
@lru_cache(LABELS)
def sized_name_label(facts: Facts) -> tuple[Panel, ...]:
    """Name and lesson, and the cut sizes in small, for a part that has no room for more; the last without them."""
    name, sizes = Span(f"{facts.kept[0]} · {facts.kept[1]}", True), ", ".join(f"{name} {size}" for size, name in facts.sizes)
    lines = [[name], [Span(f"{facts.sizes_are}: {sizes}")]]
    return (*(words(lines, wide, centred=True) for wide in (64.0, 44.0, 34.0, 28.0) if sizes), words([[name]], 120.0))


@of_a_lesson
@lru_cache(LABELS)
def name_label(facts: Facts) -> tuple[Panel, ...]:
    """The name on a part whose label stands beside it; on a very small one its letter alone."""
    name, letter = [[Span(facts.kept[0], True)]], [[Span(facts.letter, True)]]
    return (*(words(name, wide, centred=True) for wide in (120.0, 40.0, 20.0)), words(letter, 40.0), words(letter, 40.0, SMALL))


def heading(facts: Facts, right: Span, wide_mm: float) -> list[Panel]:
    """Name, lesson and letter, with the count or the tile's name at the right; on one line if that fits."""
    above = rise_mm(facts.name, LARGE, True)
    above = above if above > STEMS_MM else 0.0  # stems may stand a little over the sheet's top, accents not
    name = _lowered(words([[Span(facts.name, True)]], wide_mm, LARGE, 30), above)
    line, end = words([[Span(facts.place)]], UNBROKEN_MM), words([[right]], UNBROKEN_MM)
    found = []
    if name.tall_mm - above < 2 * LARGE * MM_PER_POINT and name.wide_mm + 4 + line.wide_mm + 8 + end.wide_mm <= wide_mm:
        down = above + CAPITAL * (LARGE - TEXT) * MM_PER_POINT  # on the same baseline

        def draw() -> tuple[Item, ...]:
            return *name.draw(), line.at(name.wide_mm + 4, down), end.at(wide_mm - end.wide_mm, down)

        found.append(Panel(draw, wide_mm, name.tall_mm))
    for wide in (wide_mm, 120.0, 90.0, 60.0):
        paragraphs = words([[Span(facts.place)], [right]], wide)
        found.append(stacked([_lowered(words([[Span(facts.name, True)]], wide, LARGE, 30), above), paragraphs], 1, (0, 1.2)))
    return found


def _lowered(panel: Panel, mm: float) -> Panel:
    """With so much free above it."""
    return Panel(lambda: (panel.at(0.0, mm),), panel.wide_mm, panel.tall_mm + mm) if mm else panel


# -- the bars
@lru_cache(FEW)
def check_bars(language: str) -> tuple[Panel, ...]:
    """The sentence that says to measure, over a bar of 100 mm and one of 4 in."""
    return tuple(_check_bars(language, wide, beside) for wide, beside in ((150.0, True), (122.0, True), (102.4, False)))


def _check_bars(language: str, wide_mm: float, beside: bool) -> Panel:
    pen = Pen()
    sign = pen.warning(0, 0, 8)
    sentence = [Span(say("stencil_measure", language), True), Span(" " + say("stencil_print", language))]
    block = set_text(sentence, wide_mm - sign - 3, TEXT, LEADING)
    y = max(8.0, pen.block(sign + 3, 0.6, block) + 1) + 5
    for long_mm, parts, key in ((BAR_MM, 10, "stencil_bar_mm"), (4 * MM_PER_INCH, 4, "stencil_bar_in")):
        name = say(key, language)
        if not beside:
            y += 3.6
        pen.line(0, y, long_mm, y, OBJECT)
        for tick in range(parts + 1):
            x = long_mm * tick / parts
            pen.line(x, y - (2.4 if tick in (0, parts) else 1.4), x, y, FINE)
        if beside:
            pen.text(long_mm + 2, y + 0.2, name, TEXT, bold=True)
        else:
            pen.text(1.4, y - 3.2, name, TEXT, bold=True)
        y += 6
    return Panel(lambda: tuple(pen.items), wide_mm, y - 6 + 1.2)


@lru_cache(FEW)
def bar_down(mirrored: bool) -> Panel:
    """A bar of 100 mm down, its ticks to the right, or to the left for a sheet's right side."""
    pen, x, side = Pen(), 2.4 if mirrored else 0.25, -1 if mirrored else 1
    pen.line(x, 0.125, x, 0.125 + BAR_MM, OBJECT)
    for tick in range(11):
        y = 0.125 + BAR_MM * tick / 10
        pen.line(x, y, x + side * (2.4 if tick in (0, 10) else 1.4), y, FINE)
    return Panel(lambda: tuple(pen.items), 2.65, BAR_MM + 0.25)


def bar_name(language: str) -> Panel:
    return words([[Span(say("stencil_bar_mm", language), True)]], 60.0)


# -- the legend
def legend(kinds: Mapping[str, Sequence[str]], language: str) -> list[Panel]:
    """A sample and the meaning of each kind of line on the sheet, with what its marks are for; in two columns, or as few or
    many as fit."""
    entries = [_sample(kind, name) for kind, name in _entries(kinds, language)]
    return [stacked(entries, columns, (10.0, 1.6)) for columns in (2, 1, 3, len(entries))]


def _entries(kinds: Mapping[str, Sequence[str]], language: str) -> Iterator[tuple[str, str]]:
    for kind in KINDS:
        if kind in kinds and not (kind == "fold" and "press" in kinds):
            both = kind == "press" and "fold" in kinds
            name = say(f"stencil_line_{'press_fold' if both else kind}", language)
            marks = [*kinds[kind], *(kinds["fold"] if both else ())]
            words_of = ", ".join(dict.fromkeys(filter(None, marks)))
            yield kind, say("stencil_line_words", language, line=name, words=words_of) if words_of else name


@lru_cache(LABELS)
def _sample(kind: str, name: str) -> Panel:
    pen, tall = Pen(), 4.4
    y = tall / 2
    match kind:
        case "join":
            for line in hatch(((0, 0.6), (SWATCH_MM, 0.6), (SWATCH_MM, 3.8), (0, 3.8)), -45, 1.4):
                pen.polygon(line, THIN, closed=False)
            pen.rectangle(0, 0.6, SWATCH_MM, 3.2, THIN)
        case "bridge":
            pen.rectangle(SWATCH_MM / 2 - 2, 0.2, 4, tall - 0.4, 0, CLAY)
            for left, end in ((0.35, SWATCH_MM / 2 - 2), (SWATCH_MM - 0.35, SWATCH_MM / 2 + 2)):
                pen.polygon(((left, 0.6), (end, 0.6), (end, tall - 0.6), (left, tall - 0.6)), CUT, closed=False)
        case "crease_here" | "crease_beside":
            draw_crease(pen, (0.4, y), (SWATCH_MM, y))
        case "quarter":
            pen.line(SWATCH_MM / 2, 0.2, SWATCH_MM / 2, tall - 0.2, FINE)
        case _:
            pen.line(0, y, SWATCH_MM, y, *_LINES[kind])
    meaning = words([[Span(name)]], 80.0)
    top = y - CAPITAL * TEXT * MM_PER_POINT / 2
    pen.put(meaning.at(SWATCH_MM + 4, top))
    return Panel(lambda: tuple(pen.items), SWATCH_MM + 4 + meaning.wide_mm, max(tall, top + meaning.tall_mm))


# -- remarks
def front_only(panel: Panel) -> Panel:
    """Not repeated on the back of the sheet."""
    return panel._replace(back=Panel(lambda: (), panel.wide_mm, panel.tall_mm))


def remarks(texts: Sequence[str], bold: bool = False) -> list[Panel]:
    """Sentences at several widths."""
    return [words([[Span(" ".join(texts), bold)]], wide) for wide in (150.0, 110.0, 80.0, 60.0, 44.0)]
