"""The action identity and what follows from it."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tailblock.measures.action import (
    action_change,
    action_fan,
    action_from_geometry,
    geometry_residual,
    projection_from_action,
)

SIZES = {"scale_length": 648.0, "compensation": 2.0, "relief_share": 0.35}


# Worked here for L = 648, c = 2 (k = 0.469): a = 0.531 g + 0.469 (E - d) + 0.35 r.
@pytest.mark.parametrize(
    ("opening", "exposure", "projection", "relief", "action"),
    [
        (0.40, 2.78, 0.79, 0.15, 1.20),
        (0.45, 3.60, -0.05, 0.15, 2.00),
        (0.45, 4.10, 0.45, 0.15, 2.00),
        (0.40, 4.46, 0.79, 0.15, 1.98),
    ],
)
def test_action_identity(
    opening: float, exposure: float, projection: float, relief: float, action: float
) -> None:
    found = action_from_geometry(opening, exposure, projection, relief, **SIZES)
    assert found == pytest.approx(action, abs=0.008)


@given(st.floats(0, 1), st.floats(0, 8), st.floats(550, 700))
def test_a_straight_string_over_a_straight_neck(opening: float, rise: float, scale: float) -> None:
    """Without relief the string's height at fret 12 lies on the line through nut end and saddle."""
    sizes = {"scale_length": scale, "compensation": 0.0, "relief_share": 0.35}
    fret_1, fret_12 = scale * (1 - 2 ** (-1 / 12)), scale / 2
    on_line = opening + (rise - opening) * (fret_12 - fret_1) / (scale - fret_1)
    assert action_from_geometry(opening, rise, 0, 0, **sizes) == pytest.approx(on_line)
    read = {"first_opening": opening, "exposure": rise, "projection": 0.0, "relief": 0.0}
    assert geometry_residual(on_line, **read, **sizes) == pytest.approx(0, abs=1e-9)


@given(st.floats(0, 1), st.floats(1, 6), st.floats(-4, 2), st.floats(0, 0.5))
def test_the_other_readings_tell_the_aim(
    opening: float, exposure: float, projection: float, relief: float
) -> None:
    action = action_from_geometry(opening, exposure, projection, relief, **SIZES)
    found = projection_from_action(action, opening, exposure, relief, **SIZES)
    assert found == pytest.approx(projection, abs=1e-9)


def test_an_error_of_the_action_counts_twice_in_the_aim() -> None:
    """Worked here: 1/k = 2.13."""
    aims = [projection_from_action(a, 0.4, 3.0, 0.15, **SIZES) for a in (2.0, 2.1)]
    assert aims[0] - aims[1] == pytest.approx(0.213, abs=0.0005)


def test_differences_keep_their_sign() -> None:
    assert action_change(pitch=2.9, slack=2.6) == pytest.approx(0.3)
    assert action_fan(bass=1.8, treble=2.4) == pytest.approx(-0.6)
