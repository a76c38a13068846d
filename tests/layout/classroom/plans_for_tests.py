"""A plan to make papers from: two lessons and two groups in one room, with kiln, racks and calendar; and the papers read back."""

from __future__ import annotations

from datetime import date
from functools import cache
from typing import Any

from lessonkit.drawing.items import Document
from lessonkit.layout.classroom.papers import plan_documents
from lessonkit.pieces.model import Kit
from lessonkit.planning.numbers import Asked, groups_of, plan
from lessonkit.writers.pdf import write_pdf
from tests.layout.read_back import Sheet, sheets
from tests.lessons_for_tests import kit_of

PAPERS = ("A4", "Letter")
LEAST_PT = 7.95  # 8, as a PDF reader gives it back
TODAY = "2027-01-28"

ROOM = """\
kind: room
name: Saltmarsh Clay Room
paper: [A4, Letter]
levels: {easy: New to this, advanced: Done this before}
clays:
  - {name: white low-fire, cone: "04", shrinkage: 6 %, highest_cone: "04"}
  - {name: buff mid-fire, cone: "6", shrinkage: 12 %, highest_cone: "6"}
sticks: [{name: green, thick: 8 mm}, {name: blue, thick: 6 mm}]
stations: [{name: Table, places: 28}, {name: Texture, places: 14}, {name: Join, places: 14}, {name: Check, places: 3}]
minutes: {period: 50, arrive: 4, show: 8, clean: 8, leave: 2}
groups:
  - {name: Tuesday morning, code: A, levels: {easy: 16, advanced: 12}, day: Tuesday, at: "9:30"}
  - {name: Thursday evening, code: B, people: 20, day: Thursday, at: "18:00", access: [large print at table 2]}
tables: {seats: 6, tools: [{name: towel, count: 2}]}
tools: [{name: rolling pin, count: 10, minutes: 5}]
buying:
  bags: [{weight: 25 lb, price: $28}]
  colours: [{name: underglaze, price: $14, holds: 473 ml, each: 30 ml}]
  firing: {bisque: 42 kWh, glaze: 38 kWh, price: $0.17, pieces: 30}
  fees: [{name: clay, amount: $1, per: lb}]
kiln: {name: round kiln, shelf: {round: 530 mm}, shelves: 7, shelf_thick: 16 mm, posts: [25 mm, 50 mm, 100 mm], stack: 660 mm, raw_gap: 5 mm,
  raw_high: 2, starts: Mon-Fri, unloads: Mon-Fri, bisque_days: 2, glaze_days: 2}
racks: [{name: window rack, shelves: 10, wide: 1200 mm, deep: 600 mm}]
calendar: {country: US, term: 2027-01-04 to 2027-04-30, sessions: "Tue, Thu", wrap_days: 1,
  closed: [{days: 2027-02-15 to 2027-02-19, why: winter week}]}
"""
FRAME = """\
title: Porthole
about: A round frame that holds a photo.
technique: slab
clay: white low-fire
version: "3"
dries_on: absorbent board
dates: {make: 2027-01-07, paint: one week Tuesday to Thursday}
pieces:
  - name: frame
    flat:
      outline: {circle: {across: 160 mm}}
      openings: [{circle: {across: 85 mm}}]
      joins: [{name: rivet, circle: {across: 12 mm}, ring: {count: 8, across: 122 mm}}]
    hang: {holes: 1, across: 4 mm}
steps:
  - {id: roll, title: Roll the slab, picture: roll, station: Table, minutes: {easy: 8, advanced: 6}, together: true, text: Roll.,
     cue: All tools down., stop: "Is it 8 mm thick?"}
  - {id: press, title: Press the rim, only: advanced, picture: texture, station: Texture, minutes: 4, text: Press., stop: "Is one line all round?"}
  - {id: cut, title: Cut the ring, picture: cut, station: Table, minutes: 8, text: Cut., safety: Needles go back in the cork.}
  - {id: join, title: Join the rivets, picture: join, station: Join, minutes: 5,
     levels: {easy: Join them., advanced: {text: Join them., good: no rivet turns under your finger.}}}
  - {id: show, title: Show and sign, picture: hole, station: Check, minutes: 2, text: Show it.}
supplies:
  - {name: canvas mat, count: 1, per: person}
  - {name: rolling pin with a pair of sticks, count: 1, per: pair}
  - {name: 5 mm straw, count: 3, per: class}
care: [Hang it indoors from a smooth nail.]
"""
POT = """\
title: Reed Pot
about: A straight pot.
technique: slab
clay: buff mid-fire
thickness: 6 mm
dries_on: newspaper
dates: {in_hands: 2027-03-12, paint: one week Tuesday to Thursday}
pieces:
  - name: pot
    cylinder: {across: 80 mm, tall: 100 mm, measured: outside}
steps:
  - {id: cut, title: Cut wall and base, picture: cut, station: Table, minutes: 10, text: Cut., cue: Needles come around now.}
  - {id: wrap, title: Wrap the wall, picture: wrap, station: Join, minutes: 10, text: Wrap., stop: "Is the seam shut?"}
rubric: [{look: the seam, says: [it gapes, it is shut, it cannot be found]}, it stands straight]
"""

Json = dict[str, Any]


@cache
def planned(lessons: tuple[str, ...] = (FRAME, POT), room: str | None = ROOM, today: str = TODAY) -> tuple[Json, Asked]:
    """The plan and what was asked."""
    kits = tuple(_kit(lesson, room) for lesson in lessons)
    groups, said = groups_of(kits[0].room)
    asked = Asked(kits, groups, today=date.fromisoformat(today) if today else None)
    return plan(asked, said), asked


@cache
def _kit(lesson: str, room: str | None) -> Kit:
    return kit_of(lesson, room)


@cache
def documents(lessons: tuple[str, ...] = (FRAME, POT), room: str | None = ROOM, paper: str = "A4", today: str = TODAY) -> dict[str, Document]:
    """Every paper by its name, `day-plan` for all or `Porthole/A/day-plan` for one class."""
    found, asked = planned(lessons, room, today)
    made = {}
    for name, place, document in plan_documents(found, asked.kits, asked.groups, paper):
        whose = f"{asked.kits[place[0]].lesson.title}/{asked.groups[place[1]].tag}/" if place else ""
        made[f"{whose}{name}"] = document
    return made


@cache
def read_paper(name: str, lessons: tuple[str, ...] = (FRAME, POT), room: str | None = ROOM, paper: str = "A4", today: str = TODAY) -> list[Sheet]:
    """One of them, as another reader reads it."""
    return sheets(write_pdf(documents(lessons, room, paper, today)[name]))


def text_of(read_back: list[Sheet]) -> str:
    """All words in the order in which they were drawn."""
    return " ".join(word for sheet in read_back for word in sheet.text.split())


def everything(name: str, paper: str = "A4") -> str:
    """All words of one paper of the usual plan."""
    return text_of(read_paper(name, paper=paper))
