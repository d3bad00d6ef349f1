"""Draws from the joint distribution, against every state written out."""

from __future__ import annotations

import numpy as np
import pytest
from scipy import stats

from oracles.enumeration import enumerate_all
from random_networks import random_evidence, random_network
from tailblock.inference import Reasoner
from tailblock.network.arrays import Evidence

DRAWS = 20_000


@pytest.mark.parametrize("seed", range(8))
def test_the_share_of_each_joint_state_passes_a_chi_square_test(seed: int) -> None:
    network = random_network(300 + seed, 7)
    evidence = random_evidence(network, seed, 5)
    truth = enumerate_all(network, evidence)
    drawn = Reasoner(network, evidence).draw(DRAWS, np.random.default_rng(seed))
    states = drawn @ (1 << np.arange(7)[::-1])  # the order of enumeration: the first node slowest
    seen = np.bincount(states, minlength=128)
    expected = DRAWS * truth.weight / truth.evidence
    assert seen[expected == 0.0].sum() == 0
    frequent = expected >= 5.0  # the usual rule for the test; all others are one class
    observed = np.append(seen[frequent], seen[~frequent].sum())
    hoped = np.append(expected[frequent], expected[~frequent].sum())
    kept = hoped > 0.0
    assert stats.chisquare(observed[kept], hoped[kept]).pvalue > 0.001


def test_draws_without_evidence_follow_the_starting_chances() -> None:
    network = random_network(310, 8)
    evidence = random_evidence(network, 3, 6)
    reasoner = Reasoner(network, evidence)
    drawn = reasoner.draw(DRAWS, np.random.default_rng(5), evidence=False)
    truth = enumerate_all(network, Evidence()).posterior
    error = np.sqrt(truth * (1.0 - truth) / DRAWS)
    assert (np.abs(drawn.mean(axis=0) - truth) <= 4.5 * error).all()


def test_the_same_seed_draws_the_same_and_another_does_not() -> None:
    network = random_network(311, 12)
    reasoner = Reasoner(network, random_evidence(network, 4, 6))
    one, same, other = (reasoner.draw(200, np.random.default_rng(seed)) for seed in (1, 1, 2))
    assert (one == same).all()
    assert (one != other).any()


def test_what_was_seen_is_so_in_every_draw() -> None:
    network = random_network(312, 9)
    reasoner = Reasoner(network, Evidence({}, {2: True, 5: False}))
    drawn = reasoner.draw(500, np.random.default_rng(0))
    assert drawn[:, 2].all()
    assert not drawn[:, 5].any()
