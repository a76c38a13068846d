"""Single values as they stand in files: sizes, weights, times and words as teachers spell them, and what nobody should write."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from random import Random
from typing import Any

from lessonkit.units import G_PER_POUND, MM_PER_INCH

WORDS = (
    "roll", "the", "slab", "on", "both", "sticks", "until", "pin", "touches", "wood", "score", "slip", "press", "join", "seam", "smooth", "edge",
    "damp", "sponge", "cut", "ring", "hold", "needle", "upright", "clay", "turn", "it", "over", "lift", "by", "mat", "never", "pull", "trace",
    "stencil", "lightly", "two", "thumbs", "pinch", "slowly", "wall", "foot", "coil", "stack", "blend", "inside", "dry", "under", "plastic",
)  # fmt: skip

ODD_TEXTS = (
    "Roll to <6 mm", "if 3 <x< 5 & damp", "AT&T mug", "</b> done", "<b>bold", '<img src="http://127.0.0.1:9/x.png"/>hi', "&#x41;&nbsp;", "]]>",
    "<!--", "use <your own> stamp", "%s %d {0}", "\\n \\x41", "C:\\clay\\new", "{frame cut}", "{stick}", "{nothing}", "{{", "}", "{frame",
    "$x$ `x` *x* _x_", "tab\there", "two\nlines", "  blanks  ", "Note: keep it damp", "Use rib #3, then sponge", "- a dash",
    "1½ cups, ⅜ in, 5′ 3″", "“quoted” – ’tis", "e\u0301a\u0308n\u0303", "a" + "\u0301" * 30, "глина", "πηλός", "陶芸", "שלום עולם", "مرحبا",
    "a\u202eb", "\u200b\u200d\u2060", "🐟", "👩‍🏫", "1\ufe0f\u20e3", "\x07bell", "\x00", "\x85\u2028", "\ufeff", "\ufffd", "\ue000", "ﬁﬂ", "İıſß",
    "w" * 400, "W" * 60, "ab" * 25 + " " + "i" * 90, ".", "?!", "…", "'", '"', "a-" * 70, "https://example.org/" + "x" * 80, "\u00a0\u00a0",
    "soft\u00adhyphen", "٣ ¾", "CON", "../x", "a/b\\c", "None", "x" * 5000,
)  # fmt: skip

PRINTABLE = (
    "<b>", "</b>", "&amp;", "AT&T", "R&D", "<6", "{{x}}", "%s", "\\n", "C:\\x", "\"", "''", "“quoted”", "–", "1½", "⅜", "5′", "é", "n\u0303o",
    "глина", "πηλός", "Łódź", "İstanbul", "straße", "ﬁ", "#3", "a:", "- a", "...", "?!", "/", "a/b", "@", "a-" * 40, "w" * 60, "W" * 30, "i" * 140,
    "https://example.org/" + "x" * 60, "½", "→", "°", "²", "(", "[x]", "*x*", "_x_", "$5", "€", "1,000.00", "ñ",
)  # fmt: skip

WILD = (
    None, "", " ", "~", "null", "yes", "no", "on", "off", "0", "-1", "1", "2", "7", "99", "200", "999", "1000000", "9" * 40, "1e9", "1e3", "010",
    "0x1F", "1_000", ".5", "5.", ".nan", ".inf", "nan", "inf", "1:30", "=", "6", "6 mm", "0 mm", "-5 mm", "+5 mm", "0.001 mm", "0.5 mm", "1 mm",
    "2999.99 mm", "3 m", "3000.1 mm", "12 m", "1/0 in", "11/4 in", "5 x 7 in", "1,5 cm", "1,500 mm", "1 000 mm", "6mm", "6 furlongs", "1/2",
    "½ in", "1½\"", "5' 3/4\"", "2 ⅜ in", "3⁄8 in", "٦ mm", "112 %", "0.12", "12", "12 %", "11-13 %", "13-11 %", "39.9 %", "2027-02-30",
    "05/09/2025", "2024-02-29", "2027-12-31 to 2026-01-01", "1999-01-01", "2100-12-31", "every day", "Fri-Mon", "52 weeks", "366 days", "none",
    "all", "easy", "advanced", "Easy", "frame", "all of it", "$0", "$1e9", "€ 5", "5 kWh", "0 kg", "1 mg", "40 t", "0 ml", "A4", "A0", "06", "6",
    "30", "022", "inside", "outside", "circle", "{}", "[]", "!x", "&a", "*a", "<<", "?", "# x", "| x", "\U0010ffff",
)  # fmt: skip


def shapeless(random: Random) -> Any:
    """A value of the wrong kind: a table, a list, nothing, far too many or far too deep."""
    deep: Any = "x"
    for _ in range(random.choice((1, 3, 20, 38, 45, 100))):
        deep = [deep] if random.random() < 0.7 else {"a": deep}
    many: list[Any] = [random.choice(WILD)] * random.choice((2, 30, 500))
    return random.choice((None, [], {}, [[]], [None], {"a": None}, {"all": "1"}, {"easy": {}}, ["1 mm", "2 mm", "3 mm"], ["0 mm"], deep, many))


def wild(random: Random) -> Any:
    pick = random.random()
    return random.choice(WILD) if pick < 0.65 else random.choice(ODD_TEXTS) if pick < 0.85 else shapeless(random)


def sentence(random: Random, most: int = 14) -> str:
    words = [random.choice(WORDS) for _ in range(random.randint(1, most))]
    return " ".join(words).capitalize() + random.choice((".", ".", "!", ""))


def odd_sentence(random: Random) -> str:
    """Words that can be printed, and are hard to: long ones, other alphabets, accents, signs, a whole page of them."""
    words = [random.choice(WORDS if random.random() < 0.5 else PRINTABLE) for _ in range(random.choice((1, 2, 5, 12, 40, 150)))]
    return random.choice((" ", " ", " ", "\u00a0", "\n", "  ")).join(words)


def _inches(mm: float, random: Random) -> str:
    sixteenths = Fraction(max(1, round(mm / MM_PER_INCH * 16)), 16)
    whole, rest = divmod(sixteenths, 1)
    joint = random.choice((" ", "-")) if whole and rest else ""
    return f"{whole or ''}{joint}{rest or ''}" + random.choice((" in", '"', "″", " inches", "in."))


_LENGTHS: tuple[Callable[[float, Random], str], ...] = (
    lambda mm, _: f"{mm:.4g} mm",
    lambda mm, _: f"{mm:.4g}mm",
    lambda mm, _: f"{mm:.5g} millimetres",
    lambda mm, _: f"{mm / 10:.4g} cm",
    lambda mm, _: f"{mm / 10:.2f} cm".replace(".", ","),
    lambda mm, _: f"{mm:.1f}\u00a0mm",
    lambda mm, _: f"{mm / 1000:.3f} m",
    _inches,
)


def length(mm: float, random: Random) -> str:
    """About `mm`, in one of the ways to write it."""
    return _LENGTHS[0 if random.random() < 0.6 else random.randrange(len(_LENGTHS))](mm, random)


def weight(g: float, random: Random) -> str:
    pounds, ounces = divmod(g / G_PER_POUND * 16, 16)
    metric, imperial = (f"{g:.0f} g", f"{g / 1000:.2f} kg"), (f"{g / G_PER_POUND:.2f} lb", f"{pounds + 1:.0f} lb {ounces:.1f} oz")
    return random.choice((*metric, *imperial, "1 1/2 lb", "½ lb"))


def minutes(random: Random) -> str:
    number = random.randint(1, 9)
    return random.choice((f"{number}", f"{number} min", f"{number * 10} s", f"{number}.5", f"{number} minutes", "1 min 30 s"))
