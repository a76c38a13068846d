"""The kiln's door sign, read back from the PDF."""

from __future__ import annotations

import pytest

from lessonkit.build import Source, sound_room
from lessonkit.layout.kiln_door import kiln_door_document
from lessonkit.layout.sign_names import letter_height_mm
from lessonkit.layout.wording import say
from lessonkit.lesson.limits import LONGEST_LINE
from lessonkit.lesson.room import Room
from lessonkit.writers.pdf import write_pdf
from tests.layout.read_back import Sheet, ink_near_edge, overlaps, says, sheets
from tests.lessons_for_tests import ROOM

KILN = "kiln: {shelf: {round: 530 mm}, stack: 660 mm, opens_below: 40, name: the tall kiln}\n"


def room(text: str = ROOM) -> Room:
    found, problems = sound_room(Source("room.yaml", text.encode()))
    assert found is not None, problems
    return found


def faces(text: str = ROOM, paper: str = "A4") -> list[Sheet]:
    return sheets(write_pdf(kiln_door_document(room(text), paper)))


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_three_faces_say_what_may_be_done(paper: str) -> None:
    firing, cooling, cold = faces(paper=paper)
    assert says(firing.text, "FIRING")
    assert says(cooling.text, "COOLING")
    assert says(cold.text, "COLD")
    for shut in (firing, cooling):
        assert says(shut.text, "Do not open.")
    assert says(cooling.text, "COOLING is not COLD.")
    assert says(cooling.text, "An adult opens it below 50 °C, or at what its manual says if that is lower.")
    assert says(cold.text, "An adult unloads.")
    assert "Do not open" not in cold.text
    for page in (firing, cooling, cold):
        assert says(page.text, "First of all: local rules and the kiln maker’s manual.")
        assert overlaps(page) == []
        assert not ink_near_edge(page)
        assert page.wide_mm > page.tall_mm
        assert {round(letter.size_pt) for letter in page.letters} == {17, 44, round(max(letter.size_pt for letter in page.letters))}


def test_the_words_are_read_from_five_metres() -> None:
    """22 minutes of arc (ISO 9241-3, as quoted) at 5 m are 32.0 mm."""
    for page in faces(paper="Letter"):
        word = max(letter.size_pt for letter in page.letters)
        assert min(letter.foot - letter.top for letter in page.letters if letter.size_pt == word and letter.text in "FIRNLD") > letter_height_mm(5000)


def test_they_differ_without_colour() -> None:
    """The panel's share of black: most while firing, bars while cooling, a thin frame when cold; nothing but black, white and the one grey."""
    shares = []
    for page in faces():
        panel = page.picture.crop((44, 44, page.picture.size[0] - 44, 44 + 4 * 74))
        shares.append(panel.point(lambda tone: tone < 128 and 255).histogram()[255] / (panel.size[0] * panel.size[1]))
        assert {tone for count, tone in page.picture.getcolors() if count > 1500} <= {0, 209, 255}
    assert shares[0] > 0.7
    assert shares[0] > 2 * shares[1] > 2 * shares[2]


def test_the_kiln_s_own_temperature_and_name() -> None:
    _, cooling, cold = faces(ROOM + KILN)
    assert says(cooling.text, "An adult opens it below 40 °C,")
    assert says(cold.text, "It has been below 40 °C,")
    assert "the tall kiln" in cold.text


def test_a_room_of_inches_reads_fahrenheit() -> None:
    """50 °C x 9 / 5 + 32 = 122 °F."""
    _, cooling, _ = faces(ROOM.replace("paper:", "units: in\npaper:"))
    assert says(cooling.text, "below 122 °F (50 °C),")


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_a_long_name_takes_its_room_from_the_small_text(paper: str) -> None:
    name = "The Upper Clay Room of the Adult Evening School beside the Old Harbour, Second Floor, to the Left"
    assert LONGEST_LINE - 5 < len(name) <= LONGEST_LINE
    for page in faces(ROOM.replace("Saltmarsh Clay Room", name) + KILN, paper):
        assert overlaps(page) == []
        assert not ink_near_edge(page)
        assert says(page.text, "the tall kiln")


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_in_spanish_it_fits_too(paper: str) -> None:
    firing, cooling, cold = faces(ROOM + "language: es\n", paper)
    for page, words in ((firing, "COCIENDO"), (cooling, "ENFRIANDO no es FRÍO."), (cold, say("door_cold_do", "es"))):
        assert says(page.text, words)
        assert overlaps(page) == []
        assert not ink_near_edge(page)
        assert min(letter.foot - letter.top for letter in page.letters if letter.size_pt > 60 and letter.text in "HRNEAD") > letter_height_mm(4000)
