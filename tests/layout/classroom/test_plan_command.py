"""`lessonkit plan --papers`: every paper where it belongs, whole or not at all."""

from __future__ import annotations

from pathlib import Path

import pytest
from click.testing import CliRunner, Result
from pypdf import PdfReader

from lessonkit.cli.commands import main
from lessonkit.planpapers import plan_papers
from tests.layout.classroom.plans_for_tests import FRAME, ROOM, planned


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    (tmp_path / "room.yaml").write_text(ROOM)
    (tmp_path / "porthole.yaml").write_text(FRAME)
    return tmp_path


def run(*words: str) -> Result:
    return CliRunner().invoke(main, ["plan", *words])


def test_papers_for_one_group(folder: Path) -> None:
    """A class's papers lie in its lesson's folder with the group's tag, the others beside it; read by another reader, in A4."""
    result = run("porthole.yaml", "--group", "A", "--papers", "out", "--today", "2027-01-28")
    assert result.exit_code == 0, result.output
    made = {str(path.relative_to(folder / "out")) for path in (folder / "out").rglob("*.pdf")}
    assert made == {
        *(f"Porthole/{name}-A.pdf" for name in ("day-plan", "to-post", "supplies", "labels", "checklist", "care-cards", "note", "tracking")),
        *(f"{name}.pdf" for name in ("clay-order", "rack-list", "kiln-maps", "kiln-log", "today")),
    }
    assert f"{len(made)} papers in out." in result.stderr
    page = PdfReader(folder / "out" / "Porthole" / "day-plan-A.pdf").pages[0]
    assert [round(float(side)) for side in page.mediabox[2:]] == [595, 842]
    assert "Tuesday morning" in page.extract_text()


def test_another_paper_is_in_the_name(folder: Path) -> None:
    assert run("porthole.yaml", "--group", "B", "--papers", "out", "--paper", "letter").exit_code == 0
    assert (folder / "out" / "Porthole" / "note-B-letter.pdf").is_file()
    assert (folder / "out" / "kiln-maps-letter.pdf").is_file()
    assert run("porthole.yaml", "--papers", "out", "--paper", "A7").exit_code == 2


def test_the_same_plan_gives_the_same_bytes() -> None:
    found, asked = planned((FRAME,))
    assert plan_papers(asked, found) == plan_papers(asked, found)


def test_lessons_of_one_title_and_groups_of_odd_tags_keep_their_own_files() -> None:
    """Two lessons called Porthole, and groups whose tags hold what no file's name may."""
    room = ROOM.replace("code: A", "code: 3/B").replace("code: B", 'code: "3:B"')
    found, asked = planned((FRAME, FRAME + "season: January\n"), room)
    made = set(plan_papers(asked, found))
    assert {f"{lesson}/note-{group}.pdf" for lesson in ("Porthole", "Porthole-2") for group in ("3-B", "3-B-2")} <= made


def test_a_place_that_cannot_be_written_to(folder: Path) -> None:
    (folder / "out").mkdir()
    (folder / "out" / "Porthole").write_text("a file, not a folder")
    result = run("porthole.yaml", "--group", "A", "--papers", "out")
    assert result.exit_code == 1
    assert "out: could not be written" in result.stderr


def test_a_printer_that_prints_small_is_corrected() -> None:
    """Pages grow about their middle, as the stencils do."""
    found, asked = planned((FRAME,), ROOM + "printed: {across: 178.2 mm, down: 198 mm}\n")
    plain_found, plain = planned((FRAME,))
    assert plan_papers(asked, found)["kiln-maps.pdf"] != plan_papers(plain, plain_found)["kiln-maps.pdf"]
