"""Three-point estimates: a duration told as low, likely and high, as a distribution.

In: three numbers of one unit. Out: mean, variance and draws of the beta distribution that is used
with such estimates (PERT).

The beta distribution on [low, high] with shapes 1 + 4 (likely - low) / (high - low) and
1 + 4 (high - likely) / (high - low) has its mode at `likely` and exactly the mean
(low + 4 likely + high) / 6 of D. G. Malcolm, J. H. Roseboom, C. E. Clark and W. Fazar, "Application
of a technique for research and development program evaluation", Operations Research 7 (1959),
646-669 (from memory). Its variance is that of this beta distribution, not the round
((high - low) / 6)^2 of the paper.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import NDArray

_SHAPE = 4.0  # the weight of the likely value in the mean


def three_point_mean(low: float, likely: float, high: float) -> float:
    """Return the mean (low + 4 likely + high) / 6, in the unit of the three.

    >>> three_point_mean(2, 3.5, 6)
    3.6666666666666665
    """
    return (low + _SHAPE * likely + high) / (_SHAPE + 2.0)


def three_point_variance(low: float, likely: float, high: float) -> float:
    """Return the variance (mean - low) (high - mean) / 7, in the square of the unit of the three.

    A beta distribution with shapes a and b on [0, 1] has the variance m (1 - m) / (a + b + 1), m
    being its mean; here a + b = 6.

    >>> three_point_variance(0, 3, 6), three_point_variance(2, 2, 2)
    (1.2857142857142858, 0.0)
    """
    above_low = (_SHAPE * (likely - low) + (high - low)) / (_SHAPE + 2.0)
    below_high = (_SHAPE * (high - likely) + (high - low)) / (_SHAPE + 2.0)
    return above_low * below_high / (_SHAPE + 3.0)


def three_point_draws(
    low: float, likely: float, high: float, count: int, generator: np.random.Generator
) -> NDArray[np.float64]:
    """Return `count` independent draws in the unit of the three.

    >>> three_point_draws(2, 2, 2, 3, np.random.default_rng(0))
    array([2., 2., 2.])
    """
    width = high - low
    if width == 0.0:
        return np.full(count, float(low))
    first = 1.0 + _SHAPE * (likely - low) / width
    second = 1.0 + _SHAPE * (high - likely) / width
    return low + width * generator.beta(first, second, count)
