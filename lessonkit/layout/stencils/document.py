"""All stencils of a lesson as sheets of paper at full size."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from lessonkit.drawing.items import Document, Page
from lessonkit.layout.pen import Pen
from lessonkit.layout.sheet import Sheet, edition, foot
from lessonkit.layout.stencils.board import Board, NoRoom
from lessonkit.layout.stencils.facts import facts_of
from lessonkit.layout.stencils.figure import Figure, figure_of
from lessonkit.layout.stencils.sheets import shared_sheet, tile_sheet, whole_sheet
from lessonkit.layout.stencils.tiles import Tiling, tilings, with_strips
from lessonkit.layout.wording import say
from lessonkit.pieces.model import Kit

FOOT_MM = 8.0


@dataclass(frozen=True, slots=True)
class Filled:
    """A sheet that is ready but for its foot, which counts the sheets."""

    sheet: Sheet
    board: Board
    figures: tuple[Figure, ...]
    tile: str = ""


def stencil_document(kit: Kit, paper: str) -> Document:
    """Every part of every piece at full size, on as few sheets as hold them: several small parts on one, a large one on tiles.

    ValueError where a part's own words leave no room for it on any number of sheets."""
    figures = [figure_of(part, facts_of(kit, piece, part)) for piece in kit.pieces for part in piece.parts]
    single = {id(figure): _single(kit, figure, paper) for figure in figures}
    small = [figure for figure in figures if single[id(figure)]]
    large = [figure for figure in figures if not single[id(figure)]]
    sheets = [*_together(kit, small, paper, single), *(filled for figure in large for filled in _tiled(kit, figure, paper))]
    sheets.sort(key=lambda filled: min(figures.index(figure) for figure in filled.figures))
    title = say("stencils_title", kit.room.language, lesson=kit.lesson.title)
    return Document(title, kit.room.language, tuple(_page(kit, filled, k, len(sheets)) for k, filled in enumerate(sheets, 1)))


def window(sheet: Sheet) -> tuple[float, float]:
    """What a stencil may fill: the live area less the foot."""
    wide, tall = sheet.live_mm
    return wide, tall - FOOT_MM


def _single(kit: Kit, figure: Figure, paper: str) -> Filled | None:
    for sheet in (Sheet(paper), Sheet(paper, turned=True)):
        try:
            return Filled(sheet, whole_sheet(kit, figure, window(sheet)), (figure,))
        except NoRoom:
            continue
    return None


def _together(kit: Kit, figures: Sequence[Figure], paper: str, single: dict[int, Filled | None]) -> list[Filled]:
    """Small parts on common sheets, largest part first, each onto the emptiest sheet that has room; or, where that gives
    fewer sheets, onto the first."""
    emptiest, first = (_grouped(kit, figures, paper, single, by_room) for by_room in (True, False))
    return emptiest if len(emptiest) <= len(first) else first


def _grouped(kit: Kit, figures: Sequence[Figure], paper: str, single: dict[int, Filled | None], by_room: bool) -> list[Filled]:
    sheets: list[Filled] = []
    for figure in sorted(figures, key=_size):
        for filled in sorted(sheets, key=lambda f: sum(-_size(each) for each in f.figures)) if by_room else sheets:
            if shared := _shared(kit, [*filled.figures, figure], paper):
                sheets[sheets.index(filled)] = shared
                break
        else:
            alone = single[id(figure)]
            assert alone is not None
            sheets.append(alone)
    return sheets


def _size(figure: Figure) -> float:
    """Largest first."""
    return -figure.wide_mm * figure.tall_mm


def _shared(kit: Kit, figures: Sequence[Figure], paper: str) -> Filled | None:
    for sheet in (Sheet(paper), Sheet(paper, turned=True)):
        wide, tall = window(sheet)
        if -sum(map(_size, figures)) > wide * tall:
            return None
        try:
            return Filled(sheet, shared_sheet(kit, figures, (wide, tall)), tuple(figures))
        except NoRoom:
            continue
    return None


def _tiled(kit: Kit, figure: Figure, paper: str) -> Iterator[Filled]:
    """On the fewest sheets that hold its words too; of ways with equally many the upright one, then that with the fewest columns."""
    ways = [(sheet, tiling) for sheet in (Sheet(paper), Sheet(paper, turned=True)) for tiling in tilings(figure, window(sheet))]
    for sheet, tiling in sorted(ways, key=lambda way: len(way[1].tiles)):
        if filled := _all_tiles(kit, sheet, tiling):
            yield from filled
            return
    what = f"the words of “{figure.facts.name}” leave no room on {paper} for its stencil."
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
    language, names = kit.room.language, ", ".join(figure.facts.kept[0] for figure in filled.figures)
    pen = Pen()
    pen.put(*filled.board.items())
    right = f"{filled.sheet.paper} · {say('sheet_of', language, k=k, n=n)}"
    foot(pen, *filled.sheet.live_mm, say("stencil_foot", language, lesson=kit.lesson.title, names=names, edition=edition(kit)), right)
    return filled.sheet.page(pen, f"{names}, {filled.tile}" if filled.tile else names)
