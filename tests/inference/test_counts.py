"""Expected counts of each chance, against every state of every node and of every link."""

from __future__ import annotations

import itertools
from typing import TYPE_CHECKING

import numpy as np
import pytest

from oracles.enumeration import enumerate_all, outcomes_of
from random_networks import random_evidence, random_network
from tailblock.inference.counts import Counter, numbers_of
from tailblock.network.arrays import Evidence, Finding, Network, Side

if TYPE_CHECKING:
    from tailblock.network.arrays import FloatArray

NOTHING = Side((), np.empty((0, 1)), np.ones(1))


def with_numbers(network: Network, numbers: FloatArray) -> Network:
    rest = iter(numbers[len(network) :].tolist())
    strengths = tuple(tuple(next(rest) for _ in row) for row in network.strengths)
    return Network(numbers[: len(network)], network.parents, strengths, network.findings)


def written_out(network: Network, evidence: Evidence) -> tuple[FloatArray, FloatArray]:
    """Return trials and successes: every leak and every link acts or does not, one by one.

    A link acts by its chance whether or not its cause is there, but counts only if it is.
    """
    numbers = numbers_of(network)
    trials, successes, total = np.zeros(len(numbers)), np.zeros(len(numbers)), 0.0
    for acting in itertools.product((0, 1), repeat=len(numbers)):
        weight = float(np.prod(np.where(acting, numbers, 1.0 - numbers)))
        state: list[bool] = []
        tried: list[bool] = []
        at = len(network)
        for node, causes in enumerate(network.parents):
            there = acting[node] == 1
            for cause in causes:
                there = there or (acting[at] == 1 and state[cause])
                tried.append(bool(state[cause]))
                at += 1
            state.append(there)
        for node, seen in evidence.hard.items():
            weight *= state[node] == seen
        row = np.array([state], dtype=float)
        for k, likelihood in evidence.soft.items():
            weight *= float(outcomes_of(network.findings[k], row)[0] @ np.array(likelihood))
        put = np.array([True] * len(network) + tried)
        total += weight
        trials += weight * put
        successes += weight * (put & np.array(acting, dtype=bool))
    return trials / total, successes / total


def chain() -> Network:
    """Three faults, the third brought about by both others, and a finding of the third."""
    shows = Side((2,), np.array([[0.2, 1.0]]), np.array([0.97, 1.0]))
    return Network(
        np.array([0.3, 0.1, 0.03]),
        ((), (0,), (0, 1)),
        ((), (0.6,), (0.3, 0.8)),
        (Finding(NOTHING, shows),),
    )


@pytest.mark.parametrize(
    "evidence",
    [
        Evidence({0: (0.0, 1.0)}, {}),
        Evidence({0: (1.0, 0.0)}, {0: True}),
        Evidence({0: (0.3, 1.0)}, {2: True}),
        Evidence({}, {0: False, 1: True, 2: True}),
        Evidence({}, {2: False}),
    ],
)
def test_what_acted_is_found_by_writing_out_every_link(evidence: Evidence) -> None:
    network = chain()
    counts = Counter(network, evidence).count(numbers_of(network))
    trials, successes = written_out(network, evidence)
    assert counts.trials == pytest.approx(trials, abs=1e-12)
    assert counts.successes == pytest.approx(successes, abs=1e-12)


@pytest.mark.parametrize("seed", range(6))
def test_many_causes_are_counted_through_their_gates(seed: int) -> None:
    """Fisher's identity: S - s T is s (1 - s) times the slope of ln P(evidence) in s."""
    network = random_network(400 + seed, 9)
    evidence = random_evidence(network, seed, 6)
    evidence = Evidence(evidence.soft, {8: True, 4: False} if seed % 2 else {})
    if not enumerate_all(network, evidence).evidence:
        evidence = Evidence(evidence.soft)
    numbers = numbers_of(network)
    counter = Counter(network, evidence)
    counts = counter.count(numbers)
    truth = enumerate_all(network, evidence).evidence
    assert counts.log_evidence == pytest.approx(np.log(truth), abs=1e-9)
    for at, number in enumerate(numbers):
        # P(evidence) is linear in each number: two values of it are its whole line
        ends = []
        for value in (0.0, 1.0):
            moved = numbers.copy()
            moved[at] = value
            ends.append(enumerate_all(with_numbers(network, moved), evidence).evidence)
        slope = (ends[1] - ends[0]) / truth
        told = counts.successes[at] - number * counts.trials[at]
        assert told == pytest.approx(number * (1.0 - number) * slope, abs=1e-9)
    causes = [cause for row in network.parents for cause in row]
    there = enumerate_all(network, evidence).posterior[causes]
    counted = counts.trials[len(network) :]
    assert counted[counted > 0.0] == pytest.approx(there[counted > 0.0], abs=1e-9)


def test_other_numbers_are_counted_by_the_same_tree() -> None:
    network = random_network(420, 8)
    evidence = random_evidence(network, 1, 5)
    dice = np.random.default_rng(0)
    counter = Counter(network, evidence)
    for _ in range(3):
        numbers = dice.uniform(0.02, 0.98, len(numbers_of(network)))
        counts = counter.count(numbers)
        anew = Counter(with_numbers(network, numbers), evidence).count(numbers)
        assert counts.trials == pytest.approx(anew.trials, abs=1e-12)
        assert counts.successes == pytest.approx(anew.successes, abs=1e-12)
        assert counts.log_evidence == pytest.approx(anew.log_evidence, abs=1e-12)


def test_what_nothing_depends_on_is_no_trial() -> None:
    counts = Counter(chain(), Evidence({}, {1: True})).count(numbers_of(chain()))
    assert counts.trials[[2, 4, 5]].tolist() == [0.0, 0.0, 0.0]


def test_what_cannot_be_has_no_counts() -> None:
    numbers = numbers_of(chain())
    numbers[2] = 0.0
    counts = Counter(chain(), Evidence({}, {0: False, 1: False, 2: True})).count(numbers)
    assert counts.log_evidence == -np.inf
    assert not counts.trials.any()
