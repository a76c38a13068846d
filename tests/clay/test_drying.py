"""Drying days and what clay dries on. All figures: common practice, no source; the law between t and t² is from memory."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from lessonkit.clay.drying import drying, ground, thickest_dry_mm


def test_days_by_thickness_and_joints() -> None:
    assert [drying(mm).days for mm in (3, 6, 6.5, 10, 12)] == [7, 7, 10, 10, 14]
    assert [drying(mm).least_days for mm in (6, 10, 12)] == [5, 7, 10]
    assert drying(6, joined=True).days == 14
    with pytest.raises(ValueError, match="no work is 0 mm thick"):
        drying(0)


def test_c38_thick_work_is_told_to_be_hollowed() -> None:
    thick = drying(20)
    assert thick.too_thick
    assert any("hollow it" in said for said in thick.assumptions)
    assert 14 * 20 / 13 < thick.days <= 14 * (20 / 13) ** 2 + 1  # between t and t²
    assert drying(20, own_days=10).days == 10
    assert drying(20, own_days=10).too_thick
    assert not drying(13).too_thick


def test_her_own_figures_go_first_and_it_is_said() -> None:
    table = [(10.0, 21), (6.0, 12)]
    assert [drying(mm, own=table).days for mm in (5, 6, 8, 12)] == [12, 12, 21, 14]
    assert "the room's own figure" in drying(8, own=table).assumptions[0]
    assert drying(8, own=table, own_days=9).days == 9
    assert "rule of thumb" in drying(8).assumptions[0]


@given(st.floats(1, 60), st.booleans())
def test_it_is_covered_then_turned_then_open_then_dry(thickness_mm: float, joined: bool) -> None:
    found = drying(thickness_mm, joined)
    assert 0 < found.turn <= found.uncover <= found.days
    assert found.least_days <= found.days
    assert drying(thickness_mm + 1, joined).days >= found.days


def test_the_thickest_work_that_is_dry() -> None:
    """After seven days only thin pieces qualify, up to 6 mm; seams are not dry before fourteen."""
    assert [thickest_dry_mm(days) for days in (6, 7, 9.9, 10, 13, 14)] == [None, 6, 6, 10, 10, 13]
    assert thickest_dry_mm(13, joined=True) is None
    assert thickest_dry_mm(28) == pytest.approx(13 * 2**0.5)
    assert thickest_dry_mm(9, own=[(6.0, 12)]) is None
    assert thickest_dry_mm(12, own=[(6.0, 12), (8.0, 14)]) == 6


@given(st.integers(7, 60))
def test_it_is_dry_by_the_same_rule(days: int) -> None:
    thickest = thickest_dry_mm(days)
    assert thickest is not None
    assert drying(thickest - 1e-6).days <= days + 1


@pytest.mark.parametrize("support", ["paper plate", "Plaster bat", "newspaper form", "canvas", "uncoated card", "unwaxed paper plate", "plywood"])
def test_what_drinks_water(support: str) -> None:
    assert ground(support).drinks is True


@pytest.mark.parametrize("support", ["waxed paper plate", "foam plate", "plastic board", "metal tray", "glossy card", "cake tin", "laminated board"])
def test_what_does_not_drink_water(support: str) -> None:
    found = ground(support)
    assert found.drinks is False
    assert "does not drink water" in found.reason


def test_what_nobody_knows() -> None:
    assert ground("a slate").drinks is None
