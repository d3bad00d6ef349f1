"""The probability of many versions of the evidence at once, over one tree.

In: a forest and `Slot`s, each a piece of evidence that comes in several versions. Out: for every
column, which picks one version a slot, the logarithm of its total weight. Nothing is divided, so
a version may rule out what another needs.

A message of a bag depends only on the versions of the slots below it. Of a thousand columns few
differ there, near the leaves of the tree: each bag is worked out once for each *pattern* that
occurs below it, and only the root may need as many patterns as there are columns.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

import numpy as np
import numpy.typing as npt

from tailblock.inference.tree import table_without

if TYPE_CHECKING:
    from collections.abc import Collection, Mapping, Sequence

    from tailblock.inference.factors import FactorGraph
    from tailblock.inference.lining import Fit
    from tailblock.inference.tree import Forest
    from tailblock.network.arrays import FloatArray

Choices = npt.NDArray[np.int64]

# Patterns are worked in blocks, so that the table of one bag stays below this many numbers.
_BLOCK = 1 << 22


@dataclass(frozen=True, slots=True)
class Slot:
    """A piece of evidence in v versions.

    `weights[i]`: 2 x v, what multiplies the weight of variable i being absent and present.
    `tables`: (bag, how it lines up there, cells x v). `log_scale`: v numbers, added to the
    logarithm of the whole.
    """

    log_scale: FloatArray
    weights: Mapping[int, FloatArray] = field(default_factory=dict)
    tables: tuple[tuple[int, Fit, FloatArray], ...] = ()


@dataclass(frozen=True, slots=True)
class Supposition:
    """The evidence as it is, but with some nodes taken as seen and some findings left out."""

    seen: Mapping[int, bool] = field(default_factory=dict)
    left_out: Collection[int] = ()


def suppose(
    graph: FactorGraph, forest: Forest, suppositions: Sequence[Supposition]
) -> tuple[list[Slot], Choices, frozenset[int]]:
    """Return the slots of some suppositions, a row of choices each, and the findings that vary."""
    left_out = list(dict.fromkeys(k for s in suppositions for k in s.left_out))
    nodes = list(dict.fromkeys(node for s in suppositions for node in s.seen))
    column = {k: at for at, k in enumerate(left_out)}
    place = {node: len(column) + at for at, node in enumerate(nodes)}
    choices = np.zeros((len(suppositions), len(column) + len(place)), dtype=np.int64)
    choices[:, : len(column)] = 1
    for row, supposed in enumerate(suppositions):
        for k in supposed.left_out:
            choices[row, column[k]] = 0
        for node, present in supposed.seen.items():
            choices[row, place[node]] = 1 + int(present)
    slots = [_entered(graph, forest, k) for k in left_out] + [_seen(node) for node in nodes]
    return slots, choices, frozenset(left_out)


def _seen(variable: int) -> Slot:
    """Return the slot of a variable: 0 nothing is known, 1 it is absent, 2 it is present."""
    told = np.array([[1.0, 1.0, 0.0], [1.0, 0.0, 1.0]])
    return Slot(np.zeros(3), {variable: told})


def _entered(graph: FactorGraph, forest: Forest, owner: int) -> Slot:
    """Return the slot of a finding that is entered in the graph: 0 left out, 1 as entered."""
    scale = 0.0
    weights: dict[int, FloatArray] = {}
    for entry in graph.weights:
        if entry.owner == owner:
            scale += float(np.log(entry.scale))
            for node, factor in zip(entry.nodes, entry.factor.tolist(), strict=True):
                weights[node] = np.array([[1.0, 1.0], [1.0, factor]])
    for factor in forest.constants:
        if factor.owner == owner:
            with np.errstate(divide="ignore"):  # evidence that cannot be
                scale += float(np.log(factor.table))
    tables = tuple(
        (b, lining, np.stack([np.ones(factor.table.size), factor.table.reshape(-1)], axis=-1))
        for b, bag in enumerate(forest.bags)
        for factor, lining in bag.factors
        if factor.owner == owner
    )
    return Slot(np.array([0.0, scale]), weights, tables)


def log_totals(
    forest: Forest,
    weights: FloatArray,
    owners: frozenset[int],
    slots: Sequence[Slot],
    choices: Choices,
) -> FloatArray:
    """Return the natural logarithm of the total weight of each column, -inf if it is impossible.

    Parameters
    ----------
    weights
        What multiplies the weight of variable i being present in every column.
    owners
        The findings whose factors count only through their slots.
    slots, choices
        The evidence that varies; choices is columns x slots, the version that each column takes.
    """
    total = np.zeros(len(choices))
    if not len(choices):
        return total
    for s, slot in enumerate(slots):
        total += slot.log_scale[choices[:, s]]
    for factor in forest.constants:
        if factor.owner not in owners:
            with np.errstate(divide="ignore"):
                total += np.log(factor.table)
    climb = _Climb(forest, weights, owners, slots, choices)
    for b in range(len(forest.bags)):
        climb.pass_(b)
    root = climb.passed[-1]
    total += root.log_scale[root.pattern]
    return total


@dataclass(frozen=True, slots=True)
class _Passed:
    """What a bag hands up: the pattern of each column, and for each pattern its message."""

    pattern: Choices
    message: FloatArray  # separator states x patterns, the largest of each pattern 1
    log_scale: FloatArray


class _Climb:
    """All columns on their way up, child before parent."""

    def __init__(
        self,
        forest: Forest,
        weights: FloatArray,
        owners: frozenset[int],
        slots: Sequence[Slot],
        choices: Choices,
    ) -> None:
        self.forest, self.weights, self.owners, self.choices = forest, weights, owners, choices
        self.passed: list[_Passed] = []
        # of each bag: the slot, the axis of its variable or how its table lines up, the versions
        self.at: list[list[tuple[int, int | Fit, FloatArray]]] = [[] for _ in forest.bags]
        for s, slot in enumerate(slots):
            for variable, pair in slot.weights.items():
                b, axis = forest.home[variable]
                self.at[b].append((s, axis, pair))
            for b, lining, table in slot.tables:
                self.at[b].append((s, lining, table))

    def pass_(self, b: int) -> None:
        """Make the message of a bag for each pattern that occurs below it."""
        bag = self.forest.bags[b]
        below = [self.passed[child] for child in self.forest.children[b]]
        parts = [self.choices[:, s] for s in sorted({s for s, _, _ in self.at[b]})]
        parts += [child.pattern for child in below if len(child.log_scale) > 1]
        pattern, first = _patterns(parts, len(self.choices))
        base = self._base(b)
        up = np.empty((bag.cells >> bag.residual, len(first)))
        step = max(1, _BLOCK // bag.cells)
        for start in range(0, len(first), step):
            block = slice(start, start + step)
            table = self._table(b, base, first[block])
            up[:, block] = table.reshape(1 << bag.residual, -1, table.shape[1]).sum(axis=0)
        peak = up.max(axis=0)
        with np.errstate(divide="ignore"):
            log_scale = np.log(peak)
        for child in below:
            log_scale += child.log_scale[child.pattern[first]]
        self.passed.append(_Passed(pattern, up / np.where(peak > 0.0, peak, 1.0), log_scale))

    def _base(self, b: int) -> FloatArray:
        """Return what all columns share of a bag's table, also of what comes from below."""
        bag = self.forest.bags[b]
        base = table_without(bag, self.owners)
        for axis, variable in enumerate(bag.variables[: bag.residual]):
            if variable < len(self.weights):
                base.reshape(1 << axis, 2, -1)[:, 1] *= self.weights[variable]
        for child in self.forest.children[b]:
            message, lining = self.passed[child].message, self.forest.bags[child].lining
            if message.shape[1] == 1:
                whole = base.reshape(lining.whole)
                whole *= message.reshape(lining.part)
        return base

    def _table(self, b: int, base: FloatArray, some: Choices) -> FloatArray:
        """Return the table of a bag for some columns."""
        table = np.repeat(base[:, None], len(some), axis=1)
        for s, where, versions in self.at[b]:
            version = versions[:, self.choices[some, s]]
            if isinstance(where, int):
                halves = table.reshape(1 << where, 2, -1, len(some))
                halves *= version[:, None]
            else:
                whole = table.reshape(*where.whole, -1)
                whole *= version.reshape(*where.part, -1)
        for child in self.forest.children[b]:
            lining, passed = self.forest.bags[child].lining, self.passed[child]
            if passed.message.shape[1] == 1:
                continue  # in what all columns share
            whole = table.reshape(*lining.whole, -1)
            whole *= passed.message[:, passed.pattern[some]].reshape(*lining.part, -1)
        return table


def _patterns(parts: Sequence[Choices], columns: int) -> tuple[Choices, Choices]:
    """Return the pattern of each column, and for each pattern the first column that has it."""
    mine = np.zeros(columns, dtype=np.int64)
    first = np.zeros(1, dtype=np.int64)
    for part in parts:
        _, first, mine = np.unique(
            mine * (int(part.max()) + 1) + part, return_index=True, return_inverse=True
        )
    return mine, first
