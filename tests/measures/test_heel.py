"""A neck reset in wood."""

from __future__ import annotations

from math import cos, radians, sin

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tailblock.measures.action import action_from_geometry
from tailblock.measures.figures import evaluate
from tailblock.measures.heel import (
    abrasive_strokes,
    cheek_taper,
    heel_cut,
    heel_top_cut,
    reset_rise,
    rise_of_cut,
    side_swing,
    tongue_wedge,
)
from tailblock.measures.limits import OutOfRange
from tailblock.measures.neck import neck_reset_angle
from tailblock.measures.saddle import share_at_fret_12

SIZES = {"scale_length": 648.0, "join": 14.0, "compensation": 2.0}
REACH = 650 - 648 * (1 - 2 ** (-14 / 12))


def turned(x: float, z: float, theta: float) -> tuple[float, float]:
    """Turn a point of the neck back about the origin: x toward the saddle, z up [degree]."""
    t = radians(theta)
    return x * cos(t) - z * sin(t), x * sin(t) + z * cos(t)


@pytest.mark.parametrize(("rise", "cut"), [(1.0, 0.29), (2.0, 0.58), (3.0, 0.88), (3.53, 1.03)])
def test_heel_cut(rise: float, cut: float) -> None:
    """Worked here: 648 mm scale, body at fret 14, heel 85 mm, 2 mm of compensation."""
    assert heel_cut(rise, 85, 648, 14, 2) == pytest.approx(cut, abs=0.005)


@given(st.floats(0.1, 5), st.floats(60, 110), st.floats(4, 10), st.floats(60, 110))
def test_cuts_and_wedge_are_those_of_a_neck_turned_back(
    rise: float, heel: float, board: float, tongue: float
) -> None:
    """A turned neck needs just the wood that its points run into; oracle: a rotation, exactly."""
    theta = neck_reset_angle(rise, **SIZES)
    # about the top edge of the joint: the line at the saddle rises, the cap goes into the body
    assert turned(REACH, 0, theta)[1] == pytest.approx(rise, rel=1e-3)
    assert turned(0, -heel, theta)[0] == pytest.approx(heel_cut(rise, heel, **SIZES), rel=1e-3)
    assert turned(tongue, 0, theta)[1] == pytest.approx(
        tongue_wedge(rise, tongue, **SIZES), rel=1e-3
    )
    # about the crown of the fret over it: the top edge goes into the body too, the cap that much on
    top = heel_top_cut(rise, board, **SIZES)
    assert turned(0, -board, theta)[0] == pytest.approx(top, rel=1e-3)
    assert turned(0, -board - heel, theta)[0] == pytest.approx(
        top + heel_cut(rise, heel, **SIZES), rel=1e-3
    )


@given(st.floats(0, 0.5), st.floats(0, 3), st.floats(50, 110), st.floats(0, 1))
def test_the_taper_is_straight_from_top_to_cap(
    top: float, cap: float, heel: float, part: float
) -> None:
    assert cheek_taper(top, cap, heel, 0) == top
    assert cheek_taper(top, cap, heel, heel) == pytest.approx(cap)
    low, high = sorted((top, cap))
    assert low - 1e-12 <= cheek_taper(top, cap, heel, part * heel) <= high + 1e-12


def test_a_depth_below_the_cap_is_no_place_on_the_cheek() -> None:
    with pytest.raises(OutOfRange, match="depth is 90; the formula holds from 0 to 85"):
        cheek_taper(0, 1, 85, 90)


@given(st.floats(-5, 5), st.floats(50, 110))
def test_wood_taken_tells_the_rise_gained(rise: float, heel: float) -> None:
    cut = heel_cut(rise, heel, **SIZES)
    assert rise_of_cut(cut, heel, **SIZES) == pytest.approx(rise, abs=1e-12)


def test_a_shim_at_the_cap_lowers_the_aim() -> None:
    assert rise_of_cut(-0.5, 85, **SIZES) < 0


@given(st.floats(1.5, 4), st.floats(1.5, 4), st.floats(1, 6), st.floats(1, 6), st.floats(-5, 2))
def test_a_reset_by_that_rise_gives_action_and_saddle(
    action: float, wanted: float, exposure: float, exposure_wanted: float, projection: float
) -> None:
    """The identity of the action, before and after."""
    size = {"scale_length": 648.0, "compensation": 2.0, "relief_share": 0.35}
    rise = reset_rise(action, wanted, exposure, exposure_wanted, scale_length=648, compensation=2)
    before = action_from_geometry(0.4, exposure, projection, 0.15, **size)
    after = action_from_geometry(0.4, exposure_wanted, projection + rise, 0.15, **size)
    assert before - after == pytest.approx(action - wanted, abs=1e-9)


def test_uneven_cheeks_swing_the_neck() -> None:
    """Worked here: 0.1 mm over a heel 56 mm wide is half a millimetre at the saddle."""
    assert side_swing(0.5, 0.6, 56, **SIZES) == pytest.approx(0.1 * REACH / 56)
    assert side_swing(0.5, 0.5, 56, **SIZES) == 0
    assert side_swing(0.6, 0.5, 56, **SIZES) < 0  # more off the bass cheek: to the treble


@pytest.mark.parametrize("rise", [1.0, 2.0, 3.0, 4.0])
def test_a_reset_takes_tens_of_strokes_a_side(rise: float) -> None:
    """Common practice, no source: tens of strokes, with a look at the aim every few of them.

    Wood removed against the formula: 0.02 mm a stroke (from memory) on an 85 mm heel are 15 to 60
    strokes for 1 to 4 mm of aim, and five strokes move the aim by a third of a millimetre, which
    a straightedge shows.
    """
    strokes = abrasive_strokes(heel_cut(rise, 85, **SIZES), 0.02)
    assert 10 <= strokes < 100
    assert rise_of_cut(strokes * 0.02, 85, **SIZES) == pytest.approx(rise)
    assert rise_of_cut(5 * 0.02, 85, **SIZES) == pytest.approx(0.34, abs=0.005)


@pytest.mark.parametrize(
    ("name", "values"),
    [
        ("abrasive_strokes", {"cut": 0.5, "wood_per_stroke": 0}),
        ("abrasive_strokes", {"cut": -0.5}),
        ("rise_of_cut", {"cut": 0.5, "heel_height": 0, "scale_length": 648}),
        ("side_swing", {"bass": 0.5, "treble": 0.6, "heel_width": 0, "scale_length": 648}),
        ("tongue_wedge", {"rise": 3, "tongue_length": -1, "scale_length": 648}),
        ("heel_top_cut", {"rise": 3, "board_height": -1, "scale_length": 648}),
    ],
)
def test_sizes_are_sizes(name: str, values: dict[str, float]) -> None:
    with pytest.raises(OutOfRange):
        evaluate(name, values, {})


def test_twice_the_drop_and_the_whole_growth_of_the_saddle() -> None:
    """Worked here: 1/k = 2.13 for a 648 mm scale."""
    assert 1 / share_at_fret_12(648, 2) == pytest.approx(2.13, abs=0.005)
    assert reset_rise(2.72, 2.0, 1.6, 3.6, scale_length=648, compensation=2) == pytest.approx(
        0.72 * 2.1337 + 2.0, abs=1e-3
    )
