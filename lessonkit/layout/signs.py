"""Station signs: a name that is read across the room, what to do there in pictures, and where to go next."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import cached_property
from itertools import count, tee

from lessonkit.drawing.items import Document, Page
from lessonkit.drawing.typesetting import Span, set_text
from lessonkit.layout.flow import Strip, bound, columns, draw, foot_lines, tall_mm
from lessonkit.layout.pen import ATTENTION, Pen
from lessonkit.layout.sheet import Sheet, edition
from lessonkit.layout.sign_marks import BAND_MM, band, shape_mark
from lessonkit.layout.sign_names import Lettering, letterings
from lessonkit.layout.sign_rows import LINE, MARK_MM, NOTE, action_strips, info_line, info_panel, next_strip, note_strips
from lessonkit.layout.sign_station import Facts, facts
from lessonkit.layout.wording import say
from lessonkit.pieces.model import Kit
from lessonkit.units import number

ROWS_MM = ((40.0, 37.0, 34.0, 31.0), (29.0, 27.0, 25.0), (23.0, 21.0))  # heights tried, for every name before the next
USUAL_ROW_MM = 25.0
NARROW_MM = 84.0  # the right-hand column of a turned sheet
PANEL_MM = 64.0  # minutes and places beside a short name
GUTTER_MM = 8.0

Columns = list[tuple[float, list[Strip]]]


def sign_document(kit: Kit, paper: str) -> Document:
    """A sign for each of the lesson's stations, upright or turned; none for a lesson without stations.

    What does not fit on one sheet goes on to a second that carries the same mark; no type is made smaller for it.
    """
    stations = [facts(kit, index) for index in range(len(kit.lesson.stations))]
    pages = tuple(page for station in stations for page in _pages(kit, paper, station))
    return Document(say("signs_title", kit.room.language, lesson=kit.lesson.title), kit.room.language, pages)


def _pages(kit: Kit, paper: str, station: Facts) -> list[Page]:
    """The first way to set it that needs one sheet: rows in which pictures can be seen, then the largest name; else, on
    more sheets, the first way of all."""
    bodies = {turned: _Body(kit, Sheet(paper, turned), station) for turned in (False, True)}
    ways = letterings(station.name, paper, station.read_from_mm)
    signs: Iterator[_Sign] = (_Sign(kit, station, lettering, bodies[lettering.turned]) for lettering in ways)
    for rows in ROWS_MM:
        signs, again = tee(signs)  # each is made when it is first tried
        for sign in again:
            if sign.fits(rows[-1]):  # none of the higher ones fits where the lowest does not
                return sign.pages(next(row_mm for row_mm in rows if sign.fits(row_mm)))
    return next(signs).pages(USUAL_ROW_MM)


class _Body:
    """What stands below the name on an upright or a turned sheet, whatever the name is lettered in: each way is set once."""

    def __init__(self, kit: Kit, sheet: Sheet, station: Facts) -> None:
        self.station, self.sheet, self.language = station, sheet, kit.room.language
        self.wide, self.tall = sheet.live_mm
        self._set: dict[tuple[float, bool], tuple[Columns, float]] = {}

    @cached_property
    def next(self) -> Strip | None:
        return next_strip(self.station, self.wide, self.language)

    @cached_property
    def notes(self) -> list[Strip]:
        return note_strips(self.station, NARROW_MM if self.sheet.turned else self.wide, self.language, 5.0)

    def columns(self, row_mm: float, with_info: bool) -> tuple[Columns, float]:
        """Each with its place and its strips, with minutes and places among them or not; and the height of the tallest."""
        if (row_mm, with_info) not in self._set:
            found = (self._turned if self.sheet.turned else self._upright)(row_mm, with_info)
            self._set[row_mm, with_info] = found, max(tall_mm(strips) for _, strips in found)
        return self._set[row_mm, with_info]

    def _upright(self, row_mm: float, with_info: bool) -> Columns:
        rows = action_strips(self.station.actions, self.wide, row_mm)
        if with_info:
            rows = [info_line(self.station, self.wide), *_below(_ruled(rows, self.wide), 4.0)]
        return [(0.0, bound([*rows, *_below(self.notes, 7.0)]))]

    def _turned(self, row_mm: float, with_info: bool) -> Columns:
        left = self.wide - NARROW_MM - GUTTER_MM
        panel = info_panel(self.station, NARROW_MM, left=True) if with_info else None
        info = [panel] if panel else []
        notes = [*info, *_below(self.notes, 7.0 if info else 2.0)]
        return [(0.0, bound(action_strips(self.station.actions, left, row_mm))), (left + GUTTER_MM, bound(notes))]


class _Sign:
    """One way to letter a station's sign."""

    def __init__(self, kit: Kit, station: Facts, lettering: Lettering, body: _Body) -> None:
        self.kit, self.station, self.lettering, self.body = kit, station, lettering, body
        self.sheet, self.wide, self.tall, self.language = body.sheet, body.wide, body.tall, body.language
        self.panel_mm = min(self.wide - lettering.wide_mm - GUTTER_MM, PANEL_MM)
        self.panel = info_panel(station, self.panel_mm)
        self.room = self.tall - self._head_mm() - self._base_mm()

    def fits(self, row_mm: float) -> bool:
        """On one sheet."""
        return row_mm * len(self.station.actions) <= self.room and self.body.columns(row_mm, with_info=not self.panel)[1] <= self.room

    def _base_mm(self) -> float:
        foot, after = foot_lines(*self._foot(1, 1), self.wide, NOTE), self.body.next
        return tall_mm(foot) + (after.tall_mm if after else 0.0) + 4

    def pages(self, row_mm: float) -> list[Page]:
        pens: list[Pen] = []
        rest: list[tuple[float, Sequence[Strip]]] = list(self.body.columns(row_mm, with_info=not self.panel)[0])
        while not pens or any(strips for _, strips in rest):
            pen = Pen()
            top = self._head(pen) if not pens else self._short_head(pen)
            room = self.tall - self._base_mm() - top
            left_over: list[tuple[float, Sequence[Strip]]] = []
            for x, strips in rest:
                (here,), more = columns(strips, room, 1)
                if not here and pens:  # higher than a whole sheet: nothing else can be done with it
                    here, more = strips[:1], strips[1:]
                draw(pen, x, top, here)
                left_over.append((x, more))
            pens.append(pen)
            rest = left_over
        return [self._page(pen, k, len(pens)) for k, pen in zip(count(1), pens, strict=False)]

    def _page(self, pen: Pen, k: int, n: int) -> Page:
        foot = foot_lines(*self._foot(k, n), self.wide, NOTE)
        foot_top = self.tall - tall_mm(foot)
        draw(pen, 0, foot_top, foot)
        if self.body.next:
            self.body.next.draw(pen, 0, foot_top - self.body.next.tall_mm)
        name = self.station.name if n == 1 else f"{self.station.name}, {say('part_of_step', self.language, k=k, n=n)}"
        return self.sheet.page(pen, name)

    def _foot(self, k: int, n: int) -> tuple[str, str]:
        place = say("sign_station", self.language, k=self.station.number + 1, n=self.station.of)
        left = f"{self.kit.lesson.title} · {place}"
        if self.lettering.reach_mm < self.station.read_from_mm:
            left += f" · {say('sign_reach', self.language, n=number(self.lettering.reach_mm / 1000, 1))}"
        return left, f"{edition(self.kit)} · {self.sheet.paper} · {say('sheet_of', self.language, k=k, n=n)}"

    def _head_mm(self) -> float:
        """Where the rest begins, below the name, the panel beside it if there is room, and the band."""
        foot = self.lettering.tall_mm + 3
        return (max(foot, self.lettering.above_mm + self.panel.tall_mm + 5) if self.panel else foot) + BAND_MM + 5

    def _head(self, pen: Pen) -> float:
        top, ends = self.lettering.above_mm, self._head_mm()
        pen.block(self.lettering.left_mm, top, self.lettering.block)
        if self.panel:
            draw(pen, self.wide - self.panel_mm, top, [self.panel])
        band(pen, self.station.number, 0, ends - BAND_MM - 5, self.wide)
        return ends

    def _short_head(self, pen: Pen) -> float:
        """For a second sheet."""
        block = set_text([Span(self.station.name, True)], self.wide - MARK_MM - 6, LINE.size_pt, LINE.leading_pt)
        tall = max(MARK_MM, LINE.tall_mm(block))
        shape_mark(pen, self.station.number, 0, (tall - MARK_MM) / 2, MARK_MM, LINE.size_pt)
        pen.block(MARK_MM + 6, (tall - block.tall_mm) / 2, block)
        band(pen, self.station.number, 0, tall + 3, self.wide)
        return tall + 3 + BAND_MM + 5


def _ruled(strips: list[Strip], wide: float) -> list[Strip]:
    """With a heavy rule above the first."""
    if not strips:
        return []
    first = strips[0]

    def put(pen: Pen, x: float, top: float) -> None:
        pen.line(x, top, x + wide, top, ATTENTION)
        first.draw(pen, x, top)

    return [Strip(first.tall_mm, put, first.gap_mm, first.keep), *strips[1:]]


def _below(strips: list[Strip], gap: float) -> list[Strip]:
    """With so much room above the first."""
    return [Strip(s.tall_mm, s.draw, gap if not i else s.gap_mm, s.keep) for i, s in enumerate(strips)]
