"""The picture that a step's own verb asks for, where the lesson names none (English)."""

from __future__ import annotations

import re
from functools import cache

# The first verb in the text decides; of two that begin at the same word, the one higher up here.
_VERBS = (
    ("coil-corner", r"(?:press|push|add|lay|set|fit|put)\b.{0,24}\bcoils?\b.{0,24}\bcorner"),
    ("roll-coil", r"roll\b.{0,24}\bcoils?\b"),
    ("stack", r"(?:stack|build|lay|add|pile)\b.{0,24}\bcoils?\b|coil (?:up )?the (?:wall|pot)"),
    ("spiral", r"spiral|(?:coil|wind|curl) (?:it|one|a coil|the coil|your coil|the snake)?\b.{0,12}(?:up|round|flat|into)"),
    ("cover", r"(?:cover|wrap|bag)\b.{0,24}\b(?:plastic|film|bag|sheet)\b|cover\b"),
    ("blend", r"blend|(?:smear|smooth|push|wipe)\b.{0,24}\b(?:coils?|seams?) (?:together|down|inside)"),
    ("join", r"(?:score|scratch)\b.{0,60}\b(?:join|press|attach|stick|fix|push)|join|attach"),
    ("join", r"(?:press|stick|push|fix)\b.{0,24}\b(?:together|on|onto|in place)\b"),
    ("score", r"score|scratch|roughen"),
    ("slip", r"(?:brush|dab|paint|spread|add|put)\b.{0,16}\bslip\b(?! (?:colou?r|trail))|slip (?:the|both|each)"),
    ("opening", r"(?:cut|trace|take)\b.{0,24}\b(?:opening|window|middle|inside|centre|center)\b"),
    ("hole", r"(?:make|punch|poke|cut|push|pierce|press|drill)\b.{0,24}\bholes?\b|pierce|punch"),
    ("sponge-foot", r"(?:sponge|wipe|clean|wash)\b.{0,24}\b(?:foot|feet|base|bottom|underside)\b"),
    ("name", r"(?:write|scratch|sign|mark|put|print|carve|stamp)\b.{0,16}\b(?:names?|initials?)\b"),
    ("name", r"name (?:it|the|your|on)|sign (?:it|your|the)|initial"),
    ("lift", r"(?:lift|peel|pull|take|move)\b.{0,16}\b(?:waste|scraps?|extra|trimmings|away)\b|lift|peel"),
    ("lay", r"(?:lay|set|place|put|position)\b.{0,16}\b(?:stencil|template|pattern)"),
    ("trace", r"trace|(?:draw|mark|cut|go) (?:a)?round\b|outline"),
    ("opening", r"cut out\b.{0,24}\b(?:heart|star|hole|shape) in"),
    ("cut", r"cut|slice|trim"),
    ("flip", r"flip|turn\b.{0,12}\bover\b"),
    ("turn", r"turn|rotate"),
    ("wedge", r"wedge|knead"),
    ("pat", r"pat\b|flatten|slap"),
    ("roll", r"roll\b(?!.{0,24}\bballs?\b)"),
    ("texture", r"texture|emboss|print|(?:press|push|roll)\b.{0,16}\b(?:textures?|leaf|leaves|lace|shells?|pattern|net|cloth|reeds?)\b"),
    ("texture", r"press\b.{0,16}\b(?:lines?|grain|wood|cord|rope)\b"),
    ("stamp", r"stamp"),
    ("carve", r"carve|incise|engrave|sgraffito"),
    ("paddle", r"paddle|(?:tap|beat)\b.{0,24}\b(?:bat|paddle|spoon|stick)\b"),
    ("open", r"open\b|(?:push|press|sink)\b.{0,16}\bthumbs?\b"),
    ("pinch", r"pinch"),
    ("wrap", r"wrap|bend\b.{0,16}\bround"),
    ("stand", r"stand|set\b.{0,16}\b(?:wall|sides?) on"),
    ("drape", r"drape|(?:lay|hang)\b.{0,16}\bover\b"),
    ("slump", r"slump|(?:lay|lower|press|sink|ease|drop)\b.{0,16}\b(?:into|in)\b.{0,12}\b(?:form|mou?ld|bowl|dish)\b"),
    ("paint", r"paint|glaze|underglaze|colou?r\b|brush"),
    ("smooth", r"smooth|soften|round off|sponge"),
    ("wait", r"wait|dry|let\b.{0,24}\b(?:dry|stiffen|set|rest)\b|leave\b.{0,24}\b(?:dry|stiffen|overnight|alone|days?)\b"),
    ("wash", r"wash|rinse"),
    ("tidy", r"tidy|clear\b|clean\b|put\b.{0,16}\b(?:away|back)\b|pack"),
    ("show", r"show|stop\b|ask\b|check\b|raise"),
)  # fmt: skip
_FILL_IN = re.compile(r"\{[^{}]*\}")


def picture_for(words: str) -> str | None:
    """The name of the picture for a step's title, or its text; None where no verb of the trade is found."""
    said = _FILL_IN.sub("", words)  # {frame cut} names a size, not a deed
    found = ((match.start(), order, name) for order, (name, pattern) in enumerate(_patterns()) if (match := pattern.search(said)))
    first = min(found, default=None)
    return first[2] if first else None


@cache  # late: most steps name their picture
def _patterns() -> tuple[tuple[str, re.Pattern[str]], ...]:
    return tuple((name, re.compile(rf"\b(?:{pattern})", re.IGNORECASE)) for name, pattern in _VERBS)
