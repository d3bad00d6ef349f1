"""What many small changes do to every marginal, exactly and in one sweep.

In: a `Calibrated` forest and `Change`s, each touching a few variables. Out: for each change how
much of the weight it leaves, and every marginal after it.

A change is worked out column by column only in its *region*, a small part of the tree that holds
what it touches. Beyond it nothing but the separator's distribution matters, and one fixed matrix
a bag carries that on, the same for all columns: P(next separator | this one). So the far field is
a matrix product over many columns at once. Where more columns leave a part of the tree than its
separator has states, the states themselves are carried on in their place, and mixed afterwards.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from typing import TYPE_CHECKING, cast

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    import numpy.typing as npt

    from tailblock.inference.transfer import Transfers
    from tailblock.inference.tree import Fit, Forest
    from tailblock.network.arrays import FloatArray

    IntArray = npt.NDArray[np.intp]

# Columns are worked in blocks, so that the messages of one sweep stay below this many numbers.
_BLOCK = 1 << 25


@dataclass(frozen=True, slots=True)
class Change:
    """What multiplies the joint weight: a pair (absent, present) a variable, and tables in bags."""

    weights: Mapping[int, tuple[float, float]]
    tables: tuple[tuple[int, Fit, FloatArray], ...] = ()


@dataclass(frozen=True, slots=True)
class Outcome:
    """`share`: H, the weight left by each change. `present`: variables x H, marginals after it."""

    share: FloatArray
    present: FloatArray

    def at(self, columns: Sequence[int]) -> Outcome:
        """Return some of the columns."""
        return Outcome(self.share[list(columns)], self.present[:, list(columns)])


@dataclass(frozen=True, slots=True)
class _Group:
    """Columns that reach a bag through one edge: the separator's distribution under each."""

    columns: IntArray
    weight: FloatArray  # separator cells x columns


@dataclass(frozen=True, slots=True)
class _Door:
    """Where `columns` were replaced by the states of the separator above bag `below`."""

    below: int
    columns: IntArray
    states: IntArray  # the columns that carry the states on
    weight: FloatArray  # states x columns


def spread(transfers: Transfers, changes: Sequence[Change]) -> Outcome:
    """Return the effect of every change on the variables that `transfers` reports."""
    before = transfers.calibrated.marginals(transfers.variables)
    share = np.ones(len(changes))
    present = np.repeat(before[:, None], len(changes), axis=1)
    step = max(8, _BLOCK // max(1, transfers.forest.cells))
    for start in range(0, len(changes), step):
        block = slice(start, start + step)
        sweep = _Sweep(transfers, changes[block])
        share[block], present[:, block] = sweep.run(present[:, block])
    return Outcome(share, present)


@dataclass(slots=True)
class _Region:
    """The bags that a change is worked out in, the topmost of them, and where it enters."""

    bags: set[int]
    top: int
    weights: dict[int, list[tuple[int, tuple[float, float]]]]  # bag -> (axis, pair)
    tables: dict[int, list[tuple[Fit, FloatArray]]]


def _region(forest: Forest, masks: Sequence[int], change: Change) -> _Region:
    """Return a small connected region that holds everything a change touches."""
    wanted = 0
    for variable in change.weights:
        wanted |= 1 << variable
    fixed = [bag for bag, _, _ in change.tables]
    start = (
        fixed[0]
        if fixed
        else max(
            range(len(masks)),
            key=lambda b: ((masks[b] & wanted).bit_count(), -forest.bags[b].cells),
        )
    )
    bags = {start}
    for bag in fixed[1:]:
        bags.update(_path(forest, start, bag))
    weights: dict[int, list[tuple[int, tuple[float, float]]]] = defaultdict(list)
    for variable, pair in change.weights.items():
        bit = 1 << variable
        at = next((b for b in sorted(bags) if masks[b] & bit), -1)
        if at < 0:
            path = _path(forest, start, forest.home[variable][0])
            at = next(b for b in path if masks[b] & bit)
            bags.update(path[: path.index(at) + 1])
        weights[at].append((forest.bags[at].variables.index(variable), pair))
    tables: dict[int, list[tuple[Fit, FloatArray]]] = defaultdict(list)
    for bag, lining, table in change.tables:
        tables[bag].append((lining, table))
    return _Region(bags, max(bags), weights, tables)


def _path(forest: Forest, start: int, end: int) -> list[int]:
    """Return the bags from `start` to `end`, both included; parents have higher numbers."""
    up, down = [start], [end]
    while up[-1] != down[-1]:
        climber = up if up[-1] < down[-1] else down
        # only the root has no parent, and it is never the lower of the two
        climber.append(cast("int", forest.bags[climber[-1]].parent))
    return up + down[-2::-1]


class _Sweep:
    """One block of columns on its way through the tree."""

    def __init__(self, transfers: Transfers, changes: Sequence[Change]) -> None:
        self.transfers = transfers
        self.calibrated = transfers.calibrated
        self.forest = self.calibrated.forest
        self.share = np.ones(len(changes))
        self.present = np.empty((transfers.variables, 0))
        self.regions = [_region(self.forest, transfers.masks, change) for change in changes]
        self.inside: dict[int, list[int]] = defaultdict(list)
        self.place: dict[int, dict[int, int]] = defaultdict(dict)  # bag -> column -> its place
        for column, region in enumerate(self.regions):
            for b in region.bags:
                self.place[b][column] = len(self.inside[b])
                self.inside[b].append(column)
        self.tables: dict[int, FloatArray] = {}
        self.messages: dict[int, FloatArray] = {}
        self.rising: dict[int, list[_Group]] = defaultdict(list)
        self.falling: dict[int, list[_Group]] = defaultdict(list)
        self.doors: list[_Door] = []
        self.columns = len(changes)

    def run(self, before: FloatArray) -> tuple[FloatArray, FloatArray]:
        """Go up with what regions send to their tops and beyond, then down to everything else.

        Returns the shares, and the marginals: `before` (variables x H) where nothing reached.
        """
        asked = len(self.regions)
        for b in range(len(self.forest.bags)):
            if b in self.inside:
                self._collect(b)
            self._rise(b)
        self.present = np.concatenate(
            [before, np.zeros((len(before), self.columns - asked))], axis=1
        )
        for b in reversed(range(len(self.forest.bags))):
            if b in self.inside:
                self._distribute(b)
            self._fall(b)
        for door in reversed(self.doors):
            outside = self.transfers.outside(door.below)
            mixed = self.present[np.ix_(outside, door.states)] @ door.weight
            self.present[np.ix_(outside, door.columns)] = mixed
        return self.share, self.present[:, :asked]

    def _collect(self, b: int) -> None:
        """Make the table of a region's bag for all its columns: P(bag | separator), changed."""
        columns = self.inside[b]
        place = self.place[b]
        bag = self.forest.bags[b]
        table = np.repeat(self.transfers.given_above(b)[:, None], len(columns), axis=1)
        for position, column in enumerate(columns):
            region = self.regions[column]
            for axis, (absent, present) in region.weights.get(b, ()):
                halves = table.reshape(1 << axis, 2, -1, len(columns))
                halves[:, 0, :, position] *= absent
                halves[:, 1, :, position] *= present
            for lining, factor in region.tables.get(b, ()):
                view = table[:, position].reshape(lining.whole)
                view *= factor.reshape(lining.part)
        for child in self.forest.children[b]:
            shared = [c for c in self.inside.get(child, ()) if self.regions[c].top != child]
            if shared:
                lining = self.forest.bags[child].lining
                at = [place[column] for column in shared]
                message = self.messages[child][:, [self.place[child][c] for c in shared]]
                part = table[:, at].reshape(*lining.whole, -1)
                part *= message.reshape(*lining.part, -1)
                table[:, at] = part.reshape(len(table), -1)
        tops = [place[column] for column in columns if self.regions[column].top == b]
        if tops:
            whole = table[:, tops].reshape(1 << bag.residual, -1, len(tops))
            whole *= self.calibrated.separators[b][:, None]
            total = whole.sum(axis=(0, 1))
            self.share[[columns[at] for at in tops]] = total
            whole /= np.where(total > 0.0, total, 1.0)
            table[:, tops] = whole.reshape(len(table), -1)
        self.tables[b] = table
        self.messages[b] = table.reshape(1 << bag.residual, -1, len(columns)).sum(axis=0)

    def _rise(self, b: int) -> None:
        """Send up what came from below, and what regions have their top here."""
        if self.forest.bags[b].parent is None:
            return
        for child in self.forest.children[b]:
            self.rising[b].extend(
                _Group(group.columns, self.transfers.carry(b, child, b, group.weight))
                for group in self.rising[child]
            )
        tops = [
            position
            for position, column in enumerate(self.inside.get(b, ()))
            if self.regions[column].top == b
        ]
        if tops:
            columns = np.array([self.inside[b][position] for position in tops])
            self.rising[b].append(_Group(columns, self.messages[b][:, tops]))
        self.rising[b] = [self._through_door(b, group) for group in _joined(self.rising[b])]

    def _through_door(self, b: int, group: _Group) -> _Group:
        """Carry on the states of a separator instead of more columns than it has states."""
        states, columns = group.weight.shape
        if columns <= states:
            return group
        carriers = np.arange(self.columns, self.columns + states)
        self.columns += states
        self.doors.append(_Door(b, group.columns, carriers, group.weight))
        return _Group(carriers, np.eye(states))

    def _distribute(self, b: int) -> None:
        """Complete the table of a region's bag by what its parent knows."""
        columns = self.inside[b]
        bag = self.forest.bags[b]
        table = self.tables[b]
        below_top = [p for p, column in enumerate(columns) if self.regions[column].top != b]
        if below_top and bag.parent is not None:
            above_place = self.place[bag.parent]
            at = [above_place[columns[position]] for position in below_top]
            above = self.tables[bag.parent][:, at].reshape(*bag.lining.whole, -1)
            above = above.sum(axis=bag.lining.missing).reshape(-1, len(at))
            below = self.messages[b][:, below_top]
            ratio = np.divide(above, below, out=np.zeros_like(above), where=below > 0.0)
            part = table[:, below_top].reshape(1 << bag.residual, -1, len(at)) * ratio
            table[:, below_top] = part.reshape(len(table), -1)
        for axis in range(bag.residual):
            if bag.variables[axis] < len(self.present):
                halves = table.reshape(1 << axis, 2, -1, len(columns))
                self.present[bag.variables[axis], columns] = halves[:, 1].sum(axis=(0, 1))

    def _fall(self, b: int) -> None:
        """Read off the bag's variables for all columns from elsewhere, and send all downward."""
        arriving = [(b, group) for group in self.falling.pop(b, [])]
        for child in self.forest.children[b]:
            arriving.extend((child, group) for group in self.rising.pop(child, []))
        for edge, group in arriving:
            self.transfers.read(b, edge, group.weight, group.columns, self.present)
        for child in self.forest.children[b]:
            groups = [
                _Group(group.columns, self.transfers.carry(b, edge, child, group.weight))
                for edge, group in arriving
                if edge != child
            ]
            within = self.inside.get(b, ())
            leaving = [p for p, c in enumerate(within) if child not in self.regions[c].bags]
            if leaving:
                lining = self.forest.bags[child].lining
                table = self.tables[b][:, leaving].reshape(*lining.whole, -1)
                weight = table.sum(axis=lining.missing).reshape(-1, len(leaving))
                groups.append(_Group(np.array([within[p] for p in leaving]), weight))
            self.falling[child] = _joined(groups)


def _joined(groups: list[_Group]) -> list[_Group]:
    """Return the groups of one edge as one, so that they are carried on together."""
    if len(groups) < 2:
        return groups
    return [
        _Group(
            np.concatenate([group.columns for group in groups]),
            np.concatenate([group.weight for group in groups], axis=1),
        )
    ]
