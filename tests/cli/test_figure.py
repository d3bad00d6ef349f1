"""`figure`: bench formulas from the command line."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from tailblock.measures.figures import FIGURES, Figure, example

if TYPE_CHECKING:
    from cli.conftest import Run


def test_a_figure_shows_formula_values_and_result(run: Run) -> None:
    # equal temperament: the twelfth fret lies at half the scale, 324 mm of 648
    ran = run("figure", "fret_position", "scale_length=648 mm")
    assert ran.code == 0
    assert ran.out.splitlines() == [
        "fret_position: the distance from the nut to a fret",
        "  source: equal temperament",
        (
            "  scale_length = 648.0 mm (25 33/64 in), taken as exact (a spread stands behind ±, as "
            "in 2.3 ± 0.1 mm or 2.3+-0.1mm)"
        ),
        "  fret = 12, assumed",
        "  fret position = scale length × (1 - 2^(-fret / 12))",
        "    = 648 × (1 - 2^(-12 / 12))",
        "    = 324 mm (12 48.5/64 in)",
        "= 324.0 mm (12 48.5/64 in)",
    ]


def test_each_step_puts_in_what_the_one_before_gave(run: Run) -> None:
    # 14th fret of 648 mm by the 12th root of two: 359.35; 2.5 x 85 / 290.65 = 0.7311
    words = ["heel_cut", "rise=2.5 mm ± 0.3 mm", "heel_height=85 mm", "scale_length=648 mm"]
    shown = run("figure", *words).out
    assert (
        """
  x join = scale length × (1 - 2^(-join / 12))
    = 648 × (1 - 2^(-14 / 12))
    = 359.35 mm (14 9.5/64 in)
  D = scale length + compensation - x join
    = 648 + 2 - 359.35
    = 290.65 mm (11 28.5/64 in)
  heel cut = rise × heel height / D
    = 2.5 × 85 / 290.65
    = 0.73112 mm (.029 in)
= 0.73 mm (.029 in) ± 0.09 mm (.003 in)
  the ± comes from rise (100 %)
"""
        in shown
    )
    data = run("figure", *words, "--json").data
    assert [step["symbol"] for step in data["steps"]] == ["x_join", "D", "heel_cut"]
    assert data["steps"][-1]["value"] == pytest.approx(data["value"])
    assert sum(argument["share"] for argument in data["arguments"]) == pytest.approx(1)


def test_a_step_in_a_unit_for_small_things_says_the_one_for_people_too(run: Run) -> None:
    words = ["stiffness_ratio", "modulus=10 GPa", "width=6 mm", "height=10 mm",
             "other_modulus=10 GPa", "other_width=6 mm", "other_height=5 mm"]  # fmt: skip
    assert "    = 5000000 N mm² (5 N m², 1742.3 lbf in²)" in run("figure", *words).out


def test_the_same_set_twice_is_the_same_pull_without_rounding_noise(run: Run) -> None:
    words = ["tension_ratio", "first_gauge=.012 in", "first_gauge_after=.012 in"]
    assert run("figure", *words).out.splitlines()[-1] == "= 1"


def test_a_spread_too_small_for_the_rounding_is_not_shown_as_none(run: Run) -> None:
    # 0.37 / 85 of 1 mm of compensation
    words = ["rise_of_cut", "cut=0.37 mm", "heel_height=85 mm", "scale_length=648 mm"]
    assert "= 1.27 mm (3/64 in) ± 0.004 mm" in run("figure", *words).out


def test_a_limiting_case_shows_the_formula_alone(run: Run) -> None:
    shown = run("figure", "break_angle", "height=3 mm", "distance=0 mm").out
    assert shown.endswith("  atan(height / distance)\n= 90°\n")


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
    assert "temperature = 21.1 °C (70 °F) ± 1.0 °C (1.8 °F)" in run("figure", *words).out


@pytest.mark.parametrize(
    ("given", "value", "u", "taken"),
    [
        ("2.3 mm ± 0.1 mm", 2.3, 0.1, ""),
        ("2.3±0.1 mm", 2.3, 0.1, ""),
        ("2.3 mm+-.1", 2.3, 0.1, ""),
        ("0.1 in ± 0.01", 2.54, 0.254, ""),
        (".012±.001 in", 0.3048, 0.0254, ""),  # the unit behind makes the value plain
        ("2.3±0.1", 2.3, 0.1, "mm"),
        ("5/64 ± 0.01", 1.984375, 0.254, "inches"),
        (".5", 0.5, 0.0, "mm"),
    ],
)
def test_a_value_and_its_spread_share_the_unit_that_is_written(
    given: str, value: float, u: float, taken: str, run: Run
) -> None:
    words = ["aim_lost", f"projection={given}"]
    projection, _ = run("figure", *words, "--json").data["arguments"]
    assert (projection["value"], projection["u"]) == pytest.approx((value, u))
    assert projection["unit_taken"] == taken
    assert (f", no unit given: taken for {taken}" in run("figure", *words).out) == bool(taken)


def test_a_name_alone_tells_what_the_figure_takes(run: Run) -> None:
    ran = run("figure", "heel_cut")
    assert ran.code == 0
    assert "  rise: a length\n" in ran.out
    assert "  join: a count, or else 14\n" in ran.out
    assert "  compensation: a length, or else 2.00 mm (5/64 in) ± 1.00 mm (2.5/64 in)\n" in ran.out
    data = run("figure", "heel_cut", "--json").data
    assert data["required"] == ["rise", "heel_height", "scale_length"]
    assert data["takes"]["join"] == "count"


@pytest.mark.parametrize("figure", FIGURES.values(), ids=lambda figure: figure.name)
def test_what_a_figure_says_to_write_can_be_read(figure: Figure, run: Run) -> None:
    """A refusal may come of the sizes, which belong to no one instrument, never of the form."""
    words = [example(figure, name).replace("'", "") for name in figure.arguments]
    ran = run("figure", figure.name, *words)
    assert ran.code == 0 or "the formula holds" in ran.err or "no result" in ran.err


def test_without_a_name_all_figures_are_listed(run: Run) -> None:
    listed = run("figure").out
    assert all(name in listed for name in FIGURES)
    assert {row["figure"] for row in run("figure", "--json").data["figures"]} == set(FIGURES)


@pytest.mark.parametrize(
    ("word", "names"),
    [
        ("beams", ["rectangular_stiffness", "rounded_stiffness", "peaked_stiffness",
                   "glued_stiffness", "stiffness_ratio", "stiffness_for_weight",
                   "central_deflection"]),
        ("heel cap", ["heel_cut", "rise_of_cut"]),
        ("Aim lost", ["aim_lost"]),
    ],
)  # fmt: skip
def test_a_region_or_a_word_narrows_the_list(word: str, names: list[str], run: Run) -> None:
    listed = run("figure", word).out
    assert [line.split(":")[0].strip() for line in listed.splitlines() if ": " in line] == names
    assert [row["figure"] for row in run("figure", word, "--json").data["figures"]] == names


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["flux"], "'flux' is not a figure; `tailblock figure` lists all 113"),
        (["heel", "rise=2 mm"], "'heel' is not a figure; nearest: heel_cut"),
        (["wood", "rise=2 mm"], "'wood' is not a figure; it is a region: `tailblock figure wood`"),
        (
            ["fret_position", "fret=12"],
            "it takes scale_length, fret; write it like scale_length='648 mm'",
        ),
        (
            ["fret_position", "scale_lenght=648"],
            "lacks scale_length and does not know scale_lenght (did you mean scale_length?); it",
        ),
        (
            ["fret_position", "scale_length"],
            "scale_length: this is no pair (write it like scale_length='648 mm')",
        ),
        (["fret_position", "scale_length="], "scale_length=: this is no pair"),
        (["fret_position", "=648"], "=648: this is no pair"),
        (  # inches without their unit
            ["fret_position", "scale_length=25.5"],
            "scale_length is 25.50 mm (1 0.5/64 in); the formula holds from 200.0 mm",
        ),
        (["fret_position", "scale_length=.5"], "scale_length is 0.50 mm"),
        (["fret_position", "scale_length=.012"], "'.012' has no unit: in inches it is 0.30 mm"),
        (["fret_position", "scale_length=1/3"], "'1/3' has no unit; a length is wanted"),
        (["fret_position", "scale_length=1,234 mm"], "decimal point or for thousands"),
        (["fret_position", "scale_length=648 zz"], "'zz' is not a unit; a length is wanted"),
        (
            ["string_tension", "scale_length=648", "frequency=0", "mass_per_length=5"],
            "frequency is 0 Hz; the formula holds from 1 Hz on",
        ),
        (
            ["fret_position", "scale_length=5 kg"],
            "fret_position scale_length: '5 kg' is a mass; a length is wanted",
        ),
        (
            ["season_action", "action=2 mm", "humidity=80 %"],
            "season_action: humidity is 80 %; the formula holds from 35 % to 60 %",
        ),
        (
            ["six_string_tension", "first_gauge=1 mm", "scale_length=648 mm"],
            "first_gauge is 1.00 mm (2.5/64 in); the formula holds from 0.25 mm (.010 in) to",
        ),
        (
            ["arch_over_span", "rise=2 mm", "chord=380 mm", "chord_wanted=1e99 mm"],
            "arch_over_span chord_wanted: ",
        ),
        (
            ["fret_position", "scale_length=5 mm", "scale_length=6 mm"],
            "scale_length is given twice",
        ),
        (["relief_change", "pitch=1±x", "slack=0"], "'1±x': 'x' is not a length"),
        (["relief_change", "pitch=1 +-", "slack=0"], "'1 +-': a value stands on both sides of ±"),
        (["relief_change", "pitch=±1", "slack=0"], "'±1': a value stands on both sides of ±"),
        (["relief_change", "pitch=1±-0.1", "slack=0"], "'1±-0.1': a spread is not below zero"),
        (["relief_change", "pitch=1±0.1±0.2", "slack=0"], "'0.1±0.2' is not a length"),
        (["relief_change", "pitch=1 mm±10%", "slack=0"], "'10%' is a percentage; a length"),
    ],
)
def test_bad_input_is_one_line(words: list[str], said: str, run: Run) -> None:
    ran = run("figure", *words)
    assert (ran.code, ran.out) == (2, "")
    assert said in ran.err
    assert ran.err.count("\n") == 1
