"""Jobs drawn from the joint distribution, for the quantiles of their hours.

In: rules, joint states of the faults, the hours of each piece of work, a generator. Out: which work
each job needs, its hours, quantiles with their standard errors, a histogram.
"""

from __future__ import annotations

from math import ceil, floor, log10, sqrt
from typing import TYPE_CHECKING

import numpy as np
import numpy.typing as npt

from tailblock.advice.hours.results import Quantile
from tailblock.measures.three_point import three_point_draws

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from tailblock.advice.hours.called import Terms
    from tailblock.knowledge.entries import Hours
    from tailblock.network.arrays import FloatArray

Bools = npt.NDArray[np.bool_]
_BARS = 24  # about so many bars of the histogram


def needed(terms: Mapping[str, Terms], there: Mapping[str, Bools], count: int) -> Bools:
    """Return which work each of `count` jobs needs: jobs x pieces of work.

    Parameters
    ----------
    there
        For each fault that decides about work whether a job has it.
    """
    work = np.zeros((count, len(terms)), dtype=np.bool_)
    for column, rule in enumerate(terms.values()):
        for term in rule:
            whole = np.ones(count, dtype=np.bool_)
            for fault in term:
                whole &= there[fault]
            work[:, column] |= whole
    return work


def hours_drawn(work: Bools, hours: Sequence[Hours], generator: np.random.Generator) -> FloatArray:
    """Return the hours of each job, the length of each piece of work drawn by itself."""
    total = np.zeros(len(work))
    for column, known in enumerate(hours):
        length = three_point_draws(known.low, known.likely, known.high, len(work), generator)
        total += np.where(work[:, column], length, 0.0)
    return total


def quantile(ordered: FloatArray, share: float) -> Quantile:
    """Return a quantile of independent draws, given in ascending order, with its standard error.

    The number of draws below a quantile is binomial, so that n p +- sqrt(n p (1 - p)) are the ranks
    of two draws that hold it between them about two times in three, whatever the distribution; half
    their distance is the standard error.

    Source: H. A. David and H. N. Nagaraja, Order Statistics, 3rd ed. 2003, section 7.1 (from
    memory).
    """
    n = len(ordered)
    spread = sqrt(n * share * (1.0 - share))
    below = max(floor(n * share - spread), 0)
    above = min(ceil(n * share + spread), n - 1)
    at = min(ceil(n * share) - 1, n - 1)
    error = float(ordered[above] - ordered[below]) / 2.0
    return Quantile(share, float(ordered[at]), error)


def histogram(drawn: FloatArray) -> tuple[tuple[float, ...], tuple[int, ...]]:
    """Return the edges of bars of a round width [h], and how many jobs fall into each."""
    low, high = float(drawn.min()), float(drawn.max())
    width = _round_width((high - low) / _BARS)
    first = floor(low / width)
    bars = max(ceil(high / width) - first, 1)
    edges = (first + np.arange(bars + 1)) * width
    counts, _ = np.histogram(drawn, edges)
    return tuple(edges.round(6).tolist()), tuple(counts.tolist())


def _round_width(least: float) -> float:
    """Return the smallest of 1, 2 and 5 times a power of ten that is no less.

    >>> _round_width(0.3), _round_width(0.0)
    (0.5, 0.1)
    """
    if least <= 0.0:
        return 0.1
    power = 10.0 ** floor(log10(least))
    return next(power * step for step in (1, 2, 5, 10) if power * step >= least)
