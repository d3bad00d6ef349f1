"""`figure`: bench formulas from the command line."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from tailblock.measures import FIGURES

if TYPE_CHECKING:
    from cli.conftest import Run


def test_a_figure_shows_formula_values_and_result(run: Run) -> None:
    # equal temperament: the twelfth fret lies at half the scale, 324 mm of 648
    ran = run("figure", "fret_position", "scale_length=648 mm")
    assert ran.code == 0
    assert ran.out.splitlines() == [
        "fret_position",
        "  L (1 - 2^(-n/12))  [equal temperament]",
        "  fret = 12, assumed",
        "  scale_length = 648.0 mm (25 33/64 in)",
        "= 324.0 mm (12 48.5/64 in)",
    ]


def test_spreads_are_carried_to_the_result(run: Run) -> None:
    # a difference of two values with u = 0.03 and 0.04 has u = 0.05 (GUM 5.1.2)
    words = ["relief_change", "pitch=0.3±0.03 mm", "slack=0.1 mm +- 0.04 mm"]
    data = run("figure", *words, "--json").data
    assert data["value"] == pytest.approx(0.2)
    assert data["u"] == pytest.approx(0.05)
    assert data["figure"] == "relief_change"
    shown = run("figure", *words).out
    assert "pitch = 0.30 mm (.012 in) ± 0.03 mm (.001 in)" in shown
    assert "= 0.20 mm (.008 in) ± 0.05 mm (.002 in)" in shown


def test_a_spread_of_temperature_is_a_difference(run: Run) -> None:
    words = ["equilibrium_moisture", "temperature=70 F ± 1.8 F", "humidity=50 %"]
    assert "temperature = 21.1 °C (70 °F) ± 1.0 °C" in run("figure", *words).out


def test_without_a_name_all_figures_are_listed(run: Run) -> None:
    listed = run("figure").out
    assert all(name in listed for name in FIGURES)
    assert {row["figure"] for row in run("figure", "--json").data["figures"]} == set(FIGURES)


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["flux"], "'flux' is not a figure; there are "),
        (["fret_position"], "fret_position lacks scale_length; it takes scale_length, fret"),
        (["fret_position", "scale=1 mm"], "fret_position does not know scale; it takes"),
        (["fret_position", "scale_length"], "value scale_length: this is no pair"),
        (["fret_position", "scale_length="], "value scale_length=: this is no pair"),
        (["fret_position", "scale_length=5 kg"], "'5 kg' is a mass; a length is wanted"),
        (
            ["fret_position", "scale_length=5 mm", "scale_length=6 mm"],
            "scale_length is given twice",
        ),
        (["relief_change", "pitch=1±x", "slack=0"], "'x' is not a length"),
    ],
)
def test_bad_input_is_one_line(words: list[str], said: str, run: Run) -> None:
    ran = run("figure", *words)
    assert (ran.code, ran.out) == (2, "")
    assert said in ran.err
    assert ran.err.count("\n") == 1
