"""What a table's own rules ask for beyond its fields: names that are there, sizes that agree, one currency."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Any

from pydantic import BaseModel

from lessonkit.lesson import classroom, firing, forms, lesson, room, shapes
from lessonkit.lesson.limits import LONGEST_LINE
from tests.fuzz import spellings

if TYPE_CHECKING:
    from tests.fuzz.author import Author

Table = dict[str, Any]

STATIONS = ("Table", "Texture", "Join", "Check", "Wash up")
CLAYS = ("white low-fire", "buff mid-fire")
TERMS = ("slip", "score", "rivet")


def _settle_hang(author: Author, made: Table) -> None:
    made.update(across=spellings.length(author.random.uniform(3, 6), author.random))
    made.pop("at", None)
    made.pop("apart", None)
    if str(made.get("holes")) == "2":
        made["apart"] = "40 mm"


def _settle_box(author: Author, made: Table) -> None:
    made.pop("gap", None)
    made["lid"] = author.random.choice(("yes", "no"))
    if made["lid"] == "yes":
        made["gap"] = "1 mm"


def _settle_piece(author: Author, made: Table) -> None:
    if "flat" not in made:
        made.pop("hang", None)
    made["count"] = author.random.choice("1124")
    made["thickness"] = author.random.choice(("6 mm", "8 mm", "1/4 in", "10 mm"))
    made.pop("cut_at", None)


def _inner(made: Table, name: str) -> list[Table]:
    """The tables of a list."""
    return [table for table in made.get(name) or () if isinstance(table, dict)]


def _settle_lesson(author: Author, made: Table) -> None:
    """Names only what is there."""
    made.pop("cone", None)
    made["thickness"] = author.random.choice(("6 mm", "8 mm", '5/16"'))
    made["words"] = {term: author.text() for term in TERMS}
    pieces = [piece.get("name") for piece in _inner(made, "pieces")]
    ids = [step.get("id") for step in _inner(made, "steps")]
    for step in _inner(made, "steps"):
        step |= {"text": f"{author.text()} {next(author.marks)}", "minutes": spellings.minutes(author.random)}
        if "piece" in step:
            step["piece"] = author.random.choice(pieces or [""])
    for station in _inner(made, "stations"):
        if "steps" in station:
            station["steps"] = author.random.choice(ids or [""])
    for row in _inner(made, "rubric"):
        row.pop("says", None)


def _settle_room(author: Author, made: Table) -> None:
    made["levels"] = {"easy": "New to this", "advanced": author.text()[:LONGEST_LINE]}
    made["stations"] = [{"name": name, "places": str(author.random.randint(1, 30))} for name in STATIONS]
    made["clays"] = [
        {"name": name, "cone": cone, "shrinkage": author.random.choice(("12 %", "6", "11-13 %")), "highest_cone": cone}
        for name, cone in zip(CLAYS, ("04", "6"), strict=True)
    ]
    made.pop("printed", None)
    made.pop("rubric", None)


def _settle_minutes(author: Author, made: Table) -> None:
    made.update(period=author.random.choice(("50", "1 h 30 min", "45 min")))


def _settle_group(author: Author, made: Table) -> None:
    made.pop("levels", None)
    made["people"] = str(author.random.choice((1, 2, 7, 24, 28, 60)))


def _settle_buying(author: Author, made: Table) -> None:
    made.pop("colours", None)
    made.pop("fees", None)
    made.pop("firing", None)


def _settle_term(author: Author, made: Table) -> None:
    made["country"] = "US"
    made.pop("region", None)
    made["term"] = "2026-09-08 to 2027-06-11"


def _settle_kiln(author: Author, made: Table) -> None:
    made.pop("inside", None)
    made.pop("opens_below", None)
    made.update(stack="660 mm", shelf=author.random.choice(({"round": "530 mm"}, {"half_round": "21 in"}, {"wide": "300 mm", "deep": "600 mm"})))
    for word in ("beside", "shelves", "raw_high"):
        if word in made:
            made[word] = author.random.choice("12359")


def _settle_dates(author: Author, made: Table) -> None:
    if "make" in made:
        made.pop("in_hands", None)


def _settle_bar(author: Author, made: Table) -> None:
    made.update(wet="100 mm", dry="94.5 mm", bisque="93 mm", fired="88.1 mm")


def _settle_check(author: Author, made: Table) -> None:
    made |= {"minutes": "45 s", "peer": "25 s"}


def _settle_coil_pot(author: Author, made: Table) -> None:
    made.pop("profile", None)


SETTLE: dict[type[BaseModel], Callable[[Author, Table], None]] = {
    shapes.Hang: _settle_hang, forms.Box: _settle_box, lesson.Piece: _settle_piece, lesson.Lesson: _settle_lesson, room.Room: _settle_room,
    room.Period: _settle_minutes, classroom.Group: _settle_group, classroom.Buying: _settle_buying, firing.Term: _settle_term,
    firing.Kiln: _settle_kiln, firing.Dates: _settle_dates, room.Bar: _settle_bar, classroom.Check: _settle_check, forms.CoilPot: _settle_coil_pot,
}  # fmt: skip
