from __future__ import annotations

import re
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from lessonkit.drawing.fonts import CAPITAL, width_mm
from lessonkit.drawing.typesetting import Block, Span, part, set_lines, set_text, split

POINT_MM = 25.4 / 72
WORDS = st.text(alphabet="abcdefgILMxyz0189,.?!;<&>é\u2610", min_size=1, max_size=14)
TEXTS = st.lists(st.builds(Span, st.lists(WORDS, min_size=1, max_size=9).map(" ".join), st.booleans()), max_size=4)


def lines_of(block: Block) -> list[str]:
    return ["".join(span.text for span in line) for line in block.lines]


def lines(text: str, wide_mm: float, size_pt: float = 12, even: bool = True) -> list[str]:
    return lines_of(set_text([Span(text)], wide_mm, size_pt, size_pt * 1.3, even))


def widest(block: Block) -> float:
    return max(sum(width_mm(span.text, block.size_pt, span.bold) for span in line) for line in block.lines)


@settings(max_examples=60, deadline=None)
@given(TEXTS, st.floats(8, 120), st.booleans())
def test_every_letter_once_in_order_with_its_weight_and_no_line_too_wide(spans: list[Span], wide_mm: float, even: bool) -> None:
    block = set_text(spans, wide_mm, 12, 16, even)
    # hyphens are ours alone here: the alphabet has none
    given_letters = [(c, span.bold) for span in spans for c in span.text if not c.isspace()]
    set_letters = [(c, span.bold) for line in block.lines for span in line for c in span.text if not c.isspace() and c != "-"]
    assert set_letters == given_letters
    assert all(line == line.strip() for line in lines_of(block))
    if block.lines:
        assert widest(block) <= wide_mm + 1e-6
        assert block.wide_mm == pytest.approx(widest(block))


@settings(max_examples=60, deadline=None)
@given(TEXTS, st.floats(60, 150))
def test_joined_lines_give_the_text_back_where_every_word_fits(spans: list[Span], wide_mm: float) -> None:
    text = "".join(span.text for span in spans)
    if max((width_mm(word, 12, bold=True) for word in text.split()), default=0) < wide_mm:
        assert " ".join(lines_of(set_text(spans, wide_mm, 12, 16))) == text


@settings(max_examples=60, deadline=None)
@given(TEXTS, st.floats(25, 120))
def test_even_lines_are_as_few_as_full_ones_and_never_wider(spans: list[Span], wide_mm: float) -> None:
    even, full = set_text(spans, wide_mm, 12, 16), set_text(spans, wide_mm, 12, 16, even=False)
    assert len(even.lines) == len(full.lines)
    assert even.wide_mm <= wide_mm + 1e-6


@settings(max_examples=60, deadline=None)
@given(st.lists(st.text(alphabet="abcdefgilmxyz", min_size=1, max_size=9), min_size=1, max_size=14).map(" ".join), st.floats(40, 120))
def test_one_sentence_is_set_in_the_narrowest_measure_for_its_lines(text: str, wide_mm: float) -> None:
    """Filling any narrower measure takes more lines."""
    block = set_text([Span(text)], wide_mm, 12, 16)
    longest_word = max(width_mm(word, 12) for word in text.split())
    narrower = block.wide_mm - 0.01
    if narrower > longest_word:
        assert len(lines(text, narrower, even=False)) > len(block.lines)


def plain_lines(text: str, wide_mm: float, size_pt: float) -> list[str]:
    """Every way to break is weighed, from each word on: fewest lines, ends of sentences inside, the widest, the squares, the shortest first."""
    words = [(word, number == len(row) - 1) for row in map(str.split, text.splitlines()) for number, word in enumerate(row)]
    best: list[tuple[tuple[int, int, int, int], list[str]]] = [((0, 0, 0, 0), [])]
    for first in reversed(range(len(words))):
        choices = []
        for last in range(first, len(words)):
            line = [word for word, _ in words[first : last + 1]]
            wide = round(width_mm(" ".join(line), size_pt) * 1e6)  # in whole numbers sums are the same in any order
            if (wide > wide_mm * 1e6 and last > first) or any(ends for _, ends in words[first:last]):
                break
            (lines, missed, widest, squares), below = best[first - last - 1]
            inside = sum(a.endswith(".") and b[0].isupper() for a, b in pairwise(line))
            choices.append(((lines + 1, missed + inside, max(widest, wide), squares + wide**2), [" ".join(line), *below]))
        best.append(min(choices, key=lambda choice: choice[0]))
    return best[-1][1]


@settings(max_examples=60, deadline=None)
@given(
    st.lists(st.lists(st.from_regex(r"[abilmwAW]{2,9}\.?", fullmatch=True), min_size=1, max_size=24).map(" ".join), max_size=4).map("\n".join),
    st.floats(40, 130),
    st.sampled_from([9.5, 12, 14]),
)
def test_breaks_are_those_of_weighing_every_way(text: str, wide_mm: float, size_pt: float) -> None:
    assert lines(text, wide_mm, size_pt) == plain_lines(text, wide_mm, size_pt)


@settings(max_examples=60, deadline=None)
@given(
    st.lists(st.sampled_from(["Wave Vase · step 1 of 8", "A4", "", " edge ", "two\nlines", "Buff\u00a0clay\u00a0", "\u2610 done"]), max_size=4),
    st.floats(12, 90),
)
def test_lines_that_need_no_breaking_are_set_as_text_is(given_lines: list[str], wide_mm: float) -> None:
    assert set_lines(given_lines, wide_mm, 8, 10) == set_text([Span("\n".join(given_lines))], wide_mm, 8, 10)


def test_breaks_at_the_ends_of_sentences_where_that_costs_no_line() -> None:
    assert lines("Scratch both sides. Add slip. Press each rivet for a slow three.", 84, 14) == [
        "Scratch both sides. Add slip.",
        "Press each rivet for a slow three.",
    ]
    text = "Trace both edges in three light passes with the needle upright, so that the ring keeps a square edge. Leave the middle in."
    assert len(lines(text, 84)) == len(lines(text, 84, even=False)) == 3
    assert lines(text, 84)[-1] == "keeps a square edge. Leave the middle in."


@pytest.mark.parametrize("text", ["Use approx. four coils now, e.g. thin", "Lift 1. Roll it out and turn it over"])
def test_a_full_stop_inside_a_sentence_is_no_end(text: str) -> None:
    block = set_text([Span(text)], 44, 12, 16)
    plain = set_text([Span(text.replace(".", ""))], 44, 12, 16)
    assert [line.replace(".", "") for line in lines_of(block)] == lines_of(plain)


@pytest.mark.parametrize(
    "together",
    ["8 mm", "12 %", "9 1/16 in", "1½ in", "4 x 6 in", "0.5 kg", "8\u201310 mm", "1060 °C", "2,5 cm", "no\u00a0break", '10 1/4 "'],
)
def test_a_number_and_its_unit_stay_on_one_line(together: str) -> None:
    for wide_mm in range(24, 60):
        found = lines(f"Roll it to {together} thick and no more than {together} wide", wide_mm)
        assert sum(line.count(together) for line in found) == 2, (wide_mm, found)


def test_written_spaces_are_kept_as_they_are() -> None:
    assert lines("Roll to 8 mm.  Cut it", 100) == ["Roll to 8 mm.  Cut it"]


def test_a_line_end_starts_a_new_line() -> None:
    assert lines("Needle in the cork.\nWash hands.\r\n\nSit down.\n", 100) == ["Needle in the cork.", "Wash hands.", "Sit down."]
    assert lines(" \n ", 100) == []


def test_a_long_word_is_broken_with_hyphens_between_letters_only() -> None:
    assert lines("earthenwarepottery 1234567890123456", 20) == [
        "earthen-",
        "warepott-",
        "ery",
        "12345678",
        "90123456",
    ]
    assert lines("low-fire-earthenware", 20) == ["low-fire-", "earthen-", "ware"]


def test_a_long_word_keeps_accents_on_their_letters() -> None:
    found = lines("e\u0301" * 30, 20)
    assert len(found) > 1
    assert not [line for line in found if line.startswith("\u0301")]
    assert "".join(found).replace("-", "") == "e\u0301" * 30


def test_a_block_with_a_broken_word_of_another_face_is_as_wide_as_its_lines() -> None:
    block = set_text([Span("0000000000<\u2610"), Span("000<\u26100000000 0000000000\u2610", True)], 53, 12, 16, even=False)
    assert block.wide_mm == pytest.approx(widest(block))


def test_a_size_wider_than_the_measure_is_parted_at_its_spaces() -> None:
    assert lines("9 1/16 in", 11) == ["9", "1/16", "in"]


def test_a_measure_narrower_than_a_letter_is_refused() -> None:
    with pytest.raises(ValueError, match="wider than the measure"):
        set_text([Span("Wedge")], 2, 12, 16)


def test_text_that_looks_like_markup_is_text() -> None:
    """Cases C05 and C07: no bold, nothing dropped."""
    text = '**Slip** <b>bold | R&D </b> <your own> <img src="http://127.0.0.1:9/x.png"/>'
    block = set_text([Span(text)], 300, 12, 16)
    assert lines_of(block) == [text]
    assert not any(span.bold for line in block.lines for span in line)


def test_c08_no_word_of_a_long_step_is_lost() -> None:
    words = [f"word{i}" for i in range(4000)]
    block = set_text([Span(" ".join(words))], 84, 14, 19)
    head, tail = split(block, 100)
    assert " ".join(lines_of(head) + lines_of(tail)).split() == words


def test_lines_are_placed_from_the_top_of_the_capitals() -> None:
    block = set_text([Span("Good when", True), Span(" a stick stands\non edge")], 200, 12, 15.5)
    assert block.tall_mm == pytest.approx((15.5 + CAPITAL * 12) * POINT_MM)
    bold, plain, second = block.at(10, 20)
    assert (bold.text, bold.bold, plain.text, plain.bold, second.text) == ("Good when", True, " a stick stands", False, "on edge")
    assert (bold.x_mm, bold.y_mm) == (10, pytest.approx(20 + CAPITAL * 12 * POINT_MM))
    assert (plain.x_mm, plain.y_mm) == (pytest.approx(10 + width_mm("Good when", 12, bold=True)), bold.y_mm)
    assert (second.x_mm, second.y_mm) == (10, pytest.approx(20 + block.tall_mm))


@pytest.mark.parametrize("size_pt", [7.3, 9.5, 10, 12, 14, 18.7])
def test_of_breaks_as_even_as_each_other_the_first_line_is_the_shortest(size_pt: float) -> None:
    """"thick and" + "long" is as wide as "thick" + "and long": the last digits of a sum must not decide."""
    text = "Roll the coils even, 10 mm thick and long enough to go around once."
    block = set_text([Span(text)], 80 * size_pt / 12, size_pt, size_pt * 1.25)
    assert ["".join(span.text for span in line) for line in block.lines] == ["Roll the coils even, 10 mm thick", "and long enough to go around once."]


def test_a_part_of_a_block_is_a_block() -> None:
    block = set_text([Span("one two three four five six")], 14, 12, 15)
    assert len(block.lines) > 3
    assert part(block, 0, len(block.lines)) is block
    assert part(block, 1, 3) == split(split(block, 3)[0], 1)[1]
    assert part(block, 2, 99) == split(block, 2)[1]
    assert (part(block, 9, 12).lines, part(block, 9, 12).tall_mm) == ((), 0)


def test_a_block_is_split_between_lines() -> None:
    block = set_text([Span("one\ntwo three\nfour")], 100, 12, 16)
    first, rest = split(block, 1)
    assert (lines_of(first), lines_of(rest)) == (["one"], ["two three", "four"])
    assert (first.tall_mm, rest.tall_mm) == (pytest.approx(CAPITAL * 12 * POINT_MM), pytest.approx((16 + CAPITAL * 12) * POINT_MM))
    assert first.wide_mm < rest.wide_mm == block.wide_mm
    assert split(block, 0)[0].tall_mm == 0
    with pytest.raises(ValueError, match=re.escape("3 lines cannot be split after 4")):
        split(block, 4)
