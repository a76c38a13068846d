"""Tools and hands, true to the trade. Each is drawn with its tip at (0, 0) and its body along +x, in units."""

from __future__ import annotations

from functools import cache, lru_cache

from lessonkit.forgetting import of_a_lesson
from lessonkit.geometry.areas import Area, area, bar
from lessonkit.geometry.drafting import arc, blob, curve, disc, raw_edge, ribbon
from lessonkit.geometry.shape import Line
from lessonkit.layout.pictures.grammar import Tool


def _turned_handle(x0: float, x1: float, neck: float, belly: float, end: float) -> Area:
    """Wood from the lathe: a neck, a belly, a rounded end."""
    m = x0 + (x1 - x0) * 0.38
    upper = [(x0, -neck), (m, -belly), (x1 - 3, -end), (x1, -end * 0.55)]
    return blob(upper + [(x, -y) for x, y in upper[::-1]])


@cache
def needle() -> Tool:
    steel = area([(0, 0), (3, -0.5), (16, -0.65), (16, 0.65), (3, 0.5)])
    return (("ink", steel), ("thing", _turned_handle(17.5, 38, 1.4, 2.7, 1.9)), ("thing", bar(15, -1.5, 18.2, 1.5, 0.4)),
            ("fine", ((22, -0.6), (34, -0.5))))  # fmt: skip


@cache
def scorer() -> Tool:
    """A wooden handle with four wire tines."""
    tines: Tool = tuple(("line", ((0.0, y), (6.5, y * 0.8))) for y in (-4.2, -1.4, 1.4, 4.2))
    return (*tines, ("thing", _turned_handle(9, 36, 1.5, 2.7, 1.9)), ("thing", bar(5.5, -4.6, 9.5, 4.6, 1)),
            ("fine", ((15, -0.6), (30, -0.5))))  # fmt: skip


@cache
def brush(loaded: bool = False) -> Tool:
    """A round brush; loaded with colour it is black, with slip white."""
    hair = blob([(0, 0), (4, -2.1), (9, -2.6), (11, -2.2), (11, 2.2), (9, 2.6), (4, 2.1)])
    hairs: Tool = (("ink", hair),) if loaded else (("thing", hair), *(("fine", ((3, y * 0.5), (10, y))) for y in (-1.1, 0, 1.1)))
    handle = blob([(15, -1.7), (22, -1.9), (40, -0.9), (42, 0), (40, 0.9), (22, 1.9), (15, 1.7)])
    ferrule = area([(10, -2.5), (17, -1.8), (17, 1.8), (10, 2.5)])
    return (*hairs, ("thing", handle), ("thing", ferrule), ("fine", ((12.4, -2.2), (12.4, 2.2))))


@cache
def pencil() -> Tool:
    body = area([(0, 0), (6.5, -2.1), (36, -2.1), (36, 2.1), (6.5, 2.1)])
    return (("thing", body), ("ink", area([(0, 0), (2.6, -0.85), (2.6, 0.85)])),
            ("line", ((6.5, -2.1), (5.6, -0.7), (6.5, 0), (5.6, 0.7), (6.5, 2.1))), ("fine", ((8, 0.6), (35, 0.6))),
            ("line", ((32, -2.1), (32, 2.1))))  # fmt: skip


@cache
def loop() -> Tool:
    """A carving tool: a wire bent to a loop in a wooden handle."""
    wire = ribbon(curve([(8, -0.8), (4.5, -2.6), (1.2, -2.2), (0, 0), (1.2, 2.2), (4.5, 2.6), (8, 0.8)]), 1.1)
    return (("ink", wire), ("thing", _turned_handle(9, 36, 1.5, 2.7, 1.9)), ("thing", bar(7, -1.7, 10.5, 1.7, 0.4)),
            ("fine", ((15, -0.6), (30, -0.5))))  # fmt: skip


@cache
def sponge(wide: float = 19, tall: float = 12.4) -> Tool:
    """A sponge, its middle at (0, 0)."""
    w, h = wide / 2, tall / 2
    places = ((-1, 0), (-0.7, -0.85), (0, -1), (0.75, -0.8), (1, 0.05), (0.7, 0.9), (0, 0.92), (-0.75, 0.8))
    body = raw_edge(blob([(x * w, y * h) for x, y in places]), 0.35, 2.0)
    pores = ((-0.62, -0.2, 0.8), (-0.25, 0.4, 1.1), (0.02, -0.45, 0.9), (0.42, 0.1, 1.15), (0.6, -0.42, 0.6), (-0.35, -0.6, 0.55),
             (0.18, 0.62, 0.6), (0.72, 0.45, 0.7), (-0.66, 0.45, 0.6))  # fmt: skip
    return (("thing", body), *(("ink", disc(x * w, y * h, r * 1.25, r)) for x, y, r in pores))


@cache
def rolling_pin(half: float = 34, radius: float = 4.6) -> Tool:
    """A rolling pin, its middle at (0, 0)."""
    grain = ((-half + 3, half * 0.2, radius * 0.45), (-half * 0.3, half - 3, radius * 0.68), (-half * 0.6, -half * 0.1, -radius * 0.35))
    return (("thing", bar(half - 1, -1.9, half + 8.5, 1.9, 1.6)), ("thing", bar(-half - 8.5, -1.9, -half + 1, 1.9, 1.6)),
            ("thing", bar(-half, -radius, half, radius, 0.9)), *(("fine", ((a, y), (b, y))) for a, b, y in grain))  # fmt: skip


@cache
def straw(wide: float = 5.4) -> Tool:
    """A bendy drinking straw."""
    w = wide / 2
    tube = bar(0, -w, 38, w) | ribbon(((37, 0), (40, 1.2), (47, 8.5)), wide)
    pleats: Tool = tuple(("line", ((x, -w - 0.5), (x + 1.1 * i, w + 0.2))) for i, x in enumerate((32.5, 34.8, 37.1)))
    return (("thing", tube), *pleats, ("fine", ((12, -0.9), (28, -0.9))))


@cache
def bat() -> Tool:
    """A flat wooden paddle, its face down at y = 0."""
    return (("thing", bar(27, -4.6, 44, -0.9, 1.7)), ("thing", bar(0, -5.4, 28, 0, 1)),
            ("fine", ((4, -3.4), (18, -3.4))), ("fine", ((11, -1.7), (25, -1.7))))  # fmt: skip


@cache
def bat_outline() -> Area:
    return bar(27, -4.6, 44, -0.9, 1.7) | bar(0, -5.4, 28, 0, 1)


@cache
def stamp_block() -> Tool:
    """A stamp with a carved end, pressed along +x towards (0, 0)."""
    grip = blob([(9, -3.4), (15, -2.3), (24, -3.2), (29, -2.2), (30, 0), (29, 2.2), (24, 3.2), (15, 2.3), (9, 3.4)])
    return (("thing", grip), ("thing", bar(1.8, -6, 10, 6, 1.0)), *(("ink", bar(0, y - 1.1, 2.0, y + 1.1)) for y in (-4.4, 0, 4.4)))


def _torn(x: float, half: float) -> Line:
    """Where a finger stops being drawn: one S, never cut off at the frame."""
    return curve([(x, -half), (x + 0.9, -half * 0.5), (x, 0), (x - 0.9, half * 0.5), (x, half)])


@cache
def finger(wide: float = 9.5, long: float = 26) -> Tool:
    """A fingertip from the side, its nail on the -y side."""
    w, h = wide, wide / 2
    tip = [(0, 0), (0.25, -h * 0.42), (w * 0.2, -h * 0.84), (w * 0.55, -h * 0.96)]
    upper = curve([*tip, (w * 1.1, -h), (long * 0.6, -h * 1.02), (long, -h * 1.05)])
    lower = curve([(long, h * 1.05), (long * 0.66, h * 0.98), (w * 1.1, h * 1.02), (w * 0.5, h * 0.96), (w * 0.12, h * 0.62), (0, 0)])
    nail = curve([(w * 0.06, -h * 0.60), (w * 0.3, -h * 0.56), (w * 0.58, -h * 0.66), (w * 0.74, -h * 0.96)])
    return (("thing", area((*upper, *_torn(long, h * 1.05)[1:-1], *lower[:-1]))), ("line", nail))


@of_a_lesson
@lru_cache(8)  # as wide as a piece asks for
def thumb(wide: float = 13, long: float = 40) -> Tool:
    """A thumb or a fingertip seen on its nail: a broad tip, a waist, the knuckle."""
    w, h = wide, wide / 2
    tip = [(0, 0), (0.3, -h * 0.4), (w * 0.2, -h * 0.82), (w * 0.55, -h)]
    upper = curve([*tip, (w, -h * 0.9), (w * 1.5, -h * 0.88), (w * 2.1, -h * 1.02), (long, -h)])
    lower = tuple((x, -y) for x, y in upper[::-1])
    half = [(w * 0.72, -h * 0.46), (w * 0.4, -h * 0.58), (w * 0.16, -h * 0.4), (w * 0.1, 0)]
    nail = curve([*half, *((x, -y) for x, y in half[-2::-1]), (w * 0.8, 0), half[0]])
    creases: Tool = tuple(("fine", arc(w * 1.9 + dx, 0, h * 0.55, 130, 230)) for dx in (0, 1.6))
    return (("thing", area((*upper, *_torn(long, h)[1:-1], *lower[:-1]))), ("line", nail), *creases)


@cache
def flat_hand() -> Tool:
    """A flat hand from the side, palm down at y = 0, fingertip at x = 0, cuff at the far end."""
    palm = curve([(0, -1.9), (1.2, -0.3), (5, 0), (14, 0), (22, 0.2), (30, 0.1), (37, -1.2)])
    back = curve([(37, -9.4), (31, -9.4), (25, -10.2), (18, -8.2), (11, -6), (5, -4.7), (1.4, -3.8), (0.1, -2.6)])
    thumb_skin = blob([(27, -6.4), (21, -5.8), (15, -3.4), (11.2, -1.8), (11, 0.2), (14, 0.9), (20, 0.2), (25.5, -1.2)])
    thumb_line = curve([(28.5, -6.2), (23, -6.2), (17.5, -4.5), (12.6, -2.8), (10.4, -1.0), (11.6, 0.7), (15, 0.9), (21, 0.2)])
    cuff = area([(36, -11.2), (42, -11.8), (42, 1.4), (36, 0.4)])
    return (("thing", area((*palm, *back))), ("bare", thumb_skin), ("line", thumb_line), ("thing", cuff),
            ("fine", ((0.9, -3), (3, -3.4), (4.4, -4.5))), ("fine", ((38.2, -11.2), (38.2, 0.6))))  # fmt: skip


def drop(x: float, y: float, size: float = 1.0) -> Area:
    """A drop of water."""
    points = ((0, -3.2), (0.9, -1), (1.5, 0.6), (0.9, 1.8), (0, 2.2), (-0.9, 1.8), (-1.5, 0.6), (-0.9, -1))
    return blob([(x + a * size, y + b * size) for a, b in points])
