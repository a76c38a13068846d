"""What stands beside the lines of a stencil sheet: how large it is before it is drawn, and where it then lies."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st

from lessonkit.drawing.items import Group, Item, TextLine
from lessonkit.layout.stencils.facts import Facts
from lessonkit.layout.stencils.panels import Panel, fact_label, full_label

texts = st.text("abcdefgh   ", min_size=1, max_size=60).map(lambda text: f"A{text}".strip())
sizes = st.tuples(st.integers(1, 999).map(lambda mm: f"{mm} mm"), texts)


@st.composite
def facts(draw: st.DrawFn) -> Facts:
    lines, kept = (tuple(draw(st.lists(texts, min_size=2, max_size=4))) for _ in range(2))
    return Facts(draw(texts), "A", draw(texts), "1", "wet", tuple(draw(st.lists(sizes, max_size=3))), lines, kept, "clay", (), (), False, False)


def text_of(items: tuple[Item, ...]) -> list[str]:
    found: list[str] = []
    for item in items:
        found += text_of(item.items) if isinstance(item, Group) else [item.text] if isinstance(item, TextLine) else []
    return found


@given(facts(), st.booleans())
@settings(max_examples=30, deadline=None)
def test_centred_or_not_a_label_is_as_large_and_says_the_same(told: Facts, named: bool) -> None:
    """So one that is to be centred tells whether there is room for either."""

    def seen(panels: tuple[Panel, ...]) -> list[tuple[float, float, list[str]]]:
        return [(panel.wide_mm, panel.tall_mm, text_of(panel.draw())) for panel in panels]

    assert seen(full_label(told, True, named)) == seen(full_label(told, False, named))
    assert seen(fact_label(told, True)) == seen(fact_label(told, False))
