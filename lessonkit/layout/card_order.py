"""How cards are wanted beyond level and paper, and the file names that tell it. Light: the commands read this too."""

from __future__ import annotations

from typing import Literal, NamedTuple

from lessonkit.lesson.lesson import Reading, usual_reading
from lessonkit.pieces.model import Kit

CardFormat = Literal["4", "2", "1", "large", "strip"]
Flip = Literal["long-edge", "short-edge"]
CARD_FORMATS: tuple[CardFormat, ...] = ("4", "2", "1", "large", "strip")
FLIPS: tuple[Flip, ...] = ("long-edge", "short-edge")


class CardOrder(NamedTuple):
    """What is not the usual. None and empty stand for what is.

    `format` is how many cards go to the sheet, large print, or a strip of pictures; `reading` is chosen apart from the
    level; `languages` are one or two, the first above the second; `backs` names the edge over which the printer flips the
    paper; `sets` is how many sets are wanted in one file.
    """

    format: CardFormat | None = None
    reading: Reading | None = None
    languages: tuple[str, ...] = ()
    left_handed: bool = False
    backs: Flip | None = None
    sets: int | None = None

    @property
    def cards_to_sheet(self) -> int | None:
        return int(self.format) if self.format in ("4", "2", "1") else None

    def reading_of(self, level: str) -> Reading:
        """A strip is for those who do not read."""
        return "picture" if self.format == "strip" else self.reading or usual_reading(level)

    def spoken(self, kit: Kit) -> tuple[Kit, ...]:
        """The kit in each language. KeyError for a language that the lesson is not there in."""
        kits = {kit.room.language: kit, **kit.translations}
        return tuple(kits[language] for language in self.languages) or (kit,)

    def suffix(self, kit: Kit, level: str) -> str:
        """What a file's name adds for everything that is not the usual."""
        words = (
            {"large": "large-print", "strip": "strip"}.get(self.format, f"{self.format}-to-sheet") if self.format else "",
            self.reading if self.reading and self.reading != usual_reading(level) and self.format != "strip" else "",
            "-".join(self.languages) if self.languages != (kit.room.language,) else "",
            "left-handed" if self.left_handed else "",
            f"backs-{self.backs}" if self.backs else "",
            f"{self.sets}-sets" if self.sets else "",
        )
        return "".join(f"-{word}" for word in words if word)
