"""One lesson for one group, with the parts of the whole plan that are its own. Papers read their numbers here and compute none."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, NamedTuple

from lessonkit.layout.wording import say
from lessonkit.lesson.classroom import Group
from lessonkit.pieces.model import Kit
from lessonkit.planning.minutes import Course, Stretch, Timeline, Unfinished

Json = dict[str, Any]


class ClassPlan(NamedTuple):
    """`needs`, `minutes`, `stations`, `drying` and `calendar` are this lesson's and group's part of each topic of `plan`; None where the
    topic could not be planned, and `faults` then says why, by topic. `stages` are the group's own days; empty without dates."""

    kit: Kit
    group: Group
    plan: Json
    needs: Json | None
    minutes: Json | None
    stations: Json | None
    drying: Json | None
    calendar: Json | None
    stages: tuple[Json, ...]
    faults: dict[str, str]

    @property
    def language(self) -> str:
        return self.kit.room.language

    @property
    def title(self) -> str:
        return self.kit.lesson.title

    @property
    def tag(self) -> str:
        return self.group.tag

    @property
    def spoken(self) -> ClassPlan:
        """In the group's own language where the lesson is there in it: for what goes home."""
        return self._replace(kit=self.kit.translations.get(self.group.language or "", self.kit))

    def stage(self, kind: str) -> Json | None:
        """The group's first stretch of that kind, such as `make` or `in hands`."""
        return next((stage for stage in self.stages if stage["stage"] == kind), None)

    def last(self, kind: str) -> Json | None:
        """Its last: of several firings, the one that all wait for."""
        return next((stage for stage in reversed(self.stages) if stage["stage"] == kind), None)


def class_plans(plan: Json, kits: Sequence[Kit], groups: Sequence[Group]) -> tuple[ClassPlan, ...]:
    """Every lesson for every group, in the order of the plan."""
    faults = faults_of(plan)
    return tuple(
        ClassPlan(
            kit=kit,
            group=group,
            plan=plan,
            needs=_of(plan, "quantities", lesson * len(groups) + index),
            minutes=_of(plan, "minutes", lesson),
            stations=_of(plan, "stations", lesson * len(groups) + index),
            drying=_of(plan, "drying", lesson),
            calendar=(calendar := _of(plan, "calendar", lesson)),
            stages=tuple(calendar["groups"][index]["stages"]) if calendar and calendar["groups"] else (),
            faults=faults,
        )
        for lesson, kit in enumerate(kits)
        for index, group in enumerate(groups)
    )


def _of(plan: Json, topic: str, index: int) -> Json | None:
    part: Json | None = plan[topic]["each"][index] if "each" in plan[topic] else None
    return part


def faults_of(plan: Json) -> dict[str, str]:
    """Why a topic could not be planned, by its name."""
    topics = {topic: values["error"] for topic, values in plan.items() if isinstance(values, dict) and "error" in values}
    return {topic: f"{error['what']} {error['hint']}" for topic, error in topics.items()}


def timeline_of(values: Json) -> Timeline:
    """The timeline of a plan's minutes, as it was before it was made plain."""
    courses = tuple(
        Course(
            **{
                **course,
                "stretches": tuple(Stretch(**stretch) for stretch in course["stretches"]),
                "unfinished": tuple(Unfinished(**step) for step in course["unfinished"]),
            }
        )
        for course in values["courses"]
    )
    return Timeline(**{**values, "together_min": tuple(values["together_min"]), "courses": courses})


class Learner(NamedTuple):
    """Somebody in a group, by number: no paper needs a name. `level` is empty where nobody knows who is of which."""

    number: int
    level: str


def learners_of(class_: ClassPlan) -> tuple[Learner, ...]:
    """Numbered from 1, level by level in the room's order."""
    group, room = class_.group, class_.kit.room
    levels = [level for level in room.levels for _ in range(group.levels.get(level, 0))] if group.levels else [""] * group.size
    return tuple(Learner(number, level) for number, level in enumerate(levels, 1))


def level_words(class_: ClassPlan, level: str) -> str:
    """What the room calls a level; empty for none."""
    return class_.kit.room.levels.get(level, level)


def stage_words(kind: str, language: str) -> str:
    """A stretch of the way in the room's language: `dry`, `home`."""
    return say(f"stage_{kind.replace(' ', '_')}", language)


def clays_of(class_: ClassPlan) -> tuple[tuple[str, str], ...]:
    """Each clay of the lesson's pieces with the highest cone that it stands, by the room's own words."""
    stands = {clay.name.casefold(): (clay.name, clay.highest_cone) for clay in class_.kit.room.clays}
    names = [(piece.clay or class_.kit.clay.name).casefold() for piece in class_.kit.lesson.pieces]
    return tuple(dict.fromkeys(stands[name] for name in names))


def clay_lines(class_: ClassPlan) -> list[str]:
    """Each clay with its limit, for a label."""
    return [say("class_clay_limit", class_.language, clay=name, cone=cone) for name, cone in clays_of(class_)]


def people_words(class_: ClassPlan) -> str:
    """How many there are, and of which level."""
    language, group = class_.language, class_.group
    people = say("class_people", language, n=group.size)
    if not group.levels:
        return people
    parts = [f"{count} {level_words(class_, level)}" for level in class_.kit.room.levels if (count := group.levels.get(level, 0))]
    return f"{people}: {', '.join(parts)}"
