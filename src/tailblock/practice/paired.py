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

    from tailblock.network.arrays import FloatArray, IndexArray

_DRAWS = 1999  # of all instruments anew


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
    fewer. The interval is that of the ratio over pairs drawn anew (see `interval`).

    Parameters
    ----------
    ours, theirs
        When each instrument is done, infinite if it never is.

    >>> sooner([1.0, 2.0, 3.0], [2.0, 4.0, inf])
    Sooner(many=2, ours=2.0, theirs=4.0, ratio=0.5, low=0.5, high=0.5)
    """
    pairs = np.array([ours, theirs])
    found = _as_many(pairs)
    if found is None:
        return None
    again = (_as_many(pairs[:, drawn]) for drawn in redrawn(len(ours)))
    low, high = interval([_ratio(*one[1:]) for one in again if one])
    return Sooner(*found, _ratio(*found[1:]), low, high)


def redrawn(count: int) -> IndexArray:
    """Return which of so many instruments are drawn anew, with repeats: a row for each draw."""
    return np.random.default_rng(0).integers(count, size=(_DRAWS, count))


def interval(drawn: Sequence[float] | FloatArray) -> tuple[float, float]:
    """Return the 95 % interval of a figure, from that figure of instruments drawn anew.

    Source: B. Efron and R. J. Tibshirani, An Introduction to the Bootstrap, 1993, chapter 13, the
    percentile interval (from memory).

    >>> interval([1.0, 2.0, inf])
    (1.0, inf)
    """
    low, high = np.quantile(drawn, [0.025, 0.975], method="inverted_cdf")
    return float(low), float(high)


def _as_many(pairs: FloatArray) -> tuple[int, float, float] | None:
    """Return how many are compared, and when ours and theirs are that many; None if none can be."""
    many = min((pairs.shape[1] + 1) // 2, int(np.isfinite(pairs[1]).sum()))
    ours, theirs = np.sort(pairs, axis=1)[:, many - 1].tolist()
    return (many, ours, theirs) if many else None


def _ratio(ours: float, theirs: float) -> float:
    if theirs:
        return ours / theirs
    return inf if ours else 1.0
