"""The small parts of a tree in which changes are worked out.

In: the `Views` of a tree and a `Change`, which touches a few variables or bags. Out: its `Region`,
a connected set of bags that holds all of them, and where in them each variable is changed.
"""

from __future__ import annotations

import functools
import operator
from collections import Counter
from dataclasses import dataclass
from typing import TYPE_CHECKING, cast

from tailblock.inference.order import bits

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence

    from tailblock.inference.tree import Fit, Forest
    from tailblock.inference.views import Views
    from tailblock.network.arrays import FloatArray


@dataclass(frozen=True, slots=True)
class Change:
    """What multiplies the joint weight: a pair (absent, present) a variable, and tables in bags."""

    weights: Mapping[int, tuple[float, float]]
    tables: tuple[tuple[int, Fit, FloatArray], ...] = ()


@dataclass(frozen=True, slots=True)
class Region:
    """Bags, the topmost of them, and where each changed variable enters: (bag, axis)."""

    bags: frozenset[int]
    top: int
    at: tuple[tuple[int, int], ...]


class Regions:
    """Finds regions. Many changes touch the same variables: each set of them is looked at once."""

    def __init__(self, views: Views) -> None:
        self.views = views
        self.known: dict[tuple[tuple[int, ...], tuple[int, ...]], Region] = {}

    def of(self, change: Change) -> Region:
        """Return the region of a change; `at` has the order of its weights."""
        touched = tuple(change.weights), tuple(bag for bag, _, _ in change.tables)
        region = self.known.get(touched)
        if region is None:
            region = self.known[touched] = _found(self.views, *touched)
        return region


def _found(views: Views, variables: Sequence[int], fixed: Sequence[int]) -> Region:
    """Return a small connected part of the tree that holds some variables and some bags."""
    forest = views.forest
    start = fixed[0] if fixed else _richest(views, variables)
    bags = {start}
    for bag in fixed[1:]:
        bags.update(_path(forest, start, bag))
    entries = []
    for variable in variables:
        holders = views.holders[variable]
        at = next((b for b in sorted(bags) if holders >> b & 1), -1)
        if at < 0:
            path = _path(forest, start, forest.home[variable][0])
            at = next(b for b in path if holders >> b & 1)
            bags.update(path[: path.index(at) + 1])
        entries.append((at, forest.bags[at].variables.index(variable)))
    return Region(frozenset(bags), max(bags), tuple(entries))


def _richest(views: Views, wanted: Iterable[int]) -> int:
    """Return the bag with most of the wanted variables, and of those the smallest."""
    holders = [views.holders[variable] for variable in wanted]
    if not holders:
        return len(views.forest.bags) - 1
    common = functools.reduce(operator.and_, holders)
    if not common:  # most often they are all in one
        counts = Counter(b for mask in holders for b in bits(mask))
        most = max(counts.values())
        common = sum(1 << b for b, count in counts.items() if count == most)
    return min(bits(common), key=lambda b: views.forest.bags[b].cells)


def _path(forest: Forest, start: int, end: int) -> list[int]:
    """Return the bags from `start` to `end`, both included; parents have higher numbers."""
    up, down = [start], [end]
    while up[-1] != down[-1]:
        climber = up if up[-1] < down[-1] else down
        # only the root has no parent, and it is never the lower of the two
        climber.append(cast("int", forest.bags[climber[-1]].parent))
    return up + down[-2::-1]
