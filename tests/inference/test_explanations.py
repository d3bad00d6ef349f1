"""The most probable joint sets of nodes, against every state written out."""

from __future__ import annotations

from collections import defaultdict

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from oracles.enumeration import Enumerated, enumerate_all
from random_networks import random_evidence, random_network
from strategies import questions
from tailblock.inference import Reasoner, TooWide
from tailblock.inference.explanations import MOST_NODES
from tailblock.network.arrays import Evidence, Finding, Network, Side

EXACT = 1e-9


def by_set(truth: Enumerated, nodes: list[int]) -> dict[tuple[int, ...], float]:
    """Return P(exactly these of `nodes` are there | evidence), from the definition."""
    chance: dict[tuple[int, ...], float] = defaultdict(float)
    for state, weight in zip(truth.states, truth.weight / truth.evidence, strict=True):
        chance[tuple(node for node in nodes if state[node] == 1.0)] += weight
    return chance


@given(questions(), st.data())
def test_the_best_sets_are_those_of_enumeration(
    question: tuple[Network, Evidence], data: st.DataObject
) -> None:
    network, evidence = question
    truth = enumerate_all(network, evidence)
    assume(truth.evidence > 1e-12)
    asked = data.draw(st.permutations(range(len(network))).map(list))
    nodes = asked[: data.draw(st.integers(1, len(network)))]
    count = data.draw(st.sampled_from([1, 2, 10]))
    chance = by_set(truth, nodes)
    found = Reasoner(network, evidence).best_sets(nodes, count)
    possible = sorted((p for p in chance.values() if p > 1e-12), reverse=True)
    assert len(found) >= min(count, len(possible))
    for best, probability in zip(found, possible, strict=False):
        assert best.probability == pytest.approx(probability, abs=EXACT)
    for best in found:  # the right sets, whatever the order of equals
        assert best.probability == pytest.approx(
            chance[tuple(node for node in nodes if node in best.present)], abs=EXACT
        )
    assert len({best.present for best in found}) == len(found)


@pytest.mark.parametrize("seed", range(12))
def test_ten_best_of_all_nodes_where_families_are_large(seed: int) -> None:
    # up to seven causes a node: the gates of divorced noisy-ORs are summed over, not maximised
    network = random_network(200 + seed, 12)
    evidence = random_evidence(network, seed, 8)
    chance = by_set(enumerate_all(network, evidence), list(range(12)))
    found = Reasoner(network, evidence).best_sets(range(12), 10)
    best = sorted(chance.items(), key=lambda entry: -entry[1])[:10]
    assert [one.present for one in found] == [present for present, _ in best]
    assert [one.probability for one in found] == pytest.approx([p for _, p in best], abs=EXACT)


def noisy_or(causes: int, strength: float) -> Network:
    """Return one effect of equally likely, equally strong causes, and no finding."""
    alone = np.array([0.1] * causes + [0.0])
    nothing = Side((), np.empty((0, 1)), np.ones(1))
    return Network(
        alone,
        ((),) * causes + (tuple(range(causes)),),
        ((),) * causes + ((strength,) * causes,),
        (Finding(nothing, nothing),),
    )


def test_a_gate_is_summed_over_and_not_maximised() -> None:
    # by hand: the effect is there, each of 4 causes starts at 0.1 and brings it about with 0.5.
    # One cause: 0.1 x 0.9^3 x 0.5 = 0.03645; two: 0.01 x 0.81 x 0.75 = 0.006075.
    # P(effect) = 1 - 0.95^4 = 0.18549375
    found = Reasoner(noisy_or(4, 0.5), Evidence({}, {4: True})).best_sets(range(4), 5)
    assert [len(one.present) for one in found] == [1, 1, 1, 1, 2]
    assert found[0].probability == pytest.approx(0.03645 / 0.18549375, rel=1e-12)
    assert found[4].probability == pytest.approx(0.006075 / 0.18549375, rel=1e-12)


def test_all_sets_together_are_certain() -> None:
    network = random_network(21, 9)
    reasoner = Reasoner(network, random_evidence(network, 21, 5))
    assert sum(one.probability for one in reasoner.best_sets([1, 4, 7], 100)) == pytest.approx(1.0)


def test_no_node_in_question_is_one_empty_set() -> None:
    (only,) = Reasoner(noisy_or(2, 0.5), Evidence()).best_sets([], 3)
    assert only.present == ()
    assert only.probability == pytest.approx(1.0)


def test_more_nodes_than_one_number_can_hold_are_refused() -> None:
    reasoner = Reasoner(noisy_or(MOST_NODES, 0.5), Evidence())
    with pytest.raises(ValueError, match="63 nodes; at most 62"):
        reasoner.best_sets(range(MOST_NODES + 1), 1)


def test_a_question_without_an_end_is_refused_before_memory_runs_out() -> None:
    # 40 fair and independent coins: every one of 2^40 sets is as probable as every other
    nothing = Side((), np.empty((0, 1)), np.ones(1))
    coins = Network(np.full(40, 0.5), ((),) * 40, ((),) * 40, (Finding(nothing, nothing),))
    with pytest.raises(TooWide):
        Reasoner(coins, Evidence()).best_sets(range(40), 2)
