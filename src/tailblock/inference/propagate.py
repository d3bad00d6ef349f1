"""One upward and one downward pass over the forest: the belief of every bag.

In: a `Forest` and unary weights. Out: `Calibrated`: for every bag the joint probability of its
variables given the evidence, and the logarithm of the total. Every number stays non-negative, so
nothing cancels.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from tailblock.inference.lining import there
from tailblock.inference.tree import enter, marginal

if TYPE_CHECKING:
    from collections.abc import Sequence

    from tailblock.inference.tree import Forest
    from tailblock.network.arrays import FloatArray, Number


# What is divided by is never less: a cell is zero wherever its message is, so 0 / LEAST = 0.
LEAST = 1e-300


@dataclass(frozen=True, slots=True)
class Calibrated:
    """A forest with its beliefs.

    `beliefs[b]`: table of bag b, cells (x batch), summing to 1. `separators[b]`: its marginal over
    the separator to its parent. `log_total`: natural logarithm of the weight of everything, -inf
    if the evidence is impossible (the beliefs are then zero).
    """

    forest: Forest
    beliefs: tuple[FloatArray, ...]
    separators: tuple[FloatArray, ...]
    log_total: Number

    def marginals(self, variables: int) -> FloatArray:
        """Return the probability that each of the first `variables` variables is present."""
        batch = self.beliefs[0].shape[1:]
        present = np.empty((variables, *batch))
        for bag, belief in zip(self.forest.bags, self.beliefs, strict=True):
            summed = bag.variables[: bag.residual]
            axes = tuple(axis for axis, variable in enumerate(summed) if variable < variables)
            if axes:
                told = there(len(bag.variables), axes) @ belief
                present[[bag.variables[axis] for axis in axes]] = told
        return present


def calibrate(
    forest: Forest, own: Sequence[FloatArray], weights: FloatArray, *, evidence: bool = True
) -> Calibrated:
    """Return the beliefs of all bags.

    Parameters
    ----------
    forest
        The bags with their factors.
    own
        The tables of the network alone (see `own_tables`).
    weights
        What multiplies the weight of variable i being present (x batch, the same for all that is
        in the forest); variables past its end have 1.
    evidence
        Whether the factors that carry evidence count.
    """
    batch = weights.shape[1:]
    idle = (weights == 1.0).reshape(len(weights), -1).all(axis=1).tolist()
    tables: list[FloatArray] = []
    sums: list[FloatArray] = []  # of each table, over what its bag sums out
    messages: list[FloatArray] = []  # the same with the largest entry 1, lest deep trees underflow
    peaks = np.empty((len(forest.bags), *batch))
    for b, bag in enumerate(forest.bags):
        table = enter(own[b], bag) if evidence else own[b].copy()
        for axis in range(bag.residual):
            variable = bag.variables[axis]
            if variable < len(weights) and not idle[variable]:
                present = table.reshape(1 << axis, 2, -1, *batch)[:, 1]
                present *= weights[variable]
        for child in forest.children[b]:
            lining = forest.bags[child].lining
            view = table.reshape(*lining.whole, *batch)
            view *= messages[child].reshape(*lining.part, *batch)
        total = table.reshape(1 << bag.residual, -1, *batch).sum(axis=0)
        peaks[b] = total.max(axis=0)
        tables.append(table)
        sums.append(total)
        messages.append(total / np.maximum(peaks[b], LEAST))
    with np.errstate(divide="ignore"):
        log_total = np.log(peaks).sum(axis=0)
    separators: list[FloatArray] = [np.ones((1, *batch))] * len(forest.bags)
    for b in reversed(range(len(forest.bags))):
        bag = forest.bags[b]
        if bag.parent is not None:
            separators[b] = marginal(tables[bag.parent], bag.lining)
        whole = tables[b].reshape(1 << bag.residual, -1, *batch)
        whole *= separators[b] / np.maximum(sums[b], LEAST)
    return Calibrated(forest, tuple(tables), tuple(separators), log_total)
