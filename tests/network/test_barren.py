"""Nodes without evidence below them, summed out: against an enumeration of all states."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from oracles.enumeration import enumerate_all
from tailblock.advice.weighing import MOST_PRODUCTS, Weigher
from tailblock.inference import TooWide
from tailblock.network.arrays import Evidence, Network
from tailblock.network.barren import summed_out

CHANCES = st.sampled_from([0.0, 0.1, 0.4, 0.9, 1.0])


@st.composite
def networks(draw: st.DrawFn) -> tuple[Network, int, dict[int, float]]:
    """Return a network, how many of its first nodes are kept, and factors of some nodes."""
    size = draw(st.integers(2, 7))
    parents = tuple(
        tuple(sorted(draw(st.sets(st.integers(0, i - 1), max_size=3)))) if i else ()
        for i in range(size)
    )
    strengths = tuple(tuple(draw(CHANCES) for _ in causes) for causes in parents)
    alone = np.array([draw(st.sampled_from([0.1, 0.3, 0.6])) for _ in range(size)])
    factors = draw(st.dictionaries(st.integers(0, size - 1), CHANCES, max_size=4))
    return Network(alone, parents, strengths, ()), draw(st.integers(1, size)), factors


@given(networks())
def test_the_expectation_is_that_of_enumeration(of: tuple[Network, int, dict[int, float]]) -> None:
    network, kept, factors = of
    every = enumerate_all(network, Evidence())
    chance = every.weight / every.weight.sum()
    worth = np.prod([np.where(every.states[:, i], f, 1.0) for i, f in factors.items()], axis=0)
    first = replace(
        network,
        alone=network.alone[:kept],
        parents=network.parents[:kept],
        strengths=network.strengths[:kept],
    )
    (ours,) = Weigher(first, Evidence()).none_acts(network, [factors])
    assert ours == pytest.approx(float((chance * worth).sum()), abs=1e-12)
    terms = summed_out(network, kept, factors)
    assert all(node < kept for product in terms for node, _ in product)
    assert all(scale >= 0.0 for scale in terms.values())


def test_too_many_products_are_out_of_reach_before_anything_is_weighed() -> None:
    causes = MOST_PRODUCTS.bit_length()
    network = Network(
        np.full(2 * causes, 0.3),
        (*((),) * causes, *((i,) for i in range(causes))),
        (*((),) * causes, *((0.5,) for _ in range(causes))),
        (),
    )
    first = Network(np.full(causes, 0.3), ((),) * causes, ((),) * causes, ())
    with pytest.raises(TooWide):
        Weigher(first, Evidence()).none_acts(
            network, [dict.fromkeys(range(causes, 2 * causes), 0.5)]
        )
