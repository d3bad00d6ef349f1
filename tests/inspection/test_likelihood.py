"""How well each outcome fits a reading."""

from __future__ import annotations

import itertools
from typing import TYPE_CHECKING

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import norm

from tailblock.inspection.likelihood import likelihood
from tailblock.inspection.speaks import Spoken

if TYPE_CHECKING:
    from tailblock.knowledge.checklist import Checklist

STEEL, NYLON = {"strings": "steel"}, {"strings": "nylon"}
EDGES = {"steel": (1.5, 2.0, 2.8, 3.6), "nylon": (2.2, 2.8, 4.0, 4.8)}


def independent(strings: str, value: float, u: float) -> list[float]:
    """Return the shares of the levels of the action by scipy's normal distribution."""
    inf = float("inf")
    bounds = (-inf, *EDGES[strings], inf)
    distribution = norm(value, u)
    return [
        distribution.cdf(high) - distribution.cdf(low)
        if high <= value
        else distribution.sf(low) - distribution.sf(high)
        for low, high in itertools.pairwise(bounds)
    ]


@pytest.mark.parametrize(
    ("level", "expected"),
    [("none", (1, 0, 0)), ("slight", (0, 1, 0)), ("slight-and-dull", (0, 0, 1))],
)
def test_an_answer_in_levels_is_sure(
    bench: Checklist, level: str, expected: tuple[float, ...]
) -> None:
    assert likelihood(bench, STEEL, Spoken("tap", (0,), level=level)) == expected


@given(
    st.floats(0.5, 12, allow_subnormal=False),
    st.floats(0.01, 2),
    st.sampled_from(["steel", "nylon", "unknown"]),
)
def test_a_value_is_spread_over_the_levels(
    bench: Checklist, value: float, u: float, strings: str
) -> None:
    """By scipy; an unknown trait mixes what steel and nylon give, 3 to 1, before scaling."""
    found = likelihood(bench, {"strings": strings}, Spoken("action", (0,), value=value, u=u))
    weights = {"steel": 0.75, "nylon": 0.25} if strings == "unknown" else {strings: 1.0}
    mixed = [
        sum(weight * shares for weight, shares in zip(weights.values(), column, strict=True))
        for column in zip(*(independent(kind, value, u) for kind in weights), strict=True)
    ]
    best = max(mixed)
    assert max(found) == 1
    for got, wanted in zip(found, mixed, strict=True):
        assert got == pytest.approx(wanted / best, abs=2e-9, rel=1e-6)
        assert got == 0 or got >= 1e-9


@pytest.mark.parametrize(
    ("value", "level"),
    [(1.5, 1), (1.49, 0), (2.0, 2), (2.8, 2), (2.81, 3), (3.6, 3), (3.61, 4)],
)
def test_a_value_on_a_limit_takes_the_milder_level(
    bench: Checklist, value: float, level: int
) -> None:
    """very-low | low | normal | high | very-high, read without any uncertainty."""
    found = likelihood(bench, STEEL, Spoken("action", (0,), value=value, u=0.0))
    assert found == tuple(float(place == level) for place in range(5))


def test_sharp_readings_of_an_unknown_trait_keep_the_weights(bench: Checklist) -> None:
    """3.0 mm is high on steel strings and normal on nylon ones, which are 3 to 1."""
    found = likelihood(bench, {}, Spoken("action", (0,), value=3.0, u=0.0))
    assert found == pytest.approx((0, 0, 1 / 3, 1, 0))
