"""The book of step pictures: one table of names, each picture at any width for either hand, and sheets of them all."""

from __future__ import annotations

from collections.abc import Callable
from functools import lru_cache

from lessonkit.drawing.items import Document, Group, Page, Path, Stroke, TextLine
from lessonkit.forgetting import of_a_lesson
from lessonkit.layout.pictures import coils, hollow, joints, slab, studio, surface
from lessonkit.layout.pictures.grammar import SMALL_MM, TALL, WIDE, Drawing, Manner, weights_mm, widest_mm
from lessonkit.layout.pictures.subject import Subject
from lessonkit.layout.same import Same
from lessonkit.layout.sheet import Sheet
from lessonkit.pieces.model import Piece

Draw = Callable[[Drawing, Subject], None]

PICTURES: dict[str, Draw] = {
    "wedge": slab.wedge,
    "pat": slab.pat,
    "roll": slab.roll,
    "turn": slab.turn,
    "flip": slab.flip,
    "lay": slab.lay,
    "trace": slab.trace,
    "cut": slab.cut,
    "lift": slab.lift,
    "opening": slab.opening,
    "hole": surface.hole,
    "texture": surface.texture,
    "score": joints.score,
    "slip": joints.slip,
    "join": joints.join,
    "coil-corner": joints.coil_corner,
    "smooth": surface.smooth,
    "roll-coil": coils.roll_coil,
    "spiral": coils.spiral,
    "stack": coils.stack,
    "blend": coils.blend,
    "pinch": hollow.pinch,
    "open": hollow.open_ball,
    "paddle": hollow.paddle,
    "wrap": hollow.wrap,
    "stand": hollow.stand,
    "drape": hollow.drape,
    "slump": hollow.slump,
    "carve": surface.carve,
    "stamp": surface.stamp,
    "name": surface.name,
    "paint": surface.paint,
    "sponge-foot": surface.sponge_foot,
    "wait": studio.wait,
    "cover": studio.cover,
    "show": studio.show,
    "wash": studio.wash,
    "tidy": studio.tidy,
    "plain": studio.plain,
}


# These show no piece.
ALIKE = frozenset({
    "wedge", "pat", "roll", "turn", "flip", "cut", "coil-corner", "roll-coil", "spiral", "stack", "blend", "pinch", "open", "drape", "slump",
    "wash", "tidy",
})  # fmt: skip


def picture(name: str, piece: Piece, wide_mm: float, left_handed: bool = False, wordless: bool = False) -> Group | None:
    """The picture of that name, `wide_mm` wide and 0.7 times as tall, its top left at 0, 0; drawn from the piece.

    A left-hander's shows the action mirrored, but neither the piece nor words; a `wordless` one has neither words nor figures.
    None where the piece has nothing to show (an opening in a piece without one). KeyError for a name that the book lacks;
    ValueError for a width that is not above 0. One that was printed lately is the same value again.
    """
    if not wide_mm > 0:
        raise ValueError(f"a picture can't be {wide_mm:g} mm wide.")
    alike = name in ALIKE
    drawing = (_drawn_alike if alike else _drawn)(name, Same(piece, alike), left_handed, widest_mm(wide_mm))
    if drawing is None:
        return None
    manner = Manner(wide_mm <= SMALL_MM, wordless and drawing.worded)
    items = (_printed_alike if alike else _printed)(drawing, manner, weights_mm(wide_mm))
    return Group(items, layer=f"picture {name}", scale=wide_mm / WIDE)


def _draw(name: str, of: Same[Piece], left_handed: bool, widest_mm: float) -> Drawing | None:
    draw, subject = PICTURES[name], _subject(of, left_handed)
    if name == "opening" and not subject.part.shape.holes:
        return None
    drawing = Drawing(left_handed, widest_mm)
    draw(drawing, subject)
    return drawing.thinned()


# The papers of a lesson show it at several widths, most of them with the same lines; what no piece changes, many lessons show.
_drawn, _drawn_alike = of_a_lesson(lru_cache(20)(_draw)), lru_cache(20)(_draw)
_printed, _printed_alike = of_a_lesson(lru_cache(32)(Drawing.printed)), lru_cache(32)(Drawing.printed)


@of_a_lesson
@lru_cache(4)
def _subject(of: Same[Piece], left_handed: bool) -> Subject:
    return Subject(of.value, left_handed)


def contact_sheet(piece: Piece, paper: str) -> Document:
    """Every picture of a piece with its name, 60 mm wide, on as many sheets as it takes."""
    sheet = Sheet(paper)
    (live_wide, live_tall), wide, gap, caption = sheet.live_mm, 60.0, 4.0, 7.0
    columns = int((live_wide + gap) // (wide + gap))
    tall = wide * TALL / WIDE
    rows = int((live_tall + gap) // (tall + caption + gap))
    drawn = [(name, group) for name in PICTURES if (group := picture(name, piece, wide))]
    pages: list[Page] = []
    for first in range(0, len(drawn), columns * rows):
        items: list[Group] = []
        for i, (name, group) in enumerate(drawn[first : first + columns * rows]):
            frame = Path.along([((0, 0), (wide, 0), (wide, tall), (0, tall))], True, Stroke(0.18))
            words = TextLine(0, tall + 4.6, name, 11)
            items.append(Group((frame, group, words), i % columns * (wide + gap), i // columns * (tall + caption + gap)))
        left, top = sheet.corner_mm
        pages.append(Page(*sheet.size_mm, (Group(tuple(items), left, top),), f"{piece.name}, pictures {len(pages) + 1}"))
    return Document(f"{piece.name}, step pictures", "en", tuple(pages))
