"""Letters that can't be printed as they were typed."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st

from lessonkit.pieces.letters import _is_plain, _letter_problems
from lessonkit.problems import Span
from lessonkit.source.tree import Scalar

ODD = st.sampled_from("é½☞אا٣\u0301\u20dd\ue000\u0378漢 \t")  # accented, signs, from the right, accents alone, nobody's, in no typeface


@given(st.text(st.one_of(ODD, st.characters(exclude_categories=["Cs"])), min_size=1, max_size=8))
@settings(max_examples=60, deadline=None)
def test_letters_that_are_plain_each_by_itself_are_plain_together(text: str) -> None:
    found = list(_letter_problems(Scalar(text, Span("lesson.yaml", 1, 1, 1, len(text) + 1))))
    assert all(map(_is_plain, text)) == (not found)
