"""Many versions of the evidence over one tree, against entering each by itself."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from oracles.enumeration import enumerate_all, outcomes_of
from random_networks import random_evidence, random_network
from strategies import networks, questions
from tailblock.inference import Answers, Reasoner, Supposition, TooWide, say
from tailblock.network.arrays import Evidence, Network

EXACT = 1e-9


def sharp(network: Network, findings: list[int], answers: list[int]) -> Evidence:
    """Return the evidence of answers that are sure."""
    return Evidence(
        {
            k: tuple(float(outcome == answer) for outcome in range(network.findings[k].outcomes))
            for k, answer in zip(findings, answers, strict=True)
        }
    )


@given(questions(most_nodes=7), st.data())
def test_a_supposition_equals_entering_it(
    question: tuple[Network, Evidence], data: st.DataObject
) -> None:
    network, evidence = question
    assume(enumerate_all(network, evidence).evidence > 1e-9)
    left_out = st.sets(st.sampled_from([*evidence.soft]) if evidence.soft else st.nothing())
    nodes = st.dictionaries(st.integers(0, len(network) - 1), st.booleans(), max_size=3)
    supposed = st.builds(Supposition, nodes, left_out)
    suppositions = data.draw(st.lists(supposed, min_size=1, max_size=6))
    ours = np.exp(Reasoner(network, evidence).log_evidence_if(suppositions))
    for one, weight in zip(suppositions, ours, strict=True):
        soft = {k: row for k, row in evidence.soft.items() if k not in one.left_out}
        truth = enumerate_all(network, Evidence(soft, evidence.hard))
        agree = np.ones(len(truth.states), dtype=bool)
        for node, there in one.seen.items():
            agree &= truth.states[:, node] == float(there)
        expected = float(truth.weight[agree].sum())
        assert weight == pytest.approx(expected, abs=EXACT, rel=EXACT)


@given(networks(most_nodes=7), st.data())
def test_sets_of_sharp_answers_equal_enumeration(network: Network, data: st.DataObject) -> None:
    findings = data.draw(st.permutations(range(len(network.findings))).map(list))
    findings = findings[: data.draw(st.integers(1, len(findings)))]
    row = st.tuples(*(st.integers(0, network.findings[k].outcomes - 1) for k in findings))
    rows = data.draw(st.lists(row, min_size=1, max_size=8))
    ours = np.exp(Answers(network, findings).log_probability(np.array(rows)))
    for answers, probability in zip(rows, ours, strict=True):
        truth = enumerate_all(network, sharp(network, findings, list(answers)))
        assert probability == pytest.approx(truth.evidence, abs=1e-12, rel=EXACT)


@pytest.mark.parametrize("seed", range(6))
def test_of_a_thousand_draws_any_equals_a_reasoner_of_its_own(seed: int) -> None:
    network = random_network(400 + seed, 14)
    findings = list(range(0, 28, 4))
    reasoner = Reasoner(network, Evidence())
    dice = np.random.default_rng(seed)
    said = say(network, findings, reasoner.draw(1000, dice), dice)
    ours = Answers(network, findings).log_probability(said)
    for row in range(0, 1000, 50):
        alone = Reasoner(network, sharp(network, findings, said[row].tolist()))
        assert ours[row] == pytest.approx(alone.log_evidence, rel=1e-10)


def test_all_sets_of_answers_together_are_certain() -> None:
    network = random_network(410, 8)
    findings = [0, 1, 2, 3]
    every = np.indices([network.findings[k].outcomes for k in findings]).reshape(4, -1).T
    assert np.exp(Answers(network, findings).log_probability(every)).sum() == pytest.approx(1.0)


def test_what_is_said_follows_the_noisy_max_of_the_state() -> None:
    network = random_network(411, 6)
    state = np.array([[True, False, True, True, False, True]])
    findings = list(range(len(network.findings)))
    said = say(network, findings, np.repeat(state, 20_000, axis=0), np.random.default_rng(3))
    for column, k in enumerate(findings):
        truth = outcomes_of(network.findings[k], state.astype(float))[0]
        seen = np.bincount(said[:, column], minlength=len(truth)) / 20_000
        assert (np.abs(seen - truth) <= 4.5 * np.sqrt(truth * (1 - truth) / 20_000)).all()


def test_answers_past_the_limit_are_refused_before_anything_runs() -> None:
    with pytest.raises(TooWide):
        Answers(random_network(412, 14), range(20), limit=64)


def test_a_finding_left_out_takes_its_impossibility_with_it() -> None:
    network = random_network(413, 5)
    evidence = random_evidence(network, 1, 4)
    k = next(iter(evidence.soft))
    reasoner = Reasoner(network, evidence)
    with_all, without = reasoner.log_evidence_if([Supposition(), Supposition(left_out=[k])])
    rest = Evidence({j: row for j, row in evidence.soft.items() if j != k})
    assert with_all == pytest.approx(reasoner.log_evidence, rel=1e-12)
    assert without == pytest.approx(Reasoner(network, rest).log_evidence, rel=1e-12)
