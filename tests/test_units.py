"""What teachers write as sizes, weights, times and shares, and how it is printed back."""

from __future__ import annotations

import pickle
from collections.abc import Callable

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from lessonkit.units import (
    MM_PER_INCH,
    MM_PER_POINT,
    NO_BREAK,
    PAPERS,
    UnitError,
    doubt,
    lengths_shown,
    number,
    paper_named,
    parse_density,
    parse_length,
    parse_minutes,
    parse_offset,
    parse_percent,
    parse_percent_range,
    parse_weight,
    show_for_hand,
    show_length,
    show_minutes,
    show_weight,
)

FIFTY = settings(max_examples=50, deadline=None)


@pytest.mark.parametrize(
    ("text", "mm"),
    [
        ("160 mm", 160),
        ("16 cm", 160),
        ("1,5 cm", 15),
        ("1.2 m", 1200),
        ("1 m 20 cm", 1200),
        (".5 in", 12.7),
        ("9 in", 228.6),
        ("9 IN.", 228.6),
        ("9 1/16 in", 230.1875),
        ("9-1/16 in", 230.1875),
        ('3/8"', 9.525),
        ("10¼ in", 260.35),
        ("2 ft", 609.6),
        ("2 feet 6 inches", 762),
        ("5'-3\"", 1600.2),
        ("5’ 3”", 1600.2),
        ("3''", 76.2),
        ("9\u00a0in", 228.6),
        ("9\u2009in", 228.6),
        ("9\u202f½\u200bin", 241.3),
    ],
)
def test_lengths_as_teachers_write_them(text: str, mm: float) -> None:
    length = parse_length(text)
    assert length.mm == pytest.approx(mm, abs=1e-9)
    assert length.text == text


@pytest.mark.parametrize(
    ("text", "mm"),
    [
        ('10 1/4"', 260.35),
        ("10-1/4 in", 260.35),
        ("5' 3\"", 1600.2),
        ("5′ 3″", 1600.2),
        ("5' 3/4\"", 1543.05),
        ("5/16 inch", 7.9375),
        ("1/4 inches", 6.35),
        ("11/4 in", 69.85),
    ],
)
def test_c22_fractions_and_feet(text: str, mm: float) -> None:
    assert parse_length(text).mm == pytest.approx(mm, abs=1e-9)


def test_c22_a_glued_whole_number_is_doubted() -> None:
    assert doubt("11/4 in") == "Did you mean 1 1/4 in?"
    assert doubt('21/16"') == "Did you mean 2 1/16 in?"
    assert doubt("115/16 in") == "Did you mean 1 15/16 in or 11 5/16 in?"
    assert doubt("5' 11/2\"") == "Did you mean 1 1/2 in?"


@pytest.mark.parametrize("text", ["1 1/4 in", "5/4 in", "15/16 in", "160 mm", "5' 3\"", "", "nonsense"])
def test_ordinary_measures_are_not_doubted(text: str) -> None:
    assert doubt(text) is None


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("6", "add mm, cm or in"),
        ("9 1/16", "add mm, cm or in"),
        ("0 mm", "more than 0"),
        ("0/16 in", "more than 0"),
        ("-5 mm", "more than 0"),
        ("1/0 in", "0 below its line"),
        ("12 m", "more than 3 m"),
        ("6 m", "more than 3 m"),
        ("3001 mm", "more than 3 m"),
        ("3 furlongs", "in mm, cm or in"),
        ("5 mm-3 mm", "expected a length"),
        ("10 in 254 mm", "expected a length"),
        ("5' 14\"", "expected a length"),
        ("1.5 1/2 in", "expected a length"),
        ("2 5/4 in", "Did you mean 3 1/4?"),
        ("1,000 mm", "two ways"),
        ("1e2 mm", "in mm, cm or in"),
        ("٣ mm", "expected a length"),
        ("", "found nothing"),
        ("\u00a0", "found nothing"),
        ("9" * 5000 + " mm", "expected a length"),
    ],
)
def test_c22_lengths_that_are_refused(text: str, says: str) -> None:
    with pytest.raises(UnitError) as caught:
        parse_length(text)
    assert says in str(caught.value)
    assert caught.value.what.endswith(".")
    assert caught.value.hint.endswith((".", "?"))
    assert len(str(caught.value)) < 200


@pytest.mark.parametrize(
    ("text", "mm"),
    [
        ('1½"', 38.1),
        ("½ in", 12.7),
        ("2 ⅜ in", 60.325),
        ("3⁄8 in", 9.525),
        ("1½”", 38.1),
        ("1-½ in", 38.1),
        ("6\u00a0mm", 6),
    ],
)
def test_c23_fraction_characters_are_added_not_multiplied(text: str, mm: float) -> None:
    length = parse_length(text)
    assert length.mm == pytest.approx(mm, abs=1e-9)
    assert length.text == text


@pytest.mark.parametrize("text", ["5 x 7 in", "5x7 in", "5 × 7 in", "5 in by 7 in"])
def test_c23_two_sizes_are_not_one_length(text: str) -> None:
    with pytest.raises(UnitError, match="one only"):
        parse_length(text)


@pytest.mark.parametrize(("text", "mm"), [("0 mm", 0), ("-20 mm", -20), ("−1/2 in", -12.7), ("+5 mm", 5), ("-9-1/16 in", -230.1875)])
def test_offsets_may_be_zero_or_negative(text: str, mm: float) -> None:
    assert parse_offset(text).mm == pytest.approx(mm, abs=1e-9)


@pytest.mark.parametrize("text", ["0", "--5 mm", "- mm", "-4 m"])
def test_offsets_that_are_refused(text: str) -> None:
    with pytest.raises(UnitError):
        parse_offset(text)


@pytest.mark.parametrize(("text", "share"), [("12", 0.12), ("12%", 0.12), ("12 %", 0.12), ("11,5 %", 0.115), ("11½ %", 0.115), ("0", 0)])
def test_c32_shares_as_fractions(text: str, share: float) -> None:
    assert parse_percent(text) == share


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("0.12", "Did you mean 12 %?"),
        ("0.115", "Did you mean 11.5 %?"),
        ("0.12 %", "Did you mean 12 %?"),
        ("0.9", "1 or more"),
        ("112", "under 40 %"),
        ("40", "under 40 %"),
        ("-5", "from 0"),
        ("12 mm", "in %"),
        ("twelve", "expected a percentage"),
    ],
)
def test_c32_shares_that_are_refused(text: str, says: str) -> None:
    with pytest.raises(UnitError) as caught:
        parse_percent(text)
    assert says in str(caught.value)


@pytest.mark.parametrize(
    ("text", "ends"),
    [
        ("11-13 %", (0.11, 0.13)),
        ("11–13 %", (0.11, 0.13)),
        ("11 % to 13 %", (0.11, 0.13)),
        ("12", (0.12, 0.12)),
        ("11-1/2 %", (0.115, 0.115)),
    ],
)
def test_a_range_of_shares(text: str, ends: tuple[float, float]) -> None:
    assert parse_percent_range(text) == ends


@pytest.mark.parametrize("text", ["13-11", "0.11-0.13", "12-", "-12", "30-50 %", "11-12-13"])
def test_ranges_that_are_refused(text: str) -> None:
    with pytest.raises(UnitError):
        parse_percent_range(text)


# The international pound of 1959 is 0.453 592 37 kg exactly (NIST Handbook 44, appendix C, from memory).
@pytest.mark.parametrize(
    ("text", "g"),
    [
        ("640 g", 640),
        ("1.2 kg", 1200),
        ("1 1/2 lb", 680.388555),
        ("25 lb", 11339.80925),
        ("8 oz", 226.796185),
        ("1 lb 8 oz", 680.388555),
    ],
)
def test_weights(text: str, g: float) -> None:
    weight = parse_weight(text)
    assert weight.g == pytest.approx(g, abs=1e-9)
    assert weight.text == text


@pytest.mark.parametrize(("text", "minutes"), [("6", 6), ("6 min", 6), ("90 s", 1.5), ("1 h 30 min", 90), ("1½ hours", 90), ("0", 0), ("7,5", 7.5)])
def test_minutes(text: str, minutes: float) -> None:
    assert parse_minutes(text) == minutes


@pytest.mark.parametrize("text", ["1.95", "1,95", "1.95 g/cm3", "1.95 g/cm³", "1.95 g/cc", "1950 kg/m3"])
def test_densities(text: str) -> None:
    assert parse_density(text) == 1.95


@pytest.mark.parametrize(
    ("parse", "text", "says"),
    [
        (parse_weight, "5", "add g, kg, lb or oz"),
        (parse_weight, "0 g", "more than 0"),
        (parse_weight, "3 mm", "in g, kg, lb or oz"),
        (parse_minutes, "1:30", "1 h 30 min"),
        (parse_minutes, "-1", "0 minutes or more"),
        (parse_minutes, "3 days", "min, s or h"),
        (parse_density, "1950", "between 1 and 3"),
        (parse_density, "0", "between 1 and 3"),
    ],
)
def test_other_measures_that_are_refused(parse: Callable[[str], object], text: str, says: str) -> None:
    with pytest.raises(UnitError) as caught:
        parse(text)
    assert says in str(caught.value)


@pytest.mark.parametrize(
    ("said", "inches"),
    [
        ("a slab of 4 mm", "a slab of 3/16 in (4 mm)"),
        ("12.7 x 25.4 x 76.2 mm", "1/2 in x 1 in x 3 in (12.7 x 25.4 x 76.2 mm)"),
        ("it is -5 mm, but", "it is -3/16 in (-5 mm), but"),
        ("near (-12, 40) mm from its middle", "near (-1/2 in, 1 9/16 in) from its middle"),
        ("“9 mm” is 19.05 mm", "“9 mm” is 3/4 in (19.05 mm)"),
        ("Round it (rounded: {inside: 3 mm}).", "Round it (rounded: {inside: 3 mm})."),  # she types it just so
        ("narrower than the needle, 0.5 mm", "narrower than the needle, 0.5 mm"),  # less than any sixteenth
        ("99 points, cone 6, 12 %", "99 points, cone 6, 12 %"),
    ],
)
def test_what_was_said_in_mm_is_shown_in_the_rooms_units(said: str, inches: str) -> None:
    assert lengths_shown(said, "mm") == said
    assert lengths_shown(said, "in").replace(NO_BREAK, " ") == inches


def test_a_place_is_shown_as_it_would_be_typed() -> None:
    assert lengths_shown("the outline crosses itself near (50, -3.5).", "mm") == "the outline crosses itself near (50 mm, -3.5 mm)."
    assert lengths_shown("the outline crosses itself near (50.8, 0).", "in").replace(NO_BREAK, " ") == "the outline crosses itself near (2 in, 0 in)."


def test_c02_papers_by_name() -> None:
    assert PAPERS[paper_named("a4")] == (210, 297)  # ISO 216
    assert PAPERS[paper_named("LETTER")] == (215.9, 279.4)  # ANSI/ASME Y14.1, size A
    assert PAPERS[paper_named("A3")] == (297, 420)
    assert PAPERS[paper_named("tabloid")] == (279.4, 431.8)  # size B


@pytest.mark.parametrize("text", ["Leter", "", "A44"])
def test_c02_an_unknown_paper_lists_them_all(text: str) -> None:
    with pytest.raises(UnitError) as caught:
        paper_named(text)
    assert all(name in caught.value.hint for name in PAPERS)


def test_an_error_can_be_sent_between_processes() -> None:
    error = UnitError("a is wrong.", "Write b.")
    again = pickle.loads(pickle.dumps(error))
    assert (again.what, again.hint, str(again)) == (error.what, error.hint, "a is wrong. Write b.")


def test_printing_lengths() -> None:
    assert show_length(181.818, "mm") == "181.8\u00a0mm"
    assert show_length(181.818, "mm", decimals=2) == "181.82\u00a0mm"
    assert show_length(181.818, "in") == "7\u00a03/16\u00a0in (181.8\u00a0mm)"
    assert show_for_hand(181.818, "mm") == "182\u00a0mm"
    assert show_for_hand(181.818, "in") == "7\u00a03/16\u00a0in"
    assert show_for_hand(182.5, "mm") == "183\u00a0mm"
    assert show_for_hand(MM_PER_INCH * 8 / 16, "in") == "1/2\u00a0in"
    assert show_for_hand(MM_PER_INCH * 1.99, "in") == "2\u00a0in"
    assert show_for_hand(0.2, "in") == "0\u00a0in"
    assert show_for_hand(-12.7, "in") == "-1/2\u00a0in"
    assert round(PAPERS["A4"][0] / MM_PER_POINT, 3) == 595.276  # as PDF readers give it


@pytest.mark.parametrize(
    ("value", "decimals", "text"),
    [
        (160.0, 1, "160"),
        (181.818, 1, "181.8"),
        (200, 0, "200"),
        (-0.01, 1, "0"),
        (1.005, 2, "1.01"),
        (2.5, 0, "3"),
        (0.1 + 0.2, 1, "0.3"),
    ],
)
def test_printing_numbers(value: float, decimals: int, text: str) -> None:
    assert number(value, decimals) == text


def test_printing_weights() -> None:
    assert show_weight(640, "mm") == "640\u00a0g"
    assert show_weight(999.6, "mm") == "1\u00a0kg"
    assert show_weight(1200, "mm") == "1.2\u00a0kg"
    assert show_weight(1200, "in") == "2.6\u00a0lb (1.2\u00a0kg)"
    assert show_weight(20, "in") == "0.7\u00a0oz (20\u00a0g)"


def test_minutes_are_shown_to_the_hundredth() -> None:
    assert [show_minutes(parse_minutes(text)) for text in ("6", "45 s", "50 s", "1 min 40 s", "1 h 30 min")] == ["6", "0.75", "0.83", "1.67", "90"]


@FIFTY
@given(st.floats(min_value=1, max_value=2999))
def test_what_is_printed_reads_back_within_half_a_step(mm: float) -> None:
    sixteenth = MM_PER_INCH / 16
    assert abs(parse_length(show_length(mm, "mm")).mm - mm) <= 0.05 + 1e-6
    assert abs(parse_length(show_for_hand(mm, "mm")).mm - mm) <= 0.5 + 1e-6
    assert abs(parse_length(show_for_hand(mm, "in")).mm - mm) <= sixteenth / 2 + 1e-6
    inches, metric = show_length(mm, "in").removesuffix(")").split(" (")
    assert inches == show_for_hand(mm, "in")
    assert metric == show_length(mm, "mm")


@FIFTY
@given(st.floats(min_value=-2999, max_value=2999))
def test_a_printed_offset_reads_back_with_its_sign(mm: float) -> None:
    assert abs(parse_offset(show_for_hand(mm, "in")).mm - mm) <= MM_PER_INCH / 32 + 1e-6


@FIFTY
@given(st.floats(min_value=10, max_value=50_000))
def test_a_printed_weight_reads_back_within_half_a_step(g: float) -> None:
    assert abs(parse_weight(show_weight(g, "mm")).g - g) <= (0.5 if g < 999.5 else 50) + 1e-6


PARSERS = [
    parse_length,
    parse_offset,
    parse_weight,
    parse_minutes,
    parse_density,
    parse_percent,
    parse_percent_range,
    paper_named,
]


def refusal(parse: Callable[[str], object], text: str) -> UnitError | None:
    try:
        parse(text)
    except UnitError as error:
        return error
    return None


@FIFTY
@given(st.one_of(st.text(), st.text(alphabet="0123456789 /½⁄.,-'\"minftcgkglboz%x⅟↉")), st.sampled_from(PARSERS))
def test_any_text_is_read_or_refused_in_words(text: str, parse: Callable[[str], object]) -> None:
    error = refusal(parse, text)
    assert error is None or (error.what.endswith(".") and error.hint)
    assert doubt(text) is None or "Did you mean" in str(doubt(text))
