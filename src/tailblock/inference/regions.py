"""The small parts of a tree in which changes are worked out.

In: a tree and a `Change`, which touches a few variables or bags. Out: its `Region`, a connected set
of bags that holds all of them, and where in them each variable is changed. What a change does to
the numbers does not matter here, so the regions of a skeleton serve every filling of it.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from typing import TYPE_CHECKING

from tailblock.inference.order import bits

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from tailblock.inference.lining import Fit
    from tailblock.inference.skeleton import Skeleton
    from tailblock.network.arrays import FloatArray


@dataclass(frozen=True, slots=True)
class Change:
    """What multiplies the joint weight: a pair (absent, present) a variable, and tables in bags."""

    weights: Mapping[int, tuple[float, float]]
    tables: tuple[tuple[int, Fit, FloatArray], ...] = ()


@dataclass(frozen=True, slots=True)
class Region:
    """The topmost bag, the others, and where each changed variable enters: (bag, axis)."""

    top: int
    below_top: tuple[int, ...]
    at: tuple[tuple[int, int], ...]


class Regions:
    """Finds regions. Many changes touch the same variables: each set of them is looked at once."""

    def __init__(self, skeleton: Skeleton) -> None:
        self.bags, self.home = skeleton.bags, skeleton.home
        bags = skeleton.bags
        # of each variable: the bags that hold it, a bit each
        self.holders: dict[int, int] = defaultdict(int)
        for b, bag in enumerate(bags):
            for variable in bag.variables:
                self.holders[variable] |= 1 << b
        self.known: dict[tuple[tuple[int, ...], tuple[int, ...]], Region] = {}
        # of each bag: itself and all above it, a bit each
        self.upward = [0] * len(bags)
        for b in reversed(range(len(bags))):
            above = bags[b].parent
            self.upward[b] = 1 << b | (0 if above is None else self.upward[above])
        sizes: dict[int, int] = defaultdict(int)
        for b, bag in enumerate(bags):
            sizes[bag.cells] |= 1 << b
        self.smallest_first = [sizes[cells] for cells in sorted(sizes)]

    def of(self, change: Change) -> Region:
        """Return the region of a change; `at` has the order of its weights."""
        touched = tuple(change.weights), tuple(bag for bag, _, _ in change.tables)
        region = self.known.get(touched)
        if region is None:
            region = self.known[touched] = self._found(*touched)
        return region

    def _found(self, variables: Sequence[int], fixed: Sequence[int]) -> Region:
        """Return a small connected part of the tree that holds some variables and some bags."""
        start = fixed[0] if fixed else self._richest(variables)
        bags = 1 << start
        for bag in fixed[1:]:
            bags |= self._path(start, bag)
        entries = []
        for variable in variables:
            holders = self.holders[variable]
            if not holders & bags:
                # Of its bags only one lies beyond those above the start, or some of those do.
                home = self.home[variable][0]
                bags |= self._path(start, _lowest(holders & self._path(start, home)))
            at = _lowest(holders & bags)
            entries.append((at, self.bags[at].variables.index(variable)))
        # Parents have higher numbers than their children, so the topmost is the highest bit.
        *below_top, top = bits(bags)
        return Region(top, tuple(below_top), tuple(entries))

    def _richest(self, variables: Sequence[int]) -> int:
        """Return the bag with most of the variables, and of those the smallest."""
        # `places[i]` has a bit for each bag whose count of variables has bit i
        places: list[int] = []
        for variable in variables:
            carry = self.holders[variable]
            for i, place in enumerate(places):
                places[i], carry = place ^ carry, place & carry
            if carry:
                places.append(carry)
        richest = (1 << len(self.bags)) - 1
        for place in reversed(places):
            richest = richest & place or richest
        if not variables:
            return richest.bit_length() - 1
        return _lowest(next(richest & some for some in self.smallest_first if richest & some))

    def _path(self, start: int, end: int) -> int:
        """Return the bags from `start` to `end`, both included, a bit each."""
        one, two = self.upward[start], self.upward[end]
        both = one & two
        return one ^ two | both & -both


def _lowest(mask: int) -> int:
    return (mask & -mask).bit_length() - 1
