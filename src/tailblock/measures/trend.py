"""A straight line through readings of several days, and the day on which it crosses a limit.

In: days, values and their standard uncertainties (all values in one unit). Out: a `Trend`; from it
and a limit a `Crossing` with its uncertainty. Any unit will do: nothing here is a length.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import inf, sqrt
from typing import TYPE_CHECKING

from tailblock.measures.limits import within

if TYPE_CHECKING:
    from collections.abc import Sequence

COVERAGE = 2.0  # standard uncertainties; about 95 %


@dataclass(frozen=True, slots=True)
class Trend:
    """A line `level + slope (day - centre)` and the standard uncertainties of both [unit, unit/d].

    At `centre`, the weighted mean of the days, level and slope are independent. `scatter` is the
    factor by which the uncertainties were raised because the readings scatter more than they say.
    """

    centre: float
    level: float
    slope: float
    u_level: float
    u_slope: float
    scatter: float

    def at(self, day: float) -> tuple[float, float]:
        """Return the value of the line on a day and its standard uncertainty [unit]."""
        away = day - self.centre
        u = sqrt(self.u_level**2 + (away * self.u_slope) ** 2)
        return self.level + self.slope * away, u

    @property
    def moves(self) -> bool:
        """Return whether the slope differs from none by more than twice its uncertainty."""
        return abs(self.slope) > COVERAGE * self.u_slope


@dataclass(frozen=True, slots=True)
class Crossing:
    """The day on which a line crosses a limit, and between which days that lies to about 95 %."""

    day: float
    earliest: float
    latest: float


def trend(days: Sequence[float], values: Sequence[float], u: Sequence[float]) -> Trend:
    """Return the line through readings by weighted least squares, weights 1/u^2.

    With W = sum w, centre t0 = sum w t / W: level = sum w y / W, slope = sum w (t - t0) y / S,
    S = sum w (t - t0)^2, u_level = 1/sqrt(W), u_slope = 1/sqrt(S). If the readings scatter more
    than their uncertainties say (chi^2 over n - 2 above 1), both are raised by its root.

    Parameters
    ----------
    days, values, u
        Three or more readings: day, value and standard uncertainty [d, unit, unit], u above 0.

    Raises
    ------
    OutOfRange
        Fewer than three readings, all on one day, or an uncertainty that is not above 0.

    Source: P. R. Bevington and D. K. Robinson, Data Reduction and Error Analysis for the Physical
    Sciences, 3rd ed. 2003, section 6.3 (from memory); the factor: R. T. Birge, Physical Review 40,
    1932 (from memory).

    >>> line = trend([0, 1, 2], [1.0, 2.0, 3.0], [0.1, 0.1, 0.1])  # worked here
    >>> round(line.slope, 12), round(line.level, 12), round(line.u_slope, 6)
    (1.0, 2.0, 0.070711)
    """
    within("readings", len(days), 3, inf)
    for one in u:
        within("uncertainty", one, 1e-300, inf)
    weights = [1.0 / one**2 for one in u]
    total = sum(weights)
    centre = sum(w * t for w, t in zip(weights, days, strict=True)) / total
    away = [t - centre for t in days]
    spread = sum(w * t**2 for w, t in zip(weights, away, strict=True))
    within("days_between", max(days) - min(days), 1e-9, inf)
    level = sum(w * y for w, y in zip(weights, values, strict=True)) / total
    slope = sum(w * t * y for w, t, y in zip(weights, away, values, strict=True)) / spread
    left = [y - level - slope * t for t, y in zip(away, values, strict=True)]
    chi = sum(w * r**2 for w, r in zip(weights, left, strict=True)) / (len(days) - 2)
    scatter = max(1.0, sqrt(chi))
    return Trend(centre, level, slope, scatter / sqrt(total), scatter / sqrt(spread), scatter)


def crossing(line: Trend, limit: float) -> Crossing | None:
    """Return when a line crosses a limit, None where its slope could as well be none.

    The days t for which |level + slope (t - t0) - limit| <= k u(t), k = 2, are those between the
    roots of a quadratic; they are an interval if and only if the slope differs from none by more
    than k of its uncertainty.

    Parameters
    ----------
    line
        The trend.
    limit
        What it runs into [unit].

    Source: E. C. Fieller, Journal of the Royal Statistical Society B 16, 1954 (from memory).

    >>> line = trend([0, 100, 200], [2.0, 2.5, 3.0], [0.05, 0.05, 0.05])  # worked here
    >>> found = crossing(line, 3.5)
    >>> round(found.day), found.earliest < 300 < found.latest
    (300, True)
    """
    if not line.moves:
        return None
    short = limit - line.level
    square = line.slope**2 - (COVERAGE * line.u_slope) ** 2
    middle = line.slope * short / square
    rest = (short**2 - (COVERAGE * line.u_level) ** 2) / square
    half = sqrt(max(0.0, middle**2 - rest))
    return Crossing(
        line.centre + short / line.slope,
        line.centre + middle - half,
        line.centre + middle + half,
    )
