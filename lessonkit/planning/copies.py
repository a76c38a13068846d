"""How many stencils and sets of cards a group needs. Light: a lesson's print list needs no more of a plan than this."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import NamedTuple

from lessonkit.lesson.classroom import Copies, Group
from lessonkit.pieces.model import Kit
from lessonkit.planning.counting import up


class StencilNeed(NamedTuple):
    """Copies of one part's stencil."""

    letter: str
    part: str
    piece: str
    learners: int
    copies: int


class CardNeed(NamedTuple):
    """Sets of step cards of one level, for so many learners."""

    level: str
    shown: str
    language: str
    learners: int
    sets: int


def learners(group: Group, levels: Iterable[str]) -> int:
    """How many of the group are of these levels; all of them where nobody knows."""
    return sum(group.levels.get(level, 0) for level in levels) if group.levels else group.size


def stencil_needs(kit: Kit, group: Group) -> Iterator[StencilNeed]:
    """How many stencils of each part: none of a piece that nobody of the group makes."""
    copies = kit.room.copies or Copies()
    for piece in kit.pieces:
        using = learners(group, piece.levels)
        for part in piece.parts if using else ():
            yield StencilNeed(part.letter, part.name, piece.name, using, _with_spares(using / copies.learners_a_stencil, copies.spare))


def card_needs(kit: Kit, group: Group) -> Iterator[CardNeed]:
    """How many sets of cards for each level that somebody of the group has."""
    copies = kit.room.copies or Copies()
    for level, steps in kit.steps.items():
        using = learners(group, (level,))
        if using and steps:
            shown, language = kit.room.levels[level], group.language or kit.room.language
            yield CardNeed(level, shown, language, using, _with_spares(using / copies.learners_a_card, copies.spare))


def _with_spares(count: float, share: float) -> int:
    return up(count) + up(up(count) * share)
