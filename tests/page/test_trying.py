"""A lesson tried with what was typed and chosen: the numbers are those that the commands print, the papers those that they write."""

from __future__ import annotations

from io import BytesIO
from pathlib import Path
from typing import Any
from urllib.parse import quote
from xml.etree import ElementTree
from zipfile import ZipFile

import pytest
from pypdf import PdfReader

from lessonkit.build import Order, documents, papers, work
from lessonkit.cli.files import source
from lessonkit.page import lessons, trying
from lessonkit.page.asked import Choices
from lessonkit.page.desk import Desk, mark_of
from tests.page.desk_for_tests import CIRCLE, Browser, Reply, desk_in, whole_shelf

SHOWN = ["stencils", "cards-easy", "cards-advanced", "signs", "tents", "teacher", "substitute", "set-out"]
SVG = "{http://www.w3.org/2000/svg}"


def lesson_of(browser: Browser, file: str = "porthole.yaml") -> Any:
    reply = browser.get(f"/lesson?file={file}")
    assert reply.status == 200, reply.data
    return reply.value


def asked(browser: Browser, file: str = "porthole.yaml", *changes: tuple[list[Any], str], **more: Any) -> dict[str, Any]:
    typed = [{"path": path, "written": written} for path, written in changes]
    return {"file": file, "mark": lesson_of(browser, file)["mark"], "changes": typed, **more}


def tried(browser: Browser, *changes: tuple[list[Any], str], file: str = "porthole.yaml", **more: Any) -> Any:
    reply = browser.post("/try", asked(browser, file, *changes, **more))
    assert reply.status == 200, reply.data
    return reply.value


def sizes(answer: Any) -> dict[str, tuple[str, str]]:
    parts = [part for piece in answer["pieces"] for part in piece["parts"]]
    return {f"{part['name']}: {size['name']}": (size["fired"], size["cut"]) for part in parts for size in part["sizes"]}


def test_the_shelf_shows_what_the_room_offers(browser: Browser) -> None:
    shelf = browser.get("/shelf").value
    assert shelf["room"]["name"] == "Saltmarsh Clay Room"
    assert shelf["room"]["papers"][:2] == ["A4", "Letter"]
    assert [clay["name"] for clay in shelf["room"]["clays"]] == ["white low-fire", "buff mid-fire"]
    assert shelf["room"]["clays"][1] == {"name": "buff mid-fire", "fired_to": "cone 6", "shrinkage": "shrinks 12 %"}
    assert shelf["room"]["levels"] == [{"id": "easy", "name": "New to this"}, {"id": "advanced", "name": "Done this before"}]
    assert [(lesson["file"], lesson["title"], lesson["sound"]) for lesson in shelf["lessons"]] == [
        ("porthole.yaml", "Porthole", True),
        ("reed-pot.yaml", "Reed Pot", True),
    ]
    assert [paper["id"] for paper in shelf["papers"]] == SHOWN


def test_a_faulty_lesson_stands_on_the_shelf_and_says_its_fault(browser: Browser, desk: Desk) -> None:
    (desk.folder / "broken.yaml").write_text("title: Broken\nabout: [x\n")
    (desk.folder / "empty.yaml").write_text("")
    (desk.folder / "wrong.yaml").write_text("title: Wrong\ntechnique: knitting\n")
    shelf = {lesson["file"]: lesson for lesson in browser.get("/shelf").value["lessons"]}
    assert [shelf[f"{name}.yaml"]["sound"] for name in ("broken", "empty", "wrong", "porthole")] == [False, False, False, True]
    assert shelf["wrong.yaml"]["title"] == "Wrong"
    for name in ("broken", "empty", "wrong"):
        answer = tried(browser, file=f"{name}.yaml")
        assert answer["pages"] == answer["pieces"] == []
        assert {problem["severity"] for problem in answer["problems"]} == {"error"}
        assert tried(browser, (["title"], "Mended"), file=f"{name}.yaml")["problems"]
    assert browser.get("/small?file=broken.yaml").status == 404


def test_a_faulty_room_is_told_at_once(browser: Browser, desk: Desk) -> None:
    (desk.folder / "room.yaml").write_text("kind: room\nname: X\n")
    reply = browser.get("/shelf")
    assert reply.status == 409
    assert reply.value["error"]["what"].startswith("room.yaml:1:1: ")
    assert "Load the page again" in reply.value["error"]["hint"].replace("Then load this page", "Load the page")


def test_as_it_is_written(browser: Browser) -> None:
    answer = tried(browser)
    assert answer["problems"] == []
    assert sizes(answer) == {
        "frame, A: outside": ("160\u00a0mm", "181.8\u00a0mm"),
        "frame, A: opening": ("85\u00a0mm", "96.6\u00a0mm"),
        "frame, A: hole": ("4\u00a0mm", "4.5\u00a0mm"),
    }
    assert answer["pieces"][0]["levels"] == ["New to this", "Done this before"]
    assert answer["page_count"] == len(answer["pages"]) == 1
    assert (answer["pages"][0]["wide_mm"], answer["pages"][0]["tall_mm"]) == (210.0, 297.0)
    assert answer["minutes"] == [
        {"level": "easy", "name": "New to this", "minutes": 8.0, "of": None},
        {"level": "advanced", "name": "Done this before", "minutes": 8.0, "of": None},
    ]
    assert answer["clay"]["basis"] == "buff mid-fire, cone 6, shrinks 12 % (from the bag, unmeasured)"


def test_what_is_typed_changes_sizes_and_sheet(browser: Browser, desk: Desk) -> None:
    before = (desk.folder / "porthole.yaml").read_bytes()
    answer = tried(browser, (CIRCLE, "6 1/2 in"), turn=7)
    assert answer["turn"] == 7
    assert sizes(answer)["frame, A: outside"] == ("165.1\u00a0mm", "187.6\u00a0mm")  # 6.5 x 25.4 = 165.1; 165.1 / 0.88 = 187.61
    assert "165.1" in text_of(answer["pages"][0]["svg"])
    assert (desk.folder / "porthole.yaml").read_bytes() == before


def text_of(svg: str) -> str:
    return " ".join("".join(text.itertext()) for text in ElementTree.fromstring(svg).iter(f"{SVG}text"))


def test_a_bad_value_is_told_at_its_field_and_where_it_stands(browser: Browser) -> None:
    number = next(field["id"] for field in lesson_of(browser)["fields"] if field["path"] == CIRCLE)
    for written in ("160", "foo", "", "900 m"):
        (problem,) = tried(browser, (CIRCLE, written))["problems"]
        assert problem["severity"] == "error"
        assert problem["field"] == number
        assert problem["line"] == 8
        assert problem["what"]
        assert problem["hint"]
    (problem,) = tried(browser, (CIRCLE, "a\tb"))["problems"]
    assert (problem["field"], problem["line"], problem["what"]) == (number, None, "this can't stand in one line of the file.")


def test_a_problem_below_a_new_line_is_told_at_its_field(browser: Browser) -> None:
    """The thickness that is added moves every line below it."""
    fields = {tuple(field["path"]): field["id"] for field in lesson_of(browser)["fields"]}
    hole = ["pieces", 0, "hang", "across"]
    answer = tried(browser, (["thickness"], "8 mm"), (hole, "foo"))
    (problem,) = answer["problems"]
    assert (problem["field"], problem["line"]) == (fields[tuple(hole)], 12)
    (problem,) = tried(browser, (["thickness"], "8"))["problems"]
    assert problem["field"] == fields["thickness",]


def test_a_warning_comes_with_the_sheet(browser: Browser) -> None:
    answer = tried(browser, (["pieces", 0, "flat", "openings", 0, "circle", "across"], "120 mm"))
    assert [problem["severity"] for problem in answer["problems"]] == ["warning", "warning"]
    assert answer["pages"]


def test_the_thickness_can_be_typed_and_taken_out_again(browser: Browser) -> None:
    field = next(field for field in lesson_of(browser)["fields"] if field["path"] == ["thickness"])
    assert (field["missing"], field["written"]) == (True, "8 mm")
    assert tried(browser, (["thickness"], "6 mm"))["pieces"][0]["thickness"] == "6\u00a0mm"
    assert tried(browser, (["thickness"], ""))["pieces"][0]["thickness"] == "8\u00a0mm"


def test_choices_are_those_of_the_commands(browser: Browser, desk: Desk) -> None:
    answer = tried(browser, clay="white low-fire", units="in", paper="Letter")
    assert sizes(answer)["frame, A: outside"] == ("6\u00a05/16\u00a0in (160\u00a0mm)", "6\u00a011/16\u00a0in (170.2\u00a0mm)")
    assert (answer["pages"][0]["wide_mm"], answer["pages"][0]["tall_mm"]) == (215.9, 279.4)
    assert "units" not in (desk.folder / "room.yaml").read_text()
    (problem,) = tried(browser, clay="porcelain")["problems"]
    assert problem["field"] == "clay"
    assert browser.post("/try", asked(browser, paper="A9")).status == 400
    assert browser.post("/try", asked(browser, show="nonsense")).status == 400
    assert browser.post("/try", asked(browser, show="cards-nonsense")).status == 400
    assert browser.post("/try", asked(browser, levels=["nonsense"])).status == 400
    assert browser.post("/paper", asked(browser, only="cards-nonsense")).status == 400
    assert browser.post("/paper", asked(browser, only="nonsense")).status == 400


def test_the_clay_of_a_group(browser: Browser, desk: Desk) -> None:
    with (desk.folder / "room.yaml").open("a") as room:
        room.write("groups:\n  - {name: Tuesday, people: 10}\n  - {name: Thursday, people: 30}\n")
    one, other = (tried(browser, group=name)["clay"] for name in ("Tuesday", "Thursday"))
    assert one["each"] == other["each"]
    assert one["group"].startswith("Tuesday: ")
    assert "for 10 people and spares" in one["group"]
    assert "for 30 people and spares" in other["group"]


@pytest.fixture(scope="module")
def shelf(tmp_path_factory: pytest.TempPathFactory) -> Desk:
    return whole_shelf(tmp_path_factory.mktemp("shelf") / "lessons")


@pytest.mark.parametrize("show", SHOWN)
def test_every_paper_is_shown_as_it_is_printed(shelf: Desk, show: str) -> None:
    mark = mark_of((shelf.folder / "porthole.yaml").read_bytes())
    found = trying.answer(shelf, Choices(file="porthole.yaml", mark=mark, show=show))
    kit, _ = work(source(shelf.folder / "porthole.yaml"), source(shelf.folder / "room.yaml"))
    assert kit is not None
    name, levels = ("cards", (show[6:],)) if show.startswith("cards-") else (show, None)
    pages = [page for _, document in documents(kit, name, Order(levels=levels)) for page in document.pages]
    assert [page["name"] for page in found["pages"]] == [page.name for page in pages]
    assert found["page_count"] == len(pages) > 0
    ids = [element.get("id") for page in found["pages"] for element in ElementTree.fromstring(page["svg"]).iter() if element.get("id")]
    assert len(ids) == len(set(ids))


def test_some_of_the_pages(browser: Browser, desk: Desk) -> None:
    numbers = [[page["number"] for page in tried(browser, show="teacher", pages=pages)["pages"]] for pages in ([1, 1], [9, 9], [1, 9])]
    assert numbers == [[1], [1], [1]]
    (desk.folder / "wide.yaml").write_text((desk.folder / "porthole.yaml").read_text().replace("160 mm", "400 mm"))
    answer = tried(browser, file="wide.yaml", pages=[2, 3])
    assert answer["page_count"] > 3
    assert [page["number"] for page in answer["pages"]] == [2, 3]
    assert browser.post("/try", asked(browser, pages=[0, 1])).status == 400


def test_a_lesson_changed_meanwhile_is_told(browser: Browser, desk: Desk) -> None:
    question = asked(browser)
    (desk.folder / "porthole.yaml").write_text((desk.folder / "porthole.yaml").read_text() + "# more\n")
    reply = browser.post("/try", question)
    assert reply.status == 409
    assert "changed meanwhile" in reply.value["error"]["what"]


def files_in(reply: Reply) -> dict[str, bytes]:
    with ZipFile(BytesIO(reply.data)) as archive:
        assert archive.testzip() is None
        return {name: archive.read(name) for name in archive.namelist()}


def test_the_papers_are_those_that_build_writes(browser: Browser, desk: Desk) -> None:
    kit, _ = work(source(desk.folder / "porthole.yaml"), source(desk.folder / "room.yaml"))
    assert kit is not None
    whole = browser.post("/paper", asked(browser))
    assert whole.headers["Content-Type"] == "application/zip"
    assert whole.headers["Content-Disposition"].startswith('attachment; filename="porthole.zip"')
    assert files_in(whole) == papers(kit)
    one = browser.post("/paper", asked(browser, only="stencils"))
    assert one.headers["Content-Type"] == "application/pdf"
    assert one.headers["Content-Disposition"].startswith('attachment; filename="porthole-stencils.pdf"')
    assert one.data == papers(kit)["stencils.pdf"]
    cut = browser.post("/paper", asked(browser, only="cutting-files"))
    assert (cut.headers["Content-Type"], cut.data) == ("image/svg+xml", papers(kit)["stencil-frame.svg"])
    assert browser.post("/paper", asked(browser, only="cards-easy")).data == papers(kit)["cards-easy.pdf"]
    assert set(files_in(browser.post("/paper", asked(browser, only="cards")))) == {"cards-easy.pdf", "cards-advanced.pdf"}
    assert browser.post("/paper", asked(browser)).data == whole.data


def test_a_paper_with_what_is_typed_and_chosen(browser: Browser) -> None:
    reply = browser.post("/paper", asked(browser, "porthole.yaml", (CIRCLE, "150 mm"), only="stencils", paper="Letter", clay="white low-fire"))
    page = PdfReader(BytesIO(reply.data)).pages[0]
    assert (float(page.mediabox.width), float(page.mediabox.height)) == (612.0, 792.0)
    assert "159.6" in page.extract_text()  # 150 / 0.94


def test_no_paper_of_a_lesson_with_a_fault(browser: Browser) -> None:
    reply = browser.post("/paper", asked(browser, "porthole.yaml", (CIRCLE, "foo")))
    assert reply.status == 422
    assert [problem["line"] for problem in reply.value["problems"]] == [8]
    assert browser.post("/paper", asked(browser, "porthole.yaml", (CIRCLE, "a\tb"))).status == 422
    reply = browser.post("/paper", asked(browser, only="signs"))
    assert (reply.status, reply.value["error"]["what"]) == (422, "this lesson has no such paper.")


def test_a_name_of_other_letters(browser: Browser, desk: Desk) -> None:
    (desk.folder / "灯台 ü.yaml").write_text((desk.folder / "porthole.yaml").read_text())
    mark = lesson_of(browser, quote("灯台 ü.yaml"))["mark"]
    reply = browser.post("/paper", {"file": "灯台 ü.yaml", "mark": mark, "only": "teacher"})
    assert reply.status == 200
    assert "filename*=UTF-8''%E7%81%AF%E5%8F%B0-%C3%BC-teacher.pdf" in reply.headers["Content-Disposition"]


def test_without_a_room_everything_says_what_is_assumed(tmp_path: Path) -> None:
    desk = desk_in(tmp_path / "lessons", with_room=False)
    assert lessons.shelf(desk)["room"]["assumed"]
    mark = mark_of((desk.folder / "porthole.yaml").read_bytes())
    for units, cut in ((None, "181.8\u00a0mm"), ("in", "7\u00a03/16\u00a0in (181.8\u00a0mm)")):
        found = trying.answer(desk, Choices(file="porthole.yaml", mark=mark, units=units, show="teacher"))
        assert sizes(found)["frame, A: outside"][1] == cut
        assert "No room file was found. Assumed: clay that shrinks 12 %" in text_of(found["pages"][0]["svg"])
