"""The table of figures and its evaluation with uncertainty."""

from __future__ import annotations

import inspect
from math import hypot, isfinite

import pytest

from tailblock.errors import TailblockError
from tailblock.measures.definitions import EXAMPLES
from tailblock.measures.figures import (
    FIGURES,
    REGIONS,
    Figure,
    NoAnswer,
    UnknownFigure,
    WrongArguments,
    evaluate,
)
from tailblock.measures.limits import OutOfRange

# An ordinary value for each argument, to run every row once.
ORDINARY = {
    "pitch": 2.0, "slack": 1.0, "bass": 2.4, "treble": 1.8, "height": 3.0, "distance": 8.0,
    "slot_depth": 6.0, "exposure": 3.0, "projection": -1.0, "belly": 3.0, "chord": 380.0,
    "radius": 7620.0, "relief": 0.2, "rise": 2.0, "scale_length": 648.0, "heel_height": 85.0,
    "first_opening": 0.45, "action": 2.5, "action_wanted": 2.0, "humidity": 50.0,
    "temperature": 21.0, "size": 400.0, "coefficient": 0.00148, "moisture_before": 8.5,
    "moisture_after": 7.0, "frequency": 110.0, "mass_per_length": 5.0, "fret": 12.0,
    "front_gap": 8.0, "back_gap": 11.0, "front_distance": 150.0, "back_distance": 100.0,
    "tilt": 2.0, "string_height": 12.5, "bridge_height": 9.0, "tension": 700.0, "ramp_depth": 1.5,
    "ramp_length": 4.0, "hole_drop": 1.0, "lowered": 0.8, "break_angle": 20.0,
    "forward_force": 44.0, "modulus": 10800.0, "width": 8.0, "cap_height": 2.0, "density": 420.0,
    "other_modulus": 9000.0, "other_width": 6.0, "other_height": 10.0, "other_density": 450.0,
    "load": 10.0, "span": 300.0, "stiffness": 3e7, "gap": 0.5, "chord_wanted": 340.0,
    "height_at_join": 7.5, "height_at_end": 8.1, "tongue_length": 90.0, "neck_angle": 0.5,
    "exposure_wanted": 3.5, "board_height": 7.5, "cut": 0.6, "cut_at_top": 0.1, "cut_at_cap": 0.9,
    "depth": 40.0, "heel_width": 56.0, "age": 24.0, "later": 168.0, "start": 2.0, "early": 2.2,
    "late": 2.25, "plate_modulus": 850.0, "plate_width": 60.0, "plate_thickness": 2.8,
    "semitones": -5.0, "frequency_before": 220.0, "frequency_after": 225.0, "diameter": 0.3,
    "core_diameter": 0.4, "wrap_diameter": 0.4, "first_gauge": 0.267, "first_gauge_after": 0.275,
    "treble_gauge": 0.72, "sharp": 8.0, "saddle_offset": 1.0, "nut_offset": 0.3,
    "fret_offset": 0.2, "fret_height": 1.0, "groove": 0.1, "unevenness": 0.02, "crown_width": 2.2,
    "crown_height": 1.0, "taken": 0.1, "gap_at_first": 0.1, "slot_height": 0.2,
    "saddle_height": 3.6, "nut_height": 2.0, "slot_floor": 1.3, "string_diameter": 1.0,
    "board_width": 52.0, "shrinkage": 5.0, "moisture_final": 6.0, "time_held": 100.0,
    "dome_change": 0.4, "growth": 0.05, "before": 2.0, "after": 2.4, "humidity_before": 45.0,
    "humidity_after": 55.0, "aim_over_top": 9.8,
}  # fmt: skip

AT_FRET_1 = -648 * 2 ** (-1 / 12)  # a compensation that sets the saddle on fret 1

figures = pytest.mark.parametrize("figure", FIGURES.values(), ids=lambda figure: figure.name)


@figures
def test_a_row_fits_its_function(figure: Figure) -> None:
    parameters = inspect.signature(figure.function).parameters
    assert set(parameters) == set(figure.arguments)
    assert {*figure.arguments.values(), figure.result} <= set(EXAMPLES)
    assert FIGURES[figure.name] is figure


@figures
def test_a_docstring_names_units_source_and_example(figure: Figure) -> None:
    text = inspect.getdoc(figure.function) or ""
    assert "Source: " in text
    assert ">>> " in text
    assert "# from " in text or "# worked here" in text
    assert text.split("\n\n")[0].endswith("].")  # unit of the result
    for argument in figure.arguments:
        assert argument in text.split("Parameters")[1]


@figures
def test_every_figure_has_an_ordinary_answer(figure: Figure) -> None:
    values = {name: ORDINARY[name] for name in figure.required}
    value, u = evaluate(figure.name, values, {name: abs(values[name]) / 50 for name in values})
    assert isfinite(value)
    assert 0 < u < float("inf")


@pytest.mark.parametrize(
    ("name", "values", "u", "expected"),
    # worked here by hand, standard uncertainties of the assumed factors included
    [
        ("aim_without_hump", {"projection": -1.8, "belly": 2.2, "dome": 2.2},
         {"projection": 0.26, "belly": 0.31}, hypot(0.26, 0.6 * 0.31)),
        ("aim_without_hump", {"projection": -1.8, "belly": 5.0, "dome": 2.2},
         {"projection": 0.26, "belly": 0.31}, hypot(0.26, 0.6 * 0.31, 0.2 * 2.8)),
        ("aim_without_hump", {"projection": -1.8, "belly": 2.2},
         {"projection": 0.26}, hypot(0.26, 0.6 * 1.0)),
        ("aim_at_normal_relief", {"projection": -1.0, "relief": 0.5, "relief_wanted": 0.2},
         {"projection": 0.26, "relief": 0.03}, hypot(0.26, 2.9 * 0.03, 0.5 * 0.3)),
        ("relief_twist", {"bass": 0.2, "treble": 0.2}, {"bass": 0.02, "treble": 0.02},
         hypot(0.02, 0.02)),
        ("season_action", {"action": 2.5, "humidity": 55}, {"action": 0.12}, hypot(0.12, 0.1)),
    ],
)  # fmt: skip
def test_uncertainty_of_a_figure(
    name: str, values: dict[str, float], u: dict[str, float], expected: float
) -> None:
    assert evaluate(name, values, u)[1] == pytest.approx(expected, rel=1e-6)


def test_the_action_identity_is_known_to_two_tenths() -> None:
    """Ordinary tools, read at the middle: about 0.19 mm, so 0.4 mm is twice that."""
    values = {"action": 2.0, "first_opening": 0.45, "exposure": 3.6, "projection": 0.0,
              "relief": 0.15, "scale_length": 648.0}  # fmt: skip
    u = {"action": 0.12, "exposure": 0.20, "projection": 0.25}
    assert evaluate("geometry_residual", values, u)[1] == pytest.approx(0.19, abs=0.005)


def test_a_figure_given_everything_assumes_nothing() -> None:
    value, u = evaluate("fret_position", {"scale_length": 647.7, "fret": 14.0}, {})
    assert value == pytest.approx(359.182, abs=0.001)  # worked here from the ratio 2^(1/12)
    assert u == 0


def test_what_divides_by_zero_is_an_error_of_ours() -> None:
    with pytest.raises(NoAnswer, match=r"^share_at_fret_12: these values have no result"):
        evaluate("share_at_fret_12", {"scale_length": 648.0, "compensation": AT_FRET_1}, {})


def test_a_size_that_no_instrument_has_is_a_slip() -> None:
    with pytest.raises(OutOfRange, match=r"scale length is 25\.5; the formula holds from 200 to"):
        evaluate("fret_position", {"scale_length": 25.5}, {})


def test_an_unknown_figure_names_those_there_are() -> None:
    with pytest.raises(
        UnknownFigure, match=r"'nonsense' is not a figure; `tailblock figure` lists all 113"
    ):
        evaluate("nonsense", {}, {})


def test_a_slip_of_the_pen_names_what_is_near() -> None:
    with pytest.raises(UnknownFigure, match=r"^'heel_cutt' is not a figure; nearest: heel_cut, "):
        evaluate("heel_cutt", {}, {})


def test_no_two_rows_have_one_name() -> None:
    assert len(FIGURES) == sum(map(len, REGIONS.values()))


def test_wrong_arguments_name_the_right_ones() -> None:
    with pytest.raises(WrongArguments) as caught:
        evaluate("tilt_change", {"pitch": 1.0, "tilt": 2.0}, {"slop": 0.1})
    assert str(caught.value) == (
        "tilt_change lacks slack and does not know slop, tilt; it takes pitch, slack; "
        "write it like slack='2.5 deg'"
    )
    assert isinstance(caught.value, TailblockError)
