"""Factor graph -> clique tree: which tables there are, and what they are made of.

In: a `FactorGraph`. Out: a `Forest`: the bags of its `Skeleton`, each with the factors of which its
table is the product.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from tailblock.inference.beliefs import TooWide
from tailblock.inference.skeleton import Outline, Skeleton, skeleton_of

if TYPE_CHECKING:
    from collections.abc import Collection, Iterable

    from tailblock.inference.divorcing import Factor
    from tailblock.inference.factors import FactorGraph
    from tailblock.inference.lining import Fit
    from tailblock.network.arrays import FloatArray

# 2 ** 24 cells of 8 bytes are 128 MiB: the most that one pass may take on a bench computer.
CELL_LIMIT = 1 << 24


@dataclass(frozen=True, slots=True)
class Bag(Outline):
    """A bag with the factors that make up its table."""

    factors: tuple[tuple[Factor, Fit], ...]


@dataclass(frozen=True, slots=True)
class Forest:
    """The bags of a skeleton, filled; `constants` have an empty scope."""

    bags: tuple[Bag, ...]
    constants: tuple[Factor, ...]
    skeleton: Skeleton

    @property
    def children(self) -> tuple[tuple[int, ...], ...]:
        """Return the bags that hang on each bag."""
        return self.skeleton.children

    @property
    def home(self) -> dict[int, tuple[int, int]]:
        """Return where each variable is summed out: its bag, and its axis there."""
        return self.skeleton.home

    @property
    def cells(self) -> int:
        """Return the size of all tables together."""
        return self.skeleton.cells

    def members(self, some: slice) -> Forest:
        """Return the forest of a part of a batch."""
        bags = tuple(
            replace(
                bag,
                factors=tuple(
                    (replace(factor, table=factor.table[..., some]), lining)
                    for factor, lining in bag.factors
                ),
            )
            for bag in self.bags
        )
        return replace(self, bags=bags)


def grow(graph: FactorGraph, limit: int = CELL_LIMIT) -> Forest:
    """Return the clique forest of a factor graph.

    Raises
    ------
    TooWide
        Its tables would need more than `limit` cells; nothing has been computed yet.
    """
    together = frozenset(factor.scope for factor in graph.factors if len(factor.scope) > 1)
    skeleton = skeleton_of(graph.variables, together)
    if skeleton.work > limit:
        raise TooWide(skeleton.work, limit)
    assigned: list[list[tuple[Factor, Fit]]] = [[] for _ in skeleton.bags]
    constants = []
    for factor in graph.factors:
        if factor.scope:
            place = skeleton.place(factor.scope)
            assigned[place.bag].append((_turned(factor, place.axes), place.lining))
        else:
            constants.append(factor)
    bags = tuple(
        Bag(outline.variables, outline.residual, outline.parent, outline.lining, tuple(factors))
        for outline, factors in zip(skeleton.bags, assigned, strict=True)
    )
    return Forest(bags, tuple(constants), skeleton)


def _turned(factor: Factor, axes: tuple[int, ...]) -> Factor:
    """Return the same factor with its variables in another order."""
    if axes == tuple(range(len(axes))):
        return factor
    batch = range(len(axes), factor.table.ndim)
    return replace(
        factor,
        scope=tuple(factor.scope[axis] for axis in axes),
        table=np.transpose(factor.table, [*axes, *batch]),
    )


def own_tables(forest: Forest, batch: tuple[int, ...] = ()) -> list[FloatArray]:
    """Return of every bag the product of the network's own factors, cells (x batch)."""
    return [
        _times(np.ones((bag.cells, *batch)), (f for f in bag.factors if f[0].owner is None))
        for bag in forest.bags
    ]


def enter(own: FloatArray, bag: Bag) -> FloatArray:
    """Return a bag's own table (see `own_tables`) times its factors that carry evidence."""
    return _times(own.copy(), (f for f in bag.factors if f[0].owner is not None))


def table_without(bag: Bag, owners: Collection[int | None]) -> FloatArray:
    """Return the product of a bag's factors but those of some owners, one number a cell."""
    return _times(np.ones(bag.cells), (f for f in bag.factors if f[0].owner not in owners))


def _times(table: FloatArray, factors: Iterable[tuple[Factor, Fit]]) -> FloatArray:
    """Multiply factors into a table, in place, and return it."""
    batch = table.shape[1:]
    for factor, lining in factors:
        view = table.reshape(*lining.whole, *batch)
        view *= factor.table.reshape(*lining.part, *batch)
    return table


def marginal(table: FloatArray, lining: Fit) -> FloatArray:
    """Return the sum of a table, cells (x batch), over the axes that a lining has not."""
    batch = table.shape[1:]
    summed: FloatArray = table.reshape(*lining.whole, *batch).sum(axis=lining.missing)
    return summed.reshape(-1, *batch)
