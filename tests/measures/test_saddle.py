"""From the saddle to the action and back."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tailblock.measures.action import action_from_geometry
from tailblock.measures.saddle import (
    action_for_saddle,
    saddle_for_action,
    saddle_from_geometry,
    share_at_fret_12,
)

SIZES = {"scale_length": 648.0, "compensation": 2.0, "relief_share": 0.35}


@given(st.floats(300, 900), st.floats(0, 5))
def test_a_little_under_half_arrives_at_fret_12(scale: float, compensation: float) -> None:
    """Similar triangles about fret 1: 0.4703 of the scale without compensation, less with it."""
    first = 1 - 2 ** (-1 / 12)
    assert share_at_fret_12(scale, 0) == pytest.approx((0.5 - first) / (1 - first))
    assert 0.45 < share_at_fret_12(scale, compensation) <= share_at_fret_12(scale, 0)


@given(st.floats(1, 6), st.floats(1.5, 5), st.floats(1.5, 5))
def test_the_saddle_found_gives_the_action_wanted(
    exposure: float, action: float, wanted: float
) -> None:
    lower = saddle_for_action(exposure, action, wanted, 648, 2)
    before, after = (action_from_geometry(0.4, e, 0, 0.1, **SIZES) for e in (exposure, lower))
    assert before - after == pytest.approx(action - wanted, abs=1e-9)
    assert action_for_saddle(exposure, action, lower, 648, 2) == pytest.approx(wanted, abs=1e-9)


@given(st.floats(0, 1), st.floats(1, 5), st.floats(-4, 2), st.floats(0, 0.5))
def test_a_saddle_from_nothing_gives_its_action(
    opening: float, action: float, projection: float, relief: float
) -> None:
    exposure = saddle_from_geometry(action, opening, projection, relief, **SIZES)
    found = action_from_geometry(opening, exposure, projection, relief, **SIZES)
    assert found == pytest.approx(action, abs=1e-9)


@pytest.mark.parametrize(("projection", "exposure"), [(0.0, 3.65), (0.5, 4.15), (-1.5, 2.15)])
def test_a_straight_neck_needs_a_saddle(projection: float, exposure: float) -> None:
    """Worked here: opening 0.45, relief 0.15, action 2.0, so E - d = 3.65."""
    found = saddle_from_geometry(2.0, 0.45, projection, 0.15, **SIZES)
    assert found == pytest.approx(exposure, abs=0.01)
