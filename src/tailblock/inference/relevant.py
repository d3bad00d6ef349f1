"""The part of a network that some findings and nodes depend on: all else sums to 1.

In: a `Network`, findings, nodes. Out: `Part`: a smaller network, and which nodes are left.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from tailblock.network.arrays import Finding, Network, Side

if TYPE_CHECKING:
    from collections.abc import Collection, Sequence


@dataclass(frozen=True, slots=True)
class Part:
    """A network with the findings asked for, in that order; `nodes[i]` was node i of it before."""

    network: Network
    nodes: tuple[int, ...]


def relevant(network: Network, findings: Sequence[int], nodes: Collection[int] = ()) -> Part:
    """Return the findings and nodes with all causes that they hang on, near and far."""
    needed = {*nodes, *(parent for k in findings for parent in network.findings[k].parents)}
    for node in reversed(range(len(network))):
        if node in needed:
            needed.update(network.parents[node])
    kept = sorted(needed) or [0]  # a tree needs a variable; the first node has no causes
    new = {node: place for place, node in enumerate(kept)}

    def side(old: Side) -> Side:
        return Side(tuple(new[parent] for parent in old.parents), old.cumulative, old.leak)

    part = Network(
        network.alone[kept],
        tuple(tuple(new[cause] for cause in network.parents[node]) for node in kept),
        tuple(network.strengths[node] for node in kept),
        tuple(
            Finding(side(network.findings[k].low), side(network.findings[k].high)) for k in findings
        ),
    )
    return Part(part, tuple(kept))
