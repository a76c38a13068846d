"""The term: group by week, what is made and what of the weeks before is painted."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import zip_longest

from lessonkit.drawing.items import Document
from lessonkit.layout.classroom.class_plan import ClassPlan, Json
from lessonkit.layout.classroom.days_shown import day_and_month
from lessonkit.layout.classroom.grids import GridColumn, GridRow, grid
from lessonkit.layout.classroom.sheets import Imprint, Sheets, assumed, head, notes, section, warned
from lessonkit.layout.sheet import Sheet
from lessonkit.layout.teacher_table import SMALL, cell
from lessonkit.layout.wording import say

WEEK_MM, ROW_MM = 17.0, 5.6
GROUPS_ACROSS = 3


def term_document(classes: Sequence[ClassPlan], imprint_edition: str, paper: str) -> Document | None:
    """None where the plan has no term. Three groups stand side by side at most."""
    first = classes[0]
    if "calendar" in first.faults or "term" not in first.plan["calendar"]:
        return None
    language, term = first.language, first.plan["calendar"]["term"]
    title = say("term_title", language)
    sheets = Sheets(Sheet(paper), Imprint(f"{first.kit.room.name} · {title}", imprint_edition, language))
    fired = term["firings"]
    facts = [say("term_firings", language, bisque=fired["bisque"], glaze=fired["glaze"], fit=fired["fit"])]
    sheets.add(head(title, "", first.kit.room.name, facts, sheets.wide))
    for start in range(0, len(term["groups"]), GROUPS_ACROSS):
        if start:
            sheets.turn()
        _weeks(term, term["groups"][start : start + GROUPS_ACROSS], sheets, language)
    sheets.add(warned(term["warnings"], sheets.wide, language))
    sheets.add(assumed(term["assumptions"], sheets.wide, language))
    return sheets.document()


def _weeks(term: Json, groups: Sequence[Json], sheets: Sheets, language: str) -> None:
    columns = [GridColumn(cell(say("term_week", language), True), WEEK_MM)]
    for group in groups:
        columns += [GridColumn(cell(say(f"term_{work}", language, group=group["group"]), True)) for work in ("make", "paint")]
    rows = [row for weeks in zip(term["weeks"], *(group["weeks"] for group in groups), strict=True) for row in _rows(weeks[0], weeks[1:], language)]
    sheets.add_table(section(say("term_grid", language), sheets.wide), *grid(columns, rows, sheets.wide, ROW_MM, SMALL))
    left = [say("term_left", language, group=group["group"], lessons=", ".join(group["left_out"])) for group in groups if group["left_out"]]
    sheets.add(notes(left, sheets.wide))


def _rows(monday: str, weeks: Sequence[Json], language: str) -> Iterator[GridRow]:
    """A line for each class of the week at least; closed weeks are grey."""
    works = [[(one["make"] or "", one["paint"] or "") for one in week["classes"] if one["make"] or one["paint"]] for week in weeks]
    for index, line in enumerate(zip_longest(*works) if any(works) else [(None,) * len(weeks)]):
        cells = [cell(day_and_month(monday, language) if not index else "", True)]
        grey: list[int] = []
        for k, (week, work) in enumerate(zip(weeks, line, strict=True)):
            shut = not work and week["closed"] and not index
            cells += [cell(work[0]), cell(work[1])] if work else [cell(week["closed"] if shut else ""), cell("")]
            grey += [2 * k + 1, 2 * k + 2] if shut else []
        yield GridRow(tuple(cells), tuple(grey))
