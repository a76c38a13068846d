"""The look of step cards, read back from the PDF by outside readers: pypdf for words, pypdfium2 for places and ink."""

from __future__ import annotations

import re
from dataclasses import replace
from io import BytesIO
from itertools import pairwise

import pypdfium2
import pytest
from pypdf import PdfReader

from lessonkit.drawing.items import BLACK, CLAY, Path
from lessonkit.layout.card_deck import LEAST_ADVANCED_MM, LEAST_PICTURE
from lessonkit.layout.card_formats import CardType, Format, formats_for
from lessonkit.layout.card_order import CardFormat, CardOrder
from lessonkit.layout.cards import card_document
from lessonkit.units import MM_PER_POINT, PAPERS
from lessonkit.writers.pdf import write_pdf
from tests.drawings_for_tests import shown
from tests.layout.card_reading import (
    LEVELS,
    PRINTED,
    box,
    card_words,
    cards,
    changed,
    crossing,
    frame,
    kit,
    letters,
    overlapping,
    read_pages,
    text_boxes,
)
from tests.lessons_for_tests import FRAME, ROOM, kit_of


# -- the sheet
@pytest.mark.parametrize("paper", PRINTED)
@pytest.mark.parametrize("level", LEVELS)
def test_two_cuts_through_the_middle_make_four_identical_cards(level: str, paper: str) -> None:
    document = card_document(kit(), level, paper)
    wide, tall = PAPERS[paper]
    assert len(document.pages) == 2
    for page in document.pages:
        lines = [
            item for item, _, _, layer in shown(page.items) if layer == "cuts" and isinstance(item, Path) and item.stroke and item.stroke.dash_mm
        ]
        across, down = sorted((box(line, 0, 0) for line in lines), key=lambda b: b[2] - b[0], reverse=True)
        assert across == pytest.approx((10, tall / 2, wide - 10, tall / 2))
        assert (down[0], down[2], down[3]) == pytest.approx((wide / 2, wide / 2, tall - 10))
    field_wide, field_tall = 84, {"A4": 128, "Letter": 119}[paper]
    places = [((card.x_mm) % (wide / 2), card.y_mm % (tall / 2)) for card in cards(document)]
    assert places == [pytest.approx(((wide / 2 - field_wide) / 2, (tall / 2 - field_tall) / 2))] * 5


def test_every_card_has_its_level_at_the_same_place_in_its_quarter() -> None:
    first, last = letters(card_document(kit(), "easy", "A4"))
    level = kit().room.levels["easy"].replace(" ", "")
    places = []
    for page in (first, last):
        line = "".join(letter.text for letter in page)
        places += [(page[at.start()].left % 105, page[at.start()].foot % 148.5) for at in re.finditer(level, line)]
    heads = [place for place in places if place[1] < 30]
    assert len(heads) == 5
    assert all(place == pytest.approx(heads[0], abs=0.02) for place in heads)


def test_an_empty_place_on_the_last_sheet_stays_empty() -> None:
    _, last = letters(card_document(kit(), "easy", "A4"))
    assert last
    assert all(letter.right < 105 and letter.foot < 148.5 for letter in last)


@pytest.mark.parametrize("paper", PRINTED)
@pytest.mark.parametrize(
    ("level", "asked"),
    [("easy", None), ("advanced", None), ("easy", "2"), ("advanced", "1"), ("easy", "large"), ("advanced", "strip")],
)
def test_ink_is_grey_and_10_mm_from_the_edge(paper: str, level: str, asked: CardFormat | None) -> None:
    dots_per_mm = 4
    for page in pypdfium2.PdfDocument(write_pdf(card_document(kit(), level, paper, CardOrder(asked)))):
        image = page.render(scale=dots_per_mm * MM_PER_POINT, optimize_mode=None).to_pil().convert("RGB")
        red, green, blue = image.split()
        assert red.tobytes() == green.tobytes() == blue.tobytes()
        left, top, right, foot = red.point(lambda tone: 255 * (tone < 250)).getbbox()
        assert min(left, top, image.width - right, image.height - foot) >= 10 * dots_per_mm - 1


@pytest.mark.parametrize(("asked", "least"), [(None, 8), ("2", 8), ("1", 8), ("strip", 8), ("large", 18)])
@pytest.mark.parametrize("level", LEVELS)
def test_no_letter_is_smaller_than_the_least(level: str, asked: CardFormat | None, least: float) -> None:
    sizes = {letter.size_pt for page in letters(card_document(kit(), level, "A4", CardOrder(asked))) for letter in page}
    assert min(sizes) >= least - 0.001


@pytest.mark.parametrize("level", LEVELS)
def test_large_print_has_nothing_under_18_points(level: str) -> None:
    document = card_document(kit(), level, "A4", CardOrder("large"))
    assert len(document.pages) == 5
    assert min(letter.size_pt for page in letters(document) for letter in page) >= 18 - 0.001


@pytest.mark.parametrize("paper", PRINTED)
@pytest.mark.parametrize("asked", [None, "4", "2", "1", "large"])
@pytest.mark.parametrize("level", LEVELS)
def test_no_text_overlaps_and_none_leaves_the_field(level: str, asked: CardFormat | None, paper: str) -> None:
    document = card_document(kit(), level, paper, CardOrder(asked))
    wide, tall = Format({"2": 2, "1": 1, "large": 1}.get(asked or "4", 4), CardType(22, 14, 18, 17.5, 14)).field_mm(paper)
    for card in cards(document):
        assert overlapping(card) == []
        for text, left, top, right, foot in text_boxes(card):
            assert -0.01 <= left <= right <= wide + 0.01, text
            assert 0 <= top <= foot <= tall + 0.01, text


@pytest.mark.parametrize("paper", PRINTED)
@pytest.mark.parametrize("asked", [None, "2", "1"])
@pytest.mark.parametrize("level", LEVELS)
def test_no_text_crosses_a_panel_a_rule_or_a_frame(level: str, asked: CardFormat | None, paper: str) -> None:
    full = changed(level, 0, next="9", word=("slip", "Clay and water."), safety=("Mind it.",))
    assert [crossing(card) for card in cards(card_document(full, level, paper, CardOrder(asked))) if crossing(card)] == []


def test_bookmarks_name_the_steps() -> None:
    reader = PdfReader(BytesIO(write_pdf(card_document(kit(), "easy", "A4"))))
    assert [entry.title for entry in reader.outline] == ["Steps 1 to 4", "Step 5"]
    assert reader.metadata is not None
    assert reader.metadata.title == "Porthole, step cards, New to this"


def test_lines_stay_under_65_letters_on_a_whole_sheet() -> None:
    document = card_document(changed("advanced", text="Add slip and press it, then smooth the seam. " * 8), "advanced", "A4", CardOrder("1"))
    lines = [text for card in cards(document) for text, *_ in text_boxes(card)]
    assert max(map(len, lines)) < 65


# -- what a card says
@pytest.mark.parametrize("paper", PRINTED)
def test_the_foot_drops_nothing(paper: str) -> None:
    document = card_document(kit(), "easy", paper)
    for number, card in enumerate(cards(document), 1):
        said = card_words(card)
        sheet = (number - 1) // 4 + 1
        for part in ("Porthole · New to this", f"step {number} of 5", f"3 · {kit().code}", "white low-fire", paper, f"sheet {sheet} of 2"):
            assert part in said


def test_an_advanced_card_says_everything_in_order() -> None:
    said = card_words(cards(card_document(kit(), "advanced", "A4"))[1])
    order = (
        "Done this before",
        "8 minutes",
        "Cut the ring",
        "Trace both edges",
        "Good when no light",
        "Choose: one notch",
        "If you finish early: cut",
        "Needles go back",
    )
    assert [said.index(part) for part in order] == sorted(said.index(part) for part in order)


def test_stop_is_a_panel_with_its_question_and_a_box_inside() -> None:
    (card, *_) = cards(card_document(kit(), "easy", "A4"))
    panel = next(item for item, *_ in shown(card.items) if isinstance(item, Path) and len(item.commands) == 9 and item.stroke)
    left, top, right, foot = box(panel, 0, 0)
    inside = [text for text, x1, y1, x2, y2 in text_boxes(card) if left < x1 < x2 < right and top < y1 < y2 < foot]
    assert "".join(inside).replace(" ", "") == "STOPIstheslabasthickasthesticks?"
    ticks = [box(item, x, y) for item, x, y, _ in shown(card.items) if isinstance(item, Path) and item.stroke and item.stroke.width_mm == 0.7]
    (tick,) = [b for b in ticks if left < b[0] and top < b[1] and b[2] < right and b[3] < foot]
    assert (tick[2] - tick[0], tick[3] - tick[1]) == pytest.approx((8, 8))
    assert all(x2 < tick[0] for text, _, y1, x2, y2 in text_boxes(card) if text in inside and y1 < tick[3] and y2 > tick[1])


def test_a_word_of_the_trade_stands_under_a_rule() -> None:
    card = cards(card_document(kit(), "easy", "A4"))[2]
    (term,) = (b for b in text_boxes(card) if b[0].startswith("slip:"))
    rules = [box(item, x, y) for item, x, y, layer in shown(card.items) if isinstance(item, Path) and layer == ""]
    assert any(b[1] == b[3] and b[2] - b[0] == 84 and 0 < term[2] - b[1] < 5 for b in rules)


def test_next_is_told_when_the_count_jumps() -> None:
    said = [card_words(card) for card in cards(card_document(changed("easy", 3, next="7"), "easy", "A4"))]
    assert ["next: 7" in text for text in said] == [False, False, False, True, False]


def test_one_minute_is_one_minute() -> None:
    assert "1 minute " in card_words(cards(card_document(kit(), "easy", "A4"))[2]) + " "


@pytest.mark.parametrize(("level", "stripes"), [("easy", 1), ("advanced", 2), ("steady", 3)])
def test_a_level_is_told_by_word_and_stripes(level: str, stripes: int) -> None:
    three = kit(ROOM.replace("advanced: Done this before}", "steady: Getting there, advanced: Done this before}"))
    three = replace(three, steps={**three.steps, "steady": three.steps["easy"]})
    (card, *_) = cards(card_document(three, level, "A4"))
    black = [box(item, 0, 0) for item, *_ in shown(card.items) if isinstance(item, Path) and item.fill == BLACK and item.stroke is None]
    bars = [b for b in black if b[2] - b[0] == pytest.approx(72)]
    assert len(bars) == stripes
    assert all(lower[1] - upper[3] > 0.3 for upper, lower in pairwise(bars))
    label = next(b for b in text_boxes(card) if b[0] == three.room.levels[level])
    assert max(b[3] for b in bars) < label[2]


@pytest.mark.parametrize("level", LEVELS)
def test_the_thickness_bar_is_as_thick_as_the_slab(level: str) -> None:
    found = []
    for card in cards(card_document(kit(), level, "Letter")):
        paths = [box(item, x, y) for item, x, y, layer in shown(card.items) if isinstance(item, Path) and layer == "frame" and item.fill == CLAY]
        found.append([b[3] - b[1] for b in paths if b[3] - b[1] == pytest.approx(8, abs=1e-6)])
    assert [len(bars) for bars in found] == [1, 1, 0, 0, 0]  # roll and cut
    assert "8 mm" in card_words(cards(card_document(kit(), level, "Letter"))[0])


def test_a_thickness_named_in_the_text_gets_its_bar() -> None:
    (*_, card) = cards(card_document(changed("easy", 4, text="It must be 8\u00a0mm thick."), "easy", "A4"))
    assert "this thick: 8 mm" in card_words(card).replace("\u00a0", " ")


@pytest.mark.parametrize("level", LEVELS)
@pytest.mark.parametrize("thick_mm", [45, 80])
def test_a_slab_thicker_than_a_picture_has_no_bar_and_leaves_the_picture_its_room(level: str, thick_mm: int) -> None:
    frame = FRAME.replace("    hang: {holes: 1, across: 4 mm}\n", "")
    thick = kit_of(frame.replace("title: Porthole", f"title: Porthole\nthickness: {thick_mm} mm", 1))
    for card in cards(card_document(thick, level, "A4")):
        found = [(box(item, x, y), layer) for item, x, y, layer in shown(card.items) if isinstance(item, Path)]
        assert any(layer.startswith("picture") for _, layer in found)
        assert not any(layer == "frame" and b[3] - b[1] == pytest.approx(thick_mm) for b, layer in found)


def test_what_was_assumed_stands_on_the_first_card() -> None:
    assumed = "Assumed: clay that shrinks 12 %."
    document = card_document(replace(kit(), assumed=(assumed,)), "easy", "A4")
    assert [assumed in card_words(card) for card in cards(document)] == [True, False, False, False, False]


@pytest.mark.parametrize(
    "text",
    ["Roll to <6 mm", "if 3 <x< 5 & damp", "R&D table", "AT&T mug", "salt & pepper", "</b> done", "<b>bold", "use <your own> stamp",
     '<font color="[1,2]">x</font>', '<img src="http://127.0.0.1:9/x.png"/>hi', "__import__('os')"],
)  # fmt: skip
def test_c05_c07_text_that_looks_like_markup_is_printed_as_it_is(text: str) -> None:
    document = card_document(changed("easy", text=text, stop=text, safety=(text,), title=text, word=("slip", text)), "easy", "A4", CardOrder("1"))
    assert read_pages(document)[0].replace(" ", "").count(text.replace(" ", "")) == 5


# -- words and pictures
@pytest.mark.parametrize("paper", PRINTED)
def test_pictures_of_a_set_are_alike_and_large_enough(paper: str) -> None:
    for level in LEVELS:
        found = [frame(card) for card in cards(card_document(kit(), level, paper))]
        assert len({(round(b[1], 6), round(b[3], 6)) for b in found}) == 1
        left, top, right, foot = found[0]
        field = {"A4": 128, "Letter": 119}[paper]
        assert (left, right) == pytest.approx((0, 84))
        assert foot - top >= (field * LEAST_PICTURE if level == "easy" else LEAST_ADVANCED_MM)
        assert foot - top <= field * 0.53


def test_an_easy_picture_covers_more_than_half_of_an_a4_card() -> None:
    _, top, _, foot = frame(cards(card_document(kit(), "easy", "A4"))[0])
    assert (foot - top) / 128 > 0.5


def test_a_format_that_is_not_there_is_refused() -> None:
    with pytest.raises(ValueError, match="4, 2, 1"):
        formats_for("plain", 3)


def test_left_handed_cards_mirror_the_action_alone() -> None:
    right, left = (card_document(kit(), "easy", "A4", CardOrder(left_handed=hand)) for hand in (False, True))
    assert read_pages(left) == read_pages(right)
    assert left.pages[0].items != right.pages[0].items
    for one, other in zip(cards(right), cards(left), strict=True):
        assert (frame(one), text_boxes(one)[:4]) == (frame(other), text_boxes(other)[:4])


def test_inches_are_printed_in_sixteenths() -> None:
    said = card_words(cards(card_document(kit(ROOM + "units: in\n"), "easy", "Letter"))[0])
    assert re.search(r"this thick: 5[/⁄]16", said)
