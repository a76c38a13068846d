"""A map of every kiln shelf to load from, to scale, with the kiln from the side; one load after the other."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

from lessonkit.drawing.items import Document
from lessonkit.layout.classroom.class_plan import ClassPlan, Json
from lessonkit.layout.classroom.kiln_views import Shelves
from lessonkit.layout.classroom.sheets import Imprint, Sheets, assumed, cautions, head, notes, section, table, warned
from lessonkit.layout.sheet import Sheet
from lessonkit.layout.teacher_table import Column, Row, cell
from lessonkit.layout.wording import say
from lessonkit.lesson.firing import Kiln
from lessonkit.units import number

_NUMBERS = ("here", "all", "alone", "high", "tall")
_HEADING_MM = 16.0  # of the maps, above them


def kiln_map_document(classes: Sequence[ClassPlan], imprint_edition: str, paper: str) -> Document | None:
    """Every load of every firing; None where the room has no kiln."""
    first = classes[0]
    kiln, language = first.kit.room.kiln, first.language
    title = say("kiln_title", language)
    sheets = Sheets(Sheet(paper), Imprint(f"{first.kit.room.name} · {title}", imprint_edition, language))
    if "kiln" in first.faults:
        sheets.add(head(title, "", first.kit.room.name, [], sheets.wide))
        sheets.add(warned([first.faults["kiln"]], sheets.wide, language))
        return sheets.document()
    found = first.plan["kiln"]
    if kiln is None or not any(firing["loads"] for firing in found["firings"]):
        return None
    for firing in found["firings"]:
        for count, load in enumerate(firing["loads"], 1):
            sheets.turn()
            _load(first, kiln, firing, load, count, sheets)
    rack_warning = (found["racks"] or {}).get("warning")
    sheets.add(warned([line for line in found["warnings"] if line != rack_warning], sheets.wide, language))
    sheets.add(cautions(("kiln", "fumes"), sheets.wide, language))
    said = [line for firing in found["firings"] for line in firing["assumptions"]]
    sheets.add(assumed([*said, *found["assumptions"]], sheets.wide, language))
    return sheets.document()


def firing_words(firing: Json, count: int, language: str) -> str:
    """`Bisque to cone 04, load 1 of 2`."""
    return say(f"kiln_load_{firing['work']}", language, cone=firing["cone"], k=count, n=max(len(firing["loads"] or ()), 1))


def groups_words(plan: dict[str, Any], language: str) -> str:
    """The tags of all groups whose work is in the kiln."""
    return say("kiln_groups", language, groups=", ".join(group["tag"] for group in plan["groups"]))


def _load(class_: ClassPlan, kiln: Kiln, firing: Json, load: Json, count: int, sheets: Sheets) -> None:
    language = class_.language
    sheets.add(head(firing_words(firing, count, language), "", groups_words(class_.plan, language), [", ".join(firing["lessons"])], sheets.wide))
    sheets.add_table([], *table(_kind_columns(language), list(_kind_rows(firing, load)), sheets.wide, 2.0))
    sheets.add(notes([say("kiln_stands", language, cone=firing["cone"]), say(f"kiln_care_{firing['work']}", language)], sheets.wide))
    room = sheets.foot - sheets.y - _HEADING_MM
    shelves = Shelves.fitted(firing, load["tiers"], kiln, sheets.wide, room)
    sheets.add(section(say("kiln_maps", language, scale=shelves.scale), sheets.wide))
    sheets.add(shelves.strips(language, class_.kit.room.units))


def _kind_columns(language: str) -> list[Column]:
    keys = ("sign", "piece", "clay", "limit", *_NUMBERS)
    return [Column(say(f"kiln_{key}", language), right=key in _NUMBERS, wraps=key in ("piece", "clay")) for key in keys]


def _kind_rows(firing: Json, load: Json) -> Iterator[Row]:
    """The kinds that stand in this load, with how many places they take in it."""
    places = [place["kind"] for tier in load["tiers"] for shelf in tier["shelves"] for place in shelf]
    for index, kind in enumerate(firing["kinds"]):
        if index in places:
            numbers = (places.count(index), kind["count"], kind["per_shelf"], kind["on_one_another"])
            yield Row((cell(str(index + 1), True), cell(kind["name"]), cell(kind["clay"]), cell(kind["highest_cone"], True),
                       *(cell(str(value), not k) for k, value in enumerate(numbers)), cell(number(kind["tall_mm"], 0))), ruled=True)  # fmt: skip
