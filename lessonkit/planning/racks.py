"""Whether the work of all groups has a place to dry and wait, before the racks are full."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil, floor

from lessonkit.geometry.shape import bounds
from lessonkit.lesson.firing import Rack
from lessonkit.planning.standing import Standing

WARN_SHARE = 0.8
GAP_MM = 10.0  # a finger's width, to take a piece out by (common practice)


@dataclass(frozen=True, slots=True)
class Lot:
    """Pieces that come in every week and stay for so many weeks: `kind.count` is one week's."""

    kind: Standing
    weeks: float


@dataclass(frozen=True, slots=True)
class RackRoom:
    """`pieces` in the room at once, `share` of the racks that they fill (1 is full), and the shelves that they need of such racks.

    `by_area` is what the sum of their areas alone would say; pieces never fill a shelf so well.
    """

    pieces: int
    shelves: int
    shelves_needed: int
    by_area: int
    share: float
    assumptions: tuple[str, ...]

    @property
    def warning(self) -> str:
        """Empty while there is room enough."""
        if self.share <= WARN_SHARE:
            return ""
        if self.share == float("inf"):
            return "A piece is larger than every shelf of the racks."
        return f"The racks are {self.share * 100:.0f} % full: {self.shelves_needed} shelves of {self.shelves}."


def rack_room(lots: Sequence[Lot], racks: Sequence[Rack]) -> RackRoom:
    """Room for what is inside at once. A piece that is larger than every rack fills them all over: its share is infinite."""
    shelves = sum(rack.shelves for rack in racks)
    area = sum(rack.shelves * rack.wide.mm * rack.deep.mm for rack in racks)
    share = covered = 0.0
    pieces = 0
    for lot in lots:
        inside = ceil(lot.kind.count * lot.weeks - 1e-9)
        holds = sum(rack.shelves * _on_one(lot.kind, rack) for rack in racks)
        share += inside / holds if holds else float("inf") if inside else 0.0
        left, bottom, right, top = bounds(lot.kind.outline)
        covered += inside * (right - left) * (top - bottom)
        pieces += inside
    return RackRoom(
        pieces=pieces,
        shelves=shelves,
        shelves_needed=ceil(share * shelves - 1e-9) if share < float("inf") else shelves + 1,
        by_area=ceil(covered / area * shelves - 1e-9) if area else 0,
        share=share,
        assumptions=(
            f"pieces stand in rows on the racks, {GAP_MM:g} mm apart, each with its own box around it",
            "as many come in every week as in the week that is planned",
        ),
    )


def _on_one(kind: Standing, rack: Rack) -> int:
    left, bottom, right, top = bounds(kind.outline)
    wide, deep = right - left + GAP_MM, top - bottom + GAP_MM
    shelf_wide, shelf_deep = rack.wide.mm + GAP_MM, rack.deep.mm + GAP_MM
    return max(floor(shelf_wide / wide) * floor(shelf_deep / deep), floor(shelf_wide / deep) * floor(shelf_deep / wide))
