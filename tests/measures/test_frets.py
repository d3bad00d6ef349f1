"""Fret positions of equal temperament."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tailblock.measures.frets import fret_position, join_to_saddle
from tailblock.measures.limits import OutOfRange

FRETS = (1, 2, 3, 5, 7, 9, 12, 14, 15, 17, 19, 20)
# Worked here from the ratio 2^(1/12), to 0.001 mm.
POSITIONS = {
    650.0: (36.482, 70.916, 103.417, 163.050, 216.177, 263.508, 325.000, 360.458, 376.709,
            406.525, 433.089, 445.263),
    647.7: (36.353, 70.665, 103.051, 162.473, 215.412, 262.575, 323.850, 359.182, 375.376,
            405.087, 431.556, 443.687),
    628.65: (35.283, 68.587, 100.020, 157.695, 209.076, 254.852, 314.325, 348.618, 364.335,
             393.172, 418.863, 430.638),
}  # fmt: skip


@pytest.mark.parametrize("scale", POSITIONS)
def test_positions(scale: float) -> None:
    found = [fret_position(scale, fret) for fret in FRETS]
    assert found == pytest.approx(POSITIONS[scale], abs=0.0006)


@given(st.floats(300, 900))
def test_the_divisor_of_the_trade(scale: float) -> None:
    """Each fret takes 1/17.817 of what is left (the trade's rounding of 17.81715)."""
    assert scale / fret_position(scale, 1) == pytest.approx(17.817, abs=0.0005)


@given(st.floats(300, 900), st.integers(0, 24))
def test_an_octave_up_halves_what_is_left(scale: float, fret: int) -> None:
    left, half = (scale - fret_position(scale, n) for n in (fret, fret + 12))
    assert half == pytest.approx(left / 2)


def test_compensation_lengthens_the_way_to_the_saddle() -> None:
    assert join_to_saddle(647.7, 14, 0) == pytest.approx(288.518, abs=0.001)
    assert join_to_saddle(647.7, 14, 2) == pytest.approx(290.518, abs=0.001)


@pytest.mark.parametrize("fret", [-1, 37, float("nan")])
def test_there_are_no_such_frets(fret: float) -> None:
    with pytest.raises(OutOfRange, match=r"fret is .*; the formula holds from 0 to 36"):
        fret_position(650, fret)
