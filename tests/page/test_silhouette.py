"""A drawing of hers becomes a stencil, and a lesson that builds."""

from __future__ import annotations

from typing import Any

import pytest
from click.testing import CliRunner

from lessonkit.cli.commands import main
from lessonkit.page.desk import Desk
from tests.page.desk_for_tests import TRIANGLE, Browser, Reply

NEST = "<svg xmlns='http://www.w3.org/2000/svg'>" + "<g>" * 5000 + "</g>" * 5000 + "</svg>"
ENTITY = "<!DOCTYPE svg [<!ENTITY a 'aaaaaaaaaa'><!ENTITY b '&a;&a;&a;'>]><svg xmlns='http://www.w3.org/2000/svg'><text>&b;</text></svg>"


def drawn(browser: Browser, **more: Any) -> Reply:
    return browser.post("/silhouette", {"name": "Oak leaf.svg", "text": TRIANGLE, "across": "150 mm", "title": "Oak: leaf", **more})


def test_it_is_seen_as_a_stencil_and_nothing_is_written(browser: Browser, desk: Desk) -> None:
    reply = drawn(browser, turn=3)
    assert reply.status == 200
    assert (reply.value["turn"], reply.value["problems"], reply.value["page_count"]) == (3, [], 1)
    (piece,) = reply.value["pieces"]
    assert piece["name"] == "Oak leaf"
    assert piece["parts"][0]["sizes"][0] == {"name": "wide", "fired": "150\u00a0mm", "cut": "159.6\u00a0mm"}  # 150 / 0.94
    assert len(list(desk.folder.iterdir())) == 3


@pytest.mark.parametrize(
    ("changed", "field"),
    [
        ({"text": "<svg/>"}, "text"),
        ({"text": "no drawing"}, "text"),
        ({"text": NEST}, "text"),
        ({"text": ENTITY}, "text"),
        ({"text": TRIANGLE.replace("<path", "<image href='file:///etc/passwd'/><path d='M0 0 L9 9'/><path")}, "text"),
        ({"across": "150"}, "across"),
        ({"across": ""}, "across"),
        ({"across": "9 km"}, "across"),
        ({"thickness": "thick"}, "thickness"),
        ({"title": "a\tb"}, "title"),
    ],
)
def test_what_is_wrong_is_told_at_its_field(browser: Browser, desk: Desk, changed: dict[str, str], field: str) -> None:
    reply = drawn(browser, **changed)
    assert reply.status == 200
    assert field in [problem["field"] for problem in reply.value["problems"]]
    assert drawn(browser, **changed, keep=True).status == 422
    assert len(list(desk.folder.iterdir())) == 3


def test_it_is_kept_as_a_lesson_that_builds(browser: Browser, desk: Desk) -> None:
    assert drawn(browser, keep=True).value == {"format": 1, "file": "Oak-leaf.yaml"}
    assert (desk.folder / "Oak-leaf.svg").read_text() == TRIANGLE
    text = (desk.folder / "Oak-leaf.yaml").read_text()
    assert 'title: "Oak: leaf"\n' in text
    assert "thickness" not in text
    assert "outline: {svg: {file: Oak-leaf.svg, wide: 150 mm}}" in text
    result = CliRunner().invoke(main, ["check", str(desk.folder / "Oak-leaf.yaml")])
    assert (result.exit_code, result.output) == (0, "1 lesson: nothing wrong.\n")
    assert [lesson["file"] for lesson in browser.get("/shelf").value["lessons"]] == ["Oak-leaf.yaml", "porthole.yaml", "reed-pot.yaml"]


def test_it_never_goes_over_a_file_that_is_there(browser: Browser, desk: Desk) -> None:
    assert drawn(browser, keep=True).value["file"] == "Oak-leaf.yaml"
    assert drawn(browser, keep=True, thickness="7 mm", title=None).value["file"] == "Oak-leaf-2.yaml"
    assert "thickness: 7 mm\n" in (desk.folder / "Oak-leaf-2.yaml").read_text()
    assert "title: Oak leaf 2\n" in (desk.folder / "Oak-leaf-2.yaml").read_text()
    (desk.folder / "Oak-leaf-3.svg").write_text("hers")
    assert drawn(browser, keep=True).value["file"] == "Oak-leaf-4.yaml"
    assert (desk.folder / "Oak-leaf-3.svg").read_text() == "hers"


@pytest.mark.parametrize(
    ("name", "file"),
    [
        ("../../away.svg", "away.yaml"),
        ("C:\\x\\y.svg", "C-x-y.yaml"),
        (".svg", "shape.yaml"),
        ("..", "shape.yaml"),
        ("", "shape.yaml"),
        ("con.svg", "con-2.yaml"),
        ("room.svg", "room-2.yaml"),
        ("ü ö.svg", "ü-ö.yaml"),
    ],
)
def test_whatever_the_drawing_is_called(browser: Browser, desk: Desk, name: str, file: str) -> None:
    reply = drawn(browser, name=name, keep=True)
    assert reply.value["file"] == file
    assert {path.name for path in desk.folder.parent.iterdir()} == {"lessons"}
    assert (desk.folder / file).is_file()
