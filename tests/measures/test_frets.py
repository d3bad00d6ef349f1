"""Fret positions of equal temperament, and what wear and dressing leave of a fret."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tailblock.measures.arch import sagitta
from tailblock.measures.frets import (
    crown_flat,
    dressing_margin,
    fret_height_left,
    fret_position,
    height_after_dressing,
    join_to_saddle,
)
from tailblock.measures.limits import OutOfRange

if TYPE_CHECKING:
    from collections.abc import Callable

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


@given(st.floats(0, 3), st.floats(0, 1), st.floats(0, 0.5))
def test_what_is_worn_and_dressed_is_gone(height: float, groove: float, uneven: float) -> None:
    left = fret_height_left(height, groove)
    assert left + groove == pytest.approx(height)
    assert height_after_dressing(height, groove, uneven, 0.05) == pytest.approx(
        left - uneven - 0.05
    )


def test_an_ordinary_dressing_takes_a_tenth_to_two() -> None:
    taken = 1.00 - height_after_dressing(1.00, 0.08, 0.02, 0.05)
    assert 0.1 <= taken <= 0.2  # from memory


@pytest.mark.parametrize(
    ("height", "groove", "enough"),
    # common practice, no source: 0.75 mm at least is to be left
    [(1.05, 0.15, True), (0.90, 0.05, True), (0.90, 0.15, False), (0.75, 0.0, False)],
)
def test_whether_enough_remains(height: float, groove: float, enough: bool) -> None:
    assert (dressing_margin(height, groove, 0.02, 0.05, 0.75) >= 0) is enough


@given(st.floats(1.5, 3.0), st.floats(0.5, 0.75), st.floats(0.001, 0.4))
def test_the_flat_is_a_chord_of_the_crown(width: float, height: float, taken: float) -> None:
    """Oracle: the sagitta of the flat is what was taken; taking all leaves the whole width."""
    flat = crown_flat(width, height, taken)
    radius = height / 2 + width**2 / (8 * height)
    assert sagitta(flat, radius) == pytest.approx(taken, rel=1e-9)
    assert crown_flat(width, height, height) == pytest.approx(width)


@pytest.mark.parametrize(
    ("call", "says"),
    [
        (lambda: fret_height_left(4, 0), "fret height is 4"),
        (lambda: height_after_dressing(1, 0, 2, 0.05), "unevenness is 2"),
        (lambda: crown_flat(1.0, 1.0, 0.1), "crown width is 1; the formula holds from 2 to 6"),
        (lambda: crown_flat(2.0, 1.0, 1.1), "taken is 1.1"),
    ],
)
def test_limits_of_fret_heights(call: Callable[[], float], says: str) -> None:
    with pytest.raises(OutOfRange, match=says):
        call()
