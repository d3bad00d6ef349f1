"""Figures worked out step by step: the steps are held to the function, the shares to the GUM."""

from __future__ import annotations

from math import isfinite

import pytest
from hypothesis import given
from hypothesis import strategies as st

from measures.test_figures import ORDINARY
from tailblock.measures.definitions import EXAMPLES
from tailblock.measures.figures import FIGURES, Figure, NoAnswer, evaluate
from tailblock.measures.notation import names_in
from tailblock.measures.working import work_out

figures = pytest.mark.parametrize("figure", FIGURES.values(), ids=lambda figure: figure.name)
OWN_UNITS = {"hPa", "1/mm"}  # of steps that no person writes as an argument


@figures
@given(data=st.data())
def test_the_steps_come_to_what_the_function_gives(figure: Figure, data: st.DataObject) -> None:
    """For any values near the ordinary ones; zero, negative and swapped sides included."""
    ordinary = {name: ORDINARY.get(name, 0.0) for name in figure.arguments}
    ordinary |= {name: value for name, (value, _) in figure.assumed.items()}
    values = {
        name: data.draw(st.sampled_from((value, value * 1.02, value * 0.97, -value, 0.0)))
        for name, value in ordinary.items()
    }
    try:
        working = work_out(figure.name, values, {})
    except NoAnswer:
        return
    if working.steps:
        last = working.steps[-1]
        assert last.value == pytest.approx(working.value, rel=1e-7, abs=1e-9)
        assert (last.symbol, last.unit) == (figure.name, figure.result)


@figures
def test_whatever_is_given_has_an_answer_or_an_error_that_says_why(figure: Figure) -> None:
    ordinary = {name: ORDINARY[name] for name in figure.required}
    for name in figure.arguments:
        for value in (0.0, -1.0, 1e9, -1e40, 1e40, 1e300, 1e-300):
            try:
                working = work_out(figure.name, ordinary | {name: value}, {name: 1.0})
            except NoAnswer as refused:
                assert str(refused).startswith(f"{figure.name}: ")  # noqa: PT017
            else:
                assert isfinite(working.value)


@figures
def test_ordinary_values_have_steps(figure: Figure) -> None:
    values = {name: ORDINARY[name] for name in figure.required}
    working = work_out(figure.name, values, {})
    assert [step.symbol for step in working.steps] == list(figure.steps)
    assert all(isfinite(step.value) for step in working.steps)
    assert {step.unit for step in working.steps} <= {*EXAMPLES, *OWN_UNITS}
    assert (working.value, working.u) == evaluate(figure.name, values, {})


@figures
def test_each_step_is_used_and_each_argument_too(figure: Figure) -> None:
    used = {name for text in figure.steps.values() for name in names_in(text)}
    assert used == {*figure.arguments, *list(figure.steps)[:-1]}


def test_the_argument_that_makes_most_of_the_uncertainty_comes_first() -> None:
    # E - (a - a wanted)/k with k = 0.469: 0.1 of exposure against 0.2/0.469 = 0.427 of action
    values = {"exposure": 3.6, "action": 2.5, "action_wanted": 2.0, "scale_length": 648.0}
    working = work_out("saddle_for_action", values, {"exposure": 0.1, "action": 0.2})
    most, next_ = working.by_share[:2]
    assert (most.name, next_.name) == ("action", "exposure")
    assert most.share / next_.share == pytest.approx((0.427 / 0.1) ** 2, rel=0.01)
    assert sum(one.share for one in working.given) == pytest.approx(1)


def test_what_is_assumed_is_marked() -> None:
    working = work_out("neck_reset_angle", {"rise": 2.0, "scale_length": 648.0}, {})
    assert [one.name for one in working.given if one.assumed] == ["join", "compensation"]


@pytest.mark.parametrize(
    ("name", "values", "said"),
    [
        ("season_action", {"action": 2.0, "humidity": 70.0},
         "season_action: humidity is 70 %; the formula holds from 35 % to 60 %"),
        ("bow_radius", {"relief": 0.0, "scale_length": 648.0},
         "bow_radius: rise is 0; the formula holds from 0.001 to 161.49"),
        ("share_at_fret_12", {"scale_length": 648.0, "compensation": -648 * 2 ** (-1 / 12)},
         "share_at_fret_12: these values have no result"),
        ("share_at_fret_12", {"scale_length": 0.0},
         "share_at_fret_12: scale_length is 0.00 mm (.000 in); the formula holds from 200.0 mm"),
        ("central_deflection", {"load": 1e300, "span": 1e200, "stiffness": 1.0},
         "central_deflection: these values have no result"),
        ("rectangular_stiffness", {"modulus": 1e30, "width": 1e30, "height": 1e30},
         "rectangular_stiffness: these values have no result of a size that is met"),
    ],
)  # fmt: skip
def test_what_has_no_answer_is_said(name: str, values: dict[str, float], said: str) -> None:
    with pytest.raises(NoAnswer) as caught:
        work_out(name, values, {})
    assert str(caught.value).startswith(said)
