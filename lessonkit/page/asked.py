"""What the browser may ask, read strictly: whatever is not of this form is refused before anything is done."""

from __future__ import annotations

import json
from typing import Annotated, Literal, TypeVar

from pydantic import BaseModel, ConfigDict, Field, ValidationError

from lessonkit.layout.card_order import CardFormat
from lessonkit.lesson.lesson import Reading
from lessonkit.page.refused import Refused

Word = Annotated[str, Field(max_length=200)]
Typed = Annotated[str, Field(max_length=4000)]
Steps = Annotated[tuple[Word | int, ...], Field(min_length=1, max_length=20)]


class Form(BaseModel):
    model_config = ConfigDict(extra="forbid", frozen=True)


class Change(Form):
    """The value that stands at `path`, as she typed it."""

    path: Steps
    written: Typed


class Choices(Form):
    """A lesson with what was typed and chosen. None stands for what the lesson or the room says."""

    file: Word
    mark: Word
    changes: Annotated[tuple[Change, ...], Field(max_length=500)] = ()
    clay: Word | None = None
    paper: Word | None = None
    units: Literal["mm", "in"] | None = None
    group: Word | None = None
    levels: Annotated[tuple[Word, ...], Field(max_length=20)] | None = None
    card_format: CardFormat | None = None
    reading: Reading | None = None
    languages: Annotated[tuple[Literal["en", "es"], ...], Field(max_length=2)] | None = None
    show: Word = "stencils"
    pages: tuple[Annotated[int, Field(ge=1)], Annotated[int, Field(ge=1)]] | None = None
    turn: int = 0
    only: Word | None = None


class Saving(Form):
    file: Word
    mark: Word
    changes: Annotated[tuple[Change, ...], Field(max_length=500)] = ()
    clay: Word | None = None
    name: Annotated[Word | None, Field(alias="as")] = None


class Drawing(Form):
    """An SVG file of hers that is looked at, and kept if she says so."""

    name: Word
    text: Annotated[str, Field(max_length=2_900_000)]
    across: Word
    thickness: Word | None = None
    keep: bool = False
    title: Word | None = None
    turn: int = 0


FormName = Annotated[str, Field(pattern=r"^(print-check|test-bars-[0-9]{1,4})$")]


class RoomPaper(Form):
    form: FormName


class RoomForm(Form):
    mark: Word
    form: FormName
    values: Annotated[dict[Word, Word], Field(max_length=500)]
    trying: Annotated[bool, Field(alias="try")] = False


Asked = TypeVar("Asked", bound=Form)


def asked(body: bytes, form: type[Asked]) -> Asked:
    """Refused (400) for what is no JSON or not of the form."""
    try:
        return form.model_validate(json.loads(body))
    except (ValueError, RecursionError) as error:
        found = error.errors()[0] if isinstance(error, ValidationError) else None
        where = ".".join(map(str, found["loc"])) if found else ""
        raise Refused(400, f"this page asked for something that can't be read{f' ({where})' if where else ''}.", "Load the page again.") from None
