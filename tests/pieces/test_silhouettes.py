"""A silhouette from its SVG file to the papers, and every name that must not be read."""

from __future__ import annotations

import os
from io import BytesIO
from pathlib import Path

import pytest
import svgelements
from click.testing import CliRunner

from lessonkit.build import Order, Source, papers, work
from lessonkit.cli.commands import main
from lessonkit.cli.files import source
from lessonkit.geometry.shape import area_mm2, bounds
from lessonkit.pieces.model import Kit
from tests.lessons_for_tests import FRAME, ROOM

BOAT = b"""<?xml version="1.0"?>
<svg xmlns="http://www.w3.org/2000/svg" width="60mm" height="40mm" viewBox="0 0 60 40">
  <path d="M0 20 H60 C58 32 50 40 42 40 H14 C8 38 2 30 0 20 Z M20 26 V34 H40 V26 Z"/>
</svg>"""
LESSON = f"""{FRAME.split("      openings")[0]}{FRAME[FRAME.index("steps:") :]}""".replace("frame cut", "frame wide cut")
LESSON = LESSON.replace("circle: {across: 160 mm}", "svg: {file: boat.svg, wide: 120 mm}")


def outcome(files: dict[str, bytes], lesson: str = LESSON) -> tuple[Kit | None, list[str]]:
    def beside(name: str) -> bytes:
        if name not in files:
            raise FileNotFoundError(2, "No such file", name)
        return files[name]

    kit, problems = work(Source("lesson.yaml", lesson.encode(), beside), Source("room.yaml", ROOM.encode()))
    return kit, [str(problem) for problem in problems if problem.severity == "error"]


def built(lesson: str = LESSON) -> Kit:
    kit, errors = outcome({"boat.svg": BOAT}, lesson)
    assert kit is not None, errors
    return kit


def test_as_wide_as_asked_with_its_opening() -> None:
    """120 fired is cut 120 / 0.88 = 136.364; the drawing is 60 wide and 20 tall."""
    part = built().pieces[0].parts[0]
    measures = {measure.key: (measure.fired, measure.cut) for measure in part.measures}
    assert measures["wide"] == pytest.approx((120, 136.364), abs=0.001)
    assert measures["tall"] == pytest.approx((40, 45.4545), abs=0.001)
    left, bottom, right, top = bounds(part.shape)
    assert (left + right, bottom + top) == pytest.approx((0, 0), abs=1e-9)
    (hole,) = part.shape.holes
    assert [max(p[axis] for p in hole) - min(p[axis] for p in hole) for axis in (0, 1)] == pytest.approx([40 / 0.88, 16 / 0.88])
    assert max(y for _, y in hole) == pytest.approx(top - 12 / 0.88)  # the drawing's y counts down, ours up


def test_as_tall_as_asked() -> None:
    part = built(LESSON.replace("wide: 120 mm", "tall: 50 mm")).pieces[0].parts[0]
    left, bottom, right, top = bounds(part.shape)
    assert (right - left, top - bottom) == pytest.approx((150 / 0.88, 50 / 0.88))


def test_the_cutting_file_as_another_reader_has_it() -> None:
    found = papers(built(), Order(only=("cutting-files",)))
    shapes = svgelements.SVG.parse(BytesIO(found["stencil-frame.svg"]), ppi=25.4).elements(lambda e: isinstance(e, svgelements.Shape))
    sizes = [(box[2] - box[0], box[3] - box[1]) for shape in shapes if (box := shape.bbox())]
    assert any(size == pytest.approx((136.364, 45.4545), abs=0.01) for size in sizes), sizes


@pytest.mark.parametrize(
    "change",
    [
        ("svg: {file: boat.svg, wide: 120 mm}", "{circle: {across: 160 mm}, cut_away: [{svg: {file: boat.svg, wide: 60 mm}, at: [0 mm, 84 mm]}]}"),
        ("svg: {file: boat.svg, wide: 120 mm}", "{joined: [{circle: {across: 60 mm}}, {svg: {file: boat.svg, wide: 120 mm}, turn: 90}]}"),
        ("svg: {file: boat.svg, wide: 120 mm}", "{circle: {across: 160 mm}}\n      joins: [{name: sail, svg: {file: boat.svg, wide: 60 mm}}]"),
    ],
)
def test_wherever_an_outline_can_stand(change: tuple[str, str]) -> None:
    lesson = LESSON.replace("{" + change[0] + "}", change[1]).replace("frame wide cut", "frame cut")
    assert built(lesson).pieces[0].parts[0].shape
    _, errors = outcome({}, lesson)
    before = lesson[: lesson.index("boat.svg")].split("\n")
    place = f"lesson.yaml:{len(before)}:{len(before[-1]) + 1}"
    what = "error: there is no file “boat.svg” in the lesson's folder."
    assert errors == [f"{place}: {what} Put the SVG file beside the lesson, or correct its name."]


def test_an_opening_of_a_silhouette() -> None:
    lesson = FRAME.replace("{circle: {across: 85 mm}}", "{svg: {file: boat.svg, wide: 60 mm}}")
    kit, errors = outcome({"boat.svg": BOAT}, lesson)
    assert kit is None
    assert "2 pieces" in errors[0]  # the clay in the boat's own opening would fall out
    solid = BOAT.replace(b" M20 26 V34 H40 V26 Z", b"")
    kit, errors = outcome({"boat.svg": solid}, lesson)
    assert kit is not None, errors
    assert area_mm2(kit.pieces[0].parts[0].shape) < 0.95 * 3.14159 / 4 * (160 / 0.88) ** 2


def test_a_drawing_that_is_refused_says_why_at_its_name_beside_all_other_faults() -> None:
    lesson = LESSON.replace("picture: trace", "picture: trace\n    piece: rudder")
    kit, errors = outcome({"boat.svg": BOAT.replace(b"0 20 Z M", b"0 20.2 M")}, lesson)
    assert kit is None
    drawing, piece = sorted(errors)[::-1]
    assert drawing.startswith("lesson.yaml:8:29: error: boat.svg: its outline is open near (0, 19.8): the ends lie 0.2 mm apart.")
    assert "rudder" in piece


def test_a_drawing_that_crosses_itself_says_where() -> None:
    _, errors = outcome({"boat.svg": b'<svg viewBox="0 0 60 60" width="60mm"><path d="M10 10 L50 50 V10 L10 50 Z"/></svg>'})
    assert errors == [
        "lesson.yaml:8:29: error: boat.svg: the outline crosses itself near (20, 20). Mend it in your drawing program. "
        "Places count in mm from the lower left corner of the shape."
    ]


def test_another_drawing_under_the_same_name_makes_another_code() -> None:
    again, other = built(), outcome({"boat.svg": BOAT.replace(b"H60", b"H58")})[0]
    assert other is not None
    assert built().code == again.code != other.code


def test_a_lesson_that_comes_without_a_folder() -> None:
    kit, problems = work(Source("lesson.yaml", LESSON.encode()), Source("room.yaml", ROOM.encode()))
    assert kit is None
    assert "there is no file “boat.svg”" in str(problems[-1])


# --- from the folder ---


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    inside = tmp_path / "lessons"
    (inside / "drawings").mkdir(parents=True)
    monkeypatch.chdir(inside)
    for path in ("boat.svg", "drawings/boat.svg", "../boat.svg"):
        (inside / path).write_bytes(BOAT)
    (inside / "room.yaml").write_text(ROOM)
    return inside


def told(folder: Path, name: str) -> str:
    (folder / "boat.yaml").write_text(LESSON.replace("boat.svg", f"'{name}'"), encoding="utf-8")
    return CliRunner().invoke(main, ["check", "boat.yaml"]).output


def test_the_commands_build_it_without_the_network(folder: Path, no_network: None) -> None:
    (folder / "boat.yaml").write_text(LESSON)
    result = CliRunner().invoke(main, ["build", "boat.yaml", "--only", "cutting-files"])
    assert result.exit_code == 0, result.output
    assert (folder / "papers" / "boat" / "stencil-frame.svg").is_file()


@pytest.mark.parametrize("name", ["drawings/boat.svg", r"drawings\boat.svg", "./boat.svg"])
def test_names_that_are_read(folder: Path, name: str) -> None:
    assert " 0 errors" in told(folder, name)


AWAY = ["../boat.svg", r"..\boat.svg", "drawings/../../boat.svg", "/etc/passwd", r"C:\boat.svg", "C:boat.svg"]
AWAY += [r"\\host\share\boat.svg", "//host/boat.svg"]


@pytest.mark.parametrize("name", AWAY)
def test_names_that_lead_out_of_the_folder(folder: Path, name: str) -> None:
    assert f"“{name}” does not lie in the lesson's folder, and only files in it are read." in told(folder, name)


def test_links_that_lead_out_of_the_folder(folder: Path) -> None:
    (folder / "link.svg").symlink_to(folder.parent / "boat.svg")
    (folder / "away").symlink_to(folder.parent)
    (folder / "kept.svg").symlink_to("drawings/boat.svg")
    assert "does not lie in the lesson's folder" in told(folder, "link.svg")
    assert "does not lie in the lesson's folder" in told(folder, "away/boat.svg")
    assert " 0 errors" in told(folder, "kept.svg")


@pytest.mark.parametrize("name", ["bota.svg", "drawings", "boat.svg/x", "https://127.0.0.1:9/boat.svg", "x" * 300])
def test_names_of_nothing(folder: Path, name: str) -> None:
    assert f"there is no file “{name}” in the lesson's folder" in told(folder, name) or "could not be read" in told(folder, name)


def test_a_pipe_is_not_waited_for(folder: Path) -> None:
    os.mkfifo(folder / "pipe.svg")
    assert "there is no file “pipe.svg”" in told(folder, "pipe.svg")


def test_no_more_is_read_than_the_bound(folder: Path) -> None:
    (folder / "large.svg").write_bytes(b" " * 5_000_000)
    assert "at most 2 MB are read" in told(folder, "large.svg")
    beside = source(folder / "boat.yaml").beside
    assert beside is not None
    assert len(beside("large.svg")) == 2_000_001


def test_too_many_files(folder: Path) -> None:
    parts = ", ".join(f"{{svg: {{file: boat{k}.svg, wide: 20 mm}}, at: [{k} mm, 0 mm]}}" for k in range(25))
    _, errors = outcome({f"boat{k}.svg": BOAT for k in range(25)}, LESSON.replace("{svg: {file: boat.svg, wide: 120 mm}}", f"{{joined: [{parts}]}}"))
    assert "names more than 20 SVG files" in errors[0]
