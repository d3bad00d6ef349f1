"""Elimination orders, and what exact inference will cost, known before it runs.

In: an undirected graph over variables 0..n-1, as one bit mask of neighbours a variable. Out: the
order in which to sum variables out and the table that each step needs. Greedy min-fill, ties by
the smaller table (U. Kjaerulff, "Triangulation of graphs", 1990, compares such heuristics); no
order is claimed to be the best.
"""

from __future__ import annotations

from dataclasses import dataclass
from heapq import heapify, heappop, heappush
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator


@dataclass(frozen=True, slots=True)
class Elimination:
    """`order[s]` is summed out at step s, `beside[s]` is the mask of those left beside it."""

    order: tuple[int, ...]
    beside: tuple[int, ...]

    @property
    def cells(self) -> int:
        """Return the total number of table cells of all steps."""
        return sum(2 << mask.bit_count() for mask in self.beside)

    @property
    def width(self) -> int:
        """Return the induced width: the most variables left beside one that is summed out."""
        return max((mask.bit_count() for mask in self.beside), default=0)


def bits(mask: int) -> Iterator[int]:
    """Yield the positions of the bits that are set, ascending.

    >>> list(bits(0b1010))
    [1, 3]
    """
    while mask:
        low = mask & -mask
        yield low.bit_length() - 1
        mask ^= low


def link(neighbours: list[int], scope: Iterable[int]) -> None:
    """Join all variables of `scope` with each other, in place."""
    mask = 0
    for variable in scope:
        mask |= 1 << variable
    for variable in bits(mask):
        neighbours[variable] |= mask & ~(1 << variable)


def eliminate(neighbours: list[int]) -> Elimination:
    """Return a min-fill elimination of the graph; the list is used up."""
    cost = [_cost(neighbours, variable) for variable in range(len(neighbours))]
    waiting = cost.copy()
    heapify(waiting)
    order: list[int] = []
    beside: list[int] = []
    gone = (len(neighbours) + 1, 0, 0)
    while waiting:
        least = heappop(waiting)
        best = least[2]
        if least != cost[best]:  # it was worked out again since
            continue
        around = neighbours[best]
        order.append(best)
        beside.append(around)
        cost[best] = gone
        # Who is no neighbour has another cost only where two of its own were joined.
        stale = around
        for variable in bits(around):
            missing = around & ~neighbours[variable] & ~(1 << variable)
            neighbours[variable] = (neighbours[variable] | missing) & ~(1 << best)
            if missing:
                stale |= neighbours[variable]
        for variable in bits(stale):
            fresh = _cost(neighbours, variable)
            if fresh != cost[variable]:
                cost[variable] = fresh
                heappush(waiting, fresh)
    return Elimination(tuple(order), tuple(beside))


def _cost(neighbours: list[int], variable: int) -> tuple[int, int, int]:
    """Return (edges that eliminating it adds, its number of neighbours, its index)."""
    around = left = neighbours[variable]
    degree = around.bit_count()
    if degree < 2:
        return 0, degree, variable
    joined = 0
    while left:  # `bits`, written out: this runs some thousand times an elimination
        low = left & -left
        joined += (neighbours[low.bit_length() - 1] & around).bit_count()
        left ^= low
    return (degree * (degree - 1) - joined) // 2, degree, variable
