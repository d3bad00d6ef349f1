"""The engine against the definitions, written out state by state."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from oracles import bayes_library
from oracles.enumeration import enumerate_all
from random_networks import random_evidence, random_network
from strategies import questions
from tailblock.inference import ImpossibleEvidence, Reasoner, TooWide
from tailblock.inference.hypotheses import questions_of
from tailblock.network.arrays import Evidence, Finding, Network, Side

EXACT = 1e-9


@pytest.mark.parametrize("seed", range(50))
def test_fifty_random_networks_equal_enumeration(seed: int) -> None:
    # up to 13 nodes with every seed, 15 with the first five (32,768 states each)
    nodes = 15 if seed < 5 else 4 + seed % 8
    network = random_network(seed, nodes)
    evidence = random_evidence(network, seed, nodes)
    truth = enumerate_all(network, evidence)
    beliefs = Reasoner(network, evidence).beliefs
    assert np.abs(beliefs.probability - truth.posterior).max() < EXACT
    assert np.exp(beliefs.log_evidence) == pytest.approx(truth.evidence, rel=EXACT)


@given(questions())
def test_any_evidence_equals_enumeration(question: tuple[Network, Evidence]) -> None:
    network, evidence = question
    truth = enumerate_all(network, evidence)
    assume(truth.evidence > 1e-12)
    beliefs = Reasoner(network, evidence).beliefs
    assert np.abs(beliefs.probability - truth.posterior).max() < EXACT
    assert np.exp(beliefs.log_evidence) == pytest.approx(truth.evidence, rel=EXACT)


@given(questions(most_nodes=6), st.data())
def test_a_prediction_equals_entering_each_answer(
    question: tuple[Network, Evidence], data: st.DataObject
) -> None:
    network, evidence = question
    base = enumerate_all(network, evidence)
    assume(base.evidence > 1e-9)
    k = data.draw(st.integers(0, len(network.findings) - 1))
    without = Evidence({j: row for j, row in evidence.soft.items() if j != k}, evidence.hard)
    base = enumerate_all(network, without)
    (prediction,) = Reasoner(network, without).predict([k])
    assert prediction.chance.sum() == pytest.approx(1.0, abs=EXACT)
    for outcome in range(network.findings[k].outcomes):
        row = tuple(float(outcome == o) for o in range(network.findings[k].outcomes))
        told = enumerate_all(network, Evidence({**without.soft, k: row}, without.hard))
        assert prediction.chance[outcome] == pytest.approx(told.evidence / base.evidence, abs=EXACT)
        if told.evidence > 1e-6 * base.evidence:
            assert np.abs(prediction.posterior[outcome] - told.posterior).max() < 1e-8


@given(questions())
def test_leaving_one_out_equals_never_having_read_it(question: tuple[Network, Evidence]) -> None:
    network, evidence = question
    assume(enumerate_all(network, evidence).evidence > 1e-12)
    left = Reasoner(network, evidence).leave_one_out()
    assert left.findings == tuple(evidence.soft)
    for row, k in enumerate(left.findings):
        rest = Evidence({j: v for j, v in evidence.soft.items() if j != k}, evidence.hard)
        truth = enumerate_all(network, rest)
        assert np.abs(left.probability[row] - truth.posterior).max() < EXACT


@given(questions())
def test_the_expected_posterior_is_the_present_one(question: tuple[Network, Evidence]) -> None:
    network, evidence = question
    assume(enumerate_all(network, evidence).evidence > 1e-12)
    reasoner = Reasoner(network, evidence)
    predictions = reasoner.predict(range(len(network.findings)))
    asked = questions_of(network)
    for k, prediction in enumerate(predictions):
        how = asked.about(k)
        chance = how.adds @ np.append(reasoner.weigh(asked.changes(how.changes)), 1.0)
        assert chance == pytest.approx(prediction.chance, abs=1e-12)
        expected = prediction.chance @ prediction.posterior
        assert np.abs(expected - reasoner.beliefs.probability).max() < EXACT


@pytest.mark.parametrize("seed", range(6))
def test_larger_networks_equal_a_general_purpose_library(seed: int) -> None:
    # pyAgrum, lazy propagation; 30 nodes, 25 readings: past enumeration
    network = random_network(1000 + seed, 30)
    evidence = random_evidence(network, seed, 25)
    ours = Reasoner(network, evidence).beliefs.probability
    assert np.abs(ours - bayes_library.posterior(network, evidence)).max() < 1e-8


@given(questions())
def test_the_priors_are_what_no_evidence_leaves(question: tuple[Network, Evidence]) -> None:
    network, evidence = question
    truth = enumerate_all(network, Evidence())
    priors = Reasoner(network, evidence).priors
    assert np.abs(priors.probability - truth.posterior).max() < EXACT


def test_impossible_evidence_names_what_contradicts() -> None:
    sure = Side((0,), np.array([[0.0, 1.0]]), np.array([1.0, 1.0]))
    none = Side((), np.empty((0, 1)), np.ones(1))
    network = Network(
        np.array([0.3, 0.5]), ((), ()), ((), ()), (Finding(none, sure), Finding(none, sure))
    )
    evidence = Evidence({0: (0.0, 1.0), 1: (1.0, 1.0)}, {0: False, 1: True})
    with pytest.raises(ImpossibleEvidence) as caught:
        _ = Reasoner(network, evidence).beliefs
    assert (caught.value.findings, caught.value.nodes) == ((0,), (0,))


def test_a_network_past_the_limit_is_refused_before_it_runs() -> None:
    with pytest.raises(TooWide, match=r"table cells, over the limit of 64"):
        Reasoner(random_network(3, 14), Evidence(), limit=64)
