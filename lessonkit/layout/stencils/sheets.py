"""One sheet: where the figures stand on it, then everything that the sheet says, arrangement after arrangement until one fits."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from lessonkit.drawing.typesetting import Span
from lessonkit.layout.stencils import panels
from lessonkit.layout.stencils.board import STROKE_MM, Board, NoRoom, Placed, Seat, Spot
from lessonkit.layout.stencils.facts import mark_words
from lessonkit.layout.stencils.figure import Figure
from lessonkit.layout.stencils.labels import LEADER_MM, can_label, face_mark, label, note_places
from lessonkit.layout.stencils.tiles import Place, Tiling, draw_strips, tile_map
from lessonkit.layout.wording import say
from lessonkit.pieces.model import Kit

INDENT_MM = 24.0  # bars across and words start here, right of the bar down
BELOW_MM = 10.0
AIR_MM = (3.0, 0.0)  # around the legend, where there is so much

Window = tuple[float, float]


def whole_sheet(kit: Kit, figure: Figure, window: Window) -> Board:
    """One part on a sheet of its own. NoRoom if it is too large, or leaves too little for bars, label and legend."""
    title = panels.heading(figure.facts, Span(figure.facts.count), window[0])
    for x, y in _places(figure, window, title[0].tall_mm):
        begun = Board(*window)
        placed = begun.place(figure, x, y)
        for board, check in _filled(begun, placed, kit, title):
            try:
                _remarks(board, kit, y + figure.tall_mm + BELOW_MM, check)
            except NoRoom:
                continue
            return board
    raise NoRoom


def _places(figure: Figure, window: Window, heading_mm: float) -> Iterator[tuple[float, float]]:
    """Under the heading first, then wherever the heading finds room elsewhere; centred, then at either side."""
    free_x, free_y = window[0] - figure.wide_mm, window[1] - figure.tall_mm
    if free_x < -1e-6 or free_y < -1e-6:
        return
    tops = (heading_mm + 7, heading_mm + 5, heading_mm + 3, 0.0, free_y, free_y / 2)
    found = [(max(x, 0.0), max(y, 0.0)) for x in (free_x / 2, free_x, 0.0) for y in tops if y <= free_y + 1e-6]
    yield from dict.fromkeys(found)


def tile_sheet(kit: Kit, tiling: Tiling, place: Place, window: Window) -> Board:
    """One tile of a part. NoRoom if its strips and lines leave too little for what every sheet says."""
    name = Span(say("stencil_row_column", kit.room.language, row=place[0] + 1, column=place[1] + 1), True)
    title, maps = panels.heading(tiling.figure.facts, name, window[0]), tile_map(tiling, place, kit.room.language)
    for at in _tile_places(tiling, place, window, title[0].tall_mm):
        begun = Board(*window)
        try:
            placed = _placed_tile(begun, tiling, place, at)
        except NoRoom:
            continue
        below = min(placed.clip[3], placed.y_mm + tiling.figure.tall_mm) + BELOW_MM
        for board, check in _filled(begun, placed, kit, title):
            try:
                _assembly(board, tiling, maps, kit, below, check)
                _remarks(board, kit, below, check)
            except NoRoom:
                continue
            return board
    raise NoRoom


def _tile_places(tiling: Tiling, place: Place, window: Window, heading_mm: float) -> Iterator[tuple[float, float]]:
    """Where the tile's view may stand: its strips near the sheet's sides, so that little paper lies between two tiles."""
    left, top, right, bottom = tiling.view(place)
    free_x, free_y = window[0] - (right - left), window[1] - (bottom - top)
    column = place[1]
    sides = (free_x if column == 0 else 0.0 if column == tiling.columns - 1 else free_x / 2, free_x / 2, 0.0, free_x)
    tops = (heading_mm + 3, free_y, free_y / 2, 0.0)
    found = [(max(x, 0.0), max(y, 0.0)) for x in sides for y in tops if y <= free_y + 1e-6]
    yield from dict.fromkeys(found)


def _placed_tile(board: Board, tiling: Tiling, place: Place, at: tuple[float, float]) -> Placed:
    """The tile's view with its top left at a place; half a line's width more is shown where the part ends, not at a strip."""
    left, top, right, bottom = tiling.view(place)
    row, column = place
    clip = (
        at[0] - (STROKE_MM if column == 0 else 0),
        at[1] - (STROKE_MM if row == 0 else 0),
        at[0] + right - left + (STROKE_MM if column == tiling.columns - 1 else 0),
        at[1] + bottom - top + (STROKE_MM if row == tiling.rows - 1 else 0),
    )
    placed = board.place(tiling.figure, at[0] - left, at[1] - top, clip)
    draw_strips(board, tiling, place, placed.x_mm, placed.y_mm)
    return placed


def _assembly(board: Board, tiling: Tiling, maps: Sequence[panels.Panel], kit: Kit, below: float, check: Seat) -> None:
    """The map of the whole, and how the sheets come together."""
    language, right = kit.room.language, board.wide_mm
    in_waste = Spot(right, below, (1, 0), within=board.scrap, reach_mm=60)
    board.must_seat(maps, in_waste, Spot(right, check.y_mm, (1, 1)), layer="map")
    blank = [say("stencil_blank", language, row=row + 1, column=column + 1) for row, column in tiling.blank]
    how = [panels.front_only(panel) for panel in panels.remarks([say("stencil_assemble", language), *blank])]
    board.must_seat(how, Spot(INDENT_MM, check.y_mm - 4, (0, 1)))


class SharedSheets:
    """Sheets of several parts, each part with its label in it or beside it, 6 mm apart. What is the same of two sheets is laid out once."""

    def __init__(self, kit: Kit) -> None:
        self._kit = kit
        self._begun: dict[tuple[Window, tuple[int, ...]], tuple[Board, Seat] | None] = {}

    def sheet(self, figures: Sequence[Figure], window: Window) -> Board | None:
        """None if they do not all fit."""
        if begun := self._with(figures, window):
            board, check = begun[0].copy(), begun[1]
            try:
                _remarks(board, self._kit, max(placed.y_mm + placed.figure.tall_mm for placed in board.placed) + BELOW_MM, check)
            except NoRoom:
                return None
            return board
        return None

    def _with(self, figures: Sequence[Figure], window: Window) -> tuple[Board, Seat] | None:
        key = (window, tuple(map(id, figures)))
        if key not in self._begun:
            self._begun[key] = self._added(figures, window)
        return self._begun[key]

    def _added(self, figures: Sequence[Figure], window: Window) -> tuple[Board, Seat] | None:
        """The last figure set beside the others."""
        try:
            if not figures:
                board = Board(*window)
                return board, _bars(board, self._kit)
            if before := self._with(figures[:-1], window):
                return _share(before[0], figures[-1], self._kit), before[1]
        except NoRoom:
            pass
        return None


def _share(board: Board, figure: Figure, kit: Kit) -> Board:
    """The board with one more figure, where it has room with its label in it, or else beside it."""
    alone = (figure.wide_mm, figure.tall_mm)
    if not board.ground.fits(*alone, board.apart):
        raise NoRoom
    labels = panels.full_label(figure.facts, False, named=True)
    beside = [(figure.wide_mm + LEADER_MM + panel.wide_mm, max(figure.tall_mm, panel.tall_mm)) for panel in labels]
    below = [(max(figure.wide_mm, panel.wide_mm), figure.tall_mm + LEADER_MM + panel.tall_mm) for panel in labels]
    tried: set[tuple[float, float] | None] = {None}
    for wide, tall in (alone, *sorted((*beside, *below), key=sum)):
        at = board.ground.place(wide, tall, (0.0, 0.0), board.apart)
        if at is None or at in tried:
            continue
        tried.add(at)
        trial = board.copy()
        try:
            placed = trial.place(figure, *at)
            note_places(trial, placed, kit)
            label(trial, placed, named=True)
            face_mark(trial, placed, kit)
        except NoRoom:
            continue
        return trial
    raise NoRoom


# -- what every sheet says
def _filled(begun: Board, placed: Placed, kit: Kit, title: list[panels.Panel]) -> Iterator[tuple[Board, Seat]]:
    """A sheet with its figure, and on it notes at holes and edges, the heading, then bars and label, whichever is to choose its place
    first. With the bars' seat."""
    try:
        note_places(begun, placed, kit)
        begun.must_seat(title, Spot(0, 0))
    except NoRoom:
        return
    bars = panels.check_bars(kit.room.language)
    if not any(begun.ground.fits(bar.wide_mm, bar.tall_mm) for bar in bars) or not can_label(begun, placed):
        return
    for bars_first in (True, False):
        board = begun.copy()
        try:
            check = _bars(board, kit) if bars_first else None
            label(board, placed, named=False)
            face_mark(board, placed, kit)
            yield board, check or _bars(board, kit)
        except NoRoom:
            continue


def _bars(board: Board, kit: Kit) -> Seat:
    """The bar down at an edge of the sheet, the bars across at its foot, or wherever they fit."""
    language, wide, tall = kit.room.language, board.wide_mm, board.tall_mm
    at_left, at_right = panels.bar_down(mirrored=False), panels.bar_down(mirrored=True)
    down = (
        board.seat([at_left], Spot(0, tall, (0, 1), reach_mm=6), layer="bar")
        or board.seat([at_right], Spot(wide, tall, (1, 1), reach_mm=6), layer="bar")
        or board.must_seat([at_left], Spot(0, tall, (0, 1)), layer="bar")
    )
    name = panels.bar_name(kit.room.language)
    beside = (down.right + 1.8, 0) if down.panel is at_left else (down.x_mm - 1.8, 1)
    board.must_seat([name], *(Spot(beside[0], y, (beside[1], hold), reach_mm=24) for y, hold in ((down.foot, 1), (down.y_mm, 0))),
                    Spot(beside[0], down.foot - 30, (beside[1], 1), reach_mm=50))  # fmt: skip
    return board.must_seat(panels.check_bars(language), Spot(INDENT_MM, tall, (0, 1)), layer="bar")


def _remarks(board: Board, kit: Kit, top: float, check: Seat) -> None:
    """The legend, with how to cut where that has room too, and what was assumed."""
    language = kit.room.language
    traces = [trace for placed in board.placed for trace in placed.figure.traces]
    kinds = {kind: [mark_words(trace.words, trace.levels, kit) for trace in traces if trace.kind == kind] for kind in sorted(board.kinds)}
    legend, how = panels.legend(kinds, language), _how(board.placed, board.kinds, language)
    spots = (Spot(INDENT_MM, top, within=board.scrap, eases=AIR_MM, reach_mm=40), Spot(check.x_mm, check.y_mm - 6, (0, 1)))
    both = [panels.stacked([key, text], 1, (0, 2.4)) for key in legend for text in panels.remarks(how)[:3]] if how else []
    key = board.seat(both, *spots) or board.must_seat(legend, *spots)
    if kit.assumed:
        board.must_seat(panels.remarks(kit.assumed, bold=True), Spot(key.x_mm, key.foot + 4), layer="assumed")


def _how(placed: Sequence[Placed], kinds: set[str], language: str) -> list[str]:
    if "cut" not in kinds:
        return []
    texts = [say("stencil_how_press" if kinds & {"press", "fold"} else "stencil_how", language)]
    if any(each.figure.part.window for each in placed):
        texts.append(say("stencil_how_window", language))
    elif any(each.openings for each in placed):
        texts.append(say("stencil_how_opening", language))
    return texts
