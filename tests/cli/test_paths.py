"""Nothing is written outside the folder that papers go to, whatever a lesson, a level or a title is called; nothing asks the network."""

from __future__ import annotations

import socket
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from lessonkit.cli.commands import main
from lessonkit.cli.files import folder_name
from lessonkit.keeping import write_all
from tests.lessons_for_tests import FRAME, ROOM, problems_of


def run(*words: str) -> Result:
    return CliRunner().invoke(main, words)


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    inside = tmp_path / "school" / "clay"
    inside.mkdir(parents=True)
    monkeypatch.chdir(inside)
    (inside / "room.yaml").write_text(ROOM)
    return inside


def written(folder: Path) -> set[str]:
    """Every folder with papers in it, from the school's own."""
    school = folder.parent
    return {path.parent.relative_to(school).as_posix() for path in school.rglob("*") if path.suffix == ".svg"}


@pytest.mark.parametrize(
    ("stem", "name"),
    [
        ("porthole", "porthole"),
        ("Bullauge für Zwölf", "Bullauge für Zwölf"),
        ("..", "lesson"),
        ("...", "lesson"),
        (" ", "lesson"),
        (".hidden", "hidden"),
        ("heart.", "heart"),
        ("heart. .", "heart"),
        ("con", "con-lesson"),
        ("NUL.old", "NUL.old-lesson"),
        ("com1", "com1-lesson"),
        ("LPT² ", "LPT²-lesson"),
        ("console", "console"),
        ("C:heart", "C-heart"),
        ('a<b>c"d/e\\f|g?h*i\x07', "a-b-c-d-e-f-g-h-i-"),
        ("x" * 300, "x" * 100),
    ],
)
def test_a_lessons_folder_is_sound_on_every_system(stem: str, name: str) -> None:
    """Microsoft, Naming Files, Paths, and Namespaces."""
    assert folder_name(stem) == name


@pytest.mark.parametrize("file", ["...yaml", "....yaml", ".hidden.yaml", "nul.yaml", "heart..yaml", f"{'x' * 240}.yaml"])
def test_papers_stay_in_their_folder_whatever_the_file_is_called(folder: Path, file: str) -> None:
    (folder / file).write_text(FRAME)
    result = run("build", file, "--only", "cutting-files")
    assert result.exit_code == 0, result.output
    (place,) = written(folder)
    assert place.startswith("clay/papers/")
    assert ".." not in place


@pytest.mark.parametrize("title", ["../../away", "/tmp/away", r"C:\away", "con", "away...", "x" * 60])
def test_a_title_or_a_piece_names_no_place(folder: Path, title: str) -> None:
    text = FRAME.replace("title: Porthole", f"title: '{title}'").replace("name: frame", f"name: '{title}'").replace("frame cut", f"{title} cut")
    (folder / "porthole.yaml").write_text(text)
    result = run("build", "porthole.yaml", "--only", "cutting-files")
    assert result.exit_code == 0, result.output
    assert written(folder) == {"clay/papers/porthole"}
    (paper,) = (folder / "papers" / "porthole").glob("[!.]*")
    assert len(paper.name) < 100


@pytest.mark.parametrize(("line", "key"), [("title: Porthole", "title:"), ("name: frame", "name:")])
def test_a_title_or_a_name_of_300_letters_is_told(line: str, key: str) -> None:
    (problem,) = problems_of(FRAME.replace(line, f"{key} {'x' * 300}"))
    assert "error: this text has 300 letters, and there is room for" in problem


def test_names_that_differ_in_capitals_or_in_composed_letters_only(folder: Path) -> None:
    for place, name in (("a", "Muschel"), ("b", "muschel"), ("c", "\u00e9toile"), ("d", "e\u0301toile")):
        (folder / place).mkdir()
        (folder / place / f"{name}.yaml").write_text(FRAME)
    assert run("build", "a", "b", "c", "d", "--only", "cutting-files").exit_code == 0
    assert written(folder) == {f"clay/papers/{name}" for name in ("Muschel", "muschel-2", "\u00e9toile", "e\u0301toile-2")}


@pytest.mark.parametrize("level", ["../away", "a/b", r"a\b", "c:", "x" * 31, "tail ", ""])
def test_a_level_that_is_no_part_of_a_files_name(level: str) -> None:
    room = ROOM.replace("advanced: Done this before}", f"advanced: Done this before, '{level}': More}}")
    assert any(line.startswith("room.yaml:4:") and "error" in line for line in problems_of(FRAME, room))


def test_a_third_level_of_her_own() -> None:
    assert problems_of(FRAME, ROOM.replace("advanced: Done", "much more: Third, advanced: Done")) == []


@pytest.mark.parametrize("name", ["../a.pdf", "/a.pdf", r"..\a.pdf", "C:a.pdf", "b/a.pdf", "..", ""])
def test_no_paper_is_written_under_a_name_that_leads_elsewhere(tmp_path: Path, name: str) -> None:
    with pytest.raises(ValueError, match="is no file's name"):
        write_all(tmp_path / "papers", {"good.pdf": b"", name: b""})
    assert list(tmp_path.iterdir()) == []


def test_all_papers_are_made_without_the_network(folder: Path, no_network: None) -> None:
    evil = FRAME.replace("about: A round frame.", """about: '<img src="http://127.0.0.1:9/x.png"/> <font color="[1,2]">x</font>'""")
    (folder / "porthole.yaml").write_text(evil)
    result = run("build", "porthole.yaml")
    assert result.exit_code == 0, (result.output, result.exception)
    assert len(list((folder / "papers" / "porthole").iterdir())) >= 4


def test_the_network_would_be_noticed(no_network: None) -> None:
    for reach in (socket.socket, lambda: socket.create_connection(("127.0.0.1", 9)), lambda: socket.getaddrinfo("localhost", 9)):
        with pytest.raises(AssertionError, match="the network was asked"):
            reach()
