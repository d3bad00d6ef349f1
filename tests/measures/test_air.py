"""Water in the air: Magnus form, dew point, rooms that are heated."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tailblock.measures.air import dew_point, saturation_vapour_pressure, warmed_humidity
from tailblock.measures.limits import OutOfRange

if TYPE_CHECKING:
    from collections.abc import Callable


@pytest.mark.parametrize(
    ("celsius", "hectopascal"),
    # saturated steam tables (from memory): 0.6113, 1.2281, 2.3392, 4.2469, 7.3844 kPa; the form is
    # known to stay within 0.4 % of them
    [(0.01, 6.113), (10, 12.281), (20, 23.392), (30, 42.469), (40, 73.844)],
)
def test_saturation_pressure(celsius: float, hectopascal: float) -> None:
    assert saturation_vapour_pressure(celsius) == pytest.approx(hectopascal, rel=0.004)


@given(st.floats(-20, 45), st.floats(5, 100))
def test_at_its_dew_point_the_same_air_is_saturated(temperature: float, humidity: float) -> None:
    point = dew_point(temperature, humidity)
    assert point <= temperature + 1e-9
    if point > -40:
        assert warmed_humidity(temperature, humidity, point) == pytest.approx(100)


@given(st.floats(-20, 30), st.floats(5, 99), st.floats(0.1, 20))
def test_heating_dries_and_cooling_back_does_not_change_it(
    temperature: float, humidity: float, warmer: float
) -> None:
    heated = warmed_humidity(temperature, humidity, temperature + warmer)
    assert heated < humidity
    assert warmed_humidity(temperature + warmer, heated, temperature) == pytest.approx(humidity)


@pytest.mark.parametrize(
    ("outside", "humidity", "low", "high"),
    # common practice, no source: heated rooms in frost fall below 25 %, in mild winters below 40 %
    [(-10, 80, 8, 12), (0, 80, 18, 22), (5, 80, 26, 30), (10, 80, 37, 41)],
)
def test_winter_rooms(outside: float, humidity: float, low: float, high: float) -> None:
    assert low < warmed_humidity(outside, humidity, 21) < high


@pytest.mark.parametrize(
    ("call", "says"),
    [
        (lambda: saturation_vapour_pressure(70), "temperature is 70"),  # degrees Fahrenheit
        (lambda: dew_point(20, 0), "humidity is 0"),
        (lambda: warmed_humidity(20, 110, 25), "humidity is 110"),
        (lambda: warmed_humidity(20, 80, 10), "humidity after is 15"),  # it would condense
    ],
)
def test_limits(call: Callable[[], float], says: str) -> None:
    with pytest.raises(OutOfRange, match=says):
        call()
