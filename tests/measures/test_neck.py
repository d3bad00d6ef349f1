"""Aim and angle of the neck."""

from __future__ import annotations

from math import degrees

import pytest
from hypothesis import given
from hypothesis import strategies as st
from uncertainties import ufloat, umath

from tailblock.measures.figures import evaluate
from tailblock.measures.limits import OutOfRange
from tailblock.measures.neck import (
    aim_lost,
    neck_angle_lost,
    neck_reset_angle,
    projection_change,
    projection_from_heights,
    rise_of_angle,
)

SIZES = {"scale_length": 648.0, "join": 14.0, "compensation": 2.0}
REACH = 650 - 648 * (1 - 2 ** (-14 / 12))  # join to saddle, 290.6 mm


def test_load_folds_the_neck_forward() -> None:
    assert projection_change(slack=0.5, pitch=-0.5) == 1.0


@pytest.mark.parametrize(("angle", "rise"), [(0.1, 0.5036), (1.0, 5.036)])
def test_reset_angle(angle: float, rise: float) -> None:
    """Worked here: tilting about the 14th fret of a 647.7 mm scale moves the line at the saddle."""
    assert neck_reset_angle(rise, 647.7, 14, 0) == pytest.approx(angle, rel=1e-4)


@given(st.floats(-9.9, 9.9), st.floats(550, 700), st.sampled_from([12.0, 13.0, 14.0]))
def test_angle_and_height_at_the_bridge_are_one(angle: float, scale: float, join: float) -> None:
    rise = rise_of_angle(angle, scale, join, 2)
    assert neck_reset_angle(rise, scale, join, 2) == pytest.approx(angle, abs=1e-9)
    lost = neck_angle_lost(0.3 - rise, 0.3, scale, join, 2)
    assert lost == pytest.approx(angle, abs=1e-9)
    assert aim_lost(0.3 - rise, 0.3) == pytest.approx(rise)


def test_no_neck_is_turned_by_more_than_ten_degrees() -> None:
    with pytest.raises(OutOfRange, match="neck angle is 11"):
        rise_of_angle(11, **SIZES)


@given(st.floats(-0.02, 0.02), st.floats(5, 9), st.floats(60, 110), st.floats(6, 12))
def test_a_short_straightedge_finds_the_line(
    slope: float, at_join: float, tongue: float, bridge: float
) -> None:
    """A line of known slope, read at two places, meets the bridge where the line does."""
    at_end = at_join + slope * tongue
    found = projection_from_heights(at_join, at_end, tongue, bridge, **SIZES)
    assert found == pytest.approx(at_join + slope * REACH - bridge, abs=1e-9)


def test_two_heights_too_near_each_other_are_no_line() -> None:
    with pytest.raises(OutOfRange, match="tongue length is 5"):
        projection_from_heights(7, 7, 5, 9, **SIZES)


def test_the_far_end_of_a_short_straightedge_is_uncertain() -> None:
    """0.1 mm at either height of a 90 mm tongue is about 0.4 mm at the bridge.

    Oracle: the `uncertainties` library.
    """
    values = {"height_at_join": 7.5, "height_at_end": 8.1, "tongue_length": 90.0,
              "bridge_height": 9.0, **SIZES}  # fmt: skip
    u = {"height_at_join": 0.1, "height_at_end": 0.1}
    near, far = ufloat(7.5, 0.1), ufloat(8.1, 0.1)
    oracle = near + (far - near) * REACH / 90 - 9
    value, spread = evaluate("projection_from_heights", values, u)
    assert value == pytest.approx(oracle.nominal_value)
    assert spread == pytest.approx(oracle.std_dev, rel=1e-6)
    assert 0.35 < spread < 0.45


def test_uncertainty_of_the_lost_angle() -> None:
    """Oracle: the `uncertainties` library."""
    u = {"projection": 0.26, "compensation": 1.0}
    reach = ufloat(2, 1.0) + REACH - 2
    oracle = umath.atan((0 - ufloat(-2.5, 0.26)) / reach) * degrees(1)
    value, spread = evaluate("neck_angle_lost", {"projection": -2.5, **SIZES}, u)
    assert value == pytest.approx(oracle.nominal_value)
    assert spread == pytest.approx(oracle.std_dev, rel=1e-4)
