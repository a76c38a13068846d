"""Sizes as a table to read and as JSON for other programs."""

from __future__ import annotations

import json
from typing import Any

from lessonkit.clay.shrinkage import fired_mm
from lessonkit.geometry.shape import area_mm2, bounds
from lessonkit.pieces.fired import fired_words
from lessonkit.pieces.model import Kit, Measure, Part, Piece
from lessonkit.pieces.things import Substitute, substitutes
from lessonkit.units import Units, show_length, show_weight


def sizes_text(kit: Kit) -> str:
    """One lesson: its clay, then each piece with what to cut and what it fires to."""
    clay, units = kit.clay, kit.room.units
    lines = [f"{kit.lesson.title} ({kit.code}): {clay.name}, cone {clay.cone}, shrinks {clay.shrinkage * 100:.3g} % ({clay.basis})", *kit.assumed]
    for piece in kit.pieces:
        times = f", {piece.count} each" if piece.count > 1 else ""
        slab = f"slab {show_length(piece.thickness_mm, units)} (fires to {show_length(_fired_thickness(piece, kit), units)})"
        lines.append(f"  {piece.name}{times}: {slab}, {show_weight(piece.mass_g, units)}")
        if len(piece.parts) > 1:
            lines += [_line(f"finished {measure.words}", measure, units) for measure in piece.measures]
        for part in piece.parts:
            prefix = f"{part.letter} {part.name} " if len(piece.parts) > 1 else f"{part.letter} "
            lines += [_line(prefix + measure.words, measure, units) for measure in part.measures]
        lines += [
            f"    without a printer: {sub.thing} ({show_length(sub.across_mm, units)}) marks {sub.measure.words},"
            f" fires to {show_length(sub.fired_mm, units)}"
            for sub in substitutes(kit)
            if sub.piece is piece
        ]
        lines += [f"    {problem.what} {problem.hint}" for problem in piece.warnings]
    return "\n".join(lines)


def _fired_thickness(piece: Piece, kit: Kit) -> float:
    """The slab is rolled, not enlarged: it comes out thinner than the sticks."""
    return fired_mm(piece.thickness_mm, (piece.clay or kit.clay).shrinkage)


def _line(name: str, measure: Measure, units: Units) -> str:
    if measure.unit == "deg":
        return f"    {name:<24} {measure.cut:.1f}°"
    return f"    {name:<24} cut {show_length(measure.cut, units):<22} fired {fired_words(measure, units)}"


def sizes_json(kits: list[Kit]) -> str:
    return json.dumps({"format": 1, "lessons": [_lesson(kit) for kit in kits]}, indent=2, ensure_ascii=False)


def _lesson(kit: Kit) -> dict[str, Any]:
    at_hand = substitutes(kit)
    return {
        "lesson": kit.lesson.title,
        "code": kit.code,
        "clay": kit.clay.name,
        "cone": kit.clay.cone,
        "shrinkage": kit.clay.shrinkage,
        "pieces": [_piece(piece, [sub for sub in at_hand if sub.piece is piece]) for piece in kit.pieces],
    }


def _piece(piece: Piece, at_hand: list[Substitute]) -> dict[str, Any]:
    return {
        "name": piece.name,
        "levels": list(piece.levels),
        "count": piece.count,
        "thickness_mm": _round(piece.thickness_mm),
        "mass_g": round(piece.mass_g, 1),
        "measures": _measures(piece.measures),
        "parts": [_part(part) for part in piece.parts],
        "at_hand": [{"measure": s.measure.key, "thing": s.thing, "across_mm": _round(s.across_mm), "fired_mm": _round(s.fired_mm)} for s in at_hand],
        "warnings": [{"check": w.kind, "message": f"{w.what} {w.hint}".strip(), "line": w.span.line} for w in piece.warnings],
    }


def _part(part: Part) -> dict[str, Any]:
    left, bottom, right, top = bounds(part.shape)
    return {
        "name": part.name,
        "wide_mm": _round(right - left),
        "tall_mm": _round(top - bottom),
        "area_mm2": round(area_mm2(part.shape), 1),
        "measures": _measures(part.measures),
    }


def _measures(measures: tuple[Measure, ...]) -> dict[str, dict[str, float]]:
    return {m.key: {f"fired_{m.unit}": _round(m.fired), f"cut_{m.unit}": _round(m.cut)} for m in measures}


def _round(value: float) -> float:
    return round(value, 3)
