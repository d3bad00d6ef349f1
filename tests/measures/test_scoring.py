"""Scores of probabilities against a general-purpose library and against their own definitions."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from tailblock.measures.scoring import (
    Forecast,
    brier_parts,
    brier_score,
    log_loss,
    reliability_table,
)

many = st.lists(st.tuples(st.floats(0.01, 0.99), st.booleans()), min_size=1, max_size=60)


@given(many)
def test_scores_are_those_of_a_library_and_of_the_definition(forecasts: list[Forecast]) -> None:
    said, seen = np.array(forecasts).T
    assert brier_score(forecasts) == pytest.approx(np.mean((said - seen) ** 2))
    assert log_loss(forecasts) == pytest.approx(-stats.bernoulli.logpmf(seen, said).mean())


@given(many)
def test_the_parts_add_up_and_none_is_negative_that_cannot_be(forecasts: list[Forecast]) -> None:
    parts = brier_parts(forecasts)
    whole = parts.reliability - parts.resolution + parts.uncertainty + parts.within
    assert whole == pytest.approx(parts.score)
    assert min(parts.reliability, parts.resolution, parts.uncertainty) >= 0.0


@given(st.lists(st.tuples(st.sampled_from([0.1, 0.5, 0.9]), st.booleans()), min_size=1))
def test_rows_of_equal_forecasts_hide_nothing(forecasts: list[Forecast]) -> None:
    """Then it is Murphy's decomposition in three parts."""
    assert brier_parts(forecasts).within == pytest.approx(0.0, abs=1e-12)


def test_a_sure_forecast_that_fails_costs_much_but_not_without_limit() -> None:
    assert 20 < log_loss([(0.0, True)]) < 30


def test_every_forecast_is_in_one_row() -> None:
    edges = [(0.0, False), (0.05, False), (0.2, True), (1.0, True), (0.999, True)]
    rows = reliability_table(edges)
    assert [(row.low, row.count) for row in rows] == [(0.0, 1), (0.05, 1), (0.2, 1), (0.95, 2)]
    assert rows[-1].seen == 1.0


def test_forecasts_that_are_right_lie_within_their_error() -> None:
    dice = np.random.default_rng(3)
    said = dice.random(20_000)
    forecasts = [(float(p), bool(dice.random() < p)) for p in said]
    for row in reliability_table(forecasts):
        assert abs(row.seen - row.said) < 4 * row.error
    assert brier_parts(forecasts).reliability < 0.001
