"""Braces with a shaped top, and braces glued to a plate."""

from __future__ import annotations

from math import pi, sqrt
from typing import TYPE_CHECKING

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import integrate

from tailblock.measures.beams import rectangular_stiffness
from tailblock.measures.limits import OutOfRange
from tailblock.measures.sections import glued_stiffness, peaked_stiffness, rounded_stiffness

if TYPE_CHECKING:
    from collections.abc import Callable

SPRUCE = 10800.0  # N/mm^2, an ordinary value
ACROSS = 850.0  # the same wood across its grain

sizes = st.floats(2, 30)


def second_moment(width: Callable[[float], float], height: float, corner: float) -> float:
    """About the centre, by integration over a section given as its width at each height."""

    def over(power: int) -> float:
        parts = ((0.0, corner), (corner, height))
        return float(sum(integrate.quad(lambda z: z**power * width(z), *ab)[0] for ab in parts))

    centre = over(1) / over(0)
    return over(2) - over(0) * centre**2


@given(sizes, sizes, st.floats(0.01, 0.99))
def test_rounded_and_peaked_tops_are_their_integrals(
    width: float, height: float, part: float
) -> None:
    cap = part * height
    body = height - cap

    def rounded(z: float) -> float:
        return width if z <= body else width * sqrt(max(0.0, 1 - ((z - body) / cap) ** 2))

    def peaked(z: float) -> float:
        return width if z <= body else width * (height - z) / cap

    by_integral = [second_moment(shape, height, body) for shape in (rounded, peaked)]
    assert rounded_stiffness(1, width, height, cap) == pytest.approx(by_integral[0], rel=1e-6)
    assert peaked_stiffness(1, width, height, cap) == pytest.approx(by_integral[1], rel=1e-6)


@given(sizes, sizes)
def test_limits_of_the_caps(width: float, height: float) -> None:
    """No cap is a rectangle; nothing but cap is half an ellipse, or a triangle: b h^3 / 36."""
    square = rectangular_stiffness(SPRUCE, width, height)
    assert rounded_stiffness(SPRUCE, width, height, 0) == pytest.approx(square)
    assert peaked_stiffness(SPRUCE, width, height, 0) == pytest.approx(square)
    assert peaked_stiffness(SPRUCE, width, height, height) == pytest.approx(square / 3)
    half_ellipse = width * height**3 * (pi / 16 - 4 / (9 * pi))
    assert rounded_stiffness(1, width, height, height) == pytest.approx(half_ellipse)


@given(sizes, sizes, st.floats(0, 0.98), st.floats(0.01, 1))
def test_wood_taken_off_the_top_costs_stiffness(
    width: float, height: float, part: float, more: float
) -> None:
    cap = part * height
    higher = cap + more * (height - cap)
    for stiffness in (rounded_stiffness, peaked_stiffness):
        assert stiffness(1, width, height, higher) <= stiffness(1, width, height, cap)
    assert peaked_stiffness(1, width, height, cap) <= rounded_stiffness(1, width, height, cap)


@pytest.mark.parametrize("stiffness", [rounded_stiffness, peaked_stiffness])
def test_a_cap_is_no_higher_than_its_brace(stiffness: Callable[..., float]) -> None:
    with pytest.raises(OutOfRange, match="cap height is 17; the formula holds from 0 to 16"):
        stiffness(SPRUCE, 8, 16, 17)


@given(sizes, sizes, sizes, st.floats(1, 4), st.floats(100, 20000))
def test_a_glued_brace_is_its_integral(
    width: float, height: float, strip: float, thickness: float, modulus: float
) -> None:
    """Widths weighted by modulus, as a section of two materials is transformed into one of one."""
    whole = thickness + height

    def weighted(z: float) -> float:
        return modulus * strip if z < thickness else SPRUCE * width

    found = glued_stiffness(
        SPRUCE, width, height, plate_modulus=modulus, plate_width=strip, plate_thickness=thickness
    )
    assert found == pytest.approx(second_moment(weighted, whole, thickness), rel=1e-6)


@given(sizes, sizes, sizes)
def test_one_wood_and_one_width_is_one_beam(width: float, height: float, thickness: float) -> None:
    found = glued_stiffness(
        SPRUCE, width, height, plate_modulus=SPRUCE, plate_width=width, plate_thickness=thickness
    )
    assert found == pytest.approx(rectangular_stiffness(SPRUCE, width, height + thickness))


def test_glue_is_worth_more_than_a_plate() -> None:
    """Worked here: two equal halves slip as 1 + 1 and glued together bend as 2^3."""
    half = rectangular_stiffness(SPRUCE, 8, 8)
    glued = glued_stiffness(SPRUCE, 8, 8, plate_modulus=SPRUCE, plate_width=8, plate_thickness=8)
    assert glued / (half + half) == pytest.approx(4)
    bare = glued_stiffness(SPRUCE, 8, 8, plate_modulus=ACROSS, plate_width=0, plate_thickness=3)
    assert bare == pytest.approx(half)
