"""Many networks of one shape, answered together.

In: a batch `Network` and evidence on it. Out: posteriors and starting chances of every node in
every member. The shape decides the tree, so it is grown once, and every table carries all members.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from tailblock.inference.factors import build, scaled
from tailblock.inference.propagate import calibrate
from tailblock.inference.tree import CELL_LIMIT, grow, own_tables

if TYPE_CHECKING:
    from tailblock.network.arrays import Evidence, FloatArray, Network

# Tables of all members together: 2 ** 22 numbers stay within a bench computer's memory and reach.
_AT_ONCE = 1 << 22


@dataclass(frozen=True, slots=True)
class ManyBeliefs:
    """`probability` and `prior`: nodes x members, with the evidence and without."""

    probability: FloatArray
    prior: FloatArray


def many_beliefs(networks: Network, evidence: Evidence) -> ManyBeliefs:
    """Return what each member of a batch believes.

    The evidence must be possible: jitter makes no zero and takes none away, so that one member
    tells for all.

    Raises
    ------
    TooWide
        Exact inference is out of reach for this shape.
    """
    graph = build(networks, scaled(evidence))
    forest = grow(graph, CELL_LIMIT)
    nodes, (members,) = len(networks), networks.batch
    weights = np.ones((nodes, members))
    for entry in graph.weights:
        weights[list(entry.nodes)] *= entry.factor
    step = max(1, _AT_ONCE // forest.cells)
    probability = np.empty((nodes, members))
    prior = np.empty((nodes, members))
    for start in range(0, members, step):
        some = slice(start, start + step)
        part = forest.members(some)
        own = own_tables(part, (len(range(members)[some]),))
        probability[:, some] = calibrate(part, own, weights[:, some]).marginals(nodes)
        bare = calibrate(part, own, np.ones_like(weights[:, some]), evidence=False)
        prior[:, some] = bare.marginals(nodes)
    return ManyBeliefs(probability.clip(0.0, 1.0), prior.clip(0.0, 1.0))
