"""How often each chance of a network was put to the test, and how often it came true: exactly.

In: a `Network`, the evidence of one case, and numbers to take in the place of the network's own.
Out: `Counts`, for each number the expected trials and successes given all evidence.

A fault that is there says only that something brought it about, not what. Each cause that is there,
and the leak, is a trial of its own chance, and any of them may have acted. Within a two-input gate
of a divorced noisy-OR (see `factors`) what acted follows from the states of its inputs and its
output alone, so the joint beliefs of each gate, which one calibration gives, are enough:

    P(input 1 acted | output on, inputs x) = x1 s1 / (1 - (1 - leak)(1 - s1 x1)(1 - s2 x2))

These are the expected counts of EM (A. P. Dempster, N. M. Laird and D. B. Rubin, 1977; for Bayesian
networks S. L. Lauritzen, 1995: both from memory).
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from tailblock.inference.factors import Factor, build, scaled
from tailblock.inference.propagate import calibrate
from tailblock.inference.relevant import relevant
from tailblock.inference.tree import CELL_LIMIT, grow, marginal
from tailblock.network.arrays import Evidence

if TYPE_CHECKING:
    from collections.abc import Mapping

    from tailblock.inference.factors import FactorGraph
    from tailblock.inference.tree import Bag, Fit
    from tailblock.network.arrays import FloatArray, IndexArray, Network

_INPUTS = 2  # of a gate, at most
# Places behind the last number: of an input that is not there, and of one that always acts.
_MISSING, _ACTS = -2, -1


def numbers_of(network: Network) -> FloatArray:
    """Return the chances of a network one after another: all leaks, then the links node by node."""
    links = [float(strength) for row in network.strengths for strength in row]
    return np.array([*network.alone.tolist(), *links])


def _starts(network: Network) -> IndexArray:
    """Return where the links of each node begin among the numbers, and where the last ones end."""
    starts: IndexArray = len(network) + np.cumsum([0, *(len(row) for row in network.parents)])
    return starts


@dataclass(frozen=True, slots=True)
class Counts:
    """What one case says of each number, in the order of `numbers_of`.

    `trials`: the expected number of times that it was put to the test (of a leak 1, of a link the
    probability that its cause is there). `successes`: that it acted. Both are 0 where nothing that
    is known depends on the number. `log_evidence`: natural logarithm of the probability of the
    evidence, likelihoods scaled to a maximum of 1; -inf if it is impossible.
    """

    trials: FloatArray
    successes: FloatArray
    log_evidence: float


@dataclass(frozen=True, slots=True)
class _Gate:
    """A gate of at most two inputs: where its numbers stand, and where its table stands in a bag.

    `numbers[i]`: the place of the strength of input i, `_ACTS` for an inner gate. `leak`: the place
    of the leak, `_MISSING` for none. `axes`: the order of the bag's table, from (inputs, output).
    """

    numbers: tuple[int, ...]
    leak: int
    scope: tuple[int, ...]
    axes: tuple[int, ...]
    bag: int
    lining: Fit


class Counter:
    """One case, ready to be counted with any numbers: its tree depends on none of them."""

    def __init__(self, network: Network, evidence: Evidence, limit: int = CELL_LIMIT) -> None:
        """Grow the tree of what the evidence depends on.

        Raises
        ------
        TooWide
            Exact inference is out of reach; nothing has been computed yet.
        """
        self._size = len(numbers_of(network))
        part, told, self._kept = _part_of(network, scaled(evidence))
        graph = build(part, told)
        self._forest = grow(graph, limit)
        self._constant = sum(
            float(np.log(factor.table)) if factor.table > 0.0 else -np.inf
            for factor in self._forest.constants
        )
        self._weights = np.ones(len(part))
        for entry in graph.weights:
            self._weights[list(entry.nodes)] *= entry.factor
            self._constant += float(np.log(entry.scale))
        self._gates: list[_Gate] = []
        self._bags = self._without_gates(_gates_of(graph, part))
        inputs = [(*gate.numbers, *[_MISSING] * _INPUTS)[:_INPUTS] for gate in self._gates]
        self._places = np.array(inputs, dtype=np.intp).reshape(-1, _INPUTS)
        self._leaks = np.array([gate.leak for gate in self._gates], dtype=np.intp)

    def count(self, numbers: FloatArray) -> Counts:
        """Return the expected trials and successes of each number.

        Parameters
        ----------
        numbers
            One for each of `numbers_of` the network, from 0 to 1.
        """
        # behind the last number stand those of a missing input and of one that always acts
        own = np.array([*numbers[self._kept], 0.0, 1.0])
        strengths, leaks = own[self._places], own[self._leaks]
        on = _on(strengths, leaks)
        trees = [list(bag.factors) for bag in self._bags]
        for gate, table in zip(self._gates, np.stack([1.0 - on, on], axis=-1), strict=True):
            turned = np.transpose(_inner(table, gate), gate.axes)
            trees[gate.bag].append((Factor(gate.scope, turned), gate.lining))
        bags = tuple(
            replace(bag, factors=tuple(factors))
            for bag, factors in zip(self._bags, trees, strict=True)
        )
        calibrated = calibrate(replace(self._forest, bags=bags), self._weights)
        log_evidence = float(calibrated.log_total) + self._constant
        trials, successes = np.zeros(self._size), np.zeros(self._size)
        if not np.isfinite(log_evidence):
            return Counts(trials, successes, -np.inf)
        joint = np.zeros((len(self._gates), *[2] * (_INPUTS + 1)))
        for row, gate in enumerate(self._gates):
            cells = marginal(calibrated.beliefs[gate.bag], gate.lining)
            seen = cells.reshape([2] * len(gate.axes)).transpose(np.argsort(gate.axes))
            _inner(joint[row], gate)[...] = seen
        share = np.divide(joint[..., 1], on, out=np.zeros_like(on), where=on > 0.0)
        for axis in range(_INPUTS):
            known = self._places[:, axis] >= 0
            at = self._kept[self._places[known, axis]]
            there = np.moveaxis(joint[known], 1 + axis, 1)[:, 1]
            acted = np.moveaxis(share[known], 1 + axis, 1)[:, 1].sum(axis=1)
            trials[at] = there.sum(axis=(1, 2))
            successes[at] = acted * strengths[known, axis]
        leaking = self._leaks >= 0
        at = self._kept[self._leaks[leaking]]
        trials[at] = 1.0
        successes[at] = share[leaking].sum(axis=(1, 2)) * leaks[leaking]
        return Counts(trials, successes, log_evidence)

    def _without_gates(self, gates: Mapping[frozenset[int], _Open]) -> tuple[Bag, ...]:
        """Take the gates out of the bags, noting where each stands; only evidence stays in them."""
        bags = []
        for b, bag in enumerate(self._forest.bags):
            stays = []
            for factor, lining in bag.factors:
                opened = gates.get(frozenset(factor.scope)) if factor.owner is None else None
                if opened is None:
                    stays.append((factor, lining))
                    continue
                axes = tuple(opened.scope.index(variable) for variable in factor.scope)
                gate = _Gate(opened.numbers, opened.leak, factor.scope, axes, b, lining)
                self._gates.append(gate)
            bags.append(replace(bag, factors=tuple(stays)))
        return tuple(bags)


@dataclass(frozen=True, slots=True)
class _Open:
    """A gate of a factor graph: its scope (inputs, output), and its numbers as in `_Gate`."""

    scope: tuple[int, ...]
    numbers: tuple[int, ...]
    leak: int


def _gates_of(graph: FactorGraph, network: Network) -> dict[frozenset[int], _Open]:
    """Return the gates of the network's own nodes by their variables, which no two share.

    The inner gates of a finding are none of them: their numbers are its own.
    """
    leads_to = {
        variable: factor.scope[-1]
        for factor in graph.factors
        if factor.owner is None
        for variable in factor.scope[:-1]
        if variable >= len(network)
    }
    starts = _starts(network)
    found = {}
    for factor in graph.factors:
        if factor.owner is not None:
            continue
        *inputs, output = factor.scope
        node: int | None = output
        while node is not None and node >= len(network):
            node = leads_to.get(node)
        if node is None:
            continue
        places = {cause: int(starts[node]) + at for at, cause in enumerate(network.parents[node])}
        found[frozenset(factor.scope)] = _Open(
            factor.scope,
            tuple(places[variable] if variable < len(network) else _ACTS for variable in inputs),
            node if node == output else _MISSING,
        )
    return found


def _inner(table: FloatArray, gate: _Gate) -> FloatArray:
    """Return the part of a table over two inputs and the output that a gate has."""
    inner: FloatArray = table[
        (slice(None),) * len(gate.numbers) + (0,) * (_INPUTS - len(gate.numbers))
    ]
    return inner


def _on(strengths: FloatArray, leaks: FloatArray) -> FloatArray:
    """Return P(on | inputs), gates x 2 x 2."""
    off = np.empty((len(leaks), 2, 2))
    off[...] = (1.0 - leaks)[:, None, None]
    off[:, 1, :] *= 1.0 - strengths[:, :1]
    off[:, :, 1] *= 1.0 - strengths[:, 1:]
    return 1.0 - off


def _part_of(network: Network, evidence: Evidence) -> tuple[Network, Evidence, IndexArray]:
    """Return the part that the evidence depends on, with it, and which numbers it has."""
    part = relevant(network, list(evidence.soft), evidence.hard)
    new = {node: place for place, node in enumerate(part.nodes)}
    told = Evidence(
        dict(enumerate(evidence.soft.values())),
        {new[node]: there for node, there in evidence.hard.items()},
    )
    starts = _starts(network)
    links = [np.arange(starts[node], starts[node + 1]) for node in part.nodes]
    return part.network, told, np.concatenate([np.array(part.nodes, dtype=np.intp), *links])
