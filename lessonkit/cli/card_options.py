"""The options of `build` that change the step cards."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Any, TypeVar

import click

from lessonkit.cli.values import Count, OneOf

if TYPE_CHECKING:
    from lessonkit.layout.card_order import CardOrder

Command = TypeVar("Command", bound=Callable[..., Any])

_OPTIONS = (
    click.option("--format", type=OneOf(["4", "2", "1", "large", "strip"]),
                 help="Cards: how many to the sheet; large print; or a strip of pictures for those who do not read."),
    click.option("--reading", type=OneOf(["picture", "plain", "full"]),
                 help="Cards: in pictures, in plain words or in full ones, whatever the level."),
    click.option("--language", "languages", multiple=True,
                 help="Cards and signs: in this language; given twice, cards have the second below the first."),
    click.option("--left-handed", is_flag=True, help="Cards: what hands do is mirrored."),
    click.option("--backs", type=OneOf(["long-edge", "short-edge"]),
                 help="Cards: with backs that say when it is good; how your printer flips the paper."),
    click.option("--sets", type=Count(1, 200), help="Cards: so many sets, laid out so that the cut piles are in order."),
)  # fmt: skip


def card_options(command: Command) -> Command:
    for option in reversed(_OPTIONS):
        command = option(command)
    return command


def card_order(languages: tuple[str, ...], **wanted: Any) -> CardOrder:
    """What the options ask for. Raises BadParameter for what can't be had together."""
    from lessonkit.layout.card_order import CardOrder
    from lessonkit.lesson.translation import LANGUAGES

    unknown = [language for language in languages if language not in LANGUAGES]
    if unknown or len(languages) > 2 or len(set(languages)) < len(languages):
        what = f"there is no language “{unknown[0]}”" if unknown else "a card has one language or two different ones"
        raise click.BadParameter(f"{what}. There are: {', '.join(LANGUAGES)}.", param_hint="--language")
    if wanted["format"] == "strip" and (wanted["reading"] or "picture") != "picture":
        raise click.BadParameter("a strip is pictures alone. Leave --reading out, or choose another --format.", param_hint="--reading")
    if wanted["format"] == "strip" and wanted["backs"]:
        raise click.BadParameter("a strip has no backs. Leave --backs out, or choose another --format.", param_hint="--backs")
    return CardOrder(languages=languages, **wanted)
