"""Every paper of a plan by its file's name: some for each class, some for all of them together."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

from lessonkit.drawing.items import Document
from lessonkit.layout.classroom.checklist import checklist_document
from lessonkit.layout.classroom.class_plan import ClassPlan, Json, class_plans
from lessonkit.layout.classroom.day_plan import day_plan_document
from lessonkit.layout.classroom.kiln_log import kiln_log_document
from lessonkit.layout.classroom.kiln_maps import kiln_map_document
from lessonkit.layout.classroom.labels import label_document
from lessonkit.layout.classroom.posters import poster_document
from lessonkit.layout.classroom.rack_list import rack_document
from lessonkit.layout.classroom.supplies import order_document, supply_document
from lessonkit.layout.classroom.take_home import care_card_document, note_document
from lessonkit.layout.classroom.term import term_document
from lessonkit.layout.classroom.today import today_document
from lessonkit.layout.classroom.tracking import tracking_document
from lessonkit.lesson.classroom import Group
from lessonkit.pieces.model import Kit

Place = tuple[int, int]  # of a lesson and of a group

MOST_CODES = 4

OF_A_CLASS: dict[str, Callable[[ClassPlan, str], Document | None]] = {
    "day-plan": day_plan_document,
    "to-post": poster_document,
    "supplies": supply_document,
    "labels": label_document,
    "checklist": checklist_document,
    "care-cards": care_card_document,
    "note": note_document,
    "tracking": tracking_document,
}
OF_ALL: dict[str, Callable[[Sequence[ClassPlan], str, str], Document | None]] = {
    "clay-order": order_document,
    "rack-list": rack_document,
    "kiln-maps": kiln_map_document,
    "kiln-log": kiln_log_document,
    "term": term_document,
    "today": today_document,
}


def plan_documents(plan: Json, kits: Sequence[Kit], groups: Sequence[Group], paper: str) -> Iterator[tuple[str, Place | None, Document]]:
    """The name of each paper, the lesson and the group that it is for (as they are counted here; None: it is for all), and the paper.

    `plan` is what `planning.numbers.plan` gave for these kits and groups. What has nothing to say, such as a kiln map without a kiln, is left out.
    """
    classes = class_plans(plan, kits, groups)
    for name, of_class in OF_A_CLASS.items():
        for index, class_ in enumerate(classes):
            if document := of_class(class_, paper):
                yield name, divmod(index, len(groups)), document
    for name, of_all in OF_ALL.items():
        if document := of_all(classes, _edition(kits), paper):
            yield name, None, document


def _edition(kits: Sequence[Kit]) -> str:
    """The codes of the lessons, if they are few."""
    return ", ".join(kit.code for kit in kits) if len(kits) <= MOST_CODES else ""
