"""What two ways of working differ by on the same instruments.

In: a figure of each instrument, done in one way and in the other. Out: `Difference`, or `Sooner`.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import inf
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Sequence

    from tailblock.network.arrays import FloatArray


@dataclass(frozen=True, slots=True)
class Difference:
    """A mean difference over the same instruments with the ends of its 95 % interval."""

    mean: float
    low: float
    high: float


def difference(ours: Sequence[float], theirs: Sequence[float]) -> Difference:
    """Return the mean of ours less theirs, pair by pair, with mean +- 1.96 standard errors.

    >>> difference([1.0, 2.0, 3.0], [2.0, 3.0, 4.0])
    Difference(mean=-1.0, low=-1.0, high=-1.0)
    """
    pairs = np.array(ours) - np.array(theirs)
    error = float(pairs.std(ddof=1)) / np.sqrt(len(pairs)) if len(pairs) > 1 else inf
    middle = float(pairs.mean())
    return Difference(middle, float(middle - 1.96 * error), float(middle + 1.96 * error))


@dataclass(frozen=True, slots=True)
class Sooner:
    """When as many instruments are done in one way as in the other, and the ratio of the times.

    `many` of them, after `ours` and after `theirs`; `low` and `high` end the ratio's 95 % interval.
    """

    many: int
    ours: float
    theirs: float
    ratio: float
    low: float
    high: float


def sooner(ours: Sequence[float], theirs: Sequence[float]) -> Sooner | None:
    """Return how soon ours has done as many as theirs has; None if theirs never does any.

    As many as half of all, which makes a ratio of medians, or as theirs ever does, if that is
    fewer. The interval is that of the ratio over instruments drawn anew, pair by pair.

    Parameters
    ----------
    ours, theirs
        When each instrument is done, infinite if it never is.

    Source of the interval: B. Efron and R. J. Tibshirani, An Introduction to the Bootstrap, 1993,
    chapter 13, percentiles (from memory).

    >>> sooner([1.0, 2.0, 3.0], [2.0, 4.0, inf])
    Sooner(many=2, ours=2.0, theirs=4.0, ratio=0.5, low=0.5, high=0.5)
    """
    pairs = np.array([ours, theirs])
    many = _comparable(pairs[1])
    if not many:
        return None
    at = np.sort(pairs, axis=1)[:, many - 1]
    dice = np.random.default_rng(0)
    again = (pairs[:, dice.integers(pairs.shape[1], size=pairs.shape[1])] for _ in range(_DRAWS))
    ratios = sorted(
        _ratio(*np.sort(drawn, axis=1)[:, count - 1])
        for drawn in again
        if (count := _comparable(drawn[1]))
    )
    low, high = (ratios[round(share * (len(ratios) - 1))] for share in (0.025, 0.975))
    return Sooner(many, float(at[0]), float(at[1]), _ratio(*at), low, high)


_DRAWS = 2000


def _comparable(times: FloatArray) -> int:
    """Return how many are compared: half of all, or as many as are ever done."""
    return min((len(times) + 1) // 2, int(np.isfinite(times).sum()))


def _ratio(ours: float, theirs: float) -> float:
    if theirs:
        return float(ours / theirs)
    return inf if ours else 1.0
