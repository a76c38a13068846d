"""The commands as a newcomer meets them."""

from __future__ import annotations

import json
import os
import stat
from pathlib import Path

import pytest
from click.testing import CliRunner, Result
from pypdf import PdfReader

from lessonkit.cli.commands import main
from lessonkit.cli.files import lesson_paths
from lessonkit.keeping import write_all
from tests.lessons_for_tests import FRAME, ROOM

LESSONS = Path(__file__).parents[2] / "lessons"


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    (tmp_path / "room.yaml").write_text(ROOM)
    (tmp_path / "porthole.yaml").write_text(FRAME)
    return tmp_path


def run(*words: str) -> Result:
    return CliRunner().invoke(main, words)


def test_sizes_of_the_round_frame_in_json() -> None:
    """Fired 160 is cut 181.818 in the 12 % clay and 170.213 in the 6 % clay."""
    for clay, cut in (("buff mid-fire", 181.818), ("white low-fire", 170.213)):
        result = run("sizes", str(LESSONS / "porthole.yaml"), "--clay", clay, "--json")
        assert result.exit_code == 0
        (lesson,) = json.loads(result.stdout)["lessons"]
        assert lesson["clay"] == clay
        assert lesson["pieces"][0]["parts"][0]["measures"]["across"] == {"fired_mm": 160, "cut_mm": cut}
        assert lesson["pieces"][0]["parts"][0]["wide_mm"] == cut


def test_sizes_for_reading(folder: Path) -> None:
    result = run("sizes", "porthole.yaml")
    assert "A outside" in result.output
    assert "cut 181.8\u00a0mm" in result.output
    (folder / "room.yaml").write_text(ROOM.replace("paper:", "units: in\npaper:"))
    assert "cut 7\u00a03/16\u00a0in (181.8\u00a0mm)" in run("sizes", "porthole.yaml").output


def test_check_prints_every_fault_and_exits_1(folder: Path) -> None:
    (folder / "porthole.yaml").write_text(FRAME.replace("technique", "tecnique").replace("160 mm", "160").replace("minutes: 8", "minutes: eight"))
    result = run("check", "porthole.yaml")
    lines = result.output.splitlines()
    assert [line.split(": ")[0] for line in lines[:-1]] == ["porthole.yaml:1:1", "porthole.yaml:3:1", "porthole.yaml:8:34", "porthole.yaml:16:14"]
    assert lines[-1] == "1 lesson: 4 errors, 0 warnings."
    assert result.exit_code == 1


def test_check_of_what_is_right(folder: Path) -> None:
    result = run("check")
    assert (result.output, result.exit_code) == ("1 lesson: nothing wrong.\n", 0)


def test_a_rooms_problem_is_told_once(folder: Path) -> None:
    (folder / "second.yaml").write_text(FRAME)
    (folder / "room.yaml").write_text(ROOM.replace('cone: "6"', 'cone: "66"', 1))
    assert run("check").output.count("is not a cone") == 1


def test_build_goes_on_past_a_faulty_lesson_and_exits_1(folder: Path) -> None:
    (folder / "broken.yaml").write_text(FRAME.replace("title: Porthole", "titel: Porthole"))
    result = run("build", "--only", "cutting-files")
    assert result.exit_code == 1
    assert "broken.yaml:1:1: error" in result.output
    assert "1 lesson built in papers, 1 not: see above." in result.output
    assert not (folder / "papers" / "broken").exists()
    assert (folder / "papers" / "porthole" / "stencil-frame.svg").is_file()


def test_wrong_use_exits_2_and_says_what_there_is(folder: Path) -> None:
    for words, told in (
        (("build", "--only", "stencil"), "Did you mean stencils?"),
        (("build", "--paper", "A9"), "A4"),
        (("build", "--level", "middle"), "easy, advanced"),
        (("new", "porthole.yaml"), "is there already"),
        (("new", "x.yaml", "--form", "ball"), "flat, cylinder, oval"),
        (("build", "nothing.yaml"), "there is no file or folder called nothing.yaml"),
    ):
        result = run(*words)
        assert (result.exit_code, told in result.output) == (2, True), result.output


def test_commands_and_options_that_are_unknown_or_missing(folder: Path) -> None:
    for words, told in (
        (("build", "--papr", "A4"), "there is no option --papr here. Did you mean --paper?"),
        (("new", "x.yaml", "--zzz"), "there is no option --zzz here. There are: --form, "),
        (("--zzz",), "there is no option --zzz here. There are: --version, "),
        (("biuld",), "there is no command biuld. Did you mean build?"),
        (("zzz",), "there is no command zzz. There are: build, check, "),
        (("new",), "PATH is missing. Write it behind the command: main new PATH"),
    ):
        result = run(*words)
        assert (result.exit_code, told in " ".join(result.output.split())) == (2, True), result.output
        assert "No such" not in result.output


def test_new_writes_a_lesson_that_checks(folder: Path) -> None:
    for form in ("flat", "cylinder"):
        assert run("new", f"my {form}", "--form", form).exit_code == 0
        assert run("check", f"my {form}.yaml").output == "1 lesson: nothing wrong.\n"


def test_schema_is_json() -> None:
    for name in ("lesson", "room"):
        assert json.loads(run("schema", name).output)["$schema"].startswith("https://json-schema.org/")


def test_lessons_of_a_folder_without_rooms_and_translations(folder: Path) -> None:
    (folder / "porthole.es.yaml").write_text("title: Ojo de buey\n")
    (folder / "other-room.yaml").write_text(ROOM)
    assert [path.name for path in lesson_paths([folder, folder / "porthole.yaml"])] == ["porthole.yaml"]


def test_two_lessons_of_one_name_get_two_folders(folder: Path) -> None:
    (folder / "a").mkdir()
    (folder / "a" / "Porthole.yaml").write_text(FRAME)
    assert run("build", "porthole.yaml", "a", "--only", "cutting-files").exit_code == 0
    assert sorted(path.name for path in (folder / "papers").iterdir()) == ["Porthole-2", "porthole"]


def test_files_are_whole_or_not_there(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "a.pdf").write_bytes(b"old")

    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "replace", full)
    with pytest.raises(OSError, match="No space"):
        write_all(tmp_path, {"a.pdf": b"new", "b.pdf": b"new"})
    assert [(path.name, path.read_bytes()) for path in tmp_path.iterdir()] == [("a.pdf", b"old")]


def test_written_files_can_be_read_by_all(tmp_path: Path) -> None:
    write_all(tmp_path / "new", {"a.pdf": b"data"})
    assert stat.S_IMODE((tmp_path / "new" / "a.pdf").stat().st_mode) == 0o644


def test_room_papers(folder: Path) -> None:
    assert run("room").exit_code == 0
    names = {path.name for path in (folder / "papers" / "room").iterdir()}
    assert names == {"print-check-a4.pdf", "print-check-letter.pdf", "test-bars.pdf", "fired-rulers.pdf", "kiln-door.pdf"}


def test_c02_the_paper_that_a_room_does_not_name_is_a4_and_that_is_told(folder: Path) -> None:
    assert "(A4 where it names none)" in " ".join(run("build", "--help").output.split())
    (folder / "room.yaml").write_text(ROOM.replace("paper: [A4, Letter]\n", ""))
    assert run("build", "porthole.yaml", "--only", "stencils", "--out", "papers").exit_code == 0
    (page,) = PdfReader(folder / "papers" / "porthole" / "stencils.pdf").pages
    assert "A4 · sheet 1 of 1" in page.extract_text()
    assert (float(page.mediabox.width), float(page.mediabox.height)) == pytest.approx((595.276, 841.890), abs=0.001)
