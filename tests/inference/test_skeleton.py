"""The clique tree before its tables: what makes it one, and which questions share it."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from oracles.enumeration import enumerate_all
from random_networks import random_network
from tailblock.inference import Reasoner
from tailblock.inference.skeleton import skeleton_of
from tailblock.network.arrays import Evidence, Finding, Network, Side


@st.composite
def scopes(draw: st.DrawFn) -> tuple[int, frozenset[tuple[int, ...]]]:
    variables = draw(st.integers(1, 12))
    together = st.lists(st.integers(0, variables - 1), min_size=2, max_size=4, unique=True).map(
        tuple
    )
    some = together if variables >= 2 else st.nothing()
    return variables, frozenset(draw(st.lists(some, max_size=12)) if variables >= 2 else ())


@given(scopes())
def test_it_is_a_tree_of_cliques(asked: tuple[int, frozenset[tuple[int, ...]]]) -> None:
    variables, together = asked
    skeleton = skeleton_of(variables, together)
    bags = skeleton.bags
    # one root, children before their parents
    assert [b for b, bag in enumerate(bags) if bag.parent is None] == [len(bags) - 1]
    assert all(bag.parent is None or bag.parent > b for b, bag in enumerate(bags))
    # every variable is summed out once, where it says
    assert sorted(skeleton.home) == list(range(variables))
    for variable, (b, axis) in skeleton.home.items():
        assert bags[b].variables[axis] == variable
        assert axis < bags[b].residual
    # whatever stands together has a bag, and lines up with it
    for scope in together:
        place = skeleton.place(scope)
        assert set(scope) <= set(bags[place.bag].variables)
        assert np.prod(place.lining.part) == 2 ** len(scope)
    # the bags that hold a variable hang together: each but the top one has it in its separator
    for variable in range(variables):
        holding = {b for b, bag in enumerate(bags) if variable in bag.variables}
        tops = [b for b in holding if bags[b].parent not in holding]
        assert tops == [skeleton.home[variable][0]]
        assert all(variable in bags[b].variables[bags[b].residual :] for b in holding - {*tops})


def _network() -> Network:
    """Return eight nodes, each shown by two findings of two levels over four neighbours."""
    made = random_network(3, 8)
    at_most = np.array([[0.4, 0.8, 1.0], [0.5, 0.9, 1.0], [0.7, 0.9, 1.0], [0.6, 0.8, 1.0]])
    none = Side((), np.empty((0, 1)), np.ones(1))
    findings = tuple(
        Finding(none, Side(parents, at_most, np.array([0.9, 0.98, 1.0])))
        for parents in ((0, 1, 2, 3), (4, 5, 6, 7), (0, 2, 4, 6), (1, 3, 5, 7))
    )
    return Network(made.alone, made.parents, made.strengths, findings)


ABNORMAL = {0: (0.0, 1.0, 0.0)}  # exactly the middle level: brings its parents together
NETWORK = _network()


@pytest.mark.parametrize(
    ("what", "more", "same"),
    [
        ("a normal reading only rules out", Evidence({**ABNORMAL, 1: (1.0, 0.0, 0.0)}), True),
        ("at most this level rules out", Evidence({**ABNORMAL, 1: (1.0, 1.0, 0.0)}), True),
        ("a fault that was seen is one variable", Evidence(ABNORMAL, {5: True}), True),
        ("one that was seen to be absent as well", Evidence(ABNORMAL, {5: False}), True),
        ("other odds at the same place", Evidence({0: (0.0, 0.5, 0.0)}), True),
        ("another abnormal reading", Evidence({**ABNORMAL, 1: (0.0, 1.0, 0.0)}), False),
    ],
)
def test_a_question_that_brings_nothing_together_has_the_tree_of_the_last(
    what: str, more: Evidence, *, same: bool
) -> None:
    before = Reasoner(NETWORK, Evidence(ABNORMAL))
    after = Reasoner(NETWORK, more)
    assert (before._forest.skeleton is after._forest.skeleton) is same, what
    # and it is right all the same
    truth = enumerate_all(NETWORK, more)
    assert np.abs(after.beliefs.probability - truth.posterior).max() < 1e-9
