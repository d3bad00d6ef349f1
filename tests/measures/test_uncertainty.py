"""Gauges, propagation and likelihoods of levels, against the GUM and independent programs."""

from __future__ import annotations

from math import sqrt
from typing import TYPE_CHECKING

import pytest
import uncertainties
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import integrate, special, stats
from uncertainties import umath

from tailblock.measures.limits import OutOfRange, within
from tailblock.measures.uncertainty import (
    gauge_uncertainty,
    level_likelihoods,
    phi,
    propagate,
    reported_given_level,
)

if TYPE_CHECKING:
    from tailblock.measures.uncertainty import Side


# JCGM 100:2008, F.2.2.1: u = 0.29 of the step (1/sqrt(12) = 0.28868).
@pytest.mark.parametrize(
    ("resolution", "repeatability", "readings", "u"),
    [
        (1.0, 0.0, 1, 0.288675),
        (0.5, 0.0, 1, 0.144338),
        (25.4 / 64, 0.0, 1, 0.114568),
        (0.0254, 0.0, 1, 0.0073323),
        (0.5, 0.5, 1, 0.520416),
        (25.4 / 64, 0.1, 1, 0.152072),
        (0.0, 0.3, 9, 0.1),  # clause 4.2.3: s / sqrt(n)
        (0.5, 0.5, 4, sqrt(0.25 / 12 + 0.25 / 4)),
        (0.0, 0.0, 1, 0.0),
    ],
)
def test_gauge(resolution: float, repeatability: float, readings: int, u: float) -> None:
    assert gauge_uncertainty(resolution, repeatability, readings) == pytest.approx(u, rel=1e-4)


def test_more_readings_never_beat_the_step() -> None:
    many = [gauge_uncertainty(0.5, 0.5, n) for n in (1, 2, 5, 50, 10**9)]
    assert many == sorted(many, reverse=True)
    assert many[-1] == pytest.approx(0.5 / sqrt(12))


@pytest.mark.parametrize("bad", [(-1, 0, 1), (0, float("nan"), 1), (0, 0, 0)])
def test_an_impossible_gauge_is_refused(bad: tuple[float, float, int]) -> None:
    with pytest.raises(ValueError, match="not negative"):
        gauge_uncertainty(*bad)


def test_propagation_gives_the_end_gauge_of_the_gum() -> None:
    """JCGM 100:2008, H.1, first order: inputs as printed; 32 nm published, 31.71 unrounded."""

    def length(**x: float) -> float:
        return x["ls"] + x["d"] - x["ls"] * (x["da"] * x["theta"] + x["alpha"] * x["dt"])

    values = {"ls": 50_000_623.0, "d": 215.0, "da": 0.0, "theta": -0.1, "alpha": 11.5e-6, "dt": 0.0}
    u = {"ls": 25.0, "d": 9.7, "da": 0.58e-6, "theta": 0.41, "alpha": 1.2e-6, "dt": 0.029}
    value, spread = propagate(length, values, u)
    assert value == 50_000_838
    assert spread == pytest.approx(31.71, abs=0.005)


@given(
    st.floats(1, 50),
    st.floats(1, 50),
    st.floats(1e-6, 0.02),
    st.floats(1e-6, 0.02),
    st.floats(-3, 3),
)
def test_propagation_agrees_with_an_independent_program(
    a: float, b: float, ua: float, ub: float, c: float
) -> None:
    """Oracle: the `uncertainties` package (linear propagation by automatic differentiation)."""
    value, u = propagate(
        lambda a, b, c: a * b + sqrt(a) * b + c, {"a": a, "b": b, "c": c}, {"a": ua, "b": ub}
    )
    x, y = uncertainties.ufloat(a, ua), uncertainties.ufloat(b, ub)
    oracle = x * y + umath.sqrt(x) * y + c
    assert value == pytest.approx(oracle.nominal_value)
    assert u == pytest.approx(oracle.std_dev, rel=2e-3, abs=1e-9)


def test_a_kink_does_not_hide_uncertainty() -> None:
    """The difference of two equal readings, without its sign, is not known exactly."""
    equal, gauge = {"a": 0.2, "b": 0.2}, {"a": 0.03, "b": 0.04}
    value, u = propagate(lambda a, b: abs(a - b), equal, gauge)
    assert value == 0
    assert u == pytest.approx(0.05)


def _root(x: float) -> float:
    within("x", x, 0, 10)
    return sqrt(x)


def test_at_the_end_of_a_range_one_side_is_enough() -> None:
    assert propagate(_root, {"x": 0.0}, {"x": 0.25}) == (0.0, 0.5)
    assert propagate(_root, {"x": 10.0}, {"x": 1.0})[1] == pytest.approx(sqrt(10) - 3)


def test_outside_a_range_there_is_no_answer() -> None:
    with pytest.raises(OutOfRange, match="x is 11; the formula holds from 0 to 10"):
        propagate(_root, {"x": 11.0}, {"x": 0.1})
    with pytest.raises(OutOfRange):
        propagate(_root, {"x": 5.0}, {"x": 20.0})


@given(st.floats(-37, 8))
def test_phi_keeps_its_digits_in_the_tail(x: float) -> None:
    """Oracle: scipy."""
    assert phi(x) == pytest.approx(float(stats.norm.cdf(x)), rel=1e-9)


# Limits 0.5 and 3.0 mm. The raw bands for the first three: (0.5, 0.5, 0), (0.423808, 0.576190,
# 2e-6), (0, 0.999571, 0.000429), by scipy; here scaled to a maximum of 1.
@pytest.mark.parametrize(
    ("y", "u", "bands"),
    [
        (0.5, 0.3, (0.5, 0.5, 0.0)),
        (0.6, 0.5204, (0.423808, 0.576190, 2e-6)),
        (2.0, 0.3, (0.0, 0.999571, 0.000429)),
    ],
)
def test_likelihoods_of_levels(y: float, u: float, bands: tuple[float, ...]) -> None:
    scaled = tuple(band / max(bands) for band in bands)
    assert level_likelihoods((0.5, 3.0), y, u) == pytest.approx(scaled, abs=2e-6)


edges = st.lists(st.integers(-50, 50), min_size=1, max_size=6, unique=True).map(
    lambda xs: tuple(x / 8 for x in sorted(xs))
)


@given(edges, st.floats(-8, 8), st.floats(0.01, 5))
def test_likelihoods_agree_with_scipy(limits: tuple[float, ...], y: float, u: float) -> None:
    cdf = [0.0, *stats.norm.cdf(limits, loc=y, scale=u), 1.0]
    sf = [1.0, *stats.norm.sf(limits, loc=y, scale=u), 0.0]
    raw = [min(b - a, q - p, key=abs) for a, b, q, p in zip(cdf, cdf[1:], sf, sf[1:], strict=False)]
    best = max(raw)
    found = level_likelihoods(limits, y, u)
    assert max(found) == 1.0
    for ours, theirs in zip(found, raw, strict=True):
        assert ours == pytest.approx(theirs / best, rel=1e-6, abs=2e-9)
        assert ours == 0.0 or ours >= 1e-9


@given(edges, st.floats(-8, 8), st.floats(0.01, 5), st.floats(0.01, 5))
def test_a_higher_reading_never_speaks_for_a_lower_level(
    limits: tuple[float, ...], y: float, u: float, more: float
) -> None:
    """The likelihood ratio of neighbouring levels grows with the reading."""
    low, high = level_likelihoods(limits, y, u), level_likelihoods(limits, y + more, u)
    for place in range(len(limits)):
        assert low[place + 1] * high[place] <= high[place + 1] * low[place] + 1e-9


def test_a_reading_far_outside_still_fits_the_outer_level() -> None:
    assert level_likelihoods((0.5, 3.0), 1e6, 0.01) == (0.0, 0.0, 1.0)
    assert level_likelihoods((0.5, 3.0), -1e6, 0.01) == (1.0, 0.0, 0.0)


# Low side `down_to` 1.5, normal from 1.9 to 2.7, high side `up_to` 3.2: five levels.
@pytest.mark.parametrize(
    ("y", "level"),
    [(1.49, 0), (1.5, 1), (1.89, 1), (1.9, 2), (2.7, 2), (2.71, 3), (3.2, 3), (3.21, 4)],
)
def test_an_exact_value_on_a_limit_takes_the_milder_level(y: float, level: int) -> None:
    sides: tuple[Side, ...] = ("above", "above", "below", "below")
    assert level_likelihoods((1.5, 1.9, 2.7, 3.2), y, 0.0, sides).index(1.0) == level


@pytest.mark.parametrize(
    ("limits", "y", "u"),
    [((3.0, 0.5), 1, 1), ((1.0, 1.0), 1, 1), ((float("nan"),), 1, 1), ((1.0,), float("nan"), 1),
     ((1.0,), 1, -1), ((1.0,), 1, float("inf"))],
)  # fmt: skip
def test_impossible_limits_and_readings_are_refused(
    limits: tuple[float, ...], y: float, u: float
) -> None:
    with pytest.raises(ValueError, match="finite"):
        level_likelihoods(limits, y, u)


@settings(max_examples=30, deadline=None)  # numerical integration is slow
@given(edges, st.floats(0.02, 3))
def test_reported_levels_agree_with_numerical_integration(
    limits: tuple[float, ...], u: float
) -> None:
    """Oracle: scipy.integrate.quad over the true value, each end as wide as its neighbour."""
    if len(limits) == 1:
        first = last = abs(limits[0]) or 6 * u
    else:
        first, last = limits[1] - limits[0], limits[-1] - limits[-2]
    ends = [limits[0] - first, *limits, limits[-1] + last]
    cuts = [-float("inf"), *limits, float("inf")]
    for row, low, high in zip(reported_given_level(limits, u), ends, ends[1:], strict=False):
        assert sum(row) == pytest.approx(1.0, abs=1e-12)
        for chance, a, b in zip(row, cuts, cuts[1:], strict=False):
            area, _ = integrate.quad(
                lambda t, a=a, b=b: special.ndtr((b - t) / u) - special.ndtr((a - t) / u),
                low, high, epsabs=1e-10, limit=200,
                points=[x for x in limits if low < x < high] or None,
            )  # fmt: skip
            assert chance == pytest.approx(area / (high - low), abs=1e-7)


def test_a_perfect_gauge_reports_what_is_there() -> None:
    assert reported_given_level((0.5, 3.0), 0.0) == ((1, 0, 0), (0, 1, 0), (0, 0, 1))
    assert reported_given_level((), 0.3) == ((1,),)


def test_a_worse_gauge_reports_the_true_level_less_often() -> None:
    middle = [reported_given_level((0.5, 3.0), u)[1][1] for u in (0.0, 0.1, 0.5, 2.0)]
    assert middle == sorted(middle, reverse=True)
    assert len(set(middle)) == 4


def test_reported_levels_refuse_a_negative_uncertainty() -> None:
    with pytest.raises(ValueError, match="not negative"):
        reported_given_level((0.5,), -0.1)
