"""How a string bends over the saddle, by the way its end is held."""

from __future__ import annotations

from math import atan, degrees, inf

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from tailblock.measures.break_angle import (
    break_angle,
    break_angle_pinless,
    break_angle_ramped,
    break_angle_tied,
    ramping_gain,
    redrilling_gain,
    saddle_down_force,
    saddle_forward_force,
)
from tailblock.measures.limits import OutOfRange


@pytest.mark.parametrize(
    ("height", "distance", "angle"),
    [
        (3, 8, 20.6),
        (2, 8, 14.0),
        (1, 8, 7.1),
        (5, 8, 32.0),
        (5, 5, 45.0),
        (0, 8, 0.0),
        (1, 0, 90.0),
    ],
)
def test_break_angle(height: float, distance: float, angle: float) -> None:
    """Worked here from plane geometry."""
    assert break_angle(height, distance) == pytest.approx(angle, abs=0.06)


@given(st.floats(0.5, 6), st.floats(5, 15), st.floats(0, 4), st.floats(0, 0.9))
def test_a_ramped_string_takes_the_shortest_way(
    exposure: float, distance: float, depth: float, part: float
) -> None:
    """Pulled tight over saddle, top, ramp and hole, it lies on none lower than it must.

    Oracle: the lowest of the lines from the crown to any point of the surface behind it.
    """
    length = part * distance
    behind = np.linspace(0, distance, 2001)[1:]
    surface = np.where(
        behind <= distance - length, 0.0, -depth * (behind - distance + length) / max(length, 1e-9)
    )
    surface[-1] = -depth if length else 0.0
    assume(length > distance / 50 or depth == 0)
    oracle = degrees(atan(min((exposure - surface) / behind)))
    found = break_angle_ramped(exposure, distance, depth, length)
    assert found == pytest.approx(oracle, abs=0.2)


@given(st.floats(0.5, 6), st.floats(5, 15), st.floats(0, 4), st.floats(0, 1))
def test_a_ramp_never_costs_break(
    exposure: float, distance: float, depth: float, part: float
) -> None:
    gained = ramping_gain(exposure, distance, depth, part * distance)
    assert 0 <= gained <= 90
    assert ramping_gain(exposure, distance, depth, 0) == 0  # no ramp, no gain


def test_a_deep_short_ramp_bears_on_its_lip() -> None:
    """Worked here: 2 over 8 - 2 = 6 mm, not (2 + 3) over 8."""
    assert break_angle_ramped(2, 8, 3, 2) == pytest.approx(degrees(atan(2 / 6)))
    assert break_angle_ramped(2, 8, 3, 6) == pytest.approx(degrees(atan(5 / 8)))


def test_a_ramp_does_not_run_into_the_saddle() -> None:
    with pytest.raises(OutOfRange, match="ramp length is 9; the formula holds from 0 to 8"):
        break_angle_ramped(2, 8, 1, 9)


@pytest.mark.parametrize(
    ("found", "height", "distance"),
    [
        (break_angle_pinless(2.5, 1.0, 12), 3.5, 12),
        (break_angle_pinless(2.5, -1.0, 12), 1.5, 12),
        (break_angle_tied(6.0, -2.0, 11, 0.8), 3.2, 11),
        (break_angle_tied(6.0, -2.0, 11, 0.0), 4.0, 11),  # two holes a string: no lift
    ],
)
def test_other_bridges_only_differ_in_where_the_string_leaves(
    found: float, height: float, distance: float
) -> None:
    """Worked here: height of the crown over the point where the string leaves its hole."""
    assert found == pytest.approx(break_angle(height, distance))


def test_a_string_does_not_rise_behind_its_saddle() -> None:
    with pytest.raises(OutOfRange, match=r"height is -0\.5"):
        break_angle_pinless(1.0, -1.5, 12)
    with pytest.raises(OutOfRange, match=r"height is -0\.8"):
        break_angle_tied(2.0, -2.0, 11, 0.8)


@given(st.floats(0.5, 5), st.floats(0, 3), st.floats(6, 20), st.floats(0, 2), st.floats(0, 2))
def test_a_lower_hole_wins_less_and_less(
    exposure: float, drop: float, distance: float, first: float, more: float
) -> None:
    one = redrilling_gain(exposure, drop, distance, first)
    both = redrilling_gain(exposure, drop, distance, first + more)
    assert 0 <= one <= both + 1e-12
    steps = one + redrilling_gain(exposure, drop + first, distance, more)
    assert steps == pytest.approx(both, abs=1e-9)


@given(st.floats(0, 200), st.floats(0, 90))
def test_forces_close_the_polygon(tension: float, angle: float) -> None:
    """The saddle holds the difference of two pulls of one size: both ends of the string."""
    down, forward = saddle_down_force(tension, angle), saddle_forward_force(tension, angle)
    assert down**2 + (tension - forward) ** 2 == pytest.approx(tension**2, rel=1e-9, abs=1e-9)


@pytest.mark.parametrize(
    ("angle", "down", "forward"), [(10, 0.17, 0.015), (20, 0.34, 0.06), (30, 0.5, 0.13)]
)
def test_shares_of_the_tension(angle: float, down: float, forward: float) -> None:
    """Worked here: sine, and one less the cosine."""
    assert saddle_down_force(1, angle) == pytest.approx(down, abs=0.005)
    assert saddle_forward_force(1, angle) == pytest.approx(forward, abs=0.005)


def test_sizes_are_not_negative() -> None:
    with pytest.raises(OutOfRange, match="height is -1"):
        break_angle(-1, 8)
    with pytest.raises(OutOfRange, match="distance is -inf"):
        break_angle_pinless(1, 1, -inf)
    with pytest.raises(OutOfRange, match="break angle is 91"):
        saddle_down_force(1, 91)
