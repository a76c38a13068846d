"""Small lessons and rooms as text, and the shortest way from text to a kit."""

from __future__ import annotations

from lessonkit.build import Source, work
from lessonkit.pieces.model import Kit
from lessonkit.problems import Problem

ROOM = """\
kind: room
name: Saltmarsh Clay Room
paper: [A4, Letter]
levels: {easy: New to this, advanced: Done this before}
clays:
  - {name: white low-fire, cone: "04", shrinkage: 6 %, highest_cone: "04"}
  - {name: buff mid-fire, cone: "6", shrinkage: 12 %, highest_cone: "6"}
sticks:
  - {name: green, thick: 8 mm}
  - {name: blue, thick: 6 mm}
"""

FRAME = """\
title: Porthole
about: A round frame.
technique: slab
clay: buff mid-fire
pieces:
  - name: frame
    flat:
      outline: {circle: {across: 160 mm}}
      openings:
        - {circle: {across: 85 mm}}
    hang: {holes: 1, across: 4 mm}
steps:
  - id: cut
    title: Cut the ring
    picture: trace
    minutes: 8
    text: Cut the ring. It is {frame cut} wide.
"""

POT = """\
title: Reed Pot
about: A pot.
technique: slab
clay: buff mid-fire
thickness: 6 mm
pieces:
  - name: pot
    cylinder: {across: 80 mm, tall: 95 mm, measured: outside}
steps:
  - {id: cut, title: Cut, picture: trace, minutes: 8, text: Cut the wall.}
"""

JOIN = """\
stations:
  - name: Join
    do: [Roughen both faces., Brush on slip., Press for a slow three., Smooth the seam.]
    pictures: [score, slip, join, smooth]
    need: [your ring on its tray, 8 rivets, a scoring fork]
    come: STOP 1 on your card has its tick
    places: 8
    minutes: 8
    next: Check
    safety: Forks stand in the cup, points down.
  - name: Check
    do: [Bring your board., Write name and code.]
"""


def worked(lesson: str, room: str | None = ROOM, clay: str | None = None) -> tuple[Kit | None, tuple[Problem, ...]]:
    return work(Source("lesson.yaml", lesson.encode()), Source("room.yaml", room.encode()) if room is not None else None, clay)


def kit_of(lesson: str, room: str | None = ROOM, clay: str | None = None) -> Kit:
    """A kit from a lesson that has no errors."""
    kit, problems = worked(lesson, room, clay)
    assert kit is not None, "\n".join(map(str, problems))
    return kit


def problems_of(lesson: str, room: str | None = ROOM, clay: str | None = None) -> list[str]:
    return [str(problem) for problem in worked(lesson, room, clay)[1]]
