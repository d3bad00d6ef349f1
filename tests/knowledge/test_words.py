"""The seven words and bare numbers, and steps on the scale."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tailblock.knowledge.words import LADDER, WORDS, chance, shift, word_for


# The scale as the documents state it.
@pytest.mark.parametrize(
    ("word", "value"),
    [
        ("almost-always", 0.95), ("usually", 0.80), ("often", 0.60), ("sometimes", 0.30),
        ("seldom", 0.10), ("rarely", 0.03), ("very-rarely", 0.01),
    ],
)  # fmt: skip
def test_the_seven_words(word: str, value: float) -> None:
    assert chance(word) == value
    assert word_for(value) == word


@pytest.mark.parametrize(("written", "value"), [("0.98", 0.98), (0.5, 0.5), ("1e-3", 0.001)])
def test_a_bare_number_is_allowed(written: object, value: float) -> None:
    assert chance(written) == value


@pytest.mark.parametrize(
    "written", ["0", "1", 0, 1, "1.5", "-0.1", "nan", "inf", "mostly", "", None, True, [0.5], {}]
)
def test_anything_else_is_no_chance(written: object) -> None:
    with pytest.raises(ValueError, match=r"is no chance: say almost-always, .* very-rarely, or a"):
        chance(written)


@pytest.mark.parametrize(
    ("probability", "steps", "expected"),
    [
        (0.10, 1, 0.30), (0.10, -2, 0.01), (0.95, 1, 0.95), (0.01, -1, 0.01), (0.98, 0, 0.98),
        (0.98, -1, 0.80),  # a bare number begins at the nearest word
        (0.06, 1, 0.30),  # log-odds -2.75 is nearer to seldom (-2.20) than to rarely (-3.48)
    ],
)  # fmt: skip
def test_a_shift_moves_by_words(probability: float, steps: int, expected: float) -> None:
    assert shift(probability, steps) == expected


@given(st.sampled_from(LADDER), st.integers(-8, 8), st.integers(-8, 8))
def test_a_shift_never_falls_when_steps_rise(word: str, one: int, other: int) -> None:
    low, high = sorted((one, other))
    assert shift(WORDS[word], low) <= shift(WORDS[word], high)
    assert shift(WORDS[word], low) in WORDS.values()
