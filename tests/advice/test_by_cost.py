"""Probability over cost: against every order there is, and against the advice by gain a minute."""

from __future__ import annotations

import itertools
import re
from typing import TYPE_CHECKING

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from tailblock.advice.bundles import Bundler, Look
from tailblock.advice.by_cost import Decisive, NoCost, by_cost, expected_cost
from tailblock.advice.candidates import Candidate
from tailblock.advice.gain import information
from tailblock.advice.setups import SetupMap
from tailblock.knowledge.entries import Setups

if TYPE_CHECKING:
    from collections.abc import Callable

# Worked orders; the expected costs are computed by enumeration of all orders, no source.
WORKED = [
    ({"a": (0.2, 1), "b": (0.5, 10), "c": (0.3, 3)}, "acb", 8.4),
    ({"A": (0.45, 9), "B": (0.25, 4), "C": (0.20, 5), "D": (0.10, 1)}, "DBAC", 11.45),
]


@pytest.mark.parametrize(("tests", "order", "cost"), WORKED)
def test_worked_orders(tests: dict[str, tuple[float, float]], order: str, cost: float) -> None:
    best = by_cost([Decisive(name, p, c) for name, (p, c) in tests.items()])
    assert "".join(test.name for test in best) == order
    assert expected_cost(best) == pytest.approx(cost)


def normalised(rows: list[tuple[int, int]]) -> list[Decisive]:
    """Exactly one of the faults is there: the probabilities add up to 1."""
    whole = sum(share for share, _ in rows)
    return [Decisive(f"t{i}", share / whole, float(cost)) for i, (share, cost) in enumerate(rows)]


CASES = st.lists(st.tuples(st.integers(1, 50), st.integers(1, 30)), min_size=1, max_size=6)


@given(tests=CASES.map(normalised))
def test_no_other_order_is_expected_to_cost_less(tests: list[Decisive]) -> None:
    least = min(expected_cost(order) for order in itertools.permutations(tests))
    assert expected_cost(by_cost(tests)) == pytest.approx(least)


@given(tests=CASES.map(normalised))
def test_the_expected_cost_is_the_mean_over_where_the_fault_is(tests: list[Decisive]) -> None:
    paid = itertools.accumulate(test.cost for test in tests)
    mean = sum(test.probability * cost for test, cost in zip(tests, paid, strict=True))
    assert expected_cost(tests) == pytest.approx(mean)


@pytest.mark.parametrize(("probability", "cost"), [(1.1, 1.0), (-0.1, 1.0), (0.5, 0.0)])
def test_what_cannot_be_ordered_is_refused(probability: float, cost: float) -> None:
    with pytest.raises(NoCost, match=re.escape("lamp: a probability from 0 to 1 and a cost")):
        Decisive("lamp", probability, cost)


def own_bits(test: Decisive, tests: list[Decisive]) -> float:
    """What a test tells about its own fault."""
    chance = np.array([1.0 - test.probability, test.probability])
    return float(information(chance, np.array([[0.0], [1.0]]))[0])


def all_bits(test: Decisive, tests: list[Decisive]) -> float:
    """What a test tells about every fault, where exactly one of them is there."""
    rest = 1.0 - test.probability
    cleared = [0.0 if other is test else other.probability / rest for other in tests]
    found = [float(other is test) for other in tests]
    told = information(np.array([rest, test.probability]), np.array([cleared, found]))
    return round(float(told.sum()), 12)


def by_gain_a_minute(
    tests: list[Decisive], bits: Callable[[Decisive, list[Decisive]], float] = own_bits
) -> list[str]:
    """Return the order of the advice, each test telling for certain whether its fault is there."""
    looks = [
        Look(
            Candidate(test.name, test.name, test.cost, None, None, True, (), None, ()),
            bits(test, tests),
        )
        for test in tests
    ]
    bundles = Bundler(looks, SetupMap(Setups()), {"strings": "slack"}, held=False).bundles()
    return [look.candidate.tells for bundle in bundles for look in bundle.looks]


@pytest.mark.parametrize("bits", [own_bits, all_bits])
@given(tests=CASES.map(lambda rows: normalised([(share, 3) for share, _ in rows])))
def test_gain_a_minute_agrees_for_equal_costs_and_probabilities_up_to_one_half(
    bits: Callable[[Decisive, list[Decisive]], float], tests: list[Decisive]
) -> None:
    assume(all(test.probability <= 0.5 for test in tests))
    assert by_gain_a_minute(tests, bits) == [test.name for test in by_cost(tests)]


def test_above_one_half_they_differ_since_what_is_nearly_known_tells_little() -> None:
    # 0.722 bits at a probability of 0.8, 0.971 at 0.4
    tests = [Decisive("sure", 0.8, 1.0), Decisive("open", 0.4, 1.0)]
    assert [test.name for test in by_cost(tests)] == ["sure", "open"]
    assert by_gain_a_minute(tests) == ["open", "sure"]


def test_for_unequal_costs_they_differ_since_bits_grow_slower_than_chances() -> None:
    # 0.4 / 4 = 0.1 against 0.09 / 1; but 0.971 bits / 4 = 0.243 against 0.436 / 1
    tests = [Decisive("dear", 0.4, 4.0), Decisive("cheap", 0.09, 1.0)]
    assert [test.name for test in by_cost(tests)] == ["dear", "cheap"]
    assert by_gain_a_minute(tests) == ["cheap", "dear"]
