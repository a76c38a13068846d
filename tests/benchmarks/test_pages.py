"""Every benchmark draws the same pages, and the figures are worked out right. No times: a test cannot know them."""

from __future__ import annotations

import importlib
import subprocess
import sys
from collections.abc import Sequence
from pathlib import Path

import pytest
from pypdf import PdfReader

from lessonkit.build import Source, work
from lessonkit.cli.files import lesson_paths, source
from tests.benchmarks.__main__ import table
from tests.benchmarks.measure import Cost, measure, ratio
from tests.benchmarks.rows import GROUPS, SHELF, Group, Row
from tests.benchmarks.shelf import LESSONS, ROOM, vary, write_shelf
from tests.benchmarks.signs import SIGN
from tests.benchmarks.workload import PAGES_A_LESSON, TILE_MM, lessons


@pytest.mark.parametrize("name", ["floor", "drawn", "platypus", "typst_pages"])
def test_the_pages_hold_the_workload(name: str, tmp_path: Path) -> None:
    if name == "typst_pages":
        pytest.importorskip("typst")  # of the benchmarks alone
    path = tmp_path / "pages.pdf"
    importlib.import_module(f"tests.benchmarks.{name}").draw(str(path), 1)
    pages = PdfReader(path).pages
    (lesson,) = lessons(1)
    assert len(pages) == PAGES_A_LESSON
    words = [" ".join(page.extract_text().split()) for page in pages]
    for cards, text in zip([page for level in lesson.levels for page in level], words, strict=False):
        for card in cards:
            assert card.title in text
            assert " ".join(card.words) in text
    for label in lesson.labels:
        assert all(label.text in text for text in words[8:12])
    assert lesson.sign.title in words[12]
    assert " ".join(lesson.sign.words) in words[12]


def test_the_workload_is_338_pages_and_never_another() -> None:
    found = lessons()
    assert len(found) * PAGES_A_LESSON == 338
    assert found == lessons()
    assert found[0].levels[0][0][0].title == "1. Pra xo quimuroqui"
    assert found[25].sign.picture != found[24].sign.picture
    for lesson in found:
        assert all(0 <= x <= 2 * TILE_MM[0] and 0 <= y <= 2 * TILE_MM[1] for x, y in lesson.outline)


def test_a_varied_lesson_builds_as_its_model_does() -> None:
    room = source(ROOM)
    for path in (LESSONS / "porthole.yaml", LESSONS / "reed-pot.yaml"):
        text = path.read_text(encoding="utf-8")
        (model, _), (varied, problems) = (work(Source("lesson.yaml", data.encode()), room) for data in (text, vary(text, 37)))
        assert model is not None
        assert varied is not None, problems
        assert varied.code != model.code
        assert varied.lesson.title == f"{model.lesson.title} 37"
        assert varied.pieces[0].mass_g > model.pieces[0].mass_g * 1.02
        assert [step.text for step in varied.steps["easy"]] != [step.text for step in model.steps["easy"]]


def test_a_shelf_is_the_repositorys_own_and_then_variations(tmp_path: Path) -> None:
    paths = write_shelf(tmp_path / "shelf", SHELF + 2)
    own = {path.name for path in lesson_paths([LESSONS])}
    assert len(own) == SHELF
    assert {path.name for path in paths} == own | {"room.yaml", "barnacle-lights-1.yaml", "beach-hut-box-1.yaml"}


def test_the_lesson_with_one_sign_has_nothing_wrong() -> None:
    kit, problems = work(Source("sign.yaml", SIGN.encode()), source(ROOM))
    assert kit is not None
    assert len(kit.lesson.stations) == 1
    assert not problems


def test_a_ratio_divides_neighbours() -> None:
    assert ratio([2.0, 8.0, 3.0], [1.0, 2.0, 1.0]) == (3.0, 2.0, 4.0)
    assert str(ratio([2.0, 8.0, 3.0], [1.0, 2.0, 1.0], scale=0.5)) == "1.50 (1.00–2.00)"
    with pytest.raises(ValueError, match="shorter"):
        ratio([1.0, 2.0], [1.0])


def test_the_table_shows_the_figure_beside_its_target() -> None:
    costs = {"ours": [Cost(3.0, 8.0, 50.0)] * 3, "theirs": [Cost(2.0, 2.0, 40.0)] * 3}
    group = Group(lambda _: [], [Row("build", "ours", "theirs", 2, 1.5)], [Row("memory", "ours", "", 96, 64)])
    assert list(table(group, costs)) == [
        "| build | theirs | 2 | 1.5 | **1.50 (1.50–1.50)** | 4.00 (4.00–4.00) | 3.000 / 2.000 |",
        "| memory | - | 96 | 64 | **50.00 (50.00–50.00)** |  |  |",
    ]


def test_what_fails_is_not_measured() -> None:
    cost = measure([sys.executable, "-c", "bytearray(30 << 20).find(b'1')"])
    assert cost.processor_s > 0
    assert 30 < cost.peak_mib < 1000
    with pytest.raises(subprocess.CalledProcessError):
        measure([sys.executable, "-c", "raise SystemExit(1)"])


def test_every_row_measures_what_its_group_runs(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    ran: list[Sequence[str]] = []
    monkeypatch.setattr("tests.benchmarks.rows.measure", ran.append)
    for name, group in GROUPS.items():
        (tmp_path / name).mkdir()
        named = {command.name for command in group.commands(tmp_path / name)}
        assert {row.over for row in (*group.rows, *group.peaks)} <= named
        assert {row.under for row in (*group.rows, *group.peaks)} - {""} <= named
    assert [arguments[2:4] for arguments in ran] == [["lessonkit", "build"]]
