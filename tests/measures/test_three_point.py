"""Three-point estimates against the beta distribution of a general-purpose library."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from tailblock.measures.three_point import (
    three_point_draws,
    three_point_mean,
    three_point_variance,
)

CASES = [(2.0, 3.5, 6.0), (0.0, 1.0, 1.0), (1.0, 1.0, 2.0), (0.2, 0.3, 0.5)]
hours = st.floats(0.0, 100.0)


def beta(low: float, likely: float, high: float) -> stats.rv_continuous:
    width = high - low
    shapes = 1 + 4 * (likely - low) / width, 1 + 4 * (high - likely) / width
    return stats.beta(*shapes, loc=low, scale=width)


@pytest.mark.parametrize("case", CASES)
def test_mean_and_variance_are_those_of_the_beta_distribution(
    case: tuple[float, float, float],
) -> None:
    assert three_point_mean(*case) == pytest.approx(beta(*case).mean())
    assert three_point_variance(*case) == pytest.approx(beta(*case).var())


def test_the_mean_of_the_published_formula() -> None:
    # (a + 4 m + b) / 6, Malcolm et al. 1959 (from memory): a = 1, m = 2, b = 9
    assert three_point_mean(1, 2, 9) == 3.0


@pytest.mark.parametrize("case", CASES)
def test_draws_follow_the_distribution(case: tuple[float, float, float]) -> None:
    drawn = three_point_draws(*case, 5_000, np.random.default_rng(1))
    assert stats.kstest(drawn, beta(*case).cdf).pvalue > 0.001


@given(st.tuples(hours, hours, hours).map(sorted))
def test_draws_stay_between_low_and_high(three: list[float]) -> None:
    low, likely, high = three
    drawn = three_point_draws(low, likely, high, 20, np.random.default_rng(1))
    assert np.all((drawn >= low - 1e-9) & (drawn <= high + 1e-9))
    assert three_point_variance(low, likely, high) >= 0.0
