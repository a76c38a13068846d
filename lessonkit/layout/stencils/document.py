"""All stencils of a lesson as sheets of paper at full size."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from lessonkit.drawing.fonts import width_mm
from lessonkit.drawing.items import Document, Page
from lessonkit.layout.pen import Pen
from lessonkit.layout.sheet import FOOT_PT, Sheet, edition, foot
from lessonkit.layout.stencils.board import Board, NoRoom
from lessonkit.layout.stencils.facts import facts_of
from lessonkit.layout.stencils.figure import Figure, figure_of
from lessonkit.layout.stencils.sheets import shared_sheet, tile_sheet, whole_sheet
from lessonkit.layout.stencils.tiles import Tiling, tilings, with_strips
from lessonkit.layout.wording import say
from lessonkit.pieces.model import Kit, Part, Piece

FOOT_MM = 8.0


@dataclass(frozen=True, slots=True)
class Filled:
    """A sheet that is ready but for its foot, which counts the sheets."""

    sheet: Sheet
    board: Board
    figures: tuple[Figure, ...]
    tile: str = ""


@dataclass(frozen=True, slots=True)
class Way:
    """A way to print a part: the figure, perhaps turned, on a sheet, perhaps turned. Both, as a stencil wider than the
    paper may fit beside the foot but not above it."""

    sheet: Sheet
    figure: Figure


def stencil_document(kit: Kit, paper: str) -> Document:
    """Every part of every piece at full size, on as few sheets as hold them: several small parts on one, a large one on tiles.

    KeyError for a paper that is none; ValueError where a part's own words leave no room for it on any number of sheets."""
    parts = [_ways(kit, piece, part, paper) for piece in kit.pieces for part in piece.parts]
    single = [(ways, _single(kit, ways)) for ways in parts]
    sheets = [*_together(kit, [filled for _, filled in single if filled]), *(f for ways, whole in single if not whole for f in _tiled(kit, ways))]
    order = [ways[0].figure.part.letter for ways in parts]
    sheets.sort(key=lambda filled: min(order.index(figure.part.letter) for figure in filled.figures))
    title = say("stencils_title", kit.room.language, lesson=kit.lesson.title)
    return Document(title, kit.room.language, tuple(_page(kit, filled, k, len(sheets)) for k, filled in enumerate(sheets, 1)))


def window(sheet: Sheet) -> tuple[float, float]:
    """What a stencil may fill: the live area less the foot."""
    wide, tall = sheet.live_mm
    return wide, tall - FOOT_MM


def _ways(kit: Kit, piece: Piece, part: Part, paper: str) -> list[Way]:
    """The part upright first."""
    facts = facts_of(kit, piece, part)
    figures, sheets = (figure_of(part, facts), figure_of(part, facts, turned=True)), (Sheet(paper), Sheet(paper, turned=True))
    return [Way(sheet, figure) for figure in figures for sheet in sheets]


def _single(kit: Kit, ways: Sequence[Way]) -> Filled | None:
    for way in ways:
        try:
            return Filled(way.sheet, whole_sheet(kit, way.figure, window(way.sheet)), (way.figure,))
        except NoRoom:
            continue
    return None


def _together(kit: Kit, alone: Sequence[Filled]) -> list[Filled]:
    """Small parts on common sheets, largest part first, each onto the emptiest sheet that has room; or, where that gives
    fewer sheets, onto the first."""
    emptiest, first = (_grouped(kit, alone, by_room) for by_room in (True, False))
    return emptiest if len(emptiest) <= len(first) else first


def _grouped(kit: Kit, alone: Sequence[Filled], by_room: bool) -> list[Filled]:
    sheets: list[Filled] = []
    for filled in sorted(alone, key=_area_mm2, reverse=True):
        for other in sorted(sheets, key=_area_mm2) if by_room else sheets:
            if shared := _shared(kit, [*other.figures, *filled.figures], filled.sheet.paper):
                sheets[sheets.index(other)] = shared
                break
        else:
            sheets.append(filled)
    return sheets


def _area_mm2(filled: Filled) -> float:
    return sum(figure.wide_mm * figure.tall_mm for figure in filled.figures)


def _shared(kit: Kit, figures: Sequence[Figure], paper: str) -> Filled | None:
    for sheet in (Sheet(paper), Sheet(paper, turned=True)):
        wide, tall = window(sheet)
        if sum(figure.wide_mm * figure.tall_mm for figure in figures) > wide * tall:
            return None
        try:
            return Filled(sheet, shared_sheet(kit, figures, (wide, tall)), tuple(figures))
        except NoRoom:
            continue
    return None


def _tiled(kit: Kit, ways: Sequence[Way]) -> Iterator[Filled]:
    """On the fewest sheets that hold its words too; of ways with equally many the first, then that with the fewest columns."""
    found = [(way.sheet, tiling) for way in ways for tiling in tilings(way.figure, window(way.sheet))]
    for sheet, tiling in sorted(found, key=lambda each: len(each[1].tiles)):
        if filled := _all_tiles(kit, sheet, tiling):
            yield from filled
            return
    what = f"the words of “{ways[0].figure.facts.name}” leave no room on {ways[0].sheet.paper} for its stencil."
    raise ValueError(f"{what} Shorten its names and notes, or use a larger paper.")


def _all_tiles(kit: Kit, sheet: Sheet, tiling: Tiling) -> list[Filled] | None:
    names = {place: say("stencil_row_column", kit.room.language, row=place[0] + 1, column=place[1] + 1) for place in tiling.tiles}
    try:
        tiling = with_strips(tiling)
        return [Filled(sheet, tile_sheet(kit, tiling, place, window(sheet)), (tiling.figure,), names[place]) for place in sorted(tiling.tiles)]
    except NoRoom:
        return None


def _page(kit: Kit, filled: Filled, k: int, n: int) -> Page:
    """The one place where a sheet is finished: foot, bookmark, and its place on the paper."""
    names = ", ".join(figure.facts.kept[0] for figure in filled.figures)
    wide, tall = filled.sheet.live_mm
    pen = Pen()
    pen.put(*filled.board.items())
    right = f"{filled.sheet.paper} · {say('sheet_of', kit.room.language, k=k, n=n)}"
    foot(pen, wide, tall, _foot_words(kit, filled.figures, wide - width_mm(right, FOOT_PT) - 4), right)
    return filled.sheet.page(pen, f"{names}, {filled.tile}" if filled.tile else names)


def _foot_words(kit: Kit, figures: Sequence[Figure], room_mm: float) -> str:
    """Lesson, parts and edition; where that is too long the parts by their letters, then the lesson shortened."""
    named, lettered = ", ".join(figure.facts.kept[0] for figure in figures), ", ".join(figure.part.letter for figure in figures)
    title = kit.lesson.title
    shorter = [f"{title[:end].rstrip()}…" for end in range(len(title) - 1, 0, -1)]
    for lesson, names in ((title, named), (title, lettered), *((short, lettered) for short in shorter)):
        text = say("stencil_foot", kit.room.language, lesson=lesson, names=names, edition=edition(kit))
        if width_mm(text, FOOT_PT) <= room_mm:
            return text
    return edition(kit)
