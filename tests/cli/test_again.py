"""Built again: nothing is made that would come out the same, nothing stale survives, nothing of hers is removed."""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest
from click.testing import CliRunner, Result
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from lessonkit.cli import building, checking, inputs, record
from lessonkit.cli.commands import main
from tests.lessons_for_tests import FRAME, ROOM

QUICK = ("--only", "cutting-files", "--only", "cards")
DRAWN = '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {0} 100"><rect width="{0}" height="100"/></svg>'
LESSON = FRAME.replace("      outline: {circle: {across: 160 mm}}", "      outline: {svg: {file: ring.svg, wide: 160 mm}}")
SPANISH = "title: Ojo de buey\nsteps:\n  cut: {text: Corta el anillo.}\n"


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    inside = tmp_path / "school" / "clay"
    inside.mkdir(parents=True)
    monkeypatch.chdir(inside)
    (tmp_path / "school" / "room.yaml").write_text(ROOM)
    (inside / "porthole.yaml").write_text(FRAME)
    return inside


def run(*words: str) -> Result:
    return CliRunner().invoke(main, words)


def build(*words: str) -> str:
    result = run("build", "porthole.yaml", *(words or QUICK))
    assert result.exit_code == 0, (result.output, result.exception)
    return result.output


def papers(folder: Path) -> dict[str, bytes]:
    return {path.name: path.read_bytes() for path in folder.iterdir() if path.name != record.NAME}


def is_unchanged(told: str) -> bool:
    return told.endswith("1 lesson in papers: nothing changed since the last build.\n")


def test_nothing_is_made_twice(folder: Path) -> None:
    first = build()
    assert first.endswith("1 lesson built in papers.\n")
    times = {path: path.stat().st_mtime_ns for path in (folder / "papers" / "porthole").iterdir()}
    assert is_unchanged(build())
    assert {path: path.stat().st_mtime_ns for path in (folder / "papers" / "porthole").iterdir()} == times


@pytest.mark.parametrize("command", ["build", "check"])
def test_an_unchanged_lesson_needs_no_library(folder: Path, command: str) -> None:
    code = (
        "import sys\nfrom lessonkit.__main__ import begin\nbegin()\nfrom lessonkit.cli.commands import main\n"
        "try: main(sys.argv[1:])\nexcept SystemExit as end: assert end.code == 0, end.code\n"
        "print([name for name in sys.modules if name in ('yaml', 'pydantic', 'shapely', 'reportlab', 'numpy', 'multiprocessing', 'lessonkit.build')])"
    )
    words = [sys.executable, "-c", code, command, "porthole.yaml", *(QUICK if command == "build" else ())]
    environment = os.environ | {"PYTHONPATH": str(inputs.PACKAGE.parent)}
    told = [subprocess.run(words, capture_output=True, text=True, check=True, env=environment).stdout.splitlines()[-1] for _ in range(2)]
    assert "lessonkit.build" in told[0]
    assert told[1] == "[]"


# Each thing that goes in, in turn.


def edit(name: str, text: str | None) -> Callable[[Path], None]:
    """A file gets this text; None removes it."""

    def changed(folder: Path) -> None:
        if text is None:
            (folder / name).unlink()
        else:
            (folder / name).write_text(text)

    return changed


CHANGES = {
    "lesson": edit("porthole.yaml", LESSON.replace("85 mm", "80 mm")),
    "lesson, to what it draws and says alike": edit("porthole.yaml", LESSON + "# a remark\n"),
    "room": edit("../room.yaml", ROOM.replace("12 %", "11 %")),
    "a nearer room": edit("room.yaml", ROOM.replace("12 %", "11 %")),
    "no room": edit("../room.yaml", None),
    "silhouette": edit("ring.svg", DRAWN.format(120)),
    "translation changed": edit("porthole.es.yaml", SPANISH.replace("anillo", "aro")),
    "translation removed": edit("porthole.es.yaml", None),
}


@pytest.mark.parametrize("change", list(CHANGES))
def test_every_change_counts(folder: Path, change: str) -> None:
    (folder / "porthole.yaml").write_text(LESSON.replace("clay: buff mid-fire\n", ""))
    (folder / "ring.svg").write_text(DRAWN.format(100))
    (folder / "porthole.es.yaml").write_text(SPANISH)
    options = (*QUICK, "--language", "en")
    build(*options)
    assert is_unchanged(build(*options))
    CHANGES[change](folder)
    assert not is_unchanged(build(*options))
    assert papers(folder / "papers" / "porthole") == afresh(folder, *options)
    assert is_unchanged(build(*options))


def afresh(folder: Path, *options: str) -> dict[str, bytes]:
    build(*options, "--out", "afresh")
    made = papers(folder / "afresh" / "porthole")
    shutil.rmtree(folder / "afresh")
    return made


def test_a_translation_that_appears_counts(folder: Path) -> None:
    assert run("build", *QUICK, "--language", "es").exit_code == 1
    build()
    (folder / "porthole.es.yaml").write_text(SPANISH.replace("steps:", "stteps:"))
    assert "porthole.es.yaml:2:1: error" in build()
    assert "porthole.es.yaml:2:1: error" in build()
    (folder / "porthole.es.yaml").write_text(SPANISH)
    assert "error" not in build()


def test_a_silhouette_that_appears_counts(folder: Path) -> None:
    (folder / "porthole.yaml").write_text(LESSON)
    assert run("check", "porthole.yaml").exit_code == run("check", "porthole.yaml").exit_code == 1
    (folder / "ring.svg").write_text(DRAWN.format(100))
    assert run("check", "porthole.yaml").output == "1 lesson: nothing wrong.\n"
    (folder / "ring.svg").unlink()
    assert "there is no file “ring.svg”" in run("check", "porthole.yaml").output


@pytest.mark.parametrize("option", [("--clay", "white low-fire"), ("--paper", "Letter"), ("--level", "easy"), ("--left-handed",), ("--sets", "2")])
def test_every_option_counts(folder: Path, option: tuple[str, ...]) -> None:
    build()
    assert not is_unchanged(build(*QUICK, *option))
    assert is_unchanged(build(*QUICK, *option))
    assert not is_unchanged(build("--only", "cutting-files", *option))


def test_another_program_makes_all_anew(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    build()
    for module in (inputs, building):
        monkeypatch.setattr(module, "program", lambda: "another")
    assert not is_unchanged(build())
    assert is_unchanged(build())


def test_the_program_is_its_sources_its_typefaces_and_its_libraries(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    package = tmp_path / "lessonkit"
    shutil.copytree(inputs.PACKAGE, package, ignore=shutil.ignore_patterns("__pycache__"))
    (tmp_path / "kilnlib").mkdir()
    (tmp_path / "kilnlib" / "__init__.py").write_text('VERSION = "1.0"\n')
    monkeypatch.syspath_prepend(tmp_path)

    def marks() -> list[str]:
        return list(inputs._marks(package, ("kilnlib",)))

    def rewrite(path: Path) -> None:
        """As long as before, and with the old time put back."""
        before = path.stat()
        path.write_bytes(path.read_bytes()[::-1])
        os.utime(path, ns=(before.st_atime_ns, before.st_mtime_ns))

    seen = [marks()]
    assert marks() == seen[0]
    for path in (package / "units.py", next((package / "drawing" / "typefaces").glob("*.ttf")), tmp_path / "kilnlib" / "__init__.py"):
        rewrite(path)
        seen.append(marks())
    (package / "new.py").touch()
    seen.append(marks())
    (package / "__pycache__").mkdir()
    (package / "__pycache__" / "new.pyc").touch()
    assert marks() == seen[-1]
    assert all(seen.count(one) == 1 for one in seen)


def test_every_library_that_papers_hang_on_is_known(folder: Path) -> None:
    code = (
        "import sys\nbefore = set(sys.modules)\nfrom lessonkit.__main__ import begin\nbegin()\nfrom lessonkit.cli.commands import main\n"
        "try: main(['build', 'porthole.yaml', '--jobs', '1'])\nexcept SystemExit: pass\n"
        "found = {n.partition('.')[0]: m for n, m in list(sys.modules.items()) if 'site-packages' in (getattr(m, '__file__', None) or '')}\n"
        "print(*found)"
    )
    environment = os.environ | {"PYTHONPATH": str(inputs.PACKAGE.parent)}
    loaded = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True, env=environment).stdout.splitlines()[-1].split()
    no_matter = {"lessonkit", "click", "annotated_types", "typing_extensions", "typing_inspection", "_distutils_hack", "_virtualenv", "six", "PIL"}
    assert {name for name in loaded if not name.startswith("__")} - no_matter <= set(inputs.LIBRARIES)
    assert set(inputs.LIBRARIES) <= {*loaded, "numpy"}


# What is told.


def test_warnings_are_told_every_time(folder: Path) -> None:
    (folder / "porthole.yaml").write_text(FRAME.replace("85 mm", "156 mm").replace("    hang: {holes: 1, across: 4 mm}\n", ""))
    first, second = build(), build()
    assert "warning" in first
    assert second.splitlines()[:-1] == first.splitlines()[:-1]
    for _ in range(2):
        assert "1 lesson: 0 errors, 1 warning." in run("check", "porthole.yaml").output


def test_which_sheets_to_print_again(folder: Path) -> None:
    build("--jobs", "1")
    before = code(folder)
    (folder / "porthole.yaml").write_text(FRAME.replace("title: Cut the ring", "title: Cut the rim"))
    told = build("--jobs", "1")
    assert told.startswith("porthole: Print again: cards-easy.pdf, cards-advanced.pdf, teacher.pdf")
    assert "stencil" not in told
    assert f"Of these, prints of version {before} are void; all other sheets still hold." in told
    assert code(folder) != before


def test_all_is_void_in_another_clay(folder: Path) -> None:
    build(*QUICK)
    before = code(folder)
    (folder / "room.yaml").write_text(ROOM.replace("12 %", "11 %"))
    assert f"porthole: Every sheet changed, print all again: prints of version {before} are void." in build(*QUICK)


def test_a_remark_changes_no_sheet(folder: Path) -> None:
    build()
    (folder / "porthole.yaml").write_text(FRAME + "# a remark\n")
    assert build() == "1 lesson built in papers.\n"


def code(folder: Path) -> str:
    return next(iter(record.read(folder / "papers" / "porthole").files.values())).code


# What becomes of files.


def test_papers_that_were_deleted_or_changed_are_made_again(folder: Path) -> None:
    build()
    made = papers(folder / "papers" / "porthole")
    for spoil in (lambda path: path.unlink(), lambda path: path.write_bytes(path.read_bytes()[::-1]), lambda path: path.write_bytes(b"")):
        for name in made:
            spoil(folder / "papers" / "porthole" / name)
            assert not is_unchanged(build())
            assert papers(folder / "papers" / "porthole") == made


def test_a_copy_of_the_folder_is_as_good(folder: Path) -> None:
    build()
    shutil.copytree(folder / "papers", folder / "copied")
    shutil.rmtree(folder / "papers")
    (folder / "copied").rename(folder / "papers")
    assert is_unchanged(build())


def test_what_is_no_longer_made_is_removed(folder: Path) -> None:
    build()
    (folder / "porthole.yaml").write_text(FRAME.replace("frame", "rim"))
    assert "New: stencil-rim.svg. No longer made, removed: stencil-frame.svg." in build()
    assert papers(folder / "papers" / "porthole") == afresh(folder, *QUICK)


def test_what_is_hers_stays(folder: Path) -> None:
    build()
    place = folder / "papers" / "porthole"
    (place / "notes.txt").write_text("hers")
    (place / "stencil-frame.svg").write_text("changed by her")
    (folder / "porthole.yaml").write_text(FRAME.replace("frame", "rim"))
    assert "but changed by someone and so left there: stencil-frame.svg." in build()
    assert ((place / "notes.txt").read_text(), (place / "stencil-frame.svg").read_text()) == ("hers", "changed by her")
    (folder / "porthole.yaml").write_text(FRAME.replace("frame", "edge"))
    assert "stencil-frame" not in build()
    assert (place / "stencil-frame.svg").read_text() == "changed by her"


def test_a_part_of_the_papers_leaves_the_others(folder: Path) -> None:
    build()
    everything = papers(folder / "papers" / "porthole")
    (folder / "porthole.yaml").write_text(FRAME.replace("85 mm", "80 mm"))
    told = build("--only", "cutting-files")
    assert "Not made this time, still of an older version: cards-advanced.pdf, cards-easy.pdf." in told
    build("--only", "cards", "--level", "easy", "--paper", "Letter")
    assert set(papers(folder / "papers" / "porthole")) == {*everything, "cards-easy-letter.pdf"}
    assert not is_unchanged(build())
    assert set(papers(folder / "papers" / "porthole")) == {*everything, "cards-easy-letter.pdf"}
    made = afresh(folder, *QUICK)
    assert made.items() <= papers(folder / "papers" / "porthole").items()


def test_an_old_part_does_not_pass_for_the_new_whole(folder: Path) -> None:
    """All, then a part of an edited lesson, then the edit taken back."""
    build()
    made = papers(folder / "papers" / "porthole")
    (folder / "porthole.yaml").write_text(FRAME.replace("85 mm", "80 mm"))
    build("--only", "cutting-files")
    (folder / "porthole.yaml").write_text(FRAME)
    assert not is_unchanged(build())
    assert papers(folder / "papers" / "porthole") == made


def test_an_old_part_does_not_keep_what_is_no_longer_made(folder: Path) -> None:
    build()
    build("--only", "cutting-files")
    (folder / "porthole.yaml").write_text(FRAME.replace("frame", "rim"))
    assert "removed: stencil-frame.svg." in build()
    assert papers(folder / "papers" / "porthole") == afresh(folder, *QUICK)


def test_again_makes_all(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    build()
    assert is_unchanged(build())
    assert build(*QUICK, "--again") == "1 lesson built in papers.\n"
    run("check", "porthole.yaml")
    monkeypatch.setattr(checking, "_looked", lambda *_: ([("error", "looked at")], {}))
    assert "nothing wrong" in run("check", "porthole.yaml").output
    assert "looked at" in run("check", "porthole.yaml", "--again").output


def test_papers_of_a_lesson_that_is_broken_now_are_told(folder: Path) -> None:
    build()
    before = code(folder)
    (folder / "porthole.yaml").write_text(FRAME.replace("title", "titel"))
    result = run("build", *QUICK)
    assert (result.exit_code, f"papers/porthole: left as it was, version {before}." in result.output.replace(os.sep, "/")) == (1, True)


FOREIGN = ["", "{", "[]", "null", "0", "[" * 9000, "\ud800",
           '{"format": 1}', '{"format": 2, "builds": [], "files": {}}', '{"format": 1, "builds": 3, "files": {}}',
           '{"format": 1, "builds": [["x", {}, [], []]], "files": {}}', '{"format": 1, "builds": [], "files": {"a": 1}}']  # fmt: skip


@pytest.mark.parametrize("text", FOREIGN)
def test_a_record_that_cannot_be_read_as_ours_is_none(folder: Path, text: str) -> None:
    build()
    made = papers(folder / "papers" / "porthole")
    (folder / "papers" / "porthole" / record.NAME).write_text(text, errors="surrogatepass")
    assert build() == "1 lesson built in papers.\n"
    assert papers(folder / "papers" / "porthole") == made


def test_a_record_can_name_no_file_elsewhere(folder: Path) -> None:
    build()
    (folder / "papers" / "hers.svg").write_bytes(b"hers")
    place = folder / "papers" / "porthole" / record.NAME
    found = json.loads(place.read_text())
    found["builds"][0][3]["../hers.svg"] = inputs.digest(b"hers")
    place.write_text(json.dumps(found))
    (folder / "porthole.yaml").write_text(FRAME + "# a remark\n")
    build()
    assert (folder / "papers" / "hers.svg").read_bytes() == b"hers"


# What check remembers.


def test_check_does_without_a_memory(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("XDG_CACHE_HOME", str(folder / "porthole.yaml"))  # no folder can be made in a file
    for _ in range(2):
        assert run("check", "porthole.yaml").output == "1 lesson: nothing wrong.\n"


@pytest.mark.parametrize("text", FOREIGN)
def test_a_memory_that_is_not_ours_is_none(folder: Path, monkeypatch: pytest.MonkeyPatch, text: str) -> None:
    monkeypatch.setenv("XDG_CACHE_HOME", str(folder / "cache"))
    run("check", "porthole.yaml")
    (memory,) = (folder / "cache" / "lessonkit" / "check").iterdir()
    memory.write_text(text, errors="surrogatepass")
    assert run("check", "porthole.yaml").output == "1 lesson: nothing wrong.\n"


def test_the_memory_is_bounded(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("XDG_CACHE_HOME", str(folder / "cache"))
    monkeypatch.setattr(checking, "MOST_FILES", 2)
    for number in range(4):
        (folder / f"{number}.yaml").write_text(FRAME)
        run("check", f"{number}.yaml")
    assert len(list((folder / "cache" / "lessonkit" / "check").iterdir())) == 2


# Any edits in any order.

EDITS = st.sampled_from([
    ("porthole.yaml", FRAME), ("porthole.yaml", FRAME.replace("85 mm", "80 mm")), ("porthole.yaml", FRAME.replace("frame", "rim")),
    ("room.yaml", None), ("room.yaml", ROOM.replace("12 %", "11 %")),
    ("room.yaml", ROOM.replace("Done this before", "Done this before, later: More")),
    ("porthole.es.yaml", SPANISH), ("porthole.es.yaml", None),
    ("papers/porthole/cards-easy.pdf", "hers"), ("papers/porthole/stencil-frame.svg", None),
])  # fmt: skip


@settings(max_examples=12, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.lists(st.one_of(EDITS, st.just(None)), min_size=2, max_size=6))
def test_built_on_is_built_from_nothing(folder: Path, edits: list[tuple[str, str | None] | None]) -> None:
    """None stands for a build; the last one is compared, byte for byte."""
    shutil.rmtree(folder)
    folder.mkdir()
    os.chdir(folder)
    edit("porthole.yaml", FRAME)(folder)
    for step in [None, *edits]:
        if step is None:
            build()
        elif step[1] is not None or (folder / step[0]).exists():
            edit(*step)(folder)
    build()
    assert papers(folder / "papers" / "porthole") == afresh(folder, *QUICK)
    assert is_unchanged(build())


def test_another_lesson_of_the_same_name_is_told(folder: Path) -> None:
    build()
    (folder / "b").mkdir()
    (folder / "b" / "porthole.yaml").write_text(FRAME.replace("85 mm", "80 mm"))
    told = run("build", "b/porthole.yaml", *QUICK).output
    assert told.startswith("porthole: the papers of porthole.yaml lay here and were replaced. Choose another --out to keep both.")
    (folder / "porthole.yaml").unlink()
    (folder / "b" / "porthole.yaml").rename(folder / "porthole.yaml")
    assert "lay here" not in build()


def test_two_lessons_of_one_name_keep_their_folders(tmp_path: Path) -> None:
    """Whether one of them can be built or not."""
    named = [Path("a/heart.yaml"), Path("b/Heart.yaml"), Path("c/heart.yaml")]
    assert [folder for _, folder in building._folders(named)] == ["heart", "Heart-2", "heart-3"]
