"""One upward and one downward pass over the forest: the belief of every bag.

In: a `Forest` and unary weights. Out: `Calibrated`: for every bag the joint probability of its
variables given the evidence, and the logarithm of the total. Every number stays non-negative, so
nothing cancels, and the division of the downward pass is safe (0 / 0 = 0, since a cell is zero
wherever its message is).
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from tailblock.inference.tree import marginal, table_of

if TYPE_CHECKING:
    from tailblock.inference.tree import Forest
    from tailblock.network.arrays import FloatArray


@dataclass(frozen=True, slots=True)
class Calibrated:
    """A forest with its beliefs.

    `beliefs[b]`: flat table of bag b, summing to 1. `separators[b]`: its marginal over the
    separator to its parent. `log_total`: natural logarithm of the weight of everything, -inf if
    the evidence is impossible (the beliefs are then zero).
    """

    forest: Forest
    beliefs: tuple[FloatArray, ...]
    separators: tuple[FloatArray, ...]
    log_total: float

    def marginals(self, variables: int) -> FloatArray:
        """Return the probability that each of the first `variables` variables is present."""
        present = np.empty(variables)
        for variable in range(variables):
            b, axis = self.forest.home[variable]
            present[variable] = self.beliefs[b].reshape(1 << axis, 2, -1)[:, 1].sum()
        return present


def calibrate(forest: Forest, weights: FloatArray, *, evidence: bool = True) -> Calibrated:
    """Return the beliefs of all bags.

    Parameters
    ----------
    forest
        The bags with their factors.
    weights
        What multiplies the weight of variable i being present; variables past its end have 1.
    evidence
        Whether the factors that carry evidence count.
    """
    log_total = 0.0
    tables = []
    messages: list[FloatArray] = []
    for b, bag in enumerate(forest.bags):
        table = table_of(bag, evidence=evidence)
        for axis in range(bag.residual):
            variable = bag.variables[axis]
            if variable < len(weights):
                table.reshape(1 << axis, 2, -1)[:, 1] *= weights[variable]
        for child in forest.children[b]:
            lining = forest.bags[child].lining
            view = table.reshape(lining.whole)
            view *= messages[child].reshape(lining.part)
        message = table.reshape(1 << bag.residual, -1).sum(axis=0)
        peak = float(message.max())
        if peak > 0.0:
            log_total += float(np.log(peak))
            table /= peak
            message /= peak
        else:
            log_total = -np.inf
        tables.append(table)
        messages.append(message)
    separators: list[FloatArray] = [np.ones(1)] * len(forest.bags)
    for b in reversed(range(len(forest.bags))):
        bag = forest.bags[b]
        above = np.ones(1) if bag.parent is None else marginal(tables[bag.parent], bag.lining)
        ratio = np.divide(above, messages[b], out=np.zeros_like(above), where=messages[b] > 0.0)
        tables[b].reshape(1 << bag.residual, -1)[:] *= ratio
        separators[b] = above
    return Calibrated(forest, tuple(tables), tuple(separators), log_total)
