"""Cards with more words than they have room for: nothing is lost, clipped or shrunk."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from lessonkit.drawing.items import Document, TextLine
from lessonkit.layout.card_choice import chosen_deck, doubtful_papers
from lessonkit.layout.card_deck import LEAST_PICTURE, CardError
from lessonkit.layout.card_order import CardFormat, CardOrder
from lessonkit.layout.cards import card_document
from tests.drawings_for_tests import shown
from tests.layout.card_reading import LEVELS, PRINTED, card_words, cards, changed, frame, kit, overlapping, read_pages, text_boxes, words
from tests.lessons_for_tests import FRAME, POT, kit_of


def test_a_long_title_takes_two_lines_and_lowers_its_picture() -> None:
    first, *others = cards(card_document(changed("easy", title="Roll out one wide slab"), "easy", "A4"))
    assert frame(first)[1] > frame(others[0])[1] + 9
    assert frame(first)[3] - frame(first)[1] == pytest.approx(frame(others[0])[3] - frame(others[0])[1])
    title = [b for b in text_boxes(first) if b[4] - b[2] > 5]
    assert [b[0] for b in title] == ["1", "Roll out one", "wide slab"]
    assert title[1][1] == title[2][1]


def test_c08_a_step_of_120_words_sends_the_whole_set_to_larger_cards() -> None:
    text = words(120)
    document = card_document(changed("easy", text=text), "easy", "A4")
    assert document.pages[0].wide_mm < document.pages[0].tall_mm
    assert len(cards(document)) == len(document.pages) == 5
    said = card_words(cards(document)[0])
    assert re.findall(r"w\d{4}", said) == text.split()


SLAB = ("slab", "Clay that was rolled flat, as thick as the sticks are. It is cut with a needle.")


def words_card(level: str, paper: str, index: int = 0, **changes: Any) -> tuple[list[str], Document]:
    document = card_document(changed(level, index, **changes), level, paper)
    return [card_words(card) for card in cards(document)], document


@pytest.mark.parametrize("paper", PRINTED)
@pytest.mark.parametrize("level", LEVELS)
def test_a_word_without_room_moves_to_a_card_of_words_and_the_set_stays_four_to_the_sheet(level: str, paper: str) -> None:
    text = "Roll it, turn it and flip it over. " * (2 if level == "easy" else {"A4": 9, "Letter": 6}[paper])
    said, document = words_card(level, paper, word=SLAB, text=text)
    assert document.pages[0].wide_mm < document.pages[0].tall_mm
    assert len({(round(card.x_mm), round(card.y_mm)) for card in cards(document)}) == 4
    *steps, last = said
    assert len(steps) == 5
    assert SLAB[1] not in steps[0]
    assert "slip: Clay and water." in steps[2]  # where there is room, it stays with its step
    assert last.index("Words") < last.index(f"slab: {SLAB[1]}") < last.index("slip: Clay and water.")
    assert document.pages[-1].name == "Step 5, Words"


def test_without_a_word_that_moves_there_is_no_card_of_words() -> None:
    said, _ = words_card("easy", "A4", word=("slab", "Flat clay."), stop="")
    assert len(said) == 5
    assert "slab: Flat clay." in said[0]


def test_room_comes_from_the_picture_then_the_air_then_the_word_then_a_larger_card() -> None:
    tops, heights, counts, turned = [], [], [], []
    for lines in (1, 2, 3, 4, 5):
        _, document = words_card("easy", "A4", text="\n".join(["Roll it out."] * lines), word=("slab", "Flat."))
        _, top, _, foot = frame(cards(document)[1])
        tops.append(top)
        heights.append(foot - top)
        counts.append(len(cards(document)))
        turned.append(document.pages[0].wide_mm > document.pages[0].tall_mm)
    assert heights[0] > heights[1] >= 128 * LEAST_PICTURE
    assert tops[0] == tops[1] > tops[2] + 0.5
    assert counts == [5, 5, 5, 6, 5]
    assert turned == [False, False, False, False, True]


def test_more_words_than_a_card_holds_go_on_on_the_next() -> None:
    steps = [step._replace(word=(f"word{index}", words(30, f"{'abcde'[index]}"))) for index, step in enumerate(kit().steps["easy"])]
    document = card_document(replace(kit(), steps={**kit().steps, "easy": tuple(steps)}), "easy", "A4", CardOrder("4"))
    said = [card_words(card) for card in cards(document)]
    assert [text.count("Words, ") for text in said[5:]] == [2] * (len(said) - 5)  # heading and foot
    told = " ".join(said)
    assert all(told.count(f"{letter}{number:04d}") == 1 for letter in "abcde" for number in range(30))


def test_what_is_read_aloud_goes_on_too_if_it_is_long() -> None:
    document = card_document(changed("easy", safety=(words(200, "s"),)), "easy", "A4", CardOrder("4", reading="picture"))
    said = [card_words(card) for card in cards(document)]
    assert re.findall(r"s\d{4}", " ".join(said)) == words(200, "s").split()
    assert len(said) > 5
    assert [card for card in cards(document) if overlapping(card)] == []


def test_words_too_long_for_a_quarter_make_it_half_a_sheet() -> None:
    document = card_document(changed("easy", text="Roll on the sticks. " * 11), "easy", "Letter")
    assert [(page.wide_mm, page.tall_mm) for page in document.pages] == [(279.4, 215.9)] * 3
    assert len(cards(document)) == 5
    assert document.pages[0].name == "Steps 1 to 2"


@pytest.mark.parametrize("paper", PRINTED)
@pytest.mark.parametrize("asked", [None, "4"])
@pytest.mark.parametrize("level", LEVELS)
def test_c08_a_step_of_4000_words_goes_on_with_every_word_once(level: str, asked: CardFormat | None, paper: str) -> None:
    text = words(4000)
    document = card_document(changed(level, 1, text=text), level, paper, CardOrder(asked))
    pages = read_pages(document)
    assert re.findall(r"w\d{4}", " ".join(pages)) == text.split()
    several = [card for card in cards(document) if "step 2 of 5" in card_words(card)]
    for number, card in enumerate(several, 1):
        said = card_words(card)
        assert f"Step 2, {number} of {len(several)}" in said
        assert f"step 2 of 5, {number} of {len(several)}" in said
        assert "Needles go back in the cork." in said
        assert overlapping(card) == []
    assert "Cut the ring" in card_words(several[0])
    smallest = min(item.size_pt for page in document.pages for item, *_ in shown(page.items) if isinstance(item, TextLine))
    assert smallest >= 8


@pytest.mark.parametrize("lines", range(2, 14))
def test_c10_title_and_safety_stay_with_the_start_of_the_step(lines: int) -> None:
    text = "\n".join(f"w{i:04d} is a line" for i in range(lines))
    document = card_document(changed("easy", 1, text=text, safety=("Do not sand dry clay.",)), "easy", "A4", CardOrder("4"))
    mine = [card for card in cards(document) if re.search("w00", card_words(card)) or "Step 2, " in card_words(card)]
    assert "Cut the ring" in card_words(mine[0])
    assert len(re.findall("w00", card_words(mine[0]))) >= 2
    assert all("Do not sand dry clay." in card_words(card) for card in mine)
    counts = [card_words(card).count("is a line") for card in mine]
    assert sum(counts) == lines
    assert 1 not in counts


@pytest.mark.parametrize("field", ["stop", "early", "choose", "good", "title"])
def test_any_part_may_be_too_long_for_a_card(field: str) -> None:
    text = words(300)
    document = card_document(changed("advanced", **{field: text}), "advanced", "Letter", CardOrder("4"))
    assert re.findall(r"w\d{4}", " ".join(read_pages(document))) == text.split()
    assert [card for card in cards(document) if overlapping(card)] == []


def test_a_safety_note_too_long_to_repeat_comes_first_and_once() -> None:
    document = card_document(changed("easy", safety=(words(200, "s"),), text=words(30)), "easy", "A4", CardOrder("4"))
    said = " ".join(read_pages(document))
    assert re.findall(r"[sw]\d{4}", said) == [*words(200, "s").split(), *words(30).split()]


def test_a_very_long_word_is_broken_not_clipped() -> None:
    long = "Schlickerauftragewerkzeughalterung" * 6
    said = "".join(read_pages(card_document(changed("easy", text=f"Add {long} now."), "easy", "A4", CardOrder("1"))))
    assert f"Add{long}now." in said.replace("-", "").replace(" ", "")
    quarters = cards(card_document(changed("easy", text=f"Add {long} now."), "easy", "A4", CardOrder("4")))
    assert max(box[3] for card in quarters for box in text_boxes(card)) <= 84.01


def test_a_title_that_leaves_no_room_is_refused_by_name() -> None:
    with pytest.raises(ValueError, match="step 1, “RoRoRo"):
        card_document(changed("easy", title="Ro" * 300), "easy", "A4", CardOrder("4"))


_TAILS = st.lists(st.text("abcdefghijklmnopqrstuvwxyzABCäöüß0123456789", max_size=24), min_size=1, max_size=60)


@settings(max_examples=30, deadline=None)
@given(
    st.fixed_dictionaries({"title": _TAILS, "text": _TAILS}, optional={"stop": _TAILS, "good": _TAILS, "early": _TAILS}),
    st.sampled_from(PRINTED),
    st.sampled_from([None, "4", "2", "1"]),
)
def test_whatever_she_writes_stands_on_the_cards_once_and_in_order(tails: dict[str, list[str]], paper: str, asked: CardFormat | None) -> None:
    marks = {field: field[:2].upper() for field in tails}  # letters that no tail has
    written = {field: [f"{marks[field]}{i:03d}{tail}" for i, tail in enumerate(mine)] for field, mine in tails.items()}
    full = changed("advanced", 1, **{field: " ".join(mine) for field, mine in written.items()})
    document = card_document(full, "advanced", paper, CardOrder(asked))
    said = " ".join(map(card_words, cards(document)))
    for field, mine in written.items():
        assert re.findall(rf"{marks[field]}\d{{3}}", said) == [word[:5] for word in mine]
        assert all(word in said.replace(" ", "").replace("-", "") for word in mine)
    for card in cards(document):
        assert overlapping(card) == []


@settings(max_examples=40, deadline=None)
@given(
    st.integers(1, 90),
    st.integers(0, 30),
    st.sampled_from(LEVELS),
    st.sampled_from([("A4", "Letter"), ("Tabloid", "A3", "Letter", "A4")]),
    st.sampled_from([None, "4", "2", "1", "large"]),
)
def test_only_papers_on_which_a_card_may_have_no_room_are_doubtful(
    text: int, title: int, level: str, papers: tuple[str, ...], asked: CardFormat | None
) -> None:
    full, order = changed(level, 2, text=words(text), title="Hm " * title + "Join"), CardOrder(asked)
    doubtful = doubtful_papers(full, level, papers, order)
    assert doubtful == [paper for paper in papers if doubtful_papers(full, level, [paper], order)]
    refused = set()
    for paper in papers:
        try:
            chosen_deck(full, level, paper, order).cards()
        except CardError:
            refused.add(paper)
    assert refused <= set(doubtful)


def test_the_decks_that_a_check_has_tried_change_no_card_and_are_no_other_lessons() -> None:
    one, other = changed("easy", 2, text=words(60)), changed("easy", 2, text=words(12))
    before = [card_document(each, "easy", "Letter", CardOrder()) for each in (one, other)]
    twin = changed("easy", 2, text=words(60))
    for each in (one, other, twin):
        doubtful_papers(each, "easy", ("A4", "Letter"))
    assert [card_document(each, "easy", "Letter", CardOrder()) for each in (other, one, twin)] == [before[1], before[0], before[0]]
    assert before[0] != before[1]


def test_a_pinched_pot_shows_no_size_to_cut() -> None:
    """Its circles are to compare a ball (56 mm wide for 180 g) and a rim with: a size beside one would be cut."""
    form = "pinch: {across: 80 mm, tall: 40 mm, ball: 180 g, measured: outside}"
    pinched = POT.replace("cylinder: {across: 80 mm, tall: 95 mm, measured: outside}", form).replace("trace", "hole")
    said = [card_words(cards(card_document(kit_of(lesson), "advanced", "A4"))[0]) for lesson in (pinched, FRAME.replace("trace", "hole"))]
    assert "56" not in said[0]
    assert "182" in said[1].replace("It is 182", "")
