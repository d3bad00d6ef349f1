"""Arches of the top and the hump's share in a lost neck aim."""

from __future__ import annotations

from math import sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tailblock.measures.body import aim_without_hump, belly_change, hump_share, sagitta
from tailblock.measures.limits import OutOfRange


@pytest.mark.parametrize(
    ("chord", "radius", "height"),
    [
        (12, 10, 2.0),  # published exercises in plane geometry
        (20, 15, 3.81966),
        (10, 5.66667, 3.0),
        (8, 5, 2.0),
        (8, 8.5, 1.0),
        (400, 7620, 2.62512),  # worked here: 25 ft dome
        (380, 7620, 2.36914),
        (52, 304.8, 1.11095),  # worked here: 12 in fingerboard
        (0, 100, 0.0),
        (200, 100, 100.0),  # half a circle
    ],
)
def test_sagitta(chord: float, radius: float, height: float) -> None:
    assert sagitta(chord, radius) == pytest.approx(height, abs=1e-5)


@given(st.floats(1, 500), st.floats(500, 1e7))
def test_the_circle_goes_through_crown_and_ends(chord: float, radius: float) -> None:
    """Pythagoras: (R - s)^2 + (c/2)^2 = R^2."""
    s = sagitta(chord, radius)
    assert s == pytest.approx(chord**2 / 4 / (2 * radius - s), rel=1e-9)
    assert s == pytest.approx(radius - sqrt(radius**2 - chord**2 / 4), rel=1e-3, abs=1e-8)


def test_a_chord_is_no_longer_than_the_diameter() -> None:
    with pytest.raises(OutOfRange, match="chord is 21"):
        sagitta(21, 10)
    assert sagitta(0, 0) == 0


def test_the_top_rises_under_load() -> None:
    assert belly_change(3.4, 2.6) == pytest.approx(0.8)


def test_a_hump_can_clear_the_neck() -> None:
    """Worked here: aim -1.8 over a 5.0 mm arch made as 2.2 mm is -0.1 without the hump."""
    assert aim_without_hump(-1.8, 5.0, 2.2, 0.6) == pytest.approx(-0.12)
    assert hump_share(-1.8, 5.0, 2.2, 0.6, -0.3) == 100


@pytest.mark.parametrize(
    ("projection", "belly", "share"),
    [(-3.0, 4.2, 44.444), (-3.0, 2.2, 0.0), (-3.0, 1.0, 0.0), (0.0, 2.2, 0.0), (-2.1, 4.2, 66.667)],
)
def test_share_of_the_hump(projection: float, belly: float, share: float) -> None:
    """Worked here: h = 0.6 (belly - 2.2), n = -0.3 - projection - h, both not negative."""
    assert hump_share(projection, belly, 2.2, 0.6, -0.3) == pytest.approx(share, abs=1e-3)


@given(st.floats(-8, 3), st.floats(0, 8), st.floats(0, 8))
def test_shares_are_shares(projection: float, belly: float, dome: float) -> None:
    assert 0 <= hump_share(projection, belly, dome, 0.6, -0.3) <= 100
