"""Bending stiffness of straps and braces."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import integrate
from uncertainties import ufloat

from tailblock.measures.beams import (
    central_deflection,
    rectangular_stiffness,
    stiffness_for_weight,
    stiffness_ratio,
)
from tailblock.measures.figures import evaluate
from tailblock.measures.limits import OutOfRange

SPRUCE = 10800.0  # N/mm^2, an ordinary value

sizes = st.floats(2, 30)


def test_the_textbook_beam() -> None:
    """A public verification page of a solver, which cites Timoshenko's Strength of Materials.

    1 m between supports, 50 by 50 mm, 200 GPa, 1000 N in the middle: 2.00e-4 m.
    """
    stiffness = rectangular_stiffness(200e3, 50, 50)
    assert stiffness == pytest.approx(200e9 * 5.20833e-7 * 1e6, rel=1e-6)  # N m^2 to N mm^2
    assert central_deflection(1000, 1000, stiffness) == pytest.approx(0.200, abs=5e-4)


def test_deflection_is_the_integral_of_the_moment() -> None:
    """Beam theory without its formula: E I w'' = -M, M = P x / 2 up to the middle, by scipy."""
    load, span, stiffness = 50.0, 400.0, rectangular_stiffness(SPRUCE, 8, 16)
    solved = integrate.solve_ivp(
        lambda x, y: [y[1], -load * min(x, span - x) / 2 / stiffness],
        (0, span / 2),
        [0.0, load * span**2 / (16 * stiffness)],  # no slope in the middle
        rtol=1e-10,
        atol=1e-12,
    )
    assert solved.y[1][-1] == pytest.approx(0, abs=1e-9)
    assert central_deflection(load, span, stiffness) == pytest.approx(solved.y[0][-1], rel=1e-6)


@pytest.mark.parametrize(
    ("width", "height", "second"),
    # b h^3 / 12
    [(8, 16, 2730.6667), (8, 15, 2250.0), (4.5, 13, 823.875), (13, 4.5, 98.71875)],
)
def test_rectangle(width: float, height: float, second: float) -> None:
    assert rectangular_stiffness(SPRUCE, width, height) == pytest.approx(SPRUCE * second)


@pytest.mark.parametrize(("height", "ratio"), [(15, 0.82397), (8, 0.125), (16, 1.0)])
def test_a_shaved_brace(height: float, ratio: float) -> None:
    """Cube of the height: (15/16)^3 = 0.82397, half the height an eighth."""
    found = stiffness_ratio(SPRUCE, 8, height, other_modulus=SPRUCE, other_width=8, other_height=16)
    assert found == pytest.approx(ratio, abs=1e-5)


@given(
    width=sizes,
    height=sizes,
    other_width=sizes,
    other_height=sizes,
    rho=st.floats(300, 900),
    other=st.floats(300, 900),
)
def test_stiffness_for_weight_is_stiffness_over_weight(
    *,
    width: float,
    height: float,
    other_width: float,
    other_height: float,
    rho: float,
    other: float,
) -> None:
    apart = stiffness_ratio(
        SPRUCE, width, height, other_modulus=9000, other_width=other_width,
        other_height=other_height,
    )  # fmt: skip
    weights = (rho * width * height) / (other * other_width * other_height)
    found = stiffness_for_weight(
        SPRUCE, rho, height, other_modulus=9000, other_density=other, other_height=other_height
    )
    assert found == pytest.approx(apart / weights)


def test_uncertainty_of_a_brace() -> None:
    """Oracle: the `uncertainties` library; the height counts three times."""
    oracle = ufloat(10800, 800) * ufloat(8, 0.1) * ufloat(16, 0.1) ** 3 / 12
    values = {"modulus": 10800.0, "width": 8.0, "height": 16.0}
    u = {"modulus": 800.0, "width": 0.1, "height": 0.1}
    value, spread = evaluate("rectangular_stiffness", values, u)
    assert value == pytest.approx(oracle.nominal_value)
    assert spread == pytest.approx(oracle.std_dev, rel=1e-3)


def test_sizes_are_sizes() -> None:
    with pytest.raises(OutOfRange, match="height is -1"):
        rectangular_stiffness(SPRUCE, 8, -1)
    with pytest.raises(OutOfRange, match="stiffness is 0"):
        central_deflection(10, 400, 0)
    with pytest.raises(OutOfRange, match="other height is 0"):
        stiffness_ratio(SPRUCE, 8, 16, other_modulus=SPRUCE, other_width=8, other_height=0)
