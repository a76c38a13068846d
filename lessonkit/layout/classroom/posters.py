"""The table to post: when each table goes where, large enough to be read across the room; and the rounds of stations in any order."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from lessonkit.drawing.fonts import width_mm
from lessonkit.drawing.items import CLAY, Document, Page
from lessonkit.layout.classroom.class_plan import ClassPlan, Json
from lessonkit.layout.classroom.days_shown import clock
from lessonkit.layout.flow import Type, foot_lines, tall_mm
from lessonkit.layout.pen import ATTENTION, FINE, Pen, capitals_mm
from lessonkit.layout.sheet import Sheet, edition
from lessonkit.layout.wording import say
from lessonkit.units import number

SIZES_PT = (40.0, 34.0, 28.0, 24.0, 20.0, 18.0, 16.0, 14.0)
NOTE = Type(14, 19)
TITLE_PT = 34.0
MOST_ROWS = 8
INSET_MM = 2.0


@dataclass(frozen=True, slots=True)
class Poster:
    """A table in large type: `heads` over the columns, the first cell of each row its name. `late` are cells (row, column) after the bell."""

    title: str
    note: str
    heads: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    late: frozenset[tuple[int, int]] = frozenset()


def poster_document(class_: ClassPlan, paper: str) -> Document | None:
    """What is to be posted for this class; None where every station takes all at once."""
    posters = [poster for poster in (_moves(class_), _rounds(class_)) if poster]
    sheets = [part for poster in posters for part in _parts(poster)]
    if not sheets:
        return None
    pages = tuple(_page(class_, poster, paper, k, len(sheets)) for k, poster in enumerate(sheets, 1))
    return Document(say("post_title", class_.language, lesson=class_.title, group=class_.tag), class_.language, pages)


def _moves(class_: ClassPlan) -> Poster | None:
    """Tables down, stations across, from when to when: by the clock where the group's hour is known, else in minutes of the period."""
    moves, language = class_.stations["to_post"] if class_.stations else [], class_.language
    if not moves:
        return None
    stations = list(dict.fromkeys(move["station"] for move in moves))
    tables = sorted({move["table"] for move in moves})
    found = {(move["table"], move["station"]): move for move in moves}
    rows = [(say("post_table", language, n=table), *(_when(class_, found.get((table, station))) for station in stations)) for table in tables]
    bell = class_.stations["bell_min"] if class_.stations else None
    late = {(r, c) for r, table in enumerate(tables) for c, station in enumerate(stations, 1)
            if bell is not None and (move := found.get((table, station))) and move["to_min"] > bell}  # fmt: skip
    timed = clock(class_.group.at, 0)
    note = say("post_by_clock" if timed else "post_by_minute", language)
    if late:
        note += " " + say("post_late", language, time=clock(class_.group.at, bell or 0) or number(bell or 0, 0))
    return Poster(say("post_where", language), note, (say("post_tables", language), *stations), tuple(rows), frozenset(late))


def _when(class_: ClassPlan, move: Json | None) -> str:
    if move is None:
        return "–"
    first, last = (clock(class_.group.at, move[key]) or number(move[key], 0) for key in ("from_min", "to_min"))
    return f"{first}–{last}"


def _rounds(class_: ClassPlan) -> Poster | None:
    """Rounds down, stations across, which group is where."""
    turning, language = class_.stations["rotation"] if class_.stations else None, class_.language
    if turning is None:
        return None
    begin = class_.stations["begin_min"] if class_.stations else 0.0
    rows = []
    for count, groups in enumerate(turning["rounds"]):
        at = begin + count * turning["slot_min"]
        time = clock(class_.group.at, at) or number(at, 0)
        rows.append((say("post_round", language, n=count + 1, time=time), *(str(group) if group else "–" for group in groups)))
    note = say("post_rotation", language, groups=turning["groups"], slot=number(turning["slot_min"], 1), work=number(turning["at_work_min"], 1))
    return Poster(say("post_rounds", language), note, (say("post_turn", language), *turning["stations"]), tuple(rows))


def _parts(poster: Poster) -> list[Poster]:
    """So few rows to a sheet that they stay large."""
    starts = range(0, len(poster.rows), MOST_ROWS)
    return [
        Poster(poster.title, poster.note, poster.heads, poster.rows[start : start + MOST_ROWS],
               frozenset((row - start, column) for row, column in poster.late if start <= row < start + MOST_ROWS))
        for start in starts
    ]  # fmt: skip


def _page(class_: ClassPlan, poster: Poster, paper: str, k: int, n: int) -> Page:
    sheet, pen = Sheet(paper, turned=True), Pen()
    wide, tall = sheet.live_mm
    language = class_.language
    foot = foot_lines(say("post_title", language, lesson=class_.title, group=class_.tag),
                      f"{edition(class_.kit)} · {paper} · {say('sheet_of', language, k=k, n=n)}", wide, NOTE)  # fmt: skip
    foot_top = tall - tall_mm(foot)
    y = foot_top
    for strip in foot:
        strip.draw(pen, 0, y)
        y += strip.tall_mm
    top = _poster_head(pen, class_, poster, wide)
    _table(pen, poster, top, foot_top - 5, wide)
    return sheet.page(pen, poster.title if n == 1 else f"{poster.title}, {k}")


def _poster_head(pen: Pen, class_: ClassPlan, poster: Poster, wide: float) -> float:
    size = next((size for size in (TITLE_PT, *SIZES_PT) if width_mm(class_.title, size, True) < wide - 60), SIZES_PT[-1])
    pen.words(0, 1.5, wide - 44, class_.title, size, size * 1.1) if width_mm(class_.title, size, True) > wide - 44 else pen.text(
        0, 1.5 + capitals_mm(size), class_.title, size, True
    )
    pen.text(wide, 1.5 + capitals_mm(size), class_.tag, size, True, "right")
    return pen.words(0, capitals_mm(size) + 7, wide, f"{poster.title}. {poster.note}", NOTE.size_pt, NOTE.leading_pt) + 6


def _table(pen: Pen, poster: Poster, top: float, foot: float, wide: float) -> None:
    columns = len(poster.heads)
    size = next((size for size in SIZES_PT if _fits(poster, size, wide)), SIZES_PT[-1])
    widths = _widths(poster, size, wide)
    head = capitals_mm(size) + 9
    row = min((foot - top - head) / len(poster.rows), 26.0)
    for index in range(columns):
        x = sum(widths[:index])
        pen.text(x + INSET_MM, top + head - 4, poster.heads[index], size, True)
        for r, cells in enumerate(poster.rows):
            y = top + head + r * row
            if (r, index) in poster.late:
                pen.rectangle(x, y, widths[index], row, 0, CLAY)
            pen.text(x + INSET_MM, y + row / 2 + capitals_mm(size) / 2, cells[index], size, index == 0)
    for r in range(len(poster.rows) + 1):
        pen.line(0, top + head + r * row, wide, top + head + r * row, ATTENTION if r in (0, len(poster.rows)) else FINE)


def _needs(poster: Poster, size: float) -> list[float]:
    texts = [[head, *(row[index] for row in poster.rows)] for index, head in enumerate(poster.heads)]
    return [max(width_mm(text, size, number_ == 0 or index == 0) for number_, text in enumerate(column)) + 2 * INSET_MM + 2 for index, column in enumerate(texts)]


def _fits(poster: Poster, size: float, wide: float) -> bool:
    return sum(_needs(poster, size)) <= wide


def _widths(poster: Poster, size: float, wide: float) -> Sequence[float]:
    needs = _needs(poster, size)
    spare = max(wide - sum(needs), 0.0) / len(needs)
    return [need + spare for need in needs]
