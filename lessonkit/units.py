"""Lengths, weights and times: what a teacher writes, read and printed back. The only home of 25.4 and 72."""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction
from functools import lru_cache
from typing import Literal, NamedTuple, NoReturn

MM_PER_INCH = 25.4
MM_PER_POINT = MM_PER_INCH / 72
G_PER_POUND = 453.59237

LONGEST_MM = 3000.0
FARTHEST_MM = 50_000.0
LEAST_TOO_MUCH_PERCENT = 40

NO_BREAK = "\u00a0"

PAPERS: dict[str, tuple[float, float]] = {
    "A3": (297.0, 420.0),
    "A4": (210.0, 297.0),
    "Letter": (215.9, 279.4),
    "Tabloid": (279.4, 431.8),
}
"""Width and height in mm, upright. A sizes by ISO 216, Letter and Tabloid (size B) by ANSI/ASME Y14.1."""

Units = Literal["mm", "in"]


class UnitError(ValueError):
    """A size, weight, time or share that can't be read: `what` is wrong, and in `hint` what to type instead."""

    def __init__(self, what: str, hint: str) -> None:
        super().__init__(what, hint)  # both, so that it can be sent between processes
        self.what = what
        self.hint = hint

    def __str__(self) -> str:
        return f"{self.what} {self.hint}"


@dataclass(frozen=True, slots=True)
class Length:
    """A length in mm, with the teacher's own spelling of it."""

    mm: float
    text: str


@dataclass(frozen=True, slots=True)
class Weight:
    """A weight in grams, with the teacher's own spelling of it."""

    g: float
    text: str


class _Quantity(NamedTuple):
    """A kind of measure: its units in mm, g, min, per cent or g/cm³, and the unit that a bare number has, if it may be bare."""

    name: str
    units: dict[str, Fraction]
    usual: tuple[str, ...]
    examples: str
    bare: str = ""


_INCH, _POUND = Fraction(str(MM_PER_INCH)), Fraction(str(G_PER_POUND))
_LENGTH = _Quantity(
    name="a length",
    units={"mm": Fraction(1), "cm": Fraction(10), "m": Fraction(1000), "in": _INCH, "ft": 12 * _INCH},
    usual=("mm", "cm", "in"),
    examples="160 mm, 16 cm, 9 in or 9 1/16 in",
)
_WEIGHT = _Quantity(
    name="a weight",
    units={"g": Fraction(1), "kg": Fraction(1000), "oz": _POUND / 16, "lb": _POUND},
    usual=("g", "kg", "lb", "oz"),
    examples="640 g, 1.2 kg or 1 1/2 lb",
)
_TIME = _Quantity(
    name="minutes",
    units={"min": Fraction(1), "s": Fraction(1, 60), "h": Fraction(60)},
    usual=("min", "s", "h"),
    examples="6, 90 s or 1 h 30 min",
    bare="min",
)
_PERCENT = _Quantity(name="a percentage", units={"%": Fraction(1)}, usual=("%",), examples="12 %", bare="%")
_DENSITY = _Quantity(
    name="grams in a cubic centimetre",
    units={"g/cm3": Fraction(1), "kg/m3": Fraction(1, 1000)},
    usual=("g/cm3",),
    examples="1.95 or 1.95 g/cm3",
    bare="g/cm3",
)

_SPELLINGS = {
    spelling: unit
    for unit, spellings in {
        "mm": "millimetre millimetres millimeter millimeters",
        "cm": "centimetre centimetres centimeter centimeters",
        "m": "metre metres meter meters",
        "in": '" inch inches ins',
        "ft": "' foot feet",
        "g": "gram grams gramme grammes gm",
        "kg": "kilo kilos kilogram kilograms kilogramme kilogrammes kgs",
        "lb": "lbs pound pounds",
        "oz": "ounce ounces",
        "s": "sec secs second seconds",
        "min": "mins minute minutes",
        "h": "hr hrs hour hours",
        "%": "percent",
        "g/cm3": "g/cm³ g/cc g/ml kg/l",
        "kg/m3": "kg/m³",
    }.items()
    for spelling in spellings.split()
}
_NEXT_SMALLER = {"ft": "in", "m": "cm", "lb": "oz", "kg": "g", "h": "min", "min": "s"}

_TIDY = str.maketrans(dict.fromkeys("’‘′ʹ", "'") | dict.fromkeys("”“″ʺ", '"') | dict.fromkeys("‐‑‒–—−", "-"))
_TIDY |= str.maketrans(dict.fromkeys("⁄∕", "/") | dict.fromkeys("\u200b\u2060\ufeff", ""))
_FRACTION = r"(?:(?P<whole>[0-9]+)(?:\s*-\s*|\s+))?(?P<over>[0-9]+)\s*/\s*(?P<under>[0-9]+)"
_DECIMAL = r"(?P<decimal>[0-9]+(?:[.,][0-9]+)?|[.,][0-9]+)"
_AMOUNT = re.compile(rf"\s*(?:{_FRACTION}|{_DECIMAL})\s*(?P<unit>[a-z]+(?:/[a-z]+[3³]?)?|[\"'%])?\.?\s*")
_TWO_SIZES = re.compile(r"[0-9][^0-9]*(?:x|×|\bby\b)\s*[0-9]")
_LONGEST_TEXT = 60
_SIZE = r"-?[0-9]+(?:\.[0-9]+)?"
_SAID = rf"“[^”]*”|(?<![0-9:] )(?<![0-9.])(?P<sizes>{_SIZE}(?: x {_SIZE})*) mm\b|\((?P<x>{_SIZE}), (?P<y>{_SIZE})\)(?P<told> mm)?"


def parse_length(text: str) -> Length:
    """Read a size such as `160 mm`, `9 1/16 in`, `1½"` or `5' 3"`. UnitError for no unit, 0, less than 0, or over 3 m."""
    mm = _read(text, _LENGTH)
    if mm <= 0:
        raise _unlike(text, "a length of more than 0", _LENGTH.examples)
    return _plausible(mm, text)


def parse_offset(text: str) -> Length:
    """Read a position, which may also be 0 or less (`-20 mm`). UnitError for no unit, or more than 3 m either way."""
    return _plausible(_read(text, _LENGTH), text)


def parse_distance(text: str) -> Length:
    """Read how far off something is in a room, such as `5 m` or `15 ft`. UnitError as `parse_length`, but over 50 m only."""
    mm = _read(text, _LENGTH)
    if mm <= 0 or mm > FARTHEST_MM:
        raise _unlike(text, "a distance of up to 50 m", "5 m or 15 ft")
    return Length(float(mm), text.strip())


def parse_weight(text: str) -> Weight:
    """Read `640 g`, `1 1/2 lb`, `2 lb 3 oz`; a pound is 453.59237 g (international pound, 1959). UnitError for 0 or less."""
    g = _read(text, _WEIGHT)
    if g <= 0:
        raise _unlike(text, "a weight of more than 0", _WEIGHT.examples)
    return Weight(float(g), text.strip())


def parse_minutes(text: str) -> float:
    """Read a time in minutes: `6`, `6 min`, `90 s`, `1 h 30 min`. Zero is allowed; UnitError for less."""
    minutes = _read(text, _TIME)
    if minutes < 0:
        raise _unlike(text, "0 minutes or more", _TIME.examples)
    return float(minutes)


def parse_density(text: str) -> float:
    """Read a density in g/cm³: `1.95`, `1.95 g/cm3`. UnitError outside 1 to 3, where no clay lies."""
    density = _read(text, _DENSITY)
    if not 1 <= density <= 3:
        raise _unlike(text, "a density between 1 and 3 g/cm3", _DENSITY.examples)
    return float(density)


def parse_percent(text: str) -> float:
    """Read `12 %` (or `12`) as 0.12. UnitError below 0, from 40 % up, and between 0 and 1, where 0.12 was written for 12 %."""
    percent = _read(text, _PERCENT)
    if not 0 <= percent < LEAST_TOO_MUCH_PERCENT:
        raise _unlike(text, f"a percentage from 0 to under {LEAST_TOO_MUCH_PERCENT} %", _PERCENT.examples)
    if 0 < percent < 1:
        error = _unlike(text, "a percentage of 1 or more, or 0", _PERCENT.examples)
        meant = percent * 100
        raise UnitError(error.what, f"Did you mean {number(float(meant), 2)} %?") if meant < LEAST_TOO_MUCH_PERCENT else error
    return float(percent / 100)


def parse_percent_range(text: str) -> tuple[float, float]:
    """Read `11-13 %` as (0.11, 0.13); one percentage gives equal ends. UnitError as `parse_percent`, or for a falling range."""
    ends = re.fullmatch(r"([0-9][^-]*?)\s*(?:-|\bto\b)\s*([0-9][^-/]*)", _tidied(text))  # no slash: 11-1/2 % is one figure
    if ends is None:
        return (parse_percent(text),) * 2
    low, high = parse_percent(ends[1]), parse_percent(ends[2])
    if low > high:
        raise UnitError(f"the range {_quoted(text)} runs downwards.", "Write the smaller figure first, such as 11-13 %.")
    return low, high


def doubt(text: str) -> str | None:
    """A question about a measure that can be read but may be a slip: `11/4 in` is 2 3/4 in, and was perhaps meant as 1 1/4 in."""
    if not any(slash in text for slash in "/⁄∕"):
        return None
    for found in _AMOUNT.finditer(_tidied(text)):
        over, under = found["over"], found["under"]
        if found["whole"] or not over or int(over) < int(under):
            continue
        splits = [(over[:cut], over[cut:]) for cut in range(1, len(over))]
        splits = [(whole, rest) for whole, rest in splits if rest[0] != "0" and int(rest) < int(under)]
        if splits:
            meant = " or ".join(f"{whole} {rest}/{under} {_unit(found)}".strip() for whole, rest in splits)
            return f"Did you mean {meant}?"
    return None


def paper_named(text: str) -> str:
    """The name of a paper in PAPERS, whatever its capitals. UnitError with all the names for any other."""
    for name in PAPERS:
        if name.casefold() == _tidied(text):
            return name
    raise UnitError(f"expected a paper size, found {_quoted(text)}.", f"Write {_listed(tuple(PAPERS))}.")


@lru_cache(1024)  # papers say the same sizes and minutes again and again
def number(mm: float, decimals: int) -> str:
    """A number rounded half up, as people do, without idle zeros: 160, 181.8."""
    near = Decimal(repr(round(mm, 9)))  # a half that was lost in the last bit of a float is a half again
    text = f"{near.quantize(Decimal(1).scaleb(-decimals), ROUND_HALF_UP):f}"
    text = text.rstrip("0").rstrip(".") if "." in text else text
    return "0" if text == "-0" else text


def show_length(mm: float, units: Units, decimals: int = 1) -> str:
    """A length for the teacher's table: `181.8 mm`, or `7 3/16 in (181.8 mm)`."""
    metric = f"{number(mm, decimals)}{NO_BREAK}mm"
    return metric if units == "mm" else f"{_sixteenths(mm)} ({metric})"


def show_for_hand(mm: float, units: Units) -> str:
    """A length for somebody with a ruler: whole millimetres or sixteenths of an inch."""
    return f"{number(mm, 0)}{NO_BREAK}mm" if units == "mm" else _sixteenths(mm)


def lengths_shown(text: str, units: Units) -> str:
    """What was said in plain millimetres (`9 x 12 mm`) in the room's units, and a place with them (`(9, 12)` is `(9 mm, 12 mm)`).

    Her own words in “quotes” stay as they are, and so does what she is to type (`corner: 3 mm`)."""
    return re.sub(_SAID, lambda found: _shown(found, units), text)


def show_minutes(minutes: float) -> str:
    """Minutes to the hundredth at most, without their unit: `6`, `0.75`, `0.83` for 50 s."""
    return number(minutes, 2)


def show_weight(g: float, units: Units) -> str:
    """A weight: `640 g`, `1.2 kg`; in a room of inches `2.6 lb (1.2 kg)`, and ounces below a tenth of a pound."""
    whole_g = number(g, 0)
    metric = f"{number(g / 1000, 1)}{NO_BREAK}kg" if len(whole_g) > 3 else f"{whole_g}{NO_BREAK}g"
    if units == "mm":
        return metric
    pounds = g / G_PER_POUND
    return f"{number(pounds * 16, 1)}{NO_BREAK}oz ({metric})" if pounds < 0.1 else f"{number(pounds, 1)}{NO_BREAK}lb ({metric})"


def _shown(found: re.Match[str], units: Units) -> str:
    if found["sizes"] and units == "in":
        inches = [_sixteenths(float(size)) for size in found["sizes"].split(" x ")]
        return f"{' x '.join(inches)} ({found[0]})" if f"0{NO_BREAK}in" not in inches else found[0]
    if found["x"] and units == "in":
        return f"({_sixteenths(float(found['x']))}, {_sixteenths(float(found['y']))})"
    return f"({found['x']} mm, {found['y']} mm)" if found["x"] and not found["told"] else found[0]


def _sixteenths(mm: float) -> str:
    inches = Fraction(int(number(mm / MM_PER_INCH * 16, 0)), 16)
    sign, whole, rest = "-" if inches < 0 else "", abs(inches) // 1, abs(inches) % 1
    return f"{sign}{NO_BREAK.join(str(part) for part in (whole, rest) if part) or '0'}{NO_BREAK}in"


def _plausible(mm: Fraction, text: str) -> Length:
    if abs(mm) > LONGEST_MM:
        raise UnitError(f"{_quoted(text)} is more than 3 m.", "Look at its unit: was it meant in mm, cm or in?")
    return Length(float(mm), text.strip())


def _quoted(text: str) -> str:
    text = text.strip()
    if not text:
        return "nothing"
    return f"“{text}”" if len(text) <= _LONGEST_TEXT else f"“{text[:40]}…”"


def _unlike(text: str, expected: str, examples: str) -> UnitError:
    return UnitError(f"expected {expected}, found {_quoted(text)}.", f"Write it like this: {examples}.")


def _tidied(text: str) -> str:
    """Small letters, plain spaces, dashes, slashes and marks; `1½` as `1 1/2`."""
    plain = "".join(_spelled(char) for char in text).translate(_TIDY)
    plain = plain.replace("''", '"').replace("'-", "' ")  # 5'-3" is 5' 3"
    return " ".join(plain.split()).casefold().replace("per cent", "percent")


def _spelled(char: str) -> str:
    kind, *points = unicodedata.decomposition(char).split() or [""]
    return f" {''.join(chr(int(point, 16)) for point in points)}" if kind == "<fraction>" else char


def _read(text: str, quantity: _Quantity) -> Fraction:
    """The sum of the amounts in `text`, such as 5 ft and 3 in: each in the next smaller unit, and less than one of the last."""
    tidy = _tidied(text)
    sign, body = (-1, tidy[1:]) if tidy.startswith("-") else (1, tidy.removeprefix("+"))
    if not body or len(body) > _LONGEST_TEXT:
        raise _unlike(text, quantity.name, quantity.examples)
    if _TWO_SIZES.search(body):
        raise _unlike(text, f"{quantity.name}, and one only", quantity.examples)
    total, last, at = Fraction(0), "", 0
    while at < len(body):
        found = _AMOUNT.match(body, at)
        if found is None:
            raise _unlike(text, quantity.name, quantity.examples)
        unit = _unit(found)
        if not unit and at == 0 and found.end() == len(body):
            unit = quantity.bare or _refuse_bare(text, quantity)
        if unit not in quantity.units:
            raise _unlike(text, f"{quantity.name} in {_listed(quantity.usual)}", quantity.examples)
        amount = _number(found, text) * quantity.units[unit]
        if last and (_NEXT_SMALLER.get(last) != unit or amount >= quantity.units[last]):
            raise _unlike(text, quantity.name, quantity.examples)
        total, last, at = total + amount, unit, found.end()
    return sign * total


def _unit(found: re.Match[str]) -> str:
    return _SPELLINGS.get(found["unit"] or "", found["unit"] or "")


def _number(found: re.Match[str], text: str) -> Fraction:
    if decimal := found["decimal"]:
        if re.fullmatch(r"[1-9][0-9]{0,2},[0-9]{3}", decimal):
            large, small = decimal.replace(",", ""), decimal.replace(",", ".")
            raise UnitError(f"{_quoted(text)} can be read in two ways.", f"Write {large} or {small}, without the comma.")
        return Fraction(decimal.replace(",", "."))
    whole, over, under = int(found["whole"] or 0), int(found["over"]), int(found["under"])
    if under == 0:
        raise UnitError(f"the fraction in {_quoted(text)} has 0 below its line.", "Write such as 1/2, 3/8 or 1/16.")
    if found["whole"] and over >= under:
        meant = f"{whole + over // under} {over % under}/{under}" if over % under else f"{whole + over // under}"
        raise UnitError(f"the fraction in {_quoted(text)} is not less than one.", f"Did you mean {meant}?")
    return whole + Fraction(over, under)


def _refuse_bare(text: str, quantity: _Quantity) -> NoReturn:
    bare = text.strip()
    hint = _listed(tuple(f"{bare} {unit}" for unit in quantity.usual))
    raise UnitError(f"“{bare}” has no unit: add {_listed(quantity.usual)}.", f"Write {hint}.")


def _listed(words: tuple[str, ...]) -> str:
    *most, last = words
    return f"{', '.join(most)} or {last}" if most else last
