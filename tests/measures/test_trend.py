"""Trend and crossing: against general-purpose libraries, and against what intervals promise."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from tailblock.measures.limits import OutOfRange
from tailblock.measures.trend import COVERAGE, crossing, trend

SERIES = st.lists(
    st.tuples(st.floats(0, 4000), st.floats(-5, 15), st.floats(0.01, 0.5)), min_size=3, max_size=8
).filter(lambda rows: max(r[0] for r in rows) - min(r[0] for r in rows) > 30)


@given(SERIES)
def test_the_line_is_that_of_a_general_least_squares_fit(
    rows: list[tuple[float, float, float]],
) -> None:
    days, values, u = map(list, zip(*rows, strict=True))
    line = trend(days, values, u)
    away = np.array(days) - line.centre
    (slope, level), cov = np.polyfit(away, values, 1, w=1 / np.array(u), cov="unscaled")
    assert line.level == pytest.approx(level, abs=1e-6)
    assert line.slope == pytest.approx(slope, abs=1e-8)
    assert line.u_level == pytest.approx(line.scatter * cov[1, 1] ** 0.5, rel=1e-4)
    assert line.u_slope == pytest.approx(line.scatter * cov[0, 0] ** 0.5, rel=1e-4)


@given(SERIES, st.floats(-10, 20))
def test_the_ends_of_the_interval_are_where_the_band_meets_the_limit(
    rows: list[tuple[float, float, float]], limit: float
) -> None:
    days, values, u = map(list, zip(*rows, strict=True))
    line = trend(days, values, u)
    found = crossing(line, limit)
    if found is None:
        assert not line.moves
        return
    assert found.earliest <= found.day <= found.latest
    assert line.at(found.day)[0] == pytest.approx(limit, rel=1e-6, abs=1e-6)
    for end in (found.earliest, found.latest):
        value, spread = line.at(end)
        assert abs(value - limit) == pytest.approx(COVERAGE * spread, rel=1e-3, abs=1e-6)


def test_the_interval_holds_the_true_day_as_often_as_it_says() -> None:
    dice = np.random.default_rng(1)
    days = np.array([0.0, 365.0, 730.0, 1095.0, 1460.0])
    true = 2.0 + 0.3 / 365 * days  # reaches 4 mm after 2433 days
    held = 0
    for _ in range(2000):
        seen = true + dice.normal(0.0, 0.05, 5)
        found = crossing(trend(list(days), list(seen), [0.05] * 5), 4.0)
        held += found is not None and found.earliest <= 2 * 365 / 0.3 <= found.latest
    # k = 2 is 95.4 %; raising the uncertainties where it scatters can only widen it
    assert 0.945 <= held / 2000 <= 0.995


def test_readings_that_scatter_more_than_they_say_are_trusted_less() -> None:
    calm = trend([0, 100, 200], [2.0, 2.1, 2.2], [0.05] * 3)
    wild = trend([0, 100, 200], [2.0, 2.5, 2.2], [0.05] * 3)
    assert calm.scatter == 1.0
    # residuals -0.1333, +0.2667, -0.1333: chi^2 = 0.10667/0.0025, one degree of freedom
    assert wild.scatter == pytest.approx((0.1066667 / 0.0025) ** 0.5, rel=1e-5)
    assert wild.u_slope == pytest.approx(calm.u_slope * wild.scatter)
    assert crossing(wild, 3.0) is None


@pytest.mark.parametrize(
    ("days", "u"), [([0, 1], [0.1, 0.1]), ([5, 5, 5], [0.1] * 3), ([0, 1, 2], [0.1, 0.0, 0.1])]
)
def test_what_makes_no_line_is_refused(days: list[float], u: list[float]) -> None:
    with pytest.raises(OutOfRange):
        trend(days, [1.0] * len(days), u)
