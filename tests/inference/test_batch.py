"""A batch of networks says member by member what each says alone."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
from hypothesis import assume, given

from oracles.enumeration import enumerate_all
from strategies import questions
from tailblock.inference import batch
from tailblock.inference.batch import many_beliefs
from tailblock.network.arrays import Evidence, Finding, FloatArray, Network, Side
from tailblock.network.jitter import jittered

if TYPE_CHECKING:
    import pytest

MEMBERS = 3


def member(networks: Network, i: int) -> Network:
    """Return one network out of a batch."""

    def side(many: Side) -> Side:
        return Side(many.parents, many.cumulative[..., i], many.leak[..., i])

    return Network(
        networks.alone[:, i],
        networks.parents,
        tuple(tuple(float(np.asarray(s)[i]) for s in row) for row in networks.strengths),
        tuple(Finding(side(f.low), side(f.high)) for f in networks.findings),
    )


@given(questions())
def test_each_member_equals_enumeration(question: tuple[Network, Evidence]) -> None:
    network, evidence = question
    assume(enumerate_all(network, evidence).evidence > 1e-9)
    everything = range(len(network.findings))
    networks = jittered(network, everything, np.random.default_rng(3), MEMBERS)
    many = many_beliefs(networks, evidence)
    for i in range(MEMBERS):
        one = member(networks, i)
        np.testing.assert_allclose(
            many.probability[:, i], enumerate_all(one, evidence).posterior, atol=1e-9
        )
        np.testing.assert_allclose(
            many.prior[:, i], enumerate_all(one, Evidence()).posterior, atol=1e-9
        )


def test_a_large_batch_is_worked_in_parts(monkeypatch: pytest.MonkeyPatch) -> None:
    nothing = Side((), np.empty((0, 1)), np.ones(1))
    network = Network(
        np.array([0.1, 0.3]), ((), (0,)), ((), (0.8,)), (Finding(nothing, _seen(0.9)),)
    )
    networks = jittered(network, [0], np.random.default_rng(0), 50)
    evidence = Evidence({0: (0.0, 1.0)})
    whole = many_beliefs(networks, evidence)
    monkeypatch.setattr(batch, "_AT_ONCE", 16)
    parts = many_beliefs(networks, evidence)
    np.testing.assert_array_equal(whole.probability, parts.probability)
    np.testing.assert_array_equal(whole.prior, parts.prior)


def _seen(chance: float) -> Side:
    row: FloatArray = np.array([1.0 - chance, 1.0])
    return Side((1,), row[None], np.array([0.99, 1.0]))
