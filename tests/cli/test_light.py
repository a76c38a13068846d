"""A command loads what it needs and no more: half of a short command's time is spent on loading."""

from __future__ import annotations

import shlex
import subprocess
import sys
from pathlib import Path

import pytest
from click.testing import CliRunner

from lessonkit.cli import commands
from lessonkit.late import FUNCTIONS
from lessonkit.version import VERSION
from tests.lessons_for_tests import FRAME

LESSONS = Path(__file__).parents[2] / "lessons"
LIBRARIES = {"yaml", "pydantic", "numpy", "shapely", "reportlab", "svgwrite", "fontTools", "icalendar", "holidays", "PIL"}
CODE = """
import sys
from lessonkit import late
from lessonkit.__main__ import begin
begin()
from lessonkit.cli.commands import main
try:
    main(sys.argv[1:])
except SystemExit as end:
    assert end.code == 0, end.code
print(*(name for name, module in sys.modules.items() if type(module) is not late._Late))
"""


def loaded(*words: str | Path) -> set[str]:
    run = subprocess.run([sys.executable, "-c", CODE, *map(str, words)], capture_output=True, text=True, check=True)
    return set(run.stdout.splitlines()[-1].split())


@pytest.mark.parametrize("words", [("--help",), ("--version",), ("build", "--help")])
def test_help_and_version_load_no_library(words: tuple[str, ...]) -> None:
    modules = loaded(*words)
    assert "click" in modules
    assert not modules & {*LIBRARIES, "importlib.metadata", "lessonkit.build"}


def test_a_check_of_a_flat_piece_loads_nothing_that_only_papers_or_plans_need(tmp_path: Path) -> None:
    lesson = tmp_path / "lesson.yaml"
    lesson.write_text(FRAME.replace("clay: buff mid-fire\n", ""))
    modules = loaded("check", "--again", lesson)
    assert modules & LIBRARIES == {"yaml", "pydantic"}
    ours = {name.removeprefix("lessonkit.") for name in modules if name.startswith("lessonkit.")}
    assert "pieces.work" in ours
    assert not ours & {"writers", "planning", "layout.stencils", "lesson.forms", "pieces.built", "source.svg"}


@pytest.mark.parametrize("name", ["beach-hut-box", "full-moon-plate", "life-ring", "limpet-bowl", "lugworm-coaster", "porthole", "wave-vase"])
def test_a_check_of_a_built_form_or_a_plain_plate_needs_no_library_of_geometry(name: str) -> None:
    """A plate that bulges, with an opening, a press line, holes and joining zones that lie well apart."""
    modules = loaded("check", "--again", LESSONS / f"{name}.yaml")
    assert modules & LIBRARIES == {"yaml", "pydantic"}
    assert "lessonkit.geometry.soundness" in modules


def test_a_check_of_any_other_flat_piece_asks_the_libraries() -> None:
    """The rounded heart that is cut out of it takes more than plain arithmetic."""
    assert loaded("check", "--again", LESSONS / "driftwood-heart.yaml") & LIBRARIES == {"yaml", "pydantic", "numpy", "shapely"}


def test_outlines_that_a_lesson_does_without_are_not_loaded() -> None:
    assert "lessonkit.lesson.outlines" not in loaded("check", "--again", LESSONS / "porthole.yaml")  # it has circles only
    assert "lessonkit.lesson.outlines" in loaded("check", "--again", LESSONS / "driftwood-heart.yaml")


LATE = """
import sys
from lessonkit.late import FUNCTIONS, load_late
load_late()
import PIL.Image, bz2, ctypes, importlib.metadata, lzma, pickle, secrets, svgwrite.data.svgparser, tokenize, urllib.request
from reportlab.lib.rl_safe_eval import rl_safe_eval
from urllib.request import urlopen
def late():
    return {name for name in FUNCTIONS if type(sys.modules[name]) is not type(sys)}
"""


def test_a_build_asks_nothing_of_what_loads_late(tmp_path: Path) -> None:
    modules = loaded("build", LESSONS / "porthole.yaml", "--out", tmp_path, "--jobs", "1")
    assert {"pydantic", "svgwrite", "reportlab"} <= modules
    assert not modules & set(FUNCTIONS)


@pytest.mark.parametrize(
    ("name", "asked"),
    [
        ("PIL.Image", "PIL.Image.new('L', (2, 3)).size == (2, 3)"),
        ("bz2", "bz2.decompress(bz2.compress(b'clay')) == b'clay'"),
        ("ctypes", "ctypes.sizeof(ctypes.c_double) == 8"),
        ("importlib.metadata", "importlib.metadata.version('click')"),
        ("importlib.metadata", "len(importlib.metadata.entry_points(group='console_scripts'))"),
        ("lzma", "lzma.decompress(lzma.compress(b'clay')) == b'clay'"),
        ("pickle", "pickle.loads(pickle.dumps([1])) == [1]"),
        ("reportlab.lib.rl_safe_eval", "rl_safe_eval('2 * 3') == 6"),
        ("secrets", "len(secrets.token_bytes(4)) == 4"),
        ("svgwrite.data.svgparser", "not svgwrite.data.svgparser.is_valid_pathdata('M 0 0 L 1 one')"),
        ("svgwrite.data.svgparser", "svgwrite.Drawing(debug=True).path('M 0 0 L 1 1').tostring()"),
        ("tokenize", "tokenize.open(importlib.__file__).readline()"),
        ("urllib.request", "urlopen('data:,clay').read() == b'clay'"),
        ("urllib.request", "urllib.request.Request('data:,clay').type == 'data'"),
    ],
)
def test_what_is_asked_of_loads_and_answers_as_ever(name: str, asked: str) -> None:
    code = f"""{LATE}
assert late() == set(FUNCTIONS)
assert {asked}
assert {name!r} not in late()
assert {asked}
print(sys.modules[{name!r}].__spec__.loader)
"""
    run = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert "SourceFileLoader" in run.stdout


def test_a_module_that_is_not_there_is_missed_as_ever_and_one_asked_from_many_threads_loads_once() -> None:
    code = f"""{LATE}
import concurrent.futures, importlib, lessonkit.late
lessonkit.late.FUNCTIONS["no_such_module"] = ()
try:
    import no_such_module
except ModuleNotFoundError as error:
    assert error.name == "no_such_module"
else:
    raise AssertionError("found")
with concurrent.futures.ThreadPoolExecutor(8) as pool:
    assert len(set(pool.map(lambda _: urllib.request.Request, range(100)))) == 1
"""
    subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)


@pytest.mark.parametrize(("words", "code"), [(("schema",), 0), (("--version",), 0), (("check", "not-there.yaml"), 2), (("no-such-command",), 2)])
def test_a_command_ends_at_once_with_its_code_and_all_that_it_told(words: tuple[str, ...], code: int, tmp_path: Path) -> None:
    """As it does where everything is taken apart, which a process that stays would have to do."""
    quick = subprocess.run([sys.executable, "-m", "lessonkit", *words], capture_output=True, text=True, cwd=tmp_path)
    slow = CliRunner().invoke(commands.main, words, prog_name="python -m lessonkit")
    assert (quick.returncode, quick.stdout, quick.stderr) == (code, slow.stdout, slow.stderr)


@pytest.mark.skipif(sys.platform == "win32", reason="another way of closing")
def test_a_command_whose_words_nobody_can_read_ends_well() -> None:
    words = [sys.executable, "-m", "lessonkit", "--version"]
    assert subprocess.run(["sh", "-c", f"{shlex.join(words)} >&- 2>&-"]).returncode == 0


def test_the_version_is_that_of_the_package() -> None:
    run = subprocess.run([sys.executable, "-m", "lessonkit", "--version"], capture_output=True, text=True, check=True)
    assert run.stdout.split()[-1] == VERSION
