"""Noisy-ORs -> small factors, by auxiliary variables.

In: the nodes of a `Network` as noisy-ORs, others that readings make, and the scopes that stay as
they are. Out: factors over three variables at most where a plain family would need
2^(causes + 1) cells. A noisy-OR with more than two causes is divorced into a tree of two-input
gates (K. G. Olesen et al., "A MUNIN network for the median nerve", 1989, call this parent
divorcing). Everything stays non-negative, so nothing cancels.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING
from weakref import WeakKeyDictionary

import numpy as np

from tailblock.inference.grouping import group_causes
from tailblock.inference.skeleton import KEPT

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from tailblock.inference.grouping import Grouping
    from tailblock.network.arrays import FloatArray, Network, Number


@dataclass(frozen=True, slots=True)
class Factor:
    """A non-negative table over the variables of `scope`, one axis of length 2 each.

    A last axis may follow: over the members of a batch of networks, here and in all that comes
    after, or over the outcomes of a finding that is not entered yet.

    `owner` is the finding whose evidence it carries, SEEN for a node seen with one's own eyes, None
    for the network's own tables.
    """

    scope: tuple[int, ...]
    table: FloatArray
    owner: int | None = None

    def over(self, first: int) -> Factor:
        """Return the same with its auxiliary variables -1, -2, ... from variable `first` on."""
        scope = tuple(v if v >= 0 else first - v - 1 for v in self.scope)
        return Factor(scope, self.table, self.owner)


@dataclass(frozen=True, slots=True)
class NoisyOr:
    """A noisy-OR to be divorced: output node, or None for one that is seen to be on."""

    output: int | None
    leak: Number
    causes: tuple[int, ...]
    strengths: tuple[Number, ...]
    owner: int | None = None


class _Families:
    """The nodes of one network as noisy-ORs; each way to divorce one is worked out once."""

    def __init__(self, network: Network) -> None:
        self.gates = [
            NoisyOr(node, alone, network.parents[node], network.strengths[node])
            for node, alone in enumerate(network.alone)
        ]
        self.ends = tuple((gate.output, gate.causes) for gate in self.gates)
        self._known: dict[tuple[int, Grouping], Divorced] = {}
        self._placed: dict[tuple[int, Grouping, int], Divorced] = {}

    def divorced(self, node: int, grouping: Grouping, first: int) -> Divorced:
        """Return the gates of a node's noisy-OR, its auxiliary variables from `first` on."""
        known = self._known.get((node, grouping))
        if known is None:
            known = self._known[node, grouping] = divorce(self.gates[node], grouping)
        if not known.between:
            return known
        placed = self._placed.get((node, grouping, first))
        if placed is None:
            if len(self._placed) > KEPT * len(self.gates):
                self._placed.clear()  # whoever asks of thousands of instruments
            placed = self._placed[node, grouping, first] = known.over(first)
        return placed


_KEPT: WeakKeyDictionary[Network, _Families] = WeakKeyDictionary()


def divorce_all(
    network: Network, others: Sequence[NoisyOr], scopes: Sequence[tuple[int, ...]]
) -> Iterator[tuple[NoisyOr, Divorced]]:
    """Yield every noisy-OR, those of the nodes first, with its factors.

    Auxiliary variables have their places behind the nodes, in this order.

    Parameters
    ----------
    others
        Those that are no node's.
    scopes
        Of the factors that stay as they are: causes that they bring together meet early.
    """
    families = _KEPT.get(network)
    if families is None:
        families = _KEPT[network] = _Families(network)
    ends = (*families.ends, *((gate.output, gate.causes) for gate in others))
    together = tuple(scope for scope in scopes if len(scope) > 1)
    groupings = group_causes(len(network), ends, together)
    first = len(network)
    for g, (gate, grouping) in enumerate(zip([*families.gates, *others], groupings, strict=True)):
        if g < len(network):
            pieces = families.divorced(g, grouping, first)
        else:
            pieces = divorce(gate, grouping).over(first)
        first += pieces.between
        yield gate, pieces


@dataclass(frozen=True, slots=True)
class Divorced:
    """A noisy-OR as small factors over its nodes and `between` auxiliary variables.

    The auxiliary variables are -1, -2, ... until they get their places.
    """

    factors: tuple[Factor, ...]
    between: int

    def over(self, first: int) -> Divorced:
        """Return the same with its auxiliary variables from `first` on."""
        return Divorced(tuple(piece.over(first) for piece in self.factors), self.between)


def divorce(gate: NoisyOr, grouping: Grouping) -> Divorced:
    """Return the gates of one noisy-OR.

    `grouping` nests the positions of the causes in pairs; each inner pair becomes an auxiliary
    variable that is on exactly when one of its inputs acts.
    """
    if not gate.causes:
        if gate.output is not None:
            alone = Factor((gate.output,), np.stack([1.0 - gate.leak, gate.leak]))
        else:
            alone = Factor((), np.asarray(gate.leak), owner=gate.owner)
        return Divorced((alone,), 0)

    batch = np.shape(gate.leak)
    factors: list[Factor] = []
    between = 0

    def add(group: Grouping, output: int | None, leak: Number) -> None:
        inputs = group if isinstance(group, tuple) else (group,)
        ends = [resolve(item) for item in inputs]
        off = np.empty((1 << len(ends), *batch))
        off[...] = 1.0 - leak
        for position, (_, strength) in enumerate(ends):
            off.reshape(1 << position, 2, -1, *batch)[:, 1] *= 1.0 - strength
        scope = tuple(variable for variable, _ in ends)
        shape = [2] * len(ends)
        if output is None:
            on = (1.0 - off).reshape(*shape, *batch)
            factors.append(Factor(scope, on, owner=gate.owner))
        else:
            both = np.empty((len(off), 2, *batch))
            both[:, 0] = off
            np.subtract(1.0, off, out=both[:, 1])
            factors.append(Factor((*scope, output), both.reshape(*shape, 2, *batch)))

    def resolve(item: Grouping) -> tuple[int, Number]:
        nonlocal between
        if isinstance(item, int):
            return gate.causes[item], gate.strengths[item]
        between += 1
        variable = -between
        add(item, variable, 0.0)
        return variable, 1.0

    add(grouping, gate.output, gate.leak)
    return Divorced(tuple(factors), between)
