"""The two tables of the teacher's sheet: every size of every piece and part, and every step with what to say."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from lessonkit.drawing.typesetting import Span, set_text
from lessonkit.layout.teacher_table import TEXT, Cell, Column, Row, cell, wide_mm
from lessonkit.layout.wording import say
from lessonkit.pieces.fired import strays
from lessonkit.pieces.model import FiredClay, Kit, Measure, Part, Piece, Step
from lessonkit.units import NO_BREAK, Units, number, show_for_hand, show_weight

WIDEST_TITLE_MM, WIDEST_MINUTES_MM, LEAST_MINUTES_MM, ALL_MINUTES_MM = 52.0, 26.0, 9.0, 66.0
MARK_MM = 1.0  # for the head that stands by the steps that all start together


def size_columns(language: str) -> list[Column]:
    """Piece, measure and slab (with the name of its sticks) wrap; numbers never do."""
    titles = [say(f"teacher_{key}", language) for key in ("piece", "measure", "fired", "cut", "slab", "each", "makes")]
    return [Column(title, right=index > 1, wraps=index in (0, 1, 4), spills=index in (0, 4)) for index, title in enumerate(titles)]


def size_rows(kit: Kit) -> list[Row]:
    """A row for each measure; a piece begins with a hairline. A piece of one part is that part; a built one comes first as
    it is when finished, then part by part."""
    return [row for piece in kit.pieces for row in _piece_rows(kit, piece)]


def _piece_rows(kit: Kit, piece: Piece) -> Iterator[Row]:
    units = kit.room.units
    slab = show_size(piece.thickness_mm, units) + (f" ({piece.stick})" if piece.stick else "")
    whole = (cell(slab), cell(show_weight(piece.mass_g, units)), cell(str(piece.count)))
    groups = _groups(kit, piece)
    for group, (name, lines) in enumerate(groups):
        for index, line in enumerate(lines):
            start = not group and not index
            yield Row((() if index else name, *line, *(whole if start else ((), (), ()))), ruled=start, kept=not index and len(lines) > 1)


def _groups(kit: Kit, piece: Piece) -> list[tuple[Cell, list[tuple[Cell, Cell, Cell]]]]:
    """What is named at the left, with its lines: measure, fired, cut."""
    units = kit.room.units
    facts = [(cell(name), (), cell(value, True)) for name, value in piece.facts]
    if piece.form == "flat":
        (only,) = piece.parts
        return [(_piece_name(kit, piece, only), [_measured(measure, units) for measure in only.measures] + facts)]
    parts = [(cell(f"{part.letter}  {part.name}" + (f" ×{part.count}" if part.count > 1 else "")), part.measures) for part in piece.parts]
    finished = [_measured(measure, units) for measure in piece.measures] + facts
    return [(_piece_name(kit, piece, None), finished), *((name, [_measured(measure, units) for measure in measures]) for name, measures in parts)]


def _piece_name(kit: Kit, piece: Piece, only: Part | None) -> Cell:
    name = f"{only.letter}  {piece.name}" if only else piece.name
    some = [kit.room.levels.get(level, level) for level in piece.levels if set(piece.levels) < set(kit.room.levels)]
    return cell(name, True) + (cell(f" ({', '.join(some)})") if some else ())


def _measured(measure: Measure, units: Units) -> tuple[Cell, Cell, Cell]:
    def show(value: float) -> str:
        return show_size(value, units) if measure.unit == "mm" else f"{number(value, 1)}°"

    fired = _straying(measure, units) if strays(measure) else show(measure.fired)
    return cell(measure.words), cell(fired), cell(show(measure.cut), True)


def _straying(measure: Measure, units: Units) -> str:
    """160 ± 1.4, or 6 5/16 (160 ± 1.4)."""
    metric = f"{number(measure.fired, 1)}{NO_BREAK}±{NO_BREAK}{number(measure.off, 1)}"
    return metric if units == "mm" else f"{show_for_hand(measure.fired, units).removesuffix(f'{NO_BREAK}in')} ({metric})"


def size_notes(kit: Kit) -> list[str]:
    """What the table's numbers are, and are not."""
    language, clay = kit.room.language, kit.clay
    notes = [say("teacher_each_note", language), say("teacher_slab_note", language)]
    if any(strays(measure) for piece in kit.pieces for part in piece.parts for measure in part.measures):
        notes.append(say("teacher_off_note", language, basis=clay.basis))
    for piece, written in zip(kit.pieces, kit.lesson.pieces, strict=True):
        own = piece.clay or clay
        if piece.clay:
            fired = {"clay": own.name, "cone": own.cone, "highest": own.highest_cone, "share": share(own)}
            notes.append(say("teacher_clay_note", language, piece=piece.name, **fired))
        if piece.sizes == "wet":
            notes.append(say("teacher_wet_note", language, piece=piece.name))
        if written.cut_at == "leather-hard" and own.leather_hard is not None:
            notes.append(say("teacher_leather_note", language, piece=piece.name, share=f"{number(own.leather_hard * 100, 2)}{NO_BREAK}%"))
    return notes


def share(clay: FiredClay) -> str:
    """What it shrinks by, and how that is known."""
    return f"{number(clay.shrinkage * 100, 2)}{NO_BREAK}% ({clay.basis})"


def show_size(mm: float, units: Units) -> str:
    """A number for a table whose heading names the unit: 181.8, or sixteenths of an inch with the millimetres."""
    return number(mm, 1) if units == "mm" else f"{show_for_hand(mm, units).removesuffix(f'{NO_BREAK}in')} ({number(mm, 1)})"


def step_table(kit: Kit) -> tuple[list[Column], list[Row]]:
    """The steps in their shared order. Columns that no step fills are left out."""
    language = kit.room.language
    steps = [found for written in kit.lesson.steps if (found := _of_all_levels(kit, written.id))]
    says = any(step.cue for found in steps for step in found.values())
    helps = any(step.help for found in steps for step in found.values())
    title = Column(say("teacher_step", language))
    columns = [
        Column("", wide_mm=MARK_MM),
        Column(""),
        title._replace(wide_mm=_title_mm(steps)) if says or helps else title._replace(wraps=True, grows=True),
        *(Column(kit.room.levels.get(level, level), right=True, wide_mm=_minutes_mm(kit, level)) for level in kit.steps),
        *([Column(say("teacher_say", language), wraps=True, grows=True)] if says else []),
        *([Column(say("teacher_help", language), wraps=True, grows=True)] if helps else []),
    ]
    return columns, [_step_row(kit, found, says, helps) for found in steps]


def _minutes_mm(kit: Kit, level: str) -> float:
    """As wide as the level's name on two lines, within reason."""
    name = kit.room.levels.get(level, level)
    widest = min(WIDEST_MINUTES_MM, ALL_MINUTES_MM / len(kit.steps))
    least = max(LEAST_MINUTES_MM, *(wide_mm(cell(word, True)) + 0.1 for word in name.split()))
    widths = (least + step for step in range(int(WIDEST_MINUTES_MM)))
    fitting = (wide for wide in widths if len(set_text([Span(name, True)], wide, TEXT.size_pt, TEXT.leading_pt).lines) <= 2)
    return min(next(fitting, widest), widest)


def _title_mm(steps: Sequence[dict[str, Step]]) -> float:
    """Room for the longest title with its station, within reason."""
    return min(max(wide_mm(_title(found)) for found in steps) + 0.1 if steps else 0.0, WIDEST_TITLE_MM)


def _title(found: dict[str, Step]) -> Cell:
    first = next(iter(found.values()))
    titles = " / ".join(dict.fromkeys(step.title for step in found.values() if step.title))
    return cell(titles, True) + (cell(f" {first.station}") if first.station else ())


def _of_all_levels(kit: Kit, id_: str) -> dict[str, Step]:
    return {level: step for level, steps in kit.steps.items() for step in steps if step.id == id_}


def _step_row(kit: Kit, found: dict[str, Step], says: bool, helps: bool) -> Row:
    first = next(iter(found.values()))
    minutes = (cell(number(found[level].minutes, 2) if level in found else "–") for level in kit.steps)
    together = first.together and len(found) == len(kit.steps)
    return Row(
        ((), cell(first.number, True), _title(found), *minutes, *([cell(first.cue)] if says else []), *([cell(first.help)] if helps else [])),
        ruled=True,
        starred=together,
    )
