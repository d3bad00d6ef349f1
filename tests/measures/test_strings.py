"""String tension and intonation."""

from __future__ import annotations

from math import log2, pi

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tailblock.measures.strings import cents_per_mm, string_tension

STEEL = 7850.0  # kg/m^3, handbook value of high-carbon steel (from memory)
POUND_FORCE = 4.4482216152605


@pytest.mark.parametrize(
    ("length", "frequency", "mass_per_length", "tension"),
    [
        (810, 394, 2 / 0.81, 1005.9),  # published exercise: 0.81 m, 2 g, 394 Hz: 1005.9 N
        (900, 200.308, 3.6 / 0.9, 520.0),  # textbook: 0.90 m, 3.6 g, 520 N gives 200 Hz
        (640, 135, 6.0, 179.159),  # worked here from a published problem's data
    ],
)
def test_tension(length: float, frequency: float, mass_per_length: float, tension: float) -> None:
    assert string_tension(length, frequency, mass_per_length) == pytest.approx(tension, rel=1e-4)


@pytest.mark.parametrize(
    ("inches", "frequency", "pounds"),
    # worked here: plain steel at 647.7 mm, pitches of equal temperament at A4 = 440 Hz (ISO 16)
    [(0.010, 329.628, 16.304), (0.012, 329.628, 23.478), (0.017, 246.942, 26.444)],
)
def test_plain_steel(inches: float, frequency: float, pounds: float) -> None:
    grams = STEEL * pi * (inches * 0.0254) ** 2 / 4 * 1000
    tension = string_tension(647.7, frequency, grams)
    assert tension / POUND_FORCE == pytest.approx(pounds, abs=0.001)


def test_a_semitone_up_is_an_eighth_more_tension() -> None:
    up = string_tension(648, 440 * 2 ** (1 / 12), 5) / string_tension(648, 440, 5)
    assert up == pytest.approx(2 ** (2 / 12))


@given(st.floats(400, 900), st.integers(1, 24))
def test_cents_per_mm_is_the_slope_of_the_definition_of_the_cent(length: float, fret: int) -> None:
    """Oracle: 1200 log2 of the two frequency ratios, the saddle moved by a micrometre."""
    stopped = length * 2 ** (-fret / 12)
    moved = 0.001
    sharper = 1200 * (log2(stopped / (stopped + moved)) - log2(length / (length + moved)))
    assert cents_per_mm(length, fret) == pytest.approx(sharper / moved, rel=1e-3)
