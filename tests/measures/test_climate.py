"""Whether the climate alone explains a change."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from uncertainties import ufloat

from tailblock.measures.climate import (
    moisture_change,
    season_change,
    season_width_change,
    unexplained_change,
)
from tailblock.measures.climate_verdict import explained_by_climate
from tailblock.measures.limits import OutOfRange

if TYPE_CHECKING:
    from collections.abc import Callable

ROOM: dict[str, Any] = {"temperature_before": 21.1, "temperature_after": 21.1}
ACTION: dict[str, Any] = {**ROOM, "rise_per_moisture": 0.12}
humidities = st.floats(20, 75)


@pytest.mark.parametrize(
    ("before", "after", "change"),
    # Wood Handbook (FPL-GTR-190), table 4-2 at 70 F: 25 % 5.4, 45 % 8.5, 55 % 10.1, 65 % 12.0
    [(45, 25, 5.4 - 8.5), (45, 55, 10.1 - 8.5), (45, 65, 12.0 - 8.5), (65, 25, 5.4 - 12.0)],
)
def test_moisture_from_one_air_to_another(before: float, after: float, change: float) -> None:
    assert moisture_change(21.1, before, 21.1, after) == pytest.approx(change, abs=0.1)


def test_a_spruce_top_in_a_dry_winter() -> None:
    """Worked here: 400 mm quarter-sawn from 45 to 25 % at 70 F: 400 x 0.00148 x -3.10."""
    assert season_width_change(400, 0.00148, 45, 25, **ROOM) == pytest.approx(-1.83, abs=0.01)


@pytest.mark.parametrize(("low", "high"), [(40, 50), (45, 55)])
def test_ten_per_cent_of_humidity_are_two_tenths_of_action(low: float, high: float) -> None:
    """The rule for the action is 0.02 mm for each % of humidity (from memory)."""
    assert season_change(low, high, **ACTION) == pytest.approx(0.2, rel=0.1)


def test_the_dome_moves_by_the_rule_of_thumb() -> None:
    """From memory: 0.3 to 0.6 mm for 10 % of humidity."""
    assert 0.3 < season_change(45, 55, **ROOM, rise_per_moisture=0.28) < 0.6


@given(humidities, humidities, humidities)
def test_two_seasons_add_up(first: float, second: float, third: float) -> None:
    steps = season_change(first, second, **ACTION) + season_change(second, third, **ACTION)
    assert season_change(first, third, **ACTION) == pytest.approx(steps, abs=1e-12)


@given(humidities, humidities, st.floats(0.5, 5), st.floats(0.5, 5))
def test_what_is_explained_and_what_is_not_make_the_change(
    dry: float, damp: float, before: float, after: float
) -> None:
    left = unexplained_change(before, after, dry, damp, **ACTION)
    assert left + season_change(dry, damp, **ACTION) == pytest.approx(after - before)


AIR: dict[str, Any] = {"temperature": (21.0, 21.0), "u_humidity": 3.0,
                       "rise_per_moisture": (0.12, 0.06)}  # fmt: skip


def test_uncertainty_of_the_verdict() -> None:
    """Oracle: the library `uncertainties`, the moisture taken as straight around each humidity."""
    verdict = explained_by_climate(0.5, 0.15, humidity=(45, 65), **AIR)
    slope = [moisture_change(21, rh - 1, 21, rh + 1) / 2 for rh in (45, 65)]
    moisture = moisture_change(21, 45, 21, 65) + ufloat(0, 3) * slope[1] - ufloat(0, 3) * slope[0]
    expected = ufloat(0.12, 0.06) * moisture
    left = ufloat(0.5, 0.15) - expected
    assert verdict.expected == pytest.approx(expected.nominal_value)
    assert verdict.u_expected == pytest.approx(expected.std_dev, rel=0.02)
    assert verdict.unexplained == pytest.approx(left.nominal_value)
    assert verdict.u_unexplained == pytest.approx(left.std_dev, rel=0.02)


@pytest.mark.parametrize(
    ("change", "humidity", "explained"),
    [
        (0.4, (45, 65), True),  # a damp summer
        (-0.4, (45, 25), True),  # a dry winter
        (1.3, (45, 65), False),  # more than a summer does
        (0.6, (45, 45), False),  # nothing changed in the air
        (0.8, (65, 45), False),  # the wrong way round
    ],
)
def test_the_climate_explains_what_it_can(
    change: float, humidity: tuple[float, float], explained: bool
) -> None:
    verdict = explained_by_climate(change, 0.12, humidity=humidity, **AIR)
    assert verdict.explained is explained


@given(humidities, humidities, st.floats(0, 2))
def test_what_is_expected_is_always_explained(dry: float, damp: float, u: float) -> None:
    expected = season_change(dry, damp, **ACTION)
    verdict = explained_by_climate(
        expected, u, humidity=(dry, damp), **AIR | {"temperature": (21.1, 21.1)}
    )
    assert verdict.unexplained == pytest.approx(0, abs=1e-12)
    assert verdict.explained


@pytest.mark.parametrize(
    ("call", "says"),
    [
        (lambda: moisture_change(21, 5, 21, 45), "humidity before is 5"),
        (lambda: moisture_change(21, 45, 21, 95), "humidity after is 95"),
        (lambda: moisture_change(70, 45, 21, 45), "temperature before is 70"),  # Fahrenheit
        (lambda: explained_by_climate(0, -1, humidity=(45, 45), **AIR), "u change is -1"),
    ],
)
def test_limits(call: Callable[[], object], says: str) -> None:
    with pytest.raises(OutOfRange, match=says):
        call()
