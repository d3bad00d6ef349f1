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

from tailblock.inference.factors import build, scaled
from tailblock.inference.gates import (
    GATES,
    INPUTS,
    MISSING,
    chance_on,
    conditioned,
    gates_of,
    owned,
    starts_of,
)
from tailblock.inference.propagate import calibrate
from tailblock.inference.relevant import relevant
from tailblock.inference.tree import CELL_LIMIT, grow, marginal, own_tables
from tailblock.network.arrays import Evidence

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from tailblock.inference.divorcing import Factor
    from tailblock.inference.gates import Conditioned, Gate, Index
    from tailblock.inference.lining import Fit
    from tailblock.inference.tree import Bag
    from tailblock.network.arrays import FloatArray, IndexArray, Network


def numbers_of(network: Network) -> FloatArray:
    """Return the chances of a network one after another: all leaks, then the links node by node."""
    links = [float(strength) for row in network.strengths for strength in row]
    return np.array([*network.alone.tolist(), *links])


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


class Counter:
    """One case, ready to be counted with any numbers: its tree depends on none of them."""

    def __init__(self, network: Network, evidence: Evidence, limit: int = CELL_LIMIT) -> None:
        """Grow the tree of what the evidence depends on and leaves open.

        Raises
        ------
        TooWide
            Exact inference is out of reach; nothing has been computed yet.
        """
        self._size = len(numbers_of(network))
        part, told, self._kept = _part_of(network, scaled(evidence))
        graph = build(part, told)
        gates = gates_of(graph, part)
        reduced = conditioned(owned(graph, gates), told.hard)
        self._forest = grow(reduced.graph, limit)
        self._weights, self._constant = reduced.weights, reduced.log_scale
        for factor in self._forest.constants:
            if factor.owner is None or factor.owner > GATES:
                with np.errstate(divide="ignore"):  # what was seen cannot be
                    self._constant += float(np.log(factor.table))
        inputs = [(*gate.numbers, *[MISSING] * INPUTS)[:INPUTS] for gate in gates]
        self._places = np.array(inputs, dtype=np.intp).reshape(-1, INPUTS)
        self._leaks = np.array([gate.leak for gate in gates], dtype=np.intp)
        self._gates: list[_Placed] = []
        self._bags = self._without_gates(gates, told.hard, reduced)
        placed = {gate.row for gate in self._gates}
        closed = [
            (row, *(int(at) for at in gate.index(told.hard) if not isinstance(at, slice)))
            for row, gate in enumerate(gates)
            if row not in placed
        ]
        self._closed = tuple(np.array(closed, dtype=np.intp).reshape(-1, INPUTS + 2).T)

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
        on = chance_on(strengths, leaks)
        tables = np.stack([1.0 - on, on], axis=-1)
        trees = [list(bag.factors) for bag in self._bags]
        for gate in self._gates:
            turned = np.transpose(tables[gate.row][gate.index], gate.axes)
            trees[gate.bag].append((replace(gate.factor, table=turned), gate.lining))
        bags = tuple(
            replace(bag, factors=tuple(factors))
            for bag, factors in zip(self._bags, trees, strict=True)
        )
        forest = replace(self._forest, bags=bags)
        calibrated = calibrate(forest, own_tables(forest), self._weights)
        trials, successes = np.zeros(self._size), np.zeros(self._size)
        with np.errstate(divide="ignore"):  # what was seen cannot be
            seen = float(np.log(tables[self._closed]).sum())
        log_evidence = float(calibrated.log_total) + self._constant + seen
        if not np.isfinite(log_evidence):
            return Counts(trials, successes, -np.inf)
        joint = np.zeros_like(tables)
        joint[self._closed] = 1.0
        for gate in self._gates:
            cells = marginal(calibrated.beliefs[gate.bag], gate.lining)
            turned = cells.reshape([2] * len(gate.axes))
            joint[gate.row][gate.index] = turned.transpose(np.argsort(gate.axes))
        share = np.divide(joint[..., 1], on, out=np.zeros_like(on), where=on > 0.0)
        for axis in range(INPUTS):
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

    def _without_gates(
        self, gates: Sequence[Gate], hard: Mapping[int, bool], reduced: Conditioned
    ) -> tuple[Bag, ...]:
        """Take the gates out of the bags, noting where each stands; only evidence stays in them."""
        place = reduced.places
        bags = []
        for b, bag in enumerate(self._forest.bags):
            stays = []
            for factor, lining in bag.factors:
                if factor.owner is None or factor.owner > GATES:
                    stays.append((factor, lining))
                    continue
                row = GATES - factor.owner
                opened = [place[v] for v in gates[row].scope if v not in hard]
                axes = tuple(opened.index(variable) for variable in factor.scope)
                index = gates[row].index(hard)
                self._gates.append(_Placed(row, index, axes, factor, b, lining))
            bags.append(replace(bag, factors=tuple(stays)))
        return tuple(bags)


@dataclass(frozen=True, slots=True)
class _Placed:
    """A gate with open variables in its bag.

    `row`: which gate. `index`: of its table (inputs, output), what is open and what is known.
    `axes`: the order of the bag's table, from the open ones of these.
    """

    row: int
    index: Index
    axes: tuple[int, ...]
    factor: Factor
    bag: int
    lining: Fit


def _part_of(network: Network, evidence: Evidence) -> tuple[Network, Evidence, IndexArray]:
    """Return the part that the evidence depends on, with it, and which numbers it has."""
    part = relevant(network, list(evidence.soft), evidence.hard)
    new = {node: place for place, node in enumerate(part.nodes)}
    told = Evidence(
        dict(enumerate(evidence.soft.values())),
        {new[node]: there for node, there in evidence.hard.items()},
    )
    starts = starts_of(network)
    links = [np.arange(starts[node], starts[node + 1]) for node in part.nodes]
    return part.network, told, np.concatenate([np.array(part.nodes, dtype=np.intp), *links])
