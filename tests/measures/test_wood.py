"""Wood and moisture, against the Wood Handbook (FPL-GTR-190, 2010)."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tailblock.measures.limits import OutOfRange
from tailblock.measures.wood import dimensional_change, equilibrium_moisture

# Wood Handbook, table 4-2: temperature [F], relative humidity [%], moisture content [%]. The table
# was computed from equation 4-5 and rounded to 0.1; all of its cells agree within 0.053 in the
# Celsius form. The last row (hot and humid) would catch a coefficient of K off by ten.
TABLE_4_2 = [
    (30, 30, 6.3), (40, 50, 9.5), (50, 50, 9.5), (60, 30, 6.2), (60, 65, 12.1),
    (70, 5, 1.3), (70, 10, 2.5), (70, 15, 3.5), (70, 20, 4.5), (70, 25, 5.4), (70, 30, 6.2),
    (70, 35, 6.9), (70, 40, 7.7), (70, 45, 8.5), (70, 50, 9.2), (70, 55, 10.1), (70, 60, 11.0),
    (70, 65, 12.0), (70, 70, 13.1), (70, 75, 14.4), (70, 80, 16.0), (70, 85, 17.9),
    (70, 90, 20.5), (70, 95, 23.9), (80, 50, 9.1), (80, 80, 15.7), (90, 40, 7.4),
    (100, 65, 11.2), (140, 55, 8.4), (200, 95, 17.5),
]  # fmt: skip


@pytest.mark.parametrize(("fahrenheit", "humidity", "moisture"), TABLE_4_2)
def test_equilibrium_moisture_of_the_handbook(
    fahrenheit: float, humidity: float, moisture: float
) -> None:
    celsius = (fahrenheit - 32) / 1.8
    assert equilibrium_moisture(celsius, humidity) == pytest.approx(moisture, abs=0.07)


def test_bone_dry_air_leaves_no_moisture() -> None:
    assert equilibrium_moisture(21, 0) == 0


@given(st.floats(-2, 100), st.floats(0, 99), st.floats(0.01, 1))
def test_damper_air_gives_damper_wood(temperature: float, humidity: float, more: float) -> None:
    drier = equilibrium_moisture(temperature, humidity)
    assert 0 <= drier < equilibrium_moisture(temperature, humidity + more)


@pytest.mark.parametrize(("temperature", "humidity"), [(21, 101), (21, -1), (-10, 50), (120, 50)])
def test_outside_the_range_is_refused(temperature: float, humidity: float) -> None:
    with pytest.raises(OutOfRange, match="the formula holds from"):
        equilibrium_moisture(temperature, humidity)


@pytest.mark.parametrize(
    ("size", "coefficient", "before", "after", "change", "within"),
    [
        # Wood Handbook, p. 13-16/17: flat-sawn white fir 232 mm wide, 8 to 11 %: 1.7 mm
        # (the result as read; the starting figures from memory)
        (232, 0.00245, 8, 11, 1.7, 0.05),
        # the same in inches: 9.15 in, new width 9.217 in
        (9.15, 0.00245, 8, 11, 0.067, 0.0005),
        # a magazine's worked example: flat-sawn red alder, 8 in, 6 % of moisture: 0.1248 in
        (8, 0.0026, 6, 12, 0.1248, 1e-9),
        # worked here: quarter-sawn spruce top 400 mm wide from 45 to 25 % humidity at 70 F
        (400, 0.00148, 8.459, 5.360, -1.83, 0.01),
    ],
)
def test_change_of_size(
    size: float, coefficient: float, before: float, after: float, *, change: float, within: float
) -> None:
    found = dimensional_change(size, coefficient, before, after)
    assert found == pytest.approx(change, abs=within)


@pytest.mark.parametrize(("before", "after"), [(8, 31), (31, 8), (-1, 8)])
def test_wet_wood_does_not_move(before: float, after: float) -> None:
    with pytest.raises(OutOfRange, match="from 0 to 30"):
        dimensional_change(100, 0.002, before, after)
