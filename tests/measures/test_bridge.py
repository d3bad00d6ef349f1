"""Tilt of the bridge and the moment that the strings put on it."""

from __future__ import annotations

from math import cos, radians, sin

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tailblock.measures.arch import sagitta
from tailblock.measures.bridge import (
    bridge_height_from_aim,
    bridge_height_from_strings,
    bridge_moment,
    bridge_tilt,
    crown_shift,
    string_height,
    tilt_change,
)
from tailblock.measures.geometry import aim_mismatch
from tailblock.measures.limits import OutOfRange


def test_the_bridge_turns_under_load() -> None:
    assert tilt_change(pitch=2.6, slack=1.1) == pytest.approx(1.5)


@given(
    st.floats(-6, 6), st.floats(50, 200), st.floats(50, 150), st.floats(5, 12), st.floats(3000, 1e6)
)
def test_gaps_of_a_tilted_bridge_tell_its_tilt(
    tilt: float, front: float, back: float, height: float, radius: float
) -> None:
    """A straightedge on a bridge turned by a known angle, over a dome that kept its shape."""
    slope = sin(radians(tilt)) / cos(radians(tilt))
    front_gap = height - slope * front + sagitta(2 * front, radius)
    back_gap = height + slope * back + sagitta(2 * back, radius)
    found = bridge_tilt(front_gap, back_gap, front, back, radius)
    assert found == pytest.approx(tilt, abs=1e-9)


def test_a_dome_read_at_unequal_distances_is_no_tilt() -> None:
    """Worked here: 150^2/(2 x 7620) = 1.48 mm in front and 0.66 mm behind; taken as flat it would
    pass for 0.19 degrees.
    """
    assert bridge_tilt(9 + 1.4765, 9 + 0.6562, 150, 100, 7620) == pytest.approx(0, abs=1e-3)
    assert bridge_tilt(9 + 1.4765, 9 + 0.6562, 150, 100, 1e9) == pytest.approx(-0.188, abs=1e-3)


def test_a_gap_is_read_beside_the_bridge() -> None:
    with pytest.raises(OutOfRange, match="front distance is 5"):
        bridge_tilt(9, 9, 5, 100, 7620)


def test_tilt_carries_the_crown_forward() -> None:
    """Worked here: 13 mm at 2 degrees."""
    assert crown_shift(2, 13) == pytest.approx(0.4537, abs=1e-4)
    assert crown_shift(-2, 13) == -crown_shift(2, 13)
    with pytest.raises(OutOfRange, match="tilt is 50"):
        crown_shift(50, 13)


@pytest.mark.parametrize(
    ("tension", "height", "moment"),
    # worked here: force times arm; 165, 184 and 88 lbf of strings are 734, 818 and 391 N
    [(700, 12.0, 8400), (734, 12.5, 9175), (818, 12.5, 10225), (391, 11.0, 4301), (0, 12, 0)],
)
def test_moment(tension: float, height: float, moment: float) -> None:
    assert bridge_moment(tension, height) == pytest.approx(moment)
    assert bridge_moment(tension, string_height(9.0, height - 9.0)) == pytest.approx(moment)


def test_shaving_a_bridge_and_leaving_the_saddle_eases_nothing() -> None:
    """What comes off the bridge is added to the exposure: height and moment stay."""
    assert string_height(9.0, 1.6) == pytest.approx(string_height(7.0, 3.6))


@given(st.floats(5, 12), st.floats(0, 6), st.floats(-4, 3), st.floats(0, 0.5))
def test_the_height_of_a_bridge_comes_back_from_what_stands_on_it(
    bridge: float, exposure: float, projection: float, drop: float
) -> None:
    strings = string_height(bridge, exposure)
    assert bridge_height_from_strings(strings, exposure) == pytest.approx(bridge)
    over_top = bridge + projection + drop
    assert aim_mismatch(over_top, bridge, projection, wing_drop=drop) == pytest.approx(0, abs=1e-9)
    assert bridge_height_from_aim(over_top, projection, drop) == pytest.approx(bridge)


def test_no_tension_pushes() -> None:
    with pytest.raises(OutOfRange, match="tension is -1"):
        bridge_moment(-1, 12)
    with pytest.raises(OutOfRange, match="string height is -1"):
        bridge_moment(700, -1)
