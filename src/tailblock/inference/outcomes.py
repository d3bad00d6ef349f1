"""How probable whole sets of sharp answers are: one tree for every answer to the same findings.

In: a `Network` and the findings that were asked. Out: `Answers`: draws of what they would say, and
the probability of many sets of answers in one pass.

"Exactly level l" of a one-sided finding is a product over its parents times a noisy-OR that is
seen to be on, and of this only the numbers depend on l. So one graph, and one tree, hold every
answer, each as a version of the same tables. Two-sided findings and small ones are tables over
their parents. Nodes without an asked finding below them are left out, since they sum to 1.
"""

from __future__ import annotations

from functools import cached_property
from typing import TYPE_CHECKING

import numpy as np
import numpy.typing as npt

from tailblock.inference.columns import Slot, log_totals
from tailblock.inference.factors import (
    DENSE_PARENTS,
    Factor,
    FactorGraph,
    NoisyOr,
    divorce,
    outcome_table,
)
from tailblock.inference.grouping import group_causes
from tailblock.inference.tree import CELL_LIMIT, grow
from tailblock.network.arrays import Finding, Network, Side

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from tailblock.inference.sampling import States
    from tailblock.inference.tree import Forest
    from tailblock.network.arrays import FloatArray

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
        self._part = ancestral(network, findings)
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


def ancestral(network: Network, findings: Sequence[int]) -> Network:
    """Return the part of a network that some findings hang on, with these findings only."""
    needed = {parent for k in findings for parent in network.findings[k].parents}
    for node in reversed(range(len(network))):
        if node in needed:
            needed.update(network.parents[node])
    kept = sorted(needed) or [0]  # a tree needs a variable; the first node has no causes
    new = {node: place for place, node in enumerate(kept)}

    def side(old: Side) -> Side:
        return Side(tuple(new[parent] for parent in old.parents), old.cumulative, old.leak)

    return Network(
        network.alone[kept],
        tuple(tuple(new[cause] for cause in network.parents[node]) for node in kept),
        tuple(network.strengths[node] for node in kept),
        tuple(
            Finding(side(network.findings[k].low), side(network.findings[k].high)) for k in findings
        ),
    )


_Products = dict[int, tuple["FloatArray", dict[int, "FloatArray"]]]


def _open(network: Network) -> tuple[FactorGraph, _Products]:
    """Return the graph with a version of the tables for each outcome, and the rank-one parts."""
    gates: list[list[NoisyOr]] = [
        [NoisyOr(node, alone, network.parents[node], network.strengths[node])]
        for node, alone in enumerate(network.alone.tolist())
    ]
    factors: list[Factor] = []
    products: _Products = {}
    for k, finding in enumerate(network.findings):
        one_sided = finding.low.top == 0 or finding.high.top == 0
        if one_sided and len(finding.parents) > DENSE_PARENTS:
            upward = finding.low.top == 0
            side = finding.high if upward else finding.low
            levels = range(side.top + 1)
            by_level = [_seen_on(k, side, level) for level in levels]
            scale = np.log(side.leak)
            gates.append(by_level if upward else by_level[::-1])
            turn = slice(None) if upward else slice(None, None, -1)
            pairs = {
                parent: np.stack([np.ones(len(levels)), side.cumulative[row]])[:, turn]
                for row, parent in enumerate(side.parents)
            }
            products[k] = scale[turn], pairs
        else:
            table = outcome_table(finding, finding.parents)
            factors.append(Factor(finding.parents, table, owner=k))
    groupings = group_causes(
        len(network),
        [(versions[0].output, versions[0].causes) for versions in gates],
        [factor.scope for factor in factors],
    )
    variables = len(network)
    for versions, grouping in zip(gates, groupings, strict=True):
        made: list[list[Factor]] = [[] for _ in versions]
        # every version has the same gates, so all of them use the same variables
        used = [
            divorce(gate, grouping, variables, to) for gate, to in zip(versions, made, strict=True)
        ]
        variables = used[0]
        owner = versions[0].owner
        factors.extend(made[0] if owner is None else _together(owner, made))
    return FactorGraph(variables, tuple(factors), ()), products


def _together(owner: int, versions: Sequence[Sequence[Factor]]) -> Iterator[Factor]:
    """Yield the factors of a finding, each with its tables in all versions.

    The inner gates are among them: their numbers depend on the answer too.
    """
    for alike in zip(*versions, strict=True):
        table = np.stack([one.table for one in alike], axis=-1)
        yield Factor(alike[0].scope, table, owner=owner)


def _seen_on(owner: int, side: Side, level: int) -> NoisyOr:
    """Return the noisy-OR of "some parent brings it to this level", given that none goes beyond.

    At level 0 it is on in any case.
    """
    if level == 0:
        return NoisyOr(None, 1.0, side.parents, (0.0,) * len(side.parents), owner=owner)
    within, beyond = side.cumulative[:, level], side.cumulative[:, level - 1]
    milder = np.divide(beyond, within, out=np.ones_like(within), where=within > 0.0)
    below = float(side.leak[level - 1] / side.leak[level]) if side.leak[level] > 0.0 else 0.0
    return NoisyOr(None, 1.0 - below, side.parents, tuple((1.0 - milder).tolist()), owner=owner)
