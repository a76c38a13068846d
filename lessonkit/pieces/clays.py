"""Which clay, at which cone: a shrinkage belongs to the cone that it was measured at."""

from __future__ import annotations

from collections.abc import Iterator

from lessonkit.clay.bars import measured
from lessonkit.clay.cones import cone_named, hotter
from lessonkit.lesson.decode import Written
from lessonkit.lesson.lesson import Lesson
from lessonkit.lesson.room import Clay, Room
from lessonkit.pieces.model import FiredClay
from lessonkit.problems import Problem, instead
from lessonkit.source.tree import Path
from lessonkit.units import LEAST_TOO_MUCH_PERCENT

LEEWAY = 0.005  # half a point: what a ruler on one bar may be off


def room_problems(room: Written[Room]) -> tuple[Problem, ...]:
    """Cones that are none, and clays measured hotter than they stand."""
    found = []
    for index, clay in enumerate(room.value.clays):
        cones: dict[Path, str] = {
            ("cone",): clay.cone,
            ("highest_cone",): clay.highest_cone,
            **{("other_cones", cone): cone for cone in clay.other_cones},
            **{("bars", k, "cone"): bar.cone for k, bar in enumerate(clay.bars)},
        }
        for path, cone in cones.items():
            span = room.span("clays", index, *path)
            try:
                too_hot = hotter(cone, clay.highest_cone)
            except ValueError as error:
                found.append(Problem("error", "unknown-cone", span, f"{error}.", 'Write a cone such as "04" or "6", as on the bag.'))
                break
            if too_hot:
                what = f"{clay.name} is fired to cone {cone}, above its highest, cone {clay.highest_cone}."
                found.append(Problem("error", "clay-too-hot", span, what,
                                     "A clay that is fired hotter than it stands melts onto the shelf. Correct one of the two."))  # fmt: skip
        else:
            found += _disagreement(clay, room, index)
            found += _bars_apart(clay, room, index)
    return tuple(found)


def _bars_apart(clay: Clay, room: Written[Room], index: int) -> Iterator[Problem]:
    """Bars so unlike one another that the next piece might shrink as no clay does."""
    for bars in _fired_bars(clay).values():
        found = measured(bars)
        if found.mean + (found.spread or 0.0) >= LEAST_TOO_MUCH_PERCENT / 100:
            ends = f"{min(bars) * 100:.1f} to {max(bars) * 100:.1f} %"
            what = f"the test bars of {clay.name} shrank from {ends}, too far apart to tell what it does next."
            yield Problem("error", "bars-apart", room.span("clays", index, "bars"), what, "Look at their lengths and units, or fire others.")


def _disagreement(clay: Clay, room: Written[Room], index: int) -> list[Problem]:
    """Bars and a typed figure that tell two stories."""
    bars = _fired_bars(clay).get(cone_named(clay.cone))
    if not (bars and clay.shrinkage):
        return []
    found, (low, high) = measured(bars), clay.shrinkage
    leeway = max(found.spread or 0.0, LEEWAY)
    if low - leeway <= found.mean <= high + leeway:
        return []
    typed = " to ".join(f"{end * 100:g}" for end in sorted({low, high}))
    what = f"the test bars of {clay.name} shrank {found.mean * 100:.1f} %, but the file also says {typed} %."
    hint = "Leave out the one that is wrong: the bars are yours, the other is the bag's."
    return [Problem("error", "bars-disagree", room.span("clays", index, "shrinkage"), what, hint)]


def fired_clay(lesson: Written[Lesson], room: Written[Room], chosen: str | None, assumed: bool, at: Path = ("clay",)) -> FiredClay | Problem:
    """The clay that this lesson (or the piece whose clay stands `at`) is made in, at the cone that the lesson ends at, or why
    there is none. `chosen` overrules the lesson's."""
    clays = {clay.name.casefold(): clay for clay in room.value.clays}
    name = chosen or lesson.value.clay
    clay = room.value.clays[0] if name is None or assumed else clays.get(name.casefold())
    span = lesson.span(*at)
    if clay is None:
        names = [clay.name for clay in room.value.clays]
        hint = instead(str(name), names, f"The room has: {', '.join(names)}. Add this one to the room file, or choose one of these.")
        return Problem("error", "unknown-clay", span, f"the room {room.value.name} has no clay called “{name}”.", hint)
    return _at_cone(clay, lesson)


def _at_cone(clay: Clay, lesson: Written[Lesson]) -> FiredClay | Problem:
    own = lesson.value.cone
    span = lesson.span("cone")
    try:
        cone = cone_named(own) if own else cone_named(clay.cone)
    except ValueError as error:
        return Problem("error", "unknown-cone", span, f"{error}.", 'Write a cone such as "04" or "6".')
    known = shrinkages(clay)
    if hotter(cone, clay.highest_cone):
        return Problem("error", "clay-too-hot", span, f"this lesson is fired to cone {cone}, but {clay.name} stands only cone {clay.highest_cone}: "
                       "it would melt onto the shelf.", "Choose another clay (clay: or --clay), or a cooler cone.")  # fmt: skip
    if cone not in known:
        measured = ", ".join(known)
        what = f"{clay.name} has its shrinkage at cone {measured}, and this lesson is fired to cone {cone}."
        return Problem("error", "no-shrinkage-at-cone", span, what,
                       f"Fire a test bar to cone {cone} and add other_cones: {{\"{cone}\": ... %}} to the clay in the room file.")  # fmt: skip
    return _fired(clay, cone, *known[cone])


def _fired(clay: Clay, cone: str, least: float, mean: float, most: float, basis: str) -> FiredClay:
    return FiredClay(clay.name, cone, mean, least, most, basis, cone_named(clay.highest_cone), clay.density, clay.leather_hard)


def fired_clays(room: Room) -> tuple[FiredClay, ...]:
    """Every clay of a sound room, at each cone that its shrinkage is known for."""
    return tuple(_fired(clay, cone, *known) for clay in room.clays for cone, known in shrinkages(clay).items())


def shrinkages(clay: Clay) -> dict[str, tuple[float, float, float, str]]:
    """Cone -> least, middle, most, and how it is known. Her own bars go before what is typed."""
    typed = {cone_named(other): ends for other, ends in clay.other_cones.items()}
    if clay.shrinkage:
        typed[cone_named(clay.cone)] = clay.shrinkage
    known = {cone: (low, (low + high) / 2, high, "from the bag, unmeasured") for cone, (low, high) in typed.items()}
    for cone, bars in _fired_bars(clay).items():
        found = measured(bars)
        spread = found.spread or 0.0
        counted = f"from {found.count} test bar{'s' if found.count > 1 else ''}"
        basis = counted if found.spread is not None else f"{counted}, too few to know the spread"
        known[cone] = (max(found.mean - spread, 0.0), found.mean, found.mean + spread, basis)
    return known


def _fired_bars(clay: Clay) -> dict[str, list[float]]:
    bars: dict[str, list[float]] = {}
    for bar in clay.bars:
        if bar.fired:
            bars.setdefault(cone_named(bar.cone), []).append((bar.wet.mm - bar.fired.mm) / bar.wet.mm)
    return bars
