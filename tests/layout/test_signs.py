"""Station signs, read back from the PDF."""

from __future__ import annotations

import re
from itertools import combinations, pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import Image, ImageChops

from lessonkit.layout.sign_marks import LETTERS, PATTERNS, SHAPES, letter
from lessonkit.layout.sign_names import letter_height_mm, letterings, reach_mm
from lessonkit.layout.signs import sign_document
from lessonkit.units import MM_PER_POINT
from lessonkit.writers.pdf import write_pdf
from tests.layout.read_back import PIXELS_PER_MM, Sheet, ink_near_edge, overlaps, says, sheets, words_of
from tests.lessons_for_tests import FRAME, JOIN, ROOM, kit_of

PLAIN = """\
stations:
  - {name: NAME, do: [Zum Regal gehen.], minutes: 3, places: 4}
"""
SAID = (
    "Roughen both faces.", "Brush on slip.", "Press for a slow three.", "Smooth the seam.", "your ring on its tray · 8 rivets · a scoring fork",
    "STOP 1 on your card has its tick", "Forks stand in the cup, points down.",
)  # fmt: skip
BUSY = """\
    places: 28
    minutes: 12
    need: [a board, "a sheet of plastic, and a very long list that nobody reads", a rag]
    come: a tick stands in your box
    safety: Nothing above your shoulder.
    next: Underglaze colours and glazes
  - name: Underglaze colours and glazes
"""
LIVE_MM = {("A4", False): (188, 276), ("A4", True): (276, 188), ("Letter", False): (192, 256), ("Letter", True): (256, 192)}
COLOURS = ["red", "green", "brown", "blue", "grey", "white", "black", "pink"]


def signs(stations: str, paper: str = "A4", room: str = ROOM, lesson: str = FRAME) -> list[Sheet]:
    return sheets(write_pdf(sign_document(kit_of(lesson + stations, room), paper)))


def part(page: Sheet, left: float, top: float, wide: float, tall: float) -> Image.Image:
    return page.picture.crop(tuple(round(side * PIXELS_PER_MM) for side in (left, top, left + wide, top + tall)))


def plain(name: str, paper: str = "A4", room: str = ROOM) -> Sheet:
    """A sign with no picture."""
    return signs(PLAIN.replace("NAME", name), paper, room)[0]


@pytest.mark.parametrize(
    ("arc_min", "heights"),
    [
        (16, (4.654, 9.308, 13.963, 23.271)),
        (20, (5.818, 11.636, 17.453, 29.089)),
        (22, (6.400, 12.799, 19.199, 31.998)),
        (24, (6.981, 13.963, 20.944, 34.907)),
    ],
)
def test_letter_heights(arc_min: float, heights: tuple[float, ...]) -> None:
    """h = 2 d tan(angle / 2) at 1, 2, 3 and 5 m. 16' is the least and 20' to 22' preferred in ISO 9241-3, as quoted; the German
    rule ASR A6 (after ISO 9241-303) has 22' to 31' with height = distance / 155 at the least, which 22' meets within 1 %."""
    for metres, height in zip((1, 2, 3, 5), heights, strict=True):
        assert letter_height_mm(1000 * metres, arc_min) == pytest.approx(height, abs=0.01)
    assert letter_height_mm(5000) == pytest.approx(5000 / 155, rel=0.01)


@settings(max_examples=40, deadline=None)
@given(st.floats(100, 50_000), st.floats(5, 60))
def test_reach_is_the_inverse(distance: float, arc_min: float) -> None:
    assert reach_mm(letter_height_mm(distance, arc_min), arc_min) == pytest.approx(distance)


@pytest.mark.parametrize("paper", ["A4", "Letter"])
@pytest.mark.parametrize(("read_from", "height"), [("2 m", 12.799), ("3 m", 19.199), ("5 m", 31.998)])
def test_capitals_on_paper_are_high_enough(paper: str, read_from: str, height: float) -> None:
    """T has the capitals' height exactly, x the small letters'; both as another reader measures their ink."""
    room = ROOM + f"read_from: {read_from}\n"
    text = plain("Textx", paper, room)
    largest = max(letter.size_pt for letter in text.letters)
    capital = next(letter for letter in text.letters if letter.text == "T" and letter.size_pt == largest)
    assert capital.foot - capital.top >= height - 0.01
    short = plain("Tx", paper, room)
    small = next(letter for letter in short.letters if letter.text == "x")
    assert small.foot - small.top == pytest.approx(height, abs=0.4)  # a short name has the full height in its small letters
    assert small.foot - small.top >= height - 0.2


def test_the_station_of_the_room_says_how_far_off_it_is_read() -> None:
    room = ROOM + "read_from: 5 m\nstations:\n  - {name: nook, places: 3, read_from: 2 m}\n"
    near, far = plain("Nook", room=room), plain("Book", room=room)
    sizes = [max(letter.size_pt for letter in sheet.letters) for sheet in (near, far)]
    assert sizes[0] * 2.5 == pytest.approx(sizes[1], rel=0.01)


def test_the_usual_distance_is_five_metres() -> None:
    assert max(letter.size_pt for letter in plain("Tx").letters) == max(
        letter.size_pt for letter in plain("Tx", room=ROOM + "read_from: 5 m\n").letters
    )


def test_too_long_a_name_turns_the_sheet_or_takes_two_lines() -> None:
    """At 5 m Texture is 168 mm wide at the least size, Underglaze 245 and Drying shelf 259 (by the font's own widths)."""
    assert plain("Texture").wide_mm == pytest.approx(210, abs=0.1)
    assert plain("Underglaze").wide_mm == pytest.approx(297, abs=0.1)
    two = next(letterings("Underglaze colours", "A4", 5000))
    assert (two.turned, len(two.block.lines)) == (True, 2)


@pytest.mark.parametrize("name", ["Join", "Drying shelf", "Underglaze colours", "Trocknungsregalbeschriftung", "Élan", "A"])
@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_no_name_is_clipped_or_too_small(name: str, paper: str) -> None:
    for lettering in letterings(name, paper, 5000):
        assert lettering.wide_mm <= LIVE_MM[paper, lettering.turned][0]
        if name != "Trocknungsregalbeschriftung":
            assert lettering.capital_mm >= 31.998
            assert lettering.reach_mm >= 5000
    joined = "".join(letter.text for letter in plain(name, paper).letters)
    assert name.replace(" ", "")[:6] in joined


def test_a_word_too_long_for_any_sheet_is_broken_and_the_sign_says_how_far_it_reaches() -> None:
    (only,) = letterings("Trocknungsregalbeschriftung", "A4", 5000)
    assert only.turned
    assert only.block.lines[0][-1].text.endswith("-")
    assert only.reach_mm < 5000
    assert f"to be read from {only.reach_mm / 1000:.1f} m" in plain("Trocknungsregalbeschriftung").text


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_everything_is_on_the_sign(paper: str) -> None:
    first, last = signs(JOIN, paper)
    for words in (*SAID, "8 minutes", "8 places", "Porthole · station 1 of 2", "You need", "Come here when", "Next"):
        assert says(first.text, words), words
    assert f"{paper} · sheet 1 of 1" in first.text
    assert "Check" in first.text
    assert "Next" not in words_of(last.text)


def test_places_are_dots() -> None:
    """As many round, grey dots as places, each of the same size."""

    def grey(places: int) -> int:
        sheet = signs(PLAIN.replace("NAME", "Cut").replace("places: 4", f"places: {places}"))[0]
        return sum(count for count, tone in sheet.picture.getcolors() if 205 <= tone <= 213)

    one = grey(2) - grey(1)
    assert one > 300
    assert grey(8) - grey(1) == pytest.approx(7 * one, rel=0.02)


def test_what_the_lesson_leaves_out_comes_from_the_room_and_the_steps() -> None:
    room = ROOM + "stations:\n  - {name: BENCH, places: 6}\n"
    lesson = FRAME.replace("minutes: 8", "minutes: {easy: 8, advanced: 5}\n    station: Bench")
    first, second = signs("stations:\n  - name: Bench\n  - name: Shelf\n", room=room, lesson=lesson)
    assert says(first.text, "6 places")
    assert says(first.text, "5–8 minutes")
    assert says(first.text, "Cut the ring")
    assert says(first.text, "Next B Shelf")
    assert "places" not in second.text
    assert "minutes" not in second.text


def test_c41_stations_differ_in_black_and_white() -> None:
    """Each has a letter, a shape and a band of its own, in 1-bit ink: eight stations differ pairwise in the shape alone (its
    letter blanked out), the seven bands in the band alone, and no pair of both comes twice in 40."""
    assert len({(i % len(SHAPES), i % len(PATTERNS)) for i in range(40)}) == 40
    assert len({letter(i) for i in range(len(LETTERS))}) == len(LETTERS) == 61
    pages = signs("stations:\n" + "".join(f"  - {{name: {word}, do: [Go.]}}\n" for word in COLOURS), room=ROOM + "read_from: 3 m\n")
    assert all(word in page.text for word, page in zip(COLOURS, pages, strict=True))
    marks, bands = [], []
    for page in pages:
        em = max(letter.size_pt for letter in page.letters) * MM_PER_POINT
        top = (page.tall_mm - 276) / 2  # the live area of A4
        mark = part(page, 199 - 20, top + 0.07 * em, 20, 20)
        mark.paste(255, tuple(side * PIXELS_PER_MM for side in (5, 6, 15, 16)))
        marks.append(mark)
        bands.append(part(page, 11, top + 1.035 * em + 3, 188, 6))
    for kind in (marks, bands[: len(PATTERNS)]):
        assert all(picture.getextrema()[0] == 0 for picture in kind)
        for a, b in combinations(kind, 2):
            assert ImageChops.difference(a, b).point(lambda tone: tone > 128 and 255).histogram()[255] > 150
    assert [next(text for text in words_of(page.text) if len(text) == 1) for page in pages] == list("ABCDEFGH")


def test_every_print_is_black_or_the_one_grey() -> None:
    """Nothing is said by colour: the page without colour is the page (contrast of text: black on white)."""
    tones = {tone for page in signs(JOIN) for count, tone in page.picture.getcolors() if count > 2000}
    assert tones <= {0, 209, 255}


@pytest.mark.parametrize("paper", ["A4", "Letter"])
@pytest.mark.parametrize("name", ["Join", "Drying shelf", "Trocknungsregalbeschriftung"])
def test_nothing_is_clipped_overlaps_or_leaves_the_live_area(name: str, paper: str) -> None:
    lines = ["Stir.", "Paint three thin coats and let each one dry until the shine has gone.", "Keep the foot bare.", "Donaudampfschifffahrt"]
    station = f"stations:\n  - name: {name}\n    do:\n" + "".join(f"      - {line}\n" for line in lines) + BUSY
    pages = signs(station, paper)
    for page in pages:
        assert not ink_near_edge(page)
        assert overlaps(page) == []
    text = " ".join(page.text for page in pages)
    for line in ["Stir.", "Keep the foot bare.", "a tick stands in your box", "Nothing above your shoulder.", "that nobody reads"]:
        assert says(text, line), line


def test_type_is_never_made_smaller() -> None:
    """Three sizes on a sign without pictures: the name, 30 and 14 pt; on the second sheet the last two."""
    lines = ", ".join(f'"Line number {n} of a long list."' for n in range(1, 15))
    pages = signs(f"stations:\n  - name: Join\n    do: [{lines}]\n    pictures: []\n    safety: Mind.\n".replace("Line", "Zeile"))
    assert len(pages) == 2
    for page, more in zip(pages, (1, 0), strict=True):
        sizes = {round(letter.size_pt, 1) for letter in page.letters}
        assert {14.0, 30.0} <= sizes
        assert len(sizes) == 2 + more
    text = " ".join(page.text for page in pages)
    assert all(words_of(text).count(f"{n}") >= 1 for n in range(1, 15))
    assert text.count("of a long list.") == 14
    assert text.count("Mind.") == 1
    assert all(says(page.text, f"sheet {k} of 2") for k, page in enumerate(pages, 1))


def test_rows_keep_their_order_down_the_sheet() -> None:
    page = signs(JOIN)[0]
    tops = [next(mark.top for mark in page.letters if mark.text == str(n) and mark.size_pt == 30 and mark.left < 20) for n in (1, 2, 3, 4)]
    assert all(a + 20 < b for a, b in pairwise(tops))


def test_no_letter_reaches_over_the_edge_however_it_hangs() -> None:
    """j hangs to the left of its place, f and an accent reach out to the right and above (as the font's outlines do)."""
    for name in ("jjf", "Åf", "fjf fjf"):
        assert not ink_near_edge(plain(name))


def test_a_lesson_without_stations_has_no_signs() -> None:
    assert sign_document(kit_of(FRAME), "A4").pages == ()


@settings(max_examples=30, deadline=None)
@given(
    name=st.text("abcdefgijkmnopqrstuvwxyzABCW ", min_size=1, max_size=24).filter(str.strip),
    metres=st.integers(1, 12) | st.just(300),
    paper=st.sampled_from(["A4", "Letter"]),
)
def test_any_name_fits_its_sheet(name: str, metres: int, paper: str) -> None:
    name = " ".join(name.split())
    for lettering in letterings(name, paper, 1000 * metres):
        live = LIVE_MM[paper, lettering.turned]
        assert lettering.block.wide_mm <= live[0] + 1e-6
        assert lettering.tall_mm <= 0.53 * live[1]
        printed = "".join("".join(span.text for span in line) for line in lettering.block.lines)
        assert printed.replace("-", "").replace(" ", "") == name.replace(" ", "")


@pytest.mark.parametrize("name", ["name", "score", "slip", "join"])
def test_pictures_on_signs_have_neither_words_nor_figures(name: str) -> None:
    """Every letter on the sign is the sign's own, of 14 pt or more; the order in a picture is told by dots, not by 1, 2, 3."""
    station = f"stations:\n  - {{name: Nook, do: [Go., Walk.], pictures: [{name}, {name}]}}\n"
    page, bare = signs(station)[0], signs(station.replace(f", pictures: [{name}, {name}]", ""))[0]
    assert "Ana" not in page.text
    said, expected = ([word for word in words_of(sheet.text) if not re.fullmatch("[A-Z2-9]{4}", word)] for sheet in (page, bare))  # but for the code
    assert sorted(said) == sorted(expected)
    assert min(letter.size_pt for letter in page.letters) == pytest.approx(14)


@pytest.mark.parametrize("name", ["ĺ", "Ậ", "Ắn", "Ĺ", "Dǻ"])
def test_no_accent_of_a_name_leaves_the_sign(name: str) -> None:
    for page in sheets(write_pdf(sign_document(kit_of(FRAME + f"stations:\n  - {{name: {name}, do: [Bring it.]}}\n"), "A4"))):
        assert not ink_near_edge(page)
