"""The gates of a factor graph, apart from their numbers, and a graph in which some nodes are known.

In: a `FactorGraph` and its network. Out: `Gate`s; the graph with each gate marked as its own; the
graph that is left once nodes that were seen are no variables any more.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, TypeAlias

import numpy as np

from tailblock.inference.factors import FactorGraph

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from tailblock.network.arrays import FloatArray, IndexArray, Network

INPUTS = 2  # of a gate, at most
# Places behind the last number: of an input that is not there, and of one that always acts.
MISSING, ACTS = -2, -1
GATES = -10  # the owner of the first gate; the next ones count down

Index: TypeAlias = tuple[int | slice, ...]


@dataclass(frozen=True, slots=True)
class Gate:
    """A gate of at most two inputs.

    `factor`: its place in the graph. `scope`: inputs, then the output. `numbers[i]`: the place of
    the strength of input i among the numbers of the network, `ACTS` for an inner gate. `leak`: the
    place of the leak, `MISSING` for none.
    """

    factor: int
    scope: tuple[int, ...]
    numbers: tuple[int, ...]
    leak: int

    def index(self, hard: Mapping[int, bool]) -> Index:
        """Return what of its table, two inputs and the output, is left if some nodes are known."""
        known = [int(hard[node]) if node in hard else slice(None) for node in self.scope]
        return (*known[:-1], *[0] * (INPUTS - len(self.numbers)), known[-1])


def starts_of(network: Network) -> IndexArray:
    """Return where the links of each node begin among the numbers, and where the last ones end."""
    starts: IndexArray = len(network) + np.cumsum([0, *(len(row) for row in network.parents)])
    return starts


def gates_of(graph: FactorGraph, network: Network) -> tuple[Gate, ...]:
    """Return the gates of the network's own nodes.

    The inner gates of a finding are none of them: their numbers are its own.
    """
    leads_to = {
        variable: factor.scope[-1]
        for factor in graph.factors
        if factor.owner is None
        for variable in factor.scope[:-1]
        if variable >= len(network)
    }
    starts = starts_of(network)
    found = []
    for at, factor in enumerate(graph.factors):
        if factor.owner is not None:
            continue
        *inputs, output = factor.scope
        node: int | None = output
        while node is not None and node >= len(network):
            node = leads_to.get(node)
        if node is None:
            continue
        places = {cause: int(starts[node]) + n for n, cause in enumerate(network.parents[node])}
        found.append(
            Gate(
                at,
                factor.scope,
                tuple(places[v] if v < len(network) else ACTS for v in inputs),
                node if node == output else MISSING,
            )
        )
    return tuple(found)


def owned(graph: FactorGraph, gates: Sequence[Gate]) -> FactorGraph:
    """Return the graph with each gate as its own owner: `GATES`, and down from there."""
    factors = list(graph.factors)
    for row, gate in enumerate(gates):
        factors[gate.factor] = replace(factors[gate.factor], owner=GATES - row)
    return replace(graph, factors=tuple(factors))


@dataclass(frozen=True, slots=True)
class Conditioned:
    """A graph of the open variables, nodes first; its weights, and what was known of the rest.

    `weights`: what multiplies the weight of each open node being there. `log_scale`: the natural
    logarithm of what multiplies the whole. `places`: variable before -> variable now.
    """

    graph: FactorGraph
    places: Mapping[int, int]
    weights: FloatArray
    log_scale: float


def conditioned(graph: FactorGraph, hard: Mapping[int, bool]) -> Conditioned:
    """Return the graph once some nodes are known.

    Factors that hold nothing else than them have an empty scope, and their weight.
    """
    free = [variable for variable in range(graph.variables) if variable not in hard]
    new = {variable: place for place, variable in enumerate(free)}
    factors = []
    for factor in graph.factors:
        index = tuple(int(hard[v]) if v in hard else slice(None) for v in factor.scope)
        scope = tuple(new[v] for v in factor.scope if v not in hard)
        factors.append(replace(factor, scope=scope, table=np.asarray(factor.table[index])))
    weights, log_scale = np.ones(max(len(free), 1)), 0.0  # calibration wants one at least
    with np.errstate(divide="ignore"):  # what was seen cannot be
        for entry in graph.weights:
            log_scale += float(np.log(entry.scale))
            for node, factor in zip(entry.nodes, entry.factor.tolist(), strict=True):
                if node not in hard:
                    weights[new[node]] *= factor
                elif hard[node]:
                    log_scale += float(np.log(factor))
    return Conditioned(FactorGraph(len(free), tuple(factors), ()), new, weights, log_scale)


def chance_on(strengths: FloatArray, leaks: FloatArray) -> FloatArray:
    """Return P(on | inputs) of gates, gates x 2 x 2, from their strengths (gates x 2) and leaks."""
    off = np.empty((len(leaks), 2, 2))
    off[...] = (1.0 - leaks)[:, None, None]
    off[:, 1, :] *= 1.0 - strengths[:, :1]
    off[:, :, 1] *= 1.0 - strengths[:, 1:]
    return 1.0 - off
