"""What the README promises."""

from __future__ import annotations

import re
from pathlib import Path
from textwrap import dedent

from click.testing import CliRunner

from lessonkit.cli.commands import main
from tests.lessons_for_tests import kit_of

README = (Path(__file__).parents[1] / "README.md").read_text()


def test_the_first_lesson_builds_without_a_room() -> None:
    (block,) = (block for block in re.findall(r"(?:^    .*\n)+", README, re.MULTILINE) if block.startswith("    title:"))
    assert block.count("\n") == 10
    kit = kit_of(dedent(block), room=None)
    assert (kit.lesson.title, kit.problems) == ("Salt Star", ())


def test_every_command_and_option_that_it_names_exists() -> None:
    named = set(re.findall(r"`lessonkit (\w+)", README)) - {"reads"}
    assert named <= set(main.commands)
    assert len(named) >= 5
    help_texts = "".join(CliRunner().invoke(main, [name, "--help"]).output for name in main.commands)
    for option in re.findall(r"`(--\w+)", README):
        assert option in help_texts, option


def test_its_pictures_exist() -> None:
    pictures = re.findall(r"\((output_samples/[^)]+)\)", README)
    assert len(pictures) >= 4
    for picture in pictures:
        assert (Path(__file__).parents[1] / picture).is_file(), picture
