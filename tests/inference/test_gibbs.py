"""The approximation, where exact answers are at hand to compare with."""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest

from random_networks import random_evidence, random_network
from tailblock.inference import Reasoner
from tailblock.inference.gibbs import Sampler
from tailblock.network.arrays import Evidence, Finding, Network, Side

SEEDS = range(6)
NODES = 14


@cache
def both(seed: int) -> tuple[Reasoner, Sampler]:
    network = random_network(seed, NODES)
    evidence = random_evidence(network, seed, 8)
    return Reasoner(network, evidence), Sampler(network, evidence)


@pytest.mark.parametrize("seed", SEEDS)
def test_the_approximation_lies_within_its_stated_error(seed: int) -> None:
    exact, sampled = both(seed)
    assert not exact.beliefs.approximate
    assert sampled.beliefs.approximate
    assert sampled.beliefs.error is not None
    off = np.abs(sampled.beliefs.probability - exact.beliefs.probability).max()
    assert off <= sampled.beliefs.error
    assert sampled.beliefs.error < 0.1


@pytest.mark.parametrize("seed", SEEDS)
def test_so_do_the_starting_chances(seed: int) -> None:
    exact, sampled = both(seed)
    assert sampled.priors.error is not None
    off = np.abs(sampled.priors.probability - exact.priors.probability).max()
    assert off <= sampled.priors.error < 0.02


@pytest.mark.parametrize("seed", SEEDS)
def test_what_unread_findings_would_say_is_near(seed: int) -> None:
    exact, sampled = both(seed)
    unread = [k for k in range(len(exact.network.findings)) if k not in exact.evidence.soft]
    for right, told in zip(exact.predict(unread), sampled.predict(unread), strict=True):
        assert told.chance.sum() == pytest.approx(1.0)
        assert np.abs(told.chance - right.chance).max() < 0.05
        moved = right.chance[:, None] * np.abs(told.posterior - right.posterior)
        assert moved.max() < 0.05


@pytest.mark.parametrize("seed", SEEDS)
def test_so_are_the_beliefs_without_a_reading(seed: int) -> None:
    exact, sampled = both(seed)
    right, told = exact.leave_one_out(), sampled.leave_one_out()
    assert told.findings == right.findings
    assert np.abs(told.probability - right.probability).mean() < 0.05


def test_what_was_seen_stays_seen() -> None:
    network = random_network(1, NODES)
    beliefs = Sampler(network, Evidence({}, {3: True, 5: False})).beliefs
    assert (beliefs.probability[3], beliefs.probability[5]) == (1.0, 0.0)


def test_the_same_readings_give_the_same_numbers() -> None:
    network = random_network(2, NODES)
    evidence = random_evidence(network, 2, 8)
    one, other = (Sampler(network, evidence).beliefs for _ in range(2))
    assert one.probability.tolist() == other.probability.tolist()


def test_an_answer_that_tells_nothing_is_no_information() -> None:
    nothing = Side((), np.empty((0, 1)), np.ones(1))
    blind = Finding(nothing, Side((0,), np.array([[1.0, 1.0]]), np.array([0.5, 1.0])))
    network = Network(np.array([0.3, 0.4]), ((), ()), ((), ()), (blind,))
    sampler = Sampler(network, Evidence())
    (told,) = sampler.predict([0])
    assert told.posterior.tolist() == [sampler.beliefs.probability.tolist()] * 2
