"""How well probabilities foretold what then was seen.

In: pairs of a probability and what came of it. Out: a reliability table, the Brier score with its
decomposition, the logarithmic score.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from math import log, sqrt
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Sequence

Forecast = tuple[float, bool]  # a probability, and whether it turned out so

EDGES = (0.0, 0.05, 0.2, 0.4, 0.6, 0.8, 0.95, 1.0)  # between the rows of the table
_SUREST = 1e-12  # a probability of 0 that turns out true would cost without limit


@dataclass(frozen=True, slots=True)
class Row:
    """The forecasts from `low` to below `high`: their mean, the share that turned out so.

    `error` is the standard error of the share if the forecasts were right.
    """

    low: float
    high: float
    count: int
    said: float
    seen: float
    error: float


@dataclass(frozen=True, slots=True)
class Brier:
    """The Brier score and its parts: score = reliability - resolution + uncertainty + within.

    `reliability` is 0 if what was said in each row is what was seen there; `resolution` is large if
    the rows differ in what was seen; `uncertainty` belongs to the cases alone. `within` is what the
    rows hide, their forecasts not being equal.
    """

    score: float
    reliability: float
    resolution: float
    uncertainty: float
    within: float


def brier_score(forecasts: Sequence[Forecast]) -> float:
    """Return the mean squared difference of forecast and outcome, 0 (best) to 1.

    Source: G. W. Brier, "Verification of forecasts expressed in terms of probability", Monthly
    Weather Review 78 (1950), 1-3, in the form for one class (from memory).

    >>> brier_score([(1.0, True), (0.5, False)])
    0.125
    """
    return sum((said - seen) ** 2 for said, seen in forecasts) / len(forecasts)


def log_loss(forecasts: Sequence[Forecast]) -> float:
    """Return the mean of -ln of the probability of what was seen [nat], 0 (best) upward.

    Source: I. J. Good, "Rational decisions", Journal of the Royal Statistical Society B 14 (1952),
    107-114 (from memory).

    >>> round(log_loss([(0.5, True), (0.5, False)]), 3)
    0.693
    """
    return sum(-log(max(said if seen else 1 - said, _SUREST)) for said, seen in forecasts) / len(
        forecasts
    )


def reliability_table(
    forecasts: Sequence[Forecast], edges: Sequence[float] = EDGES
) -> tuple[Row, ...]:
    """Return the forecasts in rows; rows without any are left out. The last edge counts as within.

    >>> [(row.count, row.said, row.seen) for row in reliability_table([(0.9, True), (0.85, False)])]
    [(2, 0.875, 0.5)]
    """
    rows = []
    for low, high in pairwise(edges):
        within = [
            (said, seen)
            for said, seen in forecasts
            if low <= said < high or (said == high == edges[-1])
        ]
        if within:
            count = len(within)
            said = sum(one for one, _ in within) / count
            spread = sqrt(sum(one * (1 - one) for one, _ in within)) / count
            rows.append(Row(low, high, count, said, sum(s for _, s in within) / count, spread))
    return tuple(rows)


def brier_parts(forecasts: Sequence[Forecast], edges: Sequence[float] = EDGES) -> Brier:
    """Return the Brier score with its parts over the rows of the table.

    Source: A. H. Murphy, "A new vector partition of the probability score", Journal of Applied
    Meteorology 12 (1973), 595-600; the part within rows after D. B. Stephenson, C. A. S. Coelho and
    I. T. Jolliffe, "Two extra components in the Brier score decomposition", Weather and Forecasting
    23 (2008), 752-757 (both from memory).
    """
    score = brier_score(forecasts)
    rate = sum(seen for _, seen in forecasts) / len(forecasts)
    rows = reliability_table(forecasts, edges)
    n = len(forecasts)
    reliability = sum(row.count * (row.said - row.seen) ** 2 for row in rows) / n
    resolution = sum(row.count * (row.seen - rate) ** 2 for row in rows) / n
    uncertainty = rate * (1 - rate)
    within = score - (reliability - resolution + uncertainty)
    return Brier(score, reliability, resolution, uncertainty, within)
