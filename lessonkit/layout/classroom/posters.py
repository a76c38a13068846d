"""The table to post: when each table goes where, large enough to be read across the room; and the rounds of stations in any order."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from lessonkit.drawing.fonts import width_mm
from lessonkit.drawing.items import CLAY, Document, Page
from lessonkit.drawing.typesetting import Span
from lessonkit.layout.classroom.class_plan import ClassPlan, Json
from lessonkit.layout.classroom.days_shown import clock
from lessonkit.layout.flow import Strip, Type, draw, foot_lines, paragraph, tall_mm
from lessonkit.layout.pen import ATTENTION, FINE, Pen, capitals_mm
from lessonkit.layout.sheet import Sheet, edition
from lessonkit.layout.wording import say
from lessonkit.units import number

SIZES_PT = (40.0, 34.0, 28.0, 24.0)
SMALLER_PT = (20.0, 16.0, 12.0)  # only where a single station's name is so long
TITLE, NOTE = Type(34, 40), Type(14, 19)
MOST_ROWS, TALLEST_ROW_MM = 8, 26.0
INSET_MM, TAG_MM, HEAD_AIR_MM = 3.0, 60.0, 9.0


class Poster(NamedTuple):
    """A table in large type: `heads` over the columns, the first cell of each row its name. `late` are cells (row, column) after the bell."""

    title: str
    note: str
    heads: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    late: frozenset[tuple[int, int]] = frozenset()

    def part(self, rows: range, columns: Sequence[int]) -> Poster:
        """Some of the rows and columns."""
        late = {(rows.index(row), columns.index(column)) for row, column in self.late if row in rows and column in columns}
        cells = tuple(tuple(self.rows[row][column] for column in columns) for row in rows)
        return self._replace(heads=tuple(self.heads[column] for column in columns), rows=cells, late=frozenset(late))

    def widths_mm(self, size_pt: float) -> list[float]:
        """What each column needs."""
        heads = [width_mm(head, size_pt, True) for head in self.heads]
        cells = [[width_mm(text, size_pt, not column) for column, text in enumerate(row)] for row in self.rows]
        return [max(column) + 2 * INSET_MM for column in zip(heads, *cells, strict=True)]


def poster_document(class_: ClassPlan, paper: str) -> Document | None:
    """What is to be posted for this class; None where every station takes all at once."""
    wide = Sheet(paper, turned=True).live_mm[0]
    parts = [part for poster in (_moves(class_), _rounds(class_)) if poster for part in _parts(poster, wide)]
    if not parts:
        return None
    pages = tuple(_page(class_, poster, paper, k, len(parts)) for k, poster in enumerate(parts, 1))
    return Document(say("post_title", class_.language, lesson=class_.title, group=class_.tag), class_.language, pages)


# --- what is on them ---


def _moves(class_: ClassPlan) -> Poster | None:
    """Tables down, stations across, from when to when: by the clock where the group's hour is known, else in minutes of the period."""
    moves, language = class_.stations["to_post"] if class_.stations else [], class_.language
    if not moves:
        return None
    stations = list(dict.fromkeys(move["station"] for move in moves))
    tables = sorted({move["table"] for move in moves})
    found = {(tables.index(move["table"]), stations.index(move["station"]) + 1): move for move in moves}
    rows = [(str(table), *(_when(class_, found.get((row, column))) for column in range(1, len(stations) + 1))) for row, table in enumerate(tables)]
    bell = class_.stations["bell_min"] if class_.stations else None
    late = frozenset(place for place, move in found.items() if bell is not None and move["to_min"] > bell)
    note = say("post_by_clock" if clock(class_.group.at, 0) else "post_by_minute", language)
    if late:
        note += " " + say("post_late", language, time=_time(class_, bell or 0.0))
    return Poster(say("post_where", language), note, (say("post_tables", language), *stations), tuple(rows), late)


def _time(class_: ClassPlan, minute: float) -> str:
    return clock(class_.group.at, minute) or number(minute, 0)


def _when(class_: ClassPlan, move: Json | None) -> str:
    return f"{_time(class_, move['from_min'])}–{_time(class_, move['to_min'])}" if move else "–"


def _rounds(class_: ClassPlan) -> Poster | None:
    """Rounds down, stations across, which group is where."""
    found, language = class_.stations, class_.language
    if found is None or found["rotation"] is None:
        return None
    turning = found["rotation"]
    rows = []
    for count, groups in enumerate(turning["rounds"]):
        time = _time(class_, found["begin_min"] + count * turning["slot_min"])
        rows.append((say("post_round", language, n=count + 1, time=time), *(str(group) if group else "–" for group in groups)))
    note = say("post_rotation", language, groups=turning["groups"], slot=number(turning["slot_min"], 1), work=number(turning["at_work_min"], 1))
    return Poster(say("post_rounds", language), note, (say("post_turn", language), *turning["stations"]), tuple(rows))


def _parts(poster: Poster, wide_mm: float) -> Iterator[Poster]:
    """So few rows and columns to a sheet that they can be read from afar; the first column stands on each."""
    needs = poster.widths_mm(SIZES_PT[-1])
    columns: list[list[int]] = [[0]]
    for index, need in enumerate(needs[1:], 1):
        if len(columns[-1]) > 1 and sum(needs[place] for place in columns[-1]) + need > wide_mm:
            columns.append([0])
        columns[-1].append(index)
    for start in range(0, len(poster.rows), MOST_ROWS):
        for here in columns:
            yield poster.part(range(start, min(start + MOST_ROWS, len(poster.rows))), here)


# --- how it is drawn ---


def _page(class_: ClassPlan, poster: Poster, paper: str, k: int, n: int) -> Page:
    sheet, pen = Sheet(paper, turned=True), Pen()
    wide, tall = sheet.live_mm
    language = class_.language
    title = say("post_title", language, lesson=class_.title, group=class_.tag)
    foot = foot_lines(title, f"{edition(class_.kit)} · {paper} · {say('sheet_of', language, k=k, n=n)}", wide, NOTE)
    foot_top = tall - tall_mm(foot)
    draw(pen, 0, foot_top, foot)
    top = draw(pen, 0, 1.5, _head(class_, poster, wide))
    _table(pen, poster, top + 3, foot_top - 5, wide)
    return sheet.page(pen, poster.title if n == 1 else f"{poster.title}, {k}")


def _head(class_: ClassPlan, poster: Poster, wide: float) -> list[Strip]:
    """The lesson, the group's tag at the right if it is short, and how the table is read."""
    tag = class_.tag if width_mm(class_.tag, TITLE.size_pt, True) <= TAG_MM else ""
    first, *more = paragraph([Span(class_.title, True)], wide - (TAG_MM + 4 if tag else 0.0), TITLE)

    def put(pen: Pen, x: float, top: float) -> None:
        first.draw(pen, x, top)
        pen.text(x + wide, top + capitals_mm(TITLE.size_pt), tag, TITLE.size_pt, True, "right")

    return [first._replace(draw=put), *more, *paragraph([Span(f"{poster.title}. ", True), Span(poster.note)], wide, NOTE, 3.0)]


def _rows_mm(poster: Poster, size_pt: float) -> float:
    """The height of the table with its lines no closer than can be read."""
    return capitals_mm(size_pt) * (1 + 1.9 * len(poster.rows)) + HEAD_AIR_MM


def _table(pen: Pen, poster: Poster, top: float, foot: float, wide: float) -> None:
    sizes = [size for size in (*SIZES_PT, *SMALLER_PT) if sum(poster.widths_mm(size)) <= wide and _rows_mm(poster, size) <= foot - top]
    size = sizes[0] if sizes else SMALLER_PT[-1]
    needs = poster.widths_mm(size)
    widths = [need + max(wide - sum(needs), 0.0) / len(needs) for need in needs]
    head = capitals_mm(size) + HEAD_AIR_MM
    row_mm = min((foot - top - head) / len(poster.rows), TALLEST_ROW_MM)
    for column, words in enumerate(poster.heads):
        x = sum(widths[:column])
        pen.text(x + INSET_MM, top + head - 4, words, size, True)
        for row, cells in enumerate(poster.rows):
            y = top + head + row * row_mm
            if (row, column) in poster.late:
                pen.rectangle(x, y, widths[column], row_mm, 0, CLAY)
            pen.text(x + INSET_MM, y + row_mm / 2 + capitals_mm(size) / 2, cells[column], size, not column)
    for row in range(len(poster.rows) + 1):
        y = top + head + row * row_mm
        pen.line(0, y, wide, y, ATTENTION if row in (0, len(poster.rows)) else FINE)
