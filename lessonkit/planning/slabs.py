"""The slab to roll: large enough for a rectangle around every part, with a margin, as it is cut by hand. Millimetres and grams.

Parts of one thickness lie in rows on one slab. A row is as tall as its tallest part; several widths are tried, standing and
lying, and the smallest slab wins.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import accumulate

from lessonkit.clay.weight import mass_g
from lessonkit.pieces.room_limits import BETWEEN_MM, MARGIN_MM
from lessonkit.planning.counting import up

STEP_MM = 10.0  # slabs are rolled to whole centimetres
_SLACK_MM = 1e-6


@dataclass(frozen=True, slots=True)
class Cut:
    """A part to cut: the rectangle around it and the clay that is in it."""

    name: str
    wide_mm: float
    tall_mm: float
    area_mm2: float

    def lying(self) -> Cut:
        """The part with its longer side across."""
        return self if self.wide_mm >= self.tall_mm else Cut(self.name, self.tall_mm, self.wide_mm, self.area_mm2)


@dataclass(frozen=True, slots=True)
class Slab:
    """One slab to roll. `cut_g` is in its parts, `offcut_g` is left around them; both together are `mass_g`. `fits` is whether
    the room can roll it."""

    wide_mm: float
    tall_mm: float
    thickness_mm: float
    parts: tuple[str, ...]
    mass_g: float
    cut_g: float
    offcut_g: float
    fits: bool = True


Row = list[Cut]


def slabs(
    cuts: Sequence[Cut],
    thickness_mm: float,
    density_g_cm3: float,
    margin_mm: float = MARGIN_MM,
    largest_mm: tuple[float, float] | None = None,
) -> tuple[Slab, ...]:
    """The slabs for these parts: one, or as many as the largest that can be rolled makes necessary.

    A part that is too large for that has a slab of its own that does not fit. No parts need no slab.
    """
    if not cuts:
        return ()
    wide, tall = largest_mm or (float("inf"), float("inf"))
    room = (wide - 2 * margin_mm, tall - 2 * margin_mm)
    tries = [_stacked(_rows(order, limit), room[1]) for order in _orders(cuts) for limit in _widths(order, room[0])]
    made = [tuple(_slab(rows, thickness_mm, density_g_cm3, margin_mm, (wide, tall)) for rows in stacks) for stacks in tries]
    return min(made, key=lambda found: (len(found), sum(slab.mass_g for slab in found), sum(slab.wide_mm + slab.tall_mm for slab in found)))


def _orders(cuts: Sequence[Cut]) -> Iterator[list[Cut]]:
    """As drawn, all lying, all standing; the tallest first."""
    lying = [cut.lying() for cut in cuts]
    standing = [Cut(cut.name, cut.tall_mm, cut.wide_mm, cut.area_mm2) for cut in lying]
    for turned in (list(cuts), lying, standing):
        yield sorted(turned, key=lambda cut: (-cut.tall_mm, -cut.wide_mm, cut.name))


def _widths(cuts: Sequence[Cut], most: float) -> Iterator[float]:
    """The widths at which another part comes into the first row."""
    widest = max(cut.wide_mm for cut in cuts)
    for width in accumulate((cut.wide_mm + BETWEEN_MM for cut in cuts), initial=-BETWEEN_MM):
        yield max(widest, min(width, most))


def _rows(cuts: Sequence[Cut], limit: float) -> list[Row]:
    rows: list[Row] = []
    for cut in cuts:
        if rows and _long(rows[-1]) + BETWEEN_MM + cut.wide_mm <= limit + _SLACK_MM:
            rows[-1].append(cut)
        else:
            rows.append([cut])
    return rows


def _long(row: Row) -> float:
    return sum(cut.wide_mm for cut in row) + BETWEEN_MM * (len(row) - 1)


def _high(rows: Sequence[Row]) -> float:
    return sum(row[0].tall_mm for row in rows) + BETWEEN_MM * (len(rows) - 1)


def _stacked(rows: Sequence[Row], most: float) -> list[list[Row]]:
    """Rows on top of one another, and on another slab where they would be too tall together."""
    stacks: list[list[Row]] = []
    for row in rows:
        if stacks and _high([*stacks[-1], row]) <= most + _SLACK_MM:
            stacks[-1].append(row)
        else:
            stacks.append([row])
    return stacks


def _slab(rows: Sequence[Row], thickness: float, density: float, margin: float, largest: tuple[float, float]) -> Slab:
    wide = _rolled(max(_long(row) for row in rows) + 2 * margin, largest[0])
    tall = _rolled(_high(rows) + 2 * margin, largest[1])
    cuts = [cut for row in rows for cut in row]
    mass, used = mass_g(wide * tall, thickness, density), sum(mass_g(cut.area_mm2, thickness, density) for cut in cuts)
    fits = any(w <= largest[0] + _SLACK_MM and t <= largest[1] + _SLACK_MM for w, t in ((wide, tall), (tall, wide)))
    return Slab(wide, tall, thickness, tuple(cut.name for cut in cuts), mass, used, mass - used, fits)


def _rolled(mm: float, most: float) -> float:
    """Up to the whole centimetre, but not beyond what can be rolled if the part itself is within it."""
    rolled = up(mm / STEP_MM) * STEP_MM
    return most if rolled > most >= mm else rolled
