"""All stencils of a lesson as sheets of paper at full size."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import NamedTuple

from lessonkit.drawing.fonts import width_mm
from lessonkit.drawing.items import Document, Group, Item, Page
from lessonkit.layout.pen import Pen
from lessonkit.layout.sheet import FOOT_PT, edition, foot
from lessonkit.layout.stencils.area import FOOT_MM, Area
from lessonkit.layout.stencils.backs import back_items
from lessonkit.layout.stencils.board import Board, NoRoom
from lessonkit.layout.stencils.facts import Facts, facts_of
from lessonkit.layout.stencils.figure import Figure, Folding, figure_of
from lessonkit.layout.stencils.nest import seat_nests
from lessonkit.layout.stencils.notes import Note, notes_boards, notes_of, seat_note
from lessonkit.layout.stencils.sheets import SharedSheets, tile_sheet, whole_sheet
from lessonkit.layout.stencils.tiles import Tiling, tilings, with_strips
from lessonkit.layout.wording import say
from lessonkit.pieces.model import Kit, Part

TOP_LINE_MM = 4.0  # where the foot ends when it stands at the top of a back


class Filled(NamedTuple):
    """A sheet that is ready but for its foot, which counts the sheets. `left` is what of its notes found no room on it."""

    area: Area
    board: Board
    figures: tuple[Figure, ...]
    tile: str = ""
    left: tuple[Note, ...] = ()


class Way(NamedTuple):
    """A way to print a part: the figure, perhaps turned, on a sheet, perhaps turned. Both, as a stencil wider than the
    paper may fit beside the foot but not above it."""

    area: Area
    figure: Figure


def stencil_document(kit: Kit, paper: str) -> Document:
    """Every part of every piece at full size, on as few sheets as hold them: several small parts on one, a large one on tiles.

    KeyError for a paper that is none; ValueError where a part's own words leave no room for it on any number of sheets."""
    return stencil_documents(kit, paper)[0]


def stencil_documents(kit: Kit, paper: str, mirror: bool = False) -> tuple[Document, Document | None]:
    """The sheets, and those that are printed on both sides, front and back in turn: every one with `mirror`, else those with a
    stencil that is flipped; None where there is none."""
    sheets = _sheets(kit, paper, mirror)
    title, n = say("stencils_title", kit.room.language, lesson=kit.lesson.title), len(sheets)
    fronts = tuple(_page(kit, filled, sheets, say("sheet_of", kit.room.language, k=k, n=n)) for k, filled in enumerate(sheets, 1))
    both = [(k, filled) for k, filled in enumerate(sheets, 1) if filled.figures and (mirror or any(f.facts.flip for f in filled.figures))]
    pairs = tuple(page for k, filled in both for page in _both_sides(kit, filled, sheets, k))
    return Document(title, kit.room.language, fronts), Document(title, kit.room.language, pairs) if pairs else None


class StencilError(ValueError):
    """A stencil whose words, as long as names and notes may be, leave no room for it: of the kit's `piece`, counted from 0."""

    def __init__(self, what: str, hint: str, piece: int) -> None:
        super().__init__(f"{what} {hint}")
        self.what, self.hint, self.piece = what, hint, piece


def _sheets(kit: Kit, paper: str, mirror: bool) -> list[Filled]:
    parts = [Stencil(kit, part, facts_of(kit, piece, part, mirror), paper) for piece in kit.pieces for part in piece.parts]
    runs = [_laid_out(kit, sheet) for sheet in _together(kit, parts, paper)]
    order = [stencil.part.letter for stencil in parts]
    runs.sort(key=lambda run: min(order.index(figure.part.letter) for figure in run[0].figures))
    sheets = [filled for run in runs for filled in _noted(run, kit.room.language)]
    left = [note for filled in sheets for note in filled.left]
    area = Area.of(kit, paper)
    seat_nests([filled.board for filled in sheets], kit)
    return sheets + [Filled(area, board, ()) for board in notes_boards(left, area.window_mm, kit.room.language)]


@dataclass(frozen=True, eq=False)
class Stencil:
    """A part to print. Upright it is tried together with others; only where it shares no sheet it is laid out on one of its own."""

    kit: Kit
    part: Part
    facts: Facts
    paper: str

    @cached_property
    def upright(self) -> Figure:
        return figure_of(self.part, self.facts, folding="here" if self.part.half else "")

    def ways(self) -> Iterator[Way]:
        """The part upright first. Half a stencil on the sheet that is folded, else, if that is too small, half of it alone."""
        foldings: tuple[Folding, ...] = ("here", "beside") if self.part.half else ("",)
        for folding in foldings:
            for turned in (False, True):
                first = folding == foldings[0] and not turned
                figure = self.upright if first else figure_of(self.part, self.facts, turned, folding)
                yield from (Way(Area.of(self.kit, self.paper, turned), figure) for turned in (False, True))

    def alone(self) -> Filled | None:
        for way in self.ways():
            try:
                return Filled(way.area, whole_sheet(self.kit, way.figure, way.area.window_mm), (way.figure,))
            except NoRoom:
                continue
        return None


@dataclass(frozen=True, slots=True, eq=False)
class Together:
    """Parts for one sheet, which is laid out if they are several."""

    stencils: tuple[Stencil, ...]
    filled: Filled | None = None


def _laid_out(kit: Kit, sheet: Together) -> list[Filled]:
    if filled := sheet.filled or sheet.stencils[0].alone():
        return [filled]
    return _tiled(kit, list(sheet.stencils[0].ways()))


def _together(kit: Kit, stencils: Sequence[Stencil], paper: str) -> list[Together]:
    """Small parts on common sheets, largest part first, each onto the emptiest sheet that has room; or, where that gives
    fewer sheets, onto the first."""
    shared = SharedSheets(kit)
    emptiest, first = (_grouped(kit, stencils, paper, by_room, shared) for by_room in (True, False))
    return emptiest if len(emptiest) <= len(first) else first


def _grouped(kit: Kit, stencils: Sequence[Stencil], paper: str, by_room: bool, shared: SharedSheets) -> list[Together]:
    sheets: list[Together] = []
    for one in sorted((Together((stencil,)) for stencil in stencils), key=_area_mm2, reverse=True):
        for other in sorted(sheets, key=_area_mm2) if by_room else sheets:
            both = (*other.stencils, *one.stencils)
            if filled := _shared(kit, [stencil.upright for stencil in both], paper, shared):
                sheets[sheets.index(other)] = Together(both, filled)
                break
        else:
            sheets.append(one)
    return sheets


def _area_mm2(sheet: Together) -> float:
    return sum(stencil.upright.wide_mm * stencil.upright.tall_mm for stencil in sheet.stencils)


def _shared(kit: Kit, figures: Sequence[Figure], paper: str, shared: SharedSheets) -> Filled | None:
    for area in (Area.of(kit, paper), Area.of(kit, paper, turned=True)):
        wide, tall = area.window_mm
        if sum(figure.wide_mm * figure.tall_mm for figure in figures) > wide * tall:
            return None
        if board := shared.sheet(figures, (wide, tall)):
            return Filled(area, board, tuple(figures))
    return None


def _tiled(kit: Kit, ways: Sequence[Way]) -> list[Filled]:
    """On the fewest sheets that hold its words too; of ways with equally many the first, then that with the fewest columns."""
    found = [(way.area, tiling) for way in ways if way.figure.folding != "here" for tiling in tilings(way.figure, way.area.window_mm)]
    for area, tiling in sorted(found, key=lambda each: len(each[1].tiles)):
        if filled := _all_tiles(kit, area, tiling):
            return filled
    part, name = ways[0].figure.part, ways[0].figure.facts.name
    what = f"all that must be said on the stencil of “{name}” leaves no room for it on {ways[0].area.paper}."
    hint = "Shorten its name, its face, the names of its joins or the lesson's title, or use a larger paper."
    raise StencilError(what, hint, next(i for i, piece in enumerate(kit.pieces) if any(own is part for own in piece.parts)))


def _all_tiles(kit: Kit, area: Area, tiling: Tiling) -> list[Filled] | None:
    names = {place: say("stencil_row_column", kit.room.language, row=place[0] + 1, column=place[1] + 1) for place in tiling.tiles}
    try:
        tiling = with_strips(tiling)
        return [Filled(area, tile_sheet(kit, tiling, place, area.window_mm), (tiling.figure,), names[place]) for place in sorted(tiling.tiles)]
    except NoRoom:
        return None


def _noted(run: Sequence[Filled], language: str) -> list[Filled]:
    """Sheets with their notes: each once, on the first of a part's sheets that has room for it."""
    left = []
    for note in (note for figure in run[0].figures for note in notes_of(figure.facts)):
        if not any(seat_note(filled.board, note, language) for filled in run):
            left.append(note)
    return [filled._replace(left=tuple(left) if number == 0 else ()) for number, filled in enumerate(run)]


# -- pages
def _page(kit: Kit, filled: Filled, sheets: Sequence[Filled], count: str) -> Page:
    """The one place where a sheet is finished: foot, bookmark, and its place on the paper."""
    return filled.area.page(_with_foot(kit, filled, filled.board.items(), sheets, count, at_top=False), _bookmark(kit, filled))


def _both_sides(kit: Kit, filled: Filled, sheets: Sequence[Filled], k: int) -> Iterator[Page]:
    """Front and back. The foot of a turned sheet lies behind its top, so there it stands at the top of the back."""
    language, upright = kit.room.language, not filled.area.turned
    for name in ("front", "back"):
        face = say(f"stencil_{name}", language)
        count = say("stencil_of_sheet", language, k=k, n=len(sheets), face=face)
        items = filled.board.items() if name == "front" else back_items(filled.board, upright)
        pen = _with_foot(kit, filled, items, sheets, f"{say('stencil_both_sides', language)} {count}", name == "back" and not upright)
        yield filled.area.page(pen, f"{_bookmark(kit, filled)}, {face}")


def _with_foot(kit: Kit, filled: Filled, items: Sequence[Item], sheets: Sequence[Filled], count: str, at_top: bool) -> Pen:
    wide, tall = filled.area.live_mm
    pen = Pen()
    pen.put(*([Group(tuple(items), y_mm=FOOT_MM)] if at_top else items))
    right = f"{filled.area.paper} · {count}"
    foot(pen, wide, TOP_LINE_MM if at_top else tall, _foot_words(kit, filled, sheets, wide - width_mm(right, FOOT_PT) - 4), right)
    return pen


def _bookmark(kit: Kit, filled: Filled) -> str:
    names = ", ".join(figure.facts.kept[0] for figure in filled.figures) or say("stencil_notes", kit.room.language)
    return f"{names}, {filled.tile}" if filled.tile else names


def _foot_words(kit: Kit, filled: Filled, sheets: Sequence[Filled], room_mm: float) -> str:
    """Lesson, parts, where their notes stand, and edition; where that is too long the parts by their letters, then the lesson
    shortened."""
    notes = say("stencil_notes", kit.room.language)
    named = ", ".join(figure.facts.kept[0] for figure in filled.figures) or notes
    lettered = ", ".join(figure.part.letter for figure in filled.figures) or notes
    code = " · ".join((*_where_notes_are(kit, filled, sheets), edition(kit)))
    title = kit.lesson.title
    shorter = [f"{title[:end].rstrip()}…" for end in range(len(title) - 1, 0, -1)]
    for lesson, names in ((title, named), (title, lettered), *((short, lettered) for short in shorter)):
        text = say("stencil_foot", kit.room.language, lesson=lesson, names=names, edition=code)
        if width_mm(text, FOOT_PT) <= room_mm:
            return text
    return edition(kit)


def _where_notes_are(kit: Kit, filled: Filled, sheets: Sequence[Filled]) -> list[str]:
    first = next((k for k, other in enumerate(sheets, 1) if not other.figures), 0)
    return [say("stencil_notes_on", kit.room.language, k=first)] if filled.left and first else []
