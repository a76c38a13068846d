"""The print list of the teacher's sheet: which file, how many, on which paper, one side or two."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from lessonkit.layout.card_order import CardOrder
from lessonkit.layout.teacher_table import Column, Row, cell
from lessonkit.layout.wording import say
from lessonkit.lesson.classroom import Copies
from lessonkit.pieces.model import Kit
from lessonkit.planning.copies import StencilNeed, card_needs, stencil_needs

USUAL_CARDS = CardOrder()


class Printing(NamedTuple):
    """How the papers were asked for. `mark` is what the names of the files have before their ending, for another paper than the
    usual one; `mirror` gives every stencil a back."""

    mark: str = ""
    cards: CardOrder = USUAL_CARDS
    mirror: bool = False


class Print(NamedTuple):
    """One file to print. `on` and `sides` are keys of the catalogue."""

    file: str
    copies: str
    on: str
    sides: str
    note: str = ""


def print_words(kit: Kit) -> str:
    """Whom the list is for."""
    language = kit.room.language
    if not kit.room.groups:
        return say("prints_heading", language)
    group = kit.room.groups[0]
    return say("prints_heading_group", language, group=group.name, people=group.size)


def print_table(kit: Kit, how: Printing) -> tuple[list[Column], list[Row]]:
    language = kit.room.language
    columns = [Column(say("prints_file", language)), Column(say("prints_copies", language), right=True), Column(say("prints_on", language)),
               Column(say("prints_sides", language)), Column(say("prints_note", language), wraps=True, grows=True)]  # fmt: skip
    rows = [
        Row((cell(one.file, True), cell(one.copies, True), cell(say(one.on, language)), cell(say(one.sides, language)), cell(one.note)), ruled=True)
        for one in prints(kit, how)
    ]
    return columns, rows


def prints(kit: Kit, how: Printing = Printing()) -> Iterator[Print]:
    """Every PDF that the lesson has: for the room's first group, or, without groups, counted for so many learners as share one."""
    mark = how.mark
    yield from _stencils(kit, how)
    yield from _cards(kit, how)
    for spoken in how.cards.spoken(kit) if kit.lesson.stations else ():
        tongue = "" if spoken is kit else f"-{spoken.room.language}"
        yield Print(f"station-signs{tongue}{mark}.pdf", "1", "prints_card", "prints_one")
        yield Print(f"table-tents{tongue}{mark}.pdf", "1", "prints_card", "prints_one", say("prints_fold", kit.room.language))
    yield Print(f"set-out{mark}.pdf", "1", "prints_plain", "prints_one", say("prints_cut", kit.room.language))
    yield Print(f"teacher{mark}.pdf", "1", "prints_plain", "prints_two")
    yield Print(f"substitute{mark}.pdf", "1", "prints_plain", "prints_two", say("prints_away", kit.room.language))


def _stencils(kit: Kit, how: Printing) -> Iterator[Print]:
    language, share = kit.room.language, (kit.room.copies or Copies()).learners_a_stencil
    needs = list(stencil_needs(kit, kit.room.groups[0])) if kit.room.groups else []
    most = max(needs, key=lambda need: need.copies, default=None)
    copies = str(most.copies if most else 0) if kit.room.groups else say("prints_each", language, n=share)
    note = "; ".join([say("prints_all", language, n=most.learners), *_fewer(needs, most.copies, language)]) if most else ""
    yield Print(f"stencils{how.mark}.pdf", copies, "prints_card", "prints_one", note)
    if how.mirror or any(piece.flip for piece in kit.pieces):
        yield Print(f"stencils-both-sides{how.mark}.pdf", copies, "prints_card", "prints_two", say("prints_instead", language))


def _fewer(needs: Sequence[StencilNeed], most: int, language: str) -> list[str]:
    """Of which parts fewer are enough, as not every level makes them."""
    return [say("prints_fewer", language, letter=need.letter, part=need.part, n=need.copies) for need in needs if need.copies < most]


def _cards(kit: Kit, how: Printing) -> Iterator[Print]:
    language, share = kit.room.language, (kit.room.copies or Copies()).learners_a_card
    sets = {need.level: need for need in card_needs(kit, kit.room.groups[0])} if kit.room.groups else {}
    for level, steps in kit.steps.items():
        if not steps:
            continue
        file = f"cards-{level}{how.cards.suffix(kit, level)}{how.mark}.pdf"
        sides = "prints_two" if how.cards.backs else "prints_one"
        flip = [say(f"prints_flip_{how.cards.backs}", language)] if how.cards.backs else []
        if how.cards.sets:  # so many are in the file already
            copies, notes = "1", [say("prints_sets", language, n=how.cards.sets)]
        elif not kit.room.groups:
            copies, notes = say("prints_each", language, n=share), []
        elif level in sets:
            copies, notes = str(sets[level].sets), [say("prints_for", language, n=sets[level].learners)]
        else:
            copies, notes = "0", [say("prints_nobody", language)]
        yield Print(file, copies, "prints_card", sides, "; ".join([*notes, *flip]))
