"""Formulas as text: how they are written, that the numbers put in give the value."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tailblock.measures.notation import five_figures, in_numbers, in_words, names_in, value_of


@pytest.mark.parametrize(
    ("expression", "written"),
    [
        ("a + b * c", "a + b × c"),
        ("(a + b) * c", "(a + b) × c"),
        ("a - (b - c)", "a - (b - c)"),
        ("a / (b * c)", "a / (b × c)"),
        ("a * b / c", "a × b / c"),
        ("-a**2", "-a^2"),
        ("(-a)**2", "(-a)^2"),
        ("(a**b)**c", "(a^b)^c"),
        ("2**(-x_join / 12)", "2^(-x join / 12)"),
        ("f_of(x=a, y=3)", "f of(a, y 3)"),
        ("a / b if a > b else 0", "a / b if a > b, else 0"),
    ],
)
def test_brackets_stand_where_they_are_needed(expression: str, written: str) -> None:
    assert in_words(expression) == written


def test_a_negative_number_after_a_sign_is_in_brackets() -> None:
    assert in_numbers("a - b * c**2", {"a": -1.0, "b": -2.0, "c": -3.0}) == "-1 - (-2 × (-3)^2)"


@pytest.mark.parametrize(
    ("expression", "value"),
    # from tables of trigonometry and logarithms; angles in degrees
    [
        ("sin(30)", 0.5), ("cos(60)", 0.5), ("tan(45)", 1), ("atan(1)", 45), ("log2(8)", 3),
        ("ln(exp(2))", 2), ("sqrt(9)", 3), ("max(1, 2) - min(1, 2)", 1), ("2 * pi", 6.283185307),
        ("1 if 2 < 1 else 5", 5), ("radians(180)", 3.141592654), ("abs(-4)", 4),
    ],
)  # fmt: skip
def test_values(expression: str, value: float) -> None:
    assert value_of(expression, {}) == pytest.approx(value)


numbers = st.floats(-1e4, 1e4).filter(lambda x: abs(x) > 1e-3)


@given(a=numbers, b=numbers, c=numbers)
@pytest.mark.parametrize(
    "expression", ["a - b * (c - a) / b", "-(a - b) - (-c)", "(a * b) / (c / a)"]
)
def test_the_text_with_numbers_has_the_same_value(
    expression: str, a: float, b: float, c: float
) -> None:
    """The independent oracle is Python itself, on the text that was printed."""
    rounded = {name: float(five_figures(x)) for name, x in (("a", a), ("b", b), ("c", c))}
    written = in_numbers(expression, rounded).replace("×", "*").replace("^", "**")
    assert eval(written) == pytest.approx(value_of(expression, rounded), rel=1e-9, abs=1e-6)  # noqa: S307


@pytest.mark.parametrize(
    "expression", ["a.b", "[a]", "a if b else c", "lambda: 0", "a @ b", "a[0]"]
)
def test_what_is_no_formula_is_refused(expression: str) -> None:
    with pytest.raises((ValueError, KeyError)):
        value_of(expression, {"a": 1.0, "b": 2.0, "c": 3.0})


def test_names_come_in_the_order_in_which_they_stand() -> None:
    assert names_in("b * sin(a) + f(x=c) - b * pi") == ("b", "a", "c")
