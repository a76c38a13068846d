"""Any size at all for any built form, and any question about any shape: sound parts, or a GeometryError; never anything else."""

from __future__ import annotations

import math
from collections.abc import Callable
from itertools import combinations

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from lessonkit.geometry import boxes, coils, developments, dishes, outlines
from lessonkit.geometry.balance import balance_line_x, hanging_places
from lessonkit.geometry.combining import rounded
from lessonkit.geometry.flat_part import FlatPart
from lessonkit.geometry.shape import Shape, grown, is_valid, largest_free_disc, moved, turned, widest_free_box, with_opening
from lessonkit.geometry.soundness import edge_distance, inner_corners, narrow_necks, thin_tips, thinnest_border
from lessonkit.geometry.stencils import bridged, is_symmetrical, with_needle_allowance
from tests.geometry.soundly import assert_sound, made
from tests.geometry.test_shape import SHAPES

odd = st.sampled_from([0.0, -1.0, 0.001, 1e-9, 5e-324, 9999.0, 1e6, 1e300, math.inf, math.nan])
sizes = st.one_of(st.floats(20, 400), st.floats(20, 400), st.floats(20, 400), odd)
slabs = st.one_of(st.floats(3, 12), st.floats(3, 12), st.floats(3, 12), odd)
maybe = st.one_of(st.none(), sizes)
gaps = st.one_of(st.just(0.0), st.floats(0, 4), odd)
measured = st.sampled_from(["outside", "inside"])
joint = st.sampled_from(["butt", "lapped"])
base = st.sampled_from(["under", "inside", "none"])
corner = st.sampled_from(["butt", "mitred"])
counts = st.integers(-1, 30)
leans = st.one_of(st.floats(-60, 60), odd)

solid = {"tall_mm": sizes, "thickness_mm": slabs}
wraps = {"measured": measured, "base": base, "joint": joint}
Strategies = dict[str, st.SearchStrategy[object]]
FORMS: dict[str, tuple[Callable[..., object], Strategies]] = {
    "cylinder": (
        developments.cylinder,
        {"across_mm": sizes, **solid, **wraps},
    ),
    "oval": (
        developments.oval_cylinder,
        {"wide_mm": sizes, "deep_mm": sizes, **solid, **wraps},
    ),
    "cone": (
        developments.cone,
        {"bottom_mm": sizes, "top_mm": sizes, **solid, **wraps},
    ),
    "box": (
        boxes.box,
        {"wide_mm": sizes, "deep_mm": sizes, **solid, "measured": measured, "corner": corner, "base": base,
         "lid": st.booleans(), "lid_gap_mm": gaps},
    ),
    "many-sided box": (
        boxes.many_sided_box,
        {"sides": counts, "across_mm": maybe, "across_flats_mm": maybe, **solid, "lean_deg": leans, "base": base},
    ),
    "gabled box": (
        boxes.gable_box,
        {"wide_mm": sizes, "deep_mm": sizes, "eaves_mm": sizes, **solid, "corner": corner,
         "overhang_mm": gaps, "lid_gap_mm": gaps, "flange_mm": maybe},
    ),
    "dish": (dishes.dish, {"bottom_mm": sizes, "rim_mm": sizes, "tall_mm": sizes, "thickness_mm": slabs}),
    "bowl": (dishes.bowl, {"rim_mm": sizes, "tall_mm": sizes, "thickness_mm": slabs}),
    "tray": (
        dishes.tray,
        {"long_mm": sizes, "wide_mm": sizes, "tall_mm": sizes, "bottom_mm": sizes, "thickness_mm": slabs, "corner_mm": gaps},
    ),
    "wall pocket": (
        dishes.wall_pocket,
        {"wide_mm": sizes, "tall_mm": sizes, "deep_mm": sizes, "thickness_mm": slabs, "pouch_tall_mm": maybe},
    ),
    "gauge": (
        lambda h, a, b, c: coils.profile_gauge(((0.0, a), (h, b), (2 * h, c))),
        {"h": sizes, "a": sizes, "b": sizes, "c": sizes},
    ),
}  # fmt: skip


@pytest.mark.parametrize("name", FORMS)
@given(data=st.data())
@settings(max_examples=30, deadline=None)
def test_any_sizes_of_a_form(name: str, data: st.DataObject) -> None:
    make, strategies = FORMS[name]
    given_sizes = {key: data.draw(strategy, label=key) for key, strategy in strategies.items()}
    form = made(lambda: make(**given_sizes))
    if form is None:
        return
    parts = (form,) if isinstance(form, FlatPart) else form
    assert isinstance(parts, tuple)
    names = [part.name for part in parts]
    assert len(set(names)) == len(names)
    for part in parts:
        assert_sound(part.shape)
        assert part.count >= 1
        assert all(not math.isnan(value) for _, value in part.sizes)
        grown_a_little = shapely.Polygon(part.shape.outline).buffer(0.0101)  # marks start on the true curve
        for line in [edge.line for edge in part.edges] + [mark.line for mark in part.marks]:
            assert len(line) >= 2
            assert grown_a_little.covers(shapely.LineString(line))
    assert_letters_pair(parts)


def assert_letters_pair(parts: tuple[FlatPart, ...]) -> None:
    """Every letter stands on at least two edges, counting a part as often as it is cut (a pocket-less wall has but its seam)."""
    letters = [edge.letter for part in parts for edge in part.edges for _ in range(part.count) if edge.letter]
    assert all(letters.count(letter) >= 2 for letter in letters)


# --- any question about any shape ---


@st.composite
def shapes(draw: st.DrawFn) -> Shape:
    """One of the known shapes, turned and moved, perhaps with an opening somewhere."""
    shape = SHAPES[draw(st.sampled_from(sorted(SHAPES)))]
    shape = moved(turned(shape, draw(st.floats(0, 360))), draw(st.floats(-50, 50)), draw(st.floats(-50, 50)))
    if draw(st.booleans()):
        x, y, radius = largest_free_disc(shape)
        opening = outlines.rectangle(radius * draw(st.floats(0.1, 1.3)), radius * draw(st.floats(0.1, 1.3)), 0)
        turn = draw(st.floats(0, 90))
        return made(lambda: with_opening(shape, moved(turned(opening, turn), x, y))) or shape
    return shape


@given(shapes(), st.floats(0.5, 40))
@settings(max_examples=25, deadline=None)
def test_any_question(shape: Shape, mm: float) -> None:
    assert is_valid(shape)
    clay = shapely.Polygon(shape.outline, shape.holes)
    for neck in narrow_necks(shape, mm):
        assert neck.wide_mm < mm
        assert clay.buffer(1e-6).covers(shapely.LineString([neck.start, neck.end]))
        assert clay.boundary.distance(shapely.Point(neck.middle)) == pytest.approx(neck.wide_mm / 2, rel=3e-3)
    if not narrow_necks(shape, mm):  # then clay less half of it all round neither falls apart nor lets openings run together
        left = grown(shape, 0.03 - mm / 2)
        assert len(left) <= 1
        assert not left or len(left[0].holes) == len(shape.holes)
    for place, reach in thin_tips(shape, mm):
        assert reach > 0
        assert clay.boundary.distance(shapely.Point(place)) < 1e-6
    assert all(0 <= corner.angle_deg <= 160 and corner.radius_mm < mm for corner in inner_corners(shape, mm))
    border = thinnest_border(shape)
    assert (border is None) == (not shape.holes)
    if border:
        between = min(a.distance(b) for a, b in combinations([clay.exterior, *clay.interiors], 2))
        assert border.wide_mm == pytest.approx(between, abs=0.02)
    x, y, radius = largest_free_disc(shape)
    assert edge_distance(shape, x, y).wide_mm == pytest.approx(radius, abs=1e-6)
    assert widest_free_box(shape, radius * 0.9, radius * 0.9) is not None
    assert balance_line_x(shape) == pytest.approx(clay.centroid.x)
    is_symmetrical(shape)
    for call in (
        lambda: with_needle_allowance(shape, mm),
        lambda: bridged(shape, 2, mm),
        lambda: rounded(shape, outside_mm=mm, inside_mm=mm),
        lambda: hanging_places(shape, 1, mm),
        lambda: hanging_places(shape, 2, mm, mm),
    ):
        made(call)
    for piece in (*grown(shape, mm), *grown(shape, -mm)):
        assert is_valid(piece)
