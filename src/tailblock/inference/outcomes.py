"""How probable whole sets of sharp answers are: one tree for every answer to the same findings.

In: a `Network` and the findings that were asked. Out: `Answers`: draws of what they would say, and
the probability of many sets of answers in one pass.

"Exactly level l" of a one-sided finding is a product over its parents times a noisy-OR that is
seen to be on, and of this only the numbers depend on l. So one graph, and one tree, hold every
answer, each as a version of the same tables. Two-sided findings and small ones are tables over
their parents. Nodes without an asked finding below them are left out, since they sum to 1.
"""

from __future__ import annotations

from dataclasses import replace
from functools import cached_property
from typing import TYPE_CHECKING

import numpy as np
import numpy.typing as npt

from tailblock.inference.columns import Slot, log_totals
from tailblock.inference.divorcing import Factor, NoisyOr, divorce_all
from tailblock.inference.factors import DENSE_PARENTS, FactorGraph, outcome_table
from tailblock.inference.relevant import relevant
from tailblock.inference.tree import CELL_LIMIT, grow

if TYPE_CHECKING:
    from collections.abc import Sequence

    from tailblock.inference.sampling import States
    from tailblock.inference.tree import Forest
    from tailblock.network.arrays import Finding, FloatArray, Network, Side

Outcomes = npt.NDArray[np.int64]


def say(
    network: Network, findings: Sequence[int], states: States, generator: np.random.Generator
) -> Outcomes:
    """Return what findings say of each state, drawn from their noisy-MAX: states x findings.

    Parameters
    ----------
    states
        Rows x nodes of the network.
    """

    def level(side: Side) -> Outcomes:
        at_most = np.broadcast_to(side.leak, (len(states), side.top + 1)).copy()
        for row, parent in enumerate(side.parents):
            at_most[states[:, parent]] *= side.cumulative[row]
        drawn: Outcomes = (generator.random((len(states), 1)) >= at_most[:, :-1]).sum(axis=1)
        return drawn

    said = np.empty((len(states), len(findings)), dtype=np.int64)
    for column, k in enumerate(findings):
        finding = network.findings[k]
        said[:, column] = level(finding.high) - level(finding.low) + finding.low.top
    return said


class Answers:
    """Some findings of a network, for which sets of sharp answers are to be weighed."""

    def __init__(self, network: Network, findings: Sequence[int], limit: int = CELL_LIMIT) -> None:
        """Grow the tree that holds every answer.

        Raises
        ------
        TooWide
            Exact inference is out of reach; nothing has been computed yet.
        """
        self._part = relevant(network, findings).network
        self._graph, self._products = _open(self._part)
        self._forest: Forest = grow(self._graph, limit)

    @property
    def cells(self) -> int:
        """Return the size of all tables together: what one set of answers costs at most."""
        return self._forest.cells

    def log_probability(self, answers: Outcomes) -> FloatArray:
        """Return the natural logarithm of the probability of each row of answers.

        Parameters
        ----------
        answers
            Rows x findings: the outcome of each, by its index.
        """
        owners = frozenset(range(len(self._part.findings)))
        nothing = np.ones(0)
        return log_totals(self._forest, nothing, owners, self._slots, answers)

    @cached_property
    def _slots(self) -> list[Slot]:
        slots = []
        for k, finding in enumerate(self._part.findings):
            scale, weights = self._products.get(k, (np.zeros(finding.outcomes), {}))
            for factor in self._forest.constants:
                if factor.owner == k:
                    with np.errstate(divide="ignore"):  # an answer that nobody can get
                        scale = scale + np.log(factor.table)
            tables = tuple(
                (b, lining, factor.table.reshape(-1, finding.outcomes))
                for b, bag in enumerate(self._forest.bags)
                for factor, lining in bag.factors
                if factor.owner == k
            )
            slots.append(Slot(scale, weights, tables))
        return slots


_Products = dict[int, tuple["FloatArray", dict[int, "FloatArray"]]]


def _open(network: Network) -> tuple[FactorGraph, _Products]:
    """Return the graph with a version of the tables for each outcome, and the rank-one parts."""
    gates: list[NoisyOr] = []
    factors: list[Factor] = []
    products: _Products = {}
    for k, finding in enumerate(network.findings):
        one_sided = finding.low.top == 0 or finding.high.top == 0
        if one_sided and len(finding.parents) > DENSE_PARENTS:
            gate, products[k] = _by_level(k, finding)
            gates.append(gate)
        else:
            table = outcome_table(finding, finding.parents)
            factors.append(Factor(finding.parents, table, owner=k))
    variables = len(network)
    for gate, pieces in divorce_all(network, gates, [factor.scope for factor in factors]):
        variables += pieces.between
        # the inner gates of a finding have numbers that depend on the answer too: they are its own
        factors += (
            pieces.factors
            if gate.owner is None
            else [replace(piece, owner=gate.owner) for piece in pieces.factors]
        )
    return FactorGraph(variables, tuple(factors), ()), products


def _by_level(
    owner: int, finding: Finding
) -> tuple[NoisyOr, tuple[FloatArray, dict[int, FloatArray]]]:
    """Return "exactly this outcome" of a one-sided finding, for all outcomes at once.

    A noisy-OR of "some parent brings it to this level, given that none goes beyond" (on in any
    case at level 0), and the product "none goes beyond": the logarithm of the leak's share and
    what each parent multiplies.
    """
    upward = finding.low.top == 0
    side = finding.high if upward else finding.low
    turn = slice(None) if upward else slice(None, None, -1)
    within = np.vstack([side.leak, side.cumulative])
    beyond = np.hstack([np.zeros((len(within), 1)), within[:, :-1]])
    milder = np.divide(beyond, within, out=np.ones_like(within), where=within > 0.0)
    milder[1:, 0] = 1.0  # at level 0 the leak alone is on
    leak, *strengths = (1.0 - milder)[:, turn]
    gate = NoisyOr(None, leak, side.parents, tuple(strengths), owner=owner)
    with np.errstate(divide="ignore"):  # a level that needs a cause
        scale = np.log(side.leak)[turn]
    pairs = {
        parent: np.stack([np.ones(side.top + 1), side.cumulative[row]])[:, turn]
        for row, parent in enumerate(side.parents)
    }
    return gate, (scale, pairs)
