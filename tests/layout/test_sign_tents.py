"""Table tents, read back from the PDF: the near face by its words, the far one by its ink."""

from __future__ import annotations

import pytest
from PIL import ImageChops

from lessonkit.drawing.items import Path
from lessonkit.layout.sign_names import letter_height_mm
from lessonkit.layout.sign_tents import FOLD_MM, FOOT_MM, OVERLAP_MM, READ_FROM_MM, tent_document
from lessonkit.writers.pdf import write_pdf
from tests.layout.read_back import PIXELS_PER_MM, Sheet, ink_near_edge, overlaps, says, sheets
from tests.lessons_for_tests import FRAME, JOIN, ROOM, kit_of

SAID = ("1 Roughen both faces.", "2 Brush on slip.", "3 Press for", "a slow three.", "4 Smooth",
        "You need your ring on its tray · 8 rivets · a scoring fork", "Come here when STOP 1 on your card has its tick",
        "Forks stand in the cup, points down.", "8 minutes", "8 places", "Next Check",
        "Porthole · station 1 of 2", "Fold on the dashed lines, away from the words.")  # fmt: skip
PAPERS = ["A4", "Letter"]


def tents(stations: str = JOIN, paper: str = "A4", room: str = ROOM) -> list[Sheet]:
    return sheets(write_pdf(tent_document(kit_of(FRAME + stations, room), paper)))


@pytest.mark.parametrize("paper", PAPERS)
def test_everything_is_on_the_near_face(paper: str) -> None:
    first, last = tents(paper=paper)
    for words in SAID:
        assert says(first.text, words), words
    assert says(last.text, "Check")
    assert "Next" not in last.text
    for page in (first, last):
        assert overlaps(page) == []
        assert not ink_near_edge(page)
        assert min(letter.size_pt for letter in page.letters) == pytest.approx(8)
        body = [letter for letter in page.letters if FOOT_MM < letter.top < page.tall_mm - FOOT_MM]
        assert min(letter.size_pt for letter in body) == pytest.approx(14)
        assert all(letter.top > page.tall_mm / 2 + FOLD_MM - 0.5 for letter in body)  # as text, once: below the ridge
        assert all(letter.foot < page.tall_mm - FOOT_MM - 0.5 for letter in body)


@pytest.mark.parametrize("paper", PAPERS)
def test_the_far_face_is_the_near_one_upside_down(paper: str) -> None:
    """Turned by half a turn, the page's upper face covers its lower one to within the edge of a letter."""
    for page in tents(paper=paper):
        whole = page.picture
        inset, ridge, foot = (round(mm * PIXELS_PER_MM) for mm in (10, page.tall_mm / 2 + FOLD_MM / 2, page.tall_mm - FOOT_MM - FOLD_MM / 2))
        box = (inset, ridge, whole.size[0] - inset, foot)
        near, far = whole.crop(box), whole.rotate(180).crop(box)
        black = near.point(lambda tone: tone < 128 and 255).histogram()[255]
        apart = ImageChops.difference(near, far).point(lambda tone: tone > 160 and 255).histogram()[255]
        assert black > 20_000
        assert apart < 0.03 * black


@pytest.mark.parametrize("paper", PAPERS)
def test_it_folds_where_it_must(paper: str) -> None:
    """Dashed lines at both feet and at the ridge; both faces are equally high, and a foot's edge line shows how far the other lies over it."""
    page = tent_document(kit_of(FRAME + JOIN), paper).pages[0]
    dashed = sorted(item.commands[0][2] for item in page.items if isinstance(item, Path) and item.stroke and item.stroke.dash_mm)
    assert dashed == [FOOT_MM, page.tall_mm / 2, page.tall_mm - FOOT_MM]
    assert dashed[1] - dashed[0] == pytest.approx(dashed[2] - dashed[1])
    (line,) = [item for item in page.items if isinstance(item, Path) and item.stroke and not item.stroke.dash_mm]
    assert line.commands[0][2] == pytest.approx(OVERLAP_MM, abs=0.2)


@pytest.mark.parametrize("name", ["Join", "Drying shelf", "Underglaze colours"])
def test_the_name_is_read_from_two_metres(name: str) -> None:
    """22 minutes of arc at 2 m: capitals of 12.8 mm."""
    page = tents(JOIN.replace("name: Join", f"name: {name}"))[0]
    largest = max(letter.size_pt for letter in page.letters)
    tallest = max(letter.foot - letter.top for letter in page.letters if letter.size_pt == largest and letter.text.isupper())
    assert tallest >= letter_height_mm(READ_FROM_MM) - 0.05


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("name", ["Trocknungsregalbeschriftung", "Underglaze colours and all glazes that are not yet labelled"])
def test_long_names_and_long_lists_go_on_to_another_tent(paper: str, name: str) -> None:
    lines = ", ".join(f'"Line number {n} of a long list that goes on."' for n in range(1, 13))
    need = ", ".join(f"thing number {n} that is needed" for n in range(1, 12))
    busy = f"do: [{lines}], need: [{need}], safety: Mind your fingers., places: 30, next: Elsewhere"
    station = f"stations:\n  - {{name: {name}, {busy}}}\n  - name: Elsewhere\n"
    pages = tents(station, paper)
    text = " ".join(page.text for page in pages[:-1])
    assert len(pages) > 2
    for page in pages:
        assert overlaps(page) == []
        assert not ink_near_edge(page)
    assert sum(page.text.count("of a long") for page in pages) == 12
    assert all(says(text, f"thing number {n} that is needed") for n in range(1, 12))
    assert says(text, "Mind your fingers.")


def test_a_line_typed_over_many_lines_is_one_on_a_tent() -> None:
    typed = "\\n".join(f"word{n}" for n in range(16))
    (page,) = tents(f'stations:\n  - {{name: Join, do: ["{typed}"]}}\n')
    assert overlaps(page) == []
    assert not ink_near_edge(page)
    assert says(page.text, " ".join(f"word{n}" for n in range(16)))


def test_pictures_on_tents_and_signs_have_no_words() -> None:
    """The only letters are the sign's own: none under 8 pt, no name in the picture of a signature, no figures on its discs."""
    station = "stations:\n  - {name: Join, do: [Go., Go on., Stop.], pictures: [name, join, score]}\n"
    page = tents(station)[0]
    assert "Ana" not in page.text
    assert {round(letter.size_pt) for letter in page.letters} == {8, 14, 28, round(max(letter.size_pt for letter in page.letters))}


def test_a_lesson_without_stations_has_no_tents() -> None:
    assert tent_document(kit_of(FRAME), "A4").pages == ()
