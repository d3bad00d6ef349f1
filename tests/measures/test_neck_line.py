"""The neck against a straightedge."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tailblock.measures import OutOfRange
from tailblock.measures.arch import arch_radius
from tailblock.measures.frets import fret_position
from tailblock.measures.neck_line import along, fret_drop
from tailblock.measures.relief import bow_radius


@pytest.mark.parametrize("join", [12, 14])
def test_the_straightedge_rests_on_its_two_frets(join: int) -> None:
    assert fret_drop(0.3, 648, join, 1) == 0
    assert fret_drop(0.3, 648, join, join) == pytest.approx(0, abs=1e-12)


@given(relief=st.floats(0.01, 2), scale=st.floats(400, 750), fret=st.integers(2, 13))
def test_it_is_the_arc_of_an_even_bow(relief: float, scale: float, fret: int) -> None:
    # by the circle through the same chord and height, which `bow_radius` gives
    radius = bow_radius(relief, scale, 14)
    first, last = fret_position(scale, 1), fret_position(scale, 14)
    off = fret_position(scale, fret) - (first + last) / 2
    arc = (radius**2 - off**2) ** 0.5 - (radius - relief)
    assert fret_drop(relief, scale, 14, fret) == pytest.approx(arc, rel=1e-3, abs=1e-6)
    assert radius == pytest.approx(arch_radius(relief, last - first))


@pytest.mark.parametrize(("join", "fret"), [(14, 15), (14, 0), (1, 1)])
def test_beyond_the_straightedge_nothing_is_said(join: int, fret: int) -> None:
    with pytest.raises(OutOfRange):
        fret_drop(0.3, 648, join, fret)


@given(st.floats(-10, 10), st.floats(-10, 10), st.floats(-500, 500))
def test_a_straight_line_goes_through_its_points(one: float, other: float, at: float) -> None:
    assert along((0, one), (100, other), 0) == one
    assert along((0, one), (100, other), 100) == pytest.approx(other)
    middle = (along((0, one), (100, other), at) + along((0, one), (100, other), 100 - at)) / 2
    assert middle == pytest.approx((one + other) / 2, abs=1e-9)
