"""Joining: score both places, slip both, press. What is joined and where is the piece's own."""

from __future__ import annotations

from lessonkit.geometry.drafting import Area, area, bar, blob, cross_hatch, disc, raw_edge
from lessonkit.layout.pictures.grammar import Drawing
from lessonkit.layout.pictures.subject import Subject
from lessonkit.layout.pictures.tools import brush, finger, scorer


def _ball(x: float, foot: float, r: float) -> Area:
    """A ball a little flattened where it will stand."""
    return disc(x, foot - r * 0.9, r) & bar(0, -50, 200, foot)


class Pair:
    """What is joined, in section: the added part above, its place on the clay below."""

    def __init__(self, s: Subject, x: float, foot: float, place: float, half: float) -> None:
        self.x, self.foot, self.place = x, foot, place
        if s.pot or (s.part.marks and _long(s)):
            wide = half * 0.42
            self.part = bar(x - wide, foot - half * 1.9, x + wide, foot, 0.6)
        else:
            wide = half * 0.62
            self.part = _ball(x, foot, half * 0.95)
        self.wide = wide
        self.ground = bar(x - half * 1.5, place, x + half * 1.5, place + half * 0.95, 1.2)

    @property
    def under(self) -> Area:
        return self.part & bar(0, self.foot - self.wide * 0.75, 200, self.foot)

    @property
    def spot(self) -> Area:
        return bar(self.x - self.wide * 1.15, self.place, self.x + self.wide * 1.15, self.place + self.wide * 0.6)

    def draw(self, d: Drawing) -> None:
        d.clay(self.ground)
        d.clay(self.part)

    def scored(self, d: Drawing, gap: float, under: bool = True, spot: bool = True) -> None:
        for zone, wanted in ((self.under, under), (self.spot, spot)):
            if wanted:
                d.line(cross_hatch(zone, 45, gap))

    def slipped(self, d: Drawing) -> None:
        """Slip over the scored underside and in a low heap on the place."""
        w, y = self.wide, self.place
        wet = self.part.grown(0.9) & bar(0, self.foot - w * 0.42, 200, self.foot + 9)
        d.thing(raw_edge(wet, 0.25, 1.0))
        heap = [(-1.35, 0.4), (-1.25, -0.9), (-0.9, -2.2), (-0.3, -2.7), (0.35, -2.6), (0.95, -2.1), (1.3, -0.8), (1.35, 0.4)]
        d.thing(blob([(self.x + u * w, y + v) for u, v in heap]) & bar(0, 0, 200, y))


def _long(s: Subject) -> bool:
    """Whether what is joined is a strip rather than a ball, by its zone."""
    zones = s.place(0, 0, 100, 100).zones
    if not zones:
        return False
    a, b, c, e = zones[0].bounds
    return max(c - a, e - b) > 1.8 * min(c - a, e - b)


def _where(d: Drawing, s: Subject, wet: bool) -> bool:
    """The piece from above with the places on it; False where the lesson names none."""
    if s.pot and s.base:
        base = s.place(3, 15, 41, 53, s.base)
        d.clay(base.body)
        thick = max(4.0, s.piece.thickness_mm * base.scale)
        rim = base.body - base.body.grown(-thick)
        if wet:
            d.thing(rim.grown(-0.2))
        else:
            d.line(cross_hatch(rim, 45, 3.2))
            d.line(ring_of(rim))
        return True
    piece = s.place(3, 9, 41, 61)
    if not piece.zones:
        return False
    d.clay(piece.body)
    for zone in piece.zones:
        if wet:
            d.thing(zone)
        elif min(zone.bounds[2] - zone.bounds[0], zone.bounds[3] - zone.bounds[1]) < 6:
            d.ink(zone)
        else:
            d.line(cross_hatch(zone, 45, 3))
            d.line(ring_of(zone))
    return True


def ring_of(zone: Area) -> tuple[tuple[tuple[float, float], ...], ...]:
    return tuple((*ring, ring[0]) for ring in zone.rings)


def score(d: Drawing, s: Subject) -> None:
    x = 71.0 if _where(d, s, wet=False) else 46.0
    pair = Pair(s, x, 32, 52, 15)
    pair.draw(d)
    pair.scored(d, 3.2)
    d.number(x - 20, 14, 1)
    d.number(x - 20, 43, 2)
    d.tool(scorer(), x + 6, 51, -44, 0.8)


def slip(d: Drawing, s: Subject) -> None:
    x = 71.0 if _where(d, s, wet=True) else 46.0
    pair = Pair(s, x, 32, 52, 15)
    pair.draw(d)
    pair.scored(d, 3.2)
    pair.slipped(d)
    d.number(x - 20, 14, 1)
    d.number(x - 20, 43, 2)
    d.tool(brush(), x + 5, 49, -42, 0.72)


def join(d: Drawing, s: Subject) -> None:
    for i in range(3):
        x = 17.0 + 33 * (2 - i if d.mirrored else i)  # 1, 2, 3 are read from the left by either hand
        pair = Pair(s, x, 40.0 if i < 2 else 53.0, 54.0, 9.6)
        if i == 2:
            w = pair.wide + 3
            d.thing(blob([(x - w - 3, 55), (x - w - 2, 51.4), (x - w + 2, 50.4), (x, 52), (x + w - 2, 50.4), (x + w + 2, 51.4), (x + w + 3, 55)]))
        pair.draw(d)
        if i < 2:
            pair.scored(d, 2.8)
        if i == 1:
            pair.slipped(d)
        d.number(x - 10.5, 8, i + 1)
    top = pair.part.bounds[1]
    d.tool(finger(9.6, min(22, top - 4)), x, top, -90)
    d.arrow(((x + 11, top - 18), (x + 11, top + 4)))


def coil_corner(d: Drawing, s: Subject) -> None:
    d.table()
    d.clay(area([(16, 6), (29, 6), (29, 48), (92, 48), (92, 60), (16, 60)]))
    d.line(((16, 48), (29, 48)), "thin")
    d.clay(disc(34, 43, 5), heavy=True)
    d.tool(finger(11, 34), 37.2, 39.8, -45)
    d.arrow(((47, 12), (37, 27)))
