"""What is cut out of card for a flat piece: smaller for the needle, half of it on a fold, or a window with its bridges."""

from __future__ import annotations

from dataclasses import replace
from math import dist

from lessonkit.geometry import shape, stencils
from lessonkit.geometry.faults import GeometryError
from lessonkit.geometry.shape import Shape
from lessonkit.lesson.shapes import Flat
from lessonkit.pieces.model import Mark, Part

NAMES = {"press": "a line to press", "fold": "a line to fold", "centre": "a centre line", "quarter": "a quarter mark", "join": "a place to join"}
ALIKE_MM = 0.1  # what lies so near to its mirrored twin is symmetrical for a hand with a needle


def with_stencil(part: Part, flat: Flat, needle_mm: float) -> Part:
    """The part with its stencil, where that is not simply the clay's shape. Raises GeometryError for one that cannot be."""
    if flat.window:
        body = _window(part.shape, needle_mm)
        windows = stencils.bridged(body, flat.window.count, flat.window.wide.mm)
        return replace(part, stencil=windows, bridges=stencils.left_standing(body, windows), window=True)
    if needle_mm:
        part = replace(part, stencil=(stencils.with_needle_allowance(part.shape, needle_mm),))
    return replace(part, half=stencils.half_on_fold(_stencil(part)).shape) if flat.fold and not why_whole(part, flat) else part


def why_whole(part: Part, flat: Flat) -> str:
    """Why the stencil cannot be cut on a fold; empty where it can."""
    if flat.window:
        return "a window is cut out of an open sheet"
    try:
        stencils.half_on_fold(_stencil(part))
    except GeometryError as error:
        return error.what.removesuffix(".").removesuffix(", so it can't be cut on a fold")
    axis = sum(shape.bounds(part.shape)[::2]) / 2
    holes = [(2 * axis - hole.x_mm, hole.y_mm) for hole in part.holes]
    if not all(any(dist((x, y), (hole.x_mm, hole.y_mm)) <= ALIKE_MM for hole in part.holes) for x, y in holes):
        return "a hanging hole has no twin on the other side of its middle line"
    for mark in part.marks:
        if not any(_twins(mark, other, axis) for other in part.marks):
            return f"{NAMES[mark.kind]} has no twin on the other side of its middle line"
    return ""


def _stencil(part: Part) -> Shape:
    return part.stencil[0] if part.stencil else part.shape


def _window(clay: Shape, needle_mm: float) -> Shape:
    """The needle runs inside a window and outside its islands: both make room for half its width."""
    grown = shape.grown(clay, needle_mm / 2)
    if len(grown[0].holes) != len(clay.holes):
        raise GeometryError(f"an opening is narrower than the needle, {needle_mm:g} mm.", "Use a thinner needle or a wider opening.")
    return grown[0]


def _twins(mark: Mark, other: Mark, axis: float) -> bool:
    alike = (mark.kind, mark.words, mark.levels, mark.closed) == (other.kind, other.words, other.levels, other.closed)
    return alike and stencils.are_twins(mark.line, other.line, axis, mark.closed, ALIKE_MM)
