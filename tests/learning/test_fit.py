"""Chances learned from cases: against Bayes' rule where all is seen, and a general optimiser."""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING

import numpy as np
import pytest
from scipy import optimize, stats

from oracles.enumeration import enumerate_all
from tailblock.inference.counts import Counter, numbers_of
from tailblock.learning.cases import Told
from tailblock.learning.fit import STRENGTH, learn
from tailblock.network.arrays import Evidence, Finding, Network, Side

if TYPE_CHECKING:
    from collections.abc import Sequence

    from tailblock.network.arrays import FloatArray

NOTHING = Side((), np.empty((0, 1)), np.ones(1))


def two_causes(numbers: FloatArray) -> Network:
    """Two faults that bring about a third, with a noisy look at each of the causes."""
    a, b, c, ac, bc = numbers.tolist()
    looks = tuple(
        Finding(NOTHING, Side((node,), np.array([[0.3, 1.0]]), np.array([0.9, 1.0])))
        for node in (0, 1)
    )
    return Network(np.array([a, b, c]), ((), (), (0, 1)), ((), (), (ac, bc)), looks)


BEFORE = np.array([0.3, 0.1, 0.03, 0.6, 0.3])
RIVALS = [np.array([0]), np.array([1]), np.array([2, 3, 4])]


class Seen:
    """A case of the network above, its numbers being the chances."""

    def __init__(self, evidence: Evidence) -> None:
        self.evidence = evidence
        self.counter = Counter(two_causes(BEFORE), evidence)
        self.last: tuple[bytes, Told] | None = None

    def told(self, chances: FloatArray) -> Told:
        """Return what it tells; cases that are alike are one, asked once."""
        if self.last is None or self.last[0] != chances.tobytes():
            counts = self.counter.count(chances)
            told = Told(np.arange(5), counts.trials, counts.successes, counts.log_evidence)
            self.last = chances.tobytes(), told
        return self.last[1]


@cache
def seen_in_full(*there: bool) -> Seen:
    return Seen(Evidence({}, dict(enumerate(there))))


def drawn(truth: Sequence[float], count: int, *, hidden: float) -> list[Seen]:
    """Draw cases; of each fault its state is confirmed, but for a share that stays hidden."""
    dice = np.random.default_rng(3)
    a, b, c, ac, bc = truth
    cases = []
    for _ in range(count):
        one, other = dice.random() < a, dice.random() < b
        third = dice.random() < 1 - (1 - c) * (1 - ac * one) * (1 - bc * other)
        there = {0: bool(one), 1: bool(other), 2: bool(third)}
        soft = {}
        for node in (0, 1):
            shows = dice.random() < 1 - 0.9 * (0.3 if there[node] else 1.0)
            soft[node] = (0.0, 1.0) if shows else (1.0, 0.0)
        hard = {node: state for node, state in there.items() if dice.random() >= hidden}
        cases.append(Seen(Evidence(soft, hard)))
    return cases


def test_where_all_is_seen_it_is_the_beta_posterior() -> None:
    """Of the causes: 50 of 200 of the first, with a word worth 20 trials at 0.3."""
    cases = [Seen(Evidence({}, {0: True}))] * 50 + [Seen(Evidence({}, {0: False}))] * 150
    learned = learn(cases, BEFORE, RIVALS)
    shapes = 50 + 0.3 * STRENGTH, 150 + 0.7 * STRENGTH
    assert learned.chance[0] == pytest.approx(stats.beta.mean(*shapes), abs=1e-4)
    assert learned.trials[0] == pytest.approx(200, rel=1e-3)
    assert learned.met[0] == pytest.approx(200)
    assert learned.interval(0) == pytest.approx(stats.beta.interval(0.9, *shapes), abs=1e-4)


def test_never_there_in_many_cases_is_as_many_trials() -> None:
    cases = [seen_in_full(False, False, False)] * 100
    learned = learn(cases, BEFORE, RIVALS)
    assert learned.chance[1] == pytest.approx(0.1 * STRENGTH / (100 + STRENGTH), rel=1e-2)
    assert learned.trials[1] == pytest.approx(100, rel=0.02)


def test_of_what_nothing_tells_the_word_stays() -> None:
    cases = [Seen(Evidence({}, {0: False, 1: True}))] * 40
    learned = learn(cases, BEFORE, RIVALS)
    assert learned.chance[2:] == pytest.approx(BEFORE[2:])
    assert learned.trials[2:] == pytest.approx([0.0, 0.0, 0.0], abs=1e-9)
    low, high = learned.interval(3)
    assert (low, high) == pytest.approx(stats.beta.interval(0.9, 12, 8), abs=1e-9)


@pytest.mark.parametrize("hidden", [0.0, 0.4])
def test_it_finds_the_same_summit_as_a_general_optimiser(hidden: float) -> None:
    cases = drawn((0.4, 0.25, 0.1, 0.3, 0.7), 60, hidden=hidden)
    learned = learn(cases, BEFORE, RIVALS)

    def against(log_odds: FloatArray) -> float:
        chance = 1.0 / (1.0 + np.exp(-log_odds))
        network = two_causes(chance)
        total = sum(np.log(enumerate_all(network, case.evidence).evidence) for case in cases)
        prior = BEFORE @ np.log(chance) + (1 - BEFORE) @ np.log1p(-chance)
        return -float(total + STRENGTH * prior)

    start = np.log(BEFORE / (1 - BEFORE))
    found = optimize.minimize(against, start, method="BFGS", options={"gtol": 1e-4})
    assert learned.chance == pytest.approx(1.0 / (1.0 + np.exp(-found.x)), abs=3e-3)


def test_hidden_states_and_rival_causes_cost_trials() -> None:
    seen = learn(drawn((0.4, 0.25, 0.1, 0.3, 0.7), 200, hidden=0.0), BEFORE, RIVALS)
    less = learn(drawn((0.4, 0.25, 0.1, 0.3, 0.7), 200, hidden=0.5), BEFORE, RIVALS)
    assert (less.trials[:3] < seen.trials[:3]).all()
    assert (seen.trials <= 1.05 * seen.met).all()
    assert seen.trials[2] < 0.95 * seen.met[2]  # what brought it about is never seen itself


SHOPS = 80


def test_the_truth_lies_within_nine_intervals_of_ten() -> None:
    """Chances drawn from their priors: 90 of 100 intervals hold them, within 3 standard errors."""
    dice = np.random.default_rng(11)
    held = 0
    for _ in range(SHOPS):
        truth = dice.beta(BEFORE * STRENGTH, (1 - BEFORE) * STRENGTH)
        a, b, c, ac, bc = truth
        there = dice.random((120, 2)) < [a, b]
        off = (1 - c) * (1 - ac * there[:, 0]) * (1 - bc * there[:, 1])
        third = dice.random(120) >= off
        cases = [
            seen_in_full(bool(x), bool(y), bool(z)) for (x, y), z in zip(there, third, strict=True)
        ]
        learned = learn(cases, BEFORE, RIVALS)
        for at in range(5):
            low, high = learned.interval(at)
            held += low <= truth[at] <= high
    assert held / (5 * SHOPS) == pytest.approx(0.90, abs=3 * np.sqrt(0.9 * 0.1 / (5 * SHOPS)))


def test_numbers_of_the_network_are_the_chances() -> None:
    assert numbers_of(two_causes(BEFORE)).tolist() == BEFORE.tolist()
