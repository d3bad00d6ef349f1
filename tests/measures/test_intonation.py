"""Cents from a saddle, a nut or a fret that stands elsewhere, and from pressing a string down."""

from __future__ import annotations

from math import hypot, log2, sqrt
from typing import TYPE_CHECKING

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import brentq

from tailblock.measures.intonation import (
    cents_per_mm,
    fret_offset_cents,
    nut_offset_cents,
    saddle_move_for_cents,
    saddle_offset_cents,
)
from tailblock.measures.limits import OutOfRange
from tailblock.measures.pitch import cents_between
from tailblock.measures.stretching import pressed_length, stretch_cents

if TYPE_CHECKING:
    from collections.abc import Callable

scales = st.floats(500, 720)
frets = st.integers(1, 24)


@given(scales, frets)
def test_cents_per_mm_is_the_slope_of_the_definition_of_the_cent(length: float, fret: int) -> None:
    """Oracle: 1200 log2 of the two frequency ratios, the saddle moved by a micrometre."""
    stopped = length * 2 ** (-fret / 12)
    moved = 0.001
    sharper = 1200 * (log2(stopped / (stopped + moved)) - log2(length / (length + moved)))
    assert cents_per_mm(length, fret) == pytest.approx(sharper / moved, rel=1e-3)


@given(scales, frets, st.floats(-3, 3), st.floats(-1, 1), st.floats(-0.5, 0.5))
def test_offsets_are_ratios_of_vibrating_lengths(
    scale: float, fret: int, saddle: float, nut: float, crown: float
) -> None:
    """Oracle: frequencies as one over length, the open string tuned to 1."""
    stopped = scale * 2 ** (-fret / 12)
    right = scale / stopped
    with_saddle = (scale + saddle) / (stopped + saddle)
    assert saddle_offset_cents(saddle, scale, fret) == pytest.approx(
        cents_between(right, with_saddle), abs=1e-8
    )
    with_nut = (scale - nut) / stopped
    assert nut_offset_cents(nut, scale) == pytest.approx(cents_between(right, with_nut), abs=1e-8)
    with_crown = scale / (stopped - crown)
    assert fret_offset_cents(crown, scale, fret) == pytest.approx(
        cents_between(right, with_crown), abs=1e-8
    )


def test_the_old_rule_of_eighteen() -> None:
    """Frets spaced by 1/18 put the twelfth of 650 mm at 322.636: its octave is 12.5 cents flat.

    Worked here from the rule, against the ratio 2^(1/12).
    """
    twelfth = 650 * (1 - (17 / 18) ** 12)
    assert twelfth == pytest.approx(322.636, abs=0.001)
    assert fret_offset_cents(twelfth - 325, 650, 12) == pytest.approx(-12.5, abs=0.05)


@given(scales, st.integers(5, 24), st.floats(-12, 12))
def test_moving_the_saddle_undoes_the_error(scale: float, fret: int, sharp: float) -> None:
    move = saddle_move_for_cents(sharp, scale, fret)
    found = brentq(lambda x: saddle_offset_cents(x, scale, fret) + sharp, -20, 20)
    assert move == pytest.approx(found, abs=1e-6)


@given(scales, frets, st.floats(0.1, 3))
def test_a_saddle_farther_back_is_flatter_and_more_so_up_the_neck(
    scale: float, fret: int, back: float
) -> None:
    here, next_up = (saddle_offset_cents(back, scale, n) for n in (fret, fret + 1))
    assert next_up < here < 0


@given(st.floats(0, 10), scales, frets)
def test_pressing_down_lengthens_the_string(action: float, scale: float, fret: int) -> None:
    """Oracle: the two straight pieces by Pythagoras."""
    x = scale * (1 - 2 ** (-fret / 12))
    longer = hypot(x, action) + hypot(scale - x, action) - scale
    assert pressed_length(action, scale, fret) == pytest.approx(longer, abs=1e-9)


STEEL = {"elastic_modulus": 200_000.0, "string_beyond": 0.0}
STRINGS = {  # tension [N] and core [mm] of a light set, from `set_tension`
    "E4": {"tension": 103.6, "core_diameter": 0.3048},
    "E2": {"tension": 116.5, "core_diameter": 0.4572},
}


@given(st.floats(0.1, 5), st.floats(0.01, 3), frets)
def test_higher_action_is_sharper(action: float, more: float, fret: int) -> None:
    low, high = (
        stretch_cents(height, 648, fret, **STRINGS["E2"], **STEEL)
        for height in (action, action + more)
    )
    assert 0 < low < high


def test_stretch_is_hookes_law_on_the_frequency() -> None:
    """Oracle: the definition of the cent on sqrt(T) by hand, plain 0.012 in, 1.8 mm at fret 12."""
    area = 0.3048**2 * 0.785398
    more = 200_000 * area * 1.8**2 / 324 / 648
    by_hand = cents_between(1, sqrt((103.6 + more) / 103.6))
    found = stretch_cents(1.8, 648, 12, **STRINGS["E4"], **STEEL)
    assert found == pytest.approx(by_hand, rel=1e-4)


def test_a_string_that_slips_shares_the_stretch() -> None:
    held = stretch_cents(2.4, 648, 12, **STRINGS["E2"], **STEEL)
    slips = stretch_cents(2.4, 648, 12, **STRINGS["E2"], **STEEL | {"string_beyond": 162.0})
    assert slips == pytest.approx(held * 648 / 810, rel=0.01)


@pytest.mark.parametrize(
    ("string", "action", "low", "high"),
    # From memory: half a millimetre more at fret 12 is 1 to 2 cents. The plain string agrees; on
    # the sixth the whole stretch comes to 3, so that a string slips over nut and saddle in part.
    [("E4", 1.8, 0.8, 2.0), ("E2", 2.4, 1.0, 3.6)],
)
def test_half_a_millimetre_of_action(string: str, action: float, low: float, high: float) -> None:
    before, after = (
        stretch_cents(height, 648, 12, **STRINGS[string], **STEEL)
        for height in (action, action + 0.5)
    )
    assert low < after - before < high


def test_stretch_asks_for_the_usual_compensation() -> None:
    """Common starting values, from memory: 1.5 to 2.5 mm on the first string, 4 to 6 on the sixth.

    Stretch alone explains about half of each; the rest is the stiffness of the string and the
    finger's push, which the formula leaves out.
    """
    first = saddle_move_for_cents(stretch_cents(1.8, 648, 12, **STRINGS["E4"], **STEEL), 648, 12)
    sixth = saddle_move_for_cents(stretch_cents(2.4, 648, 12, **STRINGS["E2"], **STEEL), 648, 12)
    assert 0.4 < first < 2.5
    assert 1.5 < sixth < 6
    assert first < sixth


@pytest.mark.parametrize(
    ("call", "says"),
    [
        (lambda: saddle_offset_cents(30, 648, 12), "saddle offset is 30"),
        (lambda: saddle_move_for_cents(60, 648, 12), "sharp is 60"),
        (lambda: saddle_move_for_cents(6, 648, 2), "fret is 2; the formula holds from 5 to 24"),
        (lambda: nut_offset_cents(6, 648), "nut offset is 6"),
        (lambda: nut_offset_cents(0.5, 25.5), "scale length is 25.5"),  # inches as mm
        (lambda: fret_offset_cents(0.1, 648, 0), "fret is 0"),
        (lambda: stretch_cents(2, 648, 12, tension=0, core_diameter=0.3, **STEEL), "tension is 0"),
        (lambda: pressed_length(2, 648, 0), "fret is 0; the formula holds from 1 to 24"),
    ],
)  # fmt: skip
def test_limits(call: Callable[[], float], says: str) -> None:
    with pytest.raises(OutOfRange, match=says):
        call()
