"""Steps by level: one shared order and number, so that a mixed table follows one demonstration."""

from __future__ import annotations

from string import ascii_lowercase

from lessonkit.lesson.lesson import Lesson, Reading
from lessonkit.lesson.lesson import Step as WrittenStep
from lessonkit.lesson.verbs import picture_for
from lessonkit.pieces.model import Piece, Step


def levels_of(step: WrittenStep, levels: list[str]) -> list[str]:
    """The levels that do this step: those it says, else those it has words for, else all."""
    if step.only:
        return [level for level in levels if level in step.only]
    return [level for level in levels if step.text or level in step.levels]


def step_numbers(lesson: Lesson, levels: list[str]) -> dict[str, str]:
    """Step id -> number. A step of one level alone is 5a, 5b after the shared 5; before any shared step it is 0a."""
    numbers: dict[str, str] = {}
    shared, letters = 0, ""
    for step in lesson.steps:
        if len(levels_of(step, levels)) > 1 or len(levels) == 1:
            shared, letters = shared + 1, ""
            numbers[step.id] = str(shared)
        else:
            letters = _following(letters)
            numbers[step.id] = f"{shared}{letters}"
    return numbers


def steps_by_level(lesson: Lesson, levels: list[str], pieces: tuple[Piece, ...], reading: Reading | None = None) -> dict[str, tuple[Step, ...]]:
    """Each level's steps, in the words that are usual for it or in those of one reading."""
    numbers = step_numbers(lesson, levels)
    return {level: _cards(lesson, level, levels, numbers, pieces, reading) for level in levels}


def _cards(lesson: Lesson, level: str, levels: list[str], numbers: dict[str, str], pieces: tuple[Piece, ...],
           reading: Reading | None) -> tuple[Step, ...]:  # fmt: skip
    by_name = {piece.name.casefold(): piece for piece in pieces}
    usual = next((piece for piece in pieces if level in piece.levels), pieces[0])
    mine = [step for step in lesson.steps if level in levels_of(step, levels)]
    safety = _safety(lesson, mine, levels)
    after = [*mine[1:], None][: len(mine)]  # nothing follows nothing
    jumps = [_jump(step, following, numbers) for step, following in zip(mine, after, strict=True)]
    return tuple(
        _card(lesson, step, level, numbers, by_name.get((step.piece or "").casefold(), usual), safety[step.id], jump, reading)
        for step, jump in zip(mine, jumps, strict=True)
    )


def _safety(lesson: Lesson, mine: list[WrittenStep], levels: list[str]) -> dict[str, tuple[str, ...]]:
    """The safety notes of each card. One of a shared step that this level leaves out is told with the card before it."""
    notes: dict[str, list[str]] = {step.id: [] for step in mine}
    holder = mine[0].id if mine else ""
    for step in lesson.steps:
        if step.id in notes:
            holder = step.id
        if step.safety and holder and (step.id in notes or len(levels_of(step, levels)) > 1):
            notes[holder].append(step.safety)
    return {id_: tuple(dict.fromkeys(texts)) for id_, texts in notes.items()}


def _card(lesson: Lesson, step: WrittenStep, level: str, numbers: dict[str, str], piece: Piece, safety: tuple[str, ...],
          jump: str, reading: Reading | None) -> Step:  # fmt: skip
    words = step.levels[level].said(reading) if level in step.levels else None

    def of_level(table: dict[str, str] | None) -> str:
        return (table or {}).get(level) or (table or {}).get("all") or ""

    title, text = of_level(step.title), words.text if words else step.text or ""
    word = of_level(step.word)
    term = next((term for term in lesson.words if term.casefold() == word.casefold()), None)
    minutes = step.minutes.get(level, step.minutes.get("all", 0.0))
    return Step(
        id=step.id,
        number=numbers[step.id],
        level=level,
        title=title,
        text=text,
        minutes=minutes,
        picture=step.picture or picture_for(title) or picture_for(text) or "",
        piece=piece,
        good=words.good or "" if words else "",
        choose=words.choose or "" if words else "",
        early=words.early or "" if words else "",
        stop=of_level(step.stop),
        safety=safety,
        word=(term, lesson.words[term]) if term else None,
        next=jump,
        station=step.station or "",
        together=step.together,
        cue=step.cue or "",
        help=step.help or "",
    )


def _jump(step: WrittenStep, after: WrittenStep | None, numbers: dict[str, str]) -> str:
    """The next card's number, where it is not the one that a reader would expect."""
    if after is None:
        return ""
    here, there = numbers[step.id], numbers[after.id]
    base = here.rstrip(ascii_lowercase)
    return "" if there in (str(int(base) + 1), base + _following(here.removeprefix(base))) else there


def _following(letters: str) -> str:
    """a for none, b for a, aa for z."""
    if letters.endswith("z"):
        return f"{_following(letters[:-1])}a"
    return f"{letters[:-1]}{chr(ord(letters[-1]) + 1)}" if letters else "a"
