"""A lesson in the browser: chosen, changed, printed, kept. Every size is worked out here again by hand: cut = fired / (1 - shrinkage)."""

from __future__ import annotations

import shutil
import statistics
from io import BytesIO
from pathlib import Path
from typing import Any
from zipfile import ZipFile

import pytest

from tests.browser.opened import LESSONS, Opened, opened
from tests.stencil_pages_for_tests import cuts
from tests.stencils_for_tests import drawn

expect = pytest.importorskip("playwright.sync_api", reason="pip install -e '.[browser]' is not done: the page is not looked at").expect
pytestmark = pytest.mark.xdist_group("browser")  # one browser and one server for all

WHITE, BUFF = 0.06, 0.12  # what the bars of the room's two clays shrank, on the mean
MARKUP = "<img src=x onerror=alert(1)> & <b>Salt</b>"


def open_lesson(page: Any, title: str) -> None:
    page.get_by_role("link", name=title).click()
    page.get_by_role("heading", name=title, level=1).wait_for()
    page.locator("#lesson-view .sheet svg").wait_for()


def cut_of(page: Any, measure: str) -> Any:
    return page.get_by_role("row", name=measure).first.locator(".cut")


def downloaded(page: Any, button: str) -> tuple[str, bytes]:
    with page.expect_download() as started:
        page.get_by_role("button", name=button).click()
    return started.value.suggested_filename, Path(started.value.path()).read_bytes()


def test_a_size_that_is_changed_gives_its_cut_size_and_a_new_picture(page: Any) -> None:
    open_lesson(page, "Porthole")
    expect(cut_of(page, "outside")).to_have_text(f"{160 / (1 - WHITE):.1f} mm")
    before = page.locator("#lesson-view .sheet").inner_html()
    page.get_by_label("Across", exact=True).first.fill("170 mm")
    expect(cut_of(page, "outside")).to_have_text(f"{170 / (1 - WHITE):.1f} mm")
    assert page.locator("#lesson-view .sheet").inner_html() != before
    expect(page.locator("#said")).to_contain_text(f"outside: cut {170 / (1 - WHITE):.1f} mm")
    page.get_by_label("Units").select_option(label="Inches")
    expect(cut_of(page, "outside")).to_contain_text("7 1/8 in")  # 180.85 mm to the nearest sixteenth


def test_another_clay_and_another_paper(page: Any) -> None:
    open_lesson(page, "Porthole")
    page.get_by_label("Which clay").select_option("buff mid-fire")
    expect(cut_of(page, "outside")).to_have_text(f"{160 / (1 - BUFF):.1f} mm")
    expect(page.get_by_text("1 change not kept.")).to_be_visible()
    page.get_by_label("Step cards: New to this").check()
    expect(page.locator("#lesson-view figcaption")).to_contain_text("sheet 1 of 2")
    page.get_by_role("button", name="Next sheet").click()
    expect(page.locator("#lesson-view figcaption")).to_contain_text("sheet 2 of 2")
    expect(cut_of(page, "outside")).to_have_text(f"{160 / (1 - BUFF):.1f} mm")  # what was changed outlives the other paper


def test_the_stencil_that_she_takes_away_measures_what_the_page_says(page: Any) -> None:
    open_lesson(page, "Porthole")
    page.get_by_label("Across", exact=True).first.fill("170 mm")
    name, pdf = downloaded(page, "Stencils, as a PDF")
    assert name == "porthole-stencils.pdf"
    outside, opening = sorted(cuts(drawn(pdf)[0]), key=lambda path: path.bounds[0] - path.bounds[2])[:2]
    for path, fired in ((outside, 170), (opening, 85)):
        left, top, right, foot = path.bounds
        assert (right - left, foot - top) == pytest.approx((fired / (1 - WHITE),) * 2, abs=0.01)


def test_all_papers_come_in_one_file(page: Any) -> None:
    open_lesson(page, "Limpet Bowl")
    name, data = downloaded(page, "All papers, in one zip")
    assert name == "limpet-bowl.zip"
    assert {"stencils.pdf", "cards-easy.pdf", "cards-advanced.pdf", "station-signs.pdf", "teacher.pdf"} <= set(ZipFile(BytesIO(data)).namelist())


def test_a_bad_value_is_told_beside_its_field_and_once_aloud(page: Any) -> None:
    open_lesson(page, "Porthole")
    field = page.get_by_label("Opening, across")
    field.fill("eighty")
    expect(field).to_have_attribute("aria-invalid", "true")
    beside = page.locator(f"#{field.get_attribute('aria-describedby').split()[-1]}")
    expect(beside).to_contain_text("“eighty”")
    expect(page.locator("#said")).to_contain_text("Frame, opening, across: ")
    expect(page.locator("#lesson-view .old")).to_be_visible()
    page.locator("#lesson-view .problems").get_by_role("button", name="Frame, opening, across").click()
    expect(field).to_be_focused()
    field.fill("80 mm")
    expect(field).not_to_have_attribute("aria-invalid", "true")
    expect(beside).to_be_empty()
    expect(page.locator("#lesson-view .old")).to_be_hidden()
    expect(cut_of(page, "opening")).to_have_text(f"{80 / (1 - WHITE):.1f} mm")


def test_an_answer_that_is_out_of_date_is_never_shown(page: Any) -> None:
    """The first answer is held back until she has typed on."""
    open_lesson(page, "Porthole")
    page.evaluate(
        """() => {
            window.shown = new Set()
            const table = document.querySelector("#lesson-view .cuts table")
            new MutationObserver(() => window.shown.add(table.querySelector(".cut").textContent)).observe(table, { childList: true })
        }"""
    )
    held: list[Any] = []
    page.route("**/try", lambda route: route.continue_() if held else held.append(route))
    field = page.get_by_label("Across", exact=True).first
    with page.expect_request("**/try"):
        field.fill("170 mm")
    field.fill("180 mm")
    held[0].continue_()
    expect(cut_of(page, "outside")).to_have_text(f"{180 / (1 - WHITE):.1f} mm")
    assert page.evaluate("[...window.shown]") == [f"{180 / (1 - WHITE):.1f}\u00a0mm"]


def test_with_the_keyboard_alone(page: Any) -> None:
    """From the shelf to the stencil in hand: Tab, Enter, arrows and letters, and the cursor is seen at every stop."""

    def tab_to(there: str) -> None:
        for _ in range(60):
            page.keyboard.press("Tab")
            assert page.evaluate("parseFloat(getComputedStyle(document.activeElement).outlineWidth)") >= 3
            if there in page.evaluate("(document.activeElement.labels?.[0] ?? document.activeElement).textContent"):
                return
        raise AssertionError(there)

    tab_to("Skip to the page itself")
    page.keyboard.press("Enter")
    tab_to("Driftwood Heart")
    page.keyboard.press("Enter")
    page.get_by_role("heading", name="Driftwood Heart").wait_for()
    tab_to("Wide")
    page.keyboard.press("Control+a")
    page.keyboard.type("170 mm")
    expect(cut_of(page, "wide")).to_have_text(f"{170 / (1 - BUFF):.1f} mm")
    tab_to("Stencils")
    page.keyboard.press("ArrowDown")
    expect(page.get_by_label("Step cards: New to this")).to_be_checked()
    tab_to("Step cards: New to this, as a PDF")
    with page.expect_download() as started:
        page.keyboard.press("Enter")
    assert started.value.suggested_filename == "driftwood-heart-cards-easy.pdf"


def test_keeping_changes_only_what_was_changed(page: Any, room: Opened) -> None:
    before = room.read("full-moon-plate.yaml")
    open_lesson(page, "Full-Moon Plate")
    page.get_by_label("Across", exact=True).first.fill("190 mm")
    page.get_by_role("button", name="Save into full-moon-plate.yaml").click()
    expect(page.locator("#save-answer")).to_have_text("Saved in full-moon-plate.yaml.")
    assert room.read("full-moon-plate.yaml") == before.replace("across: 200 mm", "across: 190 mm", 1) != before
    expect(page.get_by_text("Nothing is changed.")).to_be_visible()
    expect(page.get_by_role("button", name="Save into full-moon-plate.yaml")).to_be_focused()


def test_a_new_name_leaves_the_old_lesson_alone_and_never_overwrites(page: Any, room: Opened) -> None:
    before = room.read("life-ring.yaml")
    open_lesson(page, "Life-Ring")
    page.get_by_label("Across", exact=True).first.fill("150 mm")
    name = page.get_by_label("Or save it under a new name")
    name.fill("porthole")
    page.get_by_role("button", name="Save as new").click()
    expect(page.locator("#save-answer")).to_contain_text("porthole.yaml")
    assert "Life-Ring" not in room.read("porthole.yaml")
    name.fill("my-ring")
    page.get_by_role("button", name="Save as new").click()
    expect(page.locator("#save-answer")).to_have_text("Saved in my-ring.yaml.")
    expect(page.get_by_role("button", name="Save into my-ring.yaml")).to_be_visible()
    assert room.read("my-ring.yaml") == before.replace("across: 160 mm", "across: 150 mm", 1)
    assert room.read("life-ring.yaml") == before


def test_two_tabs_never_write_over_each_other(page: Any, window: Any, room: Opened) -> None:
    other = window.new_page()
    other.goto(room.address)
    for tab in (page, other):
        open_lesson(tab, "Tide-Line Tile")
    page.get_by_label("Wide", exact=True).first.fill("140 mm")
    page.get_by_role("button", name="Save into").click()
    expect(page.locator("#save-answer")).to_contain_text("Saved")
    other.get_by_label("Tall", exact=True).first.fill("130 mm")
    other.get_by_role("button", name="Save into").click()
    expect(other.locator("#elsewhere")).to_contain_text("changed")
    assert "130 mm" not in room.read("tide-line-tile.yaml")
    other.get_by_role("button", name="Read the file again").click()
    expect(other.get_by_label("Wide", exact=True).first).to_have_value("140 mm")
    expect(other.get_by_label("Tall", exact=True).first).to_have_value("130 mm")
    other.get_by_role("button", name="Save into").click()
    expect(other.locator("#save-answer")).to_contain_text("Saved")
    assert "140 mm" in room.read("tide-line-tile.yaml")
    assert "130 mm" in room.read("tide-line-tile.yaml")


def test_what_is_not_kept_outlives_the_shelf_and_leaving_asks(page: Any) -> None:
    open_lesson(page, "Porthole")
    page.get_by_label("Opening, across").fill("84 mm")
    page.get_by_role("link", name="Lessons").click()
    expect(page.get_by_role("link", name="Porthole")).to_contain_text("Changes not kept yet.")
    open_lesson(page, "Porthole")
    expect(page.get_by_label("Opening, across")).to_have_value("84 mm")
    asked: list[str] = []
    page.on("dialog", lambda dialog: (asked.append(dialog.type), dialog.dismiss()))
    with page.expect_event("dialog"):
        page.evaluate("setTimeout(() => location.reload())")
    assert asked == ["beforeunload"]
    page.get_by_role("button", name="Put back what the file says").click()
    expect(page.get_by_label("Opening, across")).to_have_value("85 mm")


@pytest.fixture
def other_folder(tmp_path: Path) -> Path:
    """A folder of her own, with one lesson whose title looks like markup."""
    shutil.copy(LESSONS / "room.yaml", tmp_path)
    text = (LESSONS / "porthole.yaml").read_text(encoding="utf-8")
    (tmp_path / "star.yaml").write_text(text.replace("title: Porthole", f"title: {MARKUP}"), encoding="utf-8")
    return tmp_path


def test_what_she_wrote_is_words_and_the_page_says_so_when_lessonkit_has_ended(window: Any, other_folder: Path) -> None:
    with opened(other_folder) as server:
        page = window.new_page()
        page.goto(server.address)
        open_lesson(page, MARKUP)
        assert page.locator("main img, main b").count() == 0
    page.get_by_label("Opening, across").fill("84 mm")
    expect(page.get_by_role("alert").first).to_contain_text("Start it again with: lessonkit open")
    expect(page.get_by_label("Opening, across")).to_have_value("84 mm")


def test_the_picture_follows_each_key(page: Any) -> None:
    """From the key to the painted picture; the milliseconds are printed (pytest -s), not judged: other machines are slower."""
    open_lesson(page, "Porthole")
    field = page.get_by_label("Across", exact=True).first
    page.evaluate(
        """() => {
            window.took = []
            let pressed
            document.addEventListener("input", () => { pressed = performance.now() }, true)
            const painted = () => requestAnimationFrame(() => setTimeout(() => window.took.push(performance.now() - pressed)))
            new MutationObserver(painted).observe(document.querySelector("#lesson-view .sheet"), { childList: true })
        }"""
    )
    field.evaluate("field => { field.focus(); field.setSelectionRange(3, 3) }")
    for count in range(1, 19):
        page.keyboard.press("Shift+ArrowLeft")
        page.keyboard.press(str(count % 10))
        page.evaluate("async count => { while (window.took.length < count) await new Promise(requestAnimationFrame) }", count)
    took = page.evaluate("window.took")
    print(f"\nfrom a key to the new picture: median {statistics.median(took):.0f} ms, {min(took):.0f} to {max(took):.0f} ms, {len(took)} keys")
    assert len(took) == 18
    expect(cut_of(page, "outside")).to_have_text(f"{168 / (1 - WHITE):.1f} mm")
