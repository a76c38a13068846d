"""What the room can take: the largest slab that is rolled in it, and the shelves of its kiln. Millimetres."""

from __future__ import annotations

from math import cos, dist, pi, radians, tan

from lessonkit.geometry import outlines, shape
from lessonkit.geometry.curves import arc_points
from lessonkit.geometry.faults import GeometryError
from lessonkit.geometry.shape import Shape
from lessonkit.lesson.classroom import LargestSlab
from lessonkit.lesson.firing import Kiln, Shelf
from lessonkit.lesson.lesson import Piece as WrittenPiece
from lessonkit.lesson.room import Clay
from lessonkit.pieces.model import Piece

MARGIN_MM = 10.0  # a rolled edge is thin and torn (common practice, no source)
BETWEEN_MM = 5.0  # two parts on a slab: room for the needle and its waste
RIM_MM = 10.0  # stays free at a shelf's edge (common practice, no source)
LARGEST_STENCIL_MM2 = 1_500_000.0
FLAT_ON_ITS_BACK = "pocket"
TURNS_DEG = tuple(range(0, 90, 15))


def drying_losses(clay: Clay) -> list[float]:
    """The part of the wet length that each of her bars had lost when it was dry."""
    return [(bar.wet.mm - bar.dry.mm) / bar.wet.mm for bar in clay.bars if bar.dry]


def need_paper(piece: Piece) -> None:
    """Raises GeometryError for a stencil of more than some 40 sheets: nobody joins so many, and no kiln of a class holds what it cuts."""
    for part in piece.parts:
        left, bottom, right, top = shape.bounds(part.shape)
        if (right - left) * (top - bottom) > LARGEST_STENCIL_MM2:
            name = part.name if len(piece.parts) > 1 else "it"
            what = f"{name} is {right - left:.0f} x {top - bottom:.0f} mm as cut, and its stencil would take dozens of sheets."
            raise GeometryError(what, "Look at its units, or make it of parts that are joined.")


def fits_slab(part: Shape, slab: LargestSlab) -> bool:
    """Whether a part can be cut from the largest slab, lying any way round (in steps of 15 degrees)."""
    margin = slab.margin.mm if slab.margin else MARGIN_MM
    return _fits(part, outlines.rectangle(slab.wide.mm, slab.long.mm), margin) if min(slab.wide.mm, slab.long.mm) > 2 * margin else False


def fits_shelf(standing: Shape, kiln: Kiln) -> bool:
    """Whether what stands on this outline finds room on a shelf, any way round (in steps of 15 degrees)."""
    return _fits(standing, shelf_outline(kiln.shelf), kiln.rim.mm if kiln.rim else RIM_MM)


def _fits(piece: Shape, board: Shape, margin: float) -> bool:
    left, bottom, right, top = shape.bounds(piece)
    x, y = (left + right) / 2, (bottom + top) / 2
    reach = max(dist(point, (x, y)) for point in piece.outline) + margin
    wide, tall = _size(board)
    if 2 * reach <= min(wide, tall) and board.outline in (outlines.rectangle(wide, tall).outline, outlines.circle(wide).outline):
        return True  # whichever way it lies
    if shape.area_mm2(shape.whole(piece)) > shape.area_mm2(board):
        return False
    middle = shape.moved(shape.whole(piece), -x, -y)
    from lessonkit.geometry.shelving import set_out  # late: most pieces are small enough

    return any(set_out(board, ((shape.turned(middle, float(turn)), 1),), 0.0, margin) for turn in TURNS_DEG)


def _size(board: Shape) -> tuple[float, float]:
    left, bottom, right, top = shape.bounds(board)
    return right - left, top - bottom


def shelf_outline(shelf: Shelf) -> Shape:
    """The shelf from above; a half round one lies with its straight edge below, its origin in the middle of that edge."""
    if shelf.round:
        return outlines.circle(shelf.round.mm)
    if shelf.half_round:
        return Shape(arc_points(shelf.half_round.mm / 2, 0.0, 180.0))
    assert shelf.wide is not None
    assert shelf.deep is not None
    return outlines.rectangle(shelf.wide.mm, shelf.deep.mm)


def footprint(piece: Piece, written: WrittenPiece) -> tuple[Shape, float]:
    """The outline from above, and the height, wet. A wall pocket lies on its back; a form that leans out counts at its widest."""
    size = {measure.key: measure.cut for measure in piece.measures}
    if piece.form == "flat":
        return shape.whole(piece.parts[0].shape), piece.thickness_mm
    if piece.form == FLAT_ON_ITS_BACK:
        return outlines.rectangle(size["wide"], size["tall"]), size["deep"]
    if "deep" in size and "wide" in size:
        make = outlines.ellipse if piece.form == "oval" else outlines.rectangle
        return make(size["wide"], size["deep"]), size["tall"]
    if "long" in size:
        return outlines.rectangle(size["long"], size["wide"]), size["tall"]
    widest = max(size[key] for key in ("outside", "across", "rim", "bottom", "top", "flats") if key in size)
    if written.many_sided:
        widest = widest / (cos(pi / written.many_sided.sides) if "flats" in size else 1.0)
        widest += 2 * size["tall"] * tan(radians(max(written.many_sided.lean, 0.0)))
    return outlines.circle(widest), size["tall"]
