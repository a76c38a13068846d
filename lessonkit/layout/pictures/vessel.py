"""A round pot as it stands: from the front and a little from above, so that its rim shows that it is hollow."""

from __future__ import annotations

from dataclasses import dataclass

from lessonkit.geometry.drafting import Area, arc, area, disc
from lessonkit.geometry.shape import Line
from lessonkit.layout.pictures.grammar import Drawing
from lessonkit.layout.pictures.subject import Pot

LEAN = 0.26  # an ellipse's depth by its width: how far from above


@dataclass(frozen=True, slots=True)
class Vessel:
    """A standing cylinder in units: its middle, the heights of its rim's and foot's middles, half widths across and back."""

    x: float
    rim: float
    foot: float
    rx: float
    ry: float
    wall: float

    @property
    def body(self) -> Area:
        return area((*arc(self.x, self.rim, self.rx, 180, 360, self.ry), *arc(self.x, self.foot, self.rx, 0, 180, self.ry)))

    @property
    def mouth(self) -> Area:
        inner = self.rx - self.wall
        return disc(self.x, self.rim, inner, self.ry * inner / self.rx)

    def ring(self, y: float, start_deg: float = 0, end_deg: float = 180) -> Line:
        """The circle round the wall at a height; 0 to 180 is its front, from right to left."""
        return arc(self.x, y, self.rx, start_deg, end_deg, self.ry)

    def draw(self, d: Drawing) -> None:
        d.clay(self.body)
        d.line(self.ring(self.rim, 0, 360))
        d.line((*arc(self.x, self.rim, self.rx - self.wall, 0, 360, self.mouth_ry),))
        inner = self.mouth
        d.ink(inner - inner.moved(0, self.mouth_ry * 0.55))

    @property
    def mouth_ry(self) -> float:
        return self.ry * (self.rx - self.wall) / self.rx


def vessel(pot: Pot, x0: float, y0: float, x1: float, y1: float) -> Vessel:
    """The pot as large as a window allows, standing in its middle."""
    ratio = min(3.0, max(0.4, pot.across / pot.tall))

    rx = min((x1 - x0) / 2, (y1 - y0) / (2 / ratio + 2 * LEAN))
    tall = 2 * rx / ratio
    middle, ry = (y0 + y1) / 2, rx * LEAN
    wall = max(2.2, min(rx * 0.4, 2 * rx * pot.thickness / pot.across))
    return Vessel((x0 + x1) / 2, middle - tall / 2, middle + tall / 2, rx, ry, wall)
