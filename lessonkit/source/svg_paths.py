"""SVG's path data: the pen that draws, and the grammar of what moves it (W3C SVG 2, chapter 9, with 1.1's "1." allowed)."""

from __future__ import annotations

import re
from math import radians

from lessonkit.source.svg_curves import MOST_POINTS, Cubic, Curve, Line, Point, Subpath, arc_between
from lessonkit.source.svg_tree import SAVE_PLAIN, Refused

LARGEST_NUMBER = 1e9
_NUMBER = re.compile(r"[+-]?(?:[0-9]+\.?[0-9]*|\.[0-9]+)(?:[eE][+-]?[0-9]+)?")
_BLANKS = re.compile(r"[ \t\n\f\r]*")
_BETWEEN = re.compile(r"[ \t\n\f\r]*(?:,[ \t\n\f\r]*)?")
_ARGUMENTS = {"M": "xy", "L": "xy", "H": "x", "V": "y", "C": "xyxyxy", "S": "xyxy", "Q": "xyxy", "T": "xy", "A": "rraffxy", "Z": ""}


class Pen:
    """Draws subpaths, point by point, in the drawing's own coordinates."""

    def __init__(self) -> None:
        self.at: Point = (0.0, 0.0)
        self._start: Point = (0.0, 0.0)
        self._curves: list[Curve] = []
        self._done: list[Subpath] = []
        self._count = 0

    def move(self, to: Point) -> None:
        self._add()
        self._finish(False)
        self.at = self._start = to

    def draw(self, curve: Curve) -> None:
        """A curve that starts where the pen stands."""
        self._add()
        self._curves.append(curve)
        self.at = curve.end

    def line(self, to: Point) -> None:
        self.draw(Line(self.at, to))

    def arc(self, radii: Point, turn_deg: float, large: bool, clockwise: bool, to: Point) -> None:
        self.draw(arc_between(self.at, to, radii, radians(turn_deg % 360), large, clockwise))

    def close(self) -> None:
        self._finish(True)
        self.at = self._start

    def drawn(self) -> tuple[Subpath, ...]:
        self._finish(False)
        return tuple(self._done)

    def _add(self) -> None:
        self._count += 1
        if self._count > MOST_POINTS:
            raise too_many_points()

    def _finish(self, closed: bool) -> None:
        if self._curves:
            self._done.append(Subpath(tuple(self._curves), closed))
            self._curves = []


def path_subpaths(data: str) -> tuple[Subpath, ...]:
    """What a path's `d` draws. Raises Refused for data that breaks the grammar: half a path would be a wrong stencil."""
    pen, reader, commands = Pen(), _Reader(data), _Commands()
    while (letter := reader.letter()) is not None:
        if letter not in "Mm" and not commands.begun:
            raise reader.stop()
        form = _ARGUMENTS[letter.upper()]
        commands.draw(pen, letter, reader.values(form, True))
        while form and reader.more():
            letter = {"M": "L", "m": "l"}.get(letter, letter)
            commands.draw(pen, letter, reader.values(form, False))
    return pen.drawn()


def too_many_points() -> Refused:
    return Refused(f"it is drawn with more than {MOST_POINTS:,} points.", "Simplify the path in your drawing program.")


def finite(text: str) -> float:
    """A number as SVG writes one, or Refused where it is too large for any drawing."""
    value = float(text)
    if abs(value) > LARGEST_NUMBER:
        raise Refused(f"it holds the number {text[:20]}, which is too large for a drawing.")
    return value


def numbers(text: str) -> list[float] | None:
    """A list of numbers, separated by blanks or a comma (or by nothing, where that is clear); None if it holds anything else."""
    found, at = [], _BLANKS.match(text).end()  # type: ignore[union-attr]
    while at < len(text):
        if (number := _NUMBER.match(text, at)) is None:
            return None
        found.append(finite(number[0]))
        at = _BETWEEN.match(text, number.end()).end()  # type: ignore[union-attr]
        if len(found) > 2 * MOST_POINTS:
            raise too_many_points()
    return found


class _Commands:
    """What each letter does. Remembers the last control point, which smooth curves mirror."""

    def __init__(self) -> None:
        self.begun = False
        self._last: tuple[str, Point] = ("", (0.0, 0.0))

    def draw(self, pen: Pen, letter: str, values: list[float]) -> None:
        self.begun = True
        x, y = pen.at if letter.islower() else (0.0, 0.0)
        control: tuple[str, Point] = ("", (0.0, 0.0))
        match letter.upper(), values:
            case "M", (to_x, to_y):
                pen.move((x + to_x, y + to_y))
            case "L", (to_x, to_y):
                pen.line((x + to_x, y + to_y))
            case "H", (to_x,):
                pen.line((x + to_x, pen.at[1]))
            case "V", (to_y,):
                pen.line((pen.at[0], y + to_y))
            case "A", (rx, ry, turn, large, sweep, to_x, to_y):
                pen.arc((rx, ry), turn, bool(large), bool(sweep), (x + to_x, y + to_y))
            case ("C" | "S" as kind), _:
                points = [(x + dx, y + dy) for dx, dy in zip(values[::2], values[1::2], strict=True)]
                first, second, end = points if kind == "C" else (self._mirrored("C", pen.at), *points)
                pen.draw(Cubic(pen.at, first, second, end))
                control = "C", second
            case ("Q" | "T" as kind), _:
                points = [(x + dx, y + dy) for dx, dy in zip(values[::2], values[1::2], strict=True)]
                middle, end = points if kind == "Q" else (self._mirrored("Q", pen.at), *points)
                pen.draw(Cubic(pen.at, _third(middle, pen.at), _third(middle, end), end))
                control = "Q", middle
            case _:
                pen.close()
        self._last = control

    def _mirrored(self, kind: str, at: Point) -> Point:
        last, control = self._last
        return (2 * at[0] - control[0], 2 * at[1] - control[1]) if last == kind else at


def _third(control: Point, end: Point) -> Point:
    """A quadratic curve is a cubic one whose control points lie two thirds of the way to its own."""
    return (end[0] + 2 * control[0]) / 3, (end[1] + 2 * control[1]) / 3


class _Reader:
    """Letters and numbers, one after the other."""

    def __init__(self, text: str) -> None:
        self.text, self.at = text, 0

    def stop(self) -> Refused:
        seen = " ".join(self.text[self.at : self.at + 20].split())
        return Refused(f"the path can't be read at “{seen}”." if seen else "the path breaks off.", SAVE_PLAIN)

    def letter(self) -> str | None:
        """The next command; None at the end."""
        self._pass(_BLANKS)
        if self.at == len(self.text):
            return None
        letter = self.text[self.at]
        if not letter.isascii() or letter.upper() not in _ARGUMENTS:
            raise self.stop()
        self.at += 1
        return letter

    def more(self) -> bool:
        """Whether numbers follow for the same command once more."""
        before = self.at
        self._pass(_BETWEEN)
        if _NUMBER.match(self.text, self.at):
            return True
        if "," in self.text[before : self.at]:
            raise self.stop()
        return False

    def values(self, form: str, first: bool) -> list[float]:
        found = []
        for index, kind in enumerate(form):
            self._pass(_BETWEEN if index or not first else _BLANKS)
            found.append(self._flag() if kind == "f" else self._number())
        return found

    def _pass(self, pattern: re.Pattern[str]) -> None:
        self.at = pattern.match(self.text, self.at).end()  # type: ignore[union-attr]

    def _number(self) -> float:
        number = _NUMBER.match(self.text, self.at)
        if number is None:
            raise self.stop()
        self.at = number.end()
        return finite(number[0])

    def _flag(self) -> float:
        """One digit; what follows needs no blank."""
        if self.text[self.at : self.at + 1] not in ("0", "1"):
            raise self.stop()
        self.at += 1
        return float(self.text[self.at - 1])
