"""Which clay, at which cone: a shrinkage belongs to the cone that it was measured at."""

from __future__ import annotations

from lessonkit.clay.cones import cone_named, hotter
from lessonkit.lesson.decode import Written
from lessonkit.lesson.lesson import Lesson
from lessonkit.lesson.room import Clay, Room
from lessonkit.pieces.model import FiredClay
from lessonkit.problems import Problem, nearest


def room_problems(room: Written[Room]) -> tuple[Problem, ...]:
    """Cones that are none, and clays measured hotter than they stand."""
    found = []
    for index, clay in enumerate(room.value.clays):
        cones = {("cone",): clay.cone, ("highest_cone",): clay.highest_cone, **{("other_cones", cone): cone for cone in clay.other_cones}}
        for path, cone in cones.items():
            span = room.span("clays", index, *path)
            try:
                too_hot = hotter(cone, clay.highest_cone)
            except ValueError as error:
                found.append(Problem("error", "unknown-cone", span, f"{error}.", 'Write a cone such as "04" or "6", as on the bag.'))
                break
            if too_hot:
                found.append(Problem("error", "clay-too-hot", span, f"{clay.name} is fired to cone {cone}, above its highest, cone {clay.highest_cone}.",
                                     "A clay that is fired hotter than it stands melts onto the shelf. Correct one of the two."))  # fmt: skip
    return tuple(found)


def fired_clay(lesson: Written[Lesson], room: Written[Room], chosen: str | None, assumed: bool) -> FiredClay | Problem:
    """The clay that this lesson is made in, at the cone it ends at, or why there is none. `chosen` overrules the lesson's."""
    clays = {clay.name.casefold(): clay for clay in room.value.clays}
    name = chosen or lesson.value.clay
    clay = room.value.clays[0] if name is None or assumed else clays.get(name.casefold())
    span = lesson.span("clay")
    if clay is None:
        names = [clay.name for clay in room.value.clays]
        near = nearest(str(name), names)
        hint = f"Did you mean {near}?" if near else f"The room has: {', '.join(names)}. Add this one to the room file, or choose one of these."
        return Problem("error", "unknown-clay", span, f"the room {room.value.name} has no clay called “{name}”.", hint)
    return _at_cone(clay, lesson, chosen is not None)


def _at_cone(clay: Clay, lesson: Written[Lesson], chosen: bool) -> FiredClay | Problem:
    own = lesson.value.cone
    span = lesson.span("cone")
    try:
        cone = cone_named(own) if own else cone_named(clay.cone)
    except ValueError as error:
        return Problem("error", "unknown-cone", span, f"{error}.", 'Write a cone such as "04" or "6".')
    known = {cone_named(clay.cone): clay.shrinkage, **{cone_named(other): value for other, value in clay.other_cones.items()}}
    if hotter(cone, clay.highest_cone):
        return Problem("error", "clay-too-hot", span, f"this lesson is fired to cone {cone}, but {clay.name} stands only cone {clay.highest_cone}: "
                       "it would melt onto the shelf.", "Choose another clay (clay: or --clay), or a cooler cone.")  # fmt: skip
    if cone not in known:
        measured = ", ".join(known)
        return Problem("error", "no-shrinkage-at-cone", span, f"{clay.name} has its shrinkage at cone {measured}, and this lesson is fired to cone {cone}.",
                       f"Fire a test bar to cone {cone} and add other_cones: {{\"{cone}\": ... %}} to the clay in the room file.")  # fmt: skip
    return FiredClay(clay.name, cone, known[cone], cone_named(clay.highest_cone), clay.density)
