"""Numbers in words: one phrase a number, and never the other way round."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tailblock.report.wording import (
    CHANCES,
    WEIGHTS,
    clause,
    counted,
    listed,
    percent,
    shortened,
    spread,
    sure,
    surely,
    weight,
)

probabilities = st.floats(0, 1)
phrases = [phrase for _, phrase, _ in CHANCES]


@given(probabilities, probabilities)
def test_a_greater_probability_never_has_a_weaker_phrase(one: float, other: float) -> None:
    low, high = sorted((one, other))
    assert phrases.index(sure(low)) <= phrases.index(sure(high))


@given(probabilities)
def test_both_forms_of_a_phrase_belong_together(probability: float) -> None:
    assert (sure(probability), surely(probability)) in [(a, b) for _, a, b in CHANCES]


@pytest.mark.parametrize(
    ("probability", "phrase"),
    [
        (0.0, "all but ruled out"),
        (0.02, "unlikely"),
        (0.10, "possible"),
        (0.30, "quite possible"),
        (0.50, "likely"),
        (0.80, "very likely"),
        (0.95, "almost certain"),
        (1.0, "almost certain"),
    ],
)
def test_a_limit_belongs_to_the_stronger_phrase(probability: float, phrase: str) -> None:
    assert sure(probability) == phrase


@pytest.mark.parametrize(
    ("probability", "text"),
    [
        (0.0, "0 %"),
        (1e-9, "under 1 %"),
        (0.0049, "under 1 %"),
        (0.005, "under 1 %"),
        (0.0051, "1 %"),
        (0.123, "12 %"),
        (0.994, "99 %"),
        (0.9951, "over 99 %"),
        (1.0, "100 %"),
    ],
)
def test_only_certainty_is_printed_as_certainty(probability: float, text: str) -> None:
    assert percent(probability).replace("\N{NO-BREAK SPACE}", " ") == text


@given(st.floats(1e-12, 1 - 1e-12))
def test_what_is_not_certain_is_never_printed_as_0_or_100(probability: float) -> None:
    assert percent(probability).split("\N{NO-BREAK SPACE}") not in (["0", "%"], ["100", "%"])


# 10 decibans are a factor of ten on the odds: I. J. Good, Probability and the Weighing of Evidence
@pytest.mark.parametrize(
    ("decibans", "text"),
    [
        (10.0, "strong weight, odds × 10"),
        (-10.0, "strong weight, odds ÷ 10"),
        (3.0103, "some weight, odds × 2.0"),
        (0.4, "a hint, odds × 1.1"),
        (17.0, "strong weight, odds × 50"),
        (25.0, "overwhelming weight, odds × over 100"),
        (120.0, "overwhelming weight, odds × over 100"),
    ],
)
def test_decibans_are_told_with_their_factor(decibans: float, text: str) -> None:
    assert weight(decibans) == text


@given(st.floats(-120, 120), st.floats(-120, 120))
def test_a_heavier_reading_never_has_lighter_words(one: float, other: float) -> None:
    words = [text for _, text in WEIGHTS]
    light, heavy = sorted((one, other), key=abs)
    place = [words.index(weight(x).split(",")[0]) for x in (light, heavy)]
    assert place == sorted(place)


@pytest.mark.parametrize(
    ("u", "dimension", "text"),
    [
        (0.05, "length", "0.05 mm (.002 in)"),
        (0.5, "temperature", "0.5 °C (0.9 °F)"),  # a difference of 1 K is one of 1.8 F
        (2.0, "percent", "2 %"),
        (0.3, "angle", "0.3°"),
    ],
)
def test_a_spread_is_a_difference_in_both_systems(u: float, dimension: str, text: str) -> None:
    assert spread(u, dimension).replace("\N{NO-BREAK SPACE}", " ") == text


@pytest.mark.parametrize(
    ("sentence", "inside"),
    [
        ("The bridge comes off.", "the bridge comes off"),
        ("A crack runs along it.", "a crack runs along it"),
        ("I never look.", "I never look"),
        ("UV lamp off", "UV lamp off"),
        ("3 mm of room", "3 mm of room"),
        ("", ""),
    ],
)
def test_a_sentence_inside_another_has_no_capital_and_no_stop(sentence: str, inside: str) -> None:
    assert clause(sentence) == inside


@pytest.mark.parametrize(
    ("number", "text"),
    [(1, "1 piece of work"), (0, "0 pieces of work"), (2, "2 pieces of work")],
)
def test_things_are_counted_in_plain_english(number: int, text: str) -> None:
    assert counted(number, "{number} piece of work", "{number} pieces of work") == text


def test_names_are_listed_as_a_sentence_does() -> None:
    assert listed(["nut"]) == "nut"
    assert listed(["nut", "saddle", "frets"], "or") == "nut, saddle or frets"


@given(st.text())
def test_a_shortened_text_fits_and_begins_as_the_whole(text: str) -> None:
    short = shortened(text, 20)
    assert len(short) <= 20
    assert " ".join(text.split()).startswith(short.removesuffix("…"))
