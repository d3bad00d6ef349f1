"""The same network in pgmpy, another general-purpose library: (a) by variable elimination.

In: a network, its evidence. Out: a model, and from it the posteriors of all faults. One query a
fault; a sharp answer is evidence, any other likelihood is virtual evidence.
"""

from __future__ import annotations

import itertools
from typing import TYPE_CHECKING, Any

import numpy as np
from pgmpy.factors.discrete import TabularCPD
from pgmpy.inference import VariableElimination
from pgmpy.models import DiscreteBayesianNetwork

from oracles.enumeration import outcomes_of

if TYPE_CHECKING:
    from tailblock.network.arrays import Evidence, FloatArray, Network


def model(network: Network, evidence: Evidence) -> Any:
    """Return the library's network: faults `n0`, `n1`, ... and the findings that were read."""
    made = DiscreteBayesianNetwork()
    made.add_nodes_from([f"n{node}" for node in range(len(network))])
    for node, causes in enumerate(network.parents):
        made.add_edges_from([(f"n{cause}", f"n{node}") for cause in causes])
        states = np.array([*itertools.product((0, 1), repeat=len(causes))])
        spared = (1.0 - states * np.array(network.strengths[node])).prod(axis=1)
        absent = (1.0 - network.alone[node]) * spared
        made.add_cpds(_table(f"n{node}", np.stack([absent, 1.0 - absent]), causes))
    for k in evidence.soft:
        parents = network.findings[k].parents
        made.add_node(f"x{k}")
        made.add_edges_from([(f"n{parent}", f"x{k}") for parent in parents])
        state = np.zeros((2 ** len(parents), len(network)))
        state[:, list(parents)] = [*itertools.product((0, 1), repeat=len(parents))]
        made.add_cpds(_table(f"x{k}", outcomes_of(network.findings[k], state).T, parents))
    return made


def posteriors(network: Network, evidence: Evidence, made: Any) -> FloatArray:
    """Return P(fault | evidence) of all faults."""
    engine = VariableElimination(made)
    sharp = {f"x{k}": row.index(1.0) for k, row in evidence.soft.items() if sum(row) == 1.0}
    soft = [
        TabularCPD(f"x{k}", len(row), [[x] for x in row])
        for k, row in evidence.soft.items()
        if f"x{k}" not in sharp
    ]
    found = (
        engine.query([f"n{node}"], evidence=sharp, virtual_evidence=soft, show_progress=False)
        for node in range(len(network))
    )
    return np.array([float(factor.values[1]) for factor in found])


def _table(name: str, columns: FloatArray, parents: tuple[int, ...]) -> Any:
    """Return a table whose columns run over the parents' states, the last one fastest."""
    names = [f"n{parent}" for parent in parents]
    return TabularCPD(name, len(columns), columns.tolist(), names, [2] * len(names))
