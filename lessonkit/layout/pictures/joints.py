"""Joining: score both places, slip both, press. What is joined and where is the piece's own."""

from __future__ import annotations

from functools import lru_cache
from typing import NamedTuple

from lessonkit.geometry.areas import Area, area, bar
from lessonkit.geometry.drafting import Lines, blob, cross_hatch, disc, raw_edge
from lessonkit.layout.pictures.grammar import Drawing
from lessonkit.layout.pictures.subject import Placed, Subject
from lessonkit.layout.pictures.tools import brush, finger, scorer

LONG = 1.8  # a joining zone so much longer than wide takes a strip, not a ball
LEAST_HATCHED = 6.0  # a smaller zone is black: its hatching would clot


class Pair(NamedTuple):
    """What is joined, in section: the added part above, the clay with its place below. Units; `half` sets the size."""

    x: float
    foot: float  # of the added part
    place: float  # the height of the clay's face
    half: float
    strip: bool

    @property
    def reach(self) -> float:
        """Half the width of what meets."""
        return self.half * (0.42 if self.strip else 0.62)

    @property
    def added(self) -> Area:
        return _added(self)

    def _reckoned(self) -> Area:
        if self.strip:
            return bar(self.x - self.reach, self.foot - self.half * 1.9, self.x + self.reach, self.foot, 0.6)
        r = self.half * 0.95
        return disc(self.x, self.foot - r * 0.9, r) & bar(0, -50, 200, self.foot)  # flattened where it will stand

    def draw(self, d: Drawing) -> None:
        d.clay(bar(self.x - self.half * 1.5, self.place, self.x + self.half * 1.5, self.place + self.half * 0.95, 1.2))
        d.clay(self.added)

    def score(self, d: Drawing, gap: float) -> None:
        w = self.reach
        under = self.added & bar(0, self.foot - w * 0.75, 200, self.foot)
        spot = bar(self.x - w * 1.15, self.place, self.x + w * 1.15, self.place + w * 0.6)
        d.line(cross_hatch(under, 45, gap) + cross_hatch(spot, 45, gap))

    def slip(self, d: Drawing) -> None:
        """Over the scored underside, and in a low heap on the place."""
        w, y = self.reach, self.place
        wet = self.added.grown(0.9) & bar(0, self.foot - w * 0.42, 200, self.foot + 9)
        d.thing(raw_edge(wet, 0.25, 1.0))
        heap = ((-1.35, 0.4), (-1.25, -0.9), (-0.9, -2.2), (-0.3, -2.7), (0.35, -2.6), (0.95, -2.1), (1.3, -0.8), (1.35, 0.4))
        d.thing(blob([(self.x + u * w, y + v) for u, v in heap]) & bar(0, 0, 200, y))


@lru_cache(4)
def _added(pair: Pair) -> Area:
    return pair._reckoned()


def _takes_strip(s: Subject) -> bool:
    """A wall is a strip; so is what a long narrow zone takes. A coil or another half is round."""
    zones = s.place(0, 0, 100, 100).zones
    if s.piece.form != "flat" or not zones:
        return s.piece.form not in ("flat", "coil_pot", "pinch")
    a, b, c, e = zones[0].bounds
    return max(c - a, e - b) > LONG * min(c - a, e - b)


def _places(s: Subject) -> tuple[Placed, tuple[Area, ...]] | None:
    """The piece from above and the places on it; None where the lesson names none."""
    if s.base:
        base = s.place(3, 15, 41, 53, s.base)
        rim = max(4.0, s.piece.thickness_mm * base.scale)
        return base, (base.body - base.body.grown(-rim),)
    piece = s.place(3, 9, 41, 61)
    return (piece, piece.zones) if piece.zones else None


def _closed(zone: Area) -> Lines:
    return tuple((*ring, ring[0]) for ring in zone.rings)


def _pair_at_work(d: Drawing, s: Subject, wet: bool) -> None:
    """The places from above, beside them the pair, numbered, with the tool. Without places the pair is alone."""
    x = 46.0
    if found := _places(s):
        x = 71.0
        piece, zones = found
        d.clay(piece.body)
        for zone in zones:
            a, b, c, e = zone.bounds
            if wet:
                d.thing(zone)
            elif min(c - a, e - b) < LEAST_HATCHED:
                d.ink(zone)
            else:
                d.line(cross_hatch(zone, 45, 3.2) + _closed(zone))
    d.fixed(_numbered_pair, x, _takes_strip(s), wet)


def _numbered_pair(d: Drawing, x: float, strip: bool, wet: bool) -> None:
    pair = Pair(x, 32, 52, 15, strip)
    pair.draw(d)
    pair.score(d, 3.2)
    if wet:
        pair.slip(d)
    d.number(x - 20, 14, 1)
    d.number(x - 20, 43, 2)
    if wet:
        d.tool(brush(), x + 5, 49, -42, 0.72)
    else:
        d.tool(scorer(), x + 6, 51, -44, 0.8)


def score(d: Drawing, s: Subject) -> None:
    _pair_at_work(d, s, wet=False)


def slip(d: Drawing, s: Subject) -> None:
    _pair_at_work(d, s, wet=True)


def join(d: Drawing, s: Subject) -> None:
    """1 both scored, 2 both slipped, 3 pressed until slip comes out; read from the left by either hand."""
    d.fixed(_joined, _takes_strip(s))


def _joined(d: Drawing, strip: bool) -> None:
    xs = (83.0, 50.0, 17.0) if d.mirrored else (17.0, 50.0, 83.0)
    for i, x in enumerate(xs[:2]):
        pair = Pair(x, 40, 54, 9.6, strip)
        pair.draw(d)
        pair.score(d, 2.8)
        if i:
            pair.slip(d)
    x = xs[2]
    pressed = Pair(x, 53, 54, 9.6, strip)
    w = pressed.reach + 3
    d.thing(blob([(x - w - 3, 55), (x - w - 2, 51.4), (x - w + 2, 50.4), (x, 52), (x + w - 2, 50.4), (x + w + 2, 51.4), (x + w + 3, 55)]))
    pressed.draw(d)
    top = pressed.added.bounds[1]
    d.tool(finger(9.6, min(22, top - 4)), x, top, -90)
    d.arrow(((x + 11, top - 18), (x + 11, top + 4)))
    for i, x in enumerate(xs):
        d.number(x - 10.5, 8, i + 1)


def coil_corner(d: Drawing, s: Subject) -> None:
    d.table()
    d.clay(area([(16, 6), (29, 6), (29, 48), (92, 48), (92, 60), (16, 60)]))
    d.line(((16, 48), (29, 48)), "thin")
    d.clay(disc(34, 43, 5), heavy=True)
    d.tool(finger(11, 34), 37.2, 39.8, -45)
    d.arrow(((47, 12), (37, 27)))
