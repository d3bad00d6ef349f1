"""What a season does to the dome of a top."""

from __future__ import annotations

from math import sqrt
from typing import TYPE_CHECKING, Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad
from scipy.optimize import brentq

from tailblock.measures.limits import OutOfRange
from tailblock.measures.season_dome import (
    action_after_dome,
    arc_length,
    braced_dome_change,
    dome_at_fixed_chord,
)

if TYPE_CHECKING:
    from collections.abc import Callable

TOP: dict[str, Any] = {"top_coefficient": 0.00148, "top_thickness": 2.8, "top_modulus_across": 850}
BRACE: dict[str, Any] = {"brace_spacing": 90, "brace_width": 8, "brace_height": 16,
                         "brace_modulus": 10800}  # fmt: skip


@given(st.floats(0.1, 60), st.floats(200, 600))
def test_arc_length_is_the_integral_along_the_circle(dome: float, chord: float) -> None:
    """Oracle: scipy integrates sqrt(1 + y'^2) over the chord."""
    radius = dome / 2 + chord**2 / (8 * dome)
    length, _ = quad(lambda x: radius / sqrt(radius**2 - x**2), -chord / 2, chord / 2)
    assert arc_length(dome, chord) == pytest.approx(length, rel=1e-7)


def test_arcs_that_are_known() -> None:
    assert arc_length(0, 380) == 380
    assert arc_length(100, 200) == pytest.approx(314.159, abs=0.001)  # half a circle of radius 100


@given(st.floats(0, 6), st.floats(300, 420), st.floats(0.001, 2))
def test_dome_between_fixed_edges(dome: float, chord: float, growth: float) -> None:
    """Oracle: scipy's root of the arc's length; and shrinking back undoes it."""
    risen = dome_at_fixed_chord(dome, chord, growth)
    wanted = arc_length(dome, chord) + growth
    root = brentq(lambda h: arc_length(h, chord) - wanted, 0, chord / 2, xtol=1e-10)
    assert risen == pytest.approx(root, abs=1e-6)
    assert dome_at_fixed_chord(risen, chord, -growth) == pytest.approx(dome, abs=2e-4)


def test_a_top_that_shrinks_more_than_its_arch_holds_is_flat() -> None:
    assert dome_at_fixed_chord(2.4, 380, -0.05) == 0  # the arc of 2.4 mm is 0.040 mm longer


def test_fixed_edges_are_an_upper_limit_and_no_forecast() -> None:
    """Free swelling by 1.6 % of moisture, all as length of arc, against the braced plate."""
    free = 380 * 0.00148 * 1.6
    limit = dome_at_fixed_chord(2.4, 380, free) - 2.4
    assert braced_dome_change(380, 8.5, 10.1, **TOP, **BRACE, bending_share=1) < limit


def test_little_of_the_free_swelling_comes_out_as_length_of_arc() -> None:
    """The rule of thumb (0.45 mm for 10 % of humidity, from memory) is 2 % of it, worked here."""
    longer = arc_length(2.85, 380) - arc_length(2.4, 380)
    assert longer / (380 * 0.00148 * 1.61) == pytest.approx(0.02, abs=0.005)


def test_two_layers_of_one_width_bend_as_timoshenko_says() -> None:
    """Oracle: the bimetal strip, J. Opt. Soc. Am. 11 (1925), formula from memory."""
    a, b, modulus_a, modulus_b, strain = 2.8, 16.0, 850.0, 10800.0, 0.00148 * 2
    m, n, h = a / b, modulus_a / modulus_b, a + b
    curvature = 6 * strain * (1 + m) ** 2
    curvature /= h * (3 * (1 + m) ** 2 + (1 + m * n) * (m**2 + 1 / (m * n)))
    strip = BRACE | {"brace_spacing": 8}
    rise = braced_dome_change(380, 8, 10, **TOP, **strip, bending_share=1)
    assert rise == pytest.approx(curvature * 380**2 / 8)


def test_forces_and_moments_of_the_composite_are_in_balance() -> None:
    """Oracle: numpy solves the two equations of balance for mean strain and curvature."""
    ea = np.array([850 * 90 * 2.8, 10800 * 8 * 16.0])
    own = ea * np.array([2.8**2, 16.0**2]) / 12
    z = np.array([1.4, -8.0])
    free = np.array([0.00148 * 1.6, 0.0])
    balance = [[ea.sum(), ea @ z], [ea @ z, ea @ z**2 + own.sum()]]
    _, curvature = np.linalg.solve(np.array(balance), np.array([ea @ free, (ea * z) @ free]))
    rise = braced_dome_change(380, 8.5, 10.1, **TOP, **BRACE, bending_share=1)
    assert rise == pytest.approx(curvature * 380**2 / 8)


def test_order_of_magnitude_of_the_rule_of_thumb() -> None:
    """From memory: 0.3 to 0.6 mm for 10 % of humidity held for weeks (45 to 55 %: 1.6 %)."""
    rise = braced_dome_change(380, 8.46, 10.07, **TOP, **BRACE, bending_share=0.5)
    assert 0.45 / 3 < rise < 0.45 * 3


def test_the_two_rules_of_thumb_of_a_season_agree() -> None:
    """From memory, for 10 % of humidity: the top 0.3 to 0.6 mm, the action 0.15 to 0.3 (u 0.1)."""
    action = action_after_dome(0.45, 0.6, 648, 2)
    assert action == pytest.approx(0.2, abs=0.1)


@given(st.floats(6, 12), st.floats(0.1, 4))
def test_damp_lifts_and_drought_sinks_alike(moisture: float, more: float) -> None:
    up = braced_dome_change(380, moisture, moisture + more, **TOP, **BRACE, bending_share=0.5)
    down = braced_dome_change(380, moisture + more, moisture, **TOP, **BRACE, bending_share=0.5)
    assert up > 0
    assert down == pytest.approx(-up)


@pytest.mark.parametrize(
    ("call", "says"),
    [
        (lambda: action_after_dome(12, 0.6, 648, 2), "dome change is 12"),
        (lambda: arc_length(200, 380), "dome is 200; the formula holds from 0 to 190"),
        (lambda: dome_at_fixed_chord(2, 380, 150), "growth is 150"),
        (
            lambda: braced_dome_change(15, 8, 9, **TOP, **BRACE, bending_share=0.5),
            "chord is 15",  # inches as millimetres
        ),
        (
            lambda: braced_dome_change(380, 8, 9, **TOP, **BRACE, bending_share=2),
            "bending share is 2",
        ),
        (
            lambda: braced_dome_change(
                380, 8, 9, **TOP, **BRACE | {"brace_spacing": 5}, bending_share=0.5
            ),
            "brace spacing is 5",
        ),
    ],
)
def test_limits(call: Callable[[], float], says: str) -> None:
    with pytest.raises(OutOfRange, match=says):
        call()
