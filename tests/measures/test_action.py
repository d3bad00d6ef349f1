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
    saddle_for_action,
    season_action,
)
from tailblock.measures.limits import OutOfRange

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


@given(st.floats(1, 6), st.floats(1.5, 5), st.floats(1.5, 5))
def test_the_saddle_found_gives_the_action_wanted(
    exposure: float, action: float, wanted: float
) -> None:
    lower = saddle_for_action(exposure, action, wanted, 648, 2)
    before, after = (action_from_geometry(0.4, e, 0, 0.1, **SIZES) for e in (exposure, lower))
    assert before - after == pytest.approx(action - wanted, abs=1e-9)


def test_twice_the_drop_comes_off_the_saddle() -> None:
    """Common practice; exactly 1/k = 2.13 for a 648 mm scale."""
    assert 3.6 - saddle_for_action(3.6, 3.0, 2.0, 648, 2) == pytest.approx(2.13, abs=0.005)


def test_differences_keep_their_sign() -> None:
    assert action_change(pitch=2.9, slack=2.6) == pytest.approx(0.3)
    assert action_fan(bass=1.8, treble=2.4) == pytest.approx(-0.6)


def test_season() -> None:
    assert season_action(2.5, 55, 45, 0.02) == pytest.approx(2.3)
    assert season_action(2.5, 45, 45, 0.02) == 2.5
    for humidity in (34, 61):
        with pytest.raises(OutOfRange, match="from 35 to 60"):
            season_action(2.5, humidity, 45, 0.02)
