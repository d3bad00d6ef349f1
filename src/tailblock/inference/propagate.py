"""One upward and one downward pass over the forest, for many columns at once.

In: a `Forest`, one table a bag and unary weights with a column a question. Out: for every column
the logarithm of the total and the share of it in which each variable is present. Tables hold
their columns on the last, contiguous axis; every number stays non-negative, so nothing cancels
and the division of the downward pass is safe (0 / 0 = 0, since a cell below is zero wherever its
message is).
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Sequence

    from tailblock.inference.tree import Bag, Forest
    from tailblock.network.arrays import FloatArray

# Columns are worked in blocks of this many numbers, so that a pass stays near the processor's cache.
_BLOCK = 1 << 22


@dataclass(frozen=True, slots=True)
class Totals:
    """`log_total`: H natural logarithms (-inf: impossible). `present`: variables x H shares."""

    log_total: FloatArray
    present: FloatArray


def propagate(
    forest: Forest,
    tables: Sequence[FloatArray],
    weights: FloatArray,
    only: int | None = None,
) -> Totals:
    """Return totals and shares for every column of `weights`.

    Parameters
    ----------
    forest
        The bags.
    tables
        One a bag, cells x 1 (the same for all columns) or cells x H.
    weights
        v x H, what multiplies the weight of variable i being present. Rows past v are taken as 1.
    only
        Report only the first `only` variables.
    """
    columns = weights.shape[1]
    reported = len(forest.home) if only is None else only
    log_total = np.empty(columns)
    present = np.empty((reported, columns))
    step = max(1, _BLOCK // max(1, forest.cells))
    for start in range(0, columns, step):
        block = slice(start, min(start + step, columns))
        cut = [table if table.shape[1] == 1 else table[:, block] for table in tables]
        totals = _pass(forest, cut, weights[:, block], reported)
        log_total[block] = totals.log_total
        present[:, block] = totals.present
    return Totals(log_total, present)


def _pass(
    forest: Forest, tables: Sequence[FloatArray], weights: FloatArray, reported: int
) -> Totals:
    columns = weights.shape[1]
    log_total = np.zeros(columns)
    up: list[FloatArray] = []
    messages: list[FloatArray] = []
    waiting: list[list[int]] = [[] for _ in forest.bags]
    for b, bag in enumerate(forest.bags):
        table = _fill(bag, tables[b], weights, columns)
        for child in waiting[b]:
            _multiply(forest.bags[child], table, messages[child])
        message = table.reshape(1 << bag.residual, -1, columns).sum(axis=0)
        peak = message.max(axis=0)
        safe = np.where(peak > 0.0, peak, 1.0)
        with np.errstate(divide="ignore"):
            log_total += np.log(peak)
        table /= safe
        message /= safe
        up.append(table)
        messages.append(message)
        if bag.parent is not None:
            waiting[bag.parent].append(b)
    present = np.ones((reported, columns))
    _descend(forest, up, messages, present)
    return Totals(log_total, present)


def _fill(bag: Bag, table: FloatArray, weights: FloatArray, columns: int) -> FloatArray:
    """Return the bag's own table with the weights of the variables that it sums out."""
    filled = np.broadcast_to(table, (bag.cells, columns)).copy()
    for axis in range(bag.residual):
        variable = bag.variables[axis]
        if variable < len(weights):
            filled.reshape(1 << axis, 2, -1, columns)[:, 1] *= weights[variable]
    return filled


def _multiply(child: Bag, table: FloatArray, message: FloatArray) -> None:
    """Multiply a message of `child` into its parent's table, in place."""
    lining = child.fit
    assert lining is not None  # only a bag with a parent waits there  # noqa: S101
    columns = table.shape[1]
    view = table.reshape(*lining.whole, columns)
    view *= message.reshape(*lining.part, columns)


def _descend(
    forest: Forest, up: list[FloatArray], messages: list[FloatArray], present: FloatArray
) -> None:
    """Turn `up` into beliefs from the roots down and read off every variable, in place."""
    columns = present.shape[1]
    for b in reversed(range(len(forest.bags))):
        bag = forest.bags[b]
        table = up[b].reshape(1 << bag.residual, -1, columns)
        if bag.parent is None or bag.fit is None:
            above = np.ones((1, columns))
        else:
            parent = up[bag.parent].reshape(*bag.fit.whole, columns)
            above = parent.sum(axis=bag.fit.missing).reshape(-1, columns)
        below = messages[b]
        table *= np.divide(above, below, out=np.zeros_like(below), where=below > 0.0)
        for axis in range(bag.residual):
            variable = bag.variables[axis]
            if variable < len(present):
                half = up[b].reshape(1 << axis, 2, -1, columns)[:, 1]
                present[variable] = half.sum(axis=(0, 1))
