"""How the parts of one learner lie on the slab that the room can roll."""

from __future__ import annotations

from itertools import combinations
from math import pi

import pytest
from shapely import Polygon, box

from lessonkit.layout.stencils.document import stencil_document
from lessonkit.layout.stencils.ground import Ground
from lessonkit.planning.nests import MOST_PARTS, Nest, nests
from lessonkit.units import MM_PER_INCH
from lessonkit.writers.pdf import write_pdf
from tests.layout.read_back import says, sheets
from tests.lessons_for_tests import POT, ROOM, kit_of
from tests.shapes_for_tests import flat, lesson
from tests.stencil_pages_for_tests import lines_of


def room(wide: str, long: str) -> str:
    return ROOM + f"slab: {{wide: {wide}, long: {long}}}\n"


def found(text: str, rolled: str) -> tuple[Nest, ...]:
    return nests(kit_of(text, rolled))


def test_parts_lie_apart_and_inside_the_margin() -> None:
    """A wall and its base, 5 mm apart for the needle and 10 mm from the torn edge; offcut is what is left of the whole slab."""
    (nest,) = found(POT, room("300 mm", "400 mm"))
    outlines = [Polygon(lying.shape.outline) for lying in nest.lying]
    assert len(outlines) == 2 * nest.learners
    inner = box(10, 10, 290, 390).buffer(0.001)
    assert all(inner.covers(outline) for outline in outlines)
    assert min(a.distance(b) for a, b in combinations(outlines, 2)) > 4.99
    one = pi * (80 / 0.88 - 6) * (95 / 0.88 - 6) + pi / 4 * (80 / 0.88) ** 2  # strip on the wall's middle, and disc
    assert nest.offcut == pytest.approx(1 - nest.learners * one / (300 * 400), abs=0.001)


def test_a_known_count_on_a_known_slab() -> None:
    """Discs of 100 mm with 5 mm between and a margin of 10 mm: 2 x 5 in straight rows on 12 x 24 in (304.8 x 609.6 mm), since
    2 x 100 + 5 + 20 = 225 <= 304.8 < 330 and 5 x 100 + 4 x 5 + 20 = 540 <= 609.6 < 645; rows set into each other may gain
    some, but never more than the area allows."""
    text = flat("circle: {across: 88 mm}").replace("- {name: boat,", "- {name: boat, count: 1,")
    (nest,) = found(text, room("12 in", "24 in"))
    assert nest.learners >= 10
    assert nest.learners * pi / 4 * 105**2 * 2 * 3**0.5 / pi <= (12 * MM_PER_INCH - 15) * (24 * MM_PER_INCH - 15) * 1.15
    assert not nest.more


def test_several_slabs_for_one_learner() -> None:
    text = lesson(*(f"flat: {{outline: {{rectangle: {{wide: {wide} mm, tall: 160 mm}}}}}}" for wide in (150, 160)))
    (nest,) = found(text, room("220 mm", "240 mm"))
    assert (nest.learners, nest.slabs, len(nest.lying)) == (1, 2, 1)
    assert nest.offcut == pytest.approx(1 - (150 + 160) * 160 / 0.88**2 / (2 * 220 * 240), abs=0.001)


def test_each_clay_and_thickness_has_its_own_slab() -> None:
    text = lesson("flat: {outline: {circle: {across: 80 mm}}}", "thickness: 8 mm, flat: {outline: {circle: {across: 80 mm}}}",
                  "clay: white low-fire, flat: {outline: {circle: {across: 80 mm}}}")  # fmt: skip
    assert [(nest.clay, nest.thickness_mm) for nest in found(text, room("400 mm", "600 mm"))] == [
        ("buff mid-fire", 6), ("buff mid-fire", 8), ("white low-fire", 6)]  # fmt: skip


def test_small_parts_are_not_counted_beyond_use() -> None:
    """Of beads a slab is enough for more learners than anybody lays out: the sheet says so, and claims no offcut."""
    text = lesson("count: 8, flat: {outline: {circle: {across: 12 mm}}}")
    kit = kit_of(text, room("300 mm", "400 mm"))
    (nest,) = nests(kit)
    assert nest.more
    assert nest.learners == MOST_PARTS // 8
    (sheet,) = sheets(write_pdf(stencil_document(kit, "A4")))
    assert says(sheet.text, "A slab of 300 mm x 400 mm is enough for more than 3 learners.")
    assert "offcut" not in sheet.text


def test_nothing_is_said_where_nobody_knows_the_slab_or_no_slab_is_rolled() -> None:
    assert nests(kit_of(POT)) == ()
    assert found(lesson("pinch: {across: 80 mm, tall: 40 mm, ball: 180 g, measured: outside}"), room("300 mm", "400 mm")) == ()
    assert found(flat("circle: {across: 300 mm}"), room("300 mm", "400 mm")) == ()
    coil = lesson("coil_pot: {across: 110 mm, tall: 100 mm, coil: 10 mm, measured: outside}")
    (nest,) = found(coil.replace("technique: slab", "technique: coil"), room("300 mm", "400 mm"))
    assert {lying.letter for lying in nest.lying} == {"A"}, "its base, and not the gauge of card"


def test_the_nest_is_drawn_to_scale_on_a_stencil_sheet() -> None:
    """Longer side across, 56 mm, and the share of its area that is grey is what is not offcut."""
    kit = kit_of(POT, room("300 mm", "400 mm"))
    (nest,) = nests(kit)
    pages = stencil_document(kit, "A4").pages
    drawn = [line for page in pages for line, _, layer in lines_of(page) if layer == "nest" and line.is_ring]
    slab, *parts = sorted((Polygon(line.coords) for line in drawn), key=lambda shape: -shape.area)
    left, top, right, foot = slab.bounds
    assert (right - left, foot - top) == pytest.approx((56, 42), abs=0.01)
    assert 1 - sum(part.area for part in parts) / slab.area == pytest.approx(nest.offcut, abs=0.002)
    text = " ".join(sheet.text for sheet in sheets(write_pdf(stencil_document(kit, "A4"))))
    assert says(text, f"{round(nest.offcut * 100)} % of it is offcut.")


ONE = ("circle: {across: 60 mm}", "circle: {across: 150 mm}", "rectangle: {wide: 130 mm, tall: 180 mm}", "rectangle: {wide: 150 mm, tall: 200 mm}")


@pytest.mark.parametrize("text", [POT, *map(flat, ONE)])
def test_what_is_seen_beforehand_to_have_no_room_changes_no_sheet(text: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """All is tried where the ground never says at once that a size fits nowhere."""
    kit = kit_of(text, room("300 mm", "400 mm"))
    usual = stencil_document(kit, "A4")
    monkeypatch.setattr(Ground, "fits", lambda *_: True)
    assert stencil_document(kit, "A4") == usual
