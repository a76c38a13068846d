"""Test bars against ASTM C326's definitions, a published bar and scipy."""

from __future__ import annotations

import numpy as np
import pytest
from scipy import stats

from lessonkit.clay.bars import Bar, measured, t_quantile


def test_a_published_bar() -> None:
    """150 wet, 144 dry, 141 bisque, 133 fired (common practice): 4 % drying, 7.64 % firing of the dry length, 11.33 % in all,
    not the 12.7 % that its page states over the fired length."""
    bar = Bar(150, 144, 141, 133)
    assert bar.drying == pytest.approx(0.04)
    assert bar.firing == pytest.approx(11 / 144)
    assert bar.total == pytest.approx(0.1133, abs=5e-5)
    assert bar.drying is not None
    assert bar.firing is not None
    assert 1 - (1 - bar.drying) * (1 - bar.firing) == pytest.approx(bar.total)


def test_an_unfinished_bar_says_nothing_of_its_end() -> None:
    bar = Bar(100, 94)
    assert (bar.firing, bar.total) == (None, None)


@pytest.mark.parametrize("freedom", [1, 2, 3, 4, 5, 9, 10, 29, 100])
@pytest.mark.parametrize("probability", [0.5, 0.9, 0.975, 0.995])
def test_t_quantiles_against_scipy(probability: float, freedom: int) -> None:
    assert t_quantile(probability, freedom) == pytest.approx(stats.t.ppf(probability, freedom), abs=1e-9)


def test_the_next_piece() -> None:
    """mean ± t s √(1 + 1/n), by numpy and scipy."""
    values = [0.118, 0.121, 0.120, 0.123]
    found = measured(values)
    assert found.mean == pytest.approx(np.mean(values))
    assert found.spread == pytest.approx(stats.t.ppf(0.975, 3) * np.std(values, ddof=1) * np.sqrt(1 + 1 / 4))


def test_the_interval_holds_as_often_as_it_says() -> None:
    """Of many draws of five bars and one more, the one more lies inside about 95 times in 100."""
    draws = np.random.default_rng(7).normal(0.12, 0.004, (2000, 6))
    inside = 0
    for *bars, after in draws.tolist():
        found = measured(bars)
        assert found.spread is not None
        inside += abs(after - found.mean) <= found.spread
    assert 0.935 <= inside / 2000 <= 0.965


def test_two_bars_have_no_spread() -> None:
    assert measured([0.12, 0.13]).spread is None
    with pytest.raises(ValueError, match="no bar"):
        measured([])
