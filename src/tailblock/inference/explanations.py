"""Which of some nodes are there together, most probably: the best few joint sets, exactly.

In: a calibrated tree and the nodes in question. Out: `JointSet`s, the most probable first. All
other variables, the auxiliary gates of divorced noisy-ORs among them, are summed over: an answer
says nothing about them. (Maximising over a gate would be wrong, since whether a cause acts is
chance and no part of the answer; and as maxima and sums may not change places, max-product over
the tree would give no more than a bound.)

Instead, each bag hands up one column for every state of the nodes in question below it. The sum
of a column is the probability of that partial set, and no set that contains it can be more
probable. A first sweep keeps only the best columns, and finds some sets and their probabilities;
a second drops no column but those that fall below the last of them: branch and bound (A. H. Land
and A. G. Doig, 1960, from memory). Partial sets exclude each other, so no more than 1/p columns
reach a probability of p.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
import numpy.typing as npt

from tailblock.inference.beliefs import TooWide
from tailblock.inference.tree import CELL_LIMIT

if TYPE_CHECKING:
    from collections.abc import Sequence

    from tailblock.inference.propagate import Calibrated
    from tailblock.network.arrays import FloatArray

# Sets are the bits of one number of 64, its sign left out.
MOST_NODES = 62

# Columns that the first sweep keeps for each set asked for, and at least: a second one costs more.
_BEAM = 4
_FEWEST = 32

# The second sweep leaves room for rounding, so that no set is lost by it.
_ROUNDING = 1e-9

_Sets = npt.NDArray[np.int64]


@dataclass(frozen=True, slots=True)
class JointSet:
    """`present` of the nodes asked about are there, all others of them are not.

    `probability`: of exactly this, given the evidence.
    """

    present: tuple[int, ...]
    probability: float


def best_sets(
    calibrated: Calibrated, nodes: Sequence[int], count: int, least: float = 0.0
) -> tuple[JointSet, ...]:
    """Return the `count` most probable joint states of some nodes, the most probable first.

    Fewer are returned if no more are possible, or as probable as `least`. Sets of equal
    probability have no order of their own.

    Parameters
    ----------
    calibrated
        A tree with beliefs, its evidence being possible.
    nodes
        At most 62 different ones.
    least
        The smallest probability that is asked for; above 0 it bounds the work: 1/least columns.

    Raises
    ------
    ValueError
        There are more nodes than that.
    TooWide
        So many sets are nearly as probable as the last one that no table would hold them.
    """
    if len(nodes) > MOST_NODES:
        raise ValueError(f"{len(nodes)} nodes; at most {MOST_NODES} can be asked about")
    keep = max(_BEAM * count, _FEWEST)
    found = _Sweep(calibrated, nodes, least, keep).run()
    while len(found.probability) < count and found.dropped > 0.0:
        keep *= _BEAM
        found = _Sweep(calibrated, nodes, least, keep).run()
    if found.dropped > 0.0:
        last = float(np.sort(found.probability)[-count])
        if found.dropped > last:
            floor = max(last * (1.0 - _ROUNDING), least)
            found = _Sweep(calibrated, nodes, floor, None).run()
    best = np.argsort(-found.probability, kind="stable")[:count]
    return tuple(
        JointSet(
            tuple(node for bit, node in enumerate(nodes) if int(found.sets[at]) >> bit & 1),
            float(found.probability[at]),
        )
        for at in best
    )


@dataclass(frozen=True, slots=True)
class _Found:
    sets: _Sets
    probability: FloatArray
    dropped: float  # the probability of the best partial set that was dropped


class _NothingLeft(Exception):
    """No partial set is as probable as the floor."""


class _Sweep:
    """One way up the tree, columns below `floor` and all but the best `keep` dropped."""

    def __init__(
        self, calibrated: Calibrated, nodes: Sequence[int], floor: float, keep: int | None
    ) -> None:
        self.calibrated = calibrated
        self.floor = floor
        self.keep = keep
        self.dropped = 0.0
        self.own: dict[int, list[tuple[int, int]]] = {}  # bag -> (axis, bit)
        for bit, node in enumerate(nodes):
            b, axis = calibrated.forest.home[node]
            self.own.setdefault(b, []).append((axis, bit))
        self.carried: dict[int, tuple[_Sets, FloatArray]] = {}  # P(set | state of the separator)

    def run(self) -> _Found:
        root = len(self.calibrated.forest.bags) - 1
        for b in range(root + 1):
            below = [c for c in self.calibrated.forest.children[b] if c in self.carried]
            if below or b in self.own or b == root:
                try:
                    self._pass(b, below)
                except _NothingLeft:
                    return _Found(np.zeros(0, dtype=np.int64), np.zeros(0), self.dropped)
        sets, column = self.carried[root]
        return _Found(sets, column[0], self.dropped)

    def _pass(self, b: int, below: list[int]) -> None:
        """Join the columns that come up with the bag's own nodes, and sum out its residual."""
        bags = self.calibrated.forest.bags
        table = self.calibrated.beliefs[b][:, None]
        sets: _Sets = np.zeros(1, dtype=np.int64)
        for child in below:
            lining = bags[child].lining
            sets_below, given = self.carried.pop(child)
            whole = table.reshape(*lining.whole, -1)
            self._guard(len(sets), len(sets_below))
            beside = whole.sum(axis=lining.missing).reshape(-1, len(sets))
            mine, theirs = np.divmod(self._kept(beside.T @ given), len(sets_below))
            if not len(mine):
                raise _NothingLeft
            self._guard(len(table), len(mine))
            part = given[:, theirs].reshape(*lining.part, -1)
            table = (whole[..., mine] * part).reshape(len(table), -1)
            sets = sets[mine] | sets_below[theirs]
        asked = self.own.get(b, [])
        residual = bags[b].residual
        axes = [axis for axis, _ in asked]
        others = tuple(axis for axis in range(residual) if axis not in axes)
        split = table.reshape(*[2] * residual, -1, len(sets)).sum(axis=others)
        # the axes of the bag's own nodes are now the first, ascending: they become columns
        split = split.reshape(1 << len(asked), -1, len(sets)).transpose(1, 0, 2)
        sets = (_states(asked)[:, None] | sets).reshape(-1)
        joint = split.reshape(-1, len(sets))
        kept = self._kept(joint.sum(axis=0))
        if not len(kept):
            raise _NothingLeft
        weight = self.calibrated.separators[b][:, None]
        given = np.divide(
            joint[:, kept], weight, out=np.zeros((len(joint), len(kept))), where=weight > 0.0
        )
        self.carried[b] = sets[kept], given

    def _kept(self, probability: FloatArray) -> npt.NDArray[np.int64]:
        """Return which columns stay, by their place in the flattened table."""
        flat = probability.reshape(-1)
        kept = np.flatnonzero(flat >= self.floor if self.floor else flat > 0.0)
        if self.keep is not None and len(kept) > self.keep:
            order = np.argpartition(-flat[kept], self.keep)
            self.dropped = max(self.dropped, float(flat[kept[order[self.keep :]]].max()))
            kept = np.sort(kept[order[: self.keep]])
        return kept

    @staticmethod
    def _guard(cells: int, columns: int) -> None:
        if cells * columns > CELL_LIMIT:
            raise TooWide(cells * columns, CELL_LIMIT)


def _states(asked: Sequence[tuple[int, int]]) -> _Sets:
    """Return the set of each state of a bag's own nodes, the first axis the slowest."""
    states: _Sets = np.zeros(1, dtype=np.int64)
    for _, bit in sorted(asked):
        states = (states[:, None] | np.array([0, 1 << bit], dtype=np.int64)).reshape(-1)
    return states
