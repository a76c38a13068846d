"""Words into lines. A break falls at the end of a sentence where that costs no line; else the lines are made even.

Text is never markup: what a span holds is what stands on the paper.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator, Sequence
from functools import lru_cache
from itertools import accumulate, takewhile, zip_longest
from typing import NamedTuple

from lessonkit.drawing.fonts import CAPITAL, width_mm
from lessonkit.drawing.items import TextLine
from lessonkit.units import MM_PER_POINT

_NO_BREAK = "\u00a0\u202f\u2007"
_WORD = re.compile(rf"[\S{_NO_BREAK}]+")
_NUMBER = r"\d+(?:[.,]\d+)*(?:[-\u2013]\d+(?:[.,]\d+)*)?"
_FRACTION = r"(?:\d+[/\u2044]\d+|[\u00bc-\u00be\u2150-\u215e])"
_VALUE = rf"(?:{_NUMBER}[ -]?{_FRACTION}|{_FRACTION}|{_NUMBER})"
_UNIT = r"(?:mm|cm|m|in|inch|inches|ft|pulg|mg|g|kg|oz|lbs?|ml|l|h|min|s|%|°[CF]?|[\"'\u2019\u201d\u2032\u2033])"
_MEASURE = re.compile(rf"(?<![\w.,/]){_VALUE}(?: ?[x\u00d7] ?{_VALUE})* ?{_UNIT}(?!\w)")
_CLOSING, _OPENING = "\"'\u2019\u201d\u00bb)]", "\"'\u2018\u201c\u00ab([\u00bf\u00a1"
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

    def at(self, x_mm: float, top_mm: float) -> tuple[TextLine, ...]:
        """The lines in place, one item for each stretch of equal weight, the top of the first capitals at `top_mm`."""
        return tuple(self._place(x_mm, top_mm + CAPITAL * self.size_pt * MM_PER_POINT))

    def _place(self, x_mm: float, baseline_mm: float) -> Iterator[TextLine]:
        for number, line in enumerate(self.lines):
            x, y = x_mm, baseline_mm + number * self.leading_pt * MM_PER_POINT
            for span in line:
                yield TextLine(x, y, span.text, self.size_pt, span.bold)
                x += width_mm(span.text, self.size_pt, span.bold)


def set_text(spans: Sequence[Span], wide_mm: float, size_pt: float, leading_pt: float, even: bool = True) -> Block:
    """Break the text of `spans` into as few lines as fit `wide_mm`.

    With `even`, breaks fall at the ends of sentences as often as that costs no line, and the lines are then as narrow
    as their number allows; without, each line is filled before the next. A line end in the text starts a new line. White
    space where a line breaks is dropped, all other text is kept. No-break spaces hold; a number and its unit stay
    together. A word wider than the measure is broken where the line is full, with a hyphen between letters.
    Raises ValueError if a single character is wider than `wide_mm`."""
    return _set(tuple(spans), wide_mm, size_pt, leading_pt, even)


@lru_cache(1024)  # pages try the same words in many places
def _set(spans: tuple[Span, ...], wide_mm: float, size_pt: float, leading_pt: float, even: bool) -> Block:
    copy, measure = _copy(spans), (wide_mm + _LEEWAY_MM) / size_pt
    try:
        words = copy.words if copy.widest <= measure else [piece for word in copy.words for piece in copy.pieces(word, measure)]
    except _TooWide as letter:
        raise ValueError(f"{letter} at {size_pt:g} pt is wider than the measure, {wide_mm + _LEEWAY_MM:.3f} mm") from None
    breaks = (_even_breaks if even else _full_breaks)(words, measure)
    return _block(tuple(copy.spans(words[first].start, words[last].end, words[last].hyphen) for first, last in breaks), size_pt, leading_pt)


def lines_mm(count: int, size_pt: float, leading_pt: float) -> float:
    """How tall a block of so many lines is."""
    return ((count - 1) * leading_pt + CAPITAL * size_pt) * MM_PER_POINT if count else 0.0


def split(block: Block, lines: int) -> tuple[Block, Block]:
    """The first `lines` lines, and the rest, each a block of its own. Raises ValueError for more lines than there are."""
    if not 0 <= lines <= len(block.lines):
        raise ValueError(f"a block of {len(block.lines)} lines cannot be split after {lines}")
    return part(block, 0, lines), part(block, lines, len(block.lines))


def part(block: Block, first: int, last: int) -> Block:
    """Lines `first` to before `last`, counted from 0, as a block of their own; of lines that are not there, none."""
    lines = block.lines[first:last]
    return block if len(lines) == len(block.lines) else _block(lines, block.size_pt, block.leading_pt)


def _block(lines: tuple[tuple[Span, ...], ...], size_pt: float, leading_pt: float) -> Block:
    wide = max((_width_mm(line, size_pt) for line in lines), default=0.0)
    return Block(lines, wide, lines_mm(len(lines), size_pt, leading_pt), size_pt, leading_pt)


def _width_mm(line: Sequence[Span], size_pt: float) -> float:
    return sum(width_mm(span.text, size_pt, span.bold) for span in line)


class _Word(NamedTuple):
    """Characters `start` to `end` of the copy, and how wide they are at one point. `pitch` reaches to where the next word starts."""

    start: int
    end: int
    wide: float
    pitch: float
    ends_line: bool
    ends_sentence: bool = False
    hyphen: str = ""


class _TooWide(Exception):
    """Of a single letter, which is told."""


@lru_cache(256)  # the same text is tried in several sizes and widths
def _copy(spans: tuple[Span, ...]) -> _Copy:
    return _Copy(spans)


class _Copy:
    """The text that is to be set, with the weight of each character. Widths are those at one point."""

    def __init__(self, spans: Sequence[Span]) -> None:
        self.text = "".join(span.text for span in spans)
        self.weights = "".join((_BOLD if span.bold else _PLAIN) * len(span.text) for span in spans)
        self.uniform = len(spans) == 1
        self.words = list(self._words())
        self.widest = max((word.wide for word in self.words), default=0.0)

    def spans(self, start: int, end: int, hyphen: str = "") -> tuple[Span, ...]:
        if self.uniform:
            return (Span(self.text[start:end] + hyphen, self.weights[start] == _BOLD),)
        ends = [found.end() for found in _WEIGHT.finditer(self.weights, start, end)]
        *before, last = [Span(self.text[a:b], self.weights[a] == _BOLD) for a, b in zip([start, *ends], ends, strict=False)]
        return (*before, Span(last.text + hyphen, last.bold))

    def _wide(self, start: int, end: int, hyphen: str = "") -> float:
        weight = self.weights[start]
        if self.uniform or self.weights.count(weight, start, end) == end - start:
            return width_mm(self.text[start:end] + hyphen, 1, weight == _BOLD)
        return _width_mm(self.spans(start, end, hyphen), 1)

    def _words(self) -> Iterator[_Word]:
        """What stands between white space; a number and its unit are one word."""
        glued = _MEASURE.sub(lambda found: found[0].replace(" ", _NO_BREAK[0]), self.text)
        places = [found.span() for found in _WORD.finditer(glued)]
        broken = "\n" in glued
        for (start, end), (after, stop) in zip_longest(places, places[1:], fillvalue=(len(glued), len(glued))):
            wide = self._wide(start, end)
            pitch = self._wide(start, after) if after > end else wide
            ends_line = after == stop or (broken and "\n" in glued[end:after])
            ends_sentence = not glued[end - 1].isalnum() and _ends_sentence(glued[start:end], glued[after:stop])
            yield _Word(start, end, wide, pitch, ends_line, ends_sentence)

    def pieces(self, word: _Word, measure: float) -> Iterator[_Word]:
        """The word; or, if it is wider than the measure, what fills line after line, and its end."""
        if word.wide <= measure:
            yield word
            return
        start = word.start
        while (wide := self._wide(start, word.end)) > measure:
            at, hyphen = self._cut(start, word.end, measure)
            part = self._wide(start, at, hyphen)
            yield _Word(start, at, part, part, ends_line=True, hyphen=hyphen)
            start = at + (self.text[at] == " ")
        yield word._replace(start=start, wide=wide, pitch=wide + word.pitch - word.wide)

    def _cut(self, start: int, end: int, measure: float) -> tuple[int, str]:
        """The last place where a line from `start` may end, and the hyphen there: at a space or after a hyphen of
        the text if there is one, else between two characters."""
        places = [(at, self._hyphen(at)) for at in range(start + 1, end) if not unicodedata.combining(self.text[at])]
        fitting = list(takewhile(lambda place: self._wide(start, *place) <= measure, places))
        if fitting:
            written = [place for place in fitting if self.text[place[0]] == " " or self.text[place[0] - 1] == "-"]
            return (written or fitting)[-1]
        at = places[0][0] if places else end
        if self._wide(start, at) > measure:
            raise _TooWide(repr(self.text[start:at]))
        return at, ""  # no room even for a hyphen

    def _hyphen(self, at: int) -> str:
        return "-" if self.text[at - 1].isalpha() and self.text[at].isalpha() else ""


def _ends_sentence(word: str, following: str) -> bool:
    bare = word.rstrip(_CLOSING)
    closed = bare.endswith((".", "?", "!", "\u2026")) and not _ABBREVIATION.fullmatch(bare)
    return closed and following.lstrip(_OPENING)[:1].isupper()


def _last_words(words: Sequence[_Word], lefts: Sequence[float], measure: float) -> list[int]:
    """Of the longest line that each word can begin, the last word."""
    longest: list[int] = []
    last = 0
    for first, left in enumerate(lefts):
        last = max(last, first)
        while not words[last].ends_line and lefts[last + 1] - left + words[last + 1].wide <= measure:
            last += 1
        longest.append(last)
    return longest


def _lefts(words: Sequence[_Word]) -> list[float]:
    """Where each word would begin if all stood in one line."""
    return [0.0, *accumulate(word.pitch for word in words[:-1])] if words else []


def _full_breaks(words: Sequence[_Word], measure: float) -> Iterator[tuple[int, int]]:
    """First and last word of each line, each line as full as can be."""
    longest = _last_words(words, _lefts(words), measure)
    first = 0
    while first < len(words):
        yield first, longest[first]
        first = longest[first] + 1


def _even_breaks(words: Sequence[_Word], measure: float) -> Iterator[tuple[int, int]]:
    """First and last word of each line: fewest lines, then fewest ends of sentences inside a line, then the narrowest
    widest line, then the most even lines, then the shortest first one. Worked out from the last word backwards: what is best
    from a word on does not depend on how the words before it are broken. Widths are whole nanometres here: the same
    letters are as wide in any order."""
    lefts = _lefts(words)
    longest = _last_words(words, lefts, measure)
    if words and longest[0] == len(words) - 1:
        yield 0, longest[0]
        return
    sentences = [0, *accumulate(word.ends_sentence for word in words)]
    costs: list[tuple[int, int, int, int]] = [(0, 0, 0, 0)] * (len(words) + 1)
    ends = [0] * len(words)
    for first in reversed(range(len(words))):
        fewest = costs[longest[first] + 1][0]  # a shorter line leaves no fewer for the rest
        choices: list[tuple[tuple[int, int, int, int], int]] = []
        for last in range(longest[first], first - 1, -1):
            lines, missed, widest, squares = costs[last + 1]
            if lines > fewest:
                break
            wide = round((lefts[last] - lefts[first] + words[last].wide) * 1e6)
            choices.append(((lines + 1, missed + sentences[last] - sentences[first], max(widest, wide), squares + wide * wide), last))
        costs[first], ends[first] = min(choices)
    first = 0
    while first < len(words):
        yield first, ends[first]
        first = ends[first] + 1
