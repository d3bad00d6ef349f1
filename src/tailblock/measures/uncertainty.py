"""From a gauge to a standard uncertainty, and from there to how well each level fits.

In: resolution and repeatability of a gauge, values with standard uncertainties, the limits between
levels (all in one unit). Out: standard uncertainties, likelihoods of the levels, and the chance
that a gauge reports one level where another is true.

Source: JCGM 100:2008 (GUM), clauses 4.2.3, 5.1.2, F.2.2.1.
"""

from __future__ import annotations

from itertools import pairwise
from math import erfc, exp, hypot, inf, isfinite, pi, sqrt
from typing import TYPE_CHECKING, Literal

from tailblock.measures.limits import OutOfRange

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping, Sequence

Side = Literal["below", "above"]
ROUNDING = 1e-14  # of a value: some tens of units in the last place of a float
NEGLIGIBLE = 1e-9  # a level less than this as likely as the best one counts as impossible


def gauge_uncertainty(resolution: float, repeatability: float, readings: int = 1) -> float:
    """Return the standard uncertainty of the mean of some readings with one gauge.

    `u^2 = resolution^2 / 12 + repeatability^2 / n`: rounding to the gauge's step is the same each
    time, the hand's spread averages out.

    Parameters
    ----------
    resolution
        Finest step of the gauge [unit of the reading].
    repeatability
        Standard deviation of a careful hand's repeated readings [same unit].
    readings
        How many were averaged [1].

    Source: JCGM 100:2008, F.2.2.1 (step) and 4.2.3 (mean).

    >>> round(gauge_uncertainty(0.5, 0.5), 6)  # worked here
    0.520416
    """
    if not (0 <= resolution < inf and 0 <= repeatability < inf and readings >= 1):
        raise ValueError("resolution and repeatability are finite, not negative; readings >= 1")
    return hypot(resolution / sqrt(12), repeatability / sqrt(readings))


def propagate(
    function: Callable[..., float], values: Mapping[str, float], u: Mapping[str, float]
) -> tuple[float, float]:
    """Return a function's value and its standard uncertainty, inputs being independent.

    Each input is moved by its own uncertainty up and down, and half the whole change counts: the
    central difference, exact where the function is linear in each input. The two changes are
    added by size, so that an input at a kink (the difference of two equal readings, without its
    sign) still counts. Where one side leaves the formula's range the other counts alone.

    Parameters
    ----------
    function
        Takes `values` as keyword arguments.
    values, u
        Values and standard uncertainties by argument; an argument without `u` is exact.

    Raises
    ------
    OutOfRange
        The values, or both steps of one of them, are outside the function's range.

    Source: JCGM 100:2008, 5.1.2 (equation 10) and the numerical form in the note to 5.1.3 (that
    note from memory).

    >>> value, u = propagate(lambda a, b: a - b, {"a": 3.0, "b": 1.0}, {"a": 0.3, "b": 0.4})
    >>> value, round(u, 12)  # worked here
    (2.0, 0.5)
    """
    value = function(**values)
    return value, hypot(*changes(function, values, u).values())


def changes(
    function: Callable[..., float], values: Mapping[str, float], u: Mapping[str, float]
) -> dict[str, float]:
    """Return by how much each input's own uncertainty moves a function, as `propagate` counts it.

    Their squares are the parts of the variance. A change of less than a few units in the last place
    of a float is rounding, not uncertainty, and counts as none.

    Parameters
    ----------
    function, values, u
        As for `propagate`.

    Raises
    ------
    OutOfRange
        As `propagate`.

    >>> changes(lambda a, b: a / a + b, {"a": 3.0, "b": 1.0}, {"a": 0.3, "b": 0.4})  # worked here
    {'a': 0.0, 'b': 0.3999999999999999}
    """
    value = function(**values)
    found = {name: _change(function, values, name, step, value) for name, step in u.items() if step}
    rounding = ROUNDING * max((abs(value), *map(abs, found.values())))
    return {name: change if change > rounding else 0.0 for name, change in found.items()}


def _change(
    function: Callable[..., float],
    values: Mapping[str, float],
    name: str,
    step: float,
    value: float,
) -> float:
    """Return how far the function moves, on average, if one input moves by a step either way."""
    moves = []
    refused = None
    for moved in (values[name] + step, values[name] - step):
        try:
            moves.append(abs(function(**{**values, name: moved}) - value))
        except OutOfRange as error:
            refused = error
    if refused and not moves:
        raise refused
    return sum(moves) / len(moves)


def phi(x: float) -> float:
    """Return the standard normal distribution function, to full precision in the lower tail.

    >>> phi(0.0)
    0.5
    """
    return erfc(-x / sqrt(2)) / 2


def _between(low: float, high: float) -> float:
    """Return the normal probability of an interval, computed in the tail where it is small."""
    return phi(high) - phi(low) if low + high < 0 else phi(-low) - phi(-high)


def level_likelihoods(
    edges: Sequence[float], y: float, u: float, on_edge: Sequence[Side] | None = None
) -> tuple[float, ...]:
    """Return how well each of consecutive levels fits a reading.

    `Phi((upper - y)/u) - Phi((lower - y)/u)` for the bands that the edges cut out of the line, the
    outer ones open; scaled to a maximum of 1, entries below 1e-9 set to 0.

    Parameters
    ----------
    edges
        Limits between the bands, ascending [unit of the reading]; n of them make n + 1 bands.
    y, u
        The reading and its standard uncertainty [same unit].
    on_edge
        For each edge the band that a value exactly on it belongs to, used if `u` is 0: `below` for
        an upper limit that is included (`up_to`, the default), `above` for a lower one (`down_to`).

    Returns
    -------
    tuple of n + 1 floats in [0, 1]

    Raises
    ------
    ValueError
        Edges that do not ascend, a reading that is not finite, a negative uncertainty.

    >>> level_likelihoods((0.5, 3.0), 0.5, 0.3)  # worked here
    (1.0, 1.0, 0.0)
    >>> level_likelihoods((0.5, 3.0), 0.5, 0.0)
    (1.0, 0.0, 0.0)
    """
    _check_edges(edges)
    if not (isfinite(y) and 0 <= u < inf):
        raise ValueError("a reading is finite and its uncertainty is not negative")
    if u == 0:
        sides = on_edge or ("below",) * len(edges)
        band = sum(
            y > edge or (y == edge and side == "above")
            for edge, side in zip(edges, sides, strict=True)
        )
        return tuple(float(place == band) for place in range(len(edges) + 1))
    bounds = [-inf, *((edge - y) / u for edge in edges), inf]
    raw = [_between(low, high) for low, high in pairwise(bounds)]
    best = max(raw)
    return tuple(x / best if x / best >= NEGLIGIBLE else 0.0 for x in raw)


def reported_given_level(edges: Sequence[float], u: float) -> tuple[tuple[float, ...], ...]:
    """Return the chance that a gauge reports each level, for each true level.

    The true value is taken as uniform within its level, the end levels as wide as their
    neighbours; a lone edge has none, and both sides of it are as wide as the edge is far from zero
    (or 6 u, if it lies on zero). With `G(z) = z Phi(z) + phi(z)`, the integral of `Phi`, the chance
    to report at most the band that ends at `h` from the true band `a..b` is
    `u (G((h - a)/u) - G((h - b)/u)) / (b - a)`.

    Parameters
    ----------
    edges
        Limits between the bands, ascending [unit of the reading].
    u
        Standard uncertainty of one reading [same unit].

    Returns
    -------
    (n + 1) x (n + 1) rows, row the true level, column the reported one; each row adds up to 1

    Raises
    ------
    ValueError
        Edges that do not ascend, a negative uncertainty.

    >>> rows = reported_given_level((0.0, 1.0), 0.1)  # worked here: u / sqrt(2 pi) leaks a side
    >>> [round(x, 4) for x in rows[1]]
    [0.0399, 0.9202, 0.0399]
    """
    _check_edges(edges)
    if not 0 <= u < inf:
        raise ValueError("an uncertainty is finite and not negative")
    size = len(edges) + 1
    if u == 0 or size == 1:
        return tuple(tuple(float(row == column) for column in range(size)) for row in range(size))
    bounds = closed_bands(edges, u)
    return tuple(_reported(low, high, edges, u) for low, high in pairwise(bounds))


def closed_bands(edges: Sequence[float], u: float) -> list[float]:
    """Return the limits of all bands, the end ones closed at the width of their neighbours.

    A lone edge has none: both sides of it are as wide as it is far from zero (or 6 u, if it lies on
    zero).

    Parameters
    ----------
    edges
        Limits between the bands, ascending [unit of the reading]; at least one.
    u
        Standard uncertainty of one reading [same unit].

    >>> closed_bands((1.0, 3.0, 8.0), 0.2)
    [-1.0, 1.0, 3.0, 8.0, 13.0]
    """
    if len(edges) == 1:
        first = last = abs(edges[0]) or 6 * u
    else:
        first, last = edges[1] - edges[0], edges[-1] - edges[-2]
    return [edges[0] - first, *edges, edges[-1] + last]


def _reported(low: float, high: float, edges: Sequence[float], u: float) -> tuple[float, ...]:
    """Return the chances of the reported bands if the true value is uniform from low to high."""
    width = (high - low) / u
    at_most = [
        0.0,
        *((_summed_phi((e - low) / u) - _summed_phi((e - high) / u)) / width for e in edges),
        1.0,
    ]
    return tuple(max(0.0, b - a) for a, b in pairwise(at_most))


def _summed_phi(z: float) -> float:
    """Return the integral of the normal distribution function up to z."""
    return z * phi(z) + exp(-z * z / 2) / sqrt(2 * pi)


def _check_edges(edges: Sequence[float]) -> None:
    if not all(map(isfinite, edges)) or any(a >= b for a, b in pairwise(edges)):
        raise ValueError("limits between levels are finite and ascend")
