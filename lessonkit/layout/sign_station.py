"""What a station's sign has to say, gathered from the lesson and the room."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from lessonkit.layout.wording import say
from lessonkit.lesson.lesson import Station
from lessonkit.lesson.verbs import picture_for
from lessonkit.pieces.model import Kit, Piece, Step
from lessonkit.units import show_minutes

READ_FROM_MM = 5000.0


class Action(NamedTuple):
    """One line to do, with the name of its picture (empty: none) and the piece that the picture shows."""

    text: str
    picture: str
    piece: Piece


class Facts(NamedTuple):
    """`number` counts the lesson's stations from 0, and there are so many `of` them; `follows` is the next one's, None where it is no
    station of the lesson. `told` is what is said of minutes (where the levels differ, of the shortest and the longest) and of places, each
    with its number."""

    number: int
    of: int
    name: str
    read_from_mm: float
    actions: tuple[Action, ...]
    need: tuple[str, ...]
    come: str
    safety: str
    places: int | None
    told: tuple[tuple[str, str], ...]
    next_name: str
    follows: int | None


def facts(kit: Kit, index: int) -> Facts:
    """The sign of the lesson's station `index`. What the lesson leaves out is taken from the room, or from the steps that
    are done there; where to go next is the station that the lesson names next, unless this one says another."""
    station, stations = kit.lesson.stations[index], kit.lesson.stations
    of_room = next((one for one in kit.room.stations if _same(one.name, station.name)), None)
    distance = (of_room.read_from if of_room else None) or kit.room.read_from
    after = stations[index + 1].name if index + 1 < len(stations) else ""
    next_name = station.next or after
    places = station.places if station.places is not None else (of_room.places if of_room else None)
    return Facts(
        number=index,
        of=len(stations),
        name=station.name,
        read_from_mm=distance.mm if distance else READ_FROM_MM,
        actions=_actions(kit, station),
        need=station.need,
        come=station.come or "",
        safety=station.safety or "",
        places=places,
        told=tuple(_told(_minutes(kit, station), places, kit.room.language)),
        next_name=next_name,
        follows=next((i for i, one in enumerate(stations) if _same(one.name, next_name)), None),
    )


def _told(minutes: Sequence[float], places: int | None, language: str) -> Iterator[tuple[str, str]]:
    if minutes:
        figure = "–".join(show_minutes(each) for each in minutes)
        yield say("minutes" if figure != "1" else "one_minute", language, n=figure), figure
    if places is not None:
        yield say("sign_places" if places != 1 else "sign_one_place", language, n=places), str(places)


def _same(name: str, other: str) -> bool:
    return name.casefold() == other.casefold()


def _steps(kit: Kit, station: Station) -> dict[str, list[Step]]:
    """By level, the steps that the station names, else those that name the station."""

    def here(step: Step) -> bool:
        return step.id in station.steps if station.steps else _same(step.station, station.name)

    return {level: [step for step in steps if here(step)] for level, steps in kit.steps.items()}


def _actions(kit: Kit, station: Station) -> tuple[Action, ...]:
    by_level = _steps(kit, station).values()
    steps = list({step.id: step for of_level in by_level for step in reversed(of_level)}.values())[::-1]
    piece = next((step.piece for of_level in by_level for step in of_level if step.id == steps[0].id), kit.pieces[0])  # the first level's
    if not station.do:
        return tuple(Action(step.title, step.picture or _guessed(step.title), step.piece) for step in steps)
    own = station.pictures
    return tuple(Action(text, own[i] if i < len(own) else _guessed(text), piece) for i, text in enumerate(station.do))


def _guessed(text: str) -> str:
    return picture_for(text) or ""


def _minutes(kit: Kit, station: Station) -> tuple[float, ...]:
    if station.minutes is not None:
        return (station.minutes,)
    sums = sorted({total for steps in _steps(kit, station).values() if (total := sum(step.minutes for step in steps))})
    return (sums[0], sums[-1]) if len(sums) > 1 else tuple(sums)
