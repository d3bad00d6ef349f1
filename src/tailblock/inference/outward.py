"""What many small changes do to every marginal, exactly and in one sweep.

In: the `Views` of a tree and `Change`s, each touching a few variables. Out: for each change how
much of the weight it leaves, and every marginal after it.

A change is worked out column by column only in its *region*, a small part of the tree that holds
what it touches. Beyond it nothing but the distribution of the separator on the way matters: the
view through that edge, a matrix that is the same for all columns, tells every marginal there.
"""

from __future__ import annotations

import functools
import operator
from collections import Counter, defaultdict
from dataclasses import dataclass
from typing import TYPE_CHECKING, cast

import numpy as np

from tailblock.inference.order import bits

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence

    from tailblock.inference.tree import Fit, Forest
    from tailblock.inference.views import Views
    from tailblock.network.arrays import FloatArray

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


def spread(views: Views, changes: Sequence[Change]) -> Outcome:
    """Return the effect of every change on the variables that `views` tells about."""
    share = np.empty(len(changes))
    present = np.empty((len(views.order), len(changes)))
    step = max(8, _BLOCK // max(1, views.forest.cells))
    for start in range(0, len(changes), step):
        block = slice(start, start + step)
        share[block], marginals = _Sweep(views, changes[block]).run()
        present[views.order, block] = marginals.T
    return Outcome(share, present)


@dataclass(frozen=True, slots=True)
class _Shape:
    """The bags that changes of some variables are worked out in, and where each enters."""

    bags: frozenset[int]
    at: tuple[tuple[int, int], ...]  # (bag, axis) of each variable


@dataclass(frozen=True, slots=True)
class _Region:
    """The bags that a change is worked out in, the topmost of them, and what enters where."""

    bags: frozenset[int]
    top: int
    weights: Mapping[int, list[tuple[int, tuple[float, float]]]]  # bag -> (axis, pair)
    tables: Mapping[int, list[tuple[Fit, FloatArray]]]


class _Regions:
    """Finds regions. Many changes touch the same variables: each set of them is looked at once."""

    def __init__(self, views: Views) -> None:
        self.views = views
        self.shapes: dict[tuple[tuple[int, ...], tuple[int, ...]], _Shape] = {}

    def of(self, change: Change) -> _Region:
        """Return a small connected region that holds everything a change touches."""
        key = tuple(change.weights), tuple(bag for bag, _, _ in change.tables)
        shape = self.shapes.get(key)
        if shape is None:
            shape = self.shapes[key] = _shape(self.views, *key)
        weights: dict[int, list[tuple[int, tuple[float, float]]]] = defaultdict(list)
        for (bag, axis), pair in zip(shape.at, change.weights.values(), strict=True):
            weights[bag].append((axis, pair))
        tables: dict[int, list[tuple[Fit, FloatArray]]] = defaultdict(list)
        for bag, lining, table in change.tables:
            tables[bag].append((lining, table))
        return _Region(shape.bags, max(shape.bags), weights, tables)


def _shape(views: Views, variables: Sequence[int], fixed: Sequence[int]) -> _Shape:
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
    return _Shape(frozenset(bags), tuple(entries))


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


class _Sweep:
    """One block of columns on its way through the tree."""

    def __init__(self, views: Views, changes: Sequence[Change]) -> None:
        self.views = views
        self.forest = views.forest
        regions = _Regions(views)
        self.regions = [regions.of(change) for change in changes]
        self.inside: dict[int, list[int]] = defaultdict(list)
        self.place: dict[int, dict[int, int]] = defaultdict(dict)  # bag -> column -> its place
        for column, region in enumerate(self.regions):
            for b in region.bags:
                self.place[b][column] = len(self.inside[b])
                self.inside[b].append(column)
        self.tables: dict[int, FloatArray] = {}
        self.messages: dict[int, FloatArray] = {}
        self.share = np.ones(len(changes))
        self.present = np.empty((len(changes), len(views.order)))

    def run(self) -> tuple[FloatArray, FloatArray]:
        """Go up to the tops of the regions, then down through them and out of them.

        Returns the shares, and the marginals (columns x variables in the order of the views).
        """
        for b in sorted(self.inside):
            self._collect(b)
        for b in sorted(self.inside, reverse=True):
            self._distribute(b)
            self._look_out(b)
        return self.share, self.present

    def _collect(self, b: int) -> None:
        """Make the table of a region's bag for all its columns: P(bag | separator), changed."""
        columns = self.inside[b]
        place = self.place[b]
        bag = self.forest.bags[b]
        table = np.repeat(self.views.given_above(b).reshape(-1, 1), len(columns), axis=1)
        by_axis: dict[int, list[tuple[int, float, float]]] = defaultdict(list)
        for position, column in enumerate(columns):
            region = self.regions[column]
            for axis, pair in region.weights.get(b, ()):
                by_axis[axis].append((position, *pair))
            for lining, factor in region.tables.get(b, ()):
                view = table[:, position].reshape(lining.whole)
                view *= factor.reshape(lining.part)
        for axis, entries in by_axis.items():
            factors = np.ones((2, len(columns)))
            for position, absent, present in entries:
                factors[:, position] *= (absent, present)
            halves = table.reshape(1 << axis, 2, -1, len(columns))
            halves *= factors[:, None, :]
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
            whole *= self.views.calibrated.separators[b][:, None]
            total = whole.sum(axis=(0, 1))
            self.share[[columns[at] for at in tops]] = total
            whole /= np.where(total > 0.0, total, 1.0)
            table[:, tops] = whole.reshape(len(table), -1)
        self.tables[b] = table
        self.messages[b] = table.reshape(1 << bag.residual, -1, len(columns)).sum(axis=0)

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
        for row, axis in self.views.own[b]:
            halves = table.reshape(1 << axis, 2, -1, len(columns))
            self.present[columns, row] = halves[:, 1].sum(axis=(0, 1))

    def _look_out(self, b: int) -> None:
        """Fill in what lies beyond the edges by which columns leave their regions here."""
        columns = self.inside[b]
        tops = [p for p, column in enumerate(columns) if self.regions[column].top == b]
        if tops:
            span = self.views.spans[b]
            leaving = [columns[p] for p in tops]
            weight = self.messages[b][:, tops].T
            for rows in (slice(0, span.first), slice(span.last, None)):
                self.present[leaving, rows] = weight @ self.views.of_edge[b][:, rows]
        for child in self.forest.children[b]:
            going = [p for p, c in enumerate(columns) if child not in self.regions[c].bags]
            if going:
                span = self.views.spans[child]
                view = self.views.of_edge[child][:, span.first : span.last]
                leaving = [columns[p] for p in going]
                self.present[leaving, span.first : span.last] = (
                    self._weight_below(b, child, going) @ view if len(view) > 1 else view
                )

    def _weight_below(self, b: int, child: int, positions: list[int]) -> FloatArray:
        """Return columns x separator states: the separator's distribution under some columns."""
        lining = self.forest.bags[child].lining
        table = self.tables[b][:, positions].reshape(*lining.whole, -1)
        weight: FloatArray = table.sum(axis=lining.missing).reshape(-1, len(positions)).T
        return weight
