"""The scopes of factors -> the clique tree that they need, before any table is filled.

In: which variables stand together. Out: a `Skeleton`: what each bag holds, which bag it hangs on,
and the place of every factor. Variables are renamed by their place in the elimination order; every
bag lists its variables in that order, those it sums out first and its separator last, so that a
message is a sum over the leading axes and enters its parent by one reshape.

Readings that only rule out, and what was seen with one's own eyes, bring no variables together:
the tree is the same with and without them. The trees that were needed last are kept.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from functools import cached_property, lru_cache

from tailblock.inference.lining import OPEN, Fit, fit
from tailblock.inference.order import bits, eliminate, link
from tailblock.inference.regions import Regions

# Bags of fewer cells than this cost more by their number than by their size, and are joined.
_SMALL = 1 << 6
# An inspection asks of what there is, of what each plan would leave and of what may come back.
KEPT = 32


@dataclass(frozen=True, slots=True)
class Outline:
    """One bag: `variables` in elimination order, the first `residual` of them summed out here."""

    variables: tuple[int, ...]
    residual: int
    parent: int | None
    lining: Fit  # of its separator in the parent's table

    @property
    def cells(self) -> int:
        """Return the size of its table."""
        return 1 << len(self.variables)


@dataclass(frozen=True, slots=True)
class Place:
    """Where a factor belongs: its bag, and how it lines up there once its axes are put `axes`."""

    bag: int
    axes: tuple[int, ...]
    lining: Fit


class Skeleton:
    """Bags, the last one the root, which has no variables, so that all hang together.

    Children stand before their parents, and the bags of a subtree follow one another. `work`: the
    cells that all steps of the elimination need together.
    """

    def __init__(self, variables: int, scopes: frozenset[tuple[int, ...]]) -> None:
        neighbours = [0] * variables
        for scope in scopes:
            link(neighbours, scope)
        steps = eliminate(neighbours)
        self.work = steps.cells
        place = self._step = {variable: step for step, variable in enumerate(steps.order)}
        members = [sorted(place[v] for v in bits(mask)) for mask in steps.beside]
        leader, residuals = _merge(members)
        _absorb(members, leader, residuals)
        inside = {top: [*summed, *members[summed[-1]]] for top, summed in residuals.items()}
        above = _parents(members, leader, residuals)
        _hang_low(above, inside, {top: members[summed[-1]] for top, summed in residuals.items()})
        index = {top: b for b, top in enumerate(_subtree_by_subtree(above))}
        self.home: dict[int, tuple[int, int]] = {}  # variable -> (its bag, its axis there)
        bags = []
        for top, b in index.items():
            separator = members[residuals[top][-1]]
            parent = above[top]
            for axis, step in enumerate(residuals[top]):
                self.home[steps.order[step]] = (b, axis)
            bags.append(
                Outline(
                    tuple(steps.order[step] for step in inside[top]),
                    len(residuals[top]),
                    len(index) if parent is None else index[parent],
                    OPEN if parent is None else fit(inside[parent], separator),
                )
            )
        self.bags = (*bags, Outline((), 0, None, OPEN))
        children: list[list[int]] = [[] for _ in self.bags]
        for b, bag in enumerate(self.bags):
            if bag.parent is not None:
                children[bag.parent].append(b)
        self.children = tuple(map(tuple, children))
        self.cells = sum(bag.cells for bag in self.bags)
        self._places: dict[tuple[int, ...], Place] = {}

    @cached_property
    def regions(self) -> Regions:
        """Return the regions in which changes are worked out."""
        return Regions(self)

    def place(self, scope: tuple[int, ...]) -> Place:
        """Return where a factor over some variables that stand together (or over one) belongs."""
        known = self._places.get(scope)
        if known is None:
            steps = [self._step[variable] for variable in scope]
            axes = tuple(sorted(range(len(scope)), key=steps.__getitem__))
            bag = self.home[scope[axes[0]]][0]
            ordered = [scope[axis] for axis in axes]
            known = self._places[scope] = Place(bag, axes, fit(self.bags[bag].variables, ordered))
        return known


@lru_cache(maxsize=KEPT)
def skeleton_of(variables: int, scopes: frozenset[tuple[int, ...]]) -> Skeleton:
    """Return the tree for factors over these scopes, variables counting from 0."""
    return Skeleton(variables, scopes)


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
