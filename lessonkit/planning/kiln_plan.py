"""The kiln's part of a plan as plain values for JSON and papers: drying, programmes, loads with their shelf maps, rack room.

Lengths in mm, times in hours or days, places from the middle of the shelf (of its straight edge, if it is half round). FiringError,
GeometryError and PlanError say what cannot be, each with `what` and `hint`.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from lessonkit.geometry.shape import Shape
from lessonkit.lesson.classroom import Group
from lessonkit.lesson.firing import Kiln
from lessonkit.pieces.model import Kit
from lessonkit.planning.log import OwnFigures
from lessonkit.planning.racks import Lot, rack_room
from lessonkit.planning.shelves import Load, LoadPlan, State, kiln_room, plan_loads
from lessonkit.planning.standing import Standing, standing, thickest_mm
from lessonkit.planning.way import Firing, Way, cones, way_of

Json = dict[str, Any]


def drying_plan(kit: Kit, own: OwnFigures | None = None) -> Json:
    """Days until it may be loaded, when it is turned and uncovered, and the firings that follow."""
    way = way_of(kit, own=own)
    dried = way.drying
    return {
        "thickness_mm": thickest_mm(kit),
        "days": dried.days,
        "least_days": dried.least_days,
        "turn_on_day": dried.turn,
        "uncover_on_day": dried.uncover,
        "too_thick": dried.too_thick,
        "assumptions": list(dried.assumptions),
    }


def kiln_plan(kits: Sequence[Kit], groups: Sequence[Group], glaze_cone: str | None = None) -> Json:
    """Loads for everything that these groups make of these lessons, all in the first lesson's room.

    Lessons of one cone share loads. `glaze_cone` puts all glazed work into loads of that one cone: FiringError, by name, for any clay that
    does not stand it. Without a kiln in the room, the programmes alone.
    """
    kiln = kits[0].room.kiln
    firings: dict[tuple[State, str], list[Kit]] = {}
    for kit in kits:
        first, second, _ = cones(kit)
        firings.setdefault(("raw", first), []).append(kit)
        if second:
            firings.setdefault(("glazed", glaze_cone or second), []).append(kit)
    ways = {kit.code: way_of(kit) for kit in kits}
    plans = [_firing_plan(state, cone, of, groups, kiln, ways) for (state, cone), of in firings.items()]
    said = [line for kit in kits for line in (*ways[kit.code].assumptions, *(standing(kit, groups[0])[1] if groups else ()))]
    said.append(f"everybody in {', '.join(group.tag for group in groups)} makes all pieces; spares are not counted" if groups else
                "no group is named: loads are not planned")  # fmt: skip
    racks = _racks(kits, groups, ways)
    warnings = [line for way in ways.values() for line in way.warnings] + ([racks["warning"]] if racks and racks["warning"] else [])
    return {
        "kiln": kiln.name if kiln else None,
        "firings": plans,
        "racks": racks,
        "warnings": list(dict.fromkeys(warnings)),
        "assumptions": list(dict.fromkeys([*said, *([] if kiln else ["the room file has no kiln: loads and shelves are not planned"])])),
    }


def loads_needed(kit: Kit, groups: Sequence[Group]) -> tuple[int, int]:
    """Bisque and glaze loads of one lesson for all groups; one each where the room has no kiln."""
    if kit.room.kiln is None or not groups:
        return 1, 1
    first, second, _ = cones(kit)
    kinds = all_standing([kit], groups)
    bisque = len(plan_loads(kinds, kiln_room(kit.room.kiln, "raw"), first).loads)
    return bisque, len(plan_loads(kinds, kiln_room(kit.room.kiln, "glazed"), second).loads) if second else 1


def all_standing(kits: Sequence[Kit], groups: Sequence[Group]) -> tuple[Standing, ...]:
    """What all groups make, kind by kind."""
    kinds: list[Standing] = []
    for kit in kits:
        of_groups = [standing(kit, group)[0] for group in groups]
        kinds += [same[0].counted(sum(kind.count for kind in same)) for same in zip(*of_groups, strict=True)]
    return tuple(kinds)


def _firing_plan(state: State, cone: str, kits: Sequence[Kit], groups: Sequence[Group], kiln: Kiln | None, ways: dict[str, Way]) -> Json:
    slowest = max((_firing(ways[kit.code], state) for kit in kits), key=lambda firing: firing.programme.hours)
    plan = plan_loads(all_standing(kits, groups), kiln_room(kiln, state), cone) if kiln and groups else None
    return {
        "work": state,
        "cone": cone,
        "lessons": [kit.lesson.title for kit in kits],
        "programme": _programme(slowest),
        "days": slowest.days,
        **(_loads(plan) if plan else {"loads": None}),
    }


def _firing(way: Way, state: State) -> Firing:
    firing = way.bisque if state == "raw" else way.glaze
    assert firing is not None  # only painted lessons are asked for their glaze firing
    return firing


def _programme(firing: Firing) -> Json:
    made = firing.programme
    return {
        "kind": made.kind,
        "pace": made.pace,
        "peak_c": made.peak_c,
        "preheat_h": made.preheat_h,
        "hours": round(made.hours, 2),
        "segments": [{"c_per_h": round(s.rate_c_per_h, 1), "to_c": round(s.to_c), "hold_h": s.hold_h} for s in made.segments],
        "cooling_h": round(firing.cooling.hours, 1),
        "opens_below_c": firing.cooling.opens_below_c,
        "assumptions": [*made.assumptions, *firing.cooling.assumptions],
    }


def _loads(plan: LoadPlan) -> Json:
    return {
        "shelf_outline_mm": _points(plan.room.shelf),
        "kinds": [
            {
                "name": kind.ware.name,
                "clay": kind.ware.clay,
                "highest_cone": kind.ware.highest_cone,
                "count": kind.count,
                "per_shelf": per_shelf,
                "on_one_another": high,
                "tall_mm": round(kind.tall_mm, 1),
                "outline_mm": _points(kind.outline),
            }
            for kind, per_shelf, high in zip(plan.kinds, plan.per_shelf, plan.high, strict=True)
        ],
        "loads": [_load(load) for load in plan.loads],
        "assumptions": list(plan.assumptions),
    }


def _load(load: Load) -> Json:
    tiers = []
    for tier in load.tiers:
        shelves = [
            [{"kind": p.index, "x_mm": round(p.x, 1), "y_mm": round(p.y, 1), "turn_deg": p.turn_deg} for p in shelf.places] for shelf in tier.shelves
        ]
        tiers.append({"at_mm": round(tier.at_mm, 1), "post_mm": round(tier.post_mm, 1), "shelves": shelves})
    return {"tiers": tiers}


def _points(shape: Shape) -> list[list[float]]:
    return [[round(x, 1), round(y, 1)] for x, y in shape.outline]


def _racks(kits: Sequence[Kit], groups: Sequence[Group], ways: dict[str, Way]) -> Json | None:
    """None without racks in the room, or groups."""
    racks = kits[0].room.racks
    if not racks or not groups:
        return None
    lots = [Lot(kind, ways[kit.code].lead.days_inside / 7) for kit in kits for kind in all_standing([kit], groups)]
    room = rack_room(lots, racks)
    return {
        "pieces": room.pieces,
        "shelves": room.shelves,
        "shelves_needed": room.shelves_needed,
        "by_area": room.by_area,
        "share": round(room.share, 3) if room.share < float("inf") else None,
        "warning": room.warning,
        "assumptions": list(room.assumptions),
    }
