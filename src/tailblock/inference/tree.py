"""Factor graph -> clique tree: which tables there are, and how messages fit into them.

In: a `FactorGraph`. Out: a `Forest` of bags, which an empty root joins into one tree. Variables
are renamed by their place in the elimination order; every bag lists its variables in that order,
those it sums out first (`residual`) and its separator last, so that a message is a sum over the
leading axes and enters its parent by one reshape.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass, replace
from functools import cache
from typing import TYPE_CHECKING

import numpy as np

from tailblock.inference.beliefs import TooWide
from tailblock.inference.order import bits, eliminate, link

if TYPE_CHECKING:
    from collections.abc import Collection, Sequence

    from tailblock.inference.divorcing import Factor
    from tailblock.inference.factors import FactorGraph
    from tailblock.network.arrays import FloatArray

# 2 ** 24 cells of 8 bytes are 128 MiB: the most that one pass may take on a bench computer.
CELL_LIMIT = 1 << 24


# Bags of fewer cells than this cost more by their number than by their size, and are joined.
_SMALL = 1 << 6


@dataclass(frozen=True, slots=True)
class Fit:
    """How a table over some of a bag's variables lines up with the bag's own table.

    `whole` is the bag's shape with neighbouring axes of one kind taken together, `part` the same
    with 1 where the smaller table has no axis, `missing` those axes.
    """

    whole: tuple[int, ...]
    part: tuple[int, ...]
    missing: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Bag:
    """One table: `variables` in elimination order, the first `residual` of them summed out here."""

    variables: tuple[int, ...]
    residual: int
    parent: int | None
    lining: Fit  # of its separator in the parent's table
    factors: tuple[tuple[Factor, Fit], ...]

    @property
    def cells(self) -> int:
        """Return the size of its table."""
        return 1 << len(self.variables)


@dataclass(frozen=True, slots=True)
class Forest:
    """Bags, the last one the root, which has no variables; `constants` have an empty scope.

    Children stand before their parents, and the bags of a subtree follow one another.
    """

    bags: tuple[Bag, ...]
    children: tuple[tuple[int, ...], ...]
    constants: tuple[Factor, ...]
    home: dict[int, tuple[int, int]]  # variable -> (its bag, its axis there)
    cells: int

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


# An empty separator in the root, which has no variables.
_OPEN = Fit((1,), (1,), (0,))


def fit(variables: Sequence[int], scope: Sequence[int]) -> Fit:
    """Return how a table over `scope` (in the same order) lines up with one over `variables`."""
    inside = set(scope)
    return _fit(tuple(variable in inside for variable in variables))


@cache
def _fit(held: tuple[bool, ...]) -> Fit:
    """Return how a table lines up with one that has other axes as well, by which it holds."""
    whole: list[int] = []
    part: list[int] = []
    kinds: list[bool] = []
    for kind in held:
        if kinds and kinds[-1] == kind:
            whole[-1] *= 2
        else:
            whole.append(2)
            kinds.append(kind)
        part[len(kinds) - 1 :] = [whole[-1] if kind else 1]
    return Fit(tuple(whole), tuple(part), tuple(i for i, kind in enumerate(kinds) if not kind))


def grow(graph: FactorGraph, limit: int = CELL_LIMIT) -> Forest:
    """Return the clique forest of a factor graph.

    Raises
    ------
    TooWide
        Its tables would need more than `limit` cells; nothing has been computed yet.
    """
    neighbours = [0] * graph.variables
    for factor in graph.factors:
        link(neighbours, factor.scope)
    steps = eliminate(neighbours)
    if steps.cells > limit:
        raise TooWide(steps.cells, limit)
    place = {variable: step for step, variable in enumerate(steps.order)}
    members = [sorted(place[v] for v in bits(mask)) for mask in steps.beside]
    root_of, residuals = _merge(members)
    _absorb(members, root_of, residuals)
    scopes = {top: [*summed, *members[summed[-1]]] for top, summed in residuals.items()}
    above = _parents(members, root_of, residuals)
    _hang_low(above, scopes, {top: members[summed[-1]] for top, summed in residuals.items()})
    index = {top: b for b, top in enumerate(_subtree_by_subtree(above))}
    assigned: dict[int, list[tuple[Factor, Fit]]] = {top: [] for top in index}
    constants = []
    for factor in graph.factors:
        if not factor.scope:
            constants.append(factor)
            continue
        steps_of = [place[variable] for variable in factor.scope]
        ordered = sorted(steps_of)
        turned = factor if ordered == steps_of else _turned(factor, steps_of)
        top = root_of[ordered[0]]
        assigned[top].append((turned, fit(scopes[top], ordered)))
    bags = []
    home: dict[int, tuple[int, int]] = {}
    for top, b in index.items():
        separator = members[residuals[top][-1]]
        parent = above[top]
        for axis, step in enumerate(residuals[top]):
            home[steps.order[step]] = (b, axis)
        bags.append(
            Bag(
                tuple(steps.order[step] for step in scopes[top]),
                len(residuals[top]),
                len(index) if parent is None else index[parent],
                _OPEN if parent is None else fit(scopes[parent], separator),
                tuple(assigned[top]),
            )
        )
    bags.append(Bag((), 0, None, _OPEN, ()))
    children: list[list[int]] = [[] for _ in bags]
    for b, bag in enumerate(bags):
        if bag.parent is not None:
            children[bag.parent].append(b)
    return Forest(
        tuple(bags),
        tuple(map(tuple, children)),
        tuple(constants),
        home,
        sum(bag.cells for bag in bags),
    )


def _turned(factor: Factor, steps: Sequence[int]) -> Factor:
    """Return the same factor with its variables in the order of their steps."""
    axes = sorted(range(len(steps)), key=steps.__getitem__)
    batch = range(len(axes), factor.table.ndim)
    return replace(
        factor,
        scope=tuple(factor.scope[axis] for axis in axes),
        table=np.transpose(factor.table, [*axes, *batch]),
    )


def _merge(members: list[list[int]]) -> tuple[dict[int, int], dict[int, list[int]]]:
    """Join each step with the next where its separator is exactly the next bag.

    Returns the leader of every step and the steps that each leader sums out, ascending. Children
    of any merged step are children of the whole bag.
    """
    leader: dict[int, int] = {}
    residuals: dict[int, list[int]] = {}
    for step, separator in enumerate(members):
        if step not in leader:
            leader[step] = step
            residuals[step] = [step]
        if not separator:
            continue
        following = separator[0]
        if following not in leader and len(separator) == len(members[following]) + 1:
            leader[following] = leader[step]
            residuals[leader[step]].append(following)
    return leader, residuals


def _absorb(
    members: list[list[int]], leader: dict[int, int], residuals: dict[int, list[int]]
) -> None:
    """Join small bags with the bag above them, in place, parents first."""
    for top in sorted(residuals, key=lambda t: residuals[t][-1], reverse=True):
        separator = members[residuals[top][-1]]
        if not separator:
            continue
        above = leader[separator[0]]
        scope = {*residuals[above], *members[residuals[above][-1]]}
        if 1 << len(scope.union(residuals[top])) <= _SMALL:
            residuals[above] = sorted(residuals[above] + residuals[top])
            for step in residuals.pop(top):
                leader[step] = above


def _parents(
    members: list[list[int]], leader: dict[int, int], residuals: dict[int, list[int]]
) -> dict[int, int | None]:
    """Return the bag above each bag by its leader, None where nothing joins it to others."""
    separators = {top: members[steps[-1]] for top, steps in residuals.items()}
    return {
        top: leader[separator[0]] if separator else None for top, separator in separators.items()
    }


def _hang_low(
    above: dict[int, int | None], scopes: dict[int, list[int]], separators: dict[int, list[int]]
) -> None:
    """Hang each bag on a smaller one that holds its separator as well, in place.

    What passes between two bags costs as much as the larger of their tables.
    """
    below: dict[int | None, set[int]] = defaultdict(set)
    holds = {top: sum(1 << step for step in scope) for top, scope in scopes.items()}
    for top, parent in above.items():
        below[parent].add(top)
    for top, separator in separators.items():
        wanted = sum(1 << step for step in separator)
        parent = above[top]
        if parent is None:
            continue
        below[parent].discard(top)
        while smaller := [b for b in below[parent] if holds[b] & wanted == wanted]:
            best = min(smaller, key=lambda b: (len(scopes[b]), b))
            if len(scopes[best]) >= len(scopes[parent]):
                break
            parent = best
        below[parent].add(top)
        above[top] = parent


def _subtree_by_subtree(above: dict[int, int | None]) -> list[int]:
    """Return the bags so that each follows right after all that are below it."""
    below: dict[int | None, list[int]] = {}
    for top, parent in above.items():
        below.setdefault(parent, []).append(top)
    order: list[int] = []
    waiting = list(below.get(None, ()))
    while waiting:  # parents first, the other way round in the end
        top = waiting.pop()
        order.append(top)
        waiting.extend(below.get(top, ()))
    return order[::-1]


def table_of(
    bag: Bag,
    batch: tuple[int, ...] = (),
    *,
    evidence: bool = True,
    without: Collection[int | None] = (),
) -> FloatArray:
    """Return the product of a bag's factors, cells (x batch).

    Without evidence only the network's own count, and in any case none of the owners `without`.
    """
    product = np.ones((bag.cells, *batch))
    for factor, lining in bag.factors:
        if (factor.owner is not None and not evidence) or factor.owner in without:
            continue
        view = product.reshape(*lining.whole, *batch)
        view *= factor.table.reshape(*lining.part, *batch)
    return product


def marginal(table: FloatArray, lining: Fit) -> FloatArray:
    """Return the sum of a table, cells (x batch), over the axes that a lining has not."""
    batch = table.shape[1:]
    summed: FloatArray = table.reshape(*lining.whole, *batch).sum(axis=lining.missing)
    return summed.reshape(-1, *batch)
