"""A small file for every kind of message, and all that is printed for them in one list, tests/messages.txt, to be read from top to bottom.

After a change that is meant: python -m tests.message_cases
"""

from __future__ import annotations

import ast
from collections.abc import Iterator
from contextlib import chdir
from dataclasses import dataclass, field
from pathlib import Path
from tempfile import TemporaryDirectory

from click.testing import CliRunner

import lessonkit.page
from lessonkit.build import Order, Source, read, work
from lessonkit.cli.commands import main
from lessonkit.layout.card_order import CardOrder
from lessonkit.lesson.log import Log
from lessonkit.planning.log import log_problems
from lessonkit.problems import Problem
from tests.lessons_for_tests import FRAME, ROOM, kit_of
from tests.shapes_for_tests import flat, lesson

USUAL = Order()
LIST = Path(__file__).with_name("messages.txt")
CIRCLE = "circle: {across: 160 mm}"
SVG = '<svg xmlns="http://www.w3.org/2000/svg" width="60mm" height="60mm" viewBox="0 0 60 60">{}</svg>'


@dataclass(frozen=True, slots=True)
class Case:
    """Files, and the kind of problem that they are there for."""

    kind: str
    lesson: str | bytes = FRAME
    room: str | None = ROOM
    beside: dict[str, str] = field(default_factory=dict)  # other files of the lesson's folder
    order: Order = USUAL
    log: str | None = None

    def problems(self) -> list[Problem]:
        if self.log is not None:
            written, problems = read(Source("log.yaml", self.log.encode()), Log)
            found = [*problems, *(log_problems(written, [kit_of(FRAME)]) if written else ())]
        else:
            data = self.lesson if isinstance(self.lesson, bytes) else self.lesson.encode()
            room = Source("room.yaml", self.room.encode()) if self.room else None
            found = list(work(Source("lesson.yaml", data, self._read), room, None, self.order)[1])
        return [problem for problem in dict.fromkeys(found) if problem.kind == self.kind]

    def _read(self, name: str) -> bytes:
        if name.startswith(".."):
            raise ValueError(name)
        if name == "locked.svg":
            raise PermissionError(13, "Permission denied")
        if name not in self.beside:
            raise FileNotFoundError(name)
        return self.beside[name].encode()


def with_line(text: str, old: str = "", new: str = "") -> str:
    """The lesson with this line more, and one that is changed."""
    assert old in FRAME
    return FRAME.replace(old, new, 1) + text if old else FRAME + text


def changed(old: str, new: str, text: str = FRAME) -> str:
    assert old in text, old
    return text.replace(old, new, 1)


def value(kind: str, old: str, new: str) -> Case:
    return Case(kind, changed(old, new))


def piece(text: str) -> Case:
    return Case("wrong-value", lesson(text))


def shape(kind: str, outline: str, more: str = "") -> Case:
    return Case(kind, flat(outline, more))


def form(text: str) -> Case:
    return Case("cannot-be-cut", lesson(text))


def room(kind: str, line: str) -> Case:
    return Case(kind, room=ROOM + line + "\n")


def clay(kind: str, new: str, **more: str) -> Case:
    return Case(kind, room=changed('cone: "6", shrinkage: 12 %, highest_cone: "6"', new, ROOM), **more)


def drawing(inside: str) -> Case:
    return Case(
        "silhouette-refused",
        flat("svg: {file: gull.svg, wide: 60 mm}"),
        beside={"gull.svg": inside if "<svg" in inside or not inside else SVG.format(inside)},
    )


MANY = "[x, x, x, x, x, x, x, x, x]"
BOMB = f"a: &a {MANY}\n" + "".join(f"{b}: &{b} {MANY.replace('x', f'*{a}')}\n" for a, b in ("ab", "bc", "cd", "de", "ef", "fg"))
POINTS = ", ".join(f"[{x} mm, {x * x % 7} mm]" for x in range(4001))

SIZES = (
    "6", "160", "0 mm", "-5 mm", "1/0 in", "12 m", "5 x 7 in", "wide", "1,500 mm", ".nan", "1e3 mm", "0x10 mm", "1:30", "[1 mm, 2 mm]",
)

HOLES = "{circle: {across: 3 mm}, ring: {count: 30, across: 100 mm}}"
WORDY_JOINS = [f"{{name: {'knot behind the mast ' * 3}{n}, circle: {{across: 4 mm}}, at: [{2 * n - 25} mm, 60 mm]}}" for n in range(26)]
IMPOSSIBLE_OUTLINES = (
    "rectangle: {wide: 90 mm, tall: 60 mm, corner: 40 mm}", "arch: {wide: 90 mm, tall: 30 mm}", "teardrop: {wide: 80 mm, tall: 60 mm}",
    "leaf: {wide: 90 mm, tall: 40 mm}", "petals: {count: 6, across: 80 mm, depth: 60 mm}", "scallops: {count: 60, across: 80 mm, depth: 20 mm}",
    "shield: {wide: 80 mm, tall: 50 mm, shoulder: 45 mm}", "crescent: {across: 80 mm, thick: 78 mm}",
    "gable: {wide: 60 mm, tall: 80 mm, eaves: 80 mm}",
    "waves: {wide: 90 mm, tall: 20 mm, count: 3, depth: 30 mm}", "polygon: {sides: 7, flats: 80 mm}", "joined: []",
    "points: [[0 mm, 0 mm], [90 mm, 0 mm], [180 mm, 0 mm], [0 mm, 0 mm]]",
)  # fmt: skip
IMPOSSIBLE_WAYS = (
    (CIRCLE, "openings: [{circle: {across: 9 mm}}, {circle: {across: 60 mm}}]"), (CIRCLE, "openings: [{circle: {across: 20 mm}, at: [70 mm, 0 mm]}]"),
    (CIRCLE, "joins: [{name: handle, circle: {across: 9 mm}, at: [300 mm, 0 mm]}]"),
    (CIRCLE, "openings: [{circle: {across: 60 mm}}], window: {count: 99, wide: 5 mm}"),
    (CIRCLE, "openings: [{circle: {across: 60 mm}}], window: {count: 2, wide: 90 mm}"),
)  # fmt: skip
IMPOSSIBLE_FORMS = (
    "cylinder: {across: 80 mm, tall: 5 mm, measured: outside}", "cone: {bottom: 5 mm, top: 80 mm, tall: 90 mm, measured: outside}",
    "cone: {bottom: 20 mm, top: 400 mm, tall: 2 mm, measured: outside}", "dish: {bottom: 190 mm, rim: 180 mm, tall: 30 mm, measured: outside}",
    "dish: {bottom: 5 mm, rim: 5 mm, tall: 5 mm, measured: outside}", "bowl: {rim: 5 mm, tall: 2 mm, measured: outside}",
    "bowl: {rim: 100 mm, tall: 90 mm, measured: outside}", "box: {wide: 10 mm, deep: 80 mm, tall: 60 mm, measured: outside}",
    "box: {wide: 30 mm, deep: 30 mm, tall: 60 mm, lid: yes, gap: 9 mm, measured: outside}",
    "many_sided: {sides: 2, across: 90 mm, tall: 100 mm, measured: outside}",
    "many_sided: {sides: 6, across: 90 mm, tall: 90 mm, measured: outside, lean: 80}",
    "many_sided: {sides: 6, across: 90 mm, tall: 200 mm, measured: outside, lean: -30}",
    "hut: {wide: 90 mm, deep: 90 mm, tall: 71 mm, eaves: 70 mm, gap: 1 mm, measured: outside}",
    "hut: {wide: 30 mm, deep: 30 mm, tall: 90 mm, eaves: 50 mm, gap: 9 mm, measured: outside}",
    "pocket: {wide: 130 mm, tall: 180 mm, deep: 40 mm, pouch: 190 mm, measured: outside}",
    "pocket: {wide: 130 mm, tall: 180 mm, deep: 3 mm, measured: outside}", "coil_pot: {across: 30 mm, tall: 90 mm, coil: 25 mm, measured: outside}",
    "coil_pot: {across: 90 mm, tall: 90 mm, coil: 9 mm, measured: outside, "
    "profile: [{across: 90 mm}, {height: 90 mm, across: 60 mm}, {height: 90 mm, across: 50 mm}]}",
    "coil_pot: {across: 90 mm, tall: 90 mm, coil: 9 mm, measured: outside, profile: [{height: 90 mm, across: 90 mm}]}",
)  # fmt: skip
WRONG_FORMS = (
    "many_sided: {sides: 6, tall: 90 mm, measured: outside}", "box: {wide: 90 mm, deep: 80 mm, tall: 60 mm, measured: outside, lid: yes}",
    "coil_pot: {across: 90 mm, tall: 90 mm, coil: 9 mm, measured: outside, profile: [{across: 60 mm}, {height: 90 mm, across: 60 mm}]}",
    "coil_pot: {across: 90 mm, tall: 90 mm, coil: 9 mm, measured: outside, profile: [{across: 60 mm}, {height: 80 mm, across: 90 mm}]}",
    "cut_at: leather-hard, pinch: {across: 80 mm, tall: 40 mm, ball: 180 g, measured: outside}", f"count: 0, flat: {{outline: {{{CIRCLE}}}}}",
)  # fmt: skip
WRONG_DATES = ("make: 1027-05-07", "make: 2027-05-07, in_hands: 2027-05-01", "make: 2027-05-07, dry: long", "make: 2027-05-07, dry: 60 weeks",
               "make: 2027-05-07, paint: some time")  # fmt: skip
WRONG_IN_ROOM = (
    "check: {minutes: 0}", "check: {minutes: 30 s, peer: 45 s}", "buying: {bags: [{clay: porcelain, weight: 25 lb, price: $28}]}",
    "groups: [{name: Tuesday}]", "groups: [{name: Tuesday, levels: {easy: 900, advanced: 900}}]",
    "calendar: {sessions: Mon-Wed-Fri}", "calendar: {sessions: []}", "racks: [{name: rack, shelves: 0, wide: 1 m, deep: 60 cm}]",
    "slab: {wide: 300 mm, long: 500 mm, margin: -5 mm}", "kiln: {shelf: {round: 40 cm, wide: 40 cm, deep: 40 cm}, stack: 66 cm}",
    "kiln: {shelf: {round: 40 cm}, stack: 66 cm, shelves: 0}", "rubric: [good]", "reading: {eazy: {grade: 3}}", "read_from: 90 m",
)
WRONG_IN_LOG = ("made: 24, lost: 26", "minutes: {all: 34, cut: 12}")
UNREADABLE_DRAWINGS = (
    "<image/>", '<svg xmlns="http://www.w3.org/2000/svg" width="60km" viewBox="0 0 60 60"><rect width="9" height="9"/></svg>',
    '<svg xmlns="http://www.w3.org/2000/svg" viewBox="a b"><rect width="9" height="9"/></svg>', '<use href="other.svg#a"/>',
    '<g id="a"><use href="#a"/></g>', '<path d="M0 0 H9"/>',
    '<rect width="40" height="40"/><rect x="5" y="5" width="30" height="30"/><rect x="9" y="9" width="5" height="5"/>',
    '<path d="M0 0 L9 0 L0 0 Z"/>', "<html><svg/></html>", '<rect width="9" height="9" transform="scale(1e300)"/>',
    '<polygon points="a b c"/>', '<rect width="some" height="9"/>',
    '<rect width="9" height="9" transform="spin(9)"/>', '<rect width="9" height="9" transform="scale(1e9)"/>',
    '<rect width="9" height="9" style="transform: scale(2)"/>',
    '<path d="M0 0 H1e99 V9 Z"/>', '<!DOCTYPE svg [<!ENTITY a "b">]><svg xmlns="http://www.w3.org/2000/svg"/>',
    "".join(f'<rect x="{4 * n}" width="2" height="2"/>' for n in range(300)), f'<path d="M0 0{" H9 V9" * 30000} Z"/>', "<g>" * 200 + "</g>" * 200,
    "<svg><style>" + "a{}" * 200_000 + "</style></svg>", "<svg>" + " " * 5_000_001 + "</svg>",
)  # fmt: skip
INCHES = ROOM.replace("paper:", "units: in\npaper:")
COLANDERS = "pieces:\n" + "".join(f"  - {{name: p{n}, flat: {{outline: {{{CIRCLE}}}, openings: [{HOLES}]}}}}\n" for n in range(60))

CASES: dict[str, tuple[Case, ...]] = {
    "The file": (
        Case("file-too-large", b"#" * 1_000_001),
        Case("empty-file", b""),
        Case("not-utf-8", "title: Jarr\xf3n\n".encode("cp1252")),
        Case("not-a-text", b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR"),
        Case("not-utf-8", "title: Porthole".encode("utf-16-le")),
        Case("not-a-table", "Roll the slab.\n"),
        Case("control-character", "title: Port\x07hole\n"),
        Case("control-character", "title: Port\u200bhole\n"),
        Case("tab", "title: Porthole\npieces:\n\t- name: frame\n"),
        Case("duplicate-name", "title: Porthole\ntitle: Window\n"),
        Case("colon-in-text", "title: Mugs: part 2\n"),
        Case("needs-quotes", 'prepare:\n  - "Score" both edges\n'),
        Case("needs-quotes", "prepare:\n  - @table 2\n"),
        Case("needs-quotes", "prepare:\n  - !wet the edge\n"),
        Case("needs-quotes", "% slip\n"),
        Case("unknown-label", "prepare:\n  - *score both edges\n"),
        Case("unused-label", changed("A round frame.", "&round frame")),
        Case("endless-repeat", "title: &a [*a]\n"),
        Case("too-many-values", BOMB),
        Case("too-deep", "title: " + "[" * 50),
        Case("nothing-to-take-over", "pieces: {<<: thin, name: a}\n"),
        Case("several-documents", "title: a\n---\ntitle: b\n"),
        Case("several-documents", "title: a\n...\ntitle: b\n"),
        Case("open-quote", 'title: "Porthole\nabout: A frame.\n'),
        Case("open-bracket", "prepare: [wet, dry\nabout: A frame.\n"),
        Case("backslash", 'title: "C:\\mugs"\n'),
        Case("missing-space", "title: Porthole\nabout:A frame.\n"),
        Case("missing-space", "prepare:\n  -Roll it.\n  - Cut it.\n"),
        Case("no-colon", "title: Porthole\nabout\ntechnique: slab\n"),
        Case("no-name", "title: Porthole\n: slab\n"),
        Case("name-not-text", "[title]: Porthole\n"),
        Case("long-name", "x" * 2000 + ": 1\n"),
        Case("dash-in-line", "prepare: - Roll it.\n"),
        Case("indentation", "title: Porthole\n  about: A frame.\n"),
        Case("indentation", "prepare:\n  - Roll it.\n - Cut it.\n"),
        Case("indentation", "prepare:\n  - Roll it.\n   - Cut it.\n"),
        Case("unreadable-line", "title: }\n"),
        Case("text-after-hash", changed("A round frame.", "A frame # of clay")),
    ),
    "Words that stand where they can't": (
        Case("unknown-word", with_line("cautoins: [Hot.]\n")),
        Case("unknown-word", with_line("quarterdeck: [Hot.]\n")),
        value("missing-word", "technique: slab\n", ""),
        value("wrong-value", "technique: slab", "technique: slap"),
        value("wrong-value", "technique: slab", "technique: weaving"),
        value("wrong-value", "about: A round frame.", "about: {Note: keep it damp}"),
        value("wrong-value", "about: A round frame.", "about:"),
        value("wrong-value", "about: A round frame.", 'about: "  "'),
        value("wrong-value", "about: A round frame.", "about: [A round frame.]"),
        room("wrong-value", "needle: 24 mm"),
        value("wrong-value", "minutes: 8", "minutes: soon"),
        value("wrong-value", "    hang: {holes: 1, across: 4 mm}", "    count: 2.5"),
        value("wrong-value", "    hang: {holes: 1, across: 4 mm}", "    count: 0"),
        value("wrong-value", "    hang: {holes: 1, across: 4 mm}", "    count: 999999"),
        value("wrong-value", "text: Cut the ring. It is {frame cut} wide.", "together: perhaps"),
        value("wrong-value", "    text: Cut the ring. It is {frame cut} wide.\n", ""),
        value("wrong-value", FRAME[FRAME.index("steps:") :], "steps: []\n"),
        value("wrong-value", FRAME[FRAME.index("steps:") :], "steps: Cut the ring.\n"),
        value("wrong-value", "name: frame", "name: " + "very " * 20 + "long"),
        value("too-many", FRAME[FRAME.index("steps:") :], "steps:\n" + "  - {id: cut, title: Cut, minutes: 8, text: Cut it.}\n" * 101),
        shape("too-many", f"points: [{POINTS}]"),
        value("too-long", "Cut the ring.", "tide " * 5001),
        value("too-long", "Cut the ring.", "cut" * 51),
        value("too-long", "steps:\n", "steps:\n" + "".join(f"  - {{id: {a}, title: Cut, minutes: 8, text: {'tide ' * 4000}}}\n" for a in "abc")),
        value("too-long", "Cut the ring.", ("w" * 99 + " ") * 900),
        value("missing-letter", "title: Porthole", "title: Porthole \U0001f600"),
        value("missing-letter", "title: Porthole", "title: \u0e2a\u0e27\u0e31\u0e2a\u0e14\u0e35"),
        value("missing-accent", "title: Porthole", "title: Q\u0301ort"),
        value("right-to-left", "title: Porthole", "title: \u05e9\u05dc\u05d5\u05dd"),
    ),
    "Names": (
        value("unknown-clay", "clay: buff mid-fire", "clay: buff mid-fired"),
        value("unknown-clay", "clay: buff mid-fire", "clay: porcelain"),
        value("unknown-picture", "picture: trace", "picture: tracing"),
        value("unknown-piece", "picture: trace", "piece: ring"),
        value("unknown-station", "picture: trace", "station: table"),
        value("unknown-level", "text: Cut the ring. It is {frame cut} wide.", "levels: {eazy: Cut the ring.}"),
        value("unknown-word", "picture: trace", "word: slip"),
        Case("unknown-step", with_line("stations:\n  - {name: Join, steps: [cutt], do: [Cut it.]}\n")),
        value("unknown-fill-in", "{frame cut}", "{frame cat}"),
        value("same-name", "steps:\n", "steps:\n  - {id: Cut, title: Roll, picture: roll, minutes: 8, text: Roll it.}\n"),
        value("no-title", "title: Cut the ring", "title: {easy: Cut the ring}"),
        value("no-text", "text: Cut the ring. It is {frame cut} wide.", "levels: {easy: Cut the ring.}\n    only: [easy, advanced]"),
        value("no-minutes", "minutes: 8", "minutes: {easy: 8}"),
        Case("no-picture", changed("Cut the ring. It is {frame cut} wide.", "Be quick.", changed("Cut the ring\n    picture: trace", "Now"))),
    ),
    "Sizes": (
        *(shape("wrong-value", f"circle: {{across: {size}}}") for size in SIZES),
        shape("doubtful-length", "circle: {across: 11/4 in}"),
        shape("wrong-value", CIRCLE, "openings: [{circle: {across: 9 mm}, at: [5 mm]}]"),
        shape("wrong-value", CIRCLE, "openings: [{circle: {across: 9 mm}, at: 5 mm}]"),
        shape("wrong-value", CIRCLE, "openings: [{circle: {across: 9 mm}, at: [5, 0 mm]}]"),
        shape("wrong-value", CIRCLE, "openings: [{circle: {across: 9 mm}, turn: steep}]"),
        shape("wrong-value", "circle: {across: 1 3/2 in}"),
        shape("wrong-value", 'circle: {across: "1,500 mm"}'),
        shape("wrong-value", "circle: {across: 5 ft 3 ft}"),
        *(piece(f"pinch: {{across: 80 mm, tall: 40 mm, measured: outside, ball: {ball}}}") for ball in ("5", "0 g", "3 mm")),
        *(value("wrong-value", "minutes: 8", f"minutes: {minutes}") for minutes in ("-1", "3 days")),
        *(Case("wrong-value", with_line(f"dates: {{{dates}}}\n")) for dates in WRONG_DATES),
    ),
    "Shapes": (
        piece("count: 1"),
        piece(f"flat: {{outline: {{{CIRCLE}}}}}, pinch: {{across: 80 mm, tall: 40 mm, ball: 180 g, measured: outside}}"),
        Case("missing-word", lesson("cylinder: {across: 80 mm, tall: 95 mm}")),
        piece("cylinder: {across: 80 mm, tall: 95 mm, measured: outside}, hang: {across: 4 mm}"),
        piece(f"flat: {{outline: {{{CIRCLE}}}}}, hang: {{holes: 3, across: 4 mm}}"),
        piece(f"flat: {{outline: {{{CIRCLE}}}}}, hang: {{holes: 2, across: 4 mm}}"),
        piece(f"flat: {{outline: {{{CIRCLE}}}}}, hang: {{across: 4 mm, at: [0 mm, 9 mm], from_edge: 9 mm}}"),
        shape("wrong-value", f"{CIRCLE}, heart: {{wide: 90 mm}}"),
        shape("wrong-value", "polygon: {sides: 6}"),
        shape("wrong-value", "svg: {file: gull.svg}"),
        shape("wrong-value", CIRCLE, "openings: [{at: [0 mm, 0 mm]}]"),
        shape("wrong-value", CIRCLE, "openings: [{shows: 4 x 6 in photo}]"),
        shape("wrong-value", CIRCLE, "openings: [{holds: tealight}]"),
        shape("wrong-value", CIRCLE, "openings: [{circle: {across: 9 mm}, lip: 6 mm}]"),
        shape("wrong-value", CIRCLE, "openings: [{circle: {across: 9 mm}, at: [0 mm, 0 mm], ring: {count: 3, across: 60 mm}}]"),
        shape("wrong-value", CIRCLE, "openings: [{circle: {across: 9 mm}, ring: {count: 300, across: 60 mm}}]"),
        value("too-many-points", FRAME[FRAME.index("pieces:") : FRAME.index("steps:")], COLANDERS),
        shape("cannot-be-cut", "points: [[0 mm, 0 mm], [100 mm, 100 mm], [0 mm, 100 mm], [100 mm, 0 mm]]"),
        shape("cannot-be-cut", "points: [[0 mm, 0 mm], [100 mm, 100 mm]]"),
        shape("cannot-be-cut", "points: [[0 mm, 0 mm], [50 mm, 50 mm], [100 mm, 100 mm]]"),
        shape("cannot-be-cut", "polygon: {sides: 2, across: 90 mm}"),
        shape("cannot-be-cut", "star: {points: 5, across: 90 mm, depth: 60 mm}"),
        shape("cannot-be-cut", "star: {points: 99, across: 90 mm, depth: 6 mm}"),
        shape("cannot-be-cut", "joined: [{circle: {across: 20 mm}}, {circle: {across: 20 mm}, at: [90 mm, 0 mm]}]"),
        shape("cannot-be-cut", f"{CIRCLE}, cut_away: [{{rectangle: {{wide: 200 mm, tall: 9 mm}}}}]"),
        shape("cannot-be-cut", f"{CIRCLE}, cut_away: [{{circle: {{across: 200 mm}}}}]"),
        shape("cannot-be-cut", f"{CIRCLE}, rounded: {{outside: 90 mm}}"),
        shape("cannot-be-cut", CIRCLE, "openings: [{circle: {across: 9 mm}, at: [300 mm, 0 mm]}]"),
        shape("cannot-be-cut", CIRCLE, "openings: [{circle: {across: 60 mm}}, {circle: {across: 9 mm}}]"),
        shape("cannot-be-cut", CIRCLE, "openings: [{circle: {across: 200 mm}}]"),
        shape("cannot-be-cut", CIRCLE, "openings: [{rectangle: {wide: 200 mm, tall: 9 mm}}]"),
        shape(
            "cannot-be-cut",
            CIRCLE,
            "openings: [{circle: {across: 1 mm}, ring: {count: 150, across: 90 mm}}, {circle: {across: 1 mm}, ring: {count: 90, across: 60 mm}}]",
        ),
        shape("cannot-be-cut", CIRCLE, "openings: [{shows: a big photo, lip: 6 mm}]"),
        shape("cannot-be-cut", CIRCLE, "openings: [{shows: 2 x 3 in photo, lip: 30 mm}]"),
        shape("cannot-be-cut", CIRCLE, "openings: [{holds: a lamp, clearance: 1 mm}]"),
        shape("cannot-be-cut", CIRCLE, "press: [{inset: 90 mm}]"),
        form(f"flat: {{outline: {{{CIRCLE}}}}}, hang: {{across: 4 mm, at: [300 mm, 0 mm]}}"),
        form("cut_at: leather-hard, " + f"flat: {{outline: {{{CIRCLE}}}}}"),
        form("cylinder: {across: 10 mm, tall: 95 mm, measured: outside}"),
        form("coil_pot: {across: 200 mm, tall: 2900 mm, coil: 1 mm, measured: outside}"),
    ),
    "Outlines and forms that can't be": (
        *(shape("cannot-be-cut", outline) for outline in IMPOSSIBLE_OUTLINES),
        *(shape("cannot-be-cut", *way) for way in IMPOSSIBLE_WAYS),
        *(form(text) for text in IMPOSSIBLE_FORMS),
        *(piece(text) for text in WRONG_FORMS),
        Case("cannot-be-cut", FRAME.replace("across: 4 mm", "across: 4 mm, from_edge: 60 mm")),
        Case("cannot-be-cut", flat("rectangle: {wide: 90 mm, tall: 1 mm}"), ROOM + "needle: 2 mm\n"),
        form(f"flat: {{outline: {{{CIRCLE}}}}}, hang: {{holes: 2, across: 4 mm, apart: 200 mm}}"),
        Case("cannot-be-cut", flat(CIRCLE, "openings: [{circle: {across: 1 mm}}], window: {count: 2, wide: 5 mm}"), ROOM + "needle: 2 mm\n"),
    ),
    "The same and what a piece will do, in a room of inches": (
        Case("cannot-be-cut", flat("star: {points: 5, across: 3 1/2 in, depth: 2 in}"), INCHES),
        Case("cannot-be-cut", flat("points: [[0 in, 0 in], [4 in, 4 in], [0 in, 4 in], [4 in, 0 in]]"), INCHES),
        Case("cannot-be-cut", lesson("cylinder: {across: 3/8 in, tall: 4 in, measured: outside}"), INCHES),
        Case("cannot-be-cut", flat("rectangle: {wide: 100 in, tall: 100 in}"), INCHES),
        Case("hole-near-edge", lesson(f"flat: {{outline: {{{CIRCLE}}}}}, hang: {{across: 4 mm, from_edge: 8 mm}}"), INCHES),
        Case("thin-border", flat(CIRCLE, "openings: [{circle: {across: 140 mm}}]"), INCHES),
        Case("sharp-inner-corner", flat(CIRCLE, "openings: [{rectangle: {wide: 40 mm, tall: 40 mm}}]"), INCHES),
        Case("no-vent", lesson("pinch: {across: 80 mm, tall: 40 mm, ball: 180 g, closed: yes, measured: outside}"), INCHES),
        Case("slab-thick", flat(CIRCLE).replace("thickness: 6 mm", "thickness: 9/16 in"), INCHES),
    ),
    "Drawings": (
        shape("silhouette-missing", "svg: {file: gull.svg, wide: 60 mm}"),
        shape("silhouette-elsewhere", "svg: {file: ../gull.svg, wide: 60 mm}"),
        shape("silhouette-unreadable", "svg: {file: locked.svg, wide: 60 mm}"),
        Case("too-many-silhouettes", flat("joined: [" + ", ".join(f"{{svg: {{file: {n}.svg, wide: 9 mm}}}}" for n in range(21)) + "]")),
        drawing(""),
        drawing("<p>hello</p>"),
        drawing("<svg><path"),
        drawing("<text>A</text>"),
        drawing('<path d="M0 0 H50 V50"/>'),
        drawing('<path d="M0 0 H50 L0 50 L50 50 Z"/>'),
        drawing('<rect width="9" height="9"/><rect x="30" width="9" height="9"/>'),
        drawing('<path d="M0 0 Q"/>'),
        *(drawing(inside) for inside in UNREADABLE_DRAWINGS),
    ),
    "What a piece will do": (
        Case("slab-thin", changed("thickness: 6 mm", "thickness: 4 mm", flat(CIRCLE))),
        Case("slab-thick", changed("thickness: 6 mm", "thickness: 14 mm", flat(CIRCLE))),
        Case("no-sticks", changed("thickness: 6 mm", "thickness: 7 mm", flat(CIRCLE)).replace("Cut it.", "'Roll on the {boat stick}.'")),
        Case("hole-near-edge", lesson(f"flat: {{outline: {{{CIRCLE}}}}}, hang: {{across: 4 mm, from_edge: 8 mm}}")),
        Case("hangs-crooked", lesson(f"flat: {{outline: {{{CIRCLE}}}}}, hang: {{across: 4 mm, at: [5 mm, 60 mm]}}")),
        Case("hangs-crooked", lesson(f"flat: {{outline: {{{CIRCLE}}}}}, hang: {{across: 4 mm, at: [0 mm, 0 mm]}}")),
        shape("thin-border", "circle: {across: 100 mm}", "openings: [{circle: {across: 80 mm}}]"),
        shape("narrow-neck", "joined: [{circle: {across: 60 mm}, ring: {count: 2, across: 80 mm}}, {rectangle: {wide: 6 mm, tall: 60 mm}}]"),
        shape("press-splits", "joined: [{circle: {across: 60 mm}, ring: {count: 2, across: 80 mm}}, {rectangle: {wide: 30 mm, tall: 60 mm}}]",
              "press: [{inset: 20 mm}]"),
        shape("sharp-inner-corner", "star: {points: 5, across: 160 mm, depth: 40 mm}"),
        clay(
            "photo-falls-through",
            'cone: "6", shrinkage: 8 to 16 %, highest_cone: "6"',
            lesson=flat(CIRCLE, "openings: [{shows: 3 x 4 in photo, lip: 2 mm}]"),
        ),
        clay(
            "photo-covered",
            'cone: "6", shrinkage: 8 to 16 %, highest_cone: "6"',
            lesson=flat("circle: {across: 260 mm}", "openings: [{shows: 6 x 8 in photo, lip: 6 mm}]"),
        ),
        Case("unlike-clays", lesson(f"clay: white low-fire, flat: {{outline: {{{CIRCLE}}}}}")),
        Case("no-vent", lesson("pinch: {across: 80 mm, tall: 40 mm, ball: 180 g, closed: yes, measured: outside}")),
        shape("not-folded", "crescent: {across: 160 mm, thick: 50 mm}", "fold: yes"),
        Case("hole-lost", flat(CIRCLE, "openings: [{circle: {across: 2 mm}}]"), ROOM + "machine_cut: 3 mm\n"),
        Case("larger-than-slab", flat("circle: {across: 300 mm}"), ROOM + "slab: {wide: 300 mm, long: 500 mm}\n"),
        Case("larger-than-shelf", flat("circle: {across: 500 mm}"), ROOM + "kiln: {shelf: {round: 40 cm}, stack: 66 cm}\n"),
        shape("cannot-be-cut", "circle: {across: 1200 mm}"),
        Case("dry-support", with_line("dries_on: a glazed plate\n")),
        Case("unknown-support", with_line("dries_on: moon dust\n")),
    ),
    "Texts": (
        value("long-sentence", "Cut the ring.", "Cut " + "and turn the ring " * 8 + "."),
        value("hard-words", "Cut the ring. It is {frame cut} wide.", "Compress the circumference immediately."),
        value("hard-words", "Cut the ring. It is {frame cut} wide.", "Before after under over into upon about along."),
        Case("rubric-columns", with_line("rubric: [{look: the edge, says: [rough, smooth]}]\n")),
        Case(
            "no-room-on-card",
            changed("title: Cut the ring", "title: " + "Hm " * 33),
            changed("New to this", "Hm " * 33, ROOM),
            order=Order(cards=CardOrder("large")),
        ),
        Case("no-room-on-stencil", flat(CIRCLE, f"joins: [{', '.join(WORDY_JOINS)}]")),
        Case("empty-backs", order=Order(cards=CardOrder(backs="long-edge"))),
        Case(
            "no-words-for-reading",
            changed("text: Cut the ring. It is {frame cut} wide.", "levels: {easy: Cut it.}"),
            order=Order(cards=CardOrder(reading="full")),
        ),
    ),
    "Translations": (
        Case("no-translation", order=Order(cards=CardOrder(languages=("es",)))),
        Case("not-translated", beside={"lesson.es.yaml": "title: Ojo de buey\n"}),
        Case("unknown-step", beside={"lesson.es.yaml": "steps: {cutt: {title: Corta}}\n"}),
        Case("unknown-level", beside={"lesson.es.yaml": "levels: {eazy: Nuevo}\n"}),
        Case(
            "uneven-lines",
            with_line("stations:\n  - {name: Join, do: [Score it., Join it.]}\n"),
            beside={"lesson.es.yaml": "stations: {Join: {do: [Raya.]}}\n"},
        ),
    ),
    "The room": (
        clay("unknown-cone", 'cone: "66", shrinkage: 12 %, highest_cone: "6"'),
        clay("clay-too-hot", 'cone: "8", shrinkage: 12 %, highest_cone: "6"'),
        Case("clay-too-hot", with_line('cone: "9"\n')),
        Case("no-shrinkage-at-cone", with_line('cone: "5"\n')),
        Case("unknown-cone", with_line("cone: hot\n")),
        clay("bars-disagree", 'cone: "6", shrinkage: 12 %, highest_cone: "6", bars: [{wet: 100 mm, fired: 80 mm, cone: "6"}]'),
        clay(
            "bars-apart",
            'cone: "6", highest_cone: "6", bars: [' + ", ".join(f'{{wet: 100 mm, fired: {mm} mm, cone: "6"}}' for mm in (62, 62, 80)) + "]",
        ),
        room("cool-bisque", 'kiln: {shelf: {round: 40 cm}, stack: 66 cm, bisque_cone: "018"}'),
        room("unknown-cone", "kiln: {shelf: {round: 40 cm}, stack: 66 cm, bisque_cone: red}"),
        *(clay("wrong-value", f'cone: "6", shrinkage: {share}, highest_cone: "6"') for share in ("0.12", "112", "-5", "40 %", "12 to 10 %", "some")),
        clay("wrong-value", 'cone: "6", highest_cone: "6"'),
        clay("wrong-value", 'cone: "6", highest_cone: "6", bars: [{wet: 90 mm, fired: 98 mm, cone: "6"}]'),
        Case("wrong-value", room=changed("[A4, Letter]", "Leter", ROOM)),
        Case("wrong-value", room=changed("advanced: Done this before", "more: Done this before", ROOM)),
        Case("wrong-value", room=changed("name: blue", "name: green", ROOM)),
        Case("wrong-value", room=changed("kind: room", "kind: rooms", ROOM)),
        room("wrong-value", "printed: {across: 170 mm, down: 200 mm}"),
        room("wrong-value", "minutes: {period: 40, arrive: 20, clean: 30}"),
        room("wrong-value", "groups: [{name: Tuesday, people: 0}]"),
        room("wrong-value", "groups: [{name: Tuesday, people: 24.5}]"),
        room("wrong-value", "groups: [{name: Tuesday, people: 24, levels: {easy: 13}}]"),
        room("wrong-value", "groups: [{name: Tuesday, people: 9}, {name: Tuesday, people: 8}]"),
        room("wrong-value", "groups: [{name: Tuesday, levels: {eazy: 9}}]"),
        room("wrong-value", "kiln: {shelf: {wide: 40 cm}, stack: 66 cm}"),
        room("wrong-value", "kiln: {shelf: {round: 40 cm}, inside: {round: 30 cm}, stack: 66 cm}"),
        room("wrong-value", "kiln: {shelf: {round: 40 cm}, stack: 66 cm, opens_below: 400}"),
        room("wrong-value", "calendar: {term: 05/09/2027 to 2027-12-20}"),
        room("wrong-value", "calendar: {term: 2027-12-20 to 2027-09-05}"),
        room("wrong-value", "calendar: {term: 2027-02-30}"),
        room("wrong-value", "calendar: {region: TX}"),
        room("wrong-value", "calendar: {sessions: Mun}"),
        room("wrong-value", "buying: {bags: [{weight: 25 lb, price: $28}, {weight: 10 kg, price: 20 EUR}]}"),
        room("wrong-value", "buying: {slip: 1 pint}"),
        room("wrong-value", "buying: {spare: 0.1}"),
        room("wrong-value", "tools: [{name: fork, count: some}]"),
        *(room("wrong-value", line) for line in WRONG_IN_ROOM),
        Case("wrong-value", room=changed("{easy: New to this, advanced", "{easy: New to this, a/b: Some, advanced", ROOM)),
        clay("wrong-value", 'cone: "6", highest_cone: "6", bars: [{wet: 100 mm, fired: 8 mm, cone: "6"}]'),
        clay("wrong-value", 'cone: "6", highest_cone: "6", shrinkage: 12 %, density: 1950'),
    ),
    "The log": (
        Case("unknown-step", log="kind: log\nclasses:\n  - {lesson: Porthole, made_on: 2027-04-09, minutes: {cutt: 9}}\n"),
        Case("wrong-value", log="kind: log\nclasses:\n  - {lesson: Porthole, made_on: 2027-04-09, lost: 2}\n"),
        Case("wrong-value", log="kind: log\nclasses:\n  - {lesson: Porthole, made_on: 9 April}\n"),
        *(Case("wrong-value", log=f"kind: log\nclasses:\n  - {{lesson: Porthole, made_on: 2027-04-09, {more}}}\n") for more in WRONG_IN_LOG),
    ),
}

COMMANDS: tuple[str, ...] = (
    "biuld", "build --ot x", "build lessson.yaml", "build missing.yaml", "build lesson.yaml --paper Leter",
    "build lesson.yaml --only stencil", "build lesson.yaml --level eazy",
    "build lesson.yaml --format 3", "build lesson.yaml --language fr", "build lesson.yaml --sets 0", "build lesson.yaml --room none.yaml",
    "build lesson.yaml --format strip --backs long-edge", "build lesson.yaml --format strip --reading full", "build empty",
    "build lesson.yaml --clay porcelain", "check empty", "check missing.yaml", "sizes missing.yaml",
    "new", "new lesson.yaml", "new pot.yaml --form vase", "plan lesson.yaml --group Monday", "plan lesson.yaml --today 05/09/2027",
    "plan lesson.yaml --glaze-cone hot", "plan lesson.yaml --log none.yaml", "plan lesson.yaml --seed -1", "schema lessons",
    "gallery --paper Leter", "room none.yaml", "room empty", "open empty",
    "build lesson.yaml/", "check .", "check folder.yaml",
)  # fmt: skip


KILN = "kiln: {shelf: {round: 40 cm}, stack: 66 cm"
PLANS: tuple[tuple[str, str, str], ...] = (  # lines more of the lesson, of the room, and options
    ("", "kiln: {shelf: {round: 40 cm}, stack: 2 cm}", ""),
    ("", "units: in\nkiln: {shelf: {round: 10 cm}, stack: 66 cm}", ""),
    ("", f"{KILN}, posts: [5 mm]}}", ""),
    ("", f"{KILN}, shelves: 1, beside: 2}}", ""),
    ("", f"{KILN}}}", "--glaze-cone 10"),
    ("dates: {make: 2027-04-09}", "calendar: {closed: [2027-04-09]}", ""),
    ("dates: {make: 2027-04-09}", "calendar: {closed: [{days: 2027-04-09, why: staff day}]}", ""),
    ("dates: {in_hands: 2027-05-07}", "calendar: {closed: [2024-01-01 to 2029-12-31]}", ""),
    ("dates: {make: 2027-04-09}", "calendar: {country: QQ}", ""),
    ("dates: {make: 2027-04-09}", "calendar: {country: US, region: QQ}", ""),
    ("", "", "--ics term.ics"),
)


def not_planned() -> Iterator[str]:
    runner = CliRunner()
    with TemporaryDirectory() as folder, chdir(folder):
        for lesson_more, room_more, options in PLANS:
            Path("lesson.yaml").write_text(FRAME + lesson_more + "\n")
            Path("room.yaml").write_text(ROOM + room_more + "\n")
            result = runner.invoke(main, ["plan", "lesson.yaml", *options.split()], prog_name="lessonkit")
            yield from (f"  {line}" for line in result.stderr.splitlines())
        Path("other").mkdir()
        Path("other/pot.yaml").write_text(FRAME)
        Path("other/room.yaml").write_text(ROOM.replace("Saltmarsh", "Hill"))
        yield from (f"  {line}" for line in runner.invoke(main, ["plan", "lesson.yaml", "other"], prog_name="lessonkit").stderr.splitlines())


def on_the_page() -> Iterator[str]:
    """What the page in the browser may be refused, as its source says it; … stands for what is filled in."""
    for path in sorted(Path(lessonkit.page.__file__).parent.glob("*.py")):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Call) and getattr(node.func, "id", "") == "Refused" and len(node.args) > 2:
                what, hint = map(_in_words, node.args[1:3])
                if set(what + hint) - {"…"}:
                    yield f"  {what} {hint}"


def _in_words(text: ast.expr) -> str:
    parts = text.values if isinstance(text, ast.JoinedStr) else [text]
    return "".join(str(part.value) if isinstance(part, ast.Constant) else "…" for part in parts)


def printed() -> Iterator[str]:
    yield "Every message there is, each with what brings it about. This list is made by tests/message_cases.py and is not edited by hand."
    for section, cases in CASES.items():
        yield f"\n\n== {section}"
        shown = ""
        for case in cases:
            if case.kind != shown:
                yield f"\n{case.kind}"
            shown = case.kind
            yield from (f"  {problem}" for problem in case.problems()[:1])
    yield "\n\n== What can't be planned\n"
    yield from not_planned()
    yield "\n\n== What the page in the browser may be refused\n"
    yield from sorted(set(on_the_page()))
    yield "\n\n== Commands that can't be run"
    runner = CliRunner()
    with TemporaryDirectory() as folder, chdir(folder):
        Path("lesson.yaml").write_text(FRAME)
        Path("room.yaml").write_text(ROOM)
        Path("empty").mkdir()
        Path("folder.yaml").mkdir()
        for command in COMMANDS:
            result = runner.invoke(main, command.split(), prog_name="lessonkit")
            yield f"\n$ lessonkit {command}"
            yield from (f"  {line}" for line in result.output.splitlines())


def messages() -> str:
    return "\n".join(printed()) + "\n"


if __name__ == "__main__":
    LIST.write_text(messages(), encoding="utf-8")
