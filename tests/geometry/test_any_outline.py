"""Any size at all for any outline: a sound shape as large as asked, or a GeometryError; never anything else."""

from __future__ import annotations

import math
from collections.abc import Callable

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from lessonkit.geometry import ornaments, outlines
from lessonkit.geometry.shape import Shape, bounds
from tests.geometry.soundly import assert_size, assert_sound, made

usual = st.floats(2, 600)
odd = st.sampled_from([0.0, -1.0, 0.001, 0.0011, 1e-9, 5e-324, 1e5, 1e6, 1e300, math.inf, -math.inf, math.nan])
sizes = st.one_of(usual, usual, usual, odd)
counts = st.integers(-1, 40)

Maker = Callable[..., Shape]
OUTLINES: dict[str, tuple[Maker, tuple[st.SearchStrategy[object], ...]]] = {
    "circle": (outlines.circle, (sizes,)),
    "ellipse": (outlines.ellipse, (sizes, sizes)),
    "rectangle": (outlines.rectangle, (sizes, sizes, st.one_of(st.just(0.0), sizes))),
    "polygon": (outlines.polygon, (counts, sizes)),
    "flats": (lambda n, a: outlines.polygon(n, across_flats=a), (counts, sizes)),
    "heart": (outlines.heart, (sizes, st.one_of(st.none(), sizes))),
    "arch": (outlines.arch, (sizes, sizes)),
    "flat arch": (lambda w, t, r: outlines.arch(w, t, rise=r), (sizes, sizes, sizes)),
    "egg": (ornaments.egg, (sizes, sizes, st.floats(-1, 1))),
    "teardrop": (ornaments.teardrop, (sizes, sizes)),
    "leaf": (ornaments.leaf, (sizes, sizes)),
    "scalloped": (ornaments.scalloped, (counts, sizes, st.one_of(st.none(), sizes))),
    "petals": (ornaments.petals, (counts, sizes, sizes)),
    "star": (ornaments.star, (counts, sizes, sizes)),
    "star ratio": (ornaments.star_ratio, (counts, counts, sizes)),
    "shield": (ornaments.shield, (sizes, sizes, st.one_of(st.none(), sizes))),
    "moon": (ornaments.crescent, (sizes, sizes)),
    "gable": (ornaments.gable, (sizes, sizes, st.one_of(st.none(), sizes))),
    "waved": (ornaments.waved, (sizes, sizes, counts, sizes)),
    "waved twice": (lambda w, t, n, d: ornaments.waved(w, t, n, d, both=True), (sizes, sizes, counts, sizes)),
}
AS_ASKED = {"ellipse", "rectangle", "arch", "flat arch", "egg", "teardrop", "leaf", "shield", "gable", "waved", "waved twice"}


@pytest.mark.parametrize("name", OUTLINES)
@given(data=st.data())
@settings(max_examples=30, deadline=None)
def test_any_sizes(name: str, data: st.DataObject) -> None:
    make, strategies = OUTLINES[name]
    given_sizes = [data.draw(strategy) for strategy in strategies]
    shape = made(lambda: make(*given_sizes))
    if shape is None:
        return
    assert_sound(shape)
    left, bottom, right, top = bounds(shape)
    assert left + right == pytest.approx(0, abs=1e-9 * max(1, right))
    assert bottom + top == pytest.approx(0, abs=1e-9 * max(1, top))
    if name in AS_ASKED:
        assert_size(shape, given_sizes[0], given_sizes[1])  # type: ignore[arg-type]
    elif name in ("circle", "heart"):
        assert right - left == pytest.approx(given_sizes[0], rel=1e-9)
    elif name == "flats":
        assert top - bottom == pytest.approx(given_sizes[1], rel=1e-9)
