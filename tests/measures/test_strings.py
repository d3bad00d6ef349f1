"""Mass per length and tension of strings."""

from __future__ import annotations

from math import hypot, pi

import pytest
from hypothesis import given
from hypothesis import strategies as st
from uncertainties import ufloat, umath

from tailblock.measures.limits import OutOfRange
from tailblock.measures.pitch import lowered_frequency, note_frequency
from tailblock.measures.strings import (
    lowered_tension,
    plain_mass_per_length,
    string_tension,
    wound_mass_per_length,
)
from tailblock.measures.uncertainty import propagate
from tailblock.measures.units import parse

STEEL = 7850.0  # kg/m^3, handbook value of high-carbon steel (from memory)
POUND_FORCE = 4.4482216152605
BRONZE = {"core_density": STEEL, "wrap_density": 8750.0, "core_fill": 0.825, "closeness": 0.98}


@pytest.mark.parametrize(
    ("length", "frequency", "mass_per_length", "tension"),
    [
        (810, 394, 2 / 0.81, 1005.9),  # published exercise: 0.81 m, 2 g, 394 Hz: 1005.9 N
        (900, 200.308, 3.6 / 0.9, 520.0),  # textbook: 0.90 m, 3.6 g, 520 N gives 200 Hz
        (640, 135, 6.0, 179.159),  # worked here from a published problem's data
        (640, 8 * 135, 6.0 / 15, 764.412),  # the same problem, three octaves up
        (700, 261.6, 4.1 / 0.7, 785.629),  # worked here from a published problem's data (piano)
    ],
)
def test_tension(length: float, frequency: float, mass_per_length: float, tension: float) -> None:
    assert string_tension(length, frequency, mass_per_length) == pytest.approx(tension, rel=1e-4)


@pytest.mark.parametrize(
    ("inches", "note", "pounds"),
    # worked here: plain steel at 647.7 mm, pitches of equal temperament at A4 = 440 Hz (ISO 16)
    [(0.010, "E4", 16.304), (0.011, "E4", 19.728), (0.012, "E4", 23.478), (0.013, "E4", 27.554),
     (0.016, "B3", 23.425), (0.017, "B3", 26.444)],
)  # fmt: skip
def test_plain_steel(inches: float, note: str, pounds: float) -> None:
    mass = plain_mass_per_length(inches * 25.4, STEEL)
    tension = string_tension(647.7, note_frequency(note), mass)
    assert tension / POUND_FORCE == pytest.approx(pounds, abs=0.001)


def test_the_law_in_the_units_of_string_tables() -> None:
    """Trade form of the law: T [lbf] = w (2 L f)^2 / 386.0886, w in lb/in, L in inches.

    386.0886 in/s^2 is standard gravity, 9.80665 m/s^2.
    """
    unit_mass = parse("0.00057 lb/in", "mass per length").quantity.value
    pounds = 0.00057 * (2 * 25.4 * note_frequency("E2")) ** 2 / 386.0886
    tension = string_tension(645.16, note_frequency("E2"), unit_mass)
    assert tension / POUND_FORCE == pytest.approx(pounds, rel=1e-6)


def test_a_published_problem_of_the_longest_steel_string() -> None:
    """University physics text, from memory: 7800 kg/m^3, 4.0 g, 900 N, breaking at 7.0e8 Pa.

    The text's answers are 0.40 m, 0.64 mm and 376 Hz.
    """
    radius = (900 / (7.0e8 * pi)) ** 0.5 * 1000
    mass = plain_mass_per_length(2 * radius, 7800)
    length = 4.0 / mass * 1000
    assert radius == pytest.approx(0.64, abs=0.005)
    assert length == pytest.approx(400, abs=5)
    assert string_tension(length, 376, mass) == pytest.approx(900, rel=0.005)


@given(st.floats(20, 1000), st.floats(-12, 12))
def test_tuning_down_lowers_tension_by_the_square(tension: float, lowered: float) -> None:
    ratio = (lowered_frequency(440, lowered) / 440) ** 2
    assert lowered_tension(tension, lowered) == pytest.approx(tension * ratio)


def test_a_semitone_up_is_an_eighth_more_tension() -> None:
    assert lowered_tension(1, -1) == pytest.approx(1.12246, abs=5e-6)  # worked here: 2^(2/12)


@pytest.mark.parametrize(
    ("gauge", "core", "note", "pounds"),
    # common practice, no source: a wound string of an ordinary set pulls 20 to 35 lb at 25.4 in
    [(25, 12, "G3", 32), (32, 14, "D3", 30), (42, 16, "A2", 28), (54, 18, "E2", 26)],
)
def test_wound_strings_pull_as_they_do(gauge: int, core: int, note: str, pounds: float) -> None:
    mass = wound_mass_per_length(core * 0.0254, (gauge - core) / 2 * 0.0254, **BRONZE)
    tension = string_tension(645.16, note_frequency(note), mass)
    assert tension / POUND_FORCE == pytest.approx(pounds, rel=0.05)


@given(st.floats(0.2, 0.6), st.floats(0.1, 0.5))
def test_a_wound_string_is_lighter_than_solid_metal_of_its_size(core: float, wrap: float) -> None:
    mass = wound_mass_per_length(core, wrap, **BRONZE)
    solid = plain_mass_per_length(core + 2 * wrap, 8750)
    assert 0.75 * solid < mass < solid


@given(st.floats(0.2, 0.6), st.floats(0.1, 0.5))
def test_touching_turns_are_a_helix(core: float, wrap: float) -> None:
    """A torus of wire for each turn (Pappus: section times way of its centre) is the limit."""
    kinds = BRONZE | {"closeness": 1.0, "core_fill": pi / 4}
    rings = 8750 * (pi * wrap**2 / 4) * pi * (core + wrap) / wrap / 1000
    mass = wound_mass_per_length(core, wrap, **kinds) - plain_mass_per_length(core, STEEL)
    assert rings < mass < rings * 1.06


def test_the_estimate_says_how_far_it_can_be_trusted() -> None:
    """Oracle: the library `uncertainties`, first order, for a 0.054 in string."""
    sizes = {"core_diameter": (0.4572, 0.005), "wrap_diameter": (0.4572, 0.005)}
    kinds = {"core_density": (7850, 45), "wrap_density": (8750, 90), "core_fill": (0.825, 0.023),
             "closeness": (0.98, 0.015)}  # fmt: skip
    given = sizes | kinds
    value, u = propagate(
        wound_mass_per_length,
        {name: mean for name, (mean, _) in given.items()},
        {name: step for name, (_, step) in given.items()},
    )
    core, wrap, steel, bronze, fill, close = (ufloat(*pair) for pair in given.values())
    wire = umath.sqrt(1 + (pi * (core + wrap) * close / wrap) ** 2)
    mass = (steel * fill * core**2 + bronze * pi * wrap**2 / 4 * wire) / 1000
    assert value == pytest.approx(mass.nominal_value)
    assert u == pytest.approx(mass.std_dev, rel=1e-3)
    assert u / value == pytest.approx(hypot(0.016, 0.016), abs=0.001)  # as the docstring says


@pytest.mark.parametrize(
    ("values", "says"),
    [
        ({"core_diameter": -0.1}, "core diameter is -0.1; the formula holds from 0 to 3"),
        ({"wrap_diameter": 0.0}, "wrap diameter is 0"),
        ({"core_fill": 1.0}, "core fill is 1"),
        ({"closeness": 1.1}, "closeness is 1.1"),
    ],
)
def test_no_such_string(values: dict[str, float], says: str) -> None:
    with pytest.raises(OutOfRange, match=says):
        wound_mass_per_length(**{"core_diameter": 0.4, "wrap_diameter": 0.4, **BRONZE, **values})


def test_no_such_wire() -> None:
    with pytest.raises(OutOfRange, match="diameter is 12; the formula holds from 0 to 5"):
        plain_mass_per_length(12, STEEL)  # thousandths of an inch given as millimetres
