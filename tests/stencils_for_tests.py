"""Kits made by hand for the stencil sheets, and a reader of lines in a PDF that is nobody's writer."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from io import BytesIO
from math import cos, pi, radians, sin
from typing import Any

from pypdf import PdfReader
from pypdf.generic import ContentStream

from lessonkit.geometry import outlines, shape
from lessonkit.geometry.shape import Line, Shape
from lessonkit.pieces.model import Edge, Hole, Kit, Mark, Measure, Part, Piece
from tests.lessons_for_tests import FRAME, ROOM, kit_of

POINT_MM = 25.4 / 72
INCH_ROOM = ROOM.replace("kind: room", "kind: room\nunits: in")

# -- kits


def kit_with(*pieces: Piece, room: str = ROOM, assumed: tuple[str, ...] = ()) -> Kit:
    """The lesson Porthole in buff mid-fire clay, cone 6, 12 %, with other pieces; their parts lettered from A."""
    letters = iter("ABCDEFGHIJKLMNOPQRSTUVWXYZ")
    lettered = tuple(replace(piece, parts=tuple(replace(part, letter=next(letters)) for part in piece.parts)) for piece in pieces)
    return replace(kit_of(FRAME, room), pieces=lettered, assumed=assumed)


def piece_of(name: str, *parts: Part, count: int = 1, face: str = "", thickness_mm: float = 8.0, stick: str = "green", **more: Any) -> Piece:
    return Piece(name, ("easy", "advanced"), count, thickness_mm, stick, 300.0, (), parts, face, "fired", **more)


def measures(**cut_mm: float) -> tuple[Measure, ...]:
    return tuple(Measure(key, key.replace("_", " "), cut * 0.88, cut) for key, cut in cut_mm.items())


def part_of(
    name: str, body: Shape, *, holes: tuple[Hole, ...] = (), marks: tuple[Mark, ...] = (), edges: tuple[Edge, ...] = (), **cut_mm: float
) -> Part:
    return Part(name, "A", body, measures(**cut_mm), holes, marks, edges)


def plate(wide: float, tall: float, corner: float = 0.0, name: str = "plate") -> Piece:
    return piece_of(name, part_of(name, outlines.rectangle(wide, tall, corner), wide=wide, tall=tall))


def disc(across: float, name: str = "disc", count: int = 1) -> Piece:
    return piece_of(name, part_of(name, outlines.circle(across), across=across), count=count)


def ring() -> Piece:
    """181.818 across with an opening of 96.591, a hole, a press line and eight places for rivets."""
    body = shape.with_opening(outlines.circle(181.818), outlines.circle(96.591))
    places = [shape.moved(outlines.circle(12), 69.6 * sin(radians(22.5 + 45 * i)), 69.6 * cos(radians(22.5 + 45 * i))) for i in range(8)]
    marks = (
        Mark("press", outlines.circle(168).outline, True),
        *(Mark("join", place.outline, True, "rivet") for place in places),
        Mark("centre", ((0.0, -90.909), (0.0, 90.909))),
    )
    part = part_of("frame", body, holes=(Hole(0.0, 77.0, 4.545, 4.0),), marks=marks, outside=181.818, opening=96.591)
    return piece_of("frame", part, face="texture side up")


def heart_frame() -> Piece:
    body = shape.with_opening(outlines.rectangle(170.5, 170.5, 3), outlines.heart(90))
    holes = (Hole(-40, 72, 4.545, 4), Hole(40, 72, 4.545, 4))
    part = part_of(
        "window", body, holes=holes, marks=(Mark("centre", ((0, -85.25), (0, 85.25))),), wide=170.5, tall=170.5, opening_wide=90, opening_tall=81.4
    )
    return piece_of("window", part)


def pot() -> Piece:
    """A strip of 266.7 x 102.3 with a lapped joint, quarter marks and a joining zone, and its base of 90.9."""
    wall, base = outlines.rectangle(266.7, 102.3), outlines.circle(90.9)
    left, bottom, right, top = shape.bounds(wall)
    quarters = [Mark("quarter", ((left + 266.7 * k / 4, y), (left + 266.7 * k / 4, y + 8))) for k in (1, 2, 3) for y in (bottom, top - 8)]
    zone = Mark("join", ((left, bottom), (left + 6, bottom), (left + 6, top), (left, top)), True)
    edges = (
        Edge("J", ((left, bottom), (left, top)), 45.0, "inside", 6.0),
        Edge("J", ((right, bottom), (right, top)), 45.0, "outside", 6.0),
        Edge("K", ((left, bottom), (right, bottom))),
    )
    round_marks = tuple(Mark("quarter", ((37 * cos(a), 37 * sin(a)), (45.4 * cos(a), 45.4 * sin(a)))) for a in (0, pi / 2, pi, -pi / 2))
    return piece_of(
        "pot",
        replace(part_of("wall", wall, marks=(*quarters, zone), edges=edges, long=266.7, tall=102.3), notes=("The wall stands on the base.",)),
        part_of("base", base, marks=round_marks, edges=(Edge("K", base.outline),), across=90.9),
        thickness_mm=6.0,
        stick="blue",
    )


# -- a PDF's lines, read from its content stream

Matrix = tuple[float, float, float, float, float, float]


@dataclass(frozen=True, slots=True)
class Drawn:
    """A painted path: its subpaths as points (curves by their ends), mm from the page's top left; `clip` is left, top, right, bottom."""

    subpaths: tuple[Line, ...]
    width_mm: float | None
    dash: tuple[float, ...]
    filled: bool
    clip: tuple[float, float, float, float]

    @property
    def points(self) -> list[tuple[float, float]]:
        return [point for line in self.subpaths for point in line]

    @property
    def bounds(self) -> tuple[float, float, float, float]:
        xs, ys = [x for x, _ in self.points], [y for _, y in self.points]
        return min(xs), min(ys), max(xs), max(ys)


def drawn(pdf: bytes) -> list[list[Drawn]]:
    """Every painted path of every page."""
    return [list(_paths(page, float(page.mediabox.height))) for page in PdfReader(BytesIO(pdf)).pages]


def _paths(page: Any, tall_pt: float) -> Iterator[Drawn]:
    everything = (-1e9, -1e9, 1e9, 1e9)
    stack: list[tuple[Matrix, float, tuple[float, ...], tuple[float, float, float, float]]] = []
    matrix: Matrix = (1, 0, 0, 1, 0, 0)
    width, dash, clip, pending = 1.0, (), everything, False
    path: list[list[tuple[float, float]]] = []

    def place(x: float, y: float) -> tuple[float, float]:
        a, b, c, d, e, f = matrix
        return (a * x + c * y + e) * POINT_MM, (tall_pt - (b * x + d * y + f)) * POINT_MM

    for operands, operator in ContentStream(page.get_contents(), page.pdf).operations:
        match operator.decode():
            case "q":
                stack.append((matrix, width, dash, clip))
            case "Q":
                matrix, width, dash, clip = stack.pop()
            case "cm":
                a, b, c, d, e, f = (float(v) for v in operands)
                A, B, C, D, E, F = matrix
                matrix = (a * A + b * C, a * B + b * D, c * A + d * C, c * B + d * D, e * A + f * C + E, e * B + f * D + F)
            case "w":
                width = float(operands[0]) * abs(matrix[0]) * POINT_MM
            case "d":
                dash = tuple(float(v) * abs(matrix[0]) * POINT_MM for v in operands[0])
            case "m":
                path.append([place(*map(float, operands))])
            case "l":
                path[-1].append(place(*map(float, operands)))
            case "c":
                path[-1].append(place(*map(float, operands[4:])))
            case "h":
                path[-1].append(path[-1][0])
            case "re":
                x, y, w, h = map(float, operands)
                path.append([place(x, y), place(x + w, y), place(x + w, y + h), place(x, y + h), place(x, y)])
            case "W" | "W*":
                pending = True
            case "S" | "s" | "f" | "f*" | "B" | "B*" | "b" | "b*" | "n" as paint:
                if pending:
                    xs, ys = [x for line in path for x, _ in line], [y for line in path for _, y in line]
                    clip = (max(clip[0], min(xs)), max(clip[1], min(ys)), min(clip[2], max(xs)), min(clip[3], max(ys)))
                elif paint != "n":
                    closed = [[*line, line[0]] if paint in "sbb*" else line for line in path]
                    yield Drawn(tuple(map(tuple, closed)), width if paint in "SsBB*bb*" else None, dash, paint not in "Ss", clip)
                path, pending = [], False
