"""What a check would tell, against mutual information taken from a joint written out in full."""

from __future__ import annotations

import itertools
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from scipy.stats import entropy as scipy_entropy

from oracles.enumeration import all_states, enumerate_all, outcomes_of
from strategies import networks, questions
from tailblock.advice.gain import NOTHING, entropy, information, informations
from tailblock.inference import Reasoner
from tailblock.measures.uncertainty import reported_given_level
from tailblock.network.arrays import Evidence, Finding, FloatArray, Network, Side

CLOSE = 1e-9


def blur(outcomes: int, u: float) -> FloatArray:
    """A gauge whose levels are 1 mm wide."""
    return np.array(reported_given_level([float(i) for i in range(1, outcomes)], u))


def mutual_information(joint: FloatArray) -> float:
    """H(F) + H(X) - H(F, X) of a joint table, by scipy."""
    return float(
        scipy_entropy(joint.sum(axis=1), base=2)
        + scipy_entropy(joint.sum(axis=0), base=2)
        - scipy_entropy(joint.ravel(), base=2)
    )


def enumerated_information(
    network: Network, evidence: Evidence, finding: int, node: int, k: FloatArray
) -> float:
    """The joint of one node and the reported answer, summed over every state one by one."""
    states = all_states(len(network))
    weight = enumerate_all(network, evidence).weight
    weight /= weight.sum()
    answers = outcomes_of(network.findings[finding], states)
    joint = np.zeros((2, k.shape[1]))
    for row, true in itertools.product(range(len(states)), range(k.shape[0])):
        joint[int(states[row, node])] += weight[row] * answers[row, true] * k[true]
    return mutual_information(joint)


def unread(network: Network, evidence: Evidence) -> list[int]:
    return [k for k in range(len(network.findings)) if k not in evidence.soft]


@given(questions(most_nodes=4), st.sampled_from([0.0, 0.1, 0.4, 2.0]))
def test_information_is_that_of_the_enumerated_joint(
    question: tuple[Network, Evidence], u: float
) -> None:
    network, evidence = question
    assume(enumerate_all(network, evidence).evidence > 1e-6)
    reasoner = Reasoner(network, evidence)
    for prediction in reasoner.predict(unread(network, evidence)[:2]):
        k = blur(len(prediction.chance), u)
        bits = information(prediction.chance, prediction.posterior, k)
        for node in range(len(network)):
            wanted = enumerated_information(network, evidence, prediction.finding, node, k)
            assert bits[node] == pytest.approx(wanted, abs=2 * CLOSE)


@given(questions(most_nodes=6))
def test_nothing_is_told_about_what_is_known_and_never_less_than_nothing(
    question: tuple[Network, Evidence],
) -> None:
    network, evidence = question
    assume(enumerate_all(network, evidence).evidence > 1e-9)
    for told in Reasoner(network, evidence).predict(unread(network, evidence)):
        bits = information(told.chance, told.posterior)
        assert (bits >= 0.0).all()
        assert bits[list(evidence.hard)] == pytest.approx(0.0, abs=NOTHING)


@given(networks(most_nodes=5, most_findings=3), st.data())
def test_a_check_that_hangs_on_nothing_tells_nothing(network: Network, data: st.DataObject) -> None:
    # it shows every fault with a chance of 0: its answer is the leak's alone
    nodes = tuple(range(len(network)))
    blind = Side(nodes, np.ones((len(nodes), 3)), np.array([0.3, 0.9, 1.0]))
    none = Side((), np.empty((0, 1)), np.ones(1))
    finding = Finding(*data.draw(st.permutations([none, blind])))
    extended = replace(network, findings=(*network.findings, finding))
    (told,) = Reasoner(extended, Evidence()).predict([len(network.findings)])
    assert sorted(told.chance) == pytest.approx([0.1, 0.3, 0.6])
    assert information(told.chance, told.posterior) == pytest.approx(0.0, abs=NOTHING)


def chances(size: int) -> st.SearchStrategy[list[float]]:
    return st.lists(st.floats(0.0, 1.0), min_size=size, max_size=size)


@st.composite
def predictions(draw: st.DrawFn) -> tuple[FloatArray, FloatArray]:
    outcomes, nodes = draw(st.integers(2, 5)), draw(st.integers(1, 4))
    weights = np.array(draw(chances(outcomes))) + 1e-6
    rows = [draw(chances(nodes)) for _ in range(outcomes)]
    return weights / weights.sum(), np.array(rows)


@given(predictions(), st.just(0.0) | st.floats(1e-6, 5.0))
def test_no_check_tells_less_than_nothing(
    prediction: tuple[FloatArray, FloatArray], u: float
) -> None:
    chance, posterior = prediction
    for bits in (
        information(chance, posterior),
        information(chance, posterior, blur(len(chance), u)),
    ):
        assert (bits >= 0.0).all()
        assert (bits <= 1.0 + CLOSE).all()  # a yes/no question holds no more


@given(predictions(), st.floats(0.01, 5.0))
def test_a_gauge_never_adds_information(
    prediction: tuple[FloatArray, FloatArray], u: float
) -> None:
    chance, posterior = prediction
    blurred = information(chance, posterior, blur(len(chance), u))
    assert (blurred <= information(chance, posterior) + CLOSE).all()


@given(predictions(), st.floats(0.0, 1.0))
def test_a_check_that_changes_no_belief_tells_nothing(
    prediction: tuple[FloatArray, FloatArray], probability: float
) -> None:
    chance, posterior = prediction
    same = np.full_like(posterior, probability)
    assert (information(chance, same) == 0.0).all()


@pytest.mark.parametrize(
    ("p", "bits"),
    [
        (0.0, 0.0),
        (0.5, 1.0),
        (0.11, 0.499915958164528),  # the point where a yes/no question holds half a bit
        (1.0, 0.0),
    ],
)
def test_entropy_of_a_yes_no_question(p: float, bits: float) -> None:
    assert entropy(np.array([p]))[0] == pytest.approx(bits, abs=1e-12)
    assert entropy(np.array([p]))[0] == pytest.approx(scipy_entropy([p, 1 - p], base=2), abs=1e-12)


def test_a_sure_answer_to_an_even_question_tells_one_bit() -> None:
    assert information(np.array([0.5, 0.5]), np.array([[0.0], [1.0]]))[0] == 1.0


def test_an_answer_that_cannot_come_is_passed_over() -> None:
    chance = np.array([0.5, 0.5, 0.0])
    posterior = np.array([[0.0], [1.0], [0.5]])
    assert information(chance, posterior)[0] == 1.0


def test_many_checks_at_once_tell_what_each_tells_alone() -> None:
    dice = np.random.default_rng(3)
    chance = dice.dirichlet(np.ones(3), 4)
    chance[0] = (0.0, 0.25, 0.75)  # a level that cannot be
    posterior = dice.random((4, 3, 5))
    gauges = np.array([blur(3, 0.4), np.eye(3), blur(3, 0.1), np.eye(3)])
    together = informations(chance, posterior, gauges)
    alone = [information(*check) for check in zip(chance, posterior, gauges, strict=True)]
    np.testing.assert_allclose(together, alone, rtol=0.0, atol=1e-15)
    np.testing.assert_allclose(
        informations(chance, posterior)[1], together[1], rtol=0.0, atol=1e-15
    )
