"""A chance known from so many trials: the beta distribution of what it may be.

In: shapes of a beta distribution. Out: its cumulative distribution and its quantiles.
"""

from __future__ import annotations

from math import exp, lgamma, log, log1p

_ENOUGH = 1e-15
_TERMS = 10_000
_FARTHEST = 700.0  # log-odds beyond which exp() ends


def beta_share(x: float, a: float, b: float) -> float:
    """Return the probability that a beta variable with shapes a, b is at most x (0 to 1).

    The continued fraction of the regularised incomplete beta function, evaluated by the modified
    method of Lentz. Source: NIST Digital Library of Mathematical Functions, 8.17.22 (from memory).

    >>> round(beta_share(0.3, 1, 1), 12), round(beta_share(0.5, 2, 2), 12)
    (0.3, 0.5)
    """
    if x <= 0.0 or x >= 1.0:
        return float(x >= 1.0)
    if x > (a + 1.0) / (a + b + 2.0):  # the fraction converges fast on this side only
        return 1.0 - beta_share(1.0 - x, b, a)
    front = exp(lgamma(a + b) - lgamma(a) - lgamma(b) + a * log(x) + b * log1p(-x)) / a
    tiny = 1e-300
    value, numerator, denominator = 1.0, 1.0, 0.0
    for term in range(_TERMS):
        m = term // 2
        if term == 0:
            part = 1.0
        elif term % 2:
            part = -(a + m) * (a + b + m) * x / ((a + 2 * m) * (a + 2 * m + 1))
        else:
            part = m * (b - m) * x / ((a + 2 * m - 1) * (a + 2 * m))
        denominator = 1.0 / (1.0 + part * denominator or tiny)
        numerator = 1.0 + part / numerator or tiny
        value *= numerator * denominator
        if abs(1.0 - numerator * denominator) < _ENOUGH:
            break
    return front * (value - 1.0)


def beta_quantile(share: float, a: float, b: float) -> float:
    """Return the x below which a beta variable with shapes a, b lies with probability `share`.

    By halving the log-odds of x, so that it is as exact near 0 and 1 as in the middle.

    >>> round(beta_quantile(0.95, 1, 1), 12)
    0.95
    """
    low, high = -_FARTHEST, _FARTHEST
    while high - low > 1e-12 * max(1.0, abs(low)):
        middle = (low + high) / 2.0
        if beta_share(_chance(middle), a, b) < share:
            low = middle
        else:
            high = middle
    return _chance((low + high) / 2.0)


def _chance(log_odds: float) -> float:
    return 1.0 / (1.0 + exp(-log_odds))
