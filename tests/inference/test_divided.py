"""Several narrow trees say what one wide tree says, and what enumeration says."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from oracles.enumeration import enumerate_all
from random_networks import random_evidence, random_network
from strategies import questions
from tailblock.inference import ImpossibleEvidence, Reasoner
from tailblock.inference.divided import Divided
from tailblock.inference.expansion import expanded
from tailblock.inference.portions import divide
from tailblock.network.arrays import Evidence, Network

EXACT = 1e-9


@given(questions(), st.data())
def test_divided_equals_enumeration(
    question: tuple[Network, Evidence], data: st.DataObject
) -> None:
    network, evidence = question
    truth = enumerate_all(network, evidence)
    assume(truth.evidence > 1e-9)
    asked = sorted(data.draw(st.sets(st.integers(0, len(network) - 1), min_size=1)))
    divided = Divided(network, evidence, asked)
    np.testing.assert_allclose(
        divided.beliefs.probability[asked], truth.posterior[asked], atol=EXACT
    )
    bare = enumerate_all(network, Evidence()).posterior
    np.testing.assert_allclose(divided.priors.probability[asked], bare[asked], atol=EXACT)
    whole = Reasoner(network, evidence)
    assert divided.log_evidence == pytest.approx(whole.log_evidence, abs=EXACT)
    every = range(len(network.findings))
    for ours, theirs in zip(divided.predict(every), whole.predict(every), strict=True):
        np.testing.assert_allclose(ours.chance, theirs.chance, atol=EXACT)
        likely = theirs.chance > 1e-6
        np.testing.assert_allclose(
            ours.posterior[likely][:, asked], theirs.posterior[likely][:, asked], atol=1e-8
        )
    left, known = divided.leave_one_out(), whole.leave_one_out()
    assert left.findings == known.findings
    np.testing.assert_allclose(left.probability[:, asked], known.probability[:, asked], atol=EXACT)


@pytest.mark.parametrize("seed", range(8))
def test_a_larger_network_that_is_really_divided(seed: int) -> None:
    network = random_network(seed, 30)
    evidence = random_evidence(network, seed, 4)
    whole, divided = Reasoner(network, evidence), Divided(network, evidence)
    np.testing.assert_allclose(divided.beliefs.probability, whole.beliefs.probability, atol=EXACT)
    np.testing.assert_allclose(divided.priors.probability, whole.priors.probability, atol=EXACT)
    every = range(len(network.findings))
    for ours, theirs in zip(divided.predict(every), whole.predict(every), strict=True):
        likely = theirs.chance > 1e-6
        np.testing.assert_allclose(ours.chance, theirs.chance, atol=EXACT)
        np.testing.assert_allclose(ours.posterior[likely], theirs.posterior[likely], atol=1e-8)


def test_the_larger_networks_need_more_than_one_tree() -> None:
    counts = []
    for seed in range(8):
        network = random_network(seed, 30)
        evidence = random_evidence(network, seed, 4)
        bearing = {n for k in evidence.soft for n in network.findings[k].parents}
        counts.append(len(divide(network.parents, bearing, [], range(len(network)))))
    assert max(counts) > 1


@given(questions(), st.data())
def test_portions_hold_all_causes_and_tell_of_each_node_once(
    question: tuple[Network, Evidence], data: st.DataObject
) -> None:
    network, evidence = question
    bearing = {n for k in evidence.soft for n in network.findings[k].parents}
    asked = data.draw(st.sets(st.integers(0, len(network) - 1)))
    portions = divide(network.parents, bearing, [], asked)
    assert sorted(node for portion in portions for node in portion.tells) == sorted(asked)
    for portion in portions:
        inside = set(portion.nodes)
        assert inside.issuperset(portion.tells)
        assert inside.issuperset(bearing)
        assert all(inside.issuperset(network.parents[node]) for node in inside)


def test_an_absent_effect_is_a_product_over_its_causes() -> None:
    network = Network(np.array([0.2, 0.4, 0.1]), ((), (), (0, 1)), ((), (), (0.8, 0.5)), ())
    terms = expanded(((2, 1.0, 0.0),), network, {0, 1})  # node 2 is absent
    ((product, coefficient),) = terms.items()
    assert [node for node, _, _ in product] == [0, 1]
    assert [present for _, _, present in product] == pytest.approx([0.2, 0.5])
    assert coefficient == pytest.approx(0.9)
    terms = expanded(((2, 0.3, 1.0),), network, {0, 1})
    assert terms[()] == 1.0
    assert sum(terms.values()) == pytest.approx(1.0 - 0.7 * 0.9)


def test_a_contradiction_names_what_the_whole_network_calls_it() -> None:
    network = Network(np.array([0.2, 0.4, 0.1]), ((), (), (1,)), ((), (), (1.0,)), ())
    with pytest.raises(ImpossibleEvidence) as caught:
        _ = Divided(network, Evidence(hard={1: True, 2: False})).beliefs
    assert caught.value.nodes == (1, 2)
