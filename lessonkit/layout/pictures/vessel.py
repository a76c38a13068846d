"""A hollow form as it stands: from the front and a little from above, so that its rim shows that it is hollow."""

from __future__ import annotations

from functools import lru_cache, reduce
from itertools import pairwise
from math import cos, pi, radians, sin, sqrt
from operator import or_
from typing import NamedTuple

from lessonkit.forgetting import of_a_lesson
from lessonkit.geometry.areas import Area, area, bar
from lessonkit.geometry.drafting import arc, disc, rubber_band
from lessonkit.geometry.shape import Line
from lessonkit.layout.pictures.grammar import Drawing
from lessonkit.layout.pictures.subject import Pot

LEAN = 0.26  # a circle's depth by its width: how far from above
FLAT = 0.94  # how far down a closed form reaches, by half its height
BACK = 0.86  # how wide the far edge of a square rim is drawn, by the near edge


class Vessel(NamedTuple):
    """A standing form in units: its middle, the heights of its rim's and foot's middles, the rim's half width and half
    depth, the foot's half width, how thick its wall is."""

    x: float
    rim: float
    foot: float
    rx: float
    ry: float
    fx: float
    wall: float
    sides: int = 0
    bowl: bool = False
    roof: float = 0.0
    dome: float = 0.0  # how high a closed form rises over its seam, which stands for the rim
    profile: tuple[tuple[float, float], ...] = ()  # heights over the foot and half the width at each, where the wall is not straight

    def radius(self, y: float) -> float:
        """Half the width at a height."""
        if self.dome:
            return self.rx * sqrt(max(0.0, 1 - ((y - self.rim) / self.dome) ** 2))
        for (low, below), (high, above) in pairwise(self.profile):
            if self.foot - y <= high:
                return below + (above - below) * max(0.0, self.foot - y - low) / (high - low)
        share = (self.foot - y) / (self.foot - self.rim)
        return self.fx + (self.rx - self.fx) * (share**0.5 if self.bowl else share)

    def ring(self, y: float, start_deg: float = 0, end_deg: float = 180, inset: float = 0.0) -> Line:
        """The line round the wall at a height, or inside it; 0 to 180 is its front, from right to left."""
        r = self.radius(y) - inset
        depth = r * self.ry / self.rx
        if not self.sides:
            return arc(self.x, y, r, start_deg, end_deg, depth, stray=0.03)
        steps = max(2, round(abs(end_deg - start_deg) / 5))
        angles = [start_deg + (end_deg - start_deg) * i / steps for i in range(steps + 1)]
        low, high = sorted((start_deg, end_deg))
        angles = sorted({*angles, *(a for a in self._corners() if low < a < high)}, reverse=start_deg > end_deg)
        return tuple(self._seen(radians(a), y, r, depth) for a in angles)

    def _corners(self) -> list[float]:
        step = 360 / self.sides
        return [90 + step * (i + 0.5) for i in range(-self.sides, self.sides + 1)]

    def _seen(self, a: float, y: float, r: float, depth: float) -> tuple[float, float]:
        half = pi / self.sides
        out = (a - pi / 2 + half) % (2 * half) - half  # from the middle of its side
        far = cos(half) / cos(out)
        u, v = far * cos(a), far * sin(a)
        if self.sides == 4:  # corners lie on the width: sides, not corners, are measured
            u, v = u / cos(half), v / cos(half)
            u *= 1 - (1 - BACK) * (1 - v) / 2
        return self.x + r * u, y + depth * v

    @property
    def body(self) -> Area:
        return _body(self)

    def _reckoned(self) -> Area:
        if self.dome:  # it has come to lie a little flat
            return disc(self.x, self.rim, self.rx, self.dome) & bar(self.x - self.rx, 0, self.x + self.rx, self.rim + self.dome * FLAT)
        if self.profile:
            rings = [self.ring(self.foot - (self.foot - self.rim) * i / 16, 0, 360)[:-1] for i in range(17)]
            return reduce(or_, [rubber_band([*low, *high]) for low, high in pairwise(rings)])
        rings = [self.ring(y, 0, 360)[:-1] for y in (self.rim, self.foot)]
        if not self.bowl:
            return rubber_band([point for ring in rings for point in ring])
        rim, foot = map(area, rings)
        heights = [self.foot - (self.foot - self.rim) * (i / 12) ** 2 for i in range(13)]  # close where it bends most
        left, right = ([(self.x + side * self.radius(y), y) for y in heights] for side in (-1, 1))
        return area((*left, *right[::-1])) | rim | foot

    @property
    def widest(self) -> float:
        """Half the width of a straight wall at its rim, of any other where it is widest."""
        return max([self.rx, *(wide for _, wide in self.profile)])

    @property
    def top(self) -> float:
        """The highest line, without the roof's thickness."""
        return min(self.rim - self.ry, self.rim + self.ry - self.roof, self.rim - self.dome)

    def draw(self, d: Drawing) -> None:
        d.clay(self.body)
        if self.dome:
            d.line(self.ring(self.rim), "thin")
            return
        if self.roof:
            self._draw_roof(d)
            return
        d.line(self.ring(self.rim, 0, 360))
        inner = self.ring(self.rim, 0, 360, self.wall)
        d.line(inner)
        mouth = area(inner[:-1])
        d.ink(mouth - mouth.moved(0, self.ry * 0.55))
        for a in self._corners() if self.sides else ():
            if 0 < a < 180:
                d.line((self.ring(self.rim, a, a + 1)[0], self.ring(self.foot, a, a + 1)[0]))

    def _draw_roof(self, d: Drawing) -> None:
        near = self.rim + self.ry
        over = self.rx * 1.06
        d.clay(area(((self.x - self.rx, near), (self.x + self.rx, near), (self.x, near - self.roof))))
        for side in (-1, 1):
            eave = self.x + side * over
            d.clay(area(((self.x, near - self.roof - 2.4), (eave, near - 1.0), (eave, near + 1.2), (self.x, near - self.roof))))


@of_a_lesson
@lru_cache(8)
def _body(vessel: Vessel) -> Area:
    return vessel._reckoned()


def vessel(pot: Pot, x0: float, y0: float, x1: float, y1: float) -> Vessel:
    """The pot as large as a window allows, standing in its middle."""
    across = max(pot.rim, pot.foot, *(wide for _, wide in pot.profile))
    tall = min(max(pot.tall, across / 3), across * 2.5)
    lean = LEAN * pot.deep
    roof, dome = pot.roof, tall / 2 if pot.closed else 0.0
    wide = min(x1 - x0, (y1 - y0) / ((tall + roof) / across + lean))
    k = wide / across
    middle = (y0 + y1 + roof * k) / 2
    rx = pot.rim * k / 2
    wall = max(2.2, min(rx * 0.4, pot.thickness * k))
    rim, foot = middle - (tall / 2 - dome) * k, middle + tall * k / 2
    profile = tuple((height * k * tall / pot.tall, wide * k / 2) for height, wide in pot.profile)
    return Vessel((x0 + x1) / 2, rim, foot, rx, rx * lean, pot.foot * k / 2, wall, pot.sides, pot.bowl, roof * k, dome * k, profile)
