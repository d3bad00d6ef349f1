"""What holds of any network and any readings, whatever the numbers."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from oracles.enumeration import enumerate_all
from strategies import findings, known, networks, questions
from tailblock.inference import ImpossibleEvidence, Reasoner
from tailblock.network.arrays import Evidence, Finding, Network, Side

if TYPE_CHECKING:
    from random import Random

EXACT = 1e-9
NO_SIDE = Side((), np.empty((0, 1)), np.ones(1))


def possible(question: tuple[Network, Evidence]) -> Reasoner:
    """A reasoner whose evidence is not so improbable that the oracle itself would lose digits."""
    assume(enumerate_all(*question).evidence > 1e-9)
    return Reasoner(*question)


@given(questions(), st.randoms(use_true_random=False))
def test_the_order_of_readings_does_not_matter(
    question: tuple[Network, Evidence], dice: Random
) -> None:
    reasoner = possible(question)
    network, evidence = question
    soft, hard = list(evidence.soft.items()), list(evidence.hard.items())
    dice.shuffle(soft)
    dice.shuffle(hard)
    other = Reasoner(network, Evidence(dict(soft), dict(hard)))
    assert np.abs(other.beliefs.probability - reasoner.beliefs.probability).max() < EXACT
    assert other.log_evidence == pytest.approx(reasoner.log_evidence, abs=EXACT)


@given(questions())
def test_an_answer_that_says_nothing_changes_nothing(question: tuple[Network, Evidence]) -> None:
    reasoner = possible(question)
    network, evidence = question
    silent = {
        k: (1.0,) * finding.outcomes
        for k, finding in enumerate(network.findings)
        if k not in evidence.soft
    }
    told = Reasoner(network, Evidence({**silent, **evidence.soft}, evidence.hard))
    assert np.abs(told.beliefs.probability - reasoner.beliefs.probability).max() < EXACT


def renumbered(network: Network, place: list[int]) -> Network:
    """The same network with its findings' parents in other words: node i is now `place[i]`.

    Causes come before effects in any numbering, so the nodes keep an order that allows this.
    """
    old = sorted(range(len(network)), key=place.__getitem__)

    def side(one: Side) -> Side:
        order = sorted(range(len(one.parents)), key=lambda row: place[one.parents[row]])
        rows = one.cumulative[order] if order else one.cumulative
        return Side(tuple(place[one.parents[row]] for row in order), rows, one.leak)

    links = [
        sorted((place[c], s) for c, s in zip(network.parents[n], network.strengths[n], strict=True))
        for n in old
    ]
    return Network(
        network.alone[old],
        tuple(tuple(cause for cause, _ in one) for one in links),
        tuple(tuple(strength for _, strength in one) for one in links),
        tuple(Finding(side(f.low), side(f.high)) for f in network.findings),
    )


@given(questions(), st.data())
def test_other_numbers_for_the_nodes_change_nothing(
    question: tuple[Network, Evidence], data: st.DataObject
) -> None:
    reasoner = possible(question)
    network, evidence = question
    order: list[int] = []  # any order that keeps causes before their effects
    while len(order) < len(network):
        ready = [
            node
            for node in range(len(network))
            if node not in order and set(network.parents[node]) <= set(order)
        ]
        order.append(data.draw(st.sampled_from(ready)))
    place = [order.index(node) for node in range(len(network))]
    hard = {place[node]: present for node, present in evidence.hard.items()}
    other = Reasoner(renumbered(network, place), Evidence(evidence.soft, hard))
    assert np.abs(other.beliefs.probability[place] - reasoner.beliefs.probability).max() < EXACT


def chained(seed: int) -> Network:
    """Thirty faults, each brought about by those next to it, and two findings about each."""
    dice = np.random.default_rng(seed)

    def chance() -> float:
        return float(dice.choice([0.01, 0.1, 0.6, 0.95, 0.999]))

    def side(node: int) -> Side:
        parents = (node - 1, node) if node else (node,)
        rows = [[1.0 - max(a, b), 1.0 - min(a, b), 1.0] for a, b in ((chance(), chance()),) * 2]
        return Side(parents, np.array(rows[: len(parents)]), np.array([0.9, 0.99, 1.0]))

    causes = [tuple(range(max(0, node - 2), node)) for node in range(30)]
    strengths = tuple(tuple(chance() for _ in one) for one in causes)
    pairs = ((Finding(NO_SIDE, side(n)), Finding(side(n), side(n))) for n in range(30))
    made = tuple(finding for pair in pairs for finding in pair)
    return Network(np.array([chance() for _ in causes]), tuple(causes), strengths, made)


@pytest.mark.parametrize("seed", range(4))
@pytest.mark.parametrize("faint", [0.0, 1e-9, 1e-30])
def test_sixty_extreme_readings_leave_probabilities(seed: int, faint: float) -> None:
    network = chained(seed)
    soft = {
        k: tuple(
            1.0 if outcome == (0 if k % 3 else finding.outcomes - 1) else faint
            for outcome in range(finding.outcomes)
        )
        for k, finding in enumerate(network.findings[:60])
    }
    reasoner = Reasoner(network, Evidence(soft))
    believed = reasoner.beliefs
    assert len(soft) == 60
    assert np.isfinite(believed.log_evidence)
    assert ((believed.probability >= 0.0) & (believed.probability <= 1.0)).all()
    left = reasoner.leave_one_out().probability
    assert ((left >= 0.0) & (left <= 1.0)).all()
    for told in reasoner.predict(range(60)):
        assert np.isfinite(told.posterior).all()
        assert told.chance.sum() == pytest.approx(1.0, abs=1e-6)


@st.composite
def certainties(draw: st.DrawFn) -> tuple[Network, Evidence]:
    """Faults that always or never show, and sharp answers: hardly any of them fit together."""
    nodes = draw(st.integers(1, 5))
    sure = st.sampled_from([0.0, 1.0])

    def finding() -> Finding:
        parents = draw(st.lists(st.integers(0, nodes - 1), min_size=1, max_size=3, unique=True))
        rows = np.array([[draw(sure), 1.0] for _ in parents])
        return Finding(NO_SIDE, Side(tuple(sorted(parents)), rows, np.array([1.0, 1.0])))

    made = tuple(finding() for _ in range(draw(st.integers(1, 5))))
    network = Network(np.full(nodes, 0.3), ((),) * nodes, ((),) * nodes, made)
    soft = {k: draw(st.sampled_from([(1.0, 0.0), (0.0, 1.0)])) for k in range(len(made))}
    hard = draw(st.dictionaries(st.integers(0, nodes - 1), st.booleans(), max_size=3))
    return network, Evidence(soft, hard)


@given(certainties())
def test_what_contradicts_is_named_and_nothing_besides(question: tuple[Network, Evidence]) -> None:
    network, evidence = question
    reasoner = Reasoner(network, evidence)
    if enumerate_all(network, evidence).evidence > 0.0:
        assert np.isfinite(reasoner.beliefs.probability).all()
        return
    assert reasoner.log_evidence == -np.inf
    with pytest.raises(ImpossibleEvidence, match="these readings contradict each other") as caught:
        _ = reasoner.beliefs
    soft = {k: evidence.soft[k] for k in caught.value.findings}
    hard = {node: evidence.hard[node] for node in caught.value.nodes}
    assert enumerate_all(network, Evidence(soft, hard)).evidence == 0.0
    for k in soft:  # without any one of them the others fit together
        rest = {other: row for other, row in soft.items() if other != k}
        assert enumerate_all(network, Evidence(rest, hard)).evidence > 0.0
    for node in hard:
        fewer = {other: present for other, present in hard.items() if other != node}
        assert enumerate_all(network, Evidence(soft, fewer)).evidence > 0.0


@st.composite
def two_sided(draw: st.DrawFn) -> tuple[Network, Evidence]:
    network = draw(networks(most_nodes=6, most_findings=2))
    nodes = len(network)
    both = findings(nodes).filter(lambda finding: finding.low.top and finding.high.top)
    whole = Network(network.alone, network.parents, network.strengths,
                    (draw(both), *network.findings))  # fmt: skip
    evidence = draw(known(whole))
    rest = {k: row for k, row in evidence.soft.items() if k != 0}
    return whole, Evidence(rest, evidence.hard)


@given(two_sided())
def test_the_answers_of_a_two_sided_finding_are_all_there_is(
    question: tuple[Network, Evidence],
) -> None:
    reasoner = possible(question)
    (told,) = reasoner.predict([0])
    assert told.chance.min() >= 0.0
    assert told.chance.sum() == pytest.approx(1.0, abs=EXACT)
    expected = told.chance @ told.posterior
    assert np.abs(expected - reasoner.beliefs.probability).max() < EXACT


def opposed(
    alone: float, high: float, low: float, leak: float, *, rival: bool = True
) -> tuple[Network, int]:
    """Two faults, the first of which raises a measurement and the second lowers it."""

    def side(parent: int, shown: float) -> Side:
        return Side((parent,), np.array([[1.0 - shown, 1.0]]), np.array([1.0 - leak, 1.0]))

    lowers = side(1, low) if rival else NO_SIDE
    finding = Finding(lowers, side(0, high))
    network = Network(np.full(2, alone), ((), ()), ((), ()), (finding,))
    return network, finding.low.top


CHANCE = st.floats(0.05, 0.95)


@given(CHANCE, CHANCE, CHANCE, st.floats(0.001, 0.04))
def test_a_normal_reading_clears_neither_of_two_opposing_faults_as_it_would_alone(
    alone: float, high: float, low: float, leak: float
) -> None:
    after = {}
    for rival in (True, False):
        network, normal = opposed(alone, high, low, leak, rival=rival)
        row = tuple(float(o == normal) for o in range(network.findings[0].outcomes))
        after[rival] = Reasoner(network, Evidence({0: row})).beliefs.probability[0]
    assert after[False] < alone
    assert after[True] > after[False]
