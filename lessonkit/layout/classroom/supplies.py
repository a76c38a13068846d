"""What to weigh, print and lay out for one class; and the order for all of them together, with what is spare and what is lost stated."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from lessonkit.clay.drying import ground
from lessonkit.drawing.items import Document
from lessonkit.drawing.typesetting import Span
from lessonkit.layout.classroom.class_plan import ClassPlan, Json, clay_lines, level_words, people_words
from lessonkit.layout.classroom.sheets import Imprint, Sheets, assumed, cautions, head, joined, notes, section, table, ticked, warned, with_box
from lessonkit.layout.flow import Strip
from lessonkit.layout.sheet import Sheet, edition
from lessonkit.layout.teacher_notes import TICK_MM
from lessonkit.layout.teacher_table import Column, Row, cell
from lessonkit.layout.wording import say
from lessonkit.units import G_PER_POUND, NO_BREAK, Units, number, show_for_hand, show_length, show_weight


def supply_document(class_: ClassPlan, paper: str) -> Document:
    """The supply list of one class. Everything to get ready has a box to tick."""
    language, needs = class_.language, class_.needs
    title = say("supply_title", language, lesson=class_.title)
    sheets = Sheets(Sheet(paper), Imprint(f"{title} · {class_.tag}", edition(class_.kit), language))
    tables = [say("class_tables", language, n=needs["tables"]), say("supply_pieces", language, n=needs["pieces"])] if needs else []
    facts = [*joined([class_.kit.room.name, people_words(class_), *tables]), *clay_lines(class_)]
    sheets.add(head(title, class_.tag, class_.group.name, facts, sheets.wide))
    if needs is None:
        sheets.add(warned([class_.faults["quantities"]], sheets.wide, language))
        return sheets.document()
    sheets.add(warned(needs["warnings"], sheets.wide, language))
    for clay in needs["clay"]:
        _clay(class_, clay, sheets)
    _copies(class_, needs, sheets)
    _things(class_, needs, sheets)
    _cost(needs["cost"], sheets, language)
    sheets.add(cautions(("lift", "dust", "labels"), sheets.wide, language))
    sheets.add(assumed([*needs["assumptions"], *needs["cost"]["assumptions"]], sheets.wide, language))
    return sheets.document()


def _clay(class_: ClassPlan, clay: Json, sheets: Sheets) -> None:
    """The balls to weigh by level, and then the bags, sum by sum."""
    language, units = class_.language, class_.kit.room.units
    heads = ["who", "people", "roll", "ball", "a_bag"]
    columns = [Column(say(f"supply_{key}", language), right=key in ("people", "ball", "a_bag"), wraps=key in ("who", "roll")) for key in heads]
    rows = [_lump_row(class_, lump, units) for lump in clay["lumps"]]
    sheets.add_table(section(say("supply_clay", language, clay=clay["clay"]), sheets.wide), *table(columns, rows, sheets.wide))
    sheets.add(ticked(list(_sums(clay, language, units)), sheets.wide))


def _lump_row(class_: ClassPlan, lump: Json, units: Units) -> Row:
    who = ", ".join(level_words(class_, level) for level in lump["levels"])
    rolled = "; ".join(_rolled(lump, units, class_.language))
    ball = cell(ball_words(lump["ball_g"], units), True)
    return Row((cell(who, True), cell(str(lump["people"])), cell(rolled), ball, cell(str(lump["balls_a_bag"]))), ruled=True)


def _rolled(lump: Json, units: Units, language: str) -> Iterator[str]:
    """Each slab to roll, as a hand measures it."""
    for slab in lump["slabs"]:
        yield say("supply_slab", language, wide=show_for_hand(slab["wide_mm"], units), tall=show_for_hand(slab["tall_mm"], units),
                  thick=show_length(slab["thickness_mm"], units), parts=", ".join(dict.fromkeys(slab["parts"])))  # fmt: skip
    if lump["solid_g"]:
        yield say("supply_solid", language, weight=ball_words(lump["solid_g"], units))


def ball_words(g: float, units: Units) -> str:
    """For the scale: whole grams, and in a room of inches hundredths of a pound too."""
    grams = f"{number(g, 0)}{NO_BREAK}g"
    return grams if units == "mm" else f"{number(g / G_PER_POUND, 2)}{NO_BREAK}lb ({grams})"


def _sums(clay: Json, language: str, units: Units) -> Iterator[Sequence[Span]]:
    people = clay["balls"] - clay["spares"]
    yield _led(say("supply_weigh", language, balls=clay["balls"]), say("supply_weigh_sum", language, people=people, spares=clay["spares"]))
    key = "supply_order_pooled" if clay["pooled"] else "supply_order_sum"
    yield _led(say("supply_order", language, bags=clay["bags"], bag=show_weight(clay["bag_g"], "in")),
               say(key, language, balls=clay["balls"] + clay["remakes"], remakes=clay["remakes"], weight=show_weight(clay["weight_g"], units),
                   left=show_weight(clay["left_g"], units)))  # fmt: skip
    if clay["offcut_g"] >= 1:
        yield _led(say("supply_offcut", language, weight=show_weight(clay["offcut_g"], units)),
                   say("supply_offcut_sum", language, balls=clay["balls_from_offcut"]))  # fmt: skip


def _led(bold: str, words: str) -> Sequence[Span]:
    return (Span(f"{bold} ", True), Span(words))


def _copies(class_: ClassPlan, needs: Json, sheets: Sheets) -> None:
    language = class_.language
    printed = [
        _led(say("supply_sets", language, n=card["sets"]),
             say("supply_cards_of", language, level=card["shown"], spoken=card["language"], learners=card["learners"]))
        for card in needs["cards"]
    ] + [
        _led(say("supply_copies", language, n=one["copies"]),
             say("supply_stencil_of", language, letter=one["letter"], part=one["part"], learners=one["learners"]))
        for one in needs["stencils"]
    ]  # fmt: skip
    sheets.add([*section(say("supply_print", language), sheets.wide), *ticked(printed, sheets.wide)] if printed else [])


def _things(class_: ClassPlan, needs: Json, sheets: Sheets) -> None:
    """In one table, which is easier to tick off than two side by side."""
    language, on = class_.language, needs["dries_on"]
    rows = [_thing_row(one, language) for one in needs["supplies"]]
    if needs["slip_ml"]:
        rows.append(_more_row(f"{number(needs['slip_ml'] / 1000, 1)}{NO_BREAK}l", say("supply_slip", language, cups=needs["slip_cups"])))
    if on:
        rows.append(_more_row(str(on["count"]), say("supply_dries_on", language, on=on["on"], reason=ground(on["on"]).reason)))
    columns = [Column("", wide_mm=TICK_MM - 3), Column("", right=True), Column(say("supply_thing", language), wraps=True, grows=True),
               Column(say("supply_for", language)), Column(say("supply_there", language), right=True)]  # fmt: skip
    top, strips = table(columns, rows, sheets.wide, 2.2)
    sheets.add_table(section(say("teacher_supplies", language), sheets.wide), top, _boxed(rows, strips))


def _boxed(rows: Sequence[Row], strips: Sequence[Strip]) -> list[Strip]:
    return with_box(strips) if len(rows) == len(strips) else list(strips)


def _more_row(count: str, words: str) -> Row:
    return Row((cell(""), cell(count, True), cell(words), cell(""), cell("")), ruled=True)


def _thing_row(one: Json, language: str) -> Row:
    there = "" if one["has"] is None else str(one["has"])
    if one["lacks"]:
        there = say("supply_lacks", language, has=one["has"], lacks=one["lacks"])
    count, per = "" if one["count"] is None else str(one["count"]), say(f"teacher_per_{one['per']}", language)
    return Row((cell(""), cell(count, True), cell(one["name"]), cell(per), cell(there, bool(one["lacks"]))), ruled=True)


def _cost(cost: Json, sheets: Sheets, language: str) -> None:
    if not cost["lines"]:
        return
    mark = cost["currency"]
    what, each, how = (say(f"cost_{key}", language) for key in ("what", "each", "how"))
    columns = [Column(what), Column(each, right=True), Column(how, wraps=True, grows=True)]
    lines = [(line["name"], line["each"], line["how"]) for line in cost["lines"]]
    lines.append((say("cost_loss", language), cost["loss"], ""))
    rows = [Row((cell(name), cell(_money(mark, amount)), cell(reckoned)), ruled=True) for name, amount, reckoned in lines]
    group = say("cost_group", language, sum=_money(mark, cost["all"]))
    rows.append(Row((cell(say("cost_all", language), True), cell(_money(mark, cost["each"]), True), cell(group)), ruled=True))
    sheets.add_table(section(say("cost_title", language), sheets.wide), *table(columns, rows, sheets.wide, 2.0))
    fees = "; ".join(f"{fee['name']} {fee['how']}" for fee in cost["fees"])
    said = [say("cost_fees", language, sum=_money(mark, cost["fees_each"]), how=fees)] if fees else []
    said += [say("cost_reclaim", language, sum=_money(mark, cost["reclaim_saves"]))] if cost["reclaim_saves"] else []
    sheets.add(notes([*said, *(say("cost_missing", language, what=missing) for missing in cost["missing"])], sheets.wide))


def _money(mark: str, amount: float) -> str:
    return f"{mark}{amount:.2f}"


# --- the order for all ---


def order_document(classes: Sequence[ClassPlan], imprint_edition: str, paper: str) -> Document:
    """Each clay for all lessons and groups together, and what each class takes of it."""
    first = classes[0]
    language, room, plan = first.language, first.kit.room, first.plan
    title = say("order_title", language)
    sheets = Sheets(Sheet(paper), Imprint(f"{room.name} · {title}", imprint_edition, language))
    groups = ", ".join(dict.fromkeys(f"{one.group.name} ({one.group.size})" for one in classes))
    sheets.add(head(title, "", room.name, [groups], sheets.wide))
    if "quantities" in first.faults:
        sheets.add(warned([first.faults["quantities"]], sheets.wide, language))
        return sheets.document()
    order = plan["quantities"]["order"]
    keys = ("clay", "limit", "balls", "weight", "bags", "offcut")
    columns = [Column(say(f"order_{key}", language), right=index > 0, wraps=not index) for index, key in enumerate(keys)]
    rows = [_order_row(first, clay) for clay in order]
    top, strips = table(columns, rows, sheets.wide, 3.0)
    sheets.add_table(section(say("order_bags_title", language), sheets.wide), top, strips)
    sheets.add(notes([say("order_note", language)], sheets.wide, 1))
    _by_class(classes, sheets)
    sheets.add(cautions(("lift", "dust", "labels"), sheets.wide, language))
    sheets.add(assumed([*(line for clay in order for line in clay["assumptions"]), *plan["quantities"]["assumptions"]], sheets.wide, language))
    return sheets.document()


def _order_row(class_: ClassPlan, clay: Json) -> Row:
    units, language = class_.kit.room.units, class_.language
    stands = next(one.highest_cone for one in class_.kit.room.clays if one.name == clay["clay"])
    bags = say("order_bags_of", language, n=clay["bags"], bag=show_weight(clay["bag_g"], "in"))
    return Row((cell(clay["clay"], True), cell(stands), cell(str(clay["balls"])), cell(show_weight(clay["weight_g"], units)), cell(bags, True),
                cell(show_weight(clay["offcut_g"], units))), ruled=True)  # fmt: skip


def _by_class(classes: Sequence[ClassPlan], sheets: Sheets) -> None:
    language = classes[0].language
    keys = ("lesson", "group", "clay", "learners", "spares", "remakes", "balls", "alone")
    columns = [Column(say(f"order_{key}", language), right=index > 2, wraps=index < 3) for index, key in enumerate(keys)]
    rows = [
        Row((cell(one.title, True), cell(one.tag), cell(clay["clay"]), *(cell(str(value)) for value in _counts(clay))), ruled=True)
        for one in classes
        for clay in (one.needs or {"clay": []})["clay"]
    ]
    sheets.add_table(section(say("order_by_class", language), sheets.wide), *table(columns, rows, sheets.wide))


def _counts(clay: Json) -> tuple[int, int, int, int, int]:
    """Learners, spares, what is made again, all of it, and the bags for this class alone."""
    return clay["balls"] - clay["spares"], clay["spares"], clay["remakes"], clay["balls"] + clay["remakes"], clay["bags"]
