"""Arcs of a circle."""

from __future__ import annotations

from math import sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tailblock.measures.arch import arch_over_span, arch_radius, sagitta
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


@pytest.mark.parametrize(
    ("rise", "chord", "radius"),
    # published exercises in plane geometry; 8 and 1 give 8.5 exactly
    [(3, 10, 5.66667), (2, 8, 5.0), (1, 8, 8.5), (4, 8, 4.0)],
)
def test_radius(rise: float, chord: float, radius: float) -> None:
    assert arch_radius(rise, chord) == pytest.approx(radius, abs=1e-5)


@given(st.floats(0.002, 1), st.floats(1, 500), st.floats(0, 1))
def test_radius_and_height_are_one(part: float, chord: float, other: float) -> None:
    rise = part * chord / 2
    assert sagitta(chord, arch_radius(rise, chord)) == pytest.approx(rise, rel=1e-6)
    assert arch_over_span(rise, chord, chord) == pytest.approx(rise, rel=1e-6)
    assert arch_over_span(rise, chord, other * chord) <= rise * (1 + 1e-9)


def test_a_flat_arch_goes_with_the_square_of_the_span() -> None:
    """Worked here: 2.37 mm over 380 mm (a 25 ft dome) is 1.90 over 340 mm."""
    assert arch_over_span(2.37, 380, 340) == pytest.approx(2.37 * (340 / 380) ** 2, rel=1e-4)


def test_no_rise_has_no_radius() -> None:
    for rise in (0, 6):
        with pytest.raises(OutOfRange, match=f"rise is {rise}"):
            arch_radius(rise, 10)
