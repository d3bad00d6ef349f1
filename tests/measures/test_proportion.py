"""The beta distribution of a chance, against a general-purpose library."""

from __future__ import annotations

import pytest
from scipy import stats

from tailblock.measures.proportion import beta_quantile, beta_share

SHAPES = [(1.0, 1.0), (0.2, 519.8), (12.0, 8.0), (19.0, 1.0), (0.6, 19.4), (300.0, 221.0)]


@pytest.mark.parametrize("shape", SHAPES)
@pytest.mark.parametrize("x", [1e-6, 0.003, 0.1, 0.5, 0.7, 0.99])
def test_share(shape: tuple[float, float], x: float) -> None:
    assert beta_share(x, *shape) == pytest.approx(stats.beta.cdf(x, *shape), abs=1e-12)


@pytest.mark.parametrize("shape", SHAPES)
@pytest.mark.parametrize("share", [0.05, 0.5, 0.95])
def test_quantile(shape: tuple[float, float], share: float) -> None:
    ours = beta_quantile(share, *shape)
    assert ours == pytest.approx(stats.beta.ppf(share, *shape), rel=1e-9)


def test_ends() -> None:
    assert (beta_share(0.0, 2, 3), beta_share(1.0, 2, 3)) == (0.0, 1.0)
