"""Action after stringing and through the seasons."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import integrate

from tailblock.measures.limits import OutOfRange
from tailblock.measures.settling import action_forecast, season_action, settling_ratio

DAY = 24.0


def test_a_forecast_follows_the_law_of_settling() -> None:
    """da/dt = (rest of the rise)/tau, solved by scipy, from 2.00 mm with 0.25 mm to come."""
    solved = integrate.solve_ivp(
        lambda _, a: (2.25 - a) / 48, (0, 7 * DAY), [2.0], t_eval=[3 * DAY, 7 * DAY], rtol=1e-9
    )
    for hours, action in zip((3 * DAY, 7 * DAY), solved.y[0], strict=True):
        assert action_forecast(2.0, 0, hours, 0.25, 48) == pytest.approx(action, abs=1e-6)


@given(st.floats(0, 500), st.floats(0, 500), st.floats(0, 500))
def test_forecasts_can_be_made_in_steps(age: float, wait: float, more: float) -> None:
    halfway = action_forecast(2.0, age, age + wait, 0.2, 48)
    at_end = action_forecast(halfway, age + wait, age + wait + more, 0.2, 48)
    assert at_end == pytest.approx(action_forecast(2.0, age, age + wait + more, 0.2, 48), abs=1e-9)
    assert 2.0 <= halfway <= at_end + 1e-12 <= 2.2 + 1e-9


def test_a_forecast_looks_forward() -> None:
    with pytest.raises(OutOfRange, match="later is 24"):
        action_forecast(2.0, 48, 24, 0.2, 48)


@given(st.floats(0.05, 1))
def test_what_settles_rises_a_quarter_as_much_later(rise: float) -> None:
    """Worked here: (e^-1.5 - e^-3.5)/(1 - e^-1.5) = 0.248 for day 3 and day 7."""
    early, late = (action_forecast(2.0, 0, day * DAY, rise, 48) for day in (3, 7))
    assert settling_ratio(2.0, early, late) == pytest.approx(0.248, abs=0.0005)


def test_what_rises_evenly_does_not_settle() -> None:
    """Worked here: 0.1 mm a day."""
    assert settling_ratio(2.0, 2.3, 2.7) == pytest.approx(4 / 3)


def test_no_rise_has_no_ratio() -> None:
    with pytest.raises(OutOfRange, match="rise in the first days is 0"):
        settling_ratio(2.0, 2.0, 2.1)


def test_season() -> None:
    assert season_action(2.5, 55, 45, 0.02) == pytest.approx(2.3)
    assert season_action(2.5, 45, 45, 0.02) == 2.5
    for humidity in (34, 61):
        with pytest.raises(OutOfRange, match="from 35 to 60"):
            season_action(2.5, humidity, 45, 0.02)
