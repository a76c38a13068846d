"""What lies on the racks, when it is turned and uncovered, and a map to write on; with how full the racks are."""

from __future__ import annotations

from collections.abc import Sequence

from lessonkit.drawing.items import CLAY, Document
from lessonkit.drawing.typesetting import Span
from lessonkit.layout.classroom.class_plan import ClassPlan, Json, stage_words
from lessonkit.layout.classroom.days_shown import two_lines
from lessonkit.layout.classroom.grids import GridColumn, GridRow, grid
from lessonkit.layout.classroom.sheets import Imprint, Sheets, assumed, cautions, head, notes, section, warned
from lessonkit.layout.flow import Strip
from lessonkit.layout.pen import ATTENTION, OBJECT, Pen
from lessonkit.layout.sheet import Sheet
from lessonkit.layout.teacher_table import SMALL, TEXT, Cell, cell
from lessonkit.layout.wording import say
from lessonkit.lesson.firing import Rack
from lessonkit.planning.racks import WARN_SHARE
from lessonkit.units import Units, number, show_for_hand

TAG_MM, PIECES_MM, ROW_MM = 20.0, 14.0, 11.0
SHELF_MM = 8.0
DAYS = ("cover", "turn", "uncover", "bisque", "paint", "glaze", "in hands")


def rack_document(classes: Sequence[ClassPlan], imprint_edition: str, paper: str) -> Document:
    """One row for each lesson and group; then each rack with its shelves to write on."""
    first = classes[0]
    language, room, kiln = first.language, first.kit.room, first.plan["kiln"]
    title = say("rack_title", language)
    sheets = Sheets(Sheet(paper), Imprint(f"{room.name} · {title}", imprint_edition, language))
    racks = kiln.get("racks")
    sheets.add(head(title, "", room.name, [_room_words(racks, language)] if racks else [], sheets.wide))
    if racks and racks["share"] is not None:
        sheets.add([_full(racks, sheets.wide, language)])
    sheets.add(warned([*([racks["warning"]] if racks and racks["warning"] else []), *first.faults.values()], sheets.wide, language))
    columns, rows = _list(classes, language)
    sheets.add_table(section(say("rack_list", language), sheets.wide), *grid(columns, rows, sheets.wide, ROW_MM))
    sheets.add(notes([say("rack_how", language)], sheets.wide, 1))
    _maps(room.racks, sheets, language, room.units)
    sheets.add(cautions(("lift_trays", "dry", "nothing_by_kiln"), sheets.wide, language))
    if racks:
        sheets.add(assumed(racks["assumptions"], sheets.wide, language))
    return sheets.document()


def _room_words(racks: Json, language: str) -> str:
    return say("rack_room", language, pieces=racks["pieces"], needed=racks["shelves_needed"], shelves=racks["shelves"], area=racks["by_area"])


def _full(racks: Json, wide: float, language: str) -> Strip:
    """How full they are, with the line at which it is warned."""
    share = racks["share"]
    room = wide - 60
    scale = room / max(1.0, share)

    def put(pen: Pen, x: float, top: float) -> None:
        pen.rectangle(x, top + 2, min(share, max(1.0, share)) * scale, 6, 0, CLAY)
        pen.rectangle(x, top + 2, scale, 6, OBJECT)
        pen.line(x + WARN_SHARE * scale, top + 0.4, x + WARN_SHARE * scale, top + 9.6, ATTENTION)
        pen.text(x + room + 4, top + 6.6, say("rack_full", language, share=number(share * 100, 1), warn=number(WARN_SHARE * 100, 0)), TEXT.size_pt)

    return Strip(10.0, put, 4.0)


def _list(classes: Sequence[ClassPlan], language: str) -> tuple[list[GridColumn], list[GridRow]]:
    tag, lesson, pieces, shelf = (cell(say(f"rack_{key}", language), True) for key in ("tag", "lesson", "pieces", "shelf"))
    days = [GridColumn(cell(stage_words(day, language), True), centred=True, head_type=SMALL) for day in DAYS]
    whose = [GridColumn(tag, TAG_MM), GridColumn(lesson, share=1.8), GridColumn(pieces, PIECES_MM, centred=True)]
    rows = [GridRow((*_whose(one), *(_day(one, day, language) for day in DAYS))) for one in classes]
    return [*whose, *days, GridColumn(shelf, head_type=SMALL)], rows


def _whose(class_: ClassPlan) -> tuple[Cell, Cell, Cell]:
    return cell(class_.tag, True), cell(class_.title, True), cell(str(class_.needs["pieces"]) if class_.needs else "")


def _day(class_: ClassPlan, day: str, language: str) -> Cell:
    stage = class_.stage(day)
    return (Span(two_lines(stage["first"], language)),) if stage else ()


def _maps(racks: Sequence[Rack], sheets: Sheets, language: str, units: Units) -> None:
    """A line a shelf, from the top one down."""
    for rack in racks:
        wide, deep = show_for_hand(rack.wide.mm, units), show_for_hand(rack.deep.mm, units)
        size = say("rack_size", language, name=rack.name, n=rack.shelves, wide=wide, deep=deep)
        top, rows = grid([GridColumn(cell(say("rack_shelf_n", language)), 18.0), GridColumn(cell(say("rack_lies", language))),
                            GridColumn(cell(say("rack_since", language)), 34.0)],
                           [GridRow((cell(str(shelf), True),)) for shelf in range(rack.shelves, 0, -1)], sheets.wide, SHELF_MM)  # fmt: skip
        sheets.add_table(section(size, sheets.wide), top, rows, whole=True)


