"""Words into lines. A break falls at the end of a sentence where that costs no line; else the lines are made even.

Text is never markup: what a span holds is what stands on the paper.
"""

from __future__ import annotations

import re
import unicodedata
from bisect import bisect_left, bisect_right
from collections.abc import Sequence
from functools import cached_property, lru_cache
from itertools import accumulate, chain, pairwise, takewhile
from operator import sub
from typing import NamedTuple

from lessonkit.drawing.fonts import CAPITAL, EM, advances, width_mm
from lessonkit.drawing.items import BLACK, TextLine
from lessonkit.units import MM_PER_POINT

_NO_BREAK = "\u00a0\u202f\u2007"
_WORD = re.compile(rf"[\S{_NO_BREAK}]+")
_NUMBER = r"\d+(?:[.,]\d+)*(?:[-\u2013]\d+(?:[.,]\d+)*)?"
_FRACTION = r"(?:\d+[/\u2044]\d+|[\u00bc-\u00be\u2150-\u215e])"
_VALUE = rf"(?:{_NUMBER}[ -]?{_FRACTION}|{_FRACTION}|{_NUMBER})"
_UNIT = r"(?:mm|cm|m|in|inch|inches|ft|pulg|mg|g|kg|oz|lbs?|ml|l|h|min|s|%|°[CF]?|[\"'\u2019\u201d\u2032\u2033])"
_FIGURE = re.compile(r"[\d\u00bc-\u00be\u2150-\u215e]")  # that a value begins with
_MEASURE = re.compile(rf"(?<![\w.,/]){_VALUE}(?: ?[x\u00d7] ?{_VALUE})* ?{_UNIT}(?!\w)")
_CLOSING, _OPENING = "\"'\u2019\u201d\u00bb)]", "\"'\u2018\u201c\u00ab([\u00bf\u00a1"
_STOPS = (".", "?", "!", "\u2026")
_LAST = frozenset(_STOPS).union(_CLOSING)  # letters of a sentence
_ABBREVIATION = re.compile(r"\d+\.|(?:\w\.)+")  # a list's numeral, e.g., initials
_PLAIN, _BOLD = "p", "b"  # one for each letter, in a row
_WEIGHT = re.compile(f"{_PLAIN}+|{_BOLD}+")
_LEEWAY_MM = 1e-9  # the same widths, summed in another order


class Span(NamedTuple):
    """A stretch of text of one weight. Spans follow each other directly: a space between two is written in one of them."""

    text: str
    bold: bool = False


class Block(NamedTuple):
    """Lines that have been set. `wide_mm` is the widest line's; `tall_mm` runs from the top of the first line's
    capitals to the last baseline, and is 0 without lines."""

    lines: tuple[tuple[Span, ...], ...]
    wide_mm: float
    tall_mm: float
    size_pt: float
    leading_pt: float

    def at(self, x_mm: float, top_mm: float, tone: float = BLACK) -> list[TextLine]:
        """The lines in place, one item for each stretch of equal weight, the top of the first capitals at `top_mm`."""
        size, first_mm = self.size_pt, top_mm + CAPITAL * self.size_pt * MM_PER_POINT
        placed: list[TextLine] = []
        for number, (*before, last) in enumerate(self.lines):
            x, y = x_mm, first_mm + number * self.leading_pt * MM_PER_POINT
            for text, bold in before:
                placed.append(TextLine(x, y, text, size, bold, tone))
                x += width_mm(text, size, bold)
            placed.append(TextLine(x, y, last.text, size, last.bold, tone))
        return placed


def set_text(spans: Sequence[Span], wide_mm: float, size_pt: float, leading_pt: float, even: bool = True) -> Block:
    """Break the text of `spans` into as few lines as fit `wide_mm`.

    With `even`, breaks fall at the ends of sentences as often as that costs no line, and the lines are then as narrow
    as their number allows; without, each line is filled before the next. A line end in the text starts a new line. White
    space where a line breaks is dropped, all other text is kept. No-break spaces hold; a number and its unit stay
    together. A word wider than the measure is broken where the line is full, with a hyphen between letters.
    Raises ValueError if a single character is wider than `wide_mm`."""
    return _set(tuple(spans), wide_mm, size_pt, leading_pt, even)


def set_lines(lines: Sequence[str], wide_mm: float, size_pt: float, leading_pt: float) -> Block:
    """Lines of plain text, one below the other; as `set_text` sets them, but faster where none of them needs to be broken."""
    widest = max((width_mm(line, size_pt) for line in lines), default=0.0)
    if widest > wide_mm + _LEEWAY_MM or any("\n" in line or line != line.strip() or not line for line in lines):
        return set_text([Span("\n".join(lines))], wide_mm, size_pt, leading_pt)
    return Block(tuple([(Span(line),) for line in lines]), widest, _tall_mm(len(lines), size_pt, leading_pt), size_pt, leading_pt)


@lru_cache(1536)  # pages try the same words in many places, and the next lesson's have some of them again
def _set(spans: tuple[Span, ...], wide_mm: float, size_pt: float, leading_pt: float, even: bool) -> Block:
    copy, measure = _copy(spans), int((wide_mm + _LEEWAY_MM) / MM_PER_POINT / size_pt * EM)
    if copy.is_line and copy.wide <= measure:
        return _block((copy.whole,), copy.wide, size_pt, leading_pt)
    broken = copy.row.widest > measure
    row = copy.broken(measure, f"at {size_pt:g} pt is wider than the measure, {wide_mm:.3f} mm") if broken else copy.row
    places = _lines(row, measure, even)
    lines = tuple([copy.spans(row.starts[first], row.ends[last], row.hyphens[last]) for first, last in places])
    if broken:  # part of a word may have another face than the whole
        return _block(lines, _widest(lines), size_pt, leading_pt)
    return _block(lines, max((row.right[last] - row.left[first] for first, last in places), default=0), size_pt, leading_pt)


def split(block: Block, lines: int) -> tuple[Block, Block]:
    """The first `lines` lines, and the rest, each a block of its own. Raises ValueError for more lines than there are."""
    if not 0 <= lines <= len(block.lines):
        raise ValueError(f"a block of {len(block.lines)} lines cannot be split after {lines}")
    return part(block, 0, lines), part(block, lines, len(block.lines))


def part(block: Block, first: int, last: int) -> Block:
    """Lines `first` to before `last`, counted from 0, as a block of their own; of lines that are not there, none."""
    lines = block.lines[first:last]
    return block if len(lines) == len(block.lines) else _block(lines, _widest(lines), block.size_pt, block.leading_pt)


def _block(lines: tuple[tuple[Span, ...], ...], wide: int, size_pt: float, leading_pt: float) -> Block:
    return Block(lines, wide / EM * MM_PER_POINT * size_pt, _tall_mm(len(lines), size_pt, leading_pt), size_pt, leading_pt)


def _tall_mm(count: int, size_pt: float, leading_pt: float) -> float:
    return ((count - 1) * leading_pt + CAPITAL * size_pt) * MM_PER_POINT if count else 0.0


def _widest(lines: Sequence[Sequence[Span]]) -> int:
    return max(map(_wide, lines), default=0)


def _wide(line: Sequence[Span]) -> int:
    """In font units."""
    return sum([sum(advances(*span)) for span in line])


class _Row(NamedTuple):
    """Words as if all stood in one row: a line is as wide as from its first word's left to its last one's right, in font units."""

    starts: list[int]  # each word's first character in the copy
    ends: list[int]
    left: list[int]
    right: list[int]
    sentences: list[int]  # how many end before the word
    stops: list[int]  # how many words there are up to each line end of the text
    hyphens: list[str]  # that are added after the words

    @property
    def widest(self) -> int:
        return max(map(sub, self.right, self.left), default=0)

    def add(self, start: int, end: int, left: int, right: int, sentences: int, hyphen: str = "") -> None:
        self.starts.append(start)
        self.ends.append(end)
        self.left.append(left)
        self.right.append(right)
        self.sentences.append(sentences)
        self.hyphens.append(hyphen)


@lru_cache(128)  # a text is tried in many widths and sizes
def _copy(spans: tuple[Span, ...]) -> _Copy:
    return _Copy(spans)


class _Copy:
    """The text that is to be set, with the weight of each character."""

    def __init__(self, spans: Sequence[Span]) -> None:
        self.text = text = "".join([span.text for span in spans])
        weights = {span.bold for span in spans if span.text}
        self.bold = weights.pop() if len(weights) == 1 else None  # all or nothing of it
        self.weights = "" if self.bold is not None else "".join([(_BOLD if span.bold else _PLAIN) * len(span.text) for span in spans])
        self.is_line = bool(text) and not (text[0].isspace() or text[-1].isspace() or "\n" in text)  # as it is, if it fits
        self.whole = self.spans(0, len(text)) if text else ()
        self.advances = list(chain.from_iterable([advances(*span) for span in self.whole]))
        self.wide = sum(self.advances)

    def spans(self, start: int, end: int, hyphen: str = "") -> tuple[Span, ...]:
        if self.bold is not None:
            return (Span(self.text[start:end] + hyphen, self.bold),)
        ends = [found.end() for found in _WEIGHT.finditer(self.weights, start, end)]
        *before, last = [Span(self.text[a:b], self.weights[a] == _BOLD) for a, b in zip([start, *ends], ends, strict=False)]
        return (*before, Span(last.text + hyphen, last.bold))

    @cached_property
    def row(self) -> _Row:
        """What stands between white space; a number and its unit are one word."""
        glued = _MEASURE.sub(lambda found: found[0].replace(" ", _NO_BREAK[0]), self.text) if _FIGURE.search(self.text) else self.text
        places = [found.span() for found in _WORD.finditer(glued)]
        if not places:
            return _Row([], [], [], [], [], [], [])
        starts, ends = map(list, zip(*places, strict=True))
        neighbours = pairwise(places)
        closed = [glued[end - 1] in _LAST and _ends_sentence(glued[start:end], glued[after:stop]) for (start, end), (after, stop) in neighbours]
        stops = [number for number, end in enumerate(ends[:-1], 1) if "\n" in glued[end : starts[number]]] if "\n" in glued else []
        at = list(accumulate(self.advances, initial=0)).__getitem__
        return _Row(starts, ends, [*map(at, starts)], [*map(at, ends)], [0, *accumulate(closed)], [*stops, len(places)], [""] * len(places))

    def broken(self, measure: int, fault: str) -> _Row:
        """The row with those of its words broken that are wider than the measure: into what fills line after line, and an end."""
        row, found = self.row, _Row([], [], [], [], [], [], [])
        for number, (start, end, left, right) in enumerate(zip(row.starts, row.ends, row.left, row.right, strict=True), 1):
            while right - left > measure:
                at, hyphen = self._cut(start, end, measure, fault)
                found.add(start, at, left, left + self._reach(start, at, hyphen), row.sentences[number - 1], hyphen)
                found.stops.append(len(found.starts))
                start = at + (self.text[at] == " ")
                left = right - self._reach(start, end)
            found.add(start, end, left, right, row.sentences[number - 1])
            if number in row.stops:
                found.stops.append(len(found.starts))
        return found

    def _reach(self, start: int, end: int, hyphen: str = "") -> int:
        return _wide(self.spans(start, end, hyphen))

    def _cut(self, start: int, end: int, measure: int, fault: str) -> tuple[int, str]:
        """The last place where a line from `start` may end, and the hyphen there: at a space or after a hyphen of
        the text if there is one, else between two characters."""
        places = [(at, self._hyphen(at)) for at in range(start + 1, end) if not unicodedata.combining(self.text[at])]
        fitting = list(takewhile(lambda place: self._reach(start, *place) <= measure, places))
        if fitting:
            written = [place for place in fitting if self.text[place[0]] == " " or self.text[place[0] - 1] == "-"]
            return (written or fitting)[-1]
        at = places[0][0] if places else end
        if self._reach(start, at) > measure:
            raise ValueError(f"{self.text[start:at]!r} {fault}")
        return at, ""  # no room even for a hyphen

    def _hyphen(self, at: int) -> str:
        return "-" if self.text[at - 1].isalpha() and self.text[at].isalpha() else ""


def _ends_sentence(word: str, following: str) -> bool:
    bare = word.rstrip(_CLOSING)
    closed = bare.endswith(_STOPS) and not _ABBREVIATION.fullmatch(bare)
    return closed and following.lstrip(_OPENING)[:1].isupper()


def _lines(row: _Row, measure: int, even: bool) -> list[tuple[int, int]]:
    """First and last word of each line. Worked out from the last paragraph backwards: how wide the lines below are decides how
    even those above need to be."""
    lines: list[tuple[int, int]] = []
    widest = 0
    for first, stop in zip([0, *row.stops][-2::-1], reversed(row.stops), strict=True):
        starts = _full_lines(row, first, stop, measure)
        if even:
            starts, widest = _even_lines(row, starts, stop, measure, widest)
        lines += [(start, following - 1) for start, following in zip(reversed(starts), [stop, *starts[:0:-1]], strict=True)]
    return lines[::-1]


def _full_lines(row: _Row, first: int, stop: int, measure: int) -> list[int]:
    """The first word of each line of a paragraph, each line as full as can be."""
    starts = [first]
    while (first := bisect_right(row.right, row.left[first] + measure, first, stop)) < stop:
        starts.append(first)
    return starts


def _even_lines(row: _Row, latest: Sequence[int], stop: int, measure: int, widest: int) -> tuple[list[int], int]:
    """The first word of each line, and the widest line of this paragraph and of those below, which is `widest`.

    Fewest lines, then fewest ends of sentences inside a line, then the narrowest widest line, then the most even lines, then
    the shortest first one. Worked out from the last word backwards: what is best from a word on does not depend on how the
    words before it are broken. Full lines start as late (`latest`) as fewest lines may, those filled from the last word
    backwards as early; in between lies the choice."""
    if len(latest) == 1:
        return [*latest], max(widest, row.right[stop - 1] - row.left[latest[0]])
    left, right, sentences = row.left, row.right, row.sentences
    stops: dict[int, int] = {}
    below, costs = stop, [(0, widest, 0)]  # where the next line may start at the earliest; what is below each such start
    for late in reversed(latest):
        early = bisect_left(left, right[below - 1] - measure, latest[0], late)
        best: list[tuple[int, int, int]] = []
        for start in range(early, late + 1):
            choices: list[tuple[int, int, int, int]] = []
            for end, (missed, widest, squares) in enumerate(costs, below):
                wide = right[end - 1] - left[start]
                if wide > measure:
                    break
                choices.append((missed + sentences[end - 1] - sentences[start], wide if wide > widest else widest, squares + wide**2, end))
            missed, widest, squares, stops[start] = min(choices)
            best.append((missed, widest, squares))
        below, costs = early, best
    starts = [latest[0]]
    while (start := stops[starts[-1]]) < stop:
        starts.append(start)
    return starts, costs[0][1]
