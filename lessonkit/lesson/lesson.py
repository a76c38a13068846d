"""A lesson as a teacher thinks of it: pieces, steps, stations, supplies. Frozen; sizes are fired unless it says otherwise."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated, Any, Literal, Self

from pydantic import BeforeValidator, Field, model_validator

from lessonkit.lesson.fields import Copy, Flag, LateModule, Length, Line, Mark, Minutes, Name, Note, Record, Text, Whole, one_of, wrong
from lessonkit.lesson.firing import Dates, DriesOn
from lessonkit.lesson.shapes import MOST_COPIES, Flat, Hang, Strings
from lessonkit.lesson.teaching import Extras, Rubric, Standards

if TYPE_CHECKING:
    from lessonkit.lesson import forms
else:
    forms = LateModule("lessonkit.lesson.forms")  # most pieces are flat


def _for_every_level(value: Any) -> Any:
    """One value stands for all levels; a table has one for each."""
    return value if isinstance(value, dict) else {"all": value}


def _plain_text(value: Any) -> Any:
    return {"text": value} if not isinstance(value, dict) else value


Reading = Literal["picture", "plain", "full"]


def usual_reading(level: str) -> Reading:
    """How a level's words are written, if nobody says otherwise: an easy card in plain words, the others in full ones."""
    return "plain" if level == "easy" else "full"


class Said(Record):
    """What a card says of a step."""

    text: Copy
    good: Text | None = None  # good when ...
    choose: Text | None = None
    early: Text | None = None  # if you finish early


class Words(Said):
    """What one level's card says; and, if she gives them, other words for those who read less or more than most of that
    level do. Level is experience, reading is another matter."""

    plain: Annotated[Said, BeforeValidator(_plain_text)] | None = None
    full: Annotated[Said, BeforeValidator(_plain_text)] | None = None

    def said(self, reading: Reading | None) -> Said:
        """In a reading's words; what it does not say again (`good`, `choose`, `early`) stays as it is."""
        other = {"plain": self.plain, "full": self.full}.get(reading or "")
        if other is None:
            return self
        return Said(text=other.text, good=other.good or self.good, choose=other.choose or self.choose, early=other.early or self.early)


ByLevel = Annotated[dict[str, Text], BeforeValidator(_for_every_level)]
LineByLevel = Annotated[dict[str, Line], BeforeValidator(_for_every_level)]
NameByLevel = Annotated[dict[str, Name], BeforeValidator(_for_every_level)]
MinutesByLevel = Annotated[dict[str, Minutes], BeforeValidator(_for_every_level)]
WordsByLevel = dict[str, Annotated[Words, BeforeValidator(_plain_text)]]


class Piece(Record):
    """One thing to cut, in one form."""

    name: Name
    levels: Strings = ()  # left out: all
    count: Whole = 1  # of these for each learner
    sizes: Annotated[Literal["fired", "wet"], one_of("fired", "wet")] = "fired"
    cut_at: Annotated[Literal["soft", "leather-hard"], one_of("soft", "leather-hard")] = "soft"
    thickness: Length | None = None
    clay: Name | None = None  # another clay of the room than the lesson's
    flat: Flat | None = None
    cylinder: forms.Cylinder | None = None
    oval: forms.Oval | None = None
    cone: forms.Cone | None = None
    dish: forms.Dish | None = None
    bowl: forms.Bowl | None = None
    box: forms.Box | None = None
    many_sided: forms.ManySided | None = None
    hut: forms.Hut | None = None
    pocket: forms.Pocket | None = None
    tray: forms.Tray | None = None
    coil_pot: forms.CoilPot | None = None
    pinch: forms.Pinch | None = None
    hang: Hang | None = None
    face: Note | None = None  # which way up, such as: texture side up

    @model_validator(mode="after")
    def _one_form(self) -> Self:
        given = self.given()
        if len(given) != 1:
            raise wrong(f"expected one form, found {', '.join(given) or 'none'}.", f"Write one of: {', '.join(FORMS)}.")
        if self.hang and not self.flat:
            raise wrong("only a flat piece can have hanging holes.", "Leave hang out.")
        if self.cut_at != "soft" and (self.pinch or self.coil_pot):
            raise wrong("a pinched or coiled pot is not cut.", "Leave cut_at out.")
        if self.count < 1:
            raise wrong("a piece needs a count of 1 or more.", "Leave count out for one.")
        if self.count > MOST_COPIES:
            raise wrong(f"{self.count:,} of a piece are more than one learner makes.", f"Write up to {MOST_COPIES}.")
        return self

    def given(self) -> list[str]:
        return [form for form in FORMS if getattr(self, form) is not None]

    @property
    def form(self) -> str:
        return self.given()[0]


FORMS = ("flat", "cylinder", "oval", "cone", "dish", "bowl", "box", "many_sided", "hut", "pocket", "tray", "coil_pot", "pinch")


class Step(Record):
    """One step in the shared order.

    `text` is for every level; `levels` gives a level words of its own. A step whose `levels` lacks a level (and that has
    no `text`), or that says `only`, is not that level's.
    """

    id: Name
    title: LineByLevel
    picture: Name | None = None
    piece: Name | None = None  # the piece that the picture shows; left out, the first that its level makes
    station: Name | None = None
    minutes: MinutesByLevel
    together: Flag = False
    cue: Text | None = None
    help: Text | None = None
    only: Strings = ()
    text: Copy | None = None
    levels: WordsByLevel = Field(default_factory=dict)
    stop: ByLevel | None = None
    safety: Text | None = None
    word: NameByLevel | None = None

    @model_validator(mode="after")
    def _says_something(self) -> Self:
        if not self.text and not self.levels:
            raise wrong("a step needs words: text (for every level) or levels.", "Add text: Roll on the sticks.")
        return self


class Station(Record):
    """A place in the room where some of the steps are done."""

    name: Name
    steps: Strings = ()  # step ids
    do: tuple[Note, ...] = ()  # three to five short lines
    pictures: Strings = ()  # one for each line
    need: tuple[Note, ...] = ()
    come: Note | None = None  # come here when ...
    places: Whole | None = None
    minutes: Minutes | None = None
    next: Name | None = None
    safety: Note | None = None


class Supply(Record):
    name: Text
    count: Whole | None = None
    per: Annotated[Literal["person", "pair", "table", "class"], one_of("person", "pair", "table", "class")] = "class"


class Mishap(Record):
    """Something that goes wrong, and what helps."""

    what: Text
    cure: Text


class Lesson(Record):
    """The whole file."""

    title: Line
    about: Text
    technique: Annotated[Literal["slab", "pinch", "coil"], one_of("slab", "pinch", "coil")]
    season: Text | None = None
    version: Mark | None = None  # printed in the foot: a date or a number of hers
    clay: Name | None = None
    cone: Name | None = None  # the hottest firing that the piece gets; left out, the clay's own
    thickness: Length | None = None
    pieces: Annotated[tuple[Piece, ...], Field(min_length=1)]
    steps: Annotated[tuple[Step, ...], Field(min_length=1)]
    stations: tuple[Station, ...] = ()
    supplies: tuple[Annotated[Supply, BeforeValidator(lambda v: {"name": v} if isinstance(v, str) else v)], ...] = ()
    words: dict[str, Text] = Field(default_factory=dict)
    prepare: tuple[Text, ...] = ()
    wrong: tuple[Mishap, ...] = ()
    cautions: tuple[Text, ...] = ()
    care: tuple[Text, ...] = ()
    rubric: Rubric = ()
    standards: Standards = Field(default_factory=dict)  # codes, each with her own words if she likes
    early: Extras = ()  # for those who finish early
    dates: Dates | None = None
    dries_on: DriesOn | None = None
