"""The options of `build` for cards, and what the files are then called."""

from __future__ import annotations

from pathlib import Path

import pytest
from click.testing import CliRunner

from lessonkit.cli.commands import main
from tests.pieces.test_translating import LESSON, ROOM, SPANISH


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "porthole.yaml").write_text(LESSON)
    (tmp_path / "porthole.es.yaml").write_text(SPANISH)
    (tmp_path / "room.yaml").write_text(ROOM)
    return tmp_path


def built(folder: Path, *options: str) -> tuple[int, str, list[str]]:
    usual = ["build", str(folder / "porthole.yaml"), "--out", str(folder / "out"), "--level", "easy", "--only", "cards"]
    result = CliRunner().invoke(main, [*usual, *options])
    return result.exit_code, result.output, sorted(path.name for path in (folder / "out").rglob("*.pdf"))


@pytest.mark.parametrize(
    ("options", "name"),
    [
        ((), "cards-easy.pdf"),
        (("--language", "en", "--reading", "plain"), "cards-easy.pdf"),
        (("--format", "2"), "cards-easy-2-to-sheet.pdf"),
        (("--format", "large", "--language", "es"), "cards-easy-large-print-es.pdf"),
        (("--format", "strip", "--left-handed", "--paper", "letter"), "cards-easy-strip-left-handed-letter.pdf"),
        (("--reading", "full", "--language", "en", "--language", "es"), "cards-easy-full-en-es.pdf"),
        (("--reading", "picture"), "cards-easy-picture.pdf"),
        (("--sets", "3"), "cards-easy-3-sets.pdf"),
    ],
)
def test_a_file_is_named_for_all_that_is_not_usual(folder: Path, options: tuple[str, ...], name: str) -> None:
    assert built(folder, *options)[::2] == (0, [name])


def test_signs_speak_the_language_too(folder: Path) -> None:
    assert built(folder, "--only", "signs", "--language", "es")[2] == ["cards-easy-es.pdf", "station-signs-es.pdf"]


def test_backs_without_an_answer_are_a_warning(folder: Path) -> None:
    code, told, files = built(folder, "--backs", "short-edge")
    assert (code, files) == (0, ["cards-easy-backs-short-edge.pdf"])
    assert "porthole.yaml:9:3: warning: easy: no step says when it is good" in told


@pytest.mark.parametrize(
    ("options", "told"),
    [
        (("--language", "fr"), "no language “fr”. There are: en, es."),
        (("--language", "es", "--language", "es"), "two different ones"),
        (("--format", "strip", "--reading", "full"), "a strip is pictures alone"),
        (("--format", "strip", "--backs", "long-edge"), "a strip has no backs"),
        (("--format", "3"), "“3” is not known here. There are: 4, 2, 1, large, strip."),
        (("--sets", "0"), "expected a whole number from 1 to 200, found “0”."),
    ],
)
def test_what_cannot_be_had_is_wrong_use(folder: Path, options: tuple[str, ...], told: str) -> None:
    code, output, files = built(folder, *options)
    assert (code, files) == (2, [])
    assert told in output


def test_a_title_too_long_for_the_cards_that_are_asked_for_is_an_error(folder: Path) -> None:
    (folder / "porthole.yaml").write_text(LESSON.replace("title: Roll the slab", f"title: {'Hm ' * 33}"))
    (folder / "room.yaml").write_text(ROOM.replace("New to this", "Hm " * 33))
    code, told, files = built(folder, "--format", "large")
    assert (code, files) == (1, [])
    assert "porthole.yaml:10:12: error: step “roll”: what stands on every card, such as its title, leaves no room" in told


def test_a_title_too_long_for_any_card_is_found_by_check(folder: Path) -> None:
    (folder / "porthole.yaml").write_text(LESSON.replace("title: Roll the slab", f"title: {'Ro' * 600}"))
    result = CliRunner().invoke(main, ["check", str(folder)])
    assert result.exit_code == 1
    assert "porthole.yaml:10:12: error: this text has 1,200 letters, and there is room for 100 here." in result.output
    assert built(folder)[::2] == (1, [])
