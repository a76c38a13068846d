"""The page for everybody: by outside rules (axe-core), at phone width, at 200 %, with large targets, and the forms beside the lessons."""

from __future__ import annotations

import json
from importlib.resources import files
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest

from tests.browser.opened import Opened

expect = pytest.importorskip("playwright.sync_api", reason="pip install -e '.[browser]' is not done: the page is not looked at").expect
pytestmark = pytest.mark.xdist_group("browser")  # one browser and one server for all
AXE = files("axe_playwright_python").joinpath("axe.min.js").read_text(encoding="utf-8")

VIEWS = {
    "shelf": "Lessons",
    "lesson=porthole.yaml": "Porthole",
    "lesson=beach-hut-box.yaml": "Beach-Hut Box",
    "shape": "A shape of your own",
    "room": "Printer and clay",
}
WIDTHS = {"phone": (320, 640), "desktop": (1440, 900), "desktop at 200 %": (720, 450)}
LEAST_TARGET_PX = 44
WHITE = 0.06  # what the bars of the room's first clay shrank, on the mean
LEAF = '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 200 100"><path d="M0 50 Q100 -50 200 50 Q100 150 0 50 Z"/></svg>'


def view(page: Any, where: str) -> None:
    """That part of the page, once all of it is there."""
    page.evaluate("where => { location.hash = where }", where)
    expect(page).to_have_title(f"{VIEWS[where]} · lessonkit")
    if where.startswith("lesson"):
        page.locator("#lesson-view .sheet svg").wait_for()


def serious(page: Any) -> list[str]:
    """What axe-core (Deque; the rules of WCAG 2.2 A and AA, and its own best practice) calls serious or critical. The lines inside a drawing are
    left out: it has one name as a whole."""
    page.evaluate(AXE)
    run = "axe.run({ include: [['html']], exclude: [['svg']] }, { resultTypes: ['violations'] })"
    found = json.loads(page.evaluate(f"async () => JSON.stringify((await {run}).violations)"))
    return [f"{one['id']}: {node['html'][:120]}" for one in found if one["impact"] in ("serious", "critical") for node in one["nodes"]]


@pytest.mark.parametrize("width", ["phone", "desktop"])
def test_axe_finds_nothing_serious(page: Any, width: str) -> None:
    page.set_viewport_size(dict(zip(("width", "height"), WIDTHS[width], strict=True)))
    for where in ("shelf", "shape", "room", "lesson=porthole.yaml"):
        view(page, where)
        assert serious(page) == [], where
    page.get_by_label("Opening, across").fill("eighty")
    page.locator("#lesson-view [aria-invalid]").wait_for()
    assert serious(page) == []


def test_axe_would_find_a_field_without_a_label(page: Any) -> None:
    page.evaluate("document.querySelector('main').append(document.createElement('input'))")
    assert any(words.startswith("label:") for words in serious(page))


@pytest.mark.parametrize("width", WIDTHS)
def test_nothing_scrolls_sideways_and_every_target_is_large(page: Any, width: str) -> None:
    page.set_viewport_size(dict(zip(("width", "height"), WIDTHS[width], strict=True)))
    for where in VIEWS:
        view(page, where)
        assert page.evaluate("document.documentElement.scrollWidth - innerWidth") <= 0, where
        small = page.evaluate(
            """least => [...document.querySelectorAll("a, button, input, select, summary, label:has(input)")]
                .filter(one => one.offsetParent && !one.closest("label:has(input)") | one.matches("label") && !one.closest(".skip"))
                .filter(one => one.getBoundingClientRect().height < least - 0.5)
                .map(one => one.outerHTML.slice(0, 100))""",
            LEAST_TARGET_PX,
        )
        assert small == [], where


def test_headings_go_down_one_step_at_a_time(page: Any) -> None:
    for where in VIEWS:
        view(page, where)
        levels = page.evaluate("[...document.querySelectorAll('h1, h2, h3')].filter(one => one.offsetParent).map(one => Number(one.localName[1]))")
        assert levels.count(1) == 1, where
        assert all(after - before <= 1 for before, after in pairwise(levels)), where


def test_no_movement_where_less_is_wanted(window: Any, room: Opened) -> None:
    page = window.new_page()
    page.emulate_media(reduced_motion="reduce")
    page.goto(room.address)
    assert page.evaluate("getComputedStyle(document.documentElement).scrollBehavior") == "auto"


def test_a_silhouette_that_is_dropped_becomes_a_stencil_and_a_lesson(page: Any, room: Opened) -> None:
    view(page, "shape")
    page.evaluate(
        """text => {
            const dataTransfer = new DataTransfer()
            dataTransfer.items.add(new File([text], "oak-leaf.svg", { type: "image/svg+xml" }))
            document.getElementById("drop").dispatchEvent(new DragEvent("drop", { dataTransfer, bubbles: true, cancelable: true }))
        }""",
        LEAF,
    )
    sheet = page.locator("#shape-view .sheet svg")
    sheet.wait_for()
    page.get_by_label("How wide, after firing").fill("120 mm")
    expect(page.locator("#shape-view .cut").first).to_have_text(f"{120 / (1 - WHITE):.1f} mm")
    expect(page.get_by_label("What is it called")).to_have_value("Oak leaf")
    page.get_by_role("button", name="Keep as a lesson").click()
    page.get_by_role("heading", level=1, name="Oak leaf").wait_for()
    page.locator("#lesson-view .sheet svg").wait_for()
    assert (room.folder / "oak-leaf.svg").read_text(encoding="utf-8") == LEAF


def test_a_file_that_is_no_silhouette_is_told_beside_the_button(page: Any, tmp_path: Path) -> None:
    view(page, "shape")
    (tmp_path / "note.svg").write_text("not a drawing", encoding="utf-8")
    page.get_by_label("Choose an SVG file").set_input_files(tmp_path / "note.svg")
    expect(page.locator("#shape-file-problem")).not_to_be_empty()
    expect(page.locator("#shape-file")).to_have_attribute("aria-invalid", "true")
    expect(page.get_by_role("button", name="Keep as a lesson")).to_be_disabled()


def test_what_the_printer_makes_of_it_goes_into_the_room_file(page: Any, room: Opened) -> None:
    before = room.read("room.yaml")
    view(page, "room")
    form = page.get_by_role("form", name="printer")
    fields = form.get_by_role("textbox")
    fields.nth(0).fill("five")
    fields.nth(1).fill("201 mm")
    expect(fields.nth(0)).to_have_attribute("aria-invalid", "true")
    fields.nth(0).fill("178.2 mm")
    expect(form.get_by_role("status")).to_contain_text("99 %")  # 178.2 of 180 mm
    expect(fields.nth(0)).not_to_have_attribute("aria-invalid", "true")
    form.get_by_role("button", name="Write into my room file").click()
    expect(form.get_by_role("status")).to_contain_text("Written into your room file.")
    after = room.read("room.yaml")
    assert "178.2 mm" in after
    assert set(before.splitlines()) <= set(after.splitlines())
    (room.folder / "room.yaml").write_text(before, encoding="utf-8")  # the other tests measure with a true printer


def test_the_sheet_to_measure_is_at_hand(page: Any) -> None:
    view(page, "room")
    with page.expect_download() as started:
        page.get_by_role("button", name="Get the sheet").first.click()
    assert Path(started.value.path()).read_bytes().startswith(b"%PDF")
